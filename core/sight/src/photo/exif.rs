//! What the camera wrote beside the picture.

use ::exif::{Field, In, Reader, Tag, Value};

use super::Orientation;

/// The EXIF facts measuring needs; all are optional because many apps strip them.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct ExifFacts {
    /// Camera maker.
    pub make: Option<String>,
    /// Camera model.
    pub model: Option<String>,
    /// Focal length as on 35 mm film (36 x 24 mm), mm.
    pub focal_35mm: Option<u32>,
    /// How to turn the stored pixels upright.
    pub orientation: Orientation,
    /// Width and height of the picture as the camera wrote it, px: other than the file's where it was
    /// cropped since.
    pub size_px: Option<(u32, u32)>,
    /// Local time of the exposure as written, `YYYY:MM:DD HH:MM:SS`.
    pub taken_at: Option<String>,
}

/// Focal lengths that are believed, mm on 35 mm film: outside the widest and longest lenses it is a slip.
/// Chosen by hand; not tuned.
const FOCALS_35MM: std::ops::RangeInclusive<u32> = 5..=1000;
/// Longest text kept from a field, characters.
const MAX_TEXT: usize = 64;

impl ExifFacts {
    /// Reads the TIFF bytes of an EXIF block; damaged or missing fields are left out.
    pub fn parse(tiff: &[u8]) -> Self {
        let mut reader = Reader::new();
        reader.continue_on_error(true);
        let read = reader
            .read_raw(tiff.to_vec())
            .or_else(|e| e.distill_partial_result(|_| {}));
        let Ok(exif) = read else {
            return Self::default();
        };
        let field = |tag| exif.get_field(tag, In::PRIMARY);
        let number = |tag| field(tag).and_then(|f: &Field| f.value.get_uint(0));
        Self {
            make: field(Tag::Make).and_then(text),
            model: field(Tag::Model).and_then(text),
            focal_35mm: number(Tag::FocalLengthIn35mmFilm).filter(|f| FOCALS_35MM.contains(f)),
            orientation: Orientation::from_exif(number(Tag::Orientation).unwrap_or(1)),
            size_px: number(Tag::PixelXDimension).zip(number(Tag::PixelYDimension)),
            taken_at: field(Tag::DateTimeOriginal).and_then(text),
        }
    }
}

fn text(field: &Field) -> Option<String> {
    let Value::Ascii(parts) = &field.value else {
        return None;
    };
    let text: String = String::from_utf8_lossy(parts.first()?)
        .chars()
        .filter(|c| !c.is_control())
        .take(MAX_TEXT)
        .collect();
    let text = text.trim();
    (!text.is_empty()).then(|| text.to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;
    use ::exif::experimental::Writer;
    use std::io::Cursor;

    fn written(fields: &[(Tag, Value)]) -> Vec<u8> {
        let fields: Vec<Field> = fields
            .iter()
            .map(|(tag, value)| Field {
                tag: *tag,
                ifd_num: In::PRIMARY,
                value: value.clone(),
            })
            .collect();
        let mut writer = Writer::new();
        for f in &fields {
            writer.push_field(f);
        }
        let mut out = Cursor::new(Vec::new());
        writer.write(&mut out, false).unwrap();
        out.into_inner()
    }

    #[test]
    fn reads_what_a_camera_writes() {
        let tiff = written(&[
            (Tag::Make, Value::Ascii(vec![b"Bench\0".to_vec()])),
            (Tag::Model, Value::Ascii(vec![b" One ".to_vec()])),
            (Tag::Orientation, Value::Short(vec![6])),
            (Tag::FocalLengthIn35mmFilm, Value::Short(vec![26])),
            (Tag::PixelXDimension, Value::Long(vec![4000])),
            (Tag::PixelYDimension, Value::Long(vec![3000])),
            (
                Tag::DateTimeOriginal,
                Value::Ascii(vec![b"2026:05:01 10:11:12".to_vec()]),
            ),
        ]);
        let facts = ExifFacts::parse(&tiff);
        assert_eq!(facts.make.as_deref(), Some("Bench"));
        assert_eq!(facts.model.as_deref(), Some("One"));
        assert_eq!(facts.focal_35mm, Some(26));
        assert_eq!(facts.size_px, Some((4000, 3000)));
        assert_eq!(facts.orientation, Orientation::RightTop);
        assert_eq!(facts.taken_at.as_deref(), Some("2026:05:01 10:11:12"));
    }

    #[test]
    fn nonsense_is_no_facts() {
        assert_eq!(ExifFacts::parse(b"not a tiff"), ExifFacts::default());
        assert_eq!(ExifFacts::parse(&[]), ExifFacts::default());
        let zoomed = written(&[(Tag::FocalLengthIn35mmFilm, Value::Short(vec![0]))]);
        assert_eq!(ExifFacts::parse(&zoomed).focal_35mm, None);
    }
}
