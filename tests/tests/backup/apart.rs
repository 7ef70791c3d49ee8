//! What two phones recorded apart, merged: shown until someone looks, and every epoch, number and later change kept.

use shimwright::frame::Side;
use shimwright::record::{Exclusion, WorkshopSettings};
use shimwright::workshop::Waits;

use super::laws::{Deed, Phone, union};
use crate::backup::shelf::backup;
use crate::workshop::bench::{Folder, alike, face, kit, workshop};

#[test]
fn two_fittings_recorded_apart_are_shown_until_someone_looks() {
    let shop = Folder::new();
    let (mut first, bow) = workshop(&shop);
    let zip = backup(&mut first, &shop, "shop.zip");
    let fit = |pair: usize| [Deed::Fit { bow: 0, pair }];
    let (mut a, mut b) = (Phone::with(&zip, 1, &fit(0)), Phone::with(&zip, 2, &fit(1)));
    assert!(a.workshop.bow_page(bow).unwrap().contested.is_empty());
    a.merge(&mut b);
    let page = a.workshop.bow_page(bow).unwrap();
    let pairs: Vec<&str> = page
        .contested
        .iter()
        .map(|entry| entry.fitting.top.pair.as_str())
        .collect();
    assert_eq!(pairs.len(), 2);
    assert!(pairs.contains(&"A") && pairs.contains(&"B"), "{pairs:?}");
    assert_eq!(page.fitted.as_ref(), page.contested.last());
    assert_eq!(a.workshop.contested_bows().unwrap(), [page.bow]);
    let history = a.workshop.history_page(bow, 1.0).unwrap();
    assert_eq!(history.contested, page.contested);
    a.workshop
        .record_fitting(bow, &alike("A", Side::Right), 50_000)
        .unwrap();
    assert!(a.workshop.bow_page(bow).unwrap().contested.is_empty());
    assert!(a.workshop.contested_bows().unwrap().is_empty());
    b.merge(&mut a);
    assert!(
        b.workshop.bow_page(bow).unwrap().contested.is_empty(),
        "the answer travels"
    );
}

#[test]
fn the_same_fitting_recorded_twice_is_no_contradiction() {
    let shop = Folder::new();
    let (mut first, bow) = workshop(&shop);
    let zip = backup(&mut first, &shop, "shop.zip");
    let fit = [Deed::Fit { bow: 0, pair: 1 }];
    let (mut a, mut b) = (Phone::with(&zip, 1, &fit), Phone::with(&zip, 2, &fit));
    a.merge(&mut b);
    assert!(a.workshop.bow_page(bow).unwrap().contested.is_empty());
}

#[test]
fn trials_keep_their_epoch_when_parts_were_changed_on_another_phone() {
    let shop = Folder::new();
    let (mut first, bow) = workshop(&shop);
    let zip = backup(&mut first, &shop, "shop.zip");
    let here = [
        Deed::Change { bow: 0, kind: 0 },
        Deed::Shoot {
            bow: 0,
            split_mm: 9.0,
        },
    ];
    let there = [
        Deed::Change { bow: 0, kind: 3 },
        Deed::Shoot {
            bow: 0,
            split_mm: 8.0,
        },
    ];
    let (mut a, mut b) = (Phone::with(&zip, 1, &here), Phone::with(&zip, 2, &there));
    a.merge(&mut b);
    let epochs: Vec<i64> = a
        .workshop
        .trials(bow)
        .unwrap()
        .iter()
        .map(|t| t.setup.epoch)
        .collect();
    let mut sorted = epochs.clone();
    sorted.sort_unstable();
    assert_eq!(
        sorted,
        [1, 2],
        "two changes, two faults to learn: {epochs:?}"
    );
}

