//! The letters: where each glyph of a line stands, the same for both pens.

use std::io::Read;

use flate2::read::ZlibDecoder;
use once_cell::sync::OnceCell;
use ttf_parser::{Face, GlyphId, OutlineBuilder};

use super::SheetError;
use super::outline::Outline;
use crate::scene::{Anchor, LabelText, ScenePoint, Shape};

/// The font files, sfnt, as the build script packed them; unpacked when a sheet is first drawn.
static REGULAR: Packed = Packed::new(include_bytes!(concat!(env!("OUT_DIR"), "/regular.zlib")));
static BOLD: Packed = Packed::new(include_bytes!(concat!(env!("OUT_DIR"), "/bold.zlib")));

struct Packed {
    file: OnceCell<Vec<u8>>,
    zlib: &'static [u8],
}

impl Packed {
    const fn new(zlib: &'static [u8]) -> Self {
        let file = OnceCell::new();
        Self { file, zlib }
    }

    fn unpacked(&self) -> Result<&[u8], SheetError> {
        let file = self.file.get_or_try_init(|| {
            let mut file = Vec::new();
            let read = ZlibDecoder::new(self.zlib).read_to_end(&mut file);
            read.map(|_| file)
        });
        file.map(Vec::as_slice)
            .map_err(|error| SheetError::draw(&error))
    }
}

/// One letter of a line.
pub(super) struct Placed {
    pub(super) letter: char,
    pub(super) glyph: GlyphId,
    /// How far the next one stands, em.
    pub(super) advance: f64,
}

/// A label's line where it stands, in the units of its scene.
pub(super) struct Line {
    pub(super) letters: Vec<Placed>,
    pub(super) bold: bool,
    /// The em.
    pub(super) height: f64,
    /// Where its first letter stands on the baseline.
    pub(super) from: ScenePoint,
}

/// One cut of the font.
pub(super) struct Cut {
    pub(super) file: &'static [u8],
    pub(super) face: Face<'static>,
}

impl Cut {
    fn new(file: &'static [u8]) -> Result<Self, SheetError> {
        let face = Face::parse(file, 0).map_err(|error| SheetError::draw(&error))?;
        Ok(Self { file, face })
    }

    /// The glyph of a letter; the empty box where the font has none.
    pub(super) fn placed(&self, letter: char) -> Placed {
        let glyph = self.face.glyph_index(letter).unwrap_or_default();
        let advance = self.face.glyph_hor_advance(glyph).unwrap_or_default();
        Placed {
            letter,
            glyph,
            advance: f64::from(advance) / self.units_per_em(),
        }
    }

    pub(super) fn units_per_em(&self) -> f64 {
        f64::from(self.face.units_per_em())
    }
}

/// Both cuts of the font.
pub(super) struct Letters {
    regular: Cut,
    bold: Cut,
}

impl Letters {
    pub(super) fn new() -> Result<Self, SheetError> {
        Ok(Self {
            regular: Cut::new(REGULAR.unpacked()?)?,
            bold: Cut::new(BOLD.unpacked()?)?,
        })
    }

    pub(super) fn cut(&self, bold: bool) -> &Cut {
        if bold { &self.bold } else { &self.regular }
    }

    /// The glyphs of one line. Letters are not shaped: what Noto Sans has (Latin, Greek,
    /// Cyrillic) needs none to be read; what it lacks is drawn as an empty box.
    pub(super) fn line(&self, text: &str, bold: bool) -> Vec<Placed> {
        let cut = self.cut(bold);
        let letters = text.chars().filter(|letter| !letter.is_control());
        letters.map(|letter| cut.placed(letter)).collect()
    }

    /// How wide a line is, em.
    pub(super) fn width(&self, text: &str, bold: bool) -> f64 {
        width(&self.line(text, bold))
    }

    /// The line of a label in words of its own; `None` for every other shape.
    pub(super) fn label(&self, shape: &Shape) -> Option<Line> {
        let Shape::Label {
            at,
            text: LabelText::Own { text },
            height,
            anchor,
            bold,
        } = shape
        else {
            return None;
        };
        let letters = self.line(text, *bold);
        let left_of_anchor = match anchor {
            Anchor::Start => 0.0,
            Anchor::Middle => 0.5,
            Anchor::End => 1.0,
        };
        let from = ScenePoint::new(at.x - left_of_anchor * width(&letters) * height, at.y);
        Some(Line {
            letters,
            bold: *bold,
            height: *height,
            from,
        })
    }

    /// The outline of a glyph, em, y down, standing on the baseline at the origin; empty for what
    /// cannot be drawn.
    pub(super) fn outline(&self, glyph: GlyphId, bold: bool) -> Outline {
        let cut = self.cut(bold);
        let mut pen = EmPen {
            outline: Outline::default(),
            em: cut.units_per_em(),
        };
        let _ = cut.face.outline_glyph(glyph, &mut pen);
        pen.outline
    }
}

fn width(line: &[Placed]) -> f64 {
    line.iter().map(|placed| placed.advance).sum()
}

/// Turns a font's units, y up, into ems, y down.
struct EmPen {
    outline: Outline,
    em: f64,
}

impl EmPen {
    fn at(&self, x: f32, y: f32) -> (f64, f64) {
        (f64::from(x) / self.em, -f64::from(y) / self.em)
    }
}

impl OutlineBuilder for EmPen {
    fn move_to(&mut self, x: f32, y: f32) {
        let (x, y) = self.at(x, y);
        self.outline.move_to(x, y);
    }

    fn line_to(&mut self, x: f32, y: f32) {
        let (x, y) = self.at(x, y);
        self.outline.line_to(x, y);
    }

    fn quad_to(&mut self, by_x: f32, by_y: f32, x: f32, y: f32) {
        let (by, to) = (self.at(by_x, by_y), self.at(x, y));
        self.outline.quad_to(by, to);
    }

    fn curve_to(&mut self, ax: f32, ay: f32, bx: f32, by: f32, x: f32, y: f32) {
        let (a, b, to) = (self.at(ax, ay), self.at(bx, by), self.at(x, y));
        self.outline.cubic_to(a, b, to);
    }

    fn close(&mut self) {
        self.outline.close();
    }
}
