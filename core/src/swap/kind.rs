//! The kinds of steps of a swap and the cautions that go with them: closed lists, words in the shell.

use serde::{Deserialize, Serialize};

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
    /// Pressed until string and cables are slack, alike on the two tips of each limb end and alike
    /// at the top and at the bottom.
    PressEvenly,
    /// One axle screw and its washer taken out, both kept.
    TakeOutScrew,
    /// The cam supported, because it will hang in its cables, and kept together; twists held.
    SupportCam,
    /// The axle pushed out with a tool smaller than itself.
    PushAxleOut,
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
    /// Cams spin freely and have no side play, the string still slack.
    SpinAndSidePlay,
    /// String and cables in their tracks, before the press is released.
    CheckTracks,
    /// The press let off slowly, the way it works.
    ReleasePress,
    /// String and cables in their tracks again, after a partial draw.
    PartialDraw,
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
    /// Of the two tips of one limb end, one pressed further than the other twists that limb and lets
    /// it slip off its pad.
    UnevenTips,
    /// One limb end pressed further than the other overbends that limb and lets the bow creep in the
    /// press.
    UnevenEnds,
    /// Never hammer on an axle or force a screw.
    NoForce,
    /// Without its axle the cam hangs in its cables and drops: it is held before the axle moves.
    CamDrops,
    /// Never take the cam out of its string and cables, and never let their twists run.
    HoldTwists,
    /// A cam that binds or slides must not be drawn: the press holds until it is put right.
    BindingStops,
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
            Self::PressEvenly => &[
                C::RightPress,
                C::EyesAndFingers,
                C::UnevenTips,
                C::UnevenEnds,
            ],
            Self::TakeOutScrew | Self::ScrewSnug => &[C::NoForce],
            Self::SupportCam => &[C::CamDrops, C::HoldTwists],
            Self::PushAxleOut | Self::AxleHome => &[C::EyesAndFingers, C::NoForce],
            Self::TakeSpacersOut => &[C::HoldTwists],
            Self::SpinAndSidePlay => &[C::BindingStops, C::EyesAndFingers],
            Self::CheckTracks => &[C::OffTrackStops],
            Self::ReleasePress => &[C::EyesAndFingers, C::OffTrackStops],
            Self::PartialDraw => &[
                C::NeverLooseWithoutArrow,
                C::SafeDirection,
                C::OffTrackStops,
            ],
            Self::FirstShot => &[C::SafeDirection, C::NoBroadheads],
        }
    }

    /// Whether the step wants an answer rather than a plain "done".
    pub const fn wants_answer(self) -> bool {
        matches!(self, Self::ConfirmFound)
    }

    /// Whether confirming it by mistake can hurt someone: no passing touch may do it.
    pub const fn wants_resolve(self) -> bool {
        matches!(
            self,
            Self::PressEvenly | Self::CheckTracks | Self::ReleasePress
        )
    }
}
