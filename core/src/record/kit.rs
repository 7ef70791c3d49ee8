//! Kits with what the workshop owns of them.

use serde::{Deserialize, Serialize};

use crate::spacer::{Fitting, KitDraft, PairCount, Stock};

/// A stored kit and how many sets of each pair the workshop owns, fitted ones included.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct KitRecord {
    /// Given by the store.
    pub id: i64,
    /// The kit as plain data; it was checked before it was stored.
    pub kit: KitDraft,
    /// Sets owned. A pair that is not listed is not counted: it is taken to be at hand twice.
    pub owned: Vec<PairCount>,
    /// Since when it is put away, epoch ms: kept for the bows that carry it, offered no more.
    #[serde(default)]
    pub archived_ms: Option<i64>,
}

/// Where the sets of one pair are.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PairOnShelf {
    /// The pair's name.
    pub pair: String,
    /// Sets owned.
    pub owned: u32,
    /// Sets that sit in bows.
    pub fitted: u32,
    /// Sets left on the shelf; 0 where more are fitted than were counted.
    pub on_shelf: u32,
}

/// Where every counted pair of a kit is.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Shelf {
    /// One entry per counted pair, in the kit's order.
    pub pairs: Vec<PairOnShelf>,
}

impl KitRecord {
    /// Where the counted pairs are, given what every bow of this kit carries.
    pub fn shelf(&self, fitted: &[Fitting]) -> Shelf {
        let pairs = self.owned.iter().map(|count| {
            let fitted = fitted.iter().map(|one| sets_in(one, &count.pair)).sum();
            PairOnShelf {
                pair: count.pair.clone(),
                owned: count.sets,
                fitted,
                on_shelf: count.sets.saturating_sub(fitted),
            }
        });
        Shelf {
            pairs: pairs.collect(),
        }
    }

    /// What one bow may draw on: the shelf and what it carries itself. Pieces in other bows are
    /// not on the shelf; pairs nobody counted are taken to be at hand for both axles.
    pub fn stock_for(&self, own: &Fitting, others: &[Fitting]) -> Stock {
        let counts = self.kit.pairs.iter().map(|pair| {
            let owned = self.owned.iter().find(|count| count.pair == pair.name);
            let elsewhere: u32 = others.iter().map(|one| sets_in(one, &pair.name)).sum();
            let sets = owned.map_or(2, |count| {
                // What the bow carries is at hand whatever was counted.
                let carried = sets_in(own, &pair.name);
                count.sets.saturating_sub(elsewhere).max(carried)
            });
            PairCount {
                pair: pair.name.clone(),
                sets,
            }
        });
        Stock {
            counts: counts.collect(),
        }
    }
}

fn sets_in(fitting: &Fitting, pair: &str) -> u32 {
    u32::from(fitting.top.pair == pair) + u32::from(fitting.bottom.pair == pair)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::frame::Side;
    use crate::spacer::{PairDraft, Seat};

    fn record() -> KitRecord {
        let pair = |name: &str| PairDraft::new(name, 1.9, 2.5);
        let count = |pair: &str, sets| PairCount {
            pair: pair.into(),
            sets,
        };
        KitRecord {
            id: 1,
            kit: KitDraft {
                name: "bench".into(),
                total_mm: 4.4,
                tolerance_mm: 0.05,
                pairs: vec![pair("A"), pair("B"), pair("C")],
            },
            owned: vec![count("A", 3), count("B", 1)],
            archived_ms: None,
        }
    }

    #[test]
    fn pieces_in_other_bows_are_not_on_the_shelf() {
        let in_a = Fitting::alike(Seat::new("A", Side::Left));
        let in_b = Fitting::alike(Seat::new("B", Side::Left));
        let stock = record().stock_for(&in_b, std::slice::from_ref(&in_a));
        assert_eq!(stock.sets_of("A"), 1, "two of three sit in another bow");
        assert_eq!(stock.sets_of("B"), 2, "what it carries is at hand");
        assert_eq!(stock.sets_of("C"), 2, "nobody counted it");
        assert!(!stock.allows(&in_a));
    }

    #[test]
    fn the_shelf_never_goes_below_zero() {
        let in_b = Fitting::alike(Seat::new("B", Side::Left));
        let shelf = record().shelf(&[in_b]);
        assert_eq!((shelf.pairs[1].fitted, shelf.pairs[1].on_shelf), (2, 0));
        assert_eq!(shelf.pairs[0].on_shelf, 3);
    }
}
