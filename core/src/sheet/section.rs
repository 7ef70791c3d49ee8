//! A sheet with its words.

use super::{SheetPicture, SheetSection, SheetText};
use crate::scene::{LabelText, Scene, Shape};

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

/// The labels of a drawing, back to front.
fn labels(scene: &Scene) -> impl Iterator<Item = SheetText> {
    let texts = scene.items.iter().filter_map(|item| match &item.shape {
        Shape::Label { text, .. } => Some(text.clone()),
        _ => None,
    });
    texts.map(|label| SheetText::Label { label })
}

/// The same drawing with its labels worded, in the order of [`labels`].
fn with_labels(scene: &Scene, next: &mut impl FnMut() -> String) -> Scene {
    let mut worded = scene.clone();
    for item in &mut worded.items {
        if let Shape::Label { text, .. } = &mut item.shape {
            *text = LabelText::Own { text: next() };
        }
    }
    worded
}
