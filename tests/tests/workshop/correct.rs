//! What was recorded wrongly is put right, and a verdict that no longer holds says so.

use shimwright::frame::Side;
use shimwright::record::{
    BowDetails, ChangeKind, ChangeRecord, Exclusion, SetupChange, SetupCheck, WorkshopSettings,
};
use shimwright::verdict::{CheckItem, CheckState};
use shimwright::workshop::{Happening, Waits, Workshop, WorkshopError};

use crate::workshop::bench::{Folder, alike, face, kit, paper, workshop};

fn stands(workshop: &Workshop, bow: i64) -> bool {
    workshop.bow_page(bow).unwrap().verdict_stands
}

/// Whether `change` makes a verdict that stood stale, on the bow's page and on the rack.
fn makes_stale(change: impl FnOnce(&mut Workshop, i64)) -> bool {
    let folder = Folder::new();
    let (mut workshop, bow) = workshop(&folder);
    workshop.save_trial(bow, &face(90.0), 2_000).unwrap();
    workshop.give_verdict(bow, 2_000).unwrap();
    assert!(stands(&workshop, bow));
    assert_ne!(workshop.rack("").unwrap()[0].waits, Waits::Verdict);
    change(&mut workshop, bow);
    // All at one moment: nothing may hang on the clock having moved on.
    let stale = !stands(&workshop, bow);
    // After another fitting the bow waits to be shot first.
    let waits = workshop.rack("").unwrap()[0].waits;
    assert_eq!(matches!(waits, Waits::Verdict | Waits::Trial), stale);
    workshop.give_verdict(bow, 2_000).unwrap();
    assert!(stands(&workshop, bow), "judged anew, it stands");
    stale
}

fn changed(kind: ChangeKind) -> SetupChange {
    SetupChange {
        kind,
        value_mm: Some(0.5),
        note: String::new(),
        at_ms: 2_000,
    }
}

#[test]
fn what_was_moved_is_shot_before_it_is_judged() {
    let folder = Folder::new();
    let (mut workshop, bow) = workshop(&folder);
    let waits = |workshop: &Workshop| {
        let page = workshop.bow_page(bow).unwrap();
        assert_eq!(page.waits, workshop.rack("").unwrap()[0].waits);
        page.waits
    };
    workshop.save_trial(bow, &face(90.0), 2_000).unwrap();
    let confirmed = SetupChange {
        value_mm: None,
        ..changed(ChangeKind::SideConfirmed)
    };
    workshop.record_change(bow, &confirmed).unwrap();
    assert_eq!(waits(&workshop), Waits::Verdict);
    workshop
        .record_change(bow, &changed(ChangeKind::RestMoved))
        .unwrap();
    assert_eq!(waits(&workshop), Waits::Trial);
    workshop.save_trial(bow, &face(60.0), 2_000).unwrap();
    assert_eq!(waits(&workshop), Waits::Verdict);
}

#[test]
fn whatever_a_verdict_is_computed_from_makes_it_stale() {
    assert!(makes_stale(|w, bow| {
        w.record_change(bow, &changed(ChangeKind::RestMoved))
            .unwrap();
    }));
    assert!(makes_stale(|w, bow| {
        w.record_change(bow, &changed(ChangeKind::RestMoved))
            .unwrap();
        w.give_verdict(bow, 2_000).unwrap();
        let record = newest_change(w, bow);
        w.correct_change(record.id, &rest_at(0.2, 2_000), 2_000)
            .unwrap();
    }));
    assert!(makes_stale(|w, bow| {
        let check = SetupCheck {
            state: CheckState::Ok,
            ..SetupCheck::unanswered(CheckItem::CamLean)
        };
        w.answer_check(bow, &check, 2_000).unwrap();
    }));
    assert!(makes_stale(|w, bow| {
        w.record_fitting(bow, &alike("C", Side::Left), 2_000)
            .unwrap();
    }));
    assert!(makes_stale(|w, _| {
        w.exclude_impact(1, 0, Some(Exclusion::BadShot)).unwrap();
    }));
    assert!(makes_stale(|w, bow| {
        w.correct_trial(1, bow, &face(20.0)).unwrap();
    }));
    assert!(makes_stale(|w, _| {
        let mut kit = kit();
        kit.pairs.pop();
        let known = w.kits().unwrap().remove(0).record;
        kit.pairs = known.kit.pairs;
        kit.pairs[0].thick_measured_mm = Some(3.12);
        w.save_kit(Some(known.id), &kit, &[]).unwrap();
    }));
    assert!(makes_stale(|w, bow| {
        let details = BowDetails {
            tolerance_mm: Some(60.0),
            ..w.bow_page(bow).unwrap().bow.details
        };
        w.save_bow(bow, &details, None, 2_000).unwrap();
    }));
    assert!(makes_stale(|w, _| {
        let settings = WorkshopSettings {
            tolerance_mm: 60.0,
            ..w.settings().unwrap()
        };
        w.save_settings(&settings).unwrap();
    }));
}

