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
/// A reading that the others leave more than this share of the variance it had before anything was shot is not checked by
/// them, but by what bows usually come in with. More likely than not told by something else.
const MOST_OF_PRIOR: f64 = 0.5;
/// Share of a prediction that relative errors are believed to make at most. Chosen by hand; not tuned.
const MOST_ERROR: f64 = 0.75;

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
/// `base + base_per_mm away + g (per_response away - answer)`, `away` being the offset less `origin_mm`.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Predictive {
    /// L^-1 of its row: inner products of two of these are covariances.
    pub(crate) half: Vec<f64>,
    base: f64,
    base_per_mm: f64,
    answer: f64,
    per_response: f64,
    /// Split per mm of bare-shaft split at 18.288 m, without relative errors.
    pub(crate) gain: f64,
    /// The offset its epoch began with, mm.
    origin_mm: f64,
    pub(crate) var_mm2: f64,
}

impl Predictive {
    /// Mean at a response and an offset, mm.
    pub(crate) fn mean(&self, response: f64, offset_mm: f64) -> f64 {
        let away_mm = offset_mm - self.origin_mm;
        let by_response = self.per_response * away_mm - self.answer;
        self.base + self.base_per_mm * away_mm + response * by_response
    }
}

/// The size that relative errors are taken of, mm: `now_mm` where the cams stand now, and what it grows by with the offset.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Size {
    pub(crate) now_mm: f64,
    pub(crate) now_offset_mm: f64,
    pub(crate) per_mm: f64,
}

/// What some unknowns together are believed to be: `base - g answer` at a response g, and L^-1 of their row.
struct Believed {
    half: Vec<f64>,
    base: f64,
    answer: f64,
}

/// A setting's prediction without relative errors, and what a mm of their size adds.
struct Parts {
    plain: Believed,
    error: Believed,
    gain: f64,
    origin_mm: f64,
}

