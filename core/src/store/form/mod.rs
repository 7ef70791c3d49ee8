//! The stored forms: what the JSON columns of a workshop file hold, as types of their own.
//!
//! The live types of the core may change with every version; a stored form may only grow:
//! - a field is added with a default (after `later`, or as an `Option`), never renamed and never
//!   given another meaning; a variant that is no longer written stays, and is read as history;
//! - fields this program does not know are passed over; each document says its form's number;
//! - an enum without fields is stored under its serde name, which never changes.
//!
//! A live type that drifts from its form does not compile; `tests/data/forms` freezes what every
//! version wrote.

mod arrows;
mod check;
mod former;
mod kit;
mod remembered;
mod settings;
mod spacers;
mod swap;
mod trial;
mod trim;
mod verdict;

use serde::{Serialize, de::DeserializeOwned};

use super::StoreError;
use super::row::{from_json, json};

pub(super) use arrows::StoredArrows;
pub(super) use check::{StoredRange, StoredReopened};
pub(super) use kit::{StoredCount, StoredKit};
pub(super) use remembered::StoredRemembered;
pub(super) use settings::StoredSettings;
pub(super) use swap::StoredSwap;
pub(super) use trial::{Marks, StoredMarks};
pub(super) use verdict::{Given, StoredGiven, StoredMore};

/// A stored form and the live type it stands for.
pub(super) trait Form: Sized {
    /// The live type.
    type Live;
    /// The form of a live value.
    fn of(live: Self::Live) -> Self;
    /// The live value of a form.
    fn live(self) -> Self::Live;
}

macro_rules! stored_as_they_are {
    ($($plain:ty),*) => {$(
        impl Form for $plain {
            type Live = Self;
            fn of(live: Self) -> Self {
                live
            }
            fn live(self) -> Self {
                self
            }
        }
    )*};
}
stored_as_they_are!(bool, u32, i32, i64, f64, String);
stored_as_they_are!(
    crate::frame::Side,
    crate::frame::ArrowKind,
    crate::evidence::Probe,
    crate::verdict::CheckItem,
    crate::record::ChangeKind,
    crate::verdict::Direction,
    crate::verdict::Knob,
    crate::verdict::MeasuredUnit,
    crate::record::Exclusion,
    crate::record::LengthUnit,
    crate::record::DistanceUnit,
    crate::record::Hand,
    crate::swap::Purpose
);

impl<F: Form> Form for Option<F> {
    type Live = Option<F::Live>;
    fn of(live: Self::Live) -> Self {
        live.map(F::of)
    }
    fn live(self) -> Self::Live {
        self.map(F::live)
    }
}

impl<F: Form> Form for Vec<F> {
    type Live = Vec<F::Live>;
    fn of(live: Self::Live) -> Self {
        live.into_iter().map(F::of).collect()
    }
    fn live(self) -> Self::Live {
        self.into_iter().map(F::live).collect()
    }
}

/// A form with the same fields as its live type. Those after `later` came in a later version.
macro_rules! form {
    ($name:ident of $live:ident { $($(#[$attribute:meta])? $field:ident: $type:ty),* $(,)? }
     $(later { $($new:ident: $new_type:ty),* $(,)? })?) => {
        #[derive(Debug, Serialize, Deserialize)]
        pub(in crate::store) struct $name {
            $($(#[$attribute])? pub(in crate::store) $field: $type,)*
            $($(#[serde(default)] pub(in crate::store) $new: $new_type,)*)?
        }
        impl Form for $name {
            type Live = $live;
            fn of(live: $live) -> Self {
                let $live { $($field,)* $($($new,)*)? } = live;
                Self { $($field: Form::of($field),)* $($($new: Form::of($new),)*)? }
            }
            fn live(self) -> $live {
                $live { $($field: self.$field.live(),)* $($($new: self.$new.live(),)*)? }
            }
        }
    };
}

/// A form with the same variants as its live type.
macro_rules! form_enum {
    ($name:ident of $live:ident {
        $($variant:ident $({ $($(#[$attribute:meta])? $field:ident: $type:ty),* $(,)? })?),* $(,)?
    }) => {
        #[derive(Debug, Serialize, Deserialize)]
        #[serde(rename_all = "snake_case")]
        pub(in crate::store) enum $name {
            $($variant $({ $($(#[$attribute])? $field: $type),* })?,)*
        }
        impl Form for $name {
            type Live = $live;
            fn of(live: $live) -> Self {
                match live {
                    $($live::$variant $({ $($field),* })? => {
                        Self::$variant $({ $($field: Form::of($field)),* })?
                    })*
                }
            }
            fn live(self) -> $live {
                match self {
                    $(Self::$variant $({ $($field),* })? => {
                        $live::$variant $({ $($field: Form::live($field)),* })?
                    })*
                }
            }
        }
    };
}
use {form, form_enum};

/// The number of today's form. Form 1 had other words for verdicts, which are read as history; what
/// version 2 of the file and older wrote carries no number.
const FORM: u32 = 2;

/// A whole document of a JSON column, with the number of its form.
#[derive(Serialize)]
struct Document<T> {
    form: u32,
    #[serde(flatten)]
    content: T,
}

/// A live value as the document of a JSON column.
pub(super) fn written<F: Form + Serialize>(
    table: &'static str,
    live: F::Live,
) -> Result<String, StoreError> {
    let content = F::of(live);
    json(
        table,
        &Document {
            form: FORM,
            content,
        },
    )
}

/// A live value back from a JSON column.
pub(super) fn read<F: Form + DeserializeOwned>(
    table: &'static str,
    text: &str,
) -> Result<F::Live, StoreError> {
    Ok(from_json::<F>(table, text)?.live())
}

/// Live values as a JSON list without a number of its own.
pub(super) fn written_list<F: Form + Serialize>(
    table: &'static str,
    live: Vec<F::Live>,
) -> Result<String, StoreError> {
    json(table, &Vec::<F>::of(live))
}

#[cfg(test)]
// Helpers of tests: a failed unwrap is the failed test.
#[allow(clippy::unwrap_used, clippy::float_cmp)]
mod tests;
