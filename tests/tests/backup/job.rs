//! The way there and back.

use shimwright::backup::BackupUse;
use shimwright::workshop::Workshop;

use crate::backup::shelf::{backup, photos, picture, rows, stocked, take, with_photo};
use crate::workshop::bench::{Folder, face};

#[test]
fn a_backup_brings_everything_to_a_new_phone() {
    let (old, new) = (Folder::new(), Folder::new());
    let (mut workshop, bow) = stocked(&old);
    let zip = backup(&mut workshop, &old, "backup.zip");
    let mut fresh = Workshop::open(&new.file()).unwrap();
    let taken = take(&mut fresh, &new, &zip, BackupUse::Restore).unwrap();
    assert_eq!(
        (taken.photos_added, taken.photos_missing, taken.made_ms),
        (2, 0, 9_000)
    );
    assert_eq!(rows(&mut fresh, &new), rows(&mut workshop, &old));
    assert_eq!(fresh.history(bow).unwrap(), workshop.history(bow).unwrap());
    let shot = &fresh.trials(bow).unwrap()[1].shot;
    let kept = photos(&new).file(&shot.photo.as_ref().unwrap().file);
    assert_eq!(std::fs::read(kept).unwrap(), picture(3_000_000));
    assert!(fresh.unread().unwrap().is_empty());
    fresh.save_trial(bow, &face(20.0), 10_000).unwrap();
}

#[test]
fn what_a_restore_replaces_is_kept_beside_it() {
    let folder = Folder::new();
    let (mut workshop, bow) = stocked(&folder);
    let zip = backup(&mut workshop, &folder, "backup.zip");
    workshop.save_trial(bow, &face(50.0), 10_000).unwrap();
    let taken = take(&mut workshop, &folder, &zip, BackupUse::Restore).unwrap();
    assert_eq!(workshop.trials(bow).unwrap().len(), 2);
    let replaced = folder.path().join("bench.workshop.replaced-1");
    assert_eq!(taken.replaced.as_deref(), replaced.to_str());
    let before = Workshop::open(&replaced).unwrap();
    assert_eq!(before.trials(bow).unwrap().len(), 3);
    drop(before);
    let kept = workshop.put_file_back(&replaced).unwrap().unwrap();
    assert_eq!(workshop.trials(bow).unwrap().len(), 3);
    assert_eq!(
        Workshop::open(&kept).unwrap().trials(bow).unwrap().len(),
        2,
        "and what was there meanwhile is kept too"
    );
}

#[test]
fn only_a_replaced_file_is_put_back() {
    let folder = Folder::new();
    let (mut workshop, bow) = stocked(&folder);
    let zip = backup(&mut workshop, &folder, "backup.zip");
    let elsewhere = folder
        .path()
        .join("photos")
        .join("bench.workshop.replaced-1");
    for path in [zip, elsewhere, folder.file()] {
        if !path.exists() {
            std::fs::copy(folder.file(), &path).unwrap();
        }
        assert!(workshop.put_file_back(&path).is_err(), "{}", path.display());
    }
    let nowhere = folder.path().join("bench.workshop.replaced-9");
    assert!(workshop.put_file_back(&nowhere).is_err());
    std::fs::write(&nowhere, "no workshop").unwrap();
    assert!(workshop.put_file_back(&nowhere).is_err());
    assert_eq!(workshop.trials(bow).unwrap().len(), 2);
}

#[test]
fn a_backup_says_what_it_holds_before_it_is_taken() {
    let folder = Folder::new();
    let (mut workshop, _) = stocked(&folder);
    let zip = backup(&mut workshop, &folder, "backup.zip");
    let here = workshop.holding().unwrap();
    assert_eq!((here.bows, here.trials, here.verdicts), (1, 2, 1));
    let mut taking = workshop
        .begin_taking(&zip, BackupUse::Merge, &photos(&folder))
        .unwrap();
    assert_eq!(taking.holding().unwrap(), None);
    taking.step().unwrap();
    assert_eq!(taking.holding().unwrap(), Some((9_000, here)));
}

#[test]
fn of_what_restores_replaced_the_newest_two_are_kept() {
    let folder = Folder::new();
    let (mut workshop, bow) = stocked(&folder);
    let zip = backup(&mut workshop, &folder, "backup.zip");
    for more in 1..=4 {
        for shot in 0..more {
            workshop
                .save_trial(bow, &face(50.0), 10_000 + shot)
                .unwrap();
        }
        take(&mut workshop, &folder, &zip, BackupUse::Restore).unwrap();
    }
    let kept = |number| {
        folder
            .path()
            .join(format!("bench.workshop.replaced-{number}"))
    };
    assert_eq!([1, 2].map(|number| kept(number).exists()), [false, false]);
    let trials = [3, 4].map(|number| {
        let before = Workshop::open(&kept(number)).unwrap();
        before.trials(bow).unwrap().len()
    });
    assert_eq!(trials, [5, 6], "two trials of the backup and those since");
}

