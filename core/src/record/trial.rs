//! Trials: what was shot, on what, with what fitted.

use serde::{Deserialize, Serialize};

use super::{Field, FieldError, SetupState};
use crate::frame::{ArrowKind, PointMm, PointPx};
use crate::measure::{PlaneFacts, Reference};
use crate::spacer::Fitting;

/// What was shot at.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Surface {
    /// A face or a plain butt: impacts count.
    Face,
    /// A sheet of paper close to the bow: tears count.
    Paper,
}

/// Why an arrow does not count. It stays in the record.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Exclusion {
    /// A shot the archer called bad.
    BadShot,
    /// An arrow found bent, cracked or with a loose nock or point.
    DamagedArrow,
    /// The arrow touched the rest, a cable or another arrow.
    Contact,
    /// The mark was wrong.
    WrongMark,
}

/// Where one arrow went in.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TrialImpact {
    /// What kind of arrow.
    pub kind: ArrowKind,
    /// Where, mm, in the frame of the face.
    pub at: PointMm,
    /// Standard deviation of the mark on each axis, mm.
    pub sd_mm: f64,
    /// Where it is in the upright photo.
    pub px: Option<PointPx>,
    /// Whether the mark was snapped to the hole.
    pub snapped: bool,
    /// The number written on the arrow, 1 to 999.
    pub arrow_number: Option<i32>,
    /// Set where it does not count.
    pub excluded: Option<Exclusion>,
}

impl TrialImpact {
    /// An arrow typed in or tapped on a drawn face: no photo behind it.
    pub fn typed(kind: ArrowKind, at: PointMm, sd_mm: f64) -> Self {
        Self {
            kind,
            at,
            sd_mm,
            px: None,
            snapped: false,
            arrow_number: None,
            excluded: None,
        }
    }
}

/// One tear in paper.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TrialTear {
    /// What kind of arrow made it.
    pub kind: ArrowKind,
    /// Nock minus point, mm: nock left is negative x, nock high positive y.
    pub tear: PointMm,
    /// Standard deviation on each axis, mm.
    pub sd_mm: f64,
    /// Where the point's hole is in the upright photo; none in trials of before it was kept.
    #[serde(default)]
    pub px: Option<PointPx>,
    /// Set where it does not count.
    pub excluded: Option<Exclusion>,
}

/// What gave the picture its scale.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum ReferenceUsed {
    /// The four corners of a sheet.
    Sheet {
        /// Width, mm.
        width_mm: f64,
        /// Height, mm.
        height_mm: f64,
    },
    /// Two points of known distance.
    Points {
        /// That distance, mm.
        distance_mm: f64,
    },
    /// The rings of a face.
    Rings,
}

impl ReferenceUsed {
    /// What a measurement used.
    pub fn of(reference: &Reference) -> Self {
        match *reference {
            Reference::Sheet {
                width_mm,
                height_mm,
                ..
            }
            | Reference::Marks {
                width_mm,
                height_mm,
                ..
            } => Self::Sheet {
                width_mm,
                height_mm,
            },
            Reference::Points { distance_mm, .. } => Self::Points { distance_mm },
            Reference::Rings { .. } => Self::Rings,
        }
    }
}

/// How well the picture's plane was known when the trial was measured.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PlaneRecord {
    /// What gave the scale.
    pub reference: ReferenceUsed,
    /// Residual of the fit, px.
    pub residual_px: f64,
    /// Residual of the fit, mm.
    pub residual_mm: f64,
    /// Lens distortion used.
    pub k1: f64,
    /// Relative standard deviation of lengths: the reference's size and its fit.
    pub scale_sd: f64,
    /// How far directions may be turned, one standard deviation, rad; 0 in trials of before it was
    /// told apart, whose `scale_sd` holds it.
    #[serde(default)]
    pub turn_sd_rad: f64,
    /// The reference as it was marked, so that the photograph can be measured again; none in trials
    /// of before it was kept.
    #[serde(default)]
    pub marked: Option<Reference>,
}

