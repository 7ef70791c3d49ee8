//! Why the workshop refused a call.

use thiserror::Error;

use crate::album::AlbumError;
use crate::backup::BackupError;
use crate::flight::ArrowError;
use crate::measure::MeasureError;
use crate::record::FieldError;
use crate::sheet::SheetError;
use crate::spacer::KitError;
use crate::store::StoreError;
use crate::swap::SwapError;
use crate::verdict::VerdictError;

/// Why the workshop refused a call. Nothing was written.
#[derive(Debug, Error)]
pub enum WorkshopError {
    /// The workshop file.
    #[error(transparent)]
    Store(#[from] StoreError),
    /// A backup.
    #[error(transparent)]
    Backup(#[from] BackupError),
    /// A photograph that cannot be copied or cropped.
    #[error(transparent)]
    Album(#[from] AlbumError),
    /// A sheet to hand on.
    #[error(transparent)]
    Sheet(#[from] SheetError),
    /// A field that is empty or out of range.
    #[error(transparent)]
    Field(#[from] FieldError),
    /// A kit, a pair or loose pieces.
    #[error(transparent)]
    Kit(#[from] KitError),
    /// A step of a swap.
    #[error(transparent)]
    Swap(#[from] SwapError),
    /// An arrow that cannot be.
    #[error(transparent)]
    Arrow(#[from] ArrowError),
    /// A photograph, its plane or a mark on it.
    #[error(transparent)]
    Measure(#[from] MeasureError),
    /// A figure that no verdict can be computed from.
    #[error(transparent)]
    Verdict(#[from] VerdictError),
    /// The bow has no kit.
    #[error("this bow has no kit; choose its kit first")]
    NoKit {
        /// The bow.
        bow_id: i64,
    },
    /// Nobody has said what is fitted.
    #[error("nobody has said what is fitted in this bow; say it first")]
    NoFitting {
        /// The bow.
        bow_id: i64,
    },
    /// A swap is under way on this bow.
    #[error("a swap is under way on this bow; finish or undo it first")]
    SwapOpen {
        /// The bow.
        bow_id: i64,
    },
    /// No swap is under way on this bow.
    #[error("no swap is under way on this bow; start one first")]
    NoSwap {
        /// The bow.
        bow_id: i64,
    },
    /// A failed check that makes pressing the bow unsafe.
    #[error(
        "damage is on record for this bow; have a qualified technician look at it before it is pressed or shot"
    )]
    Unsafe {
        /// The bow.
        bow_id: i64,
    },
    /// A pair of the kit is in the record of a bow.
    #[error("pair {pair} is in the record of a bow; leave it in the kit")]
    PairInUse {
        /// The pair.
        pair: String,
    },
    /// A bow changes kits and its spacers are not in the new one.
    #[error("the new kit has no pair \"{pair}\", which is in the bow; say what is fitted now")]
    KitLacksPair {
        /// The pair that is fitted.
        pair: String,
    },
}
