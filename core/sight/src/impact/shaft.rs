//! Is an arrow still standing where the person tapped? Only ever asked to advise.
//!
//! A standing shaft is a band some millimetres wide that leaves the tap in one direction and runs
//! out of the patch. Its place on the face hides behind itself: such a tap is never snapped.

use super::colours::{Colour, Colours, distance};
use super::relief::Relief;
use super::surface::Surface;
use crate::frame::PointMm;

const DIRECTIONS: usize = 72;
/// The band must show from here to here, mm from the tap: beyond any hole's own radius. The thickest
/// shaft in use has a radius of 6 mm.
const FROM_MM: f64 = 6.0;
const TO_MM: f64 = 14.0;
/// ... and must have ended this far to either side of its axis. No shaft is 15 mm thick.
const BESIDE_MM: f64 = 7.5;
/// A dark band is at least this wide to either side: a broadhead's cut is narrower. Chosen by hand; not
/// tuned.
const DARK_HALF_MM: f64 = 1.0;
/// A light one is wider: on black print the torn paper along a cut is a light band too. Chosen by hand;
/// `tests/photo-table` measures what passes.
const LIGHT_HALF_MM: f64 = 1.8;
/// A shaft differs from the face by at least this, grey levels. Chosen by hand; not tuned.
const CONTRAST: f32 = 25.0;
const READINGS: usize = 17;
/// Share of the readings in which it must show: all but one in twenty. Chosen by hand; not tuned.
const BAND_SHARE: f64 = 0.95;
/// What runs through a place or ends there is looked at this far away, mm. Chosen by hand, looking at
/// the photographs of `tests/real-table`.
const THROUGH_MM: (f64, f64) = (3.5, 11.0);
/// Half the width of what is thin, mm. Chosen by hand, looking at the photographs of
/// `tests/real-table`.
const THIN_HALF_MM: f64 = 0.5;
/// Share of the readings in which an end must be seen. Chosen by hand, looking at the photographs of
/// `tests/real-table`.
const END_SHARE: f64 = 0.9;
/// ... on a patch of this half width and step, mm.
const PATCH_MM: f64 = 13.0;
const PATCH_STEP_MM: f64 = 0.5;
/// Share of the readings in which what runs through must be seen. Chosen by hand, looking at the
/// photographs of `tests/real-table`.
const THROUGH_SHARE: f64 = 0.85;

/// Whether a band leaves `tap`; `relief` must reach 16 mm around it, background subtracted.
pub(super) fn stands_at(relief: &Relief, tap: PointMm) -> bool {
    (0..DIRECTIONS).any(|k| {
        let angle = std::f64::consts::TAU * k as f64 / DIRECTIONS as f64;
        band_share(relief, tap, angle) > BAND_SHARE
    })
}

/// What lies around a place, to tell a hole from a part of something longer.
pub(super) struct Surroundings {
    seen: Colours,
    place: PointMm,
}

impl Surroundings {
    /// Looks around a place.
    pub(super) fn of(place: PointMm, surface: &impl Surface) -> Self {
        let seen = surface.colours(place, PATCH_MM, PATCH_STEP_MM);
        Self { seen, place }
    }

    /// Whether something as wide as a shaft runs through: one that stands elsewhere and leans
    /// across, of whatever colours.
    pub(super) fn run_through(&self) -> bool {
        let share = |k| self.long_share(k, DARK_HALF_MM);
        (0..DIRECTIONS / 2).any(|k| share(k).min(share(k + DIRECTIONS / 2)) > THROUGH_SHARE)
    }

    /// Whether this is the end of something long and thin: a blade's cut, a crack, a stroke.
    pub(super) fn end_here(&self) -> bool {
        (0..DIRECTIONS).any(|k| self.long_share(k, THIN_HALF_MM) > END_SHARE)
    }

    /// Share of the readings in one direction that differ from both sides, whichever way.
    fn long_share(&self, direction: usize, half_mm: f64) -> f64 {
        let angle = std::f64::consts::TAU * direction as f64 / DIRECTIONS as f64;
        let (sin, cos) = angle.sin_cos();
        let colour = |along: f64, across: f64| {
            let by = PointMm::new(along * cos - across * sin, along * sin + across * cos);
            self.seen.near(self.place + by)
        };
        let differs = (0..READINGS).filter(|&k| {
            let share = k as f64 / (READINGS - 1) as f64;
            let along = THROUGH_MM.0 + (THROUGH_MM.1 - THROUGH_MM.0) * share;
            let sides = [-BESIDE_MM, BESIDE_MM].map(|across| colour(along, across));
            let body = [-half_mm, 0.0, half_mm].map(|across| colour(along, across));
            let away = |&b: &Colour| sides.iter().all(|&s| distance(b, s) > CONTRAST);
            body.iter().all(away)
        });
        differs.count() as f64 / READINGS as f64
    }
}

/// Share of the readings along one direction that lie on a band with free sides.
fn band_share(relief: &Relief, tap: PointMm, angle: f64) -> f64 {
    let (sin, cos) = angle.sin_cos();
    let value = |along: f64, across: f64| {
        let at = tap + PointMm::new(along * cos - across * sin, along * sin + across * cos);
        let (column, row) = relief.grid(at);
        relief.at(column as f32, row as f32)
    };
    let on_band = (0..READINGS).filter(|&k| {
        let along = FROM_MM + (TO_MM - FROM_MM) * k as f64 / (READINGS - 1) as f64;
        let body = |half_mm: f64| [-half_mm, 0.0, half_mm].map(|across| value(along, across));
        let sides = [-BESIDE_MM, BESIDE_MM].map(|across| value(along, across));
        let dark = body(DARK_HALF_MM)
            .iter()
            .all(|&b| sides.iter().all(|&s| b < s - CONTRAST));
        let light = body(LIGHT_HALF_MM)
            .iter()
            .all(|&b| sides.iter().all(|&s| b > s + CONTRAST));
        dark || light
    });
    on_band.count() as f64 / READINGS as f64
}

#[cfg(test)]
mod tests {
    use super::*;

    fn scene(shaft: bool) -> Relief {
        Relief::sample(PointMm::default(), 17.0, 0.25, move |p| {
            let hole = p.norm_mm() < 3.0;
            let along = 0.8 * p.x_mm + 0.6 * p.y_mm;
            let across = 0.8 * p.y_mm - 0.6 * p.x_mm;
            let on_shaft = shaft && along > 0.0 && across.abs() < 2.8;
            if hole || on_shaft { -120.0 } else { 0.0 }
        })
    }

    #[test]
    fn the_torn_paper_along_a_cut_in_black_print_is_no_shaft() {
        let light_band = |half_mm: f64| {
            Relief::sample(PointMm::default(), 17.0, 0.25, move |p| {
                let band = p.x_mm > 0.0 && p.y_mm.abs() < half_mm;
                if band { 120.0 } else { 0.0 }
            })
        };
        assert!(!stands_at(&light_band(1.5), PointMm::default()));
        assert!(stands_at(&light_band(2.8), PointMm::default()));
    }

    #[test]
    fn a_band_that_runs_out_of_the_patch_is_a_shaft_and_a_hole_is_not() {
        assert!(stands_at(&scene(true), PointMm::default()));
        assert!(!stands_at(&scene(false), PointMm::default()));
    }
}
