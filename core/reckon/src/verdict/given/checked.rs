//! A check as answered and as measured, held against what the bow maker states.

use serde::{Deserialize, Serialize};
use thiserror::Error;

use super::check::{CheckItem, CheckState, MeasuredUnit};

/// What a bow maker states for one measured check; an end that he leaves open is absent.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct MakerRange {
    /// Which check.
    pub item: CheckItem,
    /// Smallest value that is right, in [`CheckItem::unit`].
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub low: Option<f64>,
    /// Largest value that is right, in [`CheckItem::unit`].
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub high: Option<f64>,
}

impl MakerRange {
    /// A range nobody has stated.
    pub const fn unstated(item: CheckItem) -> Self {
        Self {
            item,
            low: None,
            high: None,
        }
    }

    /// What is stated for one check among many.
    pub fn of(stated: &[Self], item: CheckItem) -> Self {
        let range = stated.iter().find(|range| range.item == item);
        range.copied().unwrap_or_else(|| Self::unstated(item))
    }

    /// Whether a value is neither below its low nor above its high end.
    pub fn holds(&self, value: f64) -> bool {
        self.low.is_none_or(|low| value >= low) && self.high.is_none_or(|high| value <= high)
    }

    /// Passes a range of finite ends in order, of a check that is measured.
    ///
    /// # Errors
    /// [`CheckError`].
    pub fn check(&self) -> Result<(), CheckError> {
        let item = self.item;
        if self.low.or(self.high).is_some() && item.unit().is_none() {
            return Err(CheckError::NotMeasured { item });
        }
        for value in [self.low, self.high].into_iter().flatten() {
            finite(item, value)?;
        }
        match (self.low, self.high) {
            (Some(low), Some(high)) if low > high => Err(CheckError::Crossed { item, low, high }),
            _ => Ok(()),
        }
    }
}

/// One check and how it stands.
///
/// # Example
/// ```
/// use shimwright_reckon::verdict::{CheckState, Checked, finding};
/// let text = r#"{"item":"cam_lean","state":"ok","measured":4.5,"high":3}"#;
/// let lean: Checked = serde_json::from_str(text)?;
/// assert_eq!(lean.result, CheckState::Failed);
/// assert_eq!(finding(&lean).and_then(|found| found.high), Some(3.0));
/// # Ok::<(), serde_json::Error>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(try_from = "CheckedDraft", into = "CheckedDraft")]
pub struct Checked {
    /// Which check.
    pub check: CheckItem,
    /// How it stands.
    pub result: CheckState,
    /// What was measured, in [`CheckItem::unit`].
    pub measured: Option<f64>,
    /// Smallest value the bow maker calls right.
    pub low: Option<f64>,
    /// Largest value the bow maker calls right.
    pub high: Option<f64>,
}

impl Checked {
    /// A check that was looked at without measuring.
    pub const fn seen(check: CheckItem, result: CheckState) -> Self {
        Self {
            check,
            result,
            measured: None,
            low: None,
            high: None,
        }
    }

    /// A check as answered and as measured: outside what the bow maker states it is failed, whatever
    /// was answered.
    pub fn judged(answer: CheckState, measured: Option<f64>, maker: &MakerRange) -> Self {
        let outside = measured.is_some_and(|value| !maker.holds(value));
        Self {
            check: maker.item,
            result: if outside { CheckState::Failed } else { answer },
            measured,
            low: maker.low,
            high: maker.high,
        }
    }
}

/// A measured value that is not what the bow maker states.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct OutOfRange {
    /// Which check.
    pub item: CheckItem,
    /// What was measured.
    pub measured: f64,
    /// Smallest value the bow maker calls right, where he states one.
    pub low: Option<f64>,
    /// Largest value the bow maker calls right, where he states one.
    pub high: Option<f64>,
    /// What all three are counted in.
    pub unit: MeasuredUnit,
}

/// What a measured check found outside the bow maker's range; `None` where nothing was measured, no
/// range is known, or the value lies in it.
pub fn finding(checked: &Checked) -> Option<OutOfRange> {
    let maker = MakerRange {
        item: checked.check,
        low: checked.low,
        high: checked.high,
    };
    let measured = checked.measured.filter(|value| !maker.holds(*value))?;
    Some(OutOfRange {
        item: checked.check,
        measured,
        low: checked.low,
        high: checked.high,
        unit: checked.check.unit()?,
    })
}

/// A check as a case states it; the first names of its keys are still read.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct CheckedDraft {
    #[serde(alias = "check")]
    item: CheckItem,
    /// Absent with a value whose range is known: the value itself then says how it stands.
    #[serde(alias = "result", default, skip_serializing_if = "Option::is_none")]
    state: Option<CheckState>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    measured: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    low: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    high: Option<f64>,
}

impl TryFrom<CheckedDraft> for Checked {
    type Error = CheckError;

    fn try_from(draft: CheckedDraft) -> Result<Self, CheckError> {
        let (item, measured) = (draft.item, draft.measured);
        let maker = MakerRange {
            item,
            low: draft.low,
            high: draft.high,
        };
        maker.check()?;
        if let Some(value) = measured {
            item.unit().ok_or(CheckError::NotMeasured { item })?;
            finite(item, value)?;
        }
        let ranged = measured.and(maker.low.or(maker.high)).is_some();
        let answer = match draft.state {
            Some(state) => state,
            None if ranged => CheckState::Ok,
            None => return Err(CheckError::NoState { item }),
        };
        Ok(Self::judged(answer, measured, &maker))
    }
}

