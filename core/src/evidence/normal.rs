//! The normal distribution, written so that mirrored arguments give exactly mirrored results.

use statrs::function::erf::erfc;

use std::f64::consts::{FRAC_1_SQRT_2, PI};

/// Chance that a standard normal exceeds `z`.
pub(crate) fn above(z: f64) -> f64 {
    0.5 * erfc(z * FRAC_1_SQRT_2)
}

/// So many standard deviations from zero, a variable's sign is certain to 1e-10 of its spread.
const SURE_SIDE: f64 = 6.5;

/// Expected size of a normal variable.
pub(crate) fn expected_size(mean: f64, sd: f64) -> f64 {
    let (mean, sd) = (mean.abs(), sd.max(1e-12));
    let z = mean / sd;
    if z > SURE_SIDE {
        return mean;
    }
    let density = (-0.5 * z * z).exp() / (2.0 * PI).sqrt();
    mean * (1.0 - 2.0 * above(z)) + 2.0 * sd * density
}

/// Chance that a normal variable lies within `limit` of zero.
pub(crate) fn within(mean: f64, sd: f64, limit: f64) -> f64 {
    let sd = sd.max(1e-12);
    // Added before subtracting: the sum is the same whichever side the mean is on.
    1.0 - (above((limit - mean) / sd) + above((limit + mean) / sd))
}
