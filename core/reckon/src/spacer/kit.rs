//! A kit: matched pairs that share one total.

use serde::{Deserialize, Serialize};

use super::{KitError, PairDraft, Seat, SpacerPair};
use crate::frame::Side;

/// Smallest and largest plausible spacer, mm: thinner is foil, thicker is a bushing.
const PIECE_RANGE_MM: (f64, f64) = (0.1, 15.0);
/// Smallest and largest plausible total of one pair, mm.
const TOTAL_RANGE_MM: (f64, f64) = (0.4, 30.0);
/// Smallest and largest tolerance on that total, mm.
const TOLERANCE_RANGE_MM: (f64, f64) = (0.0, 0.5);
/// Allowed difference between a pair's sum and the kit's total unless the kit says otherwise, mm (prior).
pub(crate) const DEFAULT_TOLERANCE_MM: f64 = 0.05;

/// A kit as somebody types it in: unchecked, plain data. [`Kit::new`] checks it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct KitDraft {
    /// The kit's name.
    pub name: String,
    /// What thin + thick of every pair add up to, mm, 0.4 to 30.
    pub total_mm: f64,
    /// Allowed difference of a pair's sum from the total, mm, 0 to 0.5.
    #[serde(default = "default_tolerance_mm")]
    pub tolerance_mm: f64,
    /// The pairs.
    pub pairs: Vec<PairDraft>,
}

fn default_tolerance_mm() -> f64 {
    DEFAULT_TOLERANCE_MM
}

/// A checked kit: at least one pair, unique names, every sum within tolerance of the total.
///
/// # Example
/// ```
/// use shimwright_reckon::spacer::{Kit, KitDraft, PairDraft};
/// let kit = Kit::new(KitDraft {
///     name: "bench kit".into(), total_mm: 4.4, tolerance_mm: 0.05,
///     pairs: vec![PairDraft::new("A", 1.3, 3.1), PairDraft::new("C", 1.9, 2.5)],
/// })?;
/// let mixed = kit.seat_from_pieces(1.3, 2.5).unwrap_err();
/// assert!(mixed.to_string().contains("put 1.300 mm with 3.100 mm"));
/// # Ok::<(), shimwright_reckon::spacer::KitError>(())
/// ```
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(try_from = "KitDraft", into = "KitDraft")]
pub struct Kit {
    name: String,
    total_mm: f64,
    tolerance_mm: f64,
    pairs: Vec<SpacerPair>,
}

impl Kit {
    /// Checks a draft.
    ///
    /// # Errors
    /// [`KitError`] naming the first thing wrong: no pairs, an empty or repeated name, a length
    /// outside its range, or a pair whose sum is off.
    pub fn new(draft: KitDraft) -> Result<Self, KitError> {
        check_range("total", draft.total_mm, TOTAL_RANGE_MM)?;
        check_range("tolerance", draft.tolerance_mm, TOLERANCE_RANGE_MM)?;
        if draft.name.trim().is_empty() {
            return Err(KitError::EmptyName);
        }
        if draft.pairs.is_empty() {
            return Err(KitError::NoPairs { kit: draft.name });
        }
        let mut kit = Self {
            name: draft.name,
            total_mm: draft.total_mm,
            tolerance_mm: draft.tolerance_mm,
            pairs: Vec::with_capacity(draft.pairs.len()),
        };
        for pair in draft.pairs {
            kit.push(pair)?;
        }
        Ok(kit)
    }

    fn push(&mut self, draft: PairDraft) -> Result<(), KitError> {
        if draft.name.trim().is_empty() {
            return Err(KitError::EmptyName);
        }
        if self.pairs.iter().any(|known| known.name() == draft.name) {
            return Err(KitError::DuplicatePair { pair: draft.name });
        }
        let pair = SpacerPair::sorted(draft);
        check_range("spacer thickness", pair.thin_mm(), PIECE_RANGE_MM)?;
        check_range("spacer thickness", pair.thick_mm(), PIECE_RANGE_MM)?;
        let sum_mm = pair.thin_mm() + pair.thick_mm();
        if !self.is_total(sum_mm) {
            return Err(KitError::WrongSum {
                pair: pair.name().to_owned(),
                sum_mm,
                total_mm: self.total_mm,
                tolerance_mm: self.tolerance_mm,
            });
        }
        self.pairs.push(pair);
        Ok(())
    }

    /// The kit's name.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// What every pair adds up to, mm.
    pub fn total_mm(&self) -> f64 {
        self.total_mm
    }

    /// Allowed difference from that total, mm.
    pub fn tolerance_mm(&self) -> f64 {
        self.tolerance_mm
    }

    /// The pairs, in the order they were entered.
    pub fn pairs(&self) -> &[SpacerPair] {
        &self.pairs
    }

    /// The kit as plain data.
    pub fn to_draft(&self) -> KitDraft {
        KitDraft {
            name: self.name.clone(),
            total_mm: self.total_mm,
            tolerance_mm: self.tolerance_mm,
            pairs: self.pairs.iter().map(SpacerPair::to_draft).collect(),
        }
    }

    /// The pair of that name.
    ///
    /// # Errors
    /// [`KitError::UnknownPair`] with the names the kit has.
    pub fn pair(&self, name: &str) -> Result<&SpacerPair, KitError> {
        self.pairs
            .iter()
            .find(|pair| pair.name() == name)
            .ok_or_else(|| KitError::UnknownPair {
                pair: name.to_owned(),
                known: self
                    .pairs
                    .iter()
                    .map(|pair| pair.name().to_owned())
                    .collect(),
            })
    }

