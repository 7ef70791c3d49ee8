//! The SVG pen: a scene as an SVG document, and that document as PNG.

use crate::palette::colour;
use crate::words;
use shimwright::scene::{Anchor, Fill, Role, Scene, SceneItem, ScenePoint, Shape, Stroke};
use std::fmt::Write as _;
use std::sync::Arc;

/// A picture to put where a scene asks for its photograph.
pub(crate) struct Underlay<'a> {
    /// An encoded picture, JPEG or PNG.
    pub(crate) bytes: &'a [u8],
    /// Its media type.
    pub(crate) media_type: &'static str,
}

/// The scene as an SVG document `width_px` wide, on a card-coloured ground.
pub(crate) fn svg(scene: &Scene, width_px: f64, underlay: Option<&Underlay>) -> String {
    let height_px = width_px * scene.view_height / scene.view_width;
    let mut out = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width_px:.0}\" height=\"{height_px:.0}\" \
         viewBox=\"{} {} {} {}\" font-family=\"Noto Sans, sans-serif\" stroke-linecap=\"round\" \
         stroke-linejoin=\"round\">\n<rect x=\"{}\" y=\"{}\" width=\"100%\" height=\"100%\" \
         fill=\"{}\"/>\n",
        n(scene.view_x),
        n(scene.view_y),
        n(scene.view_width),
        n(scene.view_height),
        n(scene.view_x),
        n(scene.view_y),
        colour(Role::Card),
    );
    let pixel = scene.view_width / width_px;
    for item in &scene.items {
        draw(&mut out, item, pixel, underlay);
    }
    out.push_str("</svg>\n");
    out
}

/// Renders an SVG document as PNG with the embedded font, so that a machine without fonts draws
/// the same picture.
pub(crate) fn png(document: &str) -> Result<Vec<u8>, String> {
    let mut fonts = resvg::usvg::fontdb::Database::new();
    fonts.load_font_data(notosans::REGULAR_TTF.to_vec());
    fonts.load_font_data(notosans::BOLD_TTF.to_vec());
    let options = resvg::usvg::Options {
        fontdb: Arc::new(fonts),
        font_family: "Noto Sans".into(),
        ..Default::default()
    };
    let tree = resvg::usvg::Tree::from_str(document, &options)
        .map_err(|e| format!("the drawing is not a valid SVG document: {e}"))?;
    let size = tree.size().to_int_size();
    let mut pixels = resvg::tiny_skia::Pixmap::new(size.width(), size.height())
        .ok_or("the drawing has no size")?;
    resvg::render(
        &tree,
        resvg::tiny_skia::Transform::identity(),
        &mut pixels.as_mut(),
    );
    pixels
        .encode_png()
        .map_err(|e| format!("the drawing cannot be written as PNG: {e}"))
}

fn draw(out: &mut String, item: &SceneItem, pixel: f64, underlay: Option<&Underlay>) {
    let paint = paint(item, pixel);
    match &item.shape {
        Shape::Label { .. } => label(out, item, &paint),
        Shape::Photograph {
            corner,
            width,
            height,
        } => photograph(out, *corner, *width, *height, underlay),
        shape => {
            // Writing to a String cannot fail.
            let _ = writeln!(out, "<{}{paint}/>", element(shape));
        }
    }
}

/// Name and attributes of a plain shape.
fn element(shape: &Shape) -> String {
    match shape {
        Shape::Circle { centre, radius } => tag(
            "circle",
            &[("cx", centre.x), ("cy", centre.y), ("r", *radius)],
        ),
        Shape::Ellipse {
            centre,
            radius_x,
            radius_y,
            turn_rad,
        } => format!(
            "{} transform=\"translate({} {}) rotate({})\"",
            tag("ellipse", &[("rx", *radius_x), ("ry", *radius_y)]),
            n(centre.x),
            n(centre.y),
            n(turn_rad.to_degrees())
        ),
        Shape::Line { from, to } => tag(
            "line",
            &[("x1", from.x), ("y1", from.y), ("x2", to.x), ("y2", to.y)],
        ),
        Shape::Polyline { points: line } => format!("polyline points=\"{}\"", points(line)),
        Shape::Polygon { points: line } => format!("polygon points=\"{}\"", points(line)),
        Shape::Rect {
            corner,
            width,
            height,
            round,
        } => tag(
            "rect",
            &[
                ("x", corner.x),
                ("y", corner.y),
                ("width", *width),
                ("height", *height),
                ("rx", *round),
            ],
        ),
        // Drawn by functions of their own.
        Shape::Label { .. } | Shape::Photograph { .. } => "g".into(),
    }
}

