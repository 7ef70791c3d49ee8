//! The opening in the paper as a set of grid cells.

use crate::frame::PointMm;
use crate::impact::Relief;

/// The opening must differ from the paper by at least this, grey levels. Chosen by hand;
/// `tests/photo-table` measures what passes.
const LEAST_CONTRAST: i16 = 30;
/// The darkest part of the opening is looked for this far around the tap, mm.
const NEAR_MM: f64 = 12.0;
/// A tap this far beside the opening still means it, mm. Chosen by hand; not tuned.
const TAP_MISS_MM: f64 = 5.0;
/// The body is what has at least this share of the opening's contrast. Half way between paper and
/// opening.
const BODY_SHARE: f64 = 0.5;
/// A slit is narrower than the blur and keeps only this share of it. Chosen by hand;
/// `tests/photo-table` measures what passes.
const SLIT_SHARE: f64 = 0.2;

/// A set of cells of a grid.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct CellSet {
    pub(super) width: usize,
    pub(super) cells: Vec<bool>,
}

/// An opening in the paper.
pub(super) struct Opening {
    /// What is certainly open, around the tap.
    pub(super) core: CellSet,
    /// Everything that may be open, anywhere.
    pub(super) faint: CellSet,
}

/// The opening at or next to `tap`, darker than the paper or, failing that, lighter.
pub(super) fn opening_under(relief: &Relief, tap: PointMm) -> Option<Opening> {
    let near = near_values(relief, tap);
    let dark = percentile(near.clone(), 5)?;
    let light = percentile(near, 95)?;
    let darker = (-dark >= LEAST_CONTRAST).then(|| Opening::beyond(relief, tap, dark));
    let lighter = || (light >= LEAST_CONTRAST).then(|| Opening::beyond(relief, tap, light));
    darker.flatten().or_else(|| lighter().flatten())
}

impl Opening {
    /// The cells near `tap` whose value goes from 0 towards `full` far enough.
    fn beyond(relief: &Relief, tap: PointMm, full: i16) -> Option<Self> {
        let cells = |share: f64| {
            let least = share * f64::from(full.abs());
            let sign = full.signum();
            let open = relief.values().iter().map(|&v| f64::from(v * sign) > least);
            CellSet {
                width: relief.width(),
                cells: open.collect(),
            }
        };
        let grid = relief.grid(tap);
        Some(Self {
            core: cells(BODY_SHARE).part_near(grid, TAP_MISS_MM / relief.step_mm())?,
            faint: cells(SLIT_SHARE),
        })
    }
}

fn near_values(relief: &Relief, tap: PointMm) -> Vec<i16> {
    let width = relief.width();
    let near = |i: usize| {
        let place = relief.place((i % width) as f64, (i / width) as f64);
        (place - tap).norm_mm() < NEAR_MM
    };
    let values = relief.values().iter().enumerate();
    values.filter(|(i, _)| near(*i)).map(|(_, &v)| v).collect()
}

fn percentile(mut values: Vec<i16>, percent: usize) -> Option<i16> {
    let at = values.len().checked_sub(1)? * percent / 100;
    Some(*values.select_nth_unstable(at).1)
}

impl CellSet {
    pub(super) fn height(&self) -> usize {
        self.cells.len() / self.width.max(1)
    }

    pub(super) fn count(&self) -> usize {
        self.cells.iter().filter(|&&c| c).count()
    }

