//! The bows as the rack shows them: one pass over their rows.

use std::collections::BTreeMap;

use rusqlite::{Connection, Row};

use super::row::{if_legible, legible, named};
use super::standing::{PROGRESS, PROGRESS_COLUMNS, failed_checks, on_evidence, steps};
use super::swaps::swaps;
use super::{Standing, StoreError, Thing, fittings};
use crate::record::{FittingRecord, Hand};

/// What the rack shows of a bow.
#[derive(Debug, Clone)]
pub(crate) struct OnRack {
    pub(crate) id: i64,
    pub(crate) name: String,
    pub(crate) owner: String,
    pub(crate) notes: String,
    pub(crate) hand: Hand,
    pub(crate) kit_id: Option<i64>,
    pub(crate) used_ms: i64,
    pub(crate) archived_ms: Option<i64>,
    /// What is fitted; `None` where nobody has said, or where that cannot be read.
    pub(crate) fitted: Option<FittingRecord>,
    pub(crate) standing: Standing,
}

const BOW: &str =
    "bow.id, bow.name, bow.owner, bow.notes, bow.hand, bow.kit_id, bow.used_ms, bow.archived_ms";
const BOW_COLUMNS: usize = 8;

/// Every bow that can be read, in the order of their ids; with `off` only those off the rack, or on it.
pub(crate) fn on_rack(
    connection: &Connection,
    off: Option<bool>,
) -> Result<Vec<OnRack>, StoreError> {
    let under_way = swaps(connection)?;
    let under_way: BTreeMap<i64, (u32, u32)> = under_way
        .iter()
        .map(|swap| (swap.bow_id, steps(swap)))
        .collect();
    let failed = failed_checks(connection, None)?;
    // The newest fitting by its place in the list: a maximum takes SQLite half as long again.
    let sql = format!(
        "SELECT {BOW}, {PROGRESS}, {} FROM bow LEFT JOIN fitting ON fitting.id = \
         (SELECT id FROM fitting WHERE bow_id = bow.id ORDER BY id DESC LIMIT 1) \
         WHERE ?1 IS NULL OR (bow.archived_ms IS NOT NULL) = ?1 ORDER BY bow.id",
        fittings::COLUMNS
    );
    let mut query = connection.prepare_cached(&sql)?;
    let bows = legible(query.query([off])?, Thing::Bow, |row| {
        let mut bow = read(row)?;
        bow.standing.swap = under_way.get(&bow.id).copied();
        bow.standing.failed_check = failed.get(&bow.id).copied();
        Ok(bow)
    })?;
    Ok(bows.rows)
}

fn read(row: &Row) -> Result<OnRack, StoreError> {
    Ok(OnRack {
        id: row.get(0)?,
        name: row.get(1)?,
        owner: row.get(2)?,
        notes: row.get(3)?,
        hand: named("bow", row, 4)?,
        kit_id: row.get(5)?,
        used_ms: row.get(6)?,
        archived_ms: row.get(7)?,
        fitted: fitted(row)?,
        standing: on_evidence(row, BOW_COLUMNS),
    })
}

fn fitted(row: &Row) -> Result<Option<FittingRecord>, StoreError> {
    let first = BOW_COLUMNS + PROGRESS_COLUMNS;
    // Its id is missing where the bow has no entry.
    match row.get::<_, Option<i64>>(first)? {
        Some(_) => if_legible(fittings::read(row, first)),
        None => Ok(None),
    }
}
