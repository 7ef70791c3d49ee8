//! A hole with a crisp rim: its circle, where the rim can be trusted.

use super::colours::WHITE;
use super::hole::{Backdrop, HoleTone, NotSnapped, SnapOptions};
use super::in_black::BLACK;
use super::neighbour::{lies_across, print_around};
use super::outline::Outline;
use super::relief::Relief;
use super::rim::{Edge, RAYS};
use super::seed::{LEAST_LIGHT_VOTE, Seed, find_seed};
use super::surface::Surface;
use super::{backdrop, shaft};
use crate::frame::PointMm;

/// The patch reaches this far beyond the search radius: the largest rim plus its edge filter, and
/// far enough to see a standing shaft run out of it.
const BEYOND_SEARCH_MM: f64 = 11.0;
const LEAST_HALF_MM: f64 = 16.5;
/// A rim is read within this, mm: the largest hole's, its edge filter and what is looked at behind it.
const DAYLIGHT_HALF_MM: f64 = 12.0;
/// A hole is voted for at least so clearly, 1 = every ray sees a full step. Chosen by hand;
/// `tests/photo-table` measures what passes.
const LEAST_VOTE: f64 = 0.5;
/// Share of the rays that must lie on the rim. Chosen by hand; `tests/photo-table` measures what
/// passes.
const LEAST_RIM_SHARE: f64 = 0.6;
/// A longer stretch without rim, rad, is another hole's opening, and where it ends cannot be told. Set
/// on touching holes (110 degrees before, `tests/photo-table`).
const MOST_OPEN_RAD: f64 = 95.0 * std::f64::consts::PI / 180.0;
/// Where the other hole was seen and its part of the rim left out, the rest may be this much less. Set
/// on touching holes (110 degrees before, `tests/photo-table`).
const MOST_TAKEN_RAD: f64 = 120.0 * std::f64::consts::PI / 180.0;
/// Two holes in one outline make it longer than wide. At .36 one ordinary hole in twenty-five was
/// refused (`tests/photo-table`).
const MOST_OVAL_MM: f64 = 0.42;
/// A rim that scatters more than this, mm, has no sure centre. Chosen by hand; `tests/photo-table`
/// measures what passes.
const MOST_SCATTER_MM: f64 = 0.45;
/// A small hole must be as round as a large one, in proportion. Chosen by hand; `tests/photo-table`
/// measures what passes.
const MOST_SCATTER_SHARE: f64 = 0.15;
/// A rim whose centre is further than this from the vote's is another thing's rim. Chosen by hand;
/// `tests/photo-table` measures what passes.
const MOST_MOVED_MM: f64 = 2.0;
/// A light rim whose circle leaves more open, one standard deviation, mm, is not called crisp, as torn paper
/// glows: of 405 rendered holes, from tuning seeds, 95 % of these lay within .30 mm, of the others within .24.
const MOST_LIGHT_SD_MM: f64 = 0.11;
/// The black ring is where a hole hides: below this rim step, grey levels, the centre is widened.
/// Chosen by hand; not tuned.
const FULL_STEP: f64 = 60.0;
/// In black print the rim seen is that of torn paper, which lies to one side: what it leaves open of the centre, one
/// standard deviation on each axis, mm. Of 42 rendered ones on three sets the errors were .41 mm rms, 1.6 of what was
/// stated without it.
const IN_BLACK_SD_MM: f64 = 0.25;
/// How far a glowing fringe pulls the centre of a light hole, one standard deviation, mm.
const FRINGE_SD_MM: f64 = 0.1;
/// What an open rim leaves uncertain beyond the scatter of the rest: whose paper the ends of the
/// arc are, one standard deviation, mm.
const OPEN_SD_MM: f64 = 0.07;

/// A hole by its rim.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Crisp {
    pub(super) centre: PointMm,
    pub(super) radius_mm: f64,
    /// Standard deviation of the centre on each axis, mm.
    pub(super) sd_mm: f64,
    pub(super) tone: HoleTone,
    /// Whether it is too ragged to be called crisp, though nothing else tells the centre better.
    pub(super) vague: bool,
}

/// Looks for a rim around `tap` (mm on the plane).
///
/// # Errors
/// [`NotSnapped`] says what was missing.
pub(super) fn read_rim(
    tap: PointMm,
    options: &SnapOptions,
    surface: &impl Surface,
) -> Result<Crisp, NotSnapped> {
    let half_mm = (options.search_mm + BEYOND_SEARCH_MM).max(LEAST_HALF_MM);
    let seen = surface.patch(tap, half_mm, options.step_mm);
    let mut relief = seen.clone();
    match options.backdrop {
        Backdrop::Plain => backdrop::subtract_median(&mut relief),
        Backdrop::Rings(centre) => {
            backdrop::subtract_rings(&mut relief, centre, tap, surface);
        }
    }
    let seed = find_seed(&relief, tap, options.search_mm).ok_or(NotSnapped::NothingRound)?;
    if shaft::stands_at(&relief, seed.centre) {
        return Err(NotSnapped::ShaftStanding);
    }
    let least = match seed.tone {
        HoleTone::Dark => LEAST_VOTE,
        HoleTone::Light => LEAST_LIGHT_VOTE,
    };
    if seed.vote < least {
        return Err(NotSnapped::NothingRound);
    }
    let daylight = Daylight::behind(&seed, options, surface);
    let (relief, edge) = match &daylight {
        Some(daylight) => (&daylight.relief, daylight.edge),
        None => (&relief, Edge::Step(seed.tone)),
    };
    let hole = refine(relief, &seen, &seed, edge)?;
    // From the seed the rim may lead on to a neighbour.
    if (hole.centre - tap).norm_mm() > options.search_mm {
        return Err(NotSnapped::NothingRound);
    }
    Ok(hole)
}

