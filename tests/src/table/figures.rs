//! Figures, bars and how they are printed.

use std::fmt;

/// What a figure must keep to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Bar {
    /// This or less.
    AtMost(f64),
    /// This or more.
    AtLeast(f64),
    /// Nothing: told for information.
    None,
}

/// One number of a row.
#[derive(Debug, Clone, PartialEq)]
pub struct Figure {
    /// What it is, with its unit.
    pub name: &'static str,
    /// Its value; NaN misses every bar.
    pub value: f64,
    /// Its bar.
    pub bar: Bar,
}

impl Figure {
    /// Whether the bar is kept.
    pub fn kept(&self) -> bool {
        match self.bar {
            Bar::AtMost(most) => self.value <= most,
            Bar::AtLeast(least) => self.value >= least,
            Bar::None => true,
        }
    }
}

/// One row of the table.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// What was measured.
    pub item: &'static str,
    /// From how many photographs.
    pub photos: usize,
    /// The figures.
    pub figures: Vec<Figure>,
    /// What else a reader should know.
    pub notes: Vec<String>,
}

impl Row {
    /// An empty row.
    pub fn new(item: &'static str, photos: usize) -> Self {
        Self {
            item,
            photos,
            figures: Vec::new(),
            notes: Vec::new(),
        }
    }

    /// With one more figure.
    #[must_use]
    pub fn with(mut self, name: &'static str, value: f64, bar: Bar) -> Self {
        self.figures.push(Figure { name, value, bar });
        self
    }

    /// Whether every bar is kept.
    pub fn kept(&self) -> bool {
        self.kept_but(&[])
    }

    /// Whether every bar is kept but those of the figures named here, which are known to be missed.
    pub fn kept_but(&self, missed: &[&str]) -> bool {
        let known = |figure: &&Figure| !missed.contains(&figure.name);
        self.figures.iter().filter(known).all(Figure::kept)
    }
}

impl fmt::Display for Row {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        writeln!(f, "{} ({} photographs)", self.item, self.photos)?;
        for figure in &self.figures {
            let bar = match figure.bar {
                Bar::AtMost(v) => format!("<= {v}"),
                Bar::AtLeast(v) => format!(">= {v}"),
                Bar::None => "-".into(),
            };
            let word = match (figure.bar, figure.kept()) {
                (Bar::None, _) => "",
                (_, true) => "ok",
                (_, false) => "MISSED",
            };
            writeln!(
                f,
                "    {:<38} {:>9.4}   {:<10} {word}",
                figure.name, figure.value, bar
            )?;
        }
        self.notes
            .iter()
            .try_for_each(|note| writeln!(f, "    {note}"))
    }
}

/// Errors collected, and what is asked of them.
#[derive(Debug, Clone, Default)]
pub struct Spread {
    values: Vec<f64>,
}

impl Spread {
    /// One more error, mm.
    pub fn push(&mut self, value: f64) {
        self.values.push(value);
    }

    /// These errors and others together.
    #[must_use]
    pub fn and(&self, others: &Self) -> Self {
        let values = self.values.iter().chain(&others.values);
        Self {
            values: values.copied().collect(),
        }
    }

    /// How many.
    pub fn count(&self) -> usize {
        self.values.len()
    }

    /// Root mean square; NaN when empty.
    pub fn rms(&self) -> f64 {
        (self.values.iter().map(|v| v * v).sum::<f64>() / self.values.len() as f64).sqrt()
    }

    /// The value that 95 % do not exceed; NaN when empty.
    pub fn p95(&self) -> f64 {
        let mut sorted = self.values.clone();
        sorted.sort_by(f64::total_cmp);
        let at = (sorted.len() as f64 * 0.95).ceil() as usize;
        sorted
            .get(at.saturating_sub(1))
            .copied()
            .unwrap_or(f64::NAN)
    }

    /// The largest; NaN when empty.
    pub fn max(&self) -> f64 {
        self.values.iter().copied().fold(f64::NAN, f64::max)
    }

    /// How many exceed a value.
    pub fn beyond(&self, value: f64) -> usize {
        self.values.iter().filter(|v| **v > value).count()
    }

    /// The same mean square seen per axis of a two-dimensional error.
    pub fn rms_per_axis(&self) -> f64 {
        self.rms() / std::f64::consts::SQRT_2
    }
}

/// `part` of `whole`; NaN when there is no whole.
pub(crate) fn share(part: usize, whole: usize) -> f64 {
    part as f64 / whole as f64
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_empty_spread_misses_its_bar() {
        let row = Row::new("nothing", 0).with("rms", Spread::default().rms(), Bar::AtMost(1.0));
        assert!(!row.kept());
    }

    #[test]
    fn the_95_percent_value_of_one_to_hundred_is_95() {
        let mut spread = Spread::default();
        (1..=100).rev().for_each(|v| spread.push(f64::from(v)));
        assert_eq!((spread.p95(), spread.max()), (95.0, 100.0));
        assert_eq!(spread.beyond(98.0), 2);
    }
}
