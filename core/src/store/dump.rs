//! Every row of the file as JSON, a piece at a time: what a backup's `workshop.json` holds.

use std::collections::BTreeMap;
use std::path::Path;

use rusqlite::types::ValueRef;
use rusqlite::{Connection, OpenFlags, Row};
use serde::de::IgnoredAny;

use super::open::translated;
use super::{SCHEMA_VERSION, StoreError};

/// Rows of one piece: few enough to stay small whatever they hold.
const ROWS: i64 = 250;

/// A table as it is dumped.
pub(super) struct Table {
    pub(super) name: &'static str,
    /// Its columns that hold JSON: they stand in the dump as what they are.
    pub(super) json: &'static [&'static str],
    /// Reads the rows after `?1`, at most `?2` of them; column 0 is what `?1` is compared with.
    pub(super) select: &'static str,
}

macro_rules! tables {
    ($($name:literal [$($json:literal),*]),* $(,)?) => {
        [$(Table {
            name: $name,
            json: &[$($json),*],
            select: concat!("SELECT rowid, * FROM ", $name, " WHERE rowid > ?1 ORDER BY rowid LIMIT ?2"),
        }),*]
    };
}

/// Every table in the order of the dump, but for the one whose rows have no number.
const TABLES: [Table; 12] = tables![
    "clock" [],
    "settings" ["settings"],
    "camera" [],
    "kit" ["kit", "owned"],
    "bow" ["priority", "maker", "remembered"],
    "arrow_setup" ["setup"],
    "fitting" [],
    "trial" ["marks"],
    "verdict" ["more", "given"],
    "setup_check" ["reopened"],
    "setup_change" [],
    "swap" ["swap"],
];

const PARENTS: Table = Table {
    name: "fitting_parent",
    json: &[],
    // All of one fitting's parents must come together, so the limit is turned off.
    select: "SELECT fitting_id, * FROM fitting_parent WHERE fitting_id > ?1 \
             ORDER BY fitting_id, parent_id LIMIT -abs(?2)",
};

/// Every table in the order of the dump.
pub(super) fn tables() -> impl Iterator<Item = &'static Table> {
    TABLES.iter().chain([&PARENTS])
}

/// A dump under way, of the file as it was when it began: what is written meanwhile is not in it.
#[derive(Debug)]
pub(crate) struct Dump {
    connection: Connection,
    table: usize,
    last: i64,
    rows_of_table: u64,
}

impl Dump {
    pub(crate) fn begin(path: &Path) -> Result<Self, StoreError> {
        let engine = |error| translated(path, error);
        let flags = OpenFlags::SQLITE_OPEN_READ_ONLY;
        let connection = Connection::open_with_flags(path, flags).map_err(engine)?;
        connection.execute_batch("BEGIN").map_err(engine)?;
        // The first read is what fixes the moment.
        connection.query_row("SELECT tick FROM clock", [], |_| Ok(()))?;
        Ok(Self {
            connection,
            table: 0,
            last: i64::MIN,
            rows_of_table: 0,
        })
    }

    /// The photographs that trials name.
    pub(crate) fn photos(&self) -> Result<Vec<String>, StoreError> {
        photos_named(&self.connection)
    }

    /// Appends the next piece to `out`; `false` when the dump is complete.
    pub(crate) fn next(&mut self, out: &mut Vec<u8>) -> Result<bool, StoreError> {
        let Some(table) = tables().nth(self.table) else {
            return Ok(false);
        };
        if self.last == i64::MIN {
            let schema = SCHEMA_VERSION.to_string();
            let opening = match self.table {
                0 => ["{\n\"schema\": ", &schema, ",\n\"", table.name, "\": ["].concat(),
                _ => [",\n\"", table.name, "\": ["].concat(),
            };
            out.extend(opening.bytes());
        }
        let read = self.piece(table, out)?;
        if read < ROWS || self.table + 1 == tables().count() {
            out.extend(b"\n]");
            (self.table, self.last, self.rows_of_table) = (self.table + 1, i64::MIN, 0);
            if tables().nth(self.table).is_none() {
                out.extend(b"\n}\n");
            }
        }
        Ok(true)
    }

