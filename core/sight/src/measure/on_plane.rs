//! The photograph seen through the plane: brightness at a place in millimetres.

use super::measured::Rectified;
use crate::frame::{PointMm, PointPx};
use crate::impact::{
    self, Backdrop, Colours, Hole, NotSnapped, Relief, Sight, SnapOptions, Standing, Surface,
};
use crate::photo::{Grey, Photo, View};
use crate::plane::{Plane, ReferenceKind, Source, Window, rectify, rectify_averaged};

/// A photograph and its plane.
pub(super) struct OnPlane<'a> {
    plane: &'a Plane,
    channels: Vec<View<'a>>,
    size: (f64, f64),
}

/// How a hole is looked for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Aim {
    /// How far from the place its centre may be, mm.
    pub(super) search_mm: f64,
    /// How exactly the place was pointed at, one standard deviation on each axis, mm.
    pub(super) tap_sd_mm: f64,
    /// Diameter of the shaft, mm, where it is known.
    pub(super) shaft_mm: Option<f64>,
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
/// A face's paper reaches this far beyond its outermost zone.
const BEYOND_RINGS: f64 = 1.1;
/// A snap needs this much of the picture around the tap, mm.
const SNAP_ROOM_MM: f64 = 5.0;

impl Region {
    /// A pixel grid over the region; the step grows where it would be too large.
    pub(super) fn window(&self, mm_per_px: f64) -> Window {
        let (across, down) = (self.right_mm - self.left_mm, self.top_mm - self.bottom_mm);
        let step = mm_per_px.max(across.max(down) / MOST_SIDE_PX);
        let middle = PointMm::new(
            f64::midpoint(self.left_mm, self.right_mm),
            f64::midpoint(self.bottom_mm, self.top_mm),
        );
        Window::around(middle, across, down, step)
    }
}

impl<'a> OnPlane<'a> {
    pub(super) fn new(photo: &'a Photo, plane: &'a Plane) -> Self {
        let count = if photo.has_colour() { 3 } else { 1 };
        Self {
            plane,
            channels: (0..count).map(|c| photo.channel(c)).collect(),
            size: (photo.width() as f64 - 1.0, photo.height() as f64 - 1.0),
        }
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
    fn pixel_mm(&self, at: PointMm) -> f64 {
        1.0 / self.plane.px_per_mm(at).max(1e-6)
    }

    /// Where printed rings are centred, if there are any.
    pub(super) fn rings_centre(&self) -> Option<PointMm> {
        matches!(self.plane.reference, ReferenceKind::Rings { .. }).then(PointMm::default)
    }

    /// What is seen around a place that was pointed at.
    pub(super) fn sight_at(&self, at: PointMm, aim: Aim) -> Result<Sight, NotSnapped> {
        Ok(Sight::around(at, &self.options(at, aim)?, self))
    }

    /// The hole it was pointed at for, from what is seen there.
    pub(super) fn hole_in(&self, sight: &Sight, at: PointMm, aim: Aim) -> Result<Hole, NotSnapped> {
        sight.hole(&self.options(at, aim)?)
    }

    /// The hole near a place that nobody has pointed at.
    pub(super) fn hole_near(&self, at: PointMm, aim: Aim) -> Result<Hole, NotSnapped> {
        impact::find(at, self.options(at, aim)?, self)
    }

    /// The torn hole in black print near a place that nobody has pointed at.
    pub(super) fn torn_in_black(&self, at: PointMm, aim: Aim) -> Option<Hole> {
        impact::torn_in_black(at, &self.options(at, aim).ok()?, self)
    }

    /// The arrow that stands at a place, as far as it is seen.
    pub(super) fn standing_at(&self, at: PointMm) -> Option<Standing> {
        Standing::through(at, self, |place| self.shows(place, SNAP_ROOM_MM))
    }

    fn options(&self, at: PointMm, aim: Aim) -> Result<SnapOptions, NotSnapped> {
        if !self.shows(at, SNAP_ROOM_MM) {
            return Err(NotSnapped::PictureEdge);
        }
        Ok(SnapOptions {
            search_mm: aim.search_mm,
            tap_sd_mm: aim.tap_sd_mm,
            shaft_mm: aim.shaft_mm,
            step_mm: self.pixel_mm(at).clamp(0.1, 0.3),
            backdrop: self.rings_centre().map_or(Backdrop::Plain, Backdrop::Rings),
        })
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
            ReferenceKind::Rings { edge_mm, .. } => {
                (edge_mm * BEYOND_RINGS, edge_mm * BEYOND_RINGS)
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
        let window = region.window(mm_per_px);
        let straight = |channel| rectify_averaged(channel, self.plane, &window);
        let planes: Vec<Grey> = self.channels.iter().map(straight).collect();
        let mut rgb = vec![0; 3 * window.width * window.height];
        for (channel, values) in planes.iter().cycle().take(3).enumerate() {
            let places = rgb.iter_mut().skip(channel).step_by(3);
            places.zip(&values.data).for_each(|(to, from)| *to = *from);
        }
        Rectified {
            width: window.width,
            height: window.height,
            mm_per_px: window.mm_per_px,
            left_mm: window.top_left.x_mm,
            top_mm: window.top_left.y_mm,
            rgb,
        }
    }
}

impl Surface for OnPlane<'_> {
    /// The nearest edge pixel outside the picture.
    fn brightness(&self, at: PointMm) -> f32 {
        let p = self.clamped(at);
        let samples = self.channels.iter().map(|c| sample(c, p));
        samples.fold(0.0, f32::max)
    }

    fn patch(&self, centre: PointMm, half_mm: f64, step_mm: f64) -> Relief {
        let window = Window::around(centre, 2.0 * half_mm, 2.0 * half_mm, step_mm);
        let mut values = vec![0_i16; window.width * window.height];
        for channel in &self.channels {
            let seen = rectify(&Source::full(*channel), self.plane, &window);
            for (value, &grey) in values.iter_mut().zip(&seen.data) {
                *value = (*value).max(i16::from(grey));
            }
        }
        relief(&window, values)
            .unwrap_or_else(|| Relief::sample(centre, half_mm, step_mm, |at| self.brightness(at)))
    }

    fn colours(&self, centre: PointMm, half_mm: f64, step_mm: f64) -> Colours {
        let window = Window::around(centre, 2.0 * half_mm, 2.0 * half_mm, step_mm);
        let channel = |c: usize| {
            let view = self.channels.get(c).or(self.channels.first())?;
            let seen = rectify(&Source::full(*view), self.plane, &window);
            relief(
                &window,
                seen.data.iter().map(|&grey| i16::from(grey)).collect(),
            )
        };
        if let [Some(red), Some(green), Some(blue)] = [0, 1, 2].map(channel) {
            return Colours::new([red, green, blue]);
        }
        let grey = self.patch(centre, half_mm, step_mm);
        Colours::new([grey.clone(), grey.clone(), grey])
    }
}

fn relief(window: &Window, values: Vec<i16>) -> Option<Relief> {
    let (width, height) = (window.width, window.height);
    Relief::from_values(width, height, window.mm_per_px, window.top_left, values)
}

fn sample(view: &View<'_>, p: PointPx) -> f32 {
    view.sample(p.x_px, p.y_px).unwrap_or(0.0) as f32
}
