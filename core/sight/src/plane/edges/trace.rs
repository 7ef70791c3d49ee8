//! Edge points along the four straight sides of a reference.

use crate::plane::channels::Channels;
use crate::plane::line::Line;
use crate::plane::{Edge, Lens};

use super::candidates::{LEAST_SEEN, TIMES_NOISE};
use super::outline::Outline;
use super::strip::{Layer, PROBES, Places, Sampling, peaks};
use crate::frame::PointPx;
use crate::stats::median;

/// Edges weaker than this share of the side's median are dropped. Chosen by hand; `tests/photo-table`
/// measures what passes.
const WEAK: f64 = 0.35;
/// Cosine of the largest angle between a side and where it was expected (37 degrees). Chosen by hand;
/// not tuned.
const LEAST_ALIGNED: f64 = 0.8;
/// Edge points of several channels and both signs are mixed only where they see this much more. Chosen
/// by hand, looking at the photographs of `tests/real-table`.
const MIXED_GAIN: f64 = 1.3;
/// One clear probe counts no more than this many times the scatter around. Chosen by hand, looking at
/// the photographs of `tests/real-table`.
const CLEAR: f64 = 10.0;
/// The scatter around is taken this many times wider than an edge is looked for. Chosen by hand; not
/// tuned.
pub(crate) const AROUND: f64 = 4.0;
/// Filter widths by which the blur of an edge is read, and the range of those used for it, px.
const BLUR_SIGMAS_PX: [f64; 2] = [1.5, 4.0];
const SIGMA_RANGE_PX: (f64, f64) = (1.5, 8.0);

/// Search settings of one pass over the sides, all px.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Pass {
    pub(crate) half: f64,
    /// Filter width for each side.
    pub(crate) sigma_px: [f64; 4],
    pub(crate) tolerance: f64,
    /// The strip whose scatter is the noise reaches so far to either side.
    pub(crate) around: f64,
}

/// The edge points found along one side.
#[derive(Debug, Clone)]
pub(crate) struct Side {
    pub(crate) edge: Edge,
    /// Positions in the photograph (not undistorted), px.
    pub(crate) points: Vec<PointPx>,
    /// The line they agree on, undistorted px.
    pub(crate) line: Line,
    /// The filter that suits the edge's blur, px.
    pub(crate) sigma_px: f64,
}

/// An edge seen by one probe.
#[derive(Debug, Clone, Copy)]
struct Hit {
    at: PointPx,
    slope: f64,
    /// In units of the scatter around.
    clear: f64,
}

