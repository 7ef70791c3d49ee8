//! A torn hole in black print, where nobody has pointed: hardly darker than the ink, it shows by paper torn
//! light around it and within it, and by nothing just beyond.

use super::backdrop::subtract_rings;
use super::evidence::DiscSums;
use super::hole::{Backdrop, Hole, HoleTone, SnapOptions};
use super::relief::{Relief, level};
use super::surface::Surface;
use super::wound::MOST_SCORE;
use crate::frame::PointMm;

/// Print no brighter than this, grey levels, is black. Chosen by hand; not tuned.
pub(super) const BLACK: f32 = 85.0;
/// So much of what lies within this distance must be black print, mm. Chosen by hand, as all below, on rendered
/// faces with black rings that are no part of the project.
const MOSTLY: f64 = 0.6;
const AROUND_MM: f64 = 6.0;
/// Grey levels beyond twice the noise at which a place begins to be unlike the print, and over how many more it
/// becomes so altogether.
const UNLIKE: (f32, f32) = (10.0, 20.0);
/// Wounds with their flaps have one of these radii, mm: shafts of 5 to 9 mm.
const WOUND_MM: [f64; 3] = [2.7, 3.3, 4.6];
/// So much of one is unlike the print; the strokes of a figure fill less.
const LEAST_WOUND: f64 = 0.4;
/// From its radius, mm: the ring beyond a wound, and how much of it may be unlike the print.
const BEYOND_MM: (f64, f64) = (0.9, 2.3);
const MOST_BEYOND: f64 = 0.1;
/// What goes on beyond in one direction, seen in this share of it, is a cut, a figure or another hole.
const GOES_ON: f32 = 0.65;
const DIRECTIONS: usize = 24;
/// The wound's middle is at most this far from where something was seen, mm.
const SEARCH_MM: f64 = 2.0;
const STEP_MM: f64 = 0.3;
const HALF_MM: f64 = 9.6;
/// How well such a wound tells its middle, one standard deviation on each axis, mm: the crescent lies to one side.
const SD_MM: f64 = 0.8;

/// The torn hole near a place on black print between rings, if there is one.
pub fn torn_in_black(near: PointMm, options: &SnapOptions, surface: &impl Surface) -> Option<Hole> {
    let relief = on_black(near, options, surface)?;
    let unlike = unlike(&relief, near);
    let found = Blot::likeliest(&unlike, near)?;
    let alone = found.beyond <= MOST_BEYOND && !found.goes_on(&unlike);
    (found.within >= LEAST_WOUND && alone).then_some(Hole {
        centre: found.centre,
        radius_mm: found.radius_mm,
        sd_mm: SD_MM,
        tone: HoleTone::Light,
        crisp: false,
        score: MOST_SCORE * found.within,
    })
}

/// What lies around a place without its printed rings; `None` where they are not black.
// Asked for in two places, and long: a phone's library holds it once.
#[inline(never)]
pub(super) fn on_black(
    near: PointMm,
    options: &SnapOptions,
    surface: &impl Surface,
) -> Option<Relief> {
    let Backdrop::Rings(middle) = options.backdrop else {
        return None;
    };
    let seen = surface.patch(near, HALF_MM, STEP_MM);
    let mut relief = seen.clone();
    subtract_rings(&mut relief, middle, near, surface);
    (black_share(&seen, &relief, near) >= MOSTLY).then_some(relief)
}

/// The values within some distances of a place.
fn values(
    relief: &Relief,
    near: PointMm,
    (from_mm, to_mm): (f64, f64),
) -> impl Iterator<Item = (usize, i16)> {
    let width = relief.width();
    let all = relief.values().iter().copied().enumerate();
    all.filter(move |(k, _)| {
        let place = relief.place((k % width) as f64, (k / width) as f64);
        (from_mm..to_mm).contains(&(place - near).norm_mm())
    })
}

/// How much of the print around a place is black.
fn black_share(seen: &Relief, relief: &Relief, near: PointMm) -> f64 {
    let print = values(seen, near, (0.0, AROUND_MM))
        .map(|(k, value)| f32::from(value - relief.values().get(k).copied().unwrap_or(0)));
    let (mut black, mut all) = (0.0, 0.0);
    for print in print {
        all += 1.0;
        black += f64::from(u8::from(print <= BLACK));
    }
    black / f64::max(all, 1.0)
}

