//! The story from the first face to the last look-up.

use super::advice::{foretold, tell_verdict};
use super::bench::{Shot, WIDTH_PX, compared, face_view};
use super::{Story, scenario, workshop_file};
use crate::case::sentence;
use crate::words;
use shimwright::evidence::Probe;
use shimwright::record::{FittingReason, FittingRecord, VerdictGiven};
use shimwright::scene::{compare_scene, face_scene};
use shimwright::spacer::{Fitting, Kit};
use shimwright::swap::{Caution, Found, Step};
use shimwright::units::TWENTY_YARDS_M;
use shimwright::verdict::{Call, Predicted, SETTLING_SHOTS, Verdict};
use shimwright::workshop::Workshop;
use std::path::Path;

impl Story<'_> {
    /// The face before the swap.
    pub(super) fn face_before(&mut self) -> Result<Shot, String> {
        self.teller
            .chapter("A face at 20 yd: three fletched arrows, three bare shafts");
        let shot = self.photograph("before", TWENTY_YARDS_M)?;
        self.save(&shot.draft)?;
        self.teller.say(&shot.snapped());
        shot.show_found(&mut self.teller, "before")?;
        Ok(shot)
    }

    /// Asks for the verdict, shoots on while more arrows are wanted, and tells what to do.
    pub(super) fn decide(&mut self, before: &Shot) -> Result<VerdictGiven, String> {
        self.teller.chapter("The verdict");
        let mut given = self.advise()?;
        self.tell(&given.verdict);
        while let Call::ShootMore { fletched, bare, .. } = given.verdict.call {
            if self.clock > scenario::PATIENCE_MINUTES {
                return Err(
                    "the verdict keeps asking for arrows that the demo does not have".into(),
                );
            }
            self.teller
                .chapter("The arrows it asked for, offsets typed in without a photo");
            self.save(&scenario::further(fletched, bare))?;
            given = self.advise()?;
            self.tell(&given.verdict);
        }
        let expected = expected_place(&given.verdict);
        before.show_face(&mut self.teller, "before-face", expected)?;
        Ok(given)
    }

    fn tell(&mut self, verdict: &Verdict) {
        tell_verdict(&mut self.teller, verdict, scenario::TOLERANCE_MM);
    }

    /// Cautions, then every step; the record changes after the last.
    pub(super) fn swap(&mut self, given: &VerdictGiven) -> Result<(), String> {
        let Call::Fit { fitting } = &given.verdict.call else {
            return Err(format!(
                "the demo expects a swap here, not: {}",
                words::call(&given.verdict.call)
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
            .map_err(sentence)?;
        self.teller.picture("swap", &scene, WIDTH_PX, None)?;
        self.tell_cam_moves(&from, fitting)?;
        self.walk(fitting, given.id)
    }

    fn tell_cam_moves(&mut self, from: &Fitting, to: &Fitting) -> Result<(), String> {
        let kit = Kit::new(scenario::kit()).map_err(sentence)?;
        for change in from.changes_to(to) {
            let offset_mm = |seat| kit.cam_offset_mm(seat).map_err(sentence);
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
        let mut page = started.map_err(sentence)?;
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
            .map_err(sentence)?;
        }
        self.teller.answer(&format!(
            "Recorded: {}.",
            words::fitting(&page.fitted.fitting)
        ));
        self.look_again()
    }

    /// What the swap called into question, looked at once string and cables have settled.
    fn look_again(&mut self) -> Result<(), String> {
        let checks = self.workshop.checks(self.bow_id).map_err(sentence)?;
        self.teller.say(&format!(
            "Some {SETTLING_SHOTS} field-point shots to settle; then, open again because of the swap:"
        ));
        for check in checks.iter().filter(|check| check.reopened.is_some()) {
            self.teller.item(words::setup_check(check.item));
        }
        let now = self.later(25);
        let passed = self.workshop.pass_open_checks(self.bow_id, now);
        passed.map_err(sentence)?;
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
    pub(super) fn face_after(&mut self, before: &Shot) -> Result<(), String> {
        self.teller.chapter("The same face after the swap");
        let shot = self.photograph("after", TWENTY_YARDS_M)?;
        self.save(&shot.draft)?;
        self.teller.say(&shot.snapped());
        let given = self.advise()?;
        self.tell(&given.verdict);
        for tested in self
            .workshop
            .history(self.bow_id)
            .map_err(sentence)?
            .foretold
        {
            self.teller.say(&foretold(&tested));
        }
        shot.show_found(&mut self.teller, "after")?;
        shot.show_face(&mut self.teller, "after-face", None)?;
        let scene = compare_scene(
            &compared(&before.draft),
            &compared(&shot.draft),
            Some(scenario::TOLERANCE_MM),
        );
        self.teller
            .picture("before-and-after", &scene, WIDTH_PX, None)
    }

    /// Fixed-blade broadheads on a round face: the proof that matters to a hunter.
    pub(super) fn broadheads(&mut self) -> Result<(), String> {
        self.teller
            .chapter("The proof: broadheads and field points on a 40 cm face at 20 yd");
        let shot = self.photograph("face", TWENTY_YARDS_M)?;
        self.save(&shot.draft)?;
        self.teller.say(&shot.snapped());
        let given = self.advise()?;
        self.tell(&given.verdict);
        shot.show_found(&mut self.teller, "broadheads")?;
        shot.show_face(&mut self.teller, "broadheads-face", None)?;
        let chart = self.workshop.history_scene(self.bow_id).map_err(sentence)?;
        self.teller.picture("history", &chart, WIDTH_PX, None)
    }

    /// A bow whose paper is clean and whose broadheads are not.
    pub(super) fn second_bow(&mut self) -> Result<(), String> {
        self.teller.forget();
        self.teller
            .chapter("Another bow, Bittern: clean through paper, broadheads astray");
        let now = self.later(60);
        let details = scenario::bow("Bittern", self.kit_id, &[Probe::Broadhead]);
        let fitting = scenario::second_as_taken_in();
        let bow = self
            .workshop
            .add_bow(&details, Some(&fitting), now)
            .map_err(sentence)?;
        self.workshop
            .pass_open_checks(bow.id, now)
            .map_err(sentence)?;
        for (shot, title) in [
            (
                scenario::clean_paper(),
                "Paper at 2 m: three holes, every tear under 2 mm.",
            ),
            (
                scenario::stray_broadheads(),
                "Four broadheads and four field points at 20 yd:",
            ),
        ] {
            let now = self.later(9);
            self.workshop
                .save_trial(bow.id, &shot, now)
                .map_err(sentence)?;
            self.teller.say(title);
            let given = self.workshop.give_verdict(bow.id, now).map_err(sentence)?;
            self.tell(&given.verdict);
            if !shot.impacts.is_empty() {
                let view = face_view(&shot, expected_place(&given.verdict));
                self.teller
                    .picture("second-bow", &face_scene(&view), WIDTH_PX, None)?;
            }
        }
        Ok(())
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
        let workshop = Workshop::open(&workshop_file(folder)).map_err(sentence)?;
        for row in workshop.rack("").map_err(sentence)? {
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
    let why = match record.reason {
        FittingReason::TakenIn => "found in it when it was taken in",
        FittingReason::Verdict => "a verdict asked for it",
        FittingReason::OwnChoice => "the technician chose it",
        FittingReason::PutBack => "an earlier fitting was put back",
        FittingReason::FoundInside => "found inside during a swap",
    };
    format!(
        "{}, since {}; {why}",
        words::fitting(&record.fitting),
        words::day(record.at_ms)
    )
}

/// Where the probe is expected after a swap; nothing where no swap is advised.
fn expected_place(verdict: &Verdict) -> Option<&Predicted> {
    matches!(verdict.call, Call::Fit { .. }).then_some(&verdict.predicted)
}
