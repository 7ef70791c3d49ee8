//! A photograph cut down to the sheet or face that was measured, seen straight on.

use super::{AlbumError, encoded};
use crate::frame::{PointMm, PointPx};
use crate::measure::{PhotoSession, Rectified, Reference};
use crate::record::{PhotoRef, TrialDraft};

/// Fine enough to see a hole's rim: a shaft of 5 mm is twelve pixels wide.
const MM_PER_PX: f64 = 0.4;

/// A crop, and the trial as it reads on it.
#[derive(Debug, Clone, PartialEq)]
pub struct Crop {
    /// The picture, JPEG without metadata.
    pub jpeg: Vec<u8>,
    /// The trial with its marks where they lie on the crop; places in mm are as they were.
    pub shot: TrialDraft,
}

/// Cuts the photograph of a trial down to what was measured. Its places in mm, and so every figure,
/// stay; its marks move onto the crop, which is measured again by two points of known distance.
///
/// # Errors
/// [`AlbumError`]: no reference that has a plane, not found again, or a mark beyond the crop. Then
/// the whole picture must be kept.
pub fn cropped(jpeg: &[u8], shot: &TrialDraft) -> Result<Crop, AlbumError> {
    let plane = shot.plane.as_ref().ok_or(AlbumError::NoPlane)?;
    let reference = plane.marked.as_ref().ok_or(AlbumError::NoPlane)?;
    if matches!(reference, Reference::Points { .. }) {
        return Err(AlbumError::NoPlane);
    }
    let mut session = PhotoSession::open(jpeg)?;
    session.fit(reference, Some(plane.k1), None)?;
    let straight = session.rectified(MM_PER_PX)?;
    let mut moved = shot.clone();
    let photo = session.plane().ok_or(AlbumError::NoPlane)?;
    let onto = |px: PointPx| {
        let mm = photo.to_mm(px);
        mm.and_then(|mm| on_crop(&straight, mm))
            .ok_or(AlbumError::MarkOutside)
    };
    let impacts = moved.impacts.iter_mut().map(|impact| &mut impact.px);
    let tears = moved.tears.iter_mut().map(|tear| &mut tear.px);
    for px in impacts.chain(tears).flatten() {
        *px = onto(*px)?;
    }
    moved
        .plane
        .iter_mut()
        .for_each(|plane| plane.marked = Some(measure(&straight)));
    moved.photo = Some(PhotoRef {
        file: String::new(),
        width_px: straight.width as u32,
        height_px: straight.height as u32,
    });
    Ok(Crop {
        jpeg: encoded(&straight.rgb, straight.width, straight.height)?,
        shot: moved,
    })
}

/// Where a place of the plane lies on the crop; `None` beyond it.
fn on_crop(crop: &Rectified, mm: PointMm) -> Option<PointPx> {
    let px = PointPx::new(
        (mm.x_mm - crop.left_mm) / crop.mm_per_px,
        (crop.top_mm - mm.y_mm) / crop.mm_per_px,
    );
    let inside = |at: f64, length: usize| (0.0..length as f64).contains(&at);
    (inside(px.x_px, crop.width) && inside(px.y_px, crop.height)).then_some(px)
}

/// The crop's own scale: from its left edge to its right.
fn measure(crop: &Rectified) -> Reference {
    let (right, middle) = (crop.width as f64 - 1.0, (crop.height as f64 - 1.0) / 2.0);
    Reference::Points {
        a_px: PointPx::new(0.0, middle),
        b_px: PointPx::new(right, middle),
        distance_mm: right * crop.mm_per_px,
    }
}
