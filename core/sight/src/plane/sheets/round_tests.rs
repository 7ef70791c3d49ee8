use super::*;
use crate::photo::ExifFacts;
use crate::plane::SheetFit;
use crate::plane::picture::{Camera, is_on_card};

fn corners(distance_mm: f64, radius_mm: f64, card: f64, ground: f64) -> Corners {
    let camera = Camera {
        turns: [20.0, 15.0, -8.0],
        ..Camera::level(distance_mm)
    };
    let paint = |m: PointMm| {
        if is_on_card(m, 1.0, radius_mm) {
            card
        } else {
            ground
        }
    };
    let photo = Photo::from_grey(camera.draw(3.0, paint), ExifFacts::default());
    let taps = Sheet::ID1.corners_mm().map(|c| camera.see(c));
    let with = SheetFit {
        focal_px: Some(camera.focal_px),
        ..SheetFit::default()
    };
    // Sharp ones are refused afterwards.
    let (plane, _) = Sheet::ID1.fit_judged(&photo, &taps, &with).unwrap();
    Corners::of(&photo, &Sheet::ID1, &plane)
}

/// From as near as the picture holds it to as far as a card is taken without taps (3.3 px a mm).
#[test]
fn a_card_s_corners_are_told_from_sharp_ones() {
    for distance_mm in [160.0, 240.0, 320.0] {
        for (card, ground) in [(220.0, 90.0), (60.0, 150.0), (235.0, 205.0)] {
            assert_eq!(
                corners(distance_mm, 3.18, card, ground),
                Corners::Round,
                "{distance_mm} {card}"
            );
            assert_eq!(
                corners(distance_mm, 0.0, card, ground),
                Corners::Sharp,
                "{distance_mm} {card}"
            );
        }
    }
}

/// A thin line drawn round on one thing has the same on either side; only the line turns the corner.
#[test]
fn a_frame_s_corners_are_sharp() {
    let camera = Camera::level(170.0);
    let frame = |m: PointMm| {
        let (x, y) = (42.8 - m.x_mm.abs(), 26.99 - m.y_mm.abs());
        let depth_mm = x.min(y);
        if (0.0..0.6).contains(&depth_mm) {
            240.0
        } else {
            90.0
        }
    };
    let photo = Photo::from_grey(camera.draw(3.0, frame), ExifFacts::default());
    let h = camera.homography();
    let seen = Corners::seen(&Channels::of(&photo), &Sheet::ID1, &|m| h.to_px(m));
    assert_eq!(seen, Corners::Sharp);
}
