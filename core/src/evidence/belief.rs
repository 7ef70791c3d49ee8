//! All that is believed of one bow, sideways and up and down.

use super::design::{Design, Setting};
use super::observe::observe;
use super::posterior::{Datum, Outlook, Posterior};
use super::priors::{NOCK_HEIGHT_MEAN, NOCK_HEIGHT_SD, OLD_EPOCH_INFLATION, REST_SD};
use super::{Mixture, Observation, Probe, Scatter, Seen, transfer};
use crate::flight::{Expected, TransferTable};

/// The bow as it stands now.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Now {
    pub(crate) offset_mm: f64,
    pub(crate) rest_mm: f64,
    pub(crate) nock_mm: f64,
    pub(crate) epoch: i64,
    /// The distance that matters to the user, m.
    pub(crate) target_m: f64,
}

/// All that is believed of one bow.
#[derive(Debug, Clone)]
pub(crate) struct Belief<'a> {
    pub(crate) now: Now,
    pub(crate) seen: Vec<Seen<'a>>,
    pub(crate) scatter: Scatter,
    pub(crate) observations: Vec<Observation>,
    pub(crate) sideways: Posterior<'a>,
    pub(crate) upright: Posterior<'a>,
    epochs: Vec<i64>,
    transfer: &'a TransferTable,
}

impl<'a> Belief<'a> {
    /// Combines everything seen; `seen` must be in canonical order.
    pub(crate) fn new(seen: Vec<Seen<'a>>, now: Now, transfer: &'a TransferTable) -> Self {
        let scatter = Scatter::pooled(&seen);
        let observations = observe(&seen, &scatter);
        let mut epochs: Vec<i64> = seen.iter().map(|seen| seen.trial.epoch).collect();
        epochs.push(now.epoch);
        epochs.sort_unstable();
        epochs.dedup();
        let design = |knob_sd| Design {
            epochs: epochs.len(),
            target_m: now.target_m,
            transfer,
            knob_sd,
        };
        let rows = Rows {
            seen: &seen,
            now: &now,
            epochs: &epochs,
        };
        let sideways = design(REST_SD);
        let upright = design(NOCK_HEIGHT_SD);
        Self {
            sideways: Posterior::new(
                sideways.clone(),
                &rows.data(&sideways, &observations, Axis::Sideways),
            ),
            upright: Posterior::new(
                upright.clone(),
                &rows.data(&upright, &observations, Axis::Upright),
            ),
            now,
            scatter,
            observations,
            epochs,
            transfer,
            seen,
        }
    }

    /// Place of the present epoch.
    fn epoch(&self) -> usize {
        place(&self.epochs, self.now.epoch)
    }

    /// The bow as it stands, shot with `probe` at `distance_m`.
    pub(crate) fn as_it_stands(&self, probe: Probe, distance_m: f64) -> Setting {
        Setting {
            probe,
            distance_m,
            epoch: self.epoch(),
            knob_mm: 0.0,
            size_mm: 0.0,
        }
    }

    /// Sideways prediction, open in the offset.
    pub(crate) fn outlook(&self, probe: Probe, distance_m: f64) -> Outlook {
        let at = self.as_it_stands(probe, distance_m);
        self.sideways.outlook_sized(&at, self.now.offset_mm)
    }

    /// What is left of the vertical split once gravity and drag are subtracted.
    pub(crate) fn vertical(&self, probe: Probe, distance_m: f64) -> Mixture {
        let at = self.as_it_stands(probe, distance_m);
        self.upright
            .mixture(&self.upright.outlook_sized(&at, 0.0), 0.0)
    }

    /// Vertical difference that gravity and drag make, mm.
    pub(crate) fn explained_y_mm(&self, probe: Probe, distance_m: f64) -> f64 {
        transfer::expected_y(self.transfer, probe, distance_m).value_mm
    }

    /// How many standard deviations each split lies from what all the others say of it.
    ///
    /// The residual that would be left had the split not been used follows from the one that is
    /// left, r / (1 - h), and its variance, v / (1 - h), with h the share of the split's own
    /// variance that the evidence has taken up (leave-one-out residuals of linear regression).
    pub(crate) fn surprises(&self) -> Vec<f64> {
        let rows = Rows {
            seen: &self.seen,
            now: &self.now,
            epochs: &self.epochs,
        };
        let data = rows.data(&self.sideways.design, &self.observations, Axis::Sideways);
        data.iter()
            .zip(&self.observations)
            .map(|(datum, observation)| {
                let left_out = self.sideways.surprise(datum);
                if self.is_carried(observation) {
                    left_out.max(self.off_prediction(observation, rows.inflation(observation)))
                } else {
                    left_out
                }
            })
            .collect()
    }

