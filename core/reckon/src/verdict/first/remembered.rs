//! Remembered swaps that cannot have been so.

use crate::evidence::{Aside, Belief, Known, Remembered, SAME_MM};
use crate::flight::TransferTable;
use crate::verdict::limits::APART_SDS;
use crate::verdict::steps::trim;

/// Leaves out remembered swaps that a bow which has shown its response answers otherwise (what was shot is believed before
/// what is remembered), and, where it has not, such as more than half of the others contradict.
pub(crate) fn forget_misremembered(known: &mut Known, transfer: &TransferTable) {
    let mut remembered = std::mem::take(&mut known.remembered);
    // A turn that left the cams where they were tells nothing of how the bow answers.
    remembered.retain(|swap| swap.shift_mm.abs() > SAME_MM);
    if remembered.is_empty() {
        return;
    }
    let own = Belief::new(known.clone(), transfer, Aside::default());
    let shown = &own.sideways.response;
    let shown = trim::swap_shown(&own).then(|| (shown.mean(), shown.sd()));
    let response = |swap: &Remembered| swap.response(known.now.target_m, transfer);
    let agree = |one: (f64, f64), other: (f64, f64)| {
        (one.0 - other.0).abs() <= APART_SDS * one.1.hypot(other.1)
    };
    let fits = |swap: &&Remembered| {
        if let Some(shown) = shown {
            return agree(response(swap), shown);
        }
        let others = remembered
            .iter()
            .filter(|other| !std::ptr::eq(*other, *swap));
        let agreeing = others.filter(|other| agree(response(swap), response(other)));
        2 * agreeing.count() + 1 >= remembered.len()
    };
    known.remembered = remembered.iter().filter(fits).copied().collect();
}
