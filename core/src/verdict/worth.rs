//! What further arrows are worth: the expected drop of the best choice's loss.
//!
//! For each number of arrows the result that may come is integrated over its predictive
//! distribution; for each result the response's weights and the Gaussian rest are updated in closed
//! form, and the best fitting is chosen again. Arrows are worth shooting when that saves more than
//! they and the round they are shot in cost.

use crate::evidence::{Belief, Outlook, Probe, expected_size};
use crate::frame::ArrowKind;

use super::{Aim, Ballot, Settings};

/// Numbers of arrows of each kind that are considered, the most first.
const COUNTS: [u32; 4] = [6, 4, 3, FEWEST_MORE];
/// The smallest of them.
const FEWEST_MORE: u32 = 2;
/// Points of the response that stand for its distribution.
const RESPONSES: usize = 16;
/// Places of a future result, in predictive standard deviations from its mean (both sides).
const RESULTS: [f64; 5] = [0.0, 0.6, 1.2, 1.9, 2.7];
/// Reading of a future face, mm^2.
const READING_MM2: f64 = 0.1;

/// A proposal to shoot more.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Proposal {
    pub(crate) probe: Probe,
    pub(crate) arrows_each: u32,
    pub(crate) distance_m: f64,
    /// Expected saving before the price of round and arrows, mm.
    pub(crate) saving_mm: f64,
    /// Saving after it, mm.
    pub(crate) net_mm: f64,
}

/// The best proposal among numbers and distances, if any saves more than it costs.
pub(crate) fn best_proposal(
    belief: &Belief,
    aims: &[Aim],
    ballot: &Ballot,
    settings: &Settings,
) -> Option<Proposal> {
    let aim = aims.first().filter(|aim| aim.probe != Probe::Paper)?;
    let future = Future::new(belief, aims, ballot);
    let price_mm = |arrows_each: u32| {
        settings.price_per_round_mm + settings.price_per_arrow_mm * f64::from(2 * arrows_each)
    };
    let mut best: Option<Proposal> = None;
    for distance_m in distances(belief, settings.tolerance_distance_m) {
        let outlook = belief.outlook(aim.probe, distance_m);
        // More arrows save more: where the most of them save too little, fewer need not be tried.
        for arrows_each in COUNTS {
            let noise_mm2 = noise(belief, aim.probe, distance_m, arrows_each);
            let saving_mm = future.saving_mm(&outlook, noise_mm2);
            if saving_mm <= price_mm(FEWEST_MORE) {
                break;
            }
            let net_mm = saving_mm - price_mm(arrows_each);
            if net_mm > best.map_or(0.0, |best| best.net_mm) {
                best = Some(Proposal {
                    probe: aim.probe,
                    arrows_each,
                    distance_m,
                    saving_mm,
                    net_mm,
                });
            }
        }
    }
    best
}

/// The distance that matters, and the first other one that was shot at.
fn distances(belief: &Belief, target_m: f64) -> Vec<f64> {
    let mut all = vec![target_m];
    for observation in &belief.observations {
        let new = !all
            .iter()
            .any(|known| (known - observation.distance_m).abs() < 0.5);
        if new && observation.probe != Probe::Paper && all.len() < 2 {
            all.push(observation.distance_m);
        }
    }
    all
}

fn noise(belief: &Belief, probe: Probe, distance_m: f64, arrows: u32) -> f64 {
    let own = belief.scatter.of_arrow(probe.arrow(), distance_m).0;
    let reference = belief.scatter.of_arrow(ArrowKind::Fletched, distance_m).0;
    (own + reference) / f64::from(arrows) + READING_MM2
}

/// What must be known to choose again after a result.
struct Future<'a> {
    offset_now_mm: f64,
    responses: Vec<f64>,
    weights: Vec<f64>,
    aims: &'a [Aim],
    ballot: &'a Ballot,
    /// Lowest price of each distinct offset, mm.
    price_mm: Vec<f64>,
}

