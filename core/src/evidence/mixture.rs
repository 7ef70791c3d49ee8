//! A mixture of normals of one common spread: what a grid over the response predicts.

use super::normal::{above, expected_size, within};

/// Normals at `means` with `weights` (sum 1) and one standard deviation.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Mixture {
    pub(crate) means: Vec<f64>,
    pub(crate) weights: Vec<f64>,
    pub(crate) sd: f64,
}

impl Mixture {
    pub(crate) fn mean(&self) -> f64 {
        self.sum(|mean| mean)
    }

    pub(crate) fn sd(&self) -> f64 {
        let centre = self.mean();
        (self.sum(|mean| (mean - centre) * (mean - centre)) + self.sd * self.sd).sqrt()
    }

    pub(crate) fn expected_size(&self) -> f64 {
        self.sum(|mean| expected_size(mean, self.sd))
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

    /// The mixture with left and right exchanged.
    pub(crate) fn mirrored(&self) -> Self {
        Self {
            means: self.means.iter().map(|mean| -mean).collect(),
            weights: self.weights.clone(),
            sd: self.sd,
        }
    }

    /// The point with chance `tail` above it, by bisection to 1e-9 of the spread.
    fn upper(&self, tail: f64) -> f64 {
        let reach = 9.0 * self.sd();
        let (mut low, mut high) = (self.mean() - reach, self.mean() + reach);
        // A far minor lobe (a wrong-way response) may lie outside nine standard deviations.
        for &mean in &self.means {
            low = low.min(mean - 9.0 * self.sd);
            high = high.max(mean + 9.0 * self.sd);
        }
        for _ in 0..60 {
            let middle = 0.5 * (low + high);
            if self.above(middle) > tail {
                low = middle;
            } else {
                high = middle;
            }
        }
        0.5 * (low + high)
    }

    fn sum(&self, term: impl Fn(f64) -> f64) -> f64 {
        self.means
            .iter()
            .zip(&self.weights)
            .map(|(&mean, weight)| weight * term(mean))
            .sum()
    }
}
