//! Sheets and cards as they lie about: coloured, printed on, at the border of the picture, not flat.

use super::*;
use crate::photo::{ExifFacts, Rgb};
use crate::plane::picture::{Camera, is_on_card};

fn camera() -> Camera {
    Camera {
        turns: [12.0, -8.0, 4.0],
        ..Camera::level(150.0)
    }
}

fn draw(camera: &Camera, colour: impl Fn(PointMm) -> [f64; 3]) -> Photo {
    let planes = [0, 1, 2].map(|c| camera.draw(8.0, |m| colour(m)[c]));
    let pixels = (0..planes[0].data.len()).flat_map(|i| [0, 1, 2].map(|c| planes[c].data[i]));
    let rgb = Rgb {
        width: camera.width,
        height: camera.height,
        data: pixels.collect(),
    };
    Photo::from_rgb(rgb, ExifFacts::default())
}

fn on(m: PointMm, width_mm: f64, height_mm: f64) -> bool {
    m.x_mm.abs() <= width_mm / 2.0 && m.y_mm.abs() <= height_mm / 2.0
}

fn with(camera: &Camera) -> SheetFit {
    SheetFit {
        focal_px: Some(camera.focal_px),
        ..SheetFit::default()
    }
}

fn taps(camera: &Camera, sheet: &Sheet, off_px: f64) -> [PointPx; 4] {
    let signs = [(1.0, 0.6), (-0.7, 1.0), (0.9, -1.0), (-1.0, -0.4)];
    let corners = sheet.corners_mm();
    std::array::from_fn(|i| {
        let c = camera.see(corners[i]);
        PointPx::new(c.x_px + off_px * signs[i].0, c.y_px + off_px * signs[i].1)
    })
}

fn worst_mm(plane: &Plane, camera: &Camera, sheet: &Sheet) -> f64 {
    let off = |c: &PointMm| (plane.to_mm(camera.see(*c)).unwrap() - *c).norm_mm();
    sheet.corners_mm().iter().map(off).fold(0.0, f64::max)
}

/// A blue card on orange wood: equally bright in green, the plane that luma leans on.
fn blue_on_orange(m: PointMm) -> [f64; 3] {
    let grain = 8.0 * (0.9 * m.y_mm + 0.2 * m.x_mm).sin();
    if is_on_card(m, 1.0, 3.18) {
        [70.0, 130.0, 210.0]
    } else {
        [205.0 + grain, 130.0 + grain, 60.0 + grain]
    }
}

#[test]
fn a_card_is_found_in_the_colour_that_shows_it_with_taps_and_without() {
    let photo = draw(&camera(), blue_on_orange);
    let tapped = Sheet::ID1.fit(&photo, &taps(&camera(), &Sheet::ID1, 8.0), &with(&camera()));
    let alone = Sheet::ID1.find(&photo, &with(&camera()));
    for plane in [tapped.unwrap(), alone.unwrap()] {
        assert!(worst_mm(&plane, &camera(), &Sheet::ID1) < 0.15, "{plane:?}");
    }
}

#[test]
fn a_card_of_which_a_side_is_not_seen_is_refused() {
    let hidden = |m: PointMm| {
        let beside = m.x_mm > 0.0 && m.y_mm.abs() < 26.99;
        blue_on_orange(if beside { PointMm::default() } else { m })
    };
    let photo = draw(&camera(), hidden);
    let taps = taps(&camera(), &Sheet::ID1, 3.0);
    let refused = Sheet::ID1.fit(&photo, &taps, &with(&camera()));
    assert!(
        matches!(
            refused,
            Err(PlaneError::EdgeNotFound {
                edge: Edge::Right,
                ..
            })
        ),
        "{refused:?}"
    );
}

#[test]
fn a_frame_printed_inside_a_card_is_not_its_outline() {
    let framed = |m: PointMm| {
        let print = on(m, 79.6, 47.98);
        match (is_on_card(m, 1.0, 3.18), print) {
            (_, true) => [30.0, 60.0, 90.0],
            (true, false) => [235.0, 235.0, 230.0],
            _ => [120.0, 110.0, 100.0],
        }
    };
    let photo = draw(&camera(), framed);
    let plane = Sheet::ID1
        .fit(
            &photo,
            &taps(&camera(), &Sheet::ID1, -8.0),
            &with(&camera()),
        )
        .unwrap();
    assert!(worst_mm(&plane, &camera(), &Sheet::ID1) < 0.2, "{plane:?}");
}

