//! Photographs on the shelf: small copies, copies to share, crops, and what a sweep leaves alone.

use std::process::Command;

use shimwright::album::without_metadata;
use shimwright::backup::PhotoFolder;
use shimwright::frame::PointPx;
use shimwright::measure::{PhotoSession, Reference};
use shimwright::photo::{Planes, decode};
use shimwright::record::{PhotoRef, PlaneRecord, TrialDraft};
use shimwright::workshop::{Workshop, photo_thumbnail, photo_to_share};

use crate::backup::shelf::{photos, with_photo};
use crate::workshop::bench::{Folder, face, workshop};

fn demo_photo(name: &str) -> Vec<u8> {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/../demo/photos");
    std::fs::read(std::path::Path::new(folder).join(name)).unwrap()
}

/// What a camera writes beside a picture, as one APP1 segment: made by hand after TIFF 6.0 and EXIF
/// 2.32, with an orientation, a place on earth and a serial number.
fn exif(orientation: u8) -> Vec<u8> {
    let entry = |tag: u16, kind: u16, count: u32, value: [u8; 4]| {
        let head = [tag.to_le_bytes(), kind.to_le_bytes()].concat();
        [head, count.to_le_bytes().to_vec(), value.to_vec()].concat()
    };
    let ifd = |entries: &[Vec<u8>]| {
        let count = u16::try_from(entries.len()).unwrap().to_le_bytes().to_vec();
        [count, entries.concat(), vec![0; 4]].concat()
    };
    let (exif_at, gps_at, serial_at) = (8 + 2 + 36 + 4, 8 + 42 + 18, 8 + 42 + 18 + 18);
    let at = |place: u32| place.to_le_bytes();
    let main = ifd(&[
        entry(0x0112, 3, 1, [orientation, 0, 0, 0]),
        entry(0x8769, 4, 1, at(exif_at)),
        entry(0x8825, 4, 1, at(gps_at)),
    ]);
    let camera = ifd(&[entry(0xa431, 2, 9, at(serial_at))]);
    let place = ifd(&[entry(0x0001, 2, 2, *b"N\0\0\0")]);
    let tiff = [
        b"II*\0\x08\0\0\0".to_vec(),
        main,
        camera,
        place,
        b"SERIAL77\0".to_vec(),
    ]
    .concat();
    let length = u16::try_from(8 + tiff.len()).unwrap().to_be_bytes();
    [
        b"\xff\xe1".to_vec(),
        length.to_vec(),
        b"Exif\0\0".to_vec(),
        tiff,
    ]
    .concat()
}

/// The photograph with the segments that phones write before it and the film behind it.
fn as_shot(jpeg: &[u8], orientation: u8) -> Vec<u8> {
    let segment = |marker: u8, content: &[u8]| {
        let length = u16::try_from(2 + content.len()).unwrap().to_be_bytes();
        [&[0xff, marker], &length[..], content].concat()
    };
    let xmp = b"http://ns.adobe.com/xap/1.0/\0<x:xmpmeta>somewhere</x:xmpmeta>";
    [
        jpeg[..2].to_vec(),
        exif(orientation),
        segment(0xe1, xmp),
        segment(0xe2, b"MPF\0a second picture"),
        segment(0xed, b"Photoshop 3.0\0by somebody"),
        segment(0xfe, b"a comment of the camera"),
        jpeg[2..].to_vec(),
        b"ftypmp42 a film of the minute before".to_vec(),
    ]
    .concat()
}

#[test]
fn a_shared_photograph_is_the_same_picture_and_says_nothing_else() {
    let plain = demo_photo("before.jpg");
    let shot = as_shot(&plain, 6);
    let shared = without_metadata(&shot).unwrap();
    for word in [
        "SERIAL77",
        "somewhere",
        "somebody",
        "comment",
        "second",
        "film",
        "GPS",
    ] {
        let found = shared
            .windows(word.len())
            .any(|bytes| bytes == word.as_bytes());
        assert!(!found, "{word}");
    }
    let (before, after) = (
        decode(&shot, Planes::Colour).unwrap(),
        decode(&shared, Planes::Colour).unwrap(),
    );
    assert_eq!(
        (before.width(), before.height()),
        (after.width(), after.height())
    );
    for channel in 0..3 {
        let (a, b) = (before.channel(channel), after.channel(channel));
        let same = |x: usize, y: usize| a.at(x, y) == b.at(x, y);
        assert!(
            (0..a.height())
                .step_by(7)
                .all(|y| (0..a.width()).step_by(5).all(|x| same(x, y)))
        );
    }
    assert_eq!(without_metadata(&shared).unwrap(), shared);
}

