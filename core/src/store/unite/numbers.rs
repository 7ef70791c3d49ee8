//! Which row of which file becomes which row of the union.

use std::cmp::Reverse;

use rusqlite::types::Value;
use rusqlite::{Connection, Row};

use super::super::StoreError;

/// The names of the two files, as they are attached.
pub(super) const SIDES: [&str; 2] = ["a", "b"];

/// A row of one of the two files.
#[derive(Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Copy {
    uid: Vec<u8>,
    /// Of two copies the later write stands, of two at the same moment the one with the larger mark.
    written: Reverse<(i64, Option<Vec<u8>>)>,
    /// Its place in [`SIDES`].
    side: usize,
    old: i64,
    born: i64,
    /// The bow it belongs to, in its file.
    bow: Option<i64>,
}

/// Numbers the rows of both files in the order of their births and writes `NAME_map`: `old` of `side`
/// becomes `new`; the copy with `place` 1 stands. `listed` reads side, id, uid, born, tick, mark and
/// bow of every row of both.
pub(super) fn number(connection: &Connection, name: &str, listed: &str) -> Result<(), StoreError> {
    let mut query = connection.prepare(listed)?;
    let copies = query.query_map([], copy)?;
    let mut copies: Vec<Copy> = copies.collect::<rusqlite::Result<_>>()?;
    copies.sort_unstable();
    let mut rows: Vec<&[Copy]> = copies.chunk_by(|one, next| one.uid == next.uid).collect();
    rows.sort_by_key(|row| row.iter().map(|copy| copy.born).min());
    let made = [
        "CREATE TEMP TABLE ",
        name,
        "_map (side TEXT, old INTEGER, new INTEGER, place INTEGER, tick INTEGER, bow INTEGER, \
         PRIMARY KEY (side, old)) WITHOUT ROWID",
    ];
    connection.execute_batch(&made.concat())?;
    let filled = ["INSERT INTO ", name, "_map VALUES (?1, ?2, ?3, ?4, ?5, ?6)"];
    let mut insert = connection.prepare(&filled.concat())?;
    for (index, row) in rows.iter().enumerate() {
        for (place, copy) in row.iter().enumerate() {
            let (new, place) = (index as i64 + 1, place as i64 + 1);
            let side = SIDES.get(copy.side);
            let tick = copy.written.0.0;
            insert.execute((side, copy.old, new, place, tick, copy.bow))?;
        }
    }
    Ok(())
}

fn copy(row: &Row) -> rusqlite::Result<Copy> {
    let bytes = |index: usize| -> rusqlite::Result<Option<Vec<u8>>> {
        match row.get(index)? {
            Value::Blob(bytes) => Ok(Some(bytes)),
            _ => Ok(None),
        }
    };
    Ok(Copy {
        side: usize::from(row.get::<_, u8>(0)?),
        old: row.get(1)?,
        uid: bytes(2)?.unwrap_or_default(),
        born: row.get(3)?,
        written: Reverse((row.get(4)?, bytes(5)?)),
        bow: row.get(6)?,
    })
}
