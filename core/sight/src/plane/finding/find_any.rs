//! A sheet of one of several sizes, found without taps.

use crate::plane::channels::Channels;
use crate::plane::sheets::round::Corners;
use crate::plane::{Homography, Plane, Sheet, SheetFit};

use super::clearest::Clearest;
use super::find::Sought;
use crate::photo::Photo;

/// The sheet that lies in the picture, either way, and its plane: of the first of some groups of sizes of which one is
/// there, and of several the clearest. Nobody has said what lies there, so a card must have a card's corners.
pub fn find_sheet(photo: &Photo, groups: &[&[Sheet]], with: &SheetFit) -> Option<(Sheet, Plane)> {
    let sought = Sought::in_photo(photo, with);
    groups.iter().find_map(|group| clearest(group, &sought))
}

/// A card on a ground that hides its edges in the picture as it is.
pub fn find_faint_card(photo: &Photo, with: &SheetFit) -> Option<(Sheet, Plane)> {
    clearest(&[Sheet::ID1], &Sought::in_smoothed(photo, with))
}

/// The one of some sizes that is there, either way: the clearest that no other is rather there than.
fn clearest(sizes: &[Sheet], sought: &Sought<'_>) -> Option<(Sheet, Plane)> {
    let lying = sizes.iter().flat_map(|size| [*size, size.turned()]);
    let found = lying.filter_map(|sheet| Some((sheet, sheet.found(sought).ok()??)));
    let mut found: Vec<(Sheet, Clearest)> = found.filter(|f| sought.has_its_corners(f)).collect();
    found.sort_by(|(_, a), (_, b)| b.clear.total_cmp(&a.clear));
    let stays =
        |(_, fit): &&(Sheet, Clearest)| !found.iter().any(|(_, other)| is_rather(other, fit));
    let (sheet, fit) = found.iter().find(stays)?;
    Some((*sheet, fit.plane.clone()))
}

impl Sought<'_> {
    /// Whether a card's corners are round, and those of paper are not.
    fn has_its_corners(&self, (sheet, fit): &(Sheet, Clearest)) -> bool {
        sheet.has_round_corners() == self.looks_like_card(fit)
    }

    /// Whether four corners are round as those of a card would be there.
    fn looks_like_card(&self, fit: &Clearest) -> bool {
        let [across, down] =
            [fit.corners[1], fit.corners[3]].map(|c| fit.corners[0].distance_px(c));
        let card = if across > down {
            Sheet::ID1
        } else {
            Sheet::ID1.turned()
        };
        let lens = fit.plane.lens;
        let seen = |h: Homography| {
            let to_px = |at| lens.distort(h.to_px(at));
            Corners::seen(&Channels::of(self.photo), &card, &to_px)
        };
        let flat = fit.corners.map(|c| lens.undistort(c));
        card.homography(&flat)
            .is_ok_and(|h| seen(h) == Corners::Round)
    }
}

/// Whether one fit is what lies there rather than the other: of two on the same lines that with a card's corners,
/// or the likelier shape.
fn is_rather(one: &Clearest, other: &Clearest) -> bool {
    let (round, others) = (one.round == Corners::Round, other.round == Corners::Round);
    if one.is_at(other) && round != others {
        return round;
    }
    one.speaks_against(other)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::frame::PointMm;
    use crate::photo::ExifFacts;
    use crate::plane::picture::{Camera, is_on_card};

    /// What is found in a picture of something, of the sheets that are looked for.
    fn found(distance_mm: f64, is_there: impl Fn(PointMm) -> bool) -> Option<Sheet> {
        let camera = Camera {
            turns: [10.0, 12.0, -6.0],
            ..Camera::level(distance_mm)
        };
        let level = |m| if is_there(m) { 210.0 } else { 95.0 };
        let photo = Photo::from_grey(camera.draw(3.0, level), ExifFacts::default());
        let with = SheetFit {
            focal_px: Some(camera.focal_px),
            ..SheetFit::default()
        };
        let sizes = [Sheet::A4, Sheet::LETTER, Sheet::ID1];
        let (sheet, plane) = find_sheet(&photo, &[&sizes], &with)?;
        let corner = sheet.corners_mm()[0];
        let at = plane.to_mm(camera.see(corner)).unwrap();
        assert!((at - corner).norm_mm() < 0.5, "{at:?}");
        Some(sheet)
    }

    fn is_on(m: PointMm, sheet: Sheet) -> bool {
        m.x_mm.abs() < sheet.width_mm / 2.0 && m.y_mm.abs() < sheet.height_mm / 2.0
    }

    #[test]
    fn each_of_several_sheets_is_told_by_its_shape() {
        for sheet in [Sheet::A4, Sheet::LETTER, Sheet::A4.turned()] {
            assert_eq!(found(420.0, |m| is_on(m, sheet)), Some(sheet));
        }
    }

    /// Nobody has said that a card lies there: what has its shape and sharp corners is none.
    #[test]
    fn a_card_is_told_by_its_corners() {
        assert_eq!(found(170.0, |m| is_on_card(m, 1.0, 3.18)), Some(Sheet::ID1));
        assert_eq!(found(170.0, |m| is_on(m, Sheet::ID1)), None);
    }
}