/// By exiftool (Phil Harvey), where it is installed: it knows the tags of every camera.
#[test]
fn exiftool_finds_nothing_but_the_picture_and_how_it_is_turned() {
    let folder = Folder::new();
    let file = folder.path().join("shared.jpg");
    std::fs::write(
        &file,
        without_metadata(&as_shot(&demo_photo("before.jpg"), 6)).unwrap(),
    )
    .unwrap();
    let Ok(told) = Command::new("exiftool")
        .args(["-G0", "-s"])
        .arg(&file)
        .output()
    else {
        eprintln!("exiftool is not installed: not asked");
        return;
    };
    let told = String::from_utf8(told.stdout).unwrap();
    let beside: Vec<&str> = told
        .lines()
        .filter(|line| {
            !["[ExifTool]", "[File]", "[Composite]", "[JFIF]"]
                .iter()
                .any(|group| line.starts_with(group))
        })
        .collect();
    assert_eq!(beside.len(), 1, "{beside:?}");
    assert!(beside[0].contains("Orientation"), "{beside:?}");
}

#[test]
fn what_is_no_whole_jpeg_is_refused() {
    let shot = as_shot(&demo_photo("before.jpg"), 1);
    for bytes in [
        &b""[..],
        b"\xff\xd8",
        b"GIF89a",
        &shot[..5_000],
        &shot[..200],
    ] {
        assert!(without_metadata(bytes).is_err());
    }
}

#[test]
fn a_small_copy_is_made_once_and_goes_with_its_photograph() {
    let folder = Folder::new();
    let shelf = photos(&folder);
    let name = shelf.put(&demo_photo("before.jpg")).unwrap();
    let small = photo_thumbnail(&shelf, &name, 200).unwrap();
    let picture = decode(&small, Planes::Colour).unwrap();
    assert_eq!(picture.width().max(picture.height()), 200);
    let copies = || {
        std::fs::read_dir(folder.path().join("photos/small"))
            .unwrap()
            .count()
    };
    assert_eq!(
        (photo_thumbnail(&shelf, &name, 200).unwrap(), copies()),
        (small, 1)
    );
    assert!(photo_thumbnail(&shelf, "../bench.workshop", 200).is_err());
    assert!(photo_thumbnail(&shelf, "none.jpg", 200).is_err());
    assert!(photo_to_share(&shelf, &name).is_ok());

    let weeks = i64::MAX / 2;
    assert_eq!(
        shelf
            .sweep(std::slice::from_ref(&name), weeks)
            .unwrap()
            .orphans,
        0
    );
    assert_eq!(copies(), 1, "its photograph is named");
    assert_eq!(shelf.sweep(&[], weeks).unwrap().orphans, 1);
    assert_eq!(copies(), 0);
}

/// A trial measured on the demonstration's photograph of a sheet, four marks on it.
fn measured(shelf: &PhotoFolder) -> TrialDraft {
    let jpeg = demo_photo("before.jpg");
    let mut session = PhotoSession::open(&jpeg).unwrap();
    // As in demo/photos/before.case.json.
    let corners = [
        (481.0, 355.0),
        (3677.0, 318.0),
        (3432.0, 2519.0),
        (646.0, 2360.0),
    ];
    let reference = Reference::Sheet {
        width_mm: 297.0,
        height_mm: 210.0,
        corners_px: Some(corners.map(|(x, y)| PointPx::new(x, y)).to_vec()),
    };
    let facts = session.fit(&reference, None, None).unwrap();
    let plane = session.plane().unwrap();
    let mut shot = face(40.0);
    for impact in &mut shot.impacts {
        impact.px = Some(plane.to_px(impact.at));
    }
    TrialDraft {
        photo: Some(PhotoRef {
            file: shelf.put(&jpeg).unwrap(),
            width_px: u32::try_from(session.photo().width()).unwrap(),
            height_px: u32::try_from(session.photo().height()).unwrap(),
        }),
        plane: Some(PlaneRecord::of(&facts, &reference)),
        ..shot
    }
}

fn shelved(folder: &Folder) -> (Workshop, i64, PhotoFolder) {
    let (mut workshop, bow) = workshop(folder);
    let shelf = photos(folder);
    let shot = measured(&shelf);
    let trial = workshop.save_trial(bow, &shot, 2_000).unwrap().id;
    workshop.give_verdict(bow, 3_000).unwrap();
    (workshop, trial, shelf)
}

