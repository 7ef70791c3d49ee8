//! Trials.

use super::form::{self, Marks, StoredMarks};
use super::identity::tick;
use super::row::{Legible, found, from_name, if_legible, legible, name};
use super::{StoreError, Thing, fittings};
use crate::record::{FittingRecord, SetupState, Trial, TrialDraft};
use rusqlite::{Connection, Row, Transaction, params};

const TABLE: &str = "trial";
const COLUMNS: &str = "id, bow_id, fitting_id, arrow_setup_id, surface, distance_m, rest_mm, \
     nock_mm, epoch, marks, at_ms, struck_ms";

/// A trial about to be written, with what was fitted and set.
pub(crate) struct NewTrial<'a> {
    pub(crate) bow_id: i64,
    pub(crate) fitting_id: i64,
    pub(crate) setup: SetupState,
    pub(crate) shot: &'a TrialDraft,
}

fn marks_text(shot: &TrialDraft) -> Result<String, StoreError> {
    let marks = Marks {
        impacts: shot.impacts.clone(),
        tears: shot.tears.clone(),
        photo: shot.photo.clone(),
        plane: shot.plane.clone(),
        note: shot.note.clone(),
        shooter: shot.shooter.clone(),
    };
    form::written::<StoredMarks>(TABLE, marks)
}

pub(crate) fn insert_trial(
    tx: &Transaction,
    new: &NewTrial,
    now_ms: i64,
) -> Result<i64, StoreError> {
    tx.execute(
        "INSERT INTO trial (bow_id, fitting_id, arrow_setup_id, surface, distance_m, rest_mm, \
         nock_mm, epoch, marks, at_ms, uid, born, tick, mark) \
         VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, new_uid(?11), ?11, ?11, new_uid(?11))",
        params![
            new.bow_id,
            new.fitting_id,
            new.shot.arrow_setup_id,
            name(TABLE, new.shot.surface)?,
            new.shot.distance_m,
            new.setup.rest_mm,
            new.setup.nock_mm,
            new.setup.epoch,
            marks_text(new.shot)?,
            now_ms,
            tick(tx, Some(now_ms))?,
        ],
    )?;
    Ok(tx.last_insert_rowid())
}

/// Replaces what a trial says was shot, and on what; when, and what was shot before, stay.
pub(crate) fn correct_trial(tx: &Transaction, id: i64, new: &NewTrial) -> Result<(), StoreError> {
    tx.execute(
        "UPDATE trial SET bow_id = ?2, fitting_id = ?3, arrow_setup_id = ?4, surface = ?5, \
         distance_m = ?6, rest_mm = ?7, nock_mm = ?8, epoch = ?9, marks = ?10, \
         tick = ?11, mark = new_uid(?11) WHERE id = ?1",
        params![
            id,
            new.bow_id,
            new.fitting_id,
            new.shot.arrow_setup_id,
            name(TABLE, new.shot.surface)?,
            new.shot.distance_m,
            new.setup.rest_mm,
            new.setup.nock_mm,
            new.setup.epoch,
            marks_text(new.shot)?,
            tick(tx, None)?,
        ],
    )?;
    Ok(())
}

/// Gives the photograph of these trials another name. The picture is the same: no change of a trial
/// that another phone must know of.
pub(crate) fn rename_photo(tx: &Transaction, trials: &[i64], to: &str) -> Result<(), StoreError> {
    let mut update = tx.prepare_cached(
        "UPDATE trial SET marks = json_set(marks, '$.photo.file', ?2) WHERE id = ?1",
    )?;
    for trial in trials {
        update.execute(params![trial, to])?;
    }
    Ok(())
}

/// Replaces the photograph of a trial and where its marks lie on it. What was shot is the same, so no
/// verdict grows stale by it.
pub(crate) fn replace_photo(
    tx: &Transaction,
    id: i64,
    shot: &TrialDraft,
) -> Result<(), StoreError> {
    let revision: i64 = tx.query_row(
        "SELECT revision FROM bow WHERE id = (SELECT bow_id FROM trial WHERE id = ?1)",
        [id],
        |row| row.get(0),
    )?;
    tx.execute(
        "UPDATE trial SET marks = ?2, tick = ?3, mark = new_uid(?3) WHERE id = ?1",
        params![id, marks_text(shot)?, tick(tx, None)?],
    )?;
    tx.execute(
        "UPDATE bow SET revision = ?2 WHERE id = (SELECT bow_id FROM trial WHERE id = ?1)",
        [id, revision],
    )?;
    Ok(())
}

