//! What stands on a sheet, before anybody has worded it.

use super::layout::{Paged, laid_out};
use super::section::Worded;
use super::{SheetError, SheetText, pdf, png};
use crate::plane::Paper;
use crate::scene::{LabelText, Scene, Shape};

/// A fact: its name and what it is.
#[derive(Debug, Clone, PartialEq)]
pub struct SheetFact {
    /// The name.
    pub name: SheetText,
    /// What it is.
    pub value: SheetText,
}

/// A drawing with what stands under it.
#[derive(Debug, Clone, PartialEq)]
pub struct SheetPicture {
    /// The drawing. Photographs cannot be laid under it.
    pub scene: Scene,
    /// What stands under it.
    pub caption: SheetText,
}

/// A part of the sheet under one heading.
#[derive(Debug, Clone, PartialEq)]
pub struct SheetSection {
    /// Its heading.
    pub heading: SheetText,
    /// Its drawings: one stands beside the facts, two stand side by side above them.
    pub pictures: Vec<SheetPicture>,
    /// Its facts.
    pub facts: Vec<SheetFact>,
    /// Sentences below them.
    pub notes: Vec<SheetText>,
    /// Whether it must catch the eye.
    pub warns: bool,
}

/// Everything on a bow's sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct TuneSheet {
    /// The bow's name.
    pub name: String,
    /// Whose it is; may be empty.
    pub owner: String,
    /// As of when, epoch ms.
    pub as_of_ms: i64,
    /// The sections, top to bottom.
    pub sections: Vec<SheetSection>,
}

impl TuneSheet {
    /// What the sheet wants worded, in the order the words must come in.
    pub fn asks(&self) -> Vec<SheetText> {
        let head = [
            SheetText::Language,
            SheetText::Title,
            SheetText::AsOf {
                at_ms: self.as_of_ms,
            },
        ];
        let parts = self.sections.iter().flat_map(SheetSection::asks);
        head.into_iter().chain(parts).collect()
    }

    /// The sheet as PDF 1.7 with its fonts embedded. The same sheet in the same words makes the
    /// same bytes.
    ///
    /// # Errors
    /// [`SheetError::Words`] where the words are not those asked for.
    pub fn pdf(&self, words: &[String], paper: Paper) -> Result<Vec<u8>, SheetError> {
        let (worded, head) = self.worded(words)?;
        let pages = laid_out(&worded, &Paged::On(paper))?;
        pdf::write(&pages, &head)
    }

    /// The sheet as one PNG picture, as long as it needs to be.
    ///
    /// # Errors
    /// [`SheetError::Words`] as above, [`SheetError::Width`], [`SheetError::Long`].
    pub fn png(&self, words: &[String], width_px: u32) -> Result<Vec<u8>, SheetError> {
        png::check_width(width_px)?;
        let (worded, _) = self.worded(words)?;
        let pages = laid_out(&worded, &Paged::Endless)?;
        png::write(&pages, width_px)
    }

    fn worded(&self, words: &[String]) -> Result<(Worded, pdf::Head), SheetError> {
        let asked = self.asks().len();
        if asked != words.len() {
            return Err(SheetError::Words {
                asked,
                given: words.len(),
            });
        }
        let mut words = words.iter().cloned();
        let mut next = || words.next().unwrap_or_default();
        let (language, title, as_of) = (next(), next(), next());
        let worded = Worded {
            title: title.clone(),
            as_of,
            name: self.name.clone(),
            owner: self.owner.clone(),
            sections: self
                .sections
                .iter()
                .map(|section| section.worded(&mut next))
                .collect(),
        };
        let title = [&self.name, " \u{2013} ", &title].concat();
        Ok((worded, pdf::Head { title, language }))
    }
}

/// The labels of a drawing, back to front.
pub(super) fn labels(scene: &Scene) -> impl Iterator<Item = SheetText> {
    let texts = scene.items.iter().filter_map(|item| match &item.shape {
        Shape::Label { text, .. } => Some(text.clone()),
        _ => None,
    });
    texts.map(|label| SheetText::Label { label })
}

/// The same drawing with its labels worded, in the order of [`labels`].
pub(super) fn with_labels(scene: &Scene, next: &mut impl FnMut() -> String) -> Scene {
    let mut worded = scene.clone();
    for item in &mut worded.items {
        if let Shape::Label { text, .. } = &mut item.shape {
            *text = LabelText::Own { text: next() };
        }
    }
    worded
}
