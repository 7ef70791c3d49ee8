//! One drawing description for every picture, drawn by several pens.
//!
//! A [`Scene`] is a list of plain shapes, back to front. It holds no colour and no sentence: each
//! shape names a [`Role`], which the pen maps to its palette (light, dark, camp red), and each
//! label is a closed [`LabelText`], which the pen words in its language and units. The phone draws
//! it on its canvas, the demo as SVG and PNG; both show the same drawing.
//!
//! ```text
//!   (view_x, view_y) o-------> x   to the archer's RIGHT, always (never mirrored, whatever
//!                    |             the direction of the script)
//!                    v y           DOWN, as on every drawing surface; builders turn mm over
//! ```
//!
//! A pen clips to the view and fits the view into its space with ONE scale for x and y, and draws a stroke at least one
//! of its own pixels wide. Every length in a scene, line widths and letter heights included, is in
//! the scene's own unit.

mod axle;
mod bow;
mod compare;
mod face;
mod found;
mod ground;
mod history;
mod label;
mod mark;
mod shape;
mod tears;

pub use axle::{AxleView, BowView, axle_scene, seat_scene};
pub use bow::{bow_scene, bow_tile_scene, swap_scene};
pub use compare::{ComparedShot, compare_scene};
pub use face::{FaceView, GroupView, MarkView, PlaceView, face_scene};
pub use found::{PhotoWindow, found_scene};
pub use ground::FaceGround;
pub use history::{HistoryFitting, HistoryPoint, HistoryView, history_scene};
pub use label::{Anchor, LabelText, Word};
pub use shape::{Fill, Role, SceneItem, ScenePoint, Shape, Stroke};
pub use tears::{TearView, tears_scene};

/// A picture: a view box and what is drawn in it, back to front.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Scene {
    /// Left edge of the view, scene units.
    pub view_x: f64,
    /// Top edge of the view, scene units.
    pub view_y: f64,
    /// Width of the view, scene units, above 0.
    pub view_width: f64,
    /// Height of the view, scene units, above 0.
    pub view_height: f64,
    /// What is drawn, the first at the back.
    pub items: Vec<SceneItem>,
}

impl Scene {
    /// An empty picture of the given size with its origin at the top left.
    pub fn sized(width: f64, height: f64) -> Self {
        Self {
            view_width: width,
            view_height: height,
            ..Self::default()
        }
    }

    /// An empty picture whose view is `half` to every side of the origin.
    pub fn centred(half_width: f64, half_height: f64) -> Self {
        Self {
            view_x: -half_width,
            view_y: -half_height,
            view_width: 2.0 * half_width,
            view_height: 2.0 * half_height,
            items: Vec::new(),
        }
    }

    /// Adds a filled shape.
    pub fn fill(&mut self, shape: Shape, role: Role) {
        self.items.push(SceneItem::filled(shape, role, 1.0));
    }

    /// Adds a filled shape of the given opacity, 0 to 1.
    pub fn tint(&mut self, shape: Shape, role: Role, opacity: f64) {
        self.items.push(SceneItem::filled(shape, role, opacity));
    }

    /// Adds an outlined shape.
    pub fn stroke(&mut self, shape: Shape, role: Role, width: f64) {
        self.items
            .push(SceneItem::outlined(shape, role, width, false));
    }

    /// Adds a shape outlined in dashes.
    pub fn dash(&mut self, shape: Shape, role: Role, width: f64) {
        self.items
            .push(SceneItem::outlined(shape, role, width, true));
    }

    /// Adds a filled and outlined shape.
    pub fn body(&mut self, shape: Shape, fill: Role, outline: Role, width: f64) {
        let mut item = SceneItem::outlined(shape, outline, width, false);
        item.fill = Some(Fill {
            role: fill,
            opacity: 1.0,
        });
        self.items.push(item);
    }

    /// Adds a label whose letters are `height` high (the em), standing on the baseline `at`.
    pub fn label(
        &mut self,
        at: ScenePoint,
        text: LabelText,
        role: Role,
        height: f64,
        anchor: Anchor,
    ) {
        let shape = Shape::Label {
            at,
            text,
            height,
            anchor,
            bold: false,
        };
        self.fill(shape, role);
    }

    /// Draws another picture into this one, moved by `(dx, dy)` in scene units; its view is ignored.
    pub fn place(&mut self, other: Scene, dx: f64, dy: f64) {
        self.items
            .extend(other.items.into_iter().map(|item| SceneItem {
                shape: item.shape.moved(dx, dy),
                ..item
            }));
    }
}
