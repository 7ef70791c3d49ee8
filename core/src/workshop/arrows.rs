//! Arrow set-ups and what follows from them.

use super::{Answer, Workshop};
use crate::distance;
use crate::flight::{
    Air, ArrowFacts, ArrowSetup, Downrange, DownrangeError, TransferTable, downrange, facts,
};
use crate::frame::ArrowKind;
use crate::record::{ArrowSetupRecord, Field, FieldError};
use crate::store;

impl Workshop {
    /// Adds an arrow set-up to a bow (`id` is `None`) or replaces one.
    ///
    /// # Errors
    /// [`super::WorkshopError::Arrow`] for an arrow that cannot be or whose bare shaft shows nothing; no
    /// such bow or set-up.
    pub fn save_arrow_setup(
        &mut self,
        bow_id: i64,
        id: Option<i64>,
        name: &str,
        setup: &ArrowSetup,
    ) -> Answer<ArrowSetupRecord> {
        Field::Name.check_text(name)?;
        let table = TransferTable::of(setup, Air::default())?;
        let record = self.store.write(|tx| {
            store::bow(tx, bow_id)?;
            let id = match id {
                Some(id) => store::arrows(tx, id)?.id,
                None => store::insert_arrows(tx, bow_id, name, setup)?,
            };
            store::update_arrows(tx, id, name, setup)?;
            Ok::<_, super::WorkshopError>(store::arrows(tx, id)?)
        })?;
        self.transfers.insert(record.id, table);
        Ok(record)
    }

    /// The arrow set-ups of a bow, oldest first.
    ///
    /// # Errors
    /// Where the file cannot be read.
    pub fn arrow_setups(&self, bow_id: i64) -> Answer<Vec<ArrowSetupRecord>> {
        Ok(store::arrows_of(self.store.reader(), bow_id)?)
    }

    /// Puts an arrow set-up away, or takes it out again. What was shot with it keeps it.
    ///
    /// # Errors
    /// No such set-up.
    pub fn archive_arrow_setup(&mut self, id: i64, put_away: bool, now_ms: i64) -> Answer<()> {
        self.tell_time(now_ms);
        let archived_ms = put_away.then_some(now_ms);
        self.store.write(|tx| {
            store::arrows(tx, id)?;
            Ok(store::archive_arrows(tx, id, archived_ms)?)
        })
    }

    /// Mass, balance, speed and energy of an arrow as it is being entered.
    ///
    /// # Errors
    /// [`super::WorkshopError::Arrow`] for an arrow that cannot be.
    pub fn arrow_facts(&self, setup: &ArrowSetup) -> Answer<ArrowFacts> {
        Ok(facts(setup, Air::default())?)
    }

    /// The fletched arrow of a set-up at a distance, shot level: how far it has dropped, how fast it is.
    ///
    /// # Errors
    /// [`super::WorkshopError::Arrow`] for an arrow that cannot be, [`super::WorkshopError::Field`] for a
    /// distance out of range.
    pub fn arrow_downrange(&self, setup: &ArrowSetup, distance_m: f64) -> Answer<Downrange> {
        let there = downrange(setup, Air::default(), ArrowKind::Fletched, distance_m);
        there.map_err(|error| match error {
            DownrangeError::Arrow(error) => error.into(),
            DownrangeError::Distance(_) => FieldError::OutOfRange {
                field: Field::FaceDistance,
                value: distance_m,
                low: distance::SHORTEST_M,
                high: distance::LONGEST_M,
            }
            .into(),
        })
    }

    /// The transfer table of a set-up; made once, because it takes thousands of flights.
    pub(super) fn transfer(&mut self, arrow_setup_id: Option<i64>) -> Answer<&TransferTable> {
        let Some(id) = arrow_setup_id else {
            return Ok(TransferTable::unrecorded());
        };
        if !self.transfers.contains_key(&id) {
            let record = store::arrows(self.store.reader(), id)?;
            let table = TransferTable::of(&record.setup, Air::default())?;
            self.transfers.insert(id, table);
        }
        let made = self.transfers.get(&id);
        Ok(made.unwrap_or(TransferTable::unrecorded()))
    }
}
