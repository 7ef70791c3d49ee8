//! From a tap to the hole it meant, or a plain "not snapped" with the reason.

use super::crisp::{Crisp, read_rim};
use super::hole::{Hole, HoleTone, NotSnapped, SnapOptions};
use super::in_black::on_black;
use super::oblong::WIDE_MM;
use super::shaft::Surroundings;
use super::surface::Surface;
use super::wound::{self, MOST_SCORE, Wound, glance};
use crate::frame::PointMm;

/// A rim whose centre is further from the wound's middle than this many of the wound's standard
/// deviations on an axis is torn on one side, or another hole's. Chosen by hand, looking at the
/// photographs of `tests/real-table`.
const RIM_WITHIN_SDS: f64 = 0.6;
/// A wound that speaks less than this, nats, says nothing against a rim: a dark hole on black print.
/// Chosen by hand, looking at the photographs of `tests/real-table`.
const LEAST_AGAINST_RIM: f64 = 12.0;
/// What even a crisp rim leaves open of where the arrow's axis went, one standard deviation on each
/// axis, mm: paper gives unevenly.
const AXIS_SD_MM: f64 = 0.15;
/// A wound that tells hardly more than the tap is none: its standard deviation is at most this share of
/// the tap's. Chosen by hand; not tuned.
const MOST_OF_TAP_SD: f64 = 0.97;
/// Of two holes in one a tap means the nearer, if by so much, nats: seven to one.
const LEAST_MEANT: f64 = 2.0;
/// What is left open then, at least, one standard deviation on each axis, mm: one tap in eight or fewer means the other
/// one. Chosen on rendered holes 3 mm apart.
const ONE_OF_TWO_SD_MM: f64 = 0.6;
/// A crisp rim of more than this many of a known shaft's diameters is a circle laid round two holes. Of
/// 1,434 crisp rims of rendered holes 5 mm apart the widest was 1.06 of its shaft; circles round two
/// 3 mm apart began at 1.16, the widest radius a wound is weighed with.
const MOST_OF_SHAFT: f64 = 1.16;
/// A rim that no wound bears out is the one that was meant only this near to the tap, in the tap's standard
/// deviations: one tap in twenty-three is farther off its hole. Beside a light hole on the border of black print, the
/// print between two light things has a rim as well.
const ALONE_TAP_SDS: f64 = 2.5;
/// A wound is the one that was meant only this near to the tap, in the tap's standard deviations: one tap in forty-four
/// is farther off its hole, while beside a crack an open hole speaks louder than the crack.
const MEANT_TAP_SDS: f64 = 2.75;
/// Where nobody has pointed, a hole must speak for itself, nats, and be open in this share: of real
/// ones all but cracks do, print and lettering do not. Chosen by hand, looking at the photographs of
/// `tests/real-table`.
const LEAST_UNASKED: f64 = 17.5;
/// ... a light one on black print more: the torn edges of a broadhead's cut in black print spoke with 20.4
/// and less, daylight and backstops behind real faces with 21.9 and more.
const LEAST_UNASKED_LIGHT: f64 = 21.0;
/// Share of the disc that must be open where nobody has pointed. Chosen by hand, looking at the
/// photographs of `tests/real-table`.
const LEAST_OPEN: f64 = 0.25;
/// A hole that closed to cracks shows this share of it, and must speak louder: of what was no hole on real faces,
/// rendered ones and printed pages nothing so little open spoke with more than 18.
const LEAST_CRACK_OPEN: f64 = 0.05;
const LEAST_UNASKED_CRACK: f64 = 19.0;
/// ... and unless it is dark and as open as this, it must not be the end of a crack or of a stroke.
/// Chosen by hand, looking at the photographs of `tests/real-table`.
const WIDE_OPEN: f64 = 0.5;
/// ... or have a crisp rim of at least this radius, mm: smaller than the hole of any but the thinnest
/// shafts are pen dots, staples and strokes of digits. Chosen by hand, looking at the photographs of
/// `tests/real-table`.
const LEAST_UNASKED_MM: f64 = 2.2;

/// What is seen around a tap, whatever the shaft that made the hole: it is answered again once the
/// shaft is known, without looking again.
pub struct Sight {
    tap: PointMm,
    rim: Result<Crisp, NotSnapped>,
    wound: wound::Seen,
}

impl Sight {
    /// Looks around `tap` (mm on the plane). The shaft of `options` does not matter here.
    pub fn around(tap: PointMm, options: &SnapOptions, surface: &impl Surface) -> Self {
        Self {
            tap,
            rim: read_rim(tap, options, surface),
            wound: wound::Seen::around(tap, options, surface),
        }
    }

