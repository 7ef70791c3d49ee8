//! Where the camera stands, and the exact map between the plane and the picture.

use shimwright::frame::{PointMm, PointPx};

type Mat3 = [[f64; 3]; 3];

/// Diagonal of the 36 x 24 mm frame that a "35 mm equivalent" focal length refers to, mm.
const FULL_FRAME_DIAGONAL_MM: f64 = 43.266_615;

/// Where the camera stands relative to the plane.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pose {
    /// From the lens to the looked-at point, mm.
    pub distance_mm: f64,
    /// Between the optical axis and the plane's normal, rad, 0 to 1.2.
    pub tilt_rad: f64,
    /// Direction in the picture of the axis the plane is tilted about, rad.
    pub tilt_axis_rad: f64,
    /// Rotation of the camera about its axis, rad.
    pub roll_rad: f64,
    /// The point of the plane in the middle of the picture.
    pub look_at: PointMm,
}

impl Pose {
    /// Square on, looking at the origin from `distance_mm`.
    pub fn square_on(distance_mm: f64) -> Self {
        Self {
            distance_mm,
            tilt_rad: 0.0,
            tilt_axis_rad: 0.0,
            roll_rad: 0.0,
            look_at: PointMm::default(),
        }
    }
}

/// A pinhole camera with one radial term: an undistorted position is
/// `u(p) = c + (p - c)(1 + k1 |p - c|^2 / rn^2)` with `c` the middle of the picture and `rn` half
/// its diagonal, px.
#[derive(Debug, Clone)]
pub struct Camera {
    /// Upright picture, px.
    pub width: usize,
    /// Upright picture, px.
    pub height: usize,
    /// Focal length as a 35 mm equivalent, mm.
    pub f35_mm: f64,
    /// Radial term, about -0.05 to 0.05.
    pub k1: f64,
    /// How far the plane bulges towards the camera in its middle, mm; a parabola across x.
    pub bow_mm: f64,
    /// Half the width over which the bow falls to nothing, mm.
    pub bow_half_mm: f64,
    rotation: Mat3,
    translation: [f64; 3],
    centre_mm: [f64; 3],
}

impl Camera {
    /// A camera of `width` x `height` px at `pose`, flat plane.
    pub fn new(width: usize, height: usize, f35_mm: f64, k1: f64, pose: &Pose) -> Self {
        let rotation = multiply(&roll(pose.roll_rad), &tilt(pose));
        let at = apply(&rotation, [pose.look_at.x_mm, pose.look_at.y_mm, 0.0]);
        let translation = [-at[0], -at[1], pose.distance_mm - at[2]];
        let back = apply(&transpose(&rotation), translation);
        Self {
            width,
            height,
            f35_mm,
            k1,
            bow_mm: 0.0,
            bow_half_mm: 1.0,
            rotation,
            translation,
            centre_mm: [-back[0], -back[1], -back[2]],
        }
    }

    /// The same camera before a sheet that bulges by `bow_mm` across its `width_mm`.
    #[must_use]
    pub fn with_bow(mut self, bow_mm: f64, width_mm: f64) -> Self {
        self.bow_mm = bow_mm;
        self.bow_half_mm = width_mm / 2.0;
        self
    }

    /// Half the picture's diagonal, px: the unit of the radial term.
    pub fn half_diagonal_px(&self) -> f64 {
        (self.width as f64).hypot(self.height as f64) / 2.0
    }

    /// Focal length, px.
    pub fn focal_px(&self) -> f64 {
        self.f35_mm / FULL_FRAME_DIAGONAL_MM * 2.0 * self.half_diagonal_px()
    }

    /// Middle of the picture, px.
    pub fn middle_px(&self) -> [f64; 2] {
        [
            (self.width as f64 - 1.0) / 2.0,
            (self.height as f64 - 1.0) / 2.0,
        ]
    }

