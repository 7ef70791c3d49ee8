//! A hole without a crisp rim, read as a wound: where its middle most likely is.
//!
//! An arrow seldom punches a disc. Flaps hang over the hole, half of it is torn paper, a hole in
//! white paper closes to a crack. What holds is its size: the wound with its flaps is about as
//! wide as the shaft. So every place near the tap, with every likely radius, is weighed:
//!
//! ```text
//! ln p(centre, r) = 11 inside(0 .. r) + 23 unlike(0 .. r + 0.5) - 50 inside(r + 0.2 .. r + 1.4)
//!                   - tap^2 / 2 sd^2 - ln(r / r0)^2 / 2 s^2
//! ```
//!
//! with the means of [`Evidence`] over the disc and the ring around it. The centre is the mean of
//! that distribution, its standard deviation the distribution's own: a crack says little and the
//! tap holds it, and so it does where two holes ran into one. The three weights were fitted by
//! maximum likelihood to holes of real arrows whose centres were read by hand, photograph by
//! photograph against the others: errors came out at 1.0 of the stated deviation.

use super::colours::Colours;
use super::evidence::{Disc, Evidence, Grid};
use super::hole::{HoleTone, NotSnapped, SnapOptions};
use super::oblong;
use super::surface::Surface;
use crate::frame::PointMm;

/// Weights of the inside within the disc, of what is unlike paper within the wound, and of the inside
/// beyond it. A maximum-likelihood fit to 122 real holes (`tests/real-table`).
const WEIGHTS: (f64, f64, f64) = (11.0, 23.0, -50.0);
/// The most there can be for a hole, nats.
pub(super) const MOST_SCORE: f64 = WEIGHTS.0 + WEIGHTS.1;
/// The disc of the inside is this much smaller than the hole, mm. Chosen by hand, looking at the
/// photographs of `tests/real-table`.
const INSIDE_MM: f64 = 0.2;
/// The wound with its flaps is this much larger than the hole, mm. Chosen by hand, looking at the
/// photographs of `tests/real-table`.
const WOUND_MM: f64 = 0.5;
/// The ring beyond the hole that belongs to no hole, from its radius, mm. Chosen by hand, looking at
/// the photographs of `tests/real-table`.
const BEYOND_MM: (f64, f64) = (0.2, 1.4);
/// Radii weighed where the shaft is not known, and their usual middle: shafts of 6 mm (common
/// practice, no source) with a spread of 15 %.
const RADII_MM: [f64; 7] = [2.0, 2.25, 2.6, 3.0, 3.45, 4.0, 4.6];
const USUAL_MM: f64 = 3.0;
const USUAL_SPREAD: f64 = 0.15;
/// Radii weighed where it is, as shares of the shaft's: paper gives.
const SHAFT_SHARES: [f64; 3] = [0.86, 1.0, 1.16];
const SHAFT_SPREAD: f64 = 0.08;
/// Centres are weighed on a grid of this step, and the patch is sampled with it, mm.
const STEP_MM: f64 = 0.2;
/// ... in the first pass on one this many times wider.
const COARSE: i32 = 2;
/// A place of the coarse grid that speaks this much less than the best, nats, is weighed at e^-9 of it
/// and not looked at again.
const HOPELESS: f64 = 9.0;
/// Where only a suggestion is wanted.
const ROUGH_STEP_MM: f64 = 0.3;
/// The paper around is looked at from this far beyond the search to that, mm.
const PAPER_MM: (f64, f64) = (2.25, 6.25);
/// The inside of a dark hole is looked for this far beyond the search, that of another within
/// this distance of the tap, mm.
const DARK_BEYOND_MM: f64 = 1.0;
const CORE_MM: f64 = 1.0;
/// An inside that is not dark must fill this share of the disc: beside an open hole its flaps are no
/// hole. Chosen by hand, looking at the photographs of `tests/real-table`.
const OWN_COLOUR_SHARE: f64 = 0.5;
/// ... must speak this much more than a dark one, nats. Chosen by hand, looking at the photographs of
/// `tests/real-table`.
const OWN_COLOUR_HANDICAP: f64 = 2.0;
/// ... where a dark one fills no more of the disc than this. Chosen by hand, looking at the photographs
/// of `tests/real-table`.
const MOST_DARK_SHARE: f64 = 0.3;
/// ... or where its likeliest place is farther from the tap than this many of the tap's standard deviations: beside
/// a light hole on black print the print may be meant no more than one tap in eight.
const BESIDE_TAP_SDS: f64 = 2.0;
/// A distribution wider than this on an axis is about two holes, mm. Chosen by hand, looking at the
/// photographs of `tests/real-table`.
const MOST_SD_MM: f64 = 1.2;
/// On real faces cracks spoke with 3 and more, torn holes with 14 and more, clean paper with less
/// than 3 and print with 7 and less: where a person has pointed, print seldom lies.
const LEAST_SCORE: f64 = 3.0;

