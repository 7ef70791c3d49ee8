//! The shaft's size from the holes of the same photograph, where nobody has said it.

use super::measured::MeasuredImpact;
use crate::stats::{SD_PER_MEDIAN, median};

/// Holes needed: fewer say less than what is usual.
const LEAST_HOLES: usize = 5;
/// Holes whose radii differ by more than this among themselves (1.4826 x median absolute deviation,
/// share of their median) are not of one kind of shaft.
const MOST_SPREAD: f64 = 0.15;

/// Diameter of the shafts that made `impacts`, mm: twice the median radius of the holes found.
/// `None` where there are fewer than five, or where they are not alike.
pub fn shaft_mm(impacts: &[MeasuredImpact]) -> Option<f64> {
    let radii: Vec<f64> = impacts.iter().filter_map(|i| i.radius_mm).collect();
    if radii.len() < LEAST_HOLES {
        return None;
    }
    let middle = median(radii.clone())?;
    let off = radii.iter().map(|r| (r - middle).abs()).collect();
    let spread = SD_PER_MEDIAN * median(off)?;
    (spread <= MOST_SPREAD * middle).then_some(2.0 * middle)
}
