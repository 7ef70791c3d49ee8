//! The PDF pen.

use std::collections::BTreeSet;

use pdf_writer::types::{LineCapStyle, LineJoinStyle};
use pdf_writer::writers::Resources;
use pdf_writer::{Content, Filter, Finish, Name, Pdf, Rect, Ref, Str, TextStr};

use super::embed::{Used, deflated};
use super::letters::{Letters, Line};
use super::outline::{Outline, Stroked};
use super::page::{Drawing, Page};
use super::{Ink, SheetError, ink};
use crate::scene::{Fill, Scene, SceneItem, Shape, Stroke};

const POINTS_PER_MM: f64 = 72.0 / 25.4;
/// No line is thinner on paper, mm: finer ones vanish on an office printer.
const THINNEST_MM: f64 = 0.12;

/// What a reader shows about the document.
pub(super) struct Head {
    pub(super) title: String,
    /// IETF BCP 47.
    pub(super) language: String,
    /// Printed in black alone, whose edges no raster frays, and at its true size.
    pub(super) to_measure: bool,
}

/// The pages as a PDF file.
pub(super) fn write(pages: &[Page], head: &Head) -> Result<Vec<u8>, SheetError> {
    let mut next = Ref::new(1);
    let [catalog, described, tree, resources] = [(); 4].map(|()| next.bump());
    let mut pdf = Pdf::new();
    let mut pen = Pen {
        letters: Letters::new()?,
        used: [Used::default(), Used::default()],
        opacities: BTreeSet::new(),
        black: head.to_measure,
        content: Content::new(),
    };
    let mut kids = Vec::new();
    for page in pages {
        let [kid, content] = [(); 2].map(|()| next.bump());
        let drawn = deflated(&pen.page(page))?;
        pdf.stream(content, &drawn).filter(Filter::FlateDecode);
        let [width, height] = [page.width_mm, page.height_mm].map(points);
        pdf.page(kid)
            .parent(tree)
            .media_box(Rect::new(0.0, 0.0, width, height))
            .contents(content)
            .pair(Name(b"Resources"), resources);
        kids.push(kid);
    }
    pen.embed(&mut pdf, resources, &mut next)?;
    pdf.pages(tree).count(kids.len() as i32).kids(kids);
    pdf.document_info(described)
        .title(TextStr(&head.title))
        .creator(TextStr("Shimwright"));
    let mut root = pdf.catalog(catalog);
    root.pages(tree);
    let mut wishes = root.viewer_preferences();
    wishes.display_doc_title(true);
    if head.to_measure {
        wishes.pair(Name(b"PrintScaling"), Name(b"None"));
    }
    wishes.finish();
    if !head.language.is_empty() {
        root.lang(TextStr(&head.language));
    }
    root.finish();
    Ok(pdf.finish())
}

fn points(mm: f64) -> f32 {
    (mm * POINTS_PER_MM) as f32
}

/// Names of a cut and of an opacity (of 255) among a page's resources.
const FONTS: [&[u8]; 2] = [b"Regular", b"Bold"];
const FONT_FILES: [&str; 2] = ["NotoSans-Regular", "NotoSans-Bold"];

fn opacity_name(of_255: u8) -> String {
    format!("Opacity{of_255}")
}

struct Pen {
    letters: Letters,
    /// What was used of the regular and of the bold cut.
    used: [Used; 2],
    opacities: BTreeSet<u8>,
    /// Fills are black, whatever their roles.
    black: bool,
    content: Content,
}

impl Pen {
    /// What all pages share: the fonts that were used, and the opacities.
    fn embed(&self, pdf: &mut Pdf, shared: Ref, next: &mut Ref) -> Result<(), SheetError> {
        let used = [0, 1].into_iter().filter(|index| self.used[*index].any());
        let fonts: Vec<(usize, Ref)> = used.map(|index| (index, next.bump())).collect();
        let mut resources = pdf.indirect(shared).start::<Resources>();
        let named = fonts
            .iter()
            .map(|(index, font)| (Name(FONTS[*index]), *font));
        resources.fonts().pairs(named);
        let mut states = resources.ext_g_states();
        for of_255 in &self.opacities {
            let name = opacity_name(*of_255);
            let mut state = states.insert(Name(name.as_bytes())).dict();
            state.pair(Name(b"ca"), f32::from(*of_255) / 255.0);
        }
        states.finish();
        resources.finish();
        for (index, font) in fonts {
            let cut = (self.letters.cut(index == 1), FONT_FILES[index]);
            self.used[index].embed(cut, pdf, font, next)?;
        }
        Ok(())
    }

    /// A page's content: its own lines, then its drawings.
    fn page(&mut self, page: &Page) -> Vec<u8> {
        self.content = Content::new();
        let scale = POINTS_PER_MM as f32;
        // A PDF's y goes up.
        let top = points(page.height_mm);
        self.content.transform([scale, 0.0, 0.0, -scale, 0.0, top]);
        self.scene(&page.own, THINNEST_MM);
        for drawing in &page.drawings {
            self.placed(drawing);
        }
        std::mem::replace(&mut self.content, Content::new())
            .finish()
            .into_vec()
    }

