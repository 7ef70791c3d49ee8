//! The walk through a guide: done, back, found inside, undo.

use super::{Bench, Found, Spacers, Step, StepKind, SwapError, SwapEvent, plan};
use crate::spacer::{Axle, Fitting, Kit, Seat};
use serde::{Deserialize, Serialize};

/// What the guide is heading for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Purpose {
    /// Fit what was asked for.
    Fit,
    /// Put back what was fitted before: the swap was undone.
    PutBack,
    /// Close the bow with what was found inside, because it was not what the record said.
    CloseUp,
}

/// A swap under way. Plain data: stored after every step, so that stopping costs nothing.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Swap {
    /// What the record says was fitted when the swap began, corrected by what was found.
    pub origin: Fitting,
    /// Where the guide is heading.
    pub target: Fitting,
    /// Why it is heading there.
    pub purpose: Purpose,
    /// The bench when this guide was made.
    pub start: Bench,
    /// How many of its steps are confirmed.
    pub confirmed: u32,
}

impl Swap {
    /// A swap from one fitting to another of the same kit.
    ///
    /// # Errors
    /// [`SwapError::NothingToChange`], or [`SwapError::Kit`] for a pair the kit does not have.
    pub fn begin(kit: &Kit, from: &Fitting, to: &Fitting) -> Result<Self, SwapError> {
        for seat in [&to.top, &to.bottom] {
            kit.pair(&seat.pair)?;
        }
        if from == to {
            return Err(SwapError::NothingToChange);
        }
        Ok(Self {
            origin: from.clone(),
            target: to.clone(),
            purpose: Purpose::Fit,
            start: Bench::closed(from),
            confirmed: 0,
        })
    }

    /// Every step of the guide.
    pub fn steps(&self) -> Vec<Step> {
        plan(&self.start, &self.target)
    }

    /// The step to do now; `None` after the last.
    pub fn current(&self) -> Option<Step> {
        self.steps().into_iter().nth(self.confirmed as usize)
    }

    /// How the bow stands now.
    pub fn bench(&self) -> Bench {
        let mut done = self.steps().into_iter().take(self.confirmed as usize);
        done.next_back()
            .map_or_else(|| self.start.clone(), |step| step.after)
    }

    /// The current step is done.
    ///
    /// # Errors
    /// [`SwapError::AnswerNeeded`] where the step asks what was found; [`SwapError::AtEnd`].
    pub fn done(&mut self) -> Result<SwapEvent, SwapError> {
        match self.current() {
            None => Err(SwapError::AtEnd),
            Some(step) if step.kind.wants_answer() => Err(SwapError::AnswerNeeded),
            Some(_) => Ok(self.advance()),
        }
    }

    /// The last confirmed step was not really done.
    ///
    /// # Errors
    /// [`SwapError::AtFirstStep`].
    pub fn back(&mut self) -> Result<(), SwapError> {
        self.confirmed = self
            .confirmed
            .checked_sub(1)
            .ok_or(SwapError::AtFirstStep)?;
        Ok(())
    }

    /// Answers what was found on the opened axle.
    ///
    /// # Errors
    /// [`SwapError::NoQuestionHere`], or [`SwapError::Kit`] with the sum and the valid partners
    /// where two measured pieces are no pair, or where one piece does not tell its pair; nothing
    /// changes then.
    pub fn found(&mut self, kit: &Kit, found: &Found) -> Result<SwapEvent, SwapError> {
        let (axle, recorded) = self.question()?;
        let seat = match found {
            Found::AsRecorded => recorded.clone(),
            Found::Seat { seat } => kit.pair(&seat.pair).map(|_| seat.clone())?,
            Found::Pieces { left_mm, right_mm } => kit.seat_from_pieces(*left_mm, *right_mm)?,
            &Found::OnePiece { side, thickness_mm } => kit.seat_from_piece(side, thickness_mm)?,
            &Found::MixedPair { left_mm, right_mm } => {
                self.advance();
                return Ok(SwapEvent::MixedPair {
                    axle,
                    left_mm,
                    right_mm,
                });
            }
            Found::ThickSide { thick, note } => {
                self.advance();
                return Ok(SwapEvent::PairUnknown {
                    axle,
                    thick: *thick,
                    as_recorded: *thick == recorded.thick,
                    note: note.clone(),
                });
            }
        };
        if seat == recorded {
            return Ok(self.advance());
        }
        Ok(self.close_up_with(axle, recorded, seat))
    }

