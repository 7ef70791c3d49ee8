//! The `user_version` ladder. To add a version: write `schema/00N.sql`, append it here, freeze the
//! version before it under `tests/data/workshops/`, and let the tests compare.

use rusqlite::Transaction;

use super::StoreError;

/// One script per version, oldest first; script N leads from version N to N + 1.
const SCRIPTS: [&str; 2] = [
    include_str!("schema/001.sql"),
    include_str!("schema/002.sql"),
];

/// The schema version this program writes.
pub const SCHEMA_VERSION: i64 = SCRIPTS.len() as i64;

/// Climbs from `version` to [`SCHEMA_VERSION`] inside the caller's transaction.
pub(super) fn climb(tx: &Transaction, version: i64) -> Result<(), StoreError> {
    let steps = usize::try_from(version).unwrap_or(0);
    for script in SCRIPTS.iter().skip(steps) {
        tx.execute_batch(script)?;
    }
    tx.pragma_update(None, "user_version", SCHEMA_VERSION)?;
    Ok(())
}
