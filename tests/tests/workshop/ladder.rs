//! Every shipped version of the file, frozen with rows in it, opens and reads as it did.

use rusqlite::Connection;
use shimwright::flight::ArrowSetup;
use shimwright::frame::Side;
use shimwright::record::{FittingReason, Reopened};
use shimwright::store::SCHEMA_VERSION;
use shimwright::verdict::{CheckItem, MakerRange};
use shimwright::workshop::Workshop;

use crate::workshop::bench::{Folder, alike};

const FROZEN: [(i64, &str); 8] = [
    (1, include_str!("../../data/workshops/version-1.sql")),
    (2, include_str!("../../data/workshops/version-2.sql")),
    (3, include_str!("../../data/workshops/version-3.sql")),
    (4, include_str!("../../data/workshops/version-4.sql")),
    (5, include_str!("../../data/workshops/version-5.sql")),
    (6, include_str!("../../data/workshops/version-6.sql")),
    (7, include_str!("../../data/workshops/version-7.sql")),
    (8, include_str!("../../data/workshops/version-8.sql")),
];

fn thawed(folder: &Folder, frozen: &str) {
    let connection = Connection::open(folder.file()).unwrap();
    connection.execute_batch(frozen).unwrap();
}

/// Every table, index and trigger as the engine holds it.
fn schema(folder: &Folder) -> Vec<(String, String)> {
    let connection = Connection::open(folder.file()).unwrap();
    let mut query = connection
        .prepare("SELECT name, coalesce(sql, '') FROM sqlite_schema ORDER BY name")
        .unwrap();
    let rows = query.query_map([], |row| {
        let sql: String = row.get(1)?;
        Ok((
            row.get(0)?,
            sql.split_whitespace().collect::<Vec<_>>().join(" "),
        ))
    });
    rows.unwrap().map(Result::unwrap).collect()
}

#[test]
fn every_shipped_version_is_frozen() {
    let versions: Vec<i64> = FROZEN.iter().map(|(version, _)| *version).collect();
    assert_eq!(versions, (1..=SCHEMA_VERSION).collect::<Vec<_>>());
}

#[test]
fn an_upgraded_schema_equals_a_fresh_one() {
    let fresh = Folder::new();
    drop(Workshop::open(&fresh.file()).unwrap());
    for (version, frozen) in FROZEN {
        let old = Folder::new();
        thawed(&old, frozen);
        drop(Workshop::open(&old.file()).unwrap());
        assert_eq!(schema(&old), schema(&fresh), "from version {version}");
    }
}

#[test]
fn rows_of_every_version_read_as_they_were_written() {
    for (version, frozen) in FROZEN {
        let folder = Folder::new();
        thawed(&folder, frozen);
        let workshop = Workshop::open(&folder.file()).unwrap();
        let row = &workshop.rack("").unwrap()[0];
        assert_eq!((row.name.as_str(), row.owner.as_str()), ("Heron", "rack 7"));
        let fitted = row.fitted.as_ref().unwrap();
        assert_eq!(fitted.fitting, alike("A", Side::Right));
        assert_eq!(fitted.reason, FittingReason::Verdict);
        let trials = workshop.trials(row.bow_id).unwrap();
        assert_eq!(trials.len(), 2, "version {version}");
        assert_eq!(trials[0].fitting, alike("C", Side::Left));
        assert_eq!(trials[0].shot.impacts.len(), 8);
        let given = workshop.verdict(fitted.verdict_id.unwrap()).unwrap();
        assert_eq!(given.trial_ids, [trials[0].id]);
    }
}

#[test]
fn an_arrow_put_away_in_version_2_is_still_away() {
    let folder = Folder::new();
    thawed(&folder, FROZEN[1].1);
    let workshop = Workshop::open(&folder.file()).unwrap();
    let bow = workshop.rack("").unwrap()[0].bow_id;
    let arrows = &workshop.arrow_setups(bow).unwrap()[0];
    assert_eq!(
        (arrows.name.as_str(), arrows.archived_ms),
        ("Field", Some(7_000))
    );
    assert_eq!(arrows.setup, ArrowSetup::usual());
}

#[test]
fn two_copies_of_an_old_file_get_the_same_ids() {
    let ids = || {
        let folder = Folder::new();
        thawed(&folder, FROZEN[1].1);
        drop(Workshop::open(&folder.file()).unwrap());
        let connection = Connection::open(folder.file()).unwrap();
        let all = "SELECT group_concat(hex(uid), ' ') FROM (SELECT uid FROM bow UNION ALL SELECT uid FROM trial \
                   UNION ALL SELECT uid FROM fitting UNION ALL SELECT uid FROM setup_check)";
        let ids: String = connection.query_row(all, [], |row| row.get(0)).unwrap();
        ids
    };
    let (one, other) = (ids(), ids());
    assert_eq!(one, other);
    let mut each: Vec<&str> = one.split(' ').collect();
    let known = each.len();
    each.sort_unstable();
    each.dedup();
    assert_eq!((each.len(), known), (known, 21), "no two rows share an id");
}

#[test]
fn the_makers_figures_of_version_4_stand_and_so_does_what_a_swap_opened() {
    let folder = Folder::new();
    thawed(&folder, FROZEN[3].1);
    let workshop = Workshop::open(&folder.file()).unwrap();
    let bow = workshop.rack("").unwrap()[0].bow_id;
    let brace = MakerRange {
        item: CheckItem::BraceHeight,
        low: Some(158.0),
        high: Some(162.0),
    };
    assert_eq!(workshop.bow_page(bow).unwrap().bow.maker, [brace]);
    let mut checks = workshop.checks(bow).unwrap().into_iter();
    let lean = checks.find(|check| check.item == CheckItem::CamLean);
    assert_eq!(lean.unwrap().reopened, Some(Reopened::Swap));
}
