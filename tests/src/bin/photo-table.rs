//! Prints what measuring reaches on freshly rendered photographs, with its bars; exits with 1 when
//! a bar is missed.
//!
//! `photo-table [COUNT] [FIRST_SEED] [ROW]`: COUNT photographs per larger row (default 24), from
//! `FIRST_SEED` (default 5000; below 1000 for tuning), all rows or the one of that number.

use std::process::ExitCode;
use std::time::Instant;

use shimwright_tests::shots::{FIRST_REPORTING_SEED, Size};
use shimwright_tests::table::{Plan, ROWS};

fn main() -> ExitCode {
    let mut arguments = std::env::args().skip(1).map(|a| a.parse::<u64>());
    let mut next = |default: u64| arguments.next().and_then(Result::ok).unwrap_or(default);
    let (count, first, row) = (next(24), next(FIRST_REPORTING_SEED), next(0));
    let plan = Plan::new(first, count, Size::Full);
    println!("Measuring 12 MP photographs, seeds from {first}; bars beside the figures\n");
    let mut missed = 0;
    for (i, make) in ROWS.iter().enumerate() {
        if row != 0 && row != i as u64 + 1 {
            continue;
        }
        let start = Instant::now();
        let made = make(&plan);
        println!(
            "{:>2}. {made}    [{:.0} s]\n",
            i + 1,
            start.elapsed().as_secs_f64()
        );
        missed += usize::from(!made.kept());
    }
    println!("{missed} rows missed a bar");
    if missed == 0 {
        ExitCode::SUCCESS
    } else {
        ExitCode::FAILURE
    }
}
