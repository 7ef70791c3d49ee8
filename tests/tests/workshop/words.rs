//! Every refusal in words the user can act on, as they stand. A changed sentence changes this list.

use std::path::PathBuf;

use shimwright::record::{Field, FieldError};
use shimwright::store::{StoreError, Thing};
use shimwright::swap::SwapError;
use shimwright::workshop::WorkshopError;

fn path() -> PathBuf {
    PathBuf::from("bench.workshop")
}

#[test]
fn of_the_file() {
    let errors = [
        StoreError::IsDirectory { path: path() },
        StoreError::NoFolder { path: path() },
        StoreError::ReadOnly { path: path() },
        StoreError::Locked { path: path() },
        StoreError::Newer {
            path: path(),
            found: 2,
            known: 1,
        },
        StoreError::Foreign { path: path() },
        StoreError::Damaged {
            path: path(),
            set_aside: "bench.workshop.damaged-1".into(),
        },
        StoreError::Corrupt,
        StoreError::Full,
        StoreError::NotFound {
            thing: Thing::Bow,
            id: 7,
        },
    ];
    let words = [
        "bench.workshop is a folder, not a workshop file: choose a file in it",
        "the folder of bench.workshop does not exist: make it first",
        "bench.workshop cannot be written: allow writing to it, or copy it to a place of your own",
        "bench.workshop is in use by another program: close it there and try again",
        "bench.workshop was written by a newer version (file 2, this program 1): update this program; the file was not touched",
        "bench.workshop belongs to another program; it was not touched",
        "bench.workshop is damaged. It was kept as bench.workshop.damaged-1; opening again starts an empty workshop",
        "the workshop file is damaged: nothing was written; restore your last backup, or salvage what can be read",
        "the disk is full: nothing was written; free some space and try again",
        "there is no bow number 7 in this workshop",
    ];
    assert_eq!(errors.map(|error| error.to_string()), words);
}

#[test]
fn of_the_job() {
    let pair = || "B".to_owned();
    let errors = [
        WorkshopError::NoKit { bow_id: 1 },
        WorkshopError::NoFitting { bow_id: 1 },
        WorkshopError::SwapOpen { bow_id: 1 },
        WorkshopError::NoSwap { bow_id: 1 },
        WorkshopError::Unsafe { bow_id: 1 },
        WorkshopError::PairInUse { pair: pair() },
        WorkshopError::KitLacksPair { pair: pair() },
        SwapError::NothingToChange.into(),
        SwapError::AnswerNeeded.into(),
        SwapError::NoQuestionHere.into(),
        SwapError::AtFirstStep.into(),
        SwapError::AtEnd.into(),
        FieldError::Empty { field: Field::Name }.into(),
        Field::DrawLength.check(28.5).unwrap_err().into(),
    ];
    let words = [
        "choose the kit of this bow first",
        "say first what is fitted in this bow",
        "a swap is under way on this bow: finish or undo it first",
        "no swap is under way on this bow",
        "damage is on record for this bow: a qualified technician must look at it before it is pressed or shot",
        "pair B is in the record of a bow: it must stay in the kit",
        "the new kit has no pair \"B\", which is in the bow: say what is fitted now",
        "this fitting is already in the bow: nothing to swap",
        "say what was found inside before going on",
        "this step does not ask what was found",
        "this is the first step",
        "the last step was already confirmed",
        "the name is empty: fill it in",
        "28.5 mm as draw length is not between 350 and 950 mm: check the number and its unit",
    ];
    assert_eq!(errors.map(|error: WorkshopError| error.to_string()), words);
}
