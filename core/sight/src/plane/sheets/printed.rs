//! The papers that sheets are printed on.

use super::marks::Marks;

/// The paper to print on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Paper {
    /// ISO 216 A4, 210 x 297 mm.
    A4,
    /// ANSI/ASME Y14.1 A (Letter), 8.5 x 11 in.
    Letter,
}

impl Paper {
    /// Width and height, mm.
    pub fn size_mm(self) -> (f64, f64) {
        match self {
            Self::A4 => (210.0, 297.0),
            Self::Letter => (215.9, 279.4),
        }
    }

    /// The marks printed on it.
    pub fn marks(self) -> Marks {
        match self {
            Self::A4 => Marks::A4,
            Self::Letter => Marks::LETTER,
        }
    }
}
