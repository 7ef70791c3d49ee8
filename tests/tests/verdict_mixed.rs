//! Evidence of several kinds, distances and times in one verdict: what it must conclude, and that it
//! says why.

use shimwright::evidence::Probe;
use shimwright::flight::TransferTable;
use shimwright::units::{MM_PER_INCH, TWENTY_YARDS_M};
use shimwright::verdict::{
    Adjustment, Call, Case, Direction, Knob, Predicted, Reason, Verdict, decide,
};

/// A bow on pair C, thick left, with what was shot; `bow` holds further keys of the bow.
pub(super) fn decided(trials: &[String], settings: &str, bow: &str) -> Verdict {
    decided_from(trials, settings, bow, "null")
}

pub(super) fn decided_from(trials: &[String], settings: &str, bow: &str, stock: &str) -> Verdict {
    let text = format!(
        r#"{{"stock":{stock},"kit":{{"name":"bench","total_mm":4.4,"tolerance_mm":0.05,"pairs":[
            {{"name":"A","thin_mm":1.3,"thick_mm":3.1}},
            {{"name":"B","thin_mm":1.5,"thick_mm":2.9}},
            {{"name":"C","thin_mm":1.9,"thick_mm":2.5}}]}},
          "bow":{{"axle_to_axle_mm":838,{}{bow}}},
          "settings":{settings},"trials":[{}]}}"#,
        fitted("C", "left"),
        trials.join(",")
    );
    let case: Case = serde_json::from_str(&text).unwrap();
    decide(&case, TransferTable::unrecorded()).unwrap()
}

/// Bare shafts count, and the rest may not move.
pub(super) const BARE_ONLY: &str = r#"{"priority":["bare"],"rest_room_mm":{"left":0,"right":0}}"#;

fn bare_first(trials: &[String]) -> Verdict {
    decided(trials, BARE_ONLY, "")
}

