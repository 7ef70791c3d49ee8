//! From a tap to the hole it meant, or a plain "not snapped" with the reason.

use serde::{Deserialize, Serialize};
use thiserror::Error;

use super::neighbour::lies_across;
use super::outline::Outline;
use super::relief::{Relief, Surface};
use super::rim::RAYS;
use super::seed::{LEAST_LIGHT_VOTE, Seed, find_seed};
use super::{backdrop, shaft};
use crate::frame::PointMm;

/// The patch reaches this far beyond the search radius: the largest rim plus its edge filter, and
/// far enough to see a standing shaft run out of it.
const BEYOND_SEARCH_MM: f64 = 11.0;
const LEAST_HALF_MM: f64 = 16.5;
const LEAST_VOTE: f64 = 0.5;
const LEAST_RIM_SHARE: f64 = 0.6;
/// A longer stretch without rim, rad, is another hole's opening, and where it ends cannot be told.
const MOST_OPEN_RAD: f64 = 95.0 * std::f64::consts::PI / 180.0;
/// Where the other hole was seen and its part of the rim left out, the rest may be this much less.
const MOST_TAKEN_RAD: f64 = 120.0 * std::f64::consts::PI / 180.0;
/// Two holes in one outline make it longer than wide.
const MOST_OVAL_MM: f64 = 0.42;
const MOST_SCATTER_MM: f64 = 0.45;
/// A small hole must be as round as a large one, in proportion.
const MOST_SCATTER_SHARE: f64 = 0.15;
/// A rim whose centre is further than this from the vote's is another thing's rim.
const MOST_MOVED_MM: f64 = 2.0;
/// From the hole of a 4 mm shaft in paper that gives, to that of the thickest shafts.
pub(super) const RADIUS_MM: (f64, f64) = (1.8, 5.2);
/// The black ring is where a hole hides: below this rim step, grey levels, the centre is widened.
const FULL_STEP: f64 = 60.0;
/// How far a glowing fringe pulls the centre of a light hole, one standard deviation, mm.
const FRINGE_SD_MM: f64 = 0.1;
/// What an open rim leaves uncertain beyond the scatter of the rest: whose paper the ends of the
/// arc are, one standard deviation, mm.
const OPEN_SD_MM: f64 = 0.07;

/// What lies behind the holes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Backdrop {
    /// Paper without print.
    Plain,
    /// Printed rings around this centre, mm.
    Rings(PointMm),
}

/// How to look for the hole behind a tap.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SnapOptions {
    /// How far from the tap the centre may be, mm: 2.5 to 3 under a magnifier, 6 for a bare finger.
    pub search_mm: f64,
    /// Sampling step on the plane, mm: about one photo pixel, 0.1 to 0.3.
    pub step_mm: f64,
    /// What lies behind the holes.
    pub backdrop: Backdrop,
}

/// Whether a hole is darker or lighter than what surrounds it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum HoleTone {
    /// Darker: the usual hole.
    Dark,
    /// Lighter: light behind the paper, or straw behind a black ring.
    Light,
}

/// A hole found behind a tap.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hole {
    /// Centre on the plane, mm.
    pub centre: PointMm,
    /// Radius of the rim, mm.
    pub radius_mm: f64,
    /// Standard deviation of the centre on each axis, mm, without the plane's own error.
    pub sd_mm: f64,
    /// How round the hole is: standard deviation of the rim about its circle, mm.
    pub scatter_mm: f64,
    /// The vote, 0..=1.
    pub vote: f64,
    /// Darker or lighter than its surroundings.
    pub tone: HoleTone,
}

/// Why a tap was not snapped. The tap itself still counts, with the tap's own uncertainty.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum NotSnapped {
    /// No round hole stands out near the tap.
    #[error("no round hole stands out here; place the mark with the magnifier")]
    NothingRound,
    /// Too little of the rim can be seen.
    #[error("too little of the hole's rim can be seen; place the mark with the magnifier")]
    RimHidden,
    /// The rim is too ragged for a centre.
    #[error("the hole is too ragged for a sure centre; place the mark with the magnifier")]
    Ragged,
    /// Something lies across it: the torn edge of a second hole, or it is print and no hole.
    #[error(
        "something lies across this, such as the torn edge of another hole; place the mark with the magnifier"
    )]
    Crossed,
    /// What was found is no arrow hole by its size.
    #[error("what is here is not the size of an arrow hole; place the mark with the magnifier")]
    WrongSize,
    /// A shaft seems to stand in the hole.
    #[error("an arrow seems to stand here; pull it and take the photo again, or use the magnifier")]
    ShaftStanding,
    /// The tap is too near the edge of the picture.
    #[error("the mark is too near the edge of the photo; take it with more room around")]
    PictureEdge,
}

/// Looks for the hole behind `tap` (mm on the plane).
///
/// # Errors
/// [`NotSnapped`] says what was missing; it is never `PictureEdge`, which only the caller can see.
pub fn snap(
    tap: PointMm,
    options: SnapOptions,
    surface: &impl Surface,
) -> Result<Hole, NotSnapped> {
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
    let hole = refine(&relief, &seen, &seed)?;
    // From the seed the rim may lead on to a neighbour.
    if (hole.centre - tap).norm_mm() > options.search_mm {
        return Err(NotSnapped::NothingRound);
    }
    Ok(hole)
}

/// The outline, and the accept rule; `seen` is the relief with its print.
fn refine(relief: &Relief, seen: &Relief, seed: &Seed) -> Result<Hole, NotSnapped> {
    let found = Outline::around(relief, seed).ok_or(NotSnapped::RimHidden)?;
    if lies_across(seen, &found.circle, seed.tone) {
        return Err(NotSnapped::Crossed);
    }
    accept(&found, seed)?;
    let Outline { rim, circle, open } = found;
    // The glowing fringe of a light hole is no part of it, but where it is as bright it looks so.
    let fringe_mm = match seed.tone {
        HoleTone::Dark => 0.0,
        HoleTone::Light => FRINGE_SD_MM,
    };
    let open_mm = if open { OPEN_SD_MM } else { 0.0 };
    let weakness = (FULL_STEP / f64::from(rim.step).max(1.0)).clamp(1.0, 4.0);
    Ok(Hole {
        centre: circle.centre(),
        radius_mm: circle.radius_mm,
        sd_mm: (circle.sd_mm * weakness).hypot(fringe_mm).hypot(open_mm),
        scatter_mm: circle.scatter_mm,
        vote: seed.vote,
        tone: seed.tone,
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
