//! Backup, restore and merge, and the photographs on the shelf.

use std::path::{Path, PathBuf};

use super::{Answer, Workshop};
use crate::backup::{BackupTaken, BackupUse, Giving, PhotoFolder, PhotoUsage, Taking};
use crate::record::Bow;
use crate::store::{self, Holding};

impl Workshop {
    /// Begins a backup of everything as it is now: pieces of one zip, to be written to a document.
    /// Photographs get the names of their content first.
    ///
    /// # Errors
    /// Where the workshop or a photograph cannot be read.
    pub fn begin_backup(&mut self, photos: &PhotoFolder, now_ms: i64) -> Answer<Giving> {
        self.name_photos(photos)?;
        Ok(Giving::begin(self.path(), photos, now_ms)?)
    }

    /// Begins to take a backup. Nothing of the workshop changes before [`Workshop::finish_taking`].
    ///
    /// # Errors
    /// [`super::WorkshopError::Backup`] where it is none, or a newer one.
    pub fn begin_taking(
        &self,
        backup: &Path,
        used_as: BackupUse,
        photos: &PhotoFolder,
    ) -> Answer<Taking> {
        Ok(Taking::begin(backup, used_as, self.path(), photos)?)
    }

    /// Takes the parts that are left and puts the result in place, all of it or nothing. The
    /// workshop as it was is kept beside it. Numbers of bows and of everything else change.
    ///
    /// # Errors
    /// Where a part is damaged, or the disk is full: the workshop is then as it was.
    pub fn finish_taking(&mut self, mut taking: Taking) -> Answer<BackupTaken> {
        while taking.step()? {}
        let unite = taking.used_as() == BackupUse::Merge;
        let replaced = self.store.take(taking.rows(), unite)?;
        self.transfers.clear();
        Ok(taking.keep(replaced))
    }

    /// Puts a workshop that was replaced back; the one that is here now is kept in its stead, and
    /// where, is answered. Numbers of bows and of everything else change.
    ///
    /// # Errors
    /// Where `replaced` is none that [`Workshop::finish_taking`] kept beside this one, or cannot be
    /// read: the workshop is then as it was.
    pub fn put_file_back(&mut self, replaced: &Path) -> Answer<Option<PathBuf>> {
        let kept = self.store.put_back(replaced)?;
        self.transfers.clear();
        Ok(kept)
    }

    /// How much the workshop holds.
    ///
    /// # Errors
    /// Where the file cannot be read.
    pub fn holding(&self) -> Answer<Holding> {
        Ok(store::holding(self.store.reader())?)
    }

    /// The bows whose fittings were recorded apart and differ: what is in them is for a person to say.
    ///
    /// # Errors
    /// Where the file cannot be read.
    pub fn contested_bows(&self) -> Answer<Vec<Bow>> {
        let reader = self.store.reader();
        let ids = store::contested_bows(reader)?;
        let bows = ids.into_iter().map(|id| Ok(store::bow(reader, id)?));
        bows.collect()
    }

    /// How much room the photographs take.
    ///
    /// # Errors
    /// Where the folder or the workshop cannot be read.
    pub fn photo_usage(&self, photos: &PhotoFolder) -> Answer<PhotoUsage> {
        let named = store::photos_named(self.store.reader())?;
        Ok(photos.usage(&named)?)
    }

    /// Removes the files of the folder that no trial names and that are older than a week.
    ///
    /// # Errors
    /// Where the folder or the workshop cannot be read.
    pub fn sweep_photos(&self, photos: &PhotoFolder, now_ms: i64) -> Answer<PhotoUsage> {
        let named = store::photos_named(self.store.reader())?;
        Ok(photos.sweep(&named, now_ms)?)
    }

    /// Gives every photograph that is there the name of its content, in the folder and on record.
    fn name_photos(&mut self, photos: &PhotoFolder) -> Answer<()> {
        for (name, trials) in store::photos_of_trials(self.store.reader())? {
            if photos.wants_name(&name) {
                let kept = photos.keep(&name)?;
                self.store
                    .write(|tx| store::rename_photo(tx, &trials, &kept))?;
            }
        }
        Ok(())
    }
}
