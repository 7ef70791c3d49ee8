//! From a tap to the hole it meant, or a plain "not snapped" with the reason.

use serde::{Deserialize, Serialize};
use thiserror::Error;

use super::circle::{Circle, fit_circle};
use super::relief::Relief;
use super::rim::{RAYS, Rim, find_rim};
use super::vote::{RingVote, RowVotes};
use super::{backdrop, shaft};
use crate::frame::PointMm;

/// The patch reaches this far beyond the search radius: the largest rim plus its edge filter, and
/// far enough to see a standing shaft run out of it.
const BEYOND_SEARCH_MM: f64 = 11.0;
const LEAST_HALF_MM: f64 = 16.5;
const VOTE_RADII_MM: (f64, f64, f64) = (1.2, 6.0, 0.3);
const VOTE_RAYS: usize = 40;
const VOTE_GAP_MM: f64 = 0.6;
const LEAST_VOTE: f64 = 0.5;
const LEAST_RIM_SHARE: f64 = 0.6;
const MOST_SCATTER_MM: f64 = 0.45;
const RADIUS_MM: (f64, f64) = (2.2, 5.2);
/// The black ring is where a hole hides: below this rim step, grey levels, the centre is widened.
const FULL_STEP: f64 = 60.0;
/// Light holes must beat dark ones clearly: torn white fibres imitate them.
const LIGHT_HANDICAP: f64 = 0.15;

/// What lies behind the holes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Backdrop {
    /// Paper without print.
    Plain,
    /// Printed rings around this centre, mm.
    Rings(PointMm),
}

/// How to look for the hole behind a tap.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SnapOptions {
    /// How far from the tap the centre may be, mm: 2.5 to 3 under a magnifier, 6 for a bare finger.
    pub search_mm: f64,
    /// Sampling step on the plane, mm: about one photo pixel, 0.1 to 0.3.
    pub step_mm: f64,
    /// What lies behind the holes.
    pub backdrop: Backdrop,
}

/// Whether a hole is darker or lighter than what surrounds it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum HoleTone {
    /// Darker: the usual hole.
    Dark,
    /// Lighter: light behind the paper, or straw behind a black ring.
    Light,
}

/// A hole found behind a tap.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hole {
    /// Centre on the plane, mm.
    pub centre: PointMm,
    /// Radius of the rim, mm.
    pub radius_mm: f64,
    /// Standard deviation of the centre on each axis, mm, without the plane's own error.
    pub sd_mm: f64,
    /// How round the hole is: standard deviation of the rim about its circle, mm.
    pub scatter_mm: f64,
    /// The vote, 0..=1.
    pub vote: f64,
    /// Darker or lighter than its surroundings.
    pub tone: HoleTone,
}

/// Why a tap was not snapped. The tap itself still counts, with the tap's own uncertainty.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum NotSnapped {
    /// No round hole stands out near the tap.
    #[error("no round hole stands out here; place the mark with the magnifier")]
    NothingRound,
    /// Too little of the rim can be seen.
    #[error("too little of the hole's rim can be seen; place the mark with the magnifier")]
    RimHidden,
    /// The rim is too ragged for a centre.
    #[error("the hole is too ragged for a sure centre; place the mark with the magnifier")]
    Ragged,
    /// What was found is no arrow hole by its size.
    #[error("what is here is not the size of an arrow hole; place the mark with the magnifier")]
    WrongSize,
    /// A shaft seems to stand in the hole.
    #[error("an arrow seems to stand here; pull it and take the photo again, or use the magnifier")]
    ShaftStanding,
    /// The tap is too near the edge of the picture.
    #[error("the mark is too near the edge of the photo; take it with more room around")]
    PictureEdge,
}

/// Looks for the hole behind `tap` (mm on the plane). `brightness` is the photograph on the plane,
/// 0..=255: the brightest channel where there is colour.
///
/// # Errors
/// [`NotSnapped`] says what was missing; it is never `PictureEdge`, which only the caller can see.
pub fn snap(
    tap: PointMm,
    options: SnapOptions,
    brightness: impl Fn(PointMm) -> f32,
) -> Result<Hole, NotSnapped> {
    let half_mm = (options.search_mm + BEYOND_SEARCH_MM).max(LEAST_HALF_MM);
    let mut relief = Relief::sample(tap, half_mm, options.step_mm, &brightness);
    match options.backdrop {
        Backdrop::Plain => backdrop::subtract_median(&mut relief),
        Backdrop::Rings(centre) => {
            backdrop::subtract_rings(&mut relief, centre, tap, &brightness);
        }
    }
    let seed = vote(&relief, tap, options.search_mm).ok_or(NotSnapped::NothingRound)?;
    if shaft::stands_at(&relief, seed.centre) {
        return Err(NotSnapped::ShaftStanding);
    }
    if seed.vote < LEAST_VOTE {
        return Err(NotSnapped::NothingRound);
    }
    refine(&relief, &seed)
}

