//! Pictures of planes that the unit tests draw for themselves.

use nalgebra::{Matrix3, Rotation3, Vector3};

use super::profile::light;
use super::{Homography, Lens, Sheet};
use crate::frame::{PointMm, PointPx};
use crate::photo::Grey;

/// A pinhole camera with one distortion coefficient, looking at the plane's origin.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Camera {
    pub(crate) width: usize,
    pub(crate) height: usize,
    pub(crate) focal_px: f64,
    pub(crate) distance_mm: f64,
    /// Turn about the vertical, the horizontal and the viewing axis, degrees.
    pub(crate) turns: [f64; 3],
    /// Where the origin appears, px from the middle of the picture.
    pub(crate) aside_px: (f64, f64),
    pub(crate) k1: f64,
}

impl Camera {
    pub(crate) fn level(distance_mm: f64) -> Self {
        Self {
            width: 1000,
            height: 1300,
            focal_px: 1100.0,
            distance_mm,
            turns: [0.0; 3],
            aside_px: (0.0, 0.0),
            k1: 0.0,
        }
    }

    pub(crate) fn homography(&self) -> Homography {
        let c = self.lens().centre();
        let k = Matrix3::new(
            self.focal_px,
            0.0,
            c.x_px + self.aside_px.0,
            0.0,
            self.focal_px,
            c.y_px + self.aside_px.1,
            0.0,
            0.0,
            1.0,
        );
        let [yaw, pitch, roll] = self.turns.map(f64::to_radians);
        let turn = Rotation3::from_euler_angles(pitch, yaw, roll);
        // Picture y runs down, plane y up.
        let x = turn * Vector3::x();
        let y = turn * -Vector3::y();
        let at = Vector3::new(0.0, 0.0, self.distance_mm);
        Homography::from_matrix(k * Matrix3::from_columns(&[x, y, at])).unwrap()
    }

    pub(crate) fn lens(&self) -> Lens {
        Lens::new(self.k1, self.width, self.height)
    }

    pub(crate) fn see(&self, m: PointMm) -> PointPx {
        self.lens().distort(self.homography().to_px(m))
    }

    /// Draws the plane: 3 x 3 samples a pixel, noise of about `noise` grey levels.
    pub(crate) fn draw(&self, noise: f64, paint: impl Fn(PointMm) -> f64) -> Grey {
        let (h, lens) = (self.homography(), self.lens());
        let mut grey = Grey::filled(self.width, self.height, 0);
        let mut seed = 0x9e37_79b9_7f4a_7c15_u64;
        for (i, v) in grey.data.iter_mut().enumerate() {
            let (x, y) = ((i % self.width) as f64, (i / self.width) as f64);
            let mut sum = 0.0;
            for k in 0..9 {
                let (dx, dy) = (f64::from(k % 3 - 1) / 3.0, f64::from(k / 3 - 1) / 3.0);
                let u = lens.undistort(PointPx::new(x + dx, y + dy));
                sum += light(h.to_mm(u).map_or(90.0, &paint));
            }
            seed ^= seed << 13;
            seed ^= seed >> 7;
            seed ^= seed << 17;
            let uniform = (seed >> 40) as f64 / f64::from(1 << 24) - 0.5;
            *v = (level(sum / 9.0) + noise * uniform * 3.46)
                .round()
                .clamp(0.0, 255.0) as u8;
        }
        grey
    }
}

/// The grey level that shows this much light, 0..=255 for both (sRGB, IEC 61966-2-1).
pub(crate) fn level(light: f64) -> f64 {
    let v = light / 255.0;
    255.0
        * if v <= 0.003_130_8 {
            12.92 * v
        } else {
            1.055 * v.powf(1.0 / 2.4) - 0.055
        }
}

/// Whether a place is on a card `by` times as large as one, with corners of this radius.
pub(crate) fn is_on_card(m: PointMm, by: f64, radius_mm: f64) -> bool {
    let card = Sheet::ID1;
    let (w, h) = (by * card.width_mm / 2.0, by * card.height_mm / 2.0);
    let x = m.x_mm.abs() - (w - radius_mm);
    let y = m.y_mm.abs() - (h - radius_mm);
    x.max(y) < radius_mm && (x.min(y) < 0.0 || x.hypot(y) < radius_mm)
}
