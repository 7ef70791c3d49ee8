//! The one facade: a workshop with its bows, kits, trials, verdicts and swaps.
//!
//! Every call is coarse (one gesture or one screen), takes the time where it needs one, and writes
//! one transaction or nothing. The calls follow the job: take the bow in, check it, shoot, measure,
//! ask for the verdict, swap, prove it, look up what is fitted and why.

mod arrows;
mod backup;
mod bows;
mod error;
mod evidence;
mod history;
mod kits;
mod photo;
mod photos;
mod rack;
mod scenes;
mod setup;
mod sheet;
mod swap;
mod trials;
mod verdict;
mod verdict_page;

use std::collections::HashMap;
use std::path::Path;

use crate::flight::TransferTable;
use crate::record::WorkshopSettings;
use crate::store::{self, Entropy, Store, Unread};

pub use bows::BowPage;
pub use error::WorkshopError;
pub use history::{Forecast, Happening, History, HistoryPage, TrialSplit};
pub use kits::KitOnShelf;
pub use photos::{photo_thumbnail, photo_to_share};
pub use rack::{RackRow, Waits};
pub use swap::SwapPage;
pub use verdict_page::VerdictPage;

/// What every call of the facade answers.
pub type Answer<T> = Result<T, WorkshopError>;

/// An open workshop file.
///
/// # Example
/// ```
/// use shimwright::workshop::Workshop;
/// # let folder = std::env::temp_dir().join(format!("shimwright-doc-{}", std::process::id()));
/// # std::fs::create_dir_all(&folder)?;
/// let workshop = Workshop::open(&folder.join("bench.workshop"))?;
/// assert!(workshop.rack("")?.is_empty());
/// # drop(workshop);
/// # std::fs::remove_dir_all(&folder)?;
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug)]
pub struct Workshop {
    store: Store,
    /// By arrow set-up.
    transfers: HashMap<i64, TransferTable>,
}

impl Workshop {
    /// Opens a workshop file, or makes one where there is none.
    ///
    /// # Errors
    /// [`crate::store::StoreError`] within [`WorkshopError::Store`].
    pub fn open(path: &Path) -> Answer<Self> {
        Self::open_with(path, Entropy::default())
    }

    /// The same, with what the system's random source gave: the ids of new rows come of it, so
    /// that workshops of several phones can be merged. Fresh bytes for every opening.
    ///
    /// # Errors
    /// As [`Workshop::open`].
    pub fn open_with(path: &Path, entropy: Entropy) -> Answer<Self> {
        Ok(Self {
            store: Store::open(path, entropy)?,
            transfers: HashMap::new(),
        })
    }

    /// Every row of the file that cannot be read. Reads the whole workshop: not for every screen.
    ///
    /// # Errors
    /// Where the file cannot be read at all.
    pub fn unread(&self) -> Answer<Vec<Unread>> {
        Ok(store::unread(self.store.reader())?)
    }

    /// Tells the time. Of two changes that were made apart the later stands after a merge; this
    /// dates those whose calls carry no time (kits, settings, arrows, corrections). To be told
    /// before a write; every call that carries a time tells it too.
    pub fn tell_time(&self, now_ms: i64) {
        self.store.tell_time(now_ms);
    }

    /// Where the file is.
    pub fn path(&self) -> &Path {
        self.store.path()
    }

    /// The workshop's settings.
    ///
    /// # Errors
    /// Where the file cannot be read.
    pub fn settings(&self) -> Answer<WorkshopSettings> {
        Ok(store::settings(self.store.reader())?)
    }

    /// Replaces the settings.
    ///
    /// # Errors
    /// [`WorkshopError::Field`] for a number out of range.
    pub fn save_settings(&mut self, settings: &WorkshopSettings) -> Answer<()> {
        settings.check()?;
        self.store.write(|tx| {
            if store::settings(tx)?.wishes() != settings.wishes() {
                store::revise_bows(tx)?;
            }
            Ok(store::save_settings(tx, settings)?)
        })
    }
}
