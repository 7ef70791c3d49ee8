//! Reading a figure as people type it.

use super::{Length, Unit};

/// Longest text that is read as a figure; a longer one is a paste gone wrong.
const LONGEST: usize = 40;

/// Why a typed figure was not understood.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum UnitsError {
    /// Nothing was typed.
    #[error("nothing was typed; type {quantity}, for example {example}")]
    Empty {
        /// What was asked for ("a length").
        quantity: &'static str,
        /// A figure that would be understood.
        example: String,
    },
    /// The number could not be read.
    #[error("\"{text}\" is not a number; write it like {example}")]
    NotANumber {
        /// What was typed, shortened.
        text: String,
        /// A figure that would be understood.
        example: String,
    },
    /// The number has both a point and a comma, or several of one.
    #[error("\"{text}\" has more than one decimal sign; use one point or one comma")]
    DecimalSigns {
        /// What was typed, shortened.
        text: String,
    },
    /// A fraction over zero.
    #[error("\"{text}\" divides by zero; check the fraction")]
    ZeroDenominator {
        /// What was typed, shortened.
        text: String,
    },
    /// The unit is not one of this quantity.
    #[error("\"{unit}\" is not a unit of {quantity} here; use one of {known}")]
    UnknownUnit {
        /// The unit that was typed, shortened.
        unit: String,
        /// What was asked for ("a length").
        quantity: &'static str,
        /// The units that are understood.
        known: String,
    },
}

/// The figure in `text` in base units of its quantity (mm, kg, m/s, N, J, kg m/s), in `default`
/// where no unit is typed.
///
/// Understood: `0.075`, `.075 in`, `1.9 mm`, `1,9` (comma as decimal sign), `3/16`, `1 3/16"`,
/// `1-3/16`, `½`, a leading sign, units with or without a space and in any case.
///
/// # Errors
/// [`UnitsError`] in words for the person who typed it; nothing is guessed.
pub fn parse<U: Unit>(text: &str, default: U) -> Result<f64, UnitsError> {
    let clean = normalised(text);
    if clean.is_empty() {
        return Err(UnitsError::Empty {
            quantity: U::QUANTITY,
            example: example(default),
        });
    }
    if clean.chars().count() > LONGEST {
        return Err(not_a_number(text, default));
    }
    let (number, unit) = split_unit(&clean);
    let unit = if unit.is_empty() {
        default
    } else {
        find_unit(unit)?
    };
    if number.is_empty() {
        return Err(not_a_number(text, default));
    }
    let base = unit.to_base(number_value(number, || not_a_number(text, default))?);
    if base.is_finite() {
        Ok(base)
    } else {
        Err(not_a_number(text, default))
    }
}

/// The distance in `text`, m, in `default` where no unit is typed.
///
/// # Errors
/// As [`parse`].
pub fn parse_distance_m(text: &str, default: Length) -> Result<f64, UnitsError> {
    Ok(parse(text, default)? / 1000.0)
}

/// Lower case, one kind of minus, quote and fraction slash, vulgar fractions spelt out.
fn normalised(text: &str) -> String {
    let mut out = String::new();
    for c in text.trim().chars().flat_map(char::to_lowercase) {
        match c {
            '\u{2212}' | '\u{2013}' => out.push('-'),
            '\u{2033}' | '\u{201d}' | '\u{201c}' => out.push('"'),
            '\u{2032}' | '\u{2019}' => out.push('\''),
            '\u{2044}' => out.push('/'),
            '\u{00a0}' | '\u{202f}' | '\t' => out.push(' '),
            '\u{00bc}' => out.push_str(" 1/4"),
            '\u{00bd}' => out.push_str(" 1/2"),
            '\u{00be}' => out.push_str(" 3/4"),
            '\u{215b}' => out.push_str(" 1/8"),
            '\u{215c}' => out.push_str(" 3/8"),
            '\u{215d}' => out.push_str(" 5/8"),
            '\u{215e}' => out.push_str(" 7/8"),
            c => out.push(c),
        }
    }
    out.trim().to_owned()
}

/// The number part and the unit part of a cleaned text.
fn split_unit(clean: &str) -> (&str, &str) {
    let in_number = |c: char| c.is_ascii_digit() || matches!(c, '.' | ',' | '/' | '-' | '+' | ' ');
    let end = clean.find(|c| !in_number(c)).unwrap_or(clean.len());
    let (number, unit) = clean.split_at(end);
    (number.trim(), unit.trim())
}

fn find_unit<U: Unit>(typed: &str) -> Result<U, UnitsError> {
    let is_it = |symbol: &str| symbol.to_lowercase() == typed;
    U::ALL
        .iter()
        .find(|row| is_it(row.symbol) || row.also.contains(&typed))
        .map(|row| row.unit)
        .ok_or_else(|| UnitsError::UnknownUnit {
            unit: shortened(typed),
            quantity: U::QUANTITY,
            known: U::ALL
                .iter()
                .map(|row| row.symbol)
                .collect::<Vec<_>>()
                .join(", "),
        })
}

/// The value of `[sign] whole`, `whole num/den`, `whole-num/den` or `num/den`.
fn number_value(number: &str, nan: impl Fn() -> UnitsError) -> Result<f64, UnitsError> {
    let (sign, body) = match number.strip_prefix('-') {
        Some(rest) => (-1.0, rest),
        None => (1.0, number.strip_prefix('+').unwrap_or(number)),
    };
    let body = body.trim();
    let Some((left, denominator)) = body.split_once('/') else {
        return Ok(sign * decimal(body, &nan)?);
    };
    let (whole, numerator) = match left.trim().rsplit_once([' ', '-']) {
        Some((whole, numerator)) => (
            integer(whole.trim_end_matches(['-', ' ']), &nan)?,
            numerator,
        ),
        None => (0.0, left),
    };
    let denominator = integer(denominator.trim(), &nan)?;
    if denominator == 0.0 {
        return Err(UnitsError::ZeroDenominator {
            text: shortened(number),
        });
    }
    Ok(sign * (whole + integer(numerator.trim(), &nan)? / denominator))
}

/// A decimal number with a point or a comma; no exponent, no thousands separators.
fn decimal(text: &str, nan: &impl Fn() -> UnitsError) -> Result<f64, UnitsError> {
    let signs = text.matches(['.', ',']).count();
    if signs > 1 {
        return Err(UnitsError::DecimalSigns {
            text: shortened(text),
        });
    }
    let has_digit = text.chars().any(|c| c.is_ascii_digit());
    let only_digits = text
        .chars()
        .all(|c| c.is_ascii_digit() || matches!(c, '.' | ','));
    if !(has_digit && only_digits) {
        return Err(nan());
    }
    text.replace(',', ".").parse().map_err(|_| nan())
}

fn integer(text: &str, nan: &impl Fn() -> UnitsError) -> Result<f64, UnitsError> {
    if !text.chars().all(|c| c.is_ascii_digit()) {
        return Err(nan());
    }
    text.parse().map_err(|_| nan())
}

fn not_a_number<U: Unit>(text: &str, default: U) -> UnitsError {
    UnitsError::NotANumber {
        text: shortened(text),
        example: example(default),
    }
}

fn example<U: Unit>(unit: U) -> String {
    format!("1.5 {}", unit.symbol())
}

/// At most 20 characters of what was typed, so that an error stays one line.
fn shortened(text: &str) -> String {
    if text.chars().count() <= 20 {
        return text.to_owned();
    }
    text.chars().take(19).chain(['…']).collect()
}
