//! One error with few variants, each something the user can act on.

use shimwright::album::AlbumError;
use shimwright::backup::BackupError;
use shimwright::flight::{ArrowError, ArrowFigure};
use shimwright::measure::MeasureError;
use shimwright::photo::PhotoError;
use shimwright::plane::PlaneError;
use shimwright::record::{Field, FieldError};
use shimwright::spacer::KitError;
use shimwright::store::{StoreError, Thing};
use shimwright::swap::SwapError;
use shimwright::workshop::WorkshopError as Core;

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

impl From<Core> for WorkshopError {
    fn from(error: Core) -> Self {
        let detail = error.to_string();
        let refused = |why, pair| Self::Refused {
            why,
            pair,
            detail: detail.clone(),
        };
        match error {
            Core::Field(error) => field(&error, detail),
            Core::Kit(error) | Core::Swap(SwapError::Kit(error)) => kit(error, detail),
            Core::Store(error) | Core::Backup(BackupError::Store(error)) => store(error, detail),
            Core::Backup(error) => backup(&error, detail),
            Core::Album(AlbumError::Photo(error)) => photo(&error.into(), detail),
            Core::Measure(error) | Core::Album(AlbumError::Measure(error)) => photo(&error, detail),
            Core::Album(_) | Core::Sheet(_) => file(FileProblem::Refused, detail),
            Core::Arrow(error) => arrow(&error, detail),
            Core::Verdict(_) => refused(Refusal::NoVerdict, None),
            Core::Swap(error) => refused(step(&error), None),
            Core::NoKit { .. } => refused(Refusal::NoKit, None),
            Core::NoFitting { .. } => refused(Refusal::NoFitting, None),
            Core::SwapOpen { .. } => refused(Refusal::SwapOpen, None),
            Core::NoSwap { .. } => refused(Refusal::NoSwap, None),
            Core::Unsafe { .. } => refused(Refusal::Unsafe, None),
            Core::PairInUse { ref pair } => refused(Refusal::PairInUse, Some(pair.clone())),
            Core::KitLacksPair { ref pair } => refused(Refusal::KitLacksPair, Some(pair.clone())),
        }
    }
}

fn field(error: &FieldError, detail: String) -> WorkshopError {
    let (field, value, (low, high)) = match *error {
        FieldError::Empty { field } => (field, None, field.range()),
        FieldError::OutOfRange {
            field,
            value,
            low,
            high,
        } => (field, Some(value), (low, high)),
    };
    WorkshopError::BadField {
        field,
        arrow: None,
        value,
        low,
        high,
        detail,
    }
}

fn arrow(error: &ArrowError, detail: String) -> WorkshopError {
    let (low, high) = Field::ArrowFigure.range();
    let (figure, value, low, high) = match *error {
        ArrowError::OutOfRange {
            figure,
            value,
            low,
            high,
        } => (Some(figure), Some(value), low, high),
        _ => (None, None, low, high),
    };
    WorkshopError::BadField {
        field: Field::ArrowFigure,
        arrow: figure,
        value,
        low,
        high,
        detail,
    }
}

fn photo(error: &MeasureError, detail: String) -> WorkshopError {
    let problem = match error {
        MeasureError::Photo(error) => match error {
            PhotoError::NotJpeg => PhotoProblem::NotJpeg,
            PhotoError::Damaged { .. } | PhotoError::HeaderLies { .. } => PhotoProblem::Damaged,
            PhotoError::Size { .. } => PhotoProblem::Size,
            PhotoError::Unsupported { .. } => PhotoProblem::Unsupported,
            PhotoError::Unusable(_) => PhotoProblem::Unusable,
        },
        MeasureError::Plane(error) => plane(error),
        MeasureError::MarkOutside { .. } => PhotoProblem::MarkOutside,
        MeasureError::BadNumber { .. } => PhotoProblem::BadNumber,
        MeasureError::NoReference => PhotoProblem::NoReference,
    };
    WorkshopError::Photo { problem, detail }
}

