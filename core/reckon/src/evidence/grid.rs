//! The response on a signed, log-spaced grid.
//!
//! Given the response, everything else is Gaussian, so the evidence enters only as a parabola in
//! the response: `log L = linear g - curvature g^2 / 2`. The grid is laid, on each side of zero,
//! where prior times that parabola is not negligible; trapezoids over a smooth integrand that
//! vanishes at both ends converge faster than any power of the step, so 64 points are exact to
//! rounding for every practical purpose (checked against brute force in `tests/peers/verdict`).

use super::family::ResponsePrior;
use super::parabola::Parabola;
use super::priors::{RESPONSE_MEDIAN, RESPONSE_TAIL_LOG_SD};

/// Points on each side of zero.
const POINTS: usize = 64;
/// Log-density below the peak at which a grid may end: about 8 standard deviations.
const NEGLIGIBLE: f64 = 34.0;
/// Weight against the peak's below which a point is left out: together they weigh less than 1e-8.
const UNHEARD: f64 = 1e-10;
/// How far into the prior's tails the search for the peak reaches, in its own log-sd.
const REACH: f64 = 8.0;

/// The response's posterior: values (mm/mm) and weights that sum to one.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct ResponseGrid {
    pub(crate) values: Vec<f64>,
    pub(crate) weights: Vec<f64>,
}

impl ResponseGrid {
    /// Prior times the likelihood of what was shot and of what each remembered swap says.
    pub(crate) fn new(prior: &ResponsePrior, shown: Parabola, remembered: &[Parabola]) -> Self {
        let side = |sign: f64| {
            let side = Side {
                sign,
                prior,
                shown,
                remembered,
            };
            side.laid()
        };
        let (right, wrong) = (side(1.0), side(-1.0));
        let peak = right
            .iter()
            .chain(&wrong)
            .fold(f64::NEG_INFINITY, |peak, point| peak.max(point.1));
        let mut grid = Self {
            values: Vec::with_capacity(2 * POINTS),
            weights: Vec::with_capacity(2 * POINTS),
        };
        for (value, log_weight) in right.into_iter().chain(wrong) {
            let weight = (log_weight - peak).exp();
            if weight > UNHEARD {
                grid.values.push(value);
                grid.weights.push(weight);
            }
        }
        grid.normalise();
        grid
    }

    fn normalise(&mut self) {
        let total: f64 = self.weights.iter().sum();
        for weight in &mut self.weights {
            *weight /= total;
        }
    }

    pub(crate) fn mean(&self) -> f64 {
        self.sum(|value| value)
    }

    pub(crate) fn sd(&self) -> f64 {
        let mean = self.mean();
        self.sum(|value| (value - mean).powi(2)).sqrt()
    }

    /// Chance of a negative response.
    pub(crate) fn wrong_way(&self) -> f64 {
        self.sum(|value| f64::from(u8::from(value < 0.0)))
    }

    /// Between which values the response lies, mm/mm, with `tail` beyond either of them.
    pub(crate) fn interval(&self, tail: f64) -> [f64; 2] {
        let mut points: Vec<(f64, f64)> = self.points().collect();
        points.sort_by(|a, b| a.0.total_cmp(&b.0));
        [tail, 1.0 - tail].map(|share| quantile(&points, share))
    }

    fn points(&self) -> impl Iterator<Item = (f64, f64)> {
        self.values
            .iter()
            .copied()
            .zip(self.weights.iter().copied())
    }

    /// The same distribution on few points, for sums over many futures: neighbours of one side are
    /// merged to their centre until each carries at least `1 / count` of the weight.
    pub(crate) fn thinned(&self, count: usize) -> Self {
        let share = 1.0 / count as f64;
        let mut thin = Self {
            values: Vec::new(),
            weights: Vec::new(),
        };
        let right = self.values.partition_point(|value| *value > 0.0);
        for half in [0..right, right..self.values.len()] {
            let mut held = (0.0, 0.0);
            for k in half {
                held = (
                    held.0 + self.values[k] * self.weights[k],
                    held.1 + self.weights[k],
                );
                if held.1 >= share {
                    thin.push(held);
                    held = (0.0, 0.0);
                }
            }
            thin.push(held);
        }
        thin
    }

