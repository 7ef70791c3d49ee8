//! A bow's tune sheet: what is on record, put together to hand on.

use super::evidence::as_shot;
use super::{Answer, BowPage, Workshop};
use crate::evidence::splits_of;
use crate::frame::Probe;
use crate::record::Trial;
use crate::sheet::{
    SheetFact, SheetHeading, SheetName, SheetPicture, SheetSection, SheetSide, SheetText,
    SheetTime, TuneSheet,
};
use crate::split::{AxisSplit, Split};
use crate::swap::Caution;

/// What must stand on a sheet that leaves the shop, worst first.
const CAUTIONS: [Caution; 8] = [
    Caution::MakerInstructionsFirst,
    Caution::QualifiedTechnician,
    Caution::NeverLooseWithoutArrow,
    Caution::DamageStops,
    Caution::RightPress,
    Caution::OnePairOnly,
    Caution::SafeDirection,
    Caution::NoBroadheads,
];

/// One split with the trial it was shot in.
type ShotSplit<'a> = (&'a Trial, Split);

impl Workshop {
    /// A bow's tune sheet as of now: what is fitted, the bow, its arrows, what was shot before and
    /// since, cautions. Nothing on it names a person but the label that the bow carries.
    ///
    /// # Errors
    /// No such bow, or the file cannot be read.
    pub fn tune_sheet(&self, bow_id: i64, now_ms: i64) -> Answer<TuneSheet> {
        let page = self.bow_page(bow_id)?;
        let trials = self.trials(bow_id)?;
        let mut sections = vec![self.fitted_section(&page)?];
        sections.extend(self.shot_section(&page, &trials)?);
        sections.extend(arrows_section(&page));
        sections.push(bow_section(&page));
        sections.push(SheetSection {
            warns: true,
            notes: CAUTIONS
                .map(|caution| SheetText::Caution { caution })
                .into(),
            ..empty(SheetHeading::Cautions)
        });
        Ok(TuneSheet {
            name: page.bow.details.name,
            owner: page.bow.details.owner,
            as_of_ms: now_ms,
            sections,
        })
    }

    fn fitted_section(&self, page: &BowPage) -> Answer<SheetSection> {
        let mut section = empty(SheetHeading::Fitted);
        let Some(entry) = &page.fitted else {
            section.notes.push(SheetText::NothingFitted);
            return Ok(section);
        };
        let fitting = entry.fitting.clone();
        section.pictures.push(SheetPicture {
            scene: self.fitting_scene(entry.kit_id, &fitting)?,
            caption: SheetText::Fitted {
                fitting: fitting.clone(),
            },
        });
        let setup = page.setup;
        section.facts = vec![
            fact(SheetName::Fitted, SheetText::Fitted { fitting }),
            fact(SheetName::Since, SheetText::Day { at_ms: entry.at_ms }),
            fact(
                SheetName::Why,
                SheetText::Why {
                    reason: entry.reason,
                },
            ),
            fact(
                SheetName::RestAndNock,
                SheetText::RestAndNock {
                    rest_mm: setup.rest_mm,
                    nock_mm: setup.nock_mm,
                },
            ),
        ];
        if let Some(given) = page.last_verdict.as_ref().filter(|_| page.verdict_stands) {
            let call = given.verdict.call.clone();
            let verdict = SheetText::Verdict { call };
            section.facts.push(fact(SheetName::Verdict, verdict));
        }
        if !page.contested.is_empty() {
            section.warns = true;
            section.notes.push(SheetText::Contested);
        }
        Ok(section)
    }

    fn shot_section(&self, page: &BowPage, trials: &[Trial]) -> Answer<Option<SheetSection>> {
        let shot = trial_splits(trials);
        let kinds = [Probe::Bare, Probe::Broadhead, Probe::Paper];
        let each = kinds.map(|probe| before_and_now(page, &shot, probe));
        let mut section = empty(SheetHeading::Shot);
        for (time, (trial, split)) in each.iter().flatten() {
            section.facts.push(SheetFact {
                name: shot_text(*time, trial, split),
                value: SheetText::Split {
                    probe: split.probe,
                    x: side(&split.x()),
                    y: side(&split.y()),
                    arrows: split.n_probe,
                },
            });
        }
        if section.facts.is_empty() {
            return Ok(None);
        }
        // One kind is drawn: the first that was shot at both times, or the first that was shot.
        let drawn = each.iter().max_by_key(|shots| shots.len().min(2));
        let drawn = each
            .iter()
            .find(|shots| drawn.map(Vec::len) == Some(shots.len()));
        for (time, (trial, split)) in drawn.into_iter().flatten() {
            section.pictures.push(SheetPicture {
                scene: self.trial_scene(trial.id)?,
                caption: shot_text(*time, trial, split),
            });
        }
        let now = |(time, _): &(SheetTime, ShotSplit)| *time == SheetTime::Now;
        if page.fitted.is_some() && !each.iter().flatten().any(now) {
            section.notes.push(SheetText::NothingShotSince);
        }
        section.notes.push(SheetText::IntervalNote);
        Ok(Some(section))
    }
}

