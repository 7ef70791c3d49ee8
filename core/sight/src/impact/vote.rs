//! The vote for "something round, darker or lighter than its surroundings, is centred here".
//!
//! For a centre and a radius r the vote is the mean over rays of
//! `clip(I(r + gap) - I(r - gap), +-CAP)`, divided by [`CAP`]: +1 is a hole darker than its
//! surroundings by at least the cap on every ray, -1 one that is lighter.
//!
//! Many centres of a row are voted at once with one pair of offsets, so that the inner loop is a
//! subtract, a clamp and an add over three slices of `i16`, which the compiler vectorises.

use super::relief::Relief;

/// Steps of brightness beyond this count no more, so that one strong edge cannot outvote the rest.
/// Chosen by hand; `tests/photo-table` measures what passes.
pub(super) const CAP: i16 = 45;

/// Centres of a row that are given up together in [`RingVote::strong_row`]: where there is a hole
/// or print, this many see it.
const BLOCK: usize = 32;

/// The radii and rays of one vote, as offsets into a relief of one width.
pub(super) struct RingVote {
    radii_mm: Vec<f64>,
    rings: Vec<Vec<Ray>>,
    margin: usize,
}

/// Offsets, in values, of the outer and the inner sample of one ray.
struct Ray {
    outer: isize,
    inner: isize,
}

/// Which holes count.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Tones {
    /// Those darker than their surroundings.
    Dark,
    /// Darker and lighter ones.
    Both,
}

impl Tones {
    fn vote(self, sum: i16) -> i16 {
        match self {
            Self::Dark => sum,
            Self::Both => sum.abs(),
        }
    }
}

/// The best vote at each centre of one row.
pub(super) struct RowVotes {
    /// Summed vote, 0..=[`RingVote::full`], of the best radius for a hole darker than its surroundings.
    pub(super) dark: Vec<i16>,
    /// Index of the radius of the best dark vote.
    pub(super) dark_radius: Vec<u8>,
    /// As `dark`, for holes lighter than their surroundings.
    pub(super) light: Vec<i16>,
    /// Index of the radius of the best light vote.
    pub(super) light_radius: Vec<u8>,
    sum: Vec<i16>,
}

impl RingVote {
    /// Prepares `rays` rays at every radius, sampled `gap_mm` outside and inside of it.
    pub(super) fn new(relief: &Relief, radii_mm: Vec<f64>, rays: usize, gap_mm: f64) -> Self {
        let per_mm = 1.0 / relief.step_mm();
        let offset = |radius_mm: f64, ray: usize| {
            let angle = std::f64::consts::TAU * ray as f64 / rays as f64;
            let column = (radius_mm * per_mm * angle.cos()).round() as isize;
            let row = (radius_mm * per_mm * angle.sin()).round() as isize;
            row * relief.width() as isize + column
        };
        // Every second ray first: the first half of them already looks all round.
        let spread = (0..rays).step_by(2).chain((1..rays).step_by(2));
        let rings = radii_mm
            .iter()
            .map(|&radius| {
                spread
                    .clone()
                    .map(|ray| Ray {
                        outer: offset(radius + gap_mm, ray),
                        inner: offset((radius - gap_mm).max(0.0), ray),
                    })
                    .collect()
            })
            .collect();
        let reach_mm = radii_mm.iter().fold(0.0, |a: f64, &r| a.max(r)) + gap_mm;
        Self {
            radii_mm,
            rings,
            margin: (reach_mm * per_mm).ceil() as usize + 1,
        }
    }

    /// Centres nearer to the border than this, in samples, cannot be voted on.
    pub(super) fn margin(&self) -> usize {
        self.margin
    }

    /// The radius behind an index of [`RowVotes`], mm.
    pub(super) fn radius_mm(&self, index: u8) -> f64 {
        self.radii_mm
            .get(usize::from(index))
            .copied()
            .unwrap_or(0.0)
    }

    /// The largest sum a row can hold: what a vote of 1 is in [`RowVotes`].
    pub(super) fn full(&self) -> f64 {
        let rays = self.rings.first().map_or(1, Vec::len);
        f64::from(CAP) * rays as f64
    }

    /// Votes on the centres `first..first + votes.len()` of `row`; all of them must keep
    /// [`Self::margin`] from the border (a ray that would leave the relief does not vote).
    pub(super) fn row(&self, relief: &Relief, row: usize, first: usize, votes: &mut RowVotes) {
        votes.dark.fill(0);
        votes.light.fill(0);
        let start = row * relief.width() + first;
        for (index, ring) in self.rings.iter().enumerate() {
            votes.sum.fill(0);
            add_rays(&mut votes.sum, relief, start, ring);
            votes.keep_best(index as u8);
        }
    }

