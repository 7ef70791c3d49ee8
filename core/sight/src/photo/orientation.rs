//! How stored pixels are turned to stand upright.

use crate::frame::PointPx;

/// How the stored pixels must be turned to stand upright: the eight values of the EXIF tag 0x0112.
///
/// Each name says where the stored row 0 and column 0 appear in the upright picture.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Orientation {
    /// 1: row 0 at the top, column 0 at the left.
    #[default]
    Upright,
    /// 2: top, right.
    TopRight,
    /// 3: bottom, right.
    BottomRight,
    /// 4: bottom, left.
    BottomLeft,
    /// 5: row 0 at the left, column 0 at the top.
    LeftTop,
    /// 6: right, top: a phone held upright.
    RightTop,
    /// 7: right, bottom.
    RightBottom,
    /// 8: left, bottom.
    LeftBottom,
}

impl Orientation {
    /// From the EXIF number; anything outside 1..=8 counts as upright.
    pub fn from_exif(value: u32) -> Self {
        match value {
            2 => Self::TopRight,
            3 => Self::BottomRight,
            4 => Self::BottomLeft,
            5 => Self::LeftTop,
            6 => Self::RightTop,
            7 => Self::RightBottom,
            8 => Self::LeftBottom,
            _ => Self::Upright,
        }
    }

    /// Whether upright width is stored height.
    pub fn swaps_axes(self) -> bool {
        matches!(
            self,
            Self::LeftTop | Self::RightTop | Self::RightBottom | Self::LeftBottom
        )
    }

    /// (start corner right?, start corner bottom?) of upright pixel (0, 0) in the stored plane.
    pub(super) fn start(self) -> (bool, bool) {
        match self {
            Self::Upright | Self::LeftTop => (false, false),
            Self::TopRight | Self::LeftBottom => (true, false),
            Self::BottomRight | Self::RightBottom => (true, true),
            Self::BottomLeft | Self::RightTop => (false, true),
        }
    }

    /// Upright position of a position given in stored pixels of a plane `width` x `height`.
    pub fn to_upright(self, stored: PointPx, width: usize, height: usize) -> PointPx {
        let (right, bottom) = self.start();
        let u = flip(stored.x_px, width, right);
        let v = flip(stored.y_px, height, bottom);
        if self.swaps_axes() {
            PointPx::new(v, u)
        } else {
            PointPx::new(u, v)
        }
    }
}

fn flip(value: f64, length: usize, yes: bool) -> f64 {
    if yes {
        length as f64 - 1.0 - value
    } else {
        value
    }
}
