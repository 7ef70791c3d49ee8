//! A smaller copy of a photograph for the first look, and the way back.

use nalgebra::Matrix3;

use super::Homography;
use crate::frame::PointPx;
use crate::photo::{ExifFacts, Grey, Orientation, Photo, Rgb, shrink};

/// The photograph halved so often that it is no longer than wanted.
pub(crate) struct Small {
    copy: Option<Photo>,
    /// Pixels of the photograph to one of the copy.
    times: f64,
}

impl Small {
    pub(crate) fn of(photo: &Photo, longest_px: usize) -> Self {
        let mut halvings = 0;
        while photo.width().max(photo.height()) >> halvings > longest_px {
            halvings += 1;
        }
        Self {
            copy: (halvings > 0).then(|| halved(photo, halvings)),
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

fn halved(photo: &Photo, halvings: u32) -> Photo {
    let facts = ExifFacts {
        orientation: Orientation::Upright,
        ..ExifFacts::default()
    };
    if !photo.has_colour() {
        return Photo::from_grey(shrink(&photo.grey(), halvings), facts);
    }
    let planes: [Grey; 3] = [0, 1, 2].map(|c| shrink(&photo.channel(c), halvings));
    let [red, green, blue] = &planes;
    let pixels = red.data.iter().zip(&green.data).zip(&blue.data);
    let rgb = Rgb {
        width: red.width,
        height: red.height,
        data: pixels.flat_map(|((r, g), b)| [*r, *g, *b]).collect(),
    };
    Photo::from_rgb(rgb, facts)
}
