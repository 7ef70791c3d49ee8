//! Kits and what is on the shelf.

use super::{Answer, Workshop, WorkshopError};
use crate::record::{Field, KitRecord, Shelf};
use crate::spacer::{Fitting, Kit, KitDraft, PairCount, Stock};
use crate::store;

/// A kit with where its counted pairs are.
#[derive(Debug, Clone, PartialEq)]
pub struct KitOnShelf {
    /// The kit.
    pub record: KitRecord,
    /// Its pairs on the shelf and in bows.
    pub shelf: Shelf,
}

impl Workshop {
    /// Every kit, in the order they were added.
    ///
    /// # Errors
    /// Where the file cannot be read.
    pub fn kits(&self) -> Answer<Vec<KitOnShelf>> {
        let fitted = store::fitted_per_bow(self.store.reader())?;
        let on_shelf = |record: KitRecord| {
            let of_kit = fitted.iter().filter(|entry| entry.kit_id == record.id);
            let fitted: Vec<Fitting> = of_kit.map(|entry| entry.fitting.clone()).collect();
            KitOnShelf {
                shelf: record.shelf(&fitted),
                record,
            }
        };
        let kits = store::kits(self.store.reader())?;
        Ok(kits.into_iter().map(on_shelf).collect())
    }

    /// Adds a kit (`id` is `None`) or replaces one. Thicknesses may change (measured again); a pair
    /// that is in some bow's record must stay.
    ///
    /// # Errors
    /// [`WorkshopError::Kit`] where the kit does not check out, [`WorkshopError::PairInUse`].
    pub fn save_kit(
        &mut self,
        id: Option<i64>,
        draft: &KitDraft,
        owned: &[PairCount],
    ) -> Answer<KitRecord> {
        let kit = Kit::new(draft.clone())?;
        for count in owned {
            kit.pair(&count.pair)?;
            Field::PairSets.check(f64::from(count.sets))?;
        }
        let mut record = KitRecord {
            id: id.unwrap_or_default(),
            kit: kit.to_draft(),
            owned: owned.to_vec(),
            archived_ms: None,
        };
        self.store.write(|tx| {
            if id.is_none() {
                record.id = store::insert_kit(tx, &record.kit, owned)?;
                return Ok(record);
            }
            record.archived_ms = store::kit(tx, record.id)?.archived_ms;
            for pair in store::pairs_on_record(tx, record.id)? {
                if kit.pair(&pair).is_err() {
                    return Err(WorkshopError::PairInUse { pair });
                }
            }
            store::update_kit(tx, &record)?;
            Ok(record)
        })
    }

    /// Puts a kit away, or takes it out again. Bows that carry its pieces keep it.
    ///
    /// # Errors
    /// No such kit.
    pub fn archive_kit(&mut self, id: i64, put_away: bool, now_ms: i64) -> Answer<()> {
        self.tell_time(now_ms);
        let archived_ms = put_away.then_some(now_ms);
        self.store.write(|tx| {
            store::kit(tx, id)?;
            Ok(store::archive_kit(tx, id, archived_ms)?)
        })
    }

    /// What one bow may draw on: the shelf and what it carries itself.
    pub(super) fn stock_of(&self, record: &KitRecord, bow_id: i64, own: &Fitting) -> Answer<Stock> {
        let fitted = store::fitted_per_bow(self.store.reader())?;
        let others = fitted
            .into_iter()
            .filter(|entry| entry.kit_id == record.id && entry.bow_id != bow_id);
        let others: Vec<Fitting> = others.map(|entry| entry.fitting).collect();
        Ok(record.stock_for(own, &others))
    }
}
