//! How much a file holds.

use std::path::Path;

use rusqlite::{Connection, OpenFlags};

use super::StoreError;

/// Rows of a workshop, by what they are.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Holding {
    /// Bows, those off the rack too.
    pub bows: u32,
    /// Kits, those put away too.
    pub kits: u32,
    /// Entries of the lists of fittings.
    pub fittings: u32,
    /// Trials, struck ones too.
    pub trials: u32,
    /// Verdicts.
    pub verdicts: u32,
}

/// What an open file holds.
pub(crate) fn holding(connection: &Connection) -> Result<Holding, StoreError> {
    let mut query = connection.prepare_cached(
        "SELECT (SELECT count(*) FROM bow), (SELECT count(*) FROM kit), \
         (SELECT count(*) FROM fitting), (SELECT count(*) FROM trial), \
         (SELECT count(*) FROM verdict)",
    )?;
    Ok(query.query_row([], |row| {
        Ok(Holding {
            bows: row.get(0)?,
            kits: row.get(1)?,
            fittings: row.get(2)?,
            trials: row.get(3)?,
            verdicts: row.get(4)?,
        })
    })?)
}

/// What a file holds that nobody else has open.
pub(crate) fn holding_of(path: &Path) -> Result<Holding, StoreError> {
    let flags = OpenFlags::SQLITE_OPEN_READ_ONLY;
    holding(&Connection::open_with_flags(path, flags)?)
}
