//! The one object of the bridge.

use std::path::Path;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use shimwright::flight::{ArrowFacts, ArrowSetup, Downrange};
use shimwright::record::{
    ArrowSetupRecord, Bow, BowDetails, ChangeRecord, Exclusion, FittingReason, FittingRecord,
    KitRecord, SetupChange, SetupCheck, SetupState, Trial, TrialDraft, VerdictGiven,
    WorkshopSettings,
};
use shimwright::scene::Scene;
use shimwright::spacer::{Fitting, KitDraft, PairCount, Seat};
use shimwright::store::{Entropy, Unread};
use shimwright::swap::Found;
use shimwright::verdict::MakerRange;
use shimwright::workshop::{
    self, BowPage, HistoryPage, KitOnShelf, RackRow, SwapPage, VerdictPage,
};

use crate::{PhotoSession, WorkshopError};

type Answer<T> = Result<T, WorkshopError>;

/// An open workshop file. See [`shimwright::workshop::Workshop`] for what each call does.
#[derive(Debug, uniffi::Object)]
pub struct Workshop(Mutex<workshop::Workshop>);

impl Workshop {
    /// A panic rolled its transaction back, so the workshop behind it is sound.
    pub(crate) fn lock(&self) -> MutexGuard<'_, workshop::Workshop> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

// Documented at the core's method of the same name.
#[allow(missing_docs)]
#[uniffi::export]
impl Workshop {
    #[uniffi::constructor]
    pub fn open(path: String) -> Answer<Self> {
        Ok(Self(Mutex::new(workshop::Workshop::open(Path::new(
            &path,
        ))?)))
    }

    /// The same with bytes of the system's random source, 16 of which count.
    #[uniffi::constructor]
    pub fn open_with(path: String, entropy: Vec<u8>) -> Answer<Self> {
        let mut bytes = Entropy::default();
        bytes
            .iter_mut()
            .zip(entropy)
            .for_each(|(into, byte)| *into = byte);
        let workshop = workshop::Workshop::open_with(Path::new(&path), bytes)?;
        Ok(Self(Mutex::new(workshop)))
    }

    pub fn tell_time(&self, now_ms: i64) {
        self.lock().tell_time(now_ms);
    }

    pub fn arrows_csv(&self, bow_id: i64) -> Answer<String> {
        Ok(self.lock().arrows_csv(bow_id)?)
    }

    pub fn unread(&self) -> Answer<Vec<Unread>> {
        Ok(self.lock().unread()?)
    }

    pub fn settings(&self) -> Answer<WorkshopSettings> {
        Ok(self.lock().settings()?)
    }

    pub fn save_settings(&self, settings: WorkshopSettings) -> Answer<()> {
        Ok(self.lock().save_settings(&settings)?)
    }

    pub fn kits(&self) -> Answer<Vec<KitOnShelf>> {
        Ok(self.lock().kits()?)
    }

    pub fn save_kit(
        &self,
        id: Option<i64>,
        kit: KitDraft,
        owned: Vec<PairCount>,
    ) -> Answer<KitRecord> {
        Ok(self.lock().save_kit(id, &kit, &owned)?)
    }

    pub fn archive_kit(&self, id: i64, put_away: bool, now_ms: i64) -> Answer<()> {
        Ok(self.lock().archive_kit(id, put_away, now_ms)?)
    }

    pub fn rack(&self, search: String) -> Answer<Vec<RackRow>> {
        Ok(self.lock().rack(&search)?)
    }

    pub fn off_the_rack(&self, search: String) -> Answer<Vec<RackRow>> {
        Ok(self.lock().off_the_rack(&search)?)
    }

    pub fn bow_page(&self, bow_id: i64) -> Answer<BowPage> {
        Ok(self.lock().bow_page(bow_id)?)
    }

    pub fn add_bow(
        &self,
        details: BowDetails,
        fitting: Option<Fitting>,
        now_ms: i64,
    ) -> Answer<Bow> {
        Ok(self.lock().add_bow(&details, fitting.as_ref(), now_ms)?)
    }