/// Looks for one side between two corners given in undistorted px; the share seen is the error
/// if that is too little.
pub(crate) fn side(
    channels: &Channels<'_>,
    lens: &Lens,
    edge: Edge,
    ends: (PointPx, PointPx),
    (outline, pass): (&Outline<'_>, &Pass),
) -> Result<Side, f64> {
    let expected = Line::between(ends.0, ends.1).ok_or(0.0)?;
    let places = Places::on(lens, ends, outline).ok_or(0.0)?;
    let how = sampling(pass.around, pass.sigma_px[edge as usize]);
    let layers = places.layers(channels, &how);
    let kept = clearest(&places, &layers, pass.half, outline.dark_inside);
    let flat: Vec<PointPx> = kept.iter().map(|p| lens.undistort(*p)).collect();
    let (line, near) = Line::robust(&flat, pass.tolerance).ok_or(0.0)?;
    let near = kept.iter().zip(&near).filter(|(_, near)| **near);
    let points: Vec<PointPx> = near.map(|(p, _)| *p).collect();
    let seen = points.len() as f64 / PROBES as f64;
    if seen < LEAST_SEEN {
        return Err(seen);
    }
    let same = line.across.0 * expected.across.0 + line.across.1 * expected.across.1;
    if same.abs() < LEAST_ALIGNED {
        return Err(0.0);
    }
    let sigma_px = blur(channels, &places, pass.half);
    Ok(Side {
        edge,
        points,
        line,
        sigma_px,
    })
}

fn sampling(around_px: f64, sigma_px: f64) -> Sampling {
    Sampling {
        half: around_px.ceil() as usize,
        step_px: 1.0,
        sigma_px,
        in_light: true,
    }
}

/// The filter that suits the blur of the strongest edges: as wide as they are. Of a step blurred by
/// `b`, a filter of width `s` sees a slope that falls with `1 / sqrt(s^2 + b^2)`.
fn blur(channels: &Channels<'_>, places: &Places, half_px: f64) -> f64 {
    let strongest = |sigma: f64| -> Option<f64> {
        let layers = places.layers(channels, &sampling(half_px, sigma));
        let steepest = |row: &Vec<f64>| {
            let finite = row.iter().filter(|s| s.is_finite());
            finite.map(|s| s.abs()).reduce(f64::max)
        };
        let medians = layers
            .iter()
            .filter_map(|l| median(l.rows.iter().filter_map(steepest).collect()));
        medians.reduce(f64::max)
    };
    let [narrow, wide] = BLUR_SIGMAS_PX;
    let Some((fine, coarse)) = strongest(narrow).zip(strongest(wide)) else {
        return narrow;
    };
    let ratio2 = (fine / coarse.max(1e-9)).powi(2);
    let blur2 = (wide * wide - narrow * narrow * ratio2) / (ratio2 - 1.0).max(1e-3);
    blur2
        .max(0.0)
        .sqrt()
        .clamp(SIGMA_RANGE_PX.0, SIGMA_RANGE_PX.1)
}

/// The edge points of the channel and sign that see the side best.
fn clearest(places: &Places, layers: &[Layer], half_px: f64, dark_inside: bool) -> Vec<PointPx> {
    // Lines run clockwise, so probes run inwards: a negative slope gets darker inwards.
    let signs: &[f64] = if dark_inside { &[-1.0] } else { &[-1.0, 1.0] };
    let ways = layers
        .iter()
        .flat_map(|l| signs.iter().map(move |s| (l, *s)));
    let ways: Vec<Vec<Option<Hit>>> = ways
        .map(|(layer, sign)| hits(places, layer, sign, half_px))
        .collect();
    let worth =
        |way: &[Option<Hit>]| -> f64 { way.iter().flatten().map(|h| h.clear.min(CLEAR)).sum() };
    let mixed: Vec<Option<Hit>> = (0..places.at.len())
        .map(|i| {
            let hits = ways.iter().filter_map(|way| *way.get(i)?);
            hits.max_by(|a, b| a.clear.total_cmp(&b.clear))
        })
        .collect();
    let Some(best) = ways.iter().max_by(|a, b| worth(a).total_cmp(&worth(b))) else {
        return Vec::new();
    };
    if worth(&mixed) > MIXED_GAIN * worth(best) {
        return mixed.iter().flatten().map(|h| h.at).collect();
    }
    let strengths = best.iter().flatten().map(|h| h.slope);
    let weak = WEAK * median(strengths.collect()).unwrap_or(0.0);
    let strong = best.iter().flatten().filter(|h| h.slope >= weak);
    strong.map(|h| h.at).collect()
}

/// The strongest edge of one sign on every probe, within `half_px` of the expected place.
fn hits(places: &Places, layer: &Layer, sign: f64, half_px: f64) -> Vec<Option<Hit>> {
    let strongest = |(probe, row): (usize, &Vec<f64>)| {
        let middle = (row.len() / 2) as f64;
        let near = peaks(row, sign).filter(|(at, _)| (at - middle).abs() <= half_px);
        let (at, slope) = near.max_by(|a, b| a.1.total_cmp(&b.1))?;
        let clear = slope / layer.noise;
        let at = places.off(probe, at - middle)?;
        (clear >= TIMES_NOISE).then_some(Hit { at, slope, clear })
    };
    layer.rows.iter().enumerate().map(strongest).collect()
}
