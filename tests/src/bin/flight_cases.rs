//! Random arrows and launches with this crate's flights, as JSON for `tests/peers/flight`.
//!
//! `flight_cases COUNT`: the seed is fixed, so two runs print the same cases.

use rand::rngs::StdRng;
use rand::{RngExt, SeedableRng};
use serde::Serialize;
use shimwright::flight::{
    Air, ArrowSetup, BodyData, Broadhead, Kinds, Launch, Passage, Vanes, fly,
};
use std::time::Instant;

const DISTANCES_M: [f64; 6] = [0.9, 2.0, 9.144, 18.288, 27.432, 36.576];

#[derive(Serialize)]
struct Case {
    body: BodyData,
    launch: Launch,
    distances_m: [f64; 6],
    ours: Vec<Passage>,
}

#[derive(Serialize)]
struct Output {
    cases: Vec<Case>,
    seconds_per_flight: f64,
}

fn setup(random: &mut StdRng) -> ArrowSetup {
    ArrowSetup {
        shaft_length_mm: random.random_range(650.0..790.0),
        diameter_mm: Some(random.random_range(4.8..9.3)),
        total_mass_kg: Some(random.random_range(0.020..0.038)),
        point_mass_kg: Some(random.random_range(0.0052..0.0098)),
        vanes: Some(Vanes {
            count: random.random_range(3..=4),
            length_mm: random.random_range(40.0..102.0),
            height_mm: random.random_range(8.0..15.0),
            ..Vanes::default()
        }),
        broadhead: Some(Broadhead {
            blades: random.random_range(2..=4),
            cut_mm: random.random_range(22.0..35.0),
            ..Broadhead::default()
        }),
        speed_mps: Some(random.random_range(65.0..100.0)),
        ..ArrowSetup::default()
    }
}

/// The bodies of one random arrow, and one launch for them.
fn draw(random: &mut StdRng) -> Option<([BodyData; 3], Launch)> {
    let air = Air::at(
        random.random_range(0.0..2500.0),
        random.random_range(-5.0..35.0),
        0.5,
    )
    .ok()?;
    let kinds = Kinds::of(&setup(random), air).ok()?;
    let launch = Launch {
        speed_mps: kinds.speed_mps,
        yaw_rad: random.random_range(-0.035..0.035),
        rate_radps: random.random_range(-1.5..1.5),
    };
    Some(([kinds.fletched, kinds.bare, kinds.broadhead], launch))
}

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let count: usize = std::env::args()
        .nth(1)
        .map_or(Ok(210), |text| text.parse())?;
    let mut random = StdRng::seed_from_u64(20_260);
    let mut cases = Vec::with_capacity(count);
    while cases.len() < count {
        let Some((bodies, launch)) = draw(&mut random) else {
            continue;
        };
        for body in bodies {
            let ours = fly(&body.body(), launch, &DISTANCES_M)?;
            cases.push(Case {
                body,
                launch,
                distances_m: DISTANCES_M,
                ours,
            });
        }
    }
    cases.truncate(count);
    let start = Instant::now();
    for case in &cases {
        std::hint::black_box(fly(&case.body.body(), case.launch, &DISTANCES_M)?);
    }
    let seconds_per_flight = start.elapsed().as_secs_f64() / cases.len() as f64;
    serde_json::to_writer(
        std::io::stdout().lock(),
        &Output {
            cases,
            seconds_per_flight,
        },
    )?;
    Ok(())
}