/// A wound, and how much speaks for it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Wound {
    pub(super) centre: PointMm,
    pub(super) radius_mm: f64,
    /// Standard deviation of the centre on each axis, mm.
    pub(super) sd_mm: f64,
    /// How much the picture speaks for it, nats.
    pub(super) score: f64,
    pub(super) open: f64,
    pub(super) tone: HoleTone,
}

/// What is seen around a place where a wound may be, whatever the shaft that made it.
pub(super) struct Seen {
    colours: Colours,
    /// What speaks for a dark hole.
    dark: Evidence,
    middle: PointMm,
    step_mm: f64,
}

impl Seen {
    /// Looks around a tap.
    pub(super) fn around(tap: PointMm, options: &SnapOptions, surface: &impl Surface) -> Self {
        Self::with_step(tap, options, STEP_MM, surface)
    }

    fn with_step(
        middle: PointMm,
        options: &SnapOptions,
        step_mm: f64,
        surface: &impl Surface,
    ) -> Self {
        let search_mm = options.search_mm;
        let colours = surface.colours(middle, search_mm + PAPER_MM.1, step_mm);
        let core = colours.darkest(middle, search_mm + DARK_BEYOND_MM);
        Self {
            dark: Evidence::of(&colours, core, middle, paper_ring(options)),
            colours,
            middle,
            step_mm,
        }
    }

    /// Whether a dark wound, where there is one, is two holes in one.
    pub(super) fn is_of_two(&self, wound: &Wound) -> bool {
        wound.tone == HoleTone::Dark && oblong::is_of_two(&self.dark.inside, wound.centre)
    }

    /// The centres of two holes of a known shaft that are one dark wound; `None` where it is one hole.
    pub(super) fn both(&self, wound: &Wound, shaft_mm: f64) -> Option<[PointMm; 2]> {
        let dark = wound.tone == HoleTone::Dark;
        let both = || oblong::both(&self.dark.inside, wound.centre, shaft_mm);
        dark.then(both).flatten()
    }

    /// Reads the wound.
    ///
    /// # Errors
    /// [`NotSnapped`] where nothing speaks for one, or for two.
    pub(super) fn wound(&self, options: &SnapOptions) -> Result<Wound, NotSnapped> {
        let weigh = |evidence| Weighed::near(self.middle, options, self.step_mm, evidence);
        let dark = weigh(&self.dark);
        let mut chosen = (&dark, HoleTone::Dark);
        let own;
        let away_mm = (dark.peak.centre - self.middle).norm_mm();
        if dark.peak.open <= MOST_DARK_SHARE || away_mm > BESIDE_TAP_SDS * options.tap_sd_mm {
            let core = self.colours.usual(self.middle, CORE_MM);
            let ring_mm = paper_ring(options);
            own = weigh(&Evidence::of(&self.colours, core, self.middle, ring_mm));
            let speaks = own.peak.score > dark.peak.score + OWN_COLOUR_HANDICAP;
            if speaks && own.peak.open >= OWN_COLOUR_SHARE {
                chosen = (&own, HoleTone::Light);
            }
        }
        let (chosen, tone) = chosen;
        if chosen.peak.score < LEAST_SCORE {
            return Err(NotSnapped::NothingRound);
        }
        chosen.wound(tone).ok_or(NotSnapped::Crossed)
    }
}

/// Reads a wound quickly and roughly: for suggestions.
///
/// # Errors
/// As [`Seen::wound`].
pub(super) fn glance(
    near: PointMm,
    options: &SnapOptions,
    surface: &impl Surface,
) -> Result<Wound, NotSnapped> {
    Seen::with_step(near, options, ROUGH_STEP_MM, surface).wound(options)
}

/// From where to where the paper around is looked at, mm.
fn paper_ring(options: &SnapOptions) -> (f64, f64) {
    (
        options.search_mm + PAPER_MM.0,
        options.search_mm + PAPER_MM.1,
    )
}

/// One centre and radius, weighed.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Place {
    centre: PointMm,
    radius_mm: f64,
    score: f64,
    open: f64,
    /// Score with what was known before, nats.
    log: f64,
}

/// Every likely centre and radius, and the likeliest.
struct Weighed {
    places: Vec<Place>,
    peak: Place,
}

