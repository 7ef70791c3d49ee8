//! A verdict as it was given.

use serde::{Deserialize, Serialize};
use serde_json::Value;

use super::spacers::StoredFitting;
use super::{Form, form, form_enum};
use crate::evidence::Probe;
use crate::frame::ArrowKind;
use crate::record::MoreArrows;
use crate::verdict::{
    Adjustment, Call, CheckItem, Choice, Predicted, Reason, Response, SplitReading, Trim, Verdict,
};

/// The live side of [`StoredGiven`]: a verdict and the trials it used.
pub(in crate::store) struct Given {
    pub(in crate::store) verdict: Verdict,
    pub(in crate::store) trial_ids: Vec<i64>,
}

form!(StoredGiven of Given { verdict: StoredVerdict, trial_ids: Vec<i64> });
form!(StoredVerdict of Verdict {
    call: StoredCall,
    splits: Vec<StoredSplit>,
    response: StoredResponse,
    predicted: StoredPrediction,
    predictions: Vec<StoredPrediction>,
    options: Vec<StoredChoice>,
    reasons: StoredReasons,
});
form_enum!(StoredCall of Call {
    Fit { fitting: StoredFitting },
    Keep { rest: Option<StoredTrim>, nock: Option<StoredTrim> },
    ShootMore { bare: u32, fletched: u32, broadhead: u32, paper: u32, distance_m: f64 },
    AdjustFirst { what: StoredAdjustment },
});
form!(StoredTrim of Trim { move_mm: f64, sd_mm: f64, direction_chance: f64 });
form_enum!(StoredAdjustment of Adjustment {
    FailedCheck { check: CheckItem },
    OpenCheck { check: CheckItem },
    NockingPoint { y_mm: f64, sd_mm: f64, trim: Option<StoredTrim> },
    Arrow { trial: i64, kind: ArrowKind, index: u32, arrow: Option<i32> },
    Clearance { trial: i64 },
    Spine { ratio: f64 },
    Contradiction { trial: i64 },
});
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
});
form!(StoredResponse of Response {
    mm_per_mm: f64,
    sd: f64,
    wrong_way_chance: f64,
    seen_on_this_bow: bool,
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
        self.0.into_iter().filter_map(known).collect()
    }
}
