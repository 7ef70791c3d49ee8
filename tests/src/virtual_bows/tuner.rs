//! A technician who does what the verdict says.

use shimwright::evidence::{FaceAccuracy, Probe, Relative, Shot, TrialEvidence};
use shimwright::flight::TransferTable;
use shimwright::frame::ArrowKind;
use shimwright::group::Impact;
use shimwright::spacer::{Fitting, Kit};
use shimwright::verdict::{
    Adjustment, Arrows, BowState, Call, Case, Knob, Predicted, RestRoom, Settings, SplitReading,
    Trim, Verification, decide, verify,
};

use super::{Bow, TWENTY_YD_M};

/// Rounds after which the work is broken off.
const MOST_ROUNDS: u32 = 16;
/// Minutes of a round of arrows, of a rest or nocking-point move on top of it, of a press job.
pub(super) const ROUND_MINUTES: f64 = 10.0;
pub(super) const MOVE_MINUTES: f64 = 3.0;
pub(super) const PRESS_MINUTES: f64 = 30.0;

/// What tuning one bow took and where it ended.
#[derive(Debug, Clone, Default)]
pub struct Outcome {
    /// Times the bow went into the press.
    pub presses: u32,
    /// Axles opened.
    pub axles: u32,
    /// Arrows shot.
    pub arrows: u32,
    /// Minutes of work: rounds, moves and press jobs.
    pub minutes: f64,
    /// Moves of the rest.
    pub trims: u32,
    /// The true split at 20 yd at the start, mm.
    pub start_mm: f64,
    /// The least that any fitting of the kit would leave, mm.
    pub best_mm: f64,
    /// The true split at 20 yd at the end, mm.
    pub final_mm: f64,
    /// Whether the work was broken off after too many rounds.
    pub broken_off: bool,
    /// Times another adjustment was asked for: arrow, trial, vertical, spine or contact.
    pub adjusted: [u32; 4],
    /// Whether each prediction's 80 % and 95 % interval held the true split after the swap.
    pub covered: Vec<(bool, bool)>,
    /// How each prediction held against what was shot after the swap.
    pub verifications: Vec<Verification>,
    /// Chance of a wrong-way answer that was stated after the first swap, where there was one.
    pub wrong_way_after_first: Option<f64>,
    /// The chance stated by the last verdict, where the bow was swapped at all.
    pub wrong_way_at_the_end: Option<f64>,
}

/// How a technician works.
#[derive(Debug, Clone)]
pub struct Plan {
    /// Settings handed to the verdict.
    pub settings: Settings,
    /// Distances that trials rotate through, m.
    pub distances_m: Vec<f64>,
    /// Whether splits are divided by distance before they are handed over (the trade's way).
    pub divide_by_distance: bool,
}

impl Plan {
    /// Everything at 20 yd, bare shafts only.
    pub fn plain(settings: &Settings) -> Self {
        Self {
            settings: Settings {
                priority: vec![Probe::Bare],
                rest_room_mm: RestRoom {
                    left: 0.0,
                    right: 0.0,
                },
                ..settings.clone()
            },
            distances_m: vec![TWENTY_YD_M],
            divide_by_distance: false,
        }
    }
}

struct Job<'a, 'b> {
    bow: &'a mut Bow<'b>,
    plan: &'a Plan,
    case: Case,
    rounds: u32,
    nock_mm: f64,
    epoch: i64,
    expected: Option<Predicted>,
    outcome: Outcome,
}

/// A bow with a fitting, nothing else recorded.
fn as_fitted(fitted: Fitting) -> BowState {
    BowState {
        axle_to_axle_mm: 838.0,
        top_weight: 0.5,
        fitted,
        rest_mm: None,
        nock_mm: None,
        epoch: None,
    }
}

