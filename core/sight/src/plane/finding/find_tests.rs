use super::*;
use crate::photo::ExifFacts;
use crate::plane::picture::{Camera, is_on_card};

fn camera() -> Camera {
    Camera {
        turns: [10.0, 12.0, -6.0],
        k1: 0.01,
        ..Camera::level(420.0)
    }
}

/// A photograph that tells its focal length.
fn told() -> SheetFit {
    SheetFit {
        focal_px: Some(camera().focal_px),
        ..SheetFit::default()
    }
}

fn seen(paint: impl Fn(PointMm) -> f64) -> Photo {
    Photo::from_grey(camera().draw(3.0, paint), ExifFacts::default())
}

fn on(m: PointMm, x: f64, y: f64, w: f64, h: f64) -> bool {
    (m.x_mm - x).abs() < w / 2.0 && (m.y_mm - y).abs() < h / 2.0
}

#[test]
fn a_lone_sheet_with_holes_is_found_without_taps() {
    let hole = |m: PointMm| (m - PointMm::new(20.0, 30.0)).norm_mm() < 8.0;
    let photo = seen(|m| {
        if on(m, 0.0, 0.0, 210.0, 297.0) && !hole(m) {
            210.0
        } else {
            95.0
        }
    });
    let plane = Sheet::A4.find(&photo, &told()).unwrap();
    let corner = plane
        .to_mm(camera().see(PointMm::new(105.0, 148.5)))
        .unwrap();
    assert!(
        (corner - PointMm::new(105.0, 148.5)).norm_mm() < 0.1,
        "{corner:?}"
    );
}

/// Print beside an edge leads the glance astray; the other edges and the proportions lead it back.
#[test]
fn an_edge_missed_from_a_crooked_proposal_is_found_from_the_fit() {
    let photo = seen(|m| {
        if on(m, 0.0, 0.0, 210.0, 297.0) {
            210.0
        } else {
            95.0
        }
    });
    let with = SheetFit {
        tap_sd_px: Some(6.0),
        ..told()
    };
    let mut corners = Sheet::A4.corners_mm().map(|c| camera().see(c));
    corners[0].x_px -= 40.0;
    corners[3].x_px -= 40.0;
    let (plane, _) = Sheet::A4.fit_judged(&photo, &corners, &with).unwrap();
    assert!(
        Sheet::A4.is_sure(&plane, Corners::Unknown, 0),
        "{:?}",
        plane.warnings
    );
}

/// The upper half of an A4 sheet has the shape of one that lies across.
#[test]
fn part_of_a_sheet_is_not_taken_for_one_that_lies_the_other_way() {
    let photo = seen(|m| match (on(m, 0.0, 0.0, 210.0, 297.0), m.y_mm > 0.0) {
        (true, true) => 160.0,
        (true, false) => 225.0,
        _ => 60.0,
    });
    let across = Sheet::A4.turned();
    assert_eq!(across.find(&photo, &told()), Err(PlaneError::Turned));
    assert!(Sheet::A4.find(&photo, &told()).is_ok());
}

/// A fold across an A4 sheet leaves the shape of a Letter sheet below it.
#[test]
fn part_of_another_sheet_is_not_taken_for_the_one_asked_for() {
    let folded = 297.0 / 2.0 - (297.0 - 210.0 * 279.4 / 215.9);
    let photo = seen(|m| match (on(m, 0.0, 0.0, 210.0, 297.0), m.y_mm > folded) {
        (true, true) => 170.0,
        (true, false) => 225.0,
        _ => 60.0,
    });
    assert_eq!(
        Sheet::LETTER.find(&photo, &told()),
        Err(PlaneError::NotFound)
    );
    assert!(Sheet::A4.find(&photo, &told()).is_ok());
}

