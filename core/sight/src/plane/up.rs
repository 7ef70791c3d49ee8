//! Which way is up on a face whose rings cannot tell.

use nalgebra::{Matrix2, Vector2};

use super::{Homography, Lens, PlaneError};
use crate::frame::PointPx;

/// Which way is up on a round face: its rings cannot tell.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub enum Up {
    /// The picture's own up; good to about 2 degrees by hand.
    #[default]
    Picture,
    /// From one tap straight up to another, both on the face.
    Upwards {
        /// The lower point.
        below: PointPx,
        /// The upper point.
        above: PointPx,
    },
    /// Along a level line on the face, such as the lower edge of its paper.
    Level {
        /// The left point.
        left: PointPx,
        /// The right point.
        right: PointPx,
    },
    /// By the phone's gravity sensor: how far true up is turned clockwise from the picture's up.
    Gravity {
        /// Angle, rad.
        roll_rad: f64,
    },
}

/// How exactly a hand-held picture is upright, and a phone knows gravity, rad.
pub(super) const PICTURE_UP_SD_RAD: f64 = 0.035;
const GRAVITY_SD_RAD: f64 = 0.009;
/// A tap used for "up", px.
const TAP_SD_PX: f64 = 12.0;
/// Two taps nearer than this many of that tell no direction: 20 degrees off, one standard deviation.
const LEAST_SDS: f64 = 4.0;

/// Angle by which the plane must turn so that its y axis points up, with its standard deviation.
pub(super) fn up_angle(h: &Homography, lens: &Lens, up: Up) -> Result<(f64, f64), PlaneError> {
    let between = |from: PointPx, to: PointPx| -> Result<(Vector2<f64>, f64), PlaneError> {
        let place = |p| h.to_mm(lens.undistort(p)).ok_or(PlaneError::Degenerate);
        let d = place(to)? - place(from)?;
        let length_px = from.distance_px(to);
        if length_px < LEAST_SDS * TAP_SD_PX {
            return Err(PlaneError::Degenerate);
        }
        let sd = TAP_SD_PX * std::f64::consts::SQRT_2 / length_px;
        Ok((Vector2::new(d.x_mm, d.y_mm), sd))
    };
    // A plumb line's direction is told by gravity where the picture's middle is; on a face that hangs
    // upright it is the direction whose vanishing point lies that way from there, wherever the face
    // is in the picture and whatever the focal length.
    let by_picture = |roll: f64| -> Result<Vector2<f64>, PlaneError> {
        let (m, c) = (h.matrix(), lens.centre());
        let from_middle = Matrix2::new(
            m.m11 - c.x_px * m.m31,
            m.m12 - c.x_px * m.m32,
            m.m21 - c.y_px * m.m31,
            m.m22 - c.y_px * m.m32,
        );
        let inverse = from_middle.try_inverse().ok_or(PlaneError::Degenerate)?;
        Ok(inverse * Vector2::new(roll.sin(), -roll.cos()))
    };
    let (direction, sd) = match up {
        Up::Picture => (by_picture(0.0)?, PICTURE_UP_SD_RAD),
        Up::Gravity { roll_rad } if roll_rad.is_finite() => (by_picture(roll_rad)?, GRAVITY_SD_RAD),
        Up::Gravity { .. } => return Err(PlaneError::NotFinite),
        Up::Upwards { below, above } => between(below, above)?,
        Up::Level { left, right } => {
            let (d, sd) = between(left, right)?;
            (Vector2::new(-d.y, d.x), sd)
        }
    };
    Ok(((-direction.x).atan2(direction.y), sd))
}
