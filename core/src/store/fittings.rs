//! The append-only list of fittings.

use rusqlite::{Connection, Row, Transaction, params};

use super::identity::tick;
use super::row::{Legible, if_legible, legible, name, named};
use super::{StoreError, Thing};
use crate::record::{FittingReason, FittingRecord};
use crate::spacer::{Fitting, Seat};

const TABLE: &str = "fitting";
/// What [`read`] reads, in its order; named in full, so that other tables may stand beside.
pub(super) const COLUMNS: &str = "fitting.id, fitting.bow_id, fitting.kit_id, fitting.top_pair, \
     fitting.top_thick, fitting.bottom_pair, fitting.bottom_thick, fitting.reason, \
     fitting.verdict_id, fitting.corrects_id, fitting.at_ms";

/// An entry about to be appended.
pub(crate) struct NewFitting<'a> {
    pub(crate) bow_id: i64,
    pub(crate) kit_id: i64,
    pub(crate) fitting: &'a Fitting,
    pub(crate) reason: FittingReason,
    pub(crate) verdict_id: Option<i64>,
    pub(crate) corrects_id: Option<i64>,
}

pub(crate) fn append_fitting(
    tx: &Transaction,
    new: &NewFitting,
    now_ms: i64,
) -> Result<i64, StoreError> {
    let known = newest(tx, new.bow_id)?;
    tx.execute(
        "INSERT INTO fitting (bow_id, kit_id, top_pair, top_thick, bottom_pair, bottom_thick, reason, \
         verdict_id, corrects_id, at_ms, uid, born) \
         VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, new_uid(?11), ?11)",
        params![
            new.bow_id,
            new.kit_id,
            new.fitting.top.pair,
            name(TABLE, new.fitting.top.thick)?,
            new.fitting.bottom.pair,
            name(TABLE, new.fitting.bottom.thick)?,
            name(TABLE, new.reason)?,
            new.verdict_id,
            new.corrects_id,
            now_ms,
            tick(tx, Some(now_ms))?,
        ],
    )?;
    let id = tx.last_insert_rowid();
    for parent in known {
        tx.execute("INSERT INTO fitting_parent VALUES (?1, ?2)", [id, parent])?;
    }
    Ok(id)
}

/// The entries of a bow that no later one was recorded in the knowledge of, oldest first: more than
/// one where two phones recorded fittings apart.
fn newest(connection: &Connection, bow_id: i64) -> Result<Vec<i64>, StoreError> {
    let mut query = connection.prepare_cached(
        "SELECT id FROM fitting WHERE bow_id = ?1 \
         AND id NOT IN (SELECT parent_id FROM fitting_parent) ORDER BY id",
    )?;
    let ids = query.query_map([bow_id], |row| row.get(0))?;
    Ok(ids.collect::<rusqlite::Result<_>>()?)
}

/// The entries of a bow that contradict each other, because they were recorded apart; empty where
/// the record is of one mind.
pub(crate) fn contested(
    connection: &Connection,
    bow_id: i64,
) -> Result<Vec<FittingRecord>, StoreError> {
    let newest = newest(connection, bow_id)?;
    let mut heads = fittings(connection, bow_id)?;
    heads.retain(|entry| newest.contains(&entry.id));
    let agree = |pair: &[FittingRecord]| pair[0].fitting == pair[1].fitting;
    if heads.windows(2).all(agree) {
        heads.clear();
    }
    Ok(heads)
}

/// The bows with such entries, in the order of their ids.
pub(crate) fn contested_bows(connection: &Connection) -> Result<Vec<i64>, StoreError> {
    let mut query = connection.prepare_cached(
        "SELECT bow_id FROM fitting WHERE id NOT IN (SELECT parent_id FROM fitting_parent) \
         GROUP BY bow_id HAVING count(*) > 1 ORDER BY bow_id",
    )?;
    let ids = query.query_map([], |row| row.get(0))?;
    let mut bows = ids.collect::<rusqlite::Result<Vec<i64>>>()?;
    let mut failed = None;
    bows.retain(|bow| match contested(connection, *bow) {
        Ok(heads) => !heads.is_empty(),
        Err(error) => {
            failed = Some(error);
            false
        }
    });
    failed.map_or(Ok(bows), Err)
}

/// What is fitted in a bow, and why: one indexed read. `None` where nobody has said, and where the
/// newest entry cannot be read: an older one would be a guess.
pub(crate) fn fitted(
    connection: &Connection,
    bow_id: i64,
) -> Result<Option<FittingRecord>, StoreError> {
    let sql = format!("SELECT {COLUMNS} FROM fitting WHERE bow_id = ?1 ORDER BY id DESC LIMIT 1");
    let mut query = connection.prepare_cached(&sql)?;
    let mut rows = query.query([bow_id])?;
    rows.next()?
        .map_or(Ok(None), |row| if_legible(read(row, 0)))
}

/// Every entry of a bow, oldest first.
pub(crate) fn fittings(
    connection: &Connection,
    bow_id: i64,
) -> Result<Vec<FittingRecord>, StoreError> {
    Ok(legible_fittings(connection, bow_id)?.rows)
}

/// The same, with the rows that cannot be read.
pub(super) fn legible_fittings(
    connection: &Connection,
    bow_id: i64,
) -> Result<Legible<FittingRecord>, StoreError> {
    let sql = format!("SELECT {COLUMNS} FROM fitting WHERE bow_id = ?1 ORDER BY id");
    let mut query = connection.prepare_cached(&sql)?;
    legible(query.query([bow_id])?, Thing::Fitting, |row| read(row, 0))
}

/// What is fitted in every bow that has an entry one can read, by bow id.
pub(crate) fn fitted_per_bow(connection: &Connection) -> Result<Vec<FittingRecord>, StoreError> {
    let sql = format!(
        "SELECT {COLUMNS} FROM fitting WHERE id IN \
         (SELECT max(id) FROM fitting GROUP BY bow_id)"
    );
    let mut query = connection.prepare_cached(&sql)?;
    let all = legible(query.query([])?, Thing::Fitting, |row| read(row, 0))?;
    Ok(all.rows)
}

/// Every pair of a kit that some bow carries or carried.
pub(crate) fn pairs_on_record(
    connection: &Connection,
    kit_id: i64,
) -> Result<Vec<String>, StoreError> {
    let mut query = connection.prepare_cached(
        "SELECT top_pair FROM fitting WHERE kit_id = ?1 \
         UNION SELECT bottom_pair FROM fitting WHERE kit_id = ?1",
    )?;
    let rows = query.query_map([kit_id], |row| row.get(0))?;
    Ok(rows.collect::<rusqlite::Result<_>>()?)
}

/// The entry that begins at column `first`.
pub(super) fn read(row: &Row, first: usize) -> Result<FittingRecord, StoreError> {
    let seat = |pair: usize| {
        Ok::<_, StoreError>(Seat {
            pair: row.get(first + pair)?,
            thick: named(TABLE, row, first + pair + 1)?,
        })
    };
    Ok(FittingRecord {
        id: row.get(first)?,
        bow_id: row.get(first + 1)?,
        kit_id: row.get(first + 2)?,
        fitting: Fitting {
            top: seat(3)?,
            bottom: seat(5)?,
        },
        reason: named(TABLE, row, first + 7)?,
        verdict_id: row.get(first + 8)?,
        corrects_id: row.get(first + 9)?,
        at_ms: row.get(first + 10)?,
    })
}
