//! A smaller copy of a photograph for the first look, and the way back.

use std::sync::OnceLock;

use nalgebra::Matrix3;

use super::blob;
use crate::frame::PointPx;
use crate::photo::Photo;
use crate::plane::Homography;
use crate::plane::mask::Mask;

/// The first look is taken at a picture no longer than this, px.
const LONGEST_PX: usize = 1700;

/// What is seen of one photograph at first, whichever face is looked for: each made when it is asked for, once.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct FirstLook {
    small: OnceLock<Small>,
    gold: OnceLock<Mask>,
}

impl FirstLook {
    /// The smaller copy.
    pub(crate) fn small(&self, photo: &Photo) -> &Small {
        self.small.get_or_init(|| Small::of(photo, LONGEST_PX))
    }

    /// What is gold in it.
    pub(crate) fn gold(&self, small: &Photo) -> &Mask {
        self.gold.get_or_init(|| blob::gold(small))
    }
}

/// The photograph halved so often that it is no longer than wanted.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Small {
    copy: Option<Photo>,
    /// Pixels of the photograph to one of the copy.
    times: f64,
}

impl Small {
    fn of(photo: &Photo, longest_px: usize) -> Self {
        let mut halvings = 0;
        while photo.width().max(photo.height()) >> halvings > longest_px {
            halvings += 1;
        }
        Self {
            copy: (halvings > 0).then(|| photo.shrunk(halvings)),
            times: f64::from(1_u32 << halvings),
        }
    }

    pub(crate) fn picture<'a>(&'a self, photo: &'a Photo) -> &'a Photo {
        self.copy.as_ref().unwrap_or(photo)
    }

    /// Whether the photograph is small enough as it is.
    pub(crate) fn is_full(&self) -> bool {
        self.copy.is_none()
    }

    pub(crate) fn to_small(&self, p: PointPx) -> PointPx {
        let at = |v: f64| (v - (self.times - 1.0) / 2.0) / self.times;
        PointPx::new(at(p.x_px), at(p.y_px))
    }

    /// A plane seen in the copy, in pixels of the photograph.
    pub(crate) fn homography_to_full(&self, h: &Homography) -> Option<Homography> {
        let (s, c) = (self.times, (self.times - 1.0) / 2.0);
        let back = Matrix3::new(s, 0.0, c, 0.0, s, c, 0.0, 0.0, 1.0);
        Homography::from_matrix(back * h.matrix())
    }
}
