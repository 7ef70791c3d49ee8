//! One-coefficient radial lens distortion.

use crate::frame::PointPx;

/// Radial distortion `u(p) = c + (p - c) (1 + k1 |p - c|^2 / rn^2)`: from a position in the
/// photograph to where an ideal lens would have put it. `c` is the middle of the picture and `rn`
/// half its diagonal (the first term of the Brown model, Photogrammetric Engineering 37, 1971, as
/// an undistorting polynomial).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lens {
    /// Coefficient; negative for the barrel look of wide lenses before correction. Within ±0.2.
    pub k1: f64,
    centre: PointPx,
    half_diagonal_px: f64,
}

/// Beyond this the polynomial would fold over itself inside the picture (1 + 3 k1 > 0 holds to -1/3).
pub const MAX_K1: f64 = 0.2;

impl Lens {
    /// The lens of a `width` x `height` px picture; `k1` is clamped to ±[`MAX_K1`], not-a-number to 0.
    pub fn new(k1: f64, width: usize, height: usize) -> Self {
        let k1 = if k1.is_nan() { 0.0 } else { k1 };
        Self {
            k1: k1.clamp(-MAX_K1, MAX_K1),
            centre: PointPx::new((width as f64 - 1.0) / 2.0, (height as f64 - 1.0) / 2.0),
            half_diagonal_px: (width as f64).hypot(height as f64).max(1.0) / 2.0,
        }
    }

    /// The same picture with another coefficient.
    #[must_use]
    pub fn with_k1(self, k1: f64) -> Self {
        Self { k1, ..self }
    }

    /// Middle of the picture, px.
    pub fn centre(&self) -> PointPx {
        self.centre
    }

    /// Half the picture's diagonal, px.
    pub fn half_diagonal_px(&self) -> f64 {
        self.half_diagonal_px
    }

    /// From the photograph to ideal pixels.
    pub fn undistort(&self, p: PointPx) -> PointPx {
        let (dx, dy) = (p.x_px - self.centre.x_px, p.y_px - self.centre.y_px);
        let f = 1.0 + self.k1 * self.radius2(dx, dy);
        PointPx::new(self.centre.x_px + dx * f, self.centre.y_px + dy * f)
    }

    /// From ideal pixels to the photograph: Newton's rule on the radius, exact to 1e-9 px inside
    /// one diagonal.
    pub fn distort(&self, u: PointPx) -> PointPx {
        let (dx, dy) = (u.x_px - self.centre.x_px, u.y_px - self.centre.y_px);
        let target2 = self.radius2(dx, dy);
        // s (1 + k1 target2 s^2) = 1 for the shrink factor s.
        let mut s = 1.0;
        for _ in 0..4 {
            let k = self.k1 * target2;
            let slope = 1.0 + 3.0 * k * s * s;
            if slope < 0.1 {
                break;
            }
            s -= (s * (1.0 + k * s * s) - 1.0) / slope;
        }
        PointPx::new(self.centre.x_px + dx * s, self.centre.y_px + dy * s)
    }

    fn radius2(&self, dx: f64, dy: f64) -> f64 {
        (dx * dx + dy * dy) / (self.half_diagonal_px * self.half_diagonal_px)
    }
}

/// How far an unknown lens may be from the expected coefficient (one standard deviation).
pub(crate) const UNKNOWN_K1_SD: f64 = 0.02;
/// How far a coefficient remembered from a sheet may be off: paper is never quite flat.
const REMEMBERED_K1_SD: f64 = 0.003;

/// What is known of a lens before or after looking: its coefficient, give or take.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct KnownLens {
    pub(crate) lens: Lens,
    pub(crate) k1_sd: f64,
}

impl KnownLens {
    /// The lens of a `width` x `height` px picture, with the coefficient remembered for the camera.
    pub(crate) fn remembered(k1: Option<f64>, width: usize, height: usize) -> Self {
        Self {
            lens: Lens::new(k1.unwrap_or(0.0), width, height),
            k1_sd: k1.map_or(UNKNOWN_K1_SD, |_| REMEMBERED_K1_SD),
        }
    }

    /// Joined with a second, independent reading: the mean weighted by inverse variances.
    #[must_use]
    pub(crate) fn and(self, k1: f64, k1_sd: f64) -> Self {
        let (old, new) = (self.k1_sd.powi(-2), k1_sd.powi(-2));
        Self {
            lens: self
                .lens
                .with_k1((old * self.lens.k1 + new * k1) / (old + new)),
            k1_sd: (old + new).sqrt().recip(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn two_readings_of_a_lens_meet_where_their_weights_say() {
        let known = KnownLens::remembered(Some(0.010), 4000, 3000).and(0.014, 0.003);
        assert!((known.lens.k1 - 0.012).abs() < 1e-12);
        assert!((known.k1_sd - 0.003 / 2_f64.sqrt()).abs() < 1e-12);
        let unknown = KnownLens::remembered(None, 4000, 3000).and(0.014, 0.002);
        assert!((unknown.lens.k1 - 0.014).abs() < 2e-4 && unknown.k1_sd < 0.002);
    }

    #[test]
    fn distort_undoes_undistort_over_the_whole_picture() {
        for k1 in [-0.08, -0.01, 0.0, 0.03, 0.1] {
            let lens = Lens::new(k1, 4000, 3000);
            for (x, y) in [
                (0.0, 0.0),
                (3999.0, 0.0),
                (2000.0, 1500.0),
                (3000.0, 2900.0),
            ] {
                let p = PointPx::new(x, y);
                let back = lens.distort(lens.undistort(p));
                assert!(back.distance_px(p) < 1e-6, "k1 {k1} at {x},{y}");
            }
        }
    }

    #[test]
    fn the_corner_moves_by_k1_of_the_half_diagonal() {
        let lens = Lens::new(0.01, 4000, 3000);
        let moved = lens
            .undistort(PointPx::new(0.0, 0.0))
            .distance_px(PointPx::new(0.0, 0.0));
        assert!((moved - 25.0).abs() < 0.05, "{moved}");
        assert!(Lens::new(f64::NAN, 10, 10).k1.abs() < f64::EPSILON);
    }
}
