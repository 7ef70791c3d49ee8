//! Crashes on purpose: a process that writes is killed, or its writes fail, and what it had
//! acknowledged is looked for afterwards.
//!
//! ```text
//! crash kill N          kills N writers at random moments (tests/kill)
//! crash faults SHIM.so  fails each write call of a writer in turn, in five ways (tests/faults)
//! crash write FILE [N]  the writer: prints the number of every write once it is acknowledged
//! ```

// A tool of the tests: what goes wrong ends it.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use std::io::{BufRead, BufReader, Write};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, ExitCode, Stdio};
use std::time::Duration;

use rand::RngExt;
use shimwright::frame::{ArrowKind, PointMm, Side};
use shimwright::record::{Surface, TrialDraft, TrialImpact};
use shimwright::spacer::{Fitting, Seat};
use shimwright::workshop::{Happening, Workshop};

/// Ways a call can fail, as the shim knows them.
const FAULTS: [&str; 5] = ["enospc", "eio", "short", "fsync", "die"];

fn main() -> ExitCode {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    let (runs, tally) = match words.as_slice() {
        ["write", file] => return write(Path::new(file), i64::MAX),
        ["write", file, count] => return write(Path::new(file), count.parse().expect("a count")),
        ["kill", runs] => kill(runs.parse().expect("a number of kills")),
        ["faults", shim] => faults(shim),
        _ => panic!("crash kill N | faults SHIM.so | write FILE [N]"),
    };
    println!(
        "{} {runs} lost {} torn {}",
        words[0], tally.lost, tally.torn
    );
    ExitCode::from(u8::from(tally.lost + tally.torn > 0))
}

#[derive(Default)]
struct Tally {
    lost: u32,
    torn: u32,
}

/// Writes fittings and trials in turn, number after number, and says so after each.
fn write(file: &Path, until: i64) -> ExitCode {
    let Ok((mut workshop, bow)) = prepared(file) else {
        return ExitCode::FAILURE;
    };
    let done = stored(&workshop, bow).into_iter().max().unwrap_or(0);
    for number in done + 1..=until {
        let written = if number % 2 == 0 {
            let pair = ["A", "B", "C"][(number % 3) as usize];
            let fitting = Fitting::alike(Seat::new(pair, Side::Left));
            workshop.record_fitting(bow, &fitting, number).map(drop)
        } else {
            workshop.save_trial(bow, &trial(number), number).map(drop)
        };
        if written.is_ok() {
            println!("{number}");
            std::io::stdout().flush().unwrap();
        }
    }
    ExitCode::SUCCESS
}

fn prepared(file: &Path) -> Result<(Workshop, i64), shimwright::workshop::WorkshopError> {
    let mut workshop = Workshop::open(file)?;
    if let Some(row) = workshop.rack("")?.first() {
        let bow = row.bow_id;
        return Ok((workshop, bow));
    }
    let bow = shimwright_tests::bow::add(&mut workshop, 0)?;
    Ok((workshop, bow))
}

/// Thirty arrows, so that a trial spans more than one page of the file.
fn trial(number: i64) -> TrialDraft {
    let arrow = |index| {
        TrialImpact::typed(
            ArrowKind::Fletched,
            PointMm::new(f64::from(index), 0.0),
            1.0,
        )
    };
    TrialDraft {
        surface: Surface::Face,
        distance_m: 18.0,
        arrow_setup_id: None,
        impacts: (0..30).map(arrow).collect(),
        tears: Vec::new(),
        photo: None,
        plane: None,
        shooter: String::new(),
        note: number.to_string(),
    }
}

/// The numbers of the writes that are there; 0 is the bow itself.
fn stored(workshop: &Workshop, bow: i64) -> Vec<i64> {
    let happened = workshop.history(bow).unwrap().happenings;
    happened.iter().map(Happening::at_ms).collect()
}

