//! Laws of what is believed of a bow, from its trials.

use super::priors::{PROBE_EXTRA_SD_MM, REST_SD};
use super::{
    Aside, Belief, FaceAccuracy, Known, Now, Observation, Probe, Scatter, Seen, Shot, TrialEvidence,
};
use crate::flight::TransferTable;
use crate::frame::{ArrowKind, PointMm};
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
    believed_at_scatter(trials, now, Scatter::of(trials))
}

fn believed_at_scatter(trials: &[TrialEvidence], now: (f64, f64), scatter: Scatter) -> Belief<'_> {
    believed_at_offsets(trials, &vec![0.0; trials.len()], now, scatter)
}

/// The same with the cams at an offset, mm, in each trial; in the last one as they stand.
fn believed_at_offsets<'a>(
    trials: &'a [TrialEvidence],
    offsets_mm: &[f64],
    now: (f64, f64),
    scatter: Scatter,
) -> Belief<'a> {
    let seen = trials.iter().zip(offsets_mm);
    let known = Known {
        now: Now {
            offset_mm: offsets_mm.last().copied().unwrap_or_default(),
            rest_mm: now.0,
            nock_mm: now.1,
            epoch: 0,
            shooter: None,
            target_m: 18.288,
        },
        seen: seen.map(|(trial, at)| Seen::new(trial, *at)).collect(),
        scatter,
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

fn torn(x_mm: f64) -> TrialEvidence {
    let tears = [-1.5, 0.5, 1.0].map(|x| PointMm {
        x_mm: x_mm + x,
        y_mm: 0.0,
    });
    TrialEvidence {
        shot: Shot::Paper {
            paper_m: 2.0,
            tears: tears.to_vec(),
        },
        ..shot(ArrowKind::Bare, (0.0, 0.0), (0.0, 0.0))
    }
}

/// No error of the flight model makes something else of a fitting than what was shot with it, also where the bow answers
/// the other way, and where the fault turns round between the two.
#[test]
fn a_fitting_that_was_shot_is_expected_as_it_was_shot_there() {
    let heads = |x_mm| shot(ArrowKind::Broadhead, (x_mm, 0.0), (0.0, 0.0));
    let offsets_mm = [-0.3, 0.7];
    for (first_mm, second_mm) in [(24.0, 36.0), (16.0, -16.0), (-20.0, 20.0), (40.0, 20.0)] {
        for (trials, probe, at_m, off_mm) in [
            ([torn(first_mm), torn(second_mm)], Probe::Paper, 2.0, 3.0),
            (
                [heads(first_mm), heads(second_mm)],
                Probe::Broadhead,
                18.288,
                10.0,
            ),
        ] {
            let scatter = Scatter::of(&trials);
            let belief = believed_at_offsets(&trials, &offsets_mm, (0.0, 0.0), scatter);
            let predictive = belief.predictive(probe, at_m);
            for (offset_mm, shot_mm) in offsets_mm.iter().zip([first_mm, second_mm]) {
                let left_mm = belief.sideways.mixture(&predictive, *offset_mm).mean();
                assert!(
                    (left_mm - shot_mm).abs() < off_mm,
                    "{probe:?} {first_mm} {second_mm}: {left_mm} at {offset_mm}"
                );
            }
        }
    }
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

/// Nothing is learned of a rest that never moved, whoever shot.
#[test]
fn what_a_shooter_adds_is_not_taken_for_the_rest() {
    let mut trials =
        [60.0, 64.0, 10.0, 14.0].map(|x_mm| shot(ArrowKind::Bare, (x_mm, 0.0), (0.0, 0.0)));
    for (trial, shooter) in trials.iter_mut().zip(["a", "a", "b", "b"]) {
        trial.shooter = Some(shooter.into());
    }
    let rest = believed(&trials, (0.0, 0.0)).sideways.knob();
    assert_eq!((rest.mean(), rest.sd()), (0.0, REST_SD));
}

#[test]
fn a_height_is_no_surer_than_what_gravity_and_drag_explain_of_it() {
    let trials = [shot(ArrowKind::Broadhead, (0.0, 30.0), (0.0, 0.0))];
    let belief = believed(&trials, (0.0, 0.0));
    let (_, shot_mm) = belief.unexplained_y_mm(&belief.observations[0]);
    let believed_mm = belief.vertical(Probe::Broadhead, 18.288).sd();
    assert!(
        (believed_mm - shot_mm).abs() < 1e-9,
        "{believed_mm} {shot_mm}"
    );
}

/// Heads may have something of their own: beside many bare shafts that is what is not known of them.
#[test]
fn heads_are_off_the_bow_only_beyond_what_heads_usually_add() {
    let bare = [0.0; 12].map(|x_mm| shot(ArrowKind::Bare, (x_mm, 0.0), (0.0, 0.0)));
    let head_mm = 60.0;
    let head = shot(ArrowKind::Broadhead, (head_mm, 0.0), (0.0, 0.0));
    let trials: Vec<TrialEvidence> = bare.into_iter().chain([head]).collect();
    let belief = believed(&trials, (0.0, 0.0));
    let of_heads = belief.observations.last().unwrap();
    let gain = belief.predictive(Probe::Broadhead, 18.288).gain;
    let off = belief.off_the_bow(of_heads);
    assert!(off < head_mm / (gain * PROBE_EXTRA_SD_MM), "{off}");
}

/// At twice the distance the flight model is not sure how large a split grows, but it is of its side.
#[test]
fn a_large_split_on_the_other_side_does_not_excuse_itself() {
    let near = [60.0, 64.0, 62.0].map(|x_mm| shot(ArrowKind::Bare, (x_mm, 0.0), (0.0, 0.0)));
    let mut far = shot(ArrowKind::Bare, (-300.0, 0.0), (0.0, 0.0));
    if let Shot::Face { distance_m, .. } = &mut far.shot {
        *distance_m = 36.576;
    }
    let trials: Vec<TrialEvidence> = near.into_iter().chain([far]).collect();
    let off = believed(&trials, (0.0, 0.0)).leave_one_out_residuals();
    let (of_far, of_near) = off.split_last().unwrap();
    assert!(
        *of_far > 5.0 && of_near.iter().all(|one| *one < 2.0),
        "{off:?}"
    );
}

/// Bare shafts and heads held against the same field points err alike with these.
#[test]
fn two_probes_that_share_their_reference_say_less_than_two_with_their_own() {
    let bare = shot(ArrowKind::Bare, (40.0, 0.0), (0.0, 0.0));
    let heads = shot(ArrowKind::Broadhead, (40.0, 0.0), (0.0, 0.0));
    let mut both = bare.clone();
    if let Shot::Face { impacts, .. } = &mut both.shot {
        impacts.extend(arrows(ArrowKind::Broadhead, 40.0, 0.0));
    }
    let own = [bare, heads];
    let sd_mm = |trials: &[TrialEvidence]| {
        let belief = believed_at_scatter(trials, (0.0, 0.0), Scatter::of(&own));
        let expected = belief.predictive(Probe::Bare, 18.288);
        belief.sideways.mixture(&expected, 0.0).sd()
    };
    let (shared_mm, own_mm) = (sd_mm(&[both]), sd_mm(&own));
    assert!(shared_mm > 1.001 * own_mm, "{shared_mm} {own_mm}");
}
