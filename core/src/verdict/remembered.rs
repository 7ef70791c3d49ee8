//! Remembered swaps that cannot have been so.

use crate::evidence::{Aside, Belief, Known, Remembered};
use crate::flight::TransferTable;

use super::trim;

/// A remembered swap this many standard deviations from what the bow has shown, or from another one, was not so. Twelve in
/// 1,000 true ones, if memory's errors were normal.
const MISREMEMBERED_SDS: f64 = 2.5;

/// Leaves out remembered swaps that a bow which has shown its response answers otherwise (what was shot is believed before
/// what is remembered), and, where it has not, such as contradict each other.
pub(crate) fn forget_misremembered(known: &mut Known, transfer: &TransferTable) {
    let remembered = std::mem::take(&mut known.remembered);
    if remembered.is_empty() {
        return;
    }
    let own = Belief::new(known.clone(), transfer, Aside::default());
    let shown = &own.sideways.response;
    let shown = trim::swap_shown(&own).then(|| (shown.mean(), shown.sd()));
    let response = |swap: &Remembered| swap.response(known.now.target_m, transfer);
    let agree = |one: (f64, f64), other: (f64, f64)| {
        (one.0 - other.0).abs() <= MISREMEMBERED_SDS * one.1.hypot(other.1)
    };
    let fits = |swap: &&Remembered| match shown {
        Some(shown) => agree(response(swap), shown),
        None => remembered
            .iter()
            .all(|other| agree(response(swap), response(other))),
    };
    known.remembered = remembered.iter().filter(fits).copied().collect();
}
