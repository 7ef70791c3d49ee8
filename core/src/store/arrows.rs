//! Arrow set-ups.

use rusqlite::{Connection, Transaction, params};

use super::form::{self, StoredArrows};
use super::identity::tick;
use super::row::{Legible, found, legible};
use super::{StoreError, Thing};
use crate::flight::ArrowSetup;
use crate::record::ArrowSetupRecord;

const TABLE: &str = "arrow_setup";
const COLUMNS: &str = "id, bow_id, name, setup, archived_ms";

pub(crate) fn insert_arrows(
    tx: &Transaction,
    bow_id: i64,
    name: &str,
    setup: &ArrowSetup,
) -> Result<i64, StoreError> {
    tx.execute(
        "INSERT INTO arrow_setup (bow_id, name, setup, uid, born, tick, mark) \
         VALUES (?1, ?2, ?3, new_uid(?4), ?4, ?4, new_uid(?4))",
        params![
            bow_id,
            name,
            form::written::<StoredArrows>(TABLE, *setup)?,
            tick(tx, None)?
        ],
    )?;
    Ok(tx.last_insert_rowid())
}

pub(crate) fn update_arrows(
    tx: &Transaction,
    id: i64,
    name: &str,
    setup: &ArrowSetup,
) -> Result<(), StoreError> {
    tx.execute(
        "UPDATE arrow_setup SET name = ?2, setup = ?3, tick = ?4, mark = new_uid(?4) WHERE id = ?1",
        params![
            id,
            name,
            form::written::<StoredArrows>(TABLE, *setup)?,
            tick(tx, None)?
        ],
    )?;
    Ok(())
}

/// Puts a set-up away, or takes it out again with `None`.
pub(crate) fn archive_arrows(
    tx: &Transaction,
    id: i64,
    archived_ms: Option<i64>,
) -> Result<(), StoreError> {
    tx.execute(
        "UPDATE arrow_setup SET archived_ms = ?2, tick = ?3, mark = new_uid(?3) WHERE id = ?1",
        params![id, archived_ms, tick(tx, archived_ms)?],
    )?;
    Ok(())
}

pub(crate) fn arrows(connection: &Connection, id: i64) -> Result<ArrowSetupRecord, StoreError> {
    let row = connection.query_row(
        &format!("SELECT {COLUMNS} FROM arrow_setup WHERE id = ?1"),
        [id],
        |row| Columns::try_from(row),
    );
    read(found(row, Thing::ArrowSetup, id)?)
}

/// The arrow set-ups of a bow, oldest first.
pub(crate) fn arrows_of(
    connection: &Connection,
    bow_id: i64,
) -> Result<Vec<ArrowSetupRecord>, StoreError> {
    Ok(legible_arrows_of(connection, bow_id)?.rows)
}

/// The same, with the rows that cannot be read.
pub(super) fn legible_arrows_of(
    connection: &Connection,
    bow_id: i64,
) -> Result<Legible<ArrowSetupRecord>, StoreError> {
    let mut query = connection.prepare_cached(&format!(
        "SELECT {COLUMNS} FROM arrow_setup WHERE bow_id = ?1 ORDER BY id"
    ))?;
    legible(query.query([bow_id])?, Thing::ArrowSetup, |row| {
        read(Columns::try_from(row)?)
    })
}

type Columns = (i64, i64, String, String, Option<i64>);

fn read((id, bow_id, name, setup, archived_ms): Columns) -> Result<ArrowSetupRecord, StoreError> {
    Ok(ArrowSetupRecord {
        id,
        bow_id,
        name,
        setup: form::read::<StoredArrows>(TABLE, &setup)?,
        archived_ms,
    })
}