    /// Gives the swap up: afterwards the guide leads back to what was fitted, from wherever the
    /// bow stands. `false` where nothing was touched yet, so that nothing is left to do.
    pub fn undo(&mut self) -> bool {
        self.start = self.bench();
        self.target = self.origin.clone();
        self.purpose = Purpose::PutBack;
        self.confirmed = 0;
        !self.steps().is_empty()
    }

    fn question(&self) -> Result<(Axle, Seat), SwapError> {
        match self.current() {
            Some(Step {
                kind: StepKind::ConfirmFound,
                axle: Some(axle),
                seat: Some(seat),
                ..
            }) => Ok((axle, seat)),
            _ => Err(SwapError::NoQuestionHere),
        }
    }

    fn advance(&mut self) -> SwapEvent {
        self.confirmed += 1;
        if self.current().is_some() {
            return SwapEvent::GoOn;
        }
        SwapEvent::Finished {
            fitting: self.target.clone(),
        }
    }

    /// Leaves closed axles as they are: every axle opened is a risk, and the next verdict may
    /// want them so.
    fn close_up_with(&mut self, axle: Axle, recorded: Seat, found: Seat) -> SwapEvent {
        let mut bench = self.bench();
        bench.axle_mut(axle).spacers = Spacers::Out;
        self.origin = self.origin.with_seat(axle, found.clone());
        let other = match axle {
            Axle::Top => Axle::Bottom,
            Axle::Bottom => Axle::Top,
        };
        let kept = bench.axle(other).seat().unwrap_or(self.origin.seat(other));
        self.target = self.origin.with_seat(other, kept.clone());
        self.purpose = Purpose::CloseUp;
        self.start = bench;
        self.confirmed = 0;
        SwapEvent::Mismatch {
            axle,
            recorded,
            found,
            corrected: self.origin.clone(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::frame::Side;
    use crate::spacer::{KitDraft, KitError, PairDraft};

    fn kit() -> Kit {
        Kit::new(KitDraft {
            name: "bench".into(),
            total_mm: 4.4,
            tolerance_mm: 0.05,
            pairs: vec![PairDraft::new("A", 1.3, 3.1), PairDraft::new("C", 1.9, 2.5)],
        })
        .unwrap()
    }

    fn begun() -> Swap {
        let from = Fitting::alike(Seat::new("A", Side::Left));
        let to = Fitting::alike(Seat::new("A", Side::Right));
        Swap::begin(&kit(), &from, &to).unwrap()
    }

    fn walk_to(swap: &mut Swap, kind: StepKind, axle: Option<Axle>) {
        for _ in 0..60 {
            let step = swap.current().unwrap();
            if step.kind == kind && step.axle == axle {
                return;
            }
            step_on(swap);
        }
        panic!("no {kind:?} in the guide");
    }

    fn step_on(swap: &mut Swap) -> SwapEvent {
        if swap.current().unwrap().kind.wants_answer() {
            swap.found(&kit(), &Found::AsRecorded).unwrap()
        } else {
            swap.done().unwrap()
        }
    }

    fn finish(swap: &mut Swap) -> Fitting {
        for _ in 0..60 {
            if let SwapEvent::Finished { fitting } = step_on(swap) {
                return fitting;
            }
        }
        panic!("the guide has no end");
    }

    #[test]
    fn the_fitting_is_known_only_after_the_last_check() {
        let mut swap = begun();
        assert_eq!(
            finish(&mut swap),
            Fitting::alike(Seat::new("A", Side::Right))
        );
        assert_eq!(swap.done(), Err(SwapError::AtEnd));
    }

    #[test]
    fn a_question_cannot_be_skipped() {
        let mut swap = begun();
        walk_to(&mut swap, StepKind::ConfirmFound, Some(Axle::Top));
        assert_eq!(swap.done(), Err(SwapError::AnswerNeeded));
    }

    #[test]
    fn a_surprise_on_the_second_axle_corrects_the_record_and_leaves_the_first_alone() {
        let mut swap = begun();
        walk_to(&mut swap, StepKind::ConfirmFound, Some(Axle::Bottom));
        let found = Found::Pieces {
            left_mm: 1.9,
            right_mm: 2.5,
        };
        let event = swap.found(&kit(), &found).unwrap();
        let inside = Seat::new("C", Side::Right);
        let SwapEvent::Mismatch { corrected, .. } = event else {
            panic!("{event:?}");
        };
        let corrected_bottom =
            Fitting::alike(Seat::new("A", Side::Left)).with_seat(Axle::Bottom, inside.clone());
        assert_eq!(corrected, corrected_bottom);
        assert_eq!(swap.current().unwrap().kind, StepKind::SetSpacers);
        let expected = Fitting::alike(Seat::new("A", Side::Right)).with_seat(Axle::Bottom, inside);
        assert_eq!(finish(&mut swap), expected);
    }

    #[test]
    fn a_mixed_pair_is_named_first_and_never_goes_back_in() {
        let mut swap = begun();
        walk_to(&mut swap, StepKind::ConfirmFound, Some(Axle::Top));
        let before = swap.clone();
        let (left_mm, right_mm) = (1.3, 2.5);
        let refused = swap.found(&kit(), &Found::Pieces { left_mm, right_mm });
        assert!(matches!(
            refused,
            Err(SwapError::Kit(KitError::MixedPair { .. }))
        ));
        assert_eq!(swap, before);
        let event = swap.found(&kit(), &Found::MixedPair { left_mm, right_mm });
        assert!(matches!(event, Ok(SwapEvent::MixedPair { .. })));
        assert_eq!(finish(&mut swap), before.target);
    }

    #[test]
    fn one_piece_measured_in_place_tells_its_pair() {
        for (side, thickness_mm, pair, thick) in [
            (Side::Left, 3.12, "A", Side::Left),
            (Side::Right, 1.28, "A", Side::Left),
            (Side::Left, 1.9, "C", Side::Right),
        ] {
            let mut swap = begun();
            walk_to(&mut swap, StepKind::ConfirmFound, Some(Axle::Top));
            let event = swap.found(&kit(), &Found::OnePiece { side, thickness_mm });
            match event.unwrap() {
                SwapEvent::GoOn => assert_eq!((pair, thick), ("A", Side::Left)),
                SwapEvent::Mismatch { found, .. } => assert_eq!(found, Seat::new(pair, thick)),
                other => panic!("{other:?}"),
            }
        }
        let mut swap = begun();
        walk_to(&mut swap, StepKind::ConfirmFound, Some(Axle::Top));
        let (before, side) = (swap.clone(), Side::Left);
        let strange = Found::OnePiece {
            side,
            thickness_mm: 2.2,
        };
        let refused = swap.found(&kit(), &strange);
        assert!(matches!(
            refused,
            Err(SwapError::Kit(KitError::UnclearPiece { .. }))
        ));
        assert_eq!(swap, before);
    }

    #[test]
    fn a_thick_side_alone_leads_on_to_the_wanted_pair() {
        for (thick, agrees) in [(Side::Left, true), (Side::Right, false)] {
            let mut swap = begun();
            walk_to(&mut swap, StepKind::ConfirmFound, Some(Axle::Top));
            let note = String::from("shoulders only");
            let event = swap.found(&kit(), &Found::ThickSide { thick, note });
            let Ok(SwapEvent::PairUnknown { as_recorded, .. }) = event else {
                panic!("{event:?}");
            };
            assert_eq!(as_recorded, agrees);
            assert_eq!(swap.current().unwrap().kind, StepKind::SetSpacers);
            assert_eq!(finish(&mut swap), begun().target);
        }
    }

    #[test]
    fn undo_before_the_press_leaves_nothing_to_do() {
        let mut swap = begun();
        walk_to(&mut swap, StepKind::PressEvenly, None);
        assert!(!swap.undo());
    }

    #[test]
    fn undo_from_any_later_step_leads_back_to_what_was_fitted() {
        let length = begun().steps().len();
        for confirmed in 6..length {
            let mut swap = begun();
            for _ in 0..confirmed {
                step_on(&mut swap);
            }
            assert!(swap.undo());
            assert_eq!(finish(&mut swap), begun().origin);
        }
    }

    #[test]
    fn back_returns_to_the_step_before() {
        let mut swap = begun();
        assert_eq!(swap.back(), Err(SwapError::AtFirstStep));
        swap.done().unwrap();
        swap.back().unwrap();
        assert_eq!(swap, begun());
    }
}
