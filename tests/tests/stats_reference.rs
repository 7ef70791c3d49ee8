//! Two-sample tests, critical values and constants against worked examples and tables.

use shimwright::stats;

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
        within(0.5 * stats::t_two_sided_p(value, nu), 1.0 - p, 1e-7);
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
        within(stats::f_upper_p(value, nu1, nu2), 1.0 - p, 1e-6);
    }
}

/// Distribution helpers answer nonsense with a number, never a panic.
#[test]
fn distributions_survive_foreign_numbers() {
    for bad in [f64::NAN, f64::INFINITY, -1.0, 0.0, 2.0] {
        let _ = stats::t_quantile(bad, bad);
        let _ = stats::f_upper_p(bad, bad, bad);
        let _ = stats::t_two_sided_p(bad, bad);
    }
}