impl PlaneRecord {
    /// What is kept of a measurement.
    pub fn of(facts: &PlaneFacts, reference: &Reference) -> Self {
        Self {
            reference: ReferenceUsed::of(reference),
            residual_px: facts.residual_px,
            residual_mm: facts.residual_mm,
            k1: facts.k1,
            scale_sd: facts.scale_sd_x.max(facts.scale_sd_y),
            turn_sd_rad: facts.turn_sd_rad,
            marked: Some(reference.clone()),
        }
    }
}

/// The photograph of a trial. The picture stays in the shell's private files.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PhotoRef {
    /// File name within the photo folder.
    pub file: String,
    /// Width of the upright picture, px.
    pub width_px: u32,
    /// Height of the upright picture, px.
    pub height_px: u32,
}

/// A trial as it is about to be saved. What was fitted, and where rest and nock were, the store
/// adds from the bow's record.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TrialDraft {
    /// Face or paper.
    pub surface: Surface,
    /// Distance from the archer to it, m.
    pub distance_m: f64,
    /// Who shot it, a short label (owner, technician ...); empty where nobody said.
    pub shooter: String,
    /// The arrows, where they were entered.
    pub arrow_setup_id: Option<i64>,
    /// Impacts on a face.
    pub impacts: Vec<TrialImpact>,
    /// Tears in paper.
    pub tears: Vec<TrialTear>,
    /// The photograph.
    pub photo: Option<PhotoRef>,
    /// How it was measured.
    pub plane: Option<PlaneRecord>,
    /// Anything else.
    pub note: String,
}

impl TrialDraft {
    /// Passes a trial that holds something and whose numbers can be computed with.
    ///
    /// # Errors
    /// The first field that is empty or out of range.
    pub fn check(&self) -> Result<(), FieldError> {
        match self.surface {
            Surface::Face => Field::FaceDistance.check(self.distance_m)?,
            Surface::Paper => Field::PaperDistance.check(self.distance_m)?,
        }
        if self.impacts.is_empty() && self.tears.is_empty() {
            let field = match self.surface {
                Surface::Face => Field::ImpactPlace,
                Surface::Paper => Field::TearLength,
            };
            return Err(FieldError::Empty { field });
        }
        Field::Label.check_label(&self.shooter)?;
        self.impacts.iter().try_for_each(check_impact)?;
        self.tears.iter().try_for_each(check_tear)
    }
}

fn check_impact(impact: &TrialImpact) -> Result<(), FieldError> {
    Field::ImpactPlace.check(impact.at.x_mm)?;
    Field::ImpactPlace.check(impact.at.y_mm)?;
    Field::PlaceSd.check(impact.sd_mm)?;
    Field::ArrowNumber.check_given(impact.arrow_number.map(f64::from))
}

fn check_tear(tear: &TrialTear) -> Result<(), FieldError> {
    Field::TearLength.check(tear.tear.x_mm)?;
    Field::TearLength.check(tear.tear.y_mm)?;
    Field::PlaceSd.check(tear.sd_mm)
}

/// A stored trial.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Trial {
    /// Given by the store.
    pub id: i64,
    /// The bow.
    pub bow_id: i64,
    /// When, epoch ms.
    pub at_ms: i64,
    /// The entry of the list of fittings it was shot on.
    pub fitting_id: i64,
    /// What was fitted, with later corrections of that entry applied.
    pub fitting: Fitting,
    /// Where rest and nocking point were, and in which epoch.
    pub setup: SetupState,
    /// What was shot.
    pub shot: TrialDraft,
    /// Since when it is struck from the record, epoch ms: kept, and counted for nothing.
    #[serde(default)]
    pub struck_ms: Option<i64>,
}

impl Trial {
    /// Whether it counts.
    pub const fn counts(&self) -> bool {
        self.struck_ms.is_none()
    }
}
