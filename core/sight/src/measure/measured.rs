//! What a photograph gave, with how far to trust it.

use serde::{Serialize, Serializer};

use super::pixels;
use super::request::{Tap, TearTap};
use crate::frame::{ArrowKind, Cov2, PointMm, PointPx};
use crate::impact::{Hole, HoleTone, NotSnapped};
use crate::photo::CameraKey;
use crate::plane::{Plane, PlaneWarning, Reading};
use crate::tear::{Tear, TearRefusal};

/// The result of one photograph. Millimetres from the middle of the reference, x right, y up.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Measured {
    /// The reference as fitted.
    pub plane: PlaneFacts,
    /// One per tap, in the order given.
    pub impacts: Vec<MeasuredImpact>,
    /// Suggestions, best first; empty unless asked for. Nothing is an impact until a person says so.
    pub proposals: Vec<Proposal>,
    /// One per tear tap, in the order given.
    pub tears: Vec<MeasuredTear>,
    /// What was found, as lines on the picture, so that a person can see whether to believe it.
    pub found: Vec<Trace>,
    /// The camera and its setting, under which `plane.k1` may be remembered.
    pub camera: Option<CameraKey>,
}

/// How the reference was fitted.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PlaneFacts {
    /// Root mean square of what the fit leaves, px.
    pub residual_px: f64,
    /// The same on the plane, mm.
    pub residual_mm: f64,
    /// Lens coefficient used.
    pub k1: f64,
    /// Whether `k1` was fitted well enough here to be remembered for this camera.
    pub k1_learned: bool,
    /// Scale at the middle of the reference, px per mm.
    pub px_per_mm: f64,
    /// Standard deviation of lengths sideways, a fraction: 0.004 is 4 mm in a metre. From the size
    /// of the reference and its fit; the same for everything in the photograph.
    pub scale_sd_x: f64,
    /// The same up and down, a fraction.
    pub scale_sd_y: f64,
    /// How far directions may be turned, one standard deviation, rad: mostly by not knowing which
    /// way is up on a round face. It turns everything alike, and is no part of a reading.
    pub turn_sd_rad: f64,
    /// What to tell the person.
    #[serde(serialize_with = "in_words")]
    pub warnings: Vec<PlaneWarning>,
}

/// A lens is remembered only from a photograph that tells it this well (standard deviation of k1) ...
const LEARNED_K1_SD: f64 = 0.004;
/// ... and only if it is a phone's: what bends more is the paper.
const LARGEST_LEARNED_K1: f64 = 0.06;

impl PlaneFacts {
    pub(super) fn of(plane: &Plane) -> Self {
        let bent = |w: &PlaneWarning| {
            matches!(
                w,
                PlaneWarning::NotFlat { .. }
                    | PlaneWarning::Rough { .. }
                    | PlaneWarning::LensDiffers { .. }
            )
        };
        let told = plane.k1_sd.is_some_and(|sd| sd < LEARNED_K1_SD);
        let usual = plane.lens.k1.abs() < LARGEST_LEARNED_K1;
        let strain = plane.strain(plane.reach_mm() / 2.0);
        Self {
            residual_px: plane.residual_px,
            residual_mm: plane.residual_mm,
            k1: plane.lens.k1,
            k1_learned: told && usual && !plane.warnings.iter().any(bent),
            px_per_mm: plane.px_per_mm(PointMm::default()),
            scale_sd_x: strain.x,
            scale_sd_y: strain.y,
            turn_sd_rad: strain.turn_rad,
            warnings: plane.warnings.clone(),
        }
    }
}

fn in_words<S: Serializer>(warnings: &[PlaneWarning], to: S) -> Result<S::Ok, S::Error> {
    to.collect_seq(warnings.iter().map(ToString::to_string))
}

/// What an impact's place rests on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum ReadAs {
    /// A crisp rim: its circle's centre.
    Crisp,
    /// A torn hole, a crack or holes that touch: the middle of the whole wound.
    Wound,
    /// Nothing in the picture: where the person put the mark.
    AsTapped,
}

/// One impact.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct MeasuredImpact {
    /// Which arrow made it.
    pub kind: ArrowKind,
    /// Its centre in the picture, px.
    #[serde(with = "pixels::point")]
    pub px: PointPx,
    /// To the right of the middle of the reference, mm.
    pub x_mm: f64,
    /// Above the middle of the reference, mm.
    pub y_mm: f64,
    /// Standard deviation on either axis (root mean of the two variances), mm, of pointing or of
    /// the hole's middle: what this impact may be off against the others of the photograph.
    pub sd_mm: f64,
    /// The same as a covariance.
    pub reading: Cov2,
    /// What the plane's fit, its size and which way is up may add here, alike for all impacts near
    /// each other: it cancels in a split but for what [`PlaneFacts`] says of lengths and directions.
    pub common: Cov2,
    /// Whether the centre of a hole was found; if not, this is the tap itself.
    pub snapped: bool,
    /// What the place rests on.
    pub read_as: ReadAs,
    /// Why not; none where a person placed it.
    pub reason: Option<NotSnapped>,
    /// Radius of the hole found, mm.
    pub radius_mm: Option<f64>,
    /// Whether the hole found is darker or lighter than its surroundings.
    pub tone: Option<HoleTone>,
}

