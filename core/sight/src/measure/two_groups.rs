//! Parts marks into two groups, so that a person only has to say which is which.

use crate::frame::PointMm;

/// Directions tried, over half a turn.
const DIRECTIONS: usize = 60;

/// Parts `at` into a group of `first` and one of the rest by a straight line, so that each lies as
/// close together as can be: for each mark, whether it is of the first. `None` where the counts do
/// not fit or leave one group empty. Groups of unlike size are tried on either side of the line.
pub fn two_groups(at: &[PointMm], first: usize) -> Option<Vec<bool>> {
    let rest = at.len().checked_sub(first)?;
    if first == 0 || rest == 0 || !at.iter().all(|p| p.x_mm.is_finite() && p.y_mm.is_finite()) {
        return None;
    }
    let turn = |k: usize| std::f64::consts::PI * k as f64 / DIRECTIONS as f64;
    let parted = (0..DIRECTIONS).flat_map(|k| {
        let order = along(at, turn(k));
        let head = of_first(&order[..first], at.len());
        let tail = of_first(&order[rest..], at.len());
        [head, tail]
    });
    parted.min_by(|a, b| scatter(at, a).total_cmp(&scatter(at, b)))
}

/// The marks in the order they lie in a direction, rad.
fn along(at: &[PointMm], turn: f64) -> Vec<usize> {
    let (sin, cos) = turn.sin_cos();
    let place = |k: usize| at[k].x_mm * cos + at[k].y_mm * sin;
    let mut order: Vec<usize> = (0..at.len()).collect();
    order.sort_by(|a, b| place(*a).total_cmp(&place(*b)));
    order
}

fn of_first(chosen: &[usize], count: usize) -> Vec<bool> {
    (0..count).map(|k| chosen.contains(&k)).collect()
}

/// Sum of squares about the middles of both groups, mm2.
fn scatter(at: &[PointMm], first: &[bool]) -> f64 {
    [true, false]
        .into_iter()
        .map(|group| {
            let of_group = at.iter().zip(first).filter(|(_, of)| **of == group);
            let points: Vec<PointMm> = of_group.map(|(p, _)| *p).collect();
            let n = points.len() as f64;
            let middle_x = points.iter().map(|p| p.x_mm).sum::<f64>() / n;
            let middle_y = points.iter().map(|p| p.y_mm).sum::<f64>() / n;
            let apart = points
                .iter()
                .map(|p| (p.x_mm - middle_x).powi(2) + (p.y_mm - middle_y).powi(2));
            apart.sum::<f64>()
        })
        .sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn group(x_mm: f64, y_mm: f64, count: usize) -> Vec<PointMm> {
        let spots = [(-9.0, 6.0), (7.0, 9.0), (4.0, -11.0), (-3.0, -5.0)];
        let at = spots.into_iter().take(count);
        at.map(|(x, y)| PointMm::new(x_mm + x, y_mm + y)).collect()
    }

    #[test]
    fn groups_apart_in_any_direction_are_told_apart() {
        for (x, y) in [(60.0, 0.0), (0.0, -55.0), (-40.0, 45.0)] {
            let all = [group(0.0, 0.0, 3), group(x, y, 3)].concat();
            let parted = two_groups(&all, 3).unwrap();
            assert!(
                parted == [[true; 3], [false; 3]].concat()
                    || parted == [[false; 3], [true; 3]].concat()
            );
        }
    }

    #[test]
    fn groups_of_unlike_size_are_told_by_their_counts() {
        let all = [group(50.0, 0.0, 4), group(0.0, 0.0, 2)].concat();
        assert_eq!(
            two_groups(&all, 2).unwrap(),
            [vec![false; 4], vec![true; 2]].concat()
        );
        assert_eq!(
            two_groups(&all, 4).unwrap(),
            [vec![true; 4], vec![false; 2]].concat()
        );
    }

    #[test]
    fn counts_that_do_not_fit_part_nothing() {
        assert_eq!(two_groups(&group(0.0, 0.0, 3), 3), None);
        assert_eq!(two_groups(&group(0.0, 0.0, 3), 0), None);
        assert_eq!(two_groups(&[], 1), None);
    }
}
