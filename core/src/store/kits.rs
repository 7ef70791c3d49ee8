//! Kits.

use rusqlite::{Connection, Row, Transaction, params};

use super::row::{found, from_json, json};
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
        "INSERT INTO kit (kit, owned) VALUES (?1, ?2)",
        params![json(TABLE, kit)?, json(TABLE, &owned)?],
    )?;
    Ok(tx.last_insert_rowid())
}

pub(crate) fn update_kit(tx: &Transaction, record: &KitRecord) -> Result<(), StoreError> {
    let changed = tx.execute(
        "UPDATE kit SET kit = ?2, owned = ?3 WHERE id = ?1",
        params![
            record.id,
            json(TABLE, &record.kit)?,
            json(TABLE, &record.owned)?
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

pub(crate) fn kit(connection: &Connection, id: i64) -> Result<KitRecord, StoreError> {
    let row = connection.query_row(
        "SELECT id, kit, owned FROM kit WHERE id = ?1",
        [id],
        columns,
    );
    read(found(row, Thing::Kit, id)?)
}

pub(crate) fn kits(connection: &Connection) -> Result<Vec<KitRecord>, StoreError> {
    let mut query = connection.prepare_cached("SELECT id, kit, owned FROM kit ORDER BY id")?;
    let rows = query.query_map([], columns)?;
    rows.map(|row| read(row?)).collect()
}

fn columns(row: &Row) -> rusqlite::Result<(i64, String, String)> {
    Ok((row.get(0)?, row.get(1)?, row.get(2)?))
}

fn read((id, kit, owned): (i64, String, String)) -> Result<KitRecord, StoreError> {
    Ok(KitRecord {
        id,
        kit: from_json(TABLE, &kit)?,
        owned: from_json(TABLE, &owned)?,
    })
}
