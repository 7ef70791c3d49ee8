//! A swap under way.

use serde::{Deserialize, Serialize};

use super::spacers::{StoredFitting, StoredSeat};
use super::{Form, form, form_enum};
use crate::swap::{AxleState, Bench, Purpose, Spacers, Swap};

form!(StoredSwap of Swap {
    origin: StoredFitting,
    target: StoredFitting,
    purpose: Purpose,
    start: StoredBench,
    confirmed: u32,
});
form!(StoredBench of Bench { pressed: bool, top: StoredAxle, bottom: StoredAxle });
form!(StoredAxle of AxleState { spacers: StoredSpacers, axle_in: bool, screw_in: bool });
form_enum!(StoredSpacers of Spacers {
    In { seat: StoredSeat },
    OutUnchecked { recorded: StoredSeat },
    Out,
});
