//! The slits the vanes cut, and where their lines meet.

use nalgebra::{Matrix2, Vector2};

use super::cells::{CellSet, Opening};
use crate::frame::PointMm;
use crate::impact::Relief;

/// A shorter stretch is a frayed edge, mm: vanes stand 4 mm off the shaft and more. Set on the tuning
/// seeds of `tests/photo-table`.
const LEAST_LENGTH_MM: f64 = 3.0;
/// A longer one is a printed line: the highest feathers stand about 16 mm off the shaft (common
/// practice, no source), and paper rips on for as much again at most.
const MOST_LENGTH_MM: f64 = 28.0;
/// The body's edge is frayed this far out. Chosen by hand; `tests/photo-table` measures what passes.
const FRAYED_MM: f64 = 0.8;
/// A slit begins at most this far beyond the frayed edge, mm. Chosen by hand; `tests/photo-table`
/// measures what passes.
const BEGINS_WITHIN_MM: f64 = 2.5;
/// Fibres that bridge a slit are no wider than this, mm. Chosen by hand; `tests/photo-table` measures
/// what passes.
const BRIDGE_MM: f64 = 0.9;
/// Variance along a slit over variance across it. Chosen by hand; `tests/photo-table` measures what
/// passes.
const LEAST_SLENDERNESS: f64 = 6.0;
/// With more than three slits the worst one is dropped beyond this, mm. Chosen by hand;
/// `tests/photo-table` measures what passes.
const STRAY_MM: f64 = 1.2;
/// Two slits must cross at an angle of at least about 15 degrees. Chosen by hand; `tests/photo-table`
/// measures what passes.
const LEAST_CROSSING: f64 = 0.07;
/// Two slits more than this apart lead to opposite sides (150 degrees).
const OPPOSITE_RAD: f64 = 2.62;
/// How far a slit's own line usually misses the shaft's axis, mm: vanes are not glued straight.
const AXIS_SD_MM: f64 = 0.25;

/// One slit, as the segment its line covers on the plane.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Slit {
    /// One end, mm.
    pub from: PointMm,
    /// The other end, mm.
    pub to: PointMm,
}

impl Slit {
    /// Length, mm.
    pub fn length_mm(&self) -> f64 {
        (self.to - self.from).norm_mm()
    }

    /// Distance of `at` from the slit's whole line, signed, mm.
    fn miss_mm(&self, at: PointMm) -> f64 {
        let along = self.to - self.from;
        let away = at - self.from;
        (along.x_mm * away.y_mm - along.y_mm * away.x_mm) / along.norm_mm().max(1e-9)
    }

    /// Distance of `at` from the segment, mm.
    pub(super) fn distance_mm(&self, at: PointMm) -> f64 {
        let along = self.to - self.from;
        let away = at - self.from;
        let square = along.norm_mm().powi(2).max(1e-9);
        let t = (along.x_mm * away.x_mm + along.y_mm * away.y_mm) / square;
        let t = t.clamp(0.0, 1.0);
        (away - PointMm::new(along.x_mm * t, along.y_mm * t)).norm_mm()
    }
}

/// Where the slits' lines meet.
pub(super) struct Meeting {
    pub(super) at: PointMm,
    pub(super) worst_miss_mm: f64,
    pub(super) sd_mm: f64,
    pub(super) slits: Vec<Slit>,
}

impl Meeting {
    /// Whether all there is are two slits that lead away to opposite sides: a printed line on which a
    /// hole was shot looks like that, and vanes, a third of a turn apart, do not.
    pub(super) fn is_one_line(&self) -> bool {
        let [a, b] = &self.slits[..] else {
            return false;
        };
        let away = |slit: &Slit| {
            let ends = [slit.from - self.at, slit.to - self.at];
            Vector2::new(ends[0].x_mm + ends[1].x_mm, ends[0].y_mm + ends[1].y_mm)
        };
        away(a).angle(&away(b)) > OPPOSITE_RAD
    }
}

/// Thin, long parts of the opening that begin beside its body.
pub(super) fn find(opening: &Opening, body: &CellSet, relief: &Relief) -> Vec<Slit> {
    let cells = |mm: f64| mm / relief.step_mm();
    let wide = opening.faint.opened(cells(super::OPENING_MM));
    let thin = opening.faint.without(&wide.grown(cells(FRAYED_MM)));
    let beside = body.grown(cells(FRAYED_MM + BEGINS_WITHIN_MM));
    // Fibres bridge a slit: pieces this near to each other are one.
    let joined = thin.grown(cells(BRIDGE_MM)).parts();
    joined
        .iter()
        .filter(|part| part.and(&beside).count() > 0)
        .filter_map(|part| slender(&part.and(&thin), relief))
        .collect()
}

