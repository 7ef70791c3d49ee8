//! The exact posterior: Gaussian given the response, the response on a grid.

use super::design::{Design, Row, Setting};
use super::family::ResponsePrior;
use super::grid::ResponseGrid;
use super::linear::{Factored, dot};
use super::mixture::Mixture;
use super::parabola::Parabola;

/// A reading of which the others leave less than this share of the variance free is not checked by them.
/// Chosen by hand; not tuned.
const LEAST_FREE: f64 = 0.05;
/// Share of a prediction that relative errors are believed to make at most, where what was shot does not bear out
/// more. Chosen by hand; not tuned.
const MOST_ERROR: f64 = 0.75;
/// ... and in any case. Chosen by hand; not tuned.
const MOST_ERROR_SHOT: f64 = 0.95;

/// One row of evidence.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Datum {
    pub(crate) row: Row,
    /// Coefficient of the response.
    pub(crate) shift: f64,
    pub(crate) value_mm: f64,
    pub(crate) var_mm2: f64,
}

/// What is believed after the evidence.
#[derive(Debug, Clone)]
pub(crate) struct Posterior<'a> {
    pub(crate) design: Design<'a>,
    factored: Factored,
    /// L^-1 of the information at response zero, and what one unit of response takes from it.
    at_zero: Vec<f64>,
    per_response: Vec<f64>,
    /// What the data alone say of the response.
    pub(crate) shown: Parabola,
    pub(crate) response: ResponseGrid,
}

/// The posterior predictive of a setting, still open in the offset: normals at
/// `base + g (gain (offset - origin) - answer)`.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Predictive {
    /// L^-1 of its row: inner products of two of these are covariances.
    pub(crate) half: Vec<f64>,
    pub(crate) base: f64,
    pub(crate) answer: f64,
    pub(crate) gain: f64,
    /// The offset its epoch began with, mm.
    pub(crate) origin_mm: f64,
    pub(crate) var_mm2: f64,
}

impl Predictive {
    /// Mean at a response and an offset, mm.
    pub(crate) fn mean(&self, response: f64, offset_mm: f64) -> f64 {
        self.base + response * (self.gain * (offset_mm - self.origin_mm) - self.answer)
    }
}

impl<'a> Posterior<'a> {
    /// Combines the priors with every datum, and with what swaps before the record showed.
    pub(crate) fn new(
        design: Design<'a>,
        data: &[Datum],
        prior: &ResponsePrior,
        remembered: Parabola,
    ) -> Self {
        let size = design.size();
        let mut matrix = vec![0.0; size * size];
        for (i, sd) in design.prior_sds().iter().enumerate() {
            matrix[i * size + i] = 1.0 / (sd * sd);
        }
        let (mut value, mut shift) = (vec![0.0; size], vec![0.0; size]);
        let (mut linear, mut curvature) = (0.0, 0.0);
        for datum in data {
            let weight = 1.0 / datum.var_mm2;
            add_outer(&mut matrix, &datum.row.columns, weight);
            add_scaled(&mut value, &datum.row.columns, weight * datum.value_mm);
            add_scaled(&mut shift, &datum.row.columns, weight * datum.shift);
            linear += weight * datum.shift * datum.value_mm;
            curvature += weight * datum.shift * datum.shift;
        }
        let factored = Factored::new(size, &matrix);
        let (at_zero, per_response) = (factored.half_solve(&value), factored.half_solve(&shift));
        linear -= dot(&per_response, &at_zero);
        curvature = (curvature - dot(&per_response, &per_response)).max(0.0);
        let shown = Parabola { linear, curvature };
        Self {
            design,
            factored,
            at_zero,
            per_response,
            shown,
            response: ResponseGrid::new(prior, shown.with(remembered)),
        }
    }

    /// Posterior predictive of a setting, open in the offset; `origin_mm` is where its epoch began.
    pub(crate) fn predictive(&self, at: &Setting, origin_mm: f64) -> Predictive {
        self.predictive_of(&self.design.row(at), origin_mm)
    }

    /// Mean of a setting's prediction with relative errors of a size, mm.
    pub(crate) fn mean_of_size(
        &self,
        at: &Setting,
        size_mm: f64,
        origin_mm: f64,
        offset_mm: f64,
    ) -> f64 {
        let predictive = self.predictive(&Setting { size_mm, ..*at }, origin_mm);
        self.mixture(&predictive, offset_mm).mean()
    }

