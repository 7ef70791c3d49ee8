//! The drawings the shell shows.

use super::history::groups;
use super::{Answer, History, Workshop};
use crate::frame::{ArrowKind, Probe};
use crate::record::{
    ReferenceUsed, Surface, Trial, TrialDraft, TrialImpact, TrialTear, VerdictGiven,
};
use crate::scene::{
    AxleView, BowView, FaceGround, FaceView, GroupView, HistoryFitting, HistoryPoint, HistoryView,
    MarkView, PlaceView, Scene, TearView, bow_scene, bow_tile_scene, face_scene, history_scene,
    seat_scene, swap_scene, tears_scene,
};
use crate::spacer::{Fitting, Kit, Seat};
use crate::stats::plus_minus;
use crate::store;
use crate::verdict::Predicted;

/// The shaft drawn in a tear where nobody entered the arrow, mm: a usual one.
const USUAL_SHAFT_MM: f64 = 6.0;

impl Workshop {
    /// A fitting, tiny, for the rack.
    ///
    /// # Errors
    /// No such kit; [`super::WorkshopError::Kit`] where the fitting is not of it.
    pub fn tile_scene(&self, kit_id: i64, fitting: &Fitting) -> Answer<Scene> {
        Ok(bow_tile_scene(&self.view(kit_id, fitting)?))
    }

    /// A fitting, large, with its thicknesses.
    ///
    /// # Errors
    /// As [`Workshop::tile_scene`].
    pub fn fitting_scene(&self, kit_id: i64, fitting: &Fitting) -> Answer<Scene> {
        Ok(bow_scene(&self.view(kit_id, fitting)?))
    }

    /// One axle, large, with a seat and its thicknesses.
    ///
    /// # Errors
    /// As [`Workshop::tile_scene`].
    pub fn seat_scene(&self, kit_id: i64, seat: &Seat) -> Answer<Scene> {
        let kit = Kit::new(store::kit(self.store.reader(), kit_id)?.kit)?;
        Ok(seat_scene(&AxleView::of(&kit, seat)?))
    }

    /// Two fittings of one kit side by side: from and to.
    ///
    /// # Errors
    /// As [`Workshop::tile_scene`].
    pub fn change_scene(&self, kit_id: i64, from: &Fitting, to: &Fitting) -> Answer<Scene> {
        Ok(swap_scene(
            &self.view(kit_id, from)?,
            &self.view(kit_id, to)?,
        ))
    }

    /// What was shot in one trial: the face with its groups, or the tears.
    ///
    /// # Errors
    /// No such trial.
    pub fn trial_scene(&self, trial_id: i64) -> Answer<Scene> {
        let trial = store::trial(self.store.reader(), trial_id)?;
        self.shot_scene(trial.bow_id, &trial.shot, None)
    }

    /// What [`Workshop::trial_scene`] draws of a face, with the place that is `expected` of the probe group;
    /// nothing is on it where the trial was shot through paper.
    ///
    /// # Errors
    /// No such trial.
    pub fn face_view(&self, trial_id: i64, expected: Option<&Predicted>) -> Answer<FaceView> {
        let trial = store::trial(self.store.reader(), trial_id)?;
        self.face_of(trial.bow_id, &trial.shot, expected)
    }

    /// The newest face a verdict used, with the place it expects the probe group at after a swap or
    /// a move of the rest that it asks for; the newest tears where it used no face.
    pub(super) fn proof_scene(
        &self,
        given: &VerdictGiven,
        trials: &[Trial],
    ) -> Answer<Option<Scene>> {
        let used = trials
            .iter()
            .filter(|trial| given.trial_ids.contains(&trial.id));
        // A face outranks paper, then the newest counts.
        let shown = used.max_by_key(|trial| (trial.shot.surface == Surface::Face, trial.id));
        let expected = given
            .verdict
            .call
            .moves_sideways()
            .then_some(&given.verdict.predicted);
        shown
            .map(|trial| self.shot_scene(trial.bow_id, &trial.shot, expected))
            .transpose()
    }

    /// The splits of a bow over time, with its swaps and what was expected of them.
    ///
    /// # Errors
    /// Where the file cannot be read.
    pub fn history_scene(&self, bow_id: i64) -> Answer<Scene> {
        self.chart(bow_id, &self.history(bow_id)?, 1.0)
    }

