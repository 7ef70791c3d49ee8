//! Between columns and values: JSON documents and closed enums as text.

use rusqlite::{OptionalExtension, Row, Rows};
use serde::Serialize;
use serde::de::value::{Error as ValueError, StrDeserializer, StringDeserializer};
use serde::de::{DeserializeOwned, IntoDeserializer};

use super::{StoreError, Thing, Unread};

/// A value as JSON text.
pub(super) fn json<T: Serialize>(table: &'static str, value: &T) -> Result<String, StoreError> {
    serde_json::to_string(value).map_err(|error| unreadable(table, &error))
}

/// A value back from JSON text.
pub(super) fn from_json<T: DeserializeOwned>(
    table: &'static str,
    text: &str,
) -> Result<T, StoreError> {
    serde_json::from_str(text).map_err(|error| unreadable(table, &error))
}

/// The name of an enum without fields, as its serde form gives it.
pub(super) fn name<T: Serialize>(table: &'static str, value: T) -> Result<String, StoreError> {
    match serde_json::to_value(value) {
        Ok(serde_json::Value::String(text)) => Ok(text),
        Ok(other) => Err(unreadable(table, &other)),
        Err(error) => Err(unreadable(table, &error)),
    }
}

/// An enum without fields back from its name.
pub(super) fn from_name<T: DeserializeOwned>(
    table: &'static str,
    text: String,
) -> Result<T, StoreError> {
    let name: StringDeserializer<ValueError> = text.into_deserializer();
    T::deserialize(name).map_err(|error| unreadable(table, &error))
}

/// The same straight from a column, without a copy of the name: the rack reads thousands.
pub(super) fn named<T: DeserializeOwned>(
    table: &'static str,
    row: &Row,
    column: usize,
) -> Result<T, StoreError> {
    let text = row.get_ref(column)?.as_str();
    known_name(text.map_err(|error| unreadable(table, &error))?)
        .map_err(|error| unreadable(table, &error))
}

/// An enum without fields of that name.
pub(super) fn known_name<T: DeserializeOwned>(name: &str) -> Result<T, ValueError> {
    T::deserialize(StrDeserializer::new(name))
}

fn unreadable(table: &'static str, detail: &impl ToString) -> StoreError {
    StoreError::Unreadable {
        table,
        detail: detail.to_string(),
    }
}

/// Turns "no such row" into an error that names what was asked for.
pub(super) fn found<T>(row: rusqlite::Result<T>, thing: Thing, id: i64) -> Result<T, StoreError> {
    row.optional()?.ok_or(StoreError::NotFound { thing, id })
}

/// What could be read of a list, and which of its rows could not.
#[derive(Debug)]
pub(crate) struct Legible<T> {
    pub(crate) rows: Vec<T>,
    pub(crate) unread: Vec<Unread>,
}

/// Reads every row it can; column 0 of each is its id.
pub(super) fn legible<T>(
    mut rows: Rows,
    thing: Thing,
    read: impl Fn(&Row) -> Result<T, StoreError>,
) -> Result<Legible<T>, StoreError> {
    let (mut readable, mut unread) = (Vec::new(), Vec::new());
    while let Some(row) = rows.next()? {
        match read(row) {
            Ok(value) => readable.push(value),
            Err(error) if error.is_of_one_row() => unread.push(Unread {
                thing,
                id: row.get(0)?,
                detail: error.to_string(),
            }),
            Err(error) => return Err(error),
        }
    }
    Ok(Legible {
        rows: readable,
        unread,
    })
}

/// `None` for a row that cannot be read.
pub(super) fn if_legible<T>(read: Result<T, StoreError>) -> Result<Option<T>, StoreError> {
    match read {
        Ok(value) => Ok(Some(value)),
        Err(error) if error.is_of_one_row() => Ok(None),
        Err(error) => Err(error),
    }
}
