//! Two-sample tests, critical values and constants against worked examples and tables.

#![allow(clippy::unwrap_used)] // a test stops at the first thing that is not there

use shimwright::frame::{Cov2, PointMm};
use shimwright::stats::{self, Summary};

fn relative(actual: f64, expected: f64) -> f64 {
    ((actual - expected) / expected).abs()
}

fn within(actual: f64, expected: f64, tolerance: f64) {
    assert!(
        (actual - expected).abs() <= tolerance,
        "{actual} is not {expected} within {tolerance}"
    );
}

/// Student, chi-square and F critical values, computed with SciPy 1.x `ppf`; the three-decimal
/// Student entries agree with the NIST/SEMATECH e-Handbook table 1.3.6.7.2.
#[test]
fn critical_values() {
    for (p, nu, value) in [
        (0.975, 1.0, 12.706_205),
        (0.975, 2.0, 4.302_653),
        (0.975, 3.0, 3.182_446),
        (0.975, 4.0, 2.776_445),
        (0.975, 5.0, 2.570_582),
        (0.975, 6.0, 2.446_912),
        (0.975, 7.0, 2.364_624),
        (0.975, 8.0, 2.306_004),
        (0.975, 9.0, 2.262_157),
        (0.975, 10.0, 2.228_139),
        (0.975, 12.0, 2.178_813),
        (0.975, 15.0, 2.131_450),
        (0.975, 20.0, 2.085_963),
        (0.975, 30.0, 2.042_272),
        (0.975, 60.0, 2.000_298),
        (0.95, 1.0, 6.313_752),
        (0.95, 2.0, 2.919_986),
        (0.95, 3.0, 2.353_363),
        (0.95, 4.0, 2.131_847),
        (0.95, 5.0, 2.015_048),
        (0.95, 10.0, 1.812_461),
        (0.995, 1.0, 63.656_741),
        (0.995, 2.0, 9.924_843),
        (0.995, 5.0, 4.032_143),
        (0.995, 10.0, 3.169_273),
        (0.995, 20.0, 2.845_340),
    ] {
        within(stats::t_quantile(p, nu), value, 1e-6);
        within(stats::t_cdf(value, nu), p, 1e-7);
    }
    for (p, nu, value) in [
        (0.95, 1.0, 3.841_459),
        (0.95, 2.0, 5.991_465),
        (0.95, 3.0, 7.814_728),
        (0.95, 4.0, 9.487_729),
        (0.95, 5.0, 11.070_498),
        (0.95, 10.0, 18.307_038),
        (0.95, 20.0, 31.410_433),
        (0.05, 2.0, 0.102_587),
        (0.05, 4.0, 0.710_723),
        (0.05, 10.0, 3.940_299),
    ] {
        within(stats::chi2_quantile(p, nu), value, 1e-6);
    }
    for (p, nu1, nu2, value) in [
        (0.95, 1.0, 4.0, 7.708_65),
        (0.95, 1.0, 10.0, 4.964_60),
        (0.95, 2.0, 3.0, 9.552_09),
        (0.95, 2.0, 4.0, 6.944_27),
        (0.95, 2.0, 5.0, 5.786_14),
        (0.95, 2.0, 7.0, 4.737_41),
        (0.95, 2.0, 10.0, 4.102_82),
        (0.95, 2.0, 12.0, 3.885_29),
        (0.95, 2.0, 20.0, 3.492_83),
        (0.95, 2.0, 30.0, 3.315_83),
        (0.95, 2.0, 97.0, 3.090_19),
        (0.95, 3.0, 10.0, 3.708_26),
        (0.95, 4.0, 10.0, 3.478_05),
        (0.99, 2.0, 4.0, 18.000_00),
        (0.99, 2.0, 10.0, 7.559_43),
        (0.99, 2.0, 20.0, 5.848_93),
    ] {
        within(stats::f_quantile(p, nu1, nu2), value, 1e-5);
        within(stats::f_upper_p(value, nu1, nu2), 1.0 - p, 1e-6);
    }
}

/// Distribution helpers answer nonsense with a number, never a panic.
#[test]
fn distributions_survive_foreign_numbers() {
    for bad in [f64::NAN, f64::INFINITY, -1.0, 0.0, 2.0] {
        let _ = stats::t_quantile(bad, bad);
        let _ = stats::chi2_quantile(bad, bad);
        let _ = stats::f_quantile(bad, bad, bad);
        let _ = stats::f_upper_p(bad, bad, bad);
        let _ = stats::t_two_sided_p(bad, bad);
        let _ = stats::grubbs_critical(3, bad);
    }
    assert!(stats::grubbs_critical(2, 0.05).is_infinite());
}

