//! Every refusal in words the user can act on, as they stand. A changed sentence changes this list; a
//! variant without a sentence here does not compile.

mod bow;
mod photograph;
mod record;

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use shimwright::distance::DistanceError;

fn path() -> PathBuf {
    PathBuf::from("bench.workshop")
}

fn b() -> String {
    "B".to_owned()
}

fn said(text: &str) -> String {
    text.to_owned()
}

const FAR: DistanceError = DistanceError { distance_m: 400.0 };
const FAR_WORDS: &str = "400 m as distance is outside 0.5 to 100 m; check the number and its unit";

/// What is wrong, then what to do: the program puts "error: " before it and nothing behind it.
fn is_one_sentence(words: &str) -> bool {
    let starts_small = words.starts_with(|first: char| !first.is_uppercase());
    starts_small && words.contains("; ") && !words.ends_with(['.', '?', ';', ' '])
}

macro_rules! refusals {
    ($($test:ident: $of:ident { $($variant:ident: $sample:expr => $words:expr;)+ })+) => {
        pub(super) const COVERED: &[&str] = &[$(stringify!($of)),+];
        $(#[test]
        fn $test() {
            fn named(error: &$of) -> &'static str {
                match error { $($of::$variant { .. } => stringify!($variant),)+ }
            }
            $(
                let error: $of = $sample;
                assert_eq!(named(&error), stringify!($variant));
                assert_eq!(error.to_string(), $words);
                assert!(is_one_sentence($words), "{}", $words);
            )+
        })+
    };
}

use refusals;

#[test]
fn of_distances() {
    assert_eq!(FAR.to_string(), FAR_WORDS);
    assert!(is_one_sentence(FAR_WORDS));
}

/// What the core's sources say is an error, whoever wrote it, stands in these tables.
#[test]
fn no_refusal_is_left_out() {
    let mut named = BTreeSet::new();
    for root in ["../core/sight/src", "../core/reckon/src", "../core/src"] {
        errors_in(
            &Path::new(env!("CARGO_MANIFEST_DIR")).join(root),
            &mut named,
        );
    }
    let tables = [bow::COVERED, photograph::COVERED, record::COVERED];
    let covered = tables.concat().into_iter().chain(["DistanceError"]);
    // Not derived, but shown as one.
    let derived = covered.filter(|name| *name != "QualityFault");
    assert_eq!(named, derived.map(str::to_owned).collect());
}

/// Names of the types in `folder` that derive `Error`.
fn errors_in(folder: &Path, named: &mut BTreeSet<String>) {
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            errors_in(&path, named);
        } else if path.extension().is_some_and(|ending| ending == "rs") {
            let text = std::fs::read_to_string(&path).unwrap();
            for derived in text.split("#[derive(").skip(1) {
                let (traits, rest) = derived.split_once(")]").unwrap();
                let mut traits = traits.split(',').map(str::trim);
                if traits.any(|one| one == "Error" || one == "thiserror::Error") {
                    let mut words = rest.split_whitespace();
                    words.find(|word| ["enum", "struct"].contains(word));
                    let name = words.next().unwrap();
                    named.insert(name.trim_end_matches('{').to_owned());
                }
            }
        }
    }
}
