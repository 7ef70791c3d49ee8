//! A workshop of 1,000 bows and 20,000 trials: opened, asked what is fitted, and put on the rack.
//! Wanted: open in at most 50 ms, "what is fitted, and why" in at most 1 ms.

// Without its workshop there is nothing to measure.
#![allow(clippy::unwrap_used)]

use std::hint::black_box;
use std::path::{Path, PathBuf};

use criterion::{Criterion, criterion_group, criterion_main};
use rusqlite::Connection;
use shimwright::frame::{ArrowKind, PointMm};
use shimwright::record::{Surface, TrialDraft, TrialImpact};
use shimwright::workshop::Workshop;

const BOWS: i64 = 1_000;
const TRIALS_A_BOW: i64 = 20;

fn face() -> TrialDraft {
    let hit = |kind, x: f64| TrialImpact::typed(kind, PointMm::new(x, x / 3.0), 1.5);
    let fletched = [-9.3, 4.1, 7.7].map(|x| hit(ArrowKind::Fletched, x));
    let bare = [51.2, 63.9, 70.4].map(|x| hit(ArrowKind::Bare, x));
    TrialDraft {
        surface: Surface::Face,
        distance_m: 18.288,
        shooter: String::new(),
        arrow_setup_id: None,
        impacts: [fletched, bare].concat(),
        tears: Vec::new(),
        photo: None,
        plane: None,
        note: String::new(),
    }
}

/// One bow and one trial through the facade; the rest copies of its rows.
fn fill(path: &Path) {
    let mut workshop = Workshop::open(path).unwrap();
    let bow = shimwright_tests::bow::add(&mut workshop, 1_000).unwrap();
    workshop.pass_open_checks(bow, 1_001).unwrap();
    workshop.save_trial(bow, &face(), 2_000).unwrap();
    workshop.give_verdict(bow, 3_000).unwrap();
    drop(workshop);
    let connection = Connection::open(path).unwrap();
    for (table, columns, times) in COPIES {
        copy(&connection, table, columns, times);
    }
}

/// Table, its columns after id and `bow_id`, and rows per bow.
const COPIES: [(&str, &str, i64); 4] = [
    (
        "fitting",
        "kit_id, top_pair, top_thick, bottom_pair, bottom_thick, reason, at_ms",
        3,
    ),
    ("setup_check", "item, state, note, at_ms", 1),
    (
        "trial",
        "fitting_id, surface, distance_m, rest_mm, nock_mm, epoch, marks, at_ms",
        TRIALS_A_BOW,
    ),
    (
        "verdict",
        "fitting_id, last_trial_id, outcome, more, given, at_ms",
        2,
    ),
];

fn copy(connection: &Connection, table: &str, columns: &str, times: i64) {
    let numbers = "WITH RECURSIVE n (i) AS (SELECT 0 UNION ALL SELECT i + 1 FROM n";
    if table == "fitting" {
        let more = BOWS - 2;
        let bow = "name, owner, hand, axle_to_axle_mm, top_weight, cam_note, kit_id, priority, \
             notes, added_ms, used_ms";
        let sql = format!(
            "{numbers} WHERE i < {more}) INSERT INTO bow ({bow}) SELECT {bow} FROM n, bow WHERE id = 1"
        );
        connection.execute_batch(&sql).unwrap();
    }
    let last = BOWS * times - 1;
    let sql = format!(
        "{numbers} WHERE i < {last}) INSERT INTO {table} (bow_id, {columns}) \
         SELECT i % {BOWS} + 1, {columns} FROM n, {table} WHERE id = 1"
    );
    connection.execute_batch(&sql).unwrap();
}

fn machine() -> String {
    let cpu = std::fs::read_to_string("/proc/cpuinfo").unwrap_or_default();
    let model = cpu.lines().find(|line| line.starts_with("model name"));
    let host = std::fs::read_to_string("/etc/hostname").unwrap_or_default();
    let model = model.and_then(|line| line.split(':').nth(1)).unwrap_or("?");
    format!("{} ({})", host.trim(), model.trim())
}

fn store(c: &mut Criterion) {
    let folder = std::env::temp_dir().join(format!("shimwright-bench-{}", std::process::id()));
    std::fs::create_dir_all(&folder).unwrap();
    let path: PathBuf = folder.join("bench.workshop");
    fill(&path);
    let size = std::fs::metadata(&path).unwrap().len() as f64 / 1e6;
    println!(
        "on {}: {BOWS} bows, {} trials, {size:.1} MB",
        machine(),
        BOWS * TRIALS_A_BOW
    );
    let mut group = c.benchmark_group("workshop of 1,000 bows");
    group.sample_size(30);
    group.bench_function("open", |b| b.iter(|| Workshop::open(black_box(&path))));
    let mut workshop = Workshop::open(&path).unwrap();
    let middle = BOWS / 2;
    group.bench_function("what is fitted, and why", |b| {
        b.iter(|| workshop.fitted(black_box(middle)));
    });
    group.bench_function("rack", |b| b.iter(|| workshop.rack(black_box(""))));
    group.bench_function("page of one bow", |b| b.iter(|| workshop.bow_page(middle)));
    group.bench_function("save a trial", |b| {
        b.iter(|| workshop.save_trial(middle, &face(), 9_000));
    });
    group.finish();
    drop(workshop);
    let _ = std::fs::remove_dir_all(&folder);
}

criterion_group!(benches, store);
criterion_main!(benches);
