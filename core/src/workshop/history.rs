//! The history of a bow: what happened, how the split moved, and how well verdicts foretold it.

use super::evidence::{as_shot, impacts};
use super::{Answer, Workshop};
use crate::evidence::{TrialEvidence, splits_of};
use crate::frame::{ArrowKind, Probe};
use crate::group::Group;
use crate::record::{
    ChangeRecord, FittingRecord, MoreArrows, Outcome, Surface, Trial, TrialDraft, VerdictGiven,
};
use crate::scene::Scene;
use crate::split::{AxisSplit, Reality, Split};
use crate::store::{self, Unread};
use crate::verdict::{Predicted, SplitReading, TrackRecord, Verification, track_record, verify};

/// One thing that happened to a bow.
#[derive(Debug, Clone, PartialEq)]
pub enum Happening {
    /// Spacers were fitted, or found.
    Fitted {
        /// The entry.
        entry: FittingRecord,
    },
    /// Something was shot.
    Shot {
        /// The trial.
        trial_id: i64,
        /// Face or paper.
        surface: Surface,
        /// Distance, m.
        distance_m: f64,
        /// Arrows or tears of each kind.
        arrows: MoreArrows,
        /// Whether it counts; struck trials stay in the list.
        counts: bool,
        /// When, epoch ms.
        at_ms: i64,
    },
    /// A verdict was given.
    Judged {
        /// The verdict.
        verdict_id: i64,
        /// What it asked for.
        outcome: Outcome,
        /// When, epoch ms.
        at_ms: i64,
    },
    /// The set-up was changed.
    Changed {
        /// The change; struck ones stay in the list.
        record: ChangeRecord,
    },
}

/// A split as it was shot in one trial, with this bow's pooled scatter.
#[derive(Debug, Clone, PartialEq)]
pub struct TrialSplit {
    /// The trial.
    pub trial_id: i64,
    /// The entry of the list of fittings it was shot on.
    pub fitting_id: i64,
    /// When, epoch ms.
    pub at_ms: i64,
    /// Bare shafts or broadheads.
    pub kind: ArrowKind,
    /// Where it was shot, m.
    pub distance_m: f64,
    /// Probe arrows that count.
    pub probe_arrows: u32,
    /// Fletched arrows that count.
    pub reference_arrows: u32,
    /// Sideways, positive right.
    pub x: AxisSplit,
    /// Up and down, positive up.
    pub y: AxisSplit,
    /// Whether the sideways split is more than scatter.
    pub reality: Reality,
    /// The same as the verdict reads it.
    pub reading: SplitReading,
}

/// What a verdict foretold, held against the first comparable trial after its swap.
#[derive(Debug, Clone, PartialEq)]
pub struct Forecast {
    /// The verdict.
    pub verdict_id: i64,
    /// The entry that carried it out.
    pub fitting_id: i64,
    /// The trial that tested it.
    pub trial_id: i64,
    /// Which arrows.
    pub kind: ArrowKind,
    /// At this distance, m.
    pub distance_m: f64,
    /// What was expected sideways, mm.
    pub expected_mm: f64,
    /// 95 % interval of the forecast, lower end, mm.
    pub expected_low95_mm: f64,
    /// 95 % interval of the forecast, upper end, mm.
    pub expected_high95_mm: f64,
    /// What was shot, mm.
    pub shot_mm: f64,
    /// 95 % interval of what was shot, lower end, mm.
    pub shot_low95_mm: f64,
    /// 95 % interval of what was shot, upper end, mm.
    pub shot_high95_mm: f64,
    /// How far off it was in standard deviations of the difference.
    pub sds: f64,
    /// Whether the difference lies in its 80 % interval.
    pub within_80: bool,
    /// Whether the difference lies in its 95 % interval.
    pub within_95: bool,
}