    /// The hole behind the tap: by its rim where that is crisp and nothing speaks against it, else by
    /// the whole wound. `options` are those it was looked for with, but for the shaft.
    ///
    /// # Errors
    /// [`NotSnapped`] says what was missing; it is never `PictureEdge`, which only the caller can see.
    pub fn hole(&self, options: &SnapOptions) -> Result<Hole, NotSnapped> {
        if self.rim == Err(NotSnapped::ShaftStanding) {
            return Err(NotSnapped::ShaftStanding);
        }
        let meant =
            |rim: &Crisp| (rim.centre - self.tap).norm_mm() <= ALONE_TAP_SDS * options.tap_sd_mm;
        match (self.rim, self.wound.wound(options)) {
            (Ok(rim), Ok(wound))
                if fits(&rim, options)
                    && (agree(&rim, &wound)
                        || (wound.score < LEAST_AGAINST_RIM && meant(&rim))) =>
            {
                Ok(Hole::of_rim(&rim, wound.score))
            }
            // The tap lies between two holes: the rim of one is no answer to which was meant.
            (Ok(_), Err(NotSnapped::Crossed)) => Err(NotSnapped::Crossed),
            (Ok(rim), Err(_)) if !fits(&rim, options) => Err(NotSnapped::WrongSize),
            (Ok(rim), Err(_)) if meant(&rim) => Ok(Hole::of_rim(&rim, 0.0)),
            (_, Ok(wound)) if options.shaft_mm.is_none() && self.may_be_two(&wound) => {
                Err(NotSnapped::Crossed)
            }
            (_, Ok(wound)) if self.both(&wound, options).is_some() => self.nearer(&wound, options),
            // What lies that far from the tap was not meant, such as the open hole beside a closed one.
            (_, Ok(wound))
                if (wound.centre - self.tap).norm_mm() > MEANT_TAP_SDS * options.tap_sd_mm =>
            {
                Err(NotSnapped::NothingRound)
            }
            (_, Ok(wound)) if wound.sd_mm <= MOST_OF_TAP_SD * options.tap_sd_mm => {
                Ok(Hole::of_wound(&wound))
            }
            (Ok(_), Err(reason)) | (Err(reason), _) => Err(reason),
            (Ok(_), Ok(_)) => Err(NotSnapped::Ragged),
        }
    }

    /// Whether a wound without a crisp rim may be two holes in one.
    fn may_be_two(&self, wound: &Wound) -> bool {
        wound.radius_mm > WIDE_MM || self.wound.is_of_two(wound)
    }

    /// Both holes of a known shaft, where a wound is two in one.
    fn both(&self, wound: &Wound, options: &SnapOptions) -> Option<[PointMm; 2]> {
        self.wound.both(wound, options.shaft_mm?)
    }

    /// That of two holes which the tap means, where it says.
    fn nearer(&self, wound: &Wound, options: &SnapOptions) -> Result<Hole, NotSnapped> {
        let both = self.both(wound, options).ok_or(NotSnapped::Crossed)?;
        let unlike = both.map(|hole| {
            let away = (hole - self.tap).norm_mm() / options.tap_sd_mm;
            0.5 * away * away
        });
        let ([first, second], [from_first, from_second]) = (both, unlike);
        let centre = if from_first < from_second {
            first
        } else {
            second
        };
        if (from_first - from_second).abs() < LEAST_MEANT {
            return Err(NotSnapped::Crossed);
        }
        Ok(Hole::of_wound(&Wound {
            centre,
            sd_mm: wound.sd_mm.max(ONE_OF_TWO_SD_MM),
            ..*wound
        }))
    }
}

/// Looks, quickly and roughly, for a hole near a place that nobody has pointed at.
///
/// # Errors
/// As [`Sight::hole`].
pub fn find(
    near: PointMm,
    options: SnapOptions,
    surface: &impl Surface,
) -> Result<Hole, NotSnapped> {
    match glance(near, &options, surface) {
        Ok(wound) if speaks(&wound, &options, surface) => {
            let around = Surroundings::of(wound.centre, surface);
            let plain = wound.tone == HoleTone::Dark && wound.open >= WIDE_OPEN;
            if around.run_through() {
                Err(NotSnapped::ShaftStanding)
            } else if !plain && around.end_here() {
                Err(NotSnapped::Crossed)
            } else {
                Ok(Hole::of_wound(&wound))
            }
        }
        weak => {
            let rim = read_rim(near, &options, surface)?;
            let likely = rim.tone == HoleTone::Dark && rim.radius_mm >= LEAST_UNASKED_MM;
            let score = weak.map_or(0.0, |wound| wound.score);
            likely
                .then(|| Hole::of_rim(&rim, score))
                .ok_or(NotSnapped::WrongSize)
        }
    }
}

