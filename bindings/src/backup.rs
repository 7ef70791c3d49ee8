//! Backups on their way out and in.

use std::path::Path;
use std::sync::{Arc, Mutex, PoisonError};

use shimwright::backup::{
    BackupPiece, BackupTaken, BackupUse, Giving, PhotoFolder, PhotoUsage, Taking,
};
use shimwright::record::Bow;
use shimwright::store::{Holding, SalvagedTable};

use crate::{Workshop, WorkshopError};

type Answer<T> = Result<T, WorkshopError>;

/// How far a backup has come.
#[derive(Debug, Clone, Copy, PartialEq, Eq, uniffi::Record)]
pub struct Progress {
    /// Bytes taken so far.
    pub done_bytes: i64,
    /// Bytes in all.
    pub total_bytes: i64,
    /// Whether there is another step.
    pub goes_on: bool,
}

/// What a backup holds, and when it was made.
#[derive(Debug, Clone, Copy, PartialEq, Eq, uniffi::Record)]
pub struct Held {
    /// Epoch ms.
    pub made_ms: i64,
    /// Its rows.
    pub holding: Holding,
}

/// A backup being made: its pieces, to be appended to a document. To stop, drop it.
#[derive(Debug, uniffi::Object)]
pub struct Backup(Mutex<Giving>);

// Documented at the core's method of the same name.
#[allow(missing_docs)]
#[uniffi::export]
impl Backup {
    pub fn next_piece(&self) -> Answer<Option<BackupPiece>> {
        let mut giving = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        Ok(giving.next_piece().map_err(core)?)
    }
}

/// A backup being taken. To stop, drop it.
#[derive(Debug, uniffi::Object)]
pub struct Incoming(Mutex<Option<Taking>>);

// Documented at the core's method of the same name.
#[allow(missing_docs)]
#[uniffi::export]
impl Incoming {
    pub fn step(&self) -> Answer<Progress> {
        let mut taking = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        let Some(taking) = taking.as_mut() else {
            return Ok(progress((0, 0), false));
        };
        let goes_on = taking.step().map_err(core)?;
        Ok(progress(taking.progress(), goes_on))
    }

    /// `None` before the first step, and once the backup is in place.
    pub fn held(&self) -> Answer<Option<Held>> {
        let taking = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        let held = taking.as_ref().map(Taking::holding).transpose();
        let held = held.map_err(core)?.flatten();
        Ok(held.map(|(made_ms, holding)| Held { made_ms, holding }))
    }
}

fn progress((done, total): (u64, u64), goes_on: bool) -> Progress {
    Progress {
        done_bytes: i64::try_from(done).unwrap_or(i64::MAX),
        total_bytes: i64::try_from(total).unwrap_or(i64::MAX),
        goes_on,
    }
}

fn core(error: shimwright::backup::BackupError) -> shimwright::workshop::WorkshopError {
    error.into()
}

fn folder(photos: &str) -> PhotoFolder {
    PhotoFolder::new(Path::new(photos))
}

/// Makes a new workshop file of what can be read of a damaged one; see
/// [`shimwright::store::salvage`].
#[uniffi::export]
pub fn salvage(damaged: String, path: String) -> Answer<Vec<SalvagedTable>> {
    let saved = shimwright::store::salvage(Path::new(&damaged), Path::new(&path));
    Ok(saved.map_err(shimwright::workshop::WorkshopError::from)?)
}

/// A small copy of a photograph; see [`shimwright::workshop::photo_thumbnail`].
#[uniffi::export]
pub fn photo_thumbnail(photos: String, name: String, side_px: u32) -> Answer<Vec<u8>> {
    Ok(shimwright::workshop::photo_thumbnail(
        &folder(&photos),
        &name,
        side_px,
    )?)
}

/// A photograph as it may leave the phone; see [`shimwright::workshop::photo_to_share`].
#[uniffi::export]
pub fn photo_to_share(photos: String, name: String) -> Answer<Vec<u8>> {
    Ok(shimwright::workshop::photo_to_share(
        &folder(&photos),
        &name,
    )?)
}

// Documented at the core's method of the same name.
#[allow(missing_docs)]
#[uniffi::export]
impl Workshop {
    pub fn is_photo_recorded(&self, photos: String, bow_id: i64, name: String) -> Answer<bool> {
        Ok(self
            .lock()
            .is_photo_recorded(&folder(&photos), bow_id, &name)?)
    }

    pub fn photos_to_crop(&self, photos: String, budget_bytes: i64) -> Answer<Vec<i64>> {
        Ok(self.lock().photos_to_crop(&folder(&photos), budget_bytes)?)
    }

    pub fn crop_photo(&self, photos: String, trial_id: i64, now_ms: i64) -> Answer<i64> {
        Ok(self.lock().crop_photo(&folder(&photos), trial_id, now_ms)?)
    }

    pub fn begin_backup(&self, photos: String, now_ms: i64) -> Answer<Arc<Backup>> {
        let giving = self.lock().begin_backup(&folder(&photos), now_ms)?;
        Ok(Arc::new(Backup(Mutex::new(giving))))
    }

    pub fn begin_taking(
        &self,
        backup: String,
        used_as: BackupUse,
        photos: String,
    ) -> Answer<Arc<Incoming>> {
        let taking = self
            .lock()
            .begin_taking(Path::new(&backup), used_as, &folder(&photos))?;
        Ok(Arc::new(Incoming(Mutex::new(Some(taking)))))
    }

    /// Puts what came in place; `None` where that was done before.
    pub fn finish_taking(&self, incoming: Arc<Incoming>) -> Answer<Option<BackupTaken>> {
        let mut taking = incoming.0.lock().unwrap_or_else(PoisonError::into_inner);
        let taken = taking
            .take()
            .map(|taking| self.lock().finish_taking(taking));
        Ok(taken.transpose()?)
    }

    pub fn holding(&self) -> Answer<Holding> {
        Ok(self.lock().holding()?)
    }

    pub fn contested_bows(&self) -> Answer<Vec<Bow>> {
        Ok(self.lock().contested_bows()?)
    }

    pub fn put_file_back(&self, replaced: String) -> Answer<Option<String>> {
        let kept = self.lock().put_file_back(Path::new(&replaced))?;
        Ok(kept.map(|path| path.display().to_string()))
    }

    pub fn photo_usage(&self, photos: String) -> Answer<PhotoUsage> {
        Ok(self.lock().photo_usage(&folder(&photos))?)
    }

    pub fn sweep_photos(&self, photos: String, now_ms: i64) -> Answer<PhotoUsage> {
        Ok(self.lock().sweep_photos(&folder(&photos), now_ms)?)
    }
}
