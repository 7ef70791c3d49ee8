//! The surroundings of an expected side: slopes across it, probe by probe, channel by channel.

use crate::plane::Lens;
use crate::plane::channels::Channels;
use crate::plane::line::Line;
use crate::plane::profile::{Filter, light};

use super::outline::Outline;
use crate::frame::PointPx;
use crate::photo::View;
use crate::stats::{SD_PER_MEDIAN, median};

/// Probes along one side.
pub(crate) const PROBES: usize = 100;
/// Least scatter of slopes that are told from noise, levels: quantisation and compression. Chosen by
/// hand; not tuned.
const LEAST_NOISE: f64 = 0.5;

/// How a strip is sampled.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Sampling {
    /// Slopes on either side of the expected line.
    pub(crate) half: usize,
    /// Between them, px.
    pub(crate) step_px: f64,
    /// Width of the derivative-of-Gaussian filter, px.
    pub(crate) sigma_px: f64,
    /// In light, for places to a fraction of a pixel; else in the picture's own tones, in which
    /// shadows count as they do to the eye.
    pub(crate) in_light: bool,
}

/// Slopes of one channel, one row per probe from `-half` to `half`; not a number outside the picture.
pub(crate) struct Layer {
    pub(crate) rows: Vec<Vec<f64>>,
    /// Robust scatter of all slopes of the strip: what an edge must stand out from.
    pub(crate) noise: f64,
}

/// Where the probes of one side stand, in the photograph.
pub(crate) struct Places {
    pub(crate) at: Vec<PointPx>,
    /// Share of the side at which each stands.
    pub(crate) along: Vec<f64>,
    pub(crate) across: (f64, f64),
}

impl Places {
    /// Spread over the visible parts of a side between two corners in undistorted px.
    pub(crate) fn on(lens: &Lens, ends: (PointPx, PointPx), outline: &Outline<'_>) -> Option<Self> {
        let line = Line::between(ends.0, ends.1)?;
        let along: Vec<f64> = (0..PROBES)
            .map(|i| outline.place((i as f64 + 0.5) / PROBES as f64))
            .collect();
        let place = |t: &f64| {
            lens.distort(PointPx::new(
                ends.0.x_px + t * (ends.1.x_px - ends.0.x_px),
                ends.0.y_px + t * (ends.1.y_px - ends.0.y_px),
            ))
        };
        Some(Self {
            at: along.iter().map(place).collect(),
            along,
            across: line.across,
        })
    }

    /// The place `offset_px` inwards of a probe.
    pub(crate) fn off(&self, probe: usize, offset_px: f64) -> Option<PointPx> {
        let at = self.at.get(probe)?;
        Some(PointPx::new(
            at.x_px + offset_px * self.across.0,
            at.y_px + offset_px * self.across.1,
        ))
    }

    /// The slopes of every channel.
    pub(crate) fn layers(&self, channels: &Channels<'_>, how: &Sampling) -> Vec<Layer> {
        let filter = Filter::new(how.sigma_px, how.step_px);
        let layer = |view: &View<'_>| {
            let rows = (0..self.at.len()).map(|i| self.row(view, i, (how, &filter)));
            let rows: Vec<Vec<f64>> = rows.collect();
            let all = rows.iter().flatten().filter(|s| s.is_finite());
            let scatter = SD_PER_MEDIAN * median(all.map(|s| s.abs()).collect()).unwrap_or(0.0);
            let noise = scatter.max(LEAST_NOISE / how.sigma_px);
            Layer { rows, noise }
        };
        channels.iter().map(layer).collect()
    }

    fn row(&self, view: &View<'_>, probe: usize, (how, filter): (&Sampling, &Filter)) -> Vec<f64> {
        let reach = (how.half + filter.support) as isize;
        let (most_x, most_y) = (view.width() as f64 - 1.0, view.height() as f64 - 1.0);
        let place = |k: isize| self.off(probe, k as f64 * how.step_px).unwrap_or_default();
        let (dx, dy) = self.across;
        let step = (how.step_px * dx, how.step_px * dy);
        let mut samples = view.line(place(0), step, -reach..=reach);
        if samples.len() as isize <= 2 * reach {
            // Beyond the picture's border its last pixels go on.
            let level = |p: PointPx| {
                view.sample(p.x_px.clamp(0.0, most_x), p.y_px.clamp(0.0, most_y))
                    .unwrap_or(0.0)
            };
            samples = (-reach..=reach).map(|k| level(place(k))).collect();
        }
        if how.in_light {
            for level in &mut samples {
                *level = light(*level);
            }
        }
        let half = how.half as isize;
        (-half..=half)
            .zip(filter.slopes(&samples))
            .map(|(k, slope)| {
                let p = place(k);
                let inside = (1.0..most_x).contains(&p.x_px) && (1.0..most_y).contains(&p.y_px);
                if inside { slope } else { f64::NAN }
            })
            .collect()
    }
}

/// Where a row has its local peaks of one sign: the index to a fraction, and the height.
pub(crate) fn peaks(row: &[f64], sign: f64) -> impl Iterator<Item = (f64, f64)> + '_ {
    row.windows(3).enumerate().filter_map(move |(i, w)| {
        let [left, top, right] = [w[0] * sign, w[1] * sign, w[2] * sign];
        // Not a number compares false: nothing peaks beside the picture's border.
        let peak = top > 0.0 && top > left && top >= right;
        let bend = left - 2.0 * top + right;
        peak.then(|| ((i + 1) as f64 + 0.5 * (left - right) / bend, top))
    })
}