impl Weighed {
    fn near(tap: PointMm, options: &SnapOptions, step_mm: f64, evidence: &Evidence) -> Self {
        let sizes = sizes(tap, options.shaft_mm, evidence.inside.grid());
        let weigh = |row: i32, column: i32| -> Vec<Place> {
            let away = PointMm::new(f64::from(column) * step_mm, f64::from(row) * step_mm);
            if away.norm_mm() > options.search_mm {
                return Vec::new();
            }
            let known = -0.5 * (away.norm_mm() / options.tap_sd_mm).powi(2);
            // The map has this step too, and its rows run down.
            let by = (column as isize, -row as isize);
            let at = |size: &Size| {
                let (score, open) = size.score(evidence, by);
                Place {
                    centre: tap + away,
                    radius_mm: size.radius_mm,
                    score,
                    open,
                    log: score + known + size.usual,
                }
            };
            sizes.iter().map(at).collect()
        };
        let reach = (options.search_mm / step_mm / f64::from(COARSE)).floor() as i32;
        let cells = (-reach..=reach).flat_map(|y| (-reach..=reach).map(move |x| (y, x)));
        let coarse: Vec<((i32, i32), f64)> = cells
            .map(|(y, x)| {
                let best = likeliest(&weigh(y * COARSE, x * COARSE));
                ((y, x), best.map_or(f64::MIN, |p| p.log))
            })
            .collect();
        let best = coarse.iter().fold(f64::MIN, |best, cell| best.max(cell.1));
        let worth = coarse.into_iter().filter(|cell| cell.1 > best - HOPELESS);
        let places: Vec<Place> = worth
            .flat_map(|((y, x), _)| {
                let beside = (0..COARSE).flat_map(|j| (0..COARSE).map(move |i| (j, i)));
                beside.map(move |(j, i)| (y * COARSE + j, x * COARSE + i))
            })
            .flat_map(|(row, column)| weigh(row, column))
            .collect();
        let nothing = Place {
            centre: tap,
            radius_mm: USUAL_MM,
            score: 0.0,
            open: 0.0,
            log: f64::MIN,
        };
        let peak = likeliest(&places).unwrap_or(nothing);
        Self { places, peak }
    }

    /// Mean and spread of the distribution; `None` where it is too wide for one hole.
    fn wound(&self, tone: HoleTone) -> Option<Wound> {
        let weight = |p: &Place| (p.log - self.peak.log).exp();
        let whole: f64 = self.places.iter().map(weight).sum();
        let mean = |of: &dyn Fn(&Place) -> f64| {
            self.places.iter().map(|p| weight(p) * of(p)).sum::<f64>() / whole
        };
        let centre = PointMm::new(mean(&|p| p.centre.x_mm), mean(&|p| p.centre.y_mm));
        let variance = mean(&|p| 0.5 * (p.centre - centre).norm_mm().powi(2));
        (variance.sqrt() <= MOST_SD_MM).then(|| Wound {
            centre,
            radius_mm: mean(&|p| p.radius_mm),
            sd_mm: variance.sqrt(),
            score: self.peak.score,
            open: self.peak.open,
            tone,
        })
    }
}

fn likeliest(places: &[Place]) -> Option<Place> {
    places
        .iter()
        .copied()
        .max_by(|a, b| a.log.total_cmp(&b.log))
}

/// A radius to weigh, with the discs it is weighed over around the tap.
struct Size {
    radius_mm: f64,
    /// What is known of it, nats.
    usual: f64,
    inside: Disc,
    wound: Disc,
    beyond: (Disc, Disc),
}

fn sizes(tap: PointMm, shaft_mm: Option<f64>, grid: &Grid) -> Vec<Size> {
    let size = |radius_mm: f64, middle_mm: f64, spread: f64| Size {
        radius_mm,
        usual: -0.5 * ((radius_mm / middle_mm).ln() / spread).powi(2),
        inside: grid.disc(tap, radius_mm - INSIDE_MM),
        wound: grid.disc(tap, radius_mm + WOUND_MM),
        beyond: (
            grid.disc(tap, radius_mm + BEYOND_MM.0),
            grid.disc(tap, radius_mm + BEYOND_MM.1),
        ),
    };
    match shaft_mm {
        Some(shaft) => SHAFT_SHARES
            .map(|share| size(share * shaft / 2.0, shaft / 2.0, SHAFT_SPREAD))
            .into(),
        None => RADII_MM.map(|r| size(r, USUAL_MM, USUAL_SPREAD)).into(),
    }
}

impl Size {
    /// How much the picture speaks for a hole moved by whole cells from the tap, nats, and how much
    /// of it is open.
    fn score(&self, evidence: &Evidence, by: (isize, isize)) -> (f64, f64) {
        let open = evidence.inside.mean(&self.inside, by);
        let wound = evidence.unlike.mean(&self.wound, by);
        let (inner, outer) = &self.beyond;
        let beyond = evidence.inside.mean_between(inner, outer, by);
        let (a, b, c) = WEIGHTS;
        (a * open + b * wound + c * beyond, open)
    }
}

#[cfg(test)]
#[path = "wound_tests.rs"]
mod tests;
