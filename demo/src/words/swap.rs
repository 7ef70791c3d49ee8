//! The guided swap: what to do, and what can hurt.

use super::side_name;
use shimwright::spacer::{Axle, Seat};
use shimwright::swap::{Caution, Step, StepKind};

/// One step as an instruction.
pub(crate) fn step(step: &Step) -> String {
    let axle = step.axle.map_or("", axle);
    let seat = step.seat.as_ref().map(seat).unwrap_or_default();
    match step.kind {
        StepKind::PutArrowsAway => "Put arrows and release aid away from the bow.".into(),
        StepKind::InspectForDamage => {
            "Look limbs, cams, string and cables over for cracks, fraying and bent parts.".into()
        }
        StepKind::ReadInstructions => {
            "Read the bow maker's instructions for pressing this bow.".into()
        }
        StepKind::LayOutPieces => "Lay out the pieces that go in and measure them.".into(),
        StepKind::PhotographPaths => "Photograph the paths of string and cables.".into(),
        StepKind::PressEvenly => {
            "Press until string and cables hang slack: the two tips of each limb end alike, left and right, and the top end like the bottom end.".into()
        }
        StepKind::TakeOutScrew => {
            format!("{axle}: take out one axle screw and its washer; keep both.")
        }
        StepKind::PushAxleOut => {
            format!("{axle}: push the axle out with a tool smaller than itself.")
        }
        StepKind::SupportCam => {
            format!("{axle}: support the cam, it will hang in its cables; keep it together.")
        }
        StepKind::TakeSpacersOut => format!("{axle}: take both spacers out."),
        StepKind::ConfirmFound => format!("{axle}: what came out? The record says {seat}."),
        StepKind::SetSpacers => format!("{axle}: set {seat}."),
        StepKind::AxleHome => format!("{axle}: push the axle fully home."),
        StepKind::ScrewSnug => format!("{axle}: washer and screw back, snug and not forced."),
        StepKind::SpinAndSidePlay => {
            "While the string is slack: each cam spins freely and has no side play.".into()
        }
        StepKind::CheckTracks => "Check: string and cables in their tracks.".into(),
        StepKind::ReleasePress => {
            "Let off slowly, the way the press works, both cams in view.".into()
        }
        StepKind::PartialDraw => "Check again after a partial draw, an arrow on the string.".into(),
        StepKind::FirstShot => "First shot: a field-point arrow at a butt close by.".into(),
    }
}

/// "Top axle: the cam moves 1.00 mm to the left."
pub(crate) fn cam_move(on: Axle, shift_mm: f64) -> String {
    format!(
        "{}: the cam moves {:.2} mm to the {}.",
        axle(on),
        shift_mm.abs(),
        super::side(shift_mm)
    )
}

fn axle(axle: Axle) -> &'static str {
    match axle {
        Axle::Top => "Top axle",
        Axle::Bottom => "Bottom axle",
    }
}

fn seat(seat: &Seat) -> String {
    format!("pair {}, thick side {}", seat.pair, side_name(seat.thick))
}

/// One caution.
pub(crate) fn caution(caution: Caution) -> &'static str {
    match caution {
        Caution::NeverLooseWithoutArrow => {
            "Never let a drawn string go without an arrow: limbs and cams can burst."
        }
        Caution::DamageStops => {
            "A cracked limb or a frayed string or cable is not pressed or drawn: stop there."
        }
        Caution::MakerInstructionsFirst => "The bow maker's instructions outrank this guide.",
        Caution::QualifiedTechnician => {
            "Who has not pressed this kind of bow leaves it to a qualified technician."
        }
        Caution::RightPress => "Use only a press made for this bow's limbs.",
        Caution::EyesAndFingers => "Eye protection on; face and fingers out of the limbs' way.",
        Caution::UnevenTips => {
            "One of the two tips of a limb end pressed further than the other twists that limb: stop and let off."
        }
        Caution::UnevenEnds => {
            "One limb end pressed further than the other overbends it, and the bow creeps in the press: stop and let off."
        }
        Caution::NoForce => "Never hammer on an axle or force a screw.",
        Caution::CamDrops => {
            "Without its axle the cam hangs in its cables: hold it before the axle moves."
        }
        Caution::BindingStops => {
            "A cam that binds or slides is not drawn: leave the press on and open that axle again."
        }
        Caution::HoldTwists => {
            "Never take the cam out of its string and cables, nor let their twists run."
        }
        Caution::OnePairOnly => "Pieces of two pairs never go on one axle.",
        Caution::OffTrackStops => {
            "A string or cable off its track throws parts when the press lets go."
        }
        Caution::SafeDirection => {
            "Draw only on an arrow that points at a butt, nobody beside or behind it."
        }
        Caution::NoBroadheads => "No broadheads at the bench or for the first shot.",
    }
}
