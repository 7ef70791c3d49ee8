//! Probabilities and quantiles, with arguments kept inside what `statrs` accepts: it panics
//! outside, and a foreign number must never do that.

use statrs::distribution::{ContinuousCDF, FisherSnedecor, StudentsT};

/// Degrees of freedom are kept in this range: below, quantiles overflow; above, the normal
/// distribution is reached to 1e-7.
const DOF: (f64, f64) = (0.05, 1e7);
/// Statistics are kept below this; nothing that scatters reaches it.
const LARGEST: f64 = 1e12;
/// Probabilities are kept this far from 0 and 1.
const EDGE: f64 = 1e-15;

fn dof(value: f64) -> f64 {
    if value.is_nan() {
        DOF.0
    } else {
        value.clamp(DOF.0, DOF.1)
    }
}

fn probability(p: f64) -> f64 {
    if p.is_nan() {
        0.5
    } else {
        p.clamp(EDGE, 1.0 - EDGE)
    }
}

/// Half the width of the 95 % interval of a normal with this standard deviation.
pub fn plus_minus(sd: f64) -> f64 {
    1.959_963_984_540_054 * sd
}

/// The value that Student's `T` with `nu` degrees of freedom stays below with probability `p`.
pub fn t_quantile(p: f64, nu: f64) -> f64 {
    StudentsT::new(0.0, 1.0, dof(nu)).map_or(f64::NAN, |d| d.inverse_cdf(probability(p)))
}

/// Chance of a `|T|` at least this large, Student with `nu` degrees of freedom; 1 for no
/// number.
pub fn t_two_sided_p(t: f64, nu: f64) -> f64 {
    if t.is_nan() {
        return 1.0;
    }
    let t = t.abs().min(LARGEST);
    StudentsT::new(0.0, 1.0, dof(nu)).map_or(1.0, |d| (2.0 * d.cdf(-t)).min(1.0))
}

/// Chance of an `F(nu1, nu2)` at least this large; 1 for no number.
pub fn f_upper_p(f: f64, nu1: f64, nu2: f64) -> f64 {
    if f.is_nan() || f <= 0.0 {
        return 1.0;
    }
    FisherSnedecor::new(dof(nu1), dof(nu2)).map_or(1.0, |d| d.sf(f.min(LARGEST)))
}
