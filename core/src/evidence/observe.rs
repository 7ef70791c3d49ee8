//! From arrows on a face and tears in paper to splits with their variances.

use crate::frame::ArrowKind;

use super::{Probe, Scatter, Seen, Shot};

/// One split or tear of one trial.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Observation {
    /// Place of its trial in the canonical list.
    pub(crate) trial: usize,
    pub(crate) probe: Probe,
    pub(crate) distance_m: f64,
    pub(crate) x_mm: f64,
    pub(crate) y_mm: f64,
    pub(crate) var_x_mm2: f64,
    pub(crate) var_y_mm2: f64,
    /// The part of the variances that both probes of one trial share: their reference group.
    pub(crate) shared_x_mm2: f64,
    pub(crate) shared_y_mm2: f64,
    pub(crate) probe_arrows: u32,
    pub(crate) reference_arrows: u32,
    /// Degrees of freedom of the scatter behind it.
    pub(crate) dof: f64,
}

/// Every split and tear of the trials, in canonical order.
pub(crate) fn observe(seen: &[Seen], scatter: &Scatter) -> Vec<Observation> {
    let mut all = Vec::with_capacity(2 * seen.len());
    for (index, trial) in seen.iter().enumerate() {
        match &trial.trial.shot {
            Shot::Face { .. } => all.extend(
                [Probe::Bare, Probe::Broadhead]
                    .into_iter()
                    .filter_map(|probe| split(index, probe, trial, scatter)),
            ),
            Shot::Paper { paper_m, .. } => all.extend(tear(index, *paper_m, trial, scatter)),
        }
    }
    all
}

fn split(index: usize, probe: Probe, seen: &Seen, scatter: &Scatter) -> Option<Observation> {
    let Shot::Face {
        distance_m,
        reading,
        ..
    } = &seen.trial.shot
    else {
        return None;
    };
    let (own, reference) = (seen.group(probe.arrow())?, seen.group(ArrowKind::Fletched)?);
    let at = own.centre - reference.centre;
    let (n, m) = (f64::from(own.n), f64::from(reference.n));
    let arrow = scatter.of_arrow(probe.arrow(), *distance_m);
    let fletched = scatter.of_arrow(ArrowKind::Fletched, *distance_m);
    let shared_x_mm2 = fletched.0 / m + reference.reading.xx_mm2;
    let shared_y_mm2 = fletched.1 / m + reference.reading.yy_mm2;
    let read =
        |split_mm: f64| reading.sd_mm * reading.sd_mm + (reading.scale_sd * split_mm).powi(2);
    let kind = scatter.arrows.kind(probe.arrow());
    Some(Observation {
        trial: index,
        probe,
        distance_m: *distance_m,
        x_mm: at.x_mm,
        y_mm: at.y_mm,
        var_x_mm2: arrow.0 / n + own.reading.xx_mm2 + shared_x_mm2 + read(at.x_mm),
        var_y_mm2: arrow.1 / n + own.reading.yy_mm2 + shared_y_mm2 + read(at.y_mm),
        shared_x_mm2,
        shared_y_mm2,
        probe_arrows: own.n,
        reference_arrows: reference.n,
        dof: kind.x.dof.min(scatter.arrows.fletched.x.dof),
    })
}

fn tear(index: usize, paper_m: f64, seen: &Seen, scatter: &Scatter) -> Option<Observation> {
    let tears = seen.tears();
    let n = tears.len() as f64;
    if tears.is_empty() {
        return None;
    }
    let (x, y) = scatter.of_tear();
    let sum = tears
        .iter()
        .fold((0.0, 0.0), |sum, tear| (sum.0 + tear.0, sum.1 + tear.1));
    Some(Observation {
        trial: index,
        probe: Probe::Paper,
        distance_m: paper_m,
        x_mm: sum.0 / n,
        y_mm: sum.1 / n,
        var_x_mm2: x / n,
        var_y_mm2: y / n,
        shared_x_mm2: 0.0,
        shared_y_mm2: 0.0,
        probe_arrows: tears.len() as u32,
        reference_arrows: tears.len() as u32,
        dof: scatter.tear_dof(),
    })
}
