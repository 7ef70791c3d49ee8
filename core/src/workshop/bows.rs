//! Bows: taking one in, its page, what is fitted.

use crate::store::Transaction;

use super::setup::reopen_after_swap;
use super::{Answer, Waits, Workshop, WorkshopError};
use crate::record::{
    ArrowSetupRecord, Bow, BowDetails, FittingReason, FittingRecord, KitRecord, SetupCheck,
    SetupState, SwapProgress, Trial, VerdictGiven,
};
use crate::spacer::{Arrangement, Fitting, Kit, KitError, Stock};
use crate::store::{self, NewFitting, Unread};

/// Everything the bow's own screen shows.
#[derive(Debug, Clone, PartialEq)]
pub struct BowPage {
    /// The bow.
    pub bow: Bow,
    /// Its kit.
    pub kit: Option<KitRecord>,
    /// What it may draw on.
    pub stock: Option<Stock>,
    /// What is fitted, and why.
    pub fitted: Option<FittingRecord>,
    /// Entries that two phones recorded apart and that differ, oldest first; empty otherwise. Which
    /// of them is in the bow nobody can tell but by looking.
    pub contested: Vec<FittingRecord>,
    /// What that does to the cams.
    pub arrangement: Option<Arrangement>,
    /// Where rest and nocking point stand.
    pub setup: SetupState,
    /// Every check in trade order.
    pub checks: Vec<SetupCheck>,
    /// Its arrow set-ups.
    pub arrow_setups: Vec<ArrowSetupRecord>,
    /// The newest trial that counts.
    pub last_trial: Option<Trial>,
    /// The newest verdict.
    pub last_verdict: Option<VerdictGiven>,
    /// Whether that verdict was given on everything that is on record now.
    pub verdict_stands: bool,
    /// The swap under way.
    pub swap: Option<SwapProgress>,
    /// What it waits for.
    pub waits: Waits,
    /// What is on record of this bow and cannot be read.
    pub unread: Vec<Unread>,
}

impl Workshop {
    /// Takes a bow in, with what is fitted where that is known.
    ///
    /// # Errors
    /// [`WorkshopError::Field`], [`WorkshopError::NoKit`] where a fitting comes without a kit,
    /// [`WorkshopError::Kit`] where the fitting is not of the kit.
    pub fn add_bow(
        &mut self,
        details: &BowDetails,
        fitting: Option<&Fitting>,
        now_ms: i64,
    ) -> Answer<Bow> {
        details.check()?;
        self.store.write(|tx| {
            let id = store::insert_bow(tx, details, now_ms)?;
            if let Some(fitting) = fitting {
                let entry = Entry::plain(fitting, FittingReason::TakenIn);
                append(tx, id, details.kit_id, &entry, now_ms)?;
            }
            Ok(store::bow(tx, id)?)
        })
    }

    /// Replaces a bow's details. Where the kit changes, what is fitted must be given again: a pair of
    /// the same name in another kit is made of other pieces. What is given opens the checks that a
    /// swap calls into question, where it is another one than on record.
    ///
    /// # Errors
    /// [`WorkshopError::Field`], [`WorkshopError::KitLacksPair`], [`WorkshopError::SwapOpen`] where
    /// the kit or the fitting changes during a swap.
    pub fn save_bow(
        &mut self,
        id: i64,
        details: &BowDetails,
        fitting: Option<&Fitting>,
        now_ms: i64,
    ) -> Answer<Bow> {
        details.check()?;
        self.store.write(|tx| {
            let other_kit = store::bow(tx, id)?.details.kit_id != details.kit_id;
            store::update_bow(tx, id, details, now_ms)?;
            if other_kit || fitting.is_some() {
                refuse_during_swap(tx, id)?;
                refit(tx, id, details.kit_id, fitting, now_ms)?;
            }
            Ok(store::bow(tx, id)?)
        })
    }

    /// Records what is fitted without the guide: at intake, or done elsewhere. Where that is a swap,
    /// the checks it calls into question open again.
    ///
    /// # Errors
    /// [`WorkshopError::NoKit`], [`WorkshopError::SwapOpen`], [`WorkshopError::Kit`].
    pub fn record_fitting(
        &mut self,
        bow_id: i64,
        fitting: &Fitting,
        now_ms: i64,
    ) -> Answer<FittingRecord> {
        self.store.write(|tx| {
            let bow = store::bow(tx, bow_id)?;
            refuse_during_swap(tx, bow_id)?;
            let before = store::fitted(tx, bow_id)?;
            let reason = match before {
                None => FittingReason::TakenIn,
                Some(_) => FittingReason::OwnChoice,
            };
            if before.is_some_and(|entry| entry.fitting != *fitting) {
                reopen_after_swap(tx, bow_id, now_ms)?;
            }
            let entry = Entry::plain(fitting, reason);
            append(tx, bow_id, bow.details.kit_id, &entry, now_ms)
        })
    }

    /// What is fitted in a bow, and why; `None` where nobody has said.
    ///
    /// # Errors
    /// Where the file cannot be read.
    pub fn fitted(&self, bow_id: i64) -> Answer<Option<FittingRecord>> {
        Ok(store::fitted(self.store.reader(), bow_id)?)
    }