/// A hole behind which daylight fills the sensor, seen in the dimmest channel: there the fringe of torn
/// paper, which glows, is dimmer than the hole for longest.
struct Daylight {
    relief: Relief,
    edge: Edge,
}

impl Daylight {
    /// `None` where the hole is not white all over, or printed rings are in the way.
    fn behind(seed: &Seed, options: &SnapOptions, surface: &impl Surface) -> Option<Self> {
        if seed.tone == HoleTone::Dark || options.backdrop != Backdrop::Plain {
            return None;
        }
        let seen = surface.colours(seed.centre, DAYLIGHT_HALF_MM, options.step_mm);
        let mut relief = seen.dimmest();
        let inside = |relief: &Relief| {
            let (column, row) = relief.grid(seed.centre);
            relief.at(column as f32, row as f32)
        };
        let bright = inside(&relief);
        backdrop::subtract_median(&mut relief);
        let paper = bright - inside(&relief);
        let edge = Edge::EndOfWhite(WHITE - paper);
        (bright >= WHITE).then_some(Self { relief, edge })
    }
}

/// The outline, and the accept rule; `seen` is the relief with its print.
fn refine(relief: &Relief, seen: &Relief, seed: &Seed, edge: Edge) -> Result<Crisp, NotSnapped> {
    let found = Outline::around(relief, seed, edge).ok_or(NotSnapped::RimHidden)?;
    if lies_across(seen, &found.circle, seed.tone) {
        return Err(NotSnapped::Crossed);
    }
    accept(&found, seed)?;
    let Outline { rim, circle, open } = found;
    // The glowing fringe of a light hole is no part of it, but where it is as bright it looks so.
    let fringe_mm = match seed.tone {
        HoleTone::Dark if print_around(seen, &circle) <= BLACK => IN_BLACK_SD_MM,
        HoleTone::Dark => 0.0,
        HoleTone::Light => FRINGE_SD_MM,
    };
    let open_mm = if open { OPEN_SD_MM } else { 0.0 };
    let weakness = (FULL_STEP / f64::from(rim.step).max(1.0)).clamp(1.0, 4.0);
    Ok(Crisp {
        centre: circle.centre(),
        radius_mm: circle.radius_mm,
        sd_mm: (circle.sd_mm * weakness).hypot(fringe_mm).hypot(open_mm),
        tone: seed.tone,
        vague: seed.tone == HoleTone::Light && circle.sd_mm > MOST_LIGHT_SD_MM,
    })
}

fn accept(found: &Outline, seed: &Seed) -> Result<(), NotSnapped> {
    let circle = &found.circle;
    let most_open = if found.open {
        MOST_TAKEN_RAD
    } else {
        MOST_OPEN_RAD
    };
    let hidden = circle.support < LEAST_RIM_SHARE * RAYS as f64;
    if hidden || circle.widest_gap_rad(&found.rim.points) > most_open {
        return Err(NotSnapped::RimHidden);
    }
    let moved = (circle.centre() - seed.centre).norm_mm();
    let ragged = circle.scatter_mm > MOST_SCATTER_MM.min(MOST_SCATTER_SHARE * circle.radius_mm);
    let oval = !found.open && found.oval_mm() > MOST_OVAL_MM;
    if ragged || oval || moved > MOST_MOVED_MM {
        return Err(NotSnapped::Ragged);
    }
    if !found.is_hole() {
        return Err(NotSnapped::WrongSize);
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_rim_in_black_print_says_less_of_the_centre_than_one_on_pale_paper() {
        let options = SnapOptions {
            search_mm: 2.75,
            step_mm: 0.1,
            backdrop: Backdrop::Plain,
            tap_sd_mm: 0.8,
            shaft_mm: None,
        };
        let sd_mm = |print: f32| {
            let face = |at: PointMm| match at.norm_mm() {
                out_mm if out_mm < 3.0 => 10.0,
                out_mm if out_mm < 3.8 => 215.0,
                _ => print,
            };
            read_rim(PointMm::new(0.3, 0.2), &options, &face).map(|rim| rim.sd_mm)
        };
        assert!(sd_mm(28.0).unwrap() > 0.25);
        assert!(sd_mm(190.0).unwrap() < 0.1);
    }
}
