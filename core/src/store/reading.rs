//! Every row of a damaged table that can be read.
//!
//! `SQLite` finds a row by comparing its number with those that stand on the pages on its way. Between
//! two of these the way is the same, so whatever can be found at all is found by asking behind each
//! number on a page and behind the next higher one: twice as many questions as there are numbers,
//! however far apart they are.

use std::collections::{BTreeSet, HashSet};
use std::path::Path;

use rusqlite::Connection;
use rusqlite::types::Value;

use super::dump::Table;
use super::numbers::numbers;

/// Rows that one question is answered by.
const ROWS: i64 = 100;

/// A damaged file.
pub(super) struct Damaged<'a> {
    pub(super) connection: &'a Connection,
    /// Where it lies, its journal empty.
    pub(super) path: &'a Path,
}

/// Hands every row of a table that can be read to `keep`, some of them more than once, and answers
/// whether some of the table could not be read.
pub(super) fn read(
    from: &Damaged,
    table: &Table,
    columns: usize,
    keep: &mut dyn FnMut(Vec<Value>),
) -> bool {
    let mut reading = Reading {
        from,
        table,
        columns,
        keep,
        seen: HashSet::new(),
    };
    let whole = reading.in_order().unwrap_or(false);
    if !whole {
        reading.at_every_place();
    }
    !whole
}

struct Reading<'a> {
    from: &'a Damaged<'a>,
    table: &'a Table,
    columns: usize,
    keep: &'a mut dyn FnMut(Vec<Value>),
    /// The numbers of rows that were kept.
    seen: HashSet<i64>,
}

impl Reading<'_> {
    /// Reads a table that seems sound, and answers whether that was all of it: a wrong number may
    /// stand where it leads past others without an error.
    fn in_order(&mut self) -> rusqlite::Result<bool> {
        let (mut after, mut came) = (i64::MIN, 0);
        loop {
            let numbers = self.walk(after)?;
            let (Some(first), Some(last)) = (numbers.first(), numbers.last()) else {
                return Ok(came == self.rows_on_pages()?);
            };
            if *first <= after || !numbers.is_sorted() {
                return Ok(false);
            }
            (after, came) = (*last, came + numbers.len() as i64);
        }
    }

    fn at_every_place(&mut self) {
        // Where not even the table is listed there is no place to ask at.
        let numbers = self.numbers_on_pages().unwrap_or_default();
        let behind = numbers.iter().filter_map(|number| number.checked_add(1));
        let places: BTreeSet<i64> = behind.chain(numbers.iter().copied()).collect();
        for place in [i64::MIN].into_iter().chain(places) {
            // What cannot be read here costs itself.
            let _ = self.walk(place);
        }
    }

    /// Keeps the rows after a number until there are enough, one cannot be read, or the first was
    /// kept before, and answers their numbers.
    fn walk(&mut self, after: i64) -> rusqlite::Result<Vec<i64>> {
        let mut query = self.from.connection.prepare_cached(self.table.select)?;
        let mut rows = query.query([after, ROWS])?;
        let mut numbers = Vec::new();
        while let Some(row) = rows.next()? {
            let number = row.get(0)?;
            if numbers.is_empty() && self.seen.contains(&number) {
                break;
            }
            let values = (1..=self.columns).map(|index| row.get(index));
            (self.keep)(values.collect::<rusqlite::Result<_>>()?);
            self.seen.insert(number);
            numbers.push(number);
        }
        Ok(numbers)
    }

    /// How many rows the table's own pages say they hold.
    fn rows_on_pages(&self) -> rusqlite::Result<i64> {
        let count = ["SELECT count(*) FROM ", self.table.name, " NOT INDEXED"].concat();
        let connection = self.from.connection;
        connection.query_row(&count, [], |row| row.get(0))
    }

    fn numbers_on_pages(&self) -> Option<BTreeSet<i64>> {
        let root = "SELECT rootpage FROM sqlite_schema WHERE type = 'table' AND name = ?1";
        let connection = self.from.connection;
        let root = connection.query_row(root, [self.table.name], |row| row.get(0));
        numbers(self.from.path, root.ok()?).ok()
    }
}

#[cfg(test)]
mod tests {
    use rusqlite::StatementStatus;

    use super::*;

    const TABLE: Table = Table {
        name: "numbered",
        json: &[],
        select: "SELECT rowid, * FROM numbered WHERE rowid > ?1 ORDER BY rowid LIMIT ?2",
    };
    const GIVEN: usize = 600;

