//! What every version wrote, frozen in `tests/data/forms`, reads as it did.

use serde_json::Value;

use super::*;
use crate::verdict::{Adjustment, Call};

const FORM_1: &str = include_str!("../../../../tests/data/forms/form-1.json");

fn samples(column: &str) -> Vec<Value> {
    let all: Value = serde_json::from_str(FORM_1).unwrap();
    all[column].as_array().unwrap().clone()
}

/// Reads a document, writes it, and gives it back as it is then written.
fn rewritten<F: Form + Serialize + DeserializeOwned>(document: &Value) -> Value {
    let live = read::<F>("sample", &document.to_string()).unwrap();
    serde_json::from_str(&written::<F>("sample", live).unwrap()).unwrap()
}

/// The same document with a field of tomorrow in every object.
fn from_tomorrow(document: &Value) -> Value {
    match document {
        Value::Object(fields) if fields.len() != 1 => {
            let known = fields.iter().map(|(k, v)| (k.clone(), from_tomorrow(v)));
            let new = ("tomorrow".to_owned(), Value::from(7));
            Value::Object(known.chain([new]).collect())
        }
        // An object of one field is a variant with its values.
        Value::Object(fields) => {
            let inner = fields.iter().map(|(k, v)| (k.clone(), from_tomorrow(v)));
            Value::Object(inner.collect())
        }
        Value::Array(list) => list.iter().map(from_tomorrow).collect(),
        other => other.clone(),
    }
}

/// What older versions wrote and nobody reads any more.
const DROPPED: [&str; 3] = ["language", "red_mode", "cautions_read"];

/// Whether everything in `old` stands in `new`, which may say more.
fn holds(new: &Value, old: &Value) -> bool {
    match (new, old) {
        (Value::Object(new), Value::Object(old)) => old.iter().all(|(key, value)| {
            DROPPED.contains(&key.as_str()) || new.get(key).is_some_and(|now| holds(now, value))
        }),
        (Value::Array(new), Value::Array(old)) => {
            new.len() == old.len() && new.iter().zip(old).all(|(new, old)| holds(new, old))
        }
        _ => new == old,
    }
}

fn reads_as_it_did<F: Form + Serialize + DeserializeOwned>(column: &str) {
    for document in samples(column) {
        for read in [document.clone(), from_tomorrow(&document)] {
            assert!(holds(&rewritten::<F>(&read), &document), "{column}: {read}");
        }
    }
}

#[test]
fn every_document_of_form_1_reads_as_it_did() {
    reads_as_it_did::<StoredMarks>("marks");
    reads_as_it_did::<StoredGiven>("given");
    reads_as_it_did::<StoredKit>("kit");
    reads_as_it_did::<StoredArrows>("arrows");
    reads_as_it_did::<StoredSwap>("swap");
    reads_as_it_did::<StoredSettings>("settings");
    reads_as_it_did::<StoredMore>("more");
    for ranges in samples("maker") {
        let live = read::<Vec<StoredRange>>("sample", &ranges.to_string()).unwrap();
        let text = written_list::<StoredRange>("sample", live).unwrap();
        assert_eq!(serde_json::from_str::<Value>(&text).unwrap(), ranges);
    }
    for by in samples("reopened") {
        let live = read::<StoredReopened>("sample", &by.to_string()).unwrap();
        assert_eq!(serde_json::to_value(StoredReopened::of(live)).unwrap(), by);
    }
    for counts in samples("owned") {
        let live = read::<Vec<StoredCount>>("sample", &counts.to_string()).unwrap();
        let text = written_list::<StoredCount>("sample", live).unwrap();
        assert_eq!(serde_json::from_str::<Value>(&text).unwrap(), counts);
    }
}

#[test]
fn a_sentence_nobody_knows_any_more_costs_only_itself() {
    let mut document = samples("given")[1].clone();
    let reasons = document["verdict"]["reasons"].as_array_mut().unwrap();
    let before = reasons.len();
    reasons.insert(3, serde_json::json!({ "of_old": { "mm": 3.0 } }));
    let given = read::<StoredGiven>("sample", &document.to_string()).unwrap();
    assert_eq!(given.verdict.reasons.len(), before);
}

#[test]
fn a_setting_that_cannot_be_read_is_the_usual_one() {
    let mut document = samples("settings")[0].clone();
    document["length_unit"] = Value::from("cubit");
    document["tolerance_mm"] = Value::Null;
    let settings = read::<StoredSettings>("sample", &document.to_string()).unwrap();
    let usual = crate::record::WorkshopSettings::default();
    assert_eq!(settings.length_unit, usual.length_unit);
    assert_eq!(settings.tolerance_mm, usual.tolerance_mm);
    assert!(settings.unequal_axles, "the others stay");
}

#[test]
fn a_place_that_is_missing_is_no_place_at_zero() {
    let mut document = samples("marks")[2].clone();
    let place = document["impacts"][0]["at"].as_object_mut().unwrap();
    place.remove("y_mm");
    assert!(read::<StoredMarks>("sample", &document.to_string()).is_err());
}

#[test]
fn the_frozen_calls_are_what_they_say() {
    let calls: Vec<Call> = samples("given")
        .iter()
        .map(|document| read::<StoredGiven>("sample", &document.to_string()).unwrap())
        .map(|given| given.verdict.call)
        .collect();
    assert!(matches!(calls[0], Call::Fit { .. }));
    assert!(matches!(
        calls[1],
        Call::Keep {
            rest: Some(_),
            nock: None
        }
    ));
    assert!(matches!(
        calls[3],
        Call::ShootMore {
            bare: 2,
            fletched: 3,
            ..
        }
    ));
    let spine = Adjustment::Spine { ratio: 3.5 };
    assert!(calls.contains(&Call::AdjustFirst { what: spine }));
}