impl<'a> Posterior<'a> {
    /// Combines the priors with every datum, and with what swaps before the record showed.
    pub(crate) fn new(
        design: Design<'a>,
        data: &[Datum],
        prior: &ResponsePrior,
        remembered: &[Parabola],
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
            response: ResponseGrid::new(prior, shown, remembered),
        }
    }

    fn believed(&self, columns: &[f64]) -> Believed {
        let half = self.factored.half_solve(columns);
        Believed {
            base: dot(&half, &self.at_zero),
            answer: dot(&half, &self.per_response),
            half,
        }
    }

    fn parts(&self, at: &Setting, origin_mm: f64) -> Parts {
        let of_size = |size_mm| self.design.row(&Setting { size_mm, ..*at });
        let (plain, whole) = (of_size(0.0), of_size(1.0));
        let pairs = whole.columns.iter().zip(&plain.columns);
        let error: Vec<f64> = pairs.map(|(whole, plain)| whole - plain).collect();
        Parts {
            plain: self.believed(&plain.columns),
            error: self.believed(&error),
            gain: plain.gain,
            origin_mm,
        }
    }

    /// Mean of a setting's prediction without relative errors, mm, and what an offset adds to it, mm per mm.
    fn plain(&self, parts: &Parts, offset_mm: f64) -> (f64, f64) {
        let per_mm = self.response.mean() * parts.gain;
        let own_mm = parts.plain.base - self.response.mean() * parts.plain.answer;
        (own_mm + per_mm * (offset_mm - parts.origin_mm), per_mm)
    }

    /// Posterior predictive of a setting, open in the offset, with relative errors of a size; `origin_mm` is where its epoch
    /// began.
    pub(crate) fn predictive(&self, at: &Setting, origin_mm: f64, size: Size) -> Predictive {
        assemble(self.parts(at, origin_mm), size)
    }

    /// The size of what is predicted with relative errors scaled to it, whatever share of it they have taken up. Where a probe
    /// was shot with several places of the cams (`everywhere`), that holds at each offset; else a swap moves it as far as the
    /// model says.
    pub(crate) fn size_with_errors(
        &self,
        at: &Setting,
        origin_mm: f64,
        offset_mm: f64,
        everywhere: bool,
    ) -> Size {
        let parts = self.parts(at, origin_mm);
        // Errors make a fixed share of the size they are taken of, so that size and prediction agree where the size is the
        // plain one over what that share leaves. Only ratios are taken: mirrored evidence gives exactly the mirrored size.
        let (plain_mm, per_mm) = self.plain(&parts, offset_mm);
        let share = parts.error.base - self.response.mean() * parts.error.answer;
        let left = 1.0 - share.clamp(-MOST_ERROR, MOST_ERROR);
        Size {
            now_mm: plain_mm / left,
            now_offset_mm: offset_mm,
            per_mm: if everywhere { per_mm / left } else { 0.0 },
        }
    }

    /// The same with relative errors scaled to the size of what is predicted without them at one offset.
    pub(crate) fn predictive_sized(
        &self,
        at: &Setting,
        origin_mm: f64,
        offset_mm: f64,
    ) -> Predictive {
        let parts = self.parts(at, origin_mm);
        let (now_mm, per_mm) = self.plain(&parts, offset_mm);
        let size = Size {
            now_mm,
            now_offset_mm: offset_mm,
            per_mm,
        };
        assemble(parts, size)
    }

    pub(crate) fn predictive_of(&self, row: &Row, origin_mm: f64) -> Predictive {
        let Believed { half, base, answer } = self.believed(&row.columns);
        Predictive {
            base,
            base_per_mm: 0.0,
            answer,
            per_response: row.gain,
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
        // A split that the model needs whole (nothing else speaks of it) cannot be checked, nor one that only what
        // bows come in with speaks of.
        let without_mm2 = datum.var_mm2 * believed.sd().powi(2) / free.max(f64::MIN_POSITIVE);
        let untold = without_mm2 > MOST_OF_PRIOR * self.prior_var_mm2(datum);
        if free < LEAST_FREE * datum.var_mm2 || untold {
            return 0.0;
        }
        (datum.value_mm - believed.mean()).abs() / free.sqrt()
    }

    /// Variance of a datum's split before anything was shot, mm^2; what is shown of the response counts.
    fn prior_var_mm2(&self, datum: &Datum) -> f64 {
        let sds = self.design.prior_sds();
        let own = datum.row.columns.iter().zip(&sds);
        let own_mm2: f64 = own.map(|(column, sd)| (column * sd).powi(2)).sum();
        own_mm2 + (datum.shift * self.response.sd()).powi(2)
    }

    /// The knob's response: its mixture.
    pub(crate) fn knob(&self) -> Mixture {
        let mut columns = vec![0.0; self.design.size()];
        columns[self.design.knob()] = 1.0;
        let predictive = self.predictive_of(&Row { columns, gain: 0.0 }, 0.0);
        self.mixture(&predictive, 0.0)
    }
}

/// A prediction of its parts. Its mean has at each offset errors of that offset's size; what it leaves open is that of the
/// cams where they stand.
fn assemble(parts: Parts, size: Size) -> Predictive {
    let Parts {
        plain,
        error,
        gain,
        origin_mm,
    } = parts;
    let origin_size_mm = size.now_mm - size.per_mm * (size.now_offset_mm - origin_mm);
    let halves = plain.half.iter().zip(&error.half);
    let half: Vec<f64> = halves.map(|(a, b)| a + size.now_mm * b).collect();
    Predictive {
        base: plain.base + origin_size_mm * error.base,
        base_per_mm: size.per_mm * error.base,
        answer: plain.answer + origin_size_mm * error.answer,
        per_response: gain - size.per_mm * error.answer,
        gain,
        origin_mm,
        var_mm2: dot(&half, &half),
        half,
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
