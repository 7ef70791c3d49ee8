//! The letters: where each glyph of a line stands, the same for both pens.

use std::ops::Range;

use skrifa::instance::{LocationRef, Size};
use skrifa::metrics::GlyphMetrics;
use skrifa::outline::{DrawSettings, OutlinePen};
use skrifa::{FontRef, GlyphId, MetadataProvider};

use super::SheetError;
use super::outline::Outline;

/// The font files, sfnt.
pub(super) const REGULAR: &[u8] = notosans::REGULAR_TTF;
pub(super) const BOLD: &[u8] = notosans::BOLD_TTF;

/// One glyph of a line.
pub(super) struct Placed {
    pub(super) glyph: u32,
    /// How far the next one stands, em.
    pub(super) advance: f64,
    /// The bytes of the text it stands for.
    pub(super) bytes: Range<usize>,
}

/// Both cuts of the font.
pub(super) struct Letters {
    regular: FontRef<'static>,
    bold: FontRef<'static>,
}

impl Letters {
    pub(super) fn new() -> Result<Self, SheetError> {
        Ok(Self {
            regular: FontRef::new(REGULAR).map_err(|error| SheetError::draw(&error))?,
            bold: FontRef::new(BOLD).map_err(|error| SheetError::draw(&error))?,
        })
    }

    fn cut(&self, bold: bool) -> &FontRef<'static> {
        if bold { &self.bold } else { &self.regular }
    }

    /// The glyphs of one line. Letters are not shaped: what Noto Sans has (Latin, Greek,
    /// Cyrillic) needs none to be read; what it lacks is drawn as an empty box.
    pub(super) fn line(&self, text: &str, bold: bool) -> Vec<Placed> {
        let font = self.cut(bold);
        let charmap = font.charmap();
        let metrics = GlyphMetrics::new(font, Size::new(1.0), LocationRef::default());
        let glyphs = text.char_indices().filter(|(_, c)| !c.is_control());
        let placed = glyphs.map(|(at, c)| {
            let glyph = charmap.map(c).unwrap_or(GlyphId::NOTDEF);
            Placed {
                glyph: glyph.to_u32(),
                advance: f64::from(metrics.advance_width(glyph).unwrap_or(0.0)),
                bytes: at..at + c.len_utf8(),
            }
        });
        placed.collect()
    }

    /// How wide a line is, em.
    pub(super) fn width(&self, text: &str, bold: bool) -> f64 {
        let line = self.line(text, bold);
        line.iter().map(|placed| placed.advance).sum()
    }

    /// The outline of a glyph, em, y down, standing on the baseline at the origin.
    pub(super) fn outline(&self, glyph: u32, bold: bool) -> Outline {
        let mut pen = EmPen(Outline::default());
        if let Some(drawn) = self.cut(bold).outline_glyphs().get(GlyphId::new(glyph)) {
            let settings = DrawSettings::unhinted(Size::new(1.0), LocationRef::default());
            // A glyph that cannot be drawn leaves its place empty.
            let _ = drawn.draw(settings, &mut pen);
        }
        pen.0
    }
}

/// Turns a font's y up into a page's y down.
struct EmPen(Outline);

impl OutlinePen for EmPen {
    fn move_to(&mut self, x: f32, y: f32) {
        self.0.move_to(f64::from(x), -f64::from(y));
    }

    fn line_to(&mut self, x: f32, y: f32) {
        self.0.line_to(f64::from(x), -f64::from(y));
    }

    fn quad_to(&mut self, cx: f32, cy: f32, x: f32, y: f32) {
        let [cx, cy, x, y] = [cx, -cy, x, -y].map(f64::from);
        self.0.quad_to((cx, cy), (x, y));
    }

    fn curve_to(&mut self, ax: f32, ay: f32, bx: f32, by: f32, x: f32, y: f32) {
        let [ax, ay, bx, by, x, y] = [ax, -ay, bx, -by, x, -y].map(f64::from);
        self.0.cubic_to((ax, ay), (bx, by), (x, y));
    }

    fn close(&mut self) {
        self.0.close();
    }
}