#[test]
fn a_crop_keeps_every_figure_and_the_verdict_and_can_be_measured_again() {
    let folder = Folder::new();
    let (mut workshop, trial, shelf) = shelved(&folder);
    let before = workshop.trial(trial).unwrap();
    let usage = workshop.photo_usage(&shelf).unwrap();
    assert!(
        workshop
            .photos_to_crop(&shelf, usage.bytes)
            .unwrap()
            .is_empty()
    );
    assert_eq!(
        workshop.photos_to_crop(&shelf, usage.bytes - 1).unwrap(),
        [trial]
    );

    let freed = workshop.crop_photo(&shelf, trial, 4_000).unwrap();
    assert!(freed > 0, "{freed}");
    let after = workshop.trial(trial).unwrap();
    assert_eq!(
        workshop.photo_usage(&shelf).unwrap().bytes,
        usage.bytes - freed
    );
    assert_eq!(
        workshop.photo_usage(&shelf).unwrap().orphans,
        0,
        "the whole picture is gone"
    );
    assert!(workshop.bow_page(after.bow_id).unwrap().verdict_stands);
    assert!(workshop.photos_to_crop(&shelf, 0).unwrap().is_empty());

    let crop = shelf
        .read(&after.shot.photo.as_ref().unwrap().file)
        .unwrap();
    let mut session = PhotoSession::open(&crop).unwrap();
    let again = after.shot.plane.as_ref().unwrap().marked.clone().unwrap();
    session.fit(&again, None, None).unwrap();
    let plane = session.plane().unwrap();
    let middle = |shot: &TrialDraft, place: &dyn Fn(usize) -> shimwright::frame::PointMm| {
        let sum = (0..shot.impacts.len())
            .map(place)
            .fold((0.0, 0.0), |sum, at| (sum.0 + at.x_mm, sum.1 + at.y_mm));
        let count = shot.impacts.len() as f64;
        (sum.0 / count, sum.1 / count)
    };
    let on_crop = |index: usize| {
        let px: PointPx = after.shot.impacts[index].px.unwrap();
        plane.to_mm(px).unwrap()
    };
    let on_record = |index: usize| before.shot.impacts[index].at;
    let (ours, theirs) = (
        middle(&after.shot, &on_crop),
        middle(&before.shot, &on_record),
    );
    for index in 0..before.shot.impacts.len() {
        assert_eq!(after.shot.impacts[index].at, before.shot.impacts[index].at);
        let (a, b) = (on_crop(index), on_record(index));
        let off = ((a.x_mm - ours.0) - (b.x_mm - theirs.0))
            .hypot((a.y_mm - ours.1) - (b.y_mm - theirs.1));
        assert!(off < 0.05, "mark {index} is {off} mm off");
    }
}

#[test]
fn what_cannot_be_cropped_is_kept_whole() {
    let folder = Folder::new();
    let (mut workshop, trial, shelf) = shelved(&folder);
    let mut shot = workshop.trial(trial).unwrap().shot;
    shot.impacts[0].px = Some(PointPx::new(1.0, 1.0));
    let bow = workshop.trial(trial).unwrap().bow_id;
    workshop.correct_trial(trial, bow, &shot).unwrap();
    assert!(
        workshop.crop_photo(&shelf, trial, 4_000).is_err(),
        "a mark in the picture's corner"
    );
    assert_eq!(workshop.trial(trial).unwrap().shot, shot);
    assert!(shelf.read(&shot.photo.unwrap().file).is_ok());
}

#[test]
fn a_picture_that_is_on_record_is_known_again_by_what_is_in_it() {
    let folder = Folder::new();
    let (mut workshop, bow) = workshop(&folder);
    let shot = with_photo(&folder, "1-0.jpg", b"\xff\xd8 a picture");
    let trial = workshop.save_trial(bow, &shot, 2_000).unwrap();
    with_photo(&folder, "2-0.jpg", b"\xff\xd8 a picture");
    with_photo(&folder, "3-0.jpg", b"\xff\xd8 a Picture");
    let known = |workshop: &Workshop, name: &str| {
        let known = workshop.is_photo_recorded(&photos(&folder), bow, name);
        known.unwrap()
    };
    assert!(known(&workshop, "2-0.jpg"));
    assert!(!known(&workshop, "3-0.jpg"));
    assert!(!known(&workshop, "9-0.jpg"));
    workshop.strike_trial(trial.id, true, 3_000).unwrap();
    assert!(
        !known(&workshop, "2-0.jpg"),
        "what counts for nothing counts once"
    );
}
