//! Every refusal in words the user can act on, as they stand. A changed sentence changes this list; a
//! variant without a sentence here does not compile.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use shimwright::album::AlbumError;
use shimwright::backup::BackupError;
use shimwright::distance::DistanceError;
use shimwright::flight::{AirError, ArrowError, ArrowFigure, DownrangeError, MotionError};
use shimwright::frame::{ArrowKind, PointPx};
use shimwright::group::GroupError;
use shimwright::impact::NotSnapped;
use shimwright::measure::MeasureError;
use shimwright::photo::{PhotoError, QualityFault};
use shimwright::plane::{Edge, PlaneError};
use shimwright::record::{Field, FieldError};
use shimwright::sheet::SheetError;
use shimwright::spacer::KitError;
use shimwright::split::SplitError;
use shimwright::store::{StoreError, Thing};
use shimwright::swap::SwapError;
use shimwright::tear::TearRefusal;
use shimwright::units::UnitsError;
use shimwright::verdict::{CheckError, CheckItem, VerdictError};
use shimwright::walkback::WalkBackError;
use shimwright::workshop::WorkshopError;

fn path() -> PathBuf {
    PathBuf::from("bench.workshop")
}

fn b() -> String {
    "B".to_owned()
}

fn said(text: &str) -> String {
    text.to_owned()
}

const FAR: DistanceError = DistanceError { distance_m: 400.0 };
const FAR_WORDS: &str = "400 m as distance is outside 0.5 to 100 m; check the number and its unit";

/// What is wrong, then what to do: the program puts "error: " before it and nothing behind it.
fn is_one_sentence(words: &str) -> bool {
    let starts_small = words.starts_with(|first: char| !first.is_uppercase());
    starts_small && words.contains("; ") && !words.ends_with(['.', '?', ';', ' '])
}

macro_rules! refusals {
    ($($test:ident: $of:ident { $($variant:ident: $sample:expr => $words:expr;)+ })+) => {
        const COVERED: &[&str] = &[$(stringify!($of)),+];
        $(#[test]
        fn $test() {
            fn named(error: &$of) -> &'static str {
                match error { $($of::$variant { .. } => stringify!($variant),)+ }
            }
            $(
                let error: $of = $sample;
                assert_eq!(named(&error), stringify!($variant));
                assert_eq!(error.to_string(), $words);
                assert!(is_one_sentence($words), "{}", $words);
            )+
        })+
    };
}

