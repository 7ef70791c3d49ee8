//! One bow as a card to hand on: everything on record, as JSON.

use serde::{Deserialize, Serialize};

use super::{Answer, Workshop};
use crate::record::{
    ArrowSetupRecord, BowDetails, FittingRecord, KitRecord, SetupChange, SetupCheck, Trial,
    VerdictGiven,
};
use crate::store::{self, StoreError};

/// The version of the card's form.
const FORM: u32 = 2;

/// One bow with everything on record, oldest entries first. Ids hold within the card only.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BowCard {
    /// Version of this form.
    pub form: u32,
    /// The bow.
    pub bow: BowDetails,
    /// The kits its fittings come from.
    pub kits: Vec<KitRecord>,
    /// What was fitted, and why.
    pub fittings: Vec<FittingRecord>,
    /// Its arrows.
    pub arrow_setups: Vec<ArrowSetupRecord>,
    /// How its checks stand.
    pub checks: Vec<SetupCheck>,
    /// What was changed besides spacers.
    pub changes: Vec<SetupChange>,
    /// What was shot.
    pub trials: Vec<Trial>,
    /// The verdicts.
    pub verdicts: Vec<VerdictGiven>,
}

impl Workshop {
    /// A bow as a card, JSON text. Photographs are named in it, not carried.
    ///
    /// # Errors
    /// No such bow, or the file cannot be read.
    pub fn bow_card(&self, bow_id: i64) -> Answer<String> {
        let reader = self.store.reader();
        let fittings = store::fittings(reader, bow_id)?;
        let mut kits = store::kits(reader)?;
        kits.retain(|kit| fittings.iter().any(|entry| entry.kit_id == kit.id));
        let card = BowCard {
            form: FORM,
            bow: store::bow(reader, bow_id)?.details,
            kits,
            fittings,
            arrow_setups: store::arrows_of(reader, bow_id)?,
            checks: self.checks(bow_id)?,
            changes: store::changes(reader, bow_id)?,
            trials: store::trials(reader, bow_id)?,
            verdicts: store::verdicts(reader, bow_id)?,
        };
        let text = serde_json::to_string_pretty(&card);
        Ok(text.map_err(|error| StoreError::Unreadable {
            table: "bow",
            detail: error.to_string(),
        })?)
    }
}