#[test]
fn two_sheets_or_none_are_not_guessed_at() {
    let two = seen(|m| {
        let first = on(m, -75.0, 0.0, 105.0, 148.5);
        if first || on(m, 75.0, 0.0, 105.0, 148.5) {
            210.0
        } else {
            95.0
        }
    });
    let small = Sheet::new(105.0, 148.5, 0.5).unwrap();
    assert_eq!(small.find(&two, &told()), Err(PlaneError::NotFound));
    let none = seen(|m| 120.0 + 0.2 * m.x_mm);
    assert_eq!(Sheet::A4.find(&none, &told()), Err(PlaneError::NotFound));
}

/// A frame printed on paper is clearer than the paper's edges on a ground that is nearly as light.
#[test]
fn a_printed_frame_is_not_taken_for_the_sheet() {
    let photo = seen(|m| {
        let within = |by: f64| on(m, 0.0, 0.0, 210.0 - 2.0 * by, 297.0 - 2.0 * by);
        match (within(0.0), within(14.0) && !within(15.0)) {
            (true, true) => 50.0,
            (true, false) => 225.0,
            _ => 205.0,
        }
    });
    let plane = Sheet::A4.find(&photo, &told()).unwrap();
    let corner = PointMm::new(105.0, 148.5);
    let off = plane.to_mm(camera().see(corner)).unwrap() - corner;
    assert!(off.norm_mm() < 1.0, "{off:?}");
}

/// Joints of a floor that enclose a sheet's shape.
#[test]
fn a_rectangle_of_joints_is_no_sheet() {
    let joint = |m: f64, every: f64| (m / every - (m / every).round()).abs() * every < 1.0;
    let photo = seen(|m| {
        if joint(m.x_mm - 105.0, 210.0) || joint(m.y_mm - 148.5, 297.0) {
            80.0
        } else {
            170.0
        }
    });
    assert_eq!(Sheet::A4.find(&photo, &told()), Err(PlaneError::NotFound));
}

/// A screenshot: the picture shown in it has a sheet's proportions, and the sheet lies in it.
#[test]
fn a_picture_within_the_picture_is_no_sheet() {
    let far = Camera {
        distance_mm: 700.0,
        ..camera()
    };
    let mut grey = far.draw(3.0, |m| {
        let grain = 60.0 * ((m.x_mm * 0.31).sin() * (m.y_mm * 0.23).sin());
        if on(m, 0.0, 0.0, 210.0, 297.0) {
            210.0
        } else {
            90.0 + grain
        }
    });
    let (width, height) = (grey.width, grey.height);
    let (across, down) = (80, (height - (width - 160) * 297 / 210) / 2);
    for (i, level) in grey.data.iter_mut().enumerate() {
        let (x, y) = (i % width, i / width);
        if x < across || x >= width - across || y < down || y >= height - down {
            *level = 255;
        }
    }
    let photo = Photo::from_grey(grey, ExifFacts::default());
    let corner = PointMm::new(105.0, 148.5);
    match Sheet::A4.find(&photo, &told()) {
        Ok(plane) => {
            let off = plane.to_mm(far.see(corner)).unwrap() - corner;
            assert!(off.norm_mm() < 1.0, "{off:?}");
        }
        Err(refused) => assert_eq!(refused, PlaneError::NotFound),
    }
}

/// ISO/IEC 7810: corners of 3.18 mm.
fn on_card(m: PointMm) -> bool {
    is_on_card(m, 1.0, 3.18)
}

/// A picture of a card, and the most that its corners are off where it is found, mm.
fn card_off(distance_mm: f64, paint: impl Fn(PointMm) -> f64) -> Result<f64, PlaneError> {
    let near = Camera {
        distance_mm,
        ..camera()
    };
    let photo = Photo::from_grey(near.draw(3.0, paint), ExifFacts::default());
    let plane = Sheet::ID1.find(&photo, &told())?;
    let off = |c: &PointMm| {
        let there = plane.to_mm(near.see(*c));
        there.map_or(f64::INFINITY, |p| (p - *c).norm_mm())
    };
    Ok(Sheet::ID1.corners_mm().iter().map(off).fold(0.0, f64::max))
}

