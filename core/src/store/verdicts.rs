//! Verdicts as they were given.

use super::form::{self, Given, StoredGiven, StoredMore};
use super::identity::tick;
use super::row::{Legible, found, if_legible, legible, name};
use super::{StoreError, Thing};
use crate::record::{MoreArrows, Outcome, VerdictGiven};
use crate::verdict::Verdict;
use rusqlite::{Connection, OptionalExtension, Transaction, params};

const TABLE: &str = "verdict";
const COLUMNS: &str = "id, bow_id, fitting_id, given, at_ms";

/// A verdict about to be appended.
pub(crate) struct NewVerdict<'a> {
    pub(crate) bow_id: i64,
    pub(crate) fitting_id: i64,
    pub(crate) trial_ids: Vec<i64>,
    pub(crate) verdict: &'a Verdict,
}

pub(crate) fn append_verdict(
    tx: &Transaction,
    new: NewVerdict,
    now_ms: i64,
) -> Result<i64, StoreError> {
    let more = MoreArrows::of(new.verdict);
    let more = more.map(|more| form::written::<StoredMore>(TABLE, more));
    let last_trial_id = new.trial_ids.last().copied();
    let given = Given {
        verdict: new.verdict.clone(),
        trial_ids: new.trial_ids,
    };
    tx.execute(
        "INSERT INTO verdict (bow_id, fitting_id, last_trial_id, outcome, more, given, at_ms, \
         uid, born, revision) SELECT ?1, ?2, ?3, ?4, ?5, ?6, ?7, new_uid(?8), ?8, revision \
         FROM bow WHERE id = ?1",
        params![
            new.bow_id,
            new.fitting_id,
            last_trial_id,
            name(TABLE, Outcome::of(new.verdict))?,
            more.transpose()?,
            form::written::<StoredGiven>(TABLE, given)?,
            now_ms,
            tick(tx, Some(now_ms))?,
        ],
    )?;
    Ok(tx.last_insert_rowid())
}

pub(crate) fn verdict(connection: &Connection, id: i64) -> Result<VerdictGiven, StoreError> {
    let sql = format!("SELECT {COLUMNS} FROM verdict WHERE id = ?1");
    let row = connection
        .prepare_cached(&sql)?
        .query_row([id], |row| Columns::try_from(row));
    read(found(row, Thing::Verdict, id)?)
}

/// The newest verdict of a bow, where it can be read.
pub(crate) fn last_verdict(
    connection: &Connection,
    bow_id: i64,
) -> Result<Option<VerdictGiven>, StoreError> {
    let sql = format!("SELECT {COLUMNS} FROM verdict WHERE bow_id = ?1 ORDER BY id DESC LIMIT 1");
    let mut query = connection.prepare_cached(&sql)?;
    let row = query
        .query_row([bow_id], |row| Columns::try_from(row))
        .optional()?;
    row.map_or(Ok(None), |row| if_legible(read(row)))
}

/// Whether the newest verdict of a bow was given on everything that is on record now; `false`
/// where none was given.
pub(crate) fn verdict_stands(connection: &Connection, bow_id: i64) -> Result<bool, StoreError> {
    let sql = "SELECT verdict.revision = bow.revision FROM verdict JOIN bow ON bow.id = verdict.bow_id \
         WHERE verdict.bow_id = ?1 ORDER BY verdict.id DESC LIMIT 1";
    let mut query = connection.prepare_cached(sql)?;
    Ok(query
        .query_row([bow_id], |row| row.get(0))
        .optional()?
        .unwrap_or(false))
}

/// Every verdict of a bow, oldest first.
pub(crate) fn verdicts(
    connection: &Connection,
    bow_id: i64,
) -> Result<Vec<VerdictGiven>, StoreError> {
    Ok(legible_verdicts(connection, bow_id)?.rows)
}

/// The same, with the rows that cannot be read.
pub(super) fn legible_verdicts(
    connection: &Connection,
    bow_id: i64,
) -> Result<Legible<VerdictGiven>, StoreError> {
    let sql = format!("SELECT {COLUMNS} FROM verdict WHERE bow_id = ?1 ORDER BY id");
    let mut query = connection.prepare_cached(&sql)?;
    legible(query.query([bow_id])?, Thing::Verdict, |row| {
        read(Columns::try_from(row)?)
    })
}

type Columns = (i64, i64, i64, String, i64);

fn read((id, bow_id, fitting_id, given, at_ms): Columns) -> Result<VerdictGiven, StoreError> {
    let given = form::read::<StoredGiven>(TABLE, &given)?;
    Ok(VerdictGiven {
        id,
        bow_id,
        fitting_id,
        trial_ids: given.trial_ids,
        verdict: given.verdict,
        at_ms,
    })
}
