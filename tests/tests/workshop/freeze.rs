//! Writes the frozen copy of the current version: run it once, when a version ships.

use std::fmt::Write as _;
use std::path::Path;

use rusqlite::Connection;
use shimwright::flight::ArrowSetup;
use shimwright::frame::Side;
use shimwright::record::{FittingReason, SetupChange};
use shimwright::store::SCHEMA_VERSION;
use shimwright::verdict::{CheckItem, MakerRange};

use crate::workshop::bench::{Folder, alike, face, finish, paper, workshop};

#[test]
#[ignore = "writes tests/data/workshops: run it with --ignored when a version ships"]
fn freeze_the_current_version() {
    let folder = Folder::new();
    let (mut workshop, bow) = workshop(&folder);
    let brace = MakerRange {
        item: CheckItem::BraceHeight,
        low: Some(158.0),
        high: Some(162.0),
    };
    workshop.save_maker_range(bow, &brace, 1_500).unwrap();
    workshop.save_trial(bow, &face(90.0), 2_000).unwrap();
    let given = workshop.give_verdict(bow, 3_000).unwrap();
    let to = alike("A", Side::Right);
    workshop
        .start_swap(bow, &to, FittingReason::Verdict, Some(given.id), 4_000)
        .unwrap();
    finish(&mut workshop, bow);
    let change = SetupChange {
        kind: shimwright::record::ChangeKind::RestMoved,
        value_mm: Some(0.4),
        note: "a hair".into(),
        at_ms: 5_500,
    };
    workshop.record_change(bow, &change).unwrap();
    workshop.save_trial(bow, &paper(), 6_000).unwrap();
    let arrows = workshop
        .save_arrow_setup(bow, None, "Field", &ArrowSetup::usual())
        .unwrap();
    workshop
        .archive_arrow_setup(arrows.id, true, 7_000)
        .unwrap();
    drop(workshop);
    let sql = dump(&Connection::open(folder.file()).unwrap());
    let name = format!("data/workshops/version-{SCHEMA_VERSION}.sql");
    std::fs::write(Path::new(env!("CARGO_MANIFEST_DIR")).join(name), sql).unwrap();
}

/// Schema, rows and pragmas as one script.
fn dump(connection: &Connection) -> String {
    let all = |sql: &str| -> Vec<String> {
        let mut query = connection.prepare(sql).unwrap();
        let rows = query.query_map([], |row| row.get(0)).unwrap();
        rows.map(Result::unwrap).collect()
    };
    let mut script = String::from(
        "-- A workshop file as this version wrote it, with rows. Never edited.\nPRAGMA foreign_keys = OFF;\n",
    );
    for sql in all("SELECT sql FROM sqlite_schema WHERE type = 'table' ORDER BY rowid") {
        writeln!(script, "{sql};").unwrap();
    }
    for table in all("SELECT name FROM sqlite_schema WHERE type = 'table' ORDER BY rowid") {
        let columns = all(&format!(
            "SELECT 'quote(' || name || ')' FROM pragma_table_info('{table}')"
        ));
        let row = columns.join(" || ', ' || ");
        for values in all(&format!("SELECT {row} FROM {table}")) {
            writeln!(script, "INSERT INTO {table} VALUES ({values});").unwrap();
        }
    }
    for sql in all(
        "SELECT sql FROM sqlite_schema WHERE type <> 'table' AND sql IS NOT NULL ORDER BY rowid",
    ) {
        writeln!(script, "{sql};").unwrap();
    }
    for pragma in ["application_id", "user_version"] {
        let value: i64 = connection
            .pragma_query_value(None, pragma, |row| row.get(0))
            .unwrap();
        writeln!(script, "PRAGMA {pragma} = {value};").unwrap();
    }
    script
}
