//! A matched pair: the thin and the thick piece that go on one axle.

use serde::{Deserialize, Serialize};

use crate::frame::Side;

/// One pair as somebody types it in.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(from = "PairText")]
pub struct PairDraft {
    /// The pair's name, unique in its kit.
    pub name: String,
    /// Nominal thickness of the thin piece, mm.
    pub thin_mm: f64,
    /// Nominal thickness of the thick piece, mm.
    pub thick_mm: f64,
    /// The thin piece as measured with calipers, mm; overrides the nominal thickness.
    pub thin_measured_mm: Option<f64>,
    /// The thick piece as measured with calipers, mm; overrides the nominal thickness.
    pub thick_measured_mm: Option<f64>,
    /// What is written or scratched on the thin piece, free text.
    pub thin_mark: String,
    /// What is written or scratched on the thick piece, free text.
    pub thick_mark: String,
}

/// A pair as it is written down. Earlier records have one mark for both pieces.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct PairText {
    name: String,
    thin_mm: f64,
    thick_mm: f64,
    #[serde(default)]
    thin_measured_mm: Option<f64>,
    #[serde(default)]
    thick_measured_mm: Option<f64>,
    #[serde(default)]
    mark: String,
    thin_mark: Option<String>,
    thick_mark: Option<String>,
}

impl From<PairText> for PairDraft {
    fn from(text: PairText) -> Self {
        Self {
            name: text.name,
            thin_mm: text.thin_mm,
            thick_mm: text.thick_mm,
            thin_measured_mm: text.thin_measured_mm,
            thick_measured_mm: text.thick_measured_mm,
            thin_mark: text.thin_mark.unwrap_or_else(|| text.mark.clone()),
            thick_mark: text.thick_mark.unwrap_or(text.mark),
        }
    }
}

impl PairDraft {
    /// A pair as its maker states it: nominal thicknesses in mm, nothing measured, no mark.
    #[must_use]
    pub fn new(name: &str, thin_mm: f64, thick_mm: f64) -> Self {
        Self {
            name: name.into(),
            thin_mm,
            thick_mm,
            ..Self::default()
        }
    }
}

/// A checked pair: its pieces add up to the kit's total. Only a [`Kit`](super::Kit) makes one.
#[derive(Debug, Clone, PartialEq)]
pub struct SpacerPair {
    draft: PairDraft,
}

impl SpacerPair {
    /// A pair whose thin piece is the thinner one, however it was typed in.
    pub(super) fn sorted(draft: PairDraft) -> Self {
        let mut pair = Self { draft };
        if pair.thin_mm() > pair.thick_mm() {
            let draft = &mut pair.draft;
            std::mem::swap(&mut draft.thin_mm, &mut draft.thick_mm);
            std::mem::swap(&mut draft.thin_measured_mm, &mut draft.thick_measured_mm);
            std::mem::swap(&mut draft.thin_mark, &mut draft.thick_mark);
        }
        pair
    }

    /// The pair as plain data.
    pub(super) fn to_draft(&self) -> PairDraft {
        self.draft.clone()
    }

    /// The pair's name.
    pub fn name(&self) -> &str {
        &self.draft.name
    }

    /// Thickness of the thin piece, mm: measured where it was, else nominal.
    pub fn thin_mm(&self) -> f64 {
        self.draft.thin_measured_mm.unwrap_or(self.draft.thin_mm)
    }

    /// Thickness of the thick piece, mm: measured where it was, else nominal.
    pub fn thick_mm(&self) -> f64 {
        self.draft.thick_measured_mm.unwrap_or(self.draft.thick_mm)
    }

    /// Left and right thickness with the thick piece on `thick`, mm.
    pub fn left_right_mm(&self, thick: Side) -> (f64, f64) {
        match thick {
            Side::Left => (self.thick_mm(), self.thin_mm()),
            Side::Right => (self.thin_mm(), self.thick_mm()),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_mark_of_an_earlier_record_is_read_as_both_pieces_own() {
        let text = r#"{"name":"C","thin_mm":1.9,"thick_mm":2.5,"mark":"two dots"}"#;
        let pair: PairDraft = serde_json::from_str(text).unwrap();
        assert_eq!(
            (pair.thin_mark.as_str(), pair.thick_mark.as_str()),
            ("two dots", "two dots")
        );
        let written = serde_json::to_string(&pair).unwrap();
        assert_eq!(serde_json::from_str::<PairDraft>(&written).unwrap(), pair);
        let unknown = r#"{"name":"C","thin_mm":1.9,"thick_mm":2.5,"colour":"red"}"#;
        assert!(serde_json::from_str::<PairDraft>(unknown).is_err());
    }
}