    /// The same with relative errors scaled to the size of what is predicted with them: what was shot is
    /// predicted as it was shot, whatever share of it the relative errors have taken up. `shot_mm` is
    /// the mean of what was shot of it: no error is taken to make more than that.
    pub(crate) fn predictive_with_errors(
        &self,
        at: &Setting,
        origin_mm: f64,
        offset_mm: f64,
        shot_mm: f64,
    ) -> Predictive {
        let sized = |size_mm| self.predictive(&Setting { size_mm, ..*at }, origin_mm);
        let mean = |size_mm| self.mean_of_size(at, size_mm, origin_mm, offset_mm);
        // The mean is a straight line over the size; where it crosses the size itself both agree. Only ratios
        // are taken, so that mirrored evidence gives exactly the mirrored size.
        let plain_mm = mean(0.0);
        if plain_mm == 0.0 {
            return sized(plain_mm);
        }
        let borne_out = 1.0 - (plain_mm / shot_mm).abs();
        let most = borne_out.clamp(MOST_ERROR, MOST_ERROR_SHOT);
        let share = (mean(plain_mm) / plain_mm - 1.0).clamp(-MOST_ERROR, most);
        sized(plain_mm / (1.0 - share))
    }

    /// The same with relative errors scaled to the size of what is predicted without them.
    pub(crate) fn predictive_sized(
        &self,
        at: &Setting,
        origin_mm: f64,
        offset_mm: f64,
    ) -> Predictive {
        let plain = Setting {
            size_mm: 0.0,
            ..*at
        };
        let plain = self.predictive(&plain, origin_mm);
        let size_mm = self.mixture(&plain, offset_mm).mean();
        self.predictive(&Setting { size_mm, ..*at }, origin_mm)
    }

    pub(crate) fn predictive_of(&self, row: &Row, origin_mm: f64) -> Predictive {
        let half = self.factored.half_solve(&row.columns);
        Predictive {
            base: dot(&half, &self.at_zero),
            answer: dot(&half, &self.per_response),
            gain: row.gain,
            origin_mm,
            var_mm2: dot(&half, &half),
            half,
        }
    }

    /// The predicted split at one offset.
    pub(crate) fn mixture(&self, predictive: &Predictive, offset_mm: f64) -> Mixture {
        Mixture {
            means: self
                .response
                .values
                .iter()
                .map(|&response| predictive.mean(response, offset_mm))
                .collect(),
            weights: self.response.weights.clone(),
            sd: predictive.var_mm2.sqrt(),
        }
    }

    /// The standardised leave-one-out residual of a datum that was used, without its sign.
    pub(crate) fn leave_one_out_residual(&self, datum: &Datum) -> f64 {
        let predictive = self.predictive_of(&datum.row, 0.0);
        let means = self
            .response
            .values
            .iter()
            .map(|g| predictive.base + g * (datum.shift - predictive.answer));
        let believed = Mixture {
            means: means.collect(),
            weights: self.response.weights.clone(),
            sd: predictive.var_mm2.sqrt(),
        };
        let free = datum.var_mm2 - believed.sd().powi(2);
        // A split that the model needs whole (nothing else speaks of it) cannot be checked.
        if free < LEAST_FREE * datum.var_mm2 {
            return 0.0;
        }
        (datum.value_mm - believed.mean()).abs() / free.sqrt()
    }

    /// The knob's response: its mixture.
    pub(crate) fn knob(&self) -> Mixture {
        let mut columns = vec![0.0; self.design.size()];
        columns[self.design.knob()] = 1.0;
        let predictive = self.predictive_of(&Row { columns, gain: 0.0 }, 0.0);
        self.mixture(&predictive, 0.0)
    }
}

fn add_outer(matrix: &mut [f64], columns: &[f64], weight: f64) {
    for (i, a) in columns.iter().enumerate().filter(|(_, a)| **a != 0.0) {
        add_scaled(
            &mut matrix[i * columns.len()..(i + 1) * columns.len()],
            columns,
            weight * a,
        );
    }
}

fn add_scaled(to: &mut [f64], columns: &[f64], factor: f64) {
    for (sum, column) in to.iter_mut().zip(columns) {
        *sum += factor * column;
    }
}
