//! Measuring on rendered photographs: the fast part of `tests/photo-table`, and bad photographs.

use shimwright::frame::{ArrowKind, PointMm};
use shimwright::measure::{MeasureError, PhotoSession, Reference, Tap};
use shimwright::plane::{Plane, PlaneWarning};
use shimwright_tests::render::{Coding, Exif, Light, Photo};
use shimwright_tests::shots::{self, Shot, Size};
use shimwright_tests::table::{self, Plan};

/// Seeds that nothing is tuned with; pictures of 3 MP, so that all of this takes seconds.
fn plan() -> Plan {
    Plan::new(7000, 3, Size::Quarter)
}

fn a4(shot: &Shot) -> Reference {
    Reference::Sheet {
        width_mm: 210.0,
        height_mm: 297.0,
        corners_px: Some(shot.truth().corners_px.to_vec()),
    }
}

fn sheet(seed: u64) -> Shot {
    shots::sheet(seed, Size::Quarter, 210.0, 297.0)
}

fn fit(jpeg: &[u8], reference: &Reference, k1: Option<f64>) -> Result<Plane, MeasureError> {
    let mut session = PhotoSession::open(jpeg)?;
    session.fit(reference, k1, None)?;
    session.plane().cloned().ok_or(MeasureError::NoReference)
}

fn worst_mm(shot: &Shot, plane: &Plane) -> f64 {
    let corners = [
        (-100.0, -140.0),
        (100.0, -140.0),
        (100.0, 140.0),
        (-100.0, 140.0),
        (0.0, 0.0),
    ];
    let error = |(x, y): (f64, f64)| {
        let at = PointMm::new(x, y);
        (plane.to_mm(shot.camera.to_px(at)).unwrap() - at).norm_mm()
    };
    corners.into_iter().map(error).fold(0.0, f64::max)
}

#[test]
fn sheets_keep_their_bar() {
    let row = table::sheets(&plan());
    assert!(row.kept(), "{row}");
}

#[test]
fn wrong_sheets_are_refused() {
    let row = table::other_sheet(&plan());
    assert!(row.kept(), "{row}");
}

#[test]
fn bowed_sheets_are_flagged_and_flat_ones_not() {
    let row = table::bowed(&plan());
    assert!(row.kept(), "{row}");
}

#[test]
fn one_ring_is_refused() {
    let row = table::single_rings(&plan());
    assert!(row.kept(), "{row}");
}

#[test]
fn tears_keep_their_bar() {
    let row = table::tears(&plan());
    assert!(row.kept(), "{row}");
}

#[test]
fn holes_in_paper_keep_their_bar() {
    let row = table::on_paper(&plan());
    assert!(row.kept(), "{row}");
}

#[test]
fn touching_holes_keep_their_bar() {
    // One in twenty may be beyond the bar, so there must be some dozens.
    let row = table::touching(&Plan::new(7000, 8, Size::Quarter));
    // Known to be missed since ragged holes are read as wounds, and reported by `tests/photo-table`: a
    // pair 3 mm apart looks like one large ragged hole, and the middle of both is given.
    let missed = ["3 mm apart: over 1 mm from either, share"];
    assert!(row.kept_but(&missed), "{row}");
}

#[test]
fn every_orientation_gives_the_same_millimetres() {
    let shot = sheet(7100);
    let photo = Photo::take(&shot.scene, &shot.camera, &shot.optics, shot.seed);
    for orientation in 1..=8 {
        let exif = Exif {
            orientation,
            ..shot.exif.clone()
        };
        let jpeg = photo.jpeg(92, Coding::Phone, &exif).unwrap();
        let plane = fit(&jpeg, &a4(&shot), None).unwrap();
        assert!(
            worst_mm(&shot, &plane) < 0.1,
            "{orientation}: {}",
            worst_mm(&shot, &plane)
        );
    }
}

#[test]
fn grey_progressive_and_four_ink_files_measure_alike_or_are_refused() {
    let shot = sheet(7101);
    let photo = Photo::take(&shot.scene, &shot.camera, &shot.optics, shot.seed);
    for coding in [
        Coding::Full,
        Coding::Grey,
        Coding::Progressive,
        Coding::Cmyk,
    ] {
        let jpeg = photo.jpeg(92, coding, &shot.exif).unwrap();
        match fit(&jpeg, &a4(&shot), None) {
            Ok(plane) => assert!(worst_mm(&shot, &plane) < 0.1, "{coding:?}"),
            Err(error) => assert_eq!(coding, Coding::Cmyk, "{error}"),
        }
    }
}

/// A refusal, or a stated wider uncertainty: never a confident wrong number.
fn honest(shot: &Shot, k1: Option<f64>) {
    if let Ok(plane) = fit(&shot.jpeg(), &a4(shot), k1) {
        let at = PointMm::new(90.0, 130.0);
        let px = shot.camera.to_px(at);
        let reading = plane.read(px, 0.0).unwrap();
        let error = (reading.at - at).norm_mm();
        let read = reading.reading + reading.fit;
        let told = read.sd_x_mm().hypot(read.sd_y_mm());
        assert!(
            error < 0.1 || error < 4.0 * told || !plane.warnings.is_empty(),
            "{error} mm, told {told}"
        );
    }
}

#[test]
fn a_blurred_photograph_is_refused_or_owns_up() {
    for blur_px in [4.0, 12.0] {
        let mut shot = sheet(7102);
        shot.optics.blur_px = blur_px;
        honest(&shot, None);
    }
}

#[test]
fn dark_and_blown_out_photographs_are_refused_or_own_up() {
    for gain in [0.004, 0.02, 6.0] {
        let mut shot = sheet(7103);
        shot.scene.light = Light {
            gain,
            ..Light::even()
        };
        honest(&shot, None);
    }
    let mut black = sheet(7103);
    black.scene.light = Light {
        gain: 0.0,
        ..Light::even()
    };
    assert!(fit(&black.jpeg(), &a4(&black), None).is_err());
}

#[test]
fn a_photograph_without_the_sheet_is_refused() {
    let mut shot = sheet(7104);
    let corners = a4(&shot);
    shot.scene.sheet.width_mm = 1.0;
    shot.scene.sheet.height_mm = 1.0;
    assert!(fit(&shot.jpeg(), &corners, None).is_err());
}

#[test]
fn a_sheet_leaving_the_picture_still_measures_or_owns_up() {
    let mut shot = sheet(7105);
    let whole = shot.camera.clone();
    shot.camera.width = whole.width * 4 / 5;
    honest(&shot, None);
}

#[test]
fn another_lens_than_the_remembered_one_is_said() {
    let shot = sheet(7106);
    let plane = fit(&shot.jpeg(), &a4(&shot), Some(shot.camera.k1 + 0.03)).unwrap();
    assert!(
        plane
            .warnings
            .iter()
            .any(|w| matches!(w, PlaneWarning::LensDiffers { .. })),
        "{:?}",
        plane.warnings
    );
}

#[test]
fn a_tap_where_no_hole_is_stays_a_tap() {
    let shot = sheet(7107);
    let mut session = PhotoSession::open(&shot.jpeg()).unwrap();
    session.fit(&a4(&shot), None, None).unwrap();
    let px = shot.camera.to_px(PointMm::new(20.0, 30.0));
    let (impact, _) = session
        .snap(&Tap {
            kind: ArrowKind::Bare,
            px,
            sd_px: Some(8.0),
            shaft_mm: None,
        })
        .unwrap();
    assert!(!impact.snapped && impact.reason.is_some());
}
