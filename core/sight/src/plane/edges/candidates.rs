//! Straight lines that may be a side, by the vote of all probes.

use crate::plane::channels::Channels;
use crate::plane::{Edge, Lens};

use super::outline::Outline;
use super::strip::{Layer, Places, Sampling, peaks};
use crate::frame::PointPx;
use crate::stats::median;

/// Slopes on either side of the tapped line in the vote.
const HALF: usize = 40;
/// How far a straight line's own edge may wander, in steps: lens, waves, pixels.
const WANDER: usize = 3;
/// Filter widths tried, in steps: sharp edges and soft ones.
const SIGMAS: [f64; 2] = [2.0, 6.0];
/// A probe sees an edge that stands this many times above the scatter around it. One sample of plain
/// noise in two thousand does; those agree on no line.
pub(crate) const TIMES_NOISE: f64 = 3.5;
/// A side is seen if at least this share of its probes agrees on one line. Chosen by hand, looking at
/// the photographs of `tests/real-table`.
pub(crate) const LEAST_SEEN: f64 = 0.30;
/// A line on which fewer of the probes agree, share, is not kept. Chosen by hand; not tuned.
const WORTH_KEEPING: f64 = 0.1;
/// Edges are looked for this many standard deviations of a tap to either side of it,
const TAP_SDS: f64 = 3.2;
/// and so many px more.
const LEAST_HALF_PX: f64 = 6.0;
/// What lies inside of a line is looked at this far from it, in half windows.
const INSIDE: f64 = 0.2;
/// Lines kept per side. Chosen by hand; not tuned.
const MOST: usize = 6;

/// A line that may be the side.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Candidate {
    /// Ends, undistorted px.
    pub(crate) ends: (PointPx, PointPx),
    /// How far outside (negative) or inside of the tapped line its middle lies, px.
    pub(crate) inwards_px: f64,
    /// Share of the probes that see it.
    pub(crate) seen: f64,
    /// Mean over the probes of how clearly they see it, 0..1.
    pub(crate) clear: f64,
    /// Median level of each channel just inside of it.
    pub(crate) inside: [f64; 3],
}

/// Evidence of an edge per probe and step.
struct Evidence {
    rows: Vec<Vec<Step>>,
}

/// What one step of a probe says: nothing where it is out of the picture.
#[derive(Clone, Copy, Default)]
struct Step {
    inside: u32,
    seen: u32,
    /// How clearly, 0..1.
    clear: f64,
}

impl Step {
    /// By the height of an edge there, in units of the scatter around.
    fn of(height: f64) -> Self {
        if !height.is_finite() {
            return Self::default();
        }
        Self {
            inside: 1,
            seen: u32::from(height >= TIMES_NOISE),
            clear: height / (height + 2.0 * TIMES_NOISE),
        }
    }
}

/// Lines within `half_px` of the tapped side, the clearest first; or the largest share of probes
/// that agreed on one.
pub(crate) fn candidates(
    channels: &Channels<'_>,
    lens: &Lens,
    ends: (PointPx, PointPx),
    half_px: f64,
    outline: &Outline<'_>,
) -> Result<Vec<Candidate>, f64> {
    let step_px = half_px / HALF as f64;
    let places = Places::on(lens, ends, outline).ok_or(0.0)?;
    let layers = SIGMAS.iter().flat_map(|sigma| {
        let how = Sampling {
            half: HALF,
            step_px,
            sigma_px: (sigma * step_px).max(1.2),
            in_light: false,
        };
        places.layers(channels, &how)
    });
    let evidence = Evidence::of(&layers.collect::<Vec<_>>(), outline.dark_inside);
    let all = evidence.lines(&places);
    let most_seen = all.iter().map(|c| c.seen).fold(0.0, f64::max);
    let kept: Vec<Candidate> = all
        .into_iter()
        .filter(|c| c.seen >= LEAST_SEEN)
        .map(|c| {
            let line = c.onto(lens, &places, ends, step_px);
            let inside = inside(channels, lens, line.ends, INSIDE * half_px, outline);
            Candidate { inside, ..line }
        })
        .collect();
    if kept.is_empty() {
        Err(most_seen)
    } else {
        Ok(kept)
    }
}

/// The lines near each tapped side (corners in undistorted px), and the sides that show none, with the largest share of probes
/// that agreed on one.
pub(crate) fn near_taps(
    channels: &Channels<'_>,
    outline: &Outline<'_>,
    lens: &Lens,
    (taps, tap_sd_px): (&[PointPx; 4], f64),
) -> ([Vec<Candidate>; 4], Vec<(Edge, f64)>) {
    let half_px = TAP_SDS * tap_sd_px + LEAST_HALF_PX;
    let mut missing = Vec::new();
    let sides = Edge::ALL.map(|edge| {
        let i = edge as usize;
        let ends = (taps[i], taps[(i + 1) % 4]);
        let found = candidates(channels, lens, ends, half_px, outline);
        found.unwrap_or_else(|seen| {
            missing.push((edge, seen));
            Vec::new()
        })
    });
    (sides, missing)
}

/// A line of the vote: steps inwards at the first and the last probe.
struct Voted {
    from: usize,
    to: usize,
    seen: f64,
    clear: f64,
}

