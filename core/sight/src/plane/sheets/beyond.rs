//! Whether a sheet goes on beyond what was taken for one of its sides. A printed frame is clearer than the edge of a
//! pale sheet on a pale table; but the two sides that lead to the frame's ends go straight on, to where the sheet ends.
//!
//! However faint such a side is, what is seen across it along the sheet is seen again beyond the frame: the two are
//! compared at the photograph's full size, where hundreds of pixels tell a step of a level or two.

use crate::frame::PointPx;
use crate::plane::channels::Channels;
use crate::plane::line::Line;
use crate::plane::polygon::lengthened;
use crate::plane::{Edge, Lens};

/// Levels are compared up to this many steps to either side of a line.
const HALF: usize = 6;
/// The stretch of a side next to its corner by which it is known, as shares of the side from its other end.
const KNOWN: (f64, f64) = (0.55, 0.93);
/// Stretches beyond a corner that are looked at, mm: frames are printed 3 to 20 mm from the edge of paper.
const REACHES_MM: [f64; 3] = [4.0, 7.0, 12.0];
/// Next to the corner nothing is looked at, mm: a printed line and its blur.
const GAP_MM: f64 = 1.2;
/// Both stretches are looked at in so many parts, whose scatter says how sure the mean is.
pub(crate) const PARTS: usize = 8;
/// Lines looked at in every part.
const LINES: usize = 8;
/// A side goes on where at least this share of what is seen across it is seen beyond its corner, and this many
/// standard deviations of that more than nothing. Chosen by hand; not tuned.
const LEAST_SHARE: f64 = 0.5;
const LEAST_SDS: f64 = 4.0;
/// A side across which the levels differ by less tells nothing, root mean square. Chosen by hand; not tuned.
const LEAST_LEVELS: f64 = 0.6;

/// Of print that runs to the sheet's edge, levels: what differs by less may be the grain of a table. Chosen by hand; not tuned.
const LEAST_STEP: f64 = 8.0;
/// Samples across a line.
pub(crate) const SAMPLES: usize = 2 * HALF + 1;
/// Up from one side of a line to the other, less the ramp in it.
pub(crate) const STEP: [f64; SAMPLES] = stepped();

/// What is seen across a line, mean along a stretch: channels one after the other, each without its mean.
type Across = Vec<f64>;

/// The first of some sides beyond which both neighbours go on; `corners` are undistorted px of a sheet seen at
/// `px_per_mm`.
pub(crate) fn side_within(
    channels: &Channels<'_>,
    mut sides: impl Iterator<Item = Edge>,
    (lens, corners, px_per_mm): (&Lens, &[PointPx; 4], f64),
) -> Option<Edge> {
    let seen = Beyond {
        channels,
        lens,
        px_per_mm,
    };
    sides.find(|edge| {
        let [a, b, c, d] = [3, 0, 1, 2].map(|k| corners[(*edge as usize + k) % 4]);
        let (before, after) = (seen.known(a, b), seen.known(d, c));
        REACHES_MM.iter().any(|reach_mm| {
            let goes_on = |known: &Option<Across>, from, to| {
                let known = known.as_ref()?;
                seen.goes_on(known, from, to, *reach_mm)
            };
            let both = [goes_on(&before, a, b), goes_on(&after, d, c)];
            both.contains(&Some(true)) && !both.contains(&Some(false))
        })
    })
}

struct Beyond<'a> {
    channels: &'a Channels<'a>,
    lens: &'a Lens,
    px_per_mm: f64,
}

impl Beyond<'_> {
    /// What is seen across the part of a side that leads to its second corner; none where that is nothing.
    fn known(&self, from: PointPx, to: PointPx) -> Option<Across> {
        let at = |t: f64| lengthened(from, to, (t - 1.0) * from.distance_px(to));
        let parts = self.parts((at(KNOWN.0), at(KNOWN.1)))?;
        let mean = mean(&parts);
        let square = dot(&mean, &mean) / mean.len() as f64;
        (square.sqrt() >= LEAST_LEVELS).then_some(mean)
    }

    /// Whether the same is seen beyond the corner; none where that is out of the picture.
    fn goes_on(&self, known: &Across, from: PointPx, to: PointPx, reach_mm: f64) -> Option<bool> {
        let at = |mm: f64| lengthened(from, to, mm * self.px_per_mm);
        let parts = self.parts((at(GAP_MM), at(reach_mm)))?;
        let whole = dot(known, known);
        let share = |part: &Across| dot(known, part) / whole;
        let all =
            |of: &dyn Fn(&Across) -> f64| surely(&parts.iter().map(of).collect::<Vec<f64>>(), 1.0);
        let alike = all(&share) >= LEAST_SHARE;
        // Print that runs to the sheet's edge looks otherwise there than blank paper, but ends on the same line.
        let step = |k: usize, seen: &Across| dot(&STEP, &seen[k..k + SAMPLES]) / dot(&STEP, &STEP);
        let ends = |k: usize| all(&|part| step(k, part));
        let mut channels = (0..known.len()).step_by(SAMPLES);
        let least = |k: usize| LEAST_SHARE * step(k, known).abs().max(LEAST_STEP);
        Some(alike || channels.any(|k| ends(k).abs() >= least(k)))
    }

    /// What is seen across each part of a stretch.
    fn parts(&self, (from, to): (PointPx, PointPx)) -> Option<Vec<Across>> {
        let line = Line::between(from, to)?;
        let count = PARTS * LINES;
        let place = |i: usize| {
            let t = (i as f64 + 0.5) / count as f64;
            self.lens.distort(PointPx::new(
                from.x_px + t * (to.x_px - from.x_px),
                from.y_px + t * (to.y_px - from.y_px),
            ))
        };
        let part = |k: usize| -> Option<Across> {
            let lines: Option<Vec<Across>> = (0..LINES)
                .map(|i| self.across(place(k * LINES + i), line.across))
                .collect();
            Some(mean(&lines?))
        };
        (0..PARTS).map(part).collect()
    }

    /// Levels across a line, each channel without its mean.
    fn across(&self, at: PointPx, across: (f64, f64)) -> Option<Across> {
        let half = HALF as isize;
        let step = self.step_px();
        let step = (across.0 * step, across.1 * step);
        let mut all = Vec::with_capacity(3 * SAMPLES);
        for view in self.channels.iter() {
            let levels = view.line(at, step, -half..=half);
            if levels.len() < SAMPLES {
                return None;
            }
            let mean = levels.iter().sum::<f64>() / levels.len() as f64;
            all.extend(levels.into_iter().map(|level| level - mean));
        }
        Some(all)
    }

    /// Between samples: a pixel, or a quarter of a millimetre where that is more.
    fn step_px(&self) -> f64 {
        (0.25 * self.px_per_mm).max(1.0)
    }
}

