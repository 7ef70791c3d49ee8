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
