//! The one call on small pictures drawn here.

use super::*;
use crate::frame::{ArrowKind, PointMm, PointPx};
use crate::impact::NotSnapped;
use crate::photo::{ExifFacts, Grey, Photo};
use crate::plane::PlaneError;

const PX_PER_MM: f64 = 5.0;
const HOLES: [(f64, f64); 2] = [(-30.0, 20.0), (41.3, -17.6)];

/// A 160 x 120 mm sheet on a dark ground, seen square at 5 px per mm, with two holes.
fn picture() -> Photo {
    let (width, height) = (1000, 800);
    let data = (0..width * height).map(|i| {
        let at = place(PointPx::new((i % width) as f64, (i / width) as f64));
        let on_sheet = at.x_mm.abs() < 80.0 && at.y_mm.abs() < 60.0;
        let hole = HOLES
            .iter()
            .any(|h| (at.x_mm - h.0).hypot(at.y_mm - h.1) < 3.0);
        if hole {
            20
        } else if on_sheet {
            210
        } else {
            70
        }
    });
    let grey = Grey {
        width,
        height,
        data: data.collect(),
    };
    Photo::from_grey(grey, ExifFacts::default())
}

fn place(p: PointPx) -> PointMm {
    PointMm::new((p.x_px - 500.0) / PX_PER_MM, (400.0 - p.y_px) / PX_PER_MM)
}

fn pixel(x_mm: f64, y_mm: f64) -> PointPx {
    PointPx::new(500.0 + x_mm * PX_PER_MM, 400.0 - y_mm * PX_PER_MM)
}

fn sheet() -> Reference {
    let corners = [(-80.0, 60.0), (80.0, 60.0), (80.0, -60.0), (-80.0, -60.0)];
    Reference::Sheet {
        width_mm: 160.0,
        height_mm: 120.0,
        corners_px: Some(corners.map(|(x, y)| pixel(x, y)).to_vec()),
    }
}

fn tap(x_mm: f64, y_mm: f64) -> Tap {
    Tap {
        kind: ArrowKind::Bare,
        px: pixel(x_mm, y_mm),
        sd_px: None,
        shaft_mm: None,
    }
}

fn session() -> PhotoSession {
    let mut session = PhotoSession::of(picture());
    session.fit(&sheet(), None, None).unwrap();
    session
}

#[test]
fn a_tap_beside_a_hole_snaps_to_its_centre() {
    for (x, y) in HOLES {
        let (impact, rim) = session().snap(&tap(x + 1.5, y - 1.0)).unwrap();
        assert!(impact.snapped, "{:?}", impact.reason);
        assert!((impact.x_mm - x).hypot(impact.y_mm - y) < 0.15);
        assert!((impact.radius_mm.unwrap() - 3.0).abs() < 0.15);
        assert!(rim.is_some());
    }
}

#[test]
fn a_tap_on_blank_paper_stays_a_tap_and_says_so() {
    let (impact, rim) = session().snap(&tap(5.0, 5.0)).unwrap();
    assert_eq!(impact.reason, Some(NotSnapped::NothingRound));
    assert!((impact.x_mm - 5.0).hypot(impact.y_mm - 5.0) < 0.1);
    assert!(impact.sd_mm > 2.0 && rim.is_none());
}

#[test]
fn a_placed_mark_stays_where_it_was_put_though_a_hole_is_near() {
    let (x, y) = HOLES[0];
    let placed = session().place(&tap(x + 1.5, y - 1.0)).unwrap();
    assert!(!placed.snapped && placed.reason.is_none());
    assert!((placed.x_mm - x - 1.5).hypot(placed.y_mm - y + 1.0) < 0.1);
}

#[test]
fn suggestions_find_both_holes() {
    let found = session().propose().unwrap().holes;
    assert_eq!(found.len(), 2);
    for (x, y) in HOLES {
        assert!(found.iter().any(|p| (p.x_mm - x).hypot(p.y_mm - y) < 0.3));
    }
}

#[test]
fn two_points_give_scale_and_say_that_tilt_is_not_corrected() {
    let mut session = PhotoSession::of(picture());
    let reference = Reference::Points {
        a_px: pixel(-80.0, 0.0),
        b_px: pixel(80.0, 0.0),
        distance_mm: 160.0,
    };
    let facts = session.fit(&reference, None, None).unwrap();
    assert!((facts.px_per_mm - PX_PER_MM).abs() < 1e-9);
    assert!(facts.scale_sd_x > 0.01 && facts.warnings.len() == 1);
    let (impact, _) = session.snap(&tap(-30.0, 20.0)).unwrap();
    assert!((impact.x_mm + 30.0).hypot(impact.y_mm - 20.0) < 0.15);
}

#[test]
fn a_measured_length_corrects_the_scale() {
    let mut session = PhotoSession::of(picture());
    let length = MeasuredLength {
        a_px: pixel(-80.0, 0.0),
        b_px: pixel(80.0, 0.0),
        length_mm: 161.6,
        sd_mm: 0.2,
    };
    let facts = session.fit(&sheet(), None, Some(&length)).unwrap();
    assert!(facts.scale_sd_x < 0.002);
    let (impact, _) = session.snap(&tap(41.0, -17.0)).unwrap();
    assert!((impact.x_mm - 41.3 * 1.01).abs() < 0.25);
}

#[test]
fn marks_outside_and_missing_references_are_named() {
    let outside = session().snap(&tap(500.0, 0.0)).unwrap_err();
    assert!(
        outside
            .to_string()
            .starts_with("tap at (3000, 400) px is not on")
    );
    let fresh = PhotoSession::of(picture());
    assert_eq!(fresh.snap(&tap(0.0, 0.0)), Err(MeasureError::NoReference));
    let three = Reference::Sheet {
        width_mm: 160.0,
        height_mm: 120.0,
        corners_px: Some(vec![PointPx::default(); 3]),
    };
    let few = PhotoSession::of(picture()).fit(&three, None, None);
    let expected = PlaneError::TooFewPoints { got: 3, need: 4 };
    assert_eq!(few, Err(MeasureError::Plane(expected)));
    let nan = Tap {
        sd_px: Some(f64::NAN),
        ..tap(0.0, 0.0)
    };
    assert!(matches!(
        session().snap(&nan),
        Err(MeasureError::BadNumber { .. })
    ));
}

#[test]
fn the_straight_on_picture_has_the_sheets_size() {
    let flat = session().rectified(0.5).unwrap();
    assert!((flat.width as i64 - 320).abs() <= 2 && (flat.height as i64 - 240).abs() <= 2);
    assert_eq!(flat.rgb.len(), 3 * flat.width * flat.height);
    let at = |x: f64, y: f64| {
        let column = ((x - flat.left_mm) / 0.5).round() as usize;
        let row = ((flat.top_mm - y) / 0.5).round() as usize;
        flat.rgb[3 * (row * flat.width + column)]
    };
    assert!(at(-30.0, 20.0) < 40 && at(0.0, 0.0) > 200);
}
