//! The square marks of the project's own reference sheet.

use crate::frame::{PointMm, PointPx};
use crate::photo::Photo;
use crate::plane::edges::outline::Outline;
use crate::plane::fitted::{LENGTH_RANGE_MM, checked_length};
use crate::plane::{Plane, PlaneError, ReferenceKind, Sheet, SheetFit};

/// Side of a mark, mm.
pub const MARK_MM: f64 = 20.0;
/// The marks stand at least this far apart from outer edge to outer edge, mm: with twice a mark between two.
/// Chosen by hand; not tuned.
const LEAST_SIDE_MM: f64 = 4.0 * MARK_MM;
/// Printers stretch by up to about half a percent; taken as two standard deviations of 220 mm.
const PRINT_SD_MM: f64 = 0.55;
/// This share of a mark is kept free of probes at either end.
const MARGIN: f64 = 0.15;

/// Eight black squares of [`MARK_MM`]: one in every corner and one in the middle of every side of
/// a rectangle whose sides run along their outer edges.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Marks {
    /// Between the outer edges, sideways, mm.
    pub width_mm: f64,
    /// Between the outer edges, up and down, mm.
    pub height_mm: f64,
}

impl Marks {
    /// The marks printed on A4 (210 x 297 mm).
    pub const A4: Self = Self {
        width_mm: 180.0,
        height_mm: 260.0,
    };
    /// The marks printed on Letter (215.9 x 279.4 mm).
    pub const LETTER: Self = Self {
        width_mm: 180.0,
        height_mm: 240.0,
    };

    /// Marks of any outer size that leaves gaps between them.
    ///
    /// # Errors
    /// [`PlaneError::Size`] below four marks' width or above 5000 mm.
    pub fn new(width_mm: f64, height_mm: f64) -> Result<Self, PlaneError> {
        for (what, value) in [
            ("width between the marks", width_mm),
            ("height between the marks", height_mm),
        ] {
            checked_length(what, value)?;
            if value < LEAST_SIDE_MM {
                return Err(PlaneError::Size {
                    what,
                    value,
                    min: LEAST_SIDE_MM,
                    max: LENGTH_RANGE_MM.1,
                });
            }
        }
        Ok(Self {
            width_mm,
            height_mm,
        })
    }

    /// Middles of the eight marks, mm from the middle of the sheet.
    pub fn middles_mm(&self) -> [PointMm; 8] {
        let (x, y) = (
            (self.width_mm - MARK_MM) / 2.0,
            (self.height_mm - MARK_MM) / 2.0,
        );
        [
            (-1, 1),
            (0, 1),
            (1, 1),
            (1, 0),
            (1, -1),
            (0, -1),
            (-1, -1),
            (-1, 0),
        ]
        .map(|(i, j)| PointMm::new(f64::from(i) * x, f64::from(j) * y))
    }

    /// Fits the marks to taps on the outer corners of the four corner marks: top left, top right,
    /// bottom right, bottom left.
    ///
    /// # Errors
    /// As [`Sheet::fit`].
    pub fn fit(
        &self,
        photo: &Photo,
        taps: &[PointPx; 4],
        with: &SheetFit,
    ) -> Result<Plane, PlaneError> {
        let sheet = Sheet::new(self.width_mm, self.height_mm, PRINT_SD_MM)?;
        // Both kinds of side use the parts of the shorter one: a little less of each mark.
        let mark = MARK_MM / self.width_mm.max(self.height_mm);
        let inside = |from: f64| (from + MARGIN * mark, from + (1.0 - MARGIN) * mark);
        let parts = [inside(0.0), inside(0.5 - mark / 2.0), inside(1.0 - mark)];
        let outline = Outline {
            parts: &parts,
            dark_inside: true,
        };
        let (plane, _) = sheet.fit_outline(photo, taps, with, &outline)?;
        let reference = ReferenceKind::Marks {
            width_mm: self.width_mm,
            height_mm: self.height_mm,
        };
        Ok(Plane { reference, ..plane })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::photo::ExifFacts;
    use crate::plane::picture::Camera;

    #[test]
    fn printed_marks_come_out_to_hundredths() {
        let marks = Marks::A4;
        let camera = Camera {
            turns: [-12.0, 10.0, -2.0],
            k1: -0.008,
            ..Camera::level(360.0)
        };
        let paint = |m: PointMm| {
            let on = marks.middles_mm().iter().any(|c| {
                (m.x_mm - c.x_mm).abs() < MARK_MM / 2.0 && (m.y_mm - c.y_mm).abs() < MARK_MM / 2.0
            });
            if on { 45.0 } else { 215.0 }
        };
        let grey = camera.draw(3.0, paint);
        let corners = Sheet::new(marks.width_mm, marks.height_mm, 0.0)
            .unwrap()
            .corners_mm();
        let taps = corners.map(|c| {
            let p = camera.see(c);
            PointPx::new(p.x_px + 4.0, p.y_px - 3.0)
        });
        let with = SheetFit {
            tap_sd_px: Some(5.0),
            focal_px: Some(camera.focal_px),
            ..SheetFit::default()
        };
        let plane = marks
            .fit(&Photo::from_grey(grey, ExifFacts::default()), &taps, &with)
            .unwrap();
        for m in [PointMm::default(), corners[0], corners[2]] {
            let off = (plane.to_mm(camera.see(m)).unwrap() - m).norm_mm();
            assert!(off < 0.08, "{off} at {m:?}");
        }
        assert!(
            (plane.lens.k1 + 0.008).abs() < 0.003 && plane.warnings.is_empty(),
            "{plane:?}"
        );
    }

    #[test]
    fn marks_need_room_between_them() {
        assert!(Marks::new(60.0, 200.0).is_err() && Marks::new(180.0, 260.0).is_ok());
    }
}
