//! What practitioners state about matched spacers, as check values (common practice, no source).
//! Thicknesses are given in inches; an inch is exactly 25.4 mm (international yard agreement, 1959).

use shimwright::frame::Side;
use shimwright::spacer::{
    ArrangementRule, AxleGeometry, Fitting, Kit, KitDraft, KitError, PairDraft, Seat,
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