refusals! {
    of_kits: KitError {
        NoPairs: KitError::NoPairs { kit: said("Shop") }
            => "the kit \"Shop\" has no pairs; enter at least one thin and thick spacer";
        EmptyName: KitError::EmptyName
            => "the kit or one of its pairs has no name; give each its own";
        DuplicatePair: KitError::DuplicatePair { pair: b() }
            => "two pairs are called \"B\"; give each its own name";
        Implausible: KitError::Implausible { what: said("total"), value_mm: 44.0, low_mm: 2.0, high_mm: 20.0 }
            => "44 mm as total is outside 2 to 20 mm; measure it again and check the unit";
        WrongSum: KitError::WrongSum { pair: b(), sum_mm: 4.5, total_mm: 4.4, tolerance_mm: 0.03 }
            => "pair B adds up to 4.500 mm, but this kit's pairs must add up to 4.400 mm (within 0.030 mm); measure both pieces again";
        MixedPair: KitError::MixedPair {
            left_mm: 1.3, right_mm: 2.9, sum_mm: 4.2, total_mm: 4.4, left_partner_mm: Some(3.1), right_partner_mm: None,
        } => "1.300 mm left and 2.900 mm right add up to 4.200 mm, not 4.400 mm, so they are no pair; put 1.300 mm with 3.100 mm, and measure 2.900 mm again, which is not a piece of this kit";
        UnclearPiece: KitError::UnclearPiece { thickness_mm: 1.4, candidates: vec![said("A"), b()] }
            => "1.400 mm may be of pair A or B; measure the other piece too";
        UnknownPair: KitError::UnknownPair { pair: said("Z"), known: vec![said("A"), b()] }
            => "this kit has no pair \"Z\"; choose one of A, B";
    }
    of_planes: PlaneError {
        TooFewPoints: PlaneError::TooFewPoints { got: 3, need: 4 }
            => "3 known points are too few; mark 4 or more";
        NotFinite: PlaneError::NotFinite => "a point is not a number; tap it again";
        Degenerate: PlaneError::Degenerate
            => "the points lie in a line or on top of each other; tap the four corners again";
        CornersOutOfOrder: PlaneError::CornersOutOfOrder
            => "the corners are out of order; tap top left, top right, bottom right, bottom left as seen in the photo";
        Size: PlaneError::Size { what: "sheet width", value: 2.1, min: 5.0, max: 5000.0 }
            => "2.1 mm as sheet width is outside 5 to 5000 mm; measure it again and check the unit";
        WrongShape: PlaneError::WrongShape { percent_wide: 9.2 }
            => "the sheet in the photo is +9 % wider for its height than the one chosen; check which size it is, and that the corners are on it";
        Turned: PlaneError::Turned
            => "the sheet lies turned by a quarter; swap its width and height, or start at another corner";
        EdgeNotFound: PlaneError::EdgeNotFound { edge: Edge::Left, percent_seen: 12.0 }
            => "only 12 % of the left edge was found; move the corners onto the sheet, or photograph it against a background of another shade";
        TooOblique: PlaneError::TooOblique { degrees: 71.0 }
            => "the sheet is seen too much from the side (71 degrees); photograph it from straight in front";
        EdgeCut: PlaneError::EdgeCut { edge: Edge::Top }
            => "the top edge runs out of the photo; take it again with room around the sheet";
        NotFound: PlaneError::NotFound
            => "no single sheet stands out in the photo; tap its four corners";
        SingleRing: PlaneError::SingleRing
            => "one ring alone can be wrong by a metre; enter the radii of all rings that can be seen, or tap the middle again";
        TooFewRings: PlaneError::TooFewRings { found: 2, need: 3 }
            => "only 2 of the rings were found, and at least 3 are needed; tap the middle again, or photograph the face from straight in front";
        RingsAmbiguous: PlaneError::RingsAmbiguous
            => "the rings fit in more than one size; check the radii, enter all rings that can be seen, or tap the middle again";
        UnknownFace: PlaneError::UnknownFace { key: said("face_41") }
            => "there is no face called \"face_41\"; choose one from the list, or enter your own ring radii";
        RingsNotFound: PlaneError::RingsNotFound
            => "the rings of this face were not found around the tap; tap its centre again, or choose another face";
    }
    of_photographs: PhotoError {
        NotJpeg: PhotoError::NotJpeg
            => "this file is not a JPEG photograph; choose a photo straight from the camera";
        Damaged: PhotoError::Damaged { detail: said("it ends early") }
            => "the photo file is damaged or incomplete (it ends early); copy it again or take another";
        Size: PhotoError::Size { width: 40, height: 30, min_side: 64, max_megapixels: 64 }
            => "the photo says it is 40 x 30 px; choose one of 64 px a side or more and at most 64 megapixels";
        HeaderLies: PhotoError::HeaderLies { width: 4000, height: 3000, bytes: 700 }
            => "the photo says it is 4000 x 3000 px but the file holds only 700 bytes; copy it again";
        Unsupported: PhotoError::Unsupported { kind: "CMYK" }
            => "the photo is of the kind CMYK JPEG; save it as an ordinary 8-bit colour JPEG";
        Unusable: PhotoError::Unusable(QualityFault::Dark { highlights: 9 })
            => "the photo cannot be measured: it is too dark (brightest parts at 9 of 255); add light";
    }
    of_what_a_picture_lacks: QualityFault {
        Blurred: QualityFault::Blurred { edge_width_px: 30.0 }
            => "it is blurred (edges 30 px wide); hold still, tap to focus and take it again";
        Dark: QualityFault::Dark { highlights: 9 }
            => "it is too dark (brightest parts at 9 of 255); add light";
        BlownOut: QualityFault::BlownOut { share: 0.9 }
            => "90 % of it is pure white; tap the brightest part to expose for it, or shade the target";
        Flat: QualityFault::Flat { contrast: 7 }
            => "it shows almost one shade (range 7 of 255); uncover the lens and point it at the target";
    }
    of_holes: NotSnapped {
        NothingRound: NotSnapped::NothingRound
            => "no round hole stands out here; place the mark with the magnifier";
        RimHidden: NotSnapped::RimHidden
            => "too little of the hole's rim can be seen; place the mark with the magnifier";
        Ragged: NotSnapped::Ragged
            => "the hole is too ragged for a sure centre; place the mark with the magnifier";
        Crossed: NotSnapped::Crossed
            => "something lies across this, such as the torn edge of another hole; place the mark with the magnifier";
        WrongSize: NotSnapped::WrongSize
            => "what is here is not the size of an arrow hole; place the mark with the magnifier";
        ShaftStanding: NotSnapped::ShaftStanding
            => "an arrow seems to stand here; pull it and take the photo again, or use the magnifier";
        PictureEdge: NotSnapped::PictureEdge
            => "the mark is too near the edge of the photo; take it with more room around";
    }
    of_tears: TearRefusal {
        BadShaft: TearRefusal::BadShaft
            => "the shaft's outer diameter is outside 3.5 to 12 mm; measure it again";
        NothingTorn: TearRefusal::NothingTorn
            => "no torn opening stands out here; hold something dark behind the paper and tap into the tear";
        TooLarge: TearRefusal::TooLarge
            => "the opening is too large or runs into another one; shoot a fresh spot of paper";
        TooFewSlits: TearRefusal::TooFewSlits
            => "fewer than two vane slits can be seen; mark the point's hole and the nock end by hand";
        SlitsDisagree: TearRefusal::SlitsDisagree
            => "the vane slits do not meet in one place; mark the point's hole and the nock end by hand";
        ShapeUnclear: TearRefusal::ShapeUnclear
            => "the opening does not look like the track of this shaft; check its diameter, or mark both ends by hand";
        PictureEdge: TearRefusal::PictureEdge
            => "the tear is too near the edge of the photo; take it with more room around";
    }
    of_measuring: MeasureError {
        Photo: PhotoError::NotJpeg.into()
            => "this file is not a JPEG photograph; choose a photo straight from the camera";
        Plane: PlaneError::NotFinite.into() => "a point is not a number; tap it again";
        MarkOutside: MeasureError::MarkOutside { what: said("tap 3"), at: PointPx::new(-4.0, 20.0), width: 400, height: 300 }
            => "tap 3 at (-4, 20) px is not on the 400 x 300 px photo; tap it again";
        BadNumber: MeasureError::BadNumber { what: "shaft diameter (mm)", value: -5.0 }
            => "-5 as shaft diameter (mm) is not a number above zero; enter it again";
        NoReference: MeasureError::NoReference
            => "nothing in the photo is of known size yet; say first what is";
    }
    of_copies_of_photographs: AlbumError {
        Photo: PhotoError::NotJpeg.into()
            => "this file is not a JPEG photograph; choose a photo straight from the camera";
        Measure: MeasureError::NoReference.into()
            => "nothing in the photo is of known size yet; say first what is";
        MarkOutside: AlbumError::MarkOutside
            => "an arrow lies outside the sheet or face that was measured, so the whole picture is kept; correct the mark to crop it";
        NoPlane: AlbumError::NoPlane
            => "this photograph has no sheet or face to crop it to, so the whole picture is kept; measure it to crop it";
        Pack: AlbumError::Pack { detail: said("it is too wide") }
            => "the picture cannot be packed (it is too wide) and is as it was; try again with another one";
    }
    of_typed_figures: UnitsError {
        Empty: UnitsError::Empty { quantity: "a length", example: said("1.5 in") }
            => "nothing was typed; type a length, for example 1.5 in";
        NotANumber: UnitsError::NotANumber { text: said("abc"), example: said("1.5 in") }
            => "\"abc\" is not a number; write it like 1.5 in";
        DecimalSigns: UnitsError::DecimalSigns { text: said("1,234.5") }
            => "\"1,234.5\" has more than one decimal sign; use one point or one comma";
        ZeroDenominator: UnitsError::ZeroDenominator { text: said("3/0") }
            => "\"3/0\" divides by zero; check the fraction";
        UnknownUnit: UnitsError::UnknownUnit { unit: said("lb"), quantity: "a length", known: said("mm, in") }
            => "\"lb\" is not a unit of a length here; use one of mm, in";
    }
    of_groups: GroupError {
        NoArrows: GroupError::NoArrows { kind: ArrowKind::Bare }
            => "no bare arrow is left to count in this trial; mark one, or count one again that was left out";
        NotFinite: GroupError::NotFinite { index: 1 }
            => "impact 2 has no usable position; place it again";
    }
    of_splits: SplitError {
        NotAReference: SplitError::NotAReference { kind: ArrowKind::Bare }
            => "a split is measured from fletched field points; shoot or mark some as the reference";
        NotAProbe: SplitError::NotAProbe
            => "a split needs another kind of arrow beside the fletched ones; shoot or mark bare shafts or fixed-blade broadheads";
        Distance: FAR.into() => FAR_WORDS;
        Plane: SplitError::Plane
            => "the picture's scale has no usable uncertainty; mark its corners again";
    }
    of_walk_backs: WalkBackError {
        TooFewDistances: WalkBackError::TooFewDistances
            => "a walk-back needs groups at two distances or more, at least 0.5 m apart; shoot at another one (three show a bend as well)";
        NotFletched: WalkBackError::NotFletched { kind: ArrowKind::Bare }
            => "a walk-back is read from fletched arrows with field points only; leave the others out";
        Distance: FAR.into() => FAR_WORDS;
    }
    of_air: AirError {
        Altitude: AirError::Altitude { altitude_m: 9000.0 }
            => "9000 m as height above the sea is outside -500 to 6000 m; check the number and its unit";
        Temperature: AirError::Temperature { temperature_c: 77.0 }
            => "77 °C as temperature is outside -40 to 50 °C; check the number and its unit";
        Humidity: AirError::Humidity { humidity: 50.0 }
            => "50 as relative humidity is outside 0 to 1; enter it as a share, 0.5 for 50 %";
    }
    of_flight: MotionError {
        DoesNotArrive: MotionError::DoesNotArrive
            => "this arrow does not fly to that distance but turns across its path; check mass, balance point and vanes";
    }
    of_arrows: ArrowError {
        OutOfRange: ArrowError::OutOfRange { figure: ArrowFigure::Diameter, value: 57.0, low: 3.5, high: 12.0 }
            => "57 mm as shaft diameter is outside 3.5 to 12 mm; check the number and its unit";
        PartsOutweighArrow: ArrowError::PartsOutweighArrow { shaft_kg: -0.0021 }
            => "the parts leave -2.1 g for the shaft, which cannot be; check the masses of arrow, point, insert and vanes";
        Balance: ArrowError::Balance { foc_percent: 52.0 }
            => "this balance point is 52 % forward of centre, outside 0 to 40 %; measure it from the nock's throat";
        BareShowsNothing: ArrowError::BareShowsNothing
            => "a bare shaft of this arrow would land with the fletched ones whatever the bow does and cannot show a fault; check its figures";
        Motion: MotionError::DoesNotArrive.into()
            => "this arrow does not fly to that distance but turns across its path; check mass, balance point and vanes";
    }
    of_arrows_downrange: DownrangeError {
        Arrow: ArrowError::BareShowsNothing.into()
            => "a bare shaft of this arrow would land with the fletched ones whatever the bow does and cannot show a fault; check its figures";
        Distance: FAR.into() => FAR_WORDS;
    }
    of_checks: CheckError {
        NotMeasured: CheckError::NotMeasured { item: CheckItem::NockFit }
            => "the check \"nock_fit\" is looked at, not measured; leave its value and its range out";
        NotANumber: CheckError::NotANumber { item: CheckItem::BraceHeight }
            => "a figure of the check \"brace_height\" is not a number; correct it";
        Crossed: CheckError::Crossed { item: CheckItem::BraceHeight, low: 180.0, high: 170.0 }
            => "the range of the check \"brace_height\" runs from 180 down to 170; enter its low end first";
        NoState: CheckError::NoState { item: CheckItem::BraceHeight }
            => "the check \"brace_height\" has no state; enter one, or a measured value with the bow maker's range";
    }
    of_verdicts: VerdictError {
        OutOfRange: VerdictError::OutOfRange { what: said("distance (m)"), trial: Some(7), value: 0.0, low: 2.0, high: 100.0 }
            => "distance (m) in trial 7 is 0, outside 2 to 100; correct it and ask again";
        Fitting: VerdictError::Fitting { trial: None, kit: KitError::EmptyName }
            => "what was fitted: the kit or one of its pairs has no name; give each its own";
        NoPriority: VerdictError::NoPriority
            => "nothing is chosen to be brought together; choose at least one of bare shafts, broadheads and paper";
    }
    of_swaps: SwapError {
        NothingToChange: SwapError::NothingToChange
            => "this fitting is already in the bow; choose another one";
        AnswerNeeded: SwapError::AnswerNeeded
            => "this step asks what was found inside; say it before going on";
        NoQuestionHere: SwapError::NoQuestionHere
            => "this step does not ask what was found; confirm it as it stands";
        AtFirstStep: SwapError::AtFirstStep
            => "there is no step before the first; go on, or give the swap up";
        AtEnd: SwapError::AtEnd
            => "the last step was already confirmed; go back to the bow";
        Kit: KitError::EmptyName.into()
            => "the kit or one of its pairs has no name; give each its own";
    }
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

#[test]
fn of_distances() {
    assert_eq!(FAR.to_string(), FAR_WORDS);
    assert!(is_one_sentence(FAR_WORDS));
}

/// What the core's sources say is an error, whoever wrote it, stands above.
#[test]
fn no_refusal_is_left_out() {
    let mut named = BTreeSet::new();
    errors_in(
        &Path::new(env!("CARGO_MANIFEST_DIR")).join("../core/src"),
        &mut named,
    );
    let covered = COVERED.iter().copied().chain(["DistanceError"]);
    // Not derived, but shown as one.
    let derived = covered.filter(|name| *name != "QualityFault");
    assert_eq!(named, derived.map(str::to_owned).collect());
}

/// Names of the types in `folder` that derive `Error`.
fn errors_in(folder: &Path, named: &mut BTreeSet<String>) {
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            errors_in(&path, named);
        } else if path.extension().is_some_and(|ending| ending == "rs") {
            let text = std::fs::read_to_string(&path).unwrap();
            for derived in text.split("#[derive(").skip(1) {
                let (traits, rest) = derived.split_once(")]").unwrap();
                let mut traits = traits.split(',').map(str::trim);
                if traits.any(|one| one == "Error" || one == "thiserror::Error") {
                    let mut words = rest.split_whitespace();
                    words.find(|word| ["enum", "struct"].contains(word));
                    let name = words.next().unwrap();
                    named.insert(name.trim_end_matches('{').to_owned());
                }
            }
        }
    }
}
