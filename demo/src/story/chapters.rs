//! The story from the first face to the last look-up.

use super::advice::{forecast, tell_verdict};
use super::bench::{Shot, WIDTH_PX};
use super::{Story, scenario, workshop_file};
use crate::case::told;
use crate::words;
use shimwright::record::{ChangeKind, FittingReason, FittingRecord, SetupChange, VerdictGiven};
use shimwright::scene::{ComparedShot, FaceView, compare_scene};
use shimwright::spacer::{Fitting, Kit};
use shimwright::swap::{Caution, Found, Step};
use shimwright::units::TWENTY_YARDS_M;
use shimwright::verdict::{Arrows, Call, Knob, Predicted, SETTLING_SHOTS, Trim, Verdict};
use shimwright::workshop::Workshop;
use std::path::Path;

impl Story<'_> {
    /// The face before the swap.
    pub(super) fn face_before(&mut self) -> Result<(Shot, i64), String> {
        self.teller
            .chapter("A face at 20 yd: three fletched arrows, three bare shafts");
        let (shot, trial_id) = self.photograph("before", TWENTY_YARDS_M)?;
        self.teller.say(&shot.snapped());
        shot.show_found(&mut self.teller, "before")?;
        Ok((shot, trial_id))
    }

    /// Asks for the verdict and does as it says, round after round, until it wants the press.
    pub(super) fn decide(&mut self, before: &Shot, before_id: i64) -> Result<VerdictGiven, String> {
        self.teller.chapter("The verdict");
        let mut given = self.advise()?;
        self.tell(&given.verdict);
        loop {
            match given.verdict.call {
                Call::Trim { knob, trim, .. } => self.trim(knob, trim)?,
                Call::ShootMore { arrows } => self.shoot_more(&arrows)?,
                _ => break,
            }
            if self.clock > scenario::PATIENCE_MINUTES {
                return Err("the verdict keeps asking for what the demo does not have".into());
            }
            given = self.advise()?;
            self.tell(&given.verdict);
        }
        let Verdict {
            call, predicted, ..
        } = &given.verdict;
        let expected = call.moves_sideways().then_some(predicted);
        let view = self.face_view(before_id, expected)?;
        before.show_face(&mut self.teller, "before-face", view)?;
        Ok(given)
    }

    fn shoot_more(&mut self, arrows: &Arrows) -> Result<(), String> {
        self.teller
            .chapter("The arrows it asked for, offsets typed in without a photo");
        self.save(&scenario::further(arrows.fletched, arrows.bare))?;
        Ok(())
    }

    /// Moves rest or nocking point as asked, and shoots again: before and after.
    fn trim(&mut self, knob: Knob, trim: Trim) -> Result<(), String> {
        let page = self.workshop.bow_page(self.bow_id).map_err(told)?;
        let (kind, from_mm) = match knob {
            Knob::Rest => (ChangeKind::RestMoved, page.setup.rest_mm),
            Knob::Nock => (ChangeKind::NockMoved, page.setup.nock_mm),
        };
        let place_mm = from_mm + trim.move_mm;
        let back = place_mm.abs() < scenario::SAME_PLACE_MM;
        self.teller.chapter(if back {
            "Put back, and shot again; offsets typed in"
        } else {
            "Moved, and shot again; offsets typed in"
        });
        let change = SetupChange {
            kind,
            value_mm: Some(place_mm),
            note: String::new(),
            at_ms: self.later(3),
        };
        self.workshop
            .record_change(self.bow_id, &change)
            .map_err(told)?;
        self.look_again(3)?;
        self.save(&scenario::after_rest_move(place_mm))?;
        Ok(())
    }

    /// Tears in the same paper as before the swap: with the faces they teach most.
    pub(super) fn paper_after(&mut self) -> Result<(), String> {
        self.teller
            .chapter("The same paper after the swap, tears read with a rule");
        let tears = scenario::tears_after();
        self.save(&tears)?;
        for tear in &tears.tears {
            self.teller.item(&words::tear(tear.tear.x_mm));
        }
        Ok(())
    }

    pub(super) fn tell(&mut self, verdict: &Verdict) {
        tell_verdict(&mut self.teller, verdict);
    }

    /// Cautions, then every step; the record changes after the last.
    pub(super) fn swap(&mut self, given: &VerdictGiven) -> Result<(), String> {
        let Call::Fit { fitting, .. } = &given.verdict.call else {
            return Err(format!(
                "the demo expects a swap here, not: {}",
                words::answer(&given.verdict)
            ));
        };
        if *fitting != scenario::as_photographed_after() {
            return Err(format!(
                "the photos after the swap were shot with another fitting than {}",
                words::fitting(fitting)
            ));
        }
        self.teller.chapter("The swap");
        let from = scenario::as_taken_in();
        let scene = self
            .workshop
            .change_scene(self.kit_id, &from, fitting)
            .map_err(told)?;
        self.teller.picture("swap", &scene, WIDTH_PX, None)?;
        self.tell_cam_moves(&from, fitting)?;
        self.walk(fitting, given.id)
    }

    fn tell_cam_moves(&mut self, from: &Fitting, to: &Fitting) -> Result<(), String> {
        let kit = Kit::new(scenario::kit()).map_err(told)?;
        for change in from.changes_to(to) {
            let offset_mm = |seat| kit.cam_offset_mm(seat).map_err(told);
            let shift_mm = offset_mm(&change.to)? - offset_mm(&change.from)?;
            self.teller.say(&words::cam_move(change.axle, shift_mm));
        }
        Ok(())
    }

    fn walk(&mut self, to: &Fitting, verdict_id: i64) -> Result<(), String> {
        let now = self.later(6);
        let reason = FittingReason::Verdict;
        let started = self
            .workshop
            .start_swap(self.bow_id, to, reason, Some(verdict_id), now);
        let mut page = started.map_err(told)?;
        self.cautions(&page.steps);
        let steps = page.steps.len();
        let mut number = 0;
        while let Some(step) = page.current.clone() {
            number += 1;
            self.teller
                .row(&format!("{number:>2}/{steps} {}", words::step(&step)));
            let now = self.later(1);
            page = if step.kind.wants_answer() {
                self.teller.row("      As recorded.");
                self.workshop
                    .swap_found(self.bow_id, &Found::AsRecorded, now)
            } else {
                self.workshop.swap_done(self.bow_id, now)
            }
            .map_err(told)?;
        }
        self.teller.answer(&format!(
            "Recorded: {}.",
            words::fitting(&page.fitted.fitting)
        ));
        self.teller.say(&format!(
            "Some {SETTLING_SHOTS} field-point shots to settle."
        ));
        self.look_again(25)
    }

    /// What was called into question by a swap or a move, looked at again.
    fn look_again(&mut self, minutes: i64) -> Result<(), String> {
        let checks = self.workshop.checks(self.bow_id).map_err(told)?;
        self.teller.say("Open again because of it:");
        for check in checks.iter().filter(|check| check.reopened.is_some()) {
            self.teller.item(words::setup_check(check.item));
        }
        let now = self.later(minutes);
        let passed = self.workshop.pass_open_checks(self.bow_id, now);
        passed.map_err(told)?;
        self.teller.say("All looked at again and right.");
        Ok(())
    }

    /// Every caution of the guide once, before anything is touched.
    fn cautions(&mut self, steps: &[Step]) {
        let mut told: Vec<Caution> = Vec::new();
        self.teller
            .say("Cautions, before the bow goes near the press:");
        for caution in steps.iter().flat_map(|step| &step.cautions) {
            if !told.contains(caution) {
                told.push(*caution);
                self.teller.item(words::caution(*caution));
            }
        }
    }

    /// The second photograph: prediction against outcome, and what the bow has shown.
    pub(super) fn face_after(&mut self, before_id: i64) -> Result<(), String> {
        self.teller.chapter("The same face after the swap");
        let (shot, trial_id) = self.photograph("after", TWENTY_YARDS_M)?;
        self.teller.say(&shot.snapped());
        let given = self.advise()?;
        self.tell(&given.verdict);
        for tested in self.workshop.history(self.bow_id).map_err(told)?.forecasts {
            self.teller.say(&forecast(&tested));
        }
        shot.show_found(&mut self.teller, "after")?;
        let after = self.face_view(trial_id, None)?;
        let scene = compare_scene(
            &compared(self.face_view(before_id, None)?),
            &compared(after.clone()),
            after.tolerance_mm,
            after.lengths,
        );
        shot.show_face(&mut self.teller, "after-face", after)?;
        self.teller
            .picture("before-and-after", &scene, WIDTH_PX, None)
    }

    /// Fixed-blade broadheads on a round face: the proof that matters to a hunter.
    pub(super) fn broadheads(&mut self) -> Result<(), String> {
        self.teller
            .chapter("The proof: broadheads and field points on a 40 cm face at 20 yd");
        let (shot, trial_id) = self.photograph("face", TWENTY_YARDS_M)?;
        self.teller.say(&shot.snapped());
        let given = self.advise()?;
        self.tell(&given.verdict);
        shot.show_found(&mut self.teller, "broadheads")?;
        let view = self.face_view(trial_id, None)?;
        shot.show_face(&mut self.teller, "broadheads-face", view)?;
        let chart = self.workshop.history_scene(self.bow_id).map_err(told)?;
        self.teller.picture("history", &chart, WIDTH_PX, None)
    }

    fn face_view(&self, trial_id: i64, expected: Option<&Predicted>) -> Result<FaceView, String> {
        self.workshop.face_view(trial_id, expected).map_err(told)
    }

    /// Closes the file and, as if months later, asks it what is in the bows.
    pub(super) fn look_up(self, folder: &Path) -> Result<(), String> {
        let Self {
            mut teller,
            workshop,
            ..
        } = self;
        drop(workshop);
        teller.chapter("Months later: what is in it, and why?");
        let workshop = Workshop::open(&workshop_file(folder)).map_err(told)?;
        for row in workshop.rack("").map_err(told)? {
            let fitted = row
                .fitted
                .as_ref()
                .map_or_else(|| "nobody has said what is fitted".to_owned(), why_fitted);
            let waits = words::waits(&row.waits);
            teller.answer(&format!("{}: {fitted}; {waits}.", row.name));
        }
        teller.close();
        Ok(())
    }
}

fn why_fitted(record: &FittingRecord) -> String {
    format!(
        "{}, since {}; {}",
        words::fitting(&record.fitting),
        words::day(record.at_ms),
        words::why(record.reason)
    )
}

fn compared(view: FaceView) -> ComparedShot {
    ComparedShot {
        marks: view.marks,
        groups: view.groups,
    }
}