/// A dark field printed on a card that is lighter than its grained ground by so much.
fn field_on_faint_card(lighter: f64) -> Photo {
    draw(&camera(), |m| {
        let grain = 5.0 * ((2.1 * m.x_mm + m.y_mm).sin() + (1.7 * m.y_mm - 0.8 * m.x_mm).sin());
        match (is_on_card(m, 1.0, 3.18), on(m, 81.2, 49.6)) {
            (_, true) => [30.0, 60.0, 90.0],
            (true, false) => [150.0 + lighter; 3],
            _ => [150.0 + grain; 3],
        }
    })
}

/// The field's edges are clearer, but its corners are sharp: a card's edge is looked for beside it, and where that
/// cannot be seen the card is refused.
#[test]
fn a_field_printed_on_a_card_is_not_taken_for_it() {
    let taps = taps(&camera(), &Sheet::ID1, -8.0);
    let fit = |lighter| {
        let photo = field_on_faint_card(lighter);
        let (print, _) = Sheet::ID1
            .fit_judged(&photo, &taps, &with(&camera()))
            .unwrap();
        assert!(worst_mm(&print, &camera(), &Sheet::ID1) > 3.0);
        Sheet::ID1.fit(&photo, &taps, &with(&camera()))
    };
    let plane = fit(34.0).unwrap();
    assert!(worst_mm(&plane, &camera(), &Sheet::ID1) < 0.1, "{plane:?}");
    assert_eq!(fit(22.0), Err(PlaneError::SharpCorners));
}

/// How far beyond a card's edge a place is, mm; negative on the card.
fn beyond_card_mm(m: PointMm) -> f64 {
    let (x, y) = (m.x_mm.abs() - 42.8 + 3.18, m.y_mm.abs() - 26.99 + 3.18);
    x.max(0.0).hypot(y.max(0.0)) + x.max(y).min(0.0) - 3.18
}

/// An edge out of focus fills the narrow strip in which it is looked for last; it is no noise for that.
#[test]
fn a_card_out_of_focus_is_found() {
    let soft = |m: PointMm| 90.0 + 120.0 / (1.0 + (beyond_card_mm(m) / 0.3).exp());
    let photo = draw(&camera(), |m| [soft(m); 3]);
    let taps = taps(&camera(), &Sheet::ID1, 6.0);
    let plane = Sheet::ID1.fit(&photo, &taps, &with(&camera())).unwrap();
    assert!(worst_mm(&plane, &camera(), &Sheet::ID1) < 0.3, "{plane:?}");
}

#[test]
fn what_runs_out_of_the_picture_is_said_to_and_what_fills_it_is_found() {
    let sheet = Sheet::new(100.0, 140.0, 0.5).unwrap();
    let paper = |m: PointMm| {
        if on(m, 100.0, 140.0) {
            [225.0; 3]
        } else {
            [60.0; 3]
        }
    };
    let filling = Camera::level(144.0);
    let photo = draw(&filling, paper);
    let found = sheet.fit(&photo, &taps(&filling, &sheet, 3.0), &with(&filling));
    let too_near = Camera::level(105.0);
    let cut = sheet.fit(
        &draw(&too_near, paper),
        &taps(&too_near, &sheet, 3.0),
        &with(&too_near),
    );
    assert!(worst_mm(&found.unwrap(), &filling, &sheet) < 0.15);
    assert!(matches!(cut, Err(PlaneError::EdgeCut { .. })), "{cut:?}");
}

