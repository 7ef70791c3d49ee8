//! Bows.

use rusqlite::{Connection, Row, Transaction, params};

use super::form::{self, StoredRange, StoredRemembered};
use super::identity::tick;
use super::row::{Legible, found, from_json, from_name, json, legible, name};
use super::{StoreError, Thing};
use crate::record::{Bow, BowDetails, Hand};
use crate::verdict::{MakerRange, RestRoom};

const TABLE: &str = "bow";
const COLUMNS: &str = "id, name, owner, hand, axle_to_axle_mm, brace_height_mm, draw_weight_n, \
     draw_length_mm, top_weight, cam_note, kit_id, notes, added_ms, used_ms, archived_ms, \
     priority, tolerance_mm, tolerance_distance_m, maker, family, rest_left_mm, rest_right_mm, \
     remembered";

pub(crate) fn insert_bow(
    tx: &Transaction,
    details: &BowDetails,
    now_ms: i64,
) -> Result<i64, StoreError> {
    tx.execute(
        "INSERT INTO bow (name, owner, hand, axle_to_axle_mm, brace_height_mm, draw_weight_n, \
         draw_length_mm, top_weight, cam_note, kit_id, notes, added_ms, used_ms, \
         priority, tolerance_mm, tolerance_distance_m, family, rest_left_mm, rest_right_mm, \
         remembered, uid, born, tick, mark) \
         VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?12, ?13, ?14, ?15, \
         ?16, ?17, ?18, ?19, new_uid(?20), ?20, ?20, new_uid(?20))",
        params![
            details.name,
            details.owner,
            name(TABLE, details.hand)?,
            details.axle_to_axle_mm,
            details.brace_height_mm,
            details.draw_weight_n,
            details.draw_length_mm,
            details.top_weight,
            details.cam_note,
            details.kit_id,
            details.notes,
            now_ms,
            json(TABLE, &details.priority)?,
            details.tolerance_mm,
            details.tolerance_distance_m,
            details.family,
            details.rest_room.map(|room| room.left),
            details.rest_room.map(|room| room.right),
            remembered(details)?,
            tick(tx, Some(now_ms))?,
        ],
    )?;
    Ok(tx.last_insert_rowid())
}

pub(crate) fn update_bow(
    tx: &Transaction,
    id: i64,
    details: &BowDetails,
    now_ms: i64,
) -> Result<(), StoreError> {
    let changed = tx.execute(
        "UPDATE bow SET name = ?2, owner = ?3, hand = ?4, axle_to_axle_mm = ?5, \
         brace_height_mm = ?6, draw_weight_n = ?7, draw_length_mm = ?8, top_weight = ?9, \
         cam_note = ?10, kit_id = ?11, notes = ?12, used_ms = ?13, priority = ?14, \
         tolerance_mm = ?15, tolerance_distance_m = ?16, family = ?17, rest_left_mm = ?18, \
         rest_right_mm = ?19, remembered = ?20, tick = ?21, mark = new_uid(?21) WHERE id = ?1",
        params![
            id,
            details.name,
            details.owner,
            name(TABLE, details.hand)?,
            details.axle_to_axle_mm,
            details.brace_height_mm,
            details.draw_weight_n,
            details.draw_length_mm,
            details.top_weight,
            details.cam_note,
            details.kit_id,
            details.notes,
            now_ms,
            json(TABLE, &details.priority)?,
            details.tolerance_mm,
            details.tolerance_distance_m,
            details.family,
            details.rest_room.map(|room| room.left),
            details.rest_room.map(|room| room.right),
            remembered(details)?,
            tick(tx, Some(now_ms))?,
        ],
    )?;
    one_changed(changed, id)
}

/// Replaces what the maker of a bow states.
pub(crate) fn save_maker(
    tx: &Transaction,
    id: i64,
    maker: &[MakerRange],
    now_ms: i64,
) -> Result<(), StoreError> {
    let changed = tx.execute(
        "UPDATE bow SET maker = ?2, tick = ?3, mark = new_uid(?3) WHERE id = ?1",
        params![
            id,
            form::written_list::<StoredRange>(TABLE, maker.to_vec())?,
            tick(tx, Some(now_ms))?,
        ],
    )?;
    one_changed(changed, id)
}

fn remembered(details: &BowDetails) -> Result<String, StoreError> {
    form::written_list::<StoredRemembered>(TABLE, details.remembered.clone())
}

