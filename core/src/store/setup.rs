//! Set-up checks and set-up changes, both append-only.

use rusqlite::{Connection, Row, Transaction, params};

use super::StoreError;
use super::row::{from_name, name};
use crate::record::{SetupChange, SetupCheck};

pub(crate) fn append_check(
    tx: &Transaction,
    bow_id: i64,
    check: &SetupCheck,
    now_ms: i64,
) -> Result<(), StoreError> {
    tx.execute(
        "INSERT INTO setup_check (bow_id, item, state, measured, note, at_ms) \
         VALUES (?1, ?2, ?3, ?4, ?5, ?6)",
        params![
            bow_id,
            name("setup_check", check.item)?,
            name("setup_check", check.state)?,
            check.measured,
            check.note,
            now_ms,
        ],
    )?;
    Ok(())
}

/// The latest answer to each check that was ever answered, in no particular order.
pub(crate) fn checks(connection: &Connection, bow_id: i64) -> Result<Vec<SetupCheck>, StoreError> {
    let mut query = connection.prepare_cached(
        "SELECT item, state, measured, note, at_ms FROM setup_check WHERE id IN \
         (SELECT max(id) FROM setup_check WHERE bow_id = ?1 GROUP BY item)",
    )?;
    let columns = |row: &Row| {
        Ok((
            row.get::<_, String>(0)?,
            row.get::<_, String>(1)?,
            row.get(2)?,
            row.get(3)?,
            row.get(4)?,
        ))
    };
    let rows = query.query_map([bow_id], columns)?;
    rows.map(|row| {
        let (item, state, measured, note, at_ms) = row?;
        Ok(SetupCheck {
            item: from_name("setup_check", item)?,
            state: from_name("setup_check", state)?,
            measured,
            note,
            at_ms: Some(at_ms),
        })
    })
    .collect()
}

pub(crate) fn append_change(
    tx: &Transaction,
    bow_id: i64,
    change: &SetupChange,
) -> Result<(), StoreError> {
    tx.execute(
        "INSERT INTO setup_change (bow_id, kind, value_mm, note, at_ms) \
         VALUES (?1, ?2, ?3, ?4, ?5)",
        params![
            bow_id,
            name("setup_change", change.kind)?,
            change.value_mm,
            change.note,
            change.at_ms,
        ],
    )?;
    Ok(())
}

/// Every change of a bow, oldest first.
pub(crate) fn changes(
    connection: &Connection,
    bow_id: i64,
) -> Result<Vec<SetupChange>, StoreError> {
    let mut query = connection.prepare_cached(
        "SELECT kind, value_mm, note, at_ms FROM setup_change WHERE bow_id = ?1 ORDER BY id",
    )?;
    let columns = |row: &Row| {
        Ok((
            row.get::<_, String>(0)?,
            row.get(1)?,
            row.get(2)?,
            row.get(3)?,
        ))
    };
    let rows = query.query_map([bow_id], columns)?;
    rows.map(|row| {
        let (kind, value_mm, note, at_ms) = row?;
        Ok(SetupChange {
            kind: from_name("setup_change", kind)?,
            value_mm,
            note,
            at_ms,
        })
    })
    .collect()
}
