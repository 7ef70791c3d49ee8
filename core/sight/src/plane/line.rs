//! A straight line through points of which some are wrong.

use crate::frame::PointPx;

/// `across . (p - through) = 0`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Line {
    pub(crate) through: PointPx,
    pub(crate) across: (f64, f64),
}

impl Line {
    /// Through two points; `None` where they coincide. `across` points to the right of a -> b on
    /// the screen (y down: right when walking is +90 degrees).
    pub(crate) fn between(a: PointPx, b: PointPx) -> Option<Self> {
        let length = a.distance_px(b);
        (length > 1e-9).then(|| Self {
            through: a,
            across: (-(b.y_px - a.y_px) / length, (b.x_px - a.x_px) / length),
        })
    }

    /// Signed distance, px.
    pub(crate) fn distance(&self, p: PointPx) -> f64 {
        (p.x_px - self.through.x_px) * self.across.0 + (p.y_px - self.through.y_px) * self.across.1
    }

    /// Where two lines meet; `None` for nearly parallel ones.
    pub(crate) fn meet(&self, other: &Self) -> Option<PointPx> {
        let det = self.across.0 * other.across.1 - self.across.1 * other.across.0;
        if det.abs() < 1e-6 {
            return None;
        }
        let d = other.distance(self.through);
        // Walk along self from its point until other's distance is zero.
        let along = (-self.across.1, self.across.0);
        let rate = along.0 * other.across.0 + along.1 * other.across.1;
        Some(PointPx::new(
            self.through.x_px - d / rate * along.0,
            self.through.y_px - d / rate * along.1,
        ))
    }

    /// The line with most points within `tolerance`, refined on them, and which those are.
    ///
    /// Random pairs (Fischler and Bolles, CACM 24, 1981) from a fixed sequence, so that a
    /// photograph always gives the same answer.
    pub(crate) fn robust(points: &[PointPx], tolerance: f64) -> Option<(Self, Vec<bool>)> {
        const TRIALS: usize = 200;
        let mut sequence = Sequence(0x2545_f491_4f6c_dd1d);
        let mut best: Option<(usize, Self)> = None;
        for _ in 0..TRIALS {
            let pair = (
                points.get(sequence.below(points.len())?)?,
                points.get(sequence.below(points.len())?)?,
            );
            if let Some(line) = Self::between(*pair.0, *pair.1) {
                let near = points
                    .iter()
                    .filter(|p| line.distance(**p).abs() < tolerance)
                    .count();
                if best.is_none_or(|(n, _)| near > n) {
                    best = Some((near, line));
                }
            }
        }
        let refined = best?.1.refined(points, tolerance)?;
        let near = points
            .iter()
            .map(|p| refined.distance(*p).abs() < tolerance)
            .collect();
        Some((refined, near))
    }

    /// Total least squares over the points within `tolerance`.
    fn refined(&self, points: &[PointPx], tolerance: f64) -> Option<Self> {
        let near = || {
            points
                .iter()
                .filter(|p| self.distance(**p).abs() < tolerance)
        };
        let n = near().count() as f64;
        let (sx, sy) = near().fold((0.0, 0.0), |s, p| (s.0 + p.x_px, s.1 + p.y_px));
        let middle = PointPx::new(sx / n, sy / n);
        let (mut xx, mut xy, mut yy) = (0.0, 0.0, 0.0);
        for p in near() {
            let (dx, dy) = (p.x_px - middle.x_px, p.y_px - middle.y_px);
            xx += dx * dx;
            xy += dx * dy;
            yy += dy * dy;
        }
        let angle = 0.5 * (2.0 * xy).atan2(xx - yy);
        let across = (-angle.sin(), angle.cos());
        let same = across.0 * self.across.0 + across.1 * self.across.1;
        let across = if same < 0.0 {
            (-across.0, -across.1)
        } else {
            across
        };
        (n >= 2.0 && xx + yy > 0.0).then_some(Self {
            through: middle,
            across,
        })
    }
}

/// A fixed sequence of scattered numbers (xorshift64, Marsaglia 2003).
struct Sequence(u64);

impl Sequence {
    fn below(&mut self, n: usize) -> Option<usize> {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        usize::try_from(self.0 >> 33).ok()?.checked_rem(n)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn meets_where_it_should_and_ignores_strays() {
        let points: Vec<PointPx> = (0..60)
            .map(|i| {
                let x = f64::from(i) * 10.0;
                let stray = if i % 3 == 0 { 25.0 + f64::from(i) } else { 0.0 };
                PointPx::new(x, 100.0 + 0.1 * x + stray)
            })
            .collect();
        let (line, near) = Line::robust(&points, 5.0).unwrap();
        assert_eq!(near.iter().filter(|n| **n).count(), 40);
        let upright = Line::between(PointPx::new(300.0, 0.0), PointPx::new(300.0, 9.0)).unwrap();
        let at = line.meet(&upright).unwrap();
        assert!(at.distance_px(PointPx::new(300.0, 130.0)) < 1e-6, "{at:?}");
        assert!(upright.meet(&upright).is_none());
        assert!(Line::robust(&[], 1.0).is_none());
    }
}
