//! The rings of a face looked for: all at once where edges around the tap tell their size, else from the
//! patch in its middle outwards.

use nalgebra::{Matrix2, Matrix3};

use crate::plane::mask::Mask;
use crate::plane::sheets::gates::usual_focal_px;
use crate::plane::{Homography, Lens, PlaneError};

use super::blob::{self, Blob};
use super::check::LEAST_OWN_RINGS;
use super::faces::{Face, Middle};
use super::first_look::FirstLook;
use super::scale;
use super::solve::{Found, RingFit, Step};
use super::trace::{self, RingPoints};
use crate::frame::PointPx;
use crate::photo::Photo;

/// Loss width of the five last steps, mm.
const ROBUST_MM: [f64; 5] = [2.0, 0.6, 0.3, 0.15, 0.15];
/// How the last steps look for the rings.
pub(crate) struct Looks {
    /// Within this share of the free band around each, step by step; none: as found before.
    shares: [Option<f64>; 5],
    /// Along so many rays.
    rays: usize,
}

/// Rays of the first look.
const FIRST_RAYS: usize = 90;
const FIRST: Looks = Looks {
    shares: [Some(0.1), None, Some(0.1), None, Some(0.1)],
    rays: FIRST_RAYS,
};
/// All at once, where the size is known and the tilt is not.
const WIDE: Looks = Looks {
    shares: [Some(0.25), Some(0.2), Some(0.15), Some(0.1), Some(0.1)],
    rays: FIRST_RAYS,
};
/// On the full picture, where all is nearly right.
pub(crate) const FULL: Looks = Looks {
    shares: [Some(0.1), None, Some(0.06), None, Some(0.06)],
    rays: 180,
};
/// So many of the inner borders are tried as the edge of the middle patch.
const MOST_TRIED: usize = 4;
/// Sizes this near to each other, as a ratio, are one: what is looked for is found in either.
const SAME_SIZE: f64 = 1.02;
/// Other sizes are tried up to this many times as large or small. Beyond it of ten rings hardly enough would be
/// seen to be believed.
const MOST_TIMES: f64 = 3.0;

impl Face {
    /// The fit that explains most rings.
    pub(crate) fn best(
        &self,
        (photo, seen): (&Photo, &FirstLook),
        lens: &Lens,
        tap: PointPx,
    ) -> Result<Found, PlaneError> {
        match self.middle {
            Middle::Gold if photo.has_colour() => {
                self.around_gold(photo, lens, (tap, seen.gold(photo)))
            }
            Middle::Gold => self.around_gold(photo, lens, (tap, &blob::like(photo, tap))),
            Middle::Plain => self.around_any(photo, lens, tap),
        }
    }

    /// A gold middle ends at the first border.
    fn around_gold(
        &self,
        photo: &Photo,
        lens: &Lens,
        (tap, gold): (PointPx, &Mask),
    ) -> Result<Found, PlaneError> {
        let sound = |fit: &Found| self.check(photo, lens, fit).is_ok();
        let fits = self.grown(photo, lens, self.by_patch(gold, lens, tap, 1));
        if fits.iter().flatten().any(sound) {
            return self.likeliest(fits);
        }
        // An arrow that stands across the gold may part it.
        let whole = blob::across(gold, tap);
        let plane = whole.and_then(|patch| seed(&patch, lens, *self.radii_mm.first()?));
        let again = self.grown(photo, lens, Vec::from_iter(plane));
        if again.iter().flatten().any(sound) {
            return self.likeliest(again);
        }
        // Or it stands out from its ring too little.
        let by_edges = self.settled(photo, lens, &self.by_edges(photo, lens, tap));
        let by_edges: Vec<_> = by_edges
            .into_iter()
            .filter(|fit| fit.as_ref().is_ok_and(sound))
            .collect();
        self.likeliest(if by_edges.is_empty() { fits } else { by_edges })
    }

