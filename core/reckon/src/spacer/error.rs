//! What can be wrong with a kit, a seat or a pile of loose pieces.

use thiserror::Error;

/// Why a kit, a seat or two loose pieces were refused.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum KitError {
    /// A kit needs at least one pair.
    #[error("the kit \"{kit}\" has no pairs; enter at least one thin and thick spacer")]
    NoPairs {
        /// The kit's name.
        kit: String,
    },
    /// A kit or pair without a name cannot be asked for.
    #[error("the kit or one of its pairs has no name; give each its own")]
    EmptyName,
    /// Two pairs share a name.
    #[error("two pairs are called \"{pair}\"; give each its own name")]
    DuplicatePair {
        /// The name used twice.
        pair: String,
    },
    /// A total, tolerance or thickness that is not a plausible length.
    #[error(
        "{value_mm} mm as {what} is outside {low_mm} to {high_mm} mm; measure it again and check the unit"
    )]
    Implausible {
        /// What was measured, in words.
        what: String,
        /// What was entered, mm.
        value_mm: f64,
        /// Smallest plausible value, mm.
        low_mm: f64,
        /// Largest plausible value, mm.
        high_mm: f64,
    },
    /// A pair whose two pieces do not add up to the kit's total.
    #[error(
        "pair {pair} adds up to {sum_mm:.3} mm, but this kit's pairs must add up to {total_mm:.3} mm (within {tolerance_mm:.3} mm); measure both pieces again"
    )]
    WrongSum {
        /// The pair's name.
        pair: String,
        /// What its pieces add up to, mm.
        sum_mm: f64,
        /// What they should add up to, mm.
        total_mm: f64,
        /// The allowed difference, mm.
        tolerance_mm: f64,
    },
    /// Two pieces that do not belong together on one axle.
    #[error(
        "{left_mm:.3} mm left and {right_mm:.3} mm right add up to {sum_mm:.3} mm, not {total_mm:.3} mm, so they are no pair; {}",
        partner_words(*left_mm, *left_partner_mm, *right_mm, *right_partner_mm)
    )]
    MixedPair {
        /// Left piece, mm.
        left_mm: f64,
        /// Right piece, mm.
        right_mm: f64,
        /// What they add up to, mm.
        sum_mm: f64,
        /// The kit's total, mm.
        total_mm: f64,
        /// The piece that belongs with the left one, mm, where this kit has the left one.
        left_partner_mm: Option<f64>,
        /// The piece that belongs with the right one, mm, where this kit has the right one.
        right_partner_mm: Option<f64>,
    },
    /// One piece, measured in place, that does not tell its pair.
    #[error("{thickness_mm:.3} mm {}", unclear_words(candidates))]
    UnclearPiece {
        /// Its thickness, mm.
        thickness_mm: f64,
        /// The pairs that have such a piece: none, or too many.
        candidates: Vec<String>,
    },
    /// A seat names a pair that the kit does not have.
    #[error("this kit has no pair \"{pair}\"; choose one of {}", known.join(", "))]
    UnknownPair {
        /// The name asked for.
        pair: String,
        /// The names the kit has.
        known: Vec<String>,
    },
}

fn unclear_words(candidates: &[String]) -> String {
    match candidates {
        [] => "is not a piece of this kit; measure it again".into(),
        some => format!(
            "may be of pair {}; measure the other piece too",
            some.join(" or ")
        ),
    }
}

fn partner_words(left_mm: f64, left: Option<f64>, right_mm: f64, right: Option<f64>) -> String {
    let one = |piece: f64, partner: Option<f64>| match partner {
        Some(other) => format!("put {piece:.3} mm with {other:.3} mm"),
        None => format!("measure {piece:.3} mm again, which is not a piece of this kit"),
    };
    format!("{}, and {}", one(left_mm, left), one(right_mm, right))
}
