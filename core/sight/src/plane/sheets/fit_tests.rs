use super::*;
use crate::photo::Grey;
use crate::plane::picture::Camera;

fn camera() -> Camera {
    Camera {
        turns: [14.0, -9.0, 3.0],
        aside_px: (12.0, -20.0),
        k1: 0.012,
        ..Camera::level(360.0)
    }
}

/// White paper on a darker ground that is lighter towards one corner.
fn paper(sheet: Sheet) -> impl Fn(PointMm) -> f64 {
    move |m| {
        let on = m.x_mm.abs() <= sheet.width_mm / 2.0 && m.y_mm.abs() <= sheet.height_mm / 2.0;
        if on {
            215.0
        } else {
            90.0 + 0.1 * (m.x_mm + m.y_mm)
        }
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

fn photo(grey: &Grey) -> Photo {
    Photo::from_grey(grey.clone(), crate::photo::ExifFacts::default())
}

fn worst_mm(plane: &Plane, camera: &Camera, sheet: &Sheet) -> f64 {
    let steps = [-0.5, -0.25, 0.0, 0.25, 0.5];
    let grid = steps.iter().flat_map(|x| steps.iter().map(move |y| (x, y)));
    grid.map(|(x, y)| {
        let m = PointMm::new(x * sheet.width_mm, y * sheet.height_mm);
        (plane.to_mm(camera.see(m)).unwrap() - m).norm_mm()
    })
    .fold(0.0, f64::max)
}

fn fit(camera: &Camera, grey: &Grey, sheet: &Sheet, off_px: f64) -> Result<Plane, PlaneError> {
    let with = SheetFit {
        tap_sd_px: Some(8.0),
        focal_px: Some(camera.focal_px),
        ..SheetFit::default()
    };
    sheet.fit(&photo(grey), &taps(camera, sheet, off_px), &with)
}

#[test]
fn sloppy_taps_come_out_to_hundredths() {
    let grey = camera().draw(3.0, paper(Sheet::A4));
    let plane = fit(&camera(), &grey, &Sheet::A4, 8.0).unwrap();
    let worst = worst_mm(&plane, &camera(), &Sheet::A4);
    assert!(worst < 0.05, "{worst} mm, {plane:?}");
    assert!((plane.lens.k1 - 0.012).abs() < 0.002, "{}", plane.lens.k1);
    assert!(
        plane.residual_px < 0.15 && plane.warnings.is_empty(),
        "{plane:?}"
    );
    let middle = plane.read(camera().see(PointMm::default()), 0.0).unwrap();
    assert!(middle.fit.sd_x_mm() < 0.05, "{middle:?}");
    assert!(
        worst
            < 5.0
                * plane
                    .read(camera().see(PointMm::new(100.0, 140.0)), 0.0)
                    .unwrap()
                    .fit
                    .sd_x_mm()
                    .max(0.01)
    );
}

#[test]
fn a_hidden_corner_does_not_matter() {
    let hand = |m: PointMm| {
        let on_hand = (m - PointMm::new(105.0, 148.5)).norm_mm() < 45.0;
        if on_hand { 150.0 } else { paper(Sheet::A4)(m) }
    };
    let plane = fit(&camera(), &camera().draw(3.0, hand), &Sheet::A4, 8.0).unwrap();
    assert!(worst_mm(&plane, &camera(), &Sheet::A4) < 0.08);
}

/// Paper whose lower edge something of nearly its shade lies over.
fn under_a_sleeve(m: PointMm) -> f64 {
    if m.y_mm < -120.0 {
        200.0
    } else {
        paper(Sheet::A4)(m)
    }
}

#[test]
fn a_hidden_side_is_left_out_and_said() {
    let grey = camera().draw(3.0, under_a_sleeve);
    let plane = fit(&camera(), &grey, &Sheet::A4, 3.0).unwrap();
    let left_out = PlaneWarning::EdgeLeftOut { edge: Edge::Bottom };
    assert!(plane.warnings.contains(&left_out), "{:?}", plane.warnings);
    let low = plane
        .read(camera().see(PointMm::new(0.0, -140.0)), 0.0)
        .unwrap();
    assert!(low.fit.sd_y_mm() > 0.5, "{low:?}");
}

/// The other three sides and the focal length tell where it is, better than taps do.
#[test]
fn a_hidden_side_lies_where_the_proportions_put_it() {
    let camera = Camera {
        aside_px: (0.0, 0.0),
        ..camera()
    };
    let grey = camera.draw(3.0, under_a_sleeve);
    let low = PointMm::new(0.0, -140.0);
    let off = |focal_px: Option<f64>| {
        let with = SheetFit {
            tap_sd_px: Some(14.0),
            focal_px,
            ..SheetFit::default()
        };
        let taps = taps(&camera, &Sheet::A4, 24.0);
        let plane = Sheet::A4.fit(&photo(&grey), &taps, &with).unwrap();
        let read = plane.read(camera.see(low), 0.0).unwrap();
        ((read.at - low).norm_mm(), read.fit.sd_y_mm())
    };
    let ((by_taps, _), (placed, sd)) = (off(None), off(Some(camera.focal_px)));
    assert!(placed < 0.5 * by_taps, "{placed} {by_taps}");
    assert!(placed < 3.0 * sd, "{placed} {sd}");
}

/// The side that is not seen lies where the proportions chosen put it, so that it cannot speak for them.
#[test]
fn another_sheet_is_refused_by_its_taps_where_a_side_is_hidden() {
    let hidden = |m: PointMm| {
        if m.x_mm > 0.0 && m.y_mm.abs() < 139.7 {
            215.0
        } else {
            paper(Sheet::LETTER)(m)
        }
    };
    let grey = camera().draw(3.0, hidden);
    let with = SheetFit {
        tap_sd_px: Some(8.0),
        focal_px: Some(camera().focal_px),
        ..SheetFit::default()
    };
    let taps = taps(&camera(), &Sheet::LETTER, 5.0);
    let fit = |sheet: Sheet| sheet.fit(&photo(&grey), &taps, &with);
    let left_out = PlaneWarning::EdgeLeftOut { edge: Edge::Right };
    let right = fit(Sheet::LETTER).unwrap();
    assert!(right.warnings.contains(&left_out), "{:?}", right.warnings);
    let other = fit(Sheet::A4);
    assert!(
        matches!(other, Err(PlaneError::WrongShape { .. })),
        "{other:?}"
    );
}

#[test]
fn another_sheet_and_a_turned_one_are_refused() {
    let grey = camera().draw(3.0, paper(Sheet::A4));
    let on = taps(&camera(), &Sheet::A4, 4.0);
    let with = SheetFit {
        focal_px: Some(1100.0),
        ..SheetFit::default()
    };
    let letter = Sheet::LETTER.fit(&photo(&grey), &on, &with);
    assert!(
        matches!(letter, Err(PlaneError::WrongShape { percent_wide }) if percent_wide < -7.0),
        "{letter:?}"
    );
    let turned = Sheet::A4.turned().fit(&photo(&grey), &on, &with);
    assert_eq!(turned.unwrap_err(), PlaneError::Turned);
    let unknown = SheetFit {
        focal_px: None,
        ..with
    };
    let turned = Sheet::A4.turned().fit(&photo(&grey), &on, &unknown);
    assert_eq!(turned.unwrap_err(), PlaneError::Turned);
}

#[test]
fn a_bowed_sheet_is_flagged() {
    let bowed = |m: PointMm| {
        let bow = 1.5 * (1.0 - (m.x_mm / 105.0).powi(2));
        paper(Sheet::A4)(PointMm::new(m.x_mm, m.y_mm - bow))
    };
    let plane = fit(&camera(), &camera().draw(3.0, bowed), &Sheet::A4, 6.0).unwrap();
    assert!(
        plane
            .warnings
            .iter()
            .any(|w| matches!(w, PlaneWarning::NotFlat { .. })),
        "{plane:?}"
    );
}

#[test]
fn no_edges_is_refused_or_raw_if_asked() {
    let empty = camera().draw(3.0, |_| 120.0);
    let on = taps(&camera(), &Sheet::A4, 4.0);
    let with = SheetFit {
        tap_sd_px: Some(8.0),
        focal_px: Some(1100.0),
        ..SheetFit::default()
    };
    let refused = Sheet::A4.fit(&photo(&empty), &on, &with);
    assert!(
        matches!(refused, Err(PlaneError::EdgeNotFound { .. })),
        "{refused:?}"
    );
    let raw = SheetFit {
        accept_raw: true,
        ..with
    };
    let plane = Sheet::A4.fit(&photo(&empty), &on, &raw).unwrap();
    assert_eq!(plane.warnings, [PlaneWarning::RawCorners]);
    assert!(plane.read(on[0], 0.0).unwrap().fit.sd_x_mm() > 1.0);
}

#[test]
fn corners_in_a_line_crossed_or_not_numbers_are_refused() {
    let grey = Grey::filled(100, 100, 0);
    let try_taps = |taps: [(f64, f64); 4]| {
        let taps = taps.map(|(x, y)| PointPx::new(x, y));
        Sheet::A4
            .fit(&photo(&grey), &taps, &SheetFit::default())
            .unwrap_err()
    };
    assert_eq!(
        try_taps([(0., 0.), (10., 0.), (20., 0.), (30., 0.)]),
        PlaneError::Degenerate
    );
    assert_eq!(try_taps([(5., 5.); 4]), PlaneError::Degenerate);
    let mirrored = [(90., 10.), (10., 10.), (10., 90.), (90., 90.)];
    assert_eq!(try_taps(mirrored), PlaneError::CornersOutOfOrder);
    let crossed = [(10., 10.), (90., 90.), (90., 10.), (10., 90.)];
    assert_eq!(try_taps(crossed), PlaneError::CornersOutOfOrder);
    assert_eq!(
        try_taps([(f64::NAN, 0.), (1., 0.), (1., 1.), (0., 1.)]),
        PlaneError::NotFinite
    );
    assert!(Sheet::new(0.0, 100.0, 0.5).is_err() && Sheet::new(f64::NAN, 9.0, 0.5).is_err());
}