    /// Takes a bow off the rack, or puts it back.
    ///
    /// # Errors
    /// No such bow.
    pub fn archive_bow(&mut self, bow_id: i64, off_the_rack: bool, now_ms: i64) -> Answer<()> {
        self.tell_time(now_ms);
        let archived_ms = off_the_rack.then_some(now_ms);
        self.store
            .write(|tx| Ok(store::archive_bow(tx, bow_id, archived_ms)?))
    }

    /// Everything the bow's screen shows.
    ///
    /// # Errors
    /// No such bow, or the file cannot be read.
    pub fn bow_page(&self, bow_id: i64) -> Answer<BowPage> {
        let reader = self.store.reader();
        let bow = store::bow(reader, bow_id)?;
        let fitted = store::fitted(reader, bow_id)?;
        let kit_id = bow.details.kit_id;
        let kit = kit_id.map(|id| store::kit(reader, id)).transpose()?;
        let (mut stock, mut arrangement) = (None, None);
        if let (Some(record), Some(entry)) = (&kit, &fitted) {
            stock = Some(self.stock_of(record, bow_id, &entry.fitting)?);
            let checked = Kit::new(record.kit.clone())?;
            arrangement = Some(checked.arrangement(&entry.fitting, &bow.details.geometry())?);
        }
        Ok(BowPage {
            stock,
            arrangement,
            setup: SetupState::after(&store::changes(reader, bow_id)?),
            checks: self.checks(bow_id)?,
            arrow_setups: store::arrows_of(reader, bow_id)?,
            last_trial: store::last_trial(reader, bow_id)?,
            last_verdict: store::last_verdict(reader, bow_id)?,
            verdict_stands: store::verdict_stands(reader, bow_id)?,
            swap: store::swap(reader, bow_id)?,
            waits: self.waits(&bow, fitted.as_ref())?,
            contested: store::contested(reader, bow_id)?,
            unread: store::unread_of(reader, bow_id)?,
            bow,
            kit,
            fitted,
        })
    }
}

/// A fitting about to be recorded, and where it came from.
pub(super) struct Entry<'a> {
    pub(super) fitting: &'a Fitting,
    pub(super) reason: FittingReason,
    pub(super) verdict_id: Option<i64>,
    pub(super) corrects_id: Option<i64>,
}

impl<'a> Entry<'a> {
    fn plain(fitting: &'a Fitting, reason: FittingReason) -> Self {
        Self {
            fitting,
            reason,
            verdict_id: None,
            corrects_id: None,
        }
    }
}

/// Appends a fitting after checking it against the bow's kit.
pub(super) fn append(
    tx: &Transaction,
    bow_id: i64,
    kit_id: Option<i64>,
    entry: &Entry,
    now_ms: i64,
) -> Answer<FittingRecord> {
    let kit_id = kit_id.ok_or(WorkshopError::NoKit { bow_id })?;
    let kit = Kit::new(store::kit(tx, kit_id)?.kit)?;
    for seat in [&entry.fitting.top, &entry.fitting.bottom] {
        kit.pair(&seat.pair)?;
    }
    let new = NewFitting {
        bow_id,
        kit_id,
        fitting: entry.fitting,
        reason: entry.reason,
        verdict_id: entry.verdict_id,
        corrects_id: entry.corrects_id,
    };
    let id = store::append_fitting(tx, &new, now_ms)?;
    store::touch_bow(tx, bow_id, now_ms)?;
    Ok(FittingRecord {
        id,
        bow_id,
        kit_id,
        fitting: entry.fitting.clone(),
        reason: entry.reason,
        verdict_id: entry.verdict_id,
        corrects_id: entry.corrects_id,
        at_ms: now_ms,
    })
}

/// While a bow is in pieces only the guide says what is fitted.
pub(super) fn refuse_during_swap(tx: &Transaction, bow_id: i64) -> Answer<()> {
    match store::swap(tx, bow_id)? {
        Some(_) => Err(WorkshopError::SwapOpen { bow_id }),
        None => Ok(()),
    }
}

/// Records what is in a bow that is saved with its `fitting` or with another kit.
fn refit(
    tx: &Transaction,
    bow_id: i64,
    kit_id: Option<i64>,
    fitting: Option<&Fitting>,
    now_ms: i64,
) -> Answer<()> {
    let before = store::fitted(tx, bow_id)?;
    let Some(fitting) = fitting else {
        // No piece of the old kit is one of the new kit, whatever its pair is called.
        return before.map_or(Ok(()), |entry| {
            let pair = entry.fitting.top.pair;
            Err(WorkshopError::KitLacksPair { pair })
        });
    };
    if before.is_some_and(|entry| entry.fitting != *fitting || Some(entry.kit_id) != kit_id) {
        reopen_after_swap(tx, bow_id, now_ms)?;
    }
    let entry = Entry::plain(fitting, FittingReason::OwnChoice);
    append(tx, bow_id, kit_id, &entry, now_ms).map_err(lacks_pair)?;
    Ok(())
}

fn lacks_pair(error: WorkshopError) -> WorkshopError {
    match error {
        WorkshopError::Kit(KitError::UnknownPair { pair, .. }) => {
            WorkshopError::KitLacksPair { pair }
        }
        other => other,
    }
}
