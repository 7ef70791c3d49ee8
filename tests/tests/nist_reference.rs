//! Summaries and least squares against NIST Statistical Reference Datasets and textbook posteriors.
//!
//! `tests/data/nist_strd.json` holds data and certified values as published by the NIST
//! Information Technology Laboratory.

use serde::Deserialize;
use shimwright::stats;
use std::collections::HashMap;

#[derive(Deserialize)]
struct Univariate {
    mean: f64,
    sd: f64,
    data: Option<Vec<f64>>,
}

fn json(name: &str) -> serde_json::Value {
    let path = format!("{}/data/nist_strd.json", env!("CARGO_MANIFEST_DIR"));
    let all: HashMap<String, serde_json::Value> =
        serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap();
    all[name].clone()
}

fn relative(actual: f64, expected: f64) -> f64 {
    ((actual - expected) / expected).abs()
}

fn within(actual: f64, expected: f64, tolerance: f64) {
    assert!(
        (actual - expected).abs() <= tolerance,
        "{actual} is not {expected} within {tolerance}"
    );
}

/// First value, then 500 times the other two: how NIST writes `NumAcc2` to `NumAcc4`.
fn alternating(first: f64, low: f64, high: f64) -> Vec<f64> {
    let mut data = vec![first];
    (0..500).for_each(|_| data.extend([low, high]));
    data
}

/// NIST `StRD`, univariate summary statistics. The doubles that hold `NumAcc3` and `NumAcc4` cannot
/// carry more digits of the deviation than the tolerances say (their inputs are already rounded).
#[test]
fn nist_univariate() {
    for (name, construct, tolerance) in [
        ("NumAcc1", None, 1e-14),
        ("NumAcc2", Some((1.2, 1.1, 1.3)), 1e-13),
        (
            "NumAcc3",
            Some((1_000_000.2, 1_000_000.1, 1_000_000.3)),
            1e-9,
        ),
        (
            "NumAcc4",
            Some((10_000_000.2, 10_000_000.1, 10_000_000.3)),
            1e-8,
        ),
        ("Michelso", None, 1e-12),
    ] {
        let certified: Univariate = serde_json::from_value(json(name)).unwrap();
        let data = match construct {
            Some((first, low, high)) => alternating(first, low, high),
            None => certified.data.unwrap(),
        };
        let mean = stats::mean(&data).unwrap();
        let sd = stats::covariance(&data, &data).sqrt();
        assert!(relative(mean, certified.mean) < 1e-15, "{name} mean");
        assert!(relative(sd, certified.sd) < tolerance, "{name} sd {sd}");
    }
}

/// NIST `StRD` Norris: straight line with intercept.
#[test]
fn nist_norris() {
    let set = json("Norris");
    let numbers = |key: &str| -> Vec<f64> { serde_json::from_value(set[key].clone()).unwrap() };
    let rows: Vec<Vec<f64>> = numbers("x").iter().map(|x| vec![1.0, *x]).collect();
    let fit = stats::least_squares(&rows, &numbers("y")).unwrap();
    assert!(relative(fit.coefficients[0], -0.262_323_073_774_029) < 1e-11);
    assert!(relative(fit.coefficients[1], 1.002_116_818_020_45) < 1e-13);
    assert!(relative(fit.errors[0], 0.232_818_234_301_152) < 1e-12);
    assert!(relative(fit.errors[1], 0.429_796_848_199_937e-3) < 1e-12);
    assert!(relative(fit.residual_sd, 0.884_796_396_144_373) < 1e-12);
    assert_eq!(fit.dof, 34);
}

/// NIST `StRD` `NoInt1` and `NoInt2`: line through the origin.
#[test]
fn nist_no_intercept() {
    let rows: Vec<Vec<f64>> = (60..=70).map(|x| vec![f64::from(x)]).collect();
    let y: Vec<f64> = (130..=140).map(f64::from).collect();
    let fit = stats::least_squares(&rows, &y).unwrap();
    assert!(relative(fit.coefficients[0], 2.074_380_165_289_26) < 1e-14);
    assert!(relative(fit.errors[0], 0.016_528_925_619_834_8) < 1e-11);
    assert!(relative(fit.residual_sd, 3.567_530_340_063_38) < 1e-13);
    assert!(relative(fit.residual_squares, 127.272_727_272_727) < 1e-13);
    let fit = stats::least_squares(&[vec![4.0], vec![5.0], vec![6.0]], &[3.0, 4.0, 4.0]).unwrap();
    assert!(relative(fit.coefficients[0], 8.0 / 11.0) < 1e-14);
    assert!(relative(fit.errors[0], 0.042_082_731_807_843_2) < 1e-13);
    assert!(relative(fit.residual_sd, 0.369_274_472_937_998) < 1e-13);
}

