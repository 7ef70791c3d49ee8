//! Trials as a table for spreadsheets: RFC 4180, UTF-8, lines ended by CR LF, units in the header.

use super::{Surface, Trial};
use crate::frame::{ArrowKind, Side};
use crate::spacer::Seat;

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
/// A text that a spreadsheet would take for a formula is led by an apostrophe.
pub fn arrows_csv(bow: &str, trials: &[Trial]) -> String {
    let lines = trials.iter().flat_map(|trial| {
        let of_trial = trial_cells(bow, trial);
        arrows(trial).map(move |arrow| [of_trial.clone(), arrow].concat())
    });
    let header = HEADER.map(str::to_owned).to_vec();
    [header].into_iter().chain(lines).map(line).collect()
}

fn trial_cells(bow: &str, trial: &Trial) -> Vec<String> {
    let surface = match trial.shot.surface {
        Surface::Face => "face",
        Surface::Paper => "paper",
    };
    let mut cells = vec![
        text(bow),
        trial.id.to_string(),
        utc(trial.at_ms),
        surface.to_owned(),
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

fn seat(seat: &Seat) -> [String; 2] {
    let side = match seat.thick {
        Side::Left => "left",
        Side::Right => "right",
    };
    [text(&seat.pair), side.to_owned()]
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

/// A person's words as a cell that no spreadsheet computes.
fn text(words: &str) -> String {
    if words.starts_with(['=', '+', '-', '@', '\t', '\r']) {
        ["'", words].concat()
    } else {
        words.to_owned()
    }
}

fn line(cells: Vec<String>) -> String {
    let quoted = cells.into_iter().map(|cell| {
        if cell.contains(['"', ',', '\r', '\n']) {
            ["\"", &cell.replace('"', "\"\""), "\""].concat()
        } else {
            cell
        }
    });
    quoted.collect::<Vec<_>>().join(",") + "\r\n"
}

/// Epoch milliseconds as ISO 8601, by the civil calendar (Howard Hinnant, "chrono-compatible
/// low-level date algorithms", `civil_from_days`).
fn utc(at_ms: i64) -> String {
    let (days, ms) = (at_ms.div_euclid(86_400_000), at_ms.rem_euclid(86_400_000));
    let days = days + 719_468;
    let (era, day_of_era) = (days.div_euclid(146_097), days.rem_euclid(146_097));
    let year_of_era =
        (day_of_era - day_of_era / 1460 + day_of_era / 36_524 - day_of_era / 146_096) / 365;
    let day_of_year = day_of_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
    let shifted = (5 * day_of_year + 2) / 153;
    let day = day_of_year - (153 * shifted + 2) / 5 + 1;
    let month = if shifted < 10 {
        shifted + 3
    } else {
        shifted - 9
    };
    let year = year_of_era + era * 400 + i64::from(month <= 2);
    let (hours, minutes, seconds) = (ms / 3_600_000, ms / 60_000 % 60, ms / 1000 % 60);
    format!("{year:04}-{month:02}-{day:02}T{hours:02}:{minutes:02}:{seconds:02}Z")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn times_are_those_of_the_date_command() {
        // By `date -u -d @N +%FT%TZ` of coreutils.
        assert_eq!(utc(0), "1970-01-01T00:00:00Z");
        assert_eq!(utc(1_709_164_799_000), "2024-02-28T23:59:59Z");
        assert_eq!(utc(1_709_251_200_000), "2024-03-01T00:00:00Z");
        assert_eq!(utc(-1_000), "1969-12-31T23:59:59Z");
        assert_eq!(utc(4_102_444_800_500), "2100-01-01T00:00:00Z");
    }

    #[test]
    fn words_are_quoted_and_never_computed() {
        let cells = ["a,b", "say \"so\"", "plain", "two\nlines"]
            .map(str::to_owned)
            .to_vec();
        assert_eq!(
            line(cells),
            "\"a,b\",\"say \"\"so\"\"\",plain,\"two\nlines\"\r\n"
        );
        assert_eq!(text("=1+1"), "'=1+1");
    }
}
