//! All that is believed of one bow, sideways and up and down.

use super::design::{Aside, Setting};
use super::family::ResponsePrior;
use super::height::{self, HeightPlace, HeightRound};
use super::layout::{Axis, Layout};
use super::parabola::Parabola;
use super::posterior::{Posterior, Predictive};
use super::priors::{NOCK_HEIGHT_MEAN, PROBE_EXTRA_SD_MM};
use super::{Known, Mixture, Now, Observation, SAME_M, SAME_MM, Scatter, Seen, transfer};
use crate::flight::TransferTable;
use crate::frame::Probe;
use crate::scatter::PooledScatter;

/// All that is believed of one bow.
#[derive(Debug, Clone)]
pub(crate) struct Belief<'a> {
    pub(crate) now: Now,
    pub(crate) seen: Vec<Seen<'a>>,
    pub(crate) scatter: Scatter,
    pub(crate) observations: Vec<Observation>,
    pub(crate) sideways: Posterior<'a>,
    pub(crate) upright: Posterior<'a>,
    layout: Layout,
    transfer: &'a TransferTable,
}

impl<'a> Belief<'a> {
    /// Combines everything known; probes that are set `aside` are taken to show something of their own.
    pub(crate) fn new(known: Known<'a>, transfer: &'a TransferTable, aside: Aside) -> Self {
        let Known {
            now,
            seen,
            scatter,
            relatives,
            remembered,
            outvoted,
        } = known;
        let mut observations = super::observe::observe(&seen, &scatter);
        observations.retain(|one| !outvoted.contains(&(one.trial, one.split.probe)));
        let layout = Layout::new(&seen, &now, aside);
        let target_m = now.target_m;
        let family: Vec<Parabola> = relatives
            .iter()
            .map(|(seen, scatter)| shown(seen, scatter, target_m, transfer))
            .collect();
        let posterior = |axis, prior: &ResponsePrior, before| {
            let design = layout.design(axis, target_m, transfer);
            let data = layout.data(&design, &seen, &observations, axis);
            Posterior::new(design, &data, prior, before)
        };
        let before: Vec<Parabola> = remembered
            .iter()
            .map(|swap| swap.shown(target_m, transfer))
            .collect();
        Self {
            sideways: posterior(Axis::Sideways, &ResponsePrior::of_family(&family), &before),
            upright: posterior(Axis::Upright, &ResponsePrior::of_the_trade(), &[]),
            now,
            scatter,
            observations,
            layout,
            transfer,
            seen,
        }
    }

    /// The scatter of whoever shoots the bow now.
    pub(crate) fn scatter_now(&self) -> &PooledScatter {
        self.scatter.of_shooter(&self.now.shooter)
    }

    /// The bow as it stands, but with its rest at `rest_mm`, shot with `probe` at `distance_m`.
    fn standing(&self, probe: Probe, distance_m: f64, rest_mm: f64) -> Setting {
        let epoch = self.layout.epoch(self.now.epoch);
        Setting {
            probe,
            distance_m,
            epoch,
            shooter: self.layout.shooter(&self.now.shooter),
            knob_mm: rest_mm - self.layout.start(epoch).rest_mm,
            size_mm: 0.0,
        }
    }

    /// Sideways prediction, open in the offset, with the rest where it stands.
    pub(crate) fn predictive(&self, probe: Probe, distance_m: f64) -> Predictive {
        self.predictive_at(probe, distance_m, self.now.rest_mm)
    }

    /// The same with the rest moved to `rest_mm`.
    pub(crate) fn predictive_at(&self, probe: Probe, distance_m: f64, rest_mm: f64) -> Predictive {
        let at = self.standing(probe, distance_m, rest_mm);
        let origin_mm = self.layout.start(at.epoch).offset_mm;
        let sized = |at: &Setting| {
            self.sideways.size_with_errors(
                at,
                origin_mm,
                self.now.offset_mm,
                self.is_swapped(probe),
            )
        };
        // What was shot with the bow as it stands is predicted as it was shot.
        let mut size = sized(&at);
        let now = self.standing(probe, distance_m, self.now.rest_mm);
        if let Some(here_mm) = self.shot_here_mm(&now) {
            size.now_mm += here_mm - sized(&now).now_mm;
        }
        self.sideways.predictive(&at, origin_mm, size)
    }

    /// Whether a probe was shot with several places of the cams in the present epoch.
    fn is_swapped(&self, probe: Probe) -> bool {
        let of_now = self.observations.iter().filter(|one| {
            one.split.probe == probe && self.seen[one.trial].trial.epoch == self.now.epoch
        });
        let mut places = of_now.map(|one| self.seen[one.trial].offset_mm);
        let Some(first) = places.next() else {
            return false;
        };
        places.any(|place| (place - first).abs() > SAME_MM)
    }

