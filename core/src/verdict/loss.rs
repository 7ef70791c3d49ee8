//! What a split is worth: flat well inside tolerance, growing with its size, a step outside.

use crate::evidence::{expected_excess, within};

/// Share of the tolerance within which a split costs nothing: nobody sees it on the target.
const FLAT_SHARE: f64 = 0.4;
/// What being outside tolerance costs on top, share of the tolerance.
const OUTSIDE_SHARE: f64 = 0.2;
/// Points of a curve on one side of zero.
const POINTS: usize = 160;
/// Standard deviations beyond the tolerance after which a curve is a straight line.
const STRAIGHT_SDS: f64 = 6.0;

/// Loss of one probe, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Loss {
    pub(crate) flat_mm: f64,
    pub(crate) tolerance_mm: f64,
}

impl Loss {
    /// The loss of a probe whose tolerance is known.
    pub(crate) fn of_tolerance(tolerance_mm: f64) -> Self {
        Self {
            flat_mm: FLAT_SHARE * tolerance_mm,
            tolerance_mm,
        }
    }

    /// Expected loss of a normal variable, mm.
    pub(crate) fn expected(&self, mean: f64, sd: f64) -> f64 {
        let outside = 1.0 - within(mean, sd, self.tolerance_mm);
        expected_excess(mean, sd, self.flat_mm) + OUTSIDE_SHARE * self.tolerance_mm * outside
    }

    /// The expected loss of normals of one spread, tabulated over their mean: what is asked for
    /// hundreds of thousands of means. Off by less than 0.05 mm.
    pub(crate) fn curve(&self, sd: f64) -> Curve {
        let reach = self.tolerance_mm + STRAIGHT_SDS * sd;
        let step = reach / POINTS as f64;
        Curve {
            per_step: 1.0 / step,
            values: (0..=POINTS)
                .map(|k| self.expected(step * k as f64, sd))
                .collect(),
        }
    }
}

/// Expected loss over the mean, even in it.
#[derive(Debug, Clone)]
pub(crate) struct Curve {
    per_step: f64,
    values: Vec<f64>,
}

impl Curve {
    /// At a mean: between two points linear, beyond the last one mm per mm.
    pub(crate) fn at(&self, mean: f64) -> f64 {
        let place = mean.abs() * self.per_step;
        let below = place as usize;
        match self.values.get(below..below + 2) {
            Some(ends) => ends[0] + (ends[1] - ends[0]) * (place - below as f64),
            None => self.values[POINTS] + (place - POINTS as f64) / self.per_step,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_curve_is_the_expected_loss() {
        let loss = Loss::of_tolerance(25.0);
        for sd in [0.5, 3.0, 16.0, 90.0] {
            let curve = loss.curve(sd);
            for k in 0..400 {
                let mean = f64::from(k) * 1.37;
                assert!(
                    (curve.at(mean) - loss.expected(mean, sd)).abs() < 0.3,
                    "{mean} {sd}"
                );
                assert!((curve.at(mean) - curve.at(-mean)).abs() < 1e-15);
            }
        }
    }

    /// Well inside tolerance nothing is gained by being nearer still.
    #[test]
    fn a_sure_split_well_inside_costs_nothing() {
        let loss = Loss::of_tolerance(25.0);
        assert!(loss.expected(8.0, 0.5) < 1e-3);
        assert!((loss.expected(60.0, 0.5) - 55.0).abs() < 1e-9);
    }
}