impl MeasuredImpact {
    /// The mark itself, whatever the picture shows there.
    pub(super) fn placed(tap: &Tap, read: &Reading) -> Self {
        Self {
            kind: tap.kind,
            px: tap.px,
            x_mm: read.at.x_mm,
            y_mm: read.at.y_mm,
            sd_mm: mean_sd(read.reading),
            reading: read.reading,
            common: read.common(),
            snapped: false,
            read_as: ReadAs::AsTapped,
            reason: None,
            radius_mm: None,
            tone: None,
        }
    }

    /// The centre of a hole, which is at `px`.
    pub(super) fn snapped(tap: &Tap, px: PointPx, read: &Reading, hole: &Hole) -> Self {
        Self {
            px,
            snapped: true,
            read_as: if hole.crisp {
                ReadAs::Crisp
            } else {
                ReadAs::Wound
            },
            radius_mm: Some(hole.radius_mm),
            tone: Some(hole.tone),
            ..Self::placed(tap, read)
        }
    }
}

/// Standard deviation on either axis, mm: root mean of the two variances.
pub(super) fn mean_sd(cov: Cov2) -> f64 {
    f64::midpoint(cov.xx_mm2.max(0.0), cov.yy_mm2.max(0.0)).sqrt()
}

/// A place that may be a hole.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Proposal {
    /// To the right of the middle of the reference, mm.
    pub x_mm: f64,
    /// Above the middle of the reference, mm.
    pub y_mm: f64,
    /// 0..=1.
    pub score: f64,
    /// Where in the picture, px.
    #[serde(with = "pixels::point")]
    pub px: PointPx,
}

/// What was found by itself on the whole plane.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Suggested {
    /// Where holes may be, best first. Nothing is an impact until a person says so.
    pub holes: Vec<Proposal>,
    /// Outlines of arrows that still stand; what hides behind them is not suggested.
    pub standing: Vec<Trace>,
}

/// One paper tear: where the nock end passed minus where the point passed.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct MeasuredTear {
    /// Nock end right (+) or left (-) of the point, mm; 0 when refused.
    pub x_mm: f64,
    /// Nock end above (+) or below (-) the point, mm; 0 when refused.
    pub y_mm: f64,
    /// Length of the tear, mm.
    pub length_mm: f64,
    /// Direction from point to nock end, rad, counter-clockwise from the right.
    pub angle_rad: f64,
    /// Standard deviation on either axis, mm.
    pub sd_mm: f64,
    /// Whether the tear could be read.
    pub accepted: bool,
    /// Why not.
    pub reason: Option<TearRefusal>,
    /// Middle of the point's hole, px; the tap when refused.
    #[serde(with = "pixels::point")]
    pub point_px: PointPx,
    /// Where the nock end passed, px; the tap when refused.
    #[serde(with = "pixels::point")]
    pub nock_px: PointPx,
}

impl MeasuredTear {
    pub(super) fn read(plane: &Plane, tear: &Tear) -> Self {
        Self {
            x_mm: tear.vector.x_mm,
            y_mm: tear.vector.y_mm,
            length_mm: tear.vector.norm_mm(),
            angle_rad: tear.vector.y_mm.atan2(tear.vector.x_mm),
            sd_mm: tear.sd_mm,
            accepted: true,
            reason: None,
            point_px: plane.to_px(tear.point),
            nock_px: plane.to_px(tear.nock),
        }
    }

    pub(super) fn refused(tap: &TearTap, reason: TearRefusal) -> Self {
        Self {
            x_mm: 0.0,
            y_mm: 0.0,
            length_mm: 0.0,
            angle_rad: 0.0,
            sd_mm: 0.0,
            accepted: false,
            reason: Some(reason),
            point_px: tap.px,
            nock_px: tap.px,
        }
    }
}

/// What a line on the picture shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum TraceKind {
    /// An edge of the sheet, card or marks.
    Edge,
    /// A stretch of an edge that does not follow it, or that was not seen.
    EdgeLeftOut,
    /// A printed ring.
    Ring,
    /// The two points of known distance, or a measured length.
    Length,
    /// The crisp rim of a hole.
    Hole,
    /// About where a torn hole ends.
    Wound,
    /// An arrow that still stands in the face, as far as it is seen.
    Standing,
    /// A slit cut by a vane.
    Slit,
    /// A tear, from the point's hole to where the nock end passed.
    Tear,
}

/// A polyline on the picture.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Trace {
    /// What it shows.
    pub kind: TraceKind,
    /// Its points, px; first and last are equal for closed lines.
    #[serde(serialize_with = "pixels::line::serialize")]
    pub px: Vec<PointPx>,
}

/// The plane seen straight on.
#[derive(Debug, Clone, PartialEq)]
pub struct Rectified {
    /// Columns.
    pub width: usize,
    /// Rows, the first at the top.
    pub height: usize,
    /// Size of a pixel, mm.
    pub mm_per_px: f64,
    /// Where the middle of the first pixel lies, mm.
    pub left_mm: f64,
    /// Where the middle of the first pixel lies, mm.
    pub top_mm: f64,
    /// `3 * width * height` bytes, red first.
    pub rgb: Vec<u8>,
}