    /// The mean of what was shot of a probe with cams and rest where they stand, sideways, carried to a setting's distance,
    /// mm, by whoever shoots now, or anybody where he did not; `None` where nobody did.
    fn shot_here_mm(&self, at: &Setting) -> Option<f64> {
        let gain = |distance_m| transfer::gain(self.transfer, at.probe, distance_m).per_bare20;
        let now = &self.now;
        let here = self.observations.iter().filter(|one| {
            let seen = &self.seen[one.trial];
            let away_mm = [
                seen.offset_mm - now.offset_mm,
                seen.trial.rest_mm - now.rest_mm,
            ];
            one.split.probe == at.probe
                && seen.trial.epoch == now.epoch
                && away_mm.iter().all(|away| away.abs() <= SAME_MM)
        });
        let here: Vec<&Observation> = here.collect();
        let own = |one: &Observation| self.seen[one.trial].trial.shooter == now.shooter;
        let any_own = here.iter().any(|one| own(one));
        let counted = here.into_iter().filter(|one| own(one) || !any_own);
        let shot = counted.map(|one| one.split.offset.x_mm / gain(one.split.distance_m));
        let shot_mm: Vec<f64> = shot.collect();
        let mean_mm = shot_mm.iter().sum::<f64>() / shot_mm.len() as f64;
        (!shot_mm.is_empty()).then(|| gain(at.distance_m) * mean_mm)
    }

    /// What is left of the vertical split once gravity and drag are subtracted: as it was shot, where it was with the
    /// nocking point where it stands, else what the rest of the evidence makes of it.
    pub(crate) fn vertical(&self, probe: Probe, distance_m: f64) -> Mixture {
        let rounds = self.height_rounds(probe, distance_m);
        let now = HeightPlace {
            epoch: self.now.epoch,
            shooter: self.layout.shooter(&self.now.shooter),
            nock_mm: self.now.nock_mm,
            sideways_mm: [self.now.offset_mm, self.now.rest_mm],
        };
        let Some(level) = height::level(&rounds, &now) else {
            return self.vertical_by_model(probe, distance_m);
        };
        let gain = transfer::gain(self.transfer, probe, distance_m).per_bare20;
        let explained = transfer::expected_y(self.transfer, probe, distance_m);
        Mixture::of_one(
            gain * level.mean(),
            (gain * level.sd).hypot(explained.sd_mm),
        )
    }

    /// Every height of a probe at a distance, of all epochs.
    fn height_rounds(&self, probe: Probe, distance_m: f64) -> Vec<HeightRound> {
        let gain = transfer::gain(self.transfer, probe, distance_m).per_bare20;
        let same = self.observations.iter().filter(|one| {
            one.split.probe == probe && (one.split.distance_m - distance_m).abs() < SAME_M
        });
        let round = |one: &Observation| {
            let seen = &self.seen[one.trial];
            HeightRound {
                at: HeightPlace {
                    epoch: seen.trial.epoch,
                    shooter: self.layout.shooter(&seen.trial.shooter),
                    nock_mm: seen.trial.nock_mm,
                    sideways_mm: [seen.offset_mm, seen.trial.rest_mm],
                },
                height_mm: self.unexplained_y_mm(one).0 / gain,
                var_mm2: one.var_y_mm2 * self.layout.inflation(seen) / (gain * gain),
            }
        };
        same.map(round).collect()
    }

    fn vertical_by_model(&self, probe: Probe, distance_m: f64) -> Mixture {
        let mut at = self.standing(probe, distance_m, self.now.rest_mm);
        at.shooter = None;
        at.knob_mm = self.now.nock_mm - self.layout.start(at.epoch).nock_mm;
        let size = self.upright.size_with_errors(&at, 0.0, 0.0, false);
        let predictive = self.upright.predictive(&at, 0.0, size);
        let mut left = self.upright.mixture(&predictive, 0.0);
        for mean in &mut left.means {
            *mean += predictive.gain * at.knob_mm * NOCK_HEIGHT_MEAN;
        }
        left
    }

    /// What gravity and drag leave of an observation's height, and its standard deviation, mm.
    pub(crate) fn unexplained_y_mm(&self, observation: &Observation) -> (f64, f64) {
        let split = &observation.split;
        let expected = transfer::expected_y(self.transfer, split.probe, split.distance_m);
        let sd_mm = observation.var_y_mm2.sqrt().hypot(expected.sd_mm);
        (split.offset.y_mm - expected.value_mm, sd_mm)
    }

    /// Whether gravity and drag are those of the arrow that is shot, not of a usual one.
    pub(crate) fn knows_arrow(&self) -> bool {
        self.transfer.is_recorded()
    }

    /// Vertical difference that gravity and drag make, mm.
    pub(crate) fn explained_y_mm(&self, probe: Probe, distance_m: f64) -> f64 {
        transfer::expected_y(self.transfer, probe, distance_m).value_mm
    }

