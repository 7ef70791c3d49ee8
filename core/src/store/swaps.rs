//! Swaps under way, at most one a bow.

use rusqlite::{Connection, OptionalExtension, Transaction, params};

use super::form::{self, StoredSwap};
use super::identity::tick;
use super::row::{Legible, from_name, legible, name};
use super::{StoreError, Thing};
use crate::record::SwapProgress;

const TABLE: &str = "swap";
const COLUMNS: &str = "bow_id, swap, reason, verdict_id, started_ms, touched_ms";

pub(crate) fn save_swap(tx: &Transaction, progress: &SwapProgress) -> Result<(), StoreError> {
    tx.execute(
        "INSERT INTO swap (bow_id, swap, reason, verdict_id, started_ms, touched_ms, tick, mark) \
         VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, new_uid(?7)) ON CONFLICT (bow_id) DO UPDATE SET \
         swap = excluded.swap, reason = excluded.reason, verdict_id = excluded.verdict_id, \
         started_ms = excluded.started_ms, touched_ms = excluded.touched_ms, \
         tick = excluded.tick, mark = excluded.mark",
        params![
            progress.bow_id,
            form::written::<StoredSwap>(TABLE, progress.swap.clone())?,
            name(TABLE, progress.reason)?,
            progress.verdict_id,
            progress.started_ms,
            progress.touched_ms,
            tick(tx, Some(progress.touched_ms))?,
        ],
    )?;
    Ok(())
}

pub(crate) fn end_swap(tx: &Transaction, bow_id: i64) -> Result<(), StoreError> {
    tx.execute(
        "UPDATE swap SET swap = NULL, tick = ?2, mark = new_uid(?2) WHERE bow_id = ?1",
        [bow_id, tick(tx, None)?],
    )?;
    Ok(())
}

pub(crate) fn swap(
    connection: &Connection,
    bow_id: i64,
) -> Result<Option<SwapProgress>, StoreError> {
    let sql = format!("SELECT {COLUMNS} FROM swap WHERE bow_id = ?1 AND swap IS NOT NULL");
    let mut query = connection.prepare_cached(&sql)?;
    query
        .query_row([bow_id], |row| Columns::try_from(row))
        .optional()?
        .map(read)
        .transpose()
}

/// Every swap under way that can be read.
pub(super) fn swaps(connection: &Connection) -> Result<Vec<SwapProgress>, StoreError> {
    Ok(legible_swaps(connection)?.rows)
}

/// The same, with the rows that cannot be read.
pub(super) fn legible_swaps(connection: &Connection) -> Result<Legible<SwapProgress>, StoreError> {
    let sql = format!("SELECT {COLUMNS} FROM swap WHERE swap IS NOT NULL");
    let mut query = connection.prepare_cached(&sql)?;
    legible(query.query([])?, Thing::Swap, |row| {
        read(Columns::try_from(row)?)
    })
}

type Columns = (i64, String, String, Option<i64>, i64, i64);

fn read(columns: Columns) -> Result<SwapProgress, StoreError> {
    let (bow_id, swap, reason, verdict_id, started_ms, touched_ms) = columns;
    Ok(SwapProgress {
        bow_id,
        swap: form::read::<StoredSwap>(TABLE, &swap)?,
        reason: from_name(TABLE, reason)?,
        verdict_id,
        started_ms,
        touched_ms,
    })
}