    fn piece(&mut self, table: &Table, out: &mut Vec<u8>) -> Result<i64, StoreError> {
        let mut query = self.connection.prepare_cached(table.select)?;
        let names: Vec<String> = query.column_names().map(str::to_owned).collect();
        let mut rows = query.query([self.last, ROWS])?;
        let mut read = 0;
        while let Some(row) = rows.next()? {
            out.extend(if self.rows_of_table == 0 {
                &b"\n"[..]
            } else {
                b",\n"
            });
            write_row(table, &names, row, out)?;
            self.last = row.get(0)?;
            self.rows_of_table += 1;
            read += 1;
        }
        Ok(read)
    }
}

/// The photographs that trials name, each with its trials; a name that is no text is none.
pub(crate) fn photos_of_trials(
    connection: &Connection,
) -> Result<BTreeMap<String, Vec<i64>>, StoreError> {
    let mut query = connection.prepare_cached(
        "SELECT name, id FROM (SELECT id, CASE WHEN json_valid(marks) \
         THEN json_extract(marks, '$.photo.file') END AS name FROM trial) \
         WHERE typeof(name) = 'text' ORDER BY id",
    )?;
    let mut rows = query.query([])?;
    let mut photos: BTreeMap<String, Vec<i64>> = BTreeMap::new();
    while let Some(row) = rows.next()? {
        photos.entry(row.get(0)?).or_default().push(row.get(1)?);
    }
    Ok(photos)
}

/// The photographs that trials name.
pub(crate) fn photos_named(connection: &Connection) -> Result<Vec<String>, StoreError> {
    Ok(photos_of_trials(connection)?.into_keys().collect())
}

fn write_row(
    table: &Table,
    names: &[String],
    row: &Row,
    out: &mut Vec<u8>,
) -> Result<(), StoreError> {
    for (index, name) in names.iter().enumerate().skip(1) {
        out.extend(if index == 1 { &b"{\""[..] } else { b",\"" });
        out.extend(name.bytes());
        out.extend(b"\":");
        write_value(
            row.get_ref(index)?,
            table.json.contains(&name.as_str()),
            out,
        );
    }
    out.push(b'}');
    Ok(())
}

fn write_value(value: ValueRef, is_json: bool, out: &mut Vec<u8>) {
    match value {
        ValueRef::Null => out.extend(b"null"),
        ValueRef::Integer(number) => out.extend(number.to_string().bytes()),
        ValueRef::Real(number) => out.extend(serde_json::Value::from(number).to_string().bytes()),
        ValueRef::Text(text) if is_json && is_object_or_list(text) => out.extend(text),
        // Text that is no UTF-8 is kept as far as it can be read.
        ValueRef::Text(text) => {
            let text = serde_json::Value::from(String::from_utf8_lossy(text));
            out.extend(text.to_string().bytes());
        }
        ValueRef::Blob(bytes) => out.extend(["\"", &hex(bytes), "\""].concat().bytes()),
    }
}

fn is_object_or_list(text: &[u8]) -> bool {
    // From a string, as all else is read: serde_json's reader of bytes would stand in the program besides.
    let whole = |text| serde_json::from_str::<IgnoredAny>(text).is_ok();
    matches!(text.first(), Some(b'{' | b'[')) && str::from_utf8(text).is_ok_and(whole)
}

/// Lower-case hexadecimal digits.
pub(crate) fn hex(bytes: &[u8]) -> String {
    let digit = |half: u8| char::from_digit(u32::from(half), 16).unwrap_or('0');
    let digits = bytes
        .iter()
        .flat_map(|byte| [digit(byte >> 4), digit(byte & 15)]);
    digits.collect()
}
