//! A sheet with its words.

use super::part::{labels, with_labels};
use super::{SheetPicture, SheetSection, SheetText};
use crate::scene::Scene;

/// Everything on the sheet, worded.
pub(super) struct Worded {
    pub(super) title: String,
    pub(super) as_of: String,
    pub(super) name: String,
    pub(super) owner: String,
    pub(super) sections: Vec<WordedSection>,
}

/// One section, worded.
pub(super) struct WordedSection {
    pub(super) heading: String,
    pub(super) pictures: Vec<(Scene, String)>,
    pub(super) facts: Vec<(String, String)>,
    pub(super) notes: Vec<String>,
    pub(super) warns: bool,
}

impl SheetSection {
    /// What it wants worded; [`Self::worded`] takes the words in the same order.
    pub(super) fn asks(&self) -> Vec<SheetText> {
        let pictures = self.pictures.iter().flat_map(|picture| {
            labels(&picture.scene).chain(std::iter::once(picture.caption.clone()))
        });
        let facts = self.facts.iter();
        let facts = facts.flat_map(|fact| [fact.name.clone(), fact.value.clone()]);
        let heading = std::iter::once(self.heading.clone());
        let notes = self.notes.iter().cloned();
        heading.chain(pictures).chain(facts).chain(notes).collect()
    }

    pub(super) fn worded(&self, next: &mut impl FnMut() -> String) -> WordedSection {
        let heading = next();
        let mut pictures = Vec::new();
        for SheetPicture { scene, .. } in &self.pictures {
            let scene = with_labels(scene, next);
            pictures.push((scene, next()));
        }
        WordedSection {
            heading,
            pictures,
            facts: self.facts.iter().map(|_| (next(), next())).collect(),
            notes: self.notes.iter().map(|_| next()).collect(),
            warns: self.warns,
        }
    }
}
