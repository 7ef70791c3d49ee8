//! From any state of the bench to a closed bow with the wanted fitting.

use super::{AxleState, Bench, Spacers, Step, StepKind};
use crate::spacer::{Axle, Fitting, Seat};

const INTO_THE_PRESS: [StepKind; 6] = [
    StepKind::PutArrowsAway,
    StepKind::InspectForDamage,
    StepKind::ReadInstructions,
    StepKind::LayOutPieces,
    StepKind::PhotographPaths,
    StepKind::PressEvenly,
];

const CLOSING: [StepKind; 5] = [
    // While the string is slack: under its load no cam spins, and one that binds must not be drawn.
    StepKind::SpinAndSidePlay,
    StepKind::CheckTracks,
    StepKind::ReleasePress,
    StepKind::PartialDraw,
    StepKind::FirstShot,
];

/// The ordered steps from `start` to a closed bow that carries `target`, one axle after the other,
/// top first. Empty where the bow already is that.
///
/// Laws: the last step's bench is `Bench::closed(target)`; at every step each axle carries either
/// both pieces of one pair or none, so thin + thick is the kit's total wherever spacers are in.
///
/// # Example
/// ```
/// use shimwright::{frame::Side, spacer::{Fitting, Seat}, swap::{plan, Bench}};
/// let from = Fitting::alike(Seat::new("B", Side::Left));
/// let to = Fitting::alike(Seat::new("B", Side::Right));
/// let steps = plan(&Bench::closed(&from), &to);
/// assert_eq!(steps.last().map(|step| step.after.clone()), Some(Bench::closed(&to)));
/// ```
pub fn plan(start: &Bench, target: &Fitting) -> Vec<Step> {
    if *start == Bench::closed(target) {
        return Vec::new();
    }
    let mut steps = Steps::from(start);
    if !start.pressed {
        steps.whole_bow(&INTO_THE_PRESS);
    }
    for axle in [Axle::Top, Axle::Bottom] {
        steps.refit(axle, start.axle(axle), target.seat(axle));
    }
    steps.whole_bow(&CLOSING);
    steps.list
}

struct Steps {
    bench: Bench,
    list: Vec<Step>,
}

impl Steps {
    fn from(start: &Bench) -> Self {
        Self {
            bench: start.clone(),
            list: Vec::new(),
        }
    }

    fn whole_bow(&mut self, kinds: &[StepKind]) {
        for &kind in kinds {
            self.push(kind, None, None);
        }
    }

    fn push(&mut self, kind: StepKind, axle: Option<Axle>, seat: Option<&Seat>) {
        self.bench = self.bench.after(kind, axle, seat);
        self.list.push(Step {
            kind,
            axle,
            seat: seat.cloned(),
            cautions: kind.cautions().to_vec(),
            after: self.bench.clone(),
        });
    }

    fn refit(&mut self, axle: Axle, state: &AxleState, target: &Seat) {
        match &state.spacers {
            Spacers::In { seat } if seat == target => {}
            Spacers::In { seat } => {
                self.open(axle, state);
                self.push(StepKind::TakeSpacersOut, Some(axle), Some(seat));
                self.push(StepKind::ConfirmFound, Some(axle), Some(seat));
                self.push(StepKind::SetSpacers, Some(axle), Some(target));
            }
            Spacers::OutUnchecked { recorded } => {
                self.push(StepKind::ConfirmFound, Some(axle), Some(recorded));
                self.push(StepKind::SetSpacers, Some(axle), Some(target));
            }
            Spacers::Out => self.push(StepKind::SetSpacers, Some(axle), Some(target)),
        }
        self.close(axle);
    }

    fn open(&mut self, axle: Axle, state: &AxleState) {
        if state.screw_in {
            self.push(StepKind::TakeOutScrew, Some(axle), None);
        }
        if state.axle_in {
            self.push(StepKind::SupportCam, Some(axle), None);
            self.push(StepKind::PushAxleOut, Some(axle), None);
        }
    }