    /// Homography from the flat plane (mm, x right, y up) to undistorted px, last entry 1.
    pub fn homography(&self) -> Mat3 {
        let [cx, cy] = self.middle_px();
        let k = [
            [self.focal_px(), 0.0, cx],
            [0.0, self.focal_px(), cy],
            [0.0, 0.0, 1.0],
        ];
        let r = &self.rotation;
        let columns: Mat3 = std::array::from_fn(|i| [r[i][0], r[i][1], self.translation[i]]);
        let h = multiply(&k, &columns);
        std::array::from_fn(|i| std::array::from_fn(|j| h[i][j] / h[2][2]))
    }

    /// The lens term taken off: a position in the picture -> undistorted px.
    pub fn undistort(&self, x: f64, y: f64) -> [f64; 2] {
        let [cx, cy] = self.middle_px();
        let (dx, dy) = (x - cx, y - cy);
        let gain = 1.0 + self.k1 * (dx * dx + dy * dy) / self.half_diagonal_px().powi(2);
        [cx + dx * gain, cy + dy * gain]
    }

    fn distort(&self, u: [f64; 2]) -> [f64; 2] {
        let mut p = u;
        for _ in 0..30 {
            let v = self.undistort(p[0], p[1]);
            p = [p[0] + u[0] - v[0], p[1] + u[1] - v[1]];
        }
        p
    }

    /// Height of the plane above its flat self at `x_mm`, mm towards the camera.
    pub fn height_mm(&self, x_mm: f64) -> f64 {
        let t = x_mm / self.bow_half_mm;
        self.bow_mm * (1.0 - t * t).max(-0.3)
    }

    /// A point in space (mm, z out of the plane) in camera coordinates (mm, z along the axis).
    pub fn to_camera(&self, at: [f64; 3]) -> [f64; 3] {
        let r = apply(&self.rotation, at);
        std::array::from_fn(|i| r[i] + self.translation[i])
    }

    /// Undistorted px of a point in space; the point must be before the camera.
    pub fn project_undistorted(&self, at: [f64; 3]) -> [f64; 2] {
        let c = self.to_camera(at);
        let [cx, cy] = self.middle_px();
        [
            cx + self.focal_px() * c[0] / c[2],
            cy + self.focal_px() * c[1] / c[2],
        ]
    }

    /// Where a point of the (possibly bowed) plane lies in the upright picture.
    pub fn to_px(&self, at: PointMm) -> PointPx {
        let p = self.distort(self.project_undistorted([at.x_mm, at.y_mm, self.height_mm(at.x_mm)]));
        PointPx::new(p[0], p[1])
    }

    /// Which point of the plane is seen at a position of the upright picture.
    pub fn to_mm(&self, at: PointPx) -> PointMm {
        let [x, y] = Ray::new(self).meet(at.x_px, at.y_px);
        PointMm::new(x, y)
    }

    /// Mean scale at a position of the picture, px per mm.
    pub fn px_per_mm(&self, x: f64, y: f64) -> f64 {
        let ray = Ray::new(self);
        let (o, a, b) = (ray.meet(x, y), ray.meet(x + 1.0, y), ray.meet(x, y + 1.0));
        let det = (a[0] - o[0]) * (b[1] - o[1]) - (a[1] - o[1]) * (b[0] - o[0]);
        1.0 / det.abs().sqrt().max(1e-6)
    }
}

/// The inverse map, prepared for many pixels.
pub(super) struct Ray<'a> {
    camera: &'a Camera,
    middle: [f64; 2],
    per_focal: f64,
    k: f64,
}

impl<'a> Ray<'a> {
    pub(super) fn new(camera: &'a Camera) -> Self {
        Self {
            camera,
            middle: camera.middle_px(),
            per_focal: 1.0 / camera.focal_px(),
            k: camera.k1 / camera.half_diagonal_px().powi(2),
        }
    }

    /// The point of the plane seen at picture position `x`, `y`, mm.
    pub(super) fn meet(&self, x: f64, y: f64) -> [f64; 2] {
        let (dx, dy) = (x - self.middle[0], y - self.middle[1]);
        let gain = (1.0 + self.k * (dx * dx + dy * dy)) * self.per_focal;
        let (a, b) = (dx * gain, dy * gain);
        let r = &self.camera.rotation;
        let d: [f64; 3] = std::array::from_fn(|j| r[0][j] * a + r[1][j] * b + r[2][j]);
        let c = &self.camera.centre_mm;
        let at = |height: f64| {
            let s = (height - c[2]) / d[2];
            [c[0] + s * d[0], c[1] + s * d[1]]
        };
        let mut point = at(0.0);
        if self.camera.bow_mm != 0.0 {
            for _ in 0..6 {
                point = at(self.camera.height_mm(point[0]));
            }
        }
        point
    }
}

