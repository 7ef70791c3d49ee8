//! What every version wrote, frozen in `tests/data/forms`, goes on reading.

use serde_json::Value;

use super::*;
use crate::evidence::Probe;
use crate::verdict::{Adjustment, Call, CheckItem, Direction, Verdict};

const FORM_1: &str = include_str!("../../../../tests/data/forms/form-1.json");
const FORM_2: &str = include_str!("../../../../tests/data/forms/form-2.json");

fn samples(form: &str, column: &str) -> Vec<Value> {
    let all: Value = serde_json::from_str(form).unwrap();
    let kept = all[column].as_array().unwrap();
    assert!(!kept.is_empty(), "nothing is kept of {column}");
    kept.clone()
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

/// Whether everything an older document says stands in a newer one, its form's number aside.
fn is_kept(old: &Value, new: &Value) -> bool {
    match (old, new) {
        (Value::Object(old), Value::Object(new)) => old.iter().all(|(name, value)| {
            let aside = name == "form" || DROPPED.contains(&name.as_str());
            aside || new.get(name).is_some_and(|kept| is_kept(value, kept))
        }),
        (Value::Array(old), Value::Array(new)) => {
            old.len() == new.len() && old.iter().zip(new).all(|(old, new)| is_kept(old, new))
        }
        _ => old == new,
    }
}

fn reads_as_it_did<F: Form + Serialize + DeserializeOwned>(column: &str) {
    for document in samples(FORM_2, column) {
        let today = rewritten::<F>(&document);
        assert!(is_kept(&document, &today), "{column}: {today}");
        assert_eq!(
            rewritten::<F>(&from_tomorrow(&document)),
            today,
            "{column} with fields this program does not know"
        );
    }
    // The last of every column is of today's writing: every field stands in it.
    let last = samples(FORM_2, column).pop().unwrap();
    assert_eq!(rewritten::<F>(&last), last, "{column}");
}

fn still_reads<F: Form + Serialize + DeserializeOwned>(column: &str) {
    for document in samples(FORM_1, column) {
        let today = rewritten::<F>(&document);
        assert!(is_kept(&document, &today), "{column}: {today}");
        assert_eq!(rewritten::<F>(&from_tomorrow(&document)), today, "{column}");
        assert_eq!(rewritten::<F>(&today), today, "{column}");
    }
}

fn list_reads_as_it_did<F: Form + Serialize + DeserializeOwned>(form: &str, column: &str) {
    for list in samples(form, column) {
        let live = read::<Vec<F>>("sample", &list.to_string()).unwrap();
        let text = written_list::<F>("sample", live).unwrap();
        assert_eq!(serde_json::from_str::<Value>(&text).unwrap(), list);
    }
}

fn what_opened_a_check_reads_as_it_did(form: &str) {
    for by in samples(form, "reopened") {
        let live = read::<StoredReopened>("sample", &by.to_string()).unwrap();
        assert_eq!(serde_json::to_value(StoredReopened::of(live)).unwrap(), by);
    }
}

#[test]
fn every_document_of_form_2_reads_as_it_did() {
    reads_as_it_did::<StoredMarks>("marks");
    reads_as_it_did::<StoredGiven>("given");
    reads_as_it_did::<StoredKit>("kit");
    reads_as_it_did::<StoredArrows>("arrows");
    reads_as_it_did::<StoredSwap>("swap");
    reads_as_it_did::<StoredSettings>("settings");
    reads_as_it_did::<StoredMore>("more");
    list_reads_as_it_did::<StoredCount>(FORM_2, "owned");
    list_reads_as_it_did::<StoredRemembered>(FORM_2, "remembered");
    list_reads_as_it_did::<StoredRange>(FORM_2, "maker");
    what_opened_a_check_reads_as_it_did(FORM_2);
}

#[test]
fn every_document_of_form_1_still_reads() {
    still_reads::<StoredMarks>("marks");
    still_reads::<StoredKit>("kit");
    still_reads::<StoredArrows>("arrows");
    still_reads::<StoredSwap>("swap");
    still_reads::<StoredSettings>("settings");
    still_reads::<StoredMore>("more");
    list_reads_as_it_did::<StoredCount>(FORM_1, "owned");
    list_reads_as_it_did::<StoredRange>(FORM_1, "maker");
    what_opened_a_check_reads_as_it_did(FORM_1);
}

/// Verdicts of form 1 are read as history: once in today's words, they stay as they are.
#[test]
fn a_verdict_of_form_1_says_the_same_after_it_is_written_anew() {
    for document in samples(FORM_1, "given") {
        let today = rewritten::<StoredGiven>(&document);
        assert_eq!(rewritten::<StoredGiven>(&from_tomorrow(&document)), today);
        assert_eq!(rewritten::<StoredGiven>(&today), today);
    }
}

#[test]
fn a_sentence_nobody_knows_any_more_costs_only_itself() {
    let mut document = samples(FORM_2, "given")[0].clone();
    let reasons = document["verdict"]["reasons"].as_array_mut().unwrap();
    let before = reasons.len();
    reasons.insert(3, serde_json::json!({ "of_old": { "mm": 3.0 } }));
    let given = read::<StoredGiven>("sample", &document.to_string()).unwrap();
    assert_eq!(given.verdict.reasons.len(), before);
}

#[test]
fn a_setting_that_cannot_be_read_is_the_usual_one() {
    let mut document = samples(FORM_1, "settings")[0].clone();
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
    let mut document = samples(FORM_1, "marks")[2].clone();
    let place = document["impacts"][0]["at"].as_object_mut().unwrap();
    place.remove("y_mm");
    assert!(read::<StoredMarks>("sample", &document.to_string()).is_err());
}

fn verdicts_of_form_1() -> Vec<Verdict> {
    let documents = samples(FORM_1, "given");
    let given = documents
        .iter()
        .map(|document| read::<StoredGiven>("sample", &document.to_string()).unwrap());
    given.map(|given| given.verdict).collect()
}

#[test]
fn the_calls_of_form_1_are_what_they_say() {
    let calls: Vec<Call> = verdicts_of_form_1().into_iter().map(|v| v.call).collect();
    assert!(matches!(
        calls[0],
        Call::Fit {
            experiment: false,
            ..
        }
    ));
    // Kept as it was at 18 chances in 100: not a settled bow.
    assert_eq!(calls[1], Call::SpacersCannot);
    let Call::ShootMore { arrows } = calls[3] else {
        panic!("{:?}", calls[3]);
    };
    assert_eq!((arrows.bare, arrows.fletched, arrows.broadhead), (2, 3, 1));
    let firsts: Vec<Adjustment> = calls
        .into_iter()
        .filter_map(|call| match call {
            Call::AdjustFirst { what } => Some(what),
            _ => None,
        })
        .collect();
    let check = |check, failed| Adjustment::Check {
        check,
        failed,
        found: None,
    };
    assert_eq!(firsts[0], check(CheckItem::RestSound, true));
    assert_eq!(firsts[1], check(CheckItem::CamTiming, false));
    assert!(matches!(
        firsts[2],
        Adjustment::Vertical {
            direction: Direction::Up,
            seen_on_this_bow: true,
            ..
        }
    ));
    assert!(matches!(firsts[3], Adjustment::Arrow { index: 2, .. }));
    // Bare shafts stood 90 mm right in that verdict, and no tear was kept with it.
    let contact = Adjustment::Contact {
        trial: 1,
        tear_mm: 0.0,
        bare_mm: 90.0,
        in_height: false,
    };
    assert_eq!(firsts[4], contact);
    assert_eq!(firsts[5], Adjustment::Spine { ratio: 3.5 });
    let contradiction = Adjustment::Contradiction {
        trial: 1,
        probe: None,
    };
    assert_eq!(firsts[6], contradiction);
}

/// Before it was kept what of a trial contradicts, only the reason told that it was the heads.
#[test]
fn heads_that_contradicted_are_read_off_the_reason() {
    let kept = |reason: Value| {
        let mut documents = samples(FORM_2, "given").into_iter();
        let older = |given: &Value| {
            let what = &given["verdict"]["call"]["adjust_first"]["what"]["contradiction"];
            what.is_object() && what.get("probe").is_none()
        };
        let mut document = documents.find(older).unwrap();
        document["verdict"]["reasons"] = Value::from(vec![reason]);
        read::<StoredGiven>("sample", &document.to_string())
            .unwrap()
            .verdict
            .call
    };
    let contradiction = |probe| Call::AdjustFirst {
        what: Adjustment::Contradiction { trial: 1, probe },
    };
    let apart = serde_json::json!({ "heads_apart": { "heads_mm": 90.0, "bare_mm": 3.0 } });
    let low = serde_json::json!({ "heads_off_height": { "y_mm": -50.0 } });
    let trial = serde_json::json!({ "trial_disagrees": { "trial": 1, "sds": 5.0 } });
    assert_eq!(kept(apart), contradiction(Some(Probe::Broadhead)));
    assert_eq!(kept(low), contradiction(Some(Probe::Broadhead)));
    assert_eq!(kept(trial), contradiction(None));
}

#[test]
fn a_bow_kept_inside_its_tolerance_was_settled() {
    let mut document = samples(FORM_1, "given")[1].clone();
    document["verdict"]["predicted"]["within_tolerance"] = Value::from(0.86);
    let given = read::<StoredGiven>("sample", &document.to_string()).unwrap();
    assert_eq!(given.verdict.call, Call::Stop);
}

#[test]
fn what_form_1_did_not_keep_is_read_off_what_it_kept() {
    let verdict = &verdicts_of_form_1()[0];
    let split = &verdict.splits[0];
    // 1.96 standard deviations to each side: the normal's 95 %, any table of it.
    let half_mm = 1.96 * split.sd_x_mm;
    assert!((split.high95_mm - split.x_mm - half_mm).abs() < 0.01);
    assert!((split.x_mm - split.low95_mm - half_mm).abs() < 0.01);
    let stays = verdict.options.iter().find(|one| one.axles_opened == 0);
    let stays = stays.unwrap();
    let is = verdict.as_it_is;
    assert_eq!((is.x_mm, is.sd_mm), (stays.x_mm, stays.sd_mm));
    let off = |end_mm: f64| (end_mm - stays.x_mm) / stays.sd_mm;
    let ends = [is.low95_mm, is.low80_mm, is.high80_mm, is.high95_mm].map(off);
    for (end, table) in ends.iter().zip([-1.9600, -1.2816, 1.2816, 1.9600]) {
        assert!((end - table).abs() < 1e-3, "{ends:?}");
    }
    assert_eq!(is.within_tolerance, stays.within_tolerance);
}
