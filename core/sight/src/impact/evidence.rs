//! What speaks for a hole, place by place: how unlike the paper around it is, and how much like
//! the inside of a hole. In colour and without a sign, so that a dark hole, daylight behind white
//! paper and an orange backstop behind cream are all the same.

use super::colours::{Colour, Colours, WHITE, distance, from_paper};
use super::relief::{Relief, level};
use crate::frame::PointMm;

/// Colours of the paper around are taken from this many places.
const SAMPLES: usize = 96;
const STRIDE: usize = 7919;
/// Samples this near to the inside's colour, as a share of the usual distance, are another hole. Chosen
/// by hand, looking at the photographs of `tests/real-table`.
const OTHER_HOLE: f32 = 0.35;
/// More than this share of the samples is no other hole but print of that colour: one hole beside this one covers
/// a sixth of where they are taken from, two a third.
const MOST_OTHER_HOLES: f64 = 0.4;
/// Grey levels beyond twice the noise at which a colour begins to be unlike the paper's, and over how
/// many more it becomes so altogether. Chosen by hand, looking at the photographs of
/// `tests/real-table`.
const UNLIKE: (f32, f32) = (8.0, 40.0);
/// Grey levels beyond the noise at which an inside is unlike the paper altogether. Chosen by hand,
/// looking at the photographs of `tests/real-table`.
const UNLIKE_CORE: f32 = 20.0;
/// Share of the way from the paper's colour to the inside's where the inside begins, and how much
/// further it is the inside altogether. Chosen by hand, looking at the photographs of
/// `tests/real-table`.
const INSIDE: (f32, f32) = (0.5, 0.25);
/// The same where daylight fills the sensor: what is a little less white is torn paper that glows. Chosen by hand;
/// `tests/photo-table` measures what passes.
const INSIDE_WHITE: (f32, f32) = (0.85, 0.1);

/// How far the picture speaks for a hole at each place, and its sums over discs.
pub(super) struct Evidence {
    /// Where the inside of the hole is seen, 0 to 1.
    pub(super) inside: DiscSums,
    /// Where anything but the paper around is seen, 0 to 1: inside, flaps, torn fibres.
    pub(super) unlike: DiscSums,
}

impl Evidence {
    /// Compares a patch with the paper between two distances from `middle`, mm, and with the
    /// colour of the inside.
    pub(super) fn of(seen: &Colours, core: Colour, middle: PointMm, ring_mm: (f64, f64)) -> Self {
        let ring = seen.between(middle, ring_mm.0, ring_mm.1);
        // Spread by a stride that shares no factor with any row.
        let pick = |k: usize| {
            ring.get(k * STRIDE % ring.len().max(1))
                .map(|&place| seen.at(place))
        };
        let samples: Vec<Colour> = (0..SAMPLES).filter_map(pick).collect();
        let away: Vec<f32> = samples.iter().map(|&s| distance(s, core)).collect();
        let contrast = level(away.clone());
        let is_hole = |away: f32| away <= OTHER_HOLE * contrast;
        let alike = away.iter().filter(|away| is_hole(**away)).count();
        let printed = alike as f64 > MOST_OTHER_HOLES * samples.len() as f64;
        let is_paper = |(_, away): &(Colour, f32)| printed || !is_hole(*away);
        let paper: Vec<Colour> = samples
            .into_iter()
            .zip(away)
            .filter(is_paper)
            .map(|p| p.0)
            .collect();
        let from_paper = from_paper(seen, &paper);
        let noise = level(ring.iter().map(|&k| from_paper[k]).collect());
        let white = core.iter().all(|c| *c >= WHITE);
        let begins = if white { INSIDE_WHITE } else { INSIDE };
        let beyond = |d: f32| d - 2.0 * noise - UNLIKE.0;
        let inside = |k: usize| {
            let (paper, core) = (from_paper[k], distance(seen.at(k), core));
            let nearer = (paper / (paper + core + 1e-3) - begins.0) / begins.1;
            nearer.clamp(0.0, 1.0) * (beyond(paper) / UNLIKE_CORE).clamp(0.0, 1.0)
        };
        let inside: Vec<f32> = (0..seen.len()).map(inside).collect();
        let unlike = from_paper
            .iter()
            .map(|&d| (beyond(d) / UNLIKE.1).clamp(0.0, 1.0));
        let unlike = unlike
            .zip(&inside)
            .map(|(u, &i)| u.max(i))
            .collect::<Vec<f32>>();
        Self {
            inside: DiscSums::new(seen.grid(), &inside),
            unlike: DiscSums::new(seen.grid(), &unlike),
        }
    }
}

/// Sums of a map along its rows, so that the sum over a disc costs two look-ups a row.
pub(super) struct DiscSums {
    grid: Grid,
    sums: Vec<f32>,
}

