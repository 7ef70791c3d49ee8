//! The outline of one hole: its rim and the circle through it, without what another hole took.

use super::circle::{Circle, Disc, fit_circle};
use super::hole::HoleTone;
use super::neighbour::Opening;
use super::relief::Relief;
use super::rim::{Edge, Rim, find_rim};
use super::seed::Seed;

/// From the hole of a 4 mm shaft in paper that gives, to that of the thickest shafts.
pub(super) const RADIUS_MM: (f64, f64) = (1.8, 5.2);
/// Paper left standing in a dark hole is seen as rim, and only ever too far in: what a rim point
/// outside the circle counts against one inside. In a light hole that is evened out by fringes as
/// bright as the hole, where the rim is seen too far out. Chosen by hand; `tests/photo-table` measures
/// what passes.
const OUTWARD: f64 = 2.0;
/// Each circle moves when the part the other hole took is left out, and then takes another part.
const ROUNDS: usize = 4;

/// A hole's outline.
pub(super) struct Outline {
    pub(super) rim: Rim,
    pub(super) circle: Circle,
    /// Whether part of the rim was left out because another hole lies behind it.
    pub(super) open: bool,
}

/// Reads the rims of holes of one tone.
struct Reader<'a> {
    relief: &'a Relief,
    tone: HoleTone,
    edge: Edge,
}

impl Reader<'_> {
    /// The outline without what the hole behind `opening` took of it. The two holes are read in
    /// turn, each where the other does not reach.
    fn beside(&self, whole: &Outline, opening: Opening) -> Option<Outline> {
        let mut own = self.read(whole.circle.disc(), Some(opening))?;
        let mut other = opening.hole_behind(self.relief, &own.circle, self.tone);
        for _ in 0..ROUNDS {
            let disc = own.circle.disc();
            let read = self.read(other, Opening::taken(other, disc));
            // Behind the opening lies no hole: what is seen beside it must do.
            let Some(read) = read.filter(Outline::is_hole) else {
                break;
            };
            other = read.circle.disc();
            own = self.read(disc, Opening::taken(disc, other))?;
        }
        Some(own)
    }

    /// The rim about `guess` and the circle through it, without the part an opening takes.
    fn read(&self, guess: Disc, opening: Option<Opening>) -> Option<Outline> {
        let radius_mm = guess.radius_mm.clamp(RADIUS_MM.0 * 0.8, RADIUS_MM.1 * 1.1);
        let guess = Disc { radius_mm, ..guess };
        let mut rim = find_rim(self.relief, guess.centre, radius_mm, self.edge);
        if let Some(opening) = opening {
            rim.points = opening.beside(guess.centre, &rim.points);
        }
        Some(Outline {
            circle: fit_circle(&rim.points, guess, outward(self.edge))?,
            rim,
            open: opening.is_some(),
        })
    }
}

impl Outline {
    /// Follows the rim from a seed; `None` when what is there has no circle.
    pub(super) fn around(relief: &Relief, seed: &Seed, edge: Edge) -> Option<Self> {
        let tone = seed.tone;
        let reader = Reader { relief, tone, edge };
        let first = reader.read(seed.disc(), None)?;
        let whole = reader.read(first.circle.disc(), None)?;
        // The fringe of a light hole glows like another hole behind its rim.
        let opening = match tone {
            HoleTone::Dark => Opening::behind(relief, &whole.circle, tone),
            HoleTone::Light => None,
        };
        match opening {
            Some(opening) => reader.beside(&whole, opening),
            None => Some(whole),
        }
    }

    /// Whether it is as large as an arrow's hole may be.
    pub(super) fn is_hole(&self) -> bool {
        (RADIUS_MM.0..=RADIUS_MM.1).contains(&self.circle.radius_mm)
    }

    /// How far the rim reaches beyond its circle at the ends of the longest diameter, mm.
    pub(super) fn oval_mm(&self) -> f64 {
        let (mut cos, mut sin, mut count) = (0.0, 0.0, 0.0);
        let stray_mm = 3.0 * self.circle.scatter_mm;
        for p in &self.rim.points {
            let miss_mm = self.circle.miss_mm(*p);
            if miss_mm.abs() < stray_mm {
                let bearing = (p.1 - self.circle.y_mm).atan2(p.0 - self.circle.x_mm);
                cos += miss_mm * (2.0 * bearing).cos();
                sin += miss_mm * (2.0 * bearing).sin();
                count += 1.0;
            }
        }
        2.0 * f64::hypot(cos, sin) / f64::max(count, 1.0)
    }
}

fn outward(edge: Edge) -> f64 {
    match edge {
        Edge::Step(HoleTone::Dark) | Edge::EndOfWhite(_) => OUTWARD,
        Edge::Step(HoleTone::Light) => 1.0,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::frame::PointMm;

    /// Two holes of 3 mm that run into each other; the second one's torn edge, of that width, lies
    /// across the first.
    fn pair(holes: [PointMm; 2], torn_mm: f64) -> Relief {
        Relief::sample(PointMm::default(), 14.0, 0.2, |p| {
            let [first, second] = holes.map(|hole| (p - hole).norm_mm() - 3.0);
            match (first < 0.0, second) {
                (_, second) if second < 0.0 => 20.0,
                (_, second) if second < torn_mm => 220.0,
                (true, _) => 20.0,
                (false, _) => 190.0,
            }
        })
    }

    #[test]
    fn each_of_two_holes_that_ran_into_each_other_keeps_its_own_centre() {
        let holes = [PointMm::new(0.3, -0.2), PointMm::new(5.3, -0.2)];
        for torn_mm in [0.0, 0.8] {
            let relief = pair(holes, torn_mm);
            for (hole, tap) in [(holes[0], PointMm::new(-0.5, -0.2)), (holes[1], holes[1])] {
                let seed = Seed {
                    centre: tap,
                    radius_mm: 2.4,
                    vote: 0.9,
                    tone: HoleTone::Dark,
                };
                let found = Outline::around(&relief, &seed, Edge::Step(seed.tone)).unwrap();
                let off_mm = (found.circle.centre() - hole).norm_mm();
                assert!(off_mm < 0.1, "{off_mm} with {torn_mm}");
                assert!(found.open);
            }
        }
    }
}
