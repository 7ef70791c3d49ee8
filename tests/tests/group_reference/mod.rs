//! Groups, scatter, splits, fliers and walk-back: against published tests, by laws, and on bad input.

#![allow(clippy::float_cmp)] // mirrored evidence must give exactly the mirrored result

mod fliers;
mod walk_back;

use proptest::prelude::*;
use rand::SeedableRng;
use rand::rngs::StdRng;
use rand_distr::{ChiSquared, Distribution, Normal};
use shimwright::frame::ArrowKind;
use shimwright::group::{Group, GroupError, Impact};
use shimwright::scatter::{AxisScatter, KindScatter, PRIOR_FLETCHED_SD_MM, PooledScatter};
use shimwright::split::{FaceAccuracy, Reality, Split, SplitError};
use shimwright::units::TWENTY_YARDS_M;

fn within(actual: f64, expected: f64, tolerance: f64) {
    assert!(
        (actual - expected).abs() <= tolerance,
        "{actual} is not {expected} within {tolerance}"
    );
}

fn shots(kind: ArrowKind, places: &[(f64, f64)]) -> Vec<Impact> {
    places
        .iter()
        .map(|(x, y)| Impact::new(kind, *x, *y))
        .collect()
}

fn random_shots(
    kind: ArrowKind,
    n: usize,
    centre: (f64, f64),
    sd: f64,
    random: &mut StdRng,
) -> Vec<Impact> {
    let normal = Normal::new(0.0, sd).unwrap();
    (0..n)
        .map(|_| {
            Impact::new(
                kind,
                centre.0 + normal.sample(random),
                centre.1 + normal.sample(random),
            )
        })
        .collect()
}

#[test]
fn scatter_starts_at_its_prior_and_follows_the_groups() {
    let prior = PooledScatter::prior();
    within(prior.fletched.x.sd_mm, 15.24, 1e-9);
    within(prior.bare.y.sd_mm, 1.5 * 15.24, 1e-9);
    within(
        prior
            .cov(ArrowKind::Fletched, 2.0 * TWENTY_YARDS_M)
            .sd_x_mm(),
        30.48,
        1e-9,
    );
    let mut random = StdRng::seed_from_u64(11);
    let at_40 = 2.0 * TWENTY_YARDS_M;
    let groups: Vec<Group> = (0..60)
        .map(|_| {
            Group::of(
                ArrowKind::Fletched,
                &random_shots(ArrowKind::Fletched, 4, (0.0, 0.0), 12.0, &mut random),
            )
            .unwrap()
        })
        .collect();
    let pooled = PooledScatter::pooled(groups.iter().map(|g| (g, at_40)));
    within(pooled.fletched.x.sd_mm, 6.0, 0.7);
    within(pooled.fletched.x.dof, 185.0, 0.05);
    // Bare shafts stand on both axes of the fletched ones, with the prior's own weight.
    within(pooled.bare.x.sd_mm, 1.5 * 6.0, 0.3);
    within(pooled.bare.x.dof, 5.0, 0.05);
}

#[test]
fn groups_say_what_is_wrong() {
    let three = shots(ArrowKind::Bare, &[(0.0, 0.0), (1.0, 1.0), (2.0, 5.0)]);
    assert_eq!(
        Group::of(ArrowKind::Fletched, &three),
        Err(GroupError::NoArrows {
            kind: ArrowKind::Fletched
        })
    );
    let broken = shots(ArrowKind::Bare, &[(0.0, 0.0), (f64::NAN, 1.0)]);
    let error = Group::of(ArrowKind::Bare, &broken).unwrap_err();
    assert_eq!(
        error.to_string(),
        "impact 2 has no usable position; place it again"
    );
    let one = Group::of(ArrowKind::Bare, &three[..1]).unwrap();
    assert_eq!((one.n, one.cov.xx_mm2), (1, 0.0));
    let mut left_out = three.clone();
    left_out[2].excluded = Some("bad shot".to_owned());
    assert_eq!(Group::of(ArrowKind::Bare, &left_out).unwrap().n, 2);
}

