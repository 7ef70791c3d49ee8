//! What is believed of the response before the bow itself has shown it: the trade's prior, narrowed
//! by what other bows of its family have shown.
//!
//! A family's log response is `mu ~ N(log 50, 0.66)`, a bow's own `N(mu, 0.45)`, and a share
//! `w ~ Beta(9, 1)` of its bows answers the usual way. Each relative enters by its own likelihood of
//! the response (a parabola); `mu` stands on a grid, `w` is integrated in closed form.

use statrs::function::beta::ln_beta;

use super::parabola::Parabola;
use super::priors::{
    FAMILY_LOG_SD, FAMILY_RIGHT_WAY, FAMILY_WITHIN_LOG_SD, RESPONSE_LOG_SD, RESPONSE_MEDIAN,
    RESPONSE_RIGHT_WAY, RESPONSE_TAIL_LOG_SD, RESPONSE_TAIL_SHARE,
};

/// Points of the family's log response, over four of its standard deviations on each side.
const FAMILIES: usize = 41;
/// Step of a relative's log response: a fifth of the narrowest likelihood that forty trials make.
const STEP: f64 = 0.02;
/// How far the log response of a relative is followed from the usual.
const REACH: f64 = 6.0;

/// One lognormal part of the prior.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Part {
    log_median: f64,
    log_sd: f64,
    /// Its weight on the side that common practice teaches, and on the other.
    right: f64,
    wrong: f64,
}

/// The response's prior: lognormals on both sides of zero.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct ResponsePrior {
    parts: Vec<Part>,
}

impl ResponsePrior {
    /// What the trade teaches of any bow.
    pub(crate) fn of_the_trade() -> Self {
        let part = |log_sd: f64, share: f64| Part {
            log_median: RESPONSE_MEDIAN.ln(),
            log_sd,
            right: share * RESPONSE_RIGHT_WAY,
            wrong: share * (1.0 - RESPONSE_RIGHT_WAY),
        };
        Self {
            parts: vec![
                part(RESPONSE_LOG_SD, 1.0 - RESPONSE_TAIL_SHARE),
                part(RESPONSE_TAIL_LOG_SD, RESPONSE_TAIL_SHARE),
            ],
        }
    }

    /// The same after what each relative has shown of its own response.
    pub(crate) fn of_family(relatives: &[Parabola]) -> Self {
        if relatives.is_empty() {
            return Self::of_the_trade();
        }
        let shown: Vec<Shown> = relatives.iter().map(Shown::new).collect();
        let middle = (FAMILIES / 2) as f64;
        let mut parts: Vec<Part> = (0..FAMILIES)
            .map(|k| {
                let sds = 4.0 * (k as f64 - middle) / middle;
                let mu = RESPONSE_MEDIAN.ln() + FAMILY_LOG_SD * sds;
                let (right, wrong) = sides(&shown, mu);
                let weight = (-0.5 * sds * sds).exp();
                Part {
                    log_median: mu,
                    log_sd: FAMILY_WITHIN_LOG_SD,
                    right: weight * right,
                    wrong: weight * wrong,
                }
            })
            .collect();
        add_tail(&mut parts);
        Self { parts }
    }

    /// Density of the logarithm of the response's size on one side, up to a constant.
    pub(crate) fn density(&self, log_size: f64, right: bool) -> f64 {
        self.parts
            .iter()
            .map(|part| {
                let weight = if right { part.right } else { part.wrong };
                weight * normal(log_size, part.log_median, part.log_sd)
            })
            .sum()
    }
}

/// Weights brought to sum one, with the wide tail of bows unlike any other.
fn add_tail(parts: &mut Vec<Part>) {
    let sum = |of: fn(&Part) -> f64| parts.iter().map(of).sum::<f64>();
    let (right, wrong) = (sum(|part| part.right), sum(|part| part.wrong));
    let (total, share) = (right + wrong, 1.0 - RESPONSE_TAIL_SHARE);
    for part in parts.iter_mut() {
        part.right *= share / total;
        part.wrong *= share / total;
    }
    parts.push(Part {
        log_median: RESPONSE_MEDIAN.ln(),
        log_sd: RESPONSE_TAIL_LOG_SD,
        right: RESPONSE_TAIL_SHARE * right / total,
        wrong: RESPONSE_TAIL_SHARE * wrong / total,
    });
}

/// Normal density without its constant.
fn normal(x: f64, mean: f64, sd: f64) -> f64 {
    (-0.5 * ((x - mean) / sd).powi(2)).exp() / sd
}

/// What a relative showed: its likelihood at each log response on both sides, scaled to a peak of 1.
struct Shown {
    right: Vec<f64>,
    wrong: Vec<f64>,
}

fn log_sizes() -> impl Iterator<Item = f64> {
    let points = (2.0 * REACH / STEP) as usize;
    (0..=points).map(|k| RESPONSE_MEDIAN.ln() - REACH + STEP * k as f64)
}

impl Shown {
    fn new(parabola: &Parabola) -> Self {
        let side =
            |sign: f64| -> Vec<f64> { log_sizes().map(|u| parabola.at(sign * u.exp())).collect() };
        let (mut right, mut wrong) = (side(1.0), side(-1.0));
        let both = right.iter().chain(&wrong);
        let peak = both.copied().fold(f64::NEG_INFINITY, f64::max);
        for log in right.iter_mut().chain(&mut wrong) {
            *log = (*log - peak).exp();
        }
        Self { right, wrong }
    }

