//! Tables for spreadsheets: RFC 4180, UTF-8, lines ended by CR LF, units in the header. What a
//! spreadsheet would take for a formula is led by an apostrophe.

mod arrows;
mod trials;

pub use arrows::arrows_csv;
pub use trials::{TrialLine, trials_csv};

use super::Surface;
use crate::frame::Side;
use crate::spacer::Seat;

/// A header and lines as one table.
fn table<const N: usize>(header: [&str; N], lines: impl Iterator<Item = Vec<String>>) -> String {
    let header = header.map(str::to_owned).to_vec();
    [header].into_iter().chain(lines).map(line).collect()
}

fn surface(surface: Surface) -> &'static str {
    match surface {
        Surface::Face => "face",
        Surface::Paper => "paper",
    }
}

fn seat(seat: &Seat) -> [String; 2] {
    let side = match seat.thick {
        Side::Left => "left",
        Side::Right => "right",
    };
    [text(&seat.pair), side.to_owned()]
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
