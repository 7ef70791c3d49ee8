//! What the sides of a reference look like.

/// What a side looks like.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Outline<'a> {
    /// Stretches of the side that show an edge, 0 at its first corner and 1 at its second.
    pub(crate) parts: &'a [(f64, f64)],
    /// Whether it gets darker inwards everywhere; otherwise whichever is stronger.
    pub(crate) dark_inside: bool,
}

impl Outline<'_> {
    /// A whole sheet. Corners are kept out, for they are folded often.
    pub(crate) const SHEET: Outline<'static> = Outline {
        parts: &[(0.04, 0.96)],
        dark_inside: false,
    };
    /// A card: its corners are round (3.18 mm by ISO/IEC 7810, from memory).
    pub(crate) const CARD: Outline<'static> = Outline {
        parts: &[(0.07, 0.93)],
        dark_inside: false,
    };

    /// Evenly spread over the parts, `share` from 0 to 1.
    pub(crate) fn place(&self, share: f64) -> f64 {
        let total: f64 = self.parts.iter().map(|(a, b)| b - a).sum();
        let mut left = share * total;
        for (a, b) in self.parts {
            if left <= b - a {
                return a + left;
            }
            left -= b - a;
        }
        self.parts.last().map_or(share, |(_, b)| *b)
    }
}
