//! The other bows of the story: one whose paper says less than it seems, one that spacers cannot cure.

use super::bench::WIDTH_PX;
use super::{Story, scenario};
use crate::case::told;
use crate::words;
use shimwright::evidence::Probe;
use shimwright::record::{BowDetails, TrialDraft, VerdictGiven};
use shimwright::spacer::Fitting;
use shimwright::verdict::{Call, RestRoom};

impl Story<'_> {
    /// A bow whose paper is clean and whose broadheads are not.
    pub(super) fn second_bow(&mut self) -> Result<(), String> {
        self.teller
            .chapter("Another bow, Bittern: clean through paper, broadheads astray");
        let details = scenario::bow("Bittern", self.kit_id, &[Probe::Broadhead]);
        let bow_id = self.next_bow(&details, &scenario::second_as_taken_in())?;
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
            self.workshop.save_trial(bow_id, &shot, now).map_err(told)?;
            self.teller.say(title);
            let given = self.workshop.give_verdict(bow_id, now).map_err(told)?;
            self.tell(&given.verdict);
            if !shot.impacts.is_empty() {
                let page = self.workshop.verdict_page(given.id).map_err(told)?;
                let proof = page.proof.ok_or("the verdict on a face shows no face")?;
                self.teller.picture("second-bow", &proof, WIDTH_PX, None)?;
            }
        }
        Ok(())
    }

    /// A bow that hardly responds: one swap shows it, and the press is left alone from then on.
    pub(super) fn third_bow(&mut self) -> Result<(), String> {
        self.teller
            .chapter("A third bow, Curlew: its rest already stands at the end of its room");
        let details = BowDetails {
            rest_room: Some(RestRoom {
                left: 0.0,
                right: 0.0,
            }),
            ..scenario::bow("Curlew", self.kit_id, &[])
        };
        let bow_id = self.next_bow(&details, &scenario::as_taken_in())?;
        let [face, tears] = scenario::third_before();
        let given = self.judged(bow_id, &[tears, face])?;
        let Call::Fit { fitting, .. } = &given.verdict.call else {
            return Err(format!(
                "the demo expects a swap here, not: {}",
                words::answer(&given.verdict)
            ));
        };
        self.teller
            .chapter("The swap is made as before; then the same paper and another face");
        let now = self.later(40);
        self.workshop
            .record_fitting(bow_id, fitting, now)
            .map_err(told)?;
        self.workshop.pass_open_checks(bow_id, now).map_err(told)?;
        let [face, tears] = scenario::third_after();
        let given = self.judged(bow_id, &[tears, face])?;
        let page = self.workshop.verdict_page(given.id).map_err(told)?;
        let proof = page.proof.ok_or("the verdict on a face shows no face")?;
        self.teller.picture("third-bow", &proof, WIDTH_PX, None)
    }

    /// Takes another bow in, its checks looked at and right.
    fn next_bow(&mut self, details: &BowDetails, fitting: &Fitting) -> Result<i64, String> {
        self.teller.forget();
        let now = self.later(60);
        let bow = self.workshop.add_bow(details, Some(fitting), now);
        let bow = bow.map_err(told)?;
        self.workshop.pass_open_checks(bow.id, now).map_err(told)?;
        Ok(bow.id)
    }

    /// Saves what was shot, and tells the verdict on it.
    fn judged(&mut self, bow_id: i64, shots: &[TrialDraft]) -> Result<VerdictGiven, String> {
        for shot in shots {
            let now = self.later(9);
            self.workshop.save_trial(bow_id, shot, now).map_err(told)?;
        }
        let now = self.later(1);
        let given = self.workshop.give_verdict(bow_id, now).map_err(told)?;
        self.tell(&given.verdict);
        Ok(given)
    }
}
