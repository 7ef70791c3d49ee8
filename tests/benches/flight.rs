//! Speed of the transfer table: made once per arrow set-up, then asked thousands of times.

use criterion::{Criterion, criterion_group, criterion_main};
use shimwright::flight::{Air, ArrowSetup, BodyData, Launch, TransferTable, fly};
use shimwright::frame::ArrowKind;
use std::hint::black_box;

fn flight(c: &mut Criterion) {
    let setup = ArrowSetup::default();
    c.bench_function("transfer table of one set-up", |b| {
        b.iter(|| TransferTable::of(black_box(&setup), Air::default()));
    });
    let table = TransferTable::unrecorded();
    c.bench_function("one split asked of the table", |b| {
        b.iter(|| table.split(ArrowKind::Bare, black_box(23.4)));
    });
    let body = BodyData::default().body();
    let launch = Launch {
        speed_mps: 85.344,
        yaw_rad: 0.0,
        rate_radps: 1.0,
    };
    c.bench_function("one flight to 40 yd at the reference tolerance", |b| {
        b.iter(|| fly(black_box(&body), launch, &[36.576]));
    });
}

criterion_group!(benches, flight);
criterion_main!(benches);
