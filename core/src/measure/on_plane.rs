//! The photograph seen through the plane: brightness at a place in millimetres.

use super::measured::Rectified;
use crate::frame::{PointMm, PointPx};
use crate::photo::{Photo, View};
use crate::plane::{Plane, ReferenceKind};

/// A photograph and its plane.
pub(super) struct OnPlane<'a> {
    plane: &'a Plane,
    channels: Vec<View<'a>>,
    size: (f64, f64),
}

/// A rectangle on the plane, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Region {
    pub(super) left_mm: f64,
    pub(super) right_mm: f64,
    pub(super) top_mm: f64,
    pub(super) bottom_mm: f64,
}

/// Longest side of a straight-on picture, px.
const MOST_SIDE_PX: f64 = 2400.0;
/// With no reference size to go by, at most this much around the origin is shown, mm.
const WIDEST_MM: f64 = 700.0;
/// A face's paper reaches this far beyond its outermost ring.
const BEYOND_RINGS: f64 = 1.1;

impl<'a> OnPlane<'a> {
    pub(super) fn new(photo: &'a Photo, plane: &'a Plane) -> Self {
        let count = if photo.has_colour() { 3 } else { 1 };
        Self {
            plane,
            channels: (0..count).map(|c| photo.channel(c)).collect(),
            size: (photo.width() as f64 - 1.0, photo.height() as f64 - 1.0),
        }
    }

    /// Brightest channel at a place, 0..=255; the nearest edge pixel outside the picture.
    pub(super) fn brightness(&self, at: PointMm) -> f32 {
        let p = self.clamped(at);
        let samples = self.channels.iter().map(|c| sample(c, p));
        samples.fold(0.0, f32::max)
    }

    fn clamped(&self, at: PointMm) -> PointPx {
        let p = self.plane.to_px(at);
        // `max` and `min` rather than `clamp`: a place on the horizon is not a number.
        PointPx::new(
            p.x_px.max(0.0).min(self.size.0),
            p.y_px.max(0.0).min(self.size.1),
        )
    }

    /// Whether the square of `half_mm` around a place is inside the picture.
    pub(super) fn shows(&self, at: PointMm, half_mm: f64) -> bool {
        [(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)]
            .iter()
            .all(|(x, y)| {
                let p = self
                    .plane
                    .to_px(at + PointMm::new(x * half_mm, y * half_mm));
                (0.0..=self.size.0).contains(&p.x_px) && (0.0..=self.size.1).contains(&p.y_px)
            })
    }

    /// About one photo pixel, on the plane, mm.
    pub(super) fn pixel_mm(&self, at: PointMm) -> f64 {
        1.0 / self.plane.px_per_mm(at).max(1e-6)
    }

    /// The reference's own rectangle, as far as the picture shows it.
    pub(super) fn region(&self) -> Region {
        let (x, y) = match self.plane.reference {
            ReferenceKind::Sheet {
                width_mm,
                height_mm,
            }
            | ReferenceKind::Marks {
                width_mm,
                height_mm,
            } => (width_mm / 2.0, height_mm / 2.0),
            ReferenceKind::Rings { outermost_mm, .. } => {
                (outermost_mm * BEYOND_RINGS, outermost_mm * BEYOND_RINGS)
            }
            ReferenceKind::Points { .. } => (WIDEST_MM, WIDEST_MM),
        };
        self.visible().map_or(
            Region {
                left_mm: -x,
                right_mm: x,
                top_mm: y,
                bottom_mm: -y,
            },
            |seen| Region {
                left_mm: seen.left_mm.max(-x),
                right_mm: seen.right_mm.min(x),
                top_mm: seen.top_mm.min(y),
                bottom_mm: seen.bottom_mm.max(-y),
            },
        )
    }

    /// The rectangle around what the picture shows; `None` when the horizon is in it.
    fn visible(&self) -> Option<Region> {
        let (w, h) = self.size;
        let corners = [(0.0, 0.0), (w, 0.0), (w, h), (0.0, h)];
        let places = corners
            .iter()
            .map(|&(x, y)| self.plane.to_mm(PointPx::new(x, y)))
            .collect::<Option<Vec<_>>>()?;
        let range = |of: fn(&PointMm) -> f64| {
            let values = places.iter().map(of);
            values.fold((f64::MAX, f64::MIN), |(a, b), v| (a.min(v), b.max(v)))
        };
        let ((left_mm, right_mm), (bottom_mm, top_mm)) = (range(|p| p.x_mm), range(|p| p.y_mm));
        Some(Region {
            left_mm,
            right_mm,
            top_mm,
            bottom_mm,
        })
    }

    /// The region straight on; the step grows where the picture would be too large.
    pub(super) fn rectified(&self, region: Region, mm_per_px: f64) -> Rectified {
        let (across, down) = (
            region.right_mm - region.left_mm,
            region.top_mm - region.bottom_mm,
        );
        let step = mm_per_px.max(across.max(down) / MOST_SIDE_PX);
        let width = (across / step).floor().max(1.0) as usize;
        let height = (down / step).floor().max(1.0) as usize;
        let mut rgb = Vec::with_capacity(3 * width * height);
        let (left_mm, top_mm) = (region.left_mm + step / 2.0, region.top_mm - step / 2.0);
        for row in 0..height {
            for column in 0..width {
                let x = left_mm + column as f64 * step;
                let y = top_mm - row as f64 * step;
                let p = self.clamped(PointMm::new(x, y));
                let values = (0..3).map(|c| self.channels.get(c).or(self.channels.first()));
                rgb.extend(values.map(|view| view.map_or(0, |v| sample(v, p).round() as u8)));
            }
        }
        Rectified {
            width,
            height,
            mm_per_px: step,
            left_mm,
            top_mm,
            rgb,
        }
    }
}

fn sample(view: &View<'_>, p: PointPx) -> f32 {
    view.sample(p.x_px, p.y_px).unwrap_or(0.0) as f32
}
