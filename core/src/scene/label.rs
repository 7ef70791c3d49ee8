//! What a label says, as a closed set that every pen words in its own language and units.

use crate::frame::ArrowKind;
use crate::spacer::Fitting;

/// Which end of the text stands at the label's point. Start is always the LEFT end: a scene is
/// never mirrored.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Anchor {
    /// The left end.
    Start,
    /// The middle.
    Middle,
    /// The right end.
    End,
}

/// A fixed word of the drawings.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Word {
    /// What is fitted at present.
    Now,
    /// What the verdict advises to fit.
    Fit,
    /// Shot before the swap.
    Before,
    /// Shot after the swap.
    After,
    /// The top axle.
    TopAxle,
    /// The bottom axle.
    BottomAxle,
    /// The archer's left.
    Left,
    /// The archer's right.
    Right,
    /// Where the probe group is expected after the swap.
    ExpectedAfter,
    /// The user's tolerance.
    Tolerance,
    /// An axis of sideways splits, right upward.
    SplitAxis,
    /// The thick piece of a pair.
    Thick,
    /// The thin piece of a pair.
    Thin,
    /// From where the drawing looks: the string is on the side toward you.
    StringSide,
    /// The cam stays where it is.
    CamStays,
    /// A tap with no hole found under it.
    NotSnapped,
    /// A proposed hole that nobody has accepted.
    Proposed,
    /// Where the point went through paper.
    Point,
    /// Where the nock end went through paper.
    Nock,
}

/// The text of a label.
#[derive(Debug, Clone, PartialEq)]
pub enum LabelText {
    /// A fixed word.
    Fixed {
        /// Which one.
        word: Word,
    },
    /// The name of an arrow kind.
    Kind {
        /// Which one.
        kind: ArrowKind,
    },
    /// Text of the user's own (a pair's name, a bow's name), shown as it is.
    Own {
        /// The text.
        text: String,
    },
    /// A pair by its name: "pair C".
    SpacerPair {
        /// The pair's name.
        name: String,
    },
    /// A spacer's thickness with its unit, to a hundredth of a millimetre: "2.50 mm".
    Thickness {
        /// Thickness, mm.
        thickness_mm: f64,
    },
    /// A length with its unit: a scale bar or a tolerance radius.
    Length {
        /// Length, mm.
        length_mm: f64,
    },
    /// How far a cam moves from one fitting to the next: "cam moves 0.60 mm to the left".
    CamMove {
        /// Positive = to the archer's right, mm.
        shift_mm: f64,
    },
    /// A sideways amount with its side and its uncertainty: "61 mm right ± 22".
    Sideways {
        /// Positive = to the archer's right, mm.
        x_mm: f64,
        /// Half-width of the stated interval, mm.
        plus_minus_mm: f64,
    },
    /// An amount up or down with its uncertainty: "3 mm high ± 1".
    Height {
        /// Positive = up, mm.
        y_mm: f64,
        /// Half-width of the stated interval, mm.
        plus_minus_mm: f64,
    },
    /// A difference on the paper with its uncertainty: "12 mm left, 3 mm high ± 1".
    Offset {
        /// Positive = to the archer's right, mm.
        x_mm: f64,
        /// Positive = up, mm.
        y_mm: f64,
        /// Half-width of the stated interval on either axis, mm.
        plus_minus_mm: f64,
    },
    /// A fitting in a few words: "C, thick right", or "top A right, bottom C left".
    Fitted {
        /// The fitting.
        fitting: Fitting,
    },
    /// A value on a chart's axis, mm.
    AxisValue {
        /// Value, mm.
        value_mm: f64,
    },
    /// A day.
    Day {
        /// Epoch milliseconds.
        at_ms: i64,
    },
    /// An arrow's or an impact's number.
    Number {
        /// The number.
        number: i64,
    },
}
