//! A short run of the virtual bows; `tests/virtual-bows` tunes thousands and holds the bars.

use shimwright::verdict::Settings;
use shimwright_tests::virtual_bows::{Way, World, run_rows};

/// With 60 bows the bars are looser than the full table's by what chance allows.
#[test]
fn verdicts_take_fewer_press_jobs_than_one_step_at_a_time_and_end_no_worse() {
    let rows = run_rows(5000..5060, &Settings::default(), &[World::CameIn], |_| {
        vec![Way::Steps, Way::Verdict]
    });
    let (steps, verdict) = (&rows[0].summary, &rows[1].summary);
    assert!(verdict.axles <= 0.70 * steps.axles, "{steps:?} {verdict:?}");
    assert!(
        verdict.final_mm <= 1.05 * steps.final_mm,
        "{steps:?} {verdict:?}"
    );
    assert!(
        verdict.cover80 >= 0.65 && verdict.cover95 >= 0.85,
        "{verdict:?}"
    );
    assert!(verdict.broken_off < 0.05, "{verdict:?}");
}

#[test]
fn the_same_seeds_give_the_same_table() {
    let row = || {
        let rows = run_rows(
            5000..5010,
            &Settings::default(),
            &[World::HeavyTails],
            |_| vec![Way::Unequal],
        );
        rows[0].to_string()
    };
    assert_eq!(row(), row());
}