    /// Left and right thickness of a seat, mm.
    ///
    /// # Errors
    /// [`KitError::UnknownPair`].
    pub fn left_right_mm(&self, seat: &Seat) -> Result<(f64, f64), KitError> {
        Ok(self.pair(&seat.pair)?.left_right_mm(seat.thick))
    }

    /// Cam offset of a seat, mm, positive to the archer's right: (left - right) / 2.
    ///
    /// # Errors
    /// [`KitError::UnknownPair`].
    pub fn cam_offset_mm(&self, seat: &Seat) -> Result<f64, KitError> {
        let (left_mm, right_mm) = self.left_right_mm(seat)?;
        Ok((left_mm - right_mm) / 2.0)
    }

    /// Which seat two loose pieces make, one left and one right of the cam.
    ///
    /// # Errors
    /// [`KitError::MixedPair`] with the sum and the partner each piece should have had.
    pub fn seat_from_pieces(&self, left_mm: f64, right_mm: f64) -> Result<Seat, KitError> {
        check_range("spacer thickness", left_mm, PIECE_RANGE_MM)?;
        check_range("spacer thickness", right_mm, PIECE_RANGE_MM)?;
        let matched = self.seats().into_iter().min_by(|a, b| {
            let miss = |seat: &Seat| self.miss_mm(seat, left_mm, right_mm);
            miss(a).total_cmp(&miss(b))
        });
        match matched {
            Some(seat) if self.miss_mm(&seat, left_mm, right_mm) <= self.piece_tolerance_mm() => {
                Ok(seat)
            }
            _ => Err(self.mixed(left_mm, right_mm)),
        }
    }

    /// Which seat one piece tells that was measured on one side of the cam.
    ///
    /// # Errors
    /// [`KitError::UnclearPiece`] where no pair has such a piece, or several have one so alike that
    /// the other piece must be measured too.
    pub fn seat_from_piece(&self, side: Side, thickness_mm: f64) -> Result<Seat, KitError> {
        check_range("spacer thickness", thickness_mm, PIECE_RANGE_MM)?;
        let alike = |seat: &Seat| {
            self.left_right_mm(seat).is_ok_and(|(left_mm, right_mm)| {
                let known_mm = match side {
                    Side::Left => left_mm,
                    Side::Right => right_mm,
                };
                (known_mm - thickness_mm).abs() <= self.piece_tolerance_mm()
            })
        };
        let mut candidates: Vec<Seat> = self.seats().into_iter().filter(alike).collect();
        match (candidates.pop(), candidates.as_slice()) {
            (Some(seat), []) => Ok(seat),
            (last, _) => {
                candidates.extend(last);
                Err(KitError::UnclearPiece {
                    thickness_mm,
                    candidates: candidates.into_iter().map(|seat| seat.pair).collect(),
                })
            }
        }
    }

    /// Every seat of one axle: each pair, thick side left, then right (once where both are equal).
    pub fn seats(&self) -> Vec<Seat> {
        let turned = |pair: &SpacerPair, thick| Seat {
            pair: pair.name().to_owned(),
            thick,
        };
        self.pairs
            .iter()
            .flat_map(|pair| {
                let other_way =
                    (pair.thin_mm() < pair.thick_mm()).then(|| turned(pair, Side::Right));
                std::iter::once(turned(pair, Side::Left)).chain(other_way)
            })
            .collect()
    }

    fn is_total(&self, sum_mm: f64) -> bool {
        // A rounding step of a typed decimal must not refuse a pair exactly at the tolerance.
        (sum_mm - self.total_mm).abs() <= self.tolerance_mm + 1e-9
    }

    /// Two pieces may each be off by the tolerance of the sum and by the calipers' last digit.
    fn piece_tolerance_mm(&self) -> f64 {
        self.tolerance_mm + 0.011
    }

    fn miss_mm(&self, seat: &Seat, left_mm: f64, right_mm: f64) -> f64 {
        self.left_right_mm(seat).map_or(f64::INFINITY, |(l, r)| {
            (l - left_mm).abs().max((r - right_mm).abs())
        })
    }

    fn mixed(&self, left_mm: f64, right_mm: f64) -> KitError {
        KitError::MixedPair {
            left_mm,
            right_mm,
            sum_mm: left_mm + right_mm,
            total_mm: self.total_mm,
            left_partner_mm: self.partner_mm(left_mm),
            right_partner_mm: self.partner_mm(right_mm),
        }
    }

    fn partner_mm(&self, piece_mm: f64) -> Option<f64> {
        let near = |known_mm: f64| (known_mm - piece_mm).abs() <= self.piece_tolerance_mm();
        self.pairs.iter().find_map(|pair| match () {
            () if near(pair.thin_mm()) => Some(pair.thick_mm()),
            () if near(pair.thick_mm()) => Some(pair.thin_mm()),
            () => None,
        })
    }
}

impl TryFrom<KitDraft> for Kit {
    type Error = KitError;
    fn try_from(draft: KitDraft) -> Result<Self, KitError> {
        Self::new(draft)
    }
}

impl From<Kit> for KitDraft {
    fn from(kit: Kit) -> Self {
        kit.to_draft()
    }
}

fn check_range(what: &str, value_mm: f64, (low_mm, high_mm): (f64, f64)) -> Result<(), KitError> {
    if (low_mm..=high_mm).contains(&value_mm) {
        return Ok(());
    }
    Err(KitError::Implausible {
        what: what.to_owned(),
        value_mm,
        low_mm,
        high_mm,
    })
}
