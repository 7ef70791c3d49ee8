//! Prints cases, what the core believes of them, and how long it took, for `tests/peers/verdict`.
#![allow(clippy::unwrap_used)] // without its cases there is nothing to compare

use std::time::Instant;

use serde_json::json;
use shimwright::evidence::{Relative, priors};
use shimwright::flight::TransferTable;
use shimwright::verdict::{Case, decide};
use shimwright_tests::cases::{Recipe, random_case};

/// One to six trials; the rest stands elsewhere in every second case, and every third has relatives.
fn case(seed: u64) -> Case {
    let bare = |trials| Recipe {
        trials,
        mixed: false,
        arrows: 3,
    };
    let mut case = random_case(seed, bare(1 + (seed % 6) as usize)).unwrap();
    if seed % 2 == 1 {
        for (trial, step) in case
            .trials
            .iter_mut()
            .zip([0.0, -0.8, 0.4].into_iter().cycle())
        {
            trial.rest_mm = step;
        }
    }
    if seed % 3 == 2 {
        case.relatives = (1..=2)
            .map(|k| Relative {
                trials: random_case(seed + 1000 * k, bare(3)).unwrap().trials,
            })
            .collect();
    }
    case
}

fn main() {
    let count: u64 = std::env::args()
        .nth(1)
        .and_then(|count| count.parse().ok())
        .unwrap_or(50);
    let table = TransferTable::unrecorded();
    let cases: Vec<_> = (0..count)
        .map(|seed| {
            let case = case(seed);
            let verdict = decide(&case, table).unwrap();
            json!({ "case": case, "response": verdict.response, "options": verdict.options })
        })
        .collect();
    let large = random_case(
        3,
        Recipe {
            trials: 40,
            mixed: false,
            arrows: 3,
        },
    )
    .unwrap();
    let started = Instant::now();
    let rounds = 200;
    for _ in 0..rounds {
        std::hint::black_box(decide(std::hint::black_box(&large), table)).unwrap();
    }
    let seconds = started.elapsed().as_secs_f64() / f64::from(rounds);
    let priors = json!({
        "fault_sd": priors::FAULT_SD_MM, "median": priors::RESPONSE_MEDIAN, "log_sd": priors::RESPONSE_LOG_SD,
        "right_way": priors::RESPONSE_RIGHT_WAY, "tail_share": priors::RESPONSE_TAIL_SHARE,
        "tail_log_sd": priors::RESPONSE_TAIL_LOG_SD, "rest_sd": priors::REST_SD,
        "family_log_sd": priors::FAMILY_LOG_SD, "within_log_sd": priors::FAMILY_WITHIN_LOG_SD,
        "family_right_way": priors::FAMILY_RIGHT_WAY,
    });
    println!(
        "{}",
        json!({ "priors": priors, "cases": cases, "large": large, "verdict_s": seconds })
    );
}
