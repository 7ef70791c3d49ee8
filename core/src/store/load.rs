//! A dump back into a fresh file. Whatever is wrong with the dump, nothing else is touched: the
//! fresh file is dropped by the caller.

use std::cell::{Cell, RefCell};
use std::fmt;
use std::io::{self, Read};
use std::path::Path;

use rusqlite::types::Value;
use rusqlite::{Transaction, params_from_iter};
use serde::Deserializer as _;
use serde::de::{DeserializeSeed, Error as _, IgnoredAny, MapAccess, SeqAccess, Visitor};
use serde_json::value::RawValue;

use super::dump::{Table, tables};
use super::ladder::APPLICATION_ID;
use super::open::translated;
use super::{StoreError, identity, ladder, place};

/// Rows a dump may have: twenty times a shop of a thousand bows with twenty trials each, and no more
/// than ten seconds of work.
const MOST_ROWS: u64 = 500_000;
/// Bytes one row may have: a trial of a thousand arrows, and no more than a phone can hold.
const ROW_BYTES: u64 = 8 << 20;
/// The largest row number, far below the one after which the engine gives no more.
const LAST_ID: i64 = 1 << 52;

/// Reads a dump of schema version `schema` into a new file at `path`.
///
/// # Errors
/// [`StoreError::Dump`] where it is none, or more than a workshop can be.
pub(crate) fn load(path: &Path, schema: i64, dump: impl Read) -> Result<(), StoreError> {
    let engine = |error| translated(path, error);
    let mut connection = place::fresh(path).map_err(engine)?;
    identity::register(
        &connection,
        identity::Entropy::default(),
        &identity::Told::default(),
    )?;
    let tx = connection.transaction()?;
    ladder::climb(&tx, 0, schema)?;
    tx.pragma_update(None, "application_id", APPLICATION_ID)?;
    let read = ladder::filled(&tx, || {
        tx.execute_batch("DELETE FROM clock")?;
        read_into(&tx, dump)
    });
    // Two rows with one id are noticed when the index of all is made.
    read.map_err(|error| match error {
        StoreError::Engine(error) if is_constraint(&error) => refused(&error),
        other => other,
    })?;
    check(&tx)?;
    tx.commit().map_err(engine)
}

fn read_into(tx: &Transaction, dump: impl Read) -> Result<(), StoreError> {
    let loading = Loading {
        tx,
        rows: Cell::new(0),
        row_bytes: Cell::new(0),
        failure: RefCell::new(None),
    };
    let metered = Metered {
        from: io::BufReader::with_capacity(1 << 16, dump),
        since_row: &loading.row_bytes,
    };
    let mut json =
        serde_json::Deserializer::from_reader(io::BufReader::with_capacity(1 << 12, metered));
    let read = json.deserialize_map(WholeDump(&loading));
    let read = read.and_then(|()| json.end());
    match (loading.failure.into_inner(), read) {
        (Some(failure), _) => Err(failure),
        (None, Err(error)) => Err(refused(error)),
        (None, Ok(())) => Ok(()),
    }
}

fn is_constraint(error: &rusqlite::Error) -> bool {
    error.sqlite_error_code() == Some(rusqlite::ErrorCode::ConstraintViolation)
}

fn refused(detail: impl fmt::Display) -> StoreError {
    StoreError::Dump {
        detail: detail.to_string(),
    }
}

