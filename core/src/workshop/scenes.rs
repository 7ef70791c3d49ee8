//! The drawings the shell shows.

use super::{Answer, Workshop};
use crate::scene::{BowView, Scene, bow_scene, bow_tile_scene, swap_scene};
use crate::spacer::{Fitting, Kit};
use crate::store;

impl Workshop {
    /// A fitting, tiny, for the rack.
    ///
    /// # Errors
    /// No such kit; [`super::WorkshopError::Kit`] where the fitting is not of it.
    pub fn tile_scene(&self, kit_id: i64, fitting: &Fitting) -> Answer<Scene> {
        Ok(bow_tile_scene(&self.view(kit_id, fitting)?))
    }

    /// A fitting, large, with its thicknesses.
    ///
    /// # Errors
    /// As [`Workshop::tile_scene`].
    pub fn fitting_scene(&self, kit_id: i64, fitting: &Fitting) -> Answer<Scene> {
        Ok(bow_scene(&self.view(kit_id, fitting)?))
    }

    /// Two fittings of one kit side by side: from and to.
    ///
    /// # Errors
    /// As [`Workshop::tile_scene`].
    pub fn change_scene(&self, kit_id: i64, from: &Fitting, to: &Fitting) -> Answer<Scene> {
        Ok(swap_scene(
            &self.view(kit_id, from)?,
            &self.view(kit_id, to)?,
        ))
    }

    fn view(&self, kit_id: i64, fitting: &Fitting) -> Answer<BowView> {
        let kit = Kit::new(store::kit(self.store.reader(), kit_id)?.kit)?;
        Ok(BowView::of(&kit, fitting)?)
    }
}