/// Where a map lies on the plane.
#[derive(Clone, Copy)]
pub(super) struct Grid {
    width: usize,
    height: usize,
    step_mm: f64,
    top_left: PointMm,
}

/// A disc on a [`Grid`], around a place: moved by whole cells its rows stay what they are.
pub(super) struct Disc {
    rows: Vec<Span>,
    area_mm2: f64,
}

/// One row of a disc: where it is, and its two ends.
struct Span {
    row: isize,
    from: End,
    to: End,
}

/// A fractional column: the cell and the share of it to the left.
#[derive(Clone, Copy)]
struct End {
    cell: isize,
    share: f32,
}

impl End {
    fn at(column: f64) -> Self {
        let cell = column.floor();
        Self {
            cell: cell as isize,
            share: (column - cell) as f32,
        }
    }
}

impl Grid {
    /// The disc of a radius around a place.
    pub(super) fn disc(&self, centre: PointMm, radius_mm: f64) -> Disc {
        let column = (centre.x_mm - self.top_left.x_mm) / self.step_mm + 0.5;
        let row = (self.top_left.y_mm - centre.y_mm) / self.step_mm;
        let reach = radius_mm / self.step_mm;
        let rows = (row - reach).ceil() as isize..=(row + reach).floor() as isize;
        let span = |y: isize| {
            let half = (reach * reach - (y as f64 - row).powi(2)).max(0.0).sqrt();
            Span {
                row: y,
                from: End::at(column - half),
                to: End::at(column + half),
            }
        };
        Disc {
            rows: rows.map(span).collect(),
            area_mm2: area_mm2(radius_mm),
        }
    }
}

impl DiscSums {
    pub(super) fn new(relief: &Relief, values: &[f32]) -> Self {
        let width = relief.width();
        let mut sums = Vec::with_capacity((width + 1) * relief.height());
        for row in values.chunks_exact(width) {
            let mut sum = 0.0;
            sums.push(0.0);
            sums.extend(row.iter().map(|value| {
                sum += value;
                sum
            }));
        }
        let grid = Grid {
            width,
            height: relief.height(),
            step_mm: relief.step_mm(),
            top_left: relief.place(0.0, 0.0),
        };
        Self { grid, sums }
    }

    /// Where the map lies.
    pub(super) fn grid(&self) -> &Grid {
        &self.grid
    }

    /// The map at the cell nearest to a place; 0 beyond it.
    pub(super) fn at(&self, place: PointMm) -> f32 {
        let Grid {
            width,
            height,
            step_mm,
            top_left,
        } = self.grid;
        let column = ((place.x_mm - top_left.x_mm) / step_mm).round();
        let row = ((top_left.y_mm - place.y_mm) / step_mm).round();
        let on = (0.0..width as f64).contains(&column) && (0.0..height as f64).contains(&row);
        let first = row as usize * (width + 1) + column as usize;
        if on {
            self.sums[first + 1] - self.sums[first]
        } else {
            0.0
        }
    }

    /// The map summed over a disc moved by whole cells to the right and down, mm^2.
    fn sum_mm2(&self, disc: &Disc, (right, down): (isize, isize)) -> f64 {
        let Grid {
            width,
            height,
            step_mm,
            ..
        } = self.grid;
        let rows = disc.rows.iter().filter_map(|span| {
            let row = usize::try_from(span.row + down)
                .ok()
                .filter(|y| *y < height)?;
            let sums = self.sums.get(row * (width + 1)..(row + 1) * (width + 1))?;
            Some(f64::from(
                until(sums, span.to, right) - until(sums, span.from, right),
            ))
        });
        rows.sum::<f64>() * step_mm * step_mm
    }

    /// The map's mean over a disc moved by whole cells.
    pub(super) fn mean(&self, disc: &Disc, by: (isize, isize)) -> f64 {
        self.sum_mm2(disc, by) / disc.area_mm2
    }

    /// The map's mean between two discs around one place, both moved by whole cells.
    pub(super) fn mean_between(&self, inner: &Disc, outer: &Disc, by: (isize, isize)) -> f64 {
        let ring = self.sum_mm2(outer, by) - self.sum_mm2(inner, by);
        ring / (outer.area_mm2 - inner.area_mm2)
    }
}

/// Sum of a row from its start to a fractional column, from its running sums.
fn until(sums: &[f32], end: End, right: isize) -> f32 {
    let last = sums.len() - 1;
    let Ok(cell) = usize::try_from(end.cell + right) else {
        return 0.0;
    };
    let at = |k: usize| sums[k.min(last)];
    at(cell) + end.share * (at(cell + 1) - at(cell))
}

