//! Swaps from before the record.

use serde::{Deserialize, Serialize};

use super::spacers::StoredFitting;
use super::{Form, form};
use crate::evidence::RememberedSwap;

form!(StoredRemembered of RememberedSwap {
    from: StoredFitting,
    to: StoredFitting,
    moved_mm: f64,
    sd_mm: f64,
    distance_m: f64,
});
