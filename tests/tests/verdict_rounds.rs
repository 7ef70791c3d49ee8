//! Which round is asked for, and when none is any more.

use shimwright::verdict::Call;

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
