//! Impacts of one arrow kind in one trial: where their centre is and how they scatter.

use crate::frame::{ArrowKind, Cov2, PointMm};
use crate::stats;
use serde::{Deserialize, Serialize};

/// One arrow on the face.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Impact {
    /// What was shot.
    pub kind: ArrowKind,
    /// Where it landed on the face, mm.
    pub point: PointMm,
    /// How well that place could be read, mm^2 (zero when it was typed in as exact).
    #[serde(default)]
    pub cov: Cov2,
    /// The number on the shaft, where arrows are numbered.
    #[serde(default)]
    pub arrow: Option<i32>,
    /// Why the user left this arrow out; it stays on record and out of every computation.
    #[serde(default)]
    pub excluded: Option<String>,
}

impl Impact {
    /// An impact read without error, unnumbered and counted.
    pub fn new(kind: ArrowKind, x_mm: f64, y_mm: f64) -> Self {
        Self {
            kind,
            point: PointMm::new(x_mm, y_mm),
            cov: Cov2::default(),
            arrow: None,
            excluded: None,
        }
    }

    /// Whether the impact takes part in computations.
    pub fn counts(&self) -> bool {
        self.excluded.is_none()
    }
}

/// Why a group could not be made.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum GroupError {
    /// No arrow of this kind counts.
    #[error("no {} arrow is left to count in this trial; mark one, or count one again that was left out", kind_word(*kind))]
    NoArrows {
        /// The kind that was asked for.
        kind: ArrowKind,
    },
    /// An impact has a place or reading error that is not a number.
    #[error("impact {} has no usable position; place it again", index + 1)]
    NotFinite {
        /// Its place in the list, from 0.
        index: usize,
    },
}

fn kind_word(kind: ArrowKind) -> &'static str {
    match kind {
        ArrowKind::Fletched => "fletched",
        ArrowKind::Bare => "bare",
        ArrowKind::Broadhead => "broadhead",
    }
}

/// The counted impacts of one kind in one trial.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Group {
    /// The arrow kind.
    pub kind: ArrowKind,
    /// How many arrows count, at least 1.
    pub n: u32,
    /// Their mean, mm.
    pub centre: PointMm,
    /// Their sample covariance, divisor `n - 1`, mm^2; zero for a single arrow.
    pub cov: Cov2,
    /// What reading the impacts adds to the centre's covariance, mm^2.
    pub reading: Cov2,
    /// Arrows of the kind that were left out.
    pub left_out: LeftOut,
}

/// Arrows of a group that a person left out. Where they lie is not believed; that they went there
/// still says how this shooter's arrows scatter.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LeftOut {
    /// How many.
    pub n: u32,
    /// Sideways, what they add to the sum of squares around the mean of all, mm^2.
    pub xx_mm2: f64,
    /// The same up and down.
    pub yy_mm2: f64,
}

impl LeftOut {
    fn of(kind: ArrowKind, impacts: &[Impact], centre: PointMm, counted: f64) -> Self {
        let out = impacts.iter().filter(|i| i.kind == kind && !i.counts());
        // What one more adds to a sum of squares, by its distance from the mean of those before.
        let share = counted / (counted + 1.0);
        out.fold(Self::default(), |sum, impact| {
            let away = impact.point - centre;
            Self {
                n: sum.n + 1,
                xx_mm2: sum.xx_mm2 + share * away.x_mm.powi(2),
                yy_mm2: sum.yy_mm2 + share * away.y_mm.powi(2),
            }
        })
    }
}

impl Group {
    /// The group of the counted impacts of `kind`.
    ///
    /// # Errors
    /// [`GroupError`] when none counts, or one has a number that is not finite.
    ///
    /// ```
    /// use shimwright_reckon::{frame::ArrowKind, group::{Group, Impact}};
    /// let shots = [(0.0, 0.0), (8.0, 2.0), (4.0, -5.0)]
    ///     .map(|(x, y)| Impact::new(ArrowKind::Bare, x, y));
    /// let group = Group::of(ArrowKind::Bare, &shots).unwrap();
    /// assert_eq!((group.centre.x_mm, group.centre.y_mm), (4.0, -1.0));
    /// ```
    pub fn of(kind: ArrowKind, impacts: &[Impact]) -> Result<Self, GroupError> {
        let counted = counted(kind, impacts)?;
        let (x, y) = axes(&counted);
        let (Some(mean_x), Some(mean_y)) = (stats::mean(&x), stats::mean(&y)) else {
            return Err(GroupError::NoArrows { kind });
        };
        let n = counted.len() as f64;
        let read = counted.iter().fold(Cov2::default(), |sum, i| sum + i.cov);
        let centre = PointMm::new(mean_x, mean_y);
        Ok(Self {
            kind,
            n: counted.len() as u32,
            centre,
            cov: Cov2 {
                xx_mm2: stats::covariance(&x, &x),
                xy_mm2: stats::covariance(&x, &y),
                yy_mm2: stats::covariance(&y, &y),
            },
            reading: read.scaled(1.0 / (n * n)),
            left_out: LeftOut::of(kind, impacts, centre, n),
        })
    }

    /// Whether any impact of `kind` counts.
    pub fn exists(kind: ArrowKind, impacts: &[Impact]) -> bool {
        impacts.iter().any(|i| i.kind == kind && i.counts())
    }
}

fn counted(kind: ArrowKind, impacts: &[Impact]) -> Result<Vec<&Impact>, GroupError> {
    let finite = |c: Cov2| c.xx_mm2.is_finite() && c.xy_mm2.is_finite() && c.yy_mm2.is_finite();
    for (index, impact) in impacts.iter().enumerate() {
        if !(impact.point.is_finite() && finite(impact.cov)) {
            return Err(GroupError::NotFinite { index });
        }
    }
    let counted: Vec<&Impact> = impacts
        .iter()
        .filter(|i| i.kind == kind && i.counts())
        .collect();
    if counted.is_empty() {
        return Err(GroupError::NoArrows { kind });
    }
    Ok(counted)
}

fn axes(impacts: &[&Impact]) -> (Vec<f64>, Vec<f64>) {
    impacts.iter().map(|i| (i.point.x_mm, i.point.y_mm)).unzip()
}
