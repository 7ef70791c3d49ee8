//! What evidence says of the response, given which everything else is Gaussian.

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

    /// Both pieces of evidence together.
    pub(crate) fn with(self, other: Self) -> Self {
        Self {
            linear: self.linear + other.linear,
            curvature: self.curvature + other.curvature,
        }
    }
}
