//! Camera calibrations and the workshop's settings.

use rusqlite::{Connection, OptionalExtension, Transaction, params};

use super::StoreError;
use super::form::{self, StoredSettings};
use super::identity::tick;
use crate::record::{CameraCalibration, WorkshopSettings};

pub(crate) fn save_camera(
    tx: &Transaction,
    calibration: &CameraCalibration,
) -> Result<(), StoreError> {
    tx.execute(
        "INSERT INTO camera (camera, k1, at_ms, tick, mark) VALUES (?1, ?2, ?3, ?4, new_uid(?4)) \
         ON CONFLICT (camera) DO UPDATE SET k1 = excluded.k1, at_ms = excluded.at_ms, \
         tick = excluded.tick, mark = excluded.mark",
        params![
            calibration.camera,
            calibration.k1,
            calibration.at_ms,
            tick(tx, Some(calibration.at_ms))?
        ],
    )?;
    Ok(())
}

pub(crate) fn camera(
    connection: &Connection,
    camera: &str,
) -> Result<Option<CameraCalibration>, StoreError> {
    let row = connection.query_row(
        "SELECT camera, k1, at_ms FROM camera WHERE camera = ?1",
        [camera],
        |row| {
            Ok(CameraCalibration {
                camera: row.get(0)?,
                k1: row.get(1)?,
                at_ms: row.get(2)?,
            })
        },
    );
    Ok(row.optional()?)
}

pub(crate) fn save_settings(
    tx: &Transaction,
    settings: &WorkshopSettings,
) -> Result<(), StoreError> {
    tx.execute(
        "INSERT INTO settings (id, settings, tick, mark) VALUES (1, ?1, ?2, new_uid(?2)) \
         ON CONFLICT (id) DO UPDATE SET settings = excluded.settings, \
         tick = excluded.tick, mark = excluded.mark",
        params![
            form::written::<StoredSettings>("settings", settings.clone())?,
            tick(tx, None)?
        ],
    )?;
    Ok(())
}

/// The stored settings; what is missing or unreadable is as in a new workshop.
pub(crate) fn settings(connection: &Connection) -> Result<WorkshopSettings, StoreError> {
    let text: Option<String> = connection
        .query_row("SELECT settings FROM settings WHERE id = 1", [], |row| {
            row.get(0)
        })
        .optional()?;
    let read = |text: String| form::read::<StoredSettings>("settings", &text).ok();
    Ok(text.and_then(read).unwrap_or_default())
}
