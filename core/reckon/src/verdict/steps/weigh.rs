//! The expected value of each next step, two steps ahead (preposterior analysis; Raiffa and
//! Schlaifer, Applied Statistical Decision Theory, 1961; from memory). What a round of arrows brings
//! over staying, without its price, is its expected value of sample information.
//!
//! A step (a fitting, a place of the rest, a round of arrows) is carried out, three and three are
//! shot, and then the best further step, or none, is taken on what they showed. Its value is the
//! loss that is expected to be left then, plus the price of the work of both steps. So a swap is
//! weighed by what it is expected to leave *and* by what it teaches, and the rest, the spacers and
//! further arrows stand in one table.
//!
//! For each result that may come, the response's weights and the Gaussian rest are updated in
//! closed form. A result is taken from the response's own groups, so that a step whose outcome
//! hangs on the response is met by results as spread as that.

use crate::evidence::{Belief, Predictive, Probe};
use crate::frame::ArrowKind;
use crate::split::normal_inflation;
use crate::units::TWENTY_YARDS_M;
use crate::verdict::limits::FEWEST;
use crate::verdict::seen::loss::Curve;
use crate::verdict::{Aim, Settings};

/// Points of the response that stand for its distribution.
const RESPONSES: usize = 16;
/// Groups of them that results are drawn from.
const GROUPS: usize = 5;
/// Gauss-Hermite nodes (in standard deviations) and weights: three points for a group,
const GROUP_NODES: [(f64, f64); 2] = [(0.0, 2.0 / 3.0), (1.732_050_807_568_877_2, 1.0 / 6.0)];
/// and seven where the response makes no difference (Abramowitz and Stegun 1964, table 25.10).
const WHOLE_NODES: [(f64, f64); 4] = [
    (0.0, 0.457_142_857_142_857_1),
    (1.154_405_394_739_968, 0.240_123_178_605_012_7),
    (2.366_759_410_734_541, 0.030_757_123_967_586_5),
    (3.750_439_717_725_742, 0.000_548_268_855_972_218),
];
/// Where all results together vary by less than this many times what one response leaves open, one normal
/// stands for them. Chosen by hand; not tuned.
const ONE_NORMAL: f64 = 1.5;
/// Reading of a future face, mm^2.
const READING_MM2: f64 = 0.1;
/// Offsets closer than this are one place, mm.
const SAME_OFFSET_MM: f64 = 1e-9;

/// A place of the rest, with what is expected of every aim there.
#[derive(Debug, Clone)]
pub(crate) struct RestPlace {
    pub(crate) rest_mm: f64,
    predictives: Vec<Predictive>,
}

/// What a step shows: a probe at a distance, and how well.
#[derive(Debug, Clone)]
struct Look {
    predictive: Predictive,
    noise_mm2: f64,
}

/// The table that steps are weighed in.
pub(crate) struct Table<'a> {
    aims: &'a [Aim],
    responses: Vec<f64>,
    weights: Vec<f64>,
    /// Distinct offsets of the nock plane, mm.
    offsets_mm: &'a [f64],
    /// Places of the rest, where it stands first, then those it may be moved to.
    pub(crate) rests: Vec<RestPlace>,
    looks: Vec<Look>,
    press_mm: f64,
    rest_mm: f64,
    round_mm: f64,
}

impl<'a> Table<'a> {
    pub(crate) fn new(
        belief: &Belief,
        aims: &'a [Aim],
        settings: &Settings,
        offsets_mm: &'a [f64],
        rests_mm: &[f64],
    ) -> Self {
        let thin = belief.sideways.response.thinned(RESPONSES);
        let places = std::iter::once(&belief.now.rest_mm).chain(rests_mm);
        let rests: Vec<RestPlace> = places
            .map(|&rest_mm| RestPlace {
                rest_mm,
                predictives: aims
                    .iter()
                    .map(|aim| belief.predictive_at(aim.probe, aim.distance_m, rest_mm))
                    .collect(),
            })
            .collect();
        let first = aims.first();
        let noise_mm2 = first.map_or(1.0, |aim| noise(belief, aim.probe, aim.distance_m, FEWEST));
        let looks = rests
            .iter()
            .filter_map(|rest| {
                Some(Look {
                    predictive: rest.predictives.first()?.clone(),
                    noise_mm2,
                })
            })
            .collect();
        Self {
            aims,
            responses: thin.values,
            weights: thin.weights,
            offsets_mm,
            rests,
            looks,
            press_mm: settings.press_mm(2),
            rest_mm: settings.rest_mm(),
            round_mm: settings.round_mm(2 * FEWEST),
        }
    }

