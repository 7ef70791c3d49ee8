//! Every arrow of a bow, one a line.

use super::{seat, surface, table, text, utc};
use crate::frame::ArrowKind;
use crate::record::Trial;

const HEADER: [&str; 18] = [
    "bow",
    "trial",
    "time (UTC)",
    "surface",
    "distance (m)",
    "top pair",
    "top thick side",
    "bottom pair",
    "bottom thick side",
    "rest right (mm)",
    "nocking point up (mm)",
    "epoch",
    "arrow",
    "arrow number",
    "right (mm)",
    "up (mm)",
    "sd (mm)",
    "left out",
];

/// One line per arrow of these trials: an impact's place on the face, or a tear (nock minus point).
pub fn arrows_csv(bow: &str, trials: &[Trial]) -> String {
    let lines = trials.iter().flat_map(|trial| {
        let of_trial = trial_cells(bow, trial);
        arrows(trial).map(move |arrow| [of_trial.clone(), arrow].concat())
    });
    table(HEADER, lines)
}

fn trial_cells(bow: &str, trial: &Trial) -> Vec<String> {
    let mut cells = vec![
        text(bow),
        trial.id.to_string(),
        utc(trial.at_ms),
        surface(trial.shot.surface).to_owned(),
        trial.shot.distance_m.to_string(),
    ];
    cells.extend(seat(&trial.fitting.top));
    cells.extend(seat(&trial.fitting.bottom));
    cells.extend([
        trial.setup.rest_mm.to_string(),
        trial.setup.nock_mm.to_string(),
    ]);
    cells.push(trial.setup.epoch.to_string());
    cells
}

fn arrows(trial: &Trial) -> impl Iterator<Item = Vec<String>> {
    let impacts = trial.shot.impacts.iter().map(|mark| {
        let number = mark.arrow_number.map(|number| number.to_string());
        (mark.kind, number, mark.at, mark.sd_mm, mark.excluded)
    });
    let tears = trial
        .shot
        .tears
        .iter()
        .map(|mark| (mark.kind, None, mark.tear, mark.sd_mm, mark.excluded));
    impacts
        .chain(tears)
        .map(|(kind, number, at, sd_mm, excluded)| {
            vec![
                kind_name(kind).to_owned(),
                number.unwrap_or_default(),
                at.x_mm.to_string(),
                at.y_mm.to_string(),
                sd_mm.to_string(),
                excluded.map(|why| format!("{why:?}")).unwrap_or_default(),
            ]
        })
}

fn kind_name(kind: ArrowKind) -> &'static str {
    match kind {
        ArrowKind::Fletched => "fletched",
        ArrowKind::Bare => "bare",
        ArrowKind::Broadhead => "broadhead",
    }
}