impl<'a> Future<'a> {
    fn new(belief: &Belief, aims: &'a [Aim], ballot: &'a Ballot) -> Self {
        let thin = belief.sideways.response.thinned(RESPONSES);
        let mut price_mm = vec![f64::INFINITY; ballot.offsets_mm.len()];
        for (place, price) in ballot.place.iter().zip(&ballot.price_mm) {
            price_mm[*place] = price_mm[*place].min(*price);
        }
        Self {
            offset_now_mm: belief.now.offset_mm,
            responses: thin.values,
            weights: thin.weights,
            aims,
            ballot,
            price_mm,
        }
    }

    fn saving_mm(&self, shot: &Outlook, noise_mm2: f64) -> f64 {
        let now_mm = self.best_mm(&self.weights, None);
        let var_mm2 = shot.var_mm2 + noise_mm2;
        let means: Vec<f64> = self
            .responses
            .iter()
            .map(|&g| shot.mean(g, self.offset_now_mm))
            .collect();
        let mean = sum(&self.weights, &means, |m| m);
        let sd = (sum(&self.weights, &means, |m| (m - mean) * (m - mean)) + var_mm2).sqrt();
        let (mut total, mut after) = (0.0, 0.0);
        for (k, &z) in RESULTS.iter().enumerate() {
            let width = spacing(k);
            // Both sides are added as one: the sum is then the same for mirrored evidence.
            let right = self.branch(shot, &means, var_mm2, mean + z * sd);
            let left = self.branch(shot, &means, var_mm2, mean - z * sd);
            total += width * (right.0 + left.0);
            after += width * (right.0 * right.1 + left.0 * left.1);
        }
        (now_mm - after / total).max(0.0)
    }

    /// Density of a result, and the best loss after it.
    fn branch(&self, shot: &Outlook, means: &[f64], var_mm2: f64, result_mm: f64) -> (f64, f64) {
        let mut weights: Vec<f64> = self
            .weights
            .iter()
            .zip(means)
            .map(|(weight, mean)| weight * (-0.5 * (result_mm - mean).powi(2) / var_mm2).exp())
            .collect();
        let density: f64 = weights.iter().sum();
        if density <= f64::MIN_POSITIVE {
            return (0.0, 0.0);
        }
        for weight in &mut weights {
            *weight /= density;
        }
        let learned = Learned {
            shot,
            means,
            var_mm2,
            result_mm,
        };
        (density, self.best_mm(&weights, Some(&learned)))
    }

    fn best_mm(&self, weights: &[f64], learned: Option<&Learned>) -> f64 {
        let mut losses = self.price_mm.clone();
        for aim in self.aims {
            let (pull, sd) = learned.map_or((0.0, aim.outlook.var_mm2.sqrt()), |learned| {
                learned.on(&aim.outlook)
            });
            for (loss, &offset_mm) in losses.iter_mut().zip(&self.ballot.offsets_mm) {
                let mut size = 0.0;
                for (k, (&response, weight)) in self.responses.iter().zip(weights).enumerate() {
                    let moved = learned
                        .map_or(0.0, |learned| pull * (learned.result_mm - learned.means[k]));
                    size +=
                        weight * expected_size(aim.outlook.mean(response, offset_mm) + moved, sd);
                }
                *loss += aim.weight * size;
            }
        }
        losses.into_iter().fold(f64::INFINITY, f64::min)
    }
}

/// A result that came.
struct Learned<'a> {
    shot: &'a Outlook,
    means: &'a [f64],
    var_mm2: f64,
    result_mm: f64,
}

impl Learned<'_> {
    /// How much another prediction moves per mm of surprise, and its standard deviation after.
    fn on(&self, other: &Outlook) -> (f64, f64) {
        let covariance: f64 = self
            .shot
            .half
            .iter()
            .zip(&other.half)
            .map(|(a, b)| a * b)
            .sum();
        let pull = covariance / self.var_mm2;
        (pull, (other.var_mm2 - pull * covariance).max(0.0).sqrt())
    }
}

/// Width of the strip that a result stands for; the middle one is counted from both sides.
fn spacing(k: usize) -> f64 {
    let at = |k: usize| RESULTS[k.min(RESULTS.len() - 1)];
    0.5 * (at(k + 1) - at(k.saturating_sub(1)))
}

fn sum(weights: &[f64], values: &[f64], term: impl Fn(f64) -> f64) -> f64 {
    weights
        .iter()
        .zip(values)
        .map(|(weight, &value)| weight * term(value))
        .sum()
}
