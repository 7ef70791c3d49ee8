//! The verdict on written-out cases: what a technician would expect of it.
#![allow(clippy::unwrap_used)] // a test that cannot read its own case must stop

use shimwright::flight::TransferTable;
use shimwright::verdict::{Call, Case, Verdict, decide};

fn verdict(trials: &str) -> Verdict {
    verdict_with(trials, r#"{"priority":["bare"]}"#)
}

fn verdict_with(trials: &str, settings: &str) -> Verdict {
    let text = format!(
        r#"{{"kit":{{"name":"bench","total_mm":4.4,"tolerance_mm":0.05,"pairs":[
            {{"name":"A","thin_mm":1.3,"thick_mm":3.1}},
            {{"name":"B","thin_mm":1.5,"thick_mm":2.9}},
            {{"name":"C","thin_mm":1.9,"thick_mm":2.5}}]}},
          "bow":{{"axle_to_axle_mm":838,"fitted":{{"top":{{"pair":"C","thick":"left"}},"bottom":{{"pair":"C","thick":"left"}}}}}},
          "settings":{settings},"trials":{trials}}}"#
    );
    let case: Case = serde_json::from_str(&text).unwrap();
    decide(&case, TransferTable::unrecorded()).unwrap()
}

const C_LEFT: &str =
    r#""fitted":{"top":{"pair":"C","thick":"left"},"bottom":{"pair":"C","thick":"left"}}"#;

fn face(bare_x: f64, count: usize) -> String {
    let shot = |kind: &str, x: f64| {
        (0..count)
            .map(|k| {
                let off = 6.0 * (k as f64 - (count as f64 - 1.0) / 2.0);
                format!(r#"{{"kind":"{kind}","x_mm":{},"y_mm":{}}}"#, x + off, -off)
            })
            .collect::<Vec<_>>()
            .join(",")
    };
    format!(
        r#"{{{C_LEFT},"distance_m":18.288,"impacts":[{},{}]}}"#,
        shot("fletched", 0.0),
        shot("bare", bare_x)
    )
}

#[test]
fn bare_shafts_right_call_for_cams_left() {
    let verdict = verdict(&format!("[{}]", face(90.0, 4)));
    let Call::Fit { fitting } = &verdict.call else {
        panic!("{verdict:#?}");
    };
    let chosen = verdict
        .options
        .iter()
        .find(|option| option.fitting == *fitting)
        .unwrap();
    assert!(chosen.offset_mm < 0.3, "{chosen:?}");
    assert!(!verdict.response.seen_on_this_bow);
}

#[test]
fn a_small_split_is_left_alone() {
    let verdict = verdict(&format!("[{}]", face(8.0, 4)));
    assert!(matches!(verdict.call, Call::Keep { .. }), "{verdict:#?}");
}

#[test]
fn two_arrows_never_lead_to_a_swap() {
    let verdict = verdict(&format!("[{}]", face(150.0, 2)));
    assert!(
        matches!(verdict.call, Call::ShootMore { .. }),
        "{verdict:#?}"
    );
}