fn split(probe: &[Impact], reference: &[Impact]) -> Result<Split, SplitError> {
    let probe = Group::of(probe[0].kind, probe).unwrap();
    let reference = Group::of(reference[0].kind, reference).unwrap();
    Split::between(
        &probe,
        &reference,
        TWENTY_YARDS_M,
        &PooledScatter::prior(),
        FaceAccuracy {
            sd_mm: 1.0,
            scale_sd: 0.0,
            turn_sd_rad: 0.0,
        },
    )
}

#[test]
fn a_split_says_whether_it_is_real() {
    let fletched = shots(ArrowKind::Fletched, &[(0.0, 0.0), (8.0, 3.0), (-6.0, 5.0)]);
    let far = shots(ArrowKind::Bare, &[(80.0, 2.0), (95.0, -9.0), (71.0, 8.0)]);
    let clear = split(&far, &fletched).unwrap();
    assert_eq!(clear.x().reality, Reality::Clear);
    assert_eq!(clear.y().reality, Reality::NotShown);
    assert!(clear.x().is_real() && !clear.y().is_real());
    within(clear.offset.x_mm, 82.0 - 2.0 / 3.0, 1e-9);
    let variance = (22.86_f64.powi(2) + 15.24_f64.powi(2)) / 3.0 + 1.0;
    within(clear.cov.xx_mm2, variance, 1e-9);
    let x = clear.x();
    assert!(x.low95_mm < x.low80_mm && x.low95_mm > 0.0);
    assert_eq!((clear.n_probe, clear.n_reference), (3, 3));
    let near = shots(ArrowKind::Bare, &[(10.0, 2.0), (-5.0, -9.0), (7.0, 8.0)]);
    assert_eq!(
        split(&near, &fletched).unwrap().x().reality,
        Reality::NotShown
    );
    assert_eq!(
        split(&far[..1], &fletched).unwrap().x().reality,
        Reality::TooFewArrows
    );
    assert_eq!(
        split(&fletched, &fletched).unwrap_err(),
        SplitError::NotAProbe
    );
    assert!(matches!(
        split(&far, &far).unwrap_err(),
        SplitError::NotAReference { .. }
    ));
}

/// A split's test is Welch's where the scatter is the sample's own: t, degrees of freedom
/// (Satterthwaite) and p as R 3.4.0 `t.test` gives them, recorded in the unit tests of Apache Commons
/// Statistics (`TTestTest`).
#[test]
fn the_test_of_a_split_is_welchs() {
    type Example = (&'static [f64], &'static [f64], f64, f64, f64);
    let examples: [Example; 3] = [
        (
            &[7.0, -4.0, 18.0, 17.0, -3.0, -5.0, 1.0, 10.0, 11.0, -2.0],
            &[
                -1.0, 12.0, -1.0, -3.0, 3.0, -5.0, 5.0, 2.0, -11.0, -1.0, -3.0,
            ],
            1.603_717_287_675_514_8,
            15.590_512_968_733_776,
            0.128_839_369_621_933_96,
        ),
        (
            &[2.0, 4.0, 6.0, 8.0, 10.0, 97.0],
            &[4.0, 6.0, 8.0, 10.0, 16.0],
            0.805_682_606_104_052_7,
            5.182_766_750_205_960_2,
            0.455_786_526_135_504_9,
        ),
        (
            &[1.0, 3.0],
            &[4.0, 5.0],
            -2.236_067_977_499_79,
            1.470_588_235_294_12,
            0.198_727_388_934_526,
        ),
    ];
    for (a, b, t, dof, p) in examples {
        let group = |kind, values: &[f64]| {
            let places: Vec<(f64, f64)> = values.iter().map(|v| (*v, *v)).collect();
            Group::of(kind, &shots(kind, &places)).unwrap()
        };
        let (probe, reference) = (group(ArrowKind::Bare, a), group(ArrowKind::Fletched, b));
        let own = |group: &Group| {
            let axis = AxisScatter {
                sd_mm: group.cov.sd_x_mm(),
                dof: f64::from(group.n) - 1.0,
            };
            KindScatter { x: axis, y: axis }
        };
        let scatter = PooledScatter {
            fletched: own(&reference),
            bare: own(&probe),
            ..PooledScatter::prior()
        };
        let exact = FaceAccuracy {
            sd_mm: 0.0,
            scale_sd: 0.0,
            turn_sd_rad: 0.0,
        };
        let x = Split::between(&probe, &reference, TWENTY_YARDS_M, &scatter, exact)
            .unwrap()
            .x();
        within(x.value_mm / x.sd_mm, t, 1e-12);
        within(x.dof, dof, 1e-10);
        within(x.p, p, 1e-9);
    }
}

