//! Ring faces as data: the published ones and one's own.

use crate::plane::PlaneError;
use crate::plane::fitted::LENGTH_RANGE_MM;

/// The middle of a face, from which the search starts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Middle {
    /// Gold or yellow up to the first border.
    Gold,
    /// Any one shade up to the first border.
    Plain,
}

/// Concentric borders of a target face.
#[derive(Debug, Clone, PartialEq)]
pub struct Face {
    /// Radii of the borders that can be seen as an edge, mm, rising.
    pub radii_mm: Vec<f64>,
    /// Radius of the outermost scoring zone, mm: on white paper its edge need not be seen.
    pub edge_mm: f64,
    /// Index of the border that carries the scale; all alike if there is none.
    pub scale_ring: Option<usize>,
    /// How exactly that border (or the outermost) is printed, one standard deviation of its radius, mm.
    pub print_sd_mm: f64,
    /// What the middle looks like.
    pub middle: Middle,
}

/// A published face.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum PublishedFace {
    /// The full face of 122 cm.
    Target122,
    /// The full face of 80 cm.
    Target80,
    /// The full face of 60 cm.
    Target60,
    /// The full face of 40 cm.
    Target40,
    /// One face of a triple of 40 cm.
    Triple40,
    /// One face of a triple of 60 cm.
    Triple60,
    /// The six inner zones of the face of 80 cm.
    SixRing80,
    /// The field face of 80 cm.
    Field80,
    /// The field face of 60 cm.
    Field60,
    /// The field face of 40 cm.
    Field40,
    /// The field face of 20 cm.
    Field20,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Layout {
    /// Ten zones of equal width in five colours.
    FiveColours,
    /// The five inner zones in three colours: one face of a triple.
    FiveZones,
    /// The six inner zones in three colours.
    SixZones,
    /// Yellow middle of a fifth of the diameter, four black zones parted by white lines.
    YellowOnBlack,
}

/// Borders in tenths of the radius of the outermost zone. FROM MEMORY of the international target
/// rules (no copy at hand): ten equal zones, colours change after every second one.
const FIVE_COLOURS: [f64; 4] = [0.2, 0.4, 0.6, 0.8];
/// FROM MEMORY of the international field rules: yellow zones out to a fifth of the diameter,
/// white lines at two, three and four fifths, the black ends at the outermost.
const YELLOW_ON_BLACK: [f64; 5] = [0.2, 0.4, 0.6, 0.8, 1.0];
/// FROM MEMORY of the international target rules: the zones of the full face without the outer ones.
/// Of five, gold ends at two fifths, red at four, blue at the edge; of six, at a third each.
const FIVE_ZONES: [f64; 3] = [0.4, 0.8, 1.0];
const SIX_ZONES: [f64; 3] = [1.0 / 3.0, 2.0 / 3.0, 1.0];
/// FROM MEMORY: outer zones are printed to ±3 mm of diameter, taken as two standard deviations.
const PRINT_SD_MM: f64 = 0.75;

/// Two rings of one's own are at least this far apart, and the smallest has this radius, mm. Chosen by hand;
/// not tuned.
const LEAST_GAP_MM: f64 = 2.0;

/// Key for requests and records, diameter of the outermost scoring zone (mm) and layout. Diameters are
/// part of the faces' common names, zone borders are from memory (see the constants above).
const PUBLISHED: [(PublishedFace, &str, u16, Layout); 11] = {
    use Layout::{FiveColours, FiveZones, SixZones, YellowOnBlack};
    use PublishedFace as F;
    [
        (F::Target122, "target-122", 1220, FiveColours),
        (F::Target80, "target-80", 800, FiveColours),
        (F::Target60, "target-60", 600, FiveColours),
        (F::Target40, "target-40", 400, FiveColours),
        (F::Triple40, "triple-40", 200, FiveZones),
        (F::Triple60, "triple-60", 300, FiveZones),
        (F::SixRing80, "six-ring-80", 480, SixZones),
        (F::Field80, "field-80", 800, YellowOnBlack),
        (F::Field60, "field-60", 600, YellowOnBlack),
        (F::Field40, "field-40", 400, YellowOnBlack),
        (F::Field20, "field-20", 200, YellowOnBlack),
    ]
};

impl PublishedFace {
    /// Its key in requests and records, e.g. `target-40`.
    pub fn key(self) -> &'static str {
        let known = PUBLISHED.iter().find(|(face, ..)| *face == self);
        known.map_or("", |(_, key, ..)| key)
    }
}

