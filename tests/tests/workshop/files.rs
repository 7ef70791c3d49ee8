//! Every way a workshop file can be unusable, and what is said about it.

use rusqlite::Connection;
use shimwright::frame::Side;
use shimwright::record::{BowDetails, Field, FieldError};
use shimwright::spacer::{KitError, PairCount};
use shimwright::store::{SCHEMA_VERSION, StoreError};
use shimwright::workshop::{Workshop, WorkshopError};

use crate::workshop::bench::{Folder, alike, face, kit, workshop};

fn refused(path: &std::path::Path) -> StoreError {
    match Workshop::open(path) {
        Err(WorkshopError::Store(error)) => error,
        other => panic!("{other:?}"),
    }
}

#[test]
fn a_folder_and_a_missing_folder() {
    let folder = Folder::new();
    assert!(matches!(
        refused(folder.path()),
        StoreError::IsDirectory { .. }
    ));
    let lost = folder.path().join("no/such/bench.workshop");
    assert!(matches!(refused(&lost), StoreError::NoFolder { .. }));
}

#[test]
fn a_read_only_file_is_refused_and_left_alone() {
    let folder = Folder::new();
    drop(workshop(&folder));
    let mut rights = std::fs::metadata(folder.file()).unwrap().permissions();
    rights.set_readonly(true);
    std::fs::set_permissions(folder.file(), rights).unwrap();
    assert!(matches!(
        refused(&folder.file()),
        StoreError::ReadOnly { .. }
    ));
}

#[test]
fn a_damaged_file_is_kept_under_another_name() {
    let folder = Folder::new();
    let lines = b"this was never a workshop, and it is long enough to be looked at\n".repeat(40);
    for number in 1..=2 {
        std::fs::write(folder.file(), &lines).unwrap();
        let StoreError::Damaged { set_aside, .. } = refused(&folder.file()) else {
            panic!("not reported as damaged");
        };
        assert!(set_aside.ends_with(format!("bench.workshop.damaged-{number}")));
        assert_eq!(std::fs::read(&set_aside).unwrap(), lines);
        assert!(!folder.file().exists());
    }
    assert!(Workshop::open(&folder.file()).is_ok());
}

#[test]
fn a_file_cut_short_is_kept_under_another_name() {
    let folder = Folder::new();
    drop(workshop(&folder));
    let whole = std::fs::read(folder.file()).unwrap();
    let half = whole.len() / 2 - 100;
    std::fs::write(folder.file(), &whole[..half]).unwrap();
    assert!(matches!(
        refused(&folder.file()),
        StoreError::Damaged { .. }
    ));
}

#[test]
fn a_file_from_the_future_is_not_touched() {
    let folder = Folder::new();
    drop(workshop(&folder));
    let connection = Connection::open(folder.file()).unwrap();
    connection
        .pragma_update(None, "user_version", SCHEMA_VERSION + 1)
        .unwrap();
    drop(connection);
    let before = std::fs::read(folder.file()).unwrap();
    let StoreError::Newer { found, known, .. } = refused(&folder.file()) else {
        panic!("not reported as newer");
    };
    assert_eq!((found, known), (SCHEMA_VERSION + 1, SCHEMA_VERSION));
    assert_eq!(std::fs::read(folder.file()).unwrap(), before);
}

#[test]
fn another_programs_database_is_not_touched() {
    let folder = Folder::new();
    let connection = Connection::open(folder.file()).unwrap();
    connection.execute_batch("CREATE TABLE other (x)").unwrap();
    drop(connection);
    assert!(matches!(
        refused(&folder.file()),
        StoreError::Foreign { .. }
    ));
}

#[test]
fn a_file_held_by_another_program() {
    let folder = Folder::new();
    let (mut workshop, bow) = workshop(&folder);
    let other = Connection::open(folder.file()).unwrap();
    other.execute_batch("BEGIN IMMEDIATE").unwrap();
    let refused = workshop.save_trial(bow, &face(40.0), 2_000);
    let locked = matches!(
        refused,
        Err(WorkshopError::Store(StoreError::Locked { .. }))
    );
    assert!(locked, "{refused:?}");
    other.execute_batch("ROLLBACK").unwrap();
    assert!(workshop.save_trial(bow, &face(40.0), 2_000).is_ok());
}

