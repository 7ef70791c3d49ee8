//! What can go wrong with a workshop file, by what the user can do about it.

use std::path::PathBuf;

use rusqlite::ErrorCode;
use thiserror::Error;

/// A kind of stored thing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Thing {
    /// A bow.
    Bow,
    /// A kit.
    Kit,
    /// An arrow set-up.
    ArrowSetup,
    /// A fitting.
    Fitting,
    /// A trial.
    Trial,
    /// A verdict.
    Verdict,
    /// A swap under way.
    Swap,
    /// An answer to a check.
    Check,
    /// A change of the set-up.
    Change,
}

impl Thing {
    /// What people call it.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Bow => "bow",
            Self::Kit => "kit",
            Self::ArrowSetup => "arrow set-up",
            Self::Fitting => "fitting",
            Self::Trial => "trial",
            Self::Verdict => "verdict",
            Self::Swap => "swap",
            Self::Check => "check",
            Self::Change => "change of the set-up",
        }
    }
}

/// A stored row that cannot be read back. It costs itself, not its neighbours.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Unread {
    /// What it held.
    pub thing: Thing,
    /// Its id.
    pub id: i64,
    /// Why it cannot be read.
    pub detail: String,
}

/// Why the workshop file could not be used.
#[derive(Debug, Error)]
pub enum StoreError {
    /// The path is a directory.
    #[error("{} is a folder, not a workshop file; choose a file in it", path.display())]
    IsDirectory {
        /// The path.
        path: PathBuf,
    },
    /// The folder of the file does not exist.
    #[error("the folder of {} does not exist; make it first", path.display())]
    NoFolder {
        /// The path.
        path: PathBuf,
    },
    /// The file may be read but not written.
    #[error("{} cannot be written; allow writing to it, or copy it to a place of your own", path.display())]
    ReadOnly {
        /// The path.
        path: PathBuf,
    },
    /// Another program holds the file.
    #[error("{} is in use by another program; close it there and try again", path.display())]
    Locked {
        /// The path.
        path: PathBuf,
    },
    /// The file was written by a later version of this program.
    #[error(
        "{} was written by a newer version (file {found}, this program {known}) and was not touched; update this program",
        path.display()
    )]
    Newer {
        /// The path.
        path: PathBuf,
        /// The file's schema version.
        found: i64,
        /// The newest schema version this program knows.
        known: i64,
    },
    /// A database of another program.
    #[error("{} belongs to another program and was not touched; choose a workshop file", path.display())]
    Foreign {
        /// The path.
        path: PathBuf,
    },
    /// The file is damaged. It was kept under another name.
    #[error(
        "{} is damaged and was kept as {}; open again for an empty workshop, then restore your last backup or salvage what can be read",
        path.display(), set_aside.display()
    )]
    Damaged {
        /// The path.
        path: PathBuf,
        /// Where the damaged file is now.
        set_aside: PathBuf,
    },
    /// Part of the file is damaged, or it is no database at all.
    #[error(
        "the workshop file is damaged and nothing was written; restore your last backup, or salvage what can be read"
    )]
    Corrupt,
    /// The disk is full.
    #[error("the disk is full and nothing was written; free some space and try again")]
    Full,
    /// No such thing.
    #[error("there is no {} number {id} in this workshop; choose one that is there", thing.word())]
    NotFound {
        /// What was asked for.
        thing: Thing,
        /// Its id.
        id: i64,
    },
    /// A stored value that cannot be read back.
    #[error(
        "a stored value in {table} cannot be read ({detail}); restore your last backup, or salvage what can be read"
    )]
    Unreadable {
        /// The table.
        table: &'static str,
        /// What the reader said.
        detail: String,
    },
    /// What should be the rows of a workshop is none, or more than a workshop can be.
    #[error("the rows of this backup cannot be read ({detail}); use another copy of it")]
    Dump {
        /// What is wrong.
        detail: String,
    },
    /// The file system refused.
    #[error("{} cannot be used ({detail}); check that it is there, may be written to, and has room", path.display())]
    Io {
        /// The path.
        path: PathBuf,
        /// What the system said.
        detail: String,
    },
    /// Anything else the database engine reports.
    #[error(
        "the workshop file cannot be used ({0}); try again, and if it stays so restore your last backup"
    )]
    Engine(#[source] rusqlite::Error),
}

impl StoreError {
    /// Whether the error concerns what stands in one row, and the rows beside it can still be read.
    pub(super) fn is_of_one_row(&self) -> bool {
        use rusqlite::Error as E;
        match self {
            Self::Unreadable { .. } | Self::NotFound { .. } => true,
            Self::Engine(error) => matches!(
                error,
                E::FromSqlConversionFailure(..)
                    | E::IntegralValueOutOfRange(..)
                    | E::InvalidColumnType(..)
                    | E::Utf8Error(..)
            ),
            _ => false,
        }
    }
}

impl From<rusqlite::Error> for StoreError {
    fn from(error: rusqlite::Error) -> Self {
        match error.sqlite_error_code() {
            Some(ErrorCode::DiskFull) => Self::Full,
            Some(ErrorCode::DatabaseCorrupt | ErrorCode::NotADatabase) => Self::Corrupt,
            _ => Self::Engine(error),
        }
    }
}
