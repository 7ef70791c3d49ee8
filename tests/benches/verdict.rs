//! Speed of one verdict: 36 fittings, 40 trials, value of information included.
#![allow(clippy::unwrap_used)] // a benchmark that cannot build its case must stop

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use shimwright::flight::TransferTable;
use shimwright::verdict::decide;
use shimwright_tests::cases::{Recipe, random_case};

fn verdict(c: &mut Criterion) {
    let table = TransferTable::unrecorded();
    for (name, mixed) in [("one distance", false), ("mixed evidence", true)] {
        let case = random_case(
            3,
            Recipe {
                trials: 40,
                mixed,
                arrows: 3,
            },
        )
        .unwrap();
        assert_eq!(decide(&case, table).unwrap().options.len(), 36);
        c.bench_function(
            &format!("verdict over 36 fittings and 40 trials, {name}"),
            |b| {
                b.iter(|| decide(black_box(&case), table));
            },
        );
    }
    let open = random_case(
        5,
        Recipe {
            trials: 1,
            mixed: false,
            arrows: 3,
        },
    )
    .unwrap();
    c.bench_function("verdict over 36 fittings after the first trial", |b| {
        b.iter(|| decide(black_box(&open), table));
    });
}

criterion_group!(benches, verdict);
criterion_main!(benches);
