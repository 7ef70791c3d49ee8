//! Heights of one probe at one distance, and how the nocking point moves them: a regression on where it stood. What
//! distance, kind of arrow and flight model make of a height is in every such round alike, and so in no difference of them.

use super::priors::{NOCK_HEIGHT_MEAN, NOCK_HEIGHT_SD};
use super::{Mixture, SAME_MM};

/// A round's height where the nocking point stood.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct HeightRound {
    pub(crate) epoch: i64,
    /// Who shot it, by place among the bow's shooters.
    pub(crate) shooter: Option<usize>,
    pub(crate) nock_mm: f64,
    /// As mm of bare-shaft split at 20 yd.
    pub(crate) height_mm: f64,
    pub(crate) var_mm2: f64,
}

/// Sums over the rounds of one epoch.
struct Sums {
    weight: f64,
    nock_mm: f64,
    height_mm: f64,
}

impl Sums {
    fn of<'r>(rounds: impl Iterator<Item = &'r HeightRound>) -> Self {
        let (mut weight, mut nock_mm, mut height_mm) = (0.0, 0.0, 0.0);
        for round in rounds {
            weight += round.var_mm2.recip();
            nock_mm += round.nock_mm / round.var_mm2;
            height_mm += round.height_mm / round.var_mm2;
        }
        Self {
            weight,
            nock_mm: nock_mm / weight,
            height_mm: height_mm / weight,
        }
    }
}

/// mm of split at 20 yd per mm of nocking-point height, with the trade's prior; every epoch and shooter has a level of its own.
pub(crate) fn response(rounds: &[HeightRound]) -> Mixture {
    let mut precision = NOCK_HEIGHT_SD.powi(-2);
    let mut pull = NOCK_HEIGHT_MEAN * precision;
    for round in rounds {
        let alike = |one: &&HeightRound| one.epoch == round.epoch && one.shooter == round.shooter;
        let away_mm = round.nock_mm - Sums::of(rounds.iter().filter(alike)).nock_mm;
        precision += away_mm * away_mm / round.var_mm2;
        pull += away_mm * round.height_mm / round.var_mm2;
    }
    Mixture::of_one(pull / precision, precision.sqrt().recip())
}

/// The height of an epoch with the nocking point at `nock_mm`, mm at 20 yd, as the shooter shot it there, or anybody where he
/// did not; `None` where nobody did.
pub(crate) fn level(
    rounds: &[HeightRound],
    epoch: i64,
    nock_mm: f64,
    shooter: Option<usize>,
) -> Option<Mixture> {
    let here = |one: &&HeightRound| one.epoch == epoch && (one.nock_mm - nock_mm).abs() < SAME_MM;
    let here: Vec<&HeightRound> = rounds.iter().filter(here).collect();
    let by_shooter = |one: &&HeightRound| one.shooter == shooter;
    let own = here.iter().copied().filter(by_shooter);
    let sums = if own.clone().next().is_some() {
        Sums::of(own)
    } else {
        Sums::of(here.iter().copied())
    };
    (sums.weight > 0.0).then(|| Mixture::of_one(sums.height_mm, sums.weight.sqrt().recip()))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn round(nock_mm: f64, height_mm: f64) -> HeightRound {
        HeightRound {
            epoch: 0,
            shooter: None,
            nock_mm,
            height_mm,
            var_mm2: 64.0,
        }
    }

    /// Weights by hand: prior 1/625, one pair 1 mm apart 1/128.
    #[test]
    fn a_pair_of_heights_moves_the_response_by_as_much_as_it_is_sure() {
        let usual = Mixture::of_one(NOCK_HEIGHT_MEAN, NOCK_HEIGHT_SD);
        assert_eq!(response(&[]), usual);
        assert_eq!(response(&[round(0.0, -60.0)]), usual);
        let shown = response(&[round(0.0, -60.0), round(-1.0, -60.0)]);
        let precision = 1.0 / 625.0 + 1.0 / 128.0;
        assert!((shown.mean() - -25.0 / 625.0 / precision).abs() < 1e-12);
        assert!((shown.sd - precision.powf(-0.5)).abs() < 1e-12);
    }

    /// A level is as it was shot there, of rounds elsewhere nothing.
    #[test]
    fn a_level_is_as_it_was_shot_where_the_nocking_point_stands() {
        let rounds = [round(0.0, -60.0), round(-0.8, 4.0), round(-0.8, -4.0)];
        let now = level(&rounds, 0, -0.8, None).unwrap();
        let sd = 32f64.sqrt();
        assert!(
            now.mean().abs() < 1e-9 && (now.sd - sd).abs() < 1e-9,
            "{now:?}"
        );
        assert_eq!(level(&rounds, 0, -1.6, None), None);
        assert_eq!(level(&rounds, 1, -0.8, None), None);
    }

    /// The shop's level is not its owner's, and their difference is no answer of the nocking point.
    #[test]
    fn a_level_is_the_shooters_own_where_he_shot_it() {
        let by = |shooter, nock_mm, height_mm| HeightRound {
            shooter: Some(shooter),
            ..round(nock_mm, height_mm)
        };
        let rounds = [by(0, 0.0, 0.0), by(1, -1.0, -50.0)];
        let near = |rounds: &[HeightRound], nock_mm, wanted_mm: f64| {
            let own = level(rounds, 0, nock_mm, Some(1)).unwrap();
            assert!((own.mean() - wanted_mm).abs() < 1e-9, "{own:?}");
        };
        near(&rounds, -1.0, -50.0);
        near(&rounds, 0.0, 0.0);
        assert_eq!(response(&rounds), response(&[]));
        let both = [by(0, 0.0, 0.0), by(1, 0.0, -50.0)];
        near(&both, 0.0, -50.0);
    }

    /// An older epoch has its own level and tells of the response alike.
    #[test]
    fn another_epoch_shares_the_response_alone() {
        let old = |nock_mm, height_mm| HeightRound {
            epoch: -1,
            ..round(nock_mm, height_mm)
        };
        let pair = [round(0.0, -60.0), round(-1.0, -20.0)];
        let both = [pair[0], pair[1], old(0.0, 160.0), old(-1.0, 200.0)];
        let [alone, shared] = [&pair[..], &both[..]].map(response);
        assert!(
            shared.mean() < alone.mean() && shared.sd < alone.sd,
            "{alone:?} {shared:?}"
        );
        assert_eq!(level(&both, 0, -1.0, None), level(&pair, 0, -1.0, None));
    }
}