/// Everything the history screen shows.
#[derive(Debug, Clone, PartialEq)]
pub struct History {
    /// What happened, newest first.
    pub happenings: Vec<Happening>,
    /// Every split on a face, oldest first.
    pub splits: Vec<TrialSplit>,
    /// Every prediction that was put to the test, oldest first.
    pub forecasts: Vec<Forecast>,
    /// How well they held, all of this bow's together.
    pub track: TrackRecord,
    /// What is on record and cannot be read: it is missing above.
    pub unread: Vec<Unread>,
}

/// Everything the history screen shows, in one call.
#[derive(Debug, Clone, PartialEq)]
pub struct HistoryPage {
    /// The bow's name.
    pub name: String,
    /// What happened.
    pub history: History,
    /// The splits drawn over time; none before there is one.
    pub chart: Option<Scene>,
    /// What is fitted.
    pub fitted: Option<FittingRecord>,
    /// Whether a swap is under way, during which nothing can be put back.
    pub swapping: bool,
    /// Entries recorded apart that differ: which one is in the bow is for a person to say.
    pub contested: Vec<FittingRecord>,
}

impl Workshop {
    /// Everything the history screen shows, its chart with letters `letters` times their usual size
    /// (1 to 2).
    ///
    /// # Errors
    /// No such bow, or the file cannot be read.
    pub fn history_page(&self, bow_id: i64, letters: f64) -> Answer<HistoryPage> {
        let reader = self.store.reader();
        let history = self.history(bow_id)?;
        let chart = (!history.splits.is_empty()).then(|| self.chart(bow_id, &history, letters));
        Ok(HistoryPage {
            name: store::bow(reader, bow_id)?.details.name,
            chart: chart.transpose()?,
            fitted: store::fitted(reader, bow_id)?,
            swapping: store::swap(reader, bow_id)?.is_some(),
            contested: store::contested(reader, bow_id)?,
            history,
        })
    }

    /// The history of a bow.
    ///
    /// # Errors
    /// Where the file cannot be read.
    pub fn history(&self, bow_id: i64) -> Answer<History> {
        let reader = self.store.reader();
        let entries = store::fittings(reader, bow_id)?;
        let trials = store::trials(reader, bow_id)?;
        let verdicts = store::verdicts(reader, bow_id)?;
        let changes = store::recorded_changes(reader, bow_id)?.into_iter();
        let changes = changes.map(|entry| entry.record).collect();
        let splits = splits(&trials);
        let (forecasts, verified): (Vec<Forecast>, Vec<Verification>) =
            forecasts(&entries, &verdicts, &splits).into_iter().unzip();
        Ok(History {
            forecasts,
            track: track_record(&verified),
            happenings: happenings(entries, &trials, &verdicts, changes),
            splits,
            unread: store::unread_of(reader, bow_id)?,
        })
    }
}

fn happenings(
    entries: Vec<FittingRecord>,
    trials: &[Trial],
    verdicts: &[VerdictGiven],
    changes: Vec<ChangeRecord>,
) -> Vec<Happening> {
    let fitted = entries.into_iter().map(|entry| Happening::Fitted { entry });
    let shot = trials.iter().map(|trial| Happening::Shot {
        trial_id: trial.id,
        surface: trial.shot.surface,
        distance_m: trial.shot.distance_m,
        arrows: arrows(trial),
        counts: trial.counts(),
        at_ms: trial.at_ms,
    });
    let judged = verdicts.iter().map(|given| Happening::Judged {
        verdict_id: given.id,
        outcome: Outcome::of(&given.verdict),
        at_ms: given.at_ms,
    });
    let changed = changes
        .into_iter()
        .map(|record| Happening::Changed { record });
    let mut all: Vec<Happening> = fitted.chain(changed).chain(shot).chain(judged).collect();
    all.sort_by_key(|happening| std::cmp::Reverse(happening.at_ms()));
    all
}

