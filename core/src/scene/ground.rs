//! What the arrows were shot at, under everything else on a face picture.

use super::{Role, Scene, SceneItem, ScenePoint, Shape};
use crate::frame::PointMm;

/// What the arrows were shot at.
#[derive(Debug, Clone, PartialEq)]
pub enum FaceGround {
    /// Concentric rings around the origin; radii in any order.
    Rings {
        /// Ring radii, mm.
        radii_mm: Vec<f64>,
    },
    /// A sheet with its middle at the origin.
    Sheet {
        /// Side to side, mm.
        width_mm: f64,
        /// Top to bottom, mm.
        height_mm: f64,
    },
    /// The straight-on picture of what was shot at.
    Picture {
        /// Its left edge on the face, mm.
        left_mm: f64,
        /// Its top edge on the face, mm, up.
        top_mm: f64,
        /// Its width, mm.
        width_mm: f64,
        /// Its height, mm.
        height_mm: f64,
    },
    /// Nothing known: a plain ground with crossed middle lines.
    Blank,
}

/// A face point in the scene: y turned over.
pub(super) fn place(point: PointMm) -> ScenePoint {
    ScenePoint::new(point.x_mm, -point.y_mm)
}

/// Draws the ground; `unit` is a hundredth of the view.
pub(super) fn ground(scene: &mut Scene, ground: &FaceGround, unit: f64) {
    match ground {
        FaceGround::Rings { radii_mm } => rings(scene, radii_mm, unit),
        FaceGround::Sheet {
            width_mm,
            height_mm,
        } => scene.body(
            Shape::centred_rect(ScenePoint::default(), *width_mm, *height_mm, 0.0),
            Role::Paper,
            Role::Line,
            0.4 * unit,
        ),
        FaceGround::Picture {
            left_mm,
            top_mm,
            width_mm,
            height_mm,
        } => {
            picture(
                scene,
                PointMm::new(*left_mm, *top_mm),
                *width_mm,
                *height_mm,
            );
            return;
        }
        FaceGround::Blank => {}
    }
    middle_lines(scene, unit);
}

/// A veil over the picture keeps the marks on top of everything in it.
fn picture(scene: &mut Scene, top_left: PointMm, width: f64, height: f64) {
    let corner = place(top_left);
    scene.items.push(SceneItem {
        shape: Shape::Photograph {
            corner,
            width,
            height,
        },
        fill: None,
        stroke: None,
    });
    let veil = Shape::Rect {
        corner,
        width,
        height,
        round: 0.0,
    };
    scene.tint(veil, Role::Card, 0.45);
}

/// Bands from the outside in, darker to the middle; the line of every ring is kept.
fn rings(scene: &mut Scene, radii_mm: &[f64], unit: f64) {
    const BANDS: [Role; 4] = [
        Role::FaceOuter,
        Role::FaceMiddle,
        Role::FaceInner,
        Role::FaceCentre,
    ];
    let mut radii: Vec<f64> = radii_mm.iter().copied().filter(|r| *r > 0.0).collect();
    radii.sort_by(|a, b| b.total_cmp(a));
    let count = radii.len().max(1);
    for (index, radius) in radii.into_iter().enumerate() {
        let band = BANDS.get(index * BANDS.len() / count).copied();
        let shape = Shape::circle(ScenePoint::default(), radius);
        scene.body(
            shape,
            band.unwrap_or(Role::FaceCentre),
            Role::Line,
            0.3 * unit,
        );
    }
}

/// Thin lines through the middle of the face, so that left and right can be judged.
fn middle_lines(scene: &mut Scene, unit: f64) {
    let (left, top) = (scene.view_x, scene.view_y);
    let (right, bottom) = (left + scene.view_width, top + scene.view_width);
    for (from, to) in [
        (ScenePoint::new(left, 0.0), ScenePoint::new(right, 0.0)),
        (ScenePoint::new(0.0, top), ScenePoint::new(0.0, bottom)),
    ] {
        scene.stroke(Shape::line(from, to), Role::Line, 0.3 * unit);
    }
}
