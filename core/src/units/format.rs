//! Writing a figure: its unit always, and no more digits than it deserves.

use super::{Length, Unit};

/// `value` with a fixed number of decimals, a true minus sign and never a negative zero.
pub fn format_number(value: f64, decimals: usize) -> String {
    let text = format!("{:.*}", decimals, value.abs());
    let is_zero = !text.chars().any(|c| ('1'..='9').contains(&c));
    if value < 0.0 && !is_zero {
        format!("\u{2212}{text}")
    } else {
        text
    }
}

/// As [`format_number`] with a plus sign before a figure above zero.
pub fn format_signed(value: f64, decimals: usize) -> String {
    let text = format_number(value, decimals);
    let is_plain_zero = !text.chars().any(|c| ('1'..='9').contains(&c));
    if value > 0.0 && !is_plain_zero {
        format!("+{text}")
    } else {
        text
    }
}

/// A value in base units, written in `unit` with the digits usual for it: `25.4 mm`, `1.00 in`.
pub fn format<U: Unit>(base: f64, unit: U) -> String {
    with_unit(format_number(unit.of_base(base), unit.row().decimals), unit)
}

/// A spacer's thickness, mm, written to 0.01 mm or 0.001 in: what calipers show.
pub fn format_thickness(mm: f64, unit: Length) -> String {
    let decimals = if unit == Length::Inch { 3 } else { 2 };
    with_unit(format_number(unit.of_base(mm), decimals), unit)
}

/// An estimate with its standard deviation, both in base units, as [`round_estimate`] rounds them.
///
/// A deviation that is zero or not finite leaves the plain value: no false `± 0`.
pub fn format_estimate<U: Unit>(base: f64, sd_base: f64, unit: U) -> String {
    let (value, sd) = (unit.of_base(base), unit.of_base(sd_base).abs());
    if !(sd.is_finite() && sd > 0.0) {
        return format(base, unit);
    }
    let rounded = round_estimate(value, sd);
    let number = |value| format_number(value, rounded.decimals as usize);
    let text = format!("{} ± {}", number(rounded.value), number(rounded.spread));
    with_unit(text, unit)
}

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

fn with_unit<U: Unit>(number: String, unit: U) -> String {
    number + " " + unit.symbol()
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
