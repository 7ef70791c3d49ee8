//! How the work on a bow ends that nothing more pays for.

use serde::Serialize;

use crate::evidence::Probe;

use super::call::Call;
use super::next_look::NextLook;
use super::reason::Reason;
use super::types::Verdict;

/// What a bow is that nothing more pays for. It need not be beyond spacers: it may well be inside tolerance, or what was seen may be
/// scatter.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum Ending {
    /// What is asked for first is in: it is left as it is, for all that another probe is not.
    FirstIn {
        /// What is in.
        first: Probe,
    },
    /// It is more likely inside tolerance than not, and is left as it is.
    LikelyIn,
    /// The height stays out, and the nocking point does not cure it.
    HeightStays,
    /// The broadheads keep apart from the bare shafts: a matter of the heads, not of the bow.
    HeadsApart,
    /// What would cure it is in other bows, or nowhere: another set of the pair is needed.
    PiecesMissing {
        /// The pair.
        pair: String,
    },
    /// Groups so wide that a split cannot be told from scatter.
    TooWide,
    /// Outside tolerance, and spacers cannot cure it.
    Beyond,
}

impl Verdict {
    /// How the work ends, where nothing more pays; `None` where something is to be done, or the bow is settled.
    #[must_use]
    pub fn ending(&self) -> Option<Ending> {
        (self.call == Call::SpacersCannot).then(|| ending_for(&self.reasons))
    }

    /// Whether the bow is left as it is, with nowhere else to look. It is not settled all the same.
    #[must_use]
    pub fn leaves_it(&self) -> bool {
        matches!(
            self.ending(),
            Some(Ending::FirstIn { .. } | Ending::LikelyIn)
        )
    }
}

fn ending_for(reasons: &[Reason]) -> Ending {
    match reasons.first() {
        Some(Reason::FirstIsIn { first, .. }) => return Ending::FirstIn { first: *first },
        Some(Reason::HeightStays { .. }) => return Ending::HeightStays,
        Some(Reason::HeadsApart { .. } | Reason::HeadsOffHeight { .. }) => {
            return Ending::HeadsApart;
        }
        _ => {}
    }
    let likely = |reason: &Reason| matches!(reason, Reason::MayBeInside { .. });
    if reasons.iter().any(likely) {
        return Ending::LikelyIn;
    }
    let looks: Vec<NextLook> = reasons.iter().filter_map(look).collect();
    let missing = reasons.iter().find_map(missing);
    match missing.filter(|_| looks.is_empty()) {
        Some(pair) => Ending::PiecesMissing { pair: pair.clone() },
        None if looks == [NextLook::Grip] => Ending::TooWide,
        None => Ending::Beyond,
    }
}

fn look(reason: &Reason) -> Option<NextLook> {
    match reason {
        Reason::LookNext { look } => Some(*look),
        _ => None,
    }
}

fn missing(reason: &Reason) -> Option<&String> {
    match reason {
        Reason::PiecesNotAtHand { pair, .. } => Some(pair),
        _ => None,
    }
}