/// A slip of paper of a card's shape below a card: its corners tell which is meant. A slip alone is no card.
#[test]
fn a_card_on_a_slip_of_its_shape_is_told_by_its_corners() {
    let card = Sheet::ID1;
    let drawn = |slip: f64, ink: f64| {
        card_off(170.0, |m| {
            let under = on(m, 0.0, 0.0, card.width_mm * slip, card.height_mm * slip);
            match (on_card(m), under) {
                (true, _) => ink,
                (false, true) => 225.0,
                _ => 60.0,
            }
        })
    };
    for slip in [0.0, 1.25] {
        let off = drawn(slip, 120.0).unwrap();
        assert!(off < 0.3, "{slip} {off}");
    }
    assert_eq!(drawn(1.25, 225.0), Err(PlaneError::NotFound));
}

/// A field printed within a border of 3 mm is clearer than the card's edge, and near to its shape.
#[test]
fn a_field_printed_on_a_card_is_not_taken_for_it() {
    let off = card_off(170.0, |m| {
        match (on_card(m), on(m, 0.0, 0.0, 79.6, 47.98)) {
            (_, true) => 60.0,
            (true, _) => 190.0,
            _ => 150.0,
        }
    });
    assert!(off.as_ref().is_ok_and(|mm| *mm < 0.3), "{off:?}");
}

/// Leather or stone: its grain is stronger than the card's edge.
#[test]
fn a_card_on_a_grained_ground_is_found() {
    let grain = |m: PointMm| {
        let wave = |a: f64, b: f64| (m.x_mm * a + m.y_mm * b).sin();
        14.0 * (wave(5.1, 3.7) * wave(-4.3, 6.1) + wave(7.7, -2.9) * wave(3.1, 6.7))
    };
    let off = card_off(170.0, |m| if on_card(m) { 70.0 } else { 100.0 + grain(m) });
    assert!(off.as_ref().is_ok_and(|mm| *mm < 0.4), "{off:?}");
}

/// Of a longer sheet a printed line cuts off what was asked for: beyond it the paper and its sides go on.
#[test]
fn a_printed_line_does_not_stand_for_an_edge() {
    let photo = seen(|m| {
        let line = (m.y_mm + 120.0).abs() < 0.7;
        match (on(m, 0.0, 26.5, 210.0, 350.0), line) {
            (true, true) => 40.0,
            (true, false) => 215.0,
            _ => 95.0,
        }
    });
    let shorter = Sheet::new(210.0, 201.5 + 120.0, 0.75).unwrap();
    assert_eq!(shorter.find(&photo, &told()), Err(PlaneError::NotFound));
}

/// An A4 sheet, and what it was found by.
fn found() -> Clearest {
    let paper = |m: PointMm| {
        if on(m, 0.0, 0.0, 210.0, 297.0) {
            210.0
        } else {
            95.0
        }
    };
    let photo = seen(paper);
    let figures = Figures::of(planes(&photo), &told());
    Sheet::A4.clearest(&photo, &told(), &figures).unwrap()
}

/// Where no focal length is told, two sizes may fit the same lines: then only a clear difference of their proportions
/// says which is meant.
#[test]
fn of_two_sizes_on_the_same_lines_the_likelier_speaks_against_the_other() {
    let asked = found();
    let other = |by: f64| Clearest {
        clear: asked.clear + by,
        ..asked.clone()
    };
    assert!(other(0.1).speaks_against(&asked));
    assert!(!other(0.03).speaks_against(&asked) && !other(-0.1).speaks_against(&asked));
}

/// Beyond one side the paper may go on (a sheet beside its like) where the proportions are known.
#[test]
fn a_side_that_looks_drawn_needs_the_focal_length() {
    let mut plane = found().plane;
    let sure = |plane: &Plane, drawn| Sheet::A4.is_sure(plane, Corners::Unknown, drawn);
    assert!(sure(&plane, 0) && sure(&plane, 1));
    plane.warnings.push(PlaneWarning::ShapeUnchecked);
    assert!(sure(&plane, 0) && !sure(&plane, 1));
}