    /// A drawing in its place, clipped to its view.
    fn placed(&mut self, drawing: &Drawing) {
        let Drawing {
            scene: drawn,
            left_mm,
            top_mm,
            mm_per_unit,
        } = drawing;
        let view = [
            drawn.view_x,
            drawn.view_y,
            drawn.view_width,
            drawn.view_height,
        ];
        let [x, y, width, height] = view.map(|side| side as f32);
        let scale = *mm_per_unit as f32;
        self.content.save_state().transform([
            scale,
            0.0,
            0.0,
            scale,
            (left_mm - mm_per_unit * drawn.view_x) as f32,
            (top_mm - mm_per_unit * drawn.view_y) as f32,
        ]);
        let frame = self.content.rect(x, y, width, height);
        frame.clip_nonzero().end_path();
        self.scene(drawn, THINNEST_MM / mm_per_unit);
        self.content.restore_state();
    }

    fn scene(&mut self, scene: &Scene, thinnest: f64) {
        for item in &scene.items {
            if let Shape::Label { .. } = item.shape {
                self.label(item, thinnest);
                continue;
            }
            let outline = Outline::of(&item.shape);
            if outline.strokes.is_empty() {
                continue;
            }
            if let Some(fill) = item.fill {
                self.fill_with(fill);
            }
            if let Some(stroke) = item.stroke {
                self.stroke_with(stroke, thinnest);
            }
            self.path(&outline, (0.0, 0.0), 1.0);
            match (item.fill, item.stroke) {
                (Some(_), Some(_)) => self.content.fill_nonzero_and_stroke(),
                (Some(_), None) => self.content.fill_nonzero(),
                (None, Some(_)) => self.content.stroke(),
                (None, None) => self.content.end_path(),
            };
        }
    }

    fn fill_with(&mut self, fill: Fill) {
        let of_255 = (fill.opacity.clamp(0.0, 1.0) * 255.0).round() as u8;
        self.opacities.insert(of_255);
        let [red, green, blue] = parts(ink(fill.role));
        let name = opacity_name(of_255);
        let content = self.content.set_parameters(Name(name.as_bytes()));
        if self.black {
            content.set_fill_gray(0.0);
        } else {
            content.set_fill_rgb(red, green, blue);
        }
    }

    fn stroke_with(&mut self, stroke: Stroke, thinnest: f64) {
        let width = stroke.width.max(thinnest) as f32;
        let [red, green, blue] = parts(ink(stroke.role));
        let content = self.content.set_stroke_rgb(red, green, blue);
        content.set_line_width(width);
        content.set_line_join(LineJoinStyle::RoundJoin);
        if stroke.dashed {
            // Round ends would close the gaps of a dashed line.
            content.set_line_cap(LineCapStyle::ButtCap);
            content.set_dash_pattern([4.0 * width, 3.0 * width], 0.0);
        } else {
            content.set_line_cap(LineCapStyle::RoundCap);
            content.set_dash_pattern([], 0.0);
        }
    }

    /// An outline, so many times as large, its origin at a place.
    fn path(&mut self, outline: &Outline, from: (f64, f64), scale: f64) {
        let at = |(x, y): (f64, f64)| [(from.0 + scale * x) as f32, (from.1 + scale * y) as f32];
        for stroke in &outline.strokes {
            match *stroke {
                Stroked::Move(x, y) => {
                    let [x, y] = at((x, y));
                    self.content.move_to(x, y)
                }
                Stroked::Line(x, y) => {
                    let [x, y] = at((x, y));
                    self.content.line_to(x, y)
                }
                Stroked::Cubic(a, b, to) => {
                    let [[ax, ay], [bx, by], [x, y]] = [a, b, to].map(at);
                    self.content.cubic_to(ax, ay, bx, by, x, y)
                }
                Stroked::Close => self.content.close_path(),
            };
        }
    }

    fn label(&mut self, item: &SceneItem, thinnest: f64) {
        let Some(line) = self.letters.label(&item.shape) else {
            return;
        };
        // The halo goes under the letters, so it is drawn first; as outlines, or the text would be
        // found twice.
        if let Some(halo) = item.stroke {
            self.stroke_with(halo, thinnest);
            self.halo(&line);
        }
        if let Some(fill) = item.fill {
            self.fill_with(fill);
            self.write(&line);
        }
    }

    fn halo(&mut self, line: &Line) {
        let mut x = line.from.x;
        for placed in &line.letters {
            let outline = self.letters.outline(placed.glyph, line.bold);
            self.path(&outline, (x, line.from.y), line.height);
            x += placed.advance * line.height;
        }
        self.content.stroke();
    }

    fn write(&mut self, line: &Line) {
        let index = usize::from(line.bold);
        let used = &mut self.used[index];
        let letters = line.letters.iter();
        let numbers = letters.flat_map(|placed| used.number(placed.letter).to_be_bytes());
        let numbers: Vec<u8> = numbers.collect();
        let [x, y] = [line.from.x, line.from.y].map(|place| place as f32);
        self.content
            .begin_text()
            .set_font(Name(FONTS[index]), line.height as f32)
            // The page's y goes down, letters stand up.
            .set_text_matrix([1.0, 0.0, 0.0, -1.0, x, y])
            .show(Str(&numbers))
            .end_text();
    }
}

fn parts(ink: Ink) -> [f32; 3] {
    [ink.red, ink.green, ink.blue].map(|part| f32::from(part) / 255.0)
}
