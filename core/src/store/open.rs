//! Opening a workshop file, and every pragma in one place.

use std::path::{Path, PathBuf};
use std::time::Duration;

use rusqlite::{Connection, ErrorCode, Transaction, TransactionBehavior};

use super::identity::Told;
use super::ladder::APPLICATION_ID;
use super::{Entropy, SCHEMA_VERSION, Scratch, StoreError, aside, identity, ladder, place, unite};

/// How long to wait for another connection before the file counts as locked: long enough for a
/// write of ours to end, short enough that a person does not think the program hangs.
const BUSY: Duration = Duration::from_millis(1500);

/// Pages kept in memory, KiB, once they were read.
const CACHE_KIB: i64 = 16_384;

/// An open workshop file.
#[derive(Debug)]
pub struct Store {
    connection: Connection,
    path: PathBuf,
    entropy: Entropy,
    told: Told,
}

impl Store {
    /// Opens the file, makes it where there is none, and brings an older one up to date.
    ///
    /// # Errors
    /// [`StoreError`]: a directory, a missing folder, a read-only, locked, newer or foreign file;
    /// or a damaged one, which is then kept under another name so that nothing is lost.
    pub fn open(path: &Path, entropy: Entropy) -> Result<Self, StoreError> {
        check_path(path)?;
        match Self::open_file(path, entropy) {
            Err(StoreError::Corrupt) => Err(set_aside(path)),
            Err(StoreError::Engine(error)) => Err(translated(path, error)),
            other => other,
        }
    }

    fn open_file(path: &Path, entropy: Entropy) -> Result<Self, StoreError> {
        let mut connection = Connection::open(path)?;
        connection.busy_timeout(BUSY)?;
        let told = Told::default();
        identity::register(&connection, entropy, &told)?;
        let version = known_version(&connection, path)?;
        set_pragmas(&connection)?;
        if version < SCHEMA_VERSION {
            let tx = connection.transaction_with_behavior(TransactionBehavior::Immediate)?;
            // Another process may have climbed between our look and our lock.
            let version = known_version(&tx, path)?;
            ladder::climb(&tx, version, SCHEMA_VERSION)?;
            tx.pragma_update(None, "application_id", APPLICATION_ID)?;
            tx.commit()?;
        }
        Ok(Self {
            connection,
            path: path.to_owned(),
            entropy,
            told,
        })
    }

    /// Where the file is.
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Puts the rows of `other` in the place of this file's, or unites both, and opens the result.
    /// What stood here is kept under another name, which is answered.
    ///
    /// # Errors
    /// Where one of the two cannot be read or the new one cannot be written: the file is then as it
    /// was, and open.
    pub(crate) fn take(
        &mut self,
        other: &Path,
        unite_both: bool,
    ) -> Result<Option<PathBuf>, StoreError> {
        // An older backup climbs to this program's version first.
        drop(Self::open(other, self.entropy)?);
        let united = Scratch::beside(&self.path);
        if unite_both {
            unite::unite(&self.path, other, united.path())?;
        }
        let fresh = if unite_both { united.path() } else { other };
        self.connection = Connection::open_in_memory()?;
        let placed = place::put_in_place(fresh, &self.path);
        let told = self.told.tell(0);
        *self = Self::open(&self.path, identity::after(self.entropy))?;
        self.tell_time(told);
        placed
    }

    /// Puts a file that [`Store::take`] kept back in the place of this one, which is kept in its
    /// stead under the name that is answered.
    ///
    /// # Errors
    /// Where `kept` is no such file, or cannot be read: this one is then as it was.
    pub(crate) fn put_back(&mut self, kept: &Path) -> Result<Option<PathBuf>, StoreError> {
        if !place::was_replaced(kept, &self.path) {
            let path = kept.to_owned();
            return Err(StoreError::Foreign { path });
        }
        self.take(kept, false)
    }

    /// Tells the time, which dates the writes that carry none.
    pub(crate) fn tell_time(&self, now_ms: i64) {
        self.told.tell(now_ms);
    }

