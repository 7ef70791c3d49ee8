//! What evidence asks of flight: how a launch fault shows for a probe at a distance.

use crate::flight::{Expected, Transfer, TransferTable};
use crate::frame::ArrowKind;

use super::Probe;

/// How one mm of launch fault (stated as a bare shaft's split at 18.288 m) shows, mm. Distances are
/// checked before; outside the table nothing shows.
pub(crate) fn gain(table: &TransferTable, probe: Probe, distance_m: f64) -> Transfer {
    let asked = match probe {
        Probe::Bare => table.split(ArrowKind::Bare, distance_m),
        Probe::Broadhead => table.split(ArrowKind::Broadhead, distance_m),
        Probe::Paper => table.tear(ArrowKind::Fletched, distance_m),
    };
    asked.unwrap_or(Transfer {
        rate: 0.0,
        angle: 0.0,
        per_bare20: 0.0,
        sd: 0.0,
    })
}

/// The vertical difference that gravity and drag make on a perfect bow.
pub(crate) fn expected_y(table: &TransferTable, probe: Probe, distance_m: f64) -> Expected {
    let asked = match probe {
        Probe::Bare => table.expected_vertical(ArrowKind::Bare, distance_m),
        Probe::Broadhead => table.expected_vertical(ArrowKind::Broadhead, distance_m),
        Probe::Paper => table.expected_tear_vertical(ArrowKind::Fletched, distance_m),
    };
    asked.unwrap_or_default()
}
