//! Laws of the verdict, as properties over random cases.

use proptest::prelude::*;
use shimwright::evidence::priors;
use shimwright::flight::TransferTable;
use shimwright::units::{Length, parse};
use shimwright::verdict::{Adjustment, Call, Case, Knob, Predicted, Reason, Verdict, decide};
use shimwright::walkback::WalkBackMeaning;
use shimwright_tests::cases::{Recipe, mirrored, random_case};

fn verdict(case: &Case) -> Verdict {
    decide(case, TransferTable::unrecorded()).unwrap()
}

fn recipes() -> impl Strategy<Value = (u64, Recipe)> {
    (any::<u64>(), 0..9usize, any::<bool>(), 1..6usize).prop_map(|(seed, trials, mixed, arrows)| {
        (
            seed,
            Recipe {
                trials,
                mixed,
                arrows,
            },
        )
    })
}

/// A mirrored verdict, written out field by field: what changes sides, and what does not.
fn exchanged(mut verdict: Verdict) -> Verdict {
    match &mut verdict.call {
        Call::AdjustFirst { what } => exchange_first(what),
        other => exchange_call(other),
    }
    for other in &mut verdict.alternatives {
        exchange_call(&mut other.call);
    }
    for split in &mut verdict.splits {
        split.x_mm = -split.x_mm;
        (split.low95_mm, split.high95_mm) = (-split.high95_mm, -split.low95_mm);
    }
    exchange(&mut verdict.as_it_is);
    exchange(&mut verdict.predicted);
    verdict.predictions.iter_mut().for_each(exchange);
    for option in &mut verdict.options {
        option.fitting = option.fitting.mirrored();
        option.offset_mm = -option.offset_mm;
        option.tilt_mm = -option.tilt_mm;
        option.x_mm = -option.x_mm;
    }
    for reason in &mut verdict.reasons {
        match reason {
            Reason::SplitIsReal { x_mm, .. }
            | Reason::SplitMayBeScatter { x_mm, .. }
            | Reason::WithinTolerance { x_mm, .. }
            | Reason::ArrowHabit { x_mm, .. }
            | Reason::ShootersDiffer { x_mm, .. } => *x_mm = -*x_mm,
            Reason::NothingPays { best_mm, .. } => *best_mm = -*best_mm,
            Reason::OppositeSigns { tear_mm, bare_mm } => {
                (*tear_mm, *bare_mm) = (-*tear_mm, -*bare_mm);
            }
            Reason::HeadsApart { heads_mm, bare_mm } => {
                (*heads_mm, *bare_mm) = (-*heads_mm, -*bare_mm);
            }
            Reason::SwapMadeItWorse {
                before_mm,
                after_mm,
            } => (*before_mm, *after_mm) = (-*before_mm, -*after_mm),
            Reason::KitEnds { remaining_mm } => *remaining_mm = -*remaining_mm,
            Reason::StepsCoarse { left_mm, right_mm } => {
                (*left_mm, *right_mm) = (-*right_mm, -*left_mm);
            }
            Reason::UnequalAxles { tilt_mm } | Reason::CamsApart { tilt_mm, .. } => {
                *tilt_mm = -*tilt_mm;
            }
            Reason::WalkBackShows {
                meaning: WalkBackMeaning::Slant { far_side } | WalkBackMeaning::Bend { far_side },
                slant_mm_per_m,
                ..
            } => {
                *far_side = far_side.opposite();
                *slant_mm_per_m = -*slant_mm_per_m;
            }
            _ => {}
        }
    }
    verdict
}

fn exchange_call(call: &mut Call) {
    match call {
        Call::Fit { fitting, .. } => *fitting = fitting.mirrored(),
        Call::Trim {
            knob: Knob::Rest,
            trim,
            ..
        } => trim.move_mm = -trim.move_mm,
        _ => {}
    }
}

