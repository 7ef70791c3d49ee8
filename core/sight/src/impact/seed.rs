//! Where the hole is, roughly: the vote around the tap.

use super::circle::Disc;
use super::hole::HoleTone;
use super::relief::Relief;
use super::vote::{RingVote, RowVotes};
use crate::frame::PointMm;

/// Light holes must stand out more, and clearly beat dark ones: torn white fibres imitate them. Chosen
/// by hand; `tests/photo-table` measures what passes.
pub(super) const LEAST_LIGHT_VOTE: f64 = 0.75;
/// So much more than a dark one must a light one be voted for. Chosen by hand; `tests/photo-table`
/// measures what passes.
const LIGHT_HANDICAP: f64 = 0.15;
/// First and last radius and the step between, mm.
const RADII_MM: (f64, f64, f64) = (1.2, 6.0, 0.3);
const RAYS: usize = 40;
const GAP_MM: f64 = 0.6;
/// From the best place near the tap the vote may still climb this far to its peak, mm. Chosen by hand;
/// `tests/photo-table` measures what passes.
const CLIMB_MM: f64 = 2.0;
/// Votes of at least this share of the peak's are as good as the peak. Chosen by hand;
/// `tests/photo-table` measures what passes.
const PLATEAU: f64 = 0.97;

/// The best-voted centre.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Seed {
    pub(super) centre: PointMm,
    pub(super) radius_mm: f64,
    /// The vote, 0..=1.
    pub(super) vote: f64,
    pub(super) tone: HoleTone,
}

impl Seed {
    pub(super) fn disc(&self) -> Disc {
        Disc {
            centre: self.centre,
            radius_mm: self.radius_mm,
        }
    }
}

/// The peak of the vote at or next to the place within `search_mm` of the tap that has the best
/// vote, nearer places preferred.
pub(super) fn find_seed(relief: &Relief, tap: PointMm, search_mm: f64) -> Option<Seed> {
    let seeds = all_seeds(relief, tap, search_mm + CLIMB_MM);
    let rank = |seed: &Seed| {
        let away = (seed.centre - tap).norm_mm() / (0.55 * search_mm);
        let handicap = match seed.tone {
            HoleTone::Dark => 0.0,
            HoleTone::Light => LIGHT_HANDICAP,
        };
        (seed.vote - handicap) * (-0.5 * away * away).exp()
    };
    let near_tap = seeds
        .iter()
        .filter(|s| (s.centre - tap).norm_mm() <= search_mm);
    let chosen = near_tap.max_by(|a, b| rank(a).total_cmp(&rank(b)))?;
    summit(&seeds, chosen)
}

/// The middle of the top of the vote around `chosen`: strong holes vote full marks over a plateau.
fn summit(seeds: &[Seed], chosen: &Seed) -> Option<Seed> {
    let beside: Vec<&Seed> = seeds
        .iter()
        .filter(|s| s.tone == chosen.tone)
        .filter(|s| (s.centre - chosen.centre).norm_mm() <= CLIMB_MM)
        .collect();
    let peak = beside.iter().map(|s| s.vote).fold(0.0, f64::max);
    let top: Vec<&Seed> = beside
        .into_iter()
        .filter(|s| s.vote >= PLATEAU * peak)
        .collect();
    let mean = |of: fn(&Seed) -> f64| top.iter().map(|s| of(s)).sum::<f64>() / top.len() as f64;
    (!top.is_empty()).then(|| Seed {
        centre: PointMm::new(mean(|s| s.centre.x_mm), mean(|s| s.centre.y_mm)),
        radius_mm: mean(|s| s.radius_mm),
        vote: peak,
        tone: chosen.tone,
    })
}

/// The vote at every sample of the square of `2 * reach_mm` around the tap.
fn all_seeds(relief: &Relief, tap: PointMm, reach_mm: f64) -> Vec<Seed> {
    let (from, to, by) = RADII_MM;
    let count = ((to - from) / by).round() as usize + 1;
    let radii = (0..count).map(|k| from + by * k as f64).collect();
    let ring_vote = RingVote::new(relief, radii, RAYS, GAP_MM);
    let reach = (reach_mm / relief.step_mm()).ceil() as usize;
    let (column, row) = relief.grid(tap);
    let first = (column.round() as usize).saturating_sub(reach);
    let top = (row.round() as usize).saturating_sub(reach);
    let mut votes = RowVotes::new(2 * reach + 1);
    let mut seeds = Vec::with_capacity(votes.dark.len() * votes.dark.len());
    for row in top..=top + 2 * reach {
        ring_vote.row(relief, row, first, &mut votes);
        for k in 0..=2 * reach {
            let centre = relief.place((first + k) as f64, row as f64);
            seeds.push(seed_at(&ring_vote, &votes, k, centre));
        }
    }
    seeds
}

fn seed_at(ring_vote: &RingVote, votes: &RowVotes, k: usize, centre: PointMm) -> Seed {
    let share = |sums: &[i16]| sums.get(k).map_or(0.0, |&v| f64::from(v)) / ring_vote.full();
    let (dark, light) = (share(&votes.dark), share(&votes.light));
    let (vote, radius, tone) = if light >= LEAST_LIGHT_VOTE && light - LIGHT_HANDICAP > dark {
        (light, &votes.light_radius, HoleTone::Light)
    } else {
        (dark, &votes.dark_radius, HoleTone::Dark)
    };
    Seed {
        centre,
        radius_mm: ring_vote.radius_mm(radius.get(k).copied().unwrap_or(0)),
        vote,
        tone,
    }
}
