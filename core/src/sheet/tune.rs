//! The whole sheet: what it asks to be worded, and what comes of the words.

use super::layout::{Paged, laid_out};
use super::section::Worded;
use super::{SheetError, SheetSection, SheetText, pdf, png};
use crate::plane::Paper;

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
        let head = pdf::Head {
            title,
            language,
            to_measure: false,
        };
        Ok((worded, head))
    }
}