/// The newest split of a kind as the bow is, and the newest of before: on other spacers, or with
/// rest or nocking point elsewhere.
fn before_and_now<'a>(
    page: &BowPage,
    shot: &[ShotSplit<'a>],
    probe: Probe,
) -> Vec<(SheetTime, ShotSplit<'a>)> {
    let fitted = page.fitted.as_ref().map(|entry| &entry.fitting);
    let same_spacers = |trial: &Trial| Some(&trial.fitting) == fitted;
    let as_is = |trial: &Trial| same_spacers(trial) && trial.setup == page.setup;
    let of_kind = || shot.iter().rev().filter(|(_, split)| split.probe == probe);
    let now = of_kind().find(|(trial, _)| as_is(trial));
    let earlier = |(trial, _): &&ShotSplit| now.is_none_or(|(one, _)| trial.id < one.id);
    let before = of_kind()
        .filter(earlier)
        .find(|(trial, _)| !same_spacers(trial))
        .or_else(|| of_kind().filter(earlier).find(|(trial, _)| !as_is(trial)));
    let timed = [(SheetTime::Before, before), (SheetTime::Now, now)];
    let present = timed.into_iter();
    present
        .filter_map(|(time, shot)| Some((time, *shot?)))
        .collect()
}

/// Every split and tear that counts, oldest first.
pub(super) fn trial_splits(trials: &[Trial]) -> Vec<ShotSplit<'_>> {
    let counted: Vec<&Trial> = trials.iter().filter(|trial| trial.counts()).collect();
    let shot: Vec<_> = counted.iter().map(|trial| as_shot(trial)).collect();
    let of_trials = counted.into_iter().zip(splits_of(&shot));
    of_trials
        .flat_map(|(trial, splits)| splits.into_iter().map(move |split| (trial, split)))
        .collect()
}

fn shot_text(time: SheetTime, trial: &Trial, split: &Split) -> SheetText {
    SheetText::Shot {
        time,
        probe: split.probe,
        distance_m: split.distance_m,
        at_ms: trial.at_ms,
    }
}

fn side(axis: &AxisSplit) -> SheetSide {
    SheetSide {
        value_mm: axis.value_mm,
        low95_mm: axis.low95_mm,
        high95_mm: axis.high95_mm,
        reality: axis.reality,
    }
}

fn arrows_section(page: &BowPage) -> Option<SheetSection> {
    let used = page.arrow_setups.iter();
    let used = used.filter(|record| record.archived_ms.is_none());
    let facts: Vec<SheetFact> = used
        .map(|record| SheetFact {
            name: own(&record.name),
            value: SheetText::Arrow {
                setup: record.setup,
            },
        })
        .collect();
    (!facts.is_empty()).then(|| SheetSection {
        facts,
        ..empty(SheetHeading::Arrows)
    })
}

fn bow_section(page: &BowPage) -> SheetSection {
    let bow = &page.bow.details;
    let length = |length_mm| SheetText::BowLength { length_mm };
    let mut facts = vec![
        fact(SheetName::Hand, SheetText::Hand { hand: bow.hand }),
        fact(SheetName::AxleToAxle, length(bow.axle_to_axle_mm)),
    ];
    let lengths = [
        (SheetName::BraceHeight, bow.brace_height_mm),
        (SheetName::DrawLength, bow.draw_length_mm),
    ];
    let given = lengths.into_iter();
    facts.extend(given.filter_map(|(name, mm)| Some(fact(name, length(mm?)))));
    if let Some(force_n) = bow.draw_weight_n {
        facts.push(fact(
            SheetName::DrawWeight,
            SheetText::DrawForce { force_n },
        ));
    }
    if let Some(record) = &page.kit {
        let kit = SheetText::Kit {
            name: record.kit.name.clone(),
            total_mm: record.kit.total_mm,
        };
        facts.push(fact(SheetName::Kit, kit));
    }
    let texts = [
        (SheetName::Cams, &bow.cam_note),
        (SheetName::Notes, &bow.notes),
    ];
    let written = texts
        .into_iter()
        .filter(|(_, text)| !text.trim().is_empty());
    facts.extend(written.map(|(name, text)| fact(name, own(text))));
    SheetSection {
        facts,
        ..empty(SheetHeading::Bow)
    }
}

fn fact(of: SheetName, value: SheetText) -> SheetFact {
    SheetFact {
        name: SheetText::Name { of },
        value,
    }
}

fn own(text: &str) -> SheetText {
    SheetText::Own {
        text: text.to_owned(),
    }
}

fn empty(of: SheetHeading) -> SheetSection {
    SheetSection {
        heading: SheetText::Heading { of },
        pictures: Vec::new(),
        facts: Vec::new(),
        notes: Vec::new(),
        warns: false,
    }
}
