//! How the demonstration speaks: numbered headings, wrapped lines, pictures as they are written.

use crate::svg::{self, Underlay};
use shimwright::scene::Scene;
use std::collections::HashSet;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::time::Instant;

const WIDTH: usize = 92;

/// Prints the story and writes its pictures.
pub(super) struct Teller<'a> {
    out: &'a mut dyn Write,
    folder: PathBuf,
    started: Instant,
    chapters: u32,
    pictures: u32,
    /// What was already said about the bow at hand.
    told: HashSet<String>,
}

impl<'a> Teller<'a> {
    /// Starts in a folder, which is made where there is none.
    pub(super) fn new(folder: &Path, out: &'a mut dyn Write) -> Result<Self, String> {
        std::fs::create_dir_all(folder).map_err(|e| {
            format!(
                "the folder {} cannot be made ({e}); choose another",
                folder.display()
            )
        })?;
        Ok(Self {
            out,
            folder: folder.to_owned(),
            started: Instant::now(),
            chapters: 0,
            pictures: 0,
            told: HashSet::new(),
        })
    }

    /// A numbered heading.
    pub(super) fn chapter(&mut self, title: &str) {
        self.chapters += 1;
        let heading = format!("\n{}. {title}", self.chapters);
        self.line(&heading);
    }

    /// A sentence under the heading.
    pub(super) fn say(&mut self, text: &str) {
        self.wrapped("   ", "   ", text);
    }

    /// An entry of a list.
    pub(super) fn item(&mut self, text: &str) {
        self.wrapped("   - ", "     ", text);
    }

    /// An entry of a list, left out when it was said before.
    pub(super) fn news(&mut self, text: &str) {
        if self.told.insert(text.to_owned()) {
            self.item(text);
        }
    }

    /// Forgets what was said: another bow is on the bench.
    pub(super) fn forget(&mut self) {
        self.told.clear();
    }

    /// A row of a table, as it is.
    pub(super) fn row(&mut self, text: &str) {
        let row = format!("     {}", text.trim_end());
        self.line(&row);
    }

    /// The answer: what a person would read first.
    pub(super) fn answer(&mut self, text: &str) {
        self.wrapped("   >> ", "      ", text);
    }

    /// Draws a scene as SVG and PNG, `width_px` wide.
    pub(super) fn picture(
        &mut self,
        name: &str,
        scene: &Scene,
        width_px: f64,
        jpeg: Option<&[u8]>,
    ) -> Result<(), String> {
        self.pictures += 1;
        let underlay = jpeg.map(|bytes| Underlay {
            bytes,
            media_type: "image/jpeg",
        });
        let document = svg::svg(scene, width_px, underlay.as_ref());
        let name = format!("{:02}-{name}", self.pictures);
        self.write(&format!("{name}.png"), &svg::png(&document)?)?;
        self.write(&format!("{name}.svg"), document.as_bytes())?;
        let written = format!("   [picture {}]", self.folder.join(name + ".png").display());
        self.line(&written);
        Ok(())
    }

    fn write(&self, name: &str, bytes: &[u8]) -> Result<(), String> {
        let path = self.folder.join(name);
        std::fs::write(&path, bytes).map_err(|e| {
            format!(
                "{} cannot be written ({e}); choose another folder",
                path.display()
            )
        })
    }

    /// The closing line.
    pub(super) fn close(&mut self) {
        let closing = format!(
            "\nDone in {:.1} s: {} pictures, each as PNG and SVG, in {}",
            self.started.elapsed().as_secs_f64(),
            self.pictures,
            self.folder.display()
        );
        self.line(&closing);
    }

    /// A line as it is. A reader that has gone away (a closed pipe) must not stop the job.
    pub(super) fn line(&mut self, text: &str) {
        let _ = writeln!(self.out, "{text}");
    }

    fn wrapped(&mut self, first: &str, next: &str, text: &str) {
        let mut line = first.to_owned();
        let mut is_empty = true;
        for word in text.split_whitespace() {
            if !is_empty && line.chars().count() + 1 + word.chars().count() > WIDTH {
                self.line(&line);
                next.clone_into(&mut line);
                is_empty = true;
            }
            if !is_empty {
                line.push(' ');
            }
            line.push_str(word);
            is_empty = false;
        }
        self.line(&line);
    }
}
