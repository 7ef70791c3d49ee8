//! Many bows, several ways of working, one table, and the bars it must clear.

use std::thread;

use shimwright::evidence::Relative;
use shimwright::flight::TransferTable;
use shimwright::frame::{ArrowKind, Side};
use shimwright::spacer::{Fitting, Kit, Seat};
use shimwright::verdict::{Settings, Verification};

use crate::cases::kit;

use super::{
    Bow, Class, Family, Outcome, Plan, TWENTY_YD_M, World, classes, follow_verdicts,
    one_step_at_a_time, relative, rest_first,
};

/// Distances of the mixed trials, m: 15, 30 and 20 yd.
const MIXED_M: [f64; 3] = [13.716, 27.432, 18.288];

/// A way of working.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Way {
    /// One kit step at a time.
    Steps,
    /// The verdict, equal axles.
    Verdict,
    /// The verdict, unequal axles allowed.
    Unequal,
    /// The verdict from trials at mixed distances.
    Mixed,
    /// The same trials divided by distance first.
    Divided,
    /// The rest first, then one kit step at a time.
    RestFirst,
    /// The verdict, the rest allowed.
    VerdictRest,
    /// The verdict, equal axles, with three bows of the family known.
    Relatives,
}

impl Way {
    /// The ways of working that are compared in a world.
    pub fn of(world: World) -> &'static [Self] {
        match world {
            World::CameIn => &[
                Self::Steps,
                Self::Verdict,
                Self::Unequal,
                Self::Mixed,
                Self::Divided,
                Self::RestFirst,
                Self::VerdictRest,
            ],
            World::CameInFamily => &[Self::Steps, Self::Verdict, Self::Relatives],
            _ => &[
                Self::Steps,
                Self::Verdict,
                Self::Unequal,
                Self::Mixed,
                Self::Divided,
            ],
        }
    }

    fn name(self) -> &'static str {
        match self {
            Self::Steps => "one step at a time",
            Self::Verdict => "verdict",
            Self::Unequal => "verdict, unequal axles",
            Self::Mixed => "verdict, mixed distances",
            Self::Divided => "the same, divided by distance",
            Self::RestFirst => "rest first, then steps",
            Self::VerdictRest => "verdict, rest allowed",
            Self::Relatives => "verdict, family known",
        }
    }
}

/// A bow that starts farther off than this must see the press where a fitting would halve it, mm.
const FAR_MM: f64 = 50.0;

/// One line of the table.
#[derive(Debug, Clone)]
pub struct Row {
    /// The world.
    pub world: World,
    /// The way of working.
    pub way: Way,
    /// What came of it.
    pub summary: Summary,
}

/// Means over the bows of one row.
#[derive(Debug, Clone, Default)]
pub struct Summary {
    /// Press sessions per bow.
    pub presses: f64,
    /// Axles opened per bow.
    pub axles: f64,
    /// Arrows per bow.
    pub arrows: f64,
    /// Moves of the rest per bow.
    pub trims: f64,
    /// Minutes per bow.
    pub minutes: f64,
    /// Of the bows that start more than 50 mm off with a fitting in reach that would halve it: the
    /// share that never saw the press.
    pub never_pressed: f64,
    /// Mean size of the true split at 20 yd at the end, mm.
    pub final_mm: f64,
    /// Share within tolerance at the end.
    pub within: f64,
    /// Share broken off after too many rounds.
    pub broken_off: f64,
    /// Other adjustments per 100 bows: arrow, trial, vertical, spine or contact.
    pub adjusted: [f64; 4],
    /// Share of predictions whose 80 % interval held the truth.
    pub cover80: f64,
    /// Share of predictions whose 95 % interval held the truth.
    pub cover95: f64,
    /// Share of predictions whose 80 % interval held what was shot.
    pub shot80: f64,
    /// Share of predictions whose 95 % interval held what was shot.
    pub shot95: f64,
    /// Predictions counted.
    pub predictions: usize,
    /// Of the bows that answer the other way and were swapped: share suspected after one swap.
    pub wrong_noticed: f64,
    /// The chance of a wrong-way answer as stated after the first swap, by class.
    pub said_after_first: Vec<Class>,
    /// The same as stated at the end.
    pub said_at_the_end: Vec<Class>,
}

/// Equal fittings sorted by their offset, mm.
fn places(kit: &Kit) -> Vec<(f64, Fitting)> {
    let mut places: Vec<(f64, Fitting)> = kit
        .pairs()
        .iter()
        .flat_map(|pair| [Side::Left, Side::Right].map(|thick| Seat::new(pair.name(), thick)))
        .filter_map(|seat| Some((kit.cam_offset_mm(&seat).ok()?, Fitting::alike(seat))))
        .collect();
    places.sort_by(|a, b| a.0.total_cmp(&b.0));
    places
}