#[test]
fn a_name_or_a_unit_does_not_make_a_verdict_stale() {
    assert!(!makes_stale(|w, bow| {
        let details = BowDetails {
            name: "Heron II".into(),
            notes: "blue string".into(),
            ..w.bow_page(bow).unwrap().bow.details
        };
        w.save_bow(bow, &details, None, 2_000).unwrap();
        w.archive_bow(bow, false, 2_000).unwrap();
    }));
    assert!(!makes_stale(|w, _| {
        let settings = WorkshopSettings {
            length_unit: shimwright::record::LengthUnit::Inch,
            ..w.settings().unwrap()
        };
        w.save_settings(&settings).unwrap();
    }));
}

#[test]
fn a_struck_trial_counts_for_nothing_and_comes_back_whole() {
    let folder = Folder::new();
    let (mut workshop, bow) = workshop(&folder);
    let trial = workshop.save_trial(bow, &face(90.0), 2_000).unwrap();
    let struck = workshop.strike_trial(trial.id, true, 3_000).unwrap();
    assert_eq!(struck.struck_ms, Some(3_000));
    assert_eq!(workshop.rack("").unwrap()[0].waits, Waits::Trial);
    assert!(
        workshop
            .give_verdict(bow, 3_000)
            .unwrap()
            .trial_ids
            .is_empty()
    );
    let history = workshop.history(bow).unwrap();
    assert!(history.splits.is_empty());
    let listed = history.happenings.iter();
    let counts = listed.filter_map(|entry| match entry {
        Happening::Shot { counts, .. } => Some(*counts),
        _ => None,
    });
    assert_eq!(counts.collect::<Vec<_>>(), [false]);
    let back = workshop.strike_trial(trial.id, false, 4_000).unwrap();
    assert_eq!(back, trial);
    assert_eq!(workshop.history(bow).unwrap().splits.len(), 1);
}

#[test]
fn a_corrected_trial_keeps_when_and_on_what_it_was_shot_and_can_be_put_back() {
    let folder = Folder::new();
    let (mut workshop, bow) = workshop(&folder);
    let trial = workshop.save_trial(bow, &face(90.0), 2_000).unwrap();
    workshop
        .record_fitting(bow, &alike("A", Side::Right), 2_500)
        .unwrap();
    let mut right = face(40.0);
    right.distance_m = 27.0;
    let corrected = workshop.correct_trial(trial.id, bow, &right).unwrap();
    assert_eq!(corrected.shot, right);
    assert_eq!(
        (corrected.at_ms, corrected.fitting_id),
        (2_000, trial.fitting_id)
    );
    let undone = workshop.correct_trial(trial.id, bow, &trial.shot).unwrap();
    assert_eq!(undone, trial);
    right.distance_m = 0.0;
    let refused = workshop.correct_trial(trial.id, bow, &right).unwrap_err();
    assert!(matches!(refused, WorkshopError::Field(_)), "{refused}");
    assert_eq!(workshop.trial(trial.id).unwrap(), trial);
}

