//! Packs the letters of a sheet, which every phone carries: the tables of the font that a sheet is
//! drawn from (no kerning, no ligatures), deflated.

fn main() -> std::io::Result<()> {
    println!("cargo::rerun-if-changed=build.rs");
    #[cfg(feature = "sheet")]
    letters::pack()?;
    Ok(())
}

#[cfg(feature = "sheet")]
mod letters {
    use std::io::{Error, Result, Write};
    use std::path::PathBuf;

    use flate2::Compression;
    use flate2::write::ZlibEncoder;

    /// What an outline, its width and its copy inside a PDF are made of.
    const KEPT: [&[u8; 4]; 10] = [
        b"OS/2", b"cmap", b"glyf", b"head", b"hhea", b"hmtx", b"loca", b"maxp", b"name", b"post",
    ];
    const HEAD_BYTES: usize = 12;
    const ENTRY_BYTES: usize = 16;

    pub(super) fn pack() -> Result<()> {
        let folder = PathBuf::from(std::env::var_os("OUT_DIR").unwrap_or_default());
        let fonts = [
            ("regular.zlib", notosans::REGULAR_TTF),
            ("bold.zlib", notosans::BOLD_TTF),
        ];
        for (name, font) in fonts {
            let mut packed = ZlibEncoder::new(Vec::new(), Compression::best());
            packed.write_all(&lean(font)?)?;
            std::fs::write(folder.join(name), packed.finish()?)?;
        }
        Ok(())
    }

    fn u32_at(bytes: &[u8], at: usize) -> usize {
        let add = |number: usize, byte: &u8| (number << 8) | usize::from(*byte);
        bytes[at..at + 4].iter().fold(0, add)
    }

    fn u16_at(bytes: &[u8], at: usize) -> usize {
        usize::from(u16::from_be_bytes([bytes[at], bytes[at + 1]]))
    }

    /// A table of the font, by its tag.
    fn table(font: &[u8], tag: [u8; 4]) -> Result<&[u8]> {
        let entries = font[HEAD_BYTES..].chunks_exact(ENTRY_BYTES);
        let entry = entries
            .take(u16_at(font, 4))
            .find(|entry| entry.starts_with(&tag));
        let entry = entry.ok_or_else(|| Error::other("a table is missing in the font"))?;
        Ok(&font[u32_at(entry, 8)..][..u32_at(entry, 12)])
    }

    /// The glyphs that letters stand for, and the empty box. Noto Sans has a table of format 4 (`cmap`).
    fn of_letters(font: &[u8]) -> Result<Vec<usize>> {
        let cmap = table(font, *b"cmap")?;
        let map = &cmap[u32_at(cmap, 8)..];
        if u16_at(map, 0) != 4 {
            return Err(Error::other("the font's letters are listed in another way"));
        }
        let twice = u16_at(map, 6); // two bytes for each run of letters, in each of four lists
        let mut glyphs = vec![0];
        for end_at in (14..14 + twice).step_by(2) {
            let start_at = end_at + twice + 2;
            let (add_at, list_at) = (start_at + twice, start_at + 2 * twice);
            for letter in u16_at(map, start_at)..=u16_at(map, end_at) {
                let beside = 2 * (letter - u16_at(map, start_at));
                let glyph = match u16_at(map, list_at) {
                    0 => letter + u16_at(map, add_at),
                    offset => u16_at(map, (list_at + offset + beside).min(map.len() - 2)),
                };
                glyphs.push(glyph & 0xffff);
            }
        }
        Ok(glyphs)
    }

    /// The glyphs an outline is put together of (`glyf`, "Composite Glyph Description").
    fn parts(outline: &[u8]) -> Vec<usize> {
        let mut parts = Vec::new();
        let mut at = 10;
        // A negative number of contours: put together.
        while outline.first().is_some_and(|first| *first >= 0x80) {
            let flags = u16_at(outline, at);
            parts.push(u16_at(outline, at + 2));
            let scale = [(0x8, 2), (0x40, 4), (0x80, 8)]
                .map(|(flag, bytes)| usize::from(flags & flag != 0) * bytes);
            at += 6 + 2 * (flags & 1) + scale.iter().sum::<usize>();
            if flags & 0x20 == 0 {
                break;
            }
        }
        parts
    }

    /// The font's outlines and where each begins, without those that no letter leads to: small capitals and the like,
    /// which only shaping would ask for. `subsetter`, which cuts the font for a PDF, leaves out the table that letters are looked up in.
    fn reached(font: &[u8]) -> Result<[Vec<u8>; 2]> {
        let (glyf, loca) = (table(font, *b"glyf")?, table(font, *b"loca")?);
        if u16_at(table(font, *b"head")?, 50) != 1 {
            return Err(Error::other(
                "the font's outlines are listed in another way",
            ));
        }
        let outline = |glyph: usize| &glyf[u32_at(loca, 4 * glyph)..u32_at(loca, 4 * glyph + 4)];
        let count = loca.len() / 4 - 1;
        let (mut wanted, mut left) = (vec![false; count], of_letters(font)?);
        while let Some(glyph) = left.pop() {
            if glyph < count && !std::mem::replace(&mut wanted[glyph], true) {
                left.extend(parts(outline(glyph)));
            }
        }
        let (mut outlines, mut places) = (Vec::new(), vec![0; 4]);
        for (glyph, wanted) in wanted.into_iter().enumerate() {
            outlines.extend(if wanted { outline(glyph) } else { &[] });
            places.extend((outlines.len() as u32).to_be_bytes());
        }
        Ok([outlines, places])
    }

    /// The font with the kept tables only. Layout: `OpenType` 1.9, "Organization of an `OpenType` Font".
    fn lean(font: &[u8]) -> Result<Vec<u8>> {
        let count = usize::from(u16::from_be_bytes([font[4], font[5]]));
        let entries = font[HEAD_BYTES..].chunks_exact(ENTRY_BYTES).take(count);
        let kept: Vec<&[u8]> = entries
            .filter(|entry| KEPT.iter().any(|tag| entry.starts_with(*tag)))
            .collect();
        if kept.len() != KEPT.len() {
            return Err(Error::other("a table is missing in the font"));
        }
        // The search fields after the count serve readers that nobody has here.
        let mut head = font[..4].to_vec();
        head.extend([0, KEPT.len() as u8, 0, 0, 0, 0, 0, 0]);
        let mut tables = Vec::new();
        let [outlines, places] = reached(font)?;
        for entry in kept {
            let table = match &entry[..4] {
                b"glyf" => &outlines,
                b"loca" => &places,
                _ => &font[u32_at(entry, 8)..][..u32_at(entry, 12)],
            };
            let at = (HEAD_BYTES + KEPT.len() * ENTRY_BYTES + tables.len()) as u32;
            // Nobody here reads the check sums between the name and the place.
            head.extend(
                [
                    &entry[..8],
                    &at.to_be_bytes(),
                    &(table.len() as u32).to_be_bytes(),
                ]
                .concat(),
            );
            tables.extend(table);
            tables.resize(tables.len().next_multiple_of(4), 0);
        }
        head.extend(tables);
        Ok(head)
    }
}