/// Settings of one way of working.
fn plan(way: Way, settings: &Settings) -> Plan {
    let mut plan = Plan::plain(settings);
    plan.settings.unequal_axles = way == Way::Unequal;
    if way == Way::VerdictRest {
        plan.settings.rest_room_mm = settings.rest_room_mm;
    }
    if matches!(way, Way::Mixed | Way::Divided) {
        plan.distances_m = MIXED_M.to_vec();
    }
    plan.divide_by_distance = way == Way::Divided;
    plan
}

/// Places that bows come in at: seats 2 to 5 of 6 in order, the middle ones twice as likely.
const CAME_IN: [usize; 6] = [1, 2, 2, 3, 3, 4];
/// Bows of a family that are known.
const RELATIVES: u64 = 3;

/// A bow of a world, and the place of the kit it comes in at.
fn drawn<'a>(
    world: World,
    seed: u64,
    table: &'a TransferTable,
    places: &[(f64, Fitting)],
) -> (Bow<'a>, usize) {
    let mut bow = Bow::new(world, seed, table);
    if !world.came_in() {
        let start = bow.pick(places.len());
        return (bow, start);
    }
    let start = CAME_IN[bow.pick(CAME_IN.len())];
    if world == World::CameInFamily {
        bow = bow.of_family(Family::of(seed));
    }
    (bow.came_in_at(places[start].0), start)
}

/// Other bows of the same family, from seeds of their own.
fn relatives(
    world: World,
    way: Way,
    seed: u64,
    table: &TransferTable,
    places: &[(f64, Fitting)],
) -> Vec<Relative> {
    if way != Way::Relatives {
        return Vec::new();
    }
    let own = (1..=RELATIVES).map(|k| seed + 1_000_000 * k);
    own.map(|other| {
        let mut bow = Bow::new(world, other, table);
        let start = CAME_IN[bow.pick(CAME_IN.len())];
        let bow = bow.of_family(Family::of(seed)).came_in_at(places[start].0);
        relative(bow, places, start)
    })
    .collect()
}

fn tune(
    world: World,
    way: Way,
    seed: u64,
    settings: &Settings,
    table: &TransferTable,
    kit: &Kit,
) -> (Outcome, f64) {
    let places = places(kit);
    let offsets: Vec<f64> = places.iter().map(|place| place.0).collect();
    let (bow, start) = drawn(world, seed, table, &places);
    let response = bow.response;
    let mut bow = bow.reseeded(way as u64);
    let truth = |bow: &Bow, at: f64| bow.split_mm(ArrowKind::Bare, TWENTY_YD_M, at);
    let start_mm = truth(&bow, offsets[start]);
    let left = offsets.iter().map(|at| truth(&bow, *at).abs());
    let best_mm = left.fold(f64::INFINITY, f64::min);
    let outcome = match way {
        Way::Steps => one_step_at_a_time(&mut bow, &offsets, start),
        Way::RestFirst => rest_first(&mut bow, &offsets, start),
        _ => {
            let others = relatives(world, way, seed, table, &places);
            let fitted = places[start].1.clone();
            follow_verdicts(&mut bow, kit, fitted, &plan(way, settings), others, table)
        }
    };
    let outcome = Outcome {
        start_mm,
        best_mm,
        ..outcome
    };
    (outcome, response)
}

/// Some worlds and ways over `seeds`, on at most two threads.
pub fn run_rows(
    seeds: std::ops::Range<u64>,
    settings: &Settings,
    worlds: &[World],
    ways: impl Fn(World) -> Vec<Way>,
) -> Vec<Row> {
    let Ok(kit) = kit() else { return Vec::new() };
    let table = TransferTable::unrecorded();
    let mut rows = Vec::new();
    for &world in worlds {
        for way in ways(world) {
            let half = |odd: u64| -> Vec<(Outcome, f64)> {
                let own = seeds.clone().filter(|seed| seed % 2 == odd);
                own.map(|seed| tune(world, way, seed, settings, table, &kit))
                    .collect()
            };
            let outcomes = thread::scope(|scope| {
                let other = scope.spawn(|| half(1));
                let mut all = half(0);
                all.extend(other.join().unwrap_or_default());
                all
            });
            rows.push(Row {
                world,
                way,
                summary: Summary::of(&outcomes),
            });
        }
    }
    rows
}

