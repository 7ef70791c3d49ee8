//! Which round is asked for and when none is any more, how far the rest goes, and what is said beside it.

use shimwright::evidence::{Probe, Relative};
use shimwright::flight::TransferTable;
use shimwright::verdict::{Call, Reason, decide};
use shimwright_tests::cases::{Recipe, random_case};

use crate::verdict_cases::{C_LEFT, face, verdict_with};

/// Where nothing else pays: three times the fewest arrows that say anything.
#[test]
fn a_bow_more_likely_in_than_out_is_shot_again_until_nine_of_each_are_shot() {
    let nothing_pays = r#"{"priority":["bare"],"rest_room_mm":{"left":0,"right":0},
        "price_per_axle_mm":100,"price_per_round_mm":100}"#;
    for (count, is_shot_again) in [(7, true), (8, true), (9, false), (10, false)] {
        let verdict = verdict_with(&format!("[{}]", face(21.0, count)), nothing_pays);
        let inside = verdict.as_it_is.within_tolerance;
        assert!((0.5..0.8).contains(&inside), "{count}: {inside}");
        let again = matches!(verdict.call, Call::ShootMore { .. });
        assert_eq!(again, is_shot_again, "{count}: {:?}", verdict.call);
    }
}

#[test]
fn after_tears_alone_the_first_face_probe_that_is_wished_for_is_shot() {
    let tears = [-0.6, -0.2, 0.2, 0.6];
    let tears = tears.map(|off| format!(r#"{{"x_mm":{},"y_mm":{off}}}"#, off - 7.0));
    let trials = format!(
        r#"[{{{C_LEFT},"paper_m":2,"tears":[{}]}}]"#,
        tears.join(",")
    );
    for (priority, bare, broadhead) in [
        (r#"["paper","broadhead"]"#, 0, 3),
        (r#"["paper","broadhead","bare"]"#, 3, 0),
    ] {
        let call = verdict_with(&trials, &format!(r#"{{"priority":{priority}}}"#)).call;
        let Call::ShootMore { arrows } = call else {
            panic!("{priority}: {call:?}");
        };
        assert_eq!((arrows.bare, arrows.broadhead), (bare, broadhead));
    }
}

#[test]
fn who_tunes_by_broadheads_is_asked_for_bare_shafts_once() {
    let heads = face(60.0, 4).replace("bare", "broadhead");
    let bare_before_the_swap = face(60.0, 5).replace("left", "right");
    for (trials, bare) in [
        (format!("[{heads}]"), 3),
        (format!("[{bare_before_the_swap},{heads}]"), 0),
    ] {
        let verdict = verdict_with(&trials, r#"{"priority":["broadhead"]}"#);
        let asked = match verdict.call {
            Call::ShootMore { arrows } => arrows.bare,
            _ => 0,
        };
        assert_eq!(asked, bare, "{:?}", verdict.call);
    }
}

#[test]
fn a_probe_not_shot_since_the_swap_is_read_off_its_own_last_trial() {
    let before = |probe: &str, x_mm| {
        face(x_mm, 4)
            .replace("bare", probe)
            .replace("left", "right")
    };
    let trials = [
        before("bare", 60.0),
        before("broadhead", 40.0),
        face(30.0, 4),
    ];
    let verdict = verdict_with(&format!("[{}]", trials.join(",")), "{}");
    let read: Vec<(Probe, f64)> = verdict
        .splits
        .iter()
        .map(|split| (split.kind, split.x_mm.round()))
        .collect();
    assert_eq!(read, [(Probe::Bare, 30.0), (Probe::Broadhead, 40.0)]);
}

#[test]
fn broadheads_of_the_priority_are_missed_until_they_are_shot() {
    let priority = r#"{"priority":["broadhead","bare"]}"#;
    let missed = |trials: &str| {
        let kind = Probe::Broadhead;
        let reasons = verdict_with(trials, priority).reasons;
        reasons.contains(&Reason::NotYetShot { kind })
    };
    let bare = face(50.0, 4);
    let heads = bare.replace("bare", "broadhead");
    assert!(missed(&format!("[{bare}]")));
    assert!(!missed(&format!("[{bare},{heads}]")));
}

/// Where more is wanted than the bow maker's centre shot leaves, the rest goes to the end of its room.
#[test]
fn the_rest_goes_to_the_end_of_its_room_and_never_beyond() {
    for (left, right, ends) in [
        (0.3, 0.0, [-0.3, -0.3]),
        (0.0, 0.3, [0.3, 0.3]),
        (0.3, 0.3, [0.3, -0.3]),
    ] {
        let room = format!(r#""rest_room_mm":{{"left":{left},"right":{right}}}"#);
        let settings = format!(r#"{{"priority":["bare"],"price_per_axle_mm":100,{room}}}"#);
        let moved = [-60.0, 60.0].map(|x_mm| {
            let call = verdict_with(&format!("[{}]", face(x_mm, 6)), &settings).call;
            match call {
                Call::Trim { trim, .. } => trim.move_mm,
                other => panic!("{other:?}"),
            }
        });
        let there = moved
            .iter()
            .zip(ends)
            .all(|(to, end)| (to - end).abs() < 1e-9);
        assert!(there, "{moved:?}");
    }
}

#[test]
fn what_the_family_has_shown_is_said_until_the_bow_has_shown_it_itself() {
    let recipe = Recipe {
        trials: 1,
        mixed: false,
        arrows: 6,
    };
    let told = |relatives: u32, trials: usize| {
        let mut case = random_case(3, Recipe { trials, ..recipe }).unwrap();
        let own = (0..relatives).map(|k| {
            random_case(
                70 + u64::from(k),
                Recipe {
                    trials: 3,
                    ..recipe
                },
            )
            .unwrap()
        });
        case.relatives = own.map(|bow| Relative { trials: bow.trials }).collect();
        let verdict = decide(&case, TransferTable::unrecorded()).unwrap();
        let said = verdict.reasons.contains(&Reason::FamilyKnown { relatives });
        (said, verdict.response.seen_on_this_bow)
    };
    assert_eq!(told(0, 1), (false, false));
    assert_eq!(told(2, 1), (true, false));
    assert_eq!(told(2, 8), (false, true));
}
