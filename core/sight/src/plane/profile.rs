//! Where an edge lies along a line across it, to a fraction of a pixel.

use std::sync::LazyLock;

use crate::frame::PointPx;
use crate::photo::View;
use crate::stats::{SD_PER_MEDIAN, median};

/// What an edge must stand out from is looked at this far around it, px: in a narrow window the edge
/// itself would be most of that. Chosen by hand; not tuned.
const AROUND_PX: usize = 12;

/// A line of samples across an expected edge.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Probe {
    /// Where the edge is expected, px.
    pub(crate) at: PointPx,
    /// Unit direction across it, px.
    pub(crate) across: (f64, f64),
    /// How far to look on either side, px.
    pub(crate) half_px: f64,
}

/// An edge found by a [`Probe`].
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct EdgeHit {
    /// Distance from the expected place along `across`, px.
    pub(crate) offset_px: f64,
    /// Light per px of the smoothed profile, 255 being white; positive where it gets lighter along
    /// `across`.
    pub(crate) slope: f64,
}

impl Probe {
    /// Strongest rising and strongest falling edge; `None` where the line leaves the picture or
    /// the strongest slope lies at the window's end (the edge may be outside).
    pub(crate) fn edges(&self, view: &View<'_>, filter: &Filter) -> [Option<EdgeHit>; 2] {
        let half = self.half_px.ceil() as usize;
        let wide = half.max(AROUND_PX);
        let seen = self
            .slopes(view, filter, wide)
            .map(|slopes| (slopes, wide - half));
        // Beside the picture's border the window has to do.
        let seen = seen.or_else(|| Some((self.slopes(view, filter, half)?, 0)));
        let Some((slopes, beyond)) = seen else {
            return [None, None];
        };
        let least = least_slope(&slopes);
        let window = &slopes[beyond..slopes.len() - beyond];
        let clear = |sign: f64| peak(window, sign).filter(|hit| hit.slope * sign > least);
        [1.0, -1.0].map(clear)
    }

    /// Smoothed derivative of the light at whole px from `-half` to `half`.
    fn slopes(&self, view: &View<'_>, filter: &Filter, half: usize) -> Option<Vec<f64>> {
        let length = (half + filter.support) as isize;
        let levels = view.line(self.at, self.across, -length..=length);
        let whole = levels.len() as isize > 2 * length;
        let samples: Vec<f64> = whole.then(|| levels.into_iter().map(light).collect())?;
        Some(filter.slopes(&samples).collect())
    }
}

/// The steepest place of one sign in slopes at whole px around the expected place.
fn peak(slopes: &[f64], sign: f64) -> Option<EdgeHit> {
    let value = |i: usize| slopes.get(i).map(|s| s * sign);
    let (best, top) = slopes
        .iter()
        .map(|s| s * sign)
        .enumerate()
        .max_by(|a, b| a.1.total_cmp(&b.1))?;
    let (left, right) = (value(best.checked_sub(1)?)?, value(best + 1)?);
    let bend = left - 2.0 * top + right;
    let shift = if bend < 0.0 {
        0.5 * (left - right) / bend
    } else {
        0.0
    };
    Some(EdgeHit {
        offset_px: best as f64 + shift - (slopes.len() / 2) as f64,
        slope: top * sign,
    })
}

/// A derivative-of-Gaussian filter over evenly spaced samples.
pub(crate) struct Filter {
    weights: Vec<f64>,
    /// How many samples it needs beyond the outermost slope on either side: without them it has no
    /// support near the window's ends and the window shrinks without a word.
    pub(crate) support: usize,
}

impl Filter {
    /// Of width `sigma_px` over samples `step_px` apart. Exact for ramps.
    pub(crate) fn new(sigma_px: f64, step_px: f64) -> Self {
        /// How far it reaches, in widths.
        const SUPPORT: f64 = 3.2;
        let sigma = sigma_px / step_px;
        let support = (SUPPORT * sigma).ceil() as usize;
        let positions = -(support as isize)..=support as isize;
        let raw: Vec<f64> = positions
            .clone()
            .map(|k| k as f64 * (-(k as f64).powi(2) / (2.0 * sigma * sigma)).exp())
            .collect();
        let ramp: f64 = raw.iter().zip(positions).map(|(w, k)| w * k as f64).sum();
        Self {
            weights: raw.iter().map(|w| w / ramp / step_px).collect(),
            support,
        }
    }

