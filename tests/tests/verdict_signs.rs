//! What the shafts show beside the split, said among the reasons: numbered arrows and walk-backs.

use shimwright::flight::TransferTable;
use shimwright::frame::Side;
use shimwright::verdict::{Adjustment, Call, Case, Reason, Verdict, decide};
use shimwright::walkback::WalkBackMeaning;

const C_LEFT: &str =
    r#""fitted":{"top":{"pair":"C","thick":"left"},"bottom":{"pair":"C","thick":"left"}}"#;

fn verdict(trials: &[String], priority: &str) -> Verdict {
    let text = format!(
        r#"{{"kit":{{"name":"bench","total_mm":4.4,"tolerance_mm":0.05,"pairs":[
            {{"name":"A","thin_mm":1.3,"thick_mm":3.1}},
            {{"name":"C","thin_mm":1.9,"thick_mm":2.5}}]}},
          "bow":{{"axle_to_axle_mm":838,{C_LEFT}}},
          "settings":{{"priority":[{priority}]}},"trials":[{}]}}"#,
        trials.join(",")
    );
    let case: Case = serde_json::from_str(&text).unwrap();
    decide(&case, TransferTable::unrecorded()).unwrap()
}

/// Four numbered arrows of each kind around their centres, arrow `odd` of the bare ones moved by `by_mm`.
fn numbered(id: i64, bare_mm: f64, odd: i32, by_mm: f64) -> String {
    let shaft = |kind: &str, number: i32, centre: f64| {
        let moved = if kind == "bare" && number == odd {
            by_mm
        } else {
            0.0
        };
        let x = centre + 4.0 * f64::from(number) - 10.0 + moved;
        format!(
            r#"{{"kind":"{kind}","x_mm":{x},"y_mm":{},"arrow":{number}}}"#,
            3.0 * f64::from(number % 2)
        )
    };
    let all: Vec<String> = (1..=4)
        .flat_map(|n| [shaft("fletched", n, 0.0), shaft("bare", n, bare_mm)])
        .collect();
    format!(
        r#"{{"id":{id},{C_LEFT},"distance_m":18.288,"impacts":[{}]}}"#,
        all.join(",")
    )
}

#[test]
fn an_arrow_that_keeps_landing_apart_is_named_by_its_number() {
    let trials: Vec<String> = (1..=4).map(|id| numbered(id, 14.0, 3, 70.0)).collect();
    let said = verdict(&trials, r#""bare""#);
    let habit = said.reasons.iter().find_map(|reason| match reason {
        Reason::ArrowHabit {
            arrow,
            trials,
            x_mm,
            ..
        } => Some((*arrow, *trials, *x_mm)),
        _ => None,
    });
    let (arrow, groups, x_mm) = habit.unwrap();
    assert_eq!((arrow, groups), (3, 4));
    assert!((50.0..95.0).contains(&x_mm), "{x_mm}");
    assert!(
        matches!(
            &said.call,
            Call::AdjustFirst {
                what: Adjustment::Arrow { arrow: Some(3), .. }
            }
        ),
        "{:?}",
        said.call
    );
    let alike: Vec<String> = (1..=4).map(|id| numbered(id, 14.0, 3, 0.0)).collect();
    let quiet = verdict(&alike, r#""bare""#);
    assert!(
        !quiet
            .reasons
            .iter()
            .any(|reason| matches!(reason, Reason::ArrowHabit { .. }))
    );
}

/// Three fletched and three bare arrows at a distance, the fletched ones centred `at_mm` beside the line.
fn aimed(distance_m: f64, at_mm: f64) -> String {
    let shafts = |kind: &str| {
        let one = |off: f64| format!(r#"{{"kind":"{kind}","x_mm":{},"y_mm":{off}}}"#, at_mm + off);
        [-4.0, 0.0, 4.0].map(one).join(",")
    };
    format!(
        r#"{{{C_LEFT},"distance_m":{distance_m},"impacts":[{},{}]}}"#,
        shafts("fletched"),
        shafts("bare")
    )
}

fn walk_back(trials: &[String]) -> Option<WalkBackMeaning> {
    verdict(trials, r#""bare""#)
        .reasons
        .iter()
        .find_map(|reason| match reason {
            Reason::WalkBackShows { meaning, .. } => Some(*meaning),
            _ => None,
        })
}

#[test]
fn fletched_groups_that_drift_with_distance_are_remarked_on() {
    let drift = |slope: f64| [10.0, 20.0, 30.0, 40.0].map(|d| aimed(d, slope * d));
    let left = WalkBackMeaning::Slant {
        far_side: Side::Left,
    };
    assert_eq!(walk_back(&drift(-4.0)), Some(left));
    assert_eq!(walk_back(&drift(0.0)), None);
    assert_eq!(
        walk_back(&drift(-4.0)[..2]),
        None,
        "two distances tell no slant from a bend"
    );
    let bend = WalkBackMeaning::Bend {
        far_side: Side::Right,
    };
    let bent = [10.0, 20.0, 30.0, 40.0].map(|d: f64| aimed(d, 0.25 * (d - 10.0) * (d - 10.0)));
    assert_eq!(walk_back(&bent), Some(bend));
}
