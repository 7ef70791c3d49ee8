//! Rows about holes: answered with a centre of the tool's own, how far off, and what is suggested.

use shimwright::frame::PointPx;
use shimwright::measure::{Measured, MeasuredImpact};

use super::Outcome;
use crate::table::{Bar, Row, Spread, share};

/// A suggestion this close to a hole means that hole, mm.
const SAME_HOLE_MM: f64 = 3.0;
/// One this close to a doubtful place counts neither way, mm.
const DOUBTFUL_MM: f64 = 6.0;

/// One row per kind of hole, one of light holes and one of suggestions.
pub(super) fn rows(outcomes: &[Outcome]) -> Vec<Row> {
    let of = |kinds: &'static [&str]| {
        move |label: Option<&str>| label.is_some_and(|l| kinds.contains(&l))
    };
    let bars = [Bar::AtLeast(0.95), Bar::AtMost(0.45)];
    let sure = of(&["clean", "ragged", "print"]);
    let mut rows = vec![taps(outcomes, "Holes: clean, ragged, on print", sure, bars)];
    let bars = [Bar::AtLeast(0.85), Bar::AtMost(0.60)];
    rows.push(taps(outcomes, "Holes: closed", of(&["closed"]), bars));
    let bars = [Bar::AtLeast(0.70), Bar::AtMost(0.80)];
    rows.push(taps(outcomes, "Holes: touching", of(&["touching"]), bars));
    rows.push(taps(
        outcomes,
        "Holes of arrows, all",
        |label| label.is_some(),
        [Bar::None; 2],
    ));
    let bars = [Bar::AtLeast(0.85), Bar::None];
    rows.push(taps(
        outcomes,
        "Holes: light, backlit, punched",
        |label| label.is_none(),
        bars,
    ));
    rows.push(suggestions(outcomes, true, [0.80, 0.95]));
    rows.push(suggestions(outcomes, false, [0.70, 0.95]));
    rows
}

/// A hole as it was read by hand.
struct Hole<'a> {
    label: Option<&'a str>,
    at: PointPx,
}

fn holes(outcome: &Outcome) -> impl Iterator<Item = Hole<'_>> {
    let labels = outcome.truth.labels.iter().map(|l| Some(l.as_str()));
    let labels = labels.chain(std::iter::repeat(None));
    outcome
        .truth
        .holes
        .iter()
        .zip(labels)
        .map(|([x, y], label)| Hole {
            label,
            at: PointPx::new(*x, *y),
        })
}

fn scale(outcome: &Outcome, answer: &Measured) -> f64 {
    outcome.truth.px_per_mm.unwrap_or(answer.plane.px_per_mm)
}

fn taps(
    outcomes: &[Outcome],
    item: &'static str,
    wanted: impl Fn(Option<&str>) -> bool,
    [answered, rms]: [Bar; 2],
) -> Row {
    let (mut error, mut told) = (Spread::default(), Spread::default());
    let (mut asked, mut photos) = (0, 0);
    for outcome in outcomes {
        let Ok(answer) = &outcome.answer else {
            continue;
        };
        let pairs = holes(outcome).zip(&answer.impacts);
        let pairs: Vec<(Hole<'_>, &MeasuredImpact)> =
            pairs.filter(|(h, _)| wanted(h.label)).collect();
        photos += usize::from(!pairs.is_empty());
        asked += pairs.len();
        for (hole, impact) in pairs.iter().filter(|(_, impact)| impact.snapped) {
            let off_mm = impact.px.distance_px(hole.at) / scale(outcome, answer);
            error.push(off_mm);
            told.push(off_mm / std::f64::consts::SQRT_2 / impact.sd_mm);
        }
    }
    Row::new(item, photos)
        .with("answered, share", share(error.count(), asked), answered)
        .with("rms, mm", error.rms(), rms)
        .with("largest, mm", error.max(), Bar::AtMost(2.0))
        .with(
            "error / stated sd, rms, at least",
            told.rms(),
            Bar::AtLeast(0.7),
        )
        .with(
            "error / stated sd, rms, at most",
            told.rms(),
            Bar::AtMost(1.3),
        )
}

/// Suggestions on photographs of arrow holes, or of light and punched ones.
fn suggestions(outcomes: &[Outcome], arrows: bool, [recall, precision]: [f64; 2]) -> Row {
    let (mut all, mut sure, mut found_all, mut found_sure, mut wrong, mut photos) =
        (0, 0, 0, 0, 0, 0);
    let mut notes = Vec::new();
    for outcome in outcomes.iter().filter(|o| o.request.propose) {
        let Ok(answer) = &outcome.answer else {
            continue;
        };
        if outcome.truth.holes.is_empty() || outcome.truth.labels.is_empty() == arrows {
            continue;
        }
        photos += 1;
        let near = |at: PointPx, other: PointPx, mm: f64| {
            at.distance_px(other) / scale(outcome, answer) < mm
        };
        for hole in holes(outcome) {
            let found = answer
                .proposals
                .iter()
                .any(|p| near(p.px, hole.at, SAME_HOLE_MM));
            let is_sure = matches!(hole.label, Some("clean" | "ragged" | "print"));
            (all, found_all) = (all + 1, found_all + usize::from(found));
            (sure, found_sure) = (
                sure + usize::from(is_sure),
                found_sure + usize::from(found && is_sure),
            );
        }
        for p in &answer.proposals {
            let hole = holes(outcome).any(|h| near(p.px, h.at, SAME_HOLE_MM));
            let unsure = outcome
                .truth
                .unsure
                .iter()
                .filter_map(|u| Some(PointPx::new(*u.first()?, *u.get(1)?)));
            if !hole && !unsure.into_iter().any(|u| near(p.px, u, DOUBTFUL_MM)) {
                wrong += 1;
                notes.push(format!(
                    "{}: none at ({:.0}, {:.0}) px",
                    outcome.name, p.px.x_px, p.px.y_px
                ));
            }
        }
    }
    let item = if arrows {
        "Suggestions of arrow holes"
    } else {
        "Suggestions of light and punched holes"
    };
    let mut row = Row::new(item, photos)
        .with("recall, all", share(found_all, all), Bar::AtLeast(recall))
        .with(
            "precision",
            share(found_all, found_all + wrong),
            Bar::AtLeast(precision),
        );
    if arrows {
        row = row.with(
            "recall: clean, ragged, on print",
            share(found_sure, sure),
            Bar::AtLeast(0.90),
        );
    }
    row.notes = notes;
    row
}
