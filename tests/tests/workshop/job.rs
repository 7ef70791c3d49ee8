//! The main job on the record.

use shimwright::frame::{ArrowKind, Probe, Side};
use shimwright::record::{
    BowDetails, ChangeKind, Exclusion, FittingReason, Outcome, SetupChange, SetupCheck,
};
use shimwright::spacer::{Axle, PairCount, Seat};
use shimwright::swap::{Found, Purpose, StepKind, SwapEvent};
use shimwright::verdict::{Call, CheckItem, CheckState, Ending, Reason};
use shimwright::workshop::{Happening, Waits, Workshop, WorkshopError};

use crate::workshop::bench::{Folder, alike, face, finish, paper, step_on, walk_to, workshop};

fn waits(workshop: &Workshop) -> Waits {
    workshop.rack("").unwrap()[0].waits
}

#[test]
fn from_the_first_face_to_what_is_fitted_and_why() {
    let folder = Folder::new();
    let (mut workshop, bow) = workshop(&folder);
    assert_eq!(waits(&workshop), Waits::Trial);
    for day in 0..3 {
        let shot = face(90.0 + f64::from(day));
        workshop
            .save_trial(bow, &shot, 2_000 + i64::from(day))
            .unwrap();
    }
    assert_eq!(waits(&workshop), Waits::Verdict);
    let given = workshop.give_verdict(bow, 3_000).unwrap();
    let Call::Fit { fitting, .. } = given.verdict.call.clone() else {
        panic!("{:?}", given.verdict.call);
    };
    assert_eq!(given.trial_ids.len(), 3);
    assert_eq!(waits(&workshop), Waits::Swap);
    let reason = FittingReason::Verdict;
    workshop
        .start_swap(bow, &fitting, reason, Some(given.id), 4_000)
        .unwrap();
    assert!(matches!(waits(&workshop), Waits::SwapHalfDone { .. }));
    let end = finish(&mut workshop, bow);
    assert_eq!(end.fitted.fitting, fitting);
    assert_eq!(waits(&workshop), Waits::Trial);
    drop(workshop);

    let mut again = Workshop::open(&folder.file()).unwrap();
    let fitted = again.fitted(bow).unwrap().unwrap();
    assert_eq!(fitted.fitting, fitting);
    assert_eq!((fitted.reason, fitted.verdict_id), (reason, Some(given.id)));
    assert_eq!(again.verdict(given.id).unwrap(), given);
    again.save_trial(bow, &face(10.0), 6_000).unwrap();
    let history = again.history(bow).unwrap();
    assert_eq!(history.splits.len(), 4);
    let told = history.forecasts.first().unwrap();
    assert_eq!((told.verdict_id, told.kind), (given.id, ArrowKind::Bare));
    assert!((told.shot_mm - 10.0).abs() < 1e-9);
    assert_eq!(history.track.predictions as usize, history.forecasts.len());
    assert!(matches!(
        history.happenings[0],
        Happening::Shot { at_ms: 6_000, .. }
    ));
    assert!(!again.history_scene(bow).unwrap().items.is_empty());
    let page = again.verdict_page(given.id).unwrap();
    assert!(!page.proof.unwrap().items.is_empty());
    assert_eq!(page.change.is_some(), page.then.is_some());
    assert!(page.newest && !page.stands, "shot since");
    assert_eq!(
        page.trials.iter().map(|trial| trial.id).collect::<Vec<_>>(),
        given.trial_ids.iter().rev().copied().collect::<Vec<_>>()
    );
}

#[test]
fn a_bow_that_is_likely_in_is_left_as_it_is_and_not_settled() {
    let folder = Folder::new();
    let (mut workshop, bow) = workshop(&folder);
    let details = BowDetails {
        priority: vec![Probe::Bare],
        ..workshop.bow_page(bow).unwrap().bow.details
    };
    workshop.save_bow(bow, &details, None, 1_500).unwrap();
    for day in 0..3 {
        workshop.save_trial(bow, &face(22.0), 2_000 + day).unwrap();
    }
    let given = workshop.give_verdict(bow, 3_000).unwrap();
    assert_eq!(given.verdict.call, Call::SpacersCannot);
    assert_eq!(given.verdict.ending(), Some(Ending::LikelyIn));
    assert_eq!(waits(&workshop), Waits::Left);
    let page = workshop.verdict_page(given.id).unwrap();
    assert_eq!(page.outcome, Outcome::Leave);
    let judged = Happening::Judged {
        verdict_id: given.id,
        outcome: Outcome::Leave,
        at_ms: 3_000,
    };
    assert!(workshop.history(bow).unwrap().happenings.contains(&judged));
}

