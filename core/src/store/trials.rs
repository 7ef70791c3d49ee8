//! Trials.

use super::entered::{EnteredChange, put_right};
use super::form::{self, Marks, StoredMarks};
use super::identity::tick;
use super::row::{Legible, found, from_name, if_legible, legible, name};
use super::{StoreError, Thing, fittings, recorded_changes};
use crate::record::{FittingRecord, SetupState, Trial, TrialDraft};
use rusqlite::{Connection, Row, Transaction, params};

const TABLE: &str = "trial";
const COLUMNS: &str = "id, bow_id, fitting_id, arrow_setup_id, surface, distance_m, rest_mm, \
     nock_mm, epoch, marks, at_ms, struck_ms, born";

/// What something was shot with.
#[derive(Debug, Clone, Copy)]
pub(crate) struct ShotOn {
    pub(crate) bow_id: i64,
    pub(crate) fitting_id: i64,
    /// As the changes before it were entered: what was put right since is asked where trials are read.
    pub(crate) entered: SetupState,
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
    on: ShotOn,
    shot: &TrialDraft,
    now_ms: i64,
) -> Result<i64, StoreError> {
    tx.execute(
        "INSERT INTO trial (bow_id, fitting_id, arrow_setup_id, surface, distance_m, rest_mm, \
         nock_mm, epoch, marks, at_ms, uid, born, tick, mark) \
         VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, new_uid(?11), ?11, ?11, new_uid(?11))",
        params![
            on.bow_id,
            on.fitting_id,
            shot.arrow_setup_id,
            name(TABLE, shot.surface)?,
            shot.distance_m,
            on.entered.rest_mm,
            on.entered.nock_mm,
            on.entered.epoch,
            marks_text(shot)?,
            now_ms,
            tick(tx, Some(now_ms))?,
        ],
    )?;
    Ok(tx.last_insert_rowid())
}

/// Replaces what a trial says was shot; when, with what, and what was shot before, stay.
pub(crate) fn correct_trial(
    tx: &Transaction,
    id: i64,
    shot: &TrialDraft,
) -> Result<(), StoreError> {
    tx.execute(
        "UPDATE trial SET arrow_setup_id = ?2, surface = ?3, distance_m = ?4, marks = ?5, \
         tick = ?6, mark = new_uid(?6) WHERE id = ?1",
        params![
            id,
            shot.arrow_setup_id,
            name(TABLE, shot.surface)?,
            shot.distance_m,
            marks_text(shot)?,
            tick(tx, None)?,
        ],
    )?;
    Ok(())
}

/// Has a trial shot with something else; what was shot, and when, stays.
pub(crate) fn move_trial(tx: &Transaction, id: i64, on: ShotOn) -> Result<(), StoreError> {
    tx.execute(
        "UPDATE trial SET bow_id = ?2, fitting_id = ?3, rest_mm = ?4, nock_mm = ?5, epoch = ?6, \
         tick = ?7, mark = new_uid(?7) WHERE id = ?1",
        params![
            id,
            on.bow_id,
            on.fitting_id,
            on.entered.rest_mm,
            on.entered.nock_mm,
            on.entered.epoch,
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

/// Every trial of a bow, struck ones too, oldest first, each with what was fitted and set after later corrections.
pub(crate) fn trials(connection: &Connection, bow_id: i64) -> Result<Vec<Trial>, StoreError> {
    Ok(legible_trials(connection, bow_id)?.rows)
}

/// The same, with the rows that cannot be read.
pub(super) fn legible_trials(
    connection: &Connection,
    bow_id: i64,
) -> Result<Legible<Trial>, StoreError> {
    let known = Behind::of(connection, bow_id)?;
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
    let known = Behind::of(connection, row.bow_id)?;
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
    entered: SetupState,
    marks: String,
    at_ms: i64,
    struck_ms: Option<i64>,
    born: i64,
}

fn columns(row: &Row) -> rusqlite::Result<Columns> {
    Ok(Columns {
        id: row.get(0)?,
        bow_id: row.get(1)?,
        fitting_id: row.get(2)?,
        arrow_setup_id: row.get(3)?,
        surface: row.get(4)?,
        distance_m: row.get(5)?,
        entered: SetupState {
            rest_mm: row.get(6)?,
            nock_mm: row.get(7)?,
            epoch: row.get(8)?,
        },
        marks: row.get(9)?,
        at_ms: row.get(10)?,
        struck_ms: row.get(11)?,
        born: row.get(12)?,
    })
}

/// What of a bow's record its trials are read with: both lists with their later corrections.
struct Behind {
    fittings: Vec<FittingRecord>,
    changes: Vec<EnteredChange>,
}

impl Behind {
    fn of(connection: &Connection, bow_id: i64) -> Result<Self, StoreError> {
        Ok(Self {
            fittings: fittings(connection, bow_id)?,
            changes: recorded_changes(connection, bow_id)?,
        })
    }
}

fn read(row: Columns, behind: &Behind) -> Result<Trial, StoreError> {
    let marks = form::read::<StoredMarks>(TABLE, &row.marks)?;
    let missing = StoreError::NotFound {
        thing: Thing::Fitting,
        id: row.fitting_id,
    };
    let shot_on = FittingRecord::corrected(&behind.fittings, row.fitting_id).ok_or(missing)?;
    Ok(Trial {
        id: row.id,
        bow_id: row.bow_id,
        at_ms: row.at_ms,
        fitting_id: row.fitting_id,
        fitting: shot_on.fitting.clone(),
        setup: put_right(row.entered, &behind.changes, row.born),
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
