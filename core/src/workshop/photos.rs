//! The photographs of trials: small copies, copies to share, and room made by cropping.

use super::{Answer, Workshop};
use crate::album::{self, AlbumError, Crop};
use crate::backup::PhotoFolder;
use crate::measure::Reference;
use crate::record::{PhotoRef, Trial};
use crate::store;

/// A small copy of a photograph, its longer side at most `side_px`: see [`album::thumbnail`]. Made
/// once and kept beside the photographs.
///
/// # Errors
/// No such photograph, or none that can be read.
pub fn photo_thumbnail(photos: &PhotoFolder, name: &str, side_px: u32) -> Answer<Vec<u8>> {
    photos.small(name, side_px, |jpeg| Ok(album::thumbnail(jpeg, side_px)?))
}

/// A photograph as it may leave the phone: the picture as it is, without place, time, device, serial
/// numbers or anything else that was written beside it.
///
/// # Errors
/// No such photograph, or no JPEG.
pub fn photo_to_share(photos: &PhotoFolder, name: &str) -> Answer<Vec<u8>> {
    Ok(album::without_metadata(&photos.read(name)?)?)
}

impl Workshop {
    /// Whether a trial of the bow that counts was read from this very picture, whatever its name: read
    /// again as a trial of its own, its shots would count twice.
    ///
    /// # Errors
    /// Where the workshop cannot be read.
    pub fn is_photo_recorded(&self, photos: &PhotoFolder, bow_id: i64, name: &str) -> Answer<bool> {
        let trials = self.trials(bow_id)?;
        let mut counted = trials.iter().filter(|trial| trial.counts());
        Ok(counted.any(|trial| {
            let photo = trial.shot.photo.as_ref();
            photo.is_some_and(|photo| photos.are_one(&photo.file, name))
        }))
    }

    /// The trials whose photographs can be cropped to what was measured, oldest first; none while
    /// all photographs together take no more than `budget_bytes`. To be cropped one by one with
    /// [`Workshop::crop_photo`] until they do.
    ///
    /// # Errors
    /// Where the folder or the workshop cannot be read.
    pub fn photos_to_crop(&self, photos: &PhotoFolder, budget_bytes: i64) -> Answer<Vec<i64>> {
        if self.photo_usage(photos)?.bytes <= budget_bytes {
            return Ok(Vec::new());
        }
        let mut found = Vec::new();
        for bow in store::bows(self.store.reader())? {
            found.extend(self.trials(bow.id)?.into_iter().filter(|trial| {
                let there = |photo: &PhotoRef| photos.file(&photo.file).is_file();
                can_be_cropped(trial) && trial.shot.photo.as_ref().is_some_and(there)
            }));
        }
        found.sort_by_key(|trial| (trial.at_ms, trial.id));
        Ok(found.into_iter().map(|trial| trial.id).collect())
    }

    /// Keeps of a trial's photograph the sheet or face alone, seen straight on; answers the bytes
    /// that became free. Places in mm, and so every figure and verdict, stay as they are; marks move
    /// onto the crop. The whole picture goes once nothing names it.
    ///
    /// # Errors
    /// [`super::WorkshopError::Album`] where it cannot be cropped: it is then kept whole.
    pub fn crop_photo(&mut self, photos: &PhotoFolder, trial_id: i64, now_ms: i64) -> Answer<i64> {
        let trial = self.trial(trial_id)?;
        let whole = trial.shot.photo.as_ref().ok_or(AlbumError::NoPlane)?;
        let jpeg = photos.read(&whole.file)?;
        let Crop {
            jpeg: crop,
            mut shot,
        } = album::cropped(&jpeg, &trial.shot)?;
        if crop.len() >= jpeg.len() {
            return Err(AlbumError::NoPlane.into());
        }
        let name = photos.put(&crop)?;
        shot.photo
            .iter_mut()
            .for_each(|photo| photo.file.clone_from(&name));
        self.tell_time(now_ms);
        self.store.write(|tx| {
            Ok::<_, super::WorkshopError>(store::replace_photo(tx, trial_id, &shot)?)
        })?;
        let named = store::photos_named(self.store.reader())?;
        if named.contains(&whole.file) {
            return Ok(-(crop.len() as i64));
        }
        photos.remove(&whole.file);
        Ok(jpeg.len() as i64 - crop.len() as i64)
    }
}

/// Two points have no plane to see straight on; a crop is measured by two points.
fn can_be_cropped(trial: &Trial) -> bool {
    let marked = trial
        .shot
        .plane
        .as_ref()
        .and_then(|plane| plane.marked.as_ref());
    marked.is_some_and(|reference| !matches!(reference, Reference::Points { .. }))
}
