//! What evidence says of the response, given which everything else is Gaussian.

use super::priors::SIDES_MIXED_UP;

/// What evidence says of the response: its log-likelihood is `linear g - curvature g^2 / 2`.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct Parabola {
    pub(crate) linear: f64,
    pub(crate) curvature: f64,
}

impl Parabola {
    /// Log-likelihood of a response.
    pub(crate) fn at(&self, response: f64) -> f64 {
        response * (self.linear - 0.5 * self.curvature * response)
    }

    /// Log-likelihood of a response by the memory of someone who may have mixed up the sides.
    pub(crate) fn as_remembered(&self, response: f64) -> f64 {
        let (so, otherwise) = (self.at(response), self.at(-response));
        let most = so.max(otherwise);
        let sum =
            (1.0 - SIDES_MIXED_UP) * (so - most).exp() + SIDES_MIXED_UP * (otherwise - most).exp();
        most + sum.ln()
    }
}
