//! Arrows that still stand in the face, followed from one end of what shows of them to the other.
//!
//! Only drawn, so that a person sees that something was taken for an arrow and not for a hole: where
//! it went in hides behind it.

use super::colours::{Colour, Colours, distance};
use super::surface::Surface;
use crate::frame::PointMm;

/// Half the width drawn, mm: of a usual shaft.
const HALF_MM: f64 = 3.0;
/// Shorter than this it may be print, a cut or a crack, mm. Chosen by hand, looking at the photographs
/// of `tests/real-table`.
const LEAST_LENGTH_MM: f64 = 45.0;
/// It is followed in steps of this, and no farther than an arrow is long, mm.
const STEP_MM: f64 = 5.0;
const MOST_STEPS: usize = 160;
/// What is looked at around a place along what may stand there, mm.
const AHEAD_MM: f64 = 5.0;
/// ... and as far to either side as no shaft reaches, mm.
const BESIDE_MM: f64 = 6.5;
const PATCH_MM: f64 = 10.0;
const PATCH_STEP_MM: f64 = 0.5;
/// A shaft reaches at least as far as the second of these to either side of its axis, mm.
const BODIES_MM: [f64; 5] = [0.0, 1.0, 1.5, 2.0, 2.5];
/// Grey levels by which a shaft differs from both sides of it. Chosen by hand; not tuned.
const CONTRAST: f32 = 25.0;
/// Share of the readings in which it must. Chosen by hand; not tuned.
const LEAST_SHARE: f64 = 0.75;
const READINGS: i32 = 4;
/// From one step to the next it is looked for this far aside, mm, and this much turned, degrees.
const ASIDE_MM: [f64; 5] = [0.0, -0.75, 0.75, -1.5, 1.5];
const TURNS_DEGREES: [f64; 5] = [0.0, -3.0, 3.0, -6.0, 6.0];
/// What is drawn leads on within this far aside of where it began, mm, and this share of the way. Chosen by
/// hand; not tuned.
const STRAY: (f64, f64) = (1.5, 0.08);
/// Directions tried at the start, over half a turn.
const DIRECTIONS: u32 = 60;

/// A standing arrow, as far as it is seen, on the plane of the face.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Standing {
    /// One end, mm.
    pub from: PointMm,
    /// The other end, mm.
    pub to: PointMm,
    /// Half its width, about, mm.
    pub half_mm: f64,
}

impl Standing {
    /// Follows what runs through a place both ways, as long as `shows` says that the picture goes on;
    /// `None` where nothing long does.
    pub fn through(
        place: PointMm,
        surface: &impl Surface,
        shows: impl Fn(PointMm) -> bool,
    ) -> Option<Self> {
        let band = Band::around(place, surface).filter(|b| b.share >= LEAST_SHARE)?;
        let ahead = band.followed(surface, &shows);
        let behind = band.turned_back().followed(surface, &shows);
        let found = Self {
            from: behind,
            to: ahead,
            half_mm: HALF_MM,
        };
        (found.length_mm() >= LEAST_LENGTH_MM).then_some(found)
    }

    fn length_mm(&self) -> f64 {
        (self.to - self.from).norm_mm()
    }

    /// Distance of a place from its axis, mm.
    pub fn distance_mm(&self, at: PointMm) -> f64 {
        let (along, away) = (self.to - self.from, at - self.from);
        let length2 = along.x_mm.powi(2) + along.y_mm.powi(2);
        let t = (away.x_mm * along.x_mm + away.y_mm * along.y_mm) / length2.max(1e-9);
        let t = t.clamp(0.0, 1.0);
        (away - PointMm::new(t * along.x_mm, t * along.y_mm)).norm_mm()
    }
}

/// A short stretch of something long, and how much of it stands out from both sides.
#[derive(Debug, Clone, Copy)]
struct Band {
    place: PointMm,
    angle_rad: f64,
    share: f64,
    centred: f64,
}

impl Band {
    /// The clearest stretch through a place, in any direction.
    fn around(place: PointMm, surface: &impl Surface) -> Option<Self> {
        let seen = surface.colours(place, PATCH_MM, PATCH_STEP_MM);
        let turn = |k: u32| std::f64::consts::PI * f64::from(k) / f64::from(DIRECTIONS);
        let aside = ASIDE_MM.iter().flat_map(|aside_mm| {
            (0..DIRECTIONS).map(move |k| Self::new(place, turn(k)).moved(0.0, *aside_mm))
        });
        clearest(aside, &seen)
    }

    const fn new(place: PointMm, angle_rad: f64) -> Self {
        Self {
            place,
            angle_rad,
            share: 0.0,
            centred: 0.0,
        }
    }

    fn turned_back(self) -> Self {
        Self {
            angle_rad: self.angle_rad + std::f64::consts::PI,
            ..self
        }
    }

