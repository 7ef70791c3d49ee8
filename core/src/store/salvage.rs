//! What can still be read of a damaged file, in a new one.

use std::fs;
use std::path::Path;

use rusqlite::types::Value;
use rusqlite::{Connection, Transaction, params_from_iter};

use super::dump::{Table, tables};
use super::known::known;
use super::ladder::APPLICATION_ID;
use super::open::known_version;
use super::place::{self, Scratch};
use super::reading::{Damaged, read};
use super::{Entropy, StoreError, aside, identity, ladder};

/// What came of one table.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SalvagedTable {
    /// The table: bow, trial, fitting and so on.
    pub table: String,
    /// Rows that are in the new file.
    pub saved: u32,
    /// Rows known to be missing: those the file lists but does not hold, and rows of bows or fittings
    /// that are gone.
    pub missing: u32,
    /// Whether more may be missing: no list of its rows could be read to the end.
    pub at_least: bool,
}

/// Makes a new workshop file at `path` of what can be read of `damaged`, which is only read. What
/// stands at `path` is kept under another name.
///
/// # Errors
/// [`StoreError::Corrupt`] where nothing can be read; `path` is then as it was.
pub fn salvage(damaged: &Path, path: &Path) -> Result<Vec<SalvagedTable>, StoreError> {
    // Opening a file plays its journal into it, so that is done to a copy.
    let copy = Scratch::beside(path);
    let io = |error: std::io::Error| StoreError::Io {
        path: damaged.to_owned(),
        detail: error.to_string(),
    };
    for suffix in ["", "-wal"] {
        let part = aside::with_suffix(damaged, suffix);
        if part.exists() {
            fs::copy(part, aside::with_suffix(copy.path(), suffix)).map_err(io)?;
        }
    }
    // What this cannot do, reading on cannot either.
    let _ = place::gather_journal(copy.path());
    let connection = Connection::open(copy.path())?;
    let version = known_version(&connection, damaged)?;
    let from = Damaged {
        connection: &connection,
        path: copy.path(),
    };
    let fresh = Scratch::beside(path);
    let saved = salvage_into(&from, version, fresh.path())?;
    drop(connection);
    drop(super::Store::open(fresh.path(), Entropy::default())?);
    place::put_in_place(fresh.path(), path)?;
    Ok(saved)
}

fn salvage_into(
    from: &Damaged,
    version: i64,
    fresh: &Path,
) -> Result<Vec<SalvagedTable>, StoreError> {
    let mut into = Connection::open(fresh)?;
    identity::register(&into, Entropy::default(), &identity::Told::default())?;
    into.pragma_update(None, "foreign_keys", false)?;
    let tx = into.transaction()?;
    ladder::climb(&tx, 0, version)?;
    tx.pragma_update(None, "application_id", APPLICATION_ID)?;
    let saved = ladder::without_triggers(&tx, || {
        let mut found = Vec::new();
        for table in tables() {
            let hurt = salvage_table(from, &tx, table)?;
            found.extend(hurt.map(|hurt| (table, hurt)));
        }
        let counted = found.into_iter();
        let counted = counted.map(|(table, hurt)| SalvagedTable::counted(from, &tx, table, hurt));
        let mut saved = counted.collect::<Result<Vec<_>, _>>()?;
        for one in &mut saved {
            one.drop_orphans(&tx)?;
        }
        Ok(saved)
    })?;
    tx.execute_batch("INSERT OR IGNORE INTO clock SELECT 1, max(born) FROM trial")?;
    tx.commit()?;
    Ok(saved)
}

/// Copies every row of a table that can be read, and answers whether some of it could not be; `None`
/// for a table that this version has not.
fn salvage_table(
    from: &Damaged,
    tx: &Transaction,
    table: &Table,
) -> Result<Option<bool>, StoreError> {
    let columns: i64 = tx.query_row(
        "SELECT count(*) FROM pragma_table_info(?1)",
        [table.name],
        |row| row.get(0),
    )?;
    if columns == 0 {
        return Ok(None);
    }
    let marks = vec!["?"; columns as usize].join(", ");
    let insert = [
        "INSERT OR IGNORE INTO ",
        table.name,
        " VALUES (",
        &marks,
        ")",
    ]
    .concat();
    let mut refused = false;
    let mut keep = |values: Vec<Value>| {
        // What breaks the table's own rules was damaged too.
        refused |= tx.execute(&insert, params_from_iter(values)).is_err();
    };
    let hurt = read(from, table, columns as usize, &mut keep);
    Ok(Some(hurt || refused))
}

