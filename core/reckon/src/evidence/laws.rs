//! Laws and textbook values of the posterior, where the noise is known.

use super::design::{Aside, Design, Row, Setting};
use super::family::ResponsePrior;
use super::grid::ResponseGrid;
use super::linear::{Factored, dot};
use super::parabola::Parabola;
use super::posterior::{Datum, Posterior};
use super::priors::{FAULT_SD_MM, REST_SD};
use super::{Mixture, Probe, Remembered};
use crate::flight::TransferTable;

const OFFSETS_MM: [f64; 5] = [-1.3, -0.6, 0.0, 0.7, 1.3];
const NOISE_MM2: f64 = 90.0;

fn design() -> Design<'static> {
    Design {
        epochs: 1,
        shooters: 0,
        aside: Aside::default(),
        target_m: 18.288,
        transfer: TransferTable::unrecorded(),
        knob_sd: REST_SD,
    }
}

fn bare() -> Setting {
    Setting {
        probe: Probe::Bare,
        distance_m: 18.288,
        epoch: 0,
        shooter: None,
        knob_mm: 0.0,
        size_mm: 0.0,
    }
}

fn datum(offset_mm: f64, value_mm: f64) -> Datum {
    let row = design().row(&bare());
    Datum {
        shift: row.gain * offset_mm,
        row,
        value_mm,
        var_mm2: NOISE_MM2,
    }
}

fn posterior(data: &[Datum]) -> Posterior<'static> {
    let prior = ResponsePrior::of_the_trade();
    Posterior::new(design(), data, &prior, &[])
}

fn predicted(data: &[Datum], offset_mm: f64) -> Mixture {
    let posterior = posterior(data);
    let predictive = posterior.predictive_of(&posterior.design.row(&bare()), 0.0);
    posterior.mixture(&predictive, offset_mm)
}

fn width(mixture: &Mixture, tail: f64) -> f64 {
    let (low, high) = mixture.interval(tail);
    high - low
}

/// With known scatter, one more trial that lands where it was predicted (the median of what was
/// predicted) never widens the interval at its own offset.
#[test]
fn a_trial_that_lands_where_predicted_never_widens_its_interval() {
    for seed in 0..40 {
        let spin = |k: f64| (f64::from(seed) * 1.7 + k).sin();
        let mut data: Vec<Datum> = (0..seed % 5)
            .map(|k| datum(1.3 * spin(f64::from(k)), 70.0 * spin(9.0 + f64::from(k))))
            .collect();
        for offset_mm in OFFSETS_MM {
            let before = predicted(&data, offset_mm);
            let median = before.interval(0.5).1;
            data.push(datum(offset_mm, median));
            let after = predicted(&data, offset_mm);
            data.pop();
            for tail in [0.10, 0.025] {
                assert!(
                    width(&after, tail) <= width(&before, tail) + 1e-6,
                    "{seed} {offset_mm} {tail}"
                );
            }
        }
    }
}

/// Two before/after pairs of exact arithmetic: a bow that answers the other way is found out.
#[test]
fn a_wrong_way_bow_is_noticed_after_one_swap() {
    let right = posterior(&[datum(0.7, 60.0), datum(-0.7, 0.0)]);
    let wrong = posterior(&[datum(0.7, 60.0), datum(-0.7, 120.0)]);
    assert!(right.response.wrong_way() < 0.01);
    assert!(
        wrong.response.wrong_way() > 0.9,
        "{}",
        wrong.response.wrong_way()
    );
}

/// Bishop, Pattern Recognition and Machine Learning (2006), 3.50-3.51, prior precision 2, noise
/// precision 25, t = w0 + w1 x; values computed in exact fractions.
#[test]
fn linear_regression_matches_bishop() {
    let (x, t) = ([-1.0, -0.5, 0.0, 0.5, 1.0], [-0.8, -0.5, -0.35, -0.1, 0.25]);
    let (mut matrix, mut moment) = ([2.0, 0.0, 0.0, 2.0], [0.0, 0.0]);
    for (x, t) in x.iter().zip(t) {
        let row = [1.0, *x];
        for i in 0..2 {
            moment[i] += 25.0 * row[i] * t;
            (0..2).for_each(|j| matrix[2 * i + j] += 25.0 * row[i] * row[j]);
        }
    }
    let factored = Factored::new(2, &matrix);
    let information = factored.half_solve(&moment);
    let mean = |row: &[f64]| dot(&factored.half_solve(row), &information);
    assert!((mean(&[1.0, 0.0]) + 75.0 / 254.0).abs() < 1e-14);
    assert!((mean(&[0.0, 1.0]) - 125.0 / 258.0).abs() < 1e-14);
    let half = factored.half_solve(&[1.0, 2.0]);
    assert!((dot(&half, &half) + 1.0 / 25.0 - 0.109_889_519_624_000_5).abs() < 1e-14);
}

