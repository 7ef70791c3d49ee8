//! The whole job on the demonstration's photographs: take the bow in, shoot, measure, decide, swap,
//! prove, record, and months later read what is fitted and why.

mod advice;
mod bench;
mod chapters;
mod others;
mod scenario;
mod teller;

use crate::case::told;
use crate::words;
use bench::{Shot, WIDTH_PX, tear_lines};
use shimwright::record::{TrialDraft, VerdictGiven};
use shimwright::workshop::Workshop;
use std::io::Write;
use std::path::{Path, PathBuf};
use teller::Teller;

/// Runs the demonstration into `folder`, telling it to `out`.
pub(crate) fn run(folder: &Path, out: &mut dyn Write) -> Result<(), String> {
    let mut story = Story::begin(folder, out)?;
    story.take_in()?;
    story.paper()?;
    let (before, before_id) = story.face_before()?;
    let verdict = story.decide(&before, before_id)?;
    story.swap(&verdict)?;
    story.paper_after()?;
    story.face_after(before_id)?;
    story.broadheads()?;
    story.second_bow()?;
    story.third_bow()?;
    story.look_up(folder)
}

struct Story<'a> {
    teller: Teller<'a>,
    workshop: Workshop,
    kit_id: i64,
    bow_id: i64,
    /// Minutes since the job began.
    clock: i64,
}

impl<'a> Story<'a> {
    /// Opens a fresh workshop file.
    fn begin(folder: &Path, out: &'a mut dyn Write) -> Result<Self, String> {
        let mut teller = Teller::new(folder, out)?;
        let file = workshop_file(folder);
        fresh(&file)?;
        teller.line("One bow, Heron, right-hand, on a kit of three pairs, 4.40 mm each.");
        teller.line("± holds nineteen times in twenty.");
        Ok(Self {
            teller,
            workshop: Workshop::open(&file).map_err(told)?,
            kit_id: 0,
            bow_id: 0,
            clock: 0,
        })
    }

    fn later(&mut self, minutes: i64) -> i64 {
        self.clock += minutes;
        scenario::minute(self.clock)
    }

    fn take_in(&mut self) -> Result<(), String> {
        self.teller.chapter("Take the bow in");
        let now = self.later(0);
        let kit = self
            .workshop
            .save_kit(None, &scenario::kit(), &scenario::owned());
        self.kit_id = kit.map_err(told)?.id;
        let fitting = scenario::as_taken_in();
        let details = scenario::bow("Heron", self.kit_id, &[]);
        let bow = self.workshop.add_bow(&details, Some(&fitting), now);
        self.bow_id = bow.map_err(told)?.id;
        let checks = self
            .workshop
            .pass_open_checks(self.bow_id, now)
            .map_err(told)?;
        self.teller
            .answer(&format!("Fitted: {}.", words::fitting(&fitting)));
        self.teller.say(&format!(
            "{} set-up checks looked at and right: damage first, then axle-to-axle, brace height, \
             timing, lean, rest, centre shot, nocking point, arrows.",
            checks.len()
        ));
        let scene = self
            .workshop
            .fitting_scene(self.kit_id, &fitting)
            .map_err(told)?;
        self.teller.picture("fitted-at-intake", &scene, 700.0, None)
    }

    fn paper(&mut self) -> Result<(), String> {
        self.teller.chapter("Paper at 2 m, three fletched arrows");
        let (shot, trial_id) = self.photograph("paper", scenario::PAPER_M)?;
        for line in tear_lines(&shot.measured) {
            self.teller.item(&line);
        }
        shot.show_found(&mut self.teller, "paper")?;
        let scene = self.workshop.trial_scene(trial_id).map_err(told)?;
        self.teller.picture("paper-tears", &scene, WIDTH_PX, None)
    }

    /// Measures one of the photographs and puts it on record, with the trial's number. A sheet also
    /// calibrates the camera: its lens is remembered for round faces.
    fn photograph(&mut self, name: &str, distance_m: f64) -> Result<(Shot, i64), String> {
        let shot = Shot::read(&self.workshop, name, distance_m)?;
        let now = scenario::minute(self.clock);
        let plane = &shot.measured.plane;
        let learned = self
            .workshop
            .remember_lens(&shot.session, plane, now)
            .map_err(told)?;
        self.teller.say(&shot.trust(learned));
        let trial_id = self.save(&shot.draft)?;
        Ok((shot, trial_id))
    }

    fn save(&mut self, draft: &TrialDraft) -> Result<i64, String> {
        let now = self.later(9);
        let saved = self.workshop.save_trial(self.bow_id, draft, now);
        saved.map(|trial| trial.id).map_err(told)
    }

    fn advise(&mut self) -> Result<VerdictGiven, String> {
        let now = self.later(1);
        self.workshop.give_verdict(self.bow_id, now).map_err(told)
    }
}

fn workshop_file(folder: &Path) -> PathBuf {
    folder.join("heron.workshop")
}

/// Every run starts with an empty workshop; the one of the run before is removed.
fn fresh(file: &Path) -> Result<(), String> {
    for suffix in ["", "-wal", "-shm"] {
        let mut name = file.as_os_str().to_owned();
        name.push(suffix);
        match std::fs::remove_file(&name) {
            Err(e) if e.kind() != std::io::ErrorKind::NotFound => {
                return Err(format!(
                    "{} cannot be removed ({e}); choose another folder",
                    file.display()
                ));
            }
            _ => {}
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The whole job, photographs to look-up: a change of the core that leads it elsewhere must be
    /// seen here and not by the first stranger who runs it.
    #[test]
    fn the_job_runs_to_its_end() {
        let folder = std::env::temp_dir().join(format!("shimwright-story-{}", std::process::id()));
        let mut told = Vec::new();
        let outcome = run(&folder, &mut told);
        let told = String::from_utf8(told).unwrap();
        outcome.unwrap_or_else(|why| panic!("{why}\nafter\n{told}"));
        for sentence in [
            "Move the rest 0.8 mm left and shoot",
            "Move the rest 2.0 mm right and shoot",
            "Fit pair C, thick side right, on both axles, as an experiment.",
            "Recorded: pair C, thick side right, on both axles.",
            "Stop here: the bow is inside tolerance.",
            "Spacers cannot cure this: look elsewhere.",
            "This bow has shown",
            "Heron: pair C, thick side right, on both axles, since 3 Oct; a verdict asked for it",
        ] {
            assert!(told.contains(sentence), "missing: {sentence}\n{told}");
        }
        let pictures = std::fs::read_dir(&folder).unwrap().flatten();
        let drawn = pictures.filter(|file| file.path().extension().is_some_and(|e| e == "png"));
        assert!(drawn.count() >= 15);
        std::fs::remove_dir_all(&folder).unwrap();
    }
}