#[test]
fn a_trial_shot_with_another_bow_counts_with_what_that_one_carried_then() {
    let folder = Folder::new();
    let (mut workshop, bow) = workshop(&folder);
    let trial = workshop.save_trial(bow, &face(90.0), 2_000).unwrap();
    let details = workshop.bow_page(bow).unwrap().bow.details;
    let late = workshop.add_bow(&details, Some(&alike("B", Side::Left)), 2_001);
    let late = late.unwrap().id;
    let refused = workshop.correct_trial(trial.id, late, &trial.shot);
    assert!(matches!(refused, Err(WorkshopError::NoFitting { .. })));
    let early = workshop.add_bow(&details, Some(&alike("A", Side::Left)), 1_500);
    let early = early.unwrap().id;
    workshop
        .record_fitting(early, &alike("B", Side::Right), 2_001)
        .unwrap();
    let moved = workshop
        .correct_trial(trial.id, early, &trial.shot)
        .unwrap();
    assert_eq!(
        (moved.bow_id, moved.fitting),
        (early, alike("A", Side::Left))
    );
    assert!(workshop.trials(bow).unwrap().is_empty());
}

#[test]
fn a_tear_is_left_out_with_its_reason() {
    let folder = Folder::new();
    let (mut workshop, bow) = workshop(&folder);
    let trial = workshop.save_trial(bow, &paper(), 2_000).unwrap();
    workshop
        .exclude_tear(trial.id, 0, Some(Exclusion::Contact))
        .unwrap();
    let read = workshop.trial(trial.id).unwrap();
    assert_eq!(read.shot.tears[0].excluded, Some(Exclusion::Contact));
    assert!(workshop.exclude_tear(trial.id, 1, None).is_err());
}

#[test]
fn a_kit_put_away_stays_with_the_bows_that_carry_it() {
    let folder = Folder::new();
    let (mut workshop, bow) = workshop(&folder);
    let known = workshop.kits().unwrap().remove(0).record;
    workshop.archive_kit(known.id, true, 3_000).unwrap();
    let saved = workshop.save_kit(Some(known.id), &known.kit, &[]).unwrap();
    assert_eq!(saved.archived_ms, Some(3_000), "changing it keeps it away");
    let page = workshop.bow_page(bow).unwrap();
    assert_eq!(page.kit.unwrap().archived_ms, Some(3_000));
    workshop.archive_kit(known.id, false, 4_000).unwrap();
    assert_eq!(workshop.kits().unwrap()[0].record, known);
    assert!(workshop.archive_kit(99, true, 3_000).is_err());
}

fn rest_at(value_mm: f64, at_ms: i64) -> SetupChange {
    SetupChange {
        value_mm: Some(value_mm),
        at_ms,
        ..changed(ChangeKind::RestMoved)
    }
}

/// The change that was recorded last.
fn newest_change(workshop: &Workshop, bow: i64) -> ChangeRecord {
    let happened = workshop.history(bow).unwrap().happenings;
    let record = happened.into_iter().find_map(|happening| match happening {
        Happening::Changed { record } => Some(record),
        _ => None,
    });
    record.unwrap()
}

#[test]
fn a_place_entered_wrongly_is_put_right_for_what_was_shot_since() {
    let folder = Folder::new();
    let (mut workshop, bow) = workshop(&folder);
    workshop.save_trial(bow, &face(60.0), 2_000).unwrap();
    workshop.record_change(bow, &rest_at(0.8, 2_500)).unwrap();
    workshop.save_trial(bow, &face(71.0), 3_000).unwrap();
    let wrong = newest_change(&workshop, bow);
    let right = workshop
        .correct_change(wrong.id, &rest_at(-0.8, 9_000), 9_000)
        .unwrap();
    assert_eq!((right.id, right.change), (wrong.id, rest_at(-0.8, 2_500)));
    workshop.save_trial(bow, &face(70.0), 9_500).unwrap();
    let places = |workshop: &Workshop| -> Vec<f64> {
        let trials = workshop.trials(bow).unwrap();
        trials.iter().map(|trial| trial.setup.rest_mm).collect()
    };
    assert_eq!(places(&workshop), [0.0, -0.8, -0.8]);
    let setup = workshop.bow_page(bow).unwrap().setup;
    assert_eq!(setup, workshop.trials(bow).unwrap()[2].setup);
    // What is corrected of such a trial leaves the place as it was entered, for the next correction.
    workshop.correct_trial(2, bow, &face(72.0)).unwrap();
    workshop
        .exclude_impact(3, 0, Some(Exclusion::BadShot))
        .unwrap();
    workshop
        .correct_change(wrong.id, &rest_at(-0.4, 9_900), 9_900)
        .unwrap();
    assert_eq!(places(&workshop), [0.0, -0.4, -0.4]);
}