    /// Whether an observation counts by way of the flight model, with its relative error.
    fn is_carried(&self, observation: &Observation) -> bool {
        let elsewhere = (observation.distance_m - self.now.target_m).abs() > 1e-9;
        observation.probe != Probe::Bare || elsewhere
    }

    /// How many standard deviations an observation lies from what is predicted for its setting.
    ///
    /// The model's error is relative to the size of the split. Taken of the observation itself it
    /// would excuse any that is large, on whichever side; here it is taken of the prediction. The
    /// observation has its own small part in that, so the figure errs on the side of silence.
    fn off_prediction(&self, observation: &Observation, inflation: f64) -> f64 {
        let seen = &self.seen[observation.trial];
        let at = Setting {
            probe: observation.probe,
            distance_m: observation.distance_m,
            epoch: place(&self.epochs, seen.trial.epoch),
            knob_mm: seen.trial.rest_mm - self.now.rest_mm,
            size_mm: 0.0,
        };
        let outlook = self.sideways.outlook_sized(&at, seen.offset_mm);
        let believed = self.sideways.mixture(&outlook, seen.offset_mm);
        let var_mm2 = believed.sd().powi(2) + observation.var_x_mm2 * inflation;
        (observation.x_mm - believed.mean()).abs() / var_mm2.sqrt()
    }

    /// Split per mm of nocking-point height.
    pub(crate) fn nock_response(&self) -> Mixture {
        let mut knob = self.upright.knob();
        for mean in &mut knob.means {
            *mean += NOCK_HEIGHT_MEAN;
        }
        knob
    }
}

fn place(epochs: &[i64], epoch: i64) -> usize {
    epochs.iter().position(|known| *known == epoch).unwrap_or(0)
}

#[derive(Clone, Copy, PartialEq)]
enum Axis {
    Sideways,
    Upright,
}

/// Turns observations into rows of the linear model.
struct Rows<'a> {
    seen: &'a [Seen<'a>],
    now: &'a Now,
    epochs: &'a [i64],
}

impl Rows<'_> {
    fn data(&self, design: &Design, observations: &[Observation], axis: Axis) -> Vec<Datum> {
        let mut data: Vec<Datum> = Vec::with_capacity(observations.len());
        let mut before: Option<(usize, f64)> = None;
        for observation in observations {
            let mut datum = self.datum(design, observation, axis);
            let shared = match axis {
                Axis::Sideways => observation.shared_x_mm2,
                Axis::Upright => observation.shared_y_mm2,
            };
            let pair = before.filter(|(trial, _)| *trial == observation.trial);
            if let (Some((_, common)), Some(first)) = (pair, data.last()) {
                decorrelate(&mut datum, first, common * self.inflation(observation));
            }
            before = Some((observation.trial, shared));
            data.push(datum);
        }
        data
    }

    fn datum(&self, design: &Design, observation: &Observation, axis: Axis) -> Datum {
        let seen = &self.seen[observation.trial];
        let (knob_mm, value_mm, var_mm2) = match axis {
            Axis::Sideways => (
                seen.trial.rest_mm - self.now.rest_mm,
                observation.x_mm,
                observation.var_x_mm2,
            ),
            Axis::Upright => (
                seen.trial.nock_mm - self.now.nock_mm,
                observation.y_mm,
                observation.var_y_mm2,
            ),
        };
        let explained = match axis {
            Axis::Sideways => Expected::default(),
            Axis::Upright => {
                transfer::expected_y(design.transfer, observation.probe, observation.distance_m)
            }
        };
        let left_mm = value_mm - explained.value_mm;
        let row = design.row(&Setting {
            probe: observation.probe,
            distance_m: observation.distance_m,
            epoch: place(self.epochs, seen.trial.epoch),
            knob_mm,
            size_mm: left_mm,
        });
        let (shift, known) = match axis {
            Axis::Sideways => (row.gain * seen.offset_mm, 0.0),
            Axis::Upright => (0.0, row.gain * knob_mm * NOCK_HEIGHT_MEAN),
        };
        Datum {
            row,
            shift,
            value_mm: left_mm - known,
            var_mm2: (var_mm2 + explained.sd_mm * explained.sd_mm) * self.inflation(observation),
        }
    }

    fn inflation(&self, observation: &Observation) -> f64 {
        if self.seen[observation.trial].trial.epoch == self.now.epoch {
            1.0
        } else {
            OLD_EPOCH_INFLATION
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