impl Voted {
    fn onto(
        &self,
        lens: &Lens,
        places: &Places,
        ends: (PointPx, PointPx),
        step_px: f64,
    ) -> Candidate {
        let first = places.along.first().copied().unwrap_or(0.0);
        let last = places.along.last().copied().unwrap_or(1.0);
        let inwards = |k: usize| (k as f64 - HALF as f64) * step_px;
        let (a, b) = (inwards(self.from), inwards(self.to));
        let at = |t: f64| a + (b - a) * (t - first) / (last - first);
        let moved = |end: PointPx, t: f64| {
            let raw = lens.distort(end);
            let by = at(t);
            lens.undistort(PointPx::new(
                raw.x_px + by * places.across.0,
                raw.y_px + by * places.across.1,
            ))
        };
        Candidate {
            ends: (moved(ends.0, 0.0), moved(ends.1, 1.0)),
            inwards_px: at(0.5),
            seen: self.seen,
            clear: self.clear,
            inside: [0.0; 3],
        }
    }
}

/// Median level of every channel `inwards_px` inside of a line.
pub(crate) fn inside(
    channels: &Channels<'_>,
    lens: &Lens,
    ends: (PointPx, PointPx),
    inwards_px: f64,
    outline: &Outline<'_>,
) -> [f64; 3] {
    let mut levels = [0.0; 3];
    let Some(places) = Places::on(lens, ends, outline) else {
        return levels;
    };
    for (level, view) in levels.iter_mut().zip(channels.iter()) {
        let at = |i: usize| {
            let p = places.off(i, inwards_px)?;
            view.sample(p.x_px, p.y_px)
        };
        let all = (0..places.at.len()).filter_map(at).collect();
        *level = median(all).unwrap_or(0.0);
    }
    levels
}

impl Evidence {
    fn of(layers: &[Layer], dark_inside: bool) -> Self {
        let probes = layers.first().map_or(0, |l| l.rows.len());
        let row = |probe: usize| {
            let mut best = vec![f64::NAN; 2 * HALF + 1];
            for layer in layers {
                let Some(slopes) = layer.rows.get(probe) else {
                    continue;
                };
                for (b, s) in best.iter_mut().zip(slopes) {
                    if s.is_finite() && b.is_nan() {
                        *b = 0.0;
                    }
                }
                let signs: &[f64] = if dark_inside { &[-1.0] } else { &[-1.0, 1.0] };
                for sign in signs {
                    for (at, height) in peaks(slopes, *sign) {
                        spread(&mut best, at, height / layer.noise);
                    }
                }
            }
            best.into_iter().map(Step::of).collect()
        };
        Self {
            rows: (0..probes).map(row).collect(),
        }
    }

    /// Lines with the clearest first, none beside a clearer one.
    fn lines(&self, places: &Places) -> Vec<Voted> {
        let first = places.along.first().copied().unwrap_or(0.0);
        let last = places.along.last().copied().unwrap_or(1.0);
        let share = |t: &f64| (t - first) / (last - first);
        let rows = self.rows.iter().map(Vec::as_slice);
        let rows: Vec<(&[Step], f64)> = rows.zip(places.along.iter().map(share)).collect();
        let mut all = Vec::new();
        for from in 0..=2 * HALF {
            for to in 0..=2 * HALF {
                let voted = vote(&rows, from, to);
                if voted.seen > WORTH_KEEPING {
                    all.push(voted);
                }
            }
        }
        all.sort_by(|a, b| b.clear.total_cmp(&a.clear));
        let mut kept: Vec<Voted> = Vec::new();
        for voted in all {
            let beside = |k: &Voted| {
                let middle = (k.from + k.to).abs_diff(voted.from + voted.to) / 2;
                middle <= 2 * WANDER
            };
            if !kept.iter().any(beside) {
                kept.push(voted);
            }
            if kept.len() == MOST {
                break;
            }
        }
        kept
    }
}

/// What the probes, each with its share of the way along the side, say of one line.
fn vote(rows: &[(&[Step], f64)], from: usize, to: usize) -> Voted {
    let (mut inside, mut seen, mut clear) = (0, 0, 0.0);
    let slope = to as f64 - from as f64;
    for (row, share) in rows {
        // Rounded by hand: thousands of lines are voted on, and `round` is a call on some processors.
        let at = (from as f64 + slope * share + 0.5) as usize;
        if let Some(step) = row.get(at) {
            inside += step.inside;
            seen += step.seen;
            clear += step.clear;
        }
    }
    // A side of which little is within the picture cannot be seen as a whole.
    let whole = f64::from(inside).max((rows.len() / 2) as f64);
    Voted {
        from,
        to,
        seen: f64::from(seen) / whole,
        clear: clear / whole,
    }
}

/// Adds a peak and its surroundings, falling off to both sides.
fn spread(row: &mut [f64], at: f64, height: f64) {
    let middle = at.round() as usize;
    for k in middle.saturating_sub(WANDER)..=middle + WANDER {
        let falls = 1.0 - 0.2 * (k as f64 - at).abs();
        if let Some(r) = row.get_mut(k)
            && r.is_finite()
        {
            *r = r.max(height * falls.max(0.0));
        }
    }
}
