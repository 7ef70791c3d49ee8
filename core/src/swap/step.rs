//! The steps of a swap and the cautions that go with them: closed lists, words in the shell.

use serde::{Deserialize, Serialize};

use super::Bench;
use crate::spacer::{Axle, Seat};

/// One kind of step, in the order of the work.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum StepKind {
    /// Arrows and release aid away from the bow.
    PutArrowsAway,
    /// Limbs, cams, string and cables looked over for damage.
    InspectForDamage,
    /// The bow maker's instructions for the press read; a qualified technician where in doubt.
    ReadInstructions,
    /// The pieces that go in laid out and measured.
    LayOutPieces,
    /// String and cable paths photographed.
    PhotographPaths,
    /// Pressed evenly on both limb tips until string and cables are slack.
    PressEvenly,
    /// One axle screw and its washer taken out, both kept.
    TakeOutScrew,
    /// The axle pushed out with a tool smaller than itself.
    PushAxleOut,
    /// The cam kept assembled, string and cable twists held.
    KeepCamTogether,
    /// Both spacers taken out together.
    TakeSpacersOut,
    /// What came out compared with the record: needs an answer.
    ConfirmFound,
    /// Thin and thick spacer put to their sides.
    SetSpacers,
    /// The axle pushed fully home.
    AxleHome,
    /// Screw and washer back, snug and not forced.
    ScrewSnug,
    /// String and cables in their tracks, before the press is released.
    CheckTracks,
    /// The press released slowly and evenly.
    ReleasePress,
    /// String and cables in their tracks again, after a partial draw.
    PartialDraw,
    /// Cams spin freely and have no side play.
    SpinAndSidePlay,
    /// First shot with a field-point arrow at a butt close by.
    FirstShot,
}

/// What can hurt the technician or the bow during a step.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Caution {
    /// A string that is drawn and let go without an arrow can burst limbs and cams.
    NeverLooseWithoutArrow,
    /// A cracked limb or a frayed string or cable must not be pressed or drawn: stop here.
    DamageStops,
    /// The bow maker's instructions outrank this guide.
    MakerInstructionsFirst,
    /// Who has not pressed this kind of bow leaves it to a qualified technician.
    QualifiedTechnician,
    /// Only a press made for this bow's limbs.
    RightPress,
    /// Eye protection on; face and fingers out of the limbs' way.
    EyesAndFingers,
    /// One limb tip further than the other twists the riser: stop and even it out.
    UnevenStops,
    /// Never hammer on an axle or force a screw.
    NoForce,
    /// Never take the cam out of its string and cables, and never let their twists run.
    HoldTwists,
    /// Pieces of two pairs never go on one axle.
    OnePairOnly,
    /// A string or cable off its track throws parts when the press lets go.
    OffTrackStops,
    /// Draw on an arrow that points at a butt, with nobody beside or behind it.
    SafeDirection,
    /// No broadheads at the bench or for the first shot.
    NoBroadheads,
}

impl StepKind {
    /// The cautions shown above the step, worst first.
    pub const fn cautions(self) -> &'static [Caution] {
        use Caution as C;
        match self {
            Self::PutArrowsAway => &[C::NoBroadheads, C::NeverLooseWithoutArrow],
            Self::InspectForDamage => &[C::DamageStops],
            Self::ReadInstructions => &[C::MakerInstructionsFirst, C::QualifiedTechnician],
            Self::LayOutPieces | Self::SetSpacers => &[C::OnePairOnly],
            Self::PhotographPaths | Self::ConfirmFound => &[],
            Self::PressEvenly => &[C::RightPress, C::EyesAndFingers, C::UnevenStops],
            Self::TakeOutScrew | Self::ScrewSnug => &[C::NoForce],
            Self::PushAxleOut | Self::AxleHome => &[C::EyesAndFingers, C::NoForce],
            Self::KeepCamTogether | Self::TakeSpacersOut => &[C::HoldTwists],
            Self::CheckTracks => &[C::OffTrackStops],
            Self::ReleasePress => &[C::EyesAndFingers, C::OffTrackStops, C::UnevenStops],
            Self::PartialDraw => &[
                C::NeverLooseWithoutArrow,
                C::SafeDirection,
                C::OffTrackStops,
            ],
            Self::SpinAndSidePlay => &[C::EyesAndFingers],
            Self::FirstShot => &[C::SafeDirection, C::NoBroadheads],
        }
    }

    /// Whether the step wants an answer rather than a plain "done".
    pub const fn wants_answer(self) -> bool {
        matches!(self, Self::ConfirmFound)
    }
}

/// One step of a guide.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Step {
    /// What is done.
    pub kind: StepKind,
    /// On which axle; `None` for the whole bow.
    pub axle: Option<Axle>,
    /// The pair it takes out, expects or puts in.
    pub seat: Option<Seat>,
    /// Cautions, worst first.
    pub cautions: Vec<Caution>,
    /// How the bow stands once it is done: what the illustration shows.
    pub after: Bench,
}
