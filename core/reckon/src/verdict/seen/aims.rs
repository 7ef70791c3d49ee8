//! What should come together, and how much each of it weighs.

use crate::evidence::{Belief, Predictive, Probe, SAME_M, Seen, Shot};
use crate::split::Split;
use crate::units::MM_PER_INCH;
use crate::verdict::limits::{ALIKE_SDS, ENOUGH, LIKELY, SETTLED};
use crate::verdict::{Predicted, Settings};

use super::loss::Loss;
use super::splits::{as_it_stands, is_surely_out, standing, stands};

/// Paper is predicted at this distance when none was shot, m. Common practice, no source.
pub(crate) const USUAL_PAPER_M: f64 = 2.0;
/// Each later probe of the priority weighs this much of the one before it. Chosen by hand; not tuned.
const NEXT_WEIGHS: f64 = 0.5;
/// Beside faces paper is a diagnostic: only a tear beyond half an inch counts (common practice, no
/// source).
pub(crate) const TEAR_COUNTS_MM: f64 = 0.5 * MM_PER_INCH;

/// One probe of the priority that evidence reaches.
#[derive(Debug, Clone)]
pub(crate) struct Aim {
    pub(crate) probe: Probe,
    pub(crate) distance_m: f64,
    pub(crate) tolerance_mm: f64,
    /// Its share of the loss, turned into mm of face split.
    pub(crate) weight: f64,
    pub(crate) loss: Loss,
    /// With the rest where it stands.
    pub(crate) predictive: Predictive,
    /// Whether the bow is settled only once this probe is inside tolerance.
    pub(crate) settles: bool,
}

/// The probes of the priority that have been shot in this epoch, most important first, paper last
/// where a face was shot; where none has, the first of the priority. One that leads goes before all others.
pub(crate) fn aims(belief: &Belief, settings: &Settings) -> Vec<Aim> {
    let mut probes: Vec<Probe> = Vec::new();
    for &probe in &settings.priority {
        if shot(belief, probe) && !probes.contains(&probe) {
            probes.push(probe);
        }
    }
    if probes.is_empty() {
        probes.extend(settings.priority.first());
    }
    let faces = probes.iter().any(|probe| *probe != Probe::Paper);
    probes.sort_by_key(|probe| faces && *probe == Probe::Paper);
    let shares: Vec<f64> = (0..probes.len())
        .map(|k| NEXT_WEIGHS.powi(k as i32))
        .collect();
    let total: f64 = shares.iter().sum();
    let mut aims: Vec<Aim> = probes
        .into_iter()
        .zip(shares)
        .map(|(probe, share)| aim(belief, settings, probe, share / total, faces))
        .collect();
    let lead = leading(belief, &aims);
    if lead > 0 {
        aims[..=lead].rotate_right(1);
    }
    aims
}

/// Place of the aim that leads: what a step is for, what is told of it and what is shot after it. The most important one that
/// is more likely out than in, else that is not settled yet: nobody moves a bow for what is already in.
fn leading(belief: &Belief, aims: &[Aim]) -> usize {
    let chances: Vec<f64> = aims.iter().map(|aim| chance_inside(belief, aim)).collect();
    let below = |most: f64| {
        let mut places = 0..aims.len();
        places.find(|place| aims[*place].settles && chances[*place] < most)
    };
    below(LIKELY).or_else(|| below(SETTLED)).unwrap_or(0)
}

/// Distance at which a face probe is tuned, m: where the user wants it, or farther away where it was shot surely outside of
/// what is allowed there, as one fault of the bow makes it. A split grows faster than the distance, so a bow that is in
/// where it counts may have to be tuned where it is not.
fn face_m(belief: &Belief, settings: &Settings, probe: Probe) -> f64 {
    let wanted_m = settings.tolerance_distance_m;
    let splits = standing(belief, probe);
    let shot_there = splits
        .iter()
        .any(|split| (split.distance_m - wanted_m).abs() <= SAME_M);
    let mut farther = splits.iter().rev();
    let out = farther.find(|split| {
        let farther = split.distance_m > wanted_m + SAME_M;
        let enough = split.n_probe.min(split.n_reference) >= ENOUGH;
        farther && enough && is_surely_out(split, settings) && is_one_fault(belief, split)
    });
    let out = out.filter(|_| shot_there);
    out.map_or(wanted_m, |split| split.distance_m)
}

/// Whether every round that makes up a split with the bow as it stands is what all others let expect.
fn is_one_fault(belief: &Belief, split: &Split) -> bool {
    let sizes = belief.leave_one_out_residuals().into_iter();
    let rounds = belief.observations.iter().zip(sizes);
    let mut rounds = rounds.filter(|(one, _)| {
        let of_it = one.split.probe == split.probe
            && (one.split.distance_m - split.distance_m).abs() <= SAME_M;
        of_it && as_it_stands(belief, one)
    });
    rounds.all(|(_, sds)| sds <= ALIKE_SDS)
}

