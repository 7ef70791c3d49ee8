//! The verdict on written-out cases: what a technician would expect of it.

use shimwright::evidence::Probe;
use shimwright::flight::TransferTable;
use shimwright::frame::ArrowKind;
use shimwright::verdict::{Adjustment, Call, Case, CheckItem, Reason, Verdict, decide};

fn verdict(trials: &str) -> Verdict {
    verdict_with(
        trials,
        r#"{"priority":["bare"],"rest_room_mm":{"left":0,"right":0}}"#,
    )
}

pub(crate) fn verdict_with(trials: &str, settings: &str) -> Verdict {
    let case: Case = serde_json::from_str(&case_text(trials, settings)).unwrap();
    decide(&case, TransferTable::unrecorded()).unwrap()
}

fn case_text(trials: &str, settings: &str) -> String {
    format!(
        r#"{{"kit":{{"name":"bench","total_mm":4.4,"tolerance_mm":0.05,"pairs":[
            {{"name":"A","thin_mm":1.3,"thick_mm":3.1}},
            {{"name":"B","thin_mm":1.5,"thick_mm":2.9}},
            {{"name":"C","thin_mm":1.9,"thick_mm":2.5}}]}},
          "bow":{{"axle_to_axle_mm":838,"fitted":{{"top":{{"pair":"C","thick":"left"}},"bottom":{{"pair":"C","thick":"left"}}}}}},
          "settings":{settings},"trials":{trials}}}"#
    )
}

pub(crate) const C_LEFT: &str =
    r#""fitted":{"top":{"pair":"C","thick":"left"},"bottom":{"pair":"C","thick":"left"}}"#;

