//! Whether a fit of rings is to be believed: enough of them, on a plane that a camera sees, and in no
//! other size as well.

use crate::plane::sheets::gates::ShapeTest;
use crate::plane::{Homography, Lens, PlaneError};

use super::faces::{Face, Middle};
use super::solve::Found;
use super::trace::RingPoints;
use crate::frame::PointMm;
use crate::photo::Photo;
use crate::stats::median;

/// A published face that leaves more than this is another face, mm. Chosen by hand; `tests/photo-table`
/// measures what passes.
const WORST_RMS_MM: f64 = 1.0;
/// Rings of one's own leave at most this share of the usual gap between them. Evenly spaced thin lines
/// always offer another line to each ring: a wrong size leaves more. Chosen by hand, looking at the
/// photographs of `tests/real-table`.
const OWN_RMS_SHARE: f64 = 0.03;
/// ... at most this much, mm. Chosen by hand, looking at the photographs of `tests/real-table`.
const OWN_RMS_MM: f64 = 0.25;
/// ... and a third of a px in small pictures. Chosen by hand, looking at the photographs of
/// `tests/real-table`.
const OWN_RMS_PX: f64 = 0.35;
/// Rings of one's own lie this near to where they were entered, mm rms: printed zones keep to ±1 mm of diameter,
/// large ones to ±3 mm (from memory, see `faces`), which is this share of the outermost radius. In a wrong size each is
/// another printed ring, which lies farther off.
const OWN_OFF_MM: f64 = 0.5;
const OWN_OFF_SHARE: f64 = 0.005;
/// ... or this many px. Chosen by hand: where only one edge of a line is seen, it is that far aside.
const OWN_OFF_PX: f64 = 1.0;
/// ... and published ones at most this in the first look: of eight rendered faces with a bleached middle the right size
/// left up to 1.64 mm, half of it or twice it .8, 1.4 and twice more than 2.
const PUBLISHED_OFF_MM: f64 = 1.7;
/// Rings that lie farther off than that, and this many times as far as in the best fit, are no rival to it: narrow
/// ones always have another within the windows they are looked for in. Chosen by hand; not tuned.
const RIVAL_OFF: f64 = 2.0;
/// A plane that no camera sees rings on, standard deviations (see [`ShapeTest`]). Four right faces in a
/// million, if errors of shape and squareness are normal.
const WORST_POSE: f64 = 5.0;
/// Of the rings within the picture at least this share must have been found. Chosen by hand;
/// `tests/photo-table` measures what passes.
const LEAST_RINGS: f64 = 0.6;
/// Rings of one's own needed: two fit in many sizes.
pub(crate) const LEAST_OWN_RINGS: usize = 3;
/// Another size that leaves this many times as much, and this much more (mm), is no rival. Chosen by
/// hand, looking at the photographs of `tests/real-table`.
const RIVAL_RMS: (f64, f64) = (2.0, 0.05);
/// Two fits within this share of each other's area are of one size. Chosen by hand; not tuned.
const SAME_AREA: f64 = 0.05;

impl Found {
    /// How far the rings that were found lie from where they were entered, mm rms for each beyond the second:
    /// two fit in any number of sizes.
    fn off_rms_mm(&self) -> f64 {
        let off = |ring: &RingPoints| self.fit.off_mm.get(ring.ring).copied().unwrap_or(0.0);
        let squares = self.rings.iter().map(|ring| off(ring).powi(2));
        let free = self.rings.len().saturating_sub(LEAST_OWN_RINGS - 1).max(1);
        (squares.sum::<f64>() / free as f64).sqrt()
    }
}

impl Face {
    /// Whether another fit explains nearly as many rings as the best one nearly as well, in another size.
    pub(crate) fn rivals(&self, other: &Found, best: &Found) -> bool {
        let area = |found: &Found| {
            let jacobian = found.fit.homography.jacobian_px_per_mm(PointMm::default());
            jacobian.determinant().abs()
        };
        let rms = best.fit.rms_mm;
        let most_off_mm = self.worst_off_mm(&best.fit.homography);
        other.rings.len() + 1 >= best.rings.len()
            && (area(other) / area(best) - 1.0).abs() > SAME_AREA
            && other.fit.rms_mm < (RIVAL_RMS.0 * rms).max(rms + RIVAL_RMS.1)
            && other.off_rms_mm() <= most_off_mm.max(RIVAL_OFF * best.off_rms_mm())
    }

    /// Refuses a fit that is no face, or perhaps another size of it.
    pub(crate) fn check(
        &self,
        photo: &Photo,
        lens: &Lens,
        found: &Found,
    ) -> Result<(), PlaneError> {
        let visible = self.visible(photo, &found.fit.homography, lens);
        if (found.rings.len() as f64) < LEAST_RINGS * visible as f64 {
            return Err(PlaneError::RingsNotFound);
        }
        if self.middle == Middle::Plain && found.rings.len() < LEAST_OWN_RINGS {
            return Err(PlaneError::TooFewRings {
                found: found.rings.len(),
                need: LEAST_OWN_RINGS,
            });
        }
        if self.middle == Middle::Plain
            && found.off_rms_mm() > self.worst_off_mm(&found.fit.homography)
        {
            return Err(PlaneError::RingsNotFound);
        }
        let pose = ShapeTest::new(lens, photo.focal_px()).misfit(&found.fit.homography, lens);
        if found.fit.rms_mm > self.worst_rms_mm(&found.fit.homography) || pose > WORST_POSE {
            return Err(PlaneError::RingsNotFound);
        }
        Ok(())
    }

    /// What a right fit may leave, mm.
    pub(crate) fn worst_rms_mm(&self, h: &Homography) -> f64 {
        if self.middle == Middle::Gold {
            return WORST_RMS_MM;
        }
        let gaps = (0..self.radii_mm.len()).map(|ring| self.gap_mm(ring));
        let gap_mm = median(gaps.collect()).unwrap_or(0.0);
        (OWN_RMS_SHARE * gap_mm)
            .min(OWN_RMS_MM)
            .max(OWN_RMS_PX * pixel_mm(h))
    }

    /// How far rings may lie from where they were entered or published, mm rms.
    fn worst_off_mm(&self, h: &Homography) -> f64 {
        if self.middle == Middle::Gold {
            return PUBLISHED_OFF_MM;
        }
        let outermost_mm = self.radii_mm.last().copied().unwrap_or(0.0);
        OWN_OFF_MM
            .max(OWN_OFF_SHARE * outermost_mm)
            .max(OWN_OFF_PX * pixel_mm(h))
    }

    /// How many of the rings lie wholly within the picture.
    fn visible(&self, photo: &Photo, h: &Homography, lens: &Lens) -> usize {
        let (w, height) = (photo.width() as f64, photo.height() as f64);
        let inside = |r: f64| {
            [(r, 0.0), (0.0, r), (-r, 0.0), (0.0, -r)]
                .iter()
                .map(|(x, y)| lens.distort(h.to_px(PointMm::new(*x, *y))))
                .all(|p| (0.0..w).contains(&p.x_px) && (0.0..height).contains(&p.y_px))
        };
        self.radii_mm.iter().filter(|r| inside(**r)).count()
    }
}

/// A pixel's side on the face, at its middle, mm.
fn pixel_mm(h: &Homography) -> f64 {
    let area = h.jacobian_px_per_mm(PointMm::default()).determinant().abs();
    area.sqrt().recip()
}
