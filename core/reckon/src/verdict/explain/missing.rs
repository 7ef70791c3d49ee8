//! Pieces that a better fitting needs and that are not at hand.

use crate::spacer::{Fitting, Stock};
use crate::verdict::deliberation::Deliberation;
use crate::verdict::limits::LIKELY;
use crate::verdict::steps::next::weigh;
use crate::verdict::steps::options::Fittings;
use crate::verdict::{Choice, Reason, VerdictError};

/// A fitting that is not at hand is named when it would save this much, mm. Chosen by hand; not tuned.
const WORTH_NAMING_MM: f64 = 3.0;

/// The pair that a better fitting would need, or one that makes the bow more likely in than out where none at hand does.
pub(crate) fn not_at_hand(deliberation: &Deliberation) -> Result<Option<Reason>, VerdictError> {
    let Deliberation {
        case, belief, aims, ..
    } = deliberation;
    let Some(stock) = &case.stock else {
        return Ok(None);
    };
    let free = weigh(case, belief, aims, &Fittings::of(case, false)?).choices;
    let better = |best: &&Choice| {
        let own = deliberation.options.first();
        own.is_some_and(|own| own.loss_mm - best.loss_mm >= WORTH_NAMING_MM)
    };
    let inside = |one: &Choice| one.within_tolerance;
    let likely = |best: &&Choice| {
        let own = deliberation.options.iter().map(inside);
        inside(best) >= own.fold(LIKELY, f64::max)
    };
    let best = free.first().filter(better);
    let likeliest = || free.iter().max_by(|a, b| inside(a).total_cmp(&inside(b)));
    let named = best.or_else(|| likeliest().filter(likely));
    let named = named.filter(|best| !stock.allows(&best.fitting));
    Ok(named.map(|best| Reason::PiecesNotAtHand {
        pair: missing(stock, &best.fitting),
        after_mm: best.x_mm.abs(),
    }))
}

/// The pair of which too few sets are at hand.
fn missing(stock: &Stock, fitting: &Fitting) -> String {
    let alike = u32::from(fitting.top.pair == fitting.bottom.pair);
    if stock.sets_of(&fitting.top.pair) < 1 + alike {
        fitting.top.pair.clone()
    } else {
        fitting.bottom.pair.clone()
    }
}