#[test]
fn a_backup_is_of_one_moment_however_long_it_takes() {
    let folder = Folder::new();
    let (mut workshop, bow) = stocked(&folder);
    let mut giving = workshop.begin_backup(&photos(&folder), 9_000).unwrap();
    let mut zip = giving.next_piece().unwrap().unwrap().bytes;
    workshop.save_trial(bow, &face(50.0), 10_000).unwrap();
    while let Some(piece) = giving.next_piece().unwrap() {
        assert!(piece.bytes.len() < 2 << 20, "a piece is small");
        assert!(piece.done_bytes <= piece.total_bytes);
        zip.extend(piece.bytes);
    }
    let path = folder.path().join("moment.zip");
    std::fs::write(&path, zip).unwrap();
    take(&mut workshop, &folder, &path, BackupUse::Restore).unwrap();
    assert_eq!(workshop.trials(bow).unwrap().len(), 2);
}

#[test]
fn stopping_on_the_way_leaves_nothing_behind() {
    let (old, new) = (Folder::new(), Folder::new());
    let (mut workshop, _) = stocked(&old);
    let zip = backup(&mut workshop, &old, "backup.zip");
    let fresh = Workshop::open(&new.file()).unwrap();
    let mut taking = fresh
        .begin_taking(&zip, BackupUse::Restore, &photos(&new))
        .unwrap();
    for _ in 0..2 {
        assert!(taking.step().unwrap());
    }
    let (done, total) = taking.progress();
    assert!(0 < done && done < total, "{done} of {total}");
    drop(taking);
    assert_eq!(
        std::fs::read_dir(new.path().join("photos"))
            .unwrap()
            .count(),
        0
    );
    let left = std::fs::read_dir(new.path()).unwrap();
    let names: Vec<String> = left
        .map(|e| e.unwrap().file_name().into_string().unwrap())
        .collect();
    assert!(
        names.iter().all(|name| !name.contains("incoming")),
        "{names:?}"
    );
    assert!(fresh.rack("").unwrap().is_empty());
}

#[test]
fn a_photograph_that_is_gone_or_rotten_is_told_and_costs_nothing_else() {
    let (old, new) = (Folder::new(), Folder::new());
    let (mut workshop, bow) = stocked(&old);
    drop(workshop.begin_backup(&photos(&old), 1).unwrap());
    let name = |at: usize, workshop: &Workshop| {
        let trials = workshop.trials(bow).unwrap();
        trials[at].shot.photo.clone().unwrap().file
    };
    std::fs::remove_file(photos(&old).file(&name(0, &workshop))).unwrap();
    std::fs::write(photos(&old).file(&name(1, &workshop)), b"bits have flipped").unwrap();
    assert_eq!(workshop.photo_usage(&photos(&old)).unwrap().missing, 1);
    let zip = backup(&mut workshop, &old, "backup.zip");
    let mut fresh = Workshop::open(&new.file()).unwrap();
    let taken = take(&mut fresh, &new, &zip, BackupUse::Restore).unwrap();
    assert_eq!((taken.photos_added, taken.photos_missing), (0, 2));
    assert_eq!(fresh.trials(bow).unwrap().len(), 2);
}

#[test]
fn the_sweep_takes_only_what_no_trial_names_and_is_old() {
    let folder = Folder::new();
    let (mut workshop, bow) = stocked(&folder);
    with_photo(&folder, "77-0.jpg", b"of a trial that was never saved");
    let shelf = photos(&folder);
    let now_ms = std::time::SystemTime::now()
        .duration_since(std::time::UNIX_EPOCH)
        .unwrap()
        .as_millis() as i64;
    assert_eq!(
        workshop.sweep_photos(&shelf, now_ms).unwrap().orphans,
        0,
        "too young"
    );
    let month_ms = 30 * 24 * 3_600_000;
    let gone = workshop.sweep_photos(&shelf, now_ms + month_ms).unwrap();
    assert_eq!((gone.orphans, gone.orphan_bytes), (1, 31));
    let usage = workshop.photo_usage(&shelf).unwrap();
    assert_eq!((usage.photos, usage.orphans, usage.missing), (2, 0, 0));
    assert_eq!(usage.bytes, 3_000_013);
    drop(workshop.begin_backup(&shelf, now_ms).unwrap());
    let shot = &workshop.trials(bow).unwrap()[0].shot;
    let named = &shot.photo.as_ref().unwrap().file;
    // The SHA-256 of the content, by coreutils' sha256sum.
    assert_eq!(
        named,
        "cb926b11e427c420d2ee9ae634b51e0739e7d0953aa94c07d9499829778bcfcf.jpg"
    );
}
