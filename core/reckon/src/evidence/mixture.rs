//! A mixture of normals of one common spread: what a grid over the response predicts.

use super::normal::{above, within};

/// Steps after which a bisection alone would have reached the precision.
const MOST_STEPS: u32 = 80;
/// Precision of an interval's end, in standard deviations.
const PRECISION: f64 = 1e-9;

/// Normals at `means` with `weights` (sum 1) and one standard deviation.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Mixture {
    pub(crate) means: Vec<f64>,
    pub(crate) weights: Vec<f64>,
    pub(crate) sd: f64,
}

impl Mixture {
    /// One normal.
    pub(crate) fn of_one(mean: f64, sd: f64) -> Self {
        Self {
            means: vec![mean],
            weights: vec![1.0],
            sd,
        }
    }

    pub(crate) fn mean(&self) -> f64 {
        self.sum(|mean| mean)
    }

    pub(crate) fn sd(&self) -> f64 {
        let centre = self.mean();
        (self.sum(|mean| (mean - centre).powi(2)) + self.sd * self.sd).sqrt()
    }

    pub(crate) fn within(&self, limit: f64) -> f64 {
        self.sum(|mean| within(mean, self.sd, limit))
            .clamp(0.0, 1.0)
    }

    /// Chance to lie above `x`.
    pub(crate) fn above(&self, x: f64) -> f64 {
        let sd = self.sd.max(1e-12);
        self.sum(|mean| above((x - mean) / sd))
    }

    /// The interval that leaves `tail` on each side. Its lower end is the mirrored mixture's upper
    /// end, so that mirrored evidence gives exactly the mirrored interval.
    pub(crate) fn interval(&self, tail: f64) -> (f64, f64) {
        (-self.mirrored().upper(tail), self.upper(tail))
    }

    /// The mixture moved by so many mm.
    pub(crate) fn shifted(&self, by_mm: f64) -> Self {
        Self {
            means: self.means.iter().map(|mean| mean + by_mm).collect(),
            weights: self.weights.clone(),
            sd: self.sd,
        }
    }

    /// The mixture with left and right exchanged.
    pub(crate) fn mirrored(&self) -> Self {
        Self {
            means: self.means.iter().map(|mean| -mean).collect(),
            weights: self.weights.clone(),
            sd: self.sd,
        }
    }

    /// The point with chance `tail` above it: Newton's steps, kept inside a bracket that bisection
    /// narrows where a step would leave it (a far lobe makes the density flat between).
    fn upper(&self, tail: f64) -> f64 {
        let sd = self.sd();
        let (mut low, mut high) = self.bracket();
        let mut x = self.mean();
        for _ in 0..MOST_STEPS {
            let excess = self.above(x) - tail;
            if excess > 0.0 {
                low = x;
            } else {
                high = x;
            }
            let stepped = x + excess / self.density(x);
            let next = if stepped > low && stepped < high {
                stepped
            } else {
                f64::midpoint(low, high)
            };
            let moved = (next - x).abs();
            x = next;
            if moved < PRECISION * sd {
                break;
            }
        }
        x
    }

    /// An interval that holds everything but a negligible part.
    fn bracket(&self) -> (f64, f64) {
        let reach = 9.0 * self.sd;
        let none = (f64::INFINITY, f64::NEG_INFINITY);
        self.means.iter().fold(none, |(low, high), &mean| {
            (low.min(mean - reach), high.max(mean + reach))
        })
    }

    /// Probability per mm at `x`.
    fn density(&self, x: f64) -> f64 {
        let sd = self.sd.max(1e-12);
        let height = 1.0 / (sd * (2.0 * std::f64::consts::PI).sqrt());
        self.sum(|mean| height * (-0.5 * ((x - mean) / sd).powi(2)).exp())
    }

    fn sum(&self, term: impl Fn(f64) -> f64) -> f64 {
        self.means
            .iter()
            .zip(&self.weights)
            .map(|(&mean, weight)| weight * term(mean))
            .sum()
    }
}
