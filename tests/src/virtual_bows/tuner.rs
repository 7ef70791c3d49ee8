//! A technician who does what the verdict says.

use shimwright::evidence::{Probe, Reading, Shot, TrialEvidence};
use shimwright::flight::TransferTable;
use shimwright::frame::ArrowKind;
use shimwright::group::Impact;
use shimwright::spacer::{Fitting, Kit};
use shimwright::verdict::{Adjustment, BowState, Call, Case, Predicted, Settings, decide};

use super::{Bow, TWENTY_YD_M};

/// Rounds after which the work is broken off.
const MOST_ROUNDS: u32 = 14;

/// What tuning one bow took and where it ended.
#[derive(Debug, Clone, Default)]
pub struct Outcome {
    /// Times the bow went into the press.
    pub presses: u32,
    /// Axles opened.
    pub axles: u32,
    /// Arrows shot.
    pub arrows: u32,
    /// The true split at 20 yd at the end, mm.
    pub final_mm: f64,
    /// Whether the work was broken off or sent elsewhere.
    pub sent_away: bool,
    /// Whether each prediction's 80 % and 95 % interval held the true split after the swap.
    pub covered: Vec<(bool, bool)>,
    /// Chance of a wrong-way answer that was stated after the first swap, where there was one.
    pub wrong_way_after_first: Option<f64>,
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
    pub fn plain(settings: Settings) -> Self {
        Self {
            settings: Settings {
                priority: vec![Probe::Bare],
                ..settings
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
    outcome: Outcome,
}

/// Tunes a bow by following verdicts from `start` until it says keep.
pub fn follow_verdicts(
    bow: &mut Bow,
    kit: &Kit,
    start: Fitting,
    plan: &Plan,
    table: &TransferTable,
) -> Outcome {
    let case = Case {
        kit: kit.clone(),
        stock: None,
        bow: BowState {
            axle_to_axle_mm: 838.0,
            top_weight: 0.5,
            fitted: start,
            rest_mm: None,
            nock_mm: None,
            epoch: None,
        },
        settings: plan.settings.clone(),
        trials: Vec::new(),
        checks: Vec::new(),
    };
    let mut job = Job {
        bow,
        plan,
        case,
        rounds: 0,
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
        if !job.act(verdict.call, &verdict.predicted) {
            break;
        }
    }
    job.outcome.sent_away |= job.rounds >= MOST_ROUNDS;
    job.outcome.final_mm = job.truth_mm();
    job.outcome
}

impl Job<'_, '_> {
    /// Does what the verdict says; false at the end.
    fn act(&mut self, call: Call, predicted: &Predicted) -> bool {
        match call {
            Call::Keep { .. } => return false,
            Call::ShootMore {
                bare,
                fletched,
                distance_m,
                ..
            } => {
                self.shoot(bare.max(fletched), Some(distance_m));
            }
            Call::Fit { fitting } => self.swap(fitting, predicted),
            Call::AdjustFirst { what } => return self.adjust(&what),
        }
        true
    }

    fn swap(&mut self, fitting: Fitting, predicted: &Predicted) {
        self.outcome.axles += self.case.bow.fitted.changes_to(&fitting).len() as u32;
        self.outcome.presses += 1;
        self.case.bow.fitted = fitting;
        let truth = self.truth_mm();
        self.outcome.covered.push((
            (predicted.low80_mm..=predicted.high80_mm).contains(&truth),
            (predicted.low95_mm..=predicted.high95_mm).contains(&truth),
        ));
        self.shoot(3, None);
    }

    /// Leaves out an arrow, or drops a trial and shoots it again, as asked; else stops.
    fn adjust(&mut self, what: &Adjustment) -> bool {
        match what {
            Adjustment::Arrow { trial, index, .. } => {
                let found = self.case.trials.iter_mut().find(|known| known.id == *trial);
                if let Some(Shot::Face { impacts, .. }) = found.map(|trial| &mut trial.shot)
                    && let Some(impact) = impacts.get_mut(*index as usize)
                {
                    impact.excluded = Some("flier".into());
                }
                true
            }
            Adjustment::Contradiction { trial } => {
                self.case.trials.retain(|known| known.id != *trial);
                self.shoot(3, None);
                true
            }
            _ => {
                self.outcome.sent_away = true;
                false
            }
        }
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
            rest_mm: 0.0,
            nock_mm: 0.0,
            epoch: 0,
            shot: Shot::Face {
                distance_m: said_m,
                impacts,
                reading: Reading::default(),
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
