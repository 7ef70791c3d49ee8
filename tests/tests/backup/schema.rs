//! The published JSON Schema of `workshop.json` describes every table and column there is.

use serde_json::Value;

use crate::backup::shelf::stocked;
use crate::workshop::bench::Folder;

#[test]
fn every_column_of_the_present_version_is_described() {
    let folder = Folder::new();
    drop(stocked(&folder));
    let published = include_str!("../../../core/src/backup/workshop.schema.json");
    let published: Value = serde_json::from_str(published).unwrap();
    let file = rusqlite::Connection::open(folder.file()).unwrap();
    let mut tables = file
        .prepare("SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite%'")
        .unwrap();
    let tables = tables.query_map([], |row| row.get::<_, String>(0)).unwrap();
    let mut seen = 0;
    for table in tables.map(Result::unwrap) {
        let described = &published["properties"][&table]["items"]["properties"];
        let mut columns = file
            .prepare("SELECT name FROM pragma_table_info(?1)")
            .unwrap();
        let columns = columns
            .query_map([&table], |row| row.get::<_, String>(0))
            .unwrap();
        for column in columns.map(Result::unwrap) {
            assert!(
                described.get(&column).is_some(),
                "{table}.{column} is not described"
            );
            seen += 1;
        }
    }
    assert!(seen > 80, "only {seen} columns found");
}
