//! The whole of every answer as it stands, to four digits: of the shop situations and of cases drawn by dice. Whoever
//! changes the verdict reads in the difference of `data/answers.txt` what else the change does. Whether an answer is
//! a good one is said by `situations`, and whether its figures are right by the laws and the peers.

use std::fmt::Write as _;
use std::path::{Path, PathBuf};

use serde::Serialize;
use serde_json::{Number, Value};
use shimwright::flight::TransferTable;
use shimwright::verdict::{Case, Verdict, decide};
use shimwright_tests::cases::{Recipe, random_case};

use crate::situations;

/// Cases drawn by dice, half of them of every probe, distance and place of the rest.
const DRAWN: u64 = 24;
/// Fittings and runners-up written out of each, from the best.
const BEST: usize = 3;
/// Digits of a figure.
const DIGITS: i32 = 4;
/// What is nearer to nothing than this is nothing: chances, mm.
const NOTHING: f64 = 1e-7;

fn path() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("data/answers.txt")
}

fn cases() -> Vec<(String, Case)> {
    let mut all: Vec<(String, Case)> = situations::all()
        .into_iter()
        .map(|(name, one)| (format!("{name}: {}", one.situation), one.case))
        .collect();
    for seed in 0..DRAWN {
        let recipe = Recipe {
            trials: 2 + usize::try_from(seed % 5).unwrap(),
            mixed: seed % 2 == 1,
            arrows: 3,
        };
        all.push((
            format!("drawn by seed {seed}"),
            random_case(seed, recipe).unwrap(),
        ));
    }
    all
}

/// The figure to so many digits, so that the last bits of another machine do not count.
fn rounded(figure: f64) -> f64 {
    if figure.abs() < NOTHING {
        return 0.0;
    }
    format!("{figure:.*e}", usize::try_from(DIGITS - 1).unwrap())
        .parse()
        .unwrap()
}

fn round_all(value: &mut Value) {
    match value {
        Value::Number(number) if number.is_f64() => {
            let figure = rounded(number.as_f64().unwrap());
            *value = Number::from_f64(figure).map_or(Value::Null, Value::Number);
        }
        Value::Array(of) => of.iter_mut().for_each(round_all),
        Value::Object(of) => of.values_mut().for_each(round_all),
        _ => {}
    }
}

fn put(text: &mut String, topic: &str, of: &impl Serialize) {
    let mut value = serde_json::to_value(of).unwrap();
    round_all(&mut value);
    writeln!(text, "  {topic} {value}").unwrap();
}

fn put_each<T: Serialize>(text: &mut String, topic: &str, of: &[T]) {
    for one in of {
        put(text, topic, one);
    }
}

/// One answer, a line for each thing it says.
fn written(name: &str, verdict: &Verdict) -> String {
    let mut text = format!("{name}\n");
    put(&mut text, "call", &verdict.call);
    put(&mut text, "as it is", &verdict.as_it_is);
    put_each(&mut text, "then", &verdict.predictions);
    put(&mut text, "response", &verdict.response);
    put_each(&mut text, "split", &verdict.splits);
    put_each(&mut text, "because", &verdict.reasons);
    put_each(
        &mut text,
        "or",
        &verdict.alternatives[..BEST.min(verdict.alternatives.len())],
    );
    put_each(
        &mut text,
        "fitting",
        &verdict.options[..BEST.min(verdict.options.len())],
    );
    text
}

fn answers() -> Vec<String> {
    let answer = |(name, case): (String, Case)| {
        written(&name, &decide(&case, TransferTable::unrecorded()).unwrap())
    };
    cases().into_iter().map(answer).collect()
}

/// The lines of one answer that changed, under its name.
fn difference(was: &str, is: &str) -> String {
    let without = |of: &str, those: &str, sign: char| {
        let those: Vec<&str> = those.lines().collect();
        let mut text = String::new();
        for line in of.lines().filter(|line| !those.contains(line)) {
            writeln!(text, "{sign}{line}").unwrap();
        }
        text
    };
    let changed = without(was, is, '-') + &without(is, was, '+');
    match is.lines().next() {
        Some(name) if !changed.is_empty() => format!("{name}\n{changed}"),
        _ => changed,
    }
}

#[test]
fn answers_stand_as_they_were_read() {
    let kept = std::fs::read_to_string(path()).unwrap();
    let kept: Vec<&str> = kept.split_inclusive("\n\n").map(str::trim_end).collect();
    let now = answers();
    let changed: String = kept
        .iter()
        .zip(&now)
        .map(|(was, is)| difference(was, is.trim_end()))
        .collect();
    assert!(
        changed.is_empty() && kept.len() == now.len(),
        "{changed}if all of that is better, write it with: cargo test -p shimwright-tests -- --ignored write_answers"
    );
}

#[test]
#[ignore = "writes tests/data/answers.txt: run it with --ignored after a change of the verdict, and read the difference"]
fn write_answers() {
    std::fs::write(path(), answers().join("\n")).unwrap();
}