    pub fn save_bow(
        &self,
        bow_id: i64,
        details: BowDetails,
        fitting: Option<Fitting>,
        now_ms: i64,
    ) -> Answer<Bow> {
        Ok(self
            .lock()
            .save_bow(bow_id, &details, fitting.as_ref(), now_ms)?)
    }

    pub fn archive_bow(&self, bow_id: i64, off_the_rack: bool, now_ms: i64) -> Answer<()> {
        Ok(self.lock().archive_bow(bow_id, off_the_rack, now_ms)?)
    }

    pub fn fitted(&self, bow_id: i64) -> Answer<Option<FittingRecord>> {
        Ok(self.lock().fitted(bow_id)?)
    }

    pub fn record_fitting(
        &self,
        bow_id: i64,
        fitting: Fitting,
        now_ms: i64,
    ) -> Answer<FittingRecord> {
        Ok(self.lock().record_fitting(bow_id, &fitting, now_ms)?)
    }

    pub fn answer_check(&self, bow_id: i64, check: SetupCheck, now_ms: i64) -> Answer<()> {
        Ok(self.lock().answer_check(bow_id, &check, now_ms)?)
    }

    pub fn save_maker_range(&self, bow_id: i64, range: MakerRange, now_ms: i64) -> Answer<Bow> {
        Ok(self.lock().save_maker_range(bow_id, &range, now_ms)?)
    }

    pub fn pass_open_checks(&self, bow_id: i64, now_ms: i64) -> Answer<Vec<SetupCheck>> {
        Ok(self.lock().pass_open_checks(bow_id, now_ms)?)
    }

    pub fn record_change(&self, bow_id: i64, change: SetupChange) -> Answer<ChangeRecord> {
        Ok(self.lock().record_change(bow_id, &change)?)
    }

    pub fn change(&self, change_id: i64) -> Answer<ChangeRecord> {
        Ok(self.lock().change(change_id)?)
    }

    pub fn setup_before(&self, change_id: i64) -> Answer<SetupState> {
        Ok(self.lock().setup_before(change_id)?)
    }

    pub fn correct_change(
        &self,
        change_id: i64,
        right: SetupChange,
        now_ms: i64,
    ) -> Answer<ChangeRecord> {
        Ok(self.lock().correct_change(change_id, &right, now_ms)?)
    }

    pub fn strike_change(&self, change_id: i64, struck: bool, now_ms: i64) -> Answer<ChangeRecord> {
        Ok(self.lock().strike_change(change_id, struck, now_ms)?)
    }

    pub fn trials(&self, bow_id: i64) -> Answer<Vec<Trial>> {
        Ok(self.lock().trials(bow_id)?)
    }

    pub fn trial(&self, trial_id: i64) -> Answer<Trial> {
        Ok(self.lock().trial(trial_id)?)
    }

    pub fn save_trial(&self, bow_id: i64, shot: TrialDraft, now_ms: i64) -> Answer<Trial> {
        Ok(self.lock().save_trial(bow_id, &shot, now_ms)?)
    }

    pub fn exclude_impact(
        &self,
        trial_id: i64,
        index: u32,
        reason: Option<Exclusion>,
    ) -> Answer<Trial> {
        Ok(self.lock().exclude_impact(trial_id, index, reason)?)
    }

    pub fn exclude_tear(
        &self,
        trial_id: i64,
        index: u32,
        reason: Option<Exclusion>,
    ) -> Answer<Trial> {
        Ok(self.lock().exclude_tear(trial_id, index, reason)?)
    }

    pub fn correct_trial(&self, trial_id: i64, bow_id: i64, shot: TrialDraft) -> Answer<Trial> {
        Ok(self.lock().correct_trial(trial_id, bow_id, &shot)?)
    }

    pub fn strike_trial(&self, trial_id: i64, struck: bool, now_ms: i64) -> Answer<Trial> {
        Ok(self.lock().strike_trial(trial_id, struck, now_ms)?)
    }

    pub fn save_arrow_setup(
        &self,
        bow_id: i64,
        id: Option<i64>,
        name: String,
        setup: ArrowSetup,
    ) -> Answer<ArrowSetupRecord> {
        Ok(self.lock().save_arrow_setup(bow_id, id, &name, &setup)?)
    }

