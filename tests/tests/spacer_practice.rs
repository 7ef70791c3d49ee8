//! What practitioners state about matched spacers, as check values (common practice, no source).
//! Thicknesses are given in inches; an inch is exactly 25.4 mm (international yard agreement, 1959).

use shimwright::frame::Side;
use shimwright::spacer::{
    ArrangementRule, AxleGeometry, Fitting, Kit, KitDraft, KitError, PairDraft, Seat, SpacerPair,
};

const INCH_MM: f64 = 25.4;
const BOW: AxleGeometry = AxleGeometry {
    axle_to_axle_mm: 838.2,
    top_weight: 0.5,
};

fn kit() -> Kit {
    let pair = |name: &str, thin_in: f64, thick_in: f64| {
        PairDraft::new(name, thin_in * INCH_MM, thick_in * INCH_MM)
    };
    Kit::new(KitDraft {
        name: "three pairs".into(),
        total_mm: 0.175 * INCH_MM,
        tolerance_mm: 0.05,
        pairs: vec![
            pair("near", 0.075, 0.100),
            pair("far", 0.040, 0.135),
            pair("mid", 0.055, 0.120),
        ],
    })
    .unwrap()
}

#[test]
fn every_pair_has_the_one_total_and_gives_two_cam_positions() {
    let kit = kit();
    let names: Vec<&str> = kit.pairs().iter().map(SpacerPair::name).collect();
    assert_eq!(names, ["near", "far", "mid"]);
    for pair in kit.pairs() {
        assert!((pair.thin_mm() + pair.thick_mm() - 0.175 * INCH_MM).abs() < 1e-9);
    }
    let offset_in = |seat: &Seat| kit.cam_offset_mm(seat).unwrap() / INCH_MM;
    let mut offsets: Vec<f64> = kit.seats().iter().map(offset_in).collect();
    offsets.sort_by(f64::total_cmp);
    let expected = [-0.0475, -0.0325, -0.0125, 0.0125, 0.0325, 0.0475];
    assert_eq!(offsets.len(), expected.len());
    for (offset, expected) in offsets.iter().zip(expected) {
        assert!(
            (offset - expected).abs() < 1e-12,
            "{offset} in, expected {expected} in"
        );
    }
}

#[test]
fn a_thinner_left_spacer_moves_the_cam_left_by_the_difference_of_the_left_pieces() {
    let kit = kit();
    let before = kit
        .seat_from_pieces(0.075 * INCH_MM, 0.100 * INCH_MM)
        .unwrap();
    let after = kit
        .seat_from_pieces(0.055 * INCH_MM, 0.120 * INCH_MM)
        .unwrap();
    let moved_mm = kit.cam_offset_mm(&after).unwrap() - kit.cam_offset_mm(&before).unwrap();
    assert!(
        (moved_mm + 0.020 * INCH_MM).abs() < 1e-9,
        "moved {moved_mm} mm"
    );
    assert_eq!(
        (before, after),
        (
            Seat::new("near", Side::Right),
            Seat::new("mid", Side::Right)
        )
    );
}

#[test]
fn a_piece_of_one_pair_with_a_piece_of_another_is_not_a_matched_set() {
    let refused = kit()
        .seat_from_pieces(0.075 * INCH_MM, 0.120 * INCH_MM)
        .unwrap_err();
    let KitError::MixedPair {
        sum_mm,
        left_partner_mm,
        right_partner_mm,
        ..
    } = refused
    else {
        panic!("{refused}")
    };
    assert!((sum_mm - 0.195 * INCH_MM).abs() < 1e-9);
    assert!((left_partner_mm.unwrap() - 0.100 * INCH_MM).abs() < 1e-9);
    assert!((right_partner_mm.unwrap() - 0.055 * INCH_MM).abs() < 1e-9);
}

#[test]
fn turning_both_axles_round_mirrors_the_offset() {
    let kit = kit();
    let rule = ArrangementRule {
        unequal_axles: false,
        tilt_limit_mm: 0.0,
    };
    let found = kit.arrangements(&BOW, &rule, None).unwrap();
    assert_eq!(found.len(), 6);
    for arrangement in found {
        let mirrored = kit
            .arrangement(&arrangement.fitting.mirrored(), &BOW)
            .unwrap();
        assert!((mirrored.offset_mm + arrangement.offset_mm).abs() < 1e-12);
    }
}

#[test]
fn a_pair_whose_sum_is_off_cannot_be_entered() {
    let mut draft = kit().to_draft();
    draft.pairs[1].thick_mm = 0.125 * INCH_MM;
    let refused = Kit::new(draft).unwrap_err();
    assert!(
        matches!(&refused, KitError::WrongSum { pair, .. } if pair == "far"),
        "{refused}"
    );
    let unknown = kit().arrangement(&Fitting::alike(Seat::new("none", Side::Left)), &BOW);
    assert!(matches!(unknown, Err(KitError::UnknownPair { .. })));
}

/// Pieces in mm of one total of 4.4: thin and thick, to the tolerance of 0.05.
fn metric(pairs: &[(&str, f64, f64)]) -> Result<Kit, KitError> {
    let pairs = pairs.iter();
    Kit::new(KitDraft {
        name: "metric".into(),
        total_mm: 4.4,
        tolerance_mm: 0.05,
        pairs: pairs
            .map(|&(name, thin, thick)| PairDraft::new(name, thin, thick))
            .collect(),
    })
}

