//! A damaged file: what is readable comes back, and what is missing is told.

use std::process::Command;

use shimwright::store::{SalvagedTable, salvage};
use shimwright::workshop::Workshop;

use crate::backup::shelf::backup;
use crate::workshop::bench::{Folder, face, workshop};

const TRIALS: u32 = 120;

/// The bytes of a sound workshop file.
fn sound() -> Vec<u8> {
    let folder = Folder::new();
    let (mut workshop, bow) = workshop(&folder);
    for day in 0..i64::from(TRIALS) {
        workshop.save_trial(bow, &face(40.0), 2_000 + day).unwrap();
    }
    drop(workshop);
    std::fs::read(folder.file()).unwrap()
}

/// A workshop file with some of its pages overwritten.
fn hurt(folder: &Folder, sound: &[u8], pages: std::ops::Range<usize>) -> std::path::PathBuf {
    let mut bytes = sound.to_vec();
    bytes[pages.start * 4096..pages.end * 4096].fill(0x5a);
    let damaged = folder.path().join("hurt.workshop");
    std::fs::write(&damaged, bytes).unwrap();
    damaged
}

fn of<'a>(saved: &'a [SalvagedTable], table: &str) -> &'a SalvagedTable {
    saved.iter().find(|one| one.table == table).unwrap()
}

#[test]
fn wherever_it_is_hurt_the_rest_comes_back() {
    let sound = sound();
    let length = sound.len() / 4096;
    let (mut some_lost, mut worked) = (0, 0);
    for page in (1..length).step_by(4) {
        let folder = Folder::new();
        let damaged = hurt(&folder, &sound, page..page + 1);
        let before = std::fs::read(&damaged).unwrap();
        let path = folder.path().join("new.workshop");
        let Ok(saved) = salvage(&damaged, &path) else {
            continue;
        };
        worked += 1;
        assert_eq!(std::fs::read(&damaged).unwrap(), before, "it is only read");
        let trials = of(&saved, "trial");
        let counted = trials.saved + trials.missing;
        assert!(
            counted == TRIALS || trials.at_least && counted < TRIALS,
            "page {page}: {trials:?}"
        );
        some_lost += u32::from(trials.saved < TRIALS);
        let mut fresh = Workshop::open(&path).unwrap();
        assert!(fresh.unread().unwrap().is_empty(), "page {page}");
        if of(&saved, "bow").saved == 1 && of(&saved, "fitting").saved == 1 {
            assert!(trials.saved > TRIALS / 2, "page {page}: {saved:?}");
            let bow = fresh.rack("").unwrap()[0].bow_id;
            assert_eq!(fresh.trials(bow).unwrap().len() as u32, trials.saved);
            fresh.save_trial(bow, &face(1.0), 9_000).unwrap();
        }
        backup(&mut fresh, &folder, "sound.zip");
        let told = Command::new("sqlite3")
            .arg(&path)
            .arg("PRAGMA integrity_check; PRAGMA foreign_key_check;")
            .output()
            .unwrap();
        assert_eq!(
            String::from_utf8_lossy(&told.stdout).trim(),
            "ok",
            "page {page}"
        );
    }
    assert!(
        some_lost > 5 && worked > length / 8,
        "{some_lost} {worked} {length}"
    );
}

#[test]
fn a_sound_file_loses_nothing() {
    let folder = Folder::new();
    let sound = hurt(&folder, &sound(), 0..0);
    let path = folder.path().join("new.workshop");
    let saved = salvage(&sound, &path).unwrap();
    let complete = |one: &SalvagedTable| one.missing == 0 && !one.at_least;
    assert!(saved.iter().all(complete), "{saved:?}");
    let (old, new) = (
        Workshop::open(&sound).unwrap(),
        Workshop::open(&path).unwrap(),
    );
    assert_eq!(new.history(1).unwrap(), old.history(1).unwrap());
}

#[test]
fn the_newest_rows_are_missed_though_no_gap_tells_of_them() {
    let sound = sound();
    let mut newest_lost = 0;
    let pages = sound.chunks_exact(4096).map(|page| {
        let marks = b"\"impacts\"";
        page.windows(marks.len()).any(|place| place == marks)
    });
    let of_trials: Vec<usize> = pages
        .enumerate()
        .filter_map(|(page, holds)| holds.then_some(page))
        .collect();
    for page in of_trials.into_iter().rev().take(6) {
        let folder = Folder::new();
        let damaged = hurt(&folder, &sound, page..page + 1);
        let path = folder.path().join("new.workshop");
        let Ok(saved) = salvage(&damaged, &path) else {
            continue;
        };
        let fresh = Workshop::open(&path).unwrap();
        let Some(row) = fresh.rack("").unwrap().pop() else {
            continue;
        };
        let last = fresh.trials(row.bow_id).unwrap().pop().map(|last| last.id);
        let trials = of(&saved, "trial");
        if last.is_some_and(|last| last < i64::from(TRIALS)) {
            newest_lost += 1;
            assert_eq!(trials.saved + trials.missing, TRIALS, "page {page}");
            assert!(!trials.at_least, "page {page}");
        }
    }
    assert!(newest_lost > 0);
}

#[test]
fn without_any_list_of_the_rows_more_may_be_missing() {
    let sound = sound();
    let folder = Folder::new();
    let whole = hurt(&folder, &sound, 0..0);
    let mut bytes = sound.clone();
    let file = rusqlite::Connection::open(whole).unwrap();
    let roots = "SELECT rootpage FROM sqlite_schema WHERE type = 'index' AND tbl_name = 'trial'";
    let mut query = file.prepare(roots).unwrap();
    let pages = query.query_map([], |row| row.get::<_, i64>(0)).unwrap();
    for page in pages {
        let end = page.unwrap() as usize * 4096;
        bytes[end - 4096..end].fill(0x5a);
    }
    let damaged = hurt(&folder, &bytes, 0..0);
    let saved = salvage(&damaged, &folder.path().join("new.workshop")).unwrap();
    let trials = of(&saved, "trial");
    assert_eq!((trials.saved, trials.missing), (TRIALS, 0));
    assert!(trials.at_least);
    assert!(!of(&saved, "bow").at_least);
}

#[test]
fn a_letter_is_no_workshop() {
    let folder = Folder::new();
    let letter = folder.path().join("letter");
    std::fs::write(&letter, b"dear club\n".repeat(1000)).unwrap();
    assert!(salvage(&letter, &folder.file()).is_err());
    assert!(!folder.file().exists());
}
