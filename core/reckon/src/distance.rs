//! The shooting distances the project computes for.

/// Shortest distance, m: half a metre is the closest that paper is hung in front of a bow.
pub const SHORTEST_M: f64 = 0.5;
/// Longest distance, m: beyond it the rigid-arrow model was never checked.
pub const LONGEST_M: f64 = 100.0;

/// A distance nobody tunes at.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
#[error(
    "{distance_m} m as distance is outside {SHORTEST_M} to {LONGEST_M} m; check the number and its unit"
)]
pub struct DistanceError {
    /// What was given, m.
    pub distance_m: f64,
}

/// The distance itself when it lies in [`SHORTEST_M`]..=[`LONGEST_M`].
///
/// # Errors
/// [`DistanceError`] otherwise, also for a number that is not finite.
pub fn checked_m(distance_m: f64) -> Result<f64, DistanceError> {
    if (SHORTEST_M..=LONGEST_M).contains(&distance_m) {
        Ok(distance_m)
    } else {
        Err(DistanceError { distance_m })
    }
}
