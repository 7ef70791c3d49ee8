//! Set-up checks: what opens them again, and what the bow maker's figures make of a measured one.

use shimwright::frame::Side;
use shimwright::record::{
    BowDetails, ChangeKind, FieldError, FittingReason, Outcome, Reopened, SetupChange, SetupCheck,
};
use shimwright::swap::{Found, StepKind, SwapEvent};
use shimwright::verdict::{CheckItem, CheckState, MakerRange, Reason};
use shimwright::workshop::{Waits, Workshop, WorkshopError};

use crate::workshop::bench::{Folder, alike, face, finish, kit, walk_to, workshop};

fn open_items(workshop: &Workshop, bow: i64) -> Vec<(CheckItem, Option<Reopened>)> {
    let checks = workshop.checks(bow).unwrap().into_iter();
    let open = checks.filter(|check| check.state == CheckState::Open);
    open.map(|check| (check.item, check.reopened)).collect()
}

fn check(workshop: &Workshop, bow: i64, item: CheckItem) -> SetupCheck {
    let mut checks = workshop.checks(bow).unwrap().into_iter();
    checks.find(|check| check.item == item).unwrap()
}

fn answer(
    workshop: &mut Workshop,
    bow: i64,
    item: CheckItem,
    state: CheckState,
    measured: Option<f64>,
) {
    let answered = SetupCheck {
        state,
        measured,
        ..SetupCheck::unanswered(item)
    };
    workshop.answer_check(bow, &answered, 1_500).unwrap();
}

/// Where the swap under way opens checks, so does a bow saved with a pair of another kit: pieces were changed.
#[test]
fn another_kit_opens_the_checks_of_a_swap() {
    let folder = Folder::new();
    let (mut workshop, bow) = workshop(&folder);
    let twin = workshop.save_kit(None, &kit(), &[]).unwrap().id;
    let before = workshop.bow_page(bow).unwrap().bow.details;
    workshop
        .save_bow(bow, &before, Some(&alike("C", Side::Left)), 2_000)
        .unwrap();
    assert_eq!(open_items(&workshop, bow), []);
    let details = BowDetails {
        kit_id: Some(twin),
        ..before
    };
    workshop
        .save_bow(bow, &details, Some(&alike("C", Side::Left)), 2_001)
        .unwrap();
    let opened = open_items(&workshop, bow);
    assert!(!opened.is_empty());
    let by_swap = |&(_, by): &(_, Option<Reopened>)| by == Some(Reopened::Swap);
    assert!(opened.iter().all(by_swap), "{opened:?}");
    assert_eq!(workshop.fitted(bow).unwrap().unwrap().kit_id, twin);
}

fn start(workshop: &mut Workshop, bow: i64) {
    let to = alike("A", Side::Right);
    let reason = FittingReason::OwnChoice;
    workshop.start_swap(bow, &to, reason, None, 3_000).unwrap();
}

fn range(item: CheckItem, low: f64, high: f64) -> MakerRange {
    MakerRange {
        item,
        low: Some(low),
        high: Some(high),
    }
}

/// What is called into question by a swap: common practice, no source.
#[test]
fn a_recorded_swap_opens_what_must_be_looked_at_again_and_says_so() {
    let folder = Folder::new();
    let (mut workshop, bow) = workshop(&folder);
    assert_eq!(open_items(&workshop, bow), []);
    start(&mut workshop, bow);
    walk_to(&mut workshop, bow, StepKind::FirstShot);
    assert_eq!(open_items(&workshop, bow), []);
    finish(&mut workshop, bow);
    let again = CheckItem::AFTER_A_SWAP.map(|item| (item, Some(Reopened::Swap)));
    assert_eq!(open_items(&workshop, bow), again);
    workshop.save_trial(bow, &face(90.0), 6_000).unwrap();
    let given = workshop.give_verdict(bow, 6_100).unwrap();
    assert_eq!(Outcome::of(&given.verdict), Outcome::AdjustFirst);
    let checks = workshop.pass_open_checks(bow, 6_200).unwrap();
    assert!(checks.iter().all(|check| check.reopened.is_none()));
    let given = workshop.give_verdict(bow, 6_300).unwrap();
    assert_ne!(Outcome::of(&given.verdict), Outcome::AdjustFirst);
}

