//! Paper that curls: an edge that bends away from its straight part, up to the corner.
//!
//! A line through most of such an edge puts its corner millimetres off. The corners themselves still tell where the
//! sheet is, so the edge is followed to them. A folded corner is not: its fold leaves the edge at an angle.

use crate::plane::line::Line;
use crate::plane::{Edge, PlaneWarning, Sheet};

use super::candidates::TIMES_NOISE;
use super::outline::Outline;
use super::refine::{Look, Traced, refine};
use super::solve::{Solved, Start, solve};
use super::stretch::{PROBED, longest_gap};
use super::strip::{Layer, PROBES, Places, Sampling, peaks};
use super::trace::Side;
use crate::frame::PointPx;

/// Nearly all of the side, its corners included.
const WHOLE: Outline<'static> = Outline {
    parts: &[(0.01, 0.99)],
    dark_inside: false,
};
/// An edge is followed no farther than this from the straight line, mm. Curled real sheets were up to 8 mm off.
const REACH_MM: f64 = 12.0;
/// Between samples across the side, mm.
const STEP_MM: f64 = 0.2;
/// Of a followed edge the next probe is this near to where the last ones lead, mm: farther off it is another
/// thing's, as that of a sheet below. Chosen by hand; not tuned.
const NEXT_MM: f64 = 0.5;
/// The straight part of a curled edge wanders about its line by up to this, mm: paper waves.
const START_MM: f64 = 1.2;
/// So many probes lead to the next one.
const LEADING: usize = 6;
/// So many probes in a row may miss the edge. Chosen by hand; not tuned.
const MOST_MISSED: usize = 4;
/// A followed edge ends within this share of the corner.
const AT_CORNER: f64 = 0.06;
/// An edge that ends this far from its line is curled, mm: loose paper waves by up to 1.2.
const LEAST_MM: f64 = 2.0;
/// The other end of a curled edge is taken as seen from here on, mm. Chosen by hand; not tuned.
const OTHER_END_MM: f64 = 0.5;
/// So many of the last followed probes tell the edge's direction at the corner.
const LAST: usize = 10;
/// A corner so found is off by about this, mm. Chosen by hand; not tuned.
const CORNER_SD_MM: f64 = 1.0;

/// A fit by an edge that was followed.
pub(crate) struct Uncurled {
    pub(crate) solved: Solved,
    edge: Edge,
    /// Its sides, where they are straight after all.
    pub(crate) traced: Option<Traced>,
    /// How far the edge lies from the straight line between its corners.
    sag_px: f64,
}

impl Uncurled {
    /// Says that the sheet is not flat; by how much it is, no other edge tells.
    pub(crate) fn tell(&self, warnings: &mut Vec<PlaneWarning>, px_per_mm: f64) {
        if self.traced.is_some() {
            return;
        }
        let replaced = |w: &PlaneWarning| match w {
            PlaneWarning::NotFlat { .. } | PlaneWarning::Rough { .. } => true,
            PlaneWarning::StretchLeftOut { edge, .. } => *edge == self.edge,
            _ => false,
        };
        warnings.retain(|w| !replaced(w));
        let (sag_px, sag_mm) = (self.sag_px, self.sag_px / px_per_mm);
        warnings.insert(0, PlaneWarning::NotFlat { sag_px, sag_mm });
    }
}

impl Sheet {
    /// The fit of a sheet that curls.
    pub(crate) fn uncurled(
        &self,
        look: &Look<'_>,
        start: &Start,
        solved: &Solved,
        traced: &Traced,
    ) -> Option<Uncurled> {
        let whole = look.outline.parts.len() == 1 && traced.missing.is_empty();
        if self.is_card() || !whole {
            return None;
        }
        let across_px = solved.corners[0].distance_px(solved.corners[1]);
        let px_per_mm = across_px / self.width_mm;
        solve_curled(look, start, solved, &traced.sides, px_per_mm)
    }
}

/// The fit of loose paper of which one side is curled. None where none is, or where its edge cannot be followed.
fn solve_curled(
    look: &Look<'_>,
    start: &Start,
    solved: &Solved,
    sides: &[Side],
    px_per_mm: f64,
) -> Option<Uncurled> {
    let at_end = |side: &Side| longest_gap(solved, side).filter(|gap| is_at_end(*gap));
    let followed = |side: &Side| {
        let gap = at_end(side)?;
        let seen = |i: usize| Followed::new(look, solved, i % 4, px_per_mm);
        let edge = seen(side.edge as usize)?;
        let others = (1..4).filter_map(|k| seen(edge.side + k));
        let alike = others.filter(|other| other.sign * edge.sign > 0.0).count();
        // Light paper is light on all sides; the edge of a sheet beside it is not.
        (alike >= 2).then_some((side.edge, edge.corners(solved, gap)?))
    };
    let mut curled = sides.iter().filter_map(followed);
    let (edge, corners) = curled.next()?;
    if curled.next().is_some() {
        return None;
    }
    if let Ok((solved, traced)) = refine(look, start, corners) {
        let side = traced.sides.iter().find(|s| s.edge == edge);
        let straight = side.is_some_and(|side| longest_gap(&solved, side).is_none());
        let mut moved = solved.corners.iter().zip(&corners);
        // Else it is the old line again.
        if straight && moved.all(|(a, b)| a.distance_px(*b) < 2.0 * CORNER_SD_MM * px_per_mm) {
            let traced = Some(traced);
            let sag_px = 0.0;
            return Some(Uncurled {
                solved,
                edge,
                traced,
                sag_px,
            });
        }
    }
    let start = Start {
        taps: corners.map(|corner| solved.lens.distort(corner)),
        tap_sd_px: CORNER_SD_MM * px_per_mm,
        ..*start
    };
    let (bent, straight): (Vec<Side>, Vec<Side>) =
        sides.iter().cloned().partition(|s| s.edge == edge);
    let solved = solve(&straight, corners, &start)?;
    let off = bent.iter().flat_map(|side| solved.residuals(side));
    let sag_px = off.map(|(_, r)| r.abs()).fold(0.0, f64::max);
    let traced = None;
    Some(Uncurled {
        solved,
        edge,
        traced,
        sag_px,
    })
}

