//! The frames and signs of the whole project, stated once.
//!
//! ```text
//!   photo (px)          face and paper (mm)         one axle (mm), as the archer sees it
//!   o---> x                    ^ y up               |limb| l |  cam  | r |limb|
//!   |                          |                    left        ^        right
//!   v y                        o---> x RIGHT                    c = (l - r) / 2, + = RIGHT
//! ```
//!
//! - Photo: origin at the top left of the *upright* picture, y down.
//! - Face and paper: as the archer sees the target from behind the bow.
//! - Cam: a thicker LEFT spacer moves the cam RIGHT.
//! - Split = centre(probe) - centre(reference); the probe is a bare shaft or a fixed-blade
//!   broadhead, the reference a fletched field point.
//! - Tear = where the nock end passed minus where the point passed; "nock left" is negative x.
//! - One launch fault shows as all of these at once: nock left tear, point turned right, bare
//!   shaft RIGHT, broadhead RIGHT. Absolute left and right are the same for right-handed and
//!   left-handed bows.
//!
//! Internally lengths are millimetres, distances metres, masses kilograms, angles radians and
//! times epoch milliseconds passed in by the caller; names end in their unit.

use serde::{Deserialize, Serialize};

/// A position or difference on the face or paper, mm, x right and y up as the archer sees it.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PointMm {
    /// To the archer's right, mm.
    pub x_mm: f64,
    /// Up, mm.
    pub y_mm: f64,
}

impl PointMm {
    /// The point `(x_mm, y_mm)`.
    pub const fn new(x_mm: f64, y_mm: f64) -> Self {
        Self { x_mm, y_mm }
    }

    /// Euclidean length, mm.
    pub fn norm_mm(self) -> f64 {
        self.x_mm.hypot(self.y_mm)
    }

    /// Left and right exchanged.
    #[must_use]
    pub fn mirrored(self) -> Self {
        Self::new(-self.x_mm, self.y_mm)
    }

    /// Whether both coordinates are finite numbers.
    pub fn is_finite(self) -> bool {
        self.x_mm.is_finite() && self.y_mm.is_finite()
    }
}

impl std::ops::Add for PointMm {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self::new(self.x_mm + other.x_mm, self.y_mm + other.y_mm)
    }
}

impl std::ops::Sub for PointMm {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self::new(self.x_mm - other.x_mm, self.y_mm - other.y_mm)
    }
}

/// A position in the upright photograph, px, origin top left, y down; pixel centres at integers.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PointPx {
    /// Rightwards, px.
    pub x_px: f64,
    /// Downwards, px.
    pub y_px: f64,
}

impl PointPx {
    /// The point `(x_px, y_px)`.
    pub const fn new(x_px: f64, y_px: f64) -> Self {
        Self { x_px, y_px }
    }

    /// Euclidean distance to another point, px.
    pub fn distance_px(self, other: Self) -> f64 {
        (self.x_px - other.x_px).hypot(self.y_px - other.y_px)
    }
}

/// Covariance of a position on the face, mm^2.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Cov2 {
    /// Variance sideways, mm^2.
    pub xx_mm2: f64,
    /// Covariance, mm^2.
    pub xy_mm2: f64,
    /// Variance up and down, mm^2.
    pub yy_mm2: f64,
}

impl Cov2 {
    /// The same standard deviation on both axes, uncorrelated.
    pub fn round(sd_mm: f64) -> Self {
        Self {
            xx_mm2: sd_mm * sd_mm,
            xy_mm2: 0.0,
            yy_mm2: sd_mm * sd_mm,
        }
    }

    /// Standard deviation sideways, mm.
    pub fn sd_x_mm(self) -> f64 {
        self.xx_mm2.max(0.0).sqrt()
    }

    /// Standard deviation up and down, mm.
    pub fn sd_y_mm(self) -> f64 {
        self.yy_mm2.max(0.0).sqrt()
    }

    /// Every entry multiplied by `factor`.
    #[must_use]
    pub fn scaled(self, factor: f64) -> Self {
        Self {
            xx_mm2: self.xx_mm2 * factor,
            xy_mm2: self.xy_mm2 * factor,
            yy_mm2: self.yy_mm2 * factor,
        }
    }
}

impl std::ops::Add for Cov2 {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self {
            xx_mm2: self.xx_mm2 + other.xx_mm2,
            xy_mm2: self.xy_mm2 + other.xy_mm2,
            yy_mm2: self.yy_mm2 + other.yy_mm2,
        }
    }
}

/// Left or right as the archer sees it from behind the bow.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Side {
    /// The archer's left (negative x).
    Left,
    /// The archer's right (positive x).
    Right,
}

impl Side {
    /// The other side.
    #[must_use]
    pub fn opposite(self) -> Self {
        match self {
            Self::Left => Self::Right,
            Self::Right => Self::Left,
        }
    }
}

/// What kind of arrow made an impact.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum ArrowKind {
    /// Fletched shaft with a field point: the reference every split is measured from.
    Fletched,
    /// The same shaft without vanes.
    Bare,
    /// Fletched shaft with a fixed-blade broadhead.
    Broadhead,
}

/// What can be asked to come together with the fletched field points.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Probe {
    /// Bare shafts on a face.
    Bare,
    /// Fixed-blade broadheads on a face.
    Broadhead,
    /// Tears in paper, shot with fletched arrows.
    Paper,
}

impl Probe {
    /// The arrow kind that is shot as this probe; paper is shot with fletched arrows.
    pub fn arrow(self) -> ArrowKind {
        match self {
            Self::Bare => ArrowKind::Bare,
            Self::Broadhead => ArrowKind::Broadhead,
            Self::Paper => ArrowKind::Fletched,
        }
    }

    /// The probe that arrows of a kind are on a face; fletched field points are the reference.
    pub fn of(kind: ArrowKind) -> Option<Self> {
        match kind {
            ArrowKind::Fletched => None,
            ArrowKind::Bare => Some(Self::Bare),
            ArrowKind::Broadhead => Some(Self::Broadhead),
        }
    }
}
