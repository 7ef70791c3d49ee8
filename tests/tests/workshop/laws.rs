//! What is stored comes back as it was.

use proptest::prelude::*;
use shimwright::frame::{ArrowKind, PointMm, PointPx, Side};
use shimwright::record::{
    Exclusion, PhotoRef, PlaneRecord, ReferenceUsed, Surface, TrialDraft, TrialImpact,
};

use crate::bench::{Folder, workshop};

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
            }),
            note,
        },
    )
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
        let kit = workshop.bow_page(bow).unwrap().kit.unwrap();
        let owned = [shimwright::spacer::PairCount { pair: "B".into(), sets }];
        workshop.save_kit(Some(kit.id), &kit.kit, &owned).unwrap();
        let side = if right { Side::Right } else { Side::Left };
        workshop.record_fitting(bow, &crate::bench::alike("B", side), 2_000).unwrap();
        let shelf = workshop.kits().unwrap().remove(0).shelf;
        let pair = &shelf.pairs[0];
        prop_assert_eq!(pair.fitted, 2);
        prop_assert_eq!(pair.on_shelf, sets.saturating_sub(2));
    }
}
