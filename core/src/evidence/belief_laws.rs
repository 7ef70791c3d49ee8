//! Laws of what is believed of a bow, from its trials.

use super::{
    Aside, Belief, FaceAccuracy, Known, Now, Observation, Probe, Scatter, Seen, Shot, TrialEvidence,
};
use crate::flight::TransferTable;
use crate::frame::ArrowKind;
use crate::group::Impact;
use crate::units::MM_PER_INCH;

/// Three arrows of a kind around a centre.
fn arrows(kind: ArrowKind, x_mm: f64, y_mm: f64) -> impl Iterator<Item = Impact> {
    [(-6.0, 2.0), (1.0, -7.0), (5.0, 5.0)]
        .into_iter()
        .map(move |(x, y)| Impact::new(kind, x_mm + x, y_mm + y))
}

fn shot(
    kind: ArrowKind,
    (x_mm, y_mm): (f64, f64),
    (rest_mm, nock_mm): (f64, f64),
) -> TrialEvidence {
    let reference = arrows(ArrowKind::Fletched, 0.0, 0.0);
    TrialEvidence {
        id: 0,
        fitted: None,
        offset_mm: None,
        rest_mm,
        nock_mm,
        epoch: 0,
        shooter: None,
        shot: Shot::Face {
            distance_m: 18.288,
            impacts: reference.chain(arrows(kind, x_mm, y_mm)).collect(),
            reading: FaceAccuracy::default(),
        },
    }
}

/// What is believed of a bow whose rest and nocking point stand at `now`.
fn believed(trials: &[TrialEvidence], now: (f64, f64)) -> Belief<'_> {
    let known = Known {
        now: Now {
            offset_mm: 0.0,
            rest_mm: now.0,
            nock_mm: now.1,
            epoch: 0,
            shooter: None,
            target_m: 18.288,
        },
        seen: trials.iter().map(|trial| Seen::new(trial, 0.0)).collect(),
        scatter: Scatter::of(trials),
        relatives: Vec::new(),
        remembered: Vec::new(),
        outvoted: Vec::new(),
    };
    Belief::new(known, TransferTable::unrecorded(), Aside::default())
}

#[test]
fn the_marks_that_rest_and_nocking_point_are_read_from_change_nothing() {
    let expected = |rest_mark_mm: f64, nock_mark_mm: f64| {
        let at = |rest_mm: f64, nock_mm: f64| (rest_mm + rest_mark_mm, nock_mm + nock_mark_mm);
        let trials = [
            shot(ArrowKind::Bare, (50.0, 60.0), at(0.0, 0.0)),
            shot(ArrowKind::Bare, (20.0, 40.0), at(-1.0, 0.5)),
        ];
        let belief = believed(&trials, at(-1.5, 1.25));
        let sideways = belief.predictive(Probe::Bare, 18.288);
        let sideways = belief.sideways.mixture(&sideways, 0.0);
        let upright = belief.vertical(Probe::Bare, 18.288);
        [sideways.mean(), sideways.sd(), upright.mean(), upright.sd()]
    };
    let (zero, marked) = (expected(0.0, 0.0), expected(16.0, 64.0));
    for (zero, marked) in zero.iter().zip(marked) {
        assert!((zero - marked).abs() < 1e-9, "{zero} {marked}");
    }
}

/// Common practice, no source: 1/16 in of nocking point moves a bare shaft an inch or two.
#[test]
fn a_nocking_point_put_up_lets_bare_shafts_land_an_inch_or_two_lower() {
    let trials = [shot(ArrowKind::Bare, (0.0, 40.0), (0.0, 5.0))];
    let height_mm = |nock_mm| {
        let belief = believed(&trials, (0.0, nock_mm));
        belief.vertical(Probe::Bare, 18.288).mean()
    };
    let lower_mm = height_mm(5.0) - height_mm(5.0 + MM_PER_INCH / 16.0);
    assert!(
        (MM_PER_INCH..2.0 * MM_PER_INCH).contains(&lower_mm),
        "{lower_mm}"
    );
}

#[test]
fn a_rest_may_go_back_to_where_it_stood_since_parts_were_changed() {
    let mut trials = [2.0, 3.0, 2.0, 2.5].map(|rest_mm| {
        let at = (rest_mm, 0.0);
        shot(ArrowKind::Bare, (30.0, 0.0), at)
    });
    trials[1].epoch = -1;
    assert_eq!(believed(&trials, (2.5, 0.0)).former_rests_mm(), [2.0]);
    assert_eq!(believed(&trials, (4.0, 0.0)).former_rests_mm(), [2.0, 2.5]);
}

#[test]
fn broadheads_that_scatter_more_lie_less_surely_off_the_bow() {
    let trials = [shot(ArrowKind::Broadhead, (80.0, 0.0), (0.0, 0.0))];
    let belief = believed(&trials, (0.0, 0.0));
    let tight = &belief.observations[0];
    let wide = Observation {
        var_x_mm2: 9.0 * tight.var_x_mm2,
        ..tight.clone()
    };
    assert!(belief.off_the_bow(&wide) < belief.off_the_bow(tight));
}
