//! A card's edge beside print. A frame or a field printed on a card is often clearer than its edge, but has sharp
//! corners where the card's own are round.

use crate::plane::channels::Channels;
use crate::plane::edges::candidates::near_taps;
use crate::plane::edges::outline::Outline;
use crate::plane::edges::solve::Start;
use crate::plane::{Plane, PlaneError, Sheet, SheetFit};

use super::choose::Choice;
use super::gates::ShapeTest;
use super::round::Corners;
use crate::frame::PointPx;
use crate::photo::Photo;

/// Edges of an outline told by its corners are looked for within this share of the usual: print lies 2 mm or more from
/// the edge, and the lines are known to a pixel.
const NARROW: f64 = 0.3;
/// So many outlines with round corners are fitted. Chosen by hand; not tuned.
const MOST_FITTED: usize = 3;

impl Sheet {
    /// What was fitted, or, where its corners are sharp and a card's are not, what has round ones near the taps.
    ///
    /// # Errors
    /// [`PlaneError::SharpCorners`] where there is none.
    pub(crate) fn told_by_corners(
        &self,
        photo: &Photo,
        taps: &[PointPx; 4],
        with: &SheetFit,
        fitted: Plane,
    ) -> Result<Plane, PlaneError> {
        // Corners that tell nothing are those of most cards on a ground of their own shade: the clearest lines stay.
        if Corners::of(photo, self, &fitted) != Corners::Sharp {
            return Ok(fitted);
        }
        match self.round_near(photo, taps, with) {
            Some(round) => Ok(round),
            None if with.accept_raw => {
                let start = self.start(photo, taps, with);
                let shape = ShapeTest::new(&start.lens, with.focal_px);
                self.by_corners(&start, with, &shape)
            }
            None => Err(PlaneError::SharpCorners),
        }
    }

    /// The clearest fit near the taps with a card's corners.
    fn round_near(&self, photo: &Photo, taps: &[PointPx; 4], with: &SheetFit) -> Option<Plane> {
        let start = self.start(photo, taps, with);
        let near = SheetFit {
            tap_sd_px: Some(NARROW * start.tap_sd_px),
            accept_raw: false,
            ..*with
        };
        let outlines = self.round_outlines(&Channels::of(photo), &start, with);
        let fits = outlines.into_iter().filter_map(|corners| {
            let corners = corners.map(|c| start.lens.distort(c));
            self.fit_judged(photo, &corners, &near).ok()
        });
        let mut planes = fits.map(|(plane, _)| plane);
        planes.find(|plane| {
            !self.is_missed(plane) && Corners::of(photo, self, plane) == Corners::Round
        })
    }

    /// Where lines near the taps meet in round corners, undistorted px, the clearest first.
    fn round_outlines(
        &self,
        channels: &Channels<'_>,
        start: &Start,
        with: &SheetFit,
    ) -> Vec<[PointPx; 4]> {
        let taps = start.taps.map(|tap| start.lens.undistort(tap));
        let near = (&taps, start.tap_sd_px);
        let (sides, _) = near_taps(channels, &Outline::CARD, &start.lens, near);
        let choice = Choice {
            sheet: self,
            sides: &sides,
            taps: &taps,
            tap_sd_px: start.tap_sd_px,
            shape: &ShapeTest::new(&start.lens, with.focal_px),
            lens: &start.lens,
        };
        let is_round = |corners: &[PointPx; 4]| {
            self.homography(corners).is_ok_and(|h| {
                let to_px = |m| start.lens.distort(h.to_px(m));
                Corners::seen(channels, self, &to_px) == Corners::Round
            })
        };
        let all = choice.every().into_iter().filter(is_round);
        all.take(MOST_FITTED).collect()
    }
}
