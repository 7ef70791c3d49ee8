//! One bow's trials laid out for the linear model: its epochs, where each began, who shot.

use super::design::{Aside, Design, Setting};
use super::posterior::Datum;
use super::priors::{NOCK_HEIGHT_MEAN, NOCK_HEIGHT_SD, OLD_EPOCH_INFLATION, REST_SD};
use super::{Now, Observation, Seen, transfer};
use crate::flight::{Expected, TransferTable};

/// Sideways or up and down.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Axis {
    Sideways,
    Upright,
}

/// The setting of an epoch's first trial: its fault is defined there.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Start {
    pub(crate) offset_mm: f64,
    pub(crate) rest_mm: f64,
    pub(crate) nock_mm: f64,
}

/// Epochs in order with their starts, and the people who shot.
#[derive(Debug, Clone)]
pub(crate) struct Layout {
    epochs: Vec<(i64, Start)>,
    now: i64,
    /// Empty where only one person shot.
    shooters: Vec<Option<String>>,
    aside: Aside,
}

impl Layout {
    /// `seen` in canonical order, that is by epoch and number; an epoch nothing was shot in begins
    /// with the bow as it stands.
    pub(crate) fn new(seen: &[Seen], now: &Now, aside: Aside) -> Self {
        let mut epochs: Vec<(i64, Start)> = Vec::new();
        for one in seen {
            if epochs
                .last()
                .is_none_or(|(known, _)| *known != one.trial.epoch)
            {
                let start = Start {
                    offset_mm: one.offset_mm,
                    rest_mm: one.trial.rest_mm,
                    nock_mm: one.trial.nock_mm,
                };
                epochs.push((one.trial.epoch, start));
            }
        }
        if epochs.iter().all(|(known, _)| *known != now.epoch) {
            let start = Start {
                offset_mm: now.offset_mm,
                rest_mm: now.rest_mm,
                nock_mm: now.nock_mm,
            };
            epochs.push((now.epoch, start));
        }
        let mut shooters: Vec<Option<String>> =
            seen.iter().map(|one| one.trial.shooter.clone()).collect();
        shooters.sort();
        shooters.dedup();
        if shooters.len() < 2 {
            shooters.clear();
        }
        Self {
            epochs,
            now: now.epoch,
            shooters,
            aside,
        }
    }

    /// Place of an epoch.
    pub(crate) fn epoch(&self, epoch: i64) -> usize {
        let found = self.epochs.iter().position(|(known, _)| *known == epoch);
        found.unwrap_or(0)
    }

    /// Where the epoch at `place` began.
    pub(crate) fn start(&self, place: usize) -> Start {
        self.epochs[place].1
    }

    /// Place of a shooter, where several shot.
    pub(crate) fn shooter(&self, label: &Option<String>) -> Option<usize> {
        self.shooters.iter().position(|known| known == label)
    }

    pub(crate) fn design<'a>(
        &self,
        axis: Axis,
        target_m: f64,
        transfer: &'a TransferTable,
    ) -> Design<'a> {
        Design {
            epochs: self.epochs.len(),
            // Grip turns the bow sideways; nobody holds it higher for another.
            shooters: match axis {
                Axis::Sideways => self.shooters.len(),
                Axis::Upright => 0,
            },
            aside: self.aside,
            target_m,
            transfer,
            knob_sd: match axis {
                Axis::Sideways => REST_SD,
                Axis::Upright => NOCK_HEIGHT_SD,
            },
        }
    }

    /// By how much the variance of a trial's evidence grows: older epochs count less.
    pub(crate) fn inflation(&self, seen: &Seen) -> f64 {
        if seen.trial.epoch == self.now {
            1.0
        } else {
            OLD_EPOCH_INFLATION
        }
    }

    /// Where and how an observation was shot; `size_mm` is what relative errors are taken of.
    pub(crate) fn setting(
        &self,
        seen: &Seen,
        observation: &Observation,
        axis: Axis,
        size_mm: f64,
    ) -> Setting {
        let epoch = self.epoch(seen.trial.epoch);
        let start = self.start(epoch);
        let (knob_mm, shooter) = match axis {
            Axis::Sideways => (
                seen.trial.rest_mm - start.rest_mm,
                self.shooter(&seen.trial.shooter),
            ),
            Axis::Upright => (seen.trial.nock_mm - start.nock_mm, None),
        };
        Setting {
            probe: observation.split.probe,
            distance_m: observation.split.distance_m,
            epoch,
            shooter,
            knob_mm,
            size_mm,
        }
    }

    /// Every observation as a row of the linear model.
    pub(crate) fn data(
        &self,
        design: &Design,
        seen: &[Seen],
        observations: &[Observation],
        axis: Axis,
    ) -> Vec<Datum> {
        let mut data: Vec<Datum> = Vec::with_capacity(observations.len());
        let mut before: Option<(usize, f64)> = None;
        for observation in observations {
            let one = &seen[observation.trial];
            let mut datum = self.datum(design, one, observation, axis);
            let shared = match axis {
                Axis::Sideways => observation.split.shared.xx_mm2,
                Axis::Upright => observation.split.shared.yy_mm2,
            };
            let pair = before.filter(|(trial, _)| *trial == observation.trial);
            if let (Some((_, common)), Some(first)) = (pair, data.last()) {
                decorrelate(&mut datum, first, common * self.inflation(one));
            }
            before = Some((observation.trial, shared));
            data.push(datum);
        }
        data
    }

    fn datum(&self, design: &Design, seen: &Seen, observation: &Observation, axis: Axis) -> Datum {
        let split = &observation.split;
        let (value_mm, var_mm2, explained) = match axis {
            Axis::Sideways => (
                split.offset.x_mm,
                observation.var_x_mm2,
                Expected::default(),
            ),
            Axis::Upright => (
                split.offset.y_mm,
                observation.var_y_mm2,
                transfer::expected_y(design.transfer, split.probe, split.distance_m),
            ),
        };
        let left_mm = value_mm - explained.value_mm;
        let at = self.setting(seen, observation, axis, left_mm);
        let row = design.row(&at);
        let from_start_mm = seen.offset_mm - self.start(at.epoch).offset_mm;
        let (shift, known) = match axis {
            Axis::Sideways => (row.gain * from_start_mm, 0.0),
            Axis::Upright => (0.0, row.gain * at.knob_mm * NOCK_HEIGHT_MEAN),
        };
        Datum {
            row,
            shift,
            value_mm: left_mm - known,
            var_mm2: (var_mm2 + explained.sd_mm * explained.sd_mm) * self.inflation(seen),
        }
    }
}

/// Takes from the second probe of a trial what its scatter has in common with the first.
fn decorrelate(second: &mut Datum, first: &Datum, common_mm2: f64) {
    let share = common_mm2 / first.var_mm2;
    for (column, other) in second.row.columns.iter_mut().zip(&first.row.columns) {
        *column -= share * other;
    }
    second.shift -= share * first.shift;
    second.value_mm -= share * first.value_mm;
    second.var_mm2 -= share * common_mm2;
}