    pub fn archive_arrow_setup(&self, id: i64, put_away: bool, now_ms: i64) -> Answer<()> {
        Ok(self.lock().archive_arrow_setup(id, put_away, now_ms)?)
    }

    pub fn arrow_facts(&self, setup: ArrowSetup) -> Answer<ArrowFacts> {
        Ok(self.lock().arrow_facts(&setup)?)
    }

    pub fn arrow_downrange(&self, setup: ArrowSetup, distance_m: f64) -> Answer<Downrange> {
        Ok(self.lock().arrow_downrange(&setup, distance_m)?)
    }

    pub fn begin_photo(&self, bytes: Vec<u8>) -> Answer<Arc<PhotoSession>> {
        let (session, remembered_k1) = self.lock().begin_photo(&bytes)?;
        Ok(PhotoSession::new(session, remembered_k1))
    }

    pub fn remember_lens(&self, photo: Arc<PhotoSession>, now_ms: i64) -> Answer<bool> {
        let bench = photo.lock();
        let Some((facts, _)) = &bench.fitted else {
            return Ok(false);
        };
        Ok(self.lock().remember_lens(&bench.session, facts, now_ms)?)
    }

    pub fn give_verdict(&self, bow_id: i64, now_ms: i64) -> Answer<VerdictGiven> {
        Ok(self.lock().give_verdict(bow_id, now_ms)?)
    }

    pub fn verdict_page(&self, verdict_id: i64) -> Answer<VerdictPage> {
        Ok(self.lock().verdict_page(verdict_id)?)
    }

    pub fn history_page(&self, bow_id: i64, letters: f64) -> Answer<HistoryPage> {
        Ok(self.lock().history_page(bow_id, letters)?)
    }

    pub fn start_swap(
        &self,
        bow_id: i64,
        to: Fitting,
        reason: FittingReason,
        verdict_id: Option<i64>,
        now_ms: i64,
    ) -> Answer<SwapPage> {
        Ok(self
            .lock()
            .start_swap(bow_id, &to, reason, verdict_id, now_ms)?)
    }

    pub fn put_back(&self, bow_id: i64, fitting_id: i64, now_ms: i64) -> Answer<SwapPage> {
        Ok(self.lock().put_back(bow_id, fitting_id, now_ms)?)
    }

    pub fn swap_page(&self, bow_id: i64) -> Answer<SwapPage> {
        Ok(self.lock().swap_page(bow_id)?)
    }

    pub fn swap_done(&self, bow_id: i64, now_ms: i64) -> Answer<SwapPage> {
        Ok(self.lock().swap_done(bow_id, now_ms)?)
    }

    pub fn swap_back(&self, bow_id: i64, now_ms: i64) -> Answer<SwapPage> {
        Ok(self.lock().swap_back(bow_id, now_ms)?)
    }

    pub fn swap_found(&self, bow_id: i64, found: Found, now_ms: i64) -> Answer<SwapPage> {
        Ok(self.lock().swap_found(bow_id, &found, now_ms)?)
    }

    pub fn undo_swap(&self, bow_id: i64, now_ms: i64) -> Answer<SwapPage> {
        Ok(self.lock().undo_swap(bow_id, now_ms)?)
    }

    pub fn tile_scene(&self, kit_id: i64, fitting: Fitting) -> Answer<Scene> {
        Ok(self.lock().tile_scene(kit_id, &fitting)?)
    }

    pub fn fitting_scene(&self, kit_id: i64, fitting: Fitting) -> Answer<Scene> {
        Ok(self.lock().fitting_scene(kit_id, &fitting)?)
    }

    pub fn seat_scene(&self, kit_id: i64, seat: Seat) -> Answer<Scene> {
        Ok(self.lock().seat_scene(kit_id, &seat)?)
    }

    pub fn change_scene(&self, kit_id: i64, from: Fitting, to: Fitting) -> Answer<Scene> {
        Ok(self.lock().change_scene(kit_id, &from, &to)?)
    }

    pub fn trial_scene(&self, trial_id: i64) -> Answer<Scene> {
        Ok(self.lock().trial_scene(trial_id)?)
    }
}
