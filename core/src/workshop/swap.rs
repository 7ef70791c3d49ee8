//! The guided swap on the record.

use crate::store::Transaction;

use super::bows::{Entry, append, refuse_during_swap};
use super::setup::reopen_after_swap;
use super::{Answer, Workshop, WorkshopError};
use crate::record::{
    ChangeKind, FittingReason, FittingRecord, SetupChange, SetupCheck, SwapProgress,
};
use crate::spacer::{Fitting, Kit};
use crate::store::{self, StoreError, Thing};
use crate::swap::{Found, Step, Swap, SwapEvent};
use crate::verdict::CheckState;

/// The swap screen: every step, where the guide stands, and what the last answer meant.
#[derive(Debug, Clone, PartialEq)]
pub struct SwapPage {
    /// The swap as it is remembered; after the end, as it was last.
    pub progress: SwapProgress,
    /// Every step of the guide as it now runs.
    pub steps: Vec<Step>,
    /// The step to do now; `None` when the swap is over.
    pub current: Option<Step>,
    /// What the last answer meant.
    pub event: SwapEvent,
    /// What is fitted according to the record.
    pub fitted: FittingRecord,
}

impl Workshop {
    /// Starts a swap to `to`.
    ///
    /// # Errors
    /// [`WorkshopError::SwapOpen`], [`WorkshopError::NoFitting`], [`WorkshopError::Unsafe`] where
    /// damage is on record, [`WorkshopError::Swap`].
    pub fn start_swap(
        &mut self,
        bow_id: i64,
        to: &Fitting,
        reason: FittingReason,
        verdict_id: Option<i64>,
        now_ms: i64,
    ) -> Answer<SwapPage> {
        let damaged =
            |check: &SetupCheck| check.item.is_safety() && check.state == CheckState::Failed;
        if self.checks(bow_id)?.iter().any(damaged) {
            return Err(WorkshopError::Unsafe { bow_id });
        }
        self.store.write(|tx| {
            refuse_during_swap(tx, bow_id)?;
            let (kit, fitted) = kit_and_fitting(tx, bow_id)?;
            let progress = SwapProgress {
                bow_id,
                swap: Swap::begin(&kit, &fitted.fitting, to)?,
                reason,
                verdict_id,
                started_ms: now_ms,
                touched_ms: now_ms,
            };
            store::save_swap(tx, &progress)?;
            store::touch_bow(tx, bow_id, now_ms)?;
            Ok(page(progress, SwapEvent::GoOn, fitted))
        })
    }

    /// Starts a swap back to an earlier entry of the list of fittings.
    ///
    /// # Errors
    /// As [`Workshop::start_swap`]; no such entry.
    pub fn put_back(&mut self, bow_id: i64, fitting_id: i64, now_ms: i64) -> Answer<SwapPage> {
        let entries = store::fittings(self.store.reader(), bow_id)?;
        let entry = FittingRecord::corrected(&entries, fitting_id);
        let entry = entry.ok_or(StoreError::NotFound {
            thing: Thing::Fitting,
            id: fitting_id,
        })?;
        self.start_swap(bow_id, &entry.fitting, FittingReason::PutBack, None, now_ms)
    }

    /// The swap under way: the screen after a pause or a restart.
    ///
    /// # Errors
    /// [`WorkshopError::NoSwap`].
    pub fn swap_page(&self, bow_id: i64) -> Answer<SwapPage> {
        let reader = self.store.reader();
        let progress = store::swap(reader, bow_id)?.ok_or(WorkshopError::NoSwap { bow_id })?;
        let fitted = store::fitted(reader, bow_id)?;
        let fitted = fitted.ok_or(WorkshopError::NoFitting { bow_id })?;
        Ok(page(progress, SwapEvent::GoOn, fitted))
    }

    /// The current step is done.
    ///
    /// # Errors
    /// [`WorkshopError::Swap`] where the step asks what was found; [`WorkshopError::NoSwap`].
    pub fn swap_done(&mut self, bow_id: i64, now_ms: i64) -> Answer<SwapPage> {
        self.move_swap(bow_id, now_ms, |swap, _| Ok(swap.done()?))
    }

    /// The last confirmed step was not really done.
    ///
    /// # Errors
    /// [`WorkshopError::Swap`] on the first step.
    pub fn swap_back(&mut self, bow_id: i64, now_ms: i64) -> Answer<SwapPage> {
        self.move_swap(bow_id, now_ms, |swap, _| {
            swap.back()?;
            Ok(SwapEvent::GoOn)
        })
    }

