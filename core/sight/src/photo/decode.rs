//! Decoding into the planes a stage asks for.

use zune_jpeg::JpegDecoder;
use zune_jpeg::zune_core::bytestream::ZCursor;
use zune_jpeg::zune_core::colorspace::ColorSpace;
use zune_jpeg::zune_core::options::DecoderOptions;

use super::exposure::brighten;
use super::header::{self, Header};
use super::{CameraKey, ExifFacts, Grey, Orientation, PhotoError, Rgb, View, focal_px, half};

/// Which planes to decode.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Planes {
    /// Luma only: sheets, cards, marks, paper. One byte a pixel.
    Luma,
    /// All colours: ring faces. Three bytes a pixel; drop it early.
    Colour,
}

#[derive(Debug, Clone, PartialEq, Eq)]
enum Pixels {
    Luma(Grey),
    Colour(Rgb),
}

/// A decoded photograph: stored pixels, and how to see them upright.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Photo {
    /// What the camera wrote beside the picture.
    pub facts: ExifFacts,
    pixels: Pixels,
}

/// Decodes JPEG bytes.
///
/// # Errors
/// Any [`PhotoError`] but `Unusable`; nothing is allocated for a picture outside the caps of
/// [`header`].
///
/// # Example
/// ```
/// use shimwright_sight::photo::{decode, PhotoError, Planes};
/// assert_eq!(decode(b"GIF89a", Planes::Luma), Err(PhotoError::NotJpeg));
/// ```
pub fn decode(bytes: &[u8], planes: Planes) -> Result<Photo, PhotoError> {
    let header = header::read(bytes)?;
    let facts = header.exif.map(ExifFacts::parse).unwrap_or_default();
    let grey = planes == Planes::Luma || header.components == 1;
    let space = if grey {
        ColorSpace::Luma
    } else {
        ColorSpace::RGB
    };
    let data = decode_into(bytes, &header, space)?;
    let (width, height) = (header.width, header.height);
    let pixels = if grey {
        Pixels::Luma(Grey {
            width,
            height,
            data,
        })
    } else {
        Pixels::Colour(Rgb {
            width,
            height,
            data,
        })
    };
    Ok(Photo { facts, pixels })
}

fn decode_into(bytes: &[u8], header: &Header<'_>, to: ColorSpace) -> Result<Vec<u8>, PhotoError> {
    // Strict: a scan that breaks off is an error, never a picture padded with grey.
    let options = DecoderOptions::default()
        .set_max_width(usize::from(u16::MAX))
        .set_max_height(usize::from(u16::MAX))
        .set_strict_mode(true)
        .jpeg_set_out_colorspace(to);
    let mut decoder = JpegDecoder::new_with_options(ZCursor::new(bytes), options);
    let damaged = |e: &dyn std::fmt::Debug| PhotoError::Damaged {
        detail: format!("{e:?}"),
    };
    decoder.decode_headers().map_err(|e| damaged(&e))?;
    let expected = header.width * header.height * to.num_components();
    if decoder.output_buffer_size() != Some(expected) {
        return Err(damaged(&"two different sizes in one file"));
    }
    let mut data = vec![0; expected];
    decoder.decode_into(&mut data).map_err(|e| damaged(&e))?;
    Ok(data)
}

impl Photo {
    /// A photograph that is already pixels: for pictures that were never a JPEG.
    pub fn from_grey(grey: Grey, facts: ExifFacts) -> Self {
        Self {
            facts,
            pixels: Pixels::Luma(grey),
        }
    }

    /// A colour photograph that is already pixels.
    pub fn from_rgb(rgb: Rgb, facts: ExifFacts) -> Self {
        Self {
            facts,
            pixels: Pixels::Colour(rgb),
        }
    }

    /// The same photograph, as bright as one that was exposed well.
    #[must_use]
    pub fn brightened(mut self) -> Self {
        match &mut self.pixels {
            Pixels::Luma(g) => brighten(&mut g.data),
            Pixels::Colour(c) => brighten(&mut c.data),
        }
        self
    }

