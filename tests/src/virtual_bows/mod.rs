//! Virtual bows: drawn from the priors and from worlds the priors do not describe, shot with
//! scatter, and tuned to the end, by the verdict and by the practice it is compared with.

mod bars;
mod bow;
mod calibration;
mod practice;
mod table;
mod tuner;

pub use bars::Bars;
pub use bow::{Bow, Family, World};
pub use calibration::{Class, classes};
pub use practice::{one_step_at_a_time, rest_first};
pub use table::{HEADER, Row, Summary, Way, run_rows};
pub use tuner::{Outcome, Plan, follow_verdicts, relative};

/// The user's tolerance at 20 yd, mm.
pub const TOLERANCE_MM: f64 = 25.0;
/// 20 yd, m.
pub const TWENTY_YD_M: f64 = 18.288;