    /// A file with the table, its rows of many lengths.
    fn file_of(name: &str) -> std::path::PathBuf {
        let name = format!("shimwright-{name}-{}", std::process::id());
        let path = std::env::temp_dir().join(name);
        let _ = std::fs::remove_file(&path);
        let mut file = Connection::open(&path).unwrap();
        let tx = file.transaction().unwrap();
        let made = "CREATE TABLE numbered (id INTEGER PRIMARY KEY, text TEXT)";
        tx.execute(made, []).unwrap();
        for number in given() {
            let text = "x".repeat((number & 0xff) as usize);
            let row = "INSERT INTO numbered VALUES (?1, ?2)";
            tx.execute(row, (number, text)).unwrap();
        }
        tx.commit().unwrap();
        path
    }

    /// The leaves of the table and how many rows each holds, as `SQLite` tells.
    fn leaves(path: &Path) -> Vec<(usize, usize)> {
        let file = Connection::open(path).unwrap();
        let sql = "SELECT pageno, ncell FROM dbstat WHERE name = ?1 AND pagetype = 'leaf'";
        let mut query = file.prepare(sql).unwrap();
        let leaves = query.query_map([TABLE.name], |row| {
            Ok((
                row.get::<_, i64>(0)? as usize,
                row.get::<_, i64>(1)? as usize,
            ))
        });
        leaves.unwrap().map(Result::unwrap).collect()
    }

    /// What came of reading a table.
    struct Came {
        /// How many of the rows that were written.
        rows: usize,
        /// How many questions that took.
        asked: usize,
        hurt: bool,
    }

    fn came(path: &Path) -> Came {
        let connection = &Connection::open(path).unwrap();
        let from = Damaged { connection, path };
        let mut numbers = BTreeSet::new();
        let mut keep = |values: Vec<Value>| {
            if let [Value::Integer(number), _] = values[..] {
                numbers.insert(number);
            }
        };
        let hurt = super::read(&from, &TABLE, 2, &mut keep);
        let query = connection.prepare_cached(TABLE.select).unwrap();
        Came {
            rows: given().filter(|number| numbers.contains(number)).count(),
            asked: query.get_status(StatementStatus::Run) as usize,
            hurt,
        }
    }

    /// Far apart, so that nobody asks at each number between.
    fn given() -> impl Iterator<Item = i64> {
        (1..=GIVEN as i64).map(|number| number << 40 | number)
    }

    /// Reads the table once for each leaf, spoiled by `spoil`, and hands what came of it to `check`.
    fn each_spoiled(name: &str, spoil: impl Fn(&mut [u8]), check: impl Fn(usize, Came)) {
        let path = file_of(name);
        let sound = std::fs::read(&path).unwrap();
        let leaves = leaves(&path);
        assert!(leaves.len() > 10);
        for (page, rows) in leaves {
            let mut bytes = sound.clone();
            spoil(&mut bytes[(page - 1) * 4096..page * 4096]);
            std::fs::write(&path, bytes).unwrap();
            check(rows, came(&path));
        }
        std::fs::remove_file(path).unwrap();
    }

    #[test]
    fn a_sound_table_is_asked_once_a_piece() {
        each_spoiled(
            "sound",
            |_| (),
            |_, came| {
                assert_eq!((came.rows, came.hurt), (GIVEN, false));
                assert_eq!(came.asked, GIVEN / ROWS as usize + 1);
            },
        );
    }

    #[test]
    fn a_page_that_is_gone_costs_its_own_rows() {
        each_spoiled(
            "gone",
            |page| page.fill(0x5a),
            |rows, came| {
                assert_eq!((came.rows, came.hurt), (GIVEN - rows, true));
                assert!(came.asked <= 3 * GIVEN + 1, "{}", came.asked);
            },
        );
    }

    /// A search by number may be led past them, and then no error tells.
    #[test]
    fn rows_out_of_order_are_read_and_are_damage() {
        let spoil = |page: &mut [u8]| {
            let cells = usize::from(u16::from_be_bytes([page[3], page[4]]));
            for byte in 8..10 {
                page.swap(byte, byte + 2 * (cells - 1));
            }
        };
        each_spoiled("order", spoil, |_, came| {
            assert_eq!((came.rows, came.hurt), (GIVEN, true));
        });
    }

    #[test]
    fn a_nonsense_count_of_cells_costs_no_more_questions_than_it_says() {
        const CELLS: usize = 600;
        let spoil = |page: &mut [u8]| page[3..5].copy_from_slice(&(CELLS as u16).to_be_bytes());
        each_spoiled("count", spoil, |rows, came| {
            assert!(came.rows >= GIVEN - rows, "{} of {GIVEN}", came.rows);
            assert!(came.hurt);
            assert!(came.asked <= 3 * (GIVEN + CELLS) + 1, "{}", came.asked);
        });
    }
}
