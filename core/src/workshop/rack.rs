//! The rack: every bow with what is fitted and what it waits for.

use std::cmp::Reverse;

use super::{Answer, Workshop};
use crate::record::{Bow, FittingRecord, Hand, MoreArrows, Outcome};
use crate::store::{self, OnRack, Standing};
use crate::verdict::CheckItem;

/// What a bow waits for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Waits {
    /// A swap is half done.
    SwapHalfDone {
        /// Steps confirmed.
        confirmed: u32,
        /// Steps in all.
        steps: u32,
    },
    /// A check has failed.
    FailedCheck {
        /// Which.
        item: CheckItem,
    },
    /// Its kit is not chosen.
    Kit,
    /// Nobody has said what is fitted.
    Fitting,
    /// Nothing has been shot with what is fitted, or since the set-up was last changed.
    Trial,
    /// Something was shot or changed since the last verdict.
    Verdict,
    /// The verdict wants more arrows.
    Arrows {
        /// Bare shafts.
        bare: u32,
        /// Fletched field points.
        fletched: u32,
        /// Broadheads.
        broadhead: u32,
        /// Fletched arrows through paper.
        paper: u32,
    },
    /// The verdict wants another fitting.
    Swap,
    /// The verdict wants a small move of rest or nocking point.
    Trim,
    /// The verdict says that spacers cannot do it: something else must be looked at.
    Elsewhere,
    /// The verdict wants another adjustment first.
    Adjustment,
    /// Nothing more: it is left as it is, though it is not settled.
    Left,
    /// Nothing: it is settled.
    Nothing,
}

/// One bow on the rack.
#[derive(Debug, Clone, PartialEq)]
pub struct RackRow {
    /// The bow.
    pub bow_id: i64,
    /// Its name.
    pub name: String,
    /// Whose it is.
    pub owner: String,
    /// Drawing hand.
    pub hand: Hand,
    /// What is fitted, since when and why.
    pub fitted: Option<FittingRecord>,
    /// What it waits for.
    pub waits: Waits,
    /// When it was last worked on, epoch ms.
    pub used_ms: i64,
    /// Since when it is off the rack, epoch ms.
    pub archived_ms: Option<i64>,
}

impl Workshop {
    /// The bows, those open on the press first, then the last used first. `search` finds every word in name, owner and notes, whatever the
    /// case; bows off the rack appear only when searched for.
    ///
    /// # Errors
    /// Where the file cannot be read.
    pub fn rack(&self, search: &str) -> Answer<Vec<RackRow>> {
        let off = search.trim().is_empty().then_some(false);
        self.rows(search, off)
    }

    /// The bows off the rack, last used first, with a search as on the rack.
    ///
    /// # Errors
    /// Where the file cannot be read.
    pub fn off_the_rack(&self, search: &str) -> Answer<Vec<RackRow>> {
        self.rows(search, Some(true))
    }

    fn rows(&self, search: &str, off: Option<bool>) -> Answer<Vec<RackRow>> {
        let words: Vec<String> = search.split_whitespace().map(str::to_lowercase).collect();
        let bows = store::on_rack(self.store.reader(), off)?.into_iter();
        let found = bows.filter(|bow| matches(bow, &words));
        let mut rows: Vec<RackRow> = found.map(row).collect();
        rows.sort_by_cached_key(|row| {
            let half_done = matches!(row.waits, Waits::SwapHalfDone { .. });
            Reverse((half_done, row.used_ms, row.bow_id))
        });
        Ok(rows)
    }

    /// What one bow waits for.
    pub(super) fn waits(&self, bow: &Bow, fitted: Option<&FittingRecord>) -> Answer<Waits> {
        let standing = store::standing(self.store.reader(), bow.id)?;
        Ok(waits(bow.details.kit_id, fitted, &standing))
    }
}

fn matches(bow: &OnRack, words: &[String]) -> bool {
    if words.is_empty() {
        return true;
    }
    let text = format!("{} {} {}", bow.name, bow.owner, bow.notes).to_lowercase();
    words.iter().all(|word| text.contains(word))
}

fn row(bow: OnRack) -> RackRow {
    RackRow {
        waits: waits(bow.kit_id, bow.fitted.as_ref(), &bow.standing),
        bow_id: bow.id,
        name: bow.name,
        owner: bow.owner,
        hand: bow.hand,
        fitted: bow.fitted,
        used_ms: bow.used_ms,
        archived_ms: bow.archived_ms,
    }
}

/// The first thing in the way of a settled bow, most pressing first.
fn waits(kit_id: Option<i64>, fitted: Option<&FittingRecord>, standing: &Standing) -> Waits {
    if let Some((confirmed, steps)) = standing.swap {
        return Waits::SwapHalfDone { confirmed, steps };
    }
    if let Some(item) = standing.failed_check {
        return Waits::FailedCheck { item };
    }
    if kit_id.is_none() {
        return Waits::Kit;
    }
    match fitted {
        None => Waits::Fitting,
        Some(fitted) => waits_on_evidence(fitted, standing),
    }
}

fn waits_on_evidence(fitted: &FittingRecord, standing: &Standing) -> Waits {
    let Some(last) = standing.last_trial else {
        return Waits::Trial;
    };
    // A corrected entry still stands for what was in the bow when it was shot.
    let before = last.fitting_id < fitted.id && fitted.corrects_id != Some(last.fitting_id);
    if before || last.changed_since {
        return Waits::Trial;
    }
    match &standing.verdict {
        Some(last) => waits_on_verdict(last.outcome, last.more),
        None => Waits::Verdict,
    }
}

fn waits_on_verdict(outcome: Outcome, more: MoreArrows) -> Waits {
    match outcome {
        Outcome::Fit => Waits::Swap,
        Outcome::Stop => Waits::Nothing,
        Outcome::Trim => Waits::Trim,
        Outcome::Leave => Waits::Left,
        Outcome::SpacersCannot => Waits::Elsewhere,
        Outcome::AdjustFirst => Waits::Adjustment,
        Outcome::ShootMore => Waits::Arrows {
            bare: more.bare,
            fletched: more.fletched,
            broadhead: more.broadhead,
            paper: more.paper,
        },
    }
}
