//! What a split is worth: flat well inside tolerance, growing with its size, a step outside.

use std::sync::LazyLock;

use crate::evidence::{above, expected_beyond, expected_excess, within};

/// Share of the tolerance within which a split costs nothing: nobody sees it on the target. Chosen by
/// hand; `tests/virtual-bows` measures what it costs.
const FLAT_SHARE: f64 = 0.4;
/// What being outside tolerance costs on top, share of the tolerance. Chosen by hand;
/// `tests/virtual-bows` measures what it costs.
const OUTSIDE_SHARE: f64 = 0.2;
/// How far a curve may be from the expected loss between its points, mm.
const CURVE_OFF_MM: f64 = 0.02;
/// Points of a curve at most: a wide tolerance and a tiny spread would ask for a hundred thousand.
const MOST_POINTS: f64 = 640.0;
/// Spreads below this are taken for it, mm: nothing on a face is known better.
const SHARPEST_MM: f64 = 0.1;
/// Most that the unit normal's density and its slope reach.
const DENSITY: f64 = 0.399;
const DENSITY_SLOPE: f64 = 0.242;
/// Standard deviations beyond the tolerance after which a curve is a straight line.
const STRAIGHT_SDS: f64 = 6.0;

/// Standard deviations on either side of zero that the unit normal is tabulated over.
const UNIT_REACH: f64 = 8.0;
/// Points of that table per standard deviation: between them it is straight to 1e-5.
const UNIT_POINTS: usize = 64;

/// The standard normal at even steps: how far it is expected beyond a limit, and how likely. A verdict
/// asks for some hundred thousand of them, and the error function itself took three fifths of its time.
static UNIT: LazyLock<Vec<[f64; 2]>> = LazyLock::new(|| {
    let half = UNIT_REACH as usize * UNIT_POINTS;
    let point = |k: usize| (k as f64 - half as f64) / UNIT_POINTS as f64;
    (0..=2 * half)
        .map(|k| [expected_beyond(point(k)), above(point(k))])
        .collect()
});

/// Expected excess of the standard normal over `limit`, and the chance of one.
fn unit_beyond(limit: f64) -> [f64; 2] {
    if limit <= -UNIT_REACH {
        return [-limit, 1.0];
    }
    let place = (limit + UNIT_REACH) * UNIT_POINTS as f64;
    let below = place as usize;
    let Some(ends) = UNIT.get(below..below + 2) else {
        return [0.0, 0.0];
    };
    let share = place - below as f64;
    [0, 1].map(|k| ends[0][k] + (ends[1][k] - ends[0][k]) * share)
}

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

    /// The same from the tabulated unit normal: off by 1e-4 standard deviations.
    fn tabulated(&self, mean: f64, sd: f64) -> f64 {
        let sd = sd.max(1e-12);
        let beyond = |limit: f64, part: usize| {
            unit_beyond((limit - mean) / sd)[part] + unit_beyond((limit + mean) / sd)[part]
        };
        let outside = OUTSIDE_SHARE * self.tolerance_mm * beyond(self.tolerance_mm, 1);
        sd * beyond(self.flat_mm, 0) + outside
    }

    /// The expected loss of normals of one spread, tabulated over their mean: what is asked for
    /// hundreds of thousands of means.
    pub(crate) fn curve(&self, sd: f64) -> Curve {
        let sd = sd.max(SHARPEST_MM);
        let reach = self.tolerance_mm + STRAIGHT_SDS * sd;
        // A chord is off by at most an eighth of its square times the curvature, on both sides of zero.
        let step_outside = OUTSIDE_SHARE * self.tolerance_mm * DENSITY_SLOPE / (sd * sd);
        let bend = 2.0 * (DENSITY / sd + step_outside);
        let points = (reach / (8.0 * CURVE_OFF_MM / bend).sqrt()).ceil();
        let points = points.min(MOST_POINTS);
        let step = reach / points;
        Curve {
            per_step: 1.0 / step,
            values: (0..=points as usize)
                .map(|k| self.tabulated(step * k as f64, sd))
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
        if let Some(ends) = self.values.get(below..below + 2) {
            return ends[0] + (ends[1] - ends[0]) * (place - below as f64);
        }
        let last = self.values.len() - 1;
        self.values[last] + (place - last as f64) / self.per_step
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
                    (curve.at(mean) - loss.expected(mean, sd)).abs() < CURVE_OFF_MM + 1e-4 * sd,
                    "{mean} {sd}"
                );
                assert!((curve.at(mean) - curve.at(-mean)).abs() < 1e-15);
            }
        }
    }

    #[test]
    fn a_curve_stays_short_whatever_it_is_of() {
        for (tolerance_mm, sd) in [(1e4, 1e-9), (25.0, 0.0), (0.1, 1e5)] {
            let loss = Loss::of_tolerance(tolerance_mm);
            let curve = loss.curve(sd);
            assert!(curve.values.len() <= MOST_POINTS as usize + 1);
            let far_mm = 3.0 * (tolerance_mm + 10.0 * sd);
            let off = curve.at(far_mm) - loss.expected(far_mm, sd);
            assert!(off.abs() < 1e-3 * far_mm, "{tolerance_mm} {sd} {off}");
        }
    }

    #[test]
    fn the_tabulated_loss_is_the_expected_one() {
        let loss = Loss::of_tolerance(25.0);
        for sd in [1e-9, 0.5, 3.0, 16.0, 400.0] {
            for k in 0..900 {
                let mean = f64::from(k) * 0.61;
                let off = loss.tabulated(mean, sd) - loss.expected(mean, sd);
                assert!(
                    off.abs() < 1e-4 * (sd + loss.tolerance_mm),
                    "{mean} {sd} {off}"
                );
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
