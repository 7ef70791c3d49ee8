//! What the targets around the record do with their bytes; `tests/tests/fuzzed.rs` replays what was
//! found through the same functions.

// Each target uses its own part of this.
#![allow(dead_code)]

use std::io::{Cursor, Write};
use std::path::{Path, PathBuf};
use std::sync::OnceLock;

use sha2::{Digest, Sha256};
use shimwright::album::without_metadata;
use shimwright::backup::{BackupUse, PhotoFolder};
use shimwright::flight::TransferTable;
use shimwright::frame::{ArrowKind, PointMm, Side};
use shimwright::measure::MeasureRequest;
use shimwright::record::{BowDetails, Surface, TrialDraft, TrialImpact};
use shimwright::spacer::{Fitting, KitDraft, PairDraft, Seat};
use shimwright::units::{Force, Length, Mass, Speed, Unit, parse, parse_distance_m};
use shimwright::verdict::{Case, decide};
use shimwright::workshop::Workshop;

/// A verdict weighs every trial against every other: more than this is slow and shows nothing new.
const TRIALS: usize = 8;

/// Any bytes as a backup zip: taken, or refused with the workshop as it was.
pub(crate) fn backup(bytes: &[u8]) {
    take(bytes);
}

/// Any bytes as the rows of a backup whose zip and checksums are sound.
pub(crate) fn rows(bytes: &[u8]) {
    take(&packed(bytes));
}

/// Where to flip which bytes of a sound workshop file, four bytes a flip: opened, or set aside with
/// a typed error; whatever opens can be read from end to end, and what is damaged salvaged.
pub(crate) fn workshop_file(bytes: &[u8]) {
    let mut file = sound().to_vec();
    for flip in bytes.chunks_exact(4) {
        let at =
            usize::from(u16::from_le_bytes([flip[0], flip[1]])) << 2 | usize::from(flip[2] & 3);
        let at = at % file.len();
        file[at] = flip[3];
    }
    read_all(&file);
}

/// Any JSON as a case of the two scripting commands: an answer or a refusal.
pub(crate) fn case(bytes: &[u8]) {
    let _ = serde_json::from_slice::<MeasureRequest>(bytes);
    if let Ok(case) = serde_json::from_slice::<Case>(bytes)
        && case.trials.len() <= TRIALS
    {
        let _ = decide(&case, TransferTable::unrecorded());
    }
}

/// Any text as a figure with its unit: a finite number or a sentence; what is written back is read.
pub(crate) fn units(bytes: &[u8]) {
    let Ok(text) = std::str::from_utf8(bytes) else {
        return;
    };
    figure(text, Length::Millimetre);
    figure(text, Length::Inch);
    figure(text, Mass::Grain);
    figure(text, Speed::MetrePerSecond);
    figure(text, Force::Newton);
    if let Ok(distance_m) = parse_distance_m(text, Length::Yard) {
        assert!(distance_m.is_finite());
    }
}

fn figure<U: Unit>(text: &str, default: U) {
    if let Ok(base) = parse(text, default) {
        assert!(base.is_finite(), "{text:?}");
        let written = format!("{:.3} {}", default.of_base(base), default.symbol());
        assert!(
            base.abs() >= 1e9 || parse(&written, default).is_ok(),
            "{text:?} as {written:?}"
        );
    }
}

/// Any bytes as a photograph to be shared: refused, or a copy that stays the same copied again.
pub(crate) fn shared(bytes: &[u8]) {
    if let Ok(copy) = without_metadata(bytes) {
        assert_eq!(without_metadata(&copy).as_ref(), Ok(&copy));
    }
}

/// A folder in memory of this process's own.
fn folder() -> &'static Path {
    static FOLDER: OnceLock<PathBuf> = OnceLock::new();
    FOLDER.get_or_init(|| {
        let memory = Path::new("/dev/shm");
        let room = if memory.is_dir() {
            memory.to_owned()
        } else {
            std::env::temp_dir()
        };
        let folder = room.join(format!("shimwright-fuzz-{}", std::process::id()));
        std::fs::create_dir_all(&folder).expect("a folder in memory");
        folder
    })
}

/// Removes it.
pub(crate) fn tidy() {
    let _ = std::fs::remove_dir_all(folder());
}

fn emptied(name: &str) -> PathBuf {
    let inside = folder().join(name);
    let _ = std::fs::remove_dir_all(&inside);
    std::fs::create_dir_all(&inside).expect("a folder in memory");
    inside
}