/// What the engine's own constraints do not say.
fn check(tx: &Transaction) -> Result<(), StoreError> {
    let mut broken = tx.prepare("PRAGMA foreign_key_check")?;
    let mut rows = broken.query([])?;
    if let Some(row) = rows.next()? {
        let table: String = row.get(0)?;
        return Err(refused(
            ["a row of ", &table, " refers to a row that is not there"].concat(),
        ));
    }
    let far: i64 = tx.query_row(
        "SELECT max((SELECT ifnull(max(id), 0) FROM kit), (SELECT ifnull(max(id), 0) FROM bow), \
         (SELECT ifnull(max(id), 0) FROM arrow_setup), (SELECT ifnull(max(id), 0) FROM fitting), \
         (SELECT ifnull(max(id), 0) FROM trial), (SELECT ifnull(max(id), 0) FROM verdict), \
         (SELECT ifnull(max(id), 0) FROM setup_check), (SELECT ifnull(max(id), 0) FROM setup_change))",
        [],
        |row| row.get(0),
    )?;
    let nameless: i64 = tx.query_row(
        "SELECT (SELECT count(*) FROM kit WHERE uid IS NULL) + (SELECT count(*) FROM bow WHERE uid IS NULL) \
         + (SELECT count(*) FROM arrow_setup WHERE uid IS NULL) + (SELECT count(*) FROM fitting WHERE uid IS NULL) \
         + (SELECT count(*) FROM trial WHERE uid IS NULL) + (SELECT count(*) FROM verdict WHERE uid IS NULL) \
         + (SELECT count(*) FROM setup_check WHERE uid IS NULL) \
         + (SELECT count(*) FROM setup_change WHERE uid IS NULL)",
        [],
        |row| row.get(0),
    )?;
    if nameless > 0 {
        return Err(refused("some of its rows have no id"));
    }
    let clocks: i64 = tx.query_row("SELECT count(*) FROM clock", [], |row| row.get(0))?;
    if far > LAST_ID || clocks != 1 {
        return Err(refused("its row numbers or its clock are out of range"));
    }
    // The clock is later than every write; a time no clock shows is refused by the table itself.
    let latest = tx.execute_batch(
        "UPDATE clock SET tick = max(tick, (SELECT max(born) FROM (SELECT 0 AS born \
         UNION ALL SELECT max(tick) FROM kit UNION ALL SELECT max(tick) FROM bow \
         UNION ALL SELECT max(tick) FROM arrow_setup UNION ALL SELECT max(tick) FROM trial \
         UNION ALL SELECT max(tick) FROM swap UNION ALL SELECT max(tick) FROM camera \
         UNION ALL SELECT max(tick) FROM settings UNION ALL SELECT max(born) FROM trial \
         UNION ALL SELECT max(born) FROM verdict UNION ALL SELECT max(born) FROM fitting \
         UNION ALL SELECT max(born) FROM setup_check UNION ALL SELECT max(born) FROM setup_change)))",
    );
    latest.map_err(refused)
}

struct Loading<'a> {
    tx: &'a Transaction<'a>,
    rows: Cell<u64>,
    row_bytes: Cell<u64>,
    failure: RefCell<Option<StoreError>>,
}

impl Loading<'_> {
    /// Keeps what the engine said and gives the reader a reason to stop.
    fn failed<E: serde::de::Error>(&self, error: rusqlite::Error) -> E {
        let told = if is_constraint(&error) {
            refused(&error)
        } else {
            StoreError::from(error)
        };
        let words = E::custom(&told);
        self.failure.replace(Some(told));
        words
    }
}

/// Counts the bytes since the last row, so that no single row can be huge.
struct Metered<'a, R> {
    from: R,
    since_row: &'a Cell<u64>,
}

impl<R: Read> Read for Metered<'_, R> {
    fn read(&mut self, into: &mut [u8]) -> io::Result<usize> {
        let read = self.from.read(into)?;
        self.since_row.set(self.since_row.get() + read as u64);
        if self.since_row.get() > ROW_BYTES {
            return Err(io::Error::other("a row is larger than any row can be"));
        }
        Ok(read)
    }
}

struct WholeDump<'a>(&'a Loading<'a>);

impl<'de> Visitor<'de> for WholeDump<'_> {
    type Value = ();

    fn expecting(&self, f: &mut fmt::Formatter) -> fmt::Result {
        f.write_str("the tables of a workshop")
    }

    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<(), A::Error> {
        let mut seen: Vec<&str> = Vec::new();
        while let Some(key) = map.next_key::<String>()? {
            if key == "schema" {
                map.next_value::<IgnoredAny>()?;
                continue;
            }
            let table = tables().find(|table| table.name == key);
            let table = table.filter(|table| !seen.contains(&table.name));
            let table = table.ok_or_else(|| A::Error::custom("an unknown or repeated table"))?;
            seen.push(table.name);
            let filling = Filling::of(self.0, table).map_err(|error| self.0.failed(error))?;
            map.next_value_seed(filling)?;
        }
        Ok(())
    }
}

/// One table being filled.
struct Filling<'a> {
    loading: &'a Loading<'a>,
    table: &'static Table,
    /// Name and declared type.
    columns: Vec<(String, String)>,
    insert: String,
}