    /// Places the rest stood at in the present epoch, mm, without the one it stands at now.
    pub(crate) fn former_rests_mm(&self) -> Vec<f64> {
        let of_now = self
            .seen
            .iter()
            .filter(|seen| seen.trial.epoch == self.now.epoch);
        let mut places: Vec<f64> = of_now.map(|seen| seen.trial.rest_mm).collect();
        places.sort_by(f64::total_cmp);
        places.dedup_by(|a, b| (*a - *b).abs() < 1e-6);
        places.retain(|place| (place - self.now.rest_mm).abs() >= 1e-6);
        places
    }

    /// How many standard deviations each split lies from what all the others say of it: its leave-one-out
    /// residual.
    ///
    /// The residual that would be left had the split not been used follows from the one that is
    /// left, r / (1 - h), and its variance, v / (1 - h), with h the share of the split's own
    /// variance that the evidence has taken up (its leverage in linear regression).
    pub(crate) fn leave_one_out_residuals(&self) -> Vec<f64> {
        let data = self.layout.data(
            &self.sideways.design,
            &self.seen,
            &self.observations,
            Axis::Sideways,
        );
        data.iter()
            .zip(&self.observations)
            .map(|(datum, observation)| {
                let left_out = self.sideways.leave_one_out_residual(datum);
                left_out.max(self.off_prediction(observation))
            })
            .collect()
    }

    /// How many standard deviations an observation lies from what is predicted for its setting.
    ///
    /// The model's error is relative to the size of the split. Taken of the observation itself it
    /// would excuse any that is large, on whichever side; here it is taken of the prediction. The
    /// observation has its own small part in that, so the figure errs on the side of silence.
    /// Of a bare shaft at the distance that matters, which no such error excuses, this is the smaller
    /// of the two figures.
    fn off_prediction(&self, observation: &Observation) -> f64 {
        let seen = &self.seen[observation.trial];
        let at = self.layout.setting(seen, observation, Axis::Sideways, 0.0);
        let origin_mm = self.layout.start(at.epoch).offset_mm;
        let predictive = self
            .sideways
            .predictive_sized(&at, origin_mm, seen.offset_mm);
        let believed = self.sideways.mixture(&predictive, seen.offset_mm);
        let noise_mm2 = observation.var_x_mm2 * self.layout.inflation(seen);
        let var_mm2 = believed.sd().powi(2) + noise_mm2;
        (observation.split.offset.x_mm - believed.mean()).abs() / var_mm2.sqrt()
    }

    /// How many standard deviations an observation lies from what the bow's fault makes of it, in a
    /// belief whose fault was learned without it.
    pub(crate) fn off_the_bow(&self, observation: &Observation) -> f64 {
        let seen = &self.seen[observation.trial];
        let at = self.layout.setting(seen, observation, Axis::Sideways, 0.0);
        let origin_mm = self.layout.start(at.epoch).offset_mm;
        let row = self.sideways.design.row_of_bow(&at);
        let predictive = self.sideways.predictive_of(&row, origin_mm);
        let made = self.sideways.mixture(&predictive, seen.offset_mm);
        let seen_mm = (observation.split.offset.x_mm, observation.var_x_mm2.sqrt());
        self.off(&at, (made.mean(), made.sd()), seen_mm)
    }

    /// How far what was seen lies from what the bow makes of it, each with its standard deviation.
    fn off(&self, at: &Setting, made_mm: (f64, f64), seen_mm: (f64, f64)) -> f64 {
        let transfer = transfer::gain(self.transfer, at.probe, at.distance_m);
        let extra_mm = transfer.per_bare20 * PROBE_EXTRA_SD_MM;
        let carried_mm = transfer.sd_rel() * made_mm.0;
        let sd_mm = made_mm.1.hypot(extra_mm).hypot(carried_mm).hypot(seen_mm.1);
        (seen_mm.0 - made_mm.0).abs() / sd_mm
    }

    /// Bare-shaft split at 20 yd per mm of nocking-point height, as a probe at a distance shows it.
    pub(crate) fn nock_response(&self, probe: Probe, distance_m: f64) -> Mixture {
        height::response(&self.height_rounds(probe, distance_m))
    }
}

/// What another bow's trials say of its response.
fn shown(seen: &[Seen], scatter: &Scatter, target_m: f64, transfer: &TransferTable) -> Parabola {
    let Some(last) = seen.last() else {
        return Parabola::default();
    };
    let now = Now {
        offset_mm: last.offset_mm,
        rest_mm: last.trial.rest_mm,
        nock_mm: last.trial.nock_mm,
        epoch: last.trial.epoch,
        shooter: last.trial.shooter.clone(),
        target_m,
    };
    let layout = Layout::new(seen, &now, Aside::default());
    let design = layout.design(Axis::Sideways, target_m, transfer);
    let observations = super::observe::observe(seen, scatter);
    let data = layout.data(&design, seen, &observations, Axis::Sideways);
    let prior = ResponsePrior::of_the_trade();
    Posterior::new(design, &data, &prior, &[]).shown
}
