//! Whatever can be recorded can be judged: no figure that is kept may stand in the way of a verdict.

use shimwright::evidence::RememberedSwap;
use shimwright::frame::Side;
use shimwright::range::{self, FACE_DISTANCE_M, PAPER_DISTANCE_M, Range};
use shimwright::record::{BowDetails, ChangeKind, SetupChange, TrialDraft, WorkshopSettings};
use shimwright::verdict::RestRoom;
use shimwright::workshop::WorkshopError;

use crate::workshop::bench::{Folder, alike, face, paper, workshop};

#[test]
fn every_distance_that_is_recorded_can_be_judged() {
    for (shot, (nearest_m, farthest_m)) in
        [(face(30.0), FACE_DISTANCE_M), (paper(), PAPER_DISTANCE_M)]
    {
        let folder = Folder::new();
        let (mut workshop, bow) = workshop(&folder);
        let at = |distance_m| TrialDraft {
            distance_m,
            ..shot.clone()
        };
        for beyond_m in [0.99 * nearest_m, 1.01 * farthest_m] {
            let refused = workshop.save_trial(bow, &at(beyond_m), 2_000);
            assert!(
                matches!(refused, Err(WorkshopError::Field(_))),
                "{refused:?}"
            );
        }
        for (day, distance_m) in [nearest_m, farthest_m].into_iter().enumerate() {
            let now_ms = 3_000 + day as i64;
            workshop.save_trial(bow, &at(distance_m), now_ms).unwrap();
            workshop.give_verdict(bow, now_ms).unwrap();
        }
    }
}

/// At both ends of every range that a person fills in.
#[test]
fn every_bow_wish_and_place_that_is_recorded_can_be_judged() {
    for end in [|range: Range| range.0, |range: Range| range.1] {
        let folder = Folder::new();
        let (mut workshop, bow) = workshop(&folder);
        let settings = WorkshopSettings {
            unequal_axles: true,
            tilt_limit_mm: end(range::TILT_LIMIT_MM),
            tolerance_mm: end(range::TOLERANCE_MM),
            tolerance_distance_m: end(range::FACE_DISTANCE_M),
            ..workshop.settings().unwrap()
        };
        workshop.save_settings(&settings).unwrap();
        let details = BowDetails {
            axle_to_axle_mm: end(range::AXLE_TO_AXLE_MM),
            top_weight: end(range::TOP_WEIGHT),
            rest_room: Some(RestRoom {
                left: end(range::REST_ROOM_MM),
                right: end(range::REST_ROOM_MM),
            }),
            remembered: vec![RememberedSwap {
                from: alike("A", Side::Left),
                to: alike("C", Side::Left),
                moved_mm: end(range::REMEMBERED_MOVE_MM),
                sd_mm: end(range::TOLERANCE_MM),
                distance_m: end(range::FACE_DISTANCE_M),
            }],
            ..workshop.bow_page(bow).unwrap().bow.details
        };
        workshop.save_bow(bow, &details, None, 2_000).unwrap();
        for kind in [ChangeKind::RestMoved, ChangeKind::NockMoved] {
            let moved = SetupChange {
                kind,
                value_mm: Some(end(range::REST_AND_NOCK_MM)),
                note: String::new(),
                at_ms: 2_001,
            };
            workshop.record_change(bow, &moved).unwrap();
        }
        let mut shot = face(30.0);
        shot.impacts[0].at.x_mm = end(range::IMPACT_MM);
        shot.impacts[1].sd_mm = end(range::PLACE_SD_MM);
        workshop.save_trial(bow, &shot, 2_002).unwrap();
        let mut torn = paper();
        torn.tears[0].tear.x_mm = end(range::TEAR_MM);
        workshop.save_trial(bow, &torn, 2_003).unwrap();
        workshop.give_verdict(bow, 3_000).unwrap();
    }
}
