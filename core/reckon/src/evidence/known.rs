//! Everything that is known of one bow before it is combined.

use super::parabola::Parabola;
use super::priors::MODEL_ERROR_PER_DOUBLING;
use super::{SAME_MM, Scatter, Seen, transfer};
use crate::flight::TransferTable;
use crate::frame::Probe;

/// The bow as it stands now.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Now {
    pub(crate) offset_mm: f64,
    pub(crate) rest_mm: f64,
    pub(crate) nock_mm: f64,
    pub(crate) epoch: i64,
    /// Who shoots it.
    pub(crate) shooter: Option<String>,
    /// The distance that matters to the user, m.
    pub(crate) target_m: f64,
}

/// A swap from before the record, by the shift of the nock plane it made.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Remembered {
    pub(crate) shift_mm: f64,
    pub(crate) moved_mm: f64,
    pub(crate) sd_mm: f64,
    pub(crate) distance_m: f64,
}

/// Everything that is known of a bow, its trials in canonical order.
#[derive(Debug, Clone)]
pub(crate) struct Known<'a> {
    pub(crate) now: Now,
    pub(crate) seen: Vec<Seen<'a>>,
    pub(crate) scatter: Scatter,
    /// Other bows of its family, each with its own scatter.
    pub(crate) relatives: Vec<(Vec<Seen<'a>>, Scatter)>,
    pub(crate) remembered: Vec<Remembered>,
    /// What is not counted because the same, shot again, showed something else: place in `seen`, and probe.
    pub(crate) outvoted: Vec<(usize, Probe)>,
}

impl Known<'_> {
    /// Other bows of the family that were shot before and after a swap: the others tell nothing of the response.
    pub(crate) fn relatives_that_swapped(&self) -> u32 {
        let swapped = |seen: &[Seen]| {
            seen.windows(2).any(|pair| {
                let same_epoch = pair[0].trial.epoch == pair[1].trial.epoch;
                same_epoch && (pair[0].offset_mm - pair[1].offset_mm).abs() > SAME_MM
            })
        };
        let swapped = self.relatives.iter().filter(|(seen, _)| swapped(seen));
        swapped.count() as u32
    }
}

impl Remembered {
    /// What it says of the response, per mm of bare-shaft split at `target_m`.
    pub(crate) fn shown(&self, target_m: f64, transfer: &TransferTable) -> Parabola {
        let gain = transfer::gain(transfer, Probe::Bare, self.distance_m).per_bare20;
        let law = MODEL_ERROR_PER_DOUBLING * (self.distance_m / target_m).log2();
        let shift = gain * self.shift_mm;
        let weight = 1.0 / (self.sd_mm.powi(2) + (law * self.moved_mm).powi(2));
        Parabola {
            linear: weight * shift * self.moved_mm,
            curvature: weight * shift * shift,
        }
    }

    /// The same as a response and its standard deviation, mm/mm.
    pub(crate) fn response(&self, target_m: f64, transfer: &TransferTable) -> (f64, f64) {
        let shown = self.shown(target_m, transfer);
        (
            shown.linear / shown.curvature,
            shown.curvature.sqrt().recip(),
        )
    }
}
