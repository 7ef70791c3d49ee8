//! Set-up checks and set-up changes.

use super::{Answer, Workshop};
use crate::record::{SetupChange, SetupCheck, SetupState};
use crate::store;
use crate::verdict::{CheckItem, CheckState};

impl Workshop {
    /// Every check of a bow in trade order, unanswered ones as open.
    ///
    /// # Errors
    /// Where the file cannot be read.
    pub fn checks(&self, bow_id: i64) -> Answer<Vec<SetupCheck>> {
        let answered = store::checks(self.store.reader(), bow_id)?;
        let of = |item| {
            let found = answered.iter().find(|check| check.item == item);
            found
                .cloned()
                .unwrap_or_else(|| SetupCheck::unanswered(item))
        };
        Ok(CheckItem::ALL.into_iter().map(of).collect())
    }

    /// Records the answer to one check.
    ///
    /// # Errors
    /// [`super::WorkshopError::Field`] for a value out of range; no such bow.
    pub fn answer_check(&mut self, bow_id: i64, check: &SetupCheck, now_ms: i64) -> Answer<()> {
        check.check()?;
        self.store.write(|tx| {
            store::touch_bow(tx, bow_id, now_ms)?;
            Ok(store::append_check(tx, bow_id, check, now_ms)?)
        })
    }

    /// Answers every open check with "right": the technician has looked at all of them.
    ///
    /// # Errors
    /// No such bow.
    pub fn pass_open_checks(&mut self, bow_id: i64, now_ms: i64) -> Answer<Vec<SetupCheck>> {
        let checks = self.checks(bow_id)?.into_iter();
        let open = checks.filter(|check| check.state == CheckState::Open);
        self.store.write(|tx| {
            store::touch_bow(tx, bow_id, now_ms)?;
            for check in open {
                let passed = SetupCheck {
                    state: CheckState::Ok,
                    ..check
                };
                store::append_check(tx, bow_id, &passed, now_ms)?;
            }
            Ok::<_, super::WorkshopError>(())
        })?;
        self.checks(bow_id)
    }

    /// Records a change of the set-up and opens the checks it calls into question; answers where rest and nocking point stand afterwards.
    ///
    /// # Errors
    /// [`super::WorkshopError::Field`] where a moved rest or nocking point comes without its place.
    pub fn record_change(&mut self, bow_id: i64, change: &SetupChange) -> Answer<SetupState> {
        change.check()?;
        self.store.write(|tx| {
            store::touch_bow(tx, bow_id, change.at_ms)?;
            store::append_change(tx, bow_id, change)?;
            for &item in change.kind.reopens() {
                let open = SetupCheck::unanswered(item);
                store::append_check(tx, bow_id, &open, change.at_ms)?;
            }
            Ok(SetupState::after(&store::changes(tx, bow_id)?))
        })
    }
}