    /// Loss at a place as things are believed now, mm.
    pub(crate) fn loss_mm(&self, rest: usize, offset_mm: f64) -> f64 {
        let mut loss = 0.0;
        for (aim, predictive) in self.aims.iter().zip(&self.rests[rest].predictives) {
            let sd = predictive.var_mm2.sqrt();
            let sum: f64 = self
                .responses
                .iter()
                .zip(&self.weights)
                .map(|(g, weight)| weight * aim.loss.expected(predictive.mean(*g, offset_mm), sd))
                .sum();
            loss += aim.weight * sum;
        }
        loss
    }

    /// What is left after going to a place, shooting there and taking the best further step, mm:
    /// for each offset in turn. The price of going there is not counted.
    pub(crate) fn after_going(&self, rest: usize, offsets_mm: &[f64]) -> Vec<f64> {
        let future = Future::new(self, &self.looks[rest], rest);
        offsets_mm.iter().map(|&at| future.left_mm(at)).collect()
    }

    /// The same of shooting once more with the bow as it stands, mm.
    pub(crate) fn after_shooting(&self, belief: &Belief) -> f64 {
        let left = self.after_going(0, &[belief.now.offset_mm]);
        left.first().copied().unwrap_or(f64::INFINITY)
    }
}

/// Variance of a future split of `each` and `each` arrows (tears: of `each`), mm^2.
fn noise(belief: &Belief, probe: Probe, distance_m: f64, each: u32) -> f64 {
    let scatter = belief.scatter_now();
    let one = |axis: crate::scatter::AxisScatter| axis.sd_mm.powi(2) * normal_inflation(axis.dof);
    if probe == Probe::Paper {
        return one(scatter.tear.x) / f64::from(each);
    }
    let grown = (distance_m / TWENTY_YARDS_M).powi(2);
    let both = one(scatter.kind(probe.arrow()).x) + one(scatter.kind(ArrowKind::Fletched).x);
    both * grown / f64::from(each) + READING_MM2
}

/// What one result changes in one prediction.
struct Update {
    /// mm it moves per mm by which the result misses its own prediction (Kalman's gain).
    gain: f64,
    /// Its loss after.
    after: Curve,
}

/// What can be done after a look: how far each prediction moves with a result, and the loss there.
struct Future<'a> {
    table: &'a Table<'a>,
    look: &'a Look,
    /// Where the rest stands when one looks.
    rest: usize,
    var_mm2: f64,
    /// For each place of the rest and each aim.
    updates: Vec<Vec<Update>>,
}

impl<'a> Future<'a> {
    fn new(table: &'a Table<'a>, look: &'a Look, rest: usize) -> Self {
        let var_mm2 = look.predictive.var_mm2 + look.noise_mm2;
        let learned = |aim: &Aim, other: &Predictive| {
            let covariance: f64 = look
                .predictive
                .half
                .iter()
                .zip(&other.half)
                .map(|(a, b)| a * b)
                .sum();
            let gain = covariance / var_mm2;
            let left = (other.var_mm2 - gain * covariance).max(0.0).sqrt();
            Update {
                gain,
                after: aim.loss.curve(left),
            }
        };
        let of_rest = |place: &RestPlace| {
            let pairs = table.aims.iter().zip(&place.predictives);
            pairs.map(|(aim, other)| learned(aim, other)).collect()
        };
        Self {
            updates: table.rests.iter().map(of_rest).collect(),
            table,
            look,
            rest,
            var_mm2,
        }
    }

    /// Expected loss and price after looking at an offset and taking the best further step, mm.
    fn left_mm(&self, offset_mm: f64) -> f64 {
        let means: Vec<f64> = self
            .table
            .responses
            .iter()
            .map(|&g| self.look.predictive.mean(g, offset_mm))
            .collect();
        let mut total = 0.0;
        for group in self.groups(&means) {
            for &(node, weight) in group.nodes {
                let at = |sds: f64| self.best_mm(offset_mm, &means, group.mean + sds * group.sd);
                // Both sides are added as one: the sum is then the same for mirrored evidence.
                let both = if node == 0.0 {
                    at(0.0)
                } else {
                    at(node) + at(-node)
                };
                total += group.weight * weight * both;
            }
        }
        total
    }