#[test]
fn a_mismatch_inside_corrects_the_record_and_the_trials_shot_on_it() {
    let folder = Folder::new();
    let (mut workshop, bow) = workshop(&folder);
    let trial = workshop.save_trial(bow, &face(40.0), 2_000).unwrap();
    let to = alike("A", Side::Right);
    workshop
        .start_swap(bow, &to, FittingReason::OwnChoice, None, 3_000)
        .unwrap();
    walk_to(&mut workshop, bow, StepKind::ConfirmFound);
    let found = Found::Pieces {
        left_mm: 1.6,
        right_mm: 2.8,
    };
    let page = workshop.swap_found(bow, &found, 3_500).unwrap();
    assert!(matches!(
        page.event,
        SwapEvent::Mismatch {
            axle: Axle::Top,
            ..
        }
    ));
    assert_eq!(page.progress.swap.purpose, Purpose::CloseUp);
    let inside = alike("C", Side::Left).with_seat(Axle::Top, Seat::new("B", Side::Right));
    assert_eq!(page.fitted.fitting, inside);
    assert_eq!(page.fitted.reason, FittingReason::FoundInside);
    assert_eq!(workshop.trial(trial.id).unwrap().fitting, inside);
    finish(&mut workshop, bow);
    assert_eq!(workshop.fitted(bow).unwrap().unwrap(), page.fitted);
    assert_eq!(waits(&workshop), Waits::Verdict);
}

#[test]
fn a_mixed_pair_makes_older_evidence_void_and_never_goes_back_in() {
    let folder = Folder::new();
    let (mut workshop, bow) = workshop(&folder);
    let trial = workshop.save_trial(bow, &face(40.0), 2_000).unwrap().id;
    let to = alike("A", Side::Right);
    workshop
        .start_swap(bow, &to, FittingReason::OwnChoice, None, 3_000)
        .unwrap();
    walk_to(&mut workshop, bow, StepKind::ConfirmFound);
    let (left_mm, right_mm) = (1.3, 2.5);
    let refused = workshop.swap_found(bow, &Found::Pieces { left_mm, right_mm }, 3_100);
    assert!(
        matches!(refused, Err(WorkshopError::Swap(_))),
        "{refused:?}"
    );
    workshop
        .swap_found(bow, &Found::MixedPair { left_mm, right_mm }, 3_200)
        .unwrap();
    assert_eq!(workshop.bow_page(bow).unwrap().setup.epoch, 1);
    assert_eq!(finish(&mut workshop, bow).fitted.fitting, to);
    let given = workshop.give_verdict(bow, 6_000).unwrap();
    let void = Reason::TrialWithoutFitting { trial };
    assert!(
        given.verdict.reasons.contains(&void),
        "{:?}",
        given.verdict.reasons
    );
}

#[test]
fn a_swap_survives_a_restart_and_can_be_undone() {
    let folder = Folder::new();
    let (mut workshop, bow) = workshop(&folder);
    let before = workshop.fitted(bow).unwrap().unwrap();
    let to = alike("A", Side::Right);
    workshop
        .start_swap(bow, &to, FittingReason::OwnChoice, None, 3_000)
        .unwrap();
    let left_at = walk_to(&mut workshop, bow, StepKind::SetSpacers);
    drop(workshop);
    let mut workshop = Workshop::open(&folder.file()).unwrap();
    assert_eq!(workshop.swap_page(bow).unwrap().progress, left_at.progress);
    let refused = workshop.save_trial(bow, &face(40.0), 3_100);
    assert!(matches!(refused, Err(WorkshopError::SwapOpen { .. })));
    let page = workshop.undo_swap(bow, 3_200).unwrap();
    assert_eq!(page.current.unwrap().kind, StepKind::SetSpacers);
    finish(&mut workshop, bow);
    assert_eq!(workshop.fitted(bow).unwrap().unwrap(), before);
}

