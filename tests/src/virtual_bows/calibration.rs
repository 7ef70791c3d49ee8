//! Whether a stated chance means what it says: of all bows said to answer the other way round with
//! a chance of 30 %, three in ten should.

/// Edges of the classes that stated chances are sorted into.
const EDGES: [f64; 6] = [0.0, 0.02, 0.1, 0.3, 0.7, 1.0];
/// A sum of many chances strays from its mean by more than this many standard deviations in one of
/// some thousands of tables (normal distribution, 3.29 is one in a thousand).
pub(super) const FARTHEST_SDS: f64 = 3.29;

/// Chances stated in one class, and what was true.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Class {
    /// Lowest and highest chance of the class.
    pub range: (f64, f64),
    /// Bows in it.
    pub bows: usize,
    /// Their mean stated chance.
    pub stated: f64,
    /// The share of them that really answers the other way.
    pub really: f64,
    /// Sum of the variances of what the stated chances promise.
    variance: f64,
}

impl Class {
    /// How far the truth lies from what was stated, in standard deviations of chance.
    pub fn sds(&self) -> f64 {
        let apart = (self.really - self.stated) * self.bows as f64;
        if self.bows == 0 {
            return 0.0;
        }
        // Half a bow is what a count can be off by for being whole.
        (apart.abs() - 0.5).max(0.0) / self.variance.sqrt().max(1e-9)
    }

    /// Whether chance alone explains the difference.
    pub fn holds(&self) -> bool {
        self.sds() <= FARTHEST_SDS
    }
}

/// Sorts stated chances, each with whether it came true, into classes.
pub fn classes(said: &[(f64, bool)]) -> Vec<Class> {
    EDGES
        .windows(2)
        .map(|edge| {
            let (low, high) = (edge[0], edge[1]);
            let last = high >= 1.0;
            let own = said
                .iter()
                .filter(|(chance, _)| *chance >= low && (*chance < high || last));
            class((low, high), own)
        })
        .collect()
}

fn class<'a>(range: (f64, f64), own: impl Iterator<Item = &'a (f64, bool)>) -> Class {
    let mut class = Class {
        range,
        ..Class::default()
    };
    for &(chance, came_true) in own {
        class.bows += 1;
        class.stated += chance;
        class.really += f64::from(u8::from(came_true));
        class.variance += chance * (1.0 - chance);
    }
    let bows = class.bows.max(1) as f64;
    class.stated /= bows;
    class.really /= bows;
    class
}

impl std::fmt::Display for Class {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(
            out,
            "said {:>3.0} to {:>3.0} %: {:>5} bows, {:>5.1} % on average; {:>5.1} % really do ({:.1} sd apart)",
            100.0 * self.range.0,
            100.0 * self.range.1,
            self.bows,
            100.0 * self.stated,
            100.0 * self.really,
            self.sds()
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 90 of 1000 where 10 % was said is chance; 150 of 1000 is not (sd of the count 9.5).
    #[test]
    fn chance_is_told_from_a_wrong_statement() {
        let table = |wrong: usize| {
            let said: Vec<(f64, bool)> = (0..1000).map(|k| (0.1, k < wrong)).collect();
            classes(&said)
        };
        assert!(table(90).iter().all(Class::holds));
        assert!(!table(150)[2].holds());
        assert_eq!(table(90)[2].bows, 1000);
    }

    #[test]
    fn every_chance_has_its_class() {
        let said: Vec<(f64, bool)> = (0..=100).map(|k| (f64::from(k) / 100.0, false)).collect();
        let bows: usize = classes(&said).iter().map(|class| class.bows).sum();
        assert_eq!(bows, 101);
    }
}
