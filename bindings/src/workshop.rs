//! The one object of the bridge.

use std::path::Path;
use std::sync::{Mutex, MutexGuard, PoisonError};

use shimwright::record::{
    Bow, BowDetails, CameraCalibration, Exclusion, FittingReason, FittingRecord, KitRecord,
    SetupChange, SetupCheck, SetupState, Trial, TrialDraft, WorkshopSettings,
};
use shimwright::scene::Scene;
use shimwright::spacer::{Fitting, KitDraft, PairCount};
use shimwright::swap::Found;
use shimwright::workshop::{self, BowPage, KitOnShelf, RackRow, SwapPage};

use crate::WorkshopError;

type Answer<T> = Result<T, WorkshopError>;

/// An open workshop file. See [`shimwright::workshop::Workshop`] for what each call does.
#[derive(Debug, uniffi::Object)]
pub struct Workshop(Mutex<workshop::Workshop>);

impl Workshop {
    /// A panic rolled its transaction back, so the workshop behind it is sound.
    fn lock(&self) -> MutexGuard<'_, workshop::Workshop> {
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

    pub fn settings(&self) -> Answer<WorkshopSettings> {
        Ok(self.lock().settings()?)
    }

    pub fn save_settings(&self, settings: WorkshopSettings) -> Answer<()> {
        Ok(self.lock().save_settings(&settings)?)
    }

    pub fn camera(&self, camera: String) -> Answer<Option<CameraCalibration>> {
        Ok(self.lock().camera(&camera)?)
    }

    pub fn save_camera(&self, calibration: CameraCalibration) -> Answer<()> {
        Ok(self.lock().save_camera(&calibration)?)
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

    pub fn rack(&self, search: String) -> Answer<Vec<RackRow>> {
        Ok(self.lock().rack(&search)?)
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

    pub fn pass_open_checks(&self, bow_id: i64, now_ms: i64) -> Answer<Vec<SetupCheck>> {
        Ok(self.lock().pass_open_checks(bow_id, now_ms)?)
    }

    pub fn record_change(&self, bow_id: i64, change: SetupChange) -> Answer<SetupState> {
        Ok(self.lock().record_change(bow_id, &change)?)
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

    pub fn change_scene(&self, kit_id: i64, from: Fitting, to: Fitting) -> Answer<Scene> {
        Ok(self.lock().change_scene(kit_id, &from, &to)?)
    }
}
