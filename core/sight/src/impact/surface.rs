//! The photograph as the search for holes sees it.

use super::colours::Colours;
use super::relief::Relief;
use crate::frame::PointMm;

/// The photograph as seen on the plane.
pub trait Surface {
    /// Brightness at a place, 0..=255: the brightest channel where there is colour.
    fn brightness(&self, at: PointMm) -> f32;

    /// A straight-on square of `2 * half_mm` around `centre`, one value every `step_mm`.
    fn patch(&self, centre: PointMm, half_mm: f64, step_mm: f64) -> Relief {
        Relief::sample(centre, half_mm, step_mm, |at| self.brightness(at))
    }

    /// The same in colour; grey where there is none.
    fn colours(&self, centre: PointMm, half_mm: f64, step_mm: f64) -> Colours {
        let grey = self.patch(centre, half_mm, step_mm);
        Colours::new([grey.clone(), grey.clone(), grey])
    }
}

impl<F: Fn(PointMm) -> f32> Surface for F {
    fn brightness(&self, at: PointMm) -> f32 {
        self(at)
    }
}
