//! A row that cannot be read costs itself, not its neighbours, and is named.

use rusqlite::Connection;
use shimwright::store::{Thing, Unread};
use shimwright::workshop::{Waits, Workshop};

use crate::workshop::bench::{Folder, face, workshop};

/// A bow with two trials and two verdicts, after `damage` was done to its file.
fn damaged(folder: &Folder, damage: &str) -> (Workshop, i64) {
    let (mut workshop, bow) = workshop(folder);
    for day in 1..=2 {
        workshop.save_trial(bow, &face(90.0), 2_000 * day).unwrap();
        workshop.give_verdict(bow, 2_000 * day + 500).unwrap();
    }
    drop(workshop);
    let connection = Connection::open(folder.file()).unwrap();
    connection
        .execute_batch("DROP TRIGGER fitting_is_append_only")
        .unwrap();
    assert_eq!(connection.execute(damage, []).unwrap(), 1);
    drop(connection);
    (Workshop::open(&folder.file()).unwrap(), bow)
}

fn named(unread: &[Unread]) -> Vec<(Thing, i64)> {
    unread.iter().map(|row| (row.thing, row.id)).collect()
}

#[test]
fn a_trial_nobody_can_read() {
    let folder = Folder::new();
    let torn = "UPDATE trial SET marks = substr(marks, 1, 40) WHERE id = 1";
    let (mut workshop, bow) = damaged(&folder, torn);
    let history = workshop.history(bow).unwrap();
    assert_eq!(history.splits.len(), 1, "the other trial is there");
    assert_eq!(named(&history.unread), [(Thing::Trial, 1)]);
    assert_eq!(named(&workshop.unread().unwrap()), [(Thing::Trial, 1)]);
    assert!(workshop.trial(1).is_err());
    assert!(workshop.trial(2).is_ok());
    assert!(workshop.bow_page(bow).is_ok());
    let given = workshop.give_verdict(bow, 9_000).unwrap();
    assert_eq!(given.trial_ids, [2], "a verdict says which trials it used");
}

#[test]
fn a_verdict_of_another_world() {
    let folder = Folder::new();
    let strange = "UPDATE verdict SET outcome = 'sell_it', given = '{}' WHERE id = 2";
    let (workshop, bow) = damaged(&folder, strange);
    assert_eq!(
        named(&workshop.history(bow).unwrap().unread),
        [(Thing::Verdict, 2)]
    );
    let page = workshop.bow_page(bow).unwrap();
    assert_eq!(page.last_verdict, None, "an older one would be a guess");
    assert_eq!(page.waits, Waits::Verdict);
    assert!(workshop.verdict(1).is_ok());
}

#[test]
fn a_fitting_nobody_can_read_is_asked_for_again() {
    let folder = Folder::new();
    let strange = "UPDATE fitting SET top_thick = 'inside' WHERE id = 1";
    let (mut workshop, bow) = damaged(&folder, strange);
    let row = &workshop.rack("").unwrap()[0];
    assert_eq!((row.fitted.as_ref(), row.waits), (None, Waits::Fitting));
    assert!(named(&workshop.history(bow).unwrap().unread).contains(&(Thing::Fitting, 1)));
    assert!(workshop.save_trial(bow, &face(40.0), 9_000).is_err());
}

#[test]
fn a_check_nobody_knows_counts_as_unanswered() {
    let folder = Folder::new();
    let strange = "UPDATE setup_check SET state = 'perhaps' WHERE id = 3";
    let (workshop, bow) = damaged(&folder, strange);
    assert_eq!(
        named(&workshop.history(bow).unwrap().unread),
        [(Thing::Check, 3)]
    );
    assert!(workshop.rack("").is_ok());
}

#[test]
fn fields_of_tomorrow_are_passed_over() {
    let folder = Folder::new();
    let newer = "UPDATE trial SET marks = json_set(marks, '$.wind_mps', 3.5, '$.impacts[0].felt', 'good') \
                 WHERE id = 2";
    let (workshop, bow) = damaged(&folder, newer);
    assert!(workshop.history(bow).unwrap().unread.is_empty());
    assert_eq!(workshop.trials(bow).unwrap().len(), 2);
}