/// A response of nothing but prior and one Gaussian: moments against a fine trapezoid in the
/// response itself, laid without the adaptive grid.
#[test]
fn the_adaptive_grid_agrees_with_a_plain_fine_one() {
    for data in [
        [datum(0.7, 60.0), datum(-0.3, 20.0)],
        [datum(0.7, 30.0), datum(-0.3, 26.0)],
        [datum(0.7, 26.0), datum(-0.3, 30.0)],
    ] {
        let response = posterior(&data).response;
        let (plain_mean, plain_wrong_way) = plain_response(&data);
        let (mean, sd) = (response.mean(), response.sd());
        assert!((mean - plain_mean).abs() < 1e-4 * sd, "{mean} {plain_mean}");
        let wrong_way = response.wrong_way();
        assert!(
            (wrong_way - plain_wrong_way).abs() < 1e-4,
            "{wrong_way} {plain_wrong_way}"
        );
    }
}

/// Mean response and chance of the wrong way, with the fault integrated out by the bivariate normal
/// density of both splits.
fn plain_response(data: &[Datum; 2]) -> (f64, f64) {
    use super::priors::{
        RESPONSE_LOG_SD, RESPONSE_MEDIAN, RESPONSE_RIGHT_WAY, RESPONSE_TAIL_LOG_SD,
        RESPONSE_TAIL_SHARE,
    };
    let common = FAULT_SD_MM.powi(2);
    let own = common + NOISE_MM2;
    let determinant = own * own - common * common;
    let log_normal = |u: f64, sd: f64| (-0.5 * (u / sd).powi(2)).exp() / sd;
    let density = |g: f64| {
        let u = (g.abs() / RESPONSE_MEDIAN).ln();
        let share = if g > 0.0 {
            RESPONSE_RIGHT_WAY
        } else {
            1.0 - RESPONSE_RIGHT_WAY
        };
        let body = (1.0 - RESPONSE_TAIL_SHARE) * log_normal(u, RESPONSE_LOG_SD);
        let tail = RESPONSE_TAIL_SHARE * log_normal(u, RESPONSE_TAIL_LOG_SD);
        let r = [0, 1].map(|k| data[k].value_mm - g * data[k].shift);
        let size = (own * (r[0] * r[0] + r[1] * r[1]) - 2.0 * common * r[0] * r[1]) / determinant;
        share * (body + tail) / g.abs() * (-0.5 * size).exp()
    };
    let grid = (0..800_000).map(|k| -400.0 + 0.001 * (f64::from(k) + 0.5));
    let (mut total, mut first, mut below) = (0.0, 0.0, 0.0);
    for g in grid {
        let here = density(g);
        total += here;
        first += g * here;
        below += if g < 0.0 { here } else { 0.0 };
    }
    (first / total, below / total)
}

/// A row is what its drawing says: nothing but the fault speaks for bare shafts at 20 yd.
#[test]
fn a_bare_shaft_at_20_yd_measures_the_fault_itself() {
    let Row { columns, gain } = design().row(&bare());
    assert!((gain - 1.0).abs() < 0.02, "{gain}");
    assert!(columns[1].abs() < 0.02, "{columns:?}");
}

/// A remembered swap that was surely so, or a relative that surely answers so, pulls the response
/// there; one that is unsure leaves the prior as it was.
#[test]
fn relatives_and_remembered_swaps_teach_as_much_as_they_are_sure() {
    let seen = |mm_per_mm: f64, sd: f64| Parabola {
        linear: mm_per_mm / (sd * sd),
        curvature: 1.0 / (sd * sd),
    };
    let trade = ResponsePrior::of_the_trade();
    let of = |prior: &ResponsePrior, before: &[Parabola]| {
        Posterior::new(design(), &[], prior, before).response
    };
    let usual = of(&trade, &[]);
    let sure = of(&trade, &[seen(20.0, 2.0)]);
    // Right-way bows are nine to one, and sides four in five as told: 36 to 1.
    assert!((sure.wrong_way() - 1.0 / 37.0).abs() < 1e-3);
    let right = sure
        .values
        .iter()
        .zip(&sure.weights)
        .filter(|one| *one.0 > 0.0);
    let (sum, weight) = right.fold((0.0, 0.0), |held, (value, w)| {
        (held.0 + w * value, held.1 + w)
    });
    assert!((sum / weight - 20.0).abs() < 1.0, "{}", sum / weight);
    // One memory of the other way does not outweigh the trade: 9 in 10, turned by 4 to 1.
    let other = of(&trade, &[seen(-20.0, 2.0)]).wrong_way();
    assert!((other - 4.0 / 13.0).abs() < 1e-3, "{other}");
    let vague = of(&trade, &[seen(20.0, 5e3)]);
    assert!((vague.mean() - usual.mean()).abs() < 0.01 * usual.sd());
    let three = vec![seen(20.0, 2.0), seen(22.0, 2.0), seen(18.0, 2.0)];
    let family = of(&ResponsePrior::of_family(&three), &[]);
    assert!(family.mean() < usual.mean() && family.wrong_way() < usual.wrong_way());
    let wrong = vec![seen(-20.0, 2.0); 3];
    let turned = of(&ResponsePrior::of_family(&wrong), &[]);
    // Beta(9, 1) after three wrong-way bows: (1 + 3) / (9 + 1 + 3) of the next ones.
    assert!(
        (turned.wrong_way() - 4.0 / 13.0).abs() < 0.01,
        "{}",
        turned.wrong_way()
    );
    // The first prediction narrows from a factor of nearly 3 (the wide tail in it) to below 2.2 (68 %, right-way side).
    let factor = |grid: &ResponseGrid| {
        let right = grid.values.iter().zip(&grid.weights);
        let right: Vec<(f64, f64)> = right
            .filter(|(value, _)| **value > 0.0)
            .map(|(value, weight)| (value.ln(), *weight))
            .collect();
        let total: f64 = right.iter().map(|(_, weight)| weight).sum();
        let at = |share: f64| {
            let mut held = 0.0;
            let found = right.iter().find(|(_, weight)| {
                held += weight;
                held >= share * total
            });
            found.map_or(f64::NAN, |(log, _)| *log)
        };
        (0.5 * (at(0.84) - at(0.16))).exp()
    };
    let (unknown, known) = (factor(&usual), factor(&family));
    assert!((2.0..3.0).contains(&unknown), "{unknown}");
    assert!(known < 2.2, "{known}");
}

