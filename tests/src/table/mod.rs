//! The table of measuring: what the photographs of a range of seeds gave, beside its bars.

mod figures;
mod gates;
mod holes;
mod plane;
mod tears;

pub(crate) use figures::share;
pub use figures::{Bar, Figure, Row, Spread};
pub use gates::{bowed, other_sheet, single_rings};
pub use holes::{on_face, on_lit_paper, on_paper, proposals, torn, touching};
pub use plane::{
    carried_lens, faces_known_lens, faces_unknown_lens, id1_cards, printed_marks, sheets,
    sheets_in_tones,
};
pub use tears::tears;

use std::cell::RefCell;
use std::collections::HashMap;
use std::ops::Range;
use std::rc::Rc;

use crate::shots::{Shot, Size};

/// JPEG files by row and seed.
type Taken = HashMap<(&'static str, u64), Rc<Vec<u8>>>;

/// How many photographs of each kind, from which seed on, how large; and those already taken.
pub struct Plan {
    /// First seed.
    pub first: u64,
    /// Photographs of the larger rows; the rows of refusals take a third.
    pub count: u64,
    /// Size of the pictures.
    pub size: Size,
    taken: RefCell<Taken>,
}

impl Plan {
    /// `count` photographs for the larger rows, from seed `first`.
    pub fn new(first: u64, count: u64, size: Size) -> Self {
        Self {
            first,
            count,
            size,
            taken: RefCell::default(),
        }
    }

    /// The file of a photograph that several rows look at: taken once. `kind` and the seed name it.
    fn jpeg(&self, kind: &'static str, shot: &Shot) -> Rc<Vec<u8>> {
        if let Some(jpeg) = self.taken.borrow().get(&(kind, shot.seed)) {
            return Rc::clone(jpeg);
        }
        let jpeg = Rc::new(shot.jpeg());
        self.taken
            .borrow_mut()
            .insert((kind, shot.seed), Rc::clone(&jpeg));
        jpeg
    }

    fn seeds(&self) -> Range<u64> {
        self.first..self.first + self.count
    }

    fn few(&self) -> Range<u64> {
        self.first..self.first + (self.count / 3).max(2)
    }
}

/// A row of the table, made when it is asked for: photographs take seconds each.
pub type Make = fn(&Plan) -> Row;

/// All rows in the order they are printed.
pub const ROWS: [Make; 18] = [
    sheets,
    sheets_in_tones,
    faces_known_lens,
    faces_unknown_lens,
    carried_lens,
    id1_cards,
    printed_marks,
    on_face,
    on_paper,
    on_lit_paper,
    touching,
    proposals,
    tears,
    bowed,
    other_sheet,
    single_rings,
    gates::standing_shafts,
    torn,
];
