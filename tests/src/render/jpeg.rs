//! Writing photographs as JPEG with the EXIF a phone writes.

use jpeg_encoder::{ChromaSubsamplingMethod, ColorType, Encoder, EncodingError, SamplingFactor};

use super::optics::Photo;

/// What the camera says about itself and the picture.
#[derive(Debug, Clone)]
pub struct Exif {
    /// TIFF orientation, 1 to 8: how the stored pixels are turned to stand upright.
    pub orientation: u8,
    /// Maker.
    pub make: String,
    /// Model.
    pub model: String,
    /// 35 mm equivalent focal length, mm; none is written when absent.
    pub f35_mm: Option<u16>,
}

impl Exif {
    /// An upright picture of an invented phone.
    pub fn upright(f35_mm: f64) -> Self {
        Self {
            orientation: 1,
            make: "Testmaker".into(),
            model: "T-1".into(),
            f35_mm: Some(f35_mm.round() as u16),
        }
    }

    /// The TIFF block (little endian; TIFF 6.0 and Exif 2.3 tag numbers).
    fn tiff(&self) -> Vec<u8> {
        let mut block = Tiff::default();
        block.ascii(0x010F, &self.make);
        block.ascii(0x0110, &self.model);
        block.short(0x0112, u16::from(self.orientation));
        let mut exif = Tiff::default();
        if let Some(f) = self.f35_mm {
            exif.short(0xA405, f);
        }
        block.pointer(0x8769, &exif)
    }
}

/// One image file directory being built.
#[derive(Default)]
struct Tiff {
    entries: Vec<(u16, u16, u32, Vec<u8>)>,
}

impl Tiff {
    const HEADER: usize = 8;

    fn ascii(&mut self, tag: u16, text: &str) {
        let bytes: Vec<u8> = text.bytes().chain([0]).collect();
        self.entries.push((tag, 2, bytes.len() as u32, bytes));
    }

    fn short(&mut self, tag: u16, value: u16) {
        self.entries.push((tag, 3, 1, value.to_le_bytes().to_vec()));
    }

    fn directory_length(&self) -> usize {
        2 + 12 * self.entries.len() + 4
    }

    /// The whole block, with `child` as the directory `tag` points to.
    fn pointer(mut self, tag: u16, child: &Self) -> Vec<u8> {
        let long: usize = self
            .entries
            .iter()
            .map(|e| if e.3.len() > 4 { e.3.len() } else { 0 })
            .sum();
        let child_at = Self::HEADER + self.directory_length() + 12 + long;
        self.entries
            .push((tag, 4, 1, (child_at as u32).to_le_bytes().to_vec()));
        let mut out = b"II*\0\x08\0\0\0".to_vec();
        self.write(&mut out);
        child.write(&mut out);
        out
    }

    fn write(&self, out: &mut Vec<u8>) {
        let mut data_at = out.len() + self.directory_length();
        let mut data: Vec<u8> = Vec::new();
        out.extend((self.entries.len() as u16).to_le_bytes());
        for (tag, kind, count, bytes) in &self.entries {
            out.extend(tag.to_le_bytes());
            out.extend(kind.to_le_bytes());
            out.extend(count.to_le_bytes());
            if bytes.len() > 4 {
                out.extend((data_at as u32).to_le_bytes());
                data_at += bytes.len();
                data.extend(bytes);
            } else {
                out.extend(bytes.iter().copied().chain([0; 4]).take(4));
            }
        }
        out.extend([0; 4]);
        out.extend(data);
    }
}

/// How the pixels are coded.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Coding {
    /// Baseline, colour at half size: what phones write.
    Phone,
    /// Baseline, colour at full size.
    Full,
    /// Progressive.
    Progressive,
    /// One grey channel.
    Grey,
    /// Four inks.
    Cmyk,
}

impl Photo {
    /// The photograph as a JPEG file. The pixels are stored turned, as `exif.orientation` says.
    ///
    /// # Errors
    /// When the picture is larger than a JPEG can be (65,535 px a side).
    pub fn jpeg(&self, quality: u8, coding: Coding, exif: &Exif) -> Result<Vec<u8>, EncodingError> {
        let (width, height, rgb) = self.stored(exif.orientation);
        let (w, h) = (width as u16, height as u16);
        let mut bytes = Vec::new();
        let mut encoder = Encoder::new(&mut bytes, quality);
        encoder.add_exif_metadata(&exif.tiff())?;
        encoder.set_sampling_factor(if coding == Coding::Full {
            SamplingFactor::F_1_1
        } else {
            SamplingFactor::F_2_2
        });
        // As phones do: the mean of 2 x 2, where the format says the sample lies. Taking one of the
        // four instead would move every coloured border by half a pixel, right and down.
        encoder.set_chroma_subsampling_method(ChromaSubsamplingMethod::Average);
        encoder.set_progressive(coding == Coding::Progressive);
        match coding {
            Coding::Grey => encoder.encode(&grey(&rgb), w, h, ColorType::Luma)?,
            Coding::Cmyk => encoder.encode(&cmyk(&rgb), w, h, ColorType::Cmyk)?,
            _ => encoder.encode(&rgb, w, h, ColorType::Rgb)?,
        }
        Ok(bytes)
    }

    /// The pixels as a sensor stores them, so that `orientation` turns them upright.
    pub fn stored(&self, orientation: u8) -> (usize, usize, Vec<u8>) {
        let (w, h) = (self.width, self.height);
        let (width, height) = if orientation >= 5 { (h, w) } else { (w, h) };
        let mut out = Vec::with_capacity(self.rgb.len());
        for y in 0..height {
            for x in 0..width {
                let (ux, uy) = match orientation {
                    2 => (w - 1 - x, y),
                    3 => (w - 1 - x, h - 1 - y),
                    4 => (x, h - 1 - y),
                    5 => (y, x),
                    6 => (w - 1 - y, x),
                    7 => (w - 1 - y, h - 1 - x),
                    8 => (y, h - 1 - x),
                    _ => (x, y),
                };
                let at = (uy * w + ux) * 3;
                out.extend_from_slice(&self.rgb[at..at + 3]);
            }
        }
        (width, height, out)
    }
}

fn grey(rgb: &[u8]) -> Vec<u8> {
    rgb.chunks_exact(3)
        .map(|p| ((u32::from(p[0]) * 77 + u32::from(p[1]) * 150 + u32::from(p[2]) * 29) >> 8) as u8)
        .collect()
}

fn cmyk(rgb: &[u8]) -> Vec<u8> {
    rgb.chunks_exact(3)
        .flat_map(|p| [255 - p[0], 255 - p[1], 255 - p[2], 0])
        .collect()
}