/// Whether a stretch that does not follow the side reaches one of its ends.
pub(crate) fn is_at_end((from, to): (f64, f64)) -> bool {
    (from <= PROBED.0) != (to >= PROBED.1)
}

/// The edge of one side, seen by probes along it.
struct Followed {
    side: usize,
    places: Places,
    layer: Layer,
    sign: f64,
    px_per_mm: f64,
}

/// Probe, and how far inwards of the line the edge lies there, mm.
type Seen = (usize, f64);

impl Followed {
    fn new(look: &Look<'_>, solved: &Solved, side: usize, px_per_mm: f64) -> Option<Self> {
        let ends = (solved.corners[side], solved.corners[(side + 1) % 4]);
        let places = Places::on(&solved.lens, ends, &WHOLE)?;
        let how = Sampling {
            half: (REACH_MM / STEP_MM) as usize,
            step_px: STEP_MM * px_per_mm,
            sigma_px: (2.0 * STEP_MM * px_per_mm).max(1.2),
            in_light: true,
        };
        let layers = places.layers(look.channels, &how).into_iter();
        let ways = layers.flat_map(|layer| {
            let copy = Layer {
                rows: layer.rows.clone(),
                noise: layer.noise,
            };
            [(layer, -1.0), (copy, 1.0)]
        });
        let worth = |(layer, sign): &(Layer, f64)| -> f64 {
            let near = layer
                .rows
                .iter()
                .filter_map(|row| next(row, *sign, layer, (0.0, START_MM)));
            near.map(|(_, clear)| clear.min(10.0)).sum()
        };
        let (layer, sign) = ways.max_by(|a, b| worth(a).total_cmp(&worth(b)))?;
        Some(Self {
            side,
            places,
            layer,
            sign,
            px_per_mm,
        })
    }

    /// Where the edge is followed from a probe to the last of some.
    fn follow(&self, probes: impl Iterator<Item = usize>) -> Vec<Seen> {
        let mut seen: Vec<Seen> = Vec::new();
        let mut missed = 0;
        for probe in probes {
            let row = &self.layer.rows[probe];
            match next(row, self.sign, &self.layer, expected_mm(&seen, probe)) {
                Some((at_mm, _)) => {
                    seen.push((probe, at_mm));
                    missed = 0;
                }
                None => missed += 1,
            }
            if missed > MOST_MISSED {
                break;
            }
        }
        seen
    }

    /// The sheet's corners (undistorted px), those of this side where its edge leads; none where it is not curled.
    fn corners(&self, solved: &Solved, (from, to): (f64, f64)) -> Option<[PointPx; 4]> {
        let probe = |t: f64| ((t * PROBES as f64) as usize).min(PROBES - 1);
        let at_first = from <= PROBED.0;
        // The last probes that lie on the line lead on from it.
        let start = if at_first {
            probe(to) + LEADING
        } else {
            probe(from).checked_sub(LEADING)?
        };
        let (back, on) = (self.follow((0..=start).rev()), self.follow(start..PROBES));
        let (loose, other) = if at_first { (&back, &on) } else { (&on, &back) };
        let to_end = |way: &[Seen]| {
            way.last().is_some_and(|(probe, _)| {
                let t = self.places.along[*probe];
                t.min(1.0 - t) <= AT_CORNER
            })
        };
        let off = |way: &[Seen]| way.last().map_or(0.0, |(_, at_mm)| at_mm.abs());
        if !to_end(loose) || off(loose) < LEAST_MM {
            return None;
        }
        let mut corners = solved.corners;
        let first = if at_first { loose } else { other };
        let last = if at_first { other } else { loose };
        for (way, corner) in [(first, self.side), (last, (self.side + 1) % 4)] {
            if to_end(way) && off(way) >= OTHER_END_MM {
                corners[corner] = self.corner(solved, way, corner)?;
            }
        }
        Some(corners)
    }

