//! The result every reference ends in: picture to millimetres, and how far to trust it.

use super::{Homography, Lens, PlaneError, PlaneWarning};
use crate::frame::{Cov2, PointMm, PointPx};

/// What the millimetres were taken from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum ReferenceKind {
    /// A sheet or card of known size.
    Sheet {
        /// Side to side as seen, mm.
        width_mm: f64,
        /// Top to bottom as seen, mm.
        height_mm: f64,
    },
    /// The printed reference sheet's corner marks.
    Marks {
        /// Between the outer edges of the marks, sideways, mm.
        width_mm: f64,
        /// Between the outer edges of the marks, up and down, mm.
        height_mm: f64,
    },
    /// Concentric rings.
    Rings {
        /// Rings used in the fit.
        used: usize,
        /// Radius of the outermost scoring zone, mm, whether its edge can be seen or not.
        edge_mm: f64,
    },
    /// Two points of known distance.
    Points {
        /// Distance between them, mm.
        distance_mm: f64,
    },
}

/// Relative standard deviation of the scale: how wrong the reference itself may be.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ScaleSd {
    /// Sideways, a fraction (0.004 = 4 mm in a metre).
    pub x: f64,
    /// Up and down, a fraction.
    pub y: f64,
}

/// One independent way in which the fit may be off by one standard deviation.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Mode {
    pub(crate) homography: Homography,
    pub(crate) lens: Lens,
}

impl Mode {
    fn to_mm(self, p: PointPx) -> Option<PointMm> {
        self.homography.to_mm(self.lens.undistort(p))
    }
}

/// A place on the plane with what is known of its accuracy.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reading {
    /// Where, mm from the middle of the reference, x right and y up.
    pub at: PointMm,
    /// From pointing and from the fit; shrinks with sharper pictures.
    pub reading: Cov2,
    /// From the reference's own size; the same for everything in this photograph, removed by
    /// [`Plane::with_measured_length`].
    pub scale: Cov2,
}

/// A plane of known size found in a photograph.
///
/// Origin at the middle of the reference, x to the right and y up as seen in the upright picture
/// (see [`crate::frame`]).
#[derive(Debug, Clone, PartialEq)]
pub struct Plane {
    /// Plane mm to undistorted px.
    pub homography: Homography,
    /// The photograph's lens.
    pub lens: Lens,
    /// Root mean square of what the fit leaves, px.
    pub residual_px: f64,
    /// The same on the plane, mm.
    pub residual_mm: f64,
    /// How wrong the reference's own size may be.
    pub scale_sd: ScaleSd,
    /// What to tell the person; empty when all is well.
    pub warnings: Vec<PlaneWarning>,
    /// What the millimetres were taken from.
    pub reference: ReferenceKind,
    /// Radii of the rings that were found, mm; empty for other references.
    pub rings_mm: Vec<f64>,
    /// How far "up" may be turned, one standard deviation, rad: it turns everything in this
    /// photograph alike about the middle, and is no part of a reading's own uncertainty.
    pub up_sd_rad: f64,
    /// How well this photograph told its lens: standard deviation of `lens.k1`; none where it was
    /// taken as given.
    pub k1_sd: Option<f64>,
    pub(crate) modes: Vec<Mode>,
}

/// Longest and shortest length accepted as a reference or a check, mm.
pub(crate) const LENGTH_RANGE_MM: (f64, f64) = (5.0, 5000.0);

pub(crate) fn checked_length(what: &'static str, value: f64) -> Result<f64, PlaneError> {
    let (min, max) = LENGTH_RANGE_MM;
    if (min..=max).contains(&value) {
        Ok(value)
    } else {
        Err(PlaneError::Size {
            what,
            value,
            min,
            max,
        })
    }
}

impl Plane {
    /// Where a pixel of the photograph lies on the plane; `None` on or beyond the horizon.
    pub fn to_mm(&self, p: PointPx) -> Option<PointMm> {
        self.homography.to_mm(self.lens.undistort(p))
    }

