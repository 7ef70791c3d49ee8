//! The bars that the table of virtual bows must clear.

use super::calibration::FARTHEST_SDS;
use super::{Class, Row, Summary, Way, World};

/// A bar that the table must clear.
#[derive(Debug, Clone)]
pub struct Bars {
    /// What must hold, with the figures.
    pub words: String,
    /// Whether it holds.
    pub held: bool,
}

impl Bars {
    /// Every bar of a whole table.
    pub fn of(rows: &[Row]) -> Vec<Self> {
        let mut bars = Vec::new();
        for world in World::ALL {
            let get = |way| {
                rows.iter()
                    .find(|row| row.world == world && row.way == way)
                    .map(|row| &row.summary)
            };
            let (Some(steps), Some(verdict)) = (get(Way::Steps), get(Way::Verdict)) else {
                continue;
            };
            match world {
                World::CameIn => {
                    bars.extend(Self::shop(steps, verdict));
                    bars.extend(
                        get(Way::Unequal)
                            .iter()
                            .flat_map(|one| Self::unequal(steps, one)),
                    );
                    if let (Some(rest), Some(own)) = (get(Way::RestFirst), get(Way::VerdictRest)) {
                        bars.extend(Self::rest(rest, own));
                    }
                }
                World::Priors => {
                    let unequal = get(Way::Unequal);
                    bars.extend(
                        unequal
                            .iter()
                            .flat_map(|one| Self::middle(steps, verdict, one)),
                    );
                    bars.extend([
                        Self::meant("after the first swap", &verdict.said_after_first),
                        Self::meant("at the end", &verdict.said_at_the_end),
                    ]);
                }
                _ => {}
            }
            if let (Some(mixed), Some(divided)) = (get(Way::Mixed), get(Way::Divided))
                && matches!(world, World::CameIn | World::Priors)
            {
                bars.push(Self::below(
                    &format!(
                        "{}: mixed distances, final split against dividing",
                        world.name()
                    ),
                    mixed.final_mm / divided.final_mm,
                    1.0,
                ));
            }
            bars.extend(Self::coverage(world, verdict));
        }
        bars
    }

    /// Bows as they come in, equal axles, the rest not allowed.
    fn shop(steps: &Summary, verdict: &Summary) -> [Self; 4] {
        [
            Self::below(
                "as it came in: press jobs against one step at a time",
                verdict.presses / steps.presses,
                0.75,
            ),
            Self::below(
                "as it came in: final split against one step at a time",
                verdict.final_mm / steps.final_mm,
                0.90,
            ),
            Self::above(
                "as it came in: share within tolerance above one step at a time",
                verdict.within - steps.within,
                0.03,
            ),
            Self::below(
                "as it came in: far off, could be halved, never pressed",
                verdict.never_pressed,
                0.05,
            ),
        ]
    }

    fn unequal(steps: &Summary, unequal: &Summary) -> [Self; 2] {
        [
            Self::below(
                "as it came in, unequal axles: press jobs against one step at a time",
                unequal.presses / steps.presses,
                0.95,
            ),
            Self::below(
                "as it came in, unequal axles: final split against one step at a time",
                unequal.final_mm / steps.final_mm,
                0.82,
            ),
        ]
    }

    fn rest(practice: &Summary, verdict: &Summary) -> [Self; 3] {
        [
            Self::below(
                "rest allowed: minutes against rest first, then steps",
                verdict.minutes / practice.minutes,
                0.75,
            ),
            Self::below(
                "rest allowed: final split against rest first, then steps",
                verdict.final_mm / practice.final_mm,
                0.75,
            ),
            Self::above(
                "rest allowed: share within tolerance above rest first, then steps",
                verdict.within - practice.within,
                0.06,
            ),
        ]
    }

    /// The world of before, whose fault is drawn with the cams in the middle.
    fn middle(steps: &Summary, verdict: &Summary, unequal: &Summary) -> [Self; 4] {
        [
            Self::below(
                "cams in the middle: press jobs against one step at a time",
                verdict.axles / steps.axles,
                0.55,
            ),
            Self::below(
                "cams in the middle: final split against one step at a time",
                verdict.final_mm / steps.final_mm,
                1.0,
            ),
            Self::below(
                "cams in the middle, unequal axles: press jobs against one step at a time",
                unequal.axles / steps.axles,
                0.80,
            ),
            Self::below(
                "cams in the middle, unequal axles: final split against one step at a time",
                unequal.final_mm / steps.final_mm,
                0.88,
            ),
        ]
    }

    fn coverage(world: World, summary: &Summary) -> [Self; 4] {
        let (range80, range95) = if world == World::Priors || world.came_in() {
            ((0.76, 0.84), (0.92, 0.98))
        } else {
            ((0.70, 1.0), (0.90, 1.0))
        };
        let words = |which: &str, percent: u32| {
            format!(
                "{}: {which} splits inside {percent} % intervals",
                world.name()
            )
        };
        [
            Self::inside(&words("true", 80), summary.cover80, range80),
            Self::inside(&words("true", 95), summary.cover95, range95),
            Self::inside(&words("shot", 80), summary.shot80, range80),
            Self::inside(&words("shot", 95), summary.shot95, range95),
        ]
    }

    /// Chances of a wrong-way answer mean what they say, in every class.
    fn meant(when: &str, classes: &[Class]) -> Self {
        let farthest = classes.iter().map(Class::sds).fold(0.0, f64::max);
        Self {
            words: format!(
                "chance of a wrong-way answer as stated {when}: {farthest:.2} sd from what really is (at most {FARTHEST_SDS})"
            ),
            held: classes.iter().all(Class::holds),
        }
    }

    fn below(what: &str, value: f64, limit: f64) -> Self {
        Self {
            words: format!("{what}: {value:.3} (at most {limit})"),
            held: value <= limit,
        }
    }

    fn above(what: &str, value: f64, limit: f64) -> Self {
        Self {
            words: format!("{what}: {value:.3} (at least {limit})"),
            held: value >= limit,
        }
    }

    fn inside(what: &str, value: f64, (low, high): (f64, f64)) -> Self {
        Self {
            words: format!("{what}: {value:.3} ({low} to {high})"),
            held: (low..=high).contains(&value),
        }
    }
}
