//! What was read by hand from a photograph.

use serde::Deserialize;

/// What a case measures against.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Kind {
    /// A sheet or a card.
    Sheet,
    /// Concentric rings.
    Rings,
    /// Two points.
    Points,
}

/// What should come of a case.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
pub enum Expect {
    /// An answer.
    #[serde(rename = "found")]
    Found,
    /// An answer or a refusal; what is answered must be right.
    #[serde(rename = "found or refused")]
    FoundOrRefused,
    /// A refusal: another size was asked for than lies there.
    #[serde(rename = "refused")]
    Refused,
    /// A refusal, or an answer with a warning.
    #[serde(rename = "refused or warned")]
    RefusedOrWarned,
}

/// Hand-read truth of one case; all places in the upright picture, px.
#[derive(Debug, Clone, Deserialize)]
pub struct Truth {
    /// Name of the photograph, without its ending.
    pub photo: String,
    /// What is measured against.
    pub kind: Kind,
    /// What should come of it.
    pub expect: Expect,
    /// Corners of the sheet in the order of the taps; none where folded or out of sight.
    #[serde(default)]
    pub corners: Option<Vec<Option<[f64; 2]>>>,
    /// Scale at the middle of the reference.
    #[serde(default)]
    pub px_per_mm: Option<f64>,
    /// Middles of the holes, one per tap.
    #[serde(default)]
    pub holes: Vec<[f64; 2]>,
    /// What kind of hole each is (`clean`, `ragged`, `print`, `closed`, `touching`).
    #[serde(default)]
    pub labels: Vec<String>,
    /// Places that count neither as holes nor as false finds.
    #[serde(default)]
    pub unsure: Vec<Vec<f64>>,
    /// Diameter of the shafts that made them, mm.
    #[serde(default)]
    pub hole_diameter_mm: Option<f64>,
    /// Distances between one hole and the next, mm.
    #[serde(default)]
    pub spacing_mm: Option<Vec<f64>>,
    /// Whether nothing in the picture is a tear, so that none may be read.
    #[serde(default)]
    pub no_tears: bool,
}

impl Truth {
    /// Whether the reference cannot bend, so that its edges must lie where they were read.
    pub fn rigid(&self) -> bool {
        self.photo.starts_with("c_")
    }
}