    /// The best vote at each centre of one row, where it is over `least`; anywhere else some vote
    /// of at most `least`. Dark votes, as [`RowVotes::dark`], or those of either tone.
    ///
    /// A ring is given up where the first half of its rays has fallen too far behind: on plain
    /// paper that saves half of the work.
    pub(super) fn strong_row(
        &self,
        relief: &Relief,
        row: usize,
        first: usize,
        least: i16,
        tones: Tones,
        best: &mut [i16],
    ) {
        best.fill(0);
        for (block, best) in best.chunks_mut(BLOCK).enumerate() {
            let start = row * relief.width() + first + block * BLOCK;
            for ring in &self.rings {
                let (early, late) = ring.split_at(ring.len() / 2);
                let mut sums = [0; BLOCK];
                let Some(sums) = sums.get_mut(..best.len()) else {
                    continue;
                };
                add_rays(sums, relief, start, early);
                let lead = sums.iter().fold(0, |a, &b| tones.vote(b).max(a));
                if lead + CAP * late.len() as i16 <= least {
                    continue;
                }
                add_rays(sums, relief, start, late);
                for (best, &sum) in best.iter_mut().zip(&*sums) {
                    *best = tones.vote(sum).max(*best);
                }
            }
        }
    }
}

impl RowVotes {
    /// Room for `count` centres.
    pub(super) fn new(count: usize) -> Self {
        Self {
            dark: vec![0; count],
            dark_radius: vec![0; count],
            light: vec![0; count],
            light_radius: vec![0; count],
            sum: vec![0; count],
        }
    }

    fn keep_best(&mut self, index: u8) {
        keep_larger(&self.sum, 1, index, &mut self.dark, &mut self.dark_radius);
        keep_larger(
            &self.sum,
            -1,
            index,
            &mut self.light,
            &mut self.light_radius,
        );
    }
}

fn keep_larger(sum: &[i16], sign: i16, index: u8, best: &mut [i16], which: &mut [u8]) {
    for ((&sum, best), which) in sum.iter().zip(best).zip(which) {
        let larger = sum * sign > *best;
        *best = if larger { sum * sign } else { *best };
        *which = if larger { index } else { *which };
    }
}

/// `count` values from `start + offset`; empty when they are not all there.
fn shifted(values: &[i16], start: usize, offset: isize, count: usize) -> &[i16] {
    start
        .checked_add_signed(offset)
        .and_then(|from| values.get(from..from + count))
        .unwrap_or(&[])
}

/// Adds the votes of `rays` for the centres from `start` on.
fn add_rays(sums: &mut [i16], relief: &Relief, start: usize, rays: &[Ray]) {
    for ray in rays {
        let outer = shifted(relief.values(), start, ray.outer, sums.len());
        let inner = shifted(relief.values(), start, ray.inner, sums.len());
        add_clipped(sums, outer, inner);
    }
}

fn add_clipped(sum: &mut [i16], outer: &[i16], inner: &[i16]) {
    for ((sum, &outer), &inner) in sum.iter_mut().zip(outer).zip(inner) {
        *sum += (outer - inner).clamp(-CAP, CAP);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::frame::PointMm;

    fn disc(tone: f32) -> Relief {
        Relief::sample(PointMm::default(), 12.0, 0.25, |p| {
            let inside = (p.x_mm - 1.0).hypot(p.y_mm + 0.5) < 3.0;
            if inside { tone } else { 120.0 }
        })
    }

    fn best(relief: &Relief) -> (f64, f64, f64, f64) {
        let vote = RingVote::new(relief, vec![2.0, 2.5, 3.0, 3.5, 4.0], 24, 0.6);
        let count = relief.width() - 2 * vote.margin();
        let mut votes = RowVotes::new(count);
        let mut found = (0.0, 0.0, 0.0, 0.0);
        for row in vote.margin()..relief.height() - vote.margin() {
            vote.row(relief, row, vote.margin(), &mut votes);
            for (k, &sum) in votes.dark.iter().enumerate() {
                let score = f64::from(sum) / vote.full();
                if score > found.0 {
                    let at = relief.place((k + vote.margin()) as f64, row as f64);
                    found = (
                        score,
                        at.x_mm,
                        at.y_mm,
                        vote.radius_mm(votes.dark_radius[k]),
                    );
                }
            }
        }
        found
    }

    #[test]
    fn a_dark_disc_gets_a_full_vote_at_its_centre_and_radius() {
        let (score, x_mm, y_mm, radius_mm) = best(&disc(20.0));
        assert!(score > 0.99, "{score}");
        assert!((x_mm - 1.0).hypot(y_mm + 0.5) < 0.5);
        assert!((radius_mm - 3.0).abs() < 0.3);
    }

    #[test]
    fn a_strong_vote_is_the_same_by_the_short_way() {
        let relief = disc(60.0);
        let vote = RingVote::new(&relief, vec![2.0, 2.5, 3.0, 3.5, 4.0], 24, 0.6);
        let count = relief.width() - 2 * vote.margin();
        let least = (0.6 * vote.full()) as i16;
        let (mut votes, mut strong) = (RowVotes::new(count), vec![0; count]);
        let mut seen = 0;
        for row in vote.margin()..relief.height() - vote.margin() {
            vote.row(&relief, row, vote.margin(), &mut votes);
            vote.strong_row(&relief, row, vote.margin(), least, Tones::Dark, &mut strong);
            for (&whole, &short) in votes.dark.iter().zip(&strong) {
                assert!(whole == short || whole.max(short) <= least);
                seen += usize::from(short > least);
            }
        }
        assert!(seen > 20, "{seen}");
    }

    #[test]
    fn a_light_disc_gets_no_dark_vote_at_its_centre() {
        let (score, ..) = best(&disc(250.0));
        assert!(score < 0.6, "{score}");
    }
}