fn exchange_first(what: &mut Adjustment) {
    match what {
        Adjustment::CamsApart { tilt_mm, .. } => *tilt_mm = -*tilt_mm,
        Adjustment::Contact {
            tear_mm,
            bare_mm,
            in_height: false,
            ..
        } => (*tear_mm, *bare_mm) = (-*tear_mm, -*bare_mm),
        Adjustment::ConfirmSwap {
            before_mm,
            after_mm,
            ..
        } => (*before_mm, *after_mm) = (-*before_mm, -*after_mm),
        _ => {}
    }
}

fn exchange(predicted: &mut Predicted) {
    predicted.x_mm = -predicted.x_mm;
    (predicted.low80_mm, predicted.high80_mm) = (-predicted.high80_mm, -predicted.low80_mm);
    (predicted.low95_mm, predicted.high95_mm) = (-predicted.high95_mm, -predicted.low95_mm);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(150))]

    #[test]
    fn mirrored_evidence_gives_exactly_the_mirrored_verdict((seed, recipe) in recipes()) {
        let case = random_case(seed, recipe).unwrap();
        prop_assert_eq!(exchanged(verdict(&mirrored(&case))), verdict(&case));
    }

    #[test]
    fn the_order_of_trials_and_arrows_changes_nothing((seed, recipe) in recipes(), turn in 0..9usize) {
        let case = random_case(seed, recipe).unwrap();
        let mut turned = case.clone();
        if !turned.trials.is_empty() {
            let by = turn % turned.trials.len();
            turned.trials.rotate_left(by);
            turned.trials.reverse();
        }
        for trial in &mut turned.trials {
            if let shimwright::evidence::Shot::Paper { tears, .. } = &mut trial.shot {
                tears.reverse();
            }
        }
        prop_assert_eq!(verdict(&turned), verdict(&case));
    }

    #[test]
    fn too_few_arrows_never_give_a_fitting(seed in any::<u64>(), mixed in any::<bool>(), arrows in 1..3usize) {
        let case = random_case(seed, Recipe { trials: 1, mixed, arrows }).unwrap();
        let call = verdict(&case).call;
        prop_assert!(!matches!(call, Call::Fit { .. }), "{:?}", call);
    }

    #[test]
    fn every_figure_is_finite_and_every_chance_a_chance((seed, recipe) in recipes()) {
        let verdict = verdict(&random_case(seed, recipe).unwrap());
        for p in verdict.predictions.iter().chain([&verdict.as_it_is, &verdict.predicted]) {
            prop_assert!(p.low95_mm <= p.low80_mm && p.low80_mm <= p.high80_mm && p.high80_mm <= p.high95_mm);
            prop_assert!(p.x_mm.is_finite() && p.sd_mm > 0.0 && (0.0..=1.0).contains(&p.within_tolerance));
        }
        prop_assert!((0.0..=1.0).contains(&verdict.response.wrong_way_chance));
        prop_assert!(verdict.options.windows(2).all(|two| two[0].loss_mm <= two[1].loss_mm));
    }
}

/// Every offset shifted by one constant: trials by what sat on the axles, the kit with them.
fn shifted(case: &Case, by_mm: f64) -> Case {
    let mut case = case.clone();
    let geometry = case.bow.geometry();
    for trial in &mut case.trials {
        let fitted = trial.fitted.take().unwrap();
        let offset_mm = case.kit.arrangement(&fitted, &geometry).unwrap().offset_mm;
        trial.offset_mm = Some(offset_mm + by_mm);
    }
    case
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]

    /// Nobody knows where a bow's true middle is: what was shot before by an offset that is off by
    /// one constant throughout teaches the same.
    #[test]
    fn a_constant_in_every_offset_teaches_the_same(seed in any::<u64>(), trials in 1..7usize, by_mm in -2.0..2.0_f64) {
        let mut case = random_case(seed, Recipe { trials, mixed: false, arrows: 3 }).unwrap();
        for trial in &mut case.trials { trial.epoch = 0; }
        case.bow.epoch = Some(1); // what was shot in an older epoch informs the response alone
        let (here, there) = (verdict(&shifted(&case, 0.0)), verdict(&shifted(&case, by_mm)));
        let scale = here.response.sd;
        prop_assert!((here.response.mm_per_mm - there.response.mm_per_mm).abs() < 1e-6 * scale);
        prop_assert!((here.predicted.x_mm - there.predicted.x_mm).abs() < 1e-6 * here.predicted.sd_mm);
    }

    /// While the spacers have not varied nothing is learned of them, whatever was shot; exactly.
    #[test]
    fn no_variation_no_learning(seed in any::<u64>(), trials in 1..7usize) {
        let mut case = random_case(seed, Recipe { trials, mixed: true, arrows: 3 }).unwrap();
        for trial in &mut case.trials { trial.fitted = Some(case.bow.fitted.clone()); }
        let prior = { let mut none = case.clone(); none.trials.clear(); verdict(&none).response };
        let after = verdict(&case).response;
        prop_assert_eq!(prior.mm_per_mm.to_bits(), after.mm_per_mm.to_bits());
        prop_assert_eq!(prior.sd.to_bits(), after.sd.to_bits());
        prop_assert!(!after.seen_on_this_bow);
    }
}