#[test]
fn the_sight_is_to_be_set_again_but_stands_in_no_verdicts_way() {
    let folder = Folder::new();
    let (mut workshop, bow) = workshop(&folder);
    start(&mut workshop, bow);
    finish(&mut workshop, bow);
    workshop.save_trial(bow, &face(90.0), 6_000).unwrap();
    for (item, _) in open_items(&workshop, bow) {
        if item != CheckItem::SightSet {
            answer(&mut workshop, bow, item, CheckState::Ok, None);
        }
    }
    let left = [(CheckItem::SightSet, Some(Reopened::Swap))];
    assert_eq!(open_items(&workshop, bow), left);
    let given = workshop.give_verdict(bow, 6_300).unwrap();
    assert_ne!(Outcome::of(&given.verdict), Outcome::AdjustFirst);
}

#[test]
fn a_swap_mends_no_failed_check() {
    let folder = Folder::new();
    let (mut workshop, bow) = workshop(&folder);
    let item = CheckItem::CamTiming;
    answer(&mut workshop, bow, item, CheckState::Failed, Some(3.0));
    start(&mut workshop, bow);
    finish(&mut workshop, bow);
    let timing = check(&workshop, bow, item);
    assert_eq!(
        (timing.state, timing.measured),
        (CheckState::Failed, Some(3.0))
    );
    let open = open_items(&workshop, bow);
    assert_eq!(open.len(), CheckItem::AFTER_A_SWAP.len() - 1);
}

#[test]
fn a_swap_done_elsewhere_opens_them_too_and_a_first_word_does_not() {
    let folder = Folder::new();
    let (mut workshop, bow) = workshop(&folder);
    let details = workshop.bow_page(bow).unwrap().bow.details;
    let fresh = workshop.add_bow(&details, None, 1_100).unwrap().id;
    workshop.pass_open_checks(fresh, 1_150).unwrap();
    let found = alike("C", Side::Left);
    workshop.record_fitting(fresh, &found, 1_200).unwrap();
    workshop.record_fitting(fresh, &found, 1_300).unwrap();
    assert_eq!(open_items(&workshop, fresh), []);
    let other = alike("B", Side::Left);
    workshop.record_fitting(bow, &other, 1_400).unwrap();
    assert_eq!(
        open_items(&workshop, bow).len(),
        CheckItem::AFTER_A_SWAP.len()
    );
}

#[test]
fn a_moved_rest_or_nocking_point_opens_what_it_moves() {
    for (kind, items) in [
        (
            ChangeKind::RestMoved,
            vec![
                CheckItem::RestSound,
                CheckItem::CentreShot,
                CheckItem::VaneClearance,
                CheckItem::SightSet,
            ],
        ),
        (
            ChangeKind::NockMoved,
            vec![
                CheckItem::NockingPoint,
                CheckItem::VaneClearance,
                CheckItem::SightSet,
            ],
        ),
    ] {
        let folder = Folder::new();
        let (mut workshop, bow) = workshop(&folder);
        let moved = SetupChange {
            kind,
            value_mm: Some(0.6),
            note: String::new(),
            at_ms: 2_000,
        };
        workshop.record_change(bow, &moved).unwrap();
        let by = Some(Reopened::Change { kind });
        let expected: Vec<_> = items.into_iter().map(|item| (item, by)).collect();
        assert_eq!(open_items(&workshop, bow), expected);
    }
}