    /// On other faces all edges around the tap tell the size; where they tell none, the patch under it may
    /// end at any of the inner borders (thin lines may not have stopped it, and taking the second for the
    /// first may double every length).
    fn around_any(&self, photo: &Photo, lens: &Lens, tap: PointPx) -> Result<Found, PlaneError> {
        if self.radii_mm.len() < LEAST_OWN_RINGS {
            return Err(PlaneError::TooFewRings {
                found: self.radii_mm.len(),
                need: LEAST_OWN_RINGS,
            });
        }
        let sound = |fit: &Found| self.check(photo, lens, fit).is_ok();
        let by_edges = self.by_edges(photo, lens, tap);
        let mut fits = self.settled(photo, lens, &by_edges);
        if !fits.iter().flatten().any(sound) {
            fits.extend(self.grown(photo, lens, by_edges));
        }
        if !fits.iter().flatten().any(sound) {
            let by_patch = self.by_patch(&blob::like(photo, tap), lens, tap, MOST_TRIED);
            fits.extend(self.grown(photo, lens, by_patch));
        }
        let (sound, other): (Vec<_>, Vec<_>) = fits
            .into_iter()
            .partition(|fit| fit.as_ref().is_ok_and(sound));
        let best = self.likeliest(if sound.is_empty() { other } else { sound })?;
        let best = self.with_most_rings(photo, lens, best)?;
        if self.fits_shifted(photo, lens, &best) {
            return Err(PlaneError::RingsAmbiguous);
        }
        Ok(best)
    }

    /// Planes in which all borders lie on edges.
    fn by_edges(&self, photo: &Photo, lens: &Lens, tap: PointPx) -> Vec<Homography> {
        let diagonal_px = (photo.width() as f64).hypot(photo.height() as f64);
        let usual_px = usual_focal_px(diagonal_px);
        let focal_px = photo.focal_px().unwrap_or(usual_px);
        scale::planes(&photo.grey(), lens, focal_px, tap, &self.radii_mm)
    }

    /// Fits of all rings at once, from planes that are nearly right.
    fn settled(
        &self,
        photo: &Photo,
        lens: &Lens,
        planes: &[Homography],
    ) -> Vec<Result<Found, PlaneError>> {
        let seeds = planes.iter().map(|plane| RingFit::new(*plane, self));
        seeds
            .map(|seed| self.polish(photo, lens, seed, &WIDE))
            .collect()
    }

    /// Planes in which the patch under the tap ends at the first border, at the second and so on.
    fn by_patch(&self, mask: &Mask, lens: &Lens, tap: PointPx, tried: usize) -> Vec<Homography> {
        let patch = blob::under(mask, tap);
        let radii = self.radii_mm.iter().take(tried);
        radii
            .filter_map(|radius_mm| seed(patch.as_ref()?, lens, *radius_mm))
            .collect()
    }

    fn grown(
        &self,
        photo: &Photo,
        lens: &Lens,
        seeds: Vec<Homography>,
    ) -> Vec<Result<Found, PlaneError>> {
        let seeds = seeds.into_iter();
        seeds.map(|seed| self.grow(photo, lens, seed)).collect()
    }

    /// Where rings are missing, the same plane in that other size in which most of them are found: of evenly
    /// spaced rings every second one may have been followed, at twice the size, where the outer ones
    /// would lie beyond the paper. Refused where that is no sound fit: neither is this one then.
    fn with_most_rings(
        &self,
        photo: &Photo,
        lens: &Lens,
        best: Found,
    ) -> Result<Found, PlaneError> {
        if best.rings.len() == self.radii_mm.len() {
            return Ok(best);
        }
        let shares = ratios(&self.radii_mm).into_iter();
        let others = shares.filter_map(|share| self.in_size(photo, lens, &best, share));
        let likelier = others.filter(|other| {
            other.rings.len() > best.rings.len()
                && other.fit.rms_mm <= self.worst_rms_mm(&other.fit.homography)
        });
        let Some(most) = likelier.max_by_key(|other| other.rings.len()) else {
            return Ok(best);
        };
        let sound = self.check(photo, lens, &most).is_ok();
        sound.then_some(most).ok_or(PlaneError::RingsAmbiguous)
    }

