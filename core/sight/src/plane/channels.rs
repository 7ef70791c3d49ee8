//! The colour planes in which edges are looked for.

use crate::photo::{Photo, View};

/// Red, green and blue of a photograph, or its one plane of luma.
///
/// A blue card on orange wood has no edge in luma and a strong one in red: every side takes the
/// channel that shows it best.
pub(crate) struct Channels<'a>(Vec<View<'a>>);

impl<'a> Channels<'a> {
    pub(crate) fn of(photo: &'a Photo) -> Self {
        let count = if photo.has_colour() { 3 } else { 1 };
        Self((0..count).map(|c| photo.channel(c)).collect())
    }

    pub(crate) fn one(view: View<'a>) -> Self {
        Self(vec![view])
    }

    pub(crate) fn iter(&self) -> impl Iterator<Item = &View<'a>> {
        self.0.iter()
    }

    pub(crate) fn width(&self) -> usize {
        self.0.first().map_or(0, View::width)
    }

    pub(crate) fn height(&self) -> usize {
        self.0.first().map_or(0, View::height)
    }
}
