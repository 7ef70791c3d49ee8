//! The outline of one hole: its rim and the circle through it, without what another hole took.

use super::circle::{Circle, LEAST_SCATTER_MM, fit_circle};
use super::neighbour::Opening;
use super::relief::Relief;
use super::rim::{Rim, find_rim};
use super::seed::Seed;
use super::snap::{HoleTone, RADIUS_MM};
use crate::frame::PointMm;

/// Paper left standing in a dark hole is seen as rim, and only ever too far in: what a rim point
/// outside the circle counts against one inside. In a light hole that is evened out by fringes as
/// bright as the hole, where the rim is seen too far out.
const OUTWARD: f64 = 2.0;
/// The circle moves when an opening is left out, and the opening is then seen from elsewhere.
const ROUNDS: usize = 3;
/// Rim points across an opening are the hole's own when this share of them lies within so many
/// scatters of the circle through the rest.
const OWN_SHARE: f64 = 0.6;
const OWN_SCATTERS: f64 = 2.5;

/// A hole's outline.
pub(super) struct Outline {
    pub(super) rim: Rim,
    pub(super) circle: Circle,
    /// Whether part of the rim was left out because another hole lies behind it.
    pub(super) open: bool,
}

impl Outline {
    /// Follows the rim from a seed; `None` when what is there has no circle.
    pub(super) fn around(relief: &Relief, seed: &Seed) -> Option<Self> {
        let tone = seed.tone;
        let first = Self::at(relief, seed.centre, seed.radius_mm, tone)?.circle;
        let mut found = Self::at(relief, first.centre(), first.radius_mm, tone)?;
        // The fringe of a light hole glows like another hole behind its rim.
        if tone == HoleTone::Light {
            return Some(found);
        }
        for _ in 0..ROUNDS {
            let Some(opening) = Opening::behind(relief, &found.circle, tone) else {
                break;
            };
            found = found.beside(relief, opening, tone)?;
            if !found.open {
                break;
            }
        }
        Some(found)
    }

    fn at(relief: &Relief, centre: PointMm, radius_mm: f64, tone: HoleTone) -> Option<Self> {
        let radius_mm = radius_mm.clamp(RADIUS_MM.0 * 0.8, RADIUS_MM.1 * 1.1);
        let rim = find_rim(relief, centre, radius_mm, tone);
        let guess = (centre.x_mm, centre.y_mm, radius_mm);
        Some(Self {
            circle: fit_circle(&rim.points, guess, outward(tone))?,
            rim,
            open: false,
        })
    }

    /// The outline by the rim beside `opening`, and by the rim across it where that agrees.
    fn beside(&self, relief: &Relief, opening: Opening, tone: HoleTone) -> Option<Self> {
        let (own, _) = opening.part(&self.circle, &self.rim.points);
        let arc = fit_circle(&own, self.circle.as_guess(), outward(tone))?;
        let whole = Self::at(relief, arc.centre(), arc.radius_mm, tone)?;
        let (own, across) = opening.part(&arc, &whole.rim.points);
        let near_mm = OWN_SCATTERS * arc.scatter_mm.max(LEAST_SCATTER_MM);
        let agree = across.iter().filter(|p| arc.miss_mm(**p).abs() < near_mm);
        if agree.count() as f64 > OWN_SHARE * opening.rays() {
            return Some(whole);
        }
        Some(Self {
            circle: fit_circle(&own, arc.as_guess(), outward(tone))?,
            rim: Rim {
                points: own,
                ..whole.rim
            },
            open: true,
        })
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

fn outward(tone: HoleTone) -> f64 {
    match tone {
        HoleTone::Dark => OUTWARD,
        HoleTone::Light => 1.0,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_hole_another_ran_into_keeps_its_own_centre() {
        let (hole, other) = (PointMm::new(0.3, -0.2), PointMm::new(5.3, -0.2));
        let relief = Relief::sample(PointMm::default(), 14.0, 0.2, |p| {
            let (d, other) = ((p - hole).norm_mm() - 3.0, (p - other).norm_mm() - 3.0);
            // The other hole's torn edge, 0.8 mm wide, lies across the first hole.
            match (d < 0.0, other) {
                (_, other) if other < 0.0 => 20.0,
                (_, other) if other < 0.8 => 220.0,
                (true, _) => 20.0,
                (false, _) => 190.0,
            }
        });
        let seed = Seed {
            centre: PointMm::new(-0.5, -0.2),
            radius_mm: 2.4,
            vote: 0.9,
            tone: HoleTone::Dark,
        };
        let found = Outline::around(&relief, &seed).unwrap();
        assert!(found.open);
        assert!(
            (found.circle.centre() - hole).norm_mm() < 0.1,
            "{:?}",
            found.circle
        );
        let beside = Seed {
            centre: other,
            ..seed
        };
        let found = Outline::around(&relief, &beside).unwrap();
        assert!(
            (found.circle.centre() - other).norm_mm() < 0.1,
            "{:?}",
            found.circle
        );
    }
}
