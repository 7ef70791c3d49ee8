//! One error with few variants, each something the user can act on.

mod told;

use shimwright::flight::ArrowFigure;
use shimwright::record::Field;

/// What is wrong with a workshop file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, uniffi::Enum)]
pub enum FileProblem {
    /// It is a folder.
    IsDirectory,
    /// Its folder does not exist.
    NoFolder,
    /// It cannot be written.
    ReadOnly,
    /// Another program holds it.
    Locked,
    /// A newer version of this program wrote it.
    Newer,
    /// It belongs to another program.
    Foreign,
    /// It is damaged; `set_aside` says where it is kept, where it could not be opened at all.
    Damaged,
    /// The disk is full.
    Full,
    /// The system or the database engine refused.
    Refused,
}

/// Why a call cannot be done now.
#[derive(Debug, Clone, Copy, PartialEq, Eq, uniffi::Enum)]
pub enum Refusal {
    /// There is no such bow, kit, trial, fitting or verdict.
    NotFound,
    /// The bow has no kit.
    NoKit,
    /// Nobody has said what is fitted.
    NoFitting,
    /// A swap is under way.
    SwapOpen,
    /// No swap is under way.
    NoSwap,
    /// Damage is on record: a qualified technician first.
    Unsafe,
    /// A pair is in the record of a bow and must stay in its kit.
    PairInUse,
    /// The new kit does not have what is in the bow.
    KitLacksPair,
    /// A figure on record is outside what a verdict can be computed from.
    NoVerdict,
    /// The wanted fitting is already in.
    NothingToChange,
    /// The step asks what was found.
    AnswerNeeded,
    /// The step does not ask what was found, or there is no such step.
    NoSuchStep,
}

/// What is wrong with a kit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, uniffi::Enum)]
pub enum KitProblem {
    /// It has no pairs.
    NoPairs,
    /// A name is empty.
    EmptyName,
    /// Two pairs share a name.
    DuplicatePair,
    /// A length that no spacer has.
    Implausible,
    /// A pair whose pieces do not add up to the total.
    WrongSum,
    /// A pair that the kit does not have.
    UnknownPair,
    /// One piece that does not tell its pair; `subject` names the pairs it may be of.
    UnclearPiece,
}

/// What is wrong with a photograph or with what was marked on it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, uniffi::Enum)]
pub enum PhotoProblem {
    /// Not a JPEG file.
    NotJpeg,
    /// Cut short or garbled.
    Damaged,
    /// Too small or too large to measure in.
    Size,
    /// A kind of JPEG that no camera writes.
    Unsupported,
    /// Too blurred, dark or bright to measure in.
    Unusable,
    /// The reference was not found or cannot be trusted.
    Reference,
    /// The reference runs out of the picture.
    Cut,
    /// The reference is seen too much from the side.
    Oblique,
    /// Another sheet, or a sheet turned by a quarter.
    WrongShape,
    /// The corners cross or lie in a line.
    Corners,
    /// A mark outside the picture.
    MarkOutside,
    /// A length, diameter or uncertainty that cannot be.
    BadNumber,
    /// No reference was fitted yet.
    NoReference,
}

/// Why a call failed. Nothing was written.
#[derive(Debug, thiserror::Error, uniffi::Error)]
pub enum WorkshopError {
    /// A field that is empty (`value` is null) or outside `low` to `high`.
    #[error("{detail}")]
    BadField {
        /// Which field.
        field: Field,
        /// Which figure of an arrow, for [`Field::ArrowFigure`].
        arrow: Option<ArrowFigure>,
        /// What was entered; not a number shows as NaN.
        value: Option<f64>,
        /// Smallest value that is taken.
        low: f64,
        /// Largest value that is taken.
        high: f64,
        /// The same in English.
        detail: String,
    },
    /// A kit or a seat that does not check out.
    #[error("{detail}")]
    BadKit {
        /// What is wrong.
        problem: KitProblem,
        /// The pair or value it concerns.
        subject: String,
        /// What was found, mm: a sum or a length.
        value_mm: Option<f64>,
        /// The same in English.
        detail: String,
    },
    /// Two pieces that are no matched pair.
    #[error("{detail}")]
    MixedPair {
        /// Left piece, mm.
        left_mm: f64,
        /// Right piece, mm.
        right_mm: f64,
        /// What they add up to, mm.
        sum_mm: f64,
        /// What a pair of this kit adds up to, mm.
        total_mm: f64,
        /// The piece that belongs with the left one, mm.
        left_partner_mm: Option<f64>,
        /// The piece that belongs with the right one, mm.
        right_partner_mm: Option<f64>,
        /// The same in English.
        detail: String,
    },
    /// The call cannot be done now.
    #[error("{detail}")]
    Refused {
        /// Why.
        why: Refusal,
        /// The pair it concerns, where it concerns one.
        pair: Option<String>,
        /// The same in English.
        detail: String,
    },
    /// A photograph, its reference or a mark on it.
    #[error("{detail}")]
    Photo {
        /// What is wrong.
        problem: PhotoProblem,
        /// The same in English.
        detail: String,
    },
    /// The workshop file.
    #[error("{detail}")]
    File {
        /// What is wrong.
        problem: FileProblem,
        /// Where a damaged file is kept now.
        set_aside: Option<String>,
        /// The same in English.
        detail: String,
    },
}
