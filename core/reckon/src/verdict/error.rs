//! Why no verdict could be computed.

use thiserror::Error;

use crate::spacer::KitError;

/// Why no verdict could be computed.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum VerdictError {
    /// A figure that is not a number or outside its range.
    #[error(
        "{} is {value}, outside {low} to {high}; correct it and ask again",
        place(what, *trial)
    )]
    OutOfRange {
        /// Which figure, with its unit.
        what: String,
        /// The trial it stands in, if any.
        trial: Option<i64>,
        /// What was entered.
        value: f64,
        /// Smallest allowed value.
        low: f64,
        /// Largest allowed value.
        high: f64,
    },
    /// A fitting names something the kit does not have.
    #[error("{}: {kit}", place("what was fitted", *trial))]
    Fitting {
        /// The trial it stands in; none for what is fitted now.
        trial: Option<i64>,
        /// What is wrong.
        #[source]
        kit: KitError,
    },
    /// A swap from memory names something the kit does not have.
    #[error("a swap from memory: {kit}")]
    Remembered {
        /// What is wrong.
        #[source]
        kit: KitError,
    },
    /// The priority names nothing to bring together.
    #[error(
        "nothing is chosen to be brought together; choose at least one of bare shafts, broadheads and paper"
    )]
    NoPriority,
}

fn place(what: &str, trial: Option<i64>) -> String {
    match trial {
        Some(id) => format!("{what} in trial {id}"),
        None => what.to_owned(),
    }
}
