//! The rim of a card seen from the side.
//!
//! A card has a thickness. On the side nearer to the camera its rim shows below its face, and the
//! rim's lower line is often the clearer of the two: taken for the edge of the face it puts that edge
//! `0.76 mm tan(tilt)` off. Once the card's pose is about known, so is how far the rim reaches.

use nalgebra::{Matrix3, Vector3};

use crate::frame::{PointMm, PointPx};
use crate::plane::channels::Channels;
use crate::plane::edges::candidates::TIMES_NOISE;
use crate::plane::edges::outline::Outline;
use crate::plane::edges::strip::{PROBES, Places, Sampling, peaks};
use crate::plane::line::Line;
use crate::plane::{Homography, Lens, Sheet};

/// Thickness of a card, mm (ISO/IEC 7810).
pub(crate) const CARD_MM: f64 = 0.76;
/// A rim narrower than this is not told from the blur of the edge, px. Chosen by hand, looking at the
/// photographs of `tests/real-table`.
const LEAST_PX: f64 = 4.0;
/// The other line is looked for this far beside where it should be, in rims. Chosen by hand, looking at
/// the photographs of `tests/real-table`.
const BESIDE: f64 = 0.3;
/// ... and this many px at least. Chosen by hand, looking at the photographs of `tests/real-table`.
const LEAST_BESIDE_PX: f64 = 1.5;
/// ... and is seen if this share of the probes agrees on it, to this many rims. Chosen by hand, looking
/// at the photographs of `tests/real-table`.
const LEAST_SEEN: f64 = 0.35;
/// Probes within this many rims of a line agree on it. Chosen by hand, looking at the photographs of
/// `tests/real-table`.
const TOLERANCE: f64 = 0.12;
const SIGMA_PX: f64 = 1.5;
/// The strip whose scatter is the noise, in rims.
const AROUND: f64 = 4.0;

/// How far outside of each side of the face the lower line of its rim lies, px; 0 where it is hidden
/// or too narrow. None without a focal length.
pub(crate) fn reach_px(
    sheet: &Sheet,
    h: &Homography,
    lens: &Lens,
    focal_px: f64,
) -> Option<[f64; 4]> {
    let c = lens.centre();
    let k = Matrix3::new(focal_px, 0.0, c.x_px, 0.0, focal_px, c.y_px, 0.0, 0.0, 1.0);
    let pose = k.try_inverse()? * h.matrix();
    let column = |i: usize| Vector3::new(pose[(0, i)], pose[(1, i)], pose[(2, i)]);
    let (x, y, at) = (column(0), column(1), column(2));
    let per_mm = f64::midpoint(x.norm(), y.norm());
    let normal = x.cross(&y).normalize() * per_mm;
    // Away from the camera.
    let down = if normal.dot(&at) < 0.0 {
        -normal
    } else {
        normal
    } * CARD_MM;
    let see = |p: Vector3<f64>| {
        let q = k * p;
        PointPx::new(q.x / q.z, q.y / q.z)
    };
    let place = |m: PointMm| x * m.x_mm + y * m.y_mm + at;
    let corners = sheet.corners_mm();
    let reach = |i: usize| -> Option<f64> {
        let (a, b) = (place(corners[i]), place(corners[(i + 1) % 4]));
        let across = Line::between(see(a), see(b))?.across;
        let middle = (a + b) / 2.0;
        let (face, rim) = (see(middle), see(middle + down));
        let outwards = (face.x_px - rim.x_px) * across.0 + (face.y_px - rim.y_px) * across.1;
        Some(if outwards >= LEAST_PX { outwards } else { 0.0 })
    };
    Some([reach(0)?, reach(1)?, reach(2)?, reach(3)?])
}

/// The sides' ends (undistorted px) on the face: a side beside which, a rim's reach inwards, another
/// line is seen more clearly than outwards, was the rim's.
pub(crate) fn onto_face(
    channels: &Channels<'_>,
    lens: &Lens,
    corners: &[PointPx; 4],
    reach_px: &[f64; 4],
    outline: &Outline<'_>,
) -> Option<[PointPx; 4]> {
    let line = |i: usize| {
        let ends = (corners[i], corners[(i + 1) % 4]);
        let rim_px = reach_px[i];
        let seen = |inwards_px| seen(channels, lens, ends, (inwards_px, rim_px), outline);
        let on_rim = rim_px > 0.0 && {
            let (inner, outer) = (seen(rim_px), seen(-rim_px));
            inner >= LEAST_SEEN && inner > outer
        };
        let along = Line::between(ends.0, ends.1)?;
        let by = if on_rim { rim_px } else { 0.0 };
        let moved =
            |p: PointPx| PointPx::new(p.x_px + by * along.across.0, p.y_px + by * along.across.1);
        Line::between(moved(ends.0), moved(ends.1))
    };
    let lines = [line(0)?, line(1)?, line(2)?, line(3)?];
    let corner = |i: usize| lines[(i + 3) % 4].meet(&lines[i]);
    Some([corner(0)?, corner(1)?, corner(2)?, corner(3)?])
}

/// Share of the probes that agree on a line parallel to a side.
fn seen(
    channels: &Channels<'_>,
    lens: &Lens,
    ends: (PointPx, PointPx),
    (inwards_px, rim_px): (f64, f64),
    outline: &Outline<'_>,
) -> f64 {
    let Some(places) = Places::on(lens, ends, outline) else {
        return 0.0;
    };
    let how = Sampling {
        half: (AROUND * rim_px).ceil() as usize,
        step_px: 1.0,
        sigma_px: SIGMA_PX,
        in_light: true,
    };
    let beside_px = (BESIDE * rim_px).max(LEAST_BESIDE_PX);
    let tolerance_px = (TOLERANCE * rim_px).max(1.0);
    let ways = places.layers(channels, &how).into_iter();
    let share = |(layer, sign): (&crate::plane::edges::strip::Layer, f64)| {
        let points: Vec<PointPx> = layer
            .rows
            .iter()
            .enumerate()
            .filter_map(|(probe, row)| {
                let wanted = (row.len() / 2) as f64 + inwards_px;
                let near = peaks(row, sign).filter(|(at, _)| (at - wanted).abs() <= beside_px);
                let (at, slope) = near.max_by(|a, b| a.1.total_cmp(&b.1))?;
                let clear = slope >= TIMES_NOISE * layer.noise;
                clear.then(|| places.off(probe, at - (row.len() / 2) as f64))?
            })
            .collect();
        let on_line = Line::robust(&points, tolerance_px);
        let count = on_line.map_or(0, |(_, near)| near.iter().filter(|n| **n).count());
        count as f64 / PROBES as f64
    };
    let layers: Vec<_> = ways.collect();
    let both = layers.iter().flat_map(|l| [(l, -1.0), (l, 1.0)]);
    both.map(share).fold(0.0, f64::max)
}