    /// The plane edges are looked for in: luma, or green where the photograph is in colour.
    pub fn grey(&self) -> View<'_> {
        self.channel(1)
    }

    /// One colour channel (0 red, 1 green, 2 blue), upright; the luma plane if there is no colour.
    pub fn channel(&self, channel: usize) -> View<'_> {
        let up = self.facts.orientation;
        match &self.pixels {
            Pixels::Luma(g) => View::new(&g.data, g.width, g.height, 1, 0, up),
            Pixels::Colour(c) => View::new(&c.data, c.width, c.height, 3, channel.min(2), up),
        }
    }

    /// Whether colour was decoded.
    pub fn has_colour(&self) -> bool {
        matches!(self.pixels, Pixels::Colour(_))
    }

    /// Upright width, px.
    pub fn width(&self) -> usize {
        self.grey().width()
    }

    /// Upright height, px.
    pub fn height(&self) -> usize {
        self.grey().height()
    }

    /// Half-size upright picture of the plane edges are looked for in; see [`half`].
    pub fn half(&self) -> Grey {
        half(&self.grey())
    }

    /// Half-size photograph in all its channels, with what it says of itself.
    ///
    /// Upright pixel (x, y) is centred at (2x + 0.5, 2y + 0.5) of the full one.
    #[must_use]
    pub fn halved(&self) -> Self {
        let upright = ExifFacts {
            orientation: Orientation::Upright,
            ..self.facts.clone()
        };
        match &self.pixels {
            Pixels::Luma(_) => Self::from_grey(self.half(), upright),
            Pixels::Colour(c) if c.has_even_sides() => Self::from_rgb(c.half(), self.facts.clone()),
            Pixels::Colour(_) => {
                let [red, green, blue] = [0, 1, 2].map(|c| half(&self.channel(c)));
                let pixels = red.data.iter().zip(&green.data).zip(&blue.data);
                let rgb = Rgb {
                    width: red.width,
                    height: red.height,
                    data: pixels.flat_map(|((r, g), b)| [*r, *g, *b]).collect(),
                };
                Self::from_rgb(rgb, upright)
            }
        }
    }

    /// Halved `times` times, once at least.
    pub(crate) fn shrunk(&self, times: u32) -> Self {
        (1..times).fold(self.halved(), |small, _| small.halved())
    }

    /// The brightest channel of every pixel: coloured rings turn light, holes stay dark.
    #[must_use]
    pub fn brightest(&self) -> Self {
        self.picked(|[r, g, b]| r.max(g).max(b))
    }

    /// The dimmest channel of every pixel: a coloured backstop behind white paper turns dark.
    #[must_use]
    pub fn dimmest(&self) -> Self {
        self.picked(|[r, g, b]| r.min(g).min(b))
    }

    fn picked(&self, pick: impl Fn([u8; 3]) -> u8) -> Self {
        match &self.pixels {
            Pixels::Luma(_) => self.clone(),
            Pixels::Colour(c) => Self::from_grey(c.picked(pick), self.facts.clone()),
        }
    }

    /// The camera and its setting, if the photograph names them and is the camera's whole picture.
    pub fn camera(&self) -> Option<CameraKey> {
        let facts = self.is_whole().then_some(&self.facts)?;
        CameraKey::of(facts, self.width(), self.height())
    }

    /// Focal length in px by the EXIF block; `None` without one, or where the picture was cropped.
    pub fn focal_px(&self) -> Option<f64> {
        let whole = self.facts.focal_35mm.filter(|_| self.is_whole());
        whole.map(|f| focal_px(f, self.width(), self.height()))
    }

    /// Whether all that the camera took is here: its shape is what the camera wrote, or, where
    /// nothing is written, that of a sensor.
    fn is_whole(&self) -> bool {
        is_whole(self.facts.size_px, self.width(), self.height())
    }
}

/// Shapes of sensors and of what phones take from them, longer over shorter side.
const SENSORS: [f64; 3] = [4.0 / 3.0, 3.0 / 2.0, 16.0 / 9.0];
/// Copies in another size round to whole pixels.
const SAME_SHAPE: f64 = 0.01;

fn is_whole(written: Option<(u32, u32)>, width: usize, height: usize) -> bool {
    let shape = |a: f64, b: f64| a.max(b) / a.min(b);
    let here = shape(width as f64, height as f64);
    let is = |there: f64| (here / there - 1.0).abs() < SAME_SHAPE;
    match written.filter(|(w, h)| *w > 0 && *h > 0) {
        Some((w, h)) => is(shape(f64::from(w), f64::from(h))),
        None => SENSORS.iter().any(|sensor| is(*sensor)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_cropped_picture_is_told_from_a_whole_or_scaled_one() {
        assert!(is_whole(Some((4032, 3024)), 3024, 4032));
        assert!(is_whole(Some((4032, 3024)), 1600, 1200));
        assert!(!is_whole(Some((4032, 3024)), 2400, 2000));
        assert!(is_whole(None, 4000, 3000) && is_whole(None, 1080, 1920));
        assert!(!is_whole(None, 2445, 2617) && !is_whole(Some((0, 0)), 1370, 1248));
    }
}
