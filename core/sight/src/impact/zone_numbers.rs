//! Printed zone numbers: what repeats as the print of a face does, and holes of arrows do not.
//!
//! ```text
//!            4
//!            5
//!   4 5 6  middle  6 5 4     the same figure a quarter turn on, and a row outwards, one to a zone
//!            5
//!            4
//! ```

use crate::frame::PointMm;

/// A figure's place is found to this, mm: the vote finds the loop of a 6 and of a 9, which stand apart.
const PLACE_MM: f64 = 1.7;
/// ... and to this share of the spacing that is asked for, so that a narrow one is not met by chance.
const PLACE_SHARE: f64 = 0.15;
/// Nearer to the middle than this a quarter turn leads to the figure itself, mm.
const LEAST_MM: f64 = 10.0;
/// So many others stand as print would have them, all a quarter turn on or all in the row: of a hole's neighbours one
/// often does by chance, two seldom, and one of each did on a real face.
const LEAST_ALIKE: usize = 2;

/// Where the figures of a face may stand.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ZoneNumbers {
    /// The face's middle, mm.
    pub middle: PointMm,
    /// Figures of one row are this far apart, or a multiple of it, mm.
    pub spacing_mm: f64,
}

impl ZoneNumbers {
    /// Whether what is seen at a place is a figure, by where else in `seen` there is something of the kind.
    pub fn holds(&self, at: PointMm, seen: &[PointMm]) -> bool {
        self.alike(at, seen) >= LEAST_ALIKE
    }

    /// Whether it may be one: where little else speaks for a hole.
    pub fn may_hold(&self, at: PointMm, seen: &[PointMm]) -> bool {
        self.alike(at, seen) > 0
    }

    /// How many others stand as print would have them, a quarter turn on or in the row.
    fn alike(&self, at: PointMm, seen: &[PointMm]) -> usize {
        let out = at - self.middle;
        if out.norm_mm() < LEAST_MM {
            return 0;
        }
        let turned = (1..4).filter(|quarters| {
            let there = self.middle + quarter_turns(out, *quarters);
            seen.iter().any(|p| (*p - there).norm_mm() < PLACE_MM)
        });
        let in_row = seen.iter().filter(|p| self.in_row(out, **p - self.middle));
        turned.count().max(in_row.count())
    }

    /// Whether another place lies on the same ray from the middle, whole zones farther in or out.
    fn in_row(&self, out: PointMm, other: PointMm) -> bool {
        let length_mm = out.norm_mm();
        let along_mm = (out.x_mm * other.x_mm + out.y_mm * other.y_mm) / length_mm;
        let aside_mm = (out.x_mm * other.y_mm - out.y_mm * other.x_mm) / length_mm;
        let zones = ((along_mm - length_mm) / self.spacing_mm).round();
        let off_mm = along_mm - length_mm - zones * self.spacing_mm;
        let most_mm = PLACE_MM.min(PLACE_SHARE * self.spacing_mm);
        along_mm > 0.0 && zones != 0.0 && aside_mm.abs() < PLACE_MM && off_mm.abs() < most_mm
    }
}

fn quarter_turns(p: PointMm, quarters: usize) -> PointMm {
    (0..quarters).fold(p, |p, _| PointMm::new(-p.y_mm, p.x_mm))
}

#[cfg(test)]
mod tests {
    use super::*;

    const FACE: ZoneNumbers = ZoneNumbers {
        middle: PointMm {
            x_mm: 3.0,
            y_mm: -2.0,
        },
        spacing_mm: 20.0,
    };

    fn on_face(x_mm: f64, y_mm: f64) -> PointMm {
        FACE.middle + PointMm::new(x_mm, y_mm)
    }

    #[test]
    fn figures_on_four_rays_and_in_one_row_are_print() {
        let four = [(70.5, 1.0), (-0.5, 70.0), (-70.0, 0.5), (0.0, -69.5)];
        let four = four.map(|(x, y)| on_face(x, y));
        assert!(four.iter().all(|p| FACE.holds(*p, &four)));
        let row = [30.0, 50.5, 70.0, 109.0].map(|y| on_face(0.7, -y));
        assert!(row.iter().all(|p| FACE.holds(*p, &row)));
    }

    #[test]
    fn holes_are_not_though_one_stands_where_a_figure_would() {
        let holes = [(70.0, 0.0), (0.0, 70.0), (12.0, 33.0), (-41.0, 8.0)];
        let holes = holes.map(|(x, y)| on_face(x, y));
        assert!(holes.iter().all(|p| !FACE.holds(*p, &holes)));
        let mixed = [(50.0, 0.0), (0.0, 50.0), (70.0, 0.0)].map(|(x, y)| on_face(x, y));
        assert!(!FACE.holds(mixed[0], &mixed));
        assert!(FACE.may_hold(mixed[0], &mixed) && !FACE.may_hold(holes[2], &holes));
        let group = [(4.0, 1.0), (-3.0, 5.0), (1.0, -6.0), (-5.0, -2.0)];
        let group = group.map(|(x, y)| on_face(x, y));
        assert!(group.iter().all(|p| !FACE.holds(*p, &group)));
    }
}