impl Summary {
    fn of(outcomes: &[(Outcome, f64)]) -> Self {
        let mean = |value: &dyn Fn(&Outcome) -> f64| {
            outcomes
                .iter()
                .map(|(outcome, _)| value(outcome))
                .sum::<f64>()
                / outcomes.len() as f64
        };
        let covered: Vec<(bool, bool)> = outcomes
            .iter()
            .flat_map(|(outcome, _)| outcome.covered.clone())
            .collect();
        let verified: Vec<Verification> = outcomes
            .iter()
            .flat_map(|(outcome, _)| outcome.verifications.clone())
            .collect();
        let noticed: Vec<bool> = outcomes
            .iter()
            .filter(|(_, response)| *response < 0.0)
            .filter_map(|(outcome, _)| outcome.wrong_way_after_first.map(|chance| chance > 0.5))
            .collect();
        Self {
            presses: mean(&|outcome| f64::from(outcome.presses)),
            axles: mean(&|outcome| f64::from(outcome.axles)),
            arrows: mean(&|outcome| f64::from(outcome.arrows)),
            trims: mean(&|outcome| f64::from(outcome.trims)),
            minutes: mean(&|outcome| outcome.minutes),
            never_pressed: share(
                outcomes
                    .iter()
                    .map(|(outcome, _)| outcome)
                    .filter(|one| {
                        one.start_mm.abs() > FAR_MM && 2.0 * one.best_mm < one.start_mm.abs()
                    })
                    .map(|one| one.presses == 0)
                    .collect::<Vec<_>>()
                    .into_iter(),
            ),
            final_mm: mean(&|outcome| outcome.final_mm.abs()),
            within: mean(&|outcome| {
                f64::from(u8::from(outcome.final_mm.abs() <= super::TOLERANCE_MM))
            }),
            broken_off: mean(&|outcome| f64::from(u8::from(outcome.broken_off))),
            adjusted: [0, 1, 2, 3]
                .map(|kind| 100.0 * mean(&|outcome| f64::from(outcome.adjusted[kind]))),
            cover80: share(covered.iter().map(|cover| cover.0)),
            cover95: share(covered.iter().map(|cover| cover.1)),
            shot80: share(verified.iter().map(|one| one.in80)),
            shot95: share(verified.iter().map(|one| one.in95)),
            predictions: covered.len(),
            wrong_noticed: share(noticed.into_iter()),
            said_after_first: said(outcomes, |outcome| outcome.wrong_way_after_first),
            said_at_the_end: said(outcomes, |outcome| outcome.wrong_way_at_the_end),
        }
    }
}

/// Stated chances of a wrong-way answer against the bows' true responses.
fn said(outcomes: &[(Outcome, f64)], chance: impl Fn(&Outcome) -> Option<f64>) -> Vec<Class> {
    let said: Vec<(f64, bool)> = outcomes
        .iter()
        .filter_map(|(outcome, response)| Some((chance(outcome)?, *response < 0.0)))
        .collect();
    classes(&said)
}

fn share(of: impl ExactSizeIterator<Item = bool>) -> f64 {
    let count = of.len() as f64;
    of.filter(|held| *held).count() as f64 / count
}

/// The table's header.
pub const HEADER: &str = "\
world               way                            press- axles rest arrows min-   never   final  with- broken  true split in  shot split in predic- wrong way  other adjustments per 100 bows
                                                   jobs        moves       utes  pressed  mm  in       off   80 %   95 %   80 %   95 %  tions    noticed   arrow trial vertical spine";

impl std::fmt::Display for Row {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let s = &self.summary;
        let percent = |share: f64| 100.0 * share;
        write!(out, "{:<19} {:<29}", self.world.name(), self.way.name())?;
        write!(
            out,
            " {:>6.2} {:>5.2} {:>5.2} {:>6.1} {:>5.0} {:>5.1} % {:>6.1}",
            s.presses,
            s.axles,
            s.trims,
            s.arrows,
            s.minutes,
            percent(s.never_pressed),
            s.final_mm
        )?;
        write!(
            out,
            " {:>4.0} % {:>4.1} %",
            percent(s.within),
            percent(s.broken_off)
        )?;
        if s.predictions == 0 {
            return Ok(());
        }
        write!(
            out,
            " {:>6.1} {:>6.1} {:>6.1} {:>6.1}",
            percent(s.cover80),
            percent(s.cover95),
            percent(s.shot80),
            percent(s.shot95)
        )?;
        write!(
            out,
            " {:>6} {:>8.0} %  ",
            s.predictions,
            percent(s.wrong_noticed)
        )?;
        s.adjusted
            .iter()
            .try_for_each(|count| write!(out, " {count:>6.1}"))
    }
}
