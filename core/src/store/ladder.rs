//! The `user_version` ladder. To add a version: write `schema/00N.sql`, append it here, freeze the
//! version before it under `tests/data/workshops/`, and let the tests compare.

use rusqlite::Transaction;

use super::StoreError;

/// "SHMW": tells a workshop from other programs' databases.
pub(super) const APPLICATION_ID: i64 = 0x5348_4D57;
/// One script per version, oldest first; script N leads from version N to N + 1.
const SCRIPTS: [&str; 8] = [
    include_str!("schema/001.sql"),
    include_str!("schema/002.sql"),
    include_str!("schema/003.sql"),
    include_str!("schema/004.sql"),
    include_str!("schema/005.sql"),
    include_str!("schema/006.sql"),
    include_str!("schema/007.sql"),
    include_str!("schema/008.sql"),
];

/// The schema version this program writes.
pub const SCHEMA_VERSION: i64 = SCRIPTS.len() as i64;

/// Climbs from version `from` to version `to` inside the caller's transaction.
pub(super) fn climb(tx: &Transaction, from: i64, to: i64) -> Result<(), StoreError> {
    let steps = |version: i64| usize::try_from(version).unwrap_or(0).min(SCRIPTS.len());
    let scripts = SCRIPTS.get(steps(from)..steps(to)).unwrap_or_default();
    for script in scripts {
        without_triggers(tx, || Ok(tx.execute_batch(script)?))?;
    }
    tx.pragma_update(None, "user_version", to)?;
    Ok(())
}

/// Does `work` with the file's triggers put away: they guard and count what people record, not
/// what moves as a whole.
pub(super) fn without_triggers<T>(
    tx: &Transaction,
    work: impl FnOnce() -> Result<T, StoreError>,
) -> Result<T, StoreError> {
    without(tx, "trigger", work)
}

/// Does `work`, which fills an empty file, with its triggers and indexes put away: an index is made
/// faster of all rows at once than row by row.
pub(super) fn filled<T>(
    tx: &Transaction,
    work: impl FnOnce() -> Result<T, StoreError>,
) -> Result<T, StoreError> {
    without(tx, "trigger", || without(tx, "index", work))
}

fn without<T>(
    tx: &Transaction,
    kind: &str,
    work: impl FnOnce() -> Result<T, StoreError>,
) -> Result<T, StoreError> {
    // What the engine made of a table's own keys has no text, and stays.
    let named = "SELECT name, sql FROM main.sqlite_schema WHERE type = ?1 AND sql IS NOT NULL";
    let mut query = tx.prepare(named)?;
    let rows = query.query_map([kind], |row| Ok((row.get(0)?, row.get(1)?)))?;
    let put_away: Vec<(String, String)> = rows.collect::<rusqlite::Result<_>>()?;
    for (name, _) in &put_away {
        tx.execute_batch(&dropped(kind, name))?;
    }
    let done = work()?;
    for (_, sql) in &put_away {
        tx.execute_batch(sql)?;
    }
    Ok(done)
}

/// The statement that drops a trigger or an index; its name cannot be a parameter.
fn dropped(kind: &str, name: &str) -> String {
    let name = name.replace('"', "\"\"");
    ["DROP ", kind, " main.\"", &name, "\""].concat()
}