    /// Whether the face fits as well with every ring one line farther in or out.
    fn fits_shifted(&self, photo: &Photo, lens: &Lens, best: &Found) -> bool {
        let middle = best.rings.get(best.rings.len() / 2).map_or(0, |r| r.ring);
        let here = self.radii_mm.get(middle).copied();
        let beside = [middle.checked_sub(1), Some(middle + 1)]
            .into_iter()
            .flatten();
        let mut shares = beside.filter_map(|ring| Some(self.radii_mm.get(ring)? / here?));
        let shifted = |share| self.in_size(photo, lens, best, share);
        let lies = |other: &Found| other.rings.len() >= LEAST_OWN_RINGS && self.rivals(other, best);
        shares.any(|share| shifted(share).is_some_and(|other| lies(&other)))
    }

    /// The fit with most rings; refused where another with nearly as many is of another size.
    fn likeliest(&self, fits: Vec<Result<Found, PlaneError>>) -> Result<Found, PlaneError> {
        let (fits, failed): (Vec<_>, Vec<_>) = fits.into_iter().partition(Result::is_ok);
        let mut fits: Vec<Found> = fits.into_iter().flatten().collect();
        fits.sort_by(|a, b| {
            let most = b.rings.len().cmp(&a.rings.len());
            most.then(a.fit.rms_mm.total_cmp(&b.fit.rms_mm))
        });
        let mut fits = fits.into_iter();
        let Some(best) = fits.next() else {
            // Having seen one ring says more than having seen none.
            let single = failed.contains(&Err(PlaneError::SingleRing));
            return Err(if single {
                PlaneError::SingleRing
            } else {
                PlaneError::RingsNotFound
            });
        };
        if fits.any(|other| self.rivals(&other, &best)) {
            return Err(PlaneError::RingsAmbiguous);
        }
        Ok(best)
    }

    /// The face looked for where a fit has it, but so many times as large.
    fn in_size(&self, photo: &Photo, lens: &Lens, found: &Found, share: f64) -> Option<Found> {
        let scaled = found.fit.homography.matrix()
            * Matrix3::from_diagonal(&nalgebra::Vector3::new(share, share, 1.0));
        let seed = RingFit::new(Homography::from_matrix(scaled)?, self);
        self.polish(photo, lens, seed, &FIRST).ok()
    }

    /// Takes in one more ring at a time, then polishes on all of them.
    fn grow(&self, photo: &Photo, lens: &Lens, seed: Homography) -> Result<Found, PlaneError> {
        let mut fit = RingFit::new(seed, self);
        for known in 1..=self.radii_mm.len() {
            // Rings already fitted are close; only the newest needs the wide window, and a second look.
            let newest = known - 1;
            let inner = self.trace(photo, lens, &fit, 0..newest, (0.12, FIRST_RAYS));
            for (robust_mm, share) in [(4.0, 0.4), (1.0, 0.15)] {
                let mut rings = inner.clone();
                rings.extend(self.trace(photo, lens, &fit, newest..known, (share, FIRST_RAYS)));
                let perspective = rings.len() >= 2;
                let step = Step {
                    robust_mm,
                    perspective,
                    own_errors: false,
                };
                for _ in 0..2 {
                    fit.improve(&rings, self, step)
                        .ok_or(PlaneError::RingsNotFound)?;
                }
            }
        }
        self.polish(photo, lens, fit, &FIRST)
    }

