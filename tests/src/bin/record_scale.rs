//! How the record grows: opening, the rack, a backup and a merge at a tenth, at once and at ten
//! times the size of a large workshop. `record_scale [BOWS ...]`; 20 trials a bow, 10 impacts each.
//! With `--photos N` a backup of N photographs of 200 KiB is timed besides.

// A tool of the tests: what goes wrong ends it.
#![allow(clippy::unwrap_used, clippy::expect_used)]

use std::path::{Path, PathBuf};
use std::time::Instant;

use rusqlite::Connection;
use shimwright::backup::{BackupUse, PhotoFolder};
use shimwright::frame::{ArrowKind, PointMm};
use shimwright::record::{PhotoRef, Surface, TrialDraft, TrialImpact};
use shimwright::workshop::Workshop;

const PHOTO_BYTES: usize = 200 << 10;

fn main() {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let folder = std::env::temp_dir().join(format!("shimwright-scale-{}", std::process::id()));
    std::fs::create_dir_all(&folder).unwrap();
    if let [flag, count] = words.as_slice()
        && flag == "--photos"
    {
        photos(&folder, count.parse().expect("a number of photographs"));
    } else {
        println!("bows  trials  impacts  file MB  open ms  rack ms  bow ms  backup s  merge s");
        for bows in words
            .iter()
            .map(|word| word.parse().expect("a number of bows"))
        {
            row(&folder, bows);
        }
    }
    std::fs::remove_dir_all(folder).unwrap();
}

/// One bow with its checks, one trial and one verdict, by the facade.
fn seed(file: &Path, photo: Option<PhotoRef>) -> Workshop {
    let mut workshop = Workshop::open(file).unwrap();
    let bow = shimwright_tests::bow::add(&mut workshop, 1_000).unwrap();
    let arrow =
        |at: i32| TrialImpact::typed(ArrowKind::Fletched, PointMm::new(f64::from(at), 1.5), 0.4);
    let shot = TrialDraft {
        surface: Surface::Face,
        distance_m: 18.0,
        arrow_setup_id: None,
        impacts: (0..10).map(arrow).collect(),
        tears: Vec::new(),
        photo,
        plane: None,
        shooter: String::new(),
        note: String::new(),
    };
    workshop.save_trial(bow, &shot, 2_000).unwrap();
    workshop.pass_open_checks(bow, 3_000).unwrap();
    workshop.give_verdict(bow, 4_000).unwrap();
    workshop
}

/// The seed's bow and its rows many times over, as other phones would have written them.
fn multiplied(file: &Path, bows: i64) {
    drop(seed(file, None));
    let connection = Connection::open(file).unwrap();
    let count = "SELECT count(*) FROM setup_check";
    let checks: i64 = connection.query_row(count, [], |row| row.get(0)).unwrap();
    let check_values = format!("n.n, (n.n - 1) / {checks} + 1, r.born + n.n");
    // What is set anew in each copy, rows of a bow, and rows of the seed.
    let copies = [
        (
            "bow",
            "id, name, born, used_ms",
            "n.n, r.name || n.n, r.born + n.n, r.used_ms + n.n",
            (1, 1),
        ),
        (
            "fitting",
            "id, bow_id, born",
            "n.n, n.n, r.born + n.n",
            (1, 1),
        ),
        (
            "trial",
            "id, bow_id, fitting_id, born",
            "n.n, (n.n - 1) / 20 + 1, (n.n - 1) / 20 + 1, r.born + n.n",
            (20, 1),
        ),
        (
            "verdict",
            "id, bow_id, fitting_id, last_trial_id, born",
            "n.n, n.n, n.n, 20 * n.n, r.born + n.n",
            (1, 1),
        ),
        (
            "setup_check",
            "id, bow_id, born",
            &check_values,
            (checks, checks),
        ),
    ];
    for (table, named, values, (times, seeded)) in copies {
        let names: Vec<String> = connection
            .prepare(&format!("SELECT name FROM pragma_table_info('{table}')"))
            .unwrap()
            .query_map([], |row| row.get(0))
            .unwrap()
            .map(Result::unwrap)
            .collect();
        let own: Vec<&str> = named.split(", ").chain(["uid"]).collect();
        let rest: Vec<String> = names
            .into_iter()
            .filter(|name| !own.contains(&name.as_str()))
            .collect();
        let columns = format!("{named}, uid, {}", rest.join(", "));
        let rest: Vec<String> = rest.iter().map(|name| format!("r.{name}")).collect();
        let values = format!("{values}, randomblob(16), {}", rest.join(", "));
        let count = bows * times;
        let sql = format!(
            "WITH RECURSIVE n(n) AS (SELECT {seeded} + 1 UNION ALL SELECT n + 1 FROM n WHERE n < {count}) \
             INSERT INTO {table} ({columns}) SELECT {values} FROM n JOIN {table} AS r \
             ON r.id = (n.n - 1) % {seeded} + 1 WHERE n.n <= {count}"
        );
        connection.execute_batch(&sql).unwrap();
    }
    // Written past the counts that a verdict is held against.
    connection
        .execute_batch(
            "UPDATE clock SET tick = 10000000; UPDATE bow SET revision = 0; UPDATE verdict SET revision = 0",
        )
        .unwrap();
}