    fn push(&mut self, (moment, weight): (f64, f64)) {
        if weight > 1e-9 {
            self.values.push(moment / weight);
            self.weights.push(weight);
        }
    }

    fn sum(&self, term: impl Fn(f64) -> f64) -> f64 {
        self.points()
            .map(|(value, weight)| weight * term(value))
            .sum()
    }
}

/// The value below which a share of the weight lies, half of each point's own counted; of points sorted by value, between which
/// it is read off in proportion, since they stand in proportion.
fn quantile(points: &[(f64, f64)], share: f64) -> f64 {
    let mut below = (f64::NEG_INFINITY, 0.0);
    let mut heard = 0.0;
    for &(value, weight) in points {
        let here = heard + weight / 2.0;
        if here >= share {
            let part = (share - below.1) / (here - below.1);
            let one_side = below.0.is_finite() && below.0 * value > 0.0;
            return if one_side {
                below.0 * (value / below.0).powf(part)
            } else {
                value
            };
        }
        (below, heard) = ((value, here), heard + weight);
    }
    below.0
}

/// One side of zero.
struct Side<'a> {
    sign: f64,
    prior: &'a ResponsePrior,
    shown: Parabola,
    remembered: &'a [Parabola],
}

impl Side<'_> {
    /// Points and unnormalised log-weights, the grid narrowed three times onto what matters.
    fn laid(&self) -> Vec<(f64, f64)> {
        let middle = RESPONSE_MEDIAN.ln();
        let reach = REACH * RESPONSE_TAIL_LOG_SD;
        let mut span = (middle - reach, middle + reach);
        for _ in 0..3 {
            span = self.narrowed(span);
        }
        let step = (span.1 - span.0) / (POINTS - 1) as f64;
        (0..POINTS)
            .map(|k| {
                let u = span.0 + step * k as f64;
                (self.sign * u.exp(), self.log_density(u) + step.ln())
            })
            .collect()
    }

    /// The part of `span` outside which the density is negligible, one step wider on each side.
    fn narrowed(&self, span: (f64, f64)) -> (f64, f64) {
        let step = (span.1 - span.0) / (POINTS - 1) as f64;
        let densities: Vec<f64> = (0..POINTS)
            .map(|k| self.log_density(span.0 + step * k as f64))
            .collect();
        let peak = densities.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let matters = |density: &f64| *density > peak - NEGLIGIBLE;
        let first = densities.iter().position(matters).unwrap_or(0);
        let last = densities.iter().rposition(matters).unwrap_or(POINTS - 1);
        let at = |k: f64| span.0 + step * k;
        (
            at((first as f64 - 1.0).max(0.0)),
            at((last as f64 + 1.0).min((POINTS - 1) as f64)),
        )
    }

    /// Log of prior density (per unit of log-response) x likelihood.
    fn log_density(&self, u: f64) -> f64 {
        let prior = self.prior.density(u, self.sign > 0.0);
        let response = self.sign * u.exp();
        let memories = self.remembered.iter();
        let remembered: f64 = memories.map(|one| one.as_remembered(response)).sum();
        prior.max(f64::MIN_POSITIVE).ln() + self.shown.at(response) + remembered
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// One bow in ten answers the other way, half of those by more than the median; and a bow that has shown its
    /// response closely is told by the normal law (5 % lie beyond 1.645 standard deviations, any table of it).
    #[test]
    fn an_interval_leaves_its_tails_out() {
        let prior = ResponsePrior::of_the_trade();
        let [low, _] = ResponseGrid::new(&prior, Parabola::default(), &[]).interval(0.05);
        assert!((low + RESPONSE_MEDIAN).abs() < 0.5, "{low}");
        let (mean, sd) = (49.0, 0.5);
        let curvature = 1.0 / (sd * sd);
        let shown = Parabola {
            linear: mean * curvature,
            curvature,
        };
        let [low, high] = ResponseGrid::new(&prior, shown, &[]).interval(0.05);
        assert!((low - (mean - 1.645 * sd)).abs() < 0.02, "{low}");
        assert!((high - (mean + 1.645 * sd)).abs() < 0.02, "{high}");
    }
}