impl From<Checked> for CheckedDraft {
    fn from(checked: Checked) -> Self {
        Self {
            item: checked.check,
            state: Some(checked.result),
            measured: checked.measured,
            low: checked.low,
            high: checked.high,
        }
    }
}

fn finite(item: CheckItem, value: f64) -> Result<(), CheckError> {
    if value.is_finite() {
        return Ok(());
    }
    Err(CheckError::NotANumber { item })
}

/// What is wrong with a check or with the bow maker's range for it.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub enum CheckError {
    /// A value or a range for a check that is only looked at.
    #[error("the check \"{item}\" is looked at, not measured; leave its value and its range out")]
    NotMeasured {
        /// Which check.
        item: CheckItem,
    },
    /// A value that is not finite.
    #[error("a figure of the check \"{item}\" is not a number; correct it")]
    NotANumber {
        /// Which check.
        item: CheckItem,
    },
    /// The low end lies above the high one.
    #[error(
        "the range of the check \"{item}\" runs from {low} down to {high}; enter its low end first"
    )]
    Crossed {
        /// Which check.
        item: CheckItem,
        /// Low end.
        low: f64,
        /// High end.
        high: f64,
    },
    /// Neither a state nor a measured value with a range.
    #[error(
        "the check \"{item}\" has no state; enter one, or a measured value with the bow maker's range"
    )]
    NoState {
        /// Which check.
        item: CheckItem,
    },
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str) -> Result<Checked, String> {
        serde_json::from_str(text).map_err(|error| error.to_string())
    }

    #[test]
    fn a_value_outside_what_the_maker_states_is_failed_with_its_number() {
        let text = r#"{"item":"axle_to_axle","state":"ok","measured":833,"low":836,"high":842}"#;
        let found = read(text).unwrap();
        assert_eq!(found.result, CheckState::Failed);
        let outside = OutOfRange {
            item: CheckItem::AxleToAxle,
            measured: 833.0,
            low: Some(836.0),
            high: Some(842.0),
            unit: MeasuredUnit::Millimetre,
        };
        assert_eq!(finding(&found), Some(outside));
    }

    #[test]
    fn a_value_in_range_stands_as_answered_or_as_right_where_nobody_answered() {
        let ends = |measured: f64| format!(r#""measured":{measured},"low":836,"high":842}}"#);
        for measured in [836.0, 840.0, 842.0] {
            let silent = format!(r#"{{"item":"axle_to_axle",{}"#, ends(measured));
            let answered = format!(
                r#"{{"item":"axle_to_axle","state":"failed",{}"#,
                ends(measured)
            );
            assert_eq!(read(&silent).unwrap().result, CheckState::Ok);
            assert_eq!(read(&answered).unwrap().result, CheckState::Failed);
            assert_eq!(finding(&read(&silent).unwrap()), None);
        }
        assert_eq!(
            read(&format!(r#"{{"item":"axle_to_axle",{}"#, ends(842.01)))
                .unwrap()
                .result,
            CheckState::Failed
        );
    }

    #[test]
    fn one_end_is_enough_and_none_says_nothing() {
        let late = read(r#"{"item":"cam_timing","measured":2.5,"high":1.5}"#).unwrap();
        assert_eq!(late.result, CheckState::Failed);
        let unranged = read(r#"{"item":"cam_timing","state":"ok","measured":2.5}"#).unwrap();
        assert_eq!(
            (unranged.result, finding(&unranged)),
            (CheckState::Ok, None)
        );
    }

    #[test]
    fn the_first_names_of_the_keys_still_read_and_unknown_ones_are_refused() {
        let old = read(r#"{"check":"rest_sound","result":"failed"}"#).unwrap();
        assert_eq!(old, Checked::seen(CheckItem::RestSound, CheckState::Failed));
        let text = serde_json::to_string(&old).unwrap();
        assert_eq!(text, r#"{"item":"rest_sound","state":"failed"}"#);
        let unknown = read(r#"{"item":"rest_sound","state":"ok","unit":"mm"}"#).unwrap_err();
        assert!(unknown.contains("unknown field `unit`"), "{unknown}");
    }

    #[test]
    fn what_cannot_be_is_refused_in_words() {
        for (text, said) in [
            (
                r#"{"item":"rest_sound","state":"ok","measured":3}"#,
                "the check \"rest_sound\" is looked at, not measured; leave its value and its range out",
            ),
            (
                r#"{"item":"cam_lean","measured":1,"low":3,"high":-3}"#,
                "the range of the check \"cam_lean\" runs from 3 down to -3; enter its low end first",
            ),
            (
                r#"{"item":"cam_lean","measured":1}"#,
                "the check \"cam_lean\" has no state; enter one, or a measured value with the bow maker's range",
            ),
        ] {
            let refused = read(text).unwrap_err();
            assert!(refused.starts_with(said), "{refused}");
        }
        let endless = MakerRange {
            low: Some(f64::NAN),
            ..MakerRange::unstated(CheckItem::CamLean)
        };
        let item = CheckItem::CamLean;
        assert_eq!(endless.check(), Err(CheckError::NotANumber { item }));
    }
}
