//! A verdict as it was given.

use serde::de::Error;
use serde::{Deserialize, Deserializer, Serialize};
use serde_json::Value;

use super::former::{self, FormerCall};
use super::spacers::StoredFitting;
use super::trim::StoredTrim;
use super::{Form, form, form_enum};
use crate::evidence::Probe;
use crate::frame::ArrowKind;
use crate::record::MoreArrows;
use crate::verdict::{
    Adjustment, Alternative, Arrows, Call, CheckItem, Choice, Direction, Knob, MeasuredUnit,
    OutOfRange, Predicted, Reason, Response, SplitReading, Verdict,
};

/// The live side of [`StoredGiven`]: a verdict and the trials it used.
pub(in crate::store) struct Given {
    pub(in crate::store) verdict: Verdict,
    pub(in crate::store) trial_ids: Vec<i64>,
}

form!(StoredGiven of Given { verdict: StoredVerdict, trial_ids: Vec<i64> });

/// The verdict itself.
#[derive(Debug, Serialize, Deserialize)]
pub(in crate::store) struct StoredVerdict {
    call: AskedFor,
    splits: Vec<StoredSplit>,
    response: StoredResponse,
    predicted: StoredPrediction,
    /// Form 1 did not keep it.
    as_it_is: Option<StoredPrediction>,
    predictions: Vec<StoredPrediction>,
    options: Vec<StoredChoice>,
    #[serde(default)]
    alternatives: Vec<StoredAlternative>,
    reasons: StoredReasons,
}

impl Form for StoredVerdict {
    type Live = Verdict;

    fn of(live: Verdict) -> Self {
        Self {
            call: AskedFor::Now(Form::of(live.call)),
            splits: Form::of(live.splits),
            response: Form::of(live.response),
            predicted: Form::of(live.predicted),
            as_it_is: Some(Form::of(live.as_it_is)),
            predictions: Form::of(live.predictions),
            options: Form::of(live.options),
            alternatives: Form::of(live.alternatives),
            reasons: Form::of(live.reasons),
        }
    }

    fn live(self) -> Verdict {
        let predicted = self.predicted.live();
        let options = self.options.live();
        let splits = self.splits.live().into_iter().map(former::with_interval);
        let splits: Vec<SplitReading> = splits.collect();
        let standing = || former::as_it_is(predicted, &options);
        let reasons = self.reasons.live();
        Verdict {
            call: match self.call {
                AskedFor::Now(call) => former::with_probe(call.live(), &reasons),
                AskedFor::Former(call) => call.live(&predicted, &splits),
            },
            response: self.response.live(),
            as_it_is: self.as_it_is.map_or_else(standing, Form::live),
            predictions: self.predictions.live(),
            alternatives: self.alternatives.live(),
            reasons,
            predicted,
            options,
            splits,
        }
    }
}

form!(StoredAlternative of Alternative {
    #[serde(deserialize_with = "by_value")]
    call: StoredCall,
    behind_mm: f64,
});
form!(StoredArrowCount of Arrows {
    bare: u32,
    fletched: u32,
    broadhead: u32,
    paper: u32,
    distance_m: f64,
});

form_enum!(StoredCall of Call {
    AdjustFirst { what: StoredAdjustment },
    Stop,
    Trim { knob: Knob, trim: StoredTrim, put_back: bool, arrows: StoredArrowCount },
    Fit { fitting: StoredFitting, experiment: bool },
    ShootMore { arrows: StoredArrowCount },
    SpacersCannot,
});
form_enum!(StoredAdjustment of Adjustment {
    Check { check: CheckItem, failed: bool, found: Option<StoredOutOfRange> },
    CamsApart { tilt_mm: f64, limit_mm: f64 },
    Arrow { trial: i64, arrow_kind: ArrowKind, index: u32, arrow: Option<i32>, #[serde(default)] keeps: bool },
    ConfirmSwap { before_mm: f64, after_mm: f64, arrows: StoredArrowCount },
    Contact { trial: i64, tear_mm: f64, bare_mm: f64, #[serde(default)] in_height: bool },
    Contradiction { trial: i64, probe: Option<Probe> },
    Spine { ratio: f64 },
    Vertical {
        probe: Option<Probe>,
        y_mm: f64,
        sd_mm: f64,
        direction: Direction,
        trim: StoredTrim,
        seen_on_this_bow: bool,
    },
});
form!(StoredOutOfRange of OutOfRange {
    item: CheckItem,
    measured: f64,
    low: Option<f64>,
    high: Option<f64>,
    unit: MeasuredUnit,
});

/// What a verdict asked for, in the words of today or of form 1.
#[derive(Debug, Serialize)]
#[serde(untagged)]
enum AskedFor {
    Now(StoredCall),
    Former(FormerCall),
}

/// Each way is tried on the same tree of values. An `untagged` of serde would read it from a tree of its
/// own kind, and every form inside would stand in the program twice.
impl<'de> Deserialize<'de> for AskedFor {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        let value = Value::deserialize(from)?;
        let now = serde_json::from_value(value.clone()).map(Self::Now);
        now.or_else(|_| serde_json::from_value(value).map(Self::Former))
            .map_err(|_| D::Error::custom("a call that is in no words of any form"))
    }
}

/// The same tree for a call of today.
fn by_value<'de, D: Deserializer<'de>>(from: D) -> Result<StoredCall, D::Error> {
    serde_json::from_value(Value::deserialize(from)?).map_err(D::Error::custom)
}

form!(StoredSplit of SplitReading {
    kind: Probe,
    distance_m: f64,
    x_mm: f64,
    y_mm: f64,
    sd_x_mm: f64,
    sd_y_mm: f64,
    p: f64,
    is_real: bool,
    probe_arrows: u32,
    reference_arrows: u32,
} later {
    dof: f64,
    low95_mm: f64,
    high95_mm: f64,
});
form!(StoredResponse of Response {
    mm_per_mm: f64,
    sd: f64,
    wrong_way_chance: f64,
    seen_on_this_bow: bool,
} later {
    relatives: u32,
});
form!(StoredPrediction of Predicted {
    kind: Probe,
    distance_m: f64,
    x_mm: f64,
    sd_mm: f64,
    low80_mm: f64,
    high80_mm: f64,
    low95_mm: f64,
    high95_mm: f64,
    within_tolerance: f64,
});
form!(StoredChoice of Choice {
    fitting: StoredFitting,
    offset_mm: f64,
    tilt_mm: f64,
    axles_opened: u32,
    x_mm: f64,
    sd_mm: f64,
    within_tolerance: f64,
    loss_mm: f64,
});
form!(StoredMore of MoreArrows { bare: u32, fletched: u32, broadhead: u32, paper: u32 });

/// The sentences of the explanation, each under its serde name with its values. They explain what
/// stands in the other fields: one this program has no words for any more is passed over when the
/// verdict is read, and stays in the file.
#[derive(Debug, Serialize, Deserialize)]
#[serde(transparent)]
pub(in crate::store) struct StoredReasons(Vec<Value>);

impl Form for StoredReasons {
    type Live = Vec<Reason>;

    fn of(live: Vec<Reason>) -> Self {
        // A reason is names and numbers: it always has a JSON value.
        let value = |reason| serde_json::to_value(reason).ok();
        Self(live.into_iter().filter_map(value).collect())
    }

    fn live(self) -> Vec<Reason> {
        let known = |reason| serde_json::from_value(reason).ok();
        let known = self.0.into_iter().filter_map(known);
        known.map(former::with_size).collect()
    }
}
