//! What is stored comes back as it was.

use proptest::prelude::*;
use shimwright::frame::{ArrowKind, PointMm, PointPx, Side};
use shimwright::measure::Reference;
use shimwright::record::{
    Exclusion, PhotoRef, PlaneRecord, ReferenceUsed, Surface, TrialDraft, TrialImpact,
};

use shimwright::spacer::{Fitting, Kit, Seat};
use shimwright::swap::{Bench, Found, Swap, plan};

use crate::workshop::bench::{Folder, kit, workshop};

fn impact() -> impl Strategy<Value = TrialImpact> {
    let kind = prop_oneof![
        Just(ArrowKind::Fletched),
        Just(ArrowKind::Bare),
        Just(ArrowKind::Broadhead)
    ];
    let left_out = prop_oneof![Just(None), Just(Some(Exclusion::Contact))];
    let place = (-900.0..900.0_f64, -900.0..900.0_f64, 0.0..20.0_f64);
    let px = prop::option::of((0.0..4000.0_f64, 0.0..3000.0_f64));
    (
        kind,
        place,
        px,
        any::<bool>(),
        prop::option::of(1..99_i32),
        left_out,
    )
        .prop_map(
            |(kind, (x, y, sd_mm), px, snapped, arrow_number, excluded)| TrialImpact {
                kind,
                at: PointMm::new(x, y),
                sd_mm,
                px: px.map(|(x, y)| PointPx::new(x, y)),
                snapped,
                arrow_number,
                excluded,
            },
        )
}

fn shot() -> impl Strategy<Value = TrialDraft> {
    let impacts = prop::collection::vec(impact(), 1..12);
    (impacts, 5.0..90.0_f64, ".{0,40}", -0.3..0.3_f64).prop_map(
        |(impacts, distance_m, note, k1)| TrialDraft {
            surface: Surface::Face,
            distance_m,
            shooter: String::new(),
            arrow_setup_id: None,
            impacts,
            tears: Vec::new(),
            photo: Some(PhotoRef {
                file: "a.jpg".into(),
                width_px: 4000,
                height_px: 3000,
            }),
            plane: Some(PlaneRecord {
                reference: ReferenceUsed::Sheet {
                    width_mm: 210.0,
                    height_mm: 297.0,
                },
                residual_px: 0.1,
                residual_mm: 0.02,
                k1,
                scale_sd: 0.003,
                turn_sd_rad: 0.01,
                marked: Some(Reference::Points {
                    a_px: PointPx::new(1.0, k1),
                    b_px: PointPx::new(900.5, 7.0),
                    distance_mm: 300.0,
                }),
            }),
            note,
        },
    )
}

fn fitting() -> impl Strategy<Value = Fitting> {
    let seat = (0..3_usize, any::<bool>()).prop_map(|(pair, right)| {
        let side = if right { Side::Right } else { Side::Left };
        Seat::new(["A", "B", "C"][pair], side)
    });
    (seat.clone(), seat).prop_map(|(top, bottom)| Fitting { top, bottom })
}

/// What a technician may do at any step.
#[derive(Debug, Clone, Copy)]
enum Move {
    On,
    Back,
    Undo,
    FoundOther,
}

fn moves() -> impl Strategy<Value = Vec<Move>> {
    let one = prop_oneof![
        20 => Just(Move::On),
        2 => Just(Move::Back),
        1 => Just(Move::Undo),
        2 => Just(Move::FoundOther),
    ];
    prop::collection::vec(one, 0..60)
}

fn make(swap: &mut Swap, kit: &Kit, what: Move) {
    let asks = swap.current().is_some_and(|step| step.kind.wants_answer());
    let other = Found::Pieces {
        left_mm: 2.8,
        right_mm: 1.6,
    };
    let _refused_or_not = match (what, asks) {
        (Move::Back, _) => swap.back().is_ok(),
        (Move::Undo, _) => swap.undo(),
        (Move::FoundOther, true) => swap.found(kit, &other).is_ok(),
        (_, true) => swap.found(kit, &Found::AsRecorded).is_ok(),
        (_, false) => swap.done().is_ok(),
    };
}

/// Thin and thick of one axle add up to the kit's total, or both are out.
fn one_pair_or_none(kit: &Kit, bench: &Bench) -> bool {
    [&bench.top, &bench.bottom].iter().all(|axle| {
        axle.seat().is_none_or(|seat| {
            let (left_mm, right_mm) = kit.left_right_mm(seat).unwrap();
            (left_mm + right_mm - kit.total_mm()).abs() <= kit.tolerance_mm() + 1e-9
        })
    })
}

proptest! {
    #[test]
    fn every_guide_leads_to_its_target_with_whole_pairs(from in fitting(), to in fitting()) {
        let kit = Kit::new(kit()).unwrap();
        let mut bench = Bench::closed(&from);
        for step in plan(&bench, &to) {
            prop_assert!(one_pair_or_none(&kit, &step.after));
            bench = step.after;
        }
        prop_assert_eq!(bench, Bench::closed(&to));
    }

    #[test]
    fn however_it_is_walked_a_swap_ends_with_a_closed_bow(
        from in fitting(), to in fitting(), walk in moves()
    ) {
        let kit = Kit::new(kit()).unwrap();
        prop_assume!(from != to);
        let mut swap = Swap::begin(&kit, &from, &to).unwrap();
        for what in walk {
            make(&mut swap, &kit, what);
            prop_assert!(one_pair_or_none(&kit, &swap.bench()));
        }
        while swap.current().is_some() {
            make(&mut swap, &kit, Move::On);
        }
        prop_assert_eq!(swap.bench(), Bench::closed(&swap.target));
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(40))]

    #[test]
    fn a_stored_trial_loads_bit_for_bit(shot in shot()) {
        let folder = Folder::new();
        let (mut workshop, bow) = workshop(&folder);
        let saved = workshop.save_trial(bow, &shot, 2_000).unwrap();
        prop_assert_eq!(&saved.shot, &shot);
        prop_assert_eq!(&workshop.trials(bow).unwrap(), &vec![saved]);
    }

    #[test]
    fn the_shelf_adds_up(sets in 0..9_u32, right in any::<bool>()) {
        let folder = Folder::new();
        let (mut workshop, bow) = workshop(&folder);
        let record = workshop.bow_page(bow).unwrap().kit.unwrap();
        let owned = [shimwright::spacer::PairCount { pair: "B".into(), sets }];
        workshop.save_kit(Some(record.id), &record.kit, &owned).unwrap();
        let side = if right { Side::Right } else { Side::Left };
        workshop.record_fitting(bow, &crate::workshop::bench::alike("B", side), 2_000).unwrap();
        let shelf = workshop.kits().unwrap().remove(0).shelf;
        let pair = &shelf.pairs[0];
        prop_assert_eq!(pair.fitted, 2);
        prop_assert_eq!(pair.on_shelf, sets.saturating_sub(2));
    }
}
