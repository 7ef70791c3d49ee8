//! The workshop's settings. One that is missing or unreadable is the usual one: settings are worth
//! less than the workshop that would not open without them.

use serde::{Deserialize, Deserializer, Serialize, de::DeserializeOwned};

use super::Form;
use crate::record::{DistanceUnit, Hand, LengthUnit, Pace, WorkshopSettings};

/// Every setting by itself, so that one of them cannot cost the others.
#[derive(Debug, Serialize, Deserialize)]
pub(in crate::store) struct StoredSettings {
    #[serde(default, deserialize_with = "lenient")]
    length_unit: Option<LengthUnit>,
    #[serde(default, deserialize_with = "lenient")]
    distance_unit: Option<DistanceUnit>,
    #[serde(default, deserialize_with = "lenient")]
    hand: Option<Hand>,
    #[serde(default, deserialize_with = "lenient")]
    tolerance_mm: Option<f64>,
    #[serde(default, deserialize_with = "lenient")]
    tolerance_distance_m: Option<f64>,
    #[serde(default, deserialize_with = "lenient")]
    unequal_axles: Option<bool>,
    #[serde(default, deserialize_with = "lenient")]
    tilt_limit_mm: Option<f64>,
    #[serde(default, deserialize_with = "lenient")]
    pace: Option<Pace>,
}

fn lenient<'de, D: Deserializer<'de>, T: DeserializeOwned>(from: D) -> Result<Option<T>, D::Error> {
    let value = serde_json::Value::deserialize(from)?;
    Ok(serde_json::from_value(value).ok())
}

impl Form for StoredSettings {
    type Live = WorkshopSettings;

    fn of(live: WorkshopSettings) -> Self {
        Self {
            length_unit: Some(live.length_unit),
            distance_unit: Some(live.distance_unit),
            hand: Some(live.hand),
            tolerance_mm: Some(live.tolerance_mm),
            tolerance_distance_m: Some(live.tolerance_distance_m),
            unequal_axles: Some(live.unequal_axles),
            tilt_limit_mm: Some(live.tilt_limit_mm),
            pace: Some(live.pace),
        }
    }

    fn live(self) -> WorkshopSettings {
        let usual = WorkshopSettings::default();
        WorkshopSettings {
            length_unit: self.length_unit.unwrap_or(usual.length_unit),
            distance_unit: self.distance_unit.unwrap_or(usual.distance_unit),
            hand: self.hand.unwrap_or(usual.hand),
            tolerance_mm: self.tolerance_mm.unwrap_or(usual.tolerance_mm),
            tolerance_distance_m: self
                .tolerance_distance_m
                .unwrap_or(usual.tolerance_distance_m),
            unequal_axles: self.unequal_axles.unwrap_or(usual.unequal_axles),
            tilt_limit_mm: self.tilt_limit_mm.unwrap_or(usual.tilt_limit_mm),
            pace: self.pace.unwrap_or(usual.pace),
        }
    }
}