/// Tunes a bow by following verdicts from `start` until it is settled or spacers cannot do it.
pub fn follow_verdicts(
    bow: &mut Bow,
    kit: &Kit,
    start: Fitting,
    plan: &Plan,
    relatives: Vec<Relative>,
    table: &TransferTable,
) -> Outcome {
    let case = Case {
        relatives,
        ..Case::new(kit.clone(), as_fitted(start), plan.settings.clone())
    };
    let mut job = Job {
        bow,
        plan,
        case,
        rounds: 0,
        nock_mm: 0.0,
        epoch: 0,
        expected: None,
        outcome: Outcome::default(),
    };
    job.shoot(3, None);
    while job.rounds < MOST_ROUNDS {
        job.rounds += 1;
        let Ok(verdict) = decide(&job.case, table) else {
            break;
        };
        if job.outcome.presses == 1 && job.outcome.wrong_way_after_first.is_none() {
            job.outcome.wrong_way_after_first = Some(verdict.response.wrong_way_chance);
        }
        if job.outcome.presses > 0 {
            job.outcome.wrong_way_at_the_end = Some(verdict.response.wrong_way_chance);
        }
        job.compare(&verdict.splits);
        if !job.act(&verdict.call, &verdict.predicted) {
            break;
        }
    }
    job.outcome.broken_off = job.rounds >= MOST_ROUNDS;
    job.outcome.final_mm = job.truth_mm();
    job.outcome
}

impl Job<'_, '_> {
    /// Does what the verdict says; false at the end.
    fn act(&mut self, call: &Call, predicted: &Predicted) -> bool {
        match call {
            Call::Stop | Call::SpacersCannot => return false,
            Call::ShootMore { arrows } => self.round(arrows),
            Call::Fit { fitting, .. } => self.swap(fitting.clone(), predicted),
            Call::Trim {
                knob: Knob::Rest,
                trim,
                ..
            } => self.move_rest(trim),
            Call::Trim { trim, .. } => self.move_nock(trim),
            Call::AdjustFirst { what } => self.adjust(what),
        }
        true
    }

    fn round(&mut self, arrows: &Arrows) {
        self.shoot(arrows.bare.max(arrows.fletched), Some(arrows.distance_m));
    }

    fn move_rest(&mut self, trim: &Trim) {
        self.outcome.minutes += MOVE_MINUTES;
        self.outcome.trims += 1;
        self.bow.rest_mm += trim.move_mm;
        self.case.bow.rest_mm = Some(self.bow.rest_mm);
        let room = &mut self.case.settings.rest_room_mm;
        room.left = (room.left + trim.move_mm).max(0.0);
        room.right = (room.right - trim.move_mm).max(0.0);
        self.shoot(3, None);
    }

    fn move_nock(&mut self, trim: &Trim) {
        self.outcome.minutes += MOVE_MINUTES;
        self.nock_mm += trim.move_mm;
        self.bow.raise_nock(trim.move_mm);
        self.shoot(3, None);
    }

    fn swap(&mut self, fitting: Fitting, predicted: &Predicted) {
        self.outcome.axles += self.case.bow.fitted.changes_to(&fitting).len() as u32;
        self.outcome.presses += 1;
        self.outcome.minutes += PRESS_MINUTES;
        self.case.bow.fitted = fitting;
        let truth = self.truth_mm();
        self.outcome.covered.push((
            (predicted.low80_mm..=predicted.high80_mm).contains(&truth),
            (predicted.low95_mm..=predicted.high95_mm).contains(&truth),
        ));
        self.shoot(3, None);
        self.expected = Some(*predicted);
    }

    /// Compares the last prediction with the splits as the verdict reads them now.
    fn compare(&mut self, splits: &[SplitReading]) {
        if let Some(expected) = self.expected.take() {
            self.outcome
                .verifications
                .extend(splits.iter().find_map(|shot| verify(&expected, shot)));
        }
    }

    /// Does what is asked: leaves out an arrow, shoots a trial again, moves the nocking point, or
    /// changes the arrows, which starts a new epoch.
    fn adjust(&mut self, what: &Adjustment) {
        match what {
            Adjustment::Arrow { trial, index, .. } => {
                self.outcome.adjusted[0] += 1;
                self.shoot_again(*trial, *index as usize);
            }
            Adjustment::Contradiction { trial, .. } => {
                self.outcome.adjusted[1] += 1;
                self.case.trials.retain(|known| known.id != *trial);
                self.shoot(3, None);
            }
            Adjustment::Vertical { trim, .. } => {
                self.outcome.adjusted[2] += 1;
                self.move_nock(trim);
            }
            Adjustment::ConfirmSwap { arrows, .. } => self.round(arrows),
            _ => {
                self.outcome.adjusted[3] += 1;
                self.epoch += 1;
                self.bow.change_arrows();
                self.shoot(3, None);
            }
        }
    }