fn tag(name: &str, numbers: &[(&str, f64)]) -> String {
    numbers
        .iter()
        .fold(name.to_owned(), |mut out, (key, value)| {
            let _ = write!(out, " {key}=\"{}\"", n(*value));
            out
        })
}

fn label(out: &mut String, item: &SceneItem, paint: &str) {
    let Shape::Label {
        at,
        text,
        height,
        anchor,
        bold,
    } = &item.shape
    else {
        return;
    };
    let anchor = match anchor {
        Anchor::Start => "start",
        Anchor::Middle => "middle",
        Anchor::End => "end",
    };
    let weight = if *bold { " font-weight=\"bold\"" } else { "" };
    let _ = writeln!(
        out,
        "<text x=\"{}\" y=\"{}\" font-size=\"{}\" text-anchor=\"{anchor}\"{weight} \
         paint-order=\"stroke\"{paint}>{}</text>",
        n(at.x),
        n(at.y),
        n(*height),
        escaped(&words::label(text))
    );
}

fn photograph(
    out: &mut String,
    corner: ScenePoint,
    width: f64,
    height: f64,
    underlay: Option<&Underlay>,
) {
    let Some(underlay) = underlay else { return };
    let _ = writeln!(
        out,
        "<image x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" preserveAspectRatio=\"none\" \
         href=\"data:{};base64,{}\"/>",
        n(corner.x),
        n(corner.y),
        n(width),
        n(height),
        underlay.media_type,
        base64(underlay.bytes)
    );
}

fn paint(item: &SceneItem, pixel: f64) -> String {
    let mut out = match item.fill {
        None => " fill=\"none\"".to_string(),
        Some(Fill { role, opacity }) if opacity >= 1.0 => format!(" fill=\"{}\"", colour(role)),
        Some(Fill { role, opacity }) => {
            format!(" fill=\"{}\" fill-opacity=\"{}\"", colour(role), n(opacity))
        }
    };
    if let Some(Stroke {
        role,
        width,
        dashed,
    }) = item.stroke
    {
        let width = width.max(pixel);
        let _ = write!(
            out,
            " stroke=\"{}\" stroke-width=\"{}\"",
            colour(role),
            n(width)
        );
        if dashed {
            // Flat ends, or the round ones would close the gaps.
            let _ = write!(
                out,
                " stroke-dasharray=\"{} {}\" stroke-linecap=\"butt\"",
                n(4.0 * width),
                n(3.0 * width)
            );
        }
    }
    out
}

fn points(line: &[ScenePoint]) -> String {
    let each: Vec<String> = line
        .iter()
        .map(|point| format!("{},{}", n(point.x), n(point.y)))
        .collect();
    each.join(" ")
}

/// A number as short as it can be said to a thousandth.
fn n(value: f64) -> String {
    let text = format!("{value:.3}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" {
        "0".into()
    } else {
        text.into()
    }
}

fn escaped(text: &str) -> String {
    text.replace('&', "&amp;")
        .replace('<', "&lt;")
        .replace('>', "&gt;")
}

/// RFC 4648 base64 with padding.
fn base64(bytes: &[u8]) -> String {
    const LETTERS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let mut out = String::with_capacity(bytes.len().div_ceil(3) * 4);
    for chunk in bytes.chunks(3) {
        let word = chunk
            .iter()
            .fold(0u32, |word, byte| (word << 8) | u32::from(*byte))
            << (8 * (3 - chunk.len()));
        for place in 0..4 {
            let letter = LETTERS[(word >> (18 - 6 * place) & 63) as usize];
            out.push(if place <= chunk.len() {
                char::from(letter)
            } else {
                '='
            });
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The test vectors of RFC 4648, section 10.
    #[test]
    fn base64_of_the_rfc() {
        let expected = [
            "", "Zg==", "Zm8=", "Zm9v", "Zm9vYg==", "Zm9vYmE=", "Zm9vYmFy",
        ];
        for (length, code) in expected.into_iter().enumerate() {
            assert_eq!(base64(&b"foobar"[..length]), code);
        }
    }

    #[test]
    fn numbers_are_short_and_never_minus_zero() {
        assert_eq!(n(-0.0001), "0");
        assert_eq!(n(2.50), "2.5");
        assert_eq!(n(100.0), "100");
    }
}