/// Takes a bow off the rack, or puts it back with `None`.
pub(crate) fn archive_bow(
    tx: &Transaction,
    id: i64,
    archived_ms: Option<i64>,
) -> Result<(), StoreError> {
    let changed = tx.execute(
        "UPDATE bow SET archived_ms = ?2, tick = ?3, mark = new_uid(?3) WHERE id = ?1",
        params![id, archived_ms, tick(tx, archived_ms)?],
    )?;
    one_changed(changed, id)
}

/// Notes that a bow was worked on. No change of its details: where two phones differ, the later
/// time stands.
pub(crate) fn touch_bow(tx: &Transaction, id: i64, now_ms: i64) -> Result<(), StoreError> {
    let changed = tx.execute("UPDATE bow SET used_ms = ?2 WHERE id = ?1", [id, now_ms])?;
    one_changed(changed, id)
}

/// Marks every verdict as stale: the workshop's own wishes have changed.
pub(crate) fn revise_bows(tx: &Transaction) -> Result<(), StoreError> {
    tx.execute("UPDATE bow SET revision = revision + 1", [])?;
    Ok(())
}

fn one_changed(changed: usize, id: i64) -> Result<(), StoreError> {
    match changed {
        0 => Err(StoreError::NotFound {
            thing: Thing::Bow,
            id,
        }),
        _ => Ok(()),
    }
}

pub(crate) fn bow(connection: &Connection, id: i64) -> Result<Bow, StoreError> {
    let sql = format!("SELECT {COLUMNS} FROM bow WHERE id = ?1");
    let row = connection.prepare_cached(&sql)?.query_row([id], columns);
    read(found(row, Thing::Bow, id)?)
}

/// The bows on the rack, last used first.
pub(crate) fn bows(connection: &Connection) -> Result<Vec<Bow>, StoreError> {
    Ok(legible_bows(connection)?.rows)
}

/// The same, with the rows that cannot be read.
pub(super) fn legible_bows(connection: &Connection) -> Result<Legible<Bow>, StoreError> {
    let sql = format!("SELECT {COLUMNS} FROM bow ORDER BY used_ms DESC, id DESC");
    let mut query = connection.prepare_cached(&sql)?;
    legible(query.query([])?, Thing::Bow, |row| read(columns(row)?))
}

/// A bow, and what of it is written as names and lists.
struct Columns {
    hand: String,
    priority: String,
    maker: String,
    remembered: String,
    bow: Bow,
}

fn columns(row: &Row) -> rusqlite::Result<Columns> {
    let room: (Option<f64>, Option<f64>) = (row.get(20)?, row.get(21)?);
    let details = BowDetails {
        name: row.get(1)?,
        owner: row.get(2)?,
        hand: Hand::Right,
        axle_to_axle_mm: row.get(4)?,
        brace_height_mm: row.get(5)?,
        draw_weight_n: row.get(6)?,
        draw_length_mm: row.get(7)?,
        top_weight: row.get(8)?,
        cam_note: row.get(9)?,
        kit_id: row.get(10)?,
        priority: Vec::new(),
        tolerance_mm: row.get(16)?,
        tolerance_distance_m: row.get(17)?,
        family: row.get(19)?,
        rest_room: room
            .0
            .zip(room.1)
            .map(|(left, right)| RestRoom { left, right }),
        remembered: Vec::new(),
        notes: row.get(11)?,
    };
    let bow = Bow {
        id: row.get(0)?,
        details,
        added_ms: row.get(12)?,
        used_ms: row.get(13)?,
        archived_ms: row.get(14)?,
        maker: Vec::new(),
    };
    Ok(Columns {
        hand: row.get(3)?,
        priority: row.get(15)?,
        maker: row.get(18)?,
        remembered: row.get(22)?,
        bow,
    })
}

fn read(row: Columns) -> Result<Bow, StoreError> {
    let mut bow = row.bow;
    bow.details.hand = from_name(TABLE, row.hand)?;
    // What cannot be read of a wish, a range or a memory is left out; the bow itself is worth more.
    bow.details.priority = from_json(TABLE, &row.priority).unwrap_or_default();
    bow.maker = form::read::<Vec<StoredRange>>(TABLE, &row.maker).unwrap_or_default();
    bow.details.remembered =
        form::read::<Vec<StoredRemembered>>(TABLE, &row.remembered).unwrap_or_default();
    Ok(bow)
}