fn summary(values: &[f64]) -> Summary {
    Summary::of(values).unwrap()
}

fn welch_is(a: Summary, b: Summary, t: f64, dof: f64, p: f64) {
    let test = stats::welch(a, b).unwrap();
    assert!(relative(test.t, t) < 1e-12, "t {}", test.t);
    assert!(relative(test.dof, dof) < 1e-12, "dof {}", test.dof);
    assert!(relative(test.p, p) < 1e-9, "p {}", test.p);
}

/// Welch's test: values that R 3.4.0 `t.test` gives, as recorded in the unit tests of Apache
/// Commons Statistics (`TTestTest`).
#[test]
fn welch_examples() {
    welch_is(
        summary(&[7.0, -4.0, 18.0, 17.0, -3.0, -5.0, 1.0, 10.0, 11.0, -2.0]),
        summary(&[
            -1.0, 12.0, -1.0, -3.0, 3.0, -5.0, 5.0, 2.0, -11.0, -1.0, -3.0,
        ]),
        1.603_717_287_675_514_8,
        15.590_512_968_733_776,
        0.128_839_369_621_933_96,
    );
    welch_is(
        summary(&[2.0, 4.0, 6.0, 8.0, 10.0, 97.0]),
        summary(&[4.0, 6.0, 8.0, 10.0, 16.0]),
        0.805_682_606_104_052_7,
        5.182_766_750_205_960_2,
        0.455_786_526_135_504_9,
    );
    welch_is(
        summary(&[1.0, 3.0]),
        summary(&[4.0, 5.0]),
        -2.236_067_977_499_79,
        1.470_588_235_294_12,
        0.198_727_388_934_526,
    );
    let stated = |n, mean, variance| Summary { n, mean, variance };
    welch_is(
        stated(13, 15.0, 87.5),
        stated(11, 12.0, 39.0),
        0.935_846_193_555_604_8,
        20.984_611_233_429_924,
        0.359_998_186_932_442_45,
    );
    assert!(stats::welch(stated(1, 0.0, 0.0), stated(5, 1.0, 1.0)).is_none());
    assert!(stats::welch(stated(3, 0.0, 0.0), stated(3, 1.0, 0.0)).is_none());
}

fn cov(xx: f64, xy: f64, yy: f64) -> Cov2 {
    Cov2 {
        xx_mm2: xx,
        xy_mm2: xy,
        yy_mm2: yy,
    }
}

/// Johnson & Wichern, Applied Multivariate Statistical Analysis, examples 6.3 and 6.4 (inputs from
/// memory; the book prints 15.66 for the unequal form of 6.4).
#[test]
fn hotelling_textbook() {
    let test = stats::hotelling_pooled(
        PointMm::new(8.3 - 10.2, 4.1 - 3.9),
        (cov(2.0, 1.0, 6.0), 50),
        (cov(2.0, 1.0, 4.0), 50),
    )
    .unwrap();
    within(test.t2, 52.472_222, 1e-6);
    within(test.f, 25.968_396, 1e-6);
    within(test.p, 9.286e-10, 1e-13);
    let d = PointMm::new(204.4 - 130.0, 556.6 - 355.0);
    let a = (cov(13_825.3, 23_823.4, 73_107.4), 45);
    let b = (cov(8_632.0, 19_616.7, 55_964.5), 55);
    within(
        stats::hotelling_pooled(d, a, b).unwrap().t2,
        16.066_219,
        1e-6,
    );
    within(
        stats::hotelling_unequal(d, a, b).unwrap().t2,
        15.658_529,
        1e-6,
    );
}

const X: [(f64, f64); 12] = [
    (24.0, 23.5),
    (25.0, 24.5),
    (21.0, 20.5),
    (22.0, 20.5),
    (23.0, 22.5),
    (18.0, 16.5),
    (17.0, 16.5),
    (28.0, 27.5),
    (24.0, 23.5),
    (27.0, 25.5),
    (21.0, 20.5),
    (23.0, 22.5),
];
const Y: [(f64, f64); 12] = [
    (20.0, 19.0),
    (23.0, 22.0),
    (21.0, 20.0),
    (25.0, 24.0),
    (18.0, 17.0),
    (17.0, 16.0),
    (18.0, 17.0),
    (24.0, 23.0),
    (20.0, 19.0),
    (24.0, 22.0),
    (23.0, 22.0),
    (19.0, 18.0),
];

