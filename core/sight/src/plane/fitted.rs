//! The result every reference ends in: picture to millimetres, and how far to trust it.

use nalgebra::{Matrix2, Vector2};

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
    /// From pointing alone: every place has its own.
    pub reading: Cov2,
    /// From the fit of the plane: it moves all places of the photograph together, neighbours alike.
    pub fit: Cov2,
    /// From the reference's own size; likewise, and removed by [`Plane::with_measured_length`].
    pub scale: Cov2,
    /// From not knowing exactly which way is up; likewise.
    pub turn: Cov2,
}

impl Reading {
    /// All that the places of one photograph share.
    pub fn common(&self) -> Cov2 {
        self.fit + self.scale + self.turn
    }
}

/// How the plane's uncertainty changes the difference between two places.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Strain {
    /// Relative standard deviation of lengths sideways: the reference's size and the fit.
    pub x: f64,
    /// The same up and down.
    pub y: f64,
    /// Standard deviation of a turn, rad: how far a direction may be off.
    pub turn_rad: f64,
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

/// A length that was measured by hand corrects the scale within these factors of what the picture shows:
/// farther off it is another length or another unit. Chosen by hand; not tuned.
const CORRECTION: (f64, f64) = (0.9, 1.1);
/// How far apart places are compared to see what a mode does there, mm.
const NEARBY_MM: f64 = 2.0;
/// Longest and shortest length accepted as a reference or a check, mm. Chosen by hand; not tuned.
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
            reading: pointing,
            fit: self.fit_cov(p, at),
            scale: self.scale_cov(at),
            turn: self.turn_cov(at),
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

    /// Covariance of a place due to not knowing which way is up.
    fn turn_cov(&self, at: PointMm) -> Cov2 {
        let moved = PointMm::new(-at.y_mm * self.up_sd_rad, at.x_mm * self.up_sd_rad);
        outer(moved)
    }

    /// How far from the middle the reference reaches, mm.
    pub fn reach_mm(&self) -> f64 {
        match self.reference {
            ReferenceKind::Sheet {
                width_mm,
                height_mm,
            }
            | ReferenceKind::Marks {
                width_mm,
                height_mm,
            } => width_mm.max(height_mm) / 2.0,
            ReferenceKind::Rings { edge_mm, .. } => edge_mm,
            ReferenceKind::Points { distance_mm } => distance_mm / 2.0,
        }
    }

    /// How far lengths and directions may be off, on average over what lies within `around_mm` of
    /// the middle: a shift of everything is no part of it.
    pub fn strain(&self, around_mm: f64) -> Strain {
        let places = [(0.0, 0.0), (1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0)];
        let at = |(x, y): &(f64, f64)| PointMm::new(x * around_mm, y * around_mm);
        let (mut x2, mut y2, mut turn2) = (0.0, 0.0, 0.0);
        for place in places.iter().map(at) {
            for bent in self.modes.iter().filter_map(|m| self.bent(m, place)) {
                x2 += bent.m11.powi(2);
                y2 += bent.m22.powi(2);
                turn2 += f64::midpoint(bent.m12.powi(2), bent.m21.powi(2));
            }
        }
        let mean = |sum: f64| (sum / places.len() as f64).sqrt();
        Strain {
            x: mean(x2).hypot(self.scale_sd.x),
            y: mean(y2).hypot(self.scale_sd.y),
            turn_rad: mean(turn2).hypot(self.up_sd_rad),
        }
    }

    /// What a mode does to small differences at a place: what it adds to the identity.
    fn bent(&self, mode: &Mode, at: PointMm) -> Option<Matrix2<f64>> {
        let moved = |by: PointMm| mode.to_mm(self.to_px(at + by));
        let along = |x_mm: f64, y_mm: f64| {
            let (ahead, behind) = (PointMm::new(x_mm, y_mm), PointMm::new(-x_mm, -y_mm));
            let d = moved(ahead)? - moved(behind)?;
            Some(Vector2::new(d.x_mm, d.y_mm) / (2.0 * NEARBY_MM))
        };
        let columns = [along(NEARBY_MM, 0.0)?, along(0.0, NEARBY_MM)?];
        Some(Matrix2::from_columns(&columns) - Matrix2::identity())
    }

    /// Covariance of a place, or of a difference between two places, due to the reference's size.
    fn scale_cov(&self, at: PointMm) -> Cov2 {
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
        if !(CORRECTION.0..=CORRECTION.1).contains(&factor) {
            let (min, max) = (CORRECTION.0 * seen_mm, CORRECTION.1 * seen_mm);
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
