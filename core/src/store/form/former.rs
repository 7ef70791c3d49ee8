//! Verdicts as form 1 wrote them, read as history: nothing is written in these words any more.

use serde::{Deserialize, Serialize};

use super::Form;
use super::spacers::StoredFitting;
use super::trim::StoredTrim;
use crate::evidence::Probe;
use crate::frame::ArrowKind;
use crate::stats::t_quantile;
use crate::verdict::{
    Adjustment, Arrows, Call, CheckItem, Choice, Direction, Predicted, Reason, SplitReading, Trim,
};

/// Form 1 kept no degrees of freedom: its deviations were widened already, and are read as a normal's.
const AS_A_NORMAL: f64 = 1e6;

/// A bow that was kept as it was is settled where this much of its prediction lay inside tolerance.
const KEPT_SETTLED: f64 = 0.8;

/// What a verdict asked for.
#[derive(Debug, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub(super) enum FormerCall {
    Fit {
        fitting: StoredFitting,
    },
    /// One word for a settled bow and for one that spacers cannot cure.
    Keep {},
    ShootMore {
        bare: u32,
        fletched: u32,
        broadhead: u32,
        paper: u32,
        distance_m: f64,
    },
    AdjustFirst {
        what: FormerAdjustment,
    },
}

/// What came first. The variants of today, as they are in form 1 too, are not repeated.
#[derive(Debug, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub(super) enum FormerAdjustment {
    FailedCheck {
        check: CheckItem,
    },
    OpenCheck {
        check: CheckItem,
    },
    /// With a move only where the bow had shown one.
    NockingPoint {
        y_mm: f64,
        sd_mm: f64,
        trim: Option<StoredTrim>,
    },
    Arrow {
        trial: i64,
        kind: ArrowKind,
        index: u32,
        arrow: Option<i32>,
    },
    /// Without the figures that contradicted each other.
    Clearance {
        trial: i64,
    },
}

impl FormerCall {
    /// The same in today's words; what form 1 left open stands elsewhere in its verdict.
    pub(super) fn live(self, predicted: &Predicted, splits: &[SplitReading]) -> Call {
        match self {
            Self::Fit { fitting } => Call::Fit {
                fitting: fitting.live(),
                experiment: false,
            },
            Self::Keep {} if predicted.within_tolerance >= KEPT_SETTLED => Call::Stop,
            Self::Keep {} => Call::SpacersCannot,
            Self::ShootMore {
                bare,
                fletched,
                broadhead,
                paper,
                distance_m,
            } => Call::ShootMore {
                arrows: Arrows {
                    bare,
                    fletched,
                    broadhead,
                    paper,
                    distance_m,
                },
            },
            Self::AdjustFirst { what } => Call::AdjustFirst {
                what: what.live(splits),
            },
        }
    }
}

impl FormerAdjustment {
    fn live(self, splits: &[SplitReading]) -> Adjustment {
        match self {
            Self::FailedCheck { check } => Adjustment::Check {
                check,
                failed: true,
                found: None,
            },
            Self::OpenCheck { check } => Adjustment::Check {
                check,
                failed: false,
                found: None,
            },
            Self::NockingPoint { y_mm, sd_mm, trim } => vertical(y_mm, sd_mm, trim),
            Self::Arrow {
                trial,
                kind,
                index,
                arrow,
            } => Adjustment::Arrow {
                trial,
                arrow_kind: kind,
                index,
                arrow,
                keeps: false,
            },
            Self::Clearance { trial } => Adjustment::Contact {
                trial,
                tear_mm: sideways_mm(splits, Probe::Paper),
                bare_mm: sideways_mm(splits, Probe::Bare),
                in_height: false,
            },
        }
    }
}

/// A move that was not given is one of no size.
fn vertical(y_mm: f64, sd_mm: f64, trim: Option<StoredTrim>) -> Adjustment {
    let none = Trim {
        move_mm: 0.0,
        sd_mm: 0.0,
        direction_chance: 1.0,
    };
    Adjustment::Vertical {
        probe: None,
        y_mm,
        sd_mm,
        direction: if y_mm < 0.0 {
            Direction::Down
        } else {
            Direction::Up
        },
        seen_on_this_bow: trim.is_some(),
        trim: trim.map_or(none, Form::live),
    }
}

fn sideways_mm(splits: &[SplitReading], kind: Probe) -> f64 {
    let shot = splits.iter().find(|split| split.kind == kind);
    shot.map_or(0.0, |split| split.x_mm)
}

/// A split that was stored without its interval, with it.
pub(super) fn with_interval(split: SplitReading) -> SplitReading {
    if split.dof > 0.0 {
        return split;
    }
    let half_mm = t_quantile(0.975, AS_A_NORMAL) * split.sd_x_mm;
    SplitReading {
        dof: AS_A_NORMAL,
        low95_mm: split.x_mm - half_mm,
        high95_mm: split.x_mm + half_mm,
        ..split
    }
}

/// A response that was told with its deviation alone, with how large it is four times in five.
pub(super) fn with_size(reason: Reason) -> Reason {
    match reason {
        Reason::SeenOnThisBow {
            mm_per_mm,
            sd,
            most: 0.0,
            ..
        } => {
            let half = t_quantile(0.9, AS_A_NORMAL) * sd;
            Reason::SeenOnThisBow {
                mm_per_mm,
                sd,
                least: (mm_per_mm.abs() - half).max(0.0),
                most: mm_per_mm.abs() + half,
            }
        }
        other => other,
    }
}

/// A contradiction that was stored without what contradicts; where its reason names the heads, with them.
pub(super) fn with_probe(call: Call, reasons: &[Reason]) -> Call {
    let heads = |reason: &Reason| {
        matches!(
            reason,
            Reason::HeadsApart { .. } | Reason::HeadsOffHeight { .. }
        )
    };
    match call {
        Call::AdjustFirst {
            what: Adjustment::Contradiction { trial, probe: None },
        } if reasons.iter().any(heads) => Call::AdjustFirst {
            what: Adjustment::Contradiction {
                trial,
                probe: Some(Probe::Broadhead),
            },
        },
        other => other,
    }
}

/// What was expected of the bow as it stood, which was kept only as one of the choices.
pub(super) fn as_it_is(predicted: Predicted, options: &[Choice]) -> Predicted {
    let Some(stays) = options.iter().find(|choice| choice.axles_opened == 0) else {
        return predicted;
    };
    let half_mm = |share| t_quantile(share, AS_A_NORMAL) * stays.sd_mm;
    Predicted {
        x_mm: stays.x_mm,
        sd_mm: stays.sd_mm,
        low80_mm: stays.x_mm - half_mm(0.90),
        high80_mm: stays.x_mm + half_mm(0.90),
        low95_mm: stays.x_mm - half_mm(0.975),
        high95_mm: stays.x_mm + half_mm(0.975),
        within_tolerance: stays.within_tolerance,
        ..predicted
    }
}
