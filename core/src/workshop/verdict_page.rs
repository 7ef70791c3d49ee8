//! Everything the screen of a verdict shows.

use std::cmp::Reverse;

use super::{Answer, BowPage, Workshop};
use crate::evidence::SAME_M;
use crate::frame::Probe;
use crate::record::{FittingRecord, Outcome, Trial, VerdictGiven};
use crate::scene::Scene;
use crate::spacer::Fitting;
use crate::store;
use crate::verdict::{Choice, Ending, Verdict};

/// Everything the screen of a verdict shows, in one call.
#[derive(Debug, Clone, PartialEq)]
pub struct VerdictPage {
    /// The verdict.
    pub given: VerdictGiven,
    /// How the work ends, where nothing more pays.
    pub ending: Option<Ending>,
    /// What the verdict asked for.
    pub outcome: Outcome,
    /// The bow as it is now.
    pub bow: BowPage,
    /// What was fitted when the verdict was given; none where that row cannot be read.
    pub then: Option<FittingRecord>,
    /// What the verdict used, newest first.
    pub trials: Vec<Trial>,
    /// The newest face or paper among them, with what is expected on it; none without a trial.
    pub proof: Option<Scene>,
    /// Both fittings side by side, where the verdict asks for a swap that its kit can be drawn with.
    pub change: Option<Scene>,
    /// How far that swap moves the nock plane, mm, positive right.
    pub moves_mm: Option<f64>,
    /// The fittings that were weighed besides the one to have next, best first.
    pub others: Vec<Choice>,
    /// Whether what the verdict asks for changes what is expected sideways.
    pub forecasts: bool,
    /// What the expected split is held against, mm.
    pub tolerance_mm: f64,
    /// Where that is, m, if it is not the distance that the user asks for.
    pub tolerance_at_m: Option<f64>,
    /// Whether no later verdict was given.
    pub newest: bool,
    /// Whether it still speaks about the bow as it is: the newest, on everything that is on record,
    /// and no swap under way.
    pub stands: bool,
}

impl Workshop {
    /// Everything the screen of a verdict shows.
    ///
    /// # Errors
    /// No such verdict, or the file cannot be read.
    pub fn verdict_page(&self, verdict_id: i64) -> Answer<VerdictPage> {
        let reader = self.store.reader();
        let given = store::verdict(reader, verdict_id)?;
        let bow = self.bow_page(given.bow_id)?;
        let mut trials = store::trials(reader, given.bow_id)?;
        trials.retain(|trial| given.trial_ids.contains(&trial.id));
        trials.sort_by_key(|trial| Reverse((trial.at_ms, trial.id)));
        let mut entries = store::fittings(reader, given.bow_id)?.into_iter();
        let then = entries.find(|entry| entry.id == given.fitting_id);
        let from = then.as_ref().map(|entry| &entry.fitting);
        let newest = bow.last_verdict.as_ref().map(|last| last.id) == Some(given.id);
        let wishes = bow.bow.details.wishes(&self.settings()?);
        let verdict = &given.verdict;
        let expected = &verdict.as_it_is;
        let elsewhere = expected.kind != Probe::Paper
            && (expected.distance_m - wishes.tolerance_distance_m).abs() > SAME_M;
        Ok(VerdictPage {
            proof: self.proof_scene(&given, &trials)?,
            change: then.as_ref().and_then(|from| self.asked_for(from, verdict)),
            outcome: Outcome::of(verdict),
            ending: verdict.ending(),
            moves_mm: moves_mm(verdict, from),
            others: others(verdict, from),
            forecasts: verdict.call.moves_sideways(),
            tolerance_mm: wishes.allowed_mm(expected.kind, expected.distance_m),
            tolerance_at_m: elsewhere.then_some(expected.distance_m),
            stands: newest && bow.swap.is_none() && bow.verdict_stands,
            newest,
            trials,
            then,
            bow,
            given,
        })
    }

    /// A kit changed since may not hold the pairs any more; the words stand without a drawing.
    fn asked_for(&self, from: &FittingRecord, verdict: &Verdict) -> Option<Scene> {
        let to = verdict.call.fitting()?;
        self.change_scene(from.kit_id, &from.fitting, to).ok()
    }
}

fn moves_mm(verdict: &Verdict, from: Option<&Fitting>) -> Option<f64> {
    let offset_mm = |fitting: &Fitting| {
        let mut weighed = verdict.options.iter();
        Some(weighed.find(|one| one.fitting == *fitting)?.offset_mm)
    };
    Some(offset_mm(verdict.call.fitting()?)? - offset_mm(from?)?)
}

fn others(verdict: &Verdict, from: Option<&Fitting>) -> Vec<Choice> {
    let next = verdict.call.fitting().or(from);
    let others = verdict.options.iter();
    let mut others: Vec<_> = others
        .filter(|one| Some(&one.fitting) != next)
        .cloned()
        .collect();
    others.sort_by(|a, b| a.loss_mm.total_cmp(&b.loss_mm));
    others
}