/// Where anything but the print is seen, 0 to 1.
fn unlike(relief: &Relief, near: PointMm) -> DiscSums {
    let away = values(relief, near, (AROUND_MM, HALF_MM)).map(|(_, v)| f32::from(v).abs());
    let noise = level(away.collect());
    let share = |&v: &i16| (f32::from(v).abs() - 2.0 * noise - UNLIKE.0) / UNLIKE.1;
    let map: Vec<f32> = relief
        .values()
        .iter()
        .map(|v| share(v).clamp(0.0, 1.0))
        .collect();
    DiscSums::new(relief, &map)
}

/// A disc that is unlike the print.
#[derive(Clone, Copy)]
struct Blot {
    centre: PointMm,
    radius_mm: f64,
    /// How much of it is unlike the print, and how much of the ring beyond.
    within: f64,
    beyond: f64,
}

impl Blot {
    fn likeliest(unlike: &DiscSums, near: PointMm) -> Option<Self> {
        let reach = (SEARCH_MM / STEP_MM) as isize;
        let mut likeliest: Option<Self> = None;
        for radius_mm in WOUND_MM {
            let disc = |by_mm: f64| unlike.grid().disc(near, radius_mm + by_mm);
            let (wound, inner, outer) = (disc(0.0), disc(BEYOND_MM.0), disc(BEYOND_MM.1));
            for (right, down) in
                (-reach..=reach).flat_map(|y| (-reach..=reach).map(move |x| (x, y)))
            {
                let blot = Self {
                    centre: near + PointMm::new(right as f64 * STEP_MM, -down as f64 * STEP_MM),
                    radius_mm,
                    within: unlike.mean(&wound, (right, down)),
                    beyond: unlike.mean_between(&inner, &outer, (right, down)),
                };
                if likeliest.is_none_or(|best| best.clear() <= blot.clear()) {
                    likeliest = Some(blot);
                }
            }
        }
        likeliest
    }

    /// How clearly it stands alone.
    fn clear(&self) -> f64 {
        self.within - 2.0 * self.beyond
    }

    fn goes_on(&self, unlike: &DiscSums) -> bool {
        (0..DIRECTIONS).any(|k| {
            let (mut sum, mut count) = (0.0, 0.0_f32);
            let mut out_mm = self.radius_mm + BEYOND_MM.0;
            while out_mm < self.radius_mm + BEYOND_MM.1 {
                let angle = std::f64::consts::TAU * k as f64 / DIRECTIONS as f64;
                let by = PointMm::new(out_mm * angle.cos(), out_mm * angle.sin());
                (sum, count) = (sum + unlike.at(self.centre + by), count + 1.0);
                out_mm += STEP_MM;
            }
            sum > GOES_ON * count
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn found(light: impl Fn(PointMm) -> bool, ink: f32) -> Option<Hole> {
        let options = SnapOptions {
            search_mm: 2.0,
            step_mm: 0.2,
            backdrop: Backdrop::Rings(PointMm::new(-60.0, 0.0)),
            tap_sd_mm: 1.0,
            shaft_mm: None,
        };
        let face = |at: PointMm| if light(at) { 170.0 } else { ink };
        torn_in_black(PointMm::new(0.8, -0.5), &options, &face)
    }

    /// The rim torn light on the lower side, and a flap.
    fn torn(at: PointMm) -> bool {
        let out_mm = at.norm_mm();
        let crescent = (2.2..3.4).contains(&out_mm) && at.y_mm < 1.0;
        crescent || (out_mm < 3.0 && at.x_mm > 1.4)
    }

    #[test]
    fn a_torn_rim_on_black_print_is_a_hole() {
        let hole = found(torn, 28.0).unwrap();
        assert!(hole.centre.norm_mm() < 1.5, "{hole:?}");
        assert!(found(|_| false, 28.0).is_none());
        assert!(found(torn, 120.0).is_none(), "not on print of any colour");
    }

    #[test]
    fn the_torn_edges_of_a_cut_and_thin_strokes_are_none() {
        let cut = |at: PointMm| at.x_mm < 2.0 && (0.3..1.6).contains(&at.y_mm.abs());
        assert!(found(cut, 28.0).is_none());
        let stroke = |at: PointMm| at.x_mm.abs() < 0.5 && at.y_mm.abs() < 3.5;
        assert!(found(stroke, 28.0).is_none());
    }
}
