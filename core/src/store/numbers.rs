//! The numbers that stand on the pages of a table, whatever else of them can be read.
//!
//! Format: the `SQLite` database file format, <https://www.sqlite.org/fileformat2.html>, sections 1.3
//! (head), 1.6 (pages of a tree) and 2.1 (rows in them).

use std::collections::BTreeSet;
use std::fs::File;
use std::io::{self, Read, Seek, SeekFrom};
use std::path::Path;

/// The length of the file's own head, which the first page begins with.
const HEAD: usize = 100;

const INDEX_INTERIOR: u8 = 2;
const TABLE_INTERIOR: u8 = 5;
const INDEX_LEAF: u8 = 10;
const TABLE_LEAF: u8 = 13;

/// The number of every row on the pages below `root`, and every one that parts two of them; where
/// rows have no number, their first columns. The journal of the file is not looked at.
pub(super) fn numbers(path: &Path, root: u32) -> io::Result<BTreeSet<i64>> {
    let mut file = File::open(path)?;
    let size = page_size(&mut file)?;
    let (mut found, mut seen, mut open) = (BTreeSet::new(), BTreeSet::new(), vec![root]);
    while let Some(number) = open.pop() {
        // A page that is named twice is looked at once; one beyond the file's end is none.
        if !seen.insert(number) {
            continue;
        }
        if let Ok(page) = Page::read(&mut file, number, size) {
            open.extend(page.children());
            found.extend(page.numbers());
        }
    }
    Ok(found)
}

fn page_size(file: &mut File) -> io::Result<usize> {
    let mut head = [0; HEAD];
    file.read_exact(&mut head)?;
    Ok(match u16::from_be_bytes([head[16], head[17]]) {
        1 => 65_536,
        size => usize::from(size),
    })
}

/// A page of a table's tree.
struct Page {
    bytes: Vec<u8>,
    /// Where its head stands.
    start: usize,
}

impl Page {
    fn read(file: &mut File, number: u32, size: usize) -> io::Result<Self> {
        let before = u64::from(number).saturating_sub(1) * size as u64;
        file.seek(SeekFrom::Start(before))?;
        let mut bytes = vec![0; size];
        file.read_exact(&mut bytes)?;
        let start = if number == 1 { HEAD } else { 0 };
        Ok(Self { bytes, start })
    }

    fn kind(&self) -> u8 {
        self.bytes.get(self.start).copied().unwrap_or(0)
    }

    fn is_interior(&self) -> bool {
        matches!(self.kind(), INDEX_INTERIOR | TABLE_INTERIOR)
    }

    fn short(&self, at: usize) -> Option<usize> {
        let bytes = self.bytes.get(at..at + 2)?.try_into().ok()?;
        Some(usize::from(u16::from_be_bytes(bytes)))
    }

    fn long(&self, at: usize) -> Option<u32> {
        let bytes = self.bytes.get(at..at + 4)?.try_into().ok()?;
        Some(u32::from_be_bytes(bytes))
    }

    /// Where its cells stand. `SQLite` reads nothing of a page that says it has more than fit, at
    /// six bytes each.
    fn cells(&self) -> impl Iterator<Item = usize> {
        let size = self.bytes.len();
        let count = self.short(self.start + 3).unwrap_or(0);
        let count = if count > size / 6 { 0 } else { count };
        let list = self.start + if self.is_interior() { 12 } else { 8 };
        let cells = (0..count).map_while(move |index| self.short(list + 2 * index));
        cells.map(move |at| at % size)
    }

    /// The pages below it.
    fn children(&self) -> Vec<u32> {
        if !self.is_interior() {
            return Vec::new();
        }
        let left = self.cells().filter_map(|at| self.long(at));
        left.chain(self.long(self.start + 8)).collect()
    }

    fn numbers(&self) -> Vec<i64> {
        self.cells().filter_map(|at| self.number(at)).collect()
    }

    /// The number in a cell: behind the page it leads to, and behind the row's length.
    fn number(&self, at: usize) -> Option<i64> {
        match self.kind() {
            TABLE_LEAF => Some(self.varint(self.varint(at)?.1)?.0),
            TABLE_INTERIOR => Some(self.varint(at + 4)?.0),
            INDEX_LEAF => self.first_column(self.varint(at)?.1),
            INDEX_INTERIOR => self.first_column(self.varint(at + 4)?.1),
            _ => None,
        }
    }

