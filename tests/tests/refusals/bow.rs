//! What figures, arrows, spacers, verdicts and swaps are refused with.

use shimwright::flight::{AirError, ArrowError, ArrowFigure, DownrangeError, MotionError};
use shimwright::frame::ArrowKind;
use shimwright::group::GroupError;
use shimwright::spacer::KitError;
use shimwright::split::SplitError;
use shimwright::swap::SwapError;
use shimwright::units::UnitsError;
use shimwright::verdict::{CheckError, CheckItem, VerdictError};
use shimwright::walkback::WalkBackError;

use super::{FAR, FAR_WORDS, b, is_one_sentence, refusals, said};

refusals! {
    of_kits: KitError {
        NoPairs: KitError::NoPairs { kit: said("Shop") }
            => "the kit \"Shop\" has no pairs; enter at least one thin and thick spacer";
        EmptyName: KitError::EmptyName
            => "the kit or one of its pairs has no name; give each its own";
        DuplicatePair: KitError::DuplicatePair { pair: b() }
            => "two pairs are called \"B\"; give each its own name";
        Implausible: KitError::Implausible { what: said("total"), value_mm: 44.0, low_mm: 2.0, high_mm: 20.0 }
            => "44 mm as total is outside 2 to 20 mm; measure it again and check the unit";
        WrongSum: KitError::WrongSum { pair: b(), sum_mm: 4.5, total_mm: 4.4, tolerance_mm: 0.03 }
            => "pair B adds up to 4.500 mm, but this kit's pairs must add up to 4.400 mm (within 0.030 mm); measure both pieces again";
        MixedPair: KitError::MixedPair {
            left_mm: 1.3, right_mm: 2.9, sum_mm: 4.2, total_mm: 4.4, left_partner_mm: Some(3.1), right_partner_mm: None,
        } => "1.300 mm left and 2.900 mm right add up to 4.200 mm, not 4.400 mm, so they are no pair; put 1.300 mm with 3.100 mm, and measure 2.900 mm again, which is not a piece of this kit";
        UnclearPiece: KitError::UnclearPiece { thickness_mm: 1.4, candidates: vec![said("A"), b()] }
            => "1.400 mm may be of pair A or B; measure the other piece too";
        UnknownPair: KitError::UnknownPair { pair: said("Z"), known: vec![said("A"), b()] }
            => "this kit has no pair \"Z\"; choose one of A, B";
    }
    of_typed_figures: UnitsError {
        Empty: UnitsError::Empty { quantity: "a length", example: said("1.5 in") }
            => "nothing was typed; type a length, for example 1.5 in";
        NotANumber: UnitsError::NotANumber { text: said("abc"), example: said("1.5 in") }
            => "\"abc\" is not a number; write it like 1.5 in";
        DecimalSigns: UnitsError::DecimalSigns { text: said("1,234.5") }
            => "\"1,234.5\" has more than one decimal sign; use one point or one comma";
        ZeroDenominator: UnitsError::ZeroDenominator { text: said("3/0") }
            => "\"3/0\" divides by zero; check the fraction";
        UnknownUnit: UnitsError::UnknownUnit { unit: said("lb"), quantity: "a length", known: said("mm, in") }
            => "\"lb\" is not a unit of a length here; use one of mm, in";
    }
    of_groups: GroupError {
        NoArrows: GroupError::NoArrows { kind: ArrowKind::Bare }
            => "no bare arrow is left to count in this trial; mark one, or count one again that was left out";
        NotFinite: GroupError::NotFinite { index: 1 }
            => "impact 2 has no usable position; place it again";
    }
    of_splits: SplitError {
        NotAReference: SplitError::NotAReference { kind: ArrowKind::Bare }
            => "a split is measured from fletched field points; shoot or mark some as the reference";
        NotAProbe: SplitError::NotAProbe
            => "a split needs another kind of arrow beside the fletched ones; shoot or mark bare shafts or fixed-blade broadheads";
        Distance: FAR.into() => FAR_WORDS;
        Plane: SplitError::Plane
            => "the picture's scale has no usable uncertainty; mark its corners again";
    }
    of_walk_backs: WalkBackError {
        TooFewDistances: WalkBackError::TooFewDistances
            => "a walk-back needs groups at two distances or more, at least 0.5 m apart; shoot at another one (three show a bend as well)";
        NotFletched: WalkBackError::NotFletched { kind: ArrowKind::Bare }
            => "a walk-back is read from fletched arrows with field points only; leave the others out";
        Distance: FAR.into() => FAR_WORDS;
    }
    of_air: AirError {
        Altitude: AirError::Altitude { altitude_m: 9000.0 }
            => "9000 m as height above the sea is outside -500 to 6000 m; check the number and its unit";
        Temperature: AirError::Temperature { temperature_c: 77.0 }
            => "77 °C as temperature is outside -40 to 50 °C; check the number and its unit";
        Humidity: AirError::Humidity { humidity: 50.0 }
            => "50 as relative humidity is outside 0 to 1; enter it as a share, 0.5 for 50 %";
    }
    of_flight: MotionError {
        DoesNotArrive: MotionError::DoesNotArrive
            => "this arrow does not fly to that distance but turns across its path; check mass, balance point and vanes";
    }
    of_arrows: ArrowError {
        OutOfRange: ArrowError::OutOfRange { figure: ArrowFigure::Diameter, value: 57.0, low: 3.5, high: 12.0 }
            => "57 mm as shaft diameter is outside 3.5 to 12 mm; check the number and its unit";
        PartsOutweighArrow: ArrowError::PartsOutweighArrow { shaft_kg: -0.0021 }
            => "the parts leave -2.1 g for the shaft, which cannot be; check the masses of arrow, point, insert and vanes";
        Balance: ArrowError::Balance { foc_percent: 52.0 }
            => "this balance point is 52 % forward of centre, outside 0 to 40 %; measure it from the nock's throat";
        BareShowsNothing: ArrowError::BareShowsNothing
            => "a bare shaft of this arrow would land with the fletched ones whatever the bow does and cannot show a fault; check its figures";
        Motion: MotionError::DoesNotArrive.into()
            => "this arrow does not fly to that distance but turns across its path; check mass, balance point and vanes";
    }
    of_arrows_downrange: DownrangeError {
        Arrow: ArrowError::BareShowsNothing.into()
            => "a bare shaft of this arrow would land with the fletched ones whatever the bow does and cannot show a fault; check its figures";
        Distance: FAR.into() => FAR_WORDS;
    }
    of_checks: CheckError {
        NotMeasured: CheckError::NotMeasured { item: CheckItem::NockFit }
            => "the check \"nock_fit\" is looked at, not measured; leave its value and its range out";
        NotANumber: CheckError::NotANumber { item: CheckItem::BraceHeight }
            => "a figure of the check \"brace_height\" is not a number; correct it";
        Crossed: CheckError::Crossed { item: CheckItem::BraceHeight, low: 180.0, high: 170.0 }
            => "the range of the check \"brace_height\" runs from 180 down to 170; enter its low end first";
        NoState: CheckError::NoState { item: CheckItem::BraceHeight }
            => "the check \"brace_height\" has no state; enter one, or a measured value with the bow maker's range";
    }
    of_verdicts: VerdictError {
        OutOfRange: VerdictError::OutOfRange { what: said("distance (m)"), trial: Some(7), value: 0.0, low: 2.0, high: 100.0 }
            => "distance (m) in trial 7 is 0, outside 2 to 100; correct it and ask again";
        Fitting: VerdictError::Fitting { trial: None, kit: KitError::EmptyName }
            => "what was fitted: the kit or one of its pairs has no name; give each its own";
        Remembered: VerdictError::Remembered { kit: KitError::EmptyName }
            => "a swap from memory: the kit or one of its pairs has no name; give each its own";
        NoPriority: VerdictError::NoPriority
            => "nothing is chosen to be brought together; choose at least one of bare shafts, broadheads and paper";
    }
    of_swaps: SwapError {
        NothingToChange: SwapError::NothingToChange
            => "this fitting is already in the bow; choose another one";
        AnswerNeeded: SwapError::AnswerNeeded
            => "this step asks what was found inside; say it before going on";
        NoQuestionHere: SwapError::NoQuestionHere
            => "this step does not ask what was found; confirm it as it stands";
        AtFirstStep: SwapError::AtFirstStep
            => "there is no step before the first; go on, or give the swap up";
        AtEnd: SwapError::AtEnd
            => "the last step was already confirmed; go back to the bow";
        Kit: KitError::EmptyName.into()
            => "the kit or one of its pairs has no name; give each its own";
    }
}