#[test]
fn undo_before_the_press_ends_the_swap_at_once() {
    let folder = Folder::new();
    let (mut workshop, bow) = workshop(&folder);
    let to = alike("A", Side::Right);
    let page = workshop
        .start_swap(bow, &to, FittingReason::OwnChoice, None, 3_000)
        .unwrap();
    step_on(&mut workshop, bow, &page);
    assert!(workshop.undo_swap(bow, 3_100).unwrap().current.is_none());
    assert!(matches!(
        workshop.swap_page(bow),
        Err(WorkshopError::NoSwap { .. })
    ));
}

#[test]
fn damage_on_record_stops_a_swap_before_the_press() {
    let folder = Folder::new();
    let (mut workshop, bow) = workshop(&folder);
    let cracked = SetupCheck {
        state: CheckState::Failed,
        note: "hairline at the lower tip".into(),
        ..SetupCheck::unanswered(CheckItem::LimbDamage)
    };
    workshop.answer_check(bow, &cracked, 2_000).unwrap();
    let to = alike("A", Side::Right);
    let refused = workshop.start_swap(bow, &to, FittingReason::OwnChoice, None, 3_000);
    assert!(matches!(refused, Err(WorkshopError::Unsafe { .. })));
    let item = CheckItem::LimbDamage;
    assert_eq!(waits(&workshop), Waits::FailedCheck { item });
}

#[test]
fn open_checks_come_before_spacers() {
    let folder = Folder::new();
    let (mut workshop, bow) = workshop(&folder);
    workshop.save_trial(bow, &face(90.0), 2_000).unwrap();
    let open = SetupCheck::unanswered(CheckItem::CamTiming);
    workshop.answer_check(bow, &open, 2_100).unwrap();
    let given = workshop.give_verdict(bow, 3_000).unwrap();
    assert_eq!(Outcome::of(&given.verdict), Outcome::AdjustFirst);
}

#[test]
fn one_trial_of_each_kind_is_never_enough_to_open_a_bow() {
    let folder = Folder::new();
    let (mut workshop, bow) = workshop(&folder);
    let mut shot = face(90.0);
    shot.impacts.retain(|mark| mark.at.y_mm > 8.0);
    workshop.save_trial(bow, &shot, 2_000).unwrap();
    let given = workshop.give_verdict(bow, 3_000).unwrap();
    assert_eq!(Outcome::of(&given.verdict), Outcome::ShootMore);
    assert!(matches!(waits(&workshop), Waits::Arrows { .. }));
}

#[test]
fn an_arrow_left_out_stays_on_record_with_its_reason() {
    let folder = Folder::new();
    let (mut workshop, bow) = workshop(&folder);
    let trial = workshop.save_trial(bow, &face(40.0), 2_000).unwrap();
    let reason = Some(Exclusion::BadShot);
    let after = workshop.exclude_impact(trial.id, 2, reason).unwrap();
    assert_eq!(after.shot.impacts[2].excluded, reason);
    assert_eq!(workshop.trial(trial.id).unwrap(), after);
    assert!(workshop.exclude_impact(trial.id, 99, reason).is_err());
}

#[test]
fn rest_and_nock_places_travel_with_the_trial() {
    let folder = Folder::new();
    let (mut workshop, bow) = workshop(&folder);
    let moved = |kind, value_mm, at_ms| SetupChange {
        kind,
        value_mm: Some(value_mm),
        note: String::new(),
        at_ms,
    };
    let rest = moved(ChangeKind::RestMoved, -0.8, 1_500);
    workshop.record_change(bow, &rest).unwrap();
    let nock = moved(ChangeKind::NockMoved, 1.6, 1_600);
    workshop.record_change(bow, &nock).unwrap();
    let trial = workshop.save_trial(bow, &paper(), 2_000).unwrap();
    assert_eq!((trial.setup.rest_mm, trial.setup.nock_mm), (-0.8, 1.6));
    assert_eq!(trial.setup.epoch, 0);
    assert!(!workshop.trial_scene(trial.id).unwrap().items.is_empty());
}

