//! Set-up checks and set-up changes, both append-only.

use rusqlite::{Connection, Transaction, params};

use super::form::{self, Form, StoredReopened};
use super::identity::tick;
use super::row::{Legible, from_name, json, legible, name};
use super::{StoreError, Thing};
use crate::record::{SetupChange, SetupCheck};

pub(crate) fn append_check(
    tx: &Transaction,
    bow_id: i64,
    check: &SetupCheck,
    now_ms: i64,
) -> Result<(), StoreError> {
    tx.execute(
        "INSERT INTO setup_check (bow_id, item, state, measured, note, at_ms, uid, born, reopened) \
         VALUES (?1, ?2, ?3, ?4, ?5, ?6, new_uid(?7), ?7, ?8)",
        params![
            bow_id,
            name("setup_check", check.item)?,
            name("setup_check", check.state)?,
            check.measured,
            check.note,
            now_ms,
            tick(tx, Some(now_ms))?,
            check
                .reopened
                .map(|by| json("setup_check", &StoredReopened::of(by)))
                .transpose()?,
        ],
    )?;
    Ok(())
}

/// The latest answer to each check that was ever answered, in no particular order.
pub(crate) fn checks(connection: &Connection, bow_id: i64) -> Result<Vec<SetupCheck>, StoreError> {
    Ok(legible_checks(connection, bow_id)?.rows)
}

/// The same, with the rows that cannot be read.
pub(super) fn legible_checks(
    connection: &Connection,
    bow_id: i64,
) -> Result<Legible<SetupCheck>, StoreError> {
    let mut query = connection.prepare_cached(
        "SELECT id, item, state, measured, note, at_ms, reopened FROM setup_check WHERE id IN \
         (SELECT max(id) FROM setup_check WHERE bow_id = ?1 GROUP BY item)",
    )?;
    legible(query.query([bow_id])?, Thing::Check, |row| {
        let reopened: Option<String> = row.get(6)?;
        let reopened = reopened
            .map(|by| form::read::<StoredReopened>("setup_check", &by))
            .transpose()?;
        Ok(SetupCheck {
            item: from_name("setup_check", row.get(1)?)?,
            state: from_name("setup_check", row.get(2)?)?,
            measured: row.get(3)?,
            note: row.get(4)?,
            at_ms: Some(row.get(5)?),
            reopened,
        })
    })
}

pub(crate) fn append_change(
    tx: &Transaction,
    bow_id: i64,
    change: &SetupChange,
) -> Result<(), StoreError> {
    tx.execute(
        "INSERT INTO setup_change (bow_id, kind, value_mm, note, at_ms, uid, born) \
         VALUES (?1, ?2, ?3, ?4, ?5, new_uid(?6), ?6)",
        params![
            bow_id,
            name("setup_change", change.kind)?,
            change.value_mm,
            change.note,
            change.at_ms,
            tick(tx, Some(change.at_ms))?,
        ],
    )?;
    Ok(())
}

/// Every change of a bow, oldest first.
pub(crate) fn changes(
    connection: &Connection,
    bow_id: i64,
) -> Result<Vec<SetupChange>, StoreError> {
    Ok(legible_changes(connection, bow_id)?.rows)
}

/// The same, with the rows that cannot be read.
pub(super) fn legible_changes(
    connection: &Connection,
    bow_id: i64,
) -> Result<Legible<SetupChange>, StoreError> {
    let mut query = connection.prepare_cached(
        "SELECT id, kind, value_mm, note, at_ms FROM setup_change WHERE bow_id = ?1 ORDER BY id",
    )?;
    legible(query.query([bow_id])?, Thing::Change, |row| {
        Ok(SetupChange {
            kind: from_name("setup_change", row.get(1)?)?,
            value_mm: row.get(2)?,
            note: row.get(3)?,
            at_ms: row.get(4)?,
        })
    })
}
