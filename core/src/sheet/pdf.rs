//! The PDF pen.

use krilla::color::rgb;
use krilla::configure::{Configuration, PdfVersion};
use krilla::geom::{PathBuilder, Point, Rect, Transform};
use krilla::metadata::Metadata;
use krilla::num::NormalizedF32;
use krilla::page::PageSettings;
use krilla::paint::{Fill, FillRule, LineCap, LineJoin, Stroke, StrokeDash};
use krilla::surface::Surface;
use krilla::text::{Font, GlyphId, KrillaGlyph};
use krilla::{Document, SerializeSettings};

use super::letters::{self, Letters};
use super::outline::{Outline, Stroked};
use super::page::{Drawing, Page};
use super::{SheetError, ink};
use crate::scene::{Anchor, LabelText, Role, Scene, SceneItem, Shape};

const POINTS_PER_MM: f64 = 72.0 / 25.4;
/// No line is thinner on paper, mm: finer ones vanish on an office printer.
const THINNEST_MM: f64 = 0.12;

/// What a reader shows about the document.
pub(super) struct Head {
    pub(super) title: String,
    /// IETF BCP 47.
    pub(super) language: String,
}

/// The pages as a PDF file.
pub(super) fn write(pages: &[Page], head: &Head) -> Result<Vec<u8>, SheetError> {
    let mut document = Document::new_with(SerializeSettings {
        configuration: Configuration::new_with_version(PdfVersion::Pdf17),
        ..SerializeSettings::default()
    });
    let mut described = Metadata::new()
        .title(head.title.clone())
        .creator("Shimwright".to_owned());
    if !head.language.is_empty() {
        described = described.language(head.language.clone());
    }
    document.set_metadata(described);
    let fonts = Fonts::new()?;
    for page in pages {
        let settings = PageSettings::from_wh(points(page.width_mm), points(page.height_mm));
        let settings = settings.ok_or_else(|| SheetError::draw(&"a page without size"))?;
        let mut sheet = document.start_page_with(settings);
        let mut surface = sheet.surface();
        on_page(&mut surface, page, &fonts);
        surface.finish();
        sheet.finish();
    }
    document
        .finish()
        .map_err(|error| SheetError::draw(&format!("{error:?}")))
}

struct Fonts {
    letters: Letters,
    regular: Font,
    bold: Font,
}

impl Fonts {
    fn new() -> Result<Self, SheetError> {
        let font = |bytes: &'static [u8]| {
            let font = Font::new(bytes.into(), 0);
            font.ok_or_else(|| SheetError::draw(&"the font cannot be read"))
        };
        Ok(Self {
            letters: Letters::new()?,
            regular: font(letters::REGULAR)?,
            bold: font(letters::BOLD)?,
        })
    }
}

fn points(mm: f64) -> f32 {
    (mm * POINTS_PER_MM) as f32
}

fn on_page(surface: &mut Surface, page: &Page, fonts: &Fonts) {
    let scale = POINTS_PER_MM as f32;
    surface.push_transform(&Transform::from_scale(scale, scale));
    scene(surface, &page.own, THINNEST_MM, fonts);
    for drawing in &page.drawings {
        placed(surface, drawing, fonts);
    }
    surface.pop();
}

/// A drawing in its place, clipped to its view.
fn placed(surface: &mut Surface, drawing: &Drawing, fonts: &Fonts) {
    let Drawing {
        scene: drawn,
        left_mm,
        top_mm,
        mm_per_unit,
    } = drawing;
    let view = Rect::from_xywh(
        drawn.view_x as f32,
        drawn.view_y as f32,
        drawn.view_width as f32,
        drawn.view_height as f32,
    );
    let Some(view) = view else { return };
    let mut frame = PathBuilder::new();
    frame.push_rect(view);
    let Some(frame) = frame.finish() else { return };
    let scale = *mm_per_unit as f32;
    surface.push_transform(&Transform::from_row(
        scale,
        0.0,
        0.0,
        scale,
        (left_mm - mm_per_unit * drawn.view_x) as f32,
        (top_mm - mm_per_unit * drawn.view_y) as f32,
    ));
    surface.push_clip_path(&frame, &FillRule::NonZero);
    scene(surface, drawn, THINNEST_MM / mm_per_unit, fonts);
    surface.pop();
    surface.pop();
}

fn scene(surface: &mut Surface, scene: &Scene, thinnest: f64, fonts: &Fonts) {
    for item in &scene.items {
        let (fill, stroke) = paint(item, thinnest);
        if let Shape::Label { .. } = item.shape {
            label(surface, item, (fill, stroke), fonts);
            continue;
        }
        let path = path(&Outline::of(&item.shape));
        if let Some(path) = path {
            surface.set_fill(fill);
            surface.set_stroke(stroke);
            surface.draw_path(&path);
        }
    }
}

fn colour(role: Role) -> rgb::Color {
    let ink = ink(role);
    rgb::Color::new(ink.red, ink.green, ink.blue)
}

fn paint(item: &SceneItem, thinnest: f64) -> (Option<Fill>, Option<Stroke>) {
    let fill = item.fill.map(|fill| Fill {
        paint: colour(fill.role).into(),
        opacity: NormalizedF32::new(fill.opacity as f32).unwrap_or(NormalizedF32::ONE),
        rule: FillRule::NonZero,
    });
    let stroke = item.stroke.map(|stroke| {
        let width = stroke.width.max(thinnest) as f32;
        let dash = stroke.dashed.then(|| StrokeDash {
            array: vec![4.0 * width, 3.0 * width],
            offset: 0.0,
        });
        Stroke {
            paint: colour(stroke.role).into(),
            width,
            // Round ends would close the gaps of a dashed line.
            line_cap: if stroke.dashed {
                LineCap::Butt
            } else {
                LineCap::Round
            },
            line_join: LineJoin::Round,
            dash,
            ..Stroke::default()
        }
    });
    (fill, stroke)
}

fn path(outline: &Outline) -> Option<krilla::geom::Path> {
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

fn label(
    surface: &mut Surface,
    item: &SceneItem,
    (fill, halo): (Option<Fill>, Option<Stroke>),
    fonts: &Fonts,
) {
    let Shape::Label {
        at,
        text: LabelText::Own { text },
        height,
        anchor,
        bold,
    } = &item.shape
    else {
        return;
    };
    let line = fonts.letters.line(text, *bold);
    let width: f64 = line.iter().map(|placed| placed.advance).sum();
    let left = at.x - start(*anchor) * width * height;
    let glyphs: Vec<KrillaGlyph> = line.into_iter().map(glyph).collect();
    let font = if *bold { &fonts.bold } else { &fonts.regular };
    let from = Point::from_xy(left as f32, at.y as f32);
    // The halo goes under the letters, so it is drawn first; as outlines, or the text would be
    // found twice.
    for (fill, stroke, outlined) in [(None, halo, true), (fill, None, false)] {
        if fill.is_none() && stroke.is_none() {
            continue;
        }
        surface.set_fill(fill);
        surface.set_stroke(stroke);
        surface.draw_glyphs(from, &glyphs, font.clone(), text, *height as f32, outlined);
    }
}

/// How much of a line's width lies left of its anchor.
pub(super) fn start(anchor: Anchor) -> f64 {
    match anchor {
        Anchor::Start => 0.0,
        Anchor::Middle => 0.5,
        Anchor::End => 1.0,
    }
}

fn glyph(placed: letters::Placed) -> KrillaGlyph {
    KrillaGlyph::new(
        GlyphId::new(placed.glyph),
        placed.advance as f32,
        0.0,
        0.0,
        0.0,
        placed.bytes,
        None,
    )
}