#[test]
fn a_card_seen_from_the_side_is_measured_with_a_warning_and_from_farther_round_refused() {
    let seen = |degrees: f64| {
        let side = Camera {
            turns: [degrees, 0.0, 0.0],
            ..Camera::level(170.0)
        };
        // Its rim stands out below the nearer of the long edges, in grey.
        let rim_mm = 0.76 * degrees.to_radians().tan();
        let near = if side.see(PointMm::new(0.0, 20.0)).y_px > side.see(PointMm::default()).y_px {
            1.0
        } else {
            -1.0
        };
        let painted = move |m: PointMm| {
            let beyond_mm = near * m.y_mm - Sheet::ID1.height_mm / 2.0;
            let on_rim = (0.0..rim_mm).contains(&beyond_mm) && m.x_mm.abs() < 42.8;
            if on_rim {
                [190.0; 3]
            } else {
                blue_on_orange(m)
            }
        };
        let photo = draw(&side, painted);
        let fit = Sheet::ID1.fit(&photo, &taps(&side, &Sheet::ID1, 2.0), &with(&side));
        (fit, side)
    };
    let (found, side) = seen(57.0);
    let plane = found.unwrap();
    let oblique = |w: &PlaneWarning| matches!(w, PlaneWarning::Oblique { .. });
    assert!(plane.warnings.iter().any(oblique), "{:?}", plane.warnings);
    let edge_sd_mm = plane.scale_sd.y * Sheet::ID1.height_mm;
    assert!((0.5..0.7).contains(&edge_sd_mm), "{edge_sd_mm}");
    let worst = worst_mm(&plane, &side, &Sheet::ID1);
    assert!(worst < 2.0 * edge_sd_mm, "{worst} {plane:?}");
    let (refused, _) = seen(64.0);
    assert!(
        matches!(refused, Err(PlaneError::TooOblique { .. })),
        "{refused:?}"
    );
}

/// Paper has no rim: it is measured from farther round, and says so.
#[test]
fn paper_seen_from_the_side_is_measured_with_a_warning() {
    let sheet = Sheet::new(140.0, 180.0, 0.5).unwrap();
    let seen = |degrees: f64| {
        let side = Camera {
            turns: [degrees, 0.0, 0.0],
            ..Camera::level(330.0)
        };
        let paper = |m: PointMm| {
            if on(m, 140.0, 180.0) {
                [225.0; 3]
            } else {
                [60.0; 3]
            }
        };
        let fit = sheet.fit(&draw(&side, paper), &taps(&side, &sheet, 2.0), &with(&side));
        (fit, side)
    };
    let (found, side) = seen(65.0);
    let plane = found.unwrap();
    assert!(worst_mm(&plane, &side, &sheet) < 0.5, "{plane:?}");
    let oblique = |w: &PlaneWarning| matches!(w, PlaneWarning::Oblique { .. });
    assert!(plane.warnings.iter().any(oblique), "{:?}", plane.warnings);
    assert!(plane.scale_sd.x * 140.0 > 1.0);
    let (refused, _) = seen(74.0);
    assert!(matches!(refused, Err(PlaneError::TooOblique { .. })));
}

/// Loose paper waves: neighbouring edge points err alike, and the uncertainty says so.
#[test]
fn waves_along_an_edge_are_one_error_and_not_a_hundred() {
    let sheet = Sheet::new(140.0, 180.0, 0.5).unwrap();
    let camera = Camera {
        distance_mm: 210.0,
        ..camera()
    };
    let paper = |wave_mm: f64| {
        move |m: PointMm| {
            let wave = wave_mm * (m.x_mm / 6.0).sin();
            let inside = m.x_mm.abs() <= 70.0 && m.y_mm.abs() <= 90.0 + wave;
            if inside { [225.0; 3] } else { [60.0; 3] }
        }
    };
    let fit = |wave_mm: f64| {
        let photo = draw(&camera, paper(wave_mm));
        let plane = sheet.fit(&photo, &taps(&camera, &sheet, 3.0), &with(&camera));
        let at = camera.see(PointMm::new(0.0, 88.0));
        let plane = plane.unwrap();
        let sd_mm = plane.read(at, 0.0).unwrap().fit.sd_y_mm();
        (sd_mm, plane)
    };
    let ((flat_mm, _), (waved_mm, plane)) = (fit(0.0), fit(0.5));
    assert!(waved_mm > 3.0 * flat_mm, "{flat_mm} {waved_mm}");
    let off_mm = (plane.to_mm(camera.see(PointMm::new(0.0, 90.0))).unwrap()
        - PointMm::new(0.0, 90.0))
    .norm_mm();
    assert!(off_mm < 3.0 * waved_mm, "{off_mm} {waved_mm}");
}
