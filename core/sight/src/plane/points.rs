//! Two points of known distance: a scale and nothing else.

use nalgebra::Matrix3;

use super::fitted::checked_length;
use super::{Homography, Lens, Plane, PlaneError, PlaneWarning, ReferenceKind, ScaleSd};
use crate::frame::PointPx;
use crate::photo::View;

/// A camera held by hand "square" to a target is off by about this angle, and shortens lengths
/// across the turn by its cosine.
const UNCORRECTED_TILT_RAD: f64 = 0.15;
/// Points closer than this many of their own standard deviations give no scale. Then the scale is off
/// by a quarter, one standard deviation.
const LEAST_SDS: f64 = 4.0;

/// Two points and the distance between them.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TwoPoints {
    /// One point, px.
    pub a: PointPx,
    /// The other point, px.
    pub b: PointPx,
    /// Distance between them, mm.
    pub distance_mm: f64,
    /// Standard deviation of each tap, px.
    pub tap_sd_px: f64,
}

impl TwoPoints {
    /// Takes the picture as square to the plane; the origin is the middle of the two points and
    /// up is the picture's up. The uncertainty of the taps and of the uncorrected tilt is the
    /// plane's scale uncertainty, and [`PlaneWarning::ScaleOnly`] says so.
    ///
    /// # Errors
    /// [`PlaneError`] for a distance out of range and points that coincide or are not numbers.
    pub fn fit(&self, view: &View<'_>, remembered_k1: Option<f64>) -> Result<Plane, PlaneError> {
        let distance_mm = checked_length("distance", self.distance_mm)?;
        let lens = Lens::new(remembered_k1.unwrap_or(0.0), view.width(), view.height());
        let (a, b) = (lens.undistort(self.a), lens.undistort(self.b));
        let length_px = a.distance_px(b);
        if !length_px.is_finite() {
            return Err(PlaneError::NotFinite);
        }
        if length_px <= LEAST_SDS * self.tap_sd_px {
            return Err(PlaneError::Degenerate);
        }
        let scale = length_px / distance_mm;
        let (x, y) = (f64::midpoint(a.x_px, b.x_px), f64::midpoint(a.y_px, b.y_px));
        let matrix = Matrix3::new(scale, 0.0, x, 0.0, -scale, y, 0.0, 0.0, 1.0);
        let homography = Homography::from_matrix(matrix).ok_or(PlaneError::Degenerate)?;
        let pointing = self.tap_sd_px * std::f64::consts::SQRT_2 / length_px;
        let sd = pointing.hypot(1.0 - UNCORRECTED_TILT_RAD.cos());
        Ok(Plane {
            homography,
            lens,
            residual_px: 0.0,
            residual_mm: 0.0,
            scale_sd: ScaleSd { x: sd, y: sd },
            warnings: vec![PlaneWarning::ScaleOnly],
            reference: ReferenceKind::Points { distance_mm },
            rings_mm: Vec::new(),
            up_sd_rad: 0.0,
            k1_sd: None,
            modes: Vec::new(),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::frame::PointMm;
    use crate::photo::Grey;

    fn points(a: (f64, f64), b: (f64, f64), distance_mm: f64) -> Result<Plane, PlaneError> {
        let two = TwoPoints {
            a: PointPx::new(a.0, a.1),
            b: PointPx::new(b.0, b.1),
            distance_mm,
            tap_sd_px: 3.0,
        };
        two.fit(&Grey::filled(1000, 800, 0).view(), None)
    }

    #[test]
    fn scale_origin_and_up_are_as_stated() {
        let plane = points((300.0, 400.0), (700.0, 400.0), 100.0).unwrap();
        let m = plane.to_mm(PointPx::new(700.0, 300.0)).unwrap();
        assert!((m - PointMm::new(50.0, 25.0)).norm_mm() < 1e-9, "{m:?}");
        assert_eq!(plane.warnings, [PlaneWarning::ScaleOnly]);
        let reading = plane.read(PointPx::new(700.0, 400.0), 4.0).unwrap();
        assert!((reading.reading.sd_x_mm() - 1.0).abs() < 1e-9);
        assert!(reading.scale.sd_x_mm() > 0.5);
    }

    #[test]
    fn useless_points_are_refused() {
        assert_eq!(
            points((5.0, 5.0), (5.0, 5.0), 100.0),
            Err(PlaneError::Degenerate)
        );
        assert_eq!(
            points((f64::NAN, 5.0), (500.0, 5.0), 100.0),
            Err(PlaneError::NotFinite)
        );
        assert!(matches!(
            points((0.0, 0.0), (500.0, 0.0), 0.0),
            Err(PlaneError::Size { .. })
        ));
    }

    #[test]
    fn one_measured_length_corrects_the_scale() {
        let plane = points((300.0, 400.0), (700.0, 400.0), 100.0).unwrap();
        let (a, b) = (PointPx::new(100.0, 400.0), PointPx::new(900.0, 400.0));
        let fixed = plane.with_measured_length(a, b, 204.0, 0.5).unwrap();
        let length = fixed.to_mm(b).unwrap() - fixed.to_mm(a).unwrap();
        assert!((length.norm_mm() - 204.0).abs() < 1e-9);
        assert!((fixed.scale_sd.x - 0.5 / 204.0).abs() < 1e-12);
        assert!(matches!(
            plane.with_measured_length(a, b, 300.0, 0.5),
            Err(PlaneError::Size { .. })
        ));
        assert!(plane.with_measured_length(a, a, 100.0, 0.5).is_err());
    }
}