impl Layout {
    /// The visible borders of a face whose outermost scoring zone has that diameter.
    fn face(self, diameter_mm: u16) -> Face {
        let (shares, scale_ring): (&[f64], usize) = match self {
            // The black-to-white border: sharp, large, and no dividing line of its own.
            Self::FiveColours => (&FIVE_COLOURS, 3),
            // The blue-to-white border, the largest.
            Self::FiveZones => (&FIVE_ZONES, 2),
            Self::SixZones => (&SIX_ZONES, 2),
            Self::YellowOnBlack => (&YELLOW_ON_BLACK, 4),
        };
        let radius_mm = f64::from(diameter_mm) / 2.0;
        Face {
            radii_mm: shares.iter().map(|s| s * radius_mm).collect(),
            edge_mm: radius_mm,
            scale_ring: Some(scale_ring),
            print_sd_mm: PRINT_SD_MM,
            middle: Middle::Gold,
        }
    }
}

impl Face {
    /// A published face by its key.
    pub fn published(key: &str) -> Option<Self> {
        let known = PUBLISHED.iter().find(|(_, known, ..)| *known == key);
        known.map(|(_, _, diameter_mm, layout)| layout.face(*diameter_mm))
    }

    /// One's own rings, measured to `measured_sd_mm`: all borders that can be seen, lines included.
    ///
    /// # Errors
    /// [`PlaneError::SingleRing`] for fewer than two, [`PlaneError::Size`] for a radius out of
    /// range or two within 2 mm.
    pub fn own(radii_mm: &[f64], measured_sd_mm: f64) -> Result<Self, PlaneError> {
        let mut radii_mm = radii_mm.to_vec();
        radii_mm.sort_by(f64::total_cmp);
        if radii_mm.len() < 2 {
            return Err(PlaneError::SingleRing);
        }
        let (_, max) = LENGTH_RANGE_MM;
        let mut min = LEAST_GAP_MM;
        for value in radii_mm.iter().copied() {
            if !(min..=max).contains(&value) {
                return Err(PlaneError::Size {
                    what: "ring radius",
                    value,
                    min,
                    max,
                });
            }
            min = value + LEAST_GAP_MM;
        }
        Ok(Self {
            edge_mm: radii_mm.last().copied().unwrap_or_default(),
            radii_mm,
            scale_ring: None,
            print_sd_mm: measured_sd_mm.abs(),
            middle: Middle::Plain,
        })
    }

    /// Width of the free band around a border that no other border enters, mm.
    pub(crate) fn gap_mm(&self, ring: usize) -> f64 {
        let at = |i: Option<usize>| i.and_then(|i| self.radii_mm.get(i)).copied();
        let here = at(Some(ring)).unwrap_or(0.0);
        let inner = here - at(ring.checked_sub(1)).unwrap_or(0.0);
        let outer = at(Some(ring + 1)).map_or(inner, |r| r - here);
        inner.min(outer)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn published_faces_have_their_borders_where_the_rules_put_them() {
        let forty = Face::published("target-40").unwrap();
        assert_eq!(
            forty.radii_mm.iter().map(|r| r.round()).collect::<Vec<_>>(),
            [40., 80., 120., 160.]
        );
        let large = Face::published("target-122").unwrap();
        assert!((large.radii_mm[0] - 122.0).abs() < 1e-9 && (large.gap_mm(3) - 122.0).abs() < 1e-9);
        let field = Face::published("field-80").unwrap();
        assert!(
            (field.radii_mm[0] - 80.0).abs() < 1e-9 && (field.radii_mm[4] - 400.0).abs() < 1e-9
        );
        let triple = Face::published("triple-40").unwrap();
        let six = Face::published("six-ring-80").unwrap();
        // Zones of a triple are 20 mm wide, those of the 80 cm face 40 mm.
        for (face, radii) in [(triple, [40., 80., 100.]), (six, [80., 160., 240.])] {
            let off = face.radii_mm.iter().zip(radii).map(|(a, b)| (a - b).abs());
            assert!(off.fold(0.0, f64::max) < 1e-9);
        }
        assert!(Face::published("target-41").is_none());
        for (face, key, ..) in PUBLISHED {
            assert!(face.key() == key && Face::published(key).is_some());
        }
    }

    #[test]
    fn own_rings_are_checked() {
        assert_eq!(Face::own(&[50.0], 0.2), Err(PlaneError::SingleRing));
        assert!(Face::own(&[100.0, 50.0], 0.2).is_ok_and(|f| f.radii_mm == [50.0, 100.0]));
        for bad in [
            [50.0, 51.0],
            [0.0, 50.0],
            [f64::NAN, 50.0],
            [50.0, f64::INFINITY],
        ] {
            assert!(
                matches!(Face::own(&bad, 0.2), Err(PlaneError::Size { .. })),
                "{bad:?}"
            );
        }
    }
}
