//! Flight against an independent integration, invariants of the model, and published figures.
//!
//! `tests/data/flight_vectors.json`: the model integrated with `SciPy`'s DOP853 at rtol 1e-10, by
//! someone who did not write this crate. Its frame is +y left; mirrored it is ours.

use serde::Deserialize;
use shimwright::flight::{self, Air, Body, BodyData, FinRing, Launch, Passage};
use shimwright::units::M_PER_YARD;

const SPEED: f64 = 85.344;

#[derive(Deserialize)]
struct Vector {
    arrow: String,
    th0_deg: f64,
    om0: f64,
    y_point_mm: [f64; 4],
    y_cg_mm: [f64; 4],
    v: [f64; 4],
    aoa_deg: [f64; 4],
    tear_mm: f64,
}

fn vectors() -> Vec<Vector> {
    let path = format!("{}/data/flight_vectors.json", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(path).unwrap();
    let all: serde_json::Value = serde_json::from_str(&text).unwrap();
    serde_json::from_value(all["vectors"].clone()).unwrap()
}

fn inches(value: f64) -> f64 {
    value * 0.0254
}

/// Three vanes of 2.0 x 0.50 in, 0.6 in at the top, swept 1.2 in, an inch from the nock throat.
fn base_vanes() -> FinRing {
    FinRing {
        count: 3,
        root_m: inches(2.0),
        tip_m: inches(0.6),
        height_m: inches(0.5),
        sweep_m: inches(1.2),
    }
}

fn fletched() -> BodyData {
    let mut data = BodyData {
        drag_coefficient: 2.2,
        ..BodyData::default()
    };
    data.fins = vec![data.ring(&base_vanes(), inches(3.0))];
    data
}

fn launch(yaw_deg: f64, rate_radps: f64) -> Launch {
    Launch {
        speed_mps: SPEED,
        yaw_rad: yaw_deg.to_radians(),
        rate_radps,
    }
}

fn through(body: &Body, launch: Launch, distances_m: &[f64]) -> Vec<Passage> {
    flight::fly(body, launch, distances_m).unwrap()
}

fn within(actual: f64, expected: f64, tolerance: f64) {
    assert!(
        (actual - expected).abs() <= tolerance,
        "{actual} is not {expected} within {tolerance}"
    );
}

fn yards(distances: [f64; 4]) -> [f64; 4] {
    distances.map(|yd| yd * M_PER_YARD)
}

#[test]
fn vectors_of_an_independent_integration() {
    let vectors = vectors();
    assert!(vectors.len() >= 22, "only {} vectors", vectors.len());
    for v in vectors {
        let data = if v.arrow == "bare" {
            BodyData::default()
        } else {
            fletched()
        };
        let body = data.body();
        let at = through(
            &body,
            launch(v.th0_deg, v.om0),
            &yards([10.0, 20.0, 30.0, 40.0]),
        );
        for (i, passage) in at.iter().enumerate() {
            let tolerance = if i == 3 { 0.05 } else { 0.01 };
            within(passage.point_mm, v.y_point_mm[i], tolerance);
            within(passage.balance_mm, v.y_cg_mm[i], tolerance);
            within(passage.speed_mps, v.v[i], 1e-4);
            within(passage.yaw_rad.to_degrees(), v.aoa_deg[i], 1e-4);
        }
        within(
            through(&body, launch(v.th0_deg, v.om0), &[2.0])[0].tear_mm,
            v.tear_mm,
            0.01,
        );
    }
}

#[test]
fn derived_figures_of_the_base_arrow() {
    let data = fletched();
    within(data.fins[0].0, 29.946_620, 1e-6);
    within(data.fins[0].1 - data.balance_m, -0.402_049_436, 1e-9);
    within(data.area_m2(), 2.827_433_39e-5, 1e-13);
    within(
        flight::foc_percent(data.balance_m, data.length_m),
        12.0,
        1e-6,
    );
    within(data.static_margin_m(), 0.359, 5e-4);
}

/// Accelerations at 85.344 m/s without yaw rate: the static part of the same outside computation.
#[test]
fn static_accelerations() {
    let bare = BodyData::default().body();
    let vaned = fletched().body();
    for (body, degrees, lift, turn) in [
        (&bare, 1.0, 0.423_946, 0.169_027),
        (&bare, 1.5, 0.844_159, -0.003_383),
        (&bare, 2.0, 1.402_853, -0.347_048),
        (&bare, 4.0, 5.013_003, -3.431_810),
        (&vaned, 1.0, 2.949_621, -14.074_292),
        (&vaned, 4.0, 15.061_949, -60.231_680),
    ] {
        let angle = f64::to_radians(degrees);
        let rates = flight::derivative(body, &[0.0, 0.0, SPEED, 0.0, angle, 0.0]);
        within(rates[3], lift, 1e-6);
        within(rates[5], turn, 1e-6);
    }
}

#[test]
fn mirrored_launch_is_exactly_the_mirrored_flight() {
    for body in [BodyData::default().body(), fletched().body()] {
        let distances = [0.9, 2.0, 9.0, 18.288, 60.0];
        let right = through(&body, launch(1.3, 0.7), &distances);
        let left = through(&body, launch(-1.3, -0.7), &distances);
        assert_eq!(
            (right.len(), left.len()),
            (distances.len(), distances.len())
        );
        for (r, l) in right.iter().zip(&left) {
            assert_eq!(r.point_mm.to_bits(), (-l.point_mm).to_bits());
            assert_eq!(r.tear_mm.to_bits(), (-l.tear_mm).to_bits());
            assert_eq!(r.speed_mps.to_bits(), l.speed_mps.to_bits());
        }
    }
}

/// The same path at any speed, for the same yaw and the same yaw rate over speed: the dart study
/// of James and Potts (Sports Eng 21 (2018) 347) finds wavelength independent of speed as well.
#[test]
fn path_does_not_depend_on_speed() {
    let body = fletched().body();
    let distances = yards([10.0, 20.0, 30.0, 40.0]);
    let path = |fps: f64| {
        let speed_mps = fps * 0.3048;
        let launch = Launch {
            speed_mps,
            yaw_rad: 0.02,
            rate_radps: speed_mps / SPEED,
        };
        through(&body, launch, &distances)
    };
    let (slow, middle, fast) = (path(250.0), path(280.0), path(310.0));
    for i in 0..4 {
        within(slow[i].point_mm, middle[i].point_mm, 1e-3);
        within(fast[i].point_mm, middle[i].point_mm, 1e-3);
    }
}

#[test]
fn without_air_the_balance_point_flies_straight_and_falls_freely() {
    let body = BodyData {
        density_kg_m3: 0.0,
        ..fletched()
    }
    .body();
    let at = through(&body, launch(1.0, 1.0), &[18.288, 60.0]);
    for passage in &at {
        within(passage.balance_mm, 0.0, 1e-9);
        within(passage.speed_mps, SPEED, 1e-9);
    }
    let level = Launch {
        speed_mps: SPEED,
        yaw_rad: 0.0,
        rate_radps: 0.0,
    };
    let fall = through(&body.from_the_side(), level, &[18.288])[0];
    let time = (18.288 - 0.7366 - 0.022_86) / SPEED;
    within(fall.time_s, time, 1e-9);
    within(fall.point_mm, -0.5 * 9.806_65 * time * time * 1e3, 1e-6);
}

/// A straight flight slows as `v0 exp(-k x)` of its balance point's way, `k = rho S CD / 2 m`.
#[test]
fn drag_decay() {
    let data = BodyData {
        drag_coefficient: 2.2,
        ..BodyData::default()
    };
    let k = 1.225 * data.area_m2() * 2.2 / (2.0 * data.mass_kg);
    within(k, 0.001_469_920, 1e-9);
    let at = through(&data.body(), launch(0.0, 0.0), &[40.0 * M_PER_YARD])[0];
    let way = 40.0 * M_PER_YARD - data.balance_m;
    within(at.speed_mps, SPEED * (-k * way).exp(), 1e-9);
    within(at.speed_mps, 80.931_06, 1e-5);
    within(at.point_mm, 0.0, 1e-12);
}

/// The arrow without cross-flow and drag is a linear oscillator with known eigenvalues.
fn linear() -> BodyData {
    BodyData {
        cross_drag: 0.0,
        friction: 0.0,
        drag_coefficient: 0.0,
        ..fletched()
    }
}

/// Exact small-angle constants: `Na` N/rad, `Ma` N m/rad, `Mq` N m s.
fn small_angle(data: &BodyData) -> (f64, f64, f64) {
    let pressure = 0.5 * 1.225 * data.area_m2() * SPEED;
    let nose = data.length_m - data.balance_m + data.nose_m * (1.0 - flight::OGIVE_CENTRE);
    let fin = (data.fins[0].0, data.fins[0].1 - data.balance_m);
    let sum = |power: i32| 2.0 * nose.powi(power) + fin.0 * fin.1.powi(power);
    (
        pressure * SPEED * sum(0),
        pressure * SPEED * sum(1),
        pressure * sum(2),
    )
}

/// Real and imaginary part, 1/s, of the eigenvalues of small yaw and its rate at constant speed, from
/// the motion itself: `yaw' = rate - vy'/V`, with `vy'` and `rate'` by central differences.
fn yaw_mode(body: &Body) -> (f64, f64) {
    let slopes = |yaw_rad: f64, rate_radps: f64| {
        let at = |sign: f64| {
            let (yaw, rate) = (sign * yaw_rad, sign * rate_radps);
            flight::derivative(body, &[0.0, 0.0, SPEED, 0.0, yaw, rate])
        };
        let (up, down) = (at(1.0), at(-1.0));
        let step = 2.0 * (yaw_rad + rate_radps);
        ((up[3] - down[3]) / step, (up[5] - down[5]) / step)
    };
    let ((lift, turn), (push, damp)) = (slopes(1e-4, 0.0), slopes(0.0, 1e-3));
    let (lift, push) = (-lift / SPEED, 1.0 - push / SPEED);
    let half = 0.5 * (lift + damp);
    (half, (lift * damp - push * turn - half * half).sqrt())
}

#[test]
fn linear_limit_and_aerodynamic_jump() {
    let data = linear();
    let (na, ma, mq) = small_angle(&data);
    within(na, 4.029_669, 1e-6);
    within(ma, -1.445_006, 1e-6);
    within(mq, 7.406_72e-3, 1e-8);
    let (damping, turning) = yaw_mode(&data.body());
    within(damping, -2.901_26, 1e-5);
    within(turning, 27.740_41, 1e-5);
    let body = data.body();
    // state after a time: ride the distance the balance point covers in it
    let after = |yaw_rad: f64, rate_radps: f64, time_s: f64| {
        let launch = Launch {
            speed_mps: SPEED,
            yaw_rad,
            rate_radps,
        };
        through(&body, launch, &[data.balance_m + SPEED * time_s])[0]
    };
    let turned = after(1e-4, 0.0, 0.2);
    within(turned.balance_mm, 1.546_701e-2, 2e-7);
    within(turned.shaft_rad, 3.769_923e-5, 1e-10);
    within(after(0.0, 1e-3, 0.4).balance_mm, 8.153_185e-2, 2e-7);
    // McCoy, Modern Exterior Ballistics, ch. 12: the path of a statically stable arrow leaves with
    // the slope I om0 / (m V ls); exact value from the matrix exponential.
    let slope = |from: f64, to: f64| {
        let far = after(0.0, 1e-3, to).balance_mm - after(0.0, 1e-3, from).balance_mm;
        far * 1e-3 / (SPEED * (to - from)) / 1e-3
    };
    let simple = data.inertia_kgm2 / (data.mass_kg * SPEED * (-ma / na));
    within(simple, 2.345_572e-3, 1e-9);
    within(slope(3.0, 4.0), 2.341_624e-3, 1.5e-7);
}

/// Barrowman, NARAM-8 (1966), worked forms as two open rocketry programs document them.
#[test]
fn barrowman_examples() {
    let ring = FinRing {
        count: 3,
        root_m: 0.12,
        tip_m: 0.04,
        height_m: 0.10,
        sweep_m: 0.08,
    };
    within(ring.one_fin_slope(0.127), 1.852_789, 1e-6);
    within(ring.centre_m(), 0.055, 1e-12);
    within(
        ring.slope(0.127) / (1.5 * ring.one_fin_slope(0.127)),
        1.388_379,
        1e-6,
    );
    let four = FinRing {
        count: 4,
        root_m: 0.06,
        tip_m: 0.025,
        height_m: 0.04,
        sweep_m: 0.045,
    };
    within(four.slope(0.05), 5.630_714, 1e-6);
    within(four.centre_m(), 0.030_637_25, 1e-8);
    let nose_m = flight::OGIVE_CENTRE * 0.10;
    let slope = flight::NOSE_SLOPE + four.slope(0.05);
    within(slope, 7.630_714, 1e-6);
    let centre =
        (flight::NOSE_SLOPE * nose_m + four.slope(0.05) * (0.39 + four.centre_m())) / slope;
    within(centre, 0.322_602_6, 1e-7);
}

/// ISO 2533, standard atmosphere, computed from its constants.
#[test]
fn iso_2533_rows() {
    within(flight::standard_pressure_pa(1000.0), 89_874.6, 0.05);
    within(flight::standard_pressure_pa(2000.0), 79_495.2, 0.05);
    // Dry air at the standard temperature of each height. ISO 2533's air lacks CIPM-2007's
    // compressibility and today's carbon dioxide: 0.05 %.
    for (height_m, density) in [(0.0, 1.225_00), (1000.0, 1.111_66), (2000.0, 1.006_55)] {
        let celsius = 15.0 - 6.5e-3 * flight::geopotential_m(height_m);
        let air = Air::at(height_m, celsius, 0.0).unwrap();
        within(air.density_kg_m3, density, 5e-4 * density);
    }
}

/// CIPM-2007 (Picard et al., Metrologia 45 (2008) 149-155), computed from its constants.
#[test]
fn cipm_2007_rows() {
    for (celsius, pascal, humidity, density) in [
        (20.0, 101_325.0, 0.5, 1.199_314),
        (15.0, 101_325.0, 0.0, 1.225_521),
        (20.0, 101_325.0, 0.0, 1.204_557),
        (25.0, 101_325.0, 0.5, 1.177_315),
        (30.0, 101_325.0, 0.8, 1.150_012),
        (0.0, 101_325.0, 0.5, 1.291_578),
        (20.0, 89_875.0, 0.3, 1.065_248),
        (20.0, 79_495.0, 0.3, 0.941_820),
    ] {
        within(
            flight::moist_density_kg_m3(celsius, pascal, humidity),
            density,
            1e-6,
        );
    }
    assert!(Air::at(9000.0, 20.0, 0.5).is_err());
    assert!(Air::at(0.0, 80.0, 0.5).is_err());
    assert!(Air::at(0.0, 20.0, 50.0).is_err());
    assert!(Air::at(f64::NAN, 20.0, 0.5).is_err());
}