impl<'a> Filling<'a> {
    fn of(loading: &'a Loading<'a>, table: &'static Table) -> rusqlite::Result<Self> {
        let mut query = loading
            .tx
            .prepare("SELECT name, type FROM pragma_table_info(?1)")?;
        let rows = query.query_map([table.name], |row| Ok((row.get(0)?, row.get(1)?)))?;
        let columns: Vec<(String, String)> = rows.collect::<rusqlite::Result<_>>()?;
        let marks = vec!["?"; columns.len()].join(", ");
        Ok(Self {
            loading,
            table,
            columns,
            insert: ["INSERT INTO ", table.name, " VALUES (", &marks, ")"].concat(),
        })
    }

    fn insert(&self, values: Vec<Value>) -> rusqlite::Result<()> {
        let mut insert = self.loading.tx.prepare_cached(&self.insert)?;
        insert.execute(params_from_iter(values))?;
        Ok(())
    }

    fn value(&self, index: usize, raw: &RawValue) -> Option<Value> {
        let (name, kind) = self.columns.get(index)?;
        let text = raw.get();
        match (kind.as_str(), text.as_bytes().first()?) {
            (_, b'n') => Some(Value::Null),
            ("BLOB", b'"') => from_hex(text.trim_matches('"')).map(Value::Blob),
            ("TEXT", b'"') => serde_json::from_str(text).ok().map(Value::Text),
            ("TEXT", b'{' | b'[') if self.table.json.contains(&name.as_str()) => {
                Some(Value::Text(text.to_owned()))
            }
            ("INTEGER", b'-' | b'0'..=b'9') => text.parse().ok().map(Value::Integer),
            ("REAL", b'-' | b'0'..=b'9') => text.parse().ok().map(Value::Real),
            _ => None,
        }
    }
}

impl<'de> DeserializeSeed<'de> for Filling<'_> {
    type Value = ();

    fn deserialize<D: serde::Deserializer<'de>>(self, from: D) -> Result<(), D::Error> {
        from.deserialize_seq(self)
    }
}

impl<'de> Visitor<'de> for Filling<'_> {
    type Value = ();

    fn expecting(&self, f: &mut fmt::Formatter) -> fmt::Result {
        f.write_str("a list of rows")
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut list: A) -> Result<(), A::Error> {
        while let Some(values) = list.next_element_seed(OneRow(&self))? {
            self.insert(values)
                .map_err(|error| self.loading.failed(error))?;
            let rows = self.loading.rows.get() + 1;
            if rows > MOST_ROWS {
                return Err(A::Error::custom("more rows than a workshop can have"));
            }
            self.loading.rows.set(rows);
            self.loading.row_bytes.set(0);
        }
        Ok(())
    }
}

struct OneRow<'a>(&'a Filling<'a>);

impl<'de> DeserializeSeed<'de> for OneRow<'_> {
    type Value = Vec<Value>;

    fn deserialize<D: serde::Deserializer<'de>>(self, from: D) -> Result<Self::Value, D::Error> {
        from.deserialize_map(self)
    }
}

impl<'de> Visitor<'de> for OneRow<'_> {
    type Value = Vec<Value>;

    fn expecting(&self, f: &mut fmt::Formatter) -> fmt::Result {
        f.write_str("a row with its columns")
    }

    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Self::Value, A::Error> {
        let columns = &self.0.columns;
        let mut values: Vec<Option<Value>> = vec![None; columns.len()];
        while let Some(key) = map.next_key::<String>()? {
            let raw = map.next_value::<Box<RawValue>>()?;
            let index = columns.iter().position(|(name, _)| *name == key);
            let index = index.filter(|&index| values[index].is_none());
            let index = index.ok_or_else(|| A::Error::custom("an unknown or repeated column"))?;
            let value = self.0.value(index, &raw);
            values[index] = Some(value.ok_or_else(|| {
                A::Error::custom(
                    [
                        "column ",
                        &key,
                        " of ",
                        self.0.table.name,
                        " is of another kind",
                    ]
                    .concat(),
                )
            })?);
        }
        Ok(values
            .into_iter()
            .map(|value| value.unwrap_or(Value::Null))
            .collect())
    }
}

fn from_hex(text: &str) -> Option<Vec<u8>> {
    let digits: Option<Vec<u32>> = text.chars().map(|digit| digit.to_digit(16)).collect();
    let digits = digits.filter(|digits| digits.len() % 2 == 0)?;
    let bytes = digits.chunks_exact(2);
    Some(bytes.map(|two| (two[0] * 16 + two[1]) as u8).collect())
}