    /// Likelihood of a family whose log response is `mu`, for a bow that answers each way.
    fn of_family(&self, mu: f64) -> (f64, f64) {
        let (mut right, mut wrong) = (0.0, 0.0);
        for (u, (r, w)) in log_sizes().zip(self.right.iter().zip(&self.wrong)) {
            let own = (1.0 - RESPONSE_TAIL_SHARE) * normal(u, mu, FAMILY_WITHIN_LOG_SD);
            let tail = RESPONSE_TAIL_SHARE * normal(u, RESPONSE_MEDIAN.ln(), RESPONSE_TAIL_LOG_SD);
            right += (own + tail) * r;
            wrong += (own + tail) * w;
        }
        (right * STEP, wrong * STEP)
    }
}

/// Likelihood of all relatives and this bow's own way, for a family's log response: the share `w`
/// integrated over its Beta prior, term by term of the product `(w R + (1 - w) W)`.
fn sides(shown: &[Shown], mu: f64) -> (f64, f64) {
    // terms[a]: sum over the ways in which `a` of the relatives answer as usual.
    let mut terms = vec![1.0];
    for one in shown {
        let (right, wrong) = one.of_family(mu);
        let mut next = vec![0.0; terms.len() + 1];
        for (a, term) in terms.iter().enumerate() {
            next[a] += term * wrong;
            next[a + 1] += term * right;
        }
        terms = next;
    }
    let (alpha, beta) = FAMILY_RIGHT_WAY;
    let count = shown.len() as f64;
    let weigh = |term: &f64, a: usize, right: f64, wrong: f64| {
        term * ln_beta(alpha + a as f64 + right, beta + count - a as f64 + wrong).exp()
    };
    let sum = |right: f64, wrong: f64| {
        let all = terms.iter().enumerate();
        all.map(|(a, term)| weigh(term, a, right, wrong)).sum()
    };
    (sum(1.0, 0.0), sum(0.0, 1.0))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A relative that showed nothing leaves the family's own law: the spread of families and of bows
    /// within one together, and the usual way as often as its Beta distribution says.
    #[test]
    fn a_relative_that_showed_nothing_teaches_nothing() {
        let nothing = Parabola {
            linear: 0.0,
            curvature: 0.0,
        };
        let mut parts = ResponsePrior::of_family(&[nothing]).parts;
        parts.pop();
        let weight = |part: &Part| part.right + part.wrong;
        let total: f64 = parts.iter().map(weight).sum();
        let mean_of = |of: &dyn Fn(&Part) -> f64| -> f64 {
            parts
                .iter()
                .map(|part| weight(part) * of(part))
                .sum::<f64>()
                / total
        };
        let mean = mean_of(&|part| part.log_median);
        let spread = mean_of(&|part| (part.log_median - mean).powi(2) + part.log_sd.powi(2));
        let law = FAMILY_LOG_SD.powi(2) + FAMILY_WITHIN_LOG_SD.powi(2);
        assert!((mean - RESPONSE_MEDIAN.ln()).abs() < 1e-9, "{mean}");
        assert!((spread / law - 1.0).abs() < 0.01, "{spread} {law}");
        let (alpha, beta) = FAMILY_RIGHT_WAY;
        let usual = parts.iter().map(|part| part.right).sum::<f64>() / total;
        assert!((usual - alpha / (alpha + beta)).abs() < 1e-9, "{usual}");
    }

    /// A relative that surely answers 8 mm per mm: either an ordinary bow of a weak family or one unlike
    /// any other, which says nothing of its family. Each is a conjugate normal, and both weigh as their
    /// marginal likelihoods do (Murphy, Conjugate Bayesian analysis of the Gaussian distribution, 2007,
    /// section 2; from memory).
    #[test]
    fn a_relative_unlike_its_family_teaches_as_much_as_it_may_be_an_ordinary_one() {
        let (mm_per_mm, sd) = (8.0_f64, 0.4);
        let shown = Parabola {
            linear: mm_per_mm / (sd * sd),
            curvature: 1.0 / (sd * sd),
        };
        let log = (mm_per_mm / RESPONSE_MEDIAN).ln();
        let (family, within) = (FAMILY_LOG_SD.powi(2), FAMILY_WITHIN_LOG_SD.powi(2));
        let normal = |var: f64| (-0.5 * log * log / var).exp() / var.sqrt();
        let ordinary = (1.0 - RESPONSE_TAIL_SHARE) * normal(family + within);
        let unlike = RESPONSE_TAIL_SHARE * normal(RESPONSE_TAIL_LOG_SD.powi(2));
        let share = ordinary / (ordinary + unlike);
        let expected = share * log * family / (family + within);

        let mut parts = ResponsePrior::of_family(&[shown]).parts;
        parts.pop();
        let total: f64 = parts.iter().map(|part| part.right).sum();
        let learned = |part: &Part| part.right * (part.log_median - RESPONSE_MEDIAN.ln());
        let found = parts.iter().map(learned).sum::<f64>() / total;
        assert!((found - expected).abs() < 0.02, "{found} {expected}");
    }
}
