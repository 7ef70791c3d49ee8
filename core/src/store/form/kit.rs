//! A kit and what is owned of it.

use serde::{Deserialize, Serialize};

use super::{Form, form};
use crate::spacer::{KitDraft, PairCount, PairDraft};

form!(StoredKit of KitDraft {
    name: String,
    total_mm: f64,
    tolerance_mm: f64,
    pairs: Vec<StoredPair>,
});
form!(StoredPair of PairDraft {
    name: String,
    thin_mm: f64,
    thick_mm: f64,
    thin_measured_mm: Option<f64>,
    thick_measured_mm: Option<f64>,
} later { mark: String });
form!(StoredCount of PairCount { pair: String, sets: u32 });