#[test]
fn a_split_refuses_distances_and_planes_that_cannot_be() {
    let of = |kind| Group::of(kind, &shots(kind, &[(0.0, 0.0), (1.0, 1.0)])).unwrap();
    let (bare, fletched) = (of(ArrowKind::Bare), of(ArrowKind::Fletched));
    let prior = PooledScatter::prior();
    for distance_m in [0.0, 400.0, f64::NAN] {
        let made = Split::between(
            &bare,
            &fletched,
            distance_m,
            &prior,
            FaceAccuracy::default(),
        );
        assert!(matches!(made, Err(SplitError::Distance(_))));
    }
    let plane = FaceAccuracy {
        sd_mm: f64::NAN,
        scale_sd: 0.0,
        turn_sd_rad: 0.0,
    };
    assert_eq!(
        Split::between(&bare, &fletched, 18.0, &prior, plane),
        Err(SplitError::Plane)
    );
}

/// What a turn and a scale of the whole picture do to a difference, from their matrices: drawn and
/// compared, and neither cares where on the face both groups lie.
#[test]
fn a_turn_moves_a_split_across_itself_and_a_scale_along() {
    let (scale_sd, turn_sd_rad) = (0.01, 0.03);
    let made = |away_mm: f64| {
        let at = |kind, x: f64, y: f64| {
            let places = [(x - 1.0, y), (x + 1.0, y)];
            Group::of(kind, &shots(kind, &places)).unwrap()
        };
        let probe = at(ArrowKind::Bare, away_mm + 60.0, 20.0);
        let reference = at(ArrowKind::Fletched, away_mm, 0.0);
        let reading = FaceAccuracy {
            sd_mm: 0.0,
            scale_sd,
            turn_sd_rad,
        };
        let prior = PooledScatter::prior();
        Split::between(&probe, &reference, TWENTY_YARDS_M, &prior, reading).unwrap()
    };
    let mut random = StdRng::seed_from_u64(21);
    let normal = Normal::new(0.0, 1.0).unwrap();
    let (mut xx, mut xy, mut yy) = (0.0, 0.0, 0.0);
    let rounds = 100_000;
    for _ in 0..rounds {
        let mut draw = |sd: f64| sd * normal.sample(&mut random);
        let (sx, sy, turn) = (draw(scale_sd), draw(scale_sd), draw(turn_sd_rad));
        let (sin, cos) = turn.sin_cos();
        let (x, y) = (60.0 * (1.0 + sx), 20.0 * (1.0 + sy));
        let (dx, dy) = (x * cos - y * sin - 60.0, x * sin + y * cos - 20.0);
        (xx, xy, yy) = (xx + dx * dx, xy + dx * dy, yy + dy * dy);
    }
    let read = made(0.0).reading;
    for (got, sum) in [(read.xx_mm2, xx), (read.xy_mm2, xy), (read.yy_mm2, yy)] {
        within(got, sum / f64::from(rounds), 0.05 * got.abs());
    }
    assert_eq!(made(150.0).reading, read);
}