#[test]
fn a_figure_outside_the_makers_is_failed_whatever_was_answered_and_follows_the_range() {
    let folder = Folder::new();
    let (mut workshop, bow) = workshop(&folder);
    let item = CheckItem::AxleToAxle;
    let state = |workshop: &Workshop| check(workshop, bow, item).state;
    answer(&mut workshop, bow, item, CheckState::Ok, Some(833.0));
    assert_eq!(state(&workshop), CheckState::Ok);
    let stated = range(item, 836.0, 842.0);
    let saved = workshop.save_maker_range(bow, &stated, 1_600).unwrap();
    assert_eq!(saved.maker, [stated]);
    assert_eq!(state(&workshop), CheckState::Failed);
    assert_eq!(
        workshop.rack("").unwrap()[0].waits,
        Waits::FailedCheck { item }
    );
    workshop.save_trial(bow, &face(90.0), 2_000).unwrap();
    let verdict = workshop.give_verdict(bow, 2_100).unwrap().verdict;
    let named = |reason: &Reason| {
        let Reason::CheckFirst {
            check,
            failed: true,
            found: Some(found),
        } = reason
        else {
            return false;
        };
        *check == item && found.low.is_some() && found.high.is_some()
    };
    assert!(verdict.reasons.iter().any(named), "{:?}", verdict.reasons);
    let wider = range(item, 830.0, 842.0);
    workshop.save_maker_range(bow, &wider, 2_200).unwrap();
    assert_eq!(workshop.bow_page(bow).unwrap().bow.maker, [wider]);
    assert_eq!(state(&workshop), CheckState::Ok);
    workshop
        .save_maker_range(bow, &MakerRange::unstated(item), 2_300)
        .unwrap();
    assert_eq!(workshop.bow_page(bow).unwrap().bow.maker, []);
}

#[test]
fn a_range_that_cannot_be_is_refused_and_writes_nothing() {
    let folder = Folder::new();
    let (mut workshop, bow) = workshop(&folder);
    let item = CheckItem::BraceHeight;
    for bad in [
        range(item, 170.0, 160.0),
        range(item, f64::NAN, 160.0),
        range(item, 160.0, 4_000.0),
        range(CheckItem::RestSound, 1.0, 2.0),
    ] {
        let refused = workshop.save_maker_range(bow, &bad, 1_500);
        assert!(
            matches!(
                refused,
                Err(WorkshopError::Field(
                    FieldError::OutOfRange { .. } | FieldError::Empty { .. }
                ))
            ),
            "{refused:?}"
        );
    }
    assert_eq!(workshop.bow_page(bow).unwrap().bow.maker, []);
}

#[test]
fn shoulders_alone_go_on_and_void_what_was_shot_only_where_they_contradict_the_record() {
    for (thick, kind, epoch) in [
        (Side::Left, ChangeKind::SideConfirmed, 0),
        (Side::Right, ChangeKind::PairUnknown, 1),
    ] {
        let folder = Folder::new();
        let (mut workshop, bow) = workshop(&folder);
        let trial = workshop.save_trial(bow, &face(40.0), 2_000).unwrap().id;
        start(&mut workshop, bow);
        walk_to(&mut workshop, bow, StepKind::ConfirmFound);
        let note = String::from("only the shoulders");
        let page = workshop
            .swap_found(bow, &Found::ThickSide { thick, note }, 3_200)
            .unwrap();
        assert!(matches!(page.event, SwapEvent::PairUnknown { .. }));
        assert_eq!(
            finish(&mut workshop, bow).fitted.fitting,
            alike("A", Side::Right)
        );
        assert_eq!(
            workshop.bow_page(bow).unwrap().setup.epoch,
            epoch,
            "{kind:?}"
        );
        workshop.pass_open_checks(bow, 5_500).unwrap();
        let given = workshop.give_verdict(bow, 6_000).unwrap();
        let void = Reason::TrialWithoutFitting { trial };
        assert_eq!(given.verdict.reasons.contains(&void), epoch == 1);
    }
}