fn plane(error: &PlaneError) -> PhotoProblem {
    match error {
        PlaneError::WrongShape { .. } | PlaneError::Turned => PhotoProblem::WrongShape,
        PlaneError::CornersOutOfOrder | PlaneError::Degenerate => PhotoProblem::Corners,
        PlaneError::EdgeCut { .. } => PhotoProblem::Cut,
        PlaneError::TooOblique { .. } => PhotoProblem::Oblique,
        PlaneError::Size { .. } | PlaneError::NotFinite => PhotoProblem::BadNumber,
        _ => PhotoProblem::Reference,
    }
}

fn step(error: &SwapError) -> Refusal {
    match error {
        SwapError::NothingToChange => Refusal::NothingToChange,
        SwapError::AnswerNeeded => Refusal::AnswerNeeded,
        _ => Refusal::NoSuchStep,
    }
}

fn kit(error: KitError, detail: String) -> WorkshopError {
    let (problem, subject, value_mm) = match error {
        KitError::MixedPair {
            left_mm,
            right_mm,
            sum_mm,
            total_mm,
            left_partner_mm,
            right_partner_mm,
        } => {
            return WorkshopError::MixedPair {
                left_mm,
                right_mm,
                sum_mm,
                total_mm,
                left_partner_mm,
                right_partner_mm,
                detail,
            };
        }
        KitError::NoPairs { kit } => (KitProblem::NoPairs, kit, None),
        KitError::EmptyName => (KitProblem::EmptyName, String::new(), None),
        KitError::DuplicatePair { pair } => (KitProblem::DuplicatePair, pair, None),
        KitError::Implausible { what, value_mm, .. } => {
            (KitProblem::Implausible, what, Some(value_mm))
        }
        KitError::WrongSum { pair, sum_mm, .. } => (KitProblem::WrongSum, pair, Some(sum_mm)),
        KitError::UnknownPair { pair, .. } => (KitProblem::UnknownPair, pair, None),
        KitError::UnclearPiece {
            thickness_mm,
            candidates,
        } => (
            KitProblem::UnclearPiece,
            candidates.join(", "),
            Some(thickness_mm),
        ),
    };
    WorkshopError::BadKit {
        problem,
        subject,
        value_mm,
        detail,
    }
}

fn store(error: StoreError, detail: String) -> WorkshopError {
    let mut kept = None;
    let problem = match error {
        StoreError::NotFound { thing, .. } => return not_found(thing, detail),
        StoreError::IsDirectory { .. } => FileProblem::IsDirectory,
        StoreError::NoFolder { .. } => FileProblem::NoFolder,
        StoreError::ReadOnly { .. } => FileProblem::ReadOnly,
        StoreError::Locked { .. } => FileProblem::Locked,
        StoreError::Newer { .. } => FileProblem::Newer,
        StoreError::Foreign { .. } | StoreError::Dump { .. } => FileProblem::Foreign,
        StoreError::Full => FileProblem::Full,
        StoreError::Corrupt => FileProblem::Damaged,
        StoreError::Damaged { set_aside, .. } => {
            kept = Some(set_aside.display().to_string());
            FileProblem::Damaged
        }
        StoreError::Unreadable { .. } | StoreError::Io { .. } | StoreError::Engine(_) => {
            FileProblem::Refused
        }
    };
    WorkshopError::File {
        problem,
        set_aside: kept,
        detail,
    }
}

fn backup(error: &BackupError, detail: String) -> WorkshopError {
    let problem = match error {
        BackupError::NotABackup { .. } | BackupError::TooLarge { .. } => FileProblem::Foreign,
        BackupError::Newer { .. } => FileProblem::Newer,
        BackupError::Damaged { .. } => FileProblem::Damaged,
        BackupError::Io { .. } | BackupError::Store(_) => FileProblem::Refused,
    };
    file(problem, detail)
}

fn file(problem: FileProblem, detail: String) -> WorkshopError {
    WorkshopError::File {
        problem,
        set_aside: None,
        detail,
    }
}

fn not_found(thing: Thing, detail: String) -> WorkshopError {
    let why = match thing {
        Thing::Swap => Refusal::NoSwap,
        _ => Refusal::NotFound,
    };
    WorkshopError::Refused {
        why,
        pair: None,
        detail,
    }
}