/// The best-voted centre.
struct Seed {
    centre: PointMm,
    radius_mm: f64,
    vote: f64,
    tone: HoleTone,
}

/// The centre within `search_mm` of the tap with the best vote, nearer ones preferred.
fn vote(relief: &Relief, tap: PointMm, search_mm: f64) -> Option<Seed> {
    let (from, to, by) = VOTE_RADII_MM;
    let count = ((to - from) / by).round() as usize + 1;
    let radii = (0..count).map(|k| from + by * k as f64).collect();
    let ring_vote = RingVote::new(relief, radii, VOTE_RAYS, VOTE_GAP_MM);
    let reach = (search_mm / relief.step_mm()).ceil() as usize;
    let (column, row) = relief.grid(tap);
    let first = (column.round() as usize).saturating_sub(reach);
    let top = (row.round() as usize).saturating_sub(reach);
    let mut votes = RowVotes::new(2 * reach + 1);
    let mut best: Option<(f64, Seed)> = None;
    for row in top..=top + 2 * reach {
        ring_vote.row(relief, row, first, &mut votes);
        for k in 0..=2 * reach {
            let centre = relief.place((first + k) as f64, row as f64);
            let away = (centre - tap).norm_mm();
            if away > search_mm {
                continue;
            }
            let nearness = (-0.5 * (away / (0.55 * search_mm)).powi(2)).exp();
            let seed = seed_at(&ring_vote, &votes, k, centre);
            let handicap = match seed.tone {
                HoleTone::Dark => 0.0,
                HoleTone::Light => LIGHT_HANDICAP,
            };
            let rank = (seed.vote - handicap) * nearness;
            if best.as_ref().is_none_or(|(other, _)| rank > *other) {
                best = Some((rank, seed));
            }
        }
    }
    best.map(|(_, seed)| seed)
}

fn seed_at(ring_vote: &RingVote, votes: &RowVotes, k: usize, centre: PointMm) -> Seed {
    let dark = votes.dark.get(k).map_or(0.0, |&v| f64::from(v));
    let light = votes.light.get(k).map_or(0.0, |&v| f64::from(v));
    let (best, radius, tone) = if light - LIGHT_HANDICAP * ring_vote.full() > dark {
        (light, &votes.light_radius, HoleTone::Light)
    } else {
        (dark, &votes.dark_radius, HoleTone::Dark)
    };
    Seed {
        centre,
        radius_mm: ring_vote.radius_mm(radius.get(k).copied().unwrap_or(0)),
        vote: best / ring_vote.full(),
        tone,
    }
}

/// Rim, circle, and the accept rule.
fn refine(relief: &Relief, seed: &Seed) -> Result<Hole, NotSnapped> {
    let first = circle_at(relief, seed.centre, seed.radius_mm, seed.tone)?.1;
    let centre = PointMm::new(first.x_mm, first.y_mm);
    let (rim, circle) = circle_at(relief, centre, first.radius_mm, seed.tone)?;
    if circle.support < LEAST_RIM_SHARE * RAYS as f64 {
        return Err(NotSnapped::RimHidden);
    }
    if circle.scatter_mm > MOST_SCATTER_MM {
        return Err(NotSnapped::Ragged);
    }
    if !(RADIUS_MM.0..=RADIUS_MM.1).contains(&circle.radius_mm) {
        return Err(NotSnapped::WrongSize);
    }
    let weakness = (FULL_STEP / f64::from(rim.step).max(1.0)).clamp(1.0, 4.0);
    Ok(Hole {
        centre: PointMm::new(circle.x_mm, circle.y_mm),
        radius_mm: circle.radius_mm,
        sd_mm: circle.sd_mm * weakness,
        scatter_mm: circle.scatter_mm,
        vote: seed.vote,
        tone: seed.tone,
    })
}

fn circle_at(
    relief: &Relief,
    centre: PointMm,
    radius_mm: f64,
    tone: HoleTone,
) -> Result<(Rim, Circle), NotSnapped> {
    let radius_mm = radius_mm.clamp(RADIUS_MM.0 * 0.8, RADIUS_MM.1 * 1.1);
    let rim = find_rim(relief, centre, radius_mm, tone);
    let guess = (centre.x_mm, centre.y_mm, radius_mm);
    let circle = fit_circle(&rim.points, guess).ok_or(NotSnapped::RimHidden)?;
    Ok((rim, circle))
}
