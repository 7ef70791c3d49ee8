//! Statistics that the `statrs` crate does not have: summaries, two-sample tests, a flier test
//! and least squares. The distributions themselves come from `statrs`.

mod compare;
mod describe;
mod distributions;
mod least_squares;

pub use compare::{TTest, VectorTest, hotelling_pooled, hotelling_unequal, vector_test, welch};
pub use describe::{Summary, autocorrelation, c4, covariance, mean};
pub use distributions::{
    chi2_quantile, f_quantile, f_upper_p, grubbs_critical, normal_cdf, t_cdf, t_quantile,
    t_two_sided_p,
};
pub use least_squares::{Fit, least_squares};