    /// The results that may come, as a few normals.
    fn groups(&self, means: &[f64]) -> Vec<Group> {
        let weights = &self.table.weights;
        let whole = Group::of(0..means.len(), means, weights, self.var_mm2, &WHOLE_NODES);
        // Where the response hardly moves the result, one normal is all there is.
        if whole.sd * whole.sd < ONE_NORMAL * self.var_mm2 {
            return vec![whole];
        }
        let mut groups = Vec::with_capacity(GROUPS + 2);
        let (mut first, mut held) = (0, 0.0);
        for k in 0..means.len() {
            held += weights[k];
            let turns = self.table.responses.get(k + 1).is_none_or(|next| {
                next.is_sign_negative() != self.table.responses[k].is_sign_negative()
            });
            if turns || held >= 1.0 / GROUPS as f64 {
                groups.push(Group::of(
                    first..k + 1,
                    means,
                    weights,
                    self.var_mm2,
                    &GROUP_NODES,
                ));
                (first, held) = (k + 1, 0.0);
            }
        }
        groups
    }

    /// The loss of the best further step after a result, its price included, mm.
    fn best_mm(&self, offset_mm: f64, means: &[f64], result_mm: f64) -> f64 {
        let table = self.table;
        let mut weights: Vec<f64> = table
            .weights
            .iter()
            .zip(means)
            .map(|(weight, mean)| weight * (-0.5 * (result_mm - mean).powi(2) / self.var_mm2).exp())
            .collect();
        let density: f64 = weights.iter().sum();
        if density <= f64::MIN_POSITIVE {
            return self.left_at(self.rest, offset_mm, &table.weights, means, result_mm);
        }
        for weight in &mut weights {
            *weight /= density;
        }
        let left = |rest, offset_mm| self.left_at(rest, offset_mm, &weights, means, result_mm);
        let mut best = left(self.rest, offset_mm);
        let elsewhere = |other: &&f64| (**other - offset_mm).abs() > SAME_OFFSET_MM;
        for &other in table.offsets_mm.iter().filter(elsewhere) {
            best = best.min(left(self.rest, other) + table.press_mm + table.round_mm);
        }
        for rest in (0..table.rests.len()).filter(|rest| *rest != self.rest) {
            best = best.min(left(rest, offset_mm) + table.rest_mm + table.round_mm);
        }
        best
    }

    fn left_at(
        &self,
        rest: usize,
        offset_mm: f64,
        weights: &[f64],
        means: &[f64],
        result_mm: f64,
    ) -> f64 {
        let table = self.table;
        let mut loss = 0.0;
        let predictives = table.rests[rest].predictives.iter();
        for ((aim, predictive), update) in
            table.aims.iter().zip(predictives).zip(&self.updates[rest])
        {
            let mut sum = 0.0;
            for (k, (&g, weight)) in table.responses.iter().zip(weights).enumerate() {
                let mean = predictive.mean(g, offset_mm) + update.gain * (result_mm - means[k]);
                sum += weight * update.after.at(mean);
            }
            loss += aim.weight * sum;
        }
        loss
    }
}

/// Some of the response's points, as one normal of results.
struct Group {
    weight: f64,
    mean: f64,
    sd: f64,
    nodes: &'static [(f64, f64)],
}

impl Group {
    fn of(
        points: std::ops::Range<usize>,
        means: &[f64],
        weights: &[f64],
        var_mm2: f64,
        nodes: &'static [(f64, f64)],
    ) -> Self {
        let weight: f64 = weights[points.clone()].iter().sum();
        let sum = |term: &dyn Fn(f64) -> f64| -> f64 {
            points.clone().map(|k| weights[k] * term(means[k])).sum()
        };
        let mean = sum(&|m| m) / weight;
        let spread = sum(&|m| (m - mean) * (m - mean)) / weight;
        Self {
            weight,
            mean,
            sd: (spread + var_mm2).sqrt(),
            nodes,
        }
    }
}