/// Plane (x right, y up, z towards the camera) to an untilted camera (x right, y down, z away).
fn tilt(pose: &Pose) -> Mat3 {
    let (s, c) = pose.tilt_rad.sin_cos();
    let axis = [pose.tilt_axis_rad.cos(), pose.tilt_axis_rad.sin(), 0.0];
    // Rodrigues' formula.
    let cross = [
        [0.0, 0.0, axis[1]],
        [0.0, 0.0, -axis[0]],
        [-axis[1], axis[0], 0.0],
    ];
    let turn: Mat3 = std::array::from_fn(|i| {
        std::array::from_fn(|j| {
            let unit = if i == j { c } else { 0.0 };
            unit + s * cross[i][j] + (1.0 - c) * axis[i] * axis[j]
        })
    });
    multiply(
        &turn,
        &[[1.0, 0.0, 0.0], [0.0, -1.0, 0.0], [0.0, 0.0, -1.0]],
    )
}

fn roll(angle: f64) -> Mat3 {
    let (s, c) = angle.sin_cos();
    [[c, -s, 0.0], [s, c, 0.0], [0.0, 0.0, 1.0]]
}

fn multiply(a: &Mat3, b: &Mat3) -> Mat3 {
    std::array::from_fn(|i| std::array::from_fn(|j| (0..3).map(|k| a[i][k] * b[k][j]).sum()))
}

fn transpose(a: &Mat3) -> Mat3 {
    std::array::from_fn(|i| std::array::from_fn(|j| a[j][i]))
}

fn apply(a: &Mat3, v: [f64; 3]) -> [f64; 3] {
    std::array::from_fn(|i| a[i][0] * v[0] + a[i][1] * v[1] + a[i][2] * v[2])
}

#[cfg(test)]
mod tests {
    use super::*;

    fn camera(bow_mm: f64) -> Camera {
        let pose = Pose {
            distance_mm: 500.0,
            tilt_rad: 0.4,
            tilt_axis_rad: 0.8,
            roll_rad: 0.05,
            look_at: PointMm::new(10.0, -20.0),
        };
        Camera::new(4032, 3024, 26.0, 0.02, &pose).with_bow(bow_mm, 210.0)
    }

    #[test]
    fn projecting_and_looking_back_meet_at_the_same_point() {
        for bow in [0.0, 4.0] {
            let camera = camera(bow);
            for (x, y) in [(0.0, 0.0), (-100.0, 140.0), (95.0, -120.0)] {
                let back = camera.to_mm(camera.to_px(PointMm::new(x, y)));
                assert!(
                    (back - PointMm::new(x, y)).norm_mm() < 1e-6,
                    "{bow} {x} {y} {back:?}"
                );
            }
        }
    }

    #[test]
    fn the_homography_agrees_with_the_projection_and_up_is_up() {
        let camera = camera(0.0);
        let h = camera.homography();
        let p = camera.to_px(PointMm::new(40.0, 60.0));
        let u = camera.undistort(p.x_px, p.y_px);
        let w = h[2][0] * 40.0 + h[2][1] * 60.0 + h[2][2];
        let x = (h[0][0] * 40.0 + h[0][1] * 60.0 + h[0][2]) / w;
        let y = (h[1][0] * 40.0 + h[1][1] * 60.0 + h[1][2]) / w;
        assert!((x - u[0]).abs() < 1e-6 && (y - u[1]).abs() < 1e-6);
        let (low, high) = (
            camera.to_px(PointMm::new(0.0, -50.0)),
            camera.to_px(PointMm::new(0.0, 50.0)),
        );
        let (left, right) = (
            camera.to_px(PointMm::new(-50.0, 0.0)),
            camera.to_px(PointMm::new(50.0, 0.0)),
        );
        assert!(high.y_px < low.y_px && left.x_px < right.x_px);
    }
}
