//! No more digits in a figure than it deserves.

/// A figure and its spread, rounded to the place the spread deserves.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rounded {
    /// The figure, in its own unit.
    pub value: f64,
    /// Its spread, not negative, in the same unit.
    pub spread: f64,
    /// Decimals both are written with.
    pub decimals: u32,
}

/// Rounds a figure and its spread alike: the spread to two significant digits when it starts with 1
/// or 2, else to one (after the Particle Data Group's rule, simplified), the figure to the same
/// place. A spread that is zero or not finite leaves one decimal.
#[must_use]
pub fn round_estimate(value: f64, spread: f64) -> Rounded {
    let spread = spread.abs();
    let places = decimals_of(spread);
    Rounded {
        value: round_to(value, places),
        spread: round_to(spread, places),
        decimals: u32::try_from(places).unwrap_or(0),
    }
}

/// Decimals that a deviation deserves; negative means tens, hundreds.
fn decimals_of(sd: f64) -> i32 {
    if !(sd.is_finite() && sd > 0.0) {
        return 1;
    }
    let exponent = sd.log10().floor() as i32;
    let lead = sd / 10f64.powi(exponent);
    let wanted = if lead < 2.95 { 1 - exponent } else { -exponent };
    wanted.clamp(-6, 6)
}

fn round_to(x: f64, decimals: i32) -> f64 {
    let step = 10f64.powi(-decimals);
    (x / step).round() * step
}
