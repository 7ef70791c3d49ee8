//! What a photograph truly shows, to be written beside it.

use serde::Serialize;
use shimwright::frame::{ArrowKind, PointMm, PointPx};

use super::camera::Camera;
use super::scene::Scene;

/// One hole.
#[derive(Debug, Clone, Serialize)]
pub struct HoleTruth {
    /// Which arrow made it.
    pub kind: ArrowKind,
    /// Where the arrow's axis went through.
    pub mm: PointMm,
    /// The same in the upright picture.
    pub px: PointPx,
}

/// One tear.
#[derive(Debug, Clone, Serialize)]
pub struct TearTruth {
    /// Nock end minus point.
    pub vector_mm: PointMm,
    /// Where the point went through, in the picture.
    pub point_px: PointPx,
    /// Where the nock end went through, in the picture.
    pub nock_px: PointPx,
    /// Shaft diameter, mm.
    pub shaft_mm: f32,
}

/// The truth of one photograph.
#[derive(Debug, Clone, Serialize)]
pub struct Truth {
    /// Size of the upright picture, px.
    pub size_px: [usize; 2],
    /// Size of the reference, mm.
    pub sheet_mm: [f32; 2],
    /// Its corners: top left, top right, bottom right, bottom left.
    pub corners_px: [PointPx; 4],
    /// Middle of the reference in the picture.
    pub middle_px: PointPx,
    /// Radial lens term.
    pub k1: f64,
    /// 35 mm equivalent focal length, mm.
    pub f35_mm: f64,
    /// Plane (mm) to undistorted px.
    pub homography: [[f64; 3]; 3],
    /// Holes.
    pub holes: Vec<HoleTruth>,
    /// Tears.
    pub tears: Vec<TearTruth>,
}

impl Truth {
    /// The truth of `scene` seen by `camera`.
    pub fn of(scene: &Scene, camera: &Camera) -> Self {
        let (w, h) = (
            f64::from(scene.sheet.width_mm) / 2.0,
            f64::from(scene.sheet.height_mm) / 2.0,
        );
        let corner = |x: f64, y: f64| camera.to_px(PointMm::new(x, y));
        Self {
            size_px: [camera.width, camera.height],
            sheet_mm: [scene.sheet.width_mm, scene.sheet.height_mm],
            corners_px: [corner(-w, h), corner(w, h), corner(w, -h), corner(-w, -h)],
            middle_px: corner(0.0, 0.0),
            k1: camera.k1,
            f35_mm: camera.f35_mm,
            homography: camera.homography(),
            holes: scene
                .holes
                .iter()
                .map(|h| HoleTruth {
                    kind: h.kind,
                    mm: h.at,
                    px: camera.to_px(h.at),
                })
                .collect(),
            tears: scene
                .tears
                .iter()
                .map(|t| TearTruth {
                    vector_mm: t.vector(),
                    point_px: camera.to_px(t.point),
                    nock_px: camera.to_px(t.nock),
                    shaft_mm: t.shaft_mm,
                })
                .collect(),
        }
    }
}