    fn close(&mut self, axle: Axle) {
        let AxleState {
            axle_in, screw_in, ..
        } = *self.bench.axle(axle);
        if !axle_in {
            self.push(StepKind::AxleHome, Some(axle), None);
        }
        if !screw_in {
            self.push(StepKind::ScrewSnug, Some(axle), None);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::frame::Side;

    fn seats() -> Vec<Seat> {
        ["A", "B", "C"]
            .iter()
            .flat_map(|pair| [Seat::new(pair, Side::Left), Seat::new(pair, Side::Right)])
            .collect()
    }

    fn fittings() -> Vec<Fitting> {
        let seats = seats();
        let with = |top: &Seat| {
            let top = top.clone();
            seats.clone().into_iter().map(move |bottom| Fitting {
                top: top.clone(),
                bottom,
            })
        };
        seats.iter().flat_map(with).collect()
    }

    #[test]
    fn every_guide_ends_with_a_closed_bow_that_carries_the_target() {
        for from in fittings() {
            for to in fittings().iter().filter(|to| **to != from) {
                let steps = plan(&Bench::closed(&from), to);
                assert_eq!(steps.last().unwrap().after, Bench::closed(to));
            }
        }
    }

    #[test]
    fn from_every_half_way_state_there_is_a_way_back_and_forth() {
        let from = Fitting::alike(Seat::new("A", Side::Left));
        let to = Fitting {
            top: Seat::new("B", Side::Right),
            bottom: Seat::new("A", Side::Right),
        };
        for step in plan(&Bench::closed(&from), &to) {
            for goal in [&from, &to] {
                let rest = plan(&step.after, goal);
                let end = rest.last().map_or(&step.after, |last| &last.after);
                assert_eq!(*end, Bench::closed(goal));
            }
        }
    }

    #[test]
    fn the_press_is_never_released_over_an_open_axle() {
        let from = Fitting::alike(Seat::new("A", Side::Left));
        let to = Fitting::alike(Seat::new("C", Side::Right));
        for step in plan(&Bench::closed(&from), &to) {
            let open = [&step.after.top, &step.after.bottom]
                .iter()
                .any(|axle| !axle.axle_in || !axle.screw_in || axle.seat().is_none());
            assert!(step.after.pressed || !open, "{:?}", step.kind);
        }
    }

    /// Where a step stands in the guide of one axle.
    fn place(steps: &[Step], kind: StepKind) -> usize {
        steps.iter().position(|step| step.kind == kind).unwrap()
    }

    #[test]
    fn the_cams_are_spun_while_the_press_still_holds_and_held_before_the_axle_leaves() {
        let from = Fitting::alike(Seat::new("A", Side::Left));
        let steps = plan(
            &Bench::closed(&from),
            &Fitting::alike(Seat::new("C", Side::Right)),
        );
        let spin = place(&steps, StepKind::SpinAndSidePlay);
        assert!(steps[spin].after.pressed);
        assert!(spin < place(&steps, StepKind::ReleasePress));
        for axle in [Axle::Top, Axle::Bottom] {
            let own: Vec<Step> = steps
                .iter()
                .filter(|step| step.axle == Some(axle))
                .cloned()
                .collect();
            let held = place(&own, StepKind::SupportCam);
            assert!(own[held].after.axle(axle).axle_in);
            assert!(held < place(&own, StepKind::PushAxleOut));
            let closed = steps
                .iter()
                .rposition(|step| step.axle == Some(axle))
                .unwrap();
            assert!(closed < spin);
        }
    }

    #[test]
    fn an_axle_that_does_not_change_is_not_opened() {
        let from = Fitting::alike(Seat::new("A", Side::Left));
        let to = from.with_seat(Axle::Bottom, Seat::new("A", Side::Right));
        let steps = plan(&Bench::closed(&from), &to);
        assert!(steps.iter().all(|step| step.axle != Some(Axle::Top)));
        assert_eq!(steps.len(), 6 + 8 + 5);
    }
}
