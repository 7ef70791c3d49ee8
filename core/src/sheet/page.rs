//! A page: what is written and ruled on it, and the drawings that lie on it.

use crate::scene::{Anchor, LabelText, Role, Scene, ScenePoint, Shape};

/// A page, mm, its origin at the top left and y down.
pub(super) struct Page {
    pub(super) width_mm: f64,
    pub(super) height_mm: f64,
    /// Lines of text and rules, in mm.
    pub(super) own: Scene,
    pub(super) drawings: Vec<Drawing>,
}

/// A drawing on a page.
pub(super) struct Drawing {
    pub(super) scene: Scene,
    pub(super) left_mm: f64,
    pub(super) top_mm: f64,
    pub(super) mm_per_unit: f64,
}

/// How a line of text looks.
#[derive(Debug, Clone, Copy)]
pub(super) struct Look {
    /// The em, mm.
    pub(super) size_mm: f64,
    pub(super) bold: bool,
    pub(super) role: Role,
}

impl Look {
    pub(super) const fn new(size_mm: f64, bold: bool, role: Role) -> Self {
        Self {
            size_mm,
            bold,
            role,
        }
    }

    /// From one line to the next, mm.
    pub(super) fn leading_mm(self) -> f64 {
        1.36 * self.size_mm
    }
}

impl Page {
    pub(super) fn new(width_mm: f64, height_mm: f64) -> Self {
        Self {
            width_mm,
            height_mm,
            own: Scene::sized(width_mm, height_mm),
            drawings: Vec::new(),
        }
    }

    /// Writes a line whose top is at `top_mm`.
    pub(super) fn write(
        &mut self,
        (x_mm, top_mm): (f64, f64),
        text: &str,
        look: Look,
        end: Anchor,
    ) {
        self.set((x_mm, top_mm + 1.05 * look.size_mm), text, look, end);
    }

    /// Writes a line that stands on `y_mm`.
    pub(super) fn set(&mut self, (x_mm, y_mm): (f64, f64), text: &str, look: Look, end: Anchor) {
        let shape = Shape::Label {
            at: ScenePoint::new(x_mm, y_mm),
            text: LabelText::Own {
                text: text.to_owned(),
            },
            height: look.size_mm,
            anchor: end,
            bold: look.bold,
        };
        self.own.fill(shape, look.role);
    }

    /// Fills a rectangle.
    pub(super) fn bar(&mut self, (left, top): (f64, f64), (width, height): (f64, f64), role: Role) {
        let shape = Shape::Rect {
            corner: ScenePoint::new(left, top),
            width,
            height,
            round: 0.0,
        };
        self.own.fill(shape, role);
    }
}

impl Drawing {
    /// The drawing as large as fits into a box, mm, in the middle of its width.
    pub(super) fn fitted(
        scene: &Scene,
        (left, top): (f64, f64),
        (width, height): (f64, f64),
    ) -> Self {
        let mm_per_unit = (width / scene.view_width).min(height / scene.view_height);
        Self {
            left_mm: left + (width - mm_per_unit * scene.view_width) / 2.0,
            top_mm: top,
            mm_per_unit,
            scene: scene.clone(),
        }
    }

    pub(super) fn height_mm(&self) -> f64 {
        self.mm_per_unit * self.scene.view_height
    }

    pub(super) fn width_mm(&self) -> f64 {
        self.mm_per_unit * self.scene.view_width
    }
}
