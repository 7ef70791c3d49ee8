//! Whether a sheet goes on beyond what was taken for one of its sides. A printed frame is clearer than the edge of a
//! pale sheet on a pale table; but the two sides that lead to the frame's ends go straight on, to where the sheet ends.
//!
//! However faint such a side is, what is seen across it along the sheet is seen again beyond the frame: the two are
//! compared at the photograph's full size, where hundreds of pixels tell a step of a level or two.

use super::channels::Channels;
use super::line::Line;
use super::quads::lengthened;
use super::{Edge, Lens};
use crate::frame::PointPx;

/// Levels are compared up to this many steps to either side of a line.
const HALF: usize = 6;
/// The stretch of a side next to its corner by which it is known, as shares of the side from its other end.
const KNOWN: (f64, f64) = (0.55, 0.93);
/// Stretches beyond a corner that are looked at, mm: frames are printed 3 to 20 mm from the edge of paper.
const REACHES_MM: [f64; 3] = [4.0, 7.0, 12.0];
/// Next to the corner nothing is looked at, mm: a printed line and its blur.
const GAP_MM: f64 = 1.2;
/// Both stretches are looked at in so many parts, whose scatter says how sure the mean is.
const PARTS: usize = 8;
/// Lines looked at in every part.
const LINES: usize = 8;
/// A side goes on where at least this share of what is seen across it is seen beyond its corner, and this many
/// standard deviations of that more than nothing. Chosen by hand; not tuned.
const LEAST_SHARE: f64 = 0.5;
const LEAST_SDS: f64 = 4.0;
/// A side across which the levels differ by less tells nothing, root mean square. Chosen by hand; not tuned.
const LEAST_LEVELS: f64 = 0.6;

/// What is seen across a line, mean along a stretch: channels one after the other, each without its mean.
type Across = Vec<f64>;

/// The first of some sides beyond which both neighbours go on; `corners` are undistorted px of a sheet seen at
/// `px_per_mm`.
pub(super) fn side_within(
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
        let shares: Vec<f64> = parts.iter().map(|part| dot(known, part) / whole).collect();
        let count = shares.len() as f64;
        let share = shares.iter().sum::<f64>() / count;
        let square = shares.iter().map(|s| (s - share).powi(2)).sum::<f64>() / (count - 1.0);
        let sd = (square / count).sqrt();
        Some(share >= LEAST_SHARE && share >= LEAST_SDS * sd)
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
        let mut all = Vec::with_capacity(3 * (2 * HALF + 1));
        for view in self.channels.iter() {
            let levels = view.line(at, step, -half..=half);
            if levels.len() <= 2 * HALF {
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

fn mean(all: &[Across]) -> Across {
    let mut sum = vec![0.0; all.first().map_or(0, Vec::len)];
    for one in all {
        sum.iter_mut().zip(one).for_each(|(s, v)| *s += v);
    }
    sum.into_iter().map(|s| s / all.len() as f64).collect()
}

fn dot(a: &[f64], b: &[f64]) -> f64 {
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

    /// An A4 sheet six levels lighter than its table, with a frame printed 12 mm inside.
    fn framed(camera: &Camera) -> Grey {
        camera.draw(3.0, |m| {
            let line = within(m, 186.0, 273.0) && !within(m, 184.4, 271.4);
            match (line, within(m, 210.0, 297.0)) {
                (true, _) => 60.0,
                (false, true) => 214.0,
                _ => 208.0,
            }
        })
    }

    /// The first side within a sheet whose upper side is taken to be so far above the middle.
    fn seen(top_mm: f64) -> Option<Edge> {
        let camera = Camera {
            turns: [10.0, 12.0, -6.0],
            k1: 0.01,
            ..Camera::level(420.0)
        };
        let picture = framed(&camera);
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
        assert_eq!(seen(136.5), Some(Edge::Top));
    }

    #[test]
    fn beyond_its_own_sides_a_sheet_does_not_go_on() {
        assert_eq!(seen(148.5), None);
    }
}
