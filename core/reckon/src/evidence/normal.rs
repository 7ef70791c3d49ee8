//! The normal distribution, written so that mirrored arguments give exactly mirrored results.

use statrs::function::erf::erfc;

use std::f64::consts::{FRAC_1_SQRT_2, PI};

/// Chance that a standard normal exceeds `z`.
pub(crate) fn above(z: f64) -> f64 {
    0.5 * erfc(z * FRAC_1_SQRT_2)
}

/// Expected amount by which a standard normal exceeds `z`.
pub(crate) fn expected_beyond(z: f64) -> f64 {
    (-0.5 * z * z).exp() / (2.0 * PI).sqrt() - z * above(z)
}

/// Expected amount by which a normal variable's size exceeds `limit`.
pub(crate) fn expected_excess(mean: f64, sd: f64, limit: f64) -> f64 {
    let sd = sd.max(1e-12);
    // Added at once: the sum is the same whichever side the mean is on.
    sd * (expected_beyond((limit - mean) / sd) + expected_beyond((limit + mean) / sd))
}

/// Chance that a normal variable lies within `limit` of zero.
pub(crate) fn within(mean: f64, sd: f64, limit: f64) -> f64 {
    let sd = sd.max(1e-12);
    // Added before subtracting: the sum is the same whichever side the mean is on.
    1.0 - (above((limit - mean) / sd) + above((limit + mean) / sd))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The unit normal loss function as textbooks of stock keeping tabulate it, to four places (from
    /// memory).
    #[test]
    fn what_is_expected_beyond_a_limit_is_that_of_the_table() {
        let close = |is: f64, table: f64| assert!((is - table).abs() < 2e-4, "{is} {table}");
        for (z, table) in [(0.0, 0.3989), (0.5, 0.1978), (1.0, 0.0833), (2.0, 0.0085)] {
            close(expected_beyond(z), table);
            close(expected_beyond(-z), table + z);
        }
        close(expected_excess(0.0, 2.0, 2.0), 2.0 * 2.0 * 0.0833);
        close(expected_excess(-3.0, 1.0, 1.0), 2.0 + 0.0085);
    }

    /// Standard normal table.
    #[test]
    fn chances_are_those_of_the_normal_table() {
        let close = |is: f64, table: f64| assert!((is - table).abs() < 2e-4, "{is} {table}");
        close(above(1.6449), 0.05);
        close(above(-1.0), 0.8413);
        close(within(0.0, 2.0, 2.0 * 1.96), 0.95);
        close(within(-3.0, 2.0, 2.0), 0.3085 - 0.0062);
    }
}
