//! A patch in colour, and how far its colours lie from one another and from the paper's.

use super::relief::{Relief, level};
use crate::frame::PointMm;

/// Red, green and blue, grey levels.
pub(super) type Colour = [f32; 3];

/// The darkest share of the places near a tap is the inside of a dark hole, if there is one. Chosen by
/// hand, looking at the photographs of `tests/real-table`.
const DARKEST_SHARE: f64 = 0.03;
/// What is at least as bright, in all channels, fills the sensor but for a grey level of the JPEG's.
pub(super) const WHITE: f32 = 254.0;
/// Places compared with the paper at once.
const LANES: usize = 8;

/// A straight-on patch in colour: red, green and blue on one grid.
pub struct Colours([Relief; 3]);

impl Colours {
    /// Joins three channels; all of one size and place.
    pub fn new(channels: [Relief; 3]) -> Self {
        Self(channels)
    }

    /// The dimmest channel of each place.
    pub(super) fn dimmest(&self) -> Relief {
        let [red, green, blue] = &self.0;
        let mut dimmest = red.clone();
        let others = green.values().iter().zip(blue.values());
        for (value, (green, blue)) in dimmest.values_mut().iter_mut().zip(others) {
            *value = (*value).min(*green).min(*blue);
        }
        dimmest
    }

    pub(super) fn grid(&self) -> &Relief {
        &self.0[0]
    }

    /// The colour nearest to a place.
    pub(super) fn near(&self, place: PointMm) -> Colour {
        let grid = self.grid();
        let (column, row) = grid.grid(place);
        let within = |v: f64, size: usize| v.round().clamp(0.0, size as f64 - 1.0) as usize;
        let (column, row) = (within(column, grid.width()), within(row, grid.height()));
        self.at(row * grid.width() + column)
    }

    pub(super) fn at(&self, index: usize) -> Colour {
        [0, 1, 2].map(|c: usize| f32::from(self.0[c].values().get(index).copied().unwrap_or(0)))
    }

    pub(super) fn len(&self) -> usize {
        self.grid().values().len()
    }

    /// The indices of the places between two distances from `middle`, mm.
    pub(super) fn between(&self, middle: PointMm, from_mm: f64, to_mm: f64) -> Vec<usize> {
        let (grid, width) = (self.grid(), self.grid().width());
        let away_mm = |k: &usize| {
            let place = grid.place((k % width) as f64, (k / width) as f64);
            (place - middle).norm_mm()
        };
        let inside = |k: &usize| (from_mm..to_mm).contains(&away_mm(k));
        (0..self.len()).filter(inside).collect()
    }

    /// Mean colour of the darkest places within `reach_mm` of `middle`.
    pub(super) fn darkest(&self, middle: PointMm, reach_mm: f64) -> Colour {
        let mut near = self.between(middle, 0.0, reach_mm);
        let brightness = |k: &usize| self.at(*k).into_iter().fold(0.0, f32::max);
        near.sort_by(|a, b| brightness(a).total_cmp(&brightness(b)));
        near.truncate(((near.len() as f64 * DARKEST_SHARE) as usize).max(3));
        let mean = |c: usize| near.iter().map(|&k| self.at(k)[c]).sum::<f32>() / near.len() as f32;
        [0, 1, 2].map(mean)
    }

    /// Median colour within `reach_mm` of `middle`.
    pub(super) fn usual(&self, middle: PointMm, reach_mm: f64) -> Colour {
        let near = self.between(middle, 0.0, reach_mm);
        let of = |c: usize| near.iter().map(|&k| self.at(k)[c]).collect();
        [0, 1, 2].map(|c| level(of(c)))
    }
}

pub(super) fn distance(a: Colour, b: Colour) -> f32 {
    square_distance(a, b).sqrt()
}

fn square_distance(a: Colour, b: Colour) -> f32 {
    let square = |k: usize| (a[k] - b[k]).powi(2);
    square(0) + square(1) + square(2)
}

/// Distance of each place's colour to the nearest colour that is common among the paper's: the third
/// nearest of them, so that a stray fibre is not taken for paper. 0 where there are fewer than three.
pub(super) fn from_paper(seen: &Colours, paper: &[Colour]) -> Vec<f32> {
    let mut away = Vec::with_capacity(seen.len());
    for first in (0..seen.len()).step_by(LANES) {
        let colours: [Colour; LANES] = std::array::from_fn(|lane| seen.at(first + lane));
        let count = LANES.min(seen.len() - first);
        away.extend(third_nearest(colours, paper).into_iter().take(count));
    }
    away
}

/// The three nearest are kept in order without a branch, of several places at once.
fn third_nearest(colours: [Colour; LANES], paper: &[Colour]) -> [f32; LANES] {
    let less = |a: f32, b: f32| if a < b { a } else { b };
    let more = |a: f32, b: f32| if a > b { a } else { b };
    let channel = |c: usize| colours.map(|colour| colour[c]);
    let (red, green, blue) = (channel(0), channel(1), channel(2));
    let (mut first, mut second, mut third) =
        ([f32::MAX; LANES], [f32::MAX; LANES], [f32::MAX; LANES]);
    for &other in paper {
        for lane in 0..LANES {
            let away = square_distance([red[lane], green[lane], blue[lane]], other);
            third[lane] = less(third[lane], more(second[lane], away));
            second[lane] = less(second[lane], more(first[lane], away));
            first[lane] = less(first[lane], away);
        }
    }
    third.map(|d| if d < f32::MAX { d.sqrt() } else { 0.0 })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_third_nearest_is_that_of_the_sorted_distances() {
        let level = |k: usize| ((k * 7919) % 256) as f32;
        let colour = |k: usize| [level(k), level(3 * k + 1), level(5 * k + 2)];
        let colours: [Colour; LANES] = std::array::from_fn(|lane| colour(lane + 400));
        for count in [0, 2, 3, 4, 96] {
            let paper: Vec<Colour> = (0..count).map(|k| colour(k / 2)).collect();
            for (mine, found) in colours.into_iter().zip(third_nearest(colours, &paper)) {
                let mut away: Vec<f32> = paper.iter().map(|&p| distance(mine, p)).collect();
                away.sort_by(f32::total_cmp);
                assert_eq!(found.to_bits(), away.get(2).map_or(0, |d| d.to_bits()));
            }
        }
    }
}