pub(super) fn fitted(pair: &str, thick: &str) -> String {
    let seat = format!(r#"{{"pair":"{pair}","thick":"{thick}"}}"#);
    format!(r#""fitted":{{"top":{seat},"bottom":{seat}}}"#)
}

/// `count` arrows of a kind around a centre, `apart_mm` from one to the next.
fn shafts(kind: &str, count: usize, (x, y): (f64, f64), apart_mm: f64) -> String {
    let one = |k: usize| {
        let off = apart_mm * (k as f64 - (count as f64 - 1.0) / 2.0);
        format!(
            r#"{{"kind":"{kind}","x_mm":{},"y_mm":{}}}"#,
            x + off,
            y - off
        )
    };
    (0..count).map(one).collect::<Vec<_>>().join(",")
}

/// A face with `count` fletched arrows in the middle and as many of `kind` at `at`.
pub(super) fn face(set: &str, distance_m: f64, kind: &str, count: usize, at: (f64, f64)) -> String {
    format!(
        r#"{{{set},"distance_m":{distance_m},"impacts":[{},{}]}}"#,
        shafts("fletched", count, (0.0, 0.0), 5.0),
        shafts(kind, count, at, 5.0)
    )
}

fn paper(paper_m: f64, x_mm: f64) -> String {
    let tear = |off: f64| format!(r#"{{"x_mm":{},"y_mm":{off}}}"#, x_mm + off);
    let tears = [-0.6, -0.2, 0.2, 0.6].map(tear).join(",");
    format!(
        r#"{{{},"paper_m":{paper_m},"tears":[{tears}]}}"#,
        fitted("C", "left")
    )
}

/// What is expected of `kind` as the bow is.
fn expected(verdict: &Verdict, kind: Probe) -> Predicted {
    if verdict.as_it_is.kind == kind {
        return verdict.as_it_is;
    }
    let found = verdict.predictions.iter().find(|one| one.kind == kind);
    *found.unwrap()
}

/// An arrow that leaves with a point turned right tears nock left; what the bare shaft then does at
/// 20 yd depends on whether it was a yaw angle or a yaw rate. Tears in inches by an independent
/// integration of the planar arrow (DOP853) with the usual 400 gr arrow: a rate of 0.5 rad/s tears
/// .100 at 0.9 m and .310 at 2.4 m and splits 1.52 at 20 yd; an angle of 0.65 degrees tears .326
/// and .248 and splits about .26.
#[test]
fn paper_at_two_distances_tells_an_angle_from_a_rate() {
    let torn = |near_in: f64, far_in: f64| {
        let trials = [
            paper(0.9, -near_in * MM_PER_INCH),
            paper(2.4, -far_in * MM_PER_INCH),
        ];
        expected(&bare_first(&trials), Probe::Bare)
    };
    let (rate, angle) = (torn(0.100, 0.310), torn(0.326, 0.248));
    assert!(
        rate.x_mm > angle.x_mm + 10.0,
        "{} {}",
        rate.x_mm,
        angle.x_mm
    );
    for (seen, truth_in) in [(rate, 1.52), (angle, 0.26)] {
        let truth_mm = truth_in * MM_PER_INCH;
        assert!(
            (seen.low95_mm..=seen.high95_mm).contains(&truth_mm),
            "{truth_mm} {seen:?}"
        );
    }
}

/// Bare shafts split .55 in at 10 yd and 3.61 in at 20 yd for a yaw rate, .19 and .41 in for a yaw
/// angle (independent integration, 1 rad/s and 1 degree). Of a fault that is four parts rate, as
/// launches usually are, .21 of the far split shows at half the distance, not half of it.
#[test]
fn a_near_split_is_carried_out_by_flight_and_never_divided() {
    let flown_mm = 60.0;
    let near_mm = flown_mm * (0.8 * 0.55 / 3.61 + 0.2 * 0.19 / 0.41);
    let near = format!(
        r#"{{{},"distance_m":9.144,"impacts":[{},{}]}}"#,
        fitted("C", "left"),
        shafts("fletched", 12, (0.0, 0.0), 0.4),
        shafts("bare", 12, (near_mm, 0.0), 0.4)
    );
    let far = expected(&bare_first(&[near]), Probe::Bare);
    assert!(far.x_mm > 0.5 * (flown_mm + 2.0 * near_mm), "{far:?}");
    assert!(
        (far.low80_mm..=far.high80_mm).contains(&flown_mm),
        "{far:?}"
    );
}

#[test]
fn distances_and_kinds_together_say_more_than_either() {
    let at = |distance_m, kind, x| face(&fitted("C", "left"), distance_m, kind, 4, (x, 0.0));
    let near = at(13.716, "bare", 26.0);
    let far = at(27.432, "bare", 150.0);
    let heads = at(TWENTY_YARDS_M, "broadhead", 40.0);
    let alone = bare_first(std::slice::from_ref(&near));
    let mixed = bare_first(&[near, far, heads, paper(2.0, -7.0)]);
    let sd = |verdict: &Verdict| expected(verdict, Probe::Bare).sd_mm;
    assert!(sd(&mixed) < sd(&alone), "{} {}", sd(&mixed), sd(&alone));
    let said = Reason::DistancesCombined { model_error: 0.25 };
    assert!(mixed.reasons.contains(&said), "{:?}", mixed.reasons);
    assert!(!alone.reasons.contains(&said));
}

/// One before/after pair of spacers in an epoch, then a change of parts.
#[test]
fn an_older_epoch_teaches_the_answer_and_not_the_fault() {
    let pair = [
        face(&fitted("C", "left"), TWENTY_YARDS_M, "bare", 5, (60.0, 0.0)),
        face(
            &fitted("C", "right"),
            TWENTY_YARDS_M,
            "bare",
            5,
            (18.0, 0.0),
        ),
    ];
    let wish = r#"{"priority":["bare"]}"#;
    let none = decided(&[], wish, "");
    let same = decided(&pair, wish, "");
    let older = decided(&pair, wish, r#","epoch":1"#);
    assert!(older.reasons.contains(&Reason::OlderEpochs { trials: 2 }));
    assert!(!same.reasons.contains(&Reason::OlderEpochs { trials: 2 }));
    let sd = |verdict: &Verdict| verdict.response.sd;
    assert!(sd(&same) < sd(&older) && sd(&older) < sd(&none));
    assert!(older.response.seen_on_this_bow);
    let split_sd = |verdict: &Verdict| verdict.as_it_is.sd_mm;
    assert!(split_sd(&same) < 10.0, "{}", split_sd(&same));
    assert!(split_sd(&older) > 55.0, "{}", split_sd(&older));
    let Call::ShootMore { arrows } = &older.call else {
        panic!("{:?}", older.call);
    };
    assert_eq!(arrows.bare, 3);
}

#[test]
fn a_bow_that_answers_the_other_way_is_told_so() {
    let trial = |thick: &str, x| face(&fitted("A", thick), TWENTY_YARDS_M, "bare", 5, (x, 0.0));
    let verdict = bare_first(&[trial("left", -40.0), trial("right", 70.0)]);
    let told = verdict
        .reasons
        .iter()
        .any(|reason| matches!(reason, Reason::AnswersTheOtherWay { chance } if *chance > 0.9));
    assert!(told, "{:?}", verdict.reasons);
    assert!(verdict.response.mm_per_mm < 0.0);
    let usual = bare_first(&[trial("left", 70.0), trial("right", -40.0)]);
    assert!(usual.response.wrong_way_chance < 0.01);
    let seen = |reason: &Reason| matches!(reason, Reason::SeenOnThisBow { .. });
    assert!(usual.reasons.iter().any(seen));
}

/// The rest moved twice on this bow, and the split with it; the kit cannot do better.
#[test]
fn the_rest_is_advised_once_its_direction_is_known() {
    let at = |rest_mm: f64, x: f64| {
        let set = format!(r#"{},"rest_mm":{rest_mm}"#, fitted("C", "left"));
        face(&set, TWENTY_YARDS_M, "bare", 6, (x, 0.0))
    };
    let costly = r#"{"priority":["bare"],"price_per_axle_mm":40}"#;
    let unknown = decided(&[at(0.0, 45.0)], costly, "");
    let Call::Trim { trim, .. } = unknown.call else {
        panic!("{:?}", unknown.call);
    };
    // Nothing is known of this rest: the taught side goes first, and is called even.
    assert!(
        trim.move_mm < 0.0 && trim.direction_chance < 0.51,
        "{trim:?}"
    );
    assert!(unknown.reasons.contains(&Reason::RestDirectionDisputed));
    let trials = [at(-1.0, -20.0), at(1.0, 84.0), at(0.0, 31.0)];
    let known = decided(&trials, costly, r#","rest_mm":0"#);
    let Call::Trim {
        knob: Knob::Rest,
        trim,
        ..
    } = known.call
    else {
        panic!("{:?}", known.call);
    };
    // 52 mm of split per mm to the right: 31 mm right of the group wants 0.6 mm to the left.
    assert!((trim.move_mm + 0.6).abs() < 0.15, "{trim:?}");
    let seen = |reason: &Reason| matches!(reason, Reason::RestDirectionSeen { mm_per_mm, .. } if (mm_per_mm - 52.0).abs() < 10.0);
    assert!(known.reasons.iter().any(seen), "{:?}", known.reasons);
}

#[test]
fn a_sure_vertical_fault_comes_first_with_its_direction() {
    let trial = face(
        &fitted("C", "left"),
        TWENTY_YARDS_M,
        "bare",
        6,
        (10.0, -130.0),
    );
    let verdict = bare_first(&[trial]);
    let Call::AdjustFirst {
        what:
            Adjustment::Vertical {
                y_mm,
                direction,
                trim,
                ..
            },
    } = &verdict.call
    else {
        panic!("{:?}", verdict.call);
    };
    assert!(*y_mm < -60.0 && trim.move_mm < 0.0);
    assert_eq!(*direction, Direction::Down);
    let said = |reason: &Reason| matches!(reason, Reason::VerticalFirst { .. });
    assert!(verdict.reasons.iter().any(said));
}

/// A heavier or draggier probe lands lower from a perfect bow: that is no fault of the bow.
#[test]
fn what_gravity_and_drag_explain_is_taken_off_and_shown() {
    let table = TransferTable::unrecorded();
    let usual_mm = table
        .expected_vertical(shimwright::frame::ArrowKind::Broadhead, 40.0)
        .unwrap()
        .value_mm;
    let trial = face(&fitted("C", "left"), 40.0, "broadhead", 5, (10.0, usual_mm));
    let wish = r#"{"priority":["broadhead"],"tolerance_distance_m":40,"tolerance_mm":30}"#;
    let verdict = decided(&[trial], wish, "");
    let said = verdict.reasons.iter().find_map(|reason| match reason {
        Reason::VerticalExplained {
            kind: Probe::Broadhead,
            y_mm,
            left_mm,
        } => Some((*y_mm, *left_mm)),
        _ => None,
    });
    let (y_mm, left_mm) = said.unwrap();
    assert!((y_mm - usual_mm).abs() < 1e-9 && y_mm > 30.0, "{y_mm}");
    assert!(left_mm.unwrap().abs() < 2.0, "{left_mm:?}");
    assert!(!matches!(verdict.call, Call::AdjustFirst { .. }));
}

#[test]
fn a_tear_that_does_not_follow_the_bare_shafts_points_at_contact() {
    let bare = |x| face(&fitted("C", "left"), TWENTY_YARDS_M, "bare", 5, (x, 0.0));
    let torn = paper(2.0, 25.0).replacen('{', r#"{"id":4,"#, 1);
    let wish = r#"{"priority":["bare","paper"]}"#;
    let verdict = decided(&[bare(58.0), bare(62.0), torn], wish, "");
    let Call::AdjustFirst {
        what: Adjustment::Contact { trial: 4, .. },
    } = verdict.call
    else {
        panic!("{:?}", verdict.call);
    };
    let said = |reason: &Reason| matches!(reason, Reason::OppositeSigns { .. });
    assert!(verdict.reasons.iter().any(said), "{:?}", verdict.reasons);
    // Said, not averaged: the paper as it stands is expected to tear as it just did.
    let again = expected(&verdict, Probe::Paper);
    assert!(
        (again.low95_mm..=again.high95_mm).contains(&25.0),
        "{again:?}"
    );
    let shot = expected(&verdict, Probe::Bare);
    assert!((shot.x_mm - 60.0).abs() < 8.0, "{shot:?}");
}

#[test]
fn bare_shafts_that_scatter_far_more_point_at_the_arrows() {
    let trial = |x: f64| {
        format!(
            r#"{{{},"distance_m":18.288,"impacts":[{},{}]}}"#,
            fitted("C", "left"),
            shafts("fletched", 5, (0.0, 0.0), 4.0),
            shafts("bare", 5, (x, 0.0), 45.0)
        )
    };
    let verdict = bare_first(&[trial(30.0), trial(34.0)]);
    let Call::AdjustFirst {
        what: Adjustment::Spine { ratio },
    } = verdict.call
    else {
        panic!("{:?}", verdict.call);
    };
    assert!((ratio - 11.25).abs() < 1e-9, "{ratio}");
    assert!(verdict.reasons.contains(&Reason::BareScatter { ratio }));
    assert!(verdict.reasons.contains(&Reason::SpineLabelsDisputed));
}

/// A further round is asked for only where it saves more than it costs.
#[test]
fn more_arrows_are_asked_for_only_where_the_round_earns_itself() {
    let mut asked = [0, 0];
    for split_mm in 10..=120 {
        let trial = format!(
            r#"{{{},"distance_m":18.288,"impacts":[{},{}]}}"#,
            fitted("C", "left"),
            shafts("fletched", 3, (0.0, 0.0), 40.0),
            shafts("bare", 3, (f64::from(split_mm), 0.0), 80.0)
        );
        for (which, price_mm) in [0.0, 4.0].into_iter().enumerate() {
            let wish = format!(
                r#"{{"priority":["bare"],"price_per_round_mm":{price_mm},"price_per_arrow_mm":0,"price_per_axle_mm":5,"rest_room_mm":{{"left":0,"right":0}}}}"#
            );
            let verdict = decided(std::slice::from_ref(&trial), &wish, "");
            let pays = |reason: &&Reason| matches!(reason, Reason::MoreArrowsPay { .. });
            if let Some(Reason::MoreArrowsPay { saving_mm, .. }) = verdict.reasons.iter().find(pays)
            {
                assert!(
                    *saving_mm >= 0.5,
                    "a saving that rounds to none is not said"
                );
                asked[which] += 1;
            }
        }
    }
    assert!(asked[0] > asked[1], "{asked:?}");
}

/// Three splits at 20 yd agree; a fourth at 30 yd lies on the other side. The relative error of
/// the flight model does not excuse it.
#[test]
fn a_trial_at_another_distance_that_contradicts_is_named() {
    let near = |x| face(&fitted("C", "left"), TWENTY_YARDS_M, "bare", 5, (x, 0.0));
    let far = |x: f64| {
        let trial = face(&fitted("C", "left"), 27.432, "bare", 5, (x, 0.0));
        trial.replacen('{', r#"{"id":9,"#, 1)
    };
    let told = |x| bare_first(&[near(34.0), near(36.0), near(35.0), far(x)]);
    let what = Adjustment::Contradiction {
        trial: 9,
        probe: Some(Probe::Bare),
    };
    assert_eq!(told(-170.0).call, Call::AdjustFirst { what });
    let said = |reason: &Reason| matches!(reason, Reason::TrialDisagrees { trial: 9, .. });
    assert!(told(-170.0).reasons.iter().any(said));
    assert!(!told(95.0).reasons.iter().any(said));
}
