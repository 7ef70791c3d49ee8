//! The picture pen.

use tiny_skia_path::{LineCap, LineJoin, Path, PathBuilder, Stroke, StrokeDash, Transform};

use super::fill::{Frame, Pixels};
use super::letters::Letters;
use super::outline::{Outline, Stroked};
use super::page::{Drawing, Page};
use super::{SheetError, ink, png_file};
use crate::scene::{Scene, SceneItem, Shape};

/// The narrowest picture of a sheet, px: below it the letters cannot be read.
pub const NARROWEST_PX: u32 = 400;
/// The widest, px.
pub const WIDEST_PX: u32 = 2400;
/// The longest, px: a picture is held whole in memory, twice while it is packed.
const LONGEST_PX: f64 = 10_000.0;

/// Passes a width that a sheet can be drawn in.
pub(super) fn check_width(width_px: u32) -> Result<(), SheetError> {
    if (NARROWEST_PX..=WIDEST_PX).contains(&width_px) {
        return Ok(());
    }
    Err(SheetError::Width {
        width_px,
        low: NARROWEST_PX,
        high: WIDEST_PX,
    })
}

/// The one endless page as PNG.
pub(super) fn write(pages: &[Page], width_px: u32) -> Result<Vec<u8>, SheetError> {
    let page = pages.first().ok_or(SheetError::Long)?;
    let px_per_mm = f64::from(width_px) / page.width_mm;
    let height_px = (page.height_mm * px_per_mm).ceil();
    if height_px > LONGEST_PX {
        return Err(SheetError::Long);
    }
    let mut pen = Pen {
        pixels: Pixels::white(width_px, height_px as u32),
        letters: Letters::new()?,
    };
    let whole = pen.pixels.whole();
    pen.scene(&page.own, At::scaled(px_per_mm), whole);
    for drawing in &page.drawings {
        pen.placed(drawing, px_per_mm);
    }
    let Pixels { data, .. } = &pen.pixels;
    png_file::file(width_px, height_px as u32, data)
}

/// From scene units to pixels.
#[derive(Clone, Copy)]
struct At {
    scale: f64,
    dx: f64,
    dy: f64,
}

impl At {
    const fn scaled(scale: f64) -> Self {
        Self {
            scale,
            dx: 0.0,
            dy: 0.0,
        }
    }

    fn transform(self) -> Transform {
        let scale = self.scale as f32;
        Transform::from_row(scale, 0.0, 0.0, scale, self.dx as f32, self.dy as f32)
    }
}

struct Pen {
    pixels: Pixels,
    letters: Letters,
}

impl Pen {
    /// A drawing in its place, clipped to its view.
    fn placed(&mut self, drawing: &Drawing, px_per_mm: f64) {
        let scale = drawing.mm_per_unit * px_per_mm;
        let at = At {
            scale,
            dx: drawing.left_mm * px_per_mm - scale * drawing.scene.view_x,
            dy: drawing.top_mm * px_per_mm - scale * drawing.scene.view_y,
        };
        let (left, top) = (drawing.left_mm, drawing.top_mm);
        let ends = [
            left,
            top,
            left + drawing.width_mm(),
            top + drawing.height_mm(),
        ];
        self.scene(&drawing.scene, at, ends.map(|mm| (mm * px_per_mm) as f32));
    }

    fn scene(&mut self, scene: &Scene, at: At, frame: Frame) {
        for item in &scene.items {
            if let Shape::Label { .. } = item.shape {
                self.label(item, at, frame);
            } else if let Some(path) = path(&Outline::of(&item.shape)) {
                self.draw(&path, item, at, frame);
            }
        }
    }

    fn draw(&mut self, path: &Path, item: &SceneItem, at: At, frame: Frame) {
        if let Some(fill) = item.fill
            && let Some(path) = path.clone().transform(at.transform())
        {
            let opacity = fill.opacity.clamp(0.0, 1.0);
            self.pixels.fill(&path, (ink(fill.role), opacity), frame);
        }
        self.outline(path, item, at, frame);
    }

    fn outline(&mut self, path: &Path, item: &SceneItem, at: At, frame: Frame) {
        let Some(stroke) = item.stroke else { return };
        let width = stroke.width.max(1.0 / at.scale) as f32;
        let dash = [4.0 * width, 3.0 * width];
        let pen = Stroke {
            width,
            // Round ends would close the gaps of a dashed line.
            line_cap: if stroke.dashed {
                LineCap::Butt
            } else {
                LineCap::Round
            },
            line_join: LineJoin::Round,
            dash: StrokeDash::new(dash.into(), 0.0).filter(|_| stroke.dashed),
            ..Stroke::default()
        };
        if let Some(drawn) = stroked(path, &pen, at) {
            self.pixels.fill(&drawn, (ink(stroke.role), 1.0), frame);
        }
    }

    /// The letters of a label, over their halo.
    fn label(&mut self, item: &SceneItem, at: At, frame: Frame) {
        let Some(line) = self.letters.label(&item.shape) else {
            return;
        };
        let size = line.height as f32;
        let mut x = line.from.x;
        let mut glyphs = Vec::new();
        for placed in &line.letters {
            let outline = self.letters.outline(placed.glyph, line.bold);
            let here = Transform::from_row(size, 0.0, 0.0, size, x as f32, line.from.y as f32);
            glyphs.extend(path(&outline).and_then(|path| path.transform(here)));
            x += placed.advance * line.height;
        }
        for glyph in &glyphs {
            self.outline(glyph, item, at, frame);
        }
        let bare = SceneItem {
            stroke: None,
            ..item.clone()
        };
        for glyph in &glyphs {
            self.draw(glyph, &bare, at, frame);
        }
    }
}

/// What a pen leaves along a path, px.
fn stroked(path: &Path, pen: &Stroke, at: At) -> Option<Path> {
    let scale = at.scale as f32;
    let dashed = pen.dash.as_ref().map(|dash| path.dash(dash, scale));
    let path = dashed.unwrap_or_else(|| Some(path.clone()))?;
    path.stroke(pen, scale)?.transform(at.transform())
}

fn path(outline: &Outline) -> Option<Path> {
    let mut path = PathBuilder::new();
    for stroke in &outline.strokes {
        match *stroke {
            Stroked::Move(x, y) => path.move_to(x as f32, y as f32),
            Stroked::Line(x, y) => path.line_to(x as f32, y as f32),
            Stroked::Cubic(a, b, to) => path.cubic_to(
                a.0 as f32,
                a.1 as f32,
                b.0 as f32,
                b.1 as f32,
                to.0 as f32,
                to.1 as f32,
            ),
            Stroked::Close => path.close(),
        }
    }
    path.finish()
}
