//! Evidence: every split and tear of a bow, each with what was fitted and set when it was shot,
//! turned into what is known of the bow's fault and of how it answers its spacers.
//!
//! For trial j of epoch e, probe k, shooter q, distance D, sideways:
//!
//! ```text
//!   s_jk = T_k(D) (fault_e + response (n_j - n_e0) + rest_response (r_j - r_e0) + extra_k + grip_q)
//!          + angle part + scatter
//! ```
//!
//! `n_j` is the nock-plane offset (mm, positive right), `r_j` the rest's place, and `n_e0`, `r_e0` are
//! where the epoch's first trial found them: nobody knows where a bow's true middle is, so the fault
//! is that of the bow as it came in. While nothing varied, exactly nothing is learned of a response,
//! and one constant added to every offset changes nothing. The response is SIGNED: positive where
//! cams moved LEFT bring a bare shaft that lands RIGHT back, as most of the trade teaches. Given the
//! response everything is Gaussian and integrated in closed form; the response itself stands on a
//! signed, log-spaced grid. No sampling: the same evidence gives the same answer, in any order, and
//! mirrored evidence gives exactly the mirrored answer.
//!
//! Where this goes beyond the plain formula, and why:
//! - Yaw angle and yaw rate are two unknowns per epoch with the usual mix as their prior, so that
//!   paper at two distances can tell them apart without leaving the closed form.
//! - The model error of 25 % per doubling is one error of the distance law per bow, not fresh noise
//!   per trial: twenty trials at 40 m do not average it away, a trial at 20 m does measure it.
//! - The rest's response belongs to the bow, like the spacers', and is carried across epochs.
//! - Two probes shot against one reference group share its scatter; the pair is decorrelated.

mod belief;
#[cfg(test)]
mod belief_laws;
mod design;
mod family;
mod grid;
mod height;
mod known;

#[cfg(test)]
mod laws;
mod layout;
mod linear;
mod mixture;
mod normal;
mod observe;
mod parabola;
mod posterior;
pub mod priors;
mod scatter;
mod seen;
mod transfer;
mod types;

pub use crate::frame::Probe;
pub use crate::split::FaceAccuracy;
pub use observe::{SAME_M, splits_of};
pub use types::{Relative, RememberedSwap, Shot, TrialEvidence};

pub(crate) use belief::Belief;
pub(crate) use design::Aside;
pub(crate) use known::{Known, Now, Remembered};
pub(crate) use mixture::Mixture;
pub(crate) use normal::{above, expected_beyond, expected_excess, within};
pub(crate) use observe::{Observation, SAME_MM};
pub(crate) use posterior::Predictive;
pub(crate) use scatter::Scatter;
pub(crate) use seen::{Seen, canonical};