    /// Where the last of a followed edge meets the neighbouring side.
    fn corner(&self, solved: &Solved, way: &[Seen], corner: usize) -> Option<PointPx> {
        let last = &way[way.len().saturating_sub(LAST)..];
        let place = |(probe, at_mm): &Seen| {
            let p = self.places.off(*probe, at_mm * self.px_per_mm)?;
            Some(solved.lens.undistort(p))
        };
        let points: Vec<PointPx> = last.iter().filter_map(place).collect();
        let (edge, _) = Line::robust(&points, NEXT_MM * self.px_per_mm)?;
        // A side runs from its own corner to the next.
        let neighbour = if corner == self.side {
            (corner + 3) % 4
        } else {
            corner
        };
        let beside = Line::between(
            solved.corners[neighbour],
            solved.corners[(neighbour + 1) % 4],
        )?;
        let meets = edge.meet(&beside)?;
        let moved_mm = meets.distance_px(solved.corners[corner]) / self.px_per_mm;
        (moved_mm < 1.5 * REACH_MM).then_some(meets)
    }
}

/// The clearest edge near where it is expected (mm inwards), and how clear it is.
fn next(
    row: &[f64],
    sign: f64,
    layer: &Layer,
    (expected_mm, near_mm): (f64, f64),
) -> Option<(f64, f64)> {
    let middle = (row.len() / 2) as f64;
    let at_mm = |at: f64| (at - middle) * STEP_MM;
    let near = peaks(row, sign).filter(|(at, _)| (at_mm(*at) - expected_mm).abs() <= near_mm);
    let (at, slope) = near.max_by(|a, b| a.1.total_cmp(&b.1))?;
    let clear = slope / layer.noise;
    (clear >= TIMES_NOISE).then_some((at_mm(at), clear))
}

/// Where the last probes lead, mm inwards, and how near to it the next is; near the line before there are any.
fn expected_mm(seen: &[Seen], probe: usize) -> (f64, f64) {
    let last = &seen[seen.len().saturating_sub(LEADING)..];
    match (last.first(), last.last()) {
        (Some(far), Some(near)) if last.len() == LEADING => {
            let rate = (near.1 - far.1) / (near.0 as f64 - far.0 as f64);
            (near.1 + rate * (probe as f64 - near.0 as f64), NEXT_MM)
        }
        (_, Some(near)) => (near.1, NEXT_MM),
        _ => (0.0, START_MM),
    }
}

#[cfg(test)]
mod tests {
    use crate::frame::PointMm;
    use crate::photo::{ExifFacts, Photo};
    use crate::plane::picture::Camera;
    use crate::plane::{Plane, PlaneWarning, Sheet, SheetFit};

    fn camera() -> Camera {
        Camera {
            turns: [12.0, -8.0, 4.0],
            ..Camera::level(380.0)
        }
    }

    /// The fit to an A4 sheet that `paper` draws, tapped some px off.
    fn fitted(paper: impl Fn(PointMm) -> bool) -> Plane {
        let grey = camera().draw(3.0, |m| if paper(m) { 215.0 } else { 90.0 });
        let photo = Photo::from_grey(grey, ExifFacts::default());
        let with = SheetFit {
            focal_px: Some(camera().focal_px),
            ..SheetFit::default()
        };
        let taps = Sheet::A4.corners_mm().map(|corner| {
            let mut tap = camera().see(corner);
            tap.x_px -= 4.0;
            tap.y_px += 5.0;
            tap
        });
        Sheet::A4.fit(&photo, &taps, &with).unwrap()
    }

    fn worst_mm(plane: &Plane) -> f64 {
        let off = |c: &PointMm| (plane.to_mm(camera().see(*c)).unwrap() - *c).norm_mm();
        Sheet::A4.corners_mm().iter().map(off).fold(0.0, f64::max)
    }

    fn on_a4(m: PointMm) -> bool {
        m.x_mm.abs() < 105.0 && m.y_mm.abs() < 148.5
    }

    /// The right edge bends in from its upper corner and slowly out again.
    #[test]
    fn a_curled_edge_is_followed_to_its_corner() {
        let inwards_mm = |y_mm: f64| {
            let down = 0.5 - y_mm / 297.0;
            7.0 * (down / 0.3).min((1.0 - down) / 0.7)
        };
        let plane = fitted(|m| on_a4(m) && m.x_mm < 105.0 - inwards_mm(m.y_mm));
        assert!(worst_mm(&plane) < 2.0, "{} {plane:?}", worst_mm(&plane));
        let told = |w: &PlaneWarning| matches!(w, PlaneWarning::NotFlat { .. });
        assert!(plane.warnings.iter().any(told), "{:?}", plane.warnings);
    }

    /// A sheet below of the same shade hides a stretch of the edge, and its own is another line.
    #[test]
    fn the_edge_of_a_sheet_below_is_not_followed() {
        let below = |m: PointMm| (0.0..111.0).contains(&m.x_mm) && m.y_mm > 70.0;
        let plane = fitted(|m| on_a4(m) || (below(m) && m.y_mm < 148.5));
        assert!(worst_mm(&plane) < 0.5, "{} {plane:?}", worst_mm(&plane));
    }
}
