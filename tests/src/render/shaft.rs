//! A shaft still standing in the butt.

use shimwright::frame::PointMm;

use super::camera::Camera;
use super::paint::{Rgb, blend, dn, shade};

/// An arrow standing in the plane, leaning towards the camera.
#[derive(Debug, Clone)]
pub struct Shaft {
    /// Where it enters the paper.
    pub at: PointMm,
    /// Diameter, mm.
    pub shaft_mm: f64,
    /// How far the tail end leans, mm to the right and up per mm out of the plane.
    pub lean: [f64; 2],
    /// Length standing out, mm.
    pub length_mm: f64,
}

/// A shaft as the camera sees it: a tapering stripe in undistorted px.
pub(super) struct Stripe {
    base: [f32; 2],
    tail: [f32; 2],
    half_base: f32,
    half_tail: f32,
}

impl Shaft {
    pub(super) fn seen(&self, camera: &Camera) -> Stripe {
        let at = |out: f64| {
            [
                self.at.x_mm + self.lean[0] * out,
                self.at.y_mm + self.lean[1] * out,
                out,
            ]
        };
        let (base, mut out) = (at(camera.height_mm(self.at.x_mm)), self.length_mm);
        // What reaches behind the lens is cut off well before it.
        while camera.to_camera(at(out))[2] < 120.0 && out > 1.0 {
            out *= 0.9;
        }
        let half = |p: [f64; 3]| camera.focal_px() * self.shaft_mm / 2.0 / camera.to_camera(p)[2];
        let px = |p: [f64; 3]| camera.project_undistorted(p).map(|v| v as f32);
        Stripe {
            base: px(base),
            tail: px(at(out)),
            half_base: half(base) as f32,
            half_tail: half(at(out)) as f32,
        }
    }
}

impl Stripe {
    /// Paints over the pixel at the undistorted position `u`.
    pub(super) fn paint(&self, u: [f32; 2], colour: &mut Rgb) {
        let (dx, dy) = (self.tail[0] - self.base[0], self.tail[1] - self.base[1]);
        let length = dx.hypot(dy).max(1e-3);
        let (ax, ay) = (dx / length, dy / length);
        let (rx, ry) = (u[0] - self.base[0], u[1] - self.base[1]);
        let (along, across) = (rx * ax + ry * ay, rx * ay - ry * ax);
        let half =
            self.half_base + (self.half_tail - self.half_base) * (along / length).clamp(0.0, 1.0);
        let beyond = (-along).max(along - length).max(0.0);
        let d = across.hypot(beyond) - half;
        if d > 0.5 {
            return;
        }
        let t = (across / half).clamp(-1.0, 1.0);
        let shine = 0.35 + 1.2 * (-((t + 0.35) / 0.25).powi(2)).exp() + 0.35 * (1.0 - t * t);
        let body = if along > length * 0.96 {
            dn(230, 110, 40)
        } else {
            dn(62, 62, 66)
        };
        blend(colour, shade(body, shine), (0.5 - d).clamp(0.0, 1.0));
    }
}
