//! Two holes in one: from the middle of what was read as one wound, the darkness reaches farther than
//! a hole's both ways along one line, and much less far across it.
//!
//! Two holes 5 mm apart are no such thing: seen from the middle of one, the other lies on one side
//! only. Nor is a torn hole: it may be twice as long as wide, but not so long.

use super::evidence::DiscSums;
use super::snap::WIDE_MM;
use crate::frame::PointMm;

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

/// Whether what is dark around the middle of a wound is two holes in one.
pub(super) fn is_of_two(inside: &DiscSums, middle: PointMm) -> bool {
    let lines = reaches(inside, middle);
    let smooth = |k: usize| {
        let near = (0..=2 * BESIDE).map(|by| lines[(k + LINES - BESIDE + by) % LINES]);
        near.sum::<f64>() / (2 * BESIDE + 1) as f64
    };
    let longest = (0..LINES).max_by(|a, b| smooth(*a).total_cmp(&smooth(*b)));
    let long = longest.unwrap_or_default();
    let (long_mm, across_mm) = (smooth(long), smooth(long + LINES / 2));
    let usual_mm = lines.iter().sum::<f64>() / LINES as f64;
    long_mm >= LEAST_LONG_MM && long_mm >= LEAST_OBLONG * across_mm && usual_mm >= LEAST_USUAL_MM
}

/// How far it is dark from a place along each line, mm: on that side of it where it ends first.
fn reaches(inside: &DiscSums, from: PointMm) -> [f64; LINES] {
    let ray = |k: usize| {
        let (sin, cos) = (std::f64::consts::PI * k as f64 / LINES as f64).sin_cos();
        dark_mm(|r| inside.at(from + PointMm::new(r * cos, r * sin)))
    };
    std::array::from_fn(|k| ray(k).min(ray(k + LINES)))
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
