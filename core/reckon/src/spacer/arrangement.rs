//! Every arrangement of both axles that a kit allows, and what each does to the bow.

use serde::{Deserialize, Serialize};

use super::{Fitting, Kit, KitError, Stock};

/// What of the bow turns cam offsets into the nock's sideways place.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct AxleGeometry {
    /// Distance between the axles, mm.
    pub axle_to_axle_mm: f64,
    /// Share of the top cam in the nock plane's offset, 0 to 1 (prior 0.5).
    pub top_weight: f64,
}

/// Which arrangements may be proposed.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ArrangementRule {
    /// Whether the two axles may carry different seats.
    pub unequal_axles: bool,
    /// Largest difference between the two cam offsets, mm.
    pub tilt_limit_mm: f64,
}

/// A fitting with what it does to the bow.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Arrangement {
    /// The seats.
    pub fitting: Fitting,
    /// Top cam's offset, mm, positive right.
    pub top_offset_mm: f64,
    /// Bottom cam's offset, mm, positive right.
    pub bottom_offset_mm: f64,
    /// Offset of the nock plane, mm, positive right: w top + (1 - w) bottom.
    pub offset_mm: f64,
    /// Difference of the cam offsets, top minus bottom, mm.
    pub tilt_mm: f64,
    /// That difference over the axle-to-axle distance, rad.
    pub tilt_rad: f64,
}

impl Kit {
    /// What a fitting does to the bow.
    ///
    /// # Errors
    /// [`KitError::UnknownPair`].
    pub fn arrangement(
        &self,
        fitting: &Fitting,
        bow: &AxleGeometry,
    ) -> Result<Arrangement, KitError> {
        let top_offset_mm = self.cam_offset_mm(&fitting.top)?;
        let bottom_offset_mm = self.cam_offset_mm(&fitting.bottom)?;
        let tilt_mm = top_offset_mm - bottom_offset_mm;
        Ok(Arrangement {
            fitting: fitting.clone(),
            top_offset_mm,
            bottom_offset_mm,
            offset_mm: bow.top_weight * top_offset_mm + (1.0 - bow.top_weight) * bottom_offset_mm,
            tilt_mm,
            tilt_rad: tilt_mm / bow.axle_to_axle_mm,
        })
    }

    /// Every fitting of both axles that the rule and the stock allow, in kit order; without a
    /// stock every pair is taken to be at hand twice. A kit of m pairs has at most (2m)^2.
    ///
    /// # Errors
    /// [`KitError::UnknownPair`] cannot arise from the kit's own seats; it is passed on all the same.
    pub fn arrangements(
        &self,
        bow: &AxleGeometry,
        rule: &ArrangementRule,
        stock: Option<&Stock>,
    ) -> Result<Vec<Arrangement>, KitError> {
        let seats = self.seats();
        let mut found = Vec::new();
        for top in &seats {
            for bottom in &seats {
                let fitting = Fitting {
                    top: top.clone(),
                    bottom: bottom.clone(),
                };
                let arrangement = self.arrangement(&fitting, bow)?;
                let at_hand = stock.is_none_or(|stock| stock.allows(&fitting));
                if at_hand && rule.allows(&arrangement) {
                    found.push(arrangement);
                }
            }
        }
        Ok(found)
    }
}

impl ArrangementRule {
    fn allows(&self, arrangement: &Arrangement) -> bool {
        let alike = arrangement.fitting.top == arrangement.fitting.bottom;
        alike || (self.unequal_axles && arrangement.tilt_mm.abs() <= self.tilt_limit_mm + 1e-9)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::frame::Side;
    use crate::spacer::{Axle, KitDraft, PairCount, PairDraft, Seat, SeatChange};

    const BOW: AxleGeometry = AxleGeometry {
        axle_to_axle_mm: 838.0,
        top_weight: 0.5,
    };

    fn kit() -> Kit {
        Kit::new(KitDraft {
            name: "bench".into(),
            total_mm: 4.4,
            tolerance_mm: 0.05,
            pairs: vec![
                PairDraft::new("A", 1.3, 3.1),
                PairDraft::new("B", 1.5, 2.9),
                PairDraft::new("C", 1.9, 2.5),
            ],
        })
        .unwrap()
    }

    #[test]
    fn three_pairs_make_six_alike_and_thirty_six_unequal_arrangements() {
        let kit = kit();
        let count = |unequal_axles, tilt_limit_mm| {
            kit.arrangements(
                &BOW,
                &ArrangementRule {
                    unequal_axles,
                    tilt_limit_mm,
                },
                None,
            )
            .unwrap()
            .len()
        };
        assert_eq!(count(false, 0.0), 6);
        assert_eq!(count(true, 9.0), 36);
        assert!(count(true, 0.5) < 36);
    }

    #[test]
    fn stock_needs_two_sets_where_both_axles_use_one_pair() {
        let stock = Stock {
            counts: vec![
                PairCount {
                    pair: "A".into(),
                    sets: 1,
                },
                PairCount {
                    pair: "C".into(),
                    sets: 2,
                },
            ],
        };
        let rule = ArrangementRule {
            unequal_axles: false,
            tilt_limit_mm: 0.0,
        };
        let found = kit().arrangements(&BOW, &rule, Some(&stock)).unwrap();
        assert!(
            found
                .iter()
                .all(|arrangement| arrangement.fitting.top.pair == "C")
        );
        assert_eq!(found.len(), 2);
    }

    #[test]
    fn a_thicker_left_spacer_moves_the_cam_right() {
        let offset = kit().cam_offset_mm(&Seat::new("B", Side::Left)).unwrap();
        assert!((offset - 0.7).abs() < 1e-12);
    }

    #[test]
    fn only_changed_axles_are_opened() {
        let from = Fitting::alike(Seat::new("B", Side::Left));
        let to = from.with_seat(Axle::Bottom, Seat::new("B", Side::Right));
        let changes = from.changes_to(&to);
        assert_eq!(changes.len(), 1);
        assert_eq!(
            (changes[0].axle, changes[0].change),
            (Axle::Bottom, SeatChange::TurnRound)
        );
    }

    #[test]
    fn measured_thickness_overrides_nominal() {
        let mut draft = kit().to_draft();
        draft.pairs[0].thin_measured_mm = Some(1.28);
        let kit = Kit::new(draft.clone()).unwrap();
        assert!((kit.pair("A").unwrap().thin_mm() - 1.28).abs() < 1e-12);
        draft.pairs[0].thin_measured_mm = Some(1.2);
        assert!(matches!(Kit::new(draft), Err(KitError::WrongSum { .. })));
    }

    #[test]
    fn a_mixed_pair_is_refused_with_its_sum_and_both_partners() {
        let refused = kit().seat_from_pieces(1.3, 2.9).unwrap_err();
        let KitError::MixedPair {
            sum_mm,
            left_partner_mm,
            right_partner_mm,
            ..
        } = &refused
        else {
            panic!("{refused}");
        };
        assert!((sum_mm - 4.2).abs() < 1e-12);
        assert_eq!(
            (*left_partner_mm, *right_partner_mm),
            (Some(3.1), Some(1.5))
        );
        assert_eq!(
            kit().seat_from_pieces(2.5, 1.9).unwrap(),
            Seat::new("C", Side::Left)
        );
    }
}