/// Of two splits with the bow as it stands each is held against the normal that the other leaves (Bishop
/// 2006, 2.141-2.142; from memory); one alone is held against nothing, however large it is.
#[test]
fn a_split_is_checked_by_the_others_and_never_by_the_prior_alone() {
    let (far, near) = (datum(0.0, 400.0), datum(0.0, 0.0));
    let alone = posterior(std::slice::from_ref(&far));
    assert!(alone.leave_one_out_residual(&far).abs() < 1e-12);
    let both = posterior(&[far.clone(), near]);
    let left_mm2 = 1.0 / (1.0 / FAULT_SD_MM.powi(2) + 1.0 / NOISE_MM2);
    let expected = 400.0 / (left_mm2 + NOISE_MM2).sqrt();
    let found = both.leave_one_out_residual(&far);
    assert!((found / expected - 1.0).abs() < 1e-3, "{found} {expected}");
}

/// Wherever the answer lies between the points of the first, coarse grid.
#[test]
fn an_answer_shown_beyond_doubt_is_believed() {
    let trade = ResponsePrior::of_the_trade();
    for step in 0..40 {
        let size = 2.0 * 1.15_f64.powi(step);
        for mm_per_mm in [size, -size] {
            let sd = 1e-3 * size;
            let shown = Parabola {
                linear: mm_per_mm / (sd * sd),
                curvature: 1.0 / (sd * sd),
            };
            let believed = ResponseGrid::new(&trade, shown, &[]);
            let off = (believed.mean() - mm_per_mm).abs() / sd;
            assert!(off < 0.1, "{mm_per_mm} {}", believed.mean());
            assert!((believed.sd() / sd - 1.0).abs() < 0.01, "{mm_per_mm}");
        }
    }
}

/// At the distance that matters a remembered swap is as sure as whoever remembers it; carried over a
/// doubling of the distance, the flight model's quarter comes on top.
#[test]
fn a_remembered_swap_is_less_sure_at_another_distance() {
    let swap = Remembered {
        shift_mm: 0.8,
        moved_mm: 60.0,
        sd_mm: 8.0,
        distance_m: 18.288,
    };
    let said = |target_m| {
        let shown = swap.shown(target_m, TransferTable::unrecorded());
        let mm_per_mm = shown.linear / shown.curvature;
        (mm_per_mm, 1.0 / (shown.curvature.sqrt() * mm_per_mm))
    };
    let (here, doubled) = (said(18.288), said(9.144));
    assert!((here.0 / 75.0 - 1.0).abs() < 0.02, "{here:?}");
    assert!((here.1 - 8.0 / 60.0).abs() < 1e-12, "{here:?}");
    let expected = (8.0_f64 / 60.0).hypot(0.25);
    assert!((doubled.1 - expected).abs() < 1e-12, "{doubled:?}");
}

/// What is not known of the arrow counts there too, and it is not nothing at 40 m.
#[test]
fn a_split_at_the_distance_that_matters_is_carried_without_error() {
    let far = Design {
        target_m: 40.0,
        ..design()
    };
    let error_mm = |distance_m| {
        let at = Setting {
            distance_m,
            size_mm: 100.0,
            ..bare()
        };
        far.row(&at).columns[far.knob() + 1].abs()
    };
    assert!(error_mm(40.0) < 1e-12, "{}", error_mm(40.0));
    assert!((error_mm(20.0) - 25.0).abs() < 1e-9, "{}", error_mm(20.0));
}