    /// Where a place on the plane appears in the photograph, px (not finite on the horizon).
    pub fn to_px(&self, m: PointMm) -> PointPx {
        self.lens.distort(self.homography.to_px(m))
    }

    /// Scale of the photograph at a place: square root of the px area of one mm^2.
    pub fn px_per_mm(&self, m: PointMm) -> f64 {
        self.homography
            .jacobian_px_per_mm(m)
            .determinant()
            .abs()
            .sqrt()
    }

    /// Where a pixel pointed at with `sd_px` lies, with its uncertainty; `None` beyond the horizon.
    pub fn read(&self, p: PointPx, sd_px: f64) -> Option<Reading> {
        let at = self.to_mm(p)?;
        let inverse = self.homography.jacobian_px_per_mm(at).try_inverse()?;
        let pointing = inverse * inverse.transpose() * (sd_px * sd_px);
        let pointing = Cov2 {
            xx_mm2: pointing.m11,
            xy_mm2: pointing.m12,
            yy_mm2: pointing.m22,
        };
        Some(Reading {
            at,
            reading: pointing + self.fit_cov(p, at),
            scale: self.scale_cov(at),
        })
    }

    /// Covariance of a place due to the fit alone.
    fn fit_cov(&self, p: PointPx, at: PointMm) -> Cov2 {
        self.modes
            .iter()
            .filter_map(|mode| mode.to_mm(p))
            .map(|moved| outer(moved - at))
            .fold(Cov2::default(), |sum, c| sum + c)
    }

    /// Covariance of a place, or of a difference between two places, due to the reference's size.
    pub fn scale_cov(&self, at: PointMm) -> Cov2 {
        Cov2 {
            xx_mm2: (self.scale_sd.x * at.x_mm).powi(2),
            xy_mm2: 0.0,
            yy_mm2: (self.scale_sd.y * at.y_mm).powi(2),
        }
    }

    /// The same plane with its scale corrected by one length measured on the target: the distance
    /// between two pixels, read off a steel rule to `sd_mm`.
    ///
    /// # Errors
    /// [`PlaneError`] if the length is out of range, the points coincide or are beyond the
    /// horizon, or the length disagrees with the photograph by more than 10 %.
    pub fn with_measured_length(
        &self,
        a: PointPx,
        b: PointPx,
        length_mm: f64,
        sd_mm: f64,
    ) -> Result<Self, PlaneError> {
        let length_mm = checked_length("measured length", length_mm)?;
        let ends = self
            .to_mm(a)
            .zip(self.to_mm(b))
            .ok_or(PlaneError::Degenerate)?;
        let seen_mm = (ends.1 - ends.0).norm_mm();
        let factor = length_mm / seen_mm;
        if !(0.9..=1.1).contains(&factor) {
            let (min, max) = (0.9 * seen_mm, 1.1 * seen_mm);
            return Err(PlaneError::Size {
                what: "measured length",
                value: length_mm,
                min,
                max,
            });
        }
        let rescale = |h: &Homography| {
            Homography::from_matrix(
                h.matrix()
                    * nalgebra::Matrix3::from_diagonal(&nalgebra::Vector3::new(
                        1.0 / factor,
                        1.0 / factor,
                        1.0,
                    )),
            )
        };
        let homography = rescale(&self.homography).ok_or(PlaneError::Degenerate)?;
        let modes = self
            .modes
            .iter()
            .filter_map(|m| rescale(&m.homography).map(|homography| Mode { homography, ..*m }))
            .collect();
        let sd = sd_mm.abs() / length_mm;
        Ok(Self {
            homography,
            modes,
            residual_mm: self.residual_mm * factor,
            scale_sd: ScaleSd { x: sd, y: sd },
            warnings: self.warnings.clone(),
            rings_mm: self.rings_mm.iter().map(|r| r * factor).collect(),
            ..*self
        })
    }
}

fn outer(d: PointMm) -> Cov2 {
    Cov2 {
        xx_mm2: d.x_mm * d.x_mm,
        xy_mm2: d.x_mm * d.y_mm,
        yy_mm2: d.y_mm * d.y_mm,
    }
}
