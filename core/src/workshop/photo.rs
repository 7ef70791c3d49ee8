//! Photographs on the bench.

use super::{Answer, Workshop};
use crate::measure::{PhotoSession, PlaneFacts};
use crate::photo::CameraKey;
use crate::record::{CameraCalibration, Field};
use crate::store;

impl Workshop {
    /// Decodes a photograph and finds the lens distortion remembered for its camera.
    ///
    /// # Errors
    /// [`super::WorkshopError::Measure`] for bytes that are no photograph one can measure in.
    pub fn begin_photo(&self, bytes: &[u8]) -> Answer<(PhotoSession, Option<f64>)> {
        let session = PhotoSession::open(bytes)?;
        let remembered = match session.photo().camera() {
            Some(camera) => store::camera(self.store.reader(), &key(&camera))?,
            None => None,
        };
        Ok((session, remembered.map(|lens| lens.k1)))
    }

    /// Remembers the lens of a photograph whose plane taught it; `false` where it taught nothing.
    ///
    /// # Errors
    /// [`super::WorkshopError::Field`] for a distortion that no phone camera has; where the file cannot
    /// be written.
    pub fn remember_lens(
        &mut self,
        session: &PhotoSession,
        facts: &PlaneFacts,
        now_ms: i64,
    ) -> Answer<bool> {
        let camera = session.photo().camera().filter(|_| facts.k1_learned);
        let Some(camera) = camera else {
            return Ok(false);
        };
        Field::LensK1.check(facts.k1)?;
        let learned = CameraCalibration {
            camera: key(&camera),
            k1: facts.k1,
            at_ms: now_ms,
        };
        self.store.write(|tx| {
            store::save_camera(tx, &learned)?;
            Ok(true)
        })
    }
}

/// One line that names a camera, its focal length and picture size.
fn key(camera: &CameraKey) -> String {
    format!(
        "{} / {} / {} mm / {} x {}",
        camera.make, camera.model, camera.focal_35mm, camera.long_side_px, camera.short_side_px
    )
}
