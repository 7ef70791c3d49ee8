//! The demonstration's own bows, kit, arrows and dates. All of it is invented.

use shimwright::evidence::Probe;
use shimwright::frame::{ArrowKind, PointMm, Side};
use shimwright::record::{BowDetails, Surface, TrialDraft, TrialImpact, TrialTear};
use shimwright::spacer::{Fitting, KitDraft, PairCount, PairDraft, Seat};
use shimwright::units::TWENTY_YARDS_M;

/// Minutes after which the demonstration stops shooting on.
pub(super) const PATIENCE_MINUTES: i64 = 90;
/// A rest closer than this to where it stood at intake is back there, mm.
pub(super) const SAME_PLACE_MM: f64 = 0.05;
/// Where paper hangs, m from the bow.
pub(super) const PAPER_M: f64 = 2.0;
/// Reading error of offsets taken with a steel rule and typed in, mm.
const RULE_SD_MM: f64 = 0.5;

/// Epoch ms of a minute on the day of the job (2026-10-03, 09:00 UTC onwards).
pub(super) fn minute(minute: i64) -> i64 {
    1_791_018_000_000 + minute * 60_000
}

/// The metric kit: three pairs, 4.40 mm each.
pub(super) fn kit() -> KitDraft {
    KitDraft {
        name: "Metric 4.40".into(),
        total_mm: 4.40,
        tolerance_mm: 0.05,
        pairs: vec![
            PairDraft::new("A", 1.30, 3.10),
            PairDraft::new("B", 1.50, 2.90),
            PairDraft::new("C", 1.90, 2.50),
        ],
    }
}

/// Four sets of every pair: enough for both axles of two bows.
pub(super) fn owned() -> Vec<PairCount> {
    let pairs = kit().pairs.into_iter();
    pairs
        .map(|pair| PairCount {
            pair: pair.name,
            sets: 4,
        })
        .collect()
}

/// A right-hand bow as it comes in; without a priority of its own it has the usual one.
pub(super) fn bow(name: &str, kit_id: i64, priority: &[Probe]) -> BowDetails {
    BowDetails {
        kit_id: Some(kit_id),
        brace_height_mm: Some(165.0),
        priority: priority.to_vec(),
        ..BowDetails::named(name, 838.0)
    }
}

/// What sits in Heron when it comes in.
pub(super) fn as_taken_in() -> Fitting {
    Fitting::alike(Seat::new("B", Side::Left))
}

/// What Heron's photographs after the swap were shot with.
pub(super) fn as_photographed_after() -> Fitting {
    Fitting::alike(Seat::new("C", Side::Right))
}

/// What sits in the second bow when it comes in.
pub(super) fn second_as_taken_in() -> Fitting {
    Fitting::alike(Seat::new("C", Side::Right))
}

/// Right and up on the face, mm.
type Place = (f64, f64);

/// Further arrows of Heron before the swap, shot when the tool asks for them and typed in:
/// fletched first, then bare.
const FURTHER: ([Place; 5], [Place; 5]) = (
    [
        (-8.0, 3.0),
        (6.0, -7.0),
        (-1.0, 9.0),
        (4.0, 2.0),
        (-5.0, -4.0),
    ],
    [
        (50.0, 4.0),
        (68.0, -2.0),
        (57.0, 10.0),
        (66.0, -8.0),
        (61.0, 1.0),
    ],
);

/// As many further arrows of each kind as are wanted, at most five.
pub(super) fn further(fletched: u32, bare: u32) -> TrialDraft {
    let take = |kind, places: &[Place], count: u32| -> Vec<TrialImpact> {
        let places = places.iter().take(count as usize);
        places.map(|(x, y)| typed(kind, *x, *y)).collect()
    };
    let mut impacts = take(ArrowKind::Fletched, &FURTHER.0, fletched.max(1));
    impacts.extend(take(ArrowKind::Bare, &FURTHER.1, bare.max(1)));
    face(impacts, "typed in, no photo")
}

