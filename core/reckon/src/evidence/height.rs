//! Heights of one probe at one distance, and how the nocking point moves them: a regression on where it stood. What
//! distance, kind of arrow and flight model make of a height is in every such round alike, and so in no difference of them.

use super::priors::{NOCK_HEIGHT_MEAN, NOCK_HEIGHT_SD};
use super::{Mixture, SAME_MM};

/// Heights of one bow with cams and rest at two places differ by more than scatter beyond this many standard deviations: then
/// the swap or the rest took the height along. One pair of like ones in twenty seems to.
const TAKEN_ALONG_SDS: f64 = 2.0;

/// Where the bow stood, and who shot it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct HeightPlace {
    pub(crate) epoch: i64,
    /// Place among the bow's shooters.
    pub(crate) shooter: Option<usize>,
    pub(crate) nock_mm: f64,
    /// The nock plane's offset and the rest, mm.
    pub(crate) sideways_mm: [f64; 2],
}

impl HeightPlace {
    fn is_beside(&self, other: &Self) -> bool {
        let both = self.sideways_mm.iter().zip(other.sideways_mm);
        both.into_iter().all(|(a, b)| (a - b).abs() < SAME_MM)
    }
}

/// A round's height.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct HeightRound {
    pub(crate) at: HeightPlace,
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
            nock_mm += round.at.nock_mm / round.var_mm2;
            height_mm += round.height_mm / round.var_mm2;
        }
        Self {
            weight,
            nock_mm: nock_mm / weight,
            height_mm: height_mm / weight,
        }
    }
}

/// mm of split at 20 yd per mm of nocking-point height, with the trade's prior; every epoch, shooter and place of cams and rest
/// has a level of its own.
pub(crate) fn response(rounds: &[HeightRound]) -> Mixture {
    let mut precision = NOCK_HEIGHT_SD.powi(-2);
    let mut pull = NOCK_HEIGHT_MEAN * precision;
    for round in rounds {
        let alike = |one: &&HeightRound| {
            let same = one.at.epoch == round.at.epoch && one.at.shooter == round.at.shooter;
            same && one.at.is_beside(&round.at)
        };
        let away_mm = round.at.nock_mm - Sums::of(rounds.iter().filter(alike)).nock_mm;
        precision += away_mm * away_mm / round.var_mm2;
        pull += away_mm * round.height_mm / round.var_mm2;
    }
    Mixture::of_one(pull / precision, precision.sqrt().recip())
}

/// The height where the bow stands, mm at 20 yd, as the shooter shot it with the nocking point there, or anybody where he
/// did not; `None` where nobody did. Rounds with cams or rest elsewhere count where they agree with those of now.
pub(crate) fn level(rounds: &[HeightRound], now: &HeightPlace) -> Option<Mixture> {
    let here = |one: &&HeightRound| {
        one.at.epoch == now.epoch && (one.at.nock_mm - now.nock_mm).abs() < SAME_MM
    };
    let here: Vec<&HeightRound> = rounds.iter().filter(here).collect();
    let any_own = here.iter().any(|one| one.at.shooter == now.shooter);
    let counted = here
        .into_iter()
        .filter(|one| one.at.shooter == now.shooter || !any_own);
    let (beside, elsewhere): (Vec<_>, Vec<_>) = counted.partition(|one| one.at.is_beside(now));
    let of = |rounds: &[&HeightRound]| Sums::of(rounds.iter().copied());
    let (own, other) = (of(&beside), of(&elsewhere));
    let apart_mm = (own.height_mm - other.height_mm).abs();
    let sd_mm = (own.weight.recip() + other.weight.recip()).sqrt();
    let sums = if apart_mm > TAKEN_ALONG_SDS * sd_mm {
        own
    } else {
        of(&[beside, elsewhere].concat())
    };
    (sums.weight > 0.0).then(|| Mixture::of_one(sums.height_mm, sums.weight.sqrt().recip()))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn round(nock_mm: f64, height_mm: f64) -> HeightRound {
        HeightRound {
            at: at(nock_mm, None),
            height_mm,
            var_mm2: 64.0,
        }
    }

    fn at(nock_mm: f64, shooter: Option<usize>) -> HeightPlace {
        HeightPlace {
            epoch: 0,
            shooter,
            nock_mm,
            sideways_mm: [0.0; 2],
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
        let now = level(&rounds, &at(-0.8, None)).unwrap();
        let sd = 32f64.sqrt();
        assert!(
            now.mean().abs() < 1e-9 && (now.sd - sd).abs() < 1e-9,
            "{now:?}"
        );
        assert_eq!(level(&rounds, &at(-1.6, None)), None);
        let next = HeightPlace {
            epoch: 1,
            ..at(-0.8, None)
        };
        assert_eq!(level(&rounds, &next), None);
    }

    /// After a swap that took the height along only what was shot since counts; where it did not, all of it does.
    #[test]
    fn a_level_is_of_the_cams_as_they_stand_where_a_swap_took_it_along() {
        let swapped = |height_mm| {
            let mut one = round(0.0, height_mm);
            one.at.sideways_mm = [1.0, 0.0];
            one
        };
        let now = swapped(0.0).at;
        let of = |before: &[HeightRound], after_mm| {
            let rounds = [before, &[swapped(after_mm)]].concat();
            level(&rounds, &now).unwrap()
        };
        let before = [round(0.0, 0.0), round(0.0, 0.0)];
        let taken = of(&before, -50.0);
        assert!((taken.mean() + 50.0).abs() < 1e-9 && (taken.sd - 8.0).abs() < 1e-9);
        assert!((of(&before, -12.0).mean() + 4.0).abs() < 1e-9);
        assert!((of(&[], -12.0).mean() + 12.0).abs() < 1e-9);
        let unshot = level(&before, &now).unwrap();
        assert!(unshot.mean().abs() < 1e-9, "{unshot:?}");
    }

    /// The shop's level is not its owner's, and their difference is no answer of the nocking point.
    #[test]
    fn a_level_is_the_shooters_own_where_he_shot_it() {
        let by = |shooter, nock_mm, height_mm| HeightRound {
            at: at(nock_mm, Some(shooter)),
            ..round(nock_mm, height_mm)
        };
        let rounds = [by(0, 0.0, 0.0), by(1, -1.0, -50.0)];
        let near = |rounds: &[HeightRound], nock_mm, wanted_mm: f64| {
            let own = level(rounds, &at(nock_mm, Some(1))).unwrap();
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
        let old = |nock_mm, height_mm| {
            let mut one = round(nock_mm, height_mm);
            one.at.epoch = -1;
            one
        };
        let pair = [round(0.0, -60.0), round(-1.0, -20.0)];
        let both = [pair[0], pair[1], old(0.0, 160.0), old(-1.0, 200.0)];
        let [alone, shared] = [&pair[..], &both[..]].map(response);
        assert!(
            shared.mean() < alone.mean() && shared.sd < alone.sd,
            "{alone:?} {shared:?}"
        );
        let now = at(-1.0, None);
        assert_eq!(level(&both, &now), level(&pair, &now));
    }
}
