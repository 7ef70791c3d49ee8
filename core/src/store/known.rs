//! How many rows a damaged file had, by what is left of it.
//!
//! An index lists the rows of its table on pages of its own, so it tells of rows whose own page is
//! gone. Where no index can be read to its end either, numbers and references say how many there
//! were at least.

use rusqlite::{Connection, Transaction};

use super::StoreError;
use super::dump::Table;

/// How many rows a table had.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Known {
    pub(super) rows: i64,
    /// Whether there may have been more.
    pub(super) at_least: bool,
}

/// What an index says of its table.
struct Listed {
    rows: i64,
    /// The largest row number in it.
    last: i64,
    whole: bool,
}

/// How many rows a table of `from` had, once the `saved` ones that could be read are in `tx`, still
/// with those that refer to lost rows; `hurt` where not all of it could be read.
pub(super) fn known(
    from: &Connection,
    tx: &Transaction,
    table: &Table,
    saved: i64,
    hurt: bool,
) -> Result<Known, StoreError> {
    let mut listed = Vec::new();
    for index in indexes(tx, table)? {
        // An index that cannot even be begun tells nothing.
        listed.extend(read_index(from, table, &index).ok());
    }
    let whole = listed.iter().filter(|index| index.whole);
    if let Some(rows) = whole.map(|index| index.rows).max() {
        return Ok(Known {
            rows: rows.max(saved),
            at_least: false,
        });
    }
    let at_least = hurt || !listed.is_empty();
    let mut rows = listed.iter().map(|index| index.rows).max().unwrap_or(0);
    if at_least && is_gapless(table) {
        let numbered = listed.iter().map(|index| index.last).max().unwrap_or(0);
        rows = rows.max(numbered).max(last_number(tx, table)?);
    }
    Ok(Known {
        rows: rows.max(saved),
        at_least,
    })
}

/// The indexes of a table that list every row of it.
fn indexes(tx: &Transaction, table: &Table) -> Result<Vec<String>, StoreError> {
    let mut query =
        tx.prepare_cached("SELECT name FROM pragma_index_list(?1) WHERE NOT partial")?;
    let names = query.query_map([table.name], |row| row.get(0))?;
    Ok(names.collect::<rusqlite::Result<_>>()?)
}

/// Reads an index from its start as far as it can be read.
fn read_index(from: &Connection, table: &Table, index: &str) -> rusqlite::Result<Listed> {
    let number = if table.name == "fitting_parent" {
        "fitting_id"
    } else {
        "rowid"
    };
    let sql = [
        "SELECT ",
        number,
        " FROM ",
        table.name,
        " INDEXED BY ",
        index,
    ]
    .concat();
    let mut query = from.prepare(&sql)?;
    let mut rows = query.query([])?;
    let mut listed = Listed {
        rows: 0,
        last: 0,
        whole: false,
    };
    loop {
        match rows.next() {
            Ok(Some(row)) => {
                listed.rows += 1;
                listed.last = listed.last.max(row.get(0)?);
            }
            Ok(None) => {
                listed.whole = true;
                return Ok(listed);
            }
            Err(_) => return Ok(listed),
        }
    }
}

/// Whether the rows of a table are numbered without a gap: nothing in it is ever deleted.
fn is_gapless(table: &Table) -> bool {
    !matches!(table.name, "fitting_parent" | "camera" | "swap")
}

/// The largest number that a row of a table has, or that another row names it by.
fn last_number(tx: &Transaction, table: &Table) -> Result<i64, StoreError> {
    let max = ["SELECT max(rowid) FROM ", table.name].concat();
    let own: Option<i64> = tx.query_row(&max, [], |row| row.get(0))?;
    let mut query = tx.prepare_cached(
        "SELECT t.name, f.\"from\" FROM sqlite_schema AS t, pragma_foreign_key_list(t.name) AS f \
         WHERE t.type = 'table' AND f.\"table\" = ?1",
    )?;
    let mut rows = query.query([table.name])?;
    let mut last = own.unwrap_or(0);
    while let Some(row) = rows.next()? {
        let (name, column): (String, String) = (row.get(0)?, row.get(1)?);
        let max = ["SELECT max(", &column, ") FROM ", &name].concat();
        let named: Option<i64> = tx.query_row(&max, [], |row| row.get(0))?;
        last = last.max(named.unwrap_or(0));
    }
    Ok(last)
}
