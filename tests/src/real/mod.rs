//! The table of measuring real photographs: a folder of them, with cases and hand-read truth, is
//! measured with the core and held against its bars.
//!
//! The folder holds `photos/`, `cases/NAME.case.json` (requests of `measure` that name a photo beside
//! themselves) and `truth.json` (by case name, see [`Truth`]). No such photograph is part of the
//! project.

mod holes;
mod reference;
mod tears;
mod truth;

pub use truth::{Expect, Kind, Truth};

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;
use std::time::Instant;

use serde_json::Value;
use shimwright::measure::{MeasureRequest, Measured, measure};

use crate::table::Row;

/// One case: what was asked, what was answered, what is true.
pub struct Outcome {
    /// The case's name, without `.case.json`.
    pub name: String,
    /// What was read by hand.
    pub truth: Truth,
    /// What was asked.
    pub request: MeasureRequest,
    /// What was answered, or the refusal in words.
    pub answer: Result<Measured, String>,
    /// How long the answer took, decoding included, s.
    pub seconds: f64,
    /// What its places are as paper tears, which none of them is.
    tears: tears::Tried,
}

/// Measures every case of `folder` whose name contains `only`.
///
/// # Errors
/// In words: a file that cannot be read or is not what it should be.
pub fn measure_folder(folder: &Path, only: &str) -> Result<Vec<Outcome>, String> {
    let text = read(&folder.join("truth.json"))?;
    let truths: BTreeMap<String, Truth> =
        serde_json::from_slice(&text).map_err(|e| format!("truth.json: {e}"))?;
    let asked = truths.into_iter().filter(|(name, _)| name.contains(only));
    // As tears every photograph is tried once, whatever is asked of it.
    let mut tried = BTreeSet::new();
    asked
        .map(|(name, truth)| outcome(folder, name, truth, &mut tried))
        .collect()
}

fn outcome(
    folder: &Path,
    name: String,
    truth: Truth,
    tried: &mut BTreeSet<String>,
) -> Result<Outcome, String> {
    let path = folder.join("cases").join(format!("{name}.case.json"));
    let mut case: Value =
        serde_json::from_slice(&read(&path)?).map_err(|e| format!("{name}: {e}"))?;
    let photo = case.as_object_mut().and_then(|keys| keys.remove("photo"));
    let photo = photo.as_ref().and_then(Value::as_str);
    let photo = photo.ok_or_else(|| format!("{name}: no photo"))?;
    let jpeg = read(&folder.join("cases").join(photo))?;
    let request = serde_json::from_value(case).map_err(|e| format!("{name}: {e}"))?;
    let start = Instant::now();
    let answer = measure(&jpeg, &request).map_err(|e| e.to_string());
    let seconds = start.elapsed().as_secs_f64();
    let tries = answer.is_ok() && tried.insert(truth.photo.clone());
    let tears = tries.then(|| tears::Tried::on(&jpeg, &request.reference, &truth));
    Ok(Outcome {
        seconds,
        tears: tears.unwrap_or_default(),
        name,
        truth,
        request,
        answer,
    })
}

fn read(path: &Path) -> Result<Vec<u8>, String> {
    std::fs::read(path).map_err(|e| format!("{} cannot be read: {e}", path.display()))
}

/// The rows of the table: references first, then holes.
pub fn rows(outcomes: &[Outcome]) -> Vec<Row> {
    let mut rows = reference::rows(outcomes);
    rows.extend(holes::rows(outcomes));
    rows.push(tears::row(
        outcomes.iter().map(|o| (o.name.as_str(), &o.tears)),
    ));
    rows
}
