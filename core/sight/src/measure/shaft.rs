//! The shaft's size from the holes of the same photograph, where nobody has said it.

use super::measured::{MeasuredImpact, ReadAs};
use crate::stats::median;

/// Holes needed: fewer say less than what is usual.
const LEAST_HOLES: usize = 5;
/// ... or crisp rims.
const LEAST_CRISP: usize = 2;
/// Flaps make a wound look smaller than its shaft, and what is usual draws the size of a large one down: so many of
/// the holes are taken to be too small.
const TOO_SMALL: f64 = 0.75;

/// Diameter of the shafts that made `impacts`, mm: of two crisp rims or more the middle one's, of five holes or more
/// the upper quartile's, whichever is larger. `None` where there are fewer.
pub fn shaft_mm(impacts: &[MeasuredImpact]) -> Option<f64> {
    let crisp = impacts.iter().filter(|i| i.read_as == ReadAs::Crisp);
    let crisp: Vec<f64> = crisp.filter_map(|i| i.radius_mm).collect();
    let all: Vec<f64> = impacts.iter().filter_map(|i| i.radius_mm).collect();
    of_radii(crisp, all)
}

fn of_radii(crisp: Vec<f64>, all: Vec<f64>) -> Option<f64> {
    let of_crisp = (crisp.len() >= LEAST_CRISP).then(|| median(crisp));
    let of_all = (all.len() >= LEAST_HOLES).then(|| quantile(all, TOO_SMALL));
    let radii = [of_crisp.flatten(), of_all.flatten()];
    let radius_mm = radii.into_iter().flatten().max_by(f64::total_cmp)?;
    Some(2.0 * radius_mm)
}

fn quantile(mut values: Vec<f64>, share: f64) -> Option<f64> {
    values.sort_by(f64::total_cmp);
    let at = share * (values.len().checked_sub(1)? as f64);
    let low = values.get(at.floor() as usize)?;
    let high = values.get(at.ceil() as usize)?;
    Some(low + (high - low) * at.fract())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn torn_holes_look_smaller_than_their_shaft_and_two_crisp_rims_tell_it() {
        let torn = vec![2.2, 2.4, 2.6, 3.0, 3.2];
        assert_eq!(of_radii(vec![], torn.clone()), Some(6.0));
        assert_eq!(of_radii(vec![4.4, 4.5, 4.6], torn.clone()), Some(9.0));
        assert_eq!(of_radii(vec![2.5, 2.5], torn.clone()), Some(6.0));
        assert_eq!(of_radii(vec![4.4], torn[..4].to_vec()), None);
    }
}
