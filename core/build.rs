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
        for entry in kept {
            let (from, bytes) = (u32_at(entry, 8), u32_at(entry, 12));
            let at = (HEAD_BYTES + KEPT.len() * ENTRY_BYTES + tables.len()) as u32;
            head.extend([&entry[..8], &at.to_be_bytes(), &entry[12..]].concat());
            tables.extend(&font[from..from + bytes]);
            tables.resize(tables.len().next_multiple_of(4), 0);
        }
        head.extend(tables);
        Ok(head)
    }
}