    /// Slope per px of the smoothed profile, for every sample with enough others around it.
    pub(crate) fn slopes(&self, samples: &[f64]) -> impl Iterator<Item = f64> {
        samples
            .windows(self.weights.len())
            .map(|window| window.iter().zip(&self.weights).map(|(s, w)| s * w).sum())
    }
}

/// Light behind a grey level, 0..=255 for both: the inverse of the curve in IEC 61966-2-1 (sRGB).
///
/// A lens blurs light and the camera bends the result afterwards, which moves the steepest place
/// of a grey profile towards the dark side by up to half a pixel on every edge of a white sheet;
/// in light it stays where the edge is.
pub(crate) fn light(level: f64) -> f64 {
    static TABLE: LazyLock<[f64; 256]> = LazyLock::new(|| {
        std::array::from_fn(|level| {
            let v = level as f64 / 255.0;
            255.0
                * if v <= 0.040_45 {
                    v / 12.92
                } else {
                    ((v + 0.055) / 1.055).powf(2.4)
                }
        })
    });
    let below = (level.max(0.0) as usize).min(254);
    TABLE[below] + (level - below as f64) * (TABLE[below + 1] - TABLE[below])
}

/// What an edge must exceed: the scatter of the profile around it several times over (the highest
/// of a hundred samples of noise reaches three), and one grey level per px in any case.
fn least_slope(slopes: &[f64]) -> f64 {
    const TIMES_SCATTER: f64 = 4.0;
    let scatter = median(slopes.iter().map(|s| s.abs()).collect()).unwrap_or(0.0) * SD_PER_MEDIAN;
    (TIMES_SCATTER * scatter).max(1.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::photo::Grey;
    use crate::plane::picture::level;

    /// A vertical edge at `x_px`, blurred over about two pixels by exact area coverage.
    fn step(x_px: f64, low: f64, high: f64) -> Grey {
        let mut grey = Grey::filled(80, 20, 0);
        for (i, v) in grey.data.iter_mut().enumerate() {
            let covered = |x: f64| (x + 0.5 - x_px).clamp(0.0, 1.0);
            let x = (i % 80) as f64;
            let blurred = (covered(x - 1.0) + 2.0 * covered(x) + covered(x + 1.0)) / 4.0;
            *v = level(light(low) + (light(high) - light(low)) * blurred).round() as u8;
        }
        grey
    }

    #[test]
    fn light_follows_the_published_curve() {
        // sRGB 128 is 0.2158605 of full light (computed from the formula of IEC 61966-2-1).
        assert!((light(128.0) / 255.0 - 0.215_860_5).abs() < 1e-6);
        assert_eq!((light(0.0), light(255.0)), (0.0, 255.0));
    }

    fn probe(at: f64) -> Probe {
        Probe {
            at: PointPx::new(at, 10.0),
            across: (1.0, 0.0),
            half_px: 10.0,
        }
    }

    fn edges(at: f64, grey: &Grey) -> [Option<EdgeHit>; 2] {
        probe(at).edges(&grey.view(), &Filter::new(1.5, 1.0))
    }

    #[test]
    fn finds_a_step_to_a_fiftieth_of_a_pixel() {
        for tenth in 0..10 {
            let x = 40.0 + f64::from(tenth) / 10.0;
            let hit = edges(42.0, &step(x, 40.0, 200.0))[0].unwrap();
            assert!((42.0 + hit.offset_px - x).abs() < 0.02, "{x}: {hit:?}");
        }
    }

    #[test]
    fn sees_an_edge_at_the_end_of_its_window() {
        let hit = edges(48.0, &step(39.0, 40.0, 200.0))[0].unwrap();
        assert!((hit.offset_px + 9.0).abs() < 0.03, "{hit:?}");
    }

    #[test]
    fn tells_rising_from_falling_and_stops_at_the_border() {
        let [rising, falling] = edges(40.0, &step(40.0, 200.0, 40.0));
        assert!(falling.unwrap().slope < -20.0);
        assert!(rising.is_none());
        assert_eq!(edges(5.0, &step(5.0, 0.0, 200.0)), [None, None]);
    }
}