fn area_mm2(radius_mm: f64) -> f64 {
    std::f64::consts::PI * radius_mm * radius_mm
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Cream paper with a grey line, and a disc of 3 mm in another colour.
    fn patch(disc: Colour) -> Colours {
        let at = |p: PointMm| {
            let (hole, line) = (p.norm_mm() < 3.0, (p.y_mm - 2.0).abs() < 0.5);
            match (hole, line) {
                (true, _) => disc,
                (_, true) => [140.0, 135.0, 120.0],
                _ => [225.0, 220.0, 200.0],
            }
        };
        Colours::new(
            [0, 1, 2].map(|c: usize| Relief::sample(PointMm::default(), 10.0, 0.2, |p| at(p)[c])),
        )
    }

    #[test]
    fn a_hole_of_any_colour_is_seen_and_a_printed_line_is_paper() {
        for disc in [
            [10.0, 10.0, 12.0],
            [255.0, 255.0, 255.0],
            [230.0, 120.0, 60.0],
        ] {
            let seen = patch(disc);
            let evidence = Evidence::of(&seen, disc, PointMm::default(), (5.0, 9.0));
            let mean = |sums: &DiscSums, at: PointMm, radius_mm: f64| {
                sums.mean(&sums.grid().disc(at, radius_mm), (0, 0))
            };
            let hole = mean(&evidence.inside, PointMm::default(), 2.8);
            assert!(hole > 0.95, "{disc:?}: {hole}");
            let beside = mean(&evidence.unlike, PointMm::new(6.0, 2.0), 2.0);
            assert!(beside < 0.15, "{disc:?}: {beside}");
        }
    }

    /// Black print with a yellow zone beside: the print is paper, and the torn fibres in it are not.
    #[test]
    fn black_print_around_a_hole_is_no_other_hole() {
        let at = |p: PointMm| match (p.norm_mm(), p.y_mm < 0.5) {
            (r, _) if (2.4..3.4).contains(&r) => [225.0, 220.0, 200.0],
            (_, true) => [240.0, 210.0, 40.0],
            _ => [24.0, 23.0, 23.0],
        };
        let seen = Colours::new(
            [0, 1, 2].map(|c: usize| Relief::sample(PointMm::default(), 10.0, 0.2, |p| at(p)[c])),
        );
        let core = [22.0, 22.0, 22.0];
        let evidence = Evidence::of(&seen, core, PointMm::default(), (5.0, 9.0));
        let mean = |sums: &DiscSums, at: PointMm| sums.mean(&sums.grid().disc(at, 1.0), (0, 0));
        assert!(mean(&evidence.inside, PointMm::new(0.0, 6.0)) < 0.05);
        assert!(mean(&evidence.unlike, PointMm::new(0.0, 6.0)) < 0.05);
        assert!(evidence.unlike.at(PointMm::new(0.0, 2.9)) > 0.95);
    }

    #[test]
    fn the_inside_of_a_dark_hole_is_the_darkest_colour_near() {
        let seen = patch([10.0, 12.0, 14.0]);
        let dark = seen.darkest(PointMm::new(1.0, 0.0), 4.0);
        assert!(distance(dark, [10.0, 12.0, 14.0]) < 1e-3, "{dark:?}");
        let paper = seen.usual(PointMm::new(7.0, -1.0), 1.0);
        assert!(distance(paper, [225.0, 220.0, 200.0]) < 1e-3, "{paper:?}");
    }

    #[test]
    fn a_mean_over_a_disc_is_its_share() {
        let whole = Relief::sample(PointMm::new(3.0, -2.0), 8.0, 0.2, |_| 0.0);
        let half: Vec<f32> = (0..whole.values().len())
            .map(|k| f32::from(u8::from(k % whole.width() < whole.width() / 2)))
            .collect();
        let sums = DiscSums::new(&whole, &half);
        let disc = |x_mm: f64, radius_mm| sums.grid().disc(PointMm::new(x_mm, -2.0), radius_mm);
        let mean = sums.mean(&disc(3.0, 3.0), (0, 0));
        assert!((mean - 0.5).abs() < 0.03, "{mean}");
        let between = sums.mean_between(&disc(-1.0, 1.0), &disc(-1.0, 2.0), (0, 0));
        assert!((between - 1.0).abs() < 0.03);
        // Ten cells of 0.2 mm to the left, and half beyond the border.
        let moved = sums.mean(&disc(3.1, 2.0), (-10, 0)) - sums.mean(&disc(1.1, 2.0), (0, 0));
        assert!(moved.abs() < 1e-6, "{moved}");
        let cut = sums.mean(&disc(-5.0, 2.0), (-40, 3));
        assert!(cut < 1e-6, "{cut}");
    }
}