pub(crate) fn face(bare_x: f64, count: usize) -> String {
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

/// Where 2.5 mm are good enough, fittings that leave 6 mm and nothing are not alike: the kit's next step was pressed for 3 mm.
#[test]
fn a_tight_tolerance_is_not_served_by_a_millimetre_more_or_less() {
    let pairs = (0..10).map(|k| {
        let half_mm = 0.05 * f64::from(k + 1);
        let name = char::from(b'A' + k);
        let (thin_mm, thick_mm) = (2.0 - half_mm, 2.0 + half_mm);
        format!(r#"{{"name":"{name}","thin_mm":{thin_mm},"thick_mm":{thick_mm}}}"#)
    });
    let fitted = |pair: &str| C_LEFT.replace(r#""C""#, &format!("\"{pair}\""));
    let shot = |pair: &str, x_mm: f64| face(x_mm, 12).replace(C_LEFT, &fitted(pair));
    let case: Case = serde_json::from_str(&format!(
        r#"{{"kit":{{"name":"fine","total_mm":4.0,"tolerance_mm":0.05,"pairs":[{}]}},
          "bow":{{"axle_to_axle_mm":838,{}}},"trials":[{},{},{}],
          "settings":{{"priority":["bare"],"rest_room_mm":{{"left":0,"right":0}},"tolerance_mm":2.5}}}}"#,
        pairs.collect::<Vec<_>>().join(","),
        fitted("E"),
        shot("J", 48.0),
        shot("E", 18.0),
        shot("E", 18.0)
    ))
    .unwrap();
    let verdict = decide(&case, TransferTable::unrecorded()).unwrap();
    assert!(matches!(verdict.call, Call::Fit { .. }), "{verdict:#?}");
    assert!(
        verdict.predicted.x_mm.abs() < 3.0,
        "{:?}",
        verdict.predicted
    );
}

#[test]
fn bare_shafts_right_call_for_cams_left() {
    let verdict = verdict(&format!("[{}]", face(90.0, 4)));
    let Call::Fit { fitting, .. } = &verdict.call else {
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
fn a_small_split_ends_the_work() {
    let verdict = verdict(&format!("[{}]", face(8.0, 4)));
    assert_eq!(verdict.call, Call::Stop, "{verdict:#?}");
}

#[test]
fn two_arrows_never_lead_to_a_swap() {
    let verdict = verdict(&format!("[{}]", face(150.0, 2)));
    assert!(
        matches!(verdict.call, Call::ShootMore { .. }),
        "{verdict:#?}"
    );
}

fn refused(trials: &str) -> String {
    let case: Result<Case, _> =
        serde_json::from_str(&case_text(trials, r#"{"priority":["bare"]}"#));
    match case {
        Ok(case) => decide(&case, TransferTable::unrecorded())
            .unwrap_err()
            .to_string(),
        Err(error) => error.to_string(),
    }
}

#[test]
fn bad_figures_are_refused_in_words_with_the_trial() {
    for (distance, part) in [
        ("0", "distance (m) in trial 7 is 0"),
        ("400", "outside 2 to 100"),
        ("1e999", "number out of range"),
    ] {
        let words = refused(&format!(
            r#"[{{"id":7,{C_LEFT},"distance_m":{distance},"impacts":[]}}]"#
        ));
        assert!(words.contains(part), "{words}");
    }
    let far = refused(&format!(
        r#"[{{"id":7,{C_LEFT},"distance_m":18,"impacts":[{{"kind":"bare","x_mm":9e9,"y_mm":0}}]}}]"#
    ));
    assert!(far.contains("impact sideways (mm) in trial 7"), "{far}");
    let both = refused(&format!(
        r#"[{{{C_LEFT},"distance_m":18,"impacts":[],"paper_m":2}}]"#
    ));
    assert!(
        both.contains("either distance_m and impacts, or paper_m and tears"),
        "{both}"
    );
    let pair = refused(
        r#"[{"id":3,"fitted":{"top":{"pair":"Z","thick":"left"},"bottom":{"pair":"C","thick":"left"}},"distance_m":18,"impacts":[]}]"#,
    );
    assert!(
        pair.contains("trial 3") && pair.contains("no pair \"Z\"; choose one of A, B, C"),
        "{pair}"
    );
    let nan = {
        let mut case: Case =
            serde_json::from_str(&case_text(&format!("[{}]", face(9.0, 3)), "{}")).unwrap();
        case.trials[0].rest_mm = f64::NAN;
        decide(&case, TransferTable::unrecorded())
            .unwrap_err()
            .to_string()
    };
    assert!(nan.contains("rest (mm) in trial 0 is NaN"), "{nan}");
}

#[test]
fn thin_evidence_gets_an_honest_verdict() {
    let none = verdict("[]");
    assert!(none.reasons.contains(&Reason::NothingShot));
    let one = |kind: &str| {
        format!(
            r#"[{{"id":4,{C_LEFT},"distance_m":18.288,"impacts":[{{"kind":"{kind}","x_mm":80,"y_mm":0}}]}}]"#
        )
    };
    let lonely = verdict(&one("bare"));
    assert!(
        lonely.reasons.contains(&Reason::NoReference { trial: 4 }),
        "{lonely:#?}"
    );
    for verdict in [none, lonely, verdict(&one("fletched"))] {
        let Call::ShootMore { arrows } = verdict.call else {
            panic!("{verdict:#?}");
        };
        assert_eq!((arrows.bare, arrows.fletched), (3, 3));
    }
}

#[test]
fn a_trial_without_its_fitting_is_left_out_and_named() {
    let unknown = face(90.0, 4).replace(&format!("{C_LEFT},"), r#""id":9,"#);
    let verdict = verdict(&format!("[{unknown}]"));
    assert!(
        verdict
            .reasons
            .contains(&Reason::TrialWithoutFitting { trial: 9 })
    );
    assert!(matches!(verdict.call, Call::ShootMore { .. }));
}

#[test]
fn paper_alone_asks_for_bare_shafts_and_says_why() {
    let trial = format!(
        r#"[{{{C_LEFT},"paper_m":2,"tears":[{{"x_mm":-14,"y_mm":1}},{{"x_mm":-15,"y_mm":0}},{{"x_mm":-13,"y_mm":2}}]}}]"#
    );
    let verdict = verdict_with(&trial, "{}");
    let Call::ShootMore { arrows } = &verdict.call else {
        panic!("{verdict:#?}");
    };
    assert_eq!(arrows.bare, 3);
    assert!(verdict.reasons.contains(&Reason::PaperAlone));
    // A nock-left tear is a point turned right: the paper is expected to tear left again.
    assert!(verdict.predicted.x_mm < 0.0);
}

#[test]
fn broadheads_alone_do_not_tell_the_bow_from_its_heads() {
    let trial = format!("[{}]", face(90.0, 5).replace("bare", "broadhead"));
    let verdict = verdict_with(&trial, r#"{"priority":["broadhead"]}"#);
    let Call::ShootMore { arrows } = &verdict.call else {
        panic!("{verdict:#?}");
    };
    assert_eq!((arrows.bare, arrows.fletched), (3, 3));
    assert!(verdict.reasons.contains(&Reason::HeadsAlone));
}

#[test]
fn an_open_check_comes_before_everything() {
    let text = case_text(&format!("[{}]", face(90.0, 4)), "{}")
        .replacen('{', r#"{"checks":[{"check":"cam_timing","result":"open"},{"check":"rest_sound","result":"failed"}],"#, 1);
    let case: Case = serde_json::from_str(&text).unwrap();
    let verdict = decide(&case, TransferTable::unrecorded()).unwrap();
    let what = Adjustment::Check {
        check: CheckItem::RestSound,
        failed: true,
        found: None,
    };
    assert_eq!(verdict.call, Call::AdjustFirst { what });
}

/// The verdict on rounds of five and five with nothing changed between them, bare shafts so far right, mm.
fn on_rounds(right_mm: &[f64]) -> Verdict {
    let rounds = (1..).zip(right_mm);
    let numbered =
        |(id, x): (usize, &f64)| face(*x, 5).replacen('{', &format!(r#"{{"id":{id},"#), 1);
    let list: Vec<String> = rounds.map(numbered).collect();
    verdict(&format!("[{}]", list.join(",")))
}

#[test]
fn a_trial_that_contradicts_the_others_is_named() {
    let what = Adjustment::Contradiction {
        trial: 6,
        probe: Some(Probe::Bare),
    };
    let verdict = on_rounds(&[60.0, 64.0, 58.0, 61.0, 63.0, -150.0]);
    assert_eq!(verdict.call, Call::AdjustFirst { what });
}

/// Shot again, and again otherwise: that is said, and the odd round moves nothing any more.
#[test]
fn a_trial_that_was_shot_again_otherwise_is_not_counted() {
    let odd = on_rounds(&[60.0, 64.0, -150.0, 58.0, 61.0, 63.0]);
    let outvoted = |verdict: &Verdict| {
        let said = |reason: &&Reason| matches!(reason, Reason::TrialOutvoted { .. });
        verdict
            .reasons
            .iter()
            .filter(said)
            .cloned()
            .collect::<Vec<_>>()
    };
    assert_eq!(outvoted(&odd), [Reason::TrialOutvoted { trial: 3 }]);
    let without = on_rounds(&[60.0, 64.0, 58.0, 61.0, 63.0]);
    assert_eq!(odd.call, without.call);
    assert!((odd.as_it_is.x_mm - without.as_it_is.x_mm).abs() < 1.0);
    assert!(outvoted(&without).is_empty());
}

#[test]
fn an_unknown_key_is_an_error() {
    let text = case_text("[]", r#"{"tolerence_mm":3}"#);
    assert!(serde_json::from_str::<Case>(&text).is_err());
}

/// Every call says what it rests on, in figures that belong together.
#[test]
fn a_first_fitting_is_an_experiment_and_says_what_it_changes() {
    let verdict = verdict(&format!("[{}]", face(90.0, 4)));
    let Call::Fit {
        fitting,
        experiment,
    } = &verdict.call
    else {
        panic!("{verdict:#?}");
    };
    assert!(experiment);
    let pays = verdict.reasons.iter().find_map(|reason| match reason {
        Reason::StepPays {
            now,
            after,
            minutes,
        } => Some((*now, *after, *minutes)),
        _ => None,
    });
    let (now, after, minutes) = pays.unwrap();
    assert!(after > now && (now - verdict.as_it_is.within_tolerance).abs() < 1e-12);
    assert!((after - verdict.predicted.within_tolerance).abs() < 1e-12);
    assert!(minutes > 30.0, "{minutes}");
    assert_eq!(verdict.options[0].fitting, *fitting);
    for reason in [Reason::NotYetSeenOnThisBow, Reason::TearsTeach] {
        assert!(verdict.reasons.contains(&reason), "{:?}", verdict.reasons);
    }
}

#[test]
fn where_no_work_is_worth_its_price_spacers_cannot_do_it() {
    let settings = r#"{"priority":["bare"],"mm_per_minute":3,"rest_room_mm":{"left":0,"right":0}}"#;
    let verdict = verdict_with(&format!("[{}]", face(60.0, 6)), settings);
    assert_eq!(verdict.call, Call::SpacersCannot, "{verdict:#?}");
    let says = |reason: &Reason| matches!(reason, Reason::NothingPays { .. });
    assert!(verdict.reasons.iter().any(says), "{:?}", verdict.reasons);
}

#[test]
fn what_is_missing_is_counted_and_named() {
    let settings = r#"{"priority":["broadhead","bare"]}"#;
    let verdict = verdict_with(&format!("[{}]", face(60.0, 2)), settings);
    let few = Reason::TooFewArrows {
        kind: Probe::Bare,
        have: 2,
        have_reference: 2,
        need: 3,
    };
    let unshot = Reason::NotYetShot {
        kind: Probe::Broadhead,
    };
    for reason in [few, unshot] {
        assert!(verdict.reasons.contains(&reason), "{:?}", verdict.reasons);
    }
}

#[test]
fn open_and_failed_checks_are_told_apart() {
    for (state, failed) in [("open", false), ("failed", true)] {
        let checks = format!(r#"{{"checks":[{{"check":"cam_timing","result":"{state}"}}],"#);
        let text = case_text(&format!("[{}]", face(90.0, 4)), "{}").replacen('{', &checks, 1);
        let case: Case = serde_json::from_str(&text).unwrap();
        let verdict = decide(&case, TransferTable::unrecorded()).unwrap();
        let check = CheckItem::CamTiming;
        let said = Reason::CheckFirst {
            check,
            failed,
            found: None,
        };
        assert!(verdict.reasons.contains(&said), "{:?}", verdict.reasons);
    }
}

/// Five bare shafts, one far from the rest: without it the bow is in tolerance.
#[test]
fn one_arrow_that_makes_the_picture_comes_before_spacers() {
    let apart = face(4.0, 5).replacen(
        r#"{"kind":"bare","x_mm":16"#,
        r#"{"kind":"bare","x_mm":190"#,
        1,
    );
    assert_ne!(apart, face(4.0, 5));
    let verdict = verdict(&format!("[{apart}]"));
    let Call::AdjustFirst {
        what:
            Adjustment::Arrow {
                arrow_kind: kind,
                index,
                ..
            },
    } = verdict.call
    else {
        panic!("{verdict:#?}");
    };
    assert_eq!((kind, index), (ArrowKind::Bare, 9));
    let trial = 0;
    let said = Reason::ArrowApart { trial, kind, index };
    assert!(verdict.reasons.contains(&said), "{:?}", verdict.reasons);
}

/// Two settings so close together that scatter hides which way the bow answers.
#[test]
fn a_direction_that_a_pair_does_not_settle_is_called_open() {
    let right = face(60.0, 3).replace("left", "right");
    let verdict = verdict(&format!("[{},{right}]", face(54.0, 3)));
    let chance = verdict.response.wrong_way_chance;
    assert!((0.1..0.9).contains(&chance), "{chance}");
    assert!(!verdict.response.seen_on_this_bow);
    let open = Reason::DirectionOpen {
        wrong_way_chance: chance,
    };
    assert!(verdict.reasons.contains(&open), "{:?}", verdict.reasons);
}
