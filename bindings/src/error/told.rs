//! The core's errors as those of the bindings.

use shimwright::album::AlbumError;
use shimwright::backup::BackupError;
use shimwright::flight::ArrowError;
use shimwright::measure::MeasureError;
use shimwright::photo::PhotoError;
use shimwright::plane::PlaneError;
use shimwright::record::{Field, FieldError};
use shimwright::spacer::KitError;
use shimwright::store::{StoreError, Thing};
use shimwright::swap::SwapError;
use shimwright::workshop::WorkshopError as Core;

use super::{FileProblem, KitProblem, PhotoProblem, Refusal, WorkshopError};

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