    /// The first column of a row, where it is a whole number.
    fn first_column(&self, at: usize) -> Option<i64> {
        let (head, types) = self.varint(at)?;
        let length = match self.varint(types)?.0 {
            length @ 1..=4 => length as usize,
            5 => 6,
            6 => 8,
            value @ 8..=9 => return Some(value - 8),
            _ => return None,
        };
        let from = at.checked_add(usize::try_from(head).ok()?)?;
        let bytes = self.bytes.get(from..from.checked_add(length)?)?;
        let sign = if bytes[0] < 0x80 { 0 } else { -1 };
        let shifted = |value, byte: &u8| value << 8 | i64::from(*byte);
        Some(bytes.iter().fold(sign, shifted))
    }

    /// A number of one to nine bytes, and where the next thing stands.
    fn varint(&self, at: usize) -> Option<(i64, usize)> {
        let bytes = self.bytes.get(at..)?;
        let mut value = 0;
        for (index, byte) in bytes.iter().take(8).enumerate() {
            value = value << 7 | i64::from(byte & 0x7f);
            if byte & 0x80 == 0 {
                return Some((value, at + index + 1));
            }
        }
        let last = bytes.get(8)?;
        Some((value << 8 | i64::from(*last), at + 9))
    }
}

#[cfg(test)]
mod tests {
    use std::path::PathBuf;

    use rusqlite::Connection;

    use super::*;

    /// A file with the numbers given in a table with numbered rows and in one without.
    fn file_of(name: &str, given: &[i64]) -> PathBuf {
        let name = format!("shimwright-{name}-{}", std::process::id());
        let path = std::env::temp_dir().join(name);
        let _ = std::fs::remove_file(&path);
        let mut file = Connection::open(&path).unwrap();
        let tx = file.transaction().unwrap();
        let made = "CREATE TABLE numbered (id INTEGER PRIMARY KEY, text TEXT); \
                    CREATE TABLE bare (a INTEGER, b INTEGER, PRIMARY KEY (a, b)) WITHOUT ROWID";
        tx.execute_batch(made).unwrap();
        for number in given {
            let text = "x".repeat((number & 0xff) as usize);
            let row = "INSERT INTO numbered VALUES (?1, ?2)";
            tx.execute(row, (number, text)).unwrap();
            let rows = "INSERT INTO bare VALUES (?1, 1), (?1, 2)";
            tx.execute(rows, [number]).unwrap();
        }
        tx.commit().unwrap();
        path
    }

    fn root(path: &Path, table: &str) -> u32 {
        let root = "SELECT rootpage FROM sqlite_schema WHERE name = ?1";
        let file = Connection::open(path).unwrap();
        file.query_row(root, [table], |row| row.get(0)).unwrap()
    }

    /// Whole numbers of every length in bytes, of both signs.
    fn of_every_length(count: i64) -> Vec<i64> {
        // Odd multiples of a 64-bit golden ratio are spread over all of them.
        let spread = |number: i64| number.wrapping_mul(0x9e37_79b9_7f4a_7c15_u64 as i64);
        let all = (1..=count).map(|number| spread(number) >> (number % 64));
        let mut all: Vec<i64> = all.chain([i64::MIN, -1, 0, 1, i64::MAX]).collect();
        all.sort_unstable();
        all.dedup();
        all
    }

    #[test]
    fn they_are_the_numbers_that_sqlite_wrote() {
        let given = of_every_length(3_000);
        let path = file_of("written", &given);
        for table in ["numbered", "bare"] {
            let found = numbers(&path, root(&path, table)).unwrap();
            assert!(found.iter().eq(given.iter()), "{table}");
        }
        std::fs::remove_file(path).unwrap();
    }

    #[test]
    fn pages_that_lead_to_one_another_are_looked_at_once() {
        let path = file_of("circle", &(1..=2_000).collect::<Vec<_>>());
        let root = root(&path, "numbered");
        let mut bytes = std::fs::read(&path).unwrap();
        let last_child = (root as usize - 1) * 4096 + 8;
        bytes[last_child..last_child + 4].copy_from_slice(&root.to_be_bytes());
        std::fs::write(&path, bytes).unwrap();
        let found = numbers(&path, root).unwrap().len();
        assert!((1_000..2_000).contains(&found), "{found}");
        std::fs::remove_file(path).unwrap();
    }
}
