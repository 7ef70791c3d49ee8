//! The middle of a sample, which stray values do not move.

/// Standard deviation of normal values over the median of their distances from the middle: one over
/// the upper quartile of the normal, 0.6745.
pub(crate) const SD_PER_MEDIAN: f64 = 1.4826;

/// The middle value, of an even number the upper of the two; `None` of nothing. Brightnesses of whatever kind
/// are asked for as these numbers too: a search for each kind would stand in the program again.
pub(crate) fn median(values: Vec<f64>) -> Option<f64> {
    // As whole numbers of the same order they are compared in one step.
    let mut ranks: Vec<i64> = values.into_iter().map(rank).collect();
    let middle = ranks.len() / 2;
    (!ranks.is_empty()).then(|| value(*ranks.select_nth_unstable(middle).1))
}

/// Where a value stands in the total order of IEEE 754; with [`value`] its own inverse.
fn rank(value: f64) -> i64 {
    turned(value.to_bits() as i64)
}

fn value(rank: i64) -> f64 {
    f64::from_bits(turned(rank) as u64)
}

/// Negative numbers lie in falling order as bits; all bits but the sign are turned over.
fn turned(bits: i64) -> i64 {
    bits ^ (((bits >> 63) as u64) >> 1) as i64
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_middle_is_that_of_the_sorted_values() {
        let level = |i: u64| ((i * 7919) % 251) as f64 - 125.0;
        for count in 0..40 {
            let values: Vec<f64> = (0..count).map(level).chain([-0.0, 1e-300]).collect();
            let mut sorted = values.clone();
            sorted.sort_by(f64::total_cmp);
            assert_eq!(median(values), sorted.get(sorted.len() / 2).copied());
        }
        assert_eq!(median(Vec::new()), None);
        assert_eq!(
            median(vec![f64::INFINITY, f64::NEG_INFINITY, 0.0]),
            Some(0.0)
        );
    }
}
