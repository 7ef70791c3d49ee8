//! The linear model: which unknowns a split depends on, and by how much.
//!
//! ```text
//!   split = T (fault + response x (offset - start) + rest x (place - start) + extra + shooter)
//!           + angle + model errors + scatter
//! ```
//! The fault is that of the bow as its epoch began: `start` is the offset and the rest's place of
//! the epoch's first trial, because nobody knows where a bow's true middle is. So, exactly, while a
//! setting has not varied nothing is learned of what it does.
//!
//! Everything but the response is a Gaussian unknown with a fixed prior; the response multiplies
//! the offset's own column and is integrated on a grid.

use super::priors::{
    ANGLE_EXTRA_SD_MM, ASIDE_SD_MM, FAULT_SD_MM, MODEL_ERROR_PER_DOUBLING, PROBE_EXTRA_SD_MM,
    SHOOTER_SD_MM,
};
use super::transfer;
use crate::flight::TransferTable;
use crate::frame::Probe;

/// Relative error of a head's or a tear's transfer at most: one bow in three errs by more, and one in three hundred by all of
/// it. At .8 for tears, 25 % for each doubling from 2 m to 20 yd, an error alone explains whatever was shot on one bow in
/// eight, and no swap teaches anything. Chosen by hand; not tuned.
const MOST_RELATIVE: f64 = 0.35;

/// Unknowns of each epoch: fault, angle part, broadhead extra, paper extra.
const PER_EPOCH: usize = 4;
/// Unknowns of the bow: knob (rest or nock height), error of the distance law, of the broadhead's
/// and of the tear's transfer.
const SHARED: usize = 4;

/// Where and how something is or would be shot.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Setting {
    pub(crate) probe: Probe,
    pub(crate) distance_m: f64,
    /// Place of its epoch in the design.
    pub(crate) epoch: usize,
    /// Who shoots, a place in the design's list; `None` where only one person shot.
    pub(crate) shooter: Option<usize>,
    /// Knob (rest or nocking point) against where its epoch began, mm.
    pub(crate) knob_mm: f64,
    /// Size of the split that relative errors apply to, mm.
    pub(crate) size_mm: f64,
}

/// One row of the linear model.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Row {
    /// Coefficients of the Gaussian unknowns.
    pub(crate) columns: Vec<f64>,
    /// Split per mm of bare-shaft split at 18.288 m.
    pub(crate) gain: f64,
}

/// Probes that are taken to say nothing of the bow, because something of their own moves them.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(crate) struct Aside {
    /// Contact or grip moves the nock through paper.
    pub(crate) paper: bool,
    /// Heads run untrue, or vanes touch.
    pub(crate) heads: bool,
}

/// The layout of the unknowns of one bow.
#[derive(Debug, Clone)]
pub(crate) struct Design<'a> {
    pub(crate) epochs: usize,
    /// People who shot, where there are several.
    pub(crate) shooters: usize,
    pub(crate) aside: Aside,
    pub(crate) target_m: f64,
    pub(crate) transfer: &'a TransferTable,
    pub(crate) knob_sd: f64,
}

impl Design<'_> {
    pub(crate) fn size(&self) -> usize {
        PER_EPOCH * self.epochs + SHARED + self.shooters
    }

    /// Column of the knob's response.
    pub(crate) fn knob(&self) -> usize {
        PER_EPOCH * self.epochs
    }

    /// Prior standard deviations of the unknowns.
    pub(crate) fn prior_sds(&self) -> Vec<f64> {
        let mut sds = Vec::with_capacity(self.size());
        let extra = |aside| {
            if aside {
                ASIDE_SD_MM
            } else {
                PROBE_EXTRA_SD_MM
            }
        };
        let (heads, paper) = (extra(self.aside.heads), extra(self.aside.paper));
        for _ in 0..self.epochs {
            sds.extend([FAULT_SD_MM, ANGLE_EXTRA_SD_MM, heads, paper]);
        }
        sds.extend([self.knob_sd, 1.0, 1.0, 1.0]);
        sds.extend(std::iter::repeat_n(SHOOTER_SD_MM, self.shooters));
        sds
    }

    /// Relative error of the bare shaft's law between a distance and the target from what is not
    /// known of the arrow.
    fn unknown_arrow(&self, at: &Setting) -> f64 {
        let here = transfer::gain(self.transfer, Probe::Bare, at.distance_m).sd_rel();
        let there = transfer::gain(self.transfer, Probe::Bare, self.target_m).sd_rel();
        (here - there).abs()
    }

    /// The row of a probe that shows nothing of its own and is carried without error.
    pub(crate) fn row_of_bow(&self, at: &Setting) -> Row {
        let mut row = self.row(&Setting {
            size_mm: 0.0,
            ..*at
        });
        let own = PER_EPOCH * at.epoch;
        row.columns[own + 2..own + PER_EPOCH].fill(0.0);
        row
    }

    pub(crate) fn row(&self, at: &Setting) -> Row {
        let transfer = transfer::gain(self.transfer, at.probe, at.distance_m);
        let gain = transfer.per_bare20;
        let mut columns = vec![0.0; self.size()];
        let (own, shared) = (PER_EPOCH * at.epoch, self.knob());
        columns[own] = gain;
        columns[own + 1] = transfer.angle - transfer.rate;
        columns[shared] = gain * at.knob_mm;
        if let Some(shooter) = at.shooter {
            columns[shared + SHARED + shooter] = gain;
        }
        let doublings = (at.distance_m / self.target_m).log2();
        let law = MODEL_ERROR_PER_DOUBLING * doublings;
        // Toward the target both errors vanish; what is not known of the arrow counts where it is
        // the larger one.
        let bare_law = law.abs().max(self.unknown_arrow(at)).copysign(doublings);
        match at.probe {
            Probe::Bare => columns[shared + 1] = bare_law * at.size_mm,
            Probe::Broadhead => {
                columns[own + 2] = gain;
                columns[shared + 1] = bare_law * at.size_mm;
                // Of heads with something of their own the size says nothing of the bow.
                if !self.aside.heads {
                    columns[shared + 2] = transfer.sd_rel().min(MOST_RELATIVE) * at.size_mm;
                }
            }
            Probe::Paper => {
                columns[own + 3] = gain;
                columns[shared + 3] = transfer.sd_rel().hypot(law).min(MOST_RELATIVE) * at.size_mm;
            }
        }
        Row { columns, gain }
    }
}