    /// Leaves an arrow out and shoots it again, on the same face.
    fn shoot_again(&mut self, trial: i64, index: usize) {
        let offset_mm = self.offset_mm();
        let found = self.case.trials.iter_mut().find(|known| known.id == trial);
        let Some(Shot::Face {
            impacts,
            distance_m,
            ..
        }) = found.map(|trial| &mut trial.shot)
        else {
            return;
        };
        let Some(out) = impacts.get_mut(index) else {
            return;
        };
        out.excluded = Some("flier".into());
        let kind = out.kind;
        let again = self.bow.again(kind, *distance_m, offset_mm);
        impacts.push(again);
        self.outcome.arrows += 1;
        self.outcome.minutes += MOVE_MINUTES;
    }

    fn offset_mm(&self) -> f64 {
        let arrangement = self
            .case
            .kit
            .arrangement(&self.case.bow.fitted, &self.case.bow.geometry());
        arrangement.map_or(f64::NAN, |arrangement| arrangement.offset_mm)
    }

    fn truth_mm(&self) -> f64 {
        self.bow
            .split_mm(ArrowKind::Bare, TWENTY_YD_M, self.offset_mm())
    }

    fn shoot(&mut self, count: u32, distance_m: Option<f64>) {
        let turn = self.case.trials.len() % self.plan.distances_m.len();
        let rotated = self.plan.distances_m[turn];
        let distance_m = if self.plan.distances_m.len() > 1 {
            rotated
        } else {
            distance_m.unwrap_or(rotated)
        };
        let offset_mm = self.offset_mm();
        let mut impacts = self
            .bow
            .shoot(ArrowKind::Bare, count, distance_m, offset_mm);
        self.outcome.arrows += 2 * count;
        self.outcome.minutes += ROUND_MINUTES;
        let mut said_m = distance_m;
        if self.plan.divide_by_distance {
            said_m = TWENTY_YD_M;
            divide(&mut impacts, distance_m / TWENTY_YD_M);
        }
        let id = self.case.trials.last().map_or(1, |last| last.id + 1);
        self.case.trials.push(TrialEvidence {
            id,
            fitted: Some(self.case.bow.fitted.clone()),
            offset_mm: None,
            rest_mm: self.bow.rest_mm,
            nock_mm: self.nock_mm,
            epoch: self.epoch,
            shooter: None,
            shot: Shot::Face {
                distance_m: said_m,
                impacts,
                reading: FaceAccuracy::default(),
            },
        });
    }
}

fn divide(impacts: &mut [Impact], by: f64) {
    for impact in impacts {
        impact.point.x_mm /= by;
        impact.point.y_mm /= by;
    }
}

/// What another bow of the family left in the record: three and three as it came in and after one
/// swap to the other end of its kit, twice over.
pub fn relative(mut bow: Bow, places: &[(f64, Fitting)], start: usize) -> Relative {
    let away = if start < places.len() / 2 {
        places.len() - 1
    } else {
        0
    };
    let trials = [start, away, away].into_iter().zip(1..).map(|(place, id)| {
        let offset_mm = places[place].0;
        TrialEvidence {
            id,
            fitted: None,
            offset_mm: Some(offset_mm),
            rest_mm: 0.0,
            nock_mm: 0.0,
            epoch: 0,
            shooter: None,
            shot: Shot::Face {
                distance_m: TWENTY_YD_M,
                impacts: bow.shoot(ArrowKind::Bare, 3, TWENTY_YD_M, offset_mm),
                reading: FaceAccuracy::default(),
            },
        }
    });
    Relative {
        trials: trials.collect(),
    }
}
