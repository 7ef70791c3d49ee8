//! Two holes in one: from the middle of what was read as one wound, the darkness reaches farther than
//! a hole's both ways along one line, and much less far across it.
//!
//! Two holes 5 mm apart are no such thing: seen from the middle of one, the other lies on one side
//! only. Nor is a torn hole: it may be twice as long as wide, but not so long.

use super::evidence::DiscSums;
use crate::frame::PointMm;

/// A wound of a larger radius than this, mm, and without a crisp rim may be two holes in one: only a
/// known shaft tells. A shaft of 7 mm leaves about such a hole.
pub(super) const WIDE_MM: f64 = 3.6;
/// Lines through the middle, over half a turn.
const LINES: usize = 18;
/// A line's reach is the mean over this many to either side: a notch in the outline is no waist.
const BESIDE: usize = 2;
/// The darkness is followed in these steps and so far, mm: no two holes within each other's reach are longer.
const STEP_MM: f64 = 0.1;
const MOST_MM: f64 = 7.0;
/// It goes on behind fibres of up to this many steps.
const BRIDGE: usize = 4;
/// A cell is dark from half of the evidence on.
const DARK: f32 = 0.5;
/// The whole is at least this many times as long as wide. Of 22 rendered pairs 3 mm apart (tuning seeds)
/// that were read as one hole over 1 mm from either, the least oblong was 1.37; of 55 single holes and holes 5 mm
/// apart without a crisp rim 4 were more oblong than this, for a flap, and shorter.
const LEAST_OBLONG: f64 = 1.35;
/// How far the darkness reaches both ways, mm: as far as in the widest wound that may be one hole, less its torn
/// edge.
const LEAST_LONG_MM: f64 = WIDE_MM - 0.3;
/// ... and on all lines together: of two holes in one .02 mm more, while real torn holes that long are
/// narrow. Chosen by hand, looking at the photographs of `tests/real-table`.
const LEAST_USUAL_MM: f64 = 2.66;

/// Where the shaft is known, both as shares of its radius: a wound is weighed up to the first, and the dark of
/// a torn hole is narrower than the second. With 1.1 and .9 two more of 82 real clean and torn holes were
/// refused (`tests/real-table`).
const LEAST_LONG_SHARE: f64 = 1.16;
const LEAST_USUAL_SHARE: f64 = 0.95;
/// A hole's radius as a share of its shaft's: paper gives. Of rendered holes; common practice, no source.
const HOLE_SHARE: f64 = 0.97;

/// Whether what is dark around the middle of a wound is two holes in one.
pub(super) fn is_of_two(inside: &DiscSums, middle: PointMm) -> bool {
    Dark::around(inside, middle).is_of_two(LEAST_LONG_MM, LEAST_USUAL_MM)
}

/// The centres of two holes of a known shaft in one, each a radius from an end of the dark; `None` where
/// it is one hole.
pub(super) fn both(inside: &DiscSums, middle: PointMm, shaft_mm: f64) -> Option<[PointMm; 2]> {
    let shaft_r_mm = 0.5 * shaft_mm;
    let dark = Dark::around(inside, middle);
    let (long_mm, usual_mm) = (
        LEAST_LONG_SHARE * shaft_r_mm,
        LEAST_USUAL_SHARE * shaft_r_mm,
    );
    let centre = |line: usize| {
        let (sin, cos) = bearing(line).sin_cos();
        let away_mm = dark.smooth(line) - HOLE_SHARE * shaft_r_mm;
        middle + PointMm::new(away_mm * cos, away_mm * sin)
    };
    let long = dark.longest();
    dark.is_of_two(long_mm, usual_mm)
        .then(|| [centre(long), centre(long + LINES)])
}

fn bearing(ray: usize) -> f64 {
    std::f64::consts::PI * ray as f64 / LINES as f64
}

/// How far it is dark around a place, ray by ray, mm.
struct Dark([f64; 2 * LINES]);

impl Dark {
    fn around(inside: &DiscSums, from: PointMm) -> Self {
        Self(std::array::from_fn(|ray| {
            let (sin, cos) = bearing(ray).sin_cos();
            dark_mm(|r| inside.at(from + PointMm::new(r * cos, r * sin)))
        }))
    }

