//! Set-up checks and set-up changes, both append-only: what was entered wrongly is put right by a later entry.

use rusqlite::{Connection, Row, Transaction, params};

use super::entered::EnteredChange;
use super::form::{self, Form, StoredReopened};
use super::identity::tick;
use super::row::{Legible, found, from_name, json, legible, name};
use super::{StoreError, Thing};
use crate::record::{ChangeRecord, SetupChange, SetupCheck};

const CHANGE: &str = "setup_change";

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
) -> Result<i64, StoreError> {
    append(tx, bow_id, change, None, false)?;
    Ok(tx.last_insert_rowid())
}

/// Appends what puts an earlier entry right: from now on `right` stands for it.
pub(crate) fn append_correction(
    tx: &Transaction,
    right: &ChangeRecord,
    now_ms: i64,
) -> Result<(), StoreError> {
    let written = SetupChange {
        at_ms: now_ms,
        ..right.change.clone()
    };
    append(tx, right.bow_id, &written, Some(right.id), right.struck)
}

fn append(
    tx: &Transaction,
    bow_id: i64,
    change: &SetupChange,
    corrects_id: Option<i64>,
    struck: bool,
) -> Result<(), StoreError> {
    tx.execute(
        "INSERT INTO setup_change (bow_id, kind, value_mm, note, at_ms, uid, born, corrects_id, struck) \
         VALUES (?1, ?2, ?3, ?4, ?5, new_uid(?6), ?6, ?7, ?8)",
        params![
            bow_id,
            name(CHANGE, change.kind)?,
            change.value_mm,
            change.note,
            change.at_ms,
            tick(tx, Some(change.at_ms))?,
            corrects_id,
            struck,
        ],
    )?;
    Ok(())
}

/// Every change of a bow that counts, as it was last put right, oldest first.
pub(crate) fn changes(
    connection: &Connection,
    bow_id: i64,
) -> Result<Vec<SetupChange>, StoreError> {
    let recorded = recorded_changes(connection, bow_id)?.into_iter();
    let counted = recorded.filter(|entry| !entry.record.struck);
    Ok(counted.map(|entry| entry.record.change).collect())
}

/// Every change of a bow, struck ones too, as it was last put right, oldest first.
pub(crate) fn recorded_changes(
    connection: &Connection,
    bow_id: i64,
) -> Result<Vec<EnteredChange>, StoreError> {
    Ok(legible_changes(connection, bow_id)?.rows)
}

/// The same, with the rows that cannot be read.
pub(super) fn legible_changes(
    connection: &Connection,
    bow_id: i64,
) -> Result<Legible<EnteredChange>, StoreError> {
    let mut query = connection.prepare_cached(
        "SELECT id, bow_id, kind, value_mm, note, at_ms, born, corrects_id, struck FROM setup_change \
         WHERE bow_id = ?1 ORDER BY id",
    )?;
    let read = legible(query.query([bow_id])?, Thing::Change, entry)?;
    let mut rows: Vec<EnteredChange> = Vec::new();
    for (entry, corrects) in read.rows {
        let Some(first) = corrects else {
            rows.push(entry);
            continue;
        };
        // A correction whose entry cannot be read says nothing by itself.
        if let Some(first) = rows.iter_mut().find(|one| one.record.id == first) {
            first.put_right(entry.record);
        }
    }
    Ok(Legible {
        rows,
        unread: read.unread,
    })
}

/// One change, as it was last put right.
pub(crate) fn change(connection: &Connection, id: i64) -> Result<ChangeRecord, StoreError> {
    let sql = "SELECT bow_id FROM setup_change WHERE id = ?1";
    let bow_id = connection.query_row(sql, [id], |row| row.get(0));
    let bow_id = found(bow_id, Thing::Change, id)?;
    let mut recorded = recorded_changes(connection, bow_id)?.into_iter();
    let asked = recorded.find(|entry| entry.record.id == id);
    let missing = StoreError::NotFound {
        thing: Thing::Change,
        id,
    };
    Ok(asked.ok_or(missing)?.record)
}

/// A row of the list of changes, and which earlier one it corrects.
fn entry(row: &Row) -> Result<(EnteredChange, Option<i64>), StoreError> {
    let entered = SetupChange {
        kind: from_name(CHANGE, row.get(2)?)?,
        value_mm: row.get(3)?,
        note: row.get(4)?,
        at_ms: row.get(5)?,
    };
    let record = ChangeRecord {
        id: row.get(0)?,
        bow_id: row.get(1)?,
        change: entered.clone(),
        struck: row.get(8)?,
    };
    let born = row.get(6)?;
    let entry = EnteredChange {
        record,
        entered,
        born,
    };
    Ok((entry, row.get(7)?))
}
