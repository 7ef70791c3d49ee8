//! What is kept and handed on is refused with.

use shimwright::album::AlbumError;
use shimwright::backup::BackupError;
use shimwright::flight::ArrowError;
use shimwright::measure::MeasureError;
use shimwright::record::{Field, FieldError};
use shimwright::sheet::SheetError;
use shimwright::spacer::KitError;
use shimwright::store::{StoreError, Thing};
use shimwright::swap::SwapError;
use shimwright::verdict::VerdictError;
use shimwright::workshop::WorkshopError;

use super::{b, is_one_sentence, path, refusals, said};

refusals! {
    of_fields: FieldError {
        Empty: FieldError::Empty { field: Field::Name } => "the name is empty; fill it in";
        OutOfRange: Field::DrawLength.check(28.5).unwrap_err()
            => "28.5 mm as draw length is outside 350 to 950 mm; check the number and its unit";
    }
    of_sheets: SheetError {
        Words: SheetError::Words { asked: 40, given: 39 }
            => "the sheet asks for 40 texts and was given 39; ask again";
        Width: SheetError::Width { width_px: 20, low: 400, high: 4000 }
            => "a width of 20 px is outside 400 to 4000 px; choose another for the picture of the sheet";
        Long: SheetError::Long
            => "this bow's sheet is too long for one picture; share it as PDF, or make it narrower";
        Draw: SheetError::Draw { detail: said("no font") }
            => "the sheet cannot be drawn (no font); try its other form, PDF or picture";
    }
    of_the_file: StoreError {
        IsDirectory: StoreError::IsDirectory { path: path() }
            => "bench.workshop is a folder, not a workshop file; choose a file in it";
        NoFolder: StoreError::NoFolder { path: path() }
            => "the folder of bench.workshop does not exist; make it first";
        ReadOnly: StoreError::ReadOnly { path: path() }
            => "bench.workshop cannot be written; allow writing to it, or copy it to a place of your own";
        Locked: StoreError::Locked { path: path() }
            => "bench.workshop is in use by another program; close it there and try again";
        Newer: StoreError::Newer { path: path(), found: 2, known: 1 }
            => "bench.workshop was written by a newer version (file 2, this program 1) and was not touched; update this program";
        Foreign: StoreError::Foreign { path: path() }
            => "bench.workshop belongs to another program and was not touched; choose a workshop file";
        Damaged: StoreError::Damaged { path: path(), set_aside: "bench.workshop.damaged-1".into() }
            => "bench.workshop is damaged and was kept as bench.workshop.damaged-1; open again for an empty workshop, then restore your last backup or salvage what can be read";
        Corrupt: StoreError::Corrupt
            => "the workshop file is damaged and nothing was written; restore your last backup, or salvage what can be read";
        Full: StoreError::Full
            => "the disk is full and nothing was written; free some space and try again";
        NotFound: StoreError::NotFound { thing: Thing::Bow, id: 7 }
            => "there is no bow number 7 in this workshop; choose one that is there";
        Unreadable: StoreError::Unreadable { table: "trial", detail: said("no number") }
            => "a stored value in trial cannot be read (no number); restore your last backup, or salvage what can be read";
        Dump: StoreError::Dump { detail: said("some of its rows have no id") }
            => "the rows of this backup cannot be read (some of its rows have no id); use another copy of it";
        Io: StoreError::Io { path: path(), detail: said("permission denied") }
            => "bench.workshop cannot be used (permission denied); check that it is there, may be written to, and has room";
        Engine: StoreError::Engine(rusqlite::Error::QueryReturnedNoRows)
            => "the workshop file cannot be used (Query returned no rows); try again, and if it stays so restore your last backup";
    }
    of_backups: BackupError {
        NotABackup: BackupError::NotABackup { detail: said("it is no zip file") }
            => "this is no backup of a workshop (it is no zip file); choose a backup that this program made";
        Newer: BackupError::Newer { found: 2, known: 1 }
            => "this backup was made by a newer version (backup 2, this program 1); update this program first";
        Damaged: BackupError::Damaged { part: said("photos/1.jpg") }
            => "part photos/1.jpg of this backup is damaged; use another copy of it";
        TooLarge: BackupError::TooLarge { part: said("photos/1.jpg") }
            => "part photos/1.jpg of this backup is larger than anything a workshop holds; use another copy of it";
        Io: BackupError::Io { path: path(), detail: said("permission denied") }
            => "bench.workshop cannot be used (permission denied); check that it is there, may be written to, and has room";
        Store: StoreError::Full.into()
            => "the disk is full and nothing was written; free some space and try again";
    }
    of_the_job: WorkshopError {
        Store: StoreError::Full.into()
            => "the disk is full and nothing was written; free some space and try again";
        Backup: BackupError::Newer { found: 2, known: 1 }.into()
            => "this backup was made by a newer version (backup 2, this program 1); update this program first";
        Album: AlbumError::NoPlane.into()
            => "this photograph has no sheet or face to crop it to, so the whole picture is kept; measure it to crop it";
        Sheet: SheetError::Long.into()
            => "this bow's sheet is too long for one picture; share it as PDF, or make it narrower";
        Field: FieldError::Empty { field: Field::Name }.into() => "the name is empty; fill it in";
        Kit: KitError::EmptyName.into()
            => "the kit or one of its pairs has no name; give each its own";
        Swap: SwapError::AtEnd.into()
            => "the last step was already confirmed; go back to the bow";
        Arrow: ArrowError::BareShowsNothing.into()
            => "a bare shaft of this arrow would land with the fletched ones whatever the bow does and cannot show a fault; check its figures";
        Measure: MeasureError::NoReference.into()
            => "nothing in the photo is of known size yet; say first what is";
        Verdict: VerdictError::NoPriority.into()
            => "nothing is chosen to be brought together; choose at least one of bare shafts, broadheads and paper";
        NoKit: WorkshopError::NoKit { bow_id: 1 } => "this bow has no kit; choose its kit first";
        NoFitting: WorkshopError::NoFitting { bow_id: 1 }
            => "nobody has said what is fitted in this bow; say it first";
        SwapOpen: WorkshopError::SwapOpen { bow_id: 1 }
            => "a swap is under way on this bow; finish or undo it first";
        NoSwap: WorkshopError::NoSwap { bow_id: 1 }
            => "no swap is under way on this bow; start one first";
        Unsafe: WorkshopError::Unsafe { bow_id: 1 }
            => "damage is on record for this bow; have a qualified technician look at it before it is pressed or shot";
        PairInUse: WorkshopError::PairInUse { pair: b() }
            => "pair B is in the record of a bow; leave it in the kit";
        KitLacksPair: WorkshopError::KitLacksPair { pair: b() }
            => "the new kit has no pair \"B\", which is in the bow; say what is fitted now";
    }
}