    fn at(&self, ray: usize) -> f64 {
        self.0[ray % (2 * LINES)]
    }

    /// The mean over the rays beside one.
    fn mean_beside(ray: usize, of: impl Fn(usize) -> f64) -> f64 {
        let beside = (0..=2 * BESIDE).map(|by| of(ray + 2 * LINES - BESIDE + by));
        beside.sum::<f64>() / (2 * BESIDE + 1) as f64
    }

    fn smooth(&self, ray: usize) -> f64 {
        Self::mean_beside(ray, |k| self.at(k))
    }

    /// How far it is dark both ways along a line.
    fn both_ways(&self, line: usize) -> f64 {
        self.at(line).min(self.at(line + LINES))
    }

    fn both_ways_smooth(&self, line: usize) -> f64 {
        Self::mean_beside(line, |k| self.both_ways(k))
    }

    /// The line along which it is dark farthest both ways.
    fn longest(&self) -> usize {
        let reach = |line: &usize| self.both_ways_smooth(*line);
        let longest = (0..LINES).max_by(|a, b| reach(a).total_cmp(&reach(b)));
        longest.unwrap_or_default()
    }

    fn is_of_two(&self, least_long_mm: f64, least_usual_mm: f64) -> bool {
        let long = self.longest();
        let long_mm = self.both_ways_smooth(long);
        let across_mm = self.both_ways_smooth(long + LINES / 2);
        let usual_mm = (0..LINES).map(|k| self.both_ways(k)).sum::<f64>() / LINES as f64;
        long_mm >= least_long_mm
            && long_mm >= LEAST_OBLONG * across_mm
            && usual_mm >= least_usual_mm
    }
}

/// How far it is dark along a ray, mm.
fn dark_mm(evidence: impl Fn(f64) -> f32) -> f64 {
    let (mut end, mut light) = (0, 0);
    for step in 0..(MOST_MM / STEP_MM) as usize {
        if evidence(step as f64 * STEP_MM) > DARK {
            (end, light) = (step, 0);
        } else {
            light += 1;
        }
        if light > BRIDGE {
            break;
        }
    }
    end as f64 * STEP_MM
}

#[cfg(test)]
mod tests {
    use super::super::colours::Colours;
    use super::super::evidence::Evidence;
    use super::super::relief::Relief;
    use super::*;

    fn two(dark: impl Fn(PointMm) -> bool, middle: PointMm) -> bool {
        let grey = Relief::sample(PointMm::default(), 10.0, 0.2, |p| {
            if dark(p) { 20.0 } else { 215.0 }
        });
        let seen = Colours::new([grey.clone(), grey.clone(), grey]);
        let evidence = Evidence::of(&seen, [20.0; 3], PointMm::default(), (5.0, 9.0));
        is_of_two(&evidence.inside, middle)
    }

    /// Two holes of 3 mm, so far apart, the middle between them at the origin.
    fn pair(apart_mm: f64) -> impl Fn(PointMm) -> bool {
        move |p: PointMm| {
            let away = |x_mm: f64| (p - PointMm::new(x_mm, 0.0)).norm_mm();
            away(apart_mm / 2.0).min(away(-apart_mm / 2.0)) < 3.0
        }
    }

    #[test]
    fn the_middle_between_two_holes_is_that_of_two_and_the_middle_of_one_is_not() {
        for apart_mm in [3.0, 4.0, 5.0] {
            for off_mm in [0.0, 0.3] {
                assert!(
                    two(pair(apart_mm), PointMm::new(off_mm, -0.1)),
                    "{apart_mm}"
                );
            }
            assert!(
                !two(pair(apart_mm), PointMm::new(apart_mm / 2.0, 0.1)),
                "{apart_mm}"
            );
        }
    }

    #[test]
    fn large_holes_torn_ones_and_blades_cuts_are_one() {
        let large = |p: PointMm| p.norm_mm() < 4.0;
        let torn = |p: PointMm| p.norm_mm() < 3.3 && p.y_mm.abs() < 1.5;
        let cut = |p: PointMm| p.norm_mm() < 2.6 || (p.y_mm.abs() < 0.6);
        let middle = PointMm::new(0.1, -0.2);
        assert!(!two(large, middle));
        assert!(!two(torn, middle));
        assert!(!two(cut, middle));
    }
}