fn moments(data: &[(f64, f64)]) -> (PointMm, Cov2, usize) {
    let (x, y): (Vec<f64>, Vec<f64>) = data.iter().copied().unzip();
    let mean = PointMm::new(stats::mean(&x).unwrap(), stats::mean(&y).unwrap());
    let c = cov(
        stats::covariance(&x, &x),
        stats::covariance(&x, &y),
        stats::covariance(&y, &y),
    );
    (mean, c, data.len())
}

/// Stata's `hotelling` and `mvtest` on the mileage data, as recorded in statsmodels
/// `test_multivariate`; the two-sample forms were computed with NumPy.
#[test]
fn hotelling_mileage() {
    let differences: Vec<(f64, f64)> = X
        .iter()
        .zip(Y)
        .map(|(a, b)| (a.0 - b.0, a.1 - b.1))
        .collect();
    let (mean, c, n) = moments(&differences);
    let paired = stats::vector_test(mean, c.scaled(1.0 / n as f64), 11.0).unwrap();
    assert!(relative(paired.t2, 9.698_067_632_850_25) < 1e-10);
    assert!(relative(paired.f, 4.408_212_560_386_478) < 1e-10);
    assert!(relative(paired.p, 0.042_394_978_293_723_1) < 1e-9);
    let (mean, c, n) = moments(&[X, Y].concat());
    let one = stats::vector_test(
        mean - PointMm::new(21.0, 21.0),
        c.scaled(1.0 / n as f64),
        23.0,
    )
    .unwrap();
    assert!(relative(one.t2, 125.279_109_589_041_5) < 1e-10);
    assert!(relative(one.f, 59.916_095_890_411_16) < 1e-10);
    assert!(relative(one.p, 1.250_623_348_08e-9) < 1e-6);
    let ((mx, cx, nx), (my, cy, ny)) = (moments(&X), moments(&Y));
    let pooled = stats::hotelling_pooled(mx - my, (cx, nx), (cy, ny)).unwrap();
    assert!(relative(pooled.t2, 7.134_758_395_3) < 1e-10);
    assert!(relative(pooled.f, 3.405_225_597_76) < 1e-10);
    assert!(relative(pooled.p, 0.052_374_299_6) < 1e-8);
    let unequal = stats::hotelling_unequal(mx - my, (cx, nx), (cy, ny)).unwrap();
    assert!(relative(unequal.t2, 7.134_758_395_3) < 1e-10);
    within(unequal.dof, 19.755_282, 1e-6);
    within(unequal.f, 3.386_801, 1e-6);
    within(unequal.p, 0.055_495, 1e-6);
    assert!(stats::hotelling_unequal(mx, (Cov2::default(), 3), (Cov2::default(), 3)).is_none());
}

/// c4, the small-sample bias of a standard deviation (control-chart constant tabulated in ASTM
/// E2587; values computed with SciPy).
#[test]
fn c4_constants() {
    for (n, value) in [
        (2, 0.797_884_6),
        (3, 0.886_226_9),
        (4, 0.921_317_7),
        (5, 0.939_985_6),
        (6, 0.951_532_9),
        (7, 0.959_368_8),
        (8, 0.965_030_5),
        (9, 0.969_310_7),
        (10, 0.972_659_3),
        (11, 0.975_350_1),
        (19, 0.986_214_1),
    ] {
        within(stats::c4(n), value, 6e-8);
    }
    assert!(stats::c4(1).abs() < f64::EPSILON);
}

/// Grubbs' two-sided critical values at 5 %: Grubbs & Beck, Technometrics 14 (1972), table 1
/// (its 2.5 % one-sided column; from memory, three decimals).
#[test]
fn grubbs_table() {
    for (n, value) in [
        (3, 1.154),
        (4, 1.481),
        (5, 1.715),
        (6, 1.887),
        (8, 2.127),
        (10, 2.290),
        (20, 2.709),
    ] {
        within(stats::grubbs_critical(n, 0.05), value, 1.1e-3);
    }
}