/// The bytes of a workshop file with a kit, a bow and a trial.
fn sound() -> &'static [u8] {
    static SOUND: OnceLock<Vec<u8>> = OnceLock::new();
    SOUND.get_or_init(|| {
        let file = emptied("sound").join("bench.workshop");
        let mut workshop = Workshop::open(&file).expect("a new workshop");
        let kit = KitDraft {
            name: "Bench".into(),
            total_mm: 4.4,
            tolerance_mm: 0.05,
            pairs: vec![PairDraft::new("A", 1.3, 3.1), PairDraft::new("B", 1.6, 2.8)],
        };
        let kit_id = Some(workshop.save_kit(None, &kit, &[]).expect("a kit").id);
        let details = BowDetails {
            kit_id,
            ..BowDetails::named("Heron", 838.0)
        };
        let fitting = Fitting::alike(Seat::new("A", Side::Left));
        let bow = workshop
            .add_bow(&details, Some(&fitting), 1_000)
            .expect("a bow")
            .id;
        workshop.save_trial(bow, &face(), 2_000).expect("a trial");
        drop(workshop);
        std::fs::read(file).expect("the file that was just written")
    })
}

fn face() -> TrialDraft {
    let hit = |kind, x| TrialImpact::typed(kind, PointMm::new(x, 3.0), 1.5);
    TrialDraft {
        surface: Surface::Face,
        distance_m: 18.288,
        shooter: String::new(),
        arrow_setup_id: None,
        impacts: vec![
            hit(ArrowKind::Fletched, 0.0),
            hit(ArrowKind::Fletched, 9.0),
            hit(ArrowKind::Bare, 40.0),
            hit(ArrowKind::Bare, 52.0),
        ],
        tears: Vec::new(),
        photo: None,
        plane: None,
        note: String::new(),
    }
}

/// Takes bytes as a backup, both ways. A refusal must leave the workshop as it was.
fn take(zip: &[u8]) {
    for used_as in [BackupUse::Restore, BackupUse::Merge] {
        let here = emptied("taken");
        let (file, backup) = (here.join("bench.workshop"), here.join("backup.zip"));
        std::fs::write(&file, sound()).expect("room in memory");
        std::fs::write(&backup, zip).expect("room in memory");
        let photos = PhotoFolder::new(&here.join("photos"));
        let mut workshop = Workshop::open(&file).expect("a sound workshop");
        let taken = workshop
            .begin_taking(&backup, used_as, &photos)
            .and_then(|taking| workshop.finish_taking(taking));
        if taken.is_err() {
            let rack = workshop.rack("").expect("the workshop as it was");
            assert_eq!(rack.len(), 1);
            assert_eq!(
                workshop.trials(rack[0].bow_id).expect("its trials").len(),
                1
            );
        } else {
            walk(&workshop);
        }
    }
}

/// Reads everything a screen would.
fn walk(workshop: &Workshop) {
    let _ = workshop.unread();
    for row in workshop.rack("").unwrap_or_default() {
        let _ = workshop.bow_page(row.bow_id);
        let _ = workshop.history_page(row.bow_id, 1.0);
        let _ = workshop.arrows_csv(row.bow_id);
        let _ = workshop.trials_csv(row.bow_id);
    }
}

/// Opens bytes as a workshop file, reads what there is, and salvages it.
fn read_all(bytes: &[u8]) {
    let here = emptied("flipped");
    let (file, saved) = (here.join("bench.workshop"), here.join("saved.workshop"));
    std::fs::write(&file, bytes).expect("room in memory");
    if shimwright::store::salvage(&file, &saved).is_ok() {
        walk(&Workshop::open(&saved).expect("what was salvaged is sound"));
    }
    if let Ok(workshop) = Workshop::open(&file) {
        walk(&workshop);
    }
}

/// A backup with these rows, sound in everything else.
fn packed(rows: &[u8]) -> Vec<u8> {
    let digits = Sha256::digest(rows).into_iter();
    let digits: Vec<String> = digits.map(|byte| format!("{byte:02x}")).collect();
    let hash = digits.concat();
    let manifest = format!(
        "{{\"format\": \"shimwright-backup\", \"version\": 1, \"schema\": {}, \"made_ms\": 5, \
         \"parts\": [{{\"name\": \"workshop.json\", \"bytes\": {}, \"sha256\": \"{hash}\"}}]}}",
        shimwright::store::SCHEMA_VERSION,
        rows.len(),
    );
    let mut zip = zip::ZipWriter::new(Cursor::new(Vec::new()));
    let plain =
        zip::write::SimpleFileOptions::default().compression_method(zip::CompressionMethod::Stored);
    for (name, content) in [
        ("workshop.json", rows),
        ("manifest.json", manifest.as_bytes()),
    ] {
        zip.start_file(name, plain).expect("a part");
        zip.write_all(content).expect("its content");
    }
    zip.finish().expect("a zip").into_inner()
}
