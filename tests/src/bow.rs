//! A bow on record, for the tools that write to a workshop, measure it and crash it.

use shimwright::frame::Side;
use shimwright::record::BowDetails;
use shimwright::spacer::{Fitting, KitDraft, PairDraft, Seat};
use shimwright::workshop::{Workshop, WorkshopError};

/// Adds a bow with a kit of three pairs, of which "A" is in, thick side left. Its id.
///
/// # Errors
/// As the workshop's own.
pub fn add(workshop: &mut Workshop, now_ms: i64) -> Result<i64, WorkshopError> {
    let pairs = [("A", 1.3), ("B", 1.6), ("C", 1.9)];
    let kit = KitDraft {
        name: "Bench".into(),
        total_mm: 4.4,
        tolerance_mm: 0.05,
        pairs: pairs
            .map(|(name, thin)| PairDraft::new(name, thin, 4.4 - thin))
            .into(),
    };
    let details = BowDetails {
        kit_id: Some(workshop.save_kit(None, &kit, &[])?.id),
        ..BowDetails::named("Heron", 838.0)
    };
    let fitting = Fitting::alike(Seat::new("A", Side::Left));
    Ok(workshop.add_bow(&details, Some(&fitting), now_ms)?.id)
}