    /// Answers what was found on the opened axle. A mismatch corrects the record at once.
    ///
    /// # Errors
    /// [`WorkshopError::Swap`] with the sum and the valid partners where two measured pieces are no
    /// pair; nothing is written then.
    pub fn swap_found(&mut self, bow_id: i64, found: &Found, now_ms: i64) -> Answer<SwapPage> {
        self.move_swap(bow_id, now_ms, |swap, kit| Ok(swap.found(kit, found)?))
    }

    /// Gives the swap up: the guide then leads back; it is over at once where nothing was touched.
    ///
    /// # Errors
    /// [`WorkshopError::NoSwap`].
    pub fn undo_swap(&mut self, bow_id: i64, now_ms: i64) -> Answer<SwapPage> {
        self.move_swap(bow_id, now_ms, |swap, _| {
            swap.undo();
            Ok(SwapEvent::GoOn)
        })
    }

    fn move_swap(
        &mut self,
        bow_id: i64,
        now_ms: i64,
        step: impl FnOnce(&mut Swap, &Kit) -> Answer<SwapEvent>,
    ) -> Answer<SwapPage> {
        self.store.write(|tx| {
            let progress = store::swap(tx, bow_id)?;
            let mut progress = progress.ok_or(WorkshopError::NoSwap { bow_id })?;
            let (kit, fitted) = kit_and_fitting(tx, bow_id)?;
            let event = step(&mut progress.swap, &kit)?;
            progress.touched_ms = now_ms;
            let fitted = record_event(tx, &progress, &event, fitted)?;
            if progress.swap.current().is_some() {
                store::save_swap(tx, &progress)?;
            } else {
                store::end_swap(tx, bow_id)?;
            }
            store::touch_bow(tx, bow_id, now_ms)?;
            Ok(page(progress, event, fitted))
        })
    }
}

fn kit_and_fitting(tx: &Transaction, bow_id: i64) -> Answer<(Kit, FittingRecord)> {
    let fitted = store::fitted(tx, bow_id)?.ok_or(WorkshopError::NoFitting { bow_id })?;
    let kit = Kit::new(store::kit(tx, fitted.kit_id)?.kit)?;
    Ok((kit, fitted))
}

/// Writes what an answer means for the record; answers what is fitted afterwards.
fn record_event(
    tx: &Transaction,
    progress: &SwapProgress,
    event: &SwapEvent,
    fitted: FittingRecord,
) -> Answer<FittingRecord> {
    let (bow_id, now_ms) = (progress.bow_id, progress.touched_ms);
    if matches!(event, SwapEvent::Finished { .. }) {
        reopen_after_swap(tx, bow_id, now_ms)?;
    }
    let entry = match event {
        SwapEvent::Mismatch { corrected, .. } => Entry {
            fitting: corrected,
            reason: FittingReason::FoundInside,
            verdict_id: None,
            corrects_id: Some(fitted.id),
        },
        SwapEvent::Finished { fitting } if *fitting != fitted.fitting => Entry {
            fitting,
            reason: progress.reason,
            verdict_id: progress.verdict_id,
            corrects_id: None,
        },
        &SwapEvent::MixedPair {
            left_mm, right_mm, ..
        } => {
            let note = format!("{left_mm:.3} mm + {right_mm:.3} mm");
            record_change(tx, progress, ChangeKind::MixedPairFound, note)?;
            return Ok(fitted);
        }
        SwapEvent::PairUnknown {
            as_recorded, note, ..
        } => {
            let kind = if *as_recorded {
                ChangeKind::SideConfirmed
            } else {
                ChangeKind::PairUnknown
            };
            record_change(tx, progress, kind, note.clone())?;
            return Ok(fitted);
        }
        SwapEvent::GoOn | SwapEvent::Finished { .. } => return Ok(fitted),
    };
    append(tx, bow_id, Some(fitted.kit_id), &entry, now_ms)
}

fn record_change(
    tx: &Transaction,
    progress: &SwapProgress,
    kind: ChangeKind,
    note: String,
) -> Answer<()> {
    let change = SetupChange {
        kind,
        value_mm: None,
        note,
        at_ms: progress.touched_ms,
    };
    store::append_change(tx, progress.bow_id, &change)?;
    Ok(())
}

fn page(progress: SwapProgress, event: SwapEvent, fitted: FittingRecord) -> SwapPage {
    SwapPage {
        steps: progress.swap.steps(),
        current: progress.swap.current(),
        progress,
        event,
        fitted,
    }
}