    /// The connection, for readers.
    pub(crate) fn reader(&self) -> &Connection {
        &self.connection
    }

    /// Runs `work` as one transaction: all of it is written, or nothing.
    pub(crate) fn write<T, E>(
        &mut self,
        work: impl FnOnce(&Transaction) -> Result<T, E>,
    ) -> Result<T, E>
    where
        E: From<StoreError>,
    {
        let path = self.path.clone();
        let failed = |error| E::from(translated(&path, error));
        let tx = self
            .connection
            .transaction_with_behavior(TransactionBehavior::Immediate)
            .map_err(failed)?;
        let made = work(&tx)?;
        tx.commit().map_err(failed)?;
        Ok(made)
    }
}

fn check_path(path: &Path) -> Result<(), StoreError> {
    let path = path.to_owned();
    if path.is_dir() {
        return Err(StoreError::IsDirectory { path });
    }
    let folder = path
        .parent()
        .filter(|folder| !folder.as_os_str().is_empty());
    if folder.is_some_and(|folder| !folder.is_dir()) {
        return Err(StoreError::NoFolder { path });
    }
    match path.metadata() {
        Ok(facts) if facts.permissions().readonly() => Err(StoreError::ReadOnly { path }),
        _ => Ok(()),
    }
}

/// The file's schema version; 0 for an empty file.
pub(super) fn known_version(connection: &Connection, path: &Path) -> Result<i64, StoreError> {
    let pragma = |name| connection.pragma_query_value(None, name, |row| row.get::<_, i64>(0));
    let (found, application) = (pragma("user_version")?, pragma("application_id")?);
    let tables: i64 =
        connection.query_row("SELECT count(*) FROM sqlite_schema", [], |row| row.get(0))?;
    let path = path.to_owned();
    match (application, found) {
        (0, 0) if tables == 0 => Ok(0),
        (APPLICATION_ID, found) if found > SCHEMA_VERSION => Err(StoreError::Newer {
            path,
            found,
            known: SCHEMA_VERSION,
        }),
        (APPLICATION_ID, found) => Ok(found),
        _ => Err(StoreError::Foreign { path }),
    }
}

fn set_pragmas(connection: &Connection) -> Result<(), StoreError> {
    // Readers never wait for a writer, and a crash leaves the last whole transaction.
    connection.pragma_update(None, "journal_mode", "WAL")?;
    // Flushed at every commit: writes are rare and a lost fitting costs a press job.
    connection.pragma_update(None, "synchronous", "FULL")?;
    // SQLite leaves references unchecked unless told.
    connection.pragma_update(None, "foreign_keys", true)?;
    // A file from elsewhere must not run functions from its schema.
    connection.pragma_update(None, "trusted_schema", false)?;
    // Holds what the rack reads of a thousand bows; without it every page comes from the disk each time.
    connection.pragma_update(None, "cache_size", -CACHE_KIB)?;
    // Notices a damaged page when it is read instead of misreading it.
    connection.pragma_update(None, "cell_size_check", true)?;
    Ok(())
}

/// An engine error that concerns the file itself, in words about that file.
pub(super) fn translated(path: &Path, error: rusqlite::Error) -> StoreError {
    let path = path.to_owned();
    match error.sqlite_error_code() {
        Some(ErrorCode::DatabaseBusy | ErrorCode::DatabaseLocked) => StoreError::Locked { path },
        Some(ErrorCode::ReadOnly | ErrorCode::PermissionDenied | ErrorCode::CannotOpen) => {
            StoreError::ReadOnly { path }
        }
        _ => StoreError::from(error),
    }
}

/// Keeps a damaged file under another name.
fn set_aside(path: &Path) -> StoreError {
    match aside::move_aside(path, "damaged") {
        Ok(set_aside) => StoreError::Damaged {
            path: path.to_owned(),
            set_aside,
        },
        Err(error) => error,
    }
}