/// What a bow answers with is carried over a change of parts; what it shot before is not.
#[test]
fn new_parts_start_another_epoch_and_the_verdict_says_so() {
    for kind in [
        ChangeKind::NewString,
        ChangeKind::NewCables,
        ChangeKind::NewArrows,
        ChangeKind::NewRest,
    ] {
        let folder = Folder::new();
        let (mut workshop, bow) = workshop(&folder);
        workshop.save_trial(bow, &face(60.0), 2_000).unwrap();
        let change = SetupChange {
            kind,
            value_mm: None,
            note: String::new(),
            at_ms: 3_000,
        };
        workshop.record_change(bow, &change).unwrap();
        workshop.pass_open_checks(bow, 3_500).unwrap();
        let trial = workshop.save_trial(bow, &face(5.0), 4_000).unwrap();
        assert_eq!(trial.setup.epoch, 1, "{kind:?}");
        let verdict = workshop.give_verdict(bow, 5_000).unwrap().verdict;
        let older = Reason::OlderEpochs { trials: 1 };
        assert!(verdict.reasons.contains(&older), "{:?}", verdict.reasons);
        assert!((verdict.splits[0].x_mm - 5.0).abs() < 1e-9);
    }
}

/// Swaps `bow` as its verdict says and shoots it again.
fn swap_and_shoot(workshop: &mut Workshop, bow: i64, after_mm: f64) {
    let given = workshop.give_verdict(bow, 3_000).unwrap();
    let Call::Fit { fitting, .. } = &given.verdict.call else {
        panic!("{:?}", given.verdict.call);
    };
    let (reason, from) = (FittingReason::Verdict, Some(given.id));
    workshop
        .start_swap(bow, fitting, reason, from, 4_000)
        .unwrap();
    finish(workshop, bow);
    workshop.pass_open_checks(bow, 5_500).unwrap();
    workshop.save_trial(bow, &face(after_mm), 6_000).unwrap();
}

/// One bow lands where it was foretold, another does not: each bow's page tells its own.
#[test]
fn predictions_are_held_against_what_was_shot_on_each_bow() {
    let folder = Folder::new();
    let (mut workshop, heron) = workshop(&folder);
    let details = workshop.bow_page(heron).unwrap().bow.details;
    let bittern = workshop
        .add_bow(&details, Some(&alike("C", Side::Left)), 1_200)
        .unwrap()
        .id;
    workshop.pass_open_checks(bittern, 1_300).unwrap();
    for (bow, after_mm) in [(heron, 15.0), (bittern, -900.0)] {
        for day in 0..3 {
            workshop.save_trial(bow, &face(90.0), 2_000 + day).unwrap();
        }
        swap_and_shoot(&mut workshop, bow, after_mm);
    }
    let track = |bow| workshop.history(bow).unwrap().track;
    let (good, bad) = (track(heron), track(bittern));
    assert_eq!((good.predictions, good.in80), (1, 1));
    assert_eq!((bad.predictions, bad.in95), (1, 0));
    assert!(bad.mean_miss_mm < -100.0);
}

#[test]
fn pieces_in_one_bow_are_not_offered_to_another() {
    let folder = Folder::new();
    let (mut workshop, bow) = workshop(&folder);
    let page = workshop.bow_page(bow).unwrap();
    let kit = page.kit.unwrap();
    let one = |pair: &str| PairCount {
        pair: pair.into(),
        sets: 2,
    };
    let owned = [one("A"), one("B"), one("C")];
    workshop.save_kit(Some(kit.id), &kit.kit, &owned).unwrap();
    let other = workshop
        .add_bow(&page.bow.details, Some(&alike("A", Side::Left)), 1_200)
        .unwrap();
    let stock = workshop.bow_page(other.id).unwrap().stock.unwrap();
    assert_eq!((stock.sets_of("A"), stock.sets_of("C")), (2, 0));
    let shelf = &workshop.kits().unwrap()[0].shelf;
    assert_eq!(shelf.pairs[2].on_shelf, 0);
}

#[test]
fn the_rack_finds_bows_by_any_word_and_shows_the_last_used_first() {
    let folder = Folder::new();
    let (mut workshop, bow) = workshop(&folder);
    let details = workshop.bow_page(bow).unwrap().bow.details;
    let late = workshop.add_bow(&details, None, 9_000).unwrap();
    let rows = workshop.rack("").unwrap();
    assert_eq!((rows[0].bow_id, rows[0].waits), (late.id, Waits::Fitting));
    assert_eq!(workshop.rack("HER 7").unwrap().len(), 2);
    assert!(workshop.rack("heron crane").unwrap().is_empty());
    workshop.archive_bow(late.id, true, 9_100).unwrap();
    assert_eq!(workshop.rack("").unwrap().len(), 1);
    assert_eq!(workshop.rack("heron").unwrap().len(), 2);
}
