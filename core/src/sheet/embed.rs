//! A font inside a PDF: the outlines of the letters that were used, how wide they are, and which
//! letters they stand for.

use std::collections::HashMap;
use std::io::Write;

use flate2::Compression;
use flate2::write::ZlibEncoder;
use pdf_writer::types::{CidFontType, FontFlags, SystemInfo, UnicodeCmap};
use pdf_writer::{Filter, Finish, Name, Pdf, Rect, Ref, Str};
use subsetter::GlyphRemapper;

use super::SheetError;
use super::letters::Cut;

const LETTERS: SystemInfo = SystemInfo {
    registry: Str(b"Adobe"),
    ordering: Str(b"Identity"),
    supplement: 0,
};

/// A PDF's stream, deflated.
pub(super) fn deflated(bytes: &[u8]) -> Result<Vec<u8>, SheetError> {
    let mut packed = ZlibEncoder::new(Vec::new(), Compression::default());
    let packed = packed.write_all(bytes).and_then(|()| packed.finish());
    packed.map_err(|error| SheetError::draw(&error))
}

/// The letters a document uses of one cut. Each has a number of its own, also where the font draws
/// several as the same empty box, so that whatever was written can be searched for and copied.
#[derive(Default)]
pub(super) struct Used {
    letters: Vec<char>,
    numbers: HashMap<char, u16>,
}

impl Used {
    /// A letter's number. What no number is left for is the box without a meaning, 0.
    pub(super) fn number(&mut self, letter: char) -> u16 {
        if let Some(number) = self.numbers.get(&letter) {
            return *number;
        }
        let Ok(number) = u16::try_from(self.letters.len() + 1) else {
            return 0;
        };
        self.letters.push(letter);
        self.numbers.insert(letter, number);
        number
    }

    /// Whether the document uses any.
    pub(super) fn any(&self) -> bool {
        !self.letters.is_empty()
    }

    /// Writes the font as object `font`.
    pub(super) fn embed(
        &self,
        (cut, name): (&Cut, &str),
        pdf: &mut Pdf,
        font: Ref,
        next: &mut Ref,
    ) -> Result<(), SheetError> {
        let [file, descriptor, cid, glyphs, meaning] = [(); 5].map(|()| next.bump());
        let name = [&self.tag(), "+", name].concat();
        let name = Name(name.as_bytes());
        pdf.type0_font(font)
            .base_font(name)
            .encoding_predefined(Name(b"Identity-H"))
            .descendant_font(cid)
            .to_unicode(meaning);
        let mut described = pdf.cid_font(cid);
        described
            .subtype(CidFontType::Type2)
            .base_font(name)
            .system_info(LETTERS)
            .font_descriptor(descriptor)
            .default_width(0.0)
            .cid_to_gid_map_stream(glyphs);
        described.widths().consecutive(0, self.widths(cut));
        described.finish();
        describe(cut, name, pdf, (descriptor, file));
        let (outlines, map) = self.outlines(cut)?;
        let packed = deflated(&outlines)?;
        let mut stream = pdf.stream(file, &packed);
        stream.filter(Filter::FlateDecode);
        stream.pair(Name(b"Length1"), outlines.len() as i32);
        stream.finish();
        let packed = deflated(&map)?;
        pdf.stream(glyphs, &packed).filter(Filter::FlateDecode);
        let packed = deflated(&self.meanings())?;
        pdf.cmap(meaning, &packed).filter(Filter::FlateDecode);
        Ok(())
    }

    /// Six capitals that tell this choice of letters from another (PDF 32000-1, 9.6.4).
    fn tag(&self) -> String {
        let mix = |sum: u64, letter: &char| {
            (sum ^ u64::from(*letter)).wrapping_mul(0x0100_0000_01b3) // FNV-1a's prime
        };
        let mut sum = self.letters.iter().fold(0xcbf2_9ce4_8422_2325, mix);
        let capital = |_| {
            let letter = b'A' + (sum % 26) as u8;
            sum /= 26;
            char::from(letter)
        };
        (0..6).map(capital).collect()
    }

    /// How wide each number is, 1/1000 em.
    fn widths(&self, cut: &Cut) -> Vec<f32> {
        let boxed = cut.placed('\u{ffff}'); // not a letter, so in no font
        let letters = self.letters.iter().map(|letter| cut.placed(*letter));
        let placed = std::iter::once(boxed).chain(letters);
        placed
            .map(|placed| (1000.0 * placed.advance) as f32)
            .collect()
    }

    /// The font with the used outlines only, and which of them each number is (two bytes each).
    fn outlines(&self, cut: &Cut) -> Result<(Vec<u8>, Vec<u8>), SheetError> {
        let mut kept = GlyphRemapper::new();
        let mut map = vec![0, 0];
        for letter in &self.letters {
            let glyph = kept.remap(cut.placed(*letter).glyph.0);
            map.extend(glyph.to_be_bytes());
        }
        let font = subsetter::subset(cut.file, 0, &kept);
        Ok((font.map_err(|error| SheetError::draw(&error))?, map))
    }

    /// Which letter each number stands for.
    fn meanings(&self) -> Vec<u8> {
        let mut map = UnicodeCmap::new(Name(b"Letters"), LETTERS);
        for (number, letter) in (1_u16..).zip(&self.letters) {
            map.pair(number, *letter);
        }
        map.finish().into_vec()
    }
}

/// What a reader asks of a font before it looks inside.
fn describe(cut: &Cut, name: Name, pdf: &mut Pdf, (descriptor, file): (Ref, Ref)) {
    let face = &cut.face;
    let per_mille = |units: i16| (1000.0 * f64::from(units) / cut.units_per_em()) as f32;
    let bounds = face.global_bounding_box();
    let [left, bottom, right, top] =
        [bounds.x_min, bounds.y_min, bounds.x_max, bounds.y_max].map(per_mille);
    pdf.font_descriptor(descriptor)
        .name(name)
        .flags(FontFlags::SYMBOLIC) // its numbers are its own
        .bbox(Rect::new(left, bottom, right, top))
        .italic_angle(0.0)
        .ascent(per_mille(face.ascender()))
        .descent(per_mille(face.descender()))
        .cap_height(per_mille(face.capital_height().unwrap_or(face.ascender())))
        // Readers guess with it where a font is missing; this one is there. A usual guess from the weight.
        .stem_v(10.0 + 0.244 * (f32::from(face.weight().to_number()) - 50.0))
        .font_file2(file);
}