/// The part as a segment along its principal axis, if it is as long as a vane's and thin. Darker cells count
/// more: they lie in the middle of the slit.
fn slender(part: &CellSet, relief: &Relief) -> Option<Slit> {
    let cells: Vec<(Vector2<f64>, f64)> = part
        .members()
        .map(|(x, y)| {
            let at = relief.place(x as f64, y as f64);
            let depth = relief.at(x as f32, y as f32).abs();
            (Vector2::new(at.x_mm, at.y_mm), f64::from(depth))
        })
        .collect();
    let total: f64 = cells.iter().map(|c| c.1).sum();
    if total <= 0.0 {
        return None;
    }
    let middle = cells.iter().map(|c| c.0 * c.1).sum::<Vector2<f64>>() / total;
    let spread: Matrix2<f64> = cells
        .iter()
        .map(|c| (c.0 - middle) * (c.0 - middle).transpose() * c.1)
        .sum();
    let (axis, slenderness) = principal_axis(&spread);
    let along = cells.iter().map(|c| (c.0 - middle).dot(&axis));
    let (from, to) = along.fold((0.0, 0.0), |(a, b), t| (f64::min(a, t), f64::max(b, t)));
    let of_a_vane = (LEAST_LENGTH_MM..MOST_LENGTH_MM).contains(&(to - from));
    let place = |t: f64| PointMm::new(middle.x + axis.x * t, middle.y + axis.y * t);
    (of_a_vane && slenderness > LEAST_SLENDERNESS).then(|| Slit {
        from: place(from),
        to: place(to),
    })
}

/// Unit vector of the larger spread, and the ratio of the two.
fn principal_axis(spread: &Matrix2<f64>) -> (Vector2<f64>, f64) {
    let angle = 0.5 * (2.0 * spread.m12).atan2(spread.m11 - spread.m22);
    let axis = Vector2::new(angle.cos(), angle.sin());
    let along = (spread * axis).dot(&axis);
    let across = (spread.trace() - along).max(1e-9);
    (axis, along / across)
}

/// Least-squares meeting of all lines; `None` with fewer than two that cross.
pub(super) fn meeting(mut slits: Vec<Slit>) -> Option<Meeting> {
    loop {
        let (at, sd_mm) = least_squares(&slits)?;
        let miss = |s: &Slit| s.miss_mm(at).abs();
        let (worst, worst_miss_mm) = slits
            .iter()
            .map(miss)
            .enumerate()
            .max_by(|a, b| a.1.total_cmp(&b.1))?;
        if slits.len() <= 3 || worst_miss_mm <= STRAY_MM {
            return Some(Meeting {
                at,
                worst_miss_mm,
                sd_mm,
                slits,
            });
        }
        slits.remove(worst);
    }
}

/// Longer slits have better lines and weigh more.
fn least_squares(slits: &[Slit]) -> Option<(PointMm, f64)> {
    let mut normal = Matrix2::zeros();
    let mut right = Vector2::zeros();
    for slit in slits {
        let along = slit.to - slit.from;
        let length = along.norm_mm();
        let across = Vector2::new(-along.y_mm, along.x_mm) / length;
        let weight = (length / 10.0).min(1.5);
        normal += weight * across * across.transpose();
        right += weight * across * (across.x * slit.from.x_mm + across.y * slit.from.y_mm);
    }
    let crossing = normal.determinant() / normal.trace().powi(2).max(1e-12);
    if slits.len() < 2 || crossing < LEAST_CROSSING / 4.0 {
        return None;
    }
    let inverse = normal.try_inverse()?;
    let at = inverse * right;
    let sd = AXIS_SD_MM * (inverse.trace() / 2.0).sqrt();
    Some((PointMm::new(at.x, at.y), sd))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn spoke(at: PointMm, degrees: f64) -> Slit {
        let (sin, cos) = degrees.to_radians().sin_cos();
        Slit {
            from: at + PointMm::new(4.0 * cos, 4.0 * sin),
            to: at + PointMm::new(14.0 * cos, 14.0 * sin),
        }
    }

    #[test]
    fn three_vanes_meet_at_the_axis() {
        let axis = PointMm::new(3.0, -2.0);
        let slits = [90.0, 210.0, 330.0].map(|a| spoke(axis, a)).to_vec();
        let found = meeting(slits).unwrap();
        assert!((found.at - axis).norm_mm() < 1e-9);
        assert!(found.worst_miss_mm < 1e-9);
    }

    #[test]
    fn a_stray_fourth_line_is_dropped() {
        let axis = PointMm::new(3.0, -2.0);
        let mut slits = [90.0, 210.0, 330.0].map(|a| spoke(axis, a)).to_vec();
        slits.push(spoke(PointMm::new(11.0, 6.0), 0.0));
        let found = meeting(slits).unwrap();
        assert_eq!(found.slits.len(), 3);
        assert!((found.at - axis).norm_mm() < 1e-9);
    }

    #[test]
    fn a_printed_line_through_a_hole_is_no_pair_of_vanes() {
        let at = PointMm::new(3.0, -2.0);
        let of = |bearings: &[f64]| {
            let slits = bearings.iter().map(|b| spoke(at, *b)).collect();
            meeting(slits).unwrap().is_one_line()
        };
        assert!(of(&[60.0, 218.0]) && of(&[60.0, 262.0]));
        assert!(!of(&[90.0, 210.0]) && !of(&[330.0, 90.0]));
        assert!(!of(&[60.0, 252.0, 330.0]));
    }

    #[test]
    fn parallel_slits_and_a_single_one_do_not_meet() {
        let a = spoke(PointMm::default(), 20.0);
        let b = spoke(PointMm::new(1.0, 0.0), 23.0);
        assert!(meeting(vec![a, b]).is_none());
        assert!(meeting(vec![a]).is_none());
    }
}