/// Which rows of a table hang on rows of another that may be lost.
const ORPHANS: [(&str, &str); 9] = [
    (
        "bow",
        "UPDATE bow SET kit_id = NULL WHERE kit_id NOT IN (SELECT id FROM kit)",
    ),
    (
        "arrow_setup",
        "DELETE FROM arrow_setup WHERE bow_id NOT IN (SELECT id FROM bow)",
    ),
    (
        "fitting",
        "UPDATE fitting SET verdict_id = NULL WHERE verdict_id NOT IN (SELECT id FROM verdict); \
         UPDATE fitting SET corrects_id = NULL WHERE corrects_id NOT IN (SELECT id FROM fitting); \
         DELETE FROM fitting WHERE bow_id NOT IN (SELECT id FROM bow) \
         OR kit_id NOT IN (SELECT id FROM kit); \
         UPDATE fitting SET corrects_id = NULL WHERE corrects_id NOT IN (SELECT id FROM fitting)",
    ),
    (
        "trial",
        "UPDATE trial SET arrow_setup_id = NULL \
         WHERE arrow_setup_id NOT IN (SELECT id FROM arrow_setup); \
         DELETE FROM trial WHERE bow_id NOT IN (SELECT id FROM bow) \
         OR fitting_id NOT IN (SELECT id FROM fitting)",
    ),
    (
        "verdict",
        "UPDATE verdict SET last_trial_id = NULL \
         WHERE last_trial_id NOT IN (SELECT id FROM trial); \
         DELETE FROM verdict WHERE bow_id NOT IN (SELECT id FROM bow) \
         OR fitting_id NOT IN (SELECT id FROM fitting); \
         UPDATE fitting SET verdict_id = NULL WHERE verdict_id NOT IN (SELECT id FROM verdict)",
    ),
    (
        "setup_check",
        "DELETE FROM setup_check WHERE bow_id NOT IN (SELECT id FROM bow)",
    ),
    (
        "setup_change",
        "DELETE FROM setup_change WHERE bow_id NOT IN (SELECT id FROM bow)",
    ),
    (
        "swap",
        "DELETE FROM swap WHERE bow_id NOT IN (SELECT id FROM bow); \
         UPDATE swap SET verdict_id = NULL WHERE verdict_id NOT IN (SELECT id FROM verdict)",
    ),
    (
        "fitting_parent",
        "DELETE FROM fitting_parent WHERE fitting_id NOT IN (SELECT id FROM fitting) \
         OR parent_id NOT IN (SELECT id FROM fitting)",
    ),
];

impl SalvagedTable {
    /// What came of a table whose readable rows are in `tx`.
    fn counted(
        from: &Damaged,
        tx: &Transaction,
        table: &Table,
        hurt: bool,
    ) -> Result<Self, StoreError> {
        let count = ["SELECT count(*) FROM ", table.name].concat();
        let saved: i64 = tx.query_row(&count, [], |row| row.get(0))?;
        let known = known(from.connection, tx, table, saved, hurt)?;
        let shown = |rows: i64| u32::try_from(rows).unwrap_or(u32::MAX);
        Ok(Self {
            table: table.name.to_owned(),
            saved: shown(saved),
            missing: shown(known.rows - saved),
            at_least: known.at_least,
        })
    }

    /// Takes out what refers to lost rows, and counts it with them.
    fn drop_orphans(&mut self, tx: &Transaction) -> Result<(), StoreError> {
        let Some((_, sql)) = ORPHANS.iter().find(|(table, _)| *table == self.table) else {
            return Ok(());
        };
        let count = ["SELECT count(*) FROM ", &self.table].concat();
        tx.execute_batch(sql)?;
        let left: i64 = tx.query_row(&count, [], |row| row.get(0))?;
        let left = u32::try_from(left).unwrap_or(u32::MAX).min(self.saved);
        self.missing += self.saved - left;
        self.saved = left;
        Ok(())
    }
}