#[test]
fn a_pair_may_miss_its_total_by_the_tolerance_and_no_more() {
    for (thick_mm, is_taken) in [(3.15, true), (3.05, true), (3.152, false), (3.048, false)] {
        let kit = metric(&[("A", 1.3, thick_mm)]);
        assert_eq!(kit.is_ok(), is_taken, "{thick_mm} mm: {kit:?}");
    }
}

#[test]
fn a_kit_says_what_it_was_made_of_and_refuses_what_no_kit_is() {
    let kit = metric(&[("A", 1.3, 3.1), ("even", 2.2, 2.2)]).unwrap();
    let said = (kit.name(), kit.total_mm(), kit.tolerance_mm());
    assert_eq!(said, ("metric", 4.4, 0.05));
    let seats = kit.seats();
    let even = seats.iter().filter(|seat| seat.pair == "even");
    assert_eq!(
        (seats.len(), even.count()),
        (3, 1),
        "equal pieces have no other way round"
    );

    let untold = r#"{"name": "metric", "total_mm": 4.4, "pairs": []}"#;
    let untold: KitDraft = serde_json::from_str(untold).unwrap();
    assert!((untold.tolerance_mm - 0.05).abs() < 1e-12);
    assert!(matches!(Kit::new(untold), Err(KitError::NoPairs { .. })));
    let changed = |change: fn(&mut KitDraft)| {
        let mut draft = kit.to_draft();
        change(&mut draft);
        Kit::new(draft)
    };
    let nameless = changed(|draft| draft.name = " ".into());
    assert!(matches!(nameless, Err(KitError::EmptyName)));
    let nameless = changed(|draft| draft.pairs[0].name = String::new());
    assert!(matches!(nameless, Err(KitError::EmptyName)));
    let twice = changed(|draft| draft.pairs[1].name = "A".into());
    assert!(matches!(twice, Err(KitError::DuplicatePair { .. })));
    for implausible in [
        changed(|draft| draft.total_mm = 0.39),
        changed(|draft| draft.total_mm = f64::NAN),
        changed(|draft| draft.tolerance_mm = 0.51),
        changed(|draft| draft.pairs[0].thin_mm = 0.09),
        changed(|draft| draft.pairs[0].thick_mm = 15.1),
    ] {
        assert!(
            matches!(implausible, Err(KitError::Implausible { .. })),
            "{implausible:?}"
        );
    }
}

/// A caliper is read to 0.01 mm, so a piece may be that much more off than its pair.
#[test]
fn a_piece_is_known_by_its_thickness_and_the_side_it_lies_on() {
    let kit = metric(&[("A", 1.3, 3.1), ("C", 1.9, 2.5)]).unwrap();
    let (left, right) = (Side::Left, Side::Right);
    for (side, mm, seat) in [
        (left, 1.36, Seat::new("A", right)),
        (right, 1.24, Seat::new("A", left)),
        (left, 2.5, Seat::new("C", left)),
        (right, 2.5, Seat::new("C", right)),
    ] {
        assert_eq!(kit.seat_from_piece(side, mm), Ok(seat));
    }
    assert_eq!(kit.seat_from_pieces(1.36, 3.04), Ok(Seat::new("A", right)));
    let unlike = kit.seat_from_pieces(1.37, 3.1);
    assert!(matches!(unlike, Err(KitError::MixedPair { .. })));
    let candidates = |kit: &Kit, mm| match kit.seat_from_piece(left, mm) {
        Err(KitError::UnclearPiece { candidates, .. }) => candidates,
        other => panic!("{other:?}"),
    };
    assert!(candidates(&kit, 1.37).is_empty());
    let near = metric(&[("A", 1.3, 3.1), ("B", 1.35, 3.05)]).unwrap();
    assert_eq!(candidates(&near, 1.33), ["A", "B"]);
}

#[test]
fn both_cams_are_weighed_and_may_stand_as_far_apart_as_the_rule_says() {
    let kit = metric(&[("A", 1.3, 3.1), ("C", 1.9, 2.5)]).unwrap();
    let bow = AxleGeometry {
        axle_to_axle_mm: 800.0,
        top_weight: 0.25,
    };
    // The cams stand 0.9 and 0.3 mm right.
    let fitting = Fitting {
        top: Seat::new("A", Side::Left),
        bottom: Seat::new("C", Side::Left),
    };
    let found = kit.arrangement(&fitting, &bow).unwrap();
    for (is, wanted) in [
        (found.offset_mm, 0.25 * 0.9 + 0.75 * 0.3),
        (found.tilt_mm, 0.6),
        (found.tilt_rad, 0.6 / 800.0),
    ] {
        assert!((is - wanted).abs() < 1e-12, "{is}, not {wanted}");
    }
    // Alike 4; apart by 0.6 mm: A and C the same way round, and C both ways, each in two orders.
    for (tilt_limit_mm, count) in [(0.6, 10), (0.59, 4)] {
        let rule = ArrangementRule {
            unequal_axles: true,
            tilt_limit_mm,
        };
        let found = kit.arrangements(&bow, &rule, None).unwrap();
        assert_eq!(found.len(), count, "{tilt_limit_mm} mm");
    }
}