fn timed<T>(work: impl FnOnce() -> T) -> (T, f64) {
    let began = Instant::now();
    let made = work();
    (made, began.elapsed().as_secs_f64())
}

/// The middle of nine times: what a person waits for again and again.
fn usual<T>(mut work: impl FnMut() -> T) -> (T, f64) {
    let mut timed: Vec<(T, f64)> = (0..9).map(|_| timed(&mut work)).collect();
    timed.sort_by(|one, other| one.1.total_cmp(&other.1));
    timed.swap_remove(4)
}

fn row(folder: &Path, bows: i64) {
    let (mine, theirs) = (folder.join("mine.workshop"), folder.join("theirs.workshop"));
    let seeded = seed(&folder.join("seed.workshop"), None)
        .rack("")
        .unwrap()
        .remove(0);
    let _ = std::fs::remove_file(folder.join("seed.workshop"));
    multiplied(&mine, bows);
    multiplied(&theirs, bows);
    let photos = PhotoFolder::new(&folder.join("photos"));
    drop(Workshop::open(&mine).unwrap());
    let (mut workshop, open_s) = usual(|| Workshop::open(&mine).unwrap());
    let (rack, rack_s) = usual(|| workshop.rack("").unwrap());
    let (_, page_s) = usual(|| workshop.bow_page(rack[0].bow_id).unwrap());
    assert_eq!(rack[0].waits, seeded.waits);
    let zip = folder.join("theirs.zip");
    let mut other = Workshop::open(&theirs).unwrap();
    let giving = other.begin_backup(&photos, 1).unwrap();
    let (_, backup_s) = timed(|| giving.write_to(&zip, |_| true).unwrap());
    let megabytes = std::fs::metadata(&mine).unwrap().len() as f64 / 1e6;
    let (_, merge_s) = timed(|| {
        let taking = workshop
            .begin_taking(&zip, BackupUse::Merge, &photos)
            .unwrap();
        workshop.finish_taking(taking).unwrap()
    });
    println!(
        "{bows:5} {:7} {:8} {megabytes:8.1} {:8.2} {:8.2} {:7.2} {backup_s:9.2} {merge_s:8.2}",
        20 * bows,
        200 * bows,
        1e3 * open_s,
        1e3 * rack_s,
        1e3 * page_s
    );
    for file in [mine, theirs, zip] {
        for suffix in ["", "-wal", "-shm", ".replaced-1"] {
            let _ = std::fs::remove_file(PathBuf::from(format!("{}{suffix}", file.display())));
        }
    }
}

/// Bytes that no packing makes smaller: a linear congruential generator with Knuth's multiplier.
fn noise(seed: u32) -> Vec<u8> {
    let next = |state: &u64| {
        let state = state.wrapping_mul(6_364_136_223_846_793_005);
        Some(state.wrapping_add(1))
    };
    let states = std::iter::successors(Some(u64::from(seed)), next).skip(4);
    let bytes = states.map(|state| (state >> 56) as u8);
    bytes.take(PHOTO_BYTES).collect()
}

/// Times a backup of photographs beside `zip -0` of the same folder.
fn photos(folder: &Path, count: u32) {
    let shelf = folder.join("photos");
    std::fs::create_dir_all(&shelf).unwrap();
    let file = folder.join("bench.workshop");
    let named = |number: u32| PhotoRef {
        file: format!("{number}-0.jpg"),
        width_px: 4000,
        height_px: 3000,
    };
    let mut workshop = seed(&file, Some(named(1)));
    let mut trial = workshop.trials(1).unwrap().remove(0).shot;
    for number in 1..=count {
        std::fs::write(shelf.join(named(number).file), noise(number)).unwrap();
        if number > 1 {
            trial.photo = Some(named(number));
            workshop
                .save_trial(1, &trial, 2_000 + i64::from(number))
                .unwrap();
        }
    }
    let photos = PhotoFolder::new(&shelf);
    drop(workshop.begin_backup(&photos, 1).unwrap());
    let giving = workshop.begin_backup(&photos, 1).unwrap();
    let (_, ours_s) = timed(|| giving.write_to(&folder.join("ours.zip"), |_| true).unwrap());
    let mut zip = std::process::Command::new("zip");
    zip.args(["-0", "-q", "-r"])
        .arg(folder.join("theirs.zip"))
        .arg(&shelf);
    let (told, theirs_s) = timed(|| zip.status().unwrap());
    assert!(told.success());
    let megabytes = f64::from(count) * PHOTO_BYTES as f64 / 1e6;
    println!(
        "{count} photographs, {megabytes:.0} MB: ours {ours_s:.2} s, zip -0 {theirs_s:.2} s, {:.2} x its speed (bar .50)",
        theirs_s / ours_s
    );
}