    /// The end it leads to.
    fn followed(self, surface: &impl Surface, shows: &impl Fn(PointMm) -> bool) -> PointMm {
        let mut at = self;
        for _ in 0..MOST_STEPS {
            let next = at.moved(STEP_MM, 0.0);
            if !shows(next.place) {
                break;
            }
            let seen = surface.colours(next.place, PATCH_MM, PATCH_STEP_MM);
            let ways = ASIDE_MM.iter().flat_map(|aside_mm| {
                TURNS_DEGREES.iter().map(move |degrees| Self {
                    angle_rad: next.angle_rad + degrees.to_radians(),
                    ..next.moved(0.0, *aside_mm)
                })
            });
            match clearest(ways, &seen) {
                // What bends away from where it began is print.
                Some(band) if band.share >= LEAST_SHARE && band.is_ahead_of(&self) => at = band,
                _ => break,
            }
        }
        at.place
    }

    /// Whether it lies about straight ahead of where the way began.
    fn is_ahead_of(&self, start: &Self) -> bool {
        let away = self.place - start.place;
        let (sin, cos) = start.angle_rad.sin_cos();
        let aside_mm = (away.y_mm * cos - away.x_mm * sin).abs();
        aside_mm < STRAY.0 + STRAY.1 * away.norm_mm()
    }

    fn moved(self, along_mm: f64, aside_mm: f64) -> Self {
        let place = self.place + self.off(along_mm, aside_mm);
        Self { place, ..self }
    }

    fn off(&self, along: f64, aside: f64) -> PointMm {
        let (sin, cos) = self.angle_rad.sin_cos();
        PointMm::new(along * cos - aside * sin, along * sin + aside * cos)
    }

    /// Judged by what is seen: the share of the readings along it that differ from both sides, and
    /// how far to either side of its axis they do, which is most where the axis is right.
    fn judged(self, seen: &Colours) -> Self {
        let colour = |along: f64, aside: f64| seen.near(self.place + self.off(along, aside));
        let widths = (-READINGS..=READINGS).map(|k| {
            let along = AHEAD_MM * f64::from(k) / f64::from(READINGS);
            let sides = [-BESIDE_MM, BESIDE_MM].map(|aside| colour(along, aside));
            let stands = |aside: f64| {
                let away = |b: Colour| sides.iter().all(|&s| distance(b, s) > CONTRAST);
                away(colour(along, aside)) && away(colour(along, -aside))
            };
            let body = BODIES_MM.into_iter().take_while(|half_mm| stands(*half_mm));
            body.count()
        });
        let widths: Vec<usize> = widths.collect();
        let all = widths.len() as f64;
        // Its axis and the least width of a shaft.
        let seen = widths.iter().filter(|w| **w >= 2).count();
        Self {
            share: seen as f64 / all,
            centred: widths.iter().sum::<usize>() as f64 / all,
            ..self
        }
    }
}

/// The way that stands out most.
fn clearest(ways: impl Iterator<Item = Band>, seen: &Colours) -> Option<Band> {
    let worth = |band: &Band| band.share + 0.1 * band.centred;
    let judged = ways.map(|way| way.judged(seen));
    judged.reduce(|best, way| {
        if worth(&way) > worth(&best) {
            way
        } else {
            best
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::impact::Relief;

    struct Painted<F>(F);

    impl<F: Fn(PointMm) -> f32> Surface for Painted<F> {
        fn brightness(&self, at: PointMm) -> f32 {
            (self.0)(at)
        }

        fn colours(&self, centre: PointMm, half_mm: f64, step_mm: f64) -> Colours {
            let grey = Relief::sample(centre, half_mm, step_mm, |at| (self.0)(at));
            Colours::new([grey.clone(), grey.clone(), grey])
        }
    }

    fn through(paint: impl Fn(PointMm) -> f32) -> Option<Standing> {
        let shows = |at: PointMm| at.x_mm.abs() < 150.0 && at.y_mm.abs() < 150.0;
        Standing::through(PointMm::new(2.0, 1.0), &Painted(paint), shows)
    }

    #[test]
    fn a_shaft_across_the_face_is_followed_to_both_ends() {
        let shaft = |p: PointMm| {
            let (along, across) = (0.8 * p.x_mm + 0.6 * p.y_mm, 0.8 * p.y_mm - 0.6 * p.x_mm);
            let on = (-40.0..90.0).contains(&along) && across.abs() < 2.8;
            if on { 40.0 } else { 190.0 }
        };
        let found = through(shaft).unwrap();
        let end = |along: f64| PointMm::new(0.8 * along, 0.6 * along);
        for want in [end(-40.0), end(90.0)] {
            let off = (found.from - want)
                .norm_mm()
                .min((found.to - want).norm_mm());
            assert!(off < 8.0, "{found:?}");
        }
        assert!(found.distance_mm(end(20.0)) < 1.5);
    }

    #[test]
    fn a_hole_a_short_cut_and_a_printed_ring_are_no_arrow() {
        let hole = |p: PointMm| if p.norm_mm() < 3.0 { 20.0 } else { 200.0 };
        let cut = |p: PointMm| {
            let on = p.y_mm.abs() < 1.5 && p.x_mm.abs() < 15.0;
            if on { 20.0 } else { 200.0 }
        };
        let ring = |p: PointMm| {
            let away = ((p.x_mm - 40.0).hypot(p.y_mm) - 40.0).abs();
            if away < 2.0 { 20.0 } else { 200.0 }
        };
        assert_eq!(through(hole), None);
        assert_eq!(through(cut), None);
        assert_eq!(through(ring), None);
    }
}
