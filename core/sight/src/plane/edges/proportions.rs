//! How a rectangle's sides look to a camera of a given focal length.

use nalgebra::Vector3;

use crate::frame::PointPx;
use crate::plane::{Homography, Lens, Sheet};

/// What taps and focal lengths that are a little off leave of a right sheet. Taps a third of a pixel
/// off and a focal length 3 % off give up to .017.
const ASPECT_SD: f64 = 0.015;
/// The same of the angle between the sides, degrees. Chosen by hand; not tuned.
const SQUARE_SD_DEGREES: f64 = 1.5;
/// A focal length by EXIF is off by about this share.
const FOCAL_SD: f64 = 0.03;
/// How far proportions and angle (rad) are off, where no tap is in them, though the focal length is
/// right: cutting, a bent edge. Chosen by hand; not tuned.
const LEAST_SD: f64 = 0.006;

/// A rectangle's axes as the camera must see them.
pub(crate) struct Shape {
    /// Apparent width over height, relative to the reference chosen: 1 if it is the right one.
    pub(crate) aspect: f64,
    /// Angle between the axes, degrees.
    pub(crate) angle: f64,
    /// Angle between the camera's axis and the normal of the plane, degrees.
    pub(crate) tilt: f64,
}

impl Shape {
    pub(crate) fn of(h: &Homography, lens: &Lens, focal_px: f64) -> Self {
        let c = lens.centre();
        let h = h.matrix();
        let ray = |i: usize| {
            Vector3::new(
                (h[(0, i)] - c.x_px * h[(2, i)]) / focal_px,
                (h[(1, i)] - c.y_px * h[(2, i)]) / focal_px,
                h[(2, i)],
            )
        };
        let (x, y) = (ray(0), ray(1));
        Self {
            aspect: x.norm() / y.norm(),
            angle: x.angle(&y).to_degrees(),
            tilt: x.cross(&y).normalize().z.abs().acos().to_degrees(),
        }
    }

    /// How far it is from a rectangle `target` times as wide for its height as the reference, standard
    /// deviations: of the proportions and of the angle.
    pub(crate) fn off(&self, target: f64) -> [f64; 2] {
        [
            (self.aspect / target).ln() / ASPECT_SD,
            (self.angle - 90.0) / SQUARE_SD_DEGREES,
        ]
    }
}

/// A sheet before a camera of known focal length: three of its sides then tell where the fourth is.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Proportions {
    pub(crate) sheet: Sheet,
    pub(crate) focal_px: f64,
}

impl Proportions {
    /// How far corners (undistorted px) are from such a sheet's, standard deviations. A wrong focal
    /// length foreshortens a tilted sheet wrongly: by its own share of the squared sine of the tilt.
    pub(crate) fn off(&self, corners: &[PointPx; 4], lens: &Lens) -> Option<[f64; 2]> {
        let homography = self.sheet.homography(corners).ok()?;
        let shape = Shape::of(&homography, lens, self.focal_px);
        let sd = LEAST_SD.hypot(FOCAL_SD * shape.tilt.to_radians().sin().powi(2));
        let square = (shape.angle - 90.0).to_radians();
        Some([shape.aspect.ln() / sd, square / sd])
    }
}
