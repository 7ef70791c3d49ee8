//! Fittings whose pieces are not at hand: never chosen, and named.

use shimwright::units::TWENTY_YARDS_M;
use shimwright::verdict::{Call, Reason, Verdict};

use super::verdict_mixed::{BARE_ONLY, decided, decided_from, face, fitted};

/// A bow that is given up for want of a pair is told which.
#[test]
fn a_pair_that_would_save_a_bow_from_being_given_up_is_named() {
    let at = (-30.0, 0.0);
    let shot = face(&fitted("C", "left"), TWENTY_YARDS_M, "bare", 6, at);
    let stock = r#"{"counts":[{"pair":"A","sets":0},{"pair":"B","sets":0},{"pair":"C","sets":2}]}"#;
    let verdict = decided_from(&[shot], BARE_ONLY, "", stock);
    assert_eq!(verdict.call, Call::SpacersCannot);
    let named =
        |reason: &Reason| matches!(reason, Reason::PiecesNotAtHand { pair, .. } if pair == "B");
    assert!(verdict.reasons.iter().any(named), "{:?}", verdict.reasons);
}

/// Bare shafts far right want the cams far left; the pair for it sits in other bows.
#[test]
fn a_fitting_whose_pieces_are_elsewhere_is_named_and_not_chosen() {
    let at = |thick: &str, x: f64| face(&fitted("C", thick), TWENTY_YARDS_M, "bare", 6, (x, 0.0));
    let trials = [at("right", 80.0), at("left", 110.0)];
    let wish = BARE_ONLY;
    let stock = r#"{"counts":[{"pair":"A","sets":1},{"pair":"B","sets":0},{"pair":"C","sets":2}]}"#;
    let pairs_of = |verdict: &Verdict| match &verdict.call {
        Call::Fit { fitting, .. } => [fitting.top.pair.clone(), fitting.bottom.pair.clone()],
        call => panic!("{call:?}"),
    };
    let rich = decided(&trials, wish, "");
    let wanted = pairs_of(&rich)[0].clone();
    assert_ne!(wanted, "C");
    // Pair C the other way round would leave some 80 mm of 110: nobody presses a bow for that.
    let poor = decided_from(&trials, wish, "", stock);
    assert_eq!(poor.call, Call::SpacersCannot);
    let named =
        |reason: &Reason| matches!(reason, Reason::PiecesNotAtHand { pair, .. } if *pair == wanted);
    assert!(poor.reasons.iter().any(named), "{:?}", poor.reasons);
    assert!(!rich.reasons.iter().any(named));
}