/// A step without its mean and its slope.
const fn stepped() -> [f64; SAMPLES] {
    let mut step = [0.0; SAMPLES];
    // Of signs over -n..=n the slope is 3 / (2 n + 1), by least squares.
    let slope = 3.0 / SAMPLES as f64;
    let mut k = 1;
    while k <= HALF {
        step[HALF + k] = 1.0 - slope * k as f64;
        step[HALF - k] = -step[HALF + k];
        k += 1;
    }
    step
}

/// The mean of the parts, nothing where their scatter may have made it up: it must be so many times as sure as usual.
pub(crate) fn surely(parts: &[f64], times: f64) -> f64 {
    let count = parts.len() as f64;
    let mean = parts.iter().sum::<f64>() / count;
    let square = parts.iter().map(|p| (p - mean).powi(2)).sum::<f64>() / (count - 1.0);
    if mean.abs() >= times * LEAST_SDS * (square / count).sqrt() {
        mean
    } else {
        0.0
    }
}

fn mean(all: &[Across]) -> Across {
    let mut sum = vec![0.0; all.first().map_or(0, Vec::len)];
    for one in all {
        sum.iter_mut().zip(one).for_each(|(s, v)| *s += v);
    }
    sum.into_iter().map(|s| s / all.len() as f64).collect()
}

pub(crate) fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::frame::PointMm;
    use crate::photo::Grey;
    use crate::plane::picture::Camera;

    fn within(m: PointMm, width_mm: f64, height_mm: f64) -> bool {
        m.x_mm.abs() < width_mm / 2.0 && m.y_mm.abs() < height_mm / 2.0
    }

    /// An A4 sheet six levels lighter than its table, with print on it.
    fn sheet(camera: &Camera, printed: impl Fn(PointMm) -> bool) -> Grey {
        camera.draw(3.0, |m| match (within(m, 210.0, 297.0), printed(m)) {
            (true, true) => 60.0,
            (true, false) => 214.0,
            _ => 208.0,
        })
    }

    /// A frame 12 mm inside of its edge.
    fn frame(m: PointMm) -> bool {
        within(m, 186.0, 273.0) && !within(m, 184.4, 271.4)
    }

    /// A bar from side to side.
    fn bar(m: PointMm) -> bool {
        (125.0..138.0).contains(&m.y_mm)
    }

    /// The first side within a printed sheet whose upper side is taken to be so far above the middle.
    fn seen(printed: impl Fn(PointMm) -> bool, top_mm: f64) -> Option<Edge> {
        let camera = Camera {
            turns: [10.0, 12.0, -6.0],
            k1: 0.01,
            ..Camera::level(420.0)
        };
        let picture = sheet(&camera, printed);
        let corners = [
            (-105.0, top_mm),
            (105.0, top_mm),
            (105.0, -148.5),
            (-105.0, -148.5),
        ];
        let corners = corners.map(|(x, y)| camera.homography().to_px(PointMm::new(x, y)));
        let channels = Channels::one(picture.view());
        side_within(
            &channels,
            Edge::ALL.into_iter(),
            (&camera.lens(), &corners, 2.6),
        )
    }

    #[test]
    fn a_frame_beyond_which_the_sheet_goes_on_is_not_its_side() {
        assert_eq!(seen(frame, 136.5), Some(Edge::Top));
    }

    #[test]
    fn a_bar_that_runs_to_the_sheet_s_edge_is_not_its_end() {
        assert_eq!(seen(bar, 125.0), Some(Edge::Top));
        assert_eq!(seen(bar, 138.0), Some(Edge::Top));
    }

    #[test]
    fn beyond_its_own_sides_a_sheet_does_not_go_on() {
        assert_eq!(seen(frame, 148.5), None);
        assert_eq!(seen(bar, 148.5), None);
    }
}
