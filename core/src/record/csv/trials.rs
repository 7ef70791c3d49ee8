//! Every trial of a bow, one a line, with what it came to.

use super::{seat, surface, table, text, utc};
use crate::frame::{ArrowKind, Probe};
use crate::record::Trial;
use crate::split::{AxisSplit, Split};

const HEADER: [&str; 37] = [
    "bow",
    "trial",
    "time (UTC)",
    "surface",
    "distance (m)",
    "shooter",
    "arrows",
    "top pair",
    "top thick side",
    "bottom pair",
    "bottom thick side",
    "rest right (mm)",
    "nocking point up (mm)",
    "epoch",
    "struck",
    "fletched",
    "bare",
    "broadheads",
    "tears",
    "bare right (mm)",
    "bare right low 95 (mm)",
    "bare right high 95 (mm)",
    "bare up (mm)",
    "bare up low 95 (mm)",
    "bare up high 95 (mm)",
    "broadheads right (mm)",
    "broadheads right low 95 (mm)",
    "broadheads right high 95 (mm)",
    "broadheads up (mm)",
    "broadheads up low 95 (mm)",
    "broadheads up high 95 (mm)",
    "nock right (mm)",
    "nock right low 95 (mm)",
    "nock right high 95 (mm)",
    "nock up (mm)",
    "nock up low 95 (mm)",
    "nock up high 95 (mm)",
];

/// One trial and what was read from it.
#[derive(Debug, Clone, PartialEq)]
pub struct TrialLine<'a> {
    /// The trial.
    pub trial: &'a Trial,
    /// What its arrows are called; empty where nobody said.
    pub arrows: &'a str,
    /// Its splits, none where it is struck or too little was shot.
    pub splits: Vec<Split>,
}

/// One line per trial: what was fitted, how many arrows count, and each split from the fletched
/// group (on paper where the nock passed from where the point passed) with its 95 % interval. A
/// split that was not shot leaves its cells empty.
pub fn trials_csv(bow: &str, lines: &[TrialLine]) -> String {
    table(HEADER, lines.iter().map(|line| cells(bow, line)))
}

fn cells(bow: &str, line: &TrialLine) -> Vec<String> {
    let TrialLine { trial, arrows, .. } = line;
    let mut cells = vec![
        text(bow),
        trial.id.to_string(),
        utc(trial.at_ms),
        surface(trial.shot.surface).to_owned(),
        trial.shot.distance_m.to_string(),
        text(&trial.shot.shooter),
        text(arrows),
    ];
    cells.extend(seat(&trial.fitting.top));
    cells.extend(seat(&trial.fitting.bottom));
    cells.extend([
        trial.setup.rest_mm.to_string(),
        trial.setup.nock_mm.to_string(),
        trial.setup.epoch.to_string(),
        trial.struck_ms.map(utc).unwrap_or_default(),
    ]);
    cells.extend(counts(trial).map(|count| count.to_string()));
    for probe in [Probe::Bare, Probe::Broadhead, Probe::Paper] {
        let split = line.splits.iter().find(|split| split.probe == probe);
        cells.extend(split.map_or_else(Default::default, figures));
    }
    cells
}

/// Fletched, bare, broadheads and tears that count.
fn counts(trial: &Trial) -> [usize; 4] {
    let hits = |kind| {
        let impacts = trial.shot.impacts.iter();
        impacts
            .filter(|mark| mark.kind == kind && mark.excluded.is_none())
            .count()
    };
    let tears = trial.shot.tears.iter();
    [
        hits(ArrowKind::Fletched),
        hits(ArrowKind::Bare),
        hits(ArrowKind::Broadhead),
        tears.filter(|tear| tear.excluded.is_none()).count(),
    ]
}

fn figures(split: &Split) -> [String; 6] {
    let axis = |axis: AxisSplit| {
        [axis.value_mm, axis.low95_mm, axis.high95_mm].map(|mm| {
            // An interval without end (one arrow) has no figure.
            if mm.is_finite() {
                format!("{mm:.3}")
            } else {
                String::new()
            }
        })
    };
    let ([a, b, c], [d, e, f]) = (axis(split.x()), axis(split.y()));
    [a, b, c, d, e, f]
}
