//! A small move of the rest or the nocking point, as every form of a verdict writes it.

use serde::{Deserialize, Serialize};

use super::{Form, form};
use crate::verdict::Trim;

form!(StoredTrim of Trim { move_mm: f64, sd_mm: f64, direction_chance: f64 });
