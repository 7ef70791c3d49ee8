//! A workshop with photographs, and its backup.

use std::path::PathBuf;

use shimwright::backup::{BackupTaken, BackupUse, PhotoFolder};
use shimwright::record::{PhotoRef, TrialDraft};
use shimwright::workshop::{Answer, Workshop};

use crate::workshop::bench::{Folder, face, workshop};

pub(crate) fn photos(folder: &Folder) -> PhotoFolder {
    PhotoFolder::new(&folder.path().join("photos"))
}

/// A trial whose photograph lies in the folder under the name a camera gave it.
pub(crate) fn with_photo(folder: &Folder, name: &str, content: &[u8]) -> TrialDraft {
    std::fs::create_dir_all(folder.path().join("photos")).unwrap();
    std::fs::write(photos(folder).file(name), content).unwrap();
    TrialDraft {
        photo: Some(PhotoRef {
            file: name.into(),
            width_px: 4000,
            height_px: 3000,
        }),
        ..face(60.0)
    }
}

/// Bytes that no packing makes smaller, as those of a photograph.
pub(crate) fn picture(bytes: usize) -> Vec<u8> {
    // A linear congruential generator with Knuth's multiplier.
    let next = |state: &u64| {
        Some(
            state
                .wrapping_mul(6_364_136_223_846_793_005)
                .wrapping_add(1),
        )
    };
    let states = std::iter::successors(Some(1_u64), next);
    states
        .map(|state| (state >> 56) as u8)
        .take(bytes)
        .collect()
}

/// One bow, a verdict and two trials with photographs.
pub(crate) fn stocked(folder: &Folder) -> (Workshop, i64) {
    let (mut workshop, bow) = workshop(folder);
    for (day, content) in [(2, b"first picture".to_vec()), (3, picture(3_000_000))] {
        let shot = with_photo(folder, &format!("{day}-0.jpg"), &content);
        workshop.save_trial(bow, &shot, day * 1_000).unwrap();
    }
    workshop.give_verdict(bow, 4_000).unwrap();
    (workshop, bow)
}

pub(crate) fn backup(workshop: &mut Workshop, folder: &Folder, name: &str) -> PathBuf {
    let to = folder.path().join(name);
    let giving = workshop.begin_backup(&photos(folder), 9_000).unwrap();
    assert!(giving.write_to(&to, |_| true).unwrap());
    to
}

pub(crate) fn take(
    workshop: &mut Workshop,
    folder: &Folder,
    zip: &std::path::Path,
    used_as: BackupUse,
) -> Answer<BackupTaken> {
    let taking = workshop.begin_taking(zip, used_as, &photos(folder))?;
    workshop.finish_taking(taking)
}

/// Every row as a backup carries it.
pub(crate) fn rows(workshop: &mut Workshop, folder: &Folder) -> serde_json::Value {
    let zip = backup(workshop, folder, "rows.zip");
    let unzipped = std::process::Command::new("unzip")
        .arg("-p")
        .arg(&zip)
        .arg("workshop.json")
        .output()
        .unwrap();
    assert!(unzipped.status.success(), "{unzipped:?}");
    std::fs::remove_file(zip).unwrap();
    serde_json::from_slice(&unzipped.stdout).unwrap()
}