/// Whether a wound speaks loud enough where nobody has pointed.
fn speaks(wound: &Wound, options: &SnapOptions, surface: &impl Surface) -> bool {
    let light = wound.tone == HoleTone::Light && wound.score < LEAST_UNASKED_LIGHT;
    let least = if wound.open < LEAST_OPEN {
        LEAST_UNASKED_CRACK
    } else {
        LEAST_UNASKED
    };
    wound.score >= least
        && wound.open >= LEAST_CRACK_OPEN
        && !(light && on_black(wound.centre, options, surface).is_some())
}

/// Whether a known shaft may have made it.
fn fits(rim: &Crisp, options: &SnapOptions) -> bool {
    let shaft_mm = options.shaft_mm.unwrap_or(f64::INFINITY);
    2.0 * rim.radius_mm <= MOST_OF_SHAFT * shaft_mm
}

fn agree(rim: &Crisp, wound: &Wound) -> bool {
    let apart_mm = (rim.centre - wound.centre).norm_mm();
    apart_mm <= RIM_WITHIN_SDS * std::f64::consts::SQRT_2 * wound.sd_mm
}

impl Hole {
    /// [`Hole::score`] as a share of the most there can be, 0..=1.
    pub fn score_share(&self) -> f64 {
        (self.score / MOST_SCORE).clamp(0.0, 1.0)
    }

    fn of_rim(rim: &Crisp, score: f64) -> Self {
        Self {
            centre: rim.centre,
            radius_mm: rim.radius_mm,
            sd_mm: rim.sd_mm.hypot(AXIS_SD_MM),
            tone: rim.tone,
            crisp: !rim.vague,
            score,
        }
    }

