//! A face seen from the side, and how its rings are met by rays from the middle.

use std::ops::RangeInclusive;

use nalgebra::Matrix3;

use crate::frame::PointPx;
use crate::photo::View;
use crate::plane::profile::{Filter, light};
use crate::plane::{Homography, Lens};

/// Rays from the middle.
pub(crate) const RAYS: usize = 48;
/// Width of the edge filter, px.
pub(crate) const SIGMA_PX: f64 = 1.5;
/// An edge counts up to this many times the usual slope of its ray. Chosen by hand, looking at the
/// photographs of `tests/real-table`.
pub(crate) const CLEAR: f64 = 12.0;
/// Slopes below this are quantisation, levels of light per px: a scan's ray is nothing else. Chosen by
/// hand, looking at the photographs of `tests/real-table`.
pub(crate) const LEAST_SLOPE: f64 = 0.2;
/// Leans of the face that are tried, rad, each toward so many sides.
const LEANS_RAD: [f64; 4] = [0.12, 0.24, 0.36, 0.48];
const SIDES: usize = 12;

/// Nearer to edge-on than this no face is followed, rad. Chosen by hand; not tuned.
const MOST_LEAN_RAD: f64 = 1.0;

/// A face that leans: away from the camera toward one side.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Lean {
    /// By how much toward where in the picture, rad.
    toward_rad: (f64, f64),
    focal_px: f64,
    /// The angle's cosine, the side as a unit vector, and how much smaller things are per px that way.
    cos: f64,
    side: (f64, f64),
    per_px: f64,
}

/// What speaks against a scale.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Between {
    /// Edges midway between two rings: all that can be seen were entered.
    Bare,
    /// Edges anywhere: between two rings there may be one that was not entered.
    Any,
}

/// A scale, px per mm, around a middle.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Scale {
    pub(crate) middle: PointPx,
    pub(crate) lean: Lean,
    pub(crate) px_per_mm: f64,
    pub(crate) score: f64,
}

impl Lean {
    /// Leaning by so much toward a side.
    pub(crate) fn new(toward_rad: (f64, f64), focal_px: f64) -> Self {
        let angle = toward_rad.0.hypot(toward_rad.1);
        let unit = angle.max(f64::MIN_POSITIVE).recip();
        Self {
            toward_rad,
            focal_px,
            cos: angle.cos(),
            side: (toward_rad.0 * unit, toward_rad.1 * unit),
            per_px: angle.sin() / focal_px,
        }
    }

    /// Leaning so much farther; no farther than [`MOST_LEAN_RAD`].
    pub(crate) fn moved(&self, (x, y): (f64, f64)) -> Self {
        let (x, y) = (self.toward_rad.0 + x, self.toward_rad.1 + y);
        let share = (MOST_LEAN_RAD / x.hypot(y).max(f64::MIN_POSITIVE)).min(1.0);
        Self::new((share * x, share * y), self.focal_px)
    }

    /// Straight on, and every lean that is tried.
    pub(crate) fn all(focal_px: f64) -> Vec<Self> {
        let one = |angle: f64, side: usize| {
            let (sin, cos) = (std::f64::consts::TAU * side as f64 / SIDES as f64).sin_cos();
            Self::new((angle * cos, angle * sin), focal_px)
        };
        let leaning = LEANS_RAD
            .into_iter()
            .flat_map(|angle| (0..SIDES).map(move |side| one(angle, side)));
        std::iter::once(one(0.0, 0)).chain(leaning).collect()
    }

    /// What it does to a direction, a unit vector.
    ///
    /// With x what is seen straight on and u the side, the leaning face shows it at
    /// `(x - (1 - cos) (u x) u) / (1 + per_px (u x))`.
    pub(crate) fn along(&self, (dx, dy): (f64, f64)) -> Along {
        let along = dx * self.side.0 + dy * self.side.1;
        Along {
            stretch: (1.0 + along * along * (self.cos.powi(-2) - 1.0)).sqrt(),
            per_px: self.per_px * along / self.cos,
        }
    }
}

/// One direction of a leaning face.
pub(crate) struct Along {
    stretch: f64,
    per_px: f64,
}

impl Along {
    /// How far from the middle something is seen that would be seen `r` px from it straight on; beyond the
    /// horizon of a face nowhere.
    pub(crate) fn seen_px(&self, r: f64) -> Option<f64> {
        let nearer = self.stretch + self.per_px * r;
        (nearer > 0.0).then(|| r / nearer)
    }
}

impl Scale {
    /// The plane that shows it so.
    pub(crate) fn plane(&self, lens: &Lens) -> Option<Homography> {
        let (s, c) = (self.px_per_mm, lens.undistort(self.middle));
        let (cos, (x, y), per_px) = (self.lean.cos, self.lean.side, self.lean.per_px);
        let short = 1.0 - cos;
        let leaning = Matrix3::new(
            1.0 - short * x * x,
            -short * x * y,
            0.0,
            -short * x * y,
            1.0 - short * y * y,
            0.0,
            per_px * x,
            per_px * y,
            1.0,
        );
        let to_middle = Matrix3::new(1.0, 0.0, c.x_px, 0.0, 1.0, c.y_px, 0.0, 0.0, 1.0);
        let straight = Matrix3::new(s, 0.0, 0.0, 0.0, -s, 0.0, 0.0, 0.0, 1.0);
        Homography::from_matrix(to_middle * leaning * straight)
    }
}

/// The way ray `k` goes, a unit vector.
pub(crate) fn direction(k: usize) -> (f64, f64) {
    let (sin, cos) = (std::f64::consts::TAU * k as f64 / RAYS as f64).sin_cos();
    (cos, sin)
}

/// How steep the light is along a ray (from where, and which way) at these distances, px, as far as it
/// stays in the picture.
pub(crate) fn slopes(
    view: &View<'_>,
    filter: &Filter,
    (from, way): (PointPx, (f64, f64)),
    at: RangeInclusive<usize>,
) -> Vec<f64> {
    let reach = filter.support as isize;
    let at = *at.start() as isize - reach..=*at.end() as isize + reach;
    let levels = view.line(from, way, at);
    let samples: Vec<f64> = levels.into_iter().map(light).collect();
    filter.slopes(&samples).map(f64::abs).collect()
}