#[test]
fn a_refused_call_writes_nothing() {
    let folder = Folder::new();
    let (mut workshop, bow) = workshop(&folder);
    let mut shot = face(40.0);
    shot.impacts[3].at.x_mm = f64::NAN;
    let refused = workshop.save_trial(bow, &shot, 2_000);
    let field = Field::ImpactPlace;
    let out_of_range = matches!(
        refused,
        Err(WorkshopError::Field(FieldError::OutOfRange { field: f, .. })) if f == field
    );
    assert!(out_of_range, "{refused:?}");
    assert!(workshop.trials(bow).unwrap().is_empty());

    let details = BowDetails {
        kit_id: Some(1),
        ..BowDetails::named("Crane", 838.0)
    };
    let unknown = workshop.add_bow(&details, Some(&alike("Z", Side::Left)), 2_000);
    let wrong = matches!(
        unknown,
        Err(WorkshopError::Kit(KitError::UnknownPair { .. }))
    );
    assert!(wrong, "{unknown:?}");
    assert_eq!(workshop.rack("").unwrap().len(), 1, "no half-added bow");
}

#[test]
fn a_pair_on_record_stays_in_its_kit() {
    let folder = Folder::new();
    let (mut workshop, bow) = workshop(&folder);
    let record = workshop.bow_page(bow).unwrap().kit.unwrap();
    let mut draft = kit();
    draft.pairs.pop();
    let refused = workshop.save_kit(Some(record.id), &draft, &[]);
    assert!(
        matches!(refused, Err(WorkshopError::PairInUse { .. })),
        "{refused:?}"
    );
    let mut other = kit();
    other.pairs.pop();
    let other = workshop.save_kit(None, &other, &[]).unwrap();
    let details = BowDetails {
        kit_id: Some(other.id),
        ..workshop.bow_page(bow).unwrap().bow.details
    };
    let refused = workshop.save_bow(bow, &details, None, 2_000);
    assert!(
        matches!(refused, Err(WorkshopError::KitLacksPair { .. })),
        "{refused:?}"
    );
    // A pair of the same name is made of other pieces.
    let twin = workshop.save_kit(None, &kit(), &[]).unwrap();
    let details = BowDetails {
        kit_id: Some(twin.id),
        ..details
    };
    let refused = workshop.save_bow(bow, &details, None, 2_000);
    assert!(
        matches!(refused, Err(WorkshopError::KitLacksPair { .. })),
        "{refused:?}"
    );
    let page = workshop.bow_page(bow).unwrap();
    assert_eq!(page.kit.unwrap().id, record.id);
    assert_eq!(page.fitted.unwrap().kit_id, record.id);
    let count = PairCount {
        pair: "Z".into(),
        sets: 1,
    };
    assert!(workshop.save_kit(None, &kit(), &[count]).is_err());
}

#[test]
fn missing_things_are_named() {
    let folder = Folder::new();
    let (mut workshop, _) = workshop(&folder);
    let lost = workshop.save_trial(77, &face(40.0), 2_000).unwrap_err();
    assert_eq!(
        lost.to_string(),
        "there is no bow number 77 in this workshop; choose one that is there"
    );
    assert!(workshop.verdict(5).is_err());
    assert!(workshop.bow_page(-1).is_err());
}

#[test]
fn damage_deep_inside_is_told_when_it_is_read() {
    let folder = Folder::new();
    let (mut workshop, bow) = workshop(&folder);
    for day in 0..60 {
        workshop.save_trial(bow, &face(40.0), day).unwrap();
    }
    drop(workshop);
    let mut bytes = std::fs::read(folder.file()).unwrap();
    // Past the pages that hold the schema, so that opening still works.
    let late = bytes.len() - 20_000;
    bytes[late..].fill(0x5a);
    std::fs::write(folder.file(), bytes).unwrap();
    let read = Workshop::open(&folder.file()).and_then(|workshop| workshop.trials(bow));
    let told = matches!(
        read,
        Err(WorkshopError::Store(
            StoreError::Corrupt | StoreError::Damaged { .. }
        ))
    );
    assert!(told, "{read:?}");
}