    /// The same, of a history that is at hand, with letters so many times their usual size.
    pub(super) fn chart(&self, bow_id: i64, history: &History, letters: f64) -> Answer<Scene> {
        let entries = store::fittings(self.store.reader(), bow_id)?;
        let bow = store::bow(self.store.reader(), bow_id)?;
        let settings = self.settings()?;
        let fittings = entries.into_iter().map(|entry| HistoryFitting {
            at_ms: entry.at_ms,
            expected: expected_point(history, entry.id, entry.at_ms),
            fitting: entry.fitting,
        });
        Ok(history_scene(&HistoryView {
            fittings: fittings.collect(),
            points: points(history),
            tolerance_mm: bow.details.wishes(&settings).tolerance_mm,
            lengths: settings.length_unit,
            letters,
        }))
    }

    fn view(&self, kit_id: i64, fitting: &Fitting) -> Answer<BowView> {
        let kit = Kit::new(store::kit(self.store.reader(), kit_id)?.kit)?;
        Ok(BowView::of(&kit, fitting)?)
    }

    fn shot_scene(
        &self,
        bow_id: i64,
        shot: &TrialDraft,
        predicted: Option<&Predicted>,
    ) -> Answer<Scene> {
        if shot.surface == Surface::Paper {
            return Ok(tears_scene(&self.tears(shot)?));
        }
        Ok(face_scene(&self.face_of(bow_id, shot, predicted)?))
    }

    fn face_of(
        &self,
        bow_id: i64,
        shot: &TrialDraft,
        predicted: Option<&Predicted>,
    ) -> Answer<FaceView> {
        let bow = store::bow(self.store.reader(), bow_id)?;
        let settings = self.settings()?;
        let wishes = bow.details.wishes(&settings);
        let groups = groups(shot);
        let reference = groups
            .iter()
            .find(|group| group.kind == ArrowKind::Fletched);
        let expected = reference.zip(predicted).map(|(reference, predicted)| {
            let kind = predicted.kind.arrow();
            let probe = groups.iter().find(|group| group.kind == kind);
            PlaceView::sideways(
                kind,
                reference.centre,
                probe.unwrap_or(reference).centre.y_mm,
                (predicted.low80_mm, predicted.high80_mm),
            )
        });
        Ok(FaceView {
            ground: ground(shot),
            marks: marks(shot),
            groups: groups
                .iter()
                .map(|group| GroupView {
                    kind: group.kind,
                    centre: group.centre,
                    cov: group.cov,
                })
                .collect(),
            expected,
            tolerance_mm: Some(wishes.allowed_mm(Probe::Bare, shot.distance_m)),
            lengths: settings.length_unit,
        })
    }

    fn tears(&self, shot: &TrialDraft) -> Answer<Vec<TearView>> {
        let arrows = shot.arrow_setup_id;
        let arrows = arrows
            .map(|id| store::arrows(self.store.reader(), id))
            .transpose()?;
        let shaft_mm = arrows.and_then(|record| record.setup.diameter_mm);
        let view = |tear: &TrialTear| TearView {
            tear: tear.tear,
            plus_minus_mm: plus_minus(tear.sd_mm),
            shaft_mm: shaft_mm.unwrap_or(USUAL_SHAFT_MM),
        };
        Ok(shot.tears.iter().map(view).collect())
    }
}

fn ground(shot: &TrialDraft) -> FaceGround {
    match shot.plane.as_ref().map(|plane| plane.reference) {
        Some(ReferenceUsed::Sheet {
            width_mm,
            height_mm,
        }) => FaceGround::Sheet {
            width_mm,
            height_mm,
        },
        _ => FaceGround::Blank,
    }
}

fn marks(shot: &TrialDraft) -> Vec<MarkView> {
    let mark = |impact: &TrialImpact| MarkView {
        kind: impact.kind,
        at: impact.at,
        number: impact.arrow_number.map(i64::from),
        excluded: impact.excluded.is_some(),
    };
    shot.impacts.iter().map(mark).collect()
}

fn points(history: &History) -> Vec<HistoryPoint> {
    let point = |shot: &super::TrialSplit| HistoryPoint {
        at_ms: shot.at_ms,
        kind: shot.kind,
        x_mm: shot.x.value_mm,
        low_mm: shot.x.low95_mm,
        high_mm: shot.x.high95_mm,
    };
    history.splits.iter().map(point).collect()
}

fn expected_point(history: &History, fitting_id: i64, at_ms: i64) -> Option<HistoryPoint> {
    let forecast = history
        .forecasts
        .iter()
        .find(|one| one.fitting_id == fitting_id)?;
    Some(HistoryPoint {
        at_ms,
        kind: forecast.kind,
        x_mm: forecast.expected_mm,
        low_mm: forecast.expected_low95_mm,
        high_mm: forecast.expected_high95_mm,
    })
}