fn kill(runs: u32) -> (u32, Tally) {
    let mut tally = Tally::default();
    let mut chance = rand::rng();
    let folder = folder("kill");
    for run in 0..runs {
        // A new file every few runs: the first writes of a file are a case of their own.
        let file = folder.join(format!("{}.workshop", run / 20));
        let mut child = writer(&file, None).spawn().unwrap();
        let acknowledged = listen(&mut child);
        std::thread::sleep(Duration::from_micros(chance.random_range(500..60_000)));
        child.kill().unwrap();
        child.wait().unwrap();
        look(&file, &acknowledged.join().unwrap(), &mut tally);
    }
    std::fs::remove_dir_all(folder).unwrap();
    (runs, tally)
}

/// Fails the first call of a writer, then the second, and so on until none is left to fail.
fn faults(shim: &str) -> (u32, Tally) {
    let (mut tally, mut runs) = (Tally::default(), 0);
    for fault in FAULTS {
        for call in 1.. {
            let folder = folder("faults");
            let file = folder.join("bench.workshop");
            let marker = folder.join("failed");
            let mut child = writer(&file, Some(5));
            child.env("LD_PRELOAD", shim).env("FAULT", fault);
            child
                .env("FAULT_CALL", call.to_string())
                .env("FAULT_MARKER", &marker);
            let mut child = child.spawn().unwrap();
            let acknowledged = listen(&mut child);
            child.wait().unwrap();
            let reached = marker.exists();
            look(&file, &acknowledged.join().unwrap(), &mut tally);
            std::fs::remove_dir_all(folder).unwrap();
            if !reached {
                break;
            }
            runs += 1;
        }
    }
    (runs, tally)
}

fn folder(word: &str) -> PathBuf {
    let path = std::env::temp_dir().join(format!("shimwright-{word}-{}", std::process::id()));
    std::fs::create_dir_all(&path).unwrap();
    path
}

fn writer(file: &Path, count: Option<u32>) -> Command {
    let mut command = Command::new(std::env::current_exe().unwrap());
    command.arg("write").arg(file).stdout(Stdio::piped());
    command.args(count.map(|count| count.to_string()));
    command.stderr(Stdio::null());
    command
}

/// The numbers that the writer acknowledged, once it has ended.
fn listen(child: &mut Child) -> std::thread::JoinHandle<Vec<i64>> {
    let output = BufReader::new(child.stdout.take().unwrap());
    std::thread::spawn(move || {
        let numbers = output.lines().map_while(Result::ok);
        numbers.filter_map(|line| line.parse().ok()).collect()
    })
}

/// Opens what the writer left and looks for what it had acknowledged.
fn look(file: &Path, acknowledged: &[i64], tally: &mut Tally) {
    let whole = rusqlite::Connection::open(file).unwrap();
    let told: String = whole
        .query_row("PRAGMA integrity_check", [], |row| row.get(0))
        .unwrap_or_else(|error| error.to_string());
    drop(whole);
    if told != "ok" {
        tally.torn += 1;
        println!("integrity_check: {told}");
        return;
    }
    let workshop = match Workshop::open(file) {
        Ok(workshop) => workshop,
        Err(error) => {
            tally.torn += 1;
            println!("{error}");
            return;
        }
    };
    let rows = workshop.rack("").unwrap();
    let Some(row) = rows.first() else {
        tally.lost += u32::from(!acknowledged.is_empty());
        return;
    };
    let there = stored(&workshop, row.bow_id);
    let trials = workshop.trials(row.bow_id).unwrap();
    // A write is the row and the bow's time of use together.
    let half = Some(&row.used_ms) != there.iter().max()
        || trials
            .iter()
            .any(|trial| trial.shot != self::trial(trial.at_ms))
        || !workshop.unread().unwrap().is_empty();
    tally.torn += u32::from(half);
    tally.lost += u32::from(!acknowledged.iter().all(|number| there.contains(number)));
}