impl Happening {
    /// When, epoch ms.
    pub fn at_ms(&self) -> i64 {
        match self {
            Self::Fitted { entry } => entry.at_ms,
            Self::Changed { record } => record.change.at_ms,
            Self::Shot { at_ms, .. } | Self::Judged { at_ms, .. } => *at_ms,
        }
    }
}

fn arrows(trial: &Trial) -> MoreArrows {
    let of = |kind| {
        let hits = trial.shot.impacts.iter().filter(|mark| mark.kind == kind);
        hits.count() as u32
    };
    MoreArrows {
        bare: of(ArrowKind::Bare),
        fletched: of(ArrowKind::Fletched),
        broadhead: of(ArrowKind::Broadhead),
        paper: trial.shot.tears.len() as u32,
    }
}

/// The groups of one face, the fletched one first.
pub(super) fn groups(shot: &TrialDraft) -> Vec<Group> {
    let marks = impacts(shot);
    [ArrowKind::Fletched, ArrowKind::Bare, ArrowKind::Broadhead]
        .into_iter()
        .filter_map(|kind| Group::of(kind, &marks).ok())
        .collect()
}

/// The splits of every face that counts, read as the verdict reads them.
pub(super) fn splits(trials: &[Trial]) -> Vec<TrialSplit> {
    let counted: Vec<&Trial> = trials.iter().filter(|trial| trial.counts()).collect();
    let shot: Vec<TrialEvidence> = counted.iter().map(|trial| as_shot(trial)).collect();
    let of_trials = counted.into_iter().zip(splits_of(&shot));
    of_trials
        .flat_map(|(trial, splits)| {
            let faces = splits.into_iter().filter(|one| one.probe != Probe::Paper);
            faces.map(|split| TrialSplit::of(trial, split))
        })
        .collect()
}

/// Predictions that were put to the test: each against the first split that can test it.
fn forecasts(
    entries: &[FittingRecord],
    verdicts: &[VerdictGiven],
    splits: &[TrialSplit],
) -> Vec<(Forecast, Verification)> {
    let carried_out = entries.iter().filter_map(|entry| {
        let id = entry.verdict_id?;
        Some((entry, verdicts.iter().find(|given| given.id == id)?))
    });
    let tested = carried_out.flat_map(|(entry, given)| {
        let predictions = given.verdict.predictions.iter();
        predictions.filter_map(move |predicted| {
            let mut shot = splits.iter().filter(|shot| shot.fitting_id == entry.id);
            shot.find_map(|shot| {
                let verified = verify(predicted, &shot.reading)?;
                Some((
                    Forecast::of(entry, given.id, predicted, shot, &verified),
                    verified,
                ))
            })
        })
    });
    tested.collect()
}

impl TrialSplit {
    fn of(trial: &Trial, split: Split) -> Self {
        let x = split.x();
        Self {
            trial_id: trial.id,
            fitting_id: trial.fitting_id,
            at_ms: trial.at_ms,
            kind: split.probe.arrow(),
            distance_m: split.distance_m,
            probe_arrows: split.n_probe,
            reference_arrows: split.n_reference,
            reality: x.reality,
            x,
            y: split.y(),
            reading: SplitReading::from(&split),
        }
    }
}

impl Forecast {
    fn of(
        entry: &FittingRecord,
        verdict_id: i64,
        predicted: &Predicted,
        shot: &TrialSplit,
        verified: &Verification,
    ) -> Self {
        Self {
            verdict_id,
            fitting_id: entry.id,
            trial_id: shot.trial_id,
            kind: shot.kind,
            distance_m: shot.distance_m,
            expected_mm: verified.predicted_mm,
            expected_low95_mm: predicted.low95_mm,
            expected_high95_mm: predicted.high95_mm,
            shot_mm: verified.shot_mm,
            shot_low95_mm: shot.x.low95_mm,
            shot_high95_mm: shot.x.high95_mm,
            sds: verified.miss_mm / verified.sd_mm.max(f64::MIN_POSITIVE),
            within_80: verified.in80,
            within_95: verified.in95,
        }
    }
}