#[test]
fn a_side_that_was_only_looked_at_begins_no_epoch_in_the_union_either() {
    let shop = Folder::new();
    let (mut first, bow) = workshop(&shop);
    let zip = backup(&mut first, &shop, "shop.zip");
    let looked = Deed::Change { bow: 0, kind: 4 };
    let new_string = Deed::Change { bow: 0, kind: 0 };
    let shot = Deed::Shoot {
        bow: 0,
        split_mm: 9.0,
    };
    let mut a = Phone::with(&zip, 1, &[looked, new_string, shot]);
    let before = a.workshop.trials(bow).unwrap()[0].setup;
    let mut b = Phone::with(&zip, 2, &[]);
    a.merge(&mut b);
    let after = a.workshop.trials(bow).unwrap()[0].setup;
    assert_eq!((before.epoch, after), (1, before));
}

#[test]
fn a_verdict_names_its_trials_after_they_are_numbered_anew() {
    let shop = Folder::new();
    let (mut first, bow) = workshop(&shop);
    let zip = backup(&mut first, &shop, "shop.zip");
    let here = [Deed::Shoot {
        bow: 0,
        split_mm: 9.0,
    }];
    let there = [
        Deed::Shoot {
            bow: 0,
            split_mm: 50.0,
        },
        Deed::Judge { bow: 0 },
    ];
    let (mut a, mut b) = (Phone::with(&zip, 4, &here), Phone::with(&zip, 3, &there));
    let given = b.workshop.last_verdict(bow).unwrap().unwrap();
    assert_eq!(given.trial_ids, [1]);
    let waits = |phone: &Phone| phone.workshop.bow_page(bow).unwrap().waits;
    let mut same = b.copy(92);
    same.merge(&mut b);
    assert_ne!(
        waits(&same),
        Waits::Verdict,
        "nothing is new: it is as fresh as before"
    );
    a.merge(&mut b);
    let trials = a.workshop.trials(bow).unwrap();
    let shot = trials.iter().find(|t| t.shot == face(50.0)).unwrap();
    let moved = a.workshop.last_verdict(bow).unwrap().unwrap();
    assert_eq!(
        waits(&a),
        Waits::Verdict,
        "it knew nothing of this phone's trial"
    );
    assert_eq!(
        (moved.trial_ids, shot.id),
        (vec![2], 2),
        "it was the second to be shot"
    );
}

/// What carries no time of its own is dated by the time that was told.
#[test]
fn of_two_changes_made_apart_the_later_stands_whoever_wrote_more() {
    let shop = Folder::new();
    let (mut first, bow) = workshop(&shop);
    let shot = first.save_trial(bow, &face(40.0), 2_000).unwrap();
    let kit_id = first.kits().unwrap()[0].record.id;
    let zip = backup(&mut first, &shop, "shop.zip");
    let (mut busy, mut late) = (Phone::with(&zip, 1, &[]), Phone::with(&zip, 2, &[]));
    let change = |phone: &mut Phone, now_ms: i64, name: &str, tolerance_mm: f64, why| {
        let workshop = &mut phone.workshop;
        workshop.tell_time(now_ms);
        let settings = WorkshopSettings {
            tolerance_mm,
            ..WorkshopSettings::default()
        };
        workshop.save_settings(&settings).unwrap();
        let mut renamed = kit();
        renamed.name = name.into();
        workshop.save_kit(Some(kit_id), &renamed, &[]).unwrap();
        workshop.exclude_impact(shot.id, 0, Some(why)).unwrap();
    };
    // Twenty writes on Monday, one on Tuesday.
    for _ in 0..20 {
        change(&mut busy, 100_000, "Monday", 11.0, Exclusion::Contact);
    }
    change(&mut late, 200_000, "Tuesday", 22.0, Exclusion::BadShot);
    let mut both = union(&mut busy, &mut late);
    let workshop = &mut both.workshop;
    assert_eq!(workshop.kits().unwrap()[0].record.kit.name, "Tuesday");
    assert_eq!(
        workshop.settings().unwrap().tolerance_mm.to_bits(),
        22.0_f64.to_bits()
    );
    let left_out = workshop.trials(bow).unwrap()[0].shot.impacts[0].excluded;
    assert_eq!(left_out, Some(Exclusion::BadShot));
}
