//! Statistics that the `statrs` crate does not have: summaries and least
//! squares. The distributions themselves come from `statrs`.

mod describe;
mod distributions;
mod least_squares;
mod median;

pub use describe::{covariance, mean};
pub use distributions::{f_upper_p, plus_minus, t_quantile, t_two_sided_p};
pub use least_squares::{Fit, least_squares};

pub(crate) use median::{SD_PER_MEDIAN, median};