/// Heron with its rest moved: to the left it is worse, to the right hardly better.
pub(super) fn after_rest_move(place_mm: f64) -> TrialDraft {
    let right_mm = if place_mm < -SAME_PLACE_MM { 12.0 } else { 0.0 };
    let fletched = FURTHER.0.iter().take(3);
    let bare = FURTHER.1.iter().take(3);
    let mut impacts: Vec<TrialImpact> = fletched
        .map(|(x, y)| typed(ArrowKind::Fletched, *x, *y))
        .collect();
    impacts.extend(bare.map(|(x, y)| typed(ArrowKind::Bare, x + right_mm, *y)));
    face(impacts, "typed in, no photo")
}

/// Heron through the same paper after its swap.
pub(super) fn tears_after() -> TrialDraft {
    paper([(-4.0, 3.0), (-3.0, 2.0), (-5.0, 3.5)], "same paper")
}

/// The second bow through paper: clean.
pub(super) fn clean_paper() -> TrialDraft {
    paper([(1.0, 0.5), (-0.5, 1.0), (0.5, -1.0)], "clean holes")
}

/// The third bow as it comes in: a face and three tears.
pub(super) fn third_before() -> [TrialDraft; 2] {
    third(75.0, [(-20.0, 2.0), (-19.0, 1.0), (-21.0, 2.5)])
}

/// The third bow after its swap: hardly better.
pub(super) fn third_after() -> [TrialDraft; 2] {
    third(58.0, [(-17.0, 2.0), (-16.0, 1.5), (-18.0, 2.0)])
}

fn third(right_mm: f64, tears: [Place; 3]) -> [TrialDraft; 2] {
    let fletched = [(-7.0, 4.0), (5.0, -6.0), (2.0, 5.0)];
    let bare = [(-9.0, 3.0), (8.0, -4.0), (1.0, 7.0)];
    let mut impacts: Vec<TrialImpact> = fletched
        .map(|(x, y)| typed(ArrowKind::Fletched, x, y))
        .to_vec();
    impacts.extend(bare.map(|(x, y)| typed(ArrowKind::Bare, x + right_mm, y)));
    [
        face(impacts, "typed in, no photo"),
        paper(tears, "same paper"),
    ]
}

fn paper(tears: [Place; 3], note: &str) -> TrialDraft {
    TrialDraft {
        surface: Surface::Paper,
        distance_m: PAPER_M,
        tears: tears
            .map(|(x, y)| TrialTear {
                kind: ArrowKind::Fletched,
                tear: PointMm::new(x, y),
                sd_mm: RULE_SD_MM,
                px: None,
                excluded: None,
            })
            .to_vec(),
        ..face(Vec::new(), note)
    }
}

/// The second bow with broadheads, which land to the left of its field points.
pub(super) fn stray_broadheads() -> TrialDraft {
    let fletched = [(2.0, 5.0), (-6.0, -3.0), (5.0, -8.0), (-3.0, 7.0)];
    let broadheads = [(-48.0, 2.0), (-61.0, 9.0), (-52.0, -7.0), (-57.0, 4.0)];
    let of = |kind, places: [Place; 4]| places.map(|(x, y)| typed(kind, x, y));
    let mut impacts = of(ArrowKind::Fletched, fletched).to_vec();
    impacts.extend(of(ArrowKind::Broadhead, broadheads));
    face(impacts, "typed in, no photo")
}

fn typed(kind: ArrowKind, x_mm: f64, y_mm: f64) -> TrialImpact {
    TrialImpact::typed(kind, PointMm::new(x_mm, y_mm), RULE_SD_MM)
}

fn face(impacts: Vec<TrialImpact>, note: &str) -> TrialDraft {
    TrialDraft {
        surface: Surface::Face,
        distance_m: TWENTY_YARDS_M,
        shooter: String::new(),
        arrow_setup_id: None,
        impacts,
        tears: Vec::new(),
        photo: None,
        plane: None,
        note: note.into(),
    }
}
