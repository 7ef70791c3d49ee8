//! A face of concentric rings.
//!
//! An ellipse's centre is not the ring's centre, and one ring alone fits a whole family of planes;
//! so all rings are fitted at once, growing outwards from the middle. The lens is not fitted to them
//! (rings cannot tell it from their own radii): the edges of the face's paper give it, or a sheet
//! photographed once with the same camera.

use nalgebra::Rotation2;

use crate::plane::fitted::Mode;
use crate::plane::lens::{KnownLens, UNKNOWN_K1_SD};
use crate::plane::up::{Up, up_angle};
use crate::plane::{Homography, Plane, PlaneError, PlaneWarning, ReferenceKind, ScaleSd};

use super::faces::Face;
use super::first_look::FirstLook;
use super::grow::FULL;
use super::paper;
use super::solve::{Found, RingFit};
use super::trace::RingPoints;
use crate::frame::{PointMm, PointPx};
use crate::photo::Photo;

/// What the ring fit may use beside the picture.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct RingsFit {
    /// The lens coefficient remembered for this camera.
    pub remembered_k1: Option<f64>,
    /// Which way is up.
    pub up: Up,
}

/// Fewer rings than this are worth a word: two carry the fit alone.
const FEW_RINGS: usize = 3;
/// A border farther off than this is worth a word, mm. Outer zones are printed to ±3 mm of diameter
/// (from memory, see `faces`).
const RING_OFF_MM: f64 = 1.5;

impl Face {
    /// Fits the face around a tap on its middle.
    ///
    /// # Errors
    /// [`PlaneError::RingsNotFound`], or [`PlaneError::SingleRing`] when only one was.
    pub fn fit(&self, photo: &Photo, tap: PointPx, with: &RingsFit) -> Result<Plane, PlaneError> {
        self.fit_again(photo, &FirstLook::default(), tap, with)
    }

    /// The same where other faces or taps are tried on the same photograph: `seen` keeps what does not differ.
    ///
    /// # Errors
    /// As [`Self::fit`].
    pub fn fit_again(
        &self,
        photo: &Photo,
        seen: &FirstLook,
        tap: PointPx,
        with: &RingsFit,
    ) -> Result<Plane, PlaneError> {
        if !(tap.x_px.is_finite() && tap.y_px.is_finite()) {
            return Err(PlaneError::NotFinite);
        }
        let known = KnownLens::remembered(with.remembered_k1, photo.width(), photo.height());
        let small = seen.small(photo);
        let first = small.picture(photo);
        let lens = KnownLens::remembered(with.remembered_k1, first.width(), first.height()).lens;
        let guess = self.best((first, seen), &lens, small.to_small(tap))?;
        let found = match small.homography_to_full(&guess.fit.homography) {
            Some(_) if small.is_full() => guess,
            Some(homography) => {
                let fit = guess.fit.on(homography);
                self.polish(photo, &known.lens, fit, &FULL)?
            }
            None => return Err(PlaneError::RingsNotFound),
        };
        self.check(photo, &known.lens, &found)?;
        let plane = self.plane(&found, known, with.up)?;
        let outermost_mm = self.outermost_mm(&found.rings);
        let Some(seen) = paper::lens(&photo.grey(), &plane, outermost_mm, known) else {
            return self.with_modes(plane, &found, known, with.up);
        };
        let found = self.through(&found, &known.lens, &seen.lens)?;
        let plane = self.plane(&found, seen, with.up)?;
        self.with_modes(plane, &found, seen, with.up)
    }

    /// Radius of the outermost border that was found, mm.
    fn outermost_mm(&self, rings: &[RingPoints]) -> f64 {
        let radii = rings.iter().filter_map(|r| self.radii_mm.get(r.ring));
        radii.copied().fold(0.0, f64::max)
    }

    /// The plane turned upright, without its modes.
    fn plane(&self, found: &Found, known: KnownLens, up: Up) -> Result<Plane, PlaneError> {
        let (fit, rings) = (&found.fit, &found.rings);
        let (angle, up_sd_rad) = up_angle(&fit.homography, &known.lens, up)?;
        let homography = turned(&fit.homography, angle).ok_or(PlaneError::RingsNotFound)?;
        let scale_ring_mm = self
            .scale_ring
            .and_then(|ring| self.radii_mm.get(ring).copied());
        let sd = self.print_sd_mm / scale_ring_mm.unwrap_or_else(|| self.outermost_mm(rings));
        let plane = Plane {
            homography,
            lens: known.lens,
            residual_px: 0.0,
            residual_mm: fit.rms_mm,
            scale_sd: ScaleSd { x: sd, y: sd },
            warnings: self.warnings(fit, rings, known, up),
            reference: ReferenceKind::Rings {
                used: rings.len(),
                edge_mm: self.edge_mm,
            },
            rings_mm: rings
                .iter()
                .filter_map(|r| self.radii_mm.get(r.ring).copied())
                .collect(),
            up_sd_rad,
            k1_sd: None,
            modes: Vec::new(),
        };
        let residual_px = fit.rms_mm * plane.px_per_mm(PointMm::default());
        Ok(Plane {
            residual_px,
            ..plane
        })
    }

    /// What may be off: the fit, and the lens, with which all the rest moves.
    fn with_modes(
        &self,
        plane: Plane,
        found: &Found,
        known: KnownLens,
        up: Up,
    ) -> Result<Plane, PlaneError> {
        let lens = known.lens;
        let (angle, _) = up_angle(&found.fit.homography, &lens, up)?;
        let other = lens.with_k1(lens.k1 + known.k1_sd);
        let moved = self.through(found, &lens, &other)?.fit.homography;
        let by_fit = found.fit.modes().into_iter();
        let modes = by_fit
            .filter_map(|h| turned(&h, angle))
            .map(|homography| Mode { homography, lens })
            .chain(turned(&moved, angle).map(|homography| Mode {
                homography,
                lens: other,
            }))
            .collect();
        Ok(Plane { modes, ..plane })
    }

    fn warnings(
        &self,
        fit: &RingFit,
        rings: &[RingPoints],
        known: KnownLens,
        up: Up,
    ) -> Vec<PlaneWarning> {
        let mut warnings = Vec::new();
        if up == Up::Picture {
            warnings.push(PlaneWarning::UpAssumed);
        }
        if known.k1_sd >= UNKNOWN_K1_SD {
            warnings.push(PlaneWarning::LensUnknown);
        }
        if rings.len() < FEW_RINGS {
            warnings.push(PlaneWarning::FewRings {
                used: rings.len() as u32,
            });
        }
        let off = self.radii_mm.iter().zip(&fit.off_mm);
        warnings.extend(off.filter(|(_, off)| off.abs() > RING_OFF_MM).map(
            |(radius_mm, off_mm)| PlaneWarning::RingOff {
                radius_mm: *radius_mm,
                off_mm: *off_mm,
            },
        ));
        warnings
    }
}

fn turned(h: &Homography, by: f64) -> Option<Homography> {
    Homography::from_matrix(h.matrix() * Rotation2::new(by).to_homogeneous())
}

#[cfg(test)]
#[path = "fit_tests.rs"]
mod tests;