fn aim(belief: &Belief, settings: &Settings, probe: Probe, share: f64, faces: bool) -> Aim {
    let aside = faces && probe == Probe::Paper;
    let distance_m = match probe {
        Probe::Paper => paper_m(belief),
        Probe::Bare | Probe::Broadhead => face_m(belief, settings, probe),
    };
    let tolerance_mm = settings.allowed_mm(probe, distance_m);
    let loss = if aside {
        Loss {
            flat_mm: TEAR_COUNTS_MM.max(tolerance_mm),
            tolerance_mm: TEAR_COUNTS_MM.max(tolerance_mm),
        }
    } else {
        Loss::of_tolerance(tolerance_mm)
    };
    Aim {
        probe,
        distance_m,
        tolerance_mm,
        weight: share * settings.tolerance_mm / loss.tolerance_mm,
        loss,
        predictive: belief.predictive(probe, distance_m),
        settles: !aside || settings.paper_first(),
    }
}

/// Chance to be inside tolerance of one probe, all as it stands.
pub(crate) fn chance_inside(belief: &Belief, aim: &Aim) -> f64 {
    let mixture = belief
        .sideways
        .mixture(&aim.predictive, belief.now.offset_mm);
    mixture.within(aim.tolerance_mm)
}

/// The aim that is least likely to be inside tolerance of those that settle the bow, and its chance.
pub(crate) fn least_likely<'a>(belief: &Belief, aims: &'a [Aim]) -> Option<(&'a Aim, f64)> {
    let aims = aims.iter().filter(|aim| aim.settles);
    let chances = aims.map(|aim| (aim, chance_inside(belief, aim)));
    chances.min_by(|a, b| a.1.total_cmp(&b.1))
}

/// Whether the probe has been shot in the present epoch.
pub(crate) fn shot(belief: &Belief, probe: Probe) -> bool {
    belief.observations.iter().any(|observation| {
        observation.split.probe == probe
            && belief.seen[observation.trial].trial.epoch == belief.now.epoch
    })
}

/// The farthest paper distance that was shot with the bow as it stands, else since the last change of parts, else before it (it
/// moves least with the distance), else the usual.
fn paper_m(belief: &Belief) -> f64 {
    let farthest = |counts: &dyn Fn(&Seen) -> bool| {
        let trials = belief.seen.iter().filter(|seen| counts(seen));
        let distances = trials.filter_map(|seen| match seen.trial.shot {
            Shot::Paper { paper_m, .. } => Some(paper_m),
            Shot::Face { .. } => None,
        });
        distances.reduce(f64::max)
    };
    let of_now = |seen: &Seen| seen.trial.epoch == belief.now.epoch;
    farthest(&|seen| stands(belief, seen))
        .or_else(|| farthest(&of_now))
        .or_else(|| farthest(&|_| true))
        .unwrap_or(USUAL_PAPER_M)
}

impl Aim {
    /// The same at another distance of its faces.
    pub(crate) fn at(&self, belief: &Belief, distance_m: f64) -> Self {
        let tolerance_mm = self.tolerance_mm * distance_m / self.distance_m;
        Self {
            distance_m,
            tolerance_mm,
            loss: Loss::of_tolerance(tolerance_mm),
            predictive: belief.predictive(self.probe, distance_m),
            ..self.clone()
        }
    }

    /// What is expected at an offset, the rest where it stands.
    pub(crate) fn predicted(&self, belief: &Belief, offset_mm: f64) -> Predicted {
        self.predicted_of(belief, &self.predictive, offset_mm)
    }

    /// What is expected at an offset with the rest at `rest_mm`.
    pub(crate) fn predicted_at(&self, belief: &Belief, rest_mm: f64, offset_mm: f64) -> Predicted {
        let predictive = belief.predictive_at(self.probe, self.distance_m, rest_mm);
        self.predicted_of(belief, &predictive, offset_mm)
    }

    /// Loss that is expected at an offset, the rest where it stands, mm.
    pub(crate) fn left_mm(&self, belief: &Belief, offset_mm: f64) -> f64 {
        let mixture = belief.sideways.mixture(&self.predictive, offset_mm);
        let each = mixture.means.iter().zip(&mixture.weights);
        each.map(|(mean, weight)| weight * self.loss.expected(*mean, mixture.sd))
            .sum()
    }

    fn predicted_of(&self, belief: &Belief, predictive: &Predictive, offset_mm: f64) -> Predicted {
        let mixture = belief.sideways.mixture(predictive, offset_mm);
        let (low80_mm, high80_mm) = mixture.interval(0.10);
        let (low95_mm, high95_mm) = mixture.interval(0.025);
        Predicted {
            kind: self.probe,
            distance_m: self.distance_m,
            x_mm: mixture.mean(),
            sd_mm: mixture.sd(),
            low80_mm,
            high80_mm,
            low95_mm,
            high95_mm,
            within_tolerance: mixture.within(self.tolerance_mm),
        }
    }
}
