//! Sheets whose size goes by a name.

use crate::plane::Sheet;

/// A sheet or card whose size goes by a name.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum ListedSheet {
    /// ISO 216 A4.
    A4,
    /// ISO 216 A3.
    A3,
    /// ANSI/ASME Y14.1 size A.
    Letter,
    /// ISO/IEC 7810 ID-1.
    Card,
}

/// Sides that differ by no more go by one name, mm. Half of what a ruler is divided into; paper is cut
/// to 2 mm.
const ALIKE_MM: f64 = 0.5;

impl ListedSheet {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::A4, Self::A3, Self::Letter, Self::Card];

    /// The sheet standing upright: its shorter side across.
    pub fn upright(self) -> Sheet {
        match self {
            Self::A4 => Sheet::A4,
            Self::A3 => Sheet::A3,
            Self::Letter => Sheet::LETTER,
            Self::Card => Sheet::ID1.turned(),
        }
    }

    /// The one of that size, mm, whichever way it lies.
    pub fn of(width_mm: f64, height_mm: f64) -> Option<Self> {
        let sides = (width_mm.min(height_mm), width_mm.max(height_mm));
        let alike = |listed: &Self| {
            let sheet = listed.upright();
            (sheet.width_mm - sides.0).abs() < ALIKE_MM
                && (sheet.height_mm - sides.1).abs() < ALIKE_MM
        };
        Self::ALL.into_iter().find(alike)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_size_is_known_by_its_name_whichever_way_it_lies() {
        for listed in ListedSheet::ALL {
            let sheet = listed.upright();
            assert!(sheet.width_mm < sheet.height_mm);
            for (width, height) in [
                (sheet.width_mm, sheet.height_mm),
                (sheet.height_mm + 0.4, sheet.width_mm - 0.4),
            ] {
                assert_eq!(ListedSheet::of(width, height), Some(listed));
            }
            assert_eq!(ListedSheet::of(sheet.width_mm + 0.6, sheet.height_mm), None);
        }
        assert_eq!(ListedSheet::of(f64::NAN, 297.0), None);
    }
}
