//! Kits.

use rusqlite::{Connection, Transaction, params};

use super::form::{self, StoredCount, StoredKit};
use super::identity::tick;
use super::row::{Legible, found, legible};
use super::{StoreError, Thing};
use crate::record::KitRecord;
use crate::spacer::{KitDraft, PairCount};

const TABLE: &str = "kit";

pub(crate) fn insert_kit(
    tx: &Transaction,
    kit: &KitDraft,
    owned: &[PairCount],
) -> Result<i64, StoreError> {
    tx.execute(
        "INSERT INTO kit (kit, owned, uid, born, tick, mark) \
         VALUES (?1, ?2, new_uid(?3), ?3, ?3, new_uid(?3))",
        params![kit_text(kit)?, owned_text(owned)?, tick(tx, None)?],
    )?;
    Ok(tx.last_insert_rowid())
}

pub(crate) fn update_kit(tx: &Transaction, record: &KitRecord) -> Result<(), StoreError> {
    let changed = tx.execute(
        "UPDATE kit SET kit = ?2, owned = ?3, tick = ?4, mark = new_uid(?4) WHERE id = ?1",
        params![
            record.id,
            kit_text(&record.kit)?,
            owned_text(&record.owned)?,
            tick(tx, None)?
        ],
    )?;
    match changed {
        0 => Err(StoreError::NotFound {
            thing: Thing::Kit,
            id: record.id,
        }),
        _ => Ok(()),
    }
}

fn kit_text(kit: &KitDraft) -> Result<String, StoreError> {
    form::written::<StoredKit>(TABLE, kit.clone())
}

fn owned_text(owned: &[PairCount]) -> Result<String, StoreError> {
    form::written_list::<StoredCount>(TABLE, owned.to_vec())
}

/// Puts a kit away, or takes it out again with `None`.
pub(crate) fn archive_kit(
    tx: &Transaction,
    id: i64,
    archived_ms: Option<i64>,
) -> Result<(), StoreError> {
    tx.execute(
        "UPDATE kit SET archived_ms = ?2, tick = ?3, mark = new_uid(?3) WHERE id = ?1",
        params![id, archived_ms, tick(tx, archived_ms)?],
    )?;
    Ok(())
}

pub(crate) fn kit(connection: &Connection, id: i64) -> Result<KitRecord, StoreError> {
    let row = connection.query_row(
        "SELECT id, kit, owned, archived_ms FROM kit WHERE id = ?1",
        [id],
        |row| Columns::try_from(row),
    );
    read(found(row, Thing::Kit, id)?)
}

pub(crate) fn kits(connection: &Connection) -> Result<Vec<KitRecord>, StoreError> {
    Ok(legible_kits(connection)?.rows)
}

/// The same, with the rows that cannot be read.
pub(super) fn legible_kits(connection: &Connection) -> Result<Legible<KitRecord>, StoreError> {
    let mut query =
        connection.prepare_cached("SELECT id, kit, owned, archived_ms FROM kit ORDER BY id")?;
    legible(query.query([])?, Thing::Kit, |row| {
        read(Columns::try_from(row)?)
    })
}

type Columns = (i64, String, String, Option<i64>);

fn read((id, kit, owned, archived_ms): Columns) -> Result<KitRecord, StoreError> {
    Ok(KitRecord {
        id,
        kit: form::read::<StoredKit>(TABLE, &kit)?,
        owned: form::read::<Vec<StoredCount>>(TABLE, &owned)?,
        archived_ms,
    })
}