    /// The last steps, on all rings at once and with their own errors; the rings are looked for
    /// anew, within these shares of the free band around each, where the plane has moved.
    pub(crate) fn polish(
        &self,
        photo: &Photo,
        lens: &Lens,
        mut fit: RingFit,
        looks: &Looks,
    ) -> Result<Found, PlaneError> {
        let mut rings = Vec::new();
        for (robust_mm, share) in ROBUST_MM.into_iter().zip(looks.shares) {
            if let Some(share) = share {
                let all = 0..self.radii_mm.len();
                rings = self.trace(photo, lens, &fit, all, (share, looks.rays));
            }
            match rings.len() {
                0 => return Err(PlaneError::RingsNotFound),
                1 => return Err(PlaneError::SingleRing),
                _ => {}
            }
            fit.improve(&rings, self, Step::last(robust_mm))
                .ok_or(PlaneError::RingsNotFound)?;
        }
        Ok(Found { fit, rings })
    }

    /// Border points of some rings, within `share` of the free band around each, along `rays`.
    fn trace(
        &self,
        photo: &Photo,
        lens: &Lens,
        fit: &RingFit,
        rings: std::ops::Range<usize>,
        (share, rays): (f64, usize),
    ) -> Vec<RingPoints> {
        let at = (&fit.homography, lens);
        let one = |ring: usize| {
            let half_mm = (share * self.gap_mm(ring)).max(1.5);
            trace::ring(photo, at, self, ring, (half_mm, rays))
        };
        rings.filter_map(one).collect()
    }

    /// The same border points through another lens, and the fit that goes with it.
    pub(crate) fn through(
        &self,
        found: &Found,
        from: &Lens,
        to: &Lens,
    ) -> Result<Found, PlaneError> {
        let through = |p: &PointPx| to.undistort(from.distort(*p));
        let rings = found.rings.iter().map(|r| RingPoints {
            ring: r.ring,
            points: r.points.iter().map(through).collect(),
        });
        let rings: Vec<_> = rings.collect();
        let mut fit = found.fit.clone();
        for robust_mm in ROBUST_MM {
            fit.improve(&rings, self, Step::last(robust_mm))
                .ok_or(PlaneError::RingsNotFound)?;
        }
        Ok(Found { fit, rings })
    }
}

/// In how many times its size a face has one of its rings on another's place, each but once.
fn ratios(radii_mm: &[f64]) -> Vec<f64> {
    let all = radii_mm
        .iter()
        .flat_map(|a| radii_mm.iter().map(move |b| a / b));
    let apart = |ratio: &f64| {
        let times = ratio.max(ratio.recip());
        times > SAME_SIZE && times <= MOST_TIMES
    };
    let mut ratios: Vec<f64> = all.filter(apart).collect();
    ratios.sort_by(f64::total_cmp);
    ratios.dedup_by(|next, kept| *next / *kept < SAME_SIZE);
    ratios
}

/// An affine plane from the middle patch: a disc of radius R has second moments R^2 / 4.
fn seed(blob: &Blob, lens: &Lens, radius_mm: f64) -> Option<Homography> {
    let spread = Matrix2::new(blob.xx, blob.xy, blob.xy, blob.yy).symmetric_eigen();
    let roots = spread.eigenvalues.map(|v| v.max(0.0).sqrt());
    let v = spread.eigenvectors;
    let a = v * Matrix2::from_diagonal(&roots) * v.transpose() * (2.0 / radius_mm);
    let c = lens.undistort(blob.middle);
    Homography::from_matrix(Matrix3::new(
        a.m11, -a.m12, c.x_px, a.m21, -a.m22, c.y_px, 0.0, 0.0, 1.0,
    ))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_face_is_tried_in_every_size_in_which_its_rings_change_places() {
        let ratios = ratios(&[15.0, 30.0, 45.0, 60.0]);
        let tried = |share: f64| ratios.iter().any(|r| (r - share).abs() < 1e-9);
        for share in [0.5, 2.0, 1.5, 2.0 / 3.0, 4.0 / 3.0, 3.0] {
            assert!(tried(share), "{share}");
        }
        assert!(!tried(1.0) && !tried(4.0));
        assert!(ratios.windows(2).all(|w| w[1] / w[0] >= SAME_SIZE));
    }
}
