//! Backups as shipped versions wrote them: each is taken today.

use std::path::PathBuf;

use shimwright::backup::BackupUse;
use shimwright::store::SCHEMA_VERSION;
use shimwright::workshop::Workshop;

use crate::backup::shelf::{backup, photos, take, with_photo};
use crate::workshop::bench::Folder;

fn kept() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("data/backups")
}

#[test]
#[ignore = "writes tests/data/backups: run it with --ignored when a version ships"]
fn freeze_the_current_version() {
    let folder = Folder::new();
    let (mut workshop, bow) = crate::workshop::bench::workshop(&folder);
    let shot = with_photo(&folder, "1-0.jpg", b"\xff\xd8 a picture");
    workshop.save_trial(bow, &shot, 2_000).unwrap();
    workshop.give_verdict(bow, 3_000).unwrap();
    let zip = backup(&mut workshop, &folder, "frozen.zip");
    let name = format!("version-{SCHEMA_VERSION}.zip");
    std::fs::create_dir_all(kept()).unwrap();
    std::fs::copy(zip, kept().join(name)).unwrap();
}

#[test]
fn a_backup_of_every_frozen_version_is_restored_and_merged() {
    let mut seen = Vec::new();
    for entry in std::fs::read_dir(kept()).unwrap() {
        let zip = entry.unwrap().path();
        for used_as in [BackupUse::Restore, BackupUse::Merge] {
            let folder = Folder::new();
            let mut workshop = Workshop::open(&folder.file()).unwrap();
            let taken = take(&mut workshop, &folder, &zip, used_as).unwrap();
            assert_eq!(
                (taken.photos_added, taken.photos_missing),
                (1, 0),
                "{}",
                zip.display()
            );
            let rack = workshop.rack("").unwrap();
            assert_eq!(rack[0].name, "Heron");
            let trial = &workshop.trials(rack[0].bow_id).unwrap()[0];
            let photo = &trial.shot.photo.as_ref().unwrap().file;
            assert_eq!(photos(&folder).read(photo).unwrap(), b"\xff\xd8 a picture");
            let page = workshop.bow_page(rack[0].bow_id).unwrap();
            assert!(page.verdict_stands && workshop.unread().unwrap().is_empty());
        }
        seen.push(zip.file_name().unwrap().to_owned());
    }
    let today = format!("version-{SCHEMA_VERSION}.zip");
    assert!(
        seen.iter().any(|name| *name == *today),
        "{today} is not among {seen:?}"
    );
}