/// Strikes a trial, or takes it in again with `None`.
pub(crate) fn strike_trial(
    tx: &Transaction,
    id: i64,
    struck_ms: Option<i64>,
) -> Result<(), StoreError> {
    tx.execute(
        "UPDATE trial SET struck_ms = ?2, tick = ?3, mark = new_uid(?3) WHERE id = ?1",
        params![id, struck_ms, tick(tx, struck_ms)?],
    )?;
    Ok(())
}

/// Every trial of a bow, struck ones too, oldest first, each with what was fitted after later corrections.
pub(crate) fn trials(connection: &Connection, bow_id: i64) -> Result<Vec<Trial>, StoreError> {
    Ok(legible_trials(connection, bow_id)?.rows)
}

/// The same, with the rows that cannot be read.
pub(super) fn legible_trials(
    connection: &Connection,
    bow_id: i64,
) -> Result<Legible<Trial>, StoreError> {
    let known = fittings(connection, bow_id)?;
    let sql = format!("SELECT {COLUMNS} FROM trial WHERE bow_id = ?1 ORDER BY id");
    let mut query = connection.prepare_cached(&sql)?;
    legible(query.query([bow_id])?, Thing::Trial, |row| {
        read(columns(row)?, &known)
    })
}

pub(crate) fn trial(connection: &Connection, id: i64) -> Result<Trial, StoreError> {
    let sql = format!("SELECT {COLUMNS} FROM trial WHERE id = ?1");
    let row = connection.prepare_cached(&sql)?.query_row([id], columns);
    let row = found(row, Thing::Trial, id)?;
    let known = fittings(connection, row.bow_id)?;
    read(row, &known)
}

/// The newest trial of a bow that counts, where it can be read.
pub(crate) fn last_trial(
    connection: &Connection,
    bow_id: i64,
) -> Result<Option<Trial>, StoreError> {
    let newest: Option<i64> = connection.query_row(
        "SELECT max(id) FROM trial WHERE bow_id = ?1 AND struck_ms IS NULL",
        [bow_id],
        |row| row.get(0),
    )?;
    newest.map_or(Ok(None), |id| if_legible(trial(connection, id)))
}

struct Columns {
    id: i64,
    bow_id: i64,
    fitting_id: i64,
    arrow_setup_id: Option<i64>,
    surface: String,
    distance_m: f64,
    setup: SetupState,
    marks: String,
    at_ms: i64,
    struck_ms: Option<i64>,
}

fn columns(row: &Row) -> rusqlite::Result<Columns> {
    Ok(Columns {
        id: row.get(0)?,
        bow_id: row.get(1)?,
        fitting_id: row.get(2)?,
        arrow_setup_id: row.get(3)?,
        surface: row.get(4)?,
        distance_m: row.get(5)?,
        setup: SetupState {
            rest_mm: row.get(6)?,
            nock_mm: row.get(7)?,
            epoch: row.get(8)?,
        },
        marks: row.get(9)?,
        at_ms: row.get(10)?,
        struck_ms: row.get(11)?,
    })
}

fn read(row: Columns, known: &[FittingRecord]) -> Result<Trial, StoreError> {
    let marks = form::read::<StoredMarks>(TABLE, &row.marks)?;
    let missing = StoreError::NotFound {
        thing: Thing::Fitting,
        id: row.fitting_id,
    };
    let shot_on = FittingRecord::corrected(known, row.fitting_id).ok_or(missing)?;
    Ok(Trial {
        id: row.id,
        bow_id: row.bow_id,
        at_ms: row.at_ms,
        fitting_id: row.fitting_id,
        fitting: shot_on.fitting.clone(),
        setup: row.setup,
        shot: TrialDraft {
            surface: from_name(TABLE, row.surface)?,
            distance_m: row.distance_m,
            shooter: marks.shooter,
            arrow_setup_id: row.arrow_setup_id,
            impacts: marks.impacts,
            tears: marks.tears,
            photo: marks.photo,
            plane: marks.plane,
            note: marks.note,
        },
        struck_ms: row.struck_ms,
    })
}
