//! Every allowed fitting with its expected loss.

use std::cmp::Ordering;

use crate::evidence::Belief;
use crate::spacer::{Arrangement, ArrangementRule};

use super::{Aim, Case, Choice, VerdictError};

/// Offsets closer than this are one place of the nock plane, mm.
const SAME_OFFSET_MM: f64 = 1e-9;

/// All choices, each with the place of its offset among the distinct ones.
pub(crate) struct Ballot {
    pub(crate) options: Vec<Choice>,
    /// Distinct offsets, mm.
    pub(crate) offsets_mm: Vec<f64>,
    /// For each option, which of those is its own.
    pub(crate) place: Vec<usize>,
    /// For each option, what opening axles and tilt cost, mm.
    pub(crate) price_mm: Vec<f64>,
}

impl Ballot {
    /// Every fitting that rule and stock allow, and what is fitted now; best first.
    pub(crate) fn new(
        case: &Case,
        belief: &Belief,
        aims: &[Aim],
        use_stock: bool,
    ) -> Result<Self, VerdictError> {
        let mut arrangements = allowed(case, use_stock)?;
        let in_fitting = |kit| VerdictError::Fitting { trial: None, kit };
        let now = case
            .kit
            .arrangement(&case.bow.fitted, &case.bow.geometry())
            .map_err(in_fitting)?;
        if !arrangements
            .iter()
            .any(|arrangement| arrangement.fitting == now.fitting)
        {
            arrangements.push(now);
        }
        let offsets_mm = distinct(&arrangements);
        let outcomes: Vec<Outcome> = offsets_mm
            .iter()
            .map(|&offset_mm| Outcome::at(belief, aims, offset_mm))
            .collect();
        let mut options: Vec<(Choice, f64)> = arrangements
            .iter()
            .map(|arrangement| {
                let outcome = &outcomes[place(&offsets_mm, arrangement.offset_mm)];
                choice(case, arrangement, outcome)
            })
            .collect();
        options.sort_by(|a, b| compare(case, &a.0, &b.0));
        Ok(Self {
            place: options
                .iter()
                .map(|(option, _)| place(&offsets_mm, option.offset_mm))
                .collect(),
            price_mm: options.iter().map(|(_, price_mm)| *price_mm).collect(),
            options: options.into_iter().map(|(option, _)| option).collect(),
            offsets_mm,
        })
    }
}

fn allowed(case: &Case, use_stock: bool) -> Result<Vec<Arrangement>, VerdictError> {
    let rule = ArrangementRule {
        unequal_axles: case.settings.unequal_axles,
        tilt_limit_mm: case.settings.tilt_limit_mm,
    };
    let stock = case.stock.as_ref().filter(|_| use_stock);
    case.kit
        .arrangements(&case.bow.geometry(), &rule, stock)
        .map_err(|kit| VerdictError::Fitting { trial: None, kit })
}

fn distinct(arrangements: &[Arrangement]) -> Vec<f64> {
    let mut offsets: Vec<f64> = Vec::new();
    for arrangement in arrangements {
        if !offsets
            .iter()
            .any(|known| (known - arrangement.offset_mm).abs() <= SAME_OFFSET_MM)
        {
            offsets.push(arrangement.offset_mm);
        }
    }
    offsets
}

fn place(offsets: &[f64], offset_mm: f64) -> usize {
    offsets
        .iter()
        .position(|known| (known - offset_mm).abs() <= SAME_OFFSET_MM)
        .unwrap_or(0)
}

/// What is expected at one offset.
struct Outcome {
    x_mm: f64,
    sd_mm: f64,
    within: f64,
    size_mm: f64,
}

impl Outcome {
    fn at(belief: &Belief, aims: &[Aim], offset_mm: f64) -> Self {
        let mut outcome = Self {
            x_mm: 0.0,
            sd_mm: 0.0,
            within: 0.0,
            size_mm: 0.0,
        };
        for (place, aim) in aims.iter().enumerate() {
            let mixture = belief.sideways.mixture(&aim.outlook, offset_mm);
            outcome.size_mm += aim.weight * mixture.expected_size();
            if place == 0 {
                outcome.x_mm = mixture.mean();
                outcome.sd_mm = mixture.sd();
                outcome.within = mixture.within(aim.tolerance_mm);
            }
        }
        outcome
    }
}

fn choice(case: &Case, arrangement: &Arrangement, outcome: &Outcome) -> (Choice, f64) {
    let axles_opened = case.bow.fitted.changes_to(&arrangement.fitting).len() as u32;
    let settings = &case.settings;
    let price_mm = settings.price_per_axle_mm * f64::from(axles_opened)
        + settings.price_of_tilt * arrangement.tilt_mm.abs();
    let option = Choice {
        fitting: arrangement.fitting.clone(),
        offset_mm: arrangement.offset_mm,
        tilt_mm: arrangement.tilt_mm,
        axles_opened,
        x_mm: outcome.x_mm,
        sd_mm: outcome.sd_mm,
        within_tolerance: outcome.within,
        loss_mm: outcome.size_mm + price_mm,
    };
    (option, price_mm)
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
