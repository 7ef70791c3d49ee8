//! The light on the paper around a tear, so that a shadow is not taken for an opening.

use crate::impact::Relief;

/// Cells a side over which the paper's brightness is taken.
const CELLS: usize = 8;
/// Most of a cell is paper even where a tear crosses it: its bright quartile.
const PAPER_PERCENT: usize = 75;

/// Subtracts the paper's own brightness everywhere.
pub(super) fn subtract(relief: &mut Relief) {
    let levels = smoothed(&cell_levels(relief));
    let (width, height) = (relief.width(), relief.height());
    let cell_of = |v: usize, size: usize| v as f32 * CELLS as f32 / size as f32 - 0.5;
    for (index, value) in relief.values_mut().iter_mut().enumerate() {
        let (x, y) = (
            cell_of(index % width, width),
            cell_of(index / width, height),
        );
        *value -= between(&levels, x, y).round() as i16;
    }
}

fn cell_levels(relief: &Relief) -> Vec<i16> {
    let (width, height) = (relief.width(), relief.height());
    let mut cells = vec![Vec::new(); CELLS * CELLS];
    for (index, &value) in relief.values().iter().enumerate() {
        let (x, y) = (
            index % width * CELLS / width,
            index / width * CELLS / height,
        );
        if let Some(cell) = cells.get_mut(y * CELLS + x) {
            cell.push(value);
        }
    }
    cells.into_iter().map(paper_level).collect()
}

fn paper_level(mut values: Vec<i16>) -> i16 {
    let at = values.len() * PAPER_PERCENT / 100;
    if at < values.len() {
        *values.select_nth_unstable(at).1
    } else {
        0
    }
}

/// Median of every cell and its neighbours: a cell that is mostly hole takes theirs.
fn smoothed(levels: &[i16]) -> Vec<i16> {
    (0..levels.len())
        .map(|index| {
            let (x, y) = (index % CELLS, index / CELLS);
            let mut around: Vec<i16> = (y.saturating_sub(1)..(y + 2).min(CELLS))
                .flat_map(|row| (x.saturating_sub(1)..(x + 2).min(CELLS)).map(move |c| (row, c)))
                .filter_map(|(row, column)| levels.get(row * CELLS + column).copied())
                .collect();
            let middle = around.len() / 2;
            *around.select_nth_unstable(middle).1
        })
        .collect()
}

fn between(levels: &[i16], x: f32, y: f32) -> f32 {
    let last = (CELLS - 1) as f32;
    let (x, y) = (x.clamp(0.0, last), y.clamp(0.0, last));
    let (left, top) = (x as usize, y as usize);
    let (right, bottom) = ((left + 1).min(CELLS - 1), (top + 1).min(CELLS - 1));
    let (fx, fy) = (x - left as f32, y - top as f32);
    let at = |x: usize, y: usize| levels.get(y * CELLS + x).map_or(0.0, |&v| f32::from(v));
    let above = at(left, top) + (at(right, top) - at(left, top)) * fx;
    let below = at(left, bottom) + (at(right, bottom) - at(left, bottom)) * fx;
    above + (below - above) * fy
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::frame::PointMm;

    #[test]
    fn a_shadow_goes_and_a_hole_stays() {
        let light = |p: PointMm| 200.0 - 2.0 * p.x_mm;
        let mut relief = Relief::sample(PointMm::default(), 20.0, 0.5, |p| {
            if p.norm_mm() < 4.0 {
                20.0
            } else {
                light(p) as f32
            }
        });
        subtract(&mut relief);
        let at = |x: f64, y: f64| {
            let (column, row) = relief.grid(PointMm::new(x, y));
            relief.at(column as f32, row as f32)
        };
        assert!(at(0.0, 0.0) < -150.0);
        for x in [-15.0, -8.0, 8.0, 15.0] {
            assert!(at(x, 6.0).abs() < 8.0, "{}", at(x, 6.0));
        }
    }
}