    /// Columns and rows of the cells in the set.
    pub(super) fn members(&self) -> impl Iterator<Item = (usize, usize)> + '_ {
        let cells = self.cells.iter().enumerate();
        cells
            .filter(|(_, c)| **c)
            .map(|(i, _)| (i % self.width, i / self.width))
    }

    pub(super) fn has(&self, column: usize, row: usize) -> bool {
        column < self.width && self.cells.get(row * self.width + column) == Some(&true)
    }

    pub(super) fn touches_border(&self) -> bool {
        let (last_column, last_row) = (self.width - 1, self.height() - 1);
        self.members()
            .any(|(x, y)| x == 0 || y == 0 || x == last_column || y == last_row)
    }

    /// Cells of this set that are not in the other.
    pub(super) fn without(&self, other: &Self) -> Self {
        let pairs = self.cells.iter().zip(&other.cells);
        Self {
            width: self.width,
            cells: pairs.map(|(&a, &b)| a && !b).collect(),
        }
    }

    /// The connected part with a cell nearest to `(column, row)`, within `reach` cells.
    fn part_near(&self, (column, row): (f64, f64), reach: f64) -> Option<Self> {
        let away = |c: &(usize, usize)| (c.0 as f64 - column).hypot(c.1 as f64 - row);
        let nearest = self
            .members()
            .map(|cell| (away(&cell), cell))
            .min_by(|a, b| a.0.total_cmp(&b.0))?;
        (nearest.0 <= reach).then(|| self.parts_from(std::iter::once(nearest.1)).pop())?
    }

    /// Cells in both sets.
    pub(super) fn and(&self, other: &Self) -> Self {
        let pairs = self.cells.iter().zip(&other.cells);
        Self {
            width: self.width,
            cells: pairs.map(|(&a, &b)| a && b).collect(),
        }
    }

    /// All connected parts (eight neighbours).
    pub(super) fn parts(&self) -> Vec<Self> {
        self.parts_from(self.members())
    }

    /// The largest connected part.
    pub(super) fn largest(&self) -> Self {
        let parts = self.parts();
        let largest = parts.into_iter().max_by_key(Self::count);
        largest.unwrap_or_else(|| self.clone())
    }

    fn parts_from(&self, starts: impl Iterator<Item = (usize, usize)>) -> Vec<Self> {
        let mut left = self.cells.clone();
        let mut parts = Vec::new();
        for (x, y) in starts {
            if left.get(y * self.width + x) == Some(&true) {
                parts.push(self.flood(&mut left, y * self.width + x));
            }
        }
        parts
    }

    /// Moves the part around `start` from `left` into a set of its own.
    fn flood(&self, left: &mut [bool], start: usize) -> Self {
        let mut cells = vec![false; left.len()];
        let mut open = vec![start];
        while let Some(at) = open.pop() {
            let Some(cell) = left.get_mut(at).filter(|c| **c) else {
                continue;
            };
            *cell = false;
            if let Some(cell) = cells.get_mut(at) {
                *cell = true;
            }
            let (x, y) = ((at % self.width) as isize, (at / self.width) as isize);
            for (dx, dy) in NEIGHBOURS {
                let (x, y) = (x + dx, y + dy);
                if x >= 0 && y >= 0 && x < self.width as isize {
                    open.push(y as usize * self.width + x as usize);
                }
            }
        }
        Self {
            width: self.width,
            cells,
        }
    }

    /// What a disc of `radius` cells reaches while staying inside the set (erosion, dilation).
    pub(super) fn opened(&self, radius: f64) -> Self {
        let outside = self.inverted().grown(radius);
        outside.inverted().grown(radius)
    }

    fn inverted(&self) -> Self {
        Self {
            width: self.width,
            cells: self.cells.iter().map(|c| !c).collect(),
        }
    }

    /// Every cell within `radius` cells of the set: by the distance to it along each row, and one
    /// look at the rows the disc covers.
    pub(super) fn grown(&self, radius: f64) -> Self {
        let reach = radius as isize;
        let half_widths: Vec<(isize, u16)> = (-reach..=reach)
            .map(|dy| (dy, (radius * radius - (dy * dy) as f64).sqrt() as u16))
            .collect();
        let distances: Vec<u16> = self
            .cells
            .chunks_exact(self.width)
            .flat_map(row_distances)
            .collect();
        let height = self.height() as isize;
        let covered = |x: usize, y: isize| {
            half_widths.iter().any(|&(dy, half)| {
                let row = y + dy;
                row >= 0
                    && row < height
                    && distances
                        .get(row as usize * self.width + x)
                        .is_some_and(|&d| d <= half)
            })
        };
        let cells = (0..height).flat_map(|y| (0..self.width).map(move |x| (x, y)));
        Self {
            width: self.width,
            cells: cells.map(|(x, y)| covered(x, y)).collect(),
        }
    }
}

const NEIGHBOURS: [(isize, isize); 8] = [
    (-1, -1),
    (0, -1),
    (1, -1),
    (-1, 0),
    (1, 0),
    (-1, 1),
    (0, 1),
    (1, 1),
];

/// Distance along the row to the nearest cell of the set.
fn row_distances(row: &[bool]) -> Vec<u16> {
    let mut distances = vec![u16::MAX; row.len()];
    let mut from_left = u16::MAX;
    for (d, &cell) in distances.iter_mut().zip(row) {
        from_left = if cell { 0 } else { from_left.saturating_add(1) };
        *d = from_left;
    }
    let mut from_right = u16::MAX;
    for (d, &cell) in distances.iter_mut().zip(row).rev() {
        from_right = if cell {
            0
        } else {
            from_right.saturating_add(1)
        };
        *d = (*d).min(from_right);
    }
    distances
}

#[cfg(test)]
mod tests {
    use super::*;

    fn drawn(rows: &[&str]) -> CellSet {
        CellSet {
            width: rows[0].len(),
            cells: rows
                .iter()
                .flat_map(|r| r.chars())
                .map(|c| c == '#')
                .collect(),
        }
    }

    #[test]
    fn opening_removes_a_thin_slit_and_keeps_the_body() {
        let set = drawn(&[
            "...........",
            "..#####....",
            "..#########",
            "..#####....",
            "..#####....",
            "..#####....",
            "...........",
        ]);
        let body = set.opened(2.0);
        let slit = set.without(&body);
        assert!(body.has(4, 3) && body.has(3, 2));
        assert!(slit.has(9, 2) && !body.has(9, 2));
    }

    #[test]
    fn parts_are_counted_across_corners() {
        let set = drawn(&["#..#", ".#.#", "...."]);
        let sizes: Vec<usize> = set.parts().iter().map(CellSet::count).collect();
        assert_eq!(sizes, [2, 2]);
        assert_eq!(set.part_near((3.0, 2.0), 1.5).unwrap().count(), 2);
        assert!(set.part_near((1.0, 2.9), 0.5).is_none());
    }
}