#[test]
fn where_a_move_began_is_told_by_the_changes_before_it_that_count() {
    let folder = Folder::new();
    let (mut workshop, bow) = workshop(&folder);
    let first = workshop.record_change(bow, &rest_at(0.8, 2_500)).unwrap();
    let second = workshop.record_change(bow, &rest_at(1.2, 2_600)).unwrap();
    let before = |workshop: &Workshop| -> Vec<f64> {
        let began = |id| workshop.setup_before(id).unwrap().rest_mm;
        [first.id, second.id].map(began).to_vec()
    };
    assert_eq!(before(&workshop), [0.0, 0.8]);
    workshop
        .correct_change(first.id, &rest_at(-0.4, 2_700), 2_700)
        .unwrap();
    assert_eq!(before(&workshop), [0.0, -0.4]);
    workshop.strike_change(first.id, true, 2_800).unwrap();
    assert_eq!(before(&workshop), [0.0, 0.0]);
    assert!(workshop.setup_before(77).is_err());
}

#[test]
fn a_change_that_never_was_is_struck_and_taken_in_again() {
    let folder = Folder::new();
    let (mut workshop, bow) = workshop(&folder);
    workshop.save_trial(bow, &face(60.0), 2_000).unwrap();
    workshop.record_change(bow, &rest_at(0.8, 2_500)).unwrap();
    let string = SetupChange {
        value_mm: None,
        at_ms: 2_600,
        ..changed(ChangeKind::NewString)
    };
    workshop.record_change(bow, &string).unwrap();
    assert_eq!(workshop.bow_page(bow).unwrap().waits, Waits::Trial);
    workshop.save_trial(bow, &face(62.0), 3_000).unwrap();
    let epochs = |workshop: &Workshop| -> Vec<i64> {
        let trials = workshop.trials(bow).unwrap();
        trials.iter().map(|trial| trial.setup.epoch).collect()
    };
    assert_eq!(epochs(&workshop), [0, 1]);
    let record = newest_change(&workshop, bow);
    assert!(
        workshop
            .strike_change(record.id, true, 4_000)
            .unwrap()
            .struck
    );
    assert_eq!(epochs(&workshop), [0, 0]);
    let known = newest_change(&workshop, bow);
    assert_eq!(
        (known.id, known.struck),
        (record.id, true),
        "it stays to be read"
    );
    assert!(
        !workshop
            .strike_change(record.id, false, 5_000)
            .unwrap()
            .struck
    );
    assert_eq!(epochs(&workshop), [0, 1]);
    let refused = workshop.strike_change(77, true, 5_000);
    assert!(
        matches!(refused, Err(WorkshopError::Store(_))),
        "{refused:?}"
    );
}

#[test]
fn a_struck_change_leaves_nothing_to_shoot_first() {
    let folder = Folder::new();
    let (mut workshop, bow) = workshop(&folder);
    workshop.save_trial(bow, &face(60.0), 2_000).unwrap();
    workshop.record_change(bow, &rest_at(0.8, 2_500)).unwrap();
    let waits = |workshop: &Workshop| {
        let page = workshop.bow_page(bow).unwrap();
        assert_eq!(page.waits, workshop.rack("").unwrap()[0].waits);
        page.waits
    };
    assert_eq!(waits(&workshop), Waits::Trial);
    let record = newest_change(&workshop, bow);
    workshop
        .correct_change(record.id, &rest_at(0.6, 2_700), 2_700)
        .unwrap();
    assert_eq!(waits(&workshop), Waits::Trial, "it was moved all the same");
    workshop.strike_change(record.id, true, 3_000).unwrap();
    assert_eq!(waits(&workshop), Waits::Verdict);
}