/// NIST `StRD` Longley: six collinear regressors (condition about 5e9), which cost up to 9 of the
/// 16 digits of a double.
#[test]
fn nist_longley() {
    let set = json("Longley");
    let data: Vec<Vec<f64>> = serde_json::from_value(set["data"].clone()).unwrap();
    let y: Vec<f64> = data.iter().map(|row| row[0]).collect();
    let rows: Vec<Vec<f64>> = data
        .iter()
        .map(|row| [&[1.0], &row[1..]].concat())
        .collect();
    let fit = stats::least_squares(&rows, &y).unwrap();
    let certified = [
        (-3_482_258.634_595_82, 890_420.383_607_373),
        (15.061_872_271_373_3, 84.914_925_774_766_9),
        (-0.358_191_792_925_910e-1, 0.334_910_077_722_432e-1),
        (-2.020_229_803_816_83, 0.488_399_681_651_699),
        (-1.033_226_867_173_59, 0.214_274_163_161_675),
        (-0.511_041_056_535_807e-1, 0.226_073_200_069_370),
        (1_829.151_464_613_55, 455.478_499_142_212),
    ];
    for (i, (value, error)) in certified.into_iter().enumerate() {
        assert!(
            relative(fit.coefficients[i], value) < 1e-8,
            "b{i} {}",
            fit.coefficients[i]
        );
        assert!(
            relative(fit.errors[i], error) < 1e-8,
            "se{i} {}",
            fit.errors[i]
        );
    }
    assert!(relative(fit.residual_sd, 304.854_073_561_965) < 1e-9);
}

#[test]
fn least_squares_refuses_what_has_no_answer() {
    assert!(stats::least_squares(&[], &[]).is_none());
    assert!(stats::least_squares(&[vec![1.0, 2.0]], &[1.0]).is_none());
    assert!(stats::least_squares(&[vec![1.0], vec![1.0, 2.0]], &[1.0, 2.0]).is_none());
    assert!(stats::least_squares(&[vec![f64::NAN], vec![1.0]], &[1.0, 2.0]).is_none());
    let twins = vec![vec![1.0, 2.0], vec![2.0, 4.0], vec![3.0, 6.0]];
    assert!(stats::least_squares(&twins, &[1.0, 2.0, 3.0]).is_none());
}

/// Bishop, Pattern Recognition and Machine Learning (2006), equations 3.50 and 3.51: a Gaussian
/// prior is so many more rows of a least-squares problem. alpha = 2, beta = 25; the answers are
/// exact fractions.
#[test]
fn bishop_posterior_as_least_squares() {
    let (alpha, beta) = (2.0_f64.sqrt(), 5.0);
    let mut rows: Vec<Vec<f64>> = [-1.0, -0.5, 0.0, 0.5, 1.0]
        .iter()
        .map(|x| vec![beta, beta * x])
        .collect();
    rows.extend([vec![alpha, 0.0], vec![0.0, alpha]]);
    let mut y: Vec<f64> = [-0.8, -0.5, -0.35, -0.1, 0.25]
        .iter()
        .map(|t| beta * t)
        .collect();
    y.extend([0.0, 0.0]);
    let fit = stats::least_squares(&rows, &y).unwrap();
    within(fit.coefficients[0], -75.0 / 254.0, 1e-14);
    within(fit.coefficients[1], 125.0 / 258.0, 1e-14);
    within(fit.unscaled[0], 1.0 / 127.0, 1e-15);
    within(fit.unscaled[1], 0.0, 1e-15);
    within(fit.unscaled[3], 1.0 / 64.5, 1e-15);
    let predicted = 1.0 / 25.0 + fit.unscaled[0] + 4.0 * fit.unscaled[3];
    within(predicted, 0.109_889_519_624_000_5, 1e-14);
}

/// Murphy, Machine Learning (2012), 7.6.3 (normal-inverse-gamma update), on NIST's `NoInt1` with
/// prior mean 2, V0 = 1, a0 = 2, b0 = 10; the answers are exact fractions.
#[test]
fn murphy_posterior_as_least_squares() {
    let mut rows: Vec<Vec<f64>> = (60..=70).map(|x| vec![f64::from(x)]).collect();
    let mut y: Vec<f64> = (130..=140).map(f64::from).collect();
    rows.push(vec![1.0]);
    y.push(2.0);
    let fit = stats::least_squares(&rows, &y).unwrap();
    within(fit.coefficients[0], 96_637.0 / 46_586.0, 1e-14);
    within(1.0 / fit.unscaled[0], 46_586.0, 1e-8);
    let (shape, scale) = (2.0 + 11.0 / 2.0, 10.0 + fit.residual_squares / 2.0);
    within(scale, 6_861_105.0 / 93_172.0, 1e-10);
    within(scale / (shape - 1.0), 11.329_096_889_458_372, 1e-10);
    within(
        (scale / shape * fit.unscaled[0]).sqrt(),
        0.014_517_638_600_676_28,
        1e-13,
    );
}