    fn of_wound(wound: &Wound) -> Self {
        Self {
            centre: wound.centre,
            radius_mm: wound.radius_mm,
            sd_mm: wound.sd_mm,
            tone: wound.tone,
            crisp: false,
            score: wound.score,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::impact::Backdrop;

    fn read(
        tap: PointMm,
        shaft_mm: Option<f64>,
        dark: impl Fn(PointMm) -> bool,
    ) -> Result<Hole, NotSnapped> {
        let options = SnapOptions {
            search_mm: 2.75,
            step_mm: 0.1,
            backdrop: Backdrop::Plain,
            tap_sd_mm: 0.8,
            shaft_mm,
        };
        let paper = |at: PointMm| if dark(at) { 20.0 } else { 215.0 };
        Sight::around(tap, &options, &paper).hole(&options)
    }

    fn pair(at: PointMm) -> bool {
        let away = |x_mm: f64| (at - PointMm::new(x_mm, 0.0)).norm_mm();
        away(0.0).min(away(5.0)) < 3.0
    }

    #[test]
    fn a_tap_midway_between_two_holes_is_answered_by_neither_rim() {
        for x_mm in [2.3, 2.4, 2.5, 2.6] {
            let read = read(PointMm::new(x_mm, 0.3), None, pair);
            assert!(!read.is_ok_and(|hole| hole.crisp), "{x_mm}: {read:?}");
        }
    }

    #[test]
    fn a_tap_on_one_of_two_holes_is_answered_by_its_own_rim() {
        for (x_mm, hole_mm) in [(-0.8, 0.0), (0.6, 0.0), (4.4, 5.0), (5.9, 5.0)] {
            let hole = read(PointMm::new(x_mm, -0.4), None, pair).unwrap();
            assert!((hole.centre.x_mm - hole_mm).abs() < 0.4, "{x_mm}: {hole:?}");
        }
    }

    /// Two holes of 3 mm, 3 mm apart: torn, so that no rim is crisp.
    fn close_pair(at: PointMm) -> bool {
        let hole = |x_mm: f64| {
            let away = at - PointMm::new(x_mm, 0.0);
            let torn_mm = 0.5 * (7.0 * away.y_mm.atan2(away.x_mm)).sin();
            away.norm_mm() < 2.9 + torn_mm
        };
        hole(0.0) || hole(3.0)
    }

    #[test]
    fn two_holes_in_one_are_refused_without_the_shaft_and_told_apart_with_it() {
        for (x_mm, hole_mm) in [(-0.4, 0.0), (0.5, 0.0), (2.6, 3.0), (3.4, 3.0)] {
            let tap = PointMm::new(x_mm, 0.3);
            let unknown = read(tap, None, close_pair);
            assert!(unknown.is_err(), "{x_mm}: {unknown:?}");
            let hole = read(tap, Some(6.0), close_pair).unwrap();
            let off_mm = (hole.centre - PointMm::new(hole_mm, 0.0)).norm_mm();
            assert!(off_mm < 0.6, "{x_mm}: {hole:?}");
        }
        let between = read(PointMm::new(1.5, 0.3), Some(6.0), close_pair);
        assert_eq!(between, Err(NotSnapped::Crossed));
    }

    /// A closed hole shows nothing; the open one beside it was not meant.
    #[test]
    fn an_open_hole_that_lies_far_from_the_tap_is_no_answer() {
        let torn = |at: PointMm| {
            let away = at - PointMm::new(2.6, 0.0);
            away.norm_mm() < 2.6 + 0.5 * (7.0 * away.y_mm.atan2(away.x_mm)).sin()
        };
        let paper = |at: PointMm| if torn(at) { 20.0 } else { 215.0 };
        let read = |tap_sd_mm: f64| {
            let options = SnapOptions {
                search_mm: 2.75,
                step_mm: 0.1,
                backdrop: Backdrop::Plain,
                tap_sd_mm,
                shaft_mm: None,
            };
            Sight::around(PointMm::default(), &options, &paper).hole(&options)
        };
        assert!(read(1.5).is_ok());
        assert_eq!(read(0.8), Err(NotSnapped::NothingRound));
    }

    #[test]
    fn what_is_little_open_or_light_on_black_must_speak_louder_where_nobody_pointed() {
        let options = SnapOptions {
            search_mm: 2.0,
            step_mm: 0.2,
            backdrop: Backdrop::Rings(PointMm::new(-60.0, 0.0)),
            tap_sd_mm: 1.0,
            shaft_mm: None,
        };
        let on = |print: f32, score: f64, open: f64, tone: HoleTone| {
            let (centre, radius_mm, sd_mm) = (PointMm::default(), 3.0, 0.5);
            let wound = Wound {
                centre,
                radius_mm,
                sd_mm,
                score,
                open,
                tone,
            };
            speaks(&wound, &options, &|_: PointMm| print)
        };
        assert!(on(215.0, 18.5, 0.3, HoleTone::Dark));
        assert!(!on(215.0, 18.5, 0.1, HoleTone::Dark));
        assert!(on(215.0, 19.5, 0.1, HoleTone::Dark));
        assert!(!on(215.0, 19.5, 0.02, HoleTone::Dark));
        assert!(on(215.0, 20.0, 0.6, HoleTone::Light));
        assert!(!on(28.0, 20.0, 0.6, HoleTone::Light));
        assert!(on(28.0, 22.0, 0.6, HoleTone::Light));
    }

    /// Print between two light things has a rim too.
    #[test]
    fn a_rim_that_no_wound_bears_out_is_believed_only_near_the_tap() {
        let options = SnapOptions {
            search_mm: 2.75,
            step_mm: 0.1,
            backdrop: Backdrop::Plain,
            tap_sd_mm: 0.7,
            shaft_mm: None,
        };
        let tap = PointMm::default();
        let away = |x_mm: f64| Sight {
            tap,
            rim: Ok(Crisp {
                centre: PointMm::new(x_mm, 0.0),
                radius_mm: 2.0,
                sd_mm: 0.1,
                tone: HoleTone::Dark,
                vague: false,
            }),
            wound: wound::Seen::around(tap, &options, &|_: PointMm| 215.0),
        };
        assert!(away(1.5).hole(&options).is_ok_and(|hole| hole.crisp));
        assert_eq!(away(2.2).hole(&options), Err(NotSnapped::NothingRound));
    }

    #[test]
    fn a_rim_much_wider_than_the_shaft_is_not_believed() {
        let wide = |at: PointMm| at.norm_mm() < 4.2;
        let tap = PointMm::new(0.3, 0.2);
        assert!(read(tap, None, wide).unwrap().crisp);
        assert!(read(tap, Some(8.0), wide).unwrap().crisp);
        let read = read(tap, Some(5.5), wide);
        assert!(!read.is_ok_and(|hole| hole.crisp), "{read:?}");
    }
}
