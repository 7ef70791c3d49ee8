//! A photograph on the bench.

use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use shimwright::frame::PointMm;
use shimwright::measure::{
    self, Looked, MeasureError, MeasuredImpact, MeasuredLength, MeasuredTear, PlaneFacts,
    Reference, Suggested, Tap, TearTap, Trace,
};
use shimwright::record::PlaneRecord;
use shimwright::workshop::WorkshopError as Core;

use crate::WorkshopError;

type Answer<T> = Result<T, WorkshopError>;

/// One impact as measured, with the rim that was found.
#[derive(Debug, Clone, PartialEq, uniffi::Record)]
pub struct Snapped {
    /// The impact.
    pub impact: MeasuredImpact,
    /// The hole's rim on the picture.
    pub trace: Option<Trace>,
}

/// One tear as read, with what was found.
#[derive(Debug, Clone, PartialEq, uniffi::Record)]
pub struct TearRead {
    /// The tear.
    pub tear: MeasuredTear,
    /// Hole and slits on the picture.
    pub traces: Vec<Trace>,
}

/// A decoded photograph, and its plane once a reference is fitted. Made by
/// [`crate::Workshop::begin_photo`]; see [`shimwright::measure::PhotoSession`].
#[derive(Debug, uniffi::Object)]
pub struct PhotoSession(Mutex<Bench>);

#[derive(Debug)]
pub(crate) struct Bench {
    pub(crate) session: measure::PhotoSession,
    remembered_k1: Option<f64>,
    pub(crate) fitted: Option<(PlaneFacts, PlaneRecord)>,
}

impl PhotoSession {
    pub(crate) fn new(session: measure::PhotoSession, remembered_k1: Option<f64>) -> Arc<Self> {
        Arc::new(Self(Mutex::new(Bench {
            session,
            remembered_k1,
            fitted: None,
        })))
    }

    pub(crate) fn lock(&self) -> MutexGuard<'_, Bench> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

// Documented at the core's method of the same name.
#[allow(missing_docs)]
#[uniffi::export]
impl PhotoSession {
    pub fn width_px(&self) -> u32 {
        self.lock().session.photo().width() as u32
    }

    pub fn height_px(&self) -> u32 {
        self.lock().session.photo().height() as u32
    }

    pub fn fit(&self, reference: Reference, length: Option<MeasuredLength>) -> Answer<PlaneFacts> {
        self.lock().fit(&reference, length.as_ref())
    }

    /// Looks for something of known size by itself, what was used last first.
    pub fn look(&self, usual: Option<Reference>) -> Option<Looked> {
        self.lock().look(usual.as_ref())
    }

    /// What is kept of the fitted plane with the trial.
    pub fn plane_record(&self) -> Option<PlaneRecord> {
        self.lock()
            .fitted
            .as_ref()
            .map(|(_, record)| record.clone())
    }

    pub fn reference_traces(&self) -> Answer<Vec<Trace>> {
        self.lock().session.reference_traces().map_err(refused)
    }

    pub fn snap(&self, tap: Tap) -> Answer<Snapped> {
        let (impact, trace) = self.lock().session.snap(&tap).map_err(refused)?;
        Ok(Snapped { impact, trace })
    }

    pub fn place(&self, tap: Tap) -> Answer<MeasuredImpact> {
        self.lock().session.place(&tap).map_err(refused)
    }

    pub fn tear(&self, tap: TearTap) -> Answer<TearRead> {
        let (tear, traces) = self.lock().session.tear(&tap).map_err(refused)?;
        Ok(TearRead { tear, traces })
    }

    pub fn propose(&self) -> Answer<Suggested> {
        self.lock().session.propose().map_err(refused)
    }
}

impl Bench {
    fn fit(
        &mut self,
        reference: &Reference,
        length: Option<&MeasuredLength>,
    ) -> Answer<PlaneFacts> {
        let facts = self.session.fit(reference, self.remembered_k1, length);
        let facts = facts.map_err(refused)?;
        let record = PlaneRecord::of(&facts, reference);
        self.fitted = Some((facts.clone(), record));
        Ok(facts)
    }
}

impl Bench {
    fn look(&mut self, usual: Option<&Reference>) -> Option<Looked> {
        let looked = self.session.look(usual, self.remembered_k1)?;
        let record = PlaneRecord::of(&looked.facts, &looked.reference);
        self.fitted = Some((looked.facts.clone(), record));
        Some(looked)
    }
}

fn refused(error: MeasureError) -> WorkshopError {
    Core::from(error).into()
}

/// Parts marks into a group of `first` and the rest; for each, whether it is of the first.
#[uniffi::export]
pub fn two_groups(at: Vec<PointMm>, first: u32) -> Option<Vec<bool>> {
    measure::two_groups(&at, first as usize)
}

/// How far off a tap is on the photograph, px: by finger, or under the magnifier.
#[uniffi::export]
pub fn tap_sd_px(pointing: measure::Pointing, photo_px_per_screen_mm: f64) -> f64 {
    measure::tap_sd_px(pointing, photo_px_per_screen_mm)
}
