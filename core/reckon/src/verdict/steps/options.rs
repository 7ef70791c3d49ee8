//! Every allowed fitting, as a choice.

use std::cmp::Ordering;

use crate::evidence::Belief;
use crate::spacer::{Arrangement, ArrangementRule};
use crate::verdict::limits::{FEWEST, LIKELY};
use crate::verdict::{Aim, Case, Choice, VerdictError};

use super::weigh::Table;

/// Offsets closer than this are one place of the nock plane, mm.
const SAME_OFFSET_MM: f64 = 1e-9;

/// What the kit can do for a bow: every fitting that rule and stock allow, and what is fitted now.
pub(crate) struct Fittings {
    all: Vec<Arrangement>,
    /// Distinct offsets, mm.
    pub(crate) offsets_mm: Vec<f64>,
}

impl Fittings {
    pub(crate) fn of(case: &Case, use_stock: bool) -> Result<Self, VerdictError> {
        let rule = ArrangementRule {
            unequal_axles: case.settings.unequal_axles,
            tilt_limit_mm: case.settings.tilt_limit_mm,
        };
        let stock = case.stock.as_ref().filter(|_| use_stock);
        let in_fitting = |kit| VerdictError::Fitting { trial: None, kit };
        let mut all = case
            .kit
            .arrangements(&case.bow.geometry(), &rule, stock)
            .map_err(in_fitting)?;
        let now = case
            .kit
            .arrangement(&case.bow.fitted, &case.bow.geometry())
            .map_err(in_fitting)?;
        if !all.iter().any(|known| known.fitting == now.fitting) {
            all.push(now);
        }
        Ok(Self {
            offsets_mm: distinct(&all),
            all,
        })
    }

    /// All of them as choices, weighed two steps ahead; best first.
    pub(crate) fn choices(
        &self,
        case: &Case,
        belief: &Belief,
        aims: &[Aim],
        table: &Table,
    ) -> Vec<Choice> {
        let after_mm = table.after_going(0, &self.offsets_mm);
        let stay_mm = table.loss_mm(0, belief.now.offset_mm);
        let mut choices: Vec<Choice> = self
            .all
            .iter()
            .map(|one| {
                let place = self.place(one.offset_mm);
                let opened = case.bow.fitted.changes_to(&one.fitting).len() as u32;
                let tilt_mm = case.settings.price_of_tilt * one.tilt_mm.abs();
                let loss_mm = if opened == 0 {
                    stay_mm
                } else if likely_better(belief, aims, one.offset_mm) {
                    after_mm[place] + price_mm(case, opened)
                } else {
                    after_mm[place].max(stay_mm) + price_mm(case, opened)
                };
                choice(belief, aims, one, opened, loss_mm + tilt_mm)
            })
            .collect();
        choices.sort_by(|a, b| compare(case, a, b));
        choices
    }

    fn place(&self, offset_mm: f64) -> usize {
        let same = |known: &f64| (known - offset_mm).abs() <= SAME_OFFSET_MM;
        self.offsets_mm.iter().position(same).unwrap_or(0)
    }
}

/// Whether going there is at least as likely to bring the first aim closer as to take it farther.
/// Two steps ahead the wrong way may be worth as much as the right one, for what it shows; but nobody
/// presses a bow to see it get worse, and the second step is not always taken: it is worth no more
/// than staying.
fn likely_better(belief: &Belief, aims: &[Aim], offset_mm: f64) -> bool {
    let Some(aim) = aims.first() else {
        return true;
    };
    let split = |offset_mm| belief.sideways.mixture(&aim.predictive, offset_mm);
    let now_mm = split(belief.now.offset_mm).mean().abs();
    split(offset_mm).within(now_mm) >= LIKELY
}

/// Price of a swap that opens so many axles, with its round, mm.
pub(crate) fn price_mm(case: &Case, axles: u32) -> f64 {
    let settings = &case.settings;
    settings.press_mm(axles) + settings.round_mm(2 * FEWEST)
}

fn distinct(arrangements: &[Arrangement]) -> Vec<f64> {
    let mut offsets: Vec<f64> = Vec::new();
    for one in arrangements {
        let known = |known: &f64| (known - one.offset_mm).abs() <= SAME_OFFSET_MM;
        if !offsets.iter().any(known) {
            offsets.push(one.offset_mm);
        }
    }
    offsets
}

fn choice(
    belief: &Belief,
    aims: &[Aim],
    one: &Arrangement,
    axles_opened: u32,
    loss_mm: f64,
) -> Choice {
    let first = aims.first().map(|aim| {
        let mixture = belief.sideways.mixture(&aim.predictive, one.offset_mm);
        (
            mixture.mean(),
            mixture.sd(),
            mixture.within(aim.tolerance_mm),
        )
    });
    let (x_mm, sd_mm, within_tolerance) = first.unwrap_or_default();
    Choice {
        fitting: one.fitting.clone(),
        offset_mm: one.offset_mm,
        tilt_mm: one.tilt_mm,
        axles_opened,
        x_mm,
        sd_mm,
        within_tolerance,
        loss_mm,
    }
}

/// Best first. Ties are broken by what an exchange of left and right leaves as it is: axles to
/// open, tilt, likeness to what is fitted now, and the pairs' order in the kit.
fn compare(case: &Case, a: &Choice, b: &Choice) -> Ordering {
    let now = &case.bow.fitted;
    let key = |option: &Choice| {
        (
            option.axles_opened,
            option.fitting.top.thick != now.top.thick,
            option.fitting.bottom.thick != now.bottom.thick,
            pair_place(case, &option.fitting.top.pair),
            pair_place(case, &option.fitting.bottom.pair),
        )
    };
    a.loss_mm
        .total_cmp(&b.loss_mm)
        .then_with(|| a.tilt_mm.abs().total_cmp(&b.tilt_mm.abs()))
        .then_with(|| key(a).cmp(&key(b)))
}

fn pair_place(case: &Case, name: &str) -> usize {
    case.kit
        .pairs()
        .iter()
        .position(|pair| pair.name() == name)
        .unwrap_or(usize::MAX)
}
