//! What was shot, and what was fitted and set when it was shot.

use serde::{Deserialize, Serialize};

use crate::frame::{ArrowKind, Cov2, PointMm};
use crate::group::Impact;
use crate::spacer::Fitting;
use crate::split::FaceAccuracy;

/// What was shot in one trial.
#[derive(Debug, Clone, PartialEq)]
pub enum Shot {
    /// Arrows on a face.
    Face {
        /// Distance to the face, m, 2 to 100.
        distance_m: f64,
        /// Every arrow, mm on the face.
        impacts: Vec<Impact>,
        /// How well the photograph was read.
        reading: FaceAccuracy,
    },
    /// Fletched arrows through paper.
    Paper {
        /// Distance to the paper, m, 0.5 to 8.
        paper_m: f64,
        /// Every tear: where the nock end passed minus where the point passed, mm.
        tears: Vec<PointMm>,
    },
}

/// One trial with the settings it was shot at.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(try_from = "TrialText", into = "TrialText")]
pub struct TrialEvidence {
    /// The caller's number for the trial, later trials higher; reasons name it.
    pub id: i64,
    /// What sat on the axles; a trial without it teaches nothing about spacers and is left out.
    pub fitted: Option<Fitting>,
    /// Nock-plane offset at the time, mm, for a fitting out of a kit that is no longer the bow's.
    pub offset_mm: Option<f64>,
    /// Sideways place of the rest, mm, positive right, from any fixed mark.
    pub rest_mm: f64,
    /// Height of the nocking point, mm, positive up, from any fixed mark.
    pub nock_mm: f64,
    /// Counts changes of string, cables, rest or arrows: trials of one epoch share one fault.
    pub epoch: i64,
    /// Who shot it, a short label (owner, technician ...); scatter and grip are a shooter's own.
    pub shooter: Option<String>,
    /// What was shot.
    pub shot: Shot,
}

/// Another bow of the family: what it showed narrows what is expected of this one before its first
/// swap.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Relative {
    /// Its trials.
    pub trials: Vec<TrialEvidence>,
}

/// A swap from before the record: what was changed, and how far the split moved.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RememberedSwap {
    /// What was fitted before.
    pub from: Fitting,
    /// What was fitted after.
    pub to: Fitting,
    /// How far bare shafts moved against the fletched ones, mm, positive right.
    pub moved_mm: f64,
    /// How sure that is, standard deviation, mm.
    pub sd_mm: f64,
    /// Where it was shot, m.
    pub distance_m: f64,
}

/// The flat form of a trial as it is written in JSON.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct TrialText {
    #[serde(default)]
    id: i64,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    fitted: Option<Fitting>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    offset_mm: Option<f64>,
    #[serde(default)]
    rest_mm: f64,
    #[serde(default)]
    nock_mm: f64,
    #[serde(default)]
    epoch: i64,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    shooter: Option<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    distance_m: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    impacts: Option<Vec<ImpactText>>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    reading: Option<FaceAccuracy>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    paper_m: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    tears: Option<Vec<PointMm>>,
}

/// The flat form of an impact as it is written in JSON.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct ImpactText {
    kind: ArrowKind,
    x_mm: f64,
    y_mm: f64,
    #[serde(default, skip_serializing_if = "is_exact")]
    cov: Cov2,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    arrow: Option<i32>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    excluded: Option<String>,
}

fn is_exact(cov: &Cov2) -> bool {
    *cov == Cov2::default()
}

impl From<ImpactText> for Impact {
    fn from(text: ImpactText) -> Self {
        Self {
            cov: text.cov,
            arrow: text.arrow,
            excluded: text.excluded,
            ..Self::new(text.kind, text.x_mm, text.y_mm)
        }
    }
}

impl From<Impact> for ImpactText {
    fn from(impact: Impact) -> Self {
        Self {
            kind: impact.kind,
            x_mm: impact.point.x_mm,
            y_mm: impact.point.y_mm,
            cov: impact.cov,
            arrow: impact.arrow,
            excluded: impact.excluded,
        }
    }
}

impl TryFrom<TrialText> for TrialEvidence {
    type Error = &'static str;

    fn try_from(text: TrialText) -> Result<Self, Self::Error> {
        let shot = match (text.distance_m, text.impacts, text.paper_m, text.tears) {
            (Some(distance_m), Some(impacts), None, None) => Shot::Face {
                distance_m,
                impacts: impacts.into_iter().map(Impact::from).collect(),
                reading: text.reading.unwrap_or_default(),
            },
            (None, None, Some(paper_m), Some(tears)) => Shot::Paper { paper_m, tears },
            _ => return Err("a trial has either distance_m and impacts, or paper_m and tears"),
        };
        Ok(Self {
            id: text.id,
            fitted: text.fitted,
            offset_mm: text.offset_mm,
            rest_mm: text.rest_mm,
            nock_mm: text.nock_mm,
            epoch: text.epoch,
            shooter: text.shooter,
            shot,
        })
    }
}

impl From<TrialEvidence> for TrialText {
    fn from(trial: TrialEvidence) -> Self {
        let mut text = Self {
            id: trial.id,
            fitted: trial.fitted,
            offset_mm: trial.offset_mm,
            rest_mm: trial.rest_mm,
            nock_mm: trial.nock_mm,
            epoch: trial.epoch,
            shooter: trial.shooter,
            distance_m: None,
            impacts: None,
            reading: None,
            paper_m: None,
            tears: None,
        };
        match trial.shot {
            Shot::Face {
                distance_m,
                impacts,
                reading,
            } => {
                text.distance_m = Some(distance_m);
                text.impacts = Some(impacts.into_iter().map(ImpactText::from).collect());
                text.reading = Some(reading);
            }
            Shot::Paper { paper_m, tears } => {
                text.paper_m = Some(paper_m);
                text.tears = Some(tears);
            }
        }
        text
    }
}