/// What a move would teach is no reason to make a bow less likely inside that is more likely in than out.
#[test]
fn what_is_more_likely_in_than_out_is_not_moved_to_its_harm() {
    let (mut moved, mut risked) = (0, 0);
    for seed in 0..300 {
        let recipe = Recipe {
            trials: 1 + seed as usize % 3,
            mixed: false,
            arrows: [3, 9][seed as usize % 2],
        };
        let verdict = verdict(&random_case(seed, recipe).unwrap());
        if !verdict.call.moves_sideways() {
            continue;
        }
        let (before, after) = (
            verdict.as_it_is.within_tolerance,
            verdict.predicted.within_tolerance,
        );
        // A rest that was never tried goes before a bow is left that is surely beside.
        let first_try = matches!(
            verdict.call,
            Call::Trim { knob: Knob::Rest, ref trim, .. } if trim.direction_chance < 0.51
        );
        if before >= 0.5 && !first_try {
            moved += 1;
            assert!(
                after >= before,
                "{seed}: {before} {after} {:?}",
                verdict.call
            );
        }
        risked += u32::from(after < before);
    }
    assert!(moved > 0 && risked > 0, "{moved} {risked}");
}

#[test]
fn no_evidence_leaves_the_priors_as_they_were() {
    let case = random_case(
        1,
        Recipe {
            trials: 0,
            mixed: false,
            arrows: 3,
        },
    )
    .unwrap();
    let response = verdict(&case).response;
    assert!((response.wrong_way_chance - (1.0 - priors::RESPONSE_RIGHT_WAY)).abs() < 1e-9);
    // Mean of a lognormal: median exp(sd^2 / 2), for the body and the tail of the prior.
    let mean = |log_sd: f64| priors::RESPONSE_MEDIAN * (log_sd * log_sd / 2.0).exp();
    let tail = priors::RESPONSE_TAIL_SHARE;
    let size =
        (1.0 - tail) * mean(priors::RESPONSE_LOG_SD) + tail * mean(priors::RESPONSE_TAIL_LOG_SD);
    let expected = (2.0 * priors::RESPONSE_RIGHT_WAY - 1.0) * size;
    assert!(
        (response.mm_per_mm / expected - 1.0).abs() < 1e-6,
        "{response:?} against {expected}"
    );
    assert!(!response.seen_on_this_bow);
}

#[test]
fn the_units_that_figures_are_typed_in_change_nothing() {
    let typed = |text: &str| parse(text, Length::Millimetre).unwrap();
    let with = |tolerance: &str, tilt: &str| {
        let mut case = random_case(
            7,
            Recipe {
                trials: 5,
                mixed: true,
                arrows: 3,
            },
        )
        .unwrap();
        case.settings.tolerance_mm = typed(tolerance);
        case.settings.tilt_limit_mm = typed(tilt);
        verdict(&case)
    };
    assert_eq!(with("1 in", "0.025 in"), with("25.4 mm", "0.635 mm"));
}
