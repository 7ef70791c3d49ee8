//! Which rows cannot be read back.

use rusqlite::Connection;

use super::{StoreError, Unread};
use super::{arrows, bows, fittings, kits, setup, swaps, trials, verdicts};

/// The rows of one bow that cannot be read.
pub(crate) fn unread_of(connection: &Connection, bow_id: i64) -> Result<Vec<Unread>, StoreError> {
    let mut all = Vec::new();
    all.append(&mut fittings::legible_fittings(connection, bow_id)?.unread);
    all.append(&mut setup::legible_changes(connection, bow_id)?.unread);
    all.append(&mut setup::legible_checks(connection, bow_id)?.unread);
    all.append(&mut arrows::legible_arrows_of(connection, bow_id)?.unread);
    all.append(&mut trials::legible_trials(connection, bow_id)?.unread);
    all.append(&mut verdicts::legible_verdicts(connection, bow_id)?.unread);
    Ok(all)
}

/// Every row of the file that cannot be read: bows, kits, swaps and what belongs to each bow.
pub(crate) fn unread(connection: &Connection) -> Result<Vec<Unread>, StoreError> {
    let mut all = kits::legible_kits(connection)?.unread;
    all.append(&mut swaps::legible_swaps(connection)?.unread);
    all.append(&mut bows::legible_bows(connection)?.unread);
    let mut ids = connection.prepare("SELECT id FROM bow ORDER BY id")?;
    for id in ids.query_map([], |row| row.get(0))? {
        all.append(&mut unread_of(connection, id?)?);
    }
    Ok(all)
}
