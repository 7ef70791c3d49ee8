//! The middle of a sample, which stray values do not move.

use std::cmp::Ordering;

/// Standard deviation of normal values over the median of their distances from the middle: one over
/// the upper quartile of the normal, 0.6745.
pub(crate) const SD_PER_MEDIAN: f64 = 1.4826;

/// The middle value, of an even number the upper of the two; `None` of nothing.
pub(crate) fn median(values: Vec<f64>) -> Option<f64> {
    median_by(values, f64::total_cmp)
}

/// The same in any order.
pub(crate) fn median_by<T: Copy>(mut values: Vec<T>, order: fn(&T, &T) -> Ordering) -> Option<T> {
    let middle = values.len() / 2;
    (!values.is_empty()).then(|| *values.select_nth_unstable_by(middle, order).1)
}