/// Shooters drawn from the prior (scaled inverse chi-square of 4 degrees of freedom): the stated
/// intervals of the split hold what they promise.
#[test]
fn split_intervals_cover() {
    let mut random = StdRng::seed_from_u64(20);
    let chi2 = ChiSquared::new(4.0).unwrap();
    let rounds = 4000;
    let (mut in80, mut in95) = (0, 0);
    for _ in 0..rounds {
        let sd = |scale: f64, random: &mut StdRng| scale * f64::sqrt(4.0 / chi2.sample(random));
        let (fletched_sd, bare_sd) = (
            sd(PRIOR_FLETCHED_SD_MM, &mut random),
            sd(1.5 * PRIOR_FLETCHED_SD_MM, &mut random),
        );
        let reference = random_shots(ArrowKind::Fletched, 3, (0.0, 0.0), fletched_sd, &mut random);
        let probe = random_shots(ArrowKind::Bare, 3, (30.0, 0.0), bare_sd, &mut random);
        let groups = [
            Group::of(ArrowKind::Bare, &probe).unwrap(),
            Group::of(ArrowKind::Fletched, &reference).unwrap(),
        ];
        let scatter = PooledScatter::pooled(groups.iter().map(|g| (g, TWENTY_YARDS_M)));
        let made = Split::between(
            &groups[0],
            &groups[1],
            TWENTY_YARDS_M,
            &scatter,
            FaceAccuracy {
                sd_mm: 0.0,
                scale_sd: 0.0,
                turn_sd_rad: 0.0,
            },
        )
        .unwrap();
        in80 += i32::from((made.x().low80_mm..made.x().high80_mm).contains(&30.0));
        in95 += i32::from((made.x().low95_mm..made.x().high95_mm).contains(&30.0));
    }
    let share = |n: i32| f64::from(n) / f64::from(rounds);
    within(share(in80), 0.80, 0.04);
    within(share(in95), 0.95, 0.03);
}

fn places() -> impl Strategy<Value = Vec<(f64, f64)>> {
    prop::collection::vec((-200.0..200.0, -200.0..200.0), 2..7)
}

proptest! {
    #[test]
    fn mirrored_shots_give_exactly_the_mirrored_split(a in places(), b in places()) {
        let mirror = |p: &[(f64, f64)]| -> Vec<(f64, f64)> { p.iter().map(|(x, y)| (-x, *y)).collect() };
        let one = split(&shots(ArrowKind::Bare, &a), &shots(ArrowKind::Fletched, &b)).unwrap();
        let other = split(&shots(ArrowKind::Bare, &mirror(&a)), &shots(ArrowKind::Fletched, &mirror(&b))).unwrap();
        prop_assert_eq!(one.offset.mirrored(), other.offset);
        prop_assert_eq!(one.x().low95_mm, -other.x().high95_mm);
        prop_assert_eq!(one.x().p, other.x().p);
        prop_assert_eq!(one.x().reality, other.x().reality);
    }

    #[test]
    fn moving_every_shot_moves_only_the_centre(a in places(), dx in -500.0..500.0_f64, dy in -500.0..500.0_f64) {
        let moved: Vec<(f64, f64)> = a.iter().map(|(x, y)| (x + dx, y + dy)).collect();
        let here = Group::of(ArrowKind::Bare, &shots(ArrowKind::Bare, &a)).unwrap();
        let there = Group::of(ArrowKind::Bare, &shots(ArrowKind::Bare, &moved)).unwrap();
        prop_assert!((there.centre.x_mm - here.centre.x_mm - dx).abs() < 1e-9);
        prop_assert!((there.cov.xx_mm2 - here.cov.xx_mm2).abs() < 1e-6);
        prop_assert!((there.cov.xy_mm2 - here.cov.xy_mm2).abs() < 1e-6);
    }

    #[test]
    fn the_order_of_arrows_changes_nothing(a in places()) {
        let mut turned = a.clone();
        turned.reverse();
        let here = Group::of(ArrowKind::Bare, &shots(ArrowKind::Bare, &a)).unwrap();
        let there = Group::of(ArrowKind::Bare, &shots(ArrowKind::Bare, &turned)).unwrap();
        prop_assert!((there.centre - here.centre).norm_mm() < 1e-9);
        prop_assert!((there.cov.yy_mm2 - here.cov.yy_mm2).abs() < 1e-6);
    }
}
