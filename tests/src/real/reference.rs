//! Rows about the reference: found or refused, right or wrong, how fast.

use shimwright::measure::{Measured, Reference, Trace, TraceKind};
use shimwright::plane::PlaneWarning;

use super::{Expect, Kind, Outcome};
use crate::table::{Bar, Row, Spread, share};

/// A scale further off than this is wrong.
const SCALE_OFF: f64 = 0.03;
/// An edge of a rigid card further off than this is wrong, mm.
const EDGE_OFF_MM: f64 = 1.0;

pub(super) fn rows(outcomes: &[Outcome]) -> Vec<Row> {
    vec![
        wrong(outcomes),
        sheets(outcomes),
        flatness(outcomes),
        faces(outcomes),
        rings(outcomes),
    ]
}

fn wrong(outcomes: &[Outcome]) -> Row {
    let notes: Vec<String> = outcomes.iter().flat_map(what_is_wrong).collect();
    let row = Row::new("Confidently wrong", outcomes.len());
    let mut row = row.with("answers", notes.len() as f64, Bar::AtMost(0.0));
    row.notes = notes;
    row
}

fn what_is_wrong(outcome: &Outcome) -> Vec<String> {
    let (name, truth) = (&outcome.name, &outcome.truth);
    let Ok(answer) = &outcome.answer else {
        return Vec::new();
    };
    let mut wrong = Vec::new();
    if let Some(off) = truth.px_per_mm.map(|t| answer.plane.px_per_mm / t - 1.0)
        && off.abs() > SCALE_OFF
    {
        wrong.push(format!("{name}: scale {:.2} x", 1.0 + off));
    }
    if let Some(off_mm) = corner_off_px(outcome).map(|px| px / answer.plane.px_per_mm)
        && truth.rigid()
        && off_mm > EDGE_OFF_MM
    {
        wrong.push(format!("{name}: an edge {off_mm:.1} mm off"));
    }
    let warned = !answer.plane.warnings.is_empty();
    match truth.expect {
        Expect::Refused => wrong.push(format!("{name}: a wrong size accepted")),
        Expect::RefusedOrWarned if !warned => wrong.push(format!("{name}: without a warning")),
        _ => {}
    }
    if truth.no_tears && answer.tears.iter().any(|t| t.accepted) {
        wrong.push(format!("{name}: no tear, read as one"));
    }
    wrong
}

/// Largest distance of a corner from where it was read.
fn corner_off_px(outcome: &Outcome) -> Option<f64> {
    let corners = outcome.truth.corners.as_ref()?;
    let edges = outcome.answer.as_ref().ok()?.found.iter();
    let edges = edges.filter(|t: &&Trace| t.kind == TraceKind::Edge);
    let off = edges.zip(corners).filter_map(|(edge, corner)| {
        let (at, [x, y]) = (edge.px.first()?, (*corner)?);
        Some((at.x_px - x).hypot(at.y_px - y))
    });
    off.reduce(f64::max)
}

fn without_taps(outcome: &Outcome) -> bool {
    matches!(
        outcome.request.reference,
        Reference::Sheet {
            corners_px: None,
            ..
        }
    )
}

fn sheets(outcomes: &[Outcome]) -> Row {
    let sheets = || {
        let all = outcomes.iter().filter(|o| o.truth.kind == Kind::Sheet);
        all.filter(|o| matches!(o.truth.expect, Expect::Found | Expect::FoundOrRefused))
    };
    let found = |auto: bool| -> (usize, usize) {
        let asked = || sheets().filter(|o| without_taps(o) == auto);
        (
            asked().filter(|o| o.answer.is_ok()).count(),
            asked().count(),
        )
    };
    let (taps, auto) = (found(false), found(true));
    let mut row = Row::new("Sheets and cards fully in view", taps.1 + auto.1)
        .with(
            "found with taps, share",
            share(taps.0, taps.1),
            Bar::AtLeast(0.95),
        )
        .with(
            "found without, share",
            share(auto.0, auto.1),
            Bar::AtLeast(0.75),
        );
    row.notes = sheets().map(sheet_note).collect();
    row
}

fn sheet_note(outcome: &Outcome) -> String {
    let (name, seconds) = (&outcome.name, outcome.seconds);
    match &outcome.answer {
        Err(why) => format!("{name:28} {seconds:4.2} s  refused: {why}"),
        Ok(answer) => {
            let off_px = corner_off_px(outcome).unwrap_or(f64::NAN);
            let off_mm = off_px / answer.plane.px_per_mm;
            let rest = rest(answer);
            format!("{name:28} {seconds:4.2} s  corner {off_px:5.1} px {off_mm:4.1} mm  {rest}")
        }
    }
}

fn rest(answer: &Measured) -> String {
    let plane = &answer.plane;
    let learned = if plane.k1_learned { " learned" } else { "" };
    let (residual_mm, k1) = (plane.residual_mm, plane.k1);
    let warnings: Vec<String> = plane.warnings.iter().map(ToString::to_string).collect();
    let warnings = warnings.join("; ");
    format!("rms {residual_mm:.3} mm  k1 {k1:+.3}{learned}  {warnings}")
}

fn flatness(outcomes: &[Outcome]) -> Row {
    let cards = || {
        let found = outcomes
            .iter()
            .filter_map(|o| Some((o, o.answer.as_ref().ok()?)));
        found.filter(|(o, _)| o.truth.kind == Kind::Sheet && o.truth.rigid())
    };
    let flat = |w: &PlaneWarning| matches!(w, PlaneWarning::NotFlat { .. });
    let said = |(_, answer): &(&Outcome, &Measured)| answer.plane.warnings.iter().any(flat);
    Row::new("\"Not flat\" on rigid cards", cards().count()).with(
        "said of, cards",
        cards().filter(said).count() as f64,
        Bar::AtMost(0.0),
    )
}

/// Published faces, some with an arrow standing across their rings.
fn faces(outcomes: &[Outcome]) -> Row {
    let must_be_found = |o: &&Outcome| o.truth.expect == Expect::Found;
    let faces = || {
        let rings = outcomes.iter().filter(|o| o.truth.kind == Kind::Rings);
        rings.filter(must_be_found)
    };
    let found = faces().filter(|o| o.answer.is_ok()).count();
    let mut row = Row::new("Published faces", faces().count()).with(
        "found, share",
        share(found, faces().count()),
        Bar::AtLeast(1.0),
    );
    row.notes = faces().map(ring_note).collect();
    row
}

fn rings(outcomes: &[Outcome]) -> Row {
    let rings = || {
        let all = outcomes.iter().filter(|o| o.truth.kind == Kind::Rings);
        all.filter(|o| o.truth.expect != Expect::Found)
    };
    let mut slowest = Spread::default();
    rings().for_each(|o| slowest.push(o.seconds));
    let found = rings().filter(|o| o.answer.is_ok()).count();
    let mut row = Row::new("Own rings", rings().count())
        .with("found, share", share(found, rings().count()), Bar::None)
        .with("slowest with its holes, s", slowest.max(), Bar::None);
    row.notes = rings().map(ring_note).collect();
    row
}

fn ring_note(outcome: &Outcome) -> String {
    let (name, seconds) = (&outcome.name, outcome.seconds);
    match &outcome.answer {
        Err(why) => format!("{name:28} {seconds:4.2} s  refused: {why}"),
        Ok(answer) => {
            let truth = outcome.truth.px_per_mm.unwrap_or(f64::NAN);
            let (scale, rest) = (answer.plane.px_per_mm / truth, rest(answer));
            format!("{name:28} {seconds:4.2} s  scale {scale:.3}  {rest}")
        }
    }
}
