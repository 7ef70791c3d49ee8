//! The printed rings of a whole straight-on picture, by a sliding median in polar coordinates.

/// Bins round the circle: half a degree each.
const ANGLES: usize = 720;
/// The median runs over this many bins to either side: 20 degrees.
const HALF_WINDOW: usize = 40;
/// ... but over at least this much arc, px, so that a hole is always the minority.
const HALF_ARC_PX: f32 = 20.0;
/// Inside this radius, px, one circle is too short for that: one median serves the whole disc.
const CORE_PX: usize = 11;

/// Subtracts rings around `(cx, cy)` from `grey` (`width` values a row).
pub(super) fn without_rings(grey: &[u8], width: usize, (cx, cy): (f32, f32)) -> Vec<i16> {
    let height = grey.len() / width;
    let far = |c: f32, size: usize| c.abs().max((size as f32 - c).abs());
    let rings = far(cx, width).hypot(far(cy, height)).ceil() as usize + 2;
    let polar = unroll(grey, width, (cx, cy), rings);
    let mut backdrop = vec![0_u8; rings * ANGLES];
    for (radius, (from, to)) in polar
        .chunks_exact(ANGLES)
        .zip(backdrop.chunks_exact_mut(ANGLES))
        .enumerate()
    {
        let arc = HALF_ARC_PX / radius.max(1) as f32 * ANGLES as f32 / std::f32::consts::TAU;
        let half = HALF_WINDOW.max(arc as usize).min(ANGLES / 2 - 1);
        sliding_median(from, half, to);
    }
    level_core(&polar, &mut backdrop);
    let mut relief = Vec::with_capacity(grey.len());
    for (y, row) in grey.chunks_exact(width).enumerate() {
        let dy = y as f32 - cy;
        relief.extend(row.iter().enumerate().map(|(x, &value)| {
            let (radius, bin) = polar_of(x as f32 - cx, dy);
            i16::from(value) - level(&backdrop, radius, bin)
        }));
    }
    relief
}

/// One median for the disc around the centre, in which a hole may cover whole circles.
fn level_core(polar: &[u16], backdrop: &mut [u8]) {
    let core = CORE_PX * ANGLES;
    let mut window = Window::default();
    let outer_half = polar.iter().take(core).skip(core / 2);
    outer_half.for_each(|&value| window.add(value));
    let level = window.median();
    backdrop.iter_mut().take(core).for_each(|b| *b = level);
}

/// Fraction bits of a place while unrolling: 131,071 px fit a positive `i32`, far more than lie between
/// the largest rings and the picture.
const BITS: u32 = 14;

/// Value outside the picture: counts in no median.
const OUTSIDE: u16 = 256;

/// Picture values at every radius (rows) and angle (columns).
fn unroll(grey: &[u8], width: usize, (cx, cy): (f32, f32), rings: usize) -> Vec<u16> {
    // Fixed point: rounding a float is a call where the processor may be an old one.
    let fixed = |v: f32| (v * (1 << BITS) as f32).round() as i32;
    let directions: Vec<(i32, i32)> = (0..ANGLES)
        .map(|k| (std::f32::consts::TAU * k as f32 / ANGLES as f32).sin_cos())
        .map(|(sin, cos)| (fixed(sin), fixed(cos)))
        .collect();
    let (cx, cy) = (fixed(cx + 0.5), fixed(cy + 0.5));
    let mut polar = Vec::with_capacity(rings * ANGLES);
    for radius in 0..rings as i32 {
        polar.extend(directions.iter().map(|(sin, cos)| {
            // A negative place becomes one far outside.
            let x = ((cx + radius * cos) >> BITS) as usize;
            let y = ((cy + radius * sin) >> BITS) as usize;
            let index = if x < width {
                y.saturating_mul(width).saturating_add(x)
            } else {
                usize::MAX
            };
            grey.get(index).map_or(OUTSIDE, |&v| u16::from(v))
        }));
    }
    polar
}

/// Running median of a closed row over `half` values to either side (Huang, Yang and Tang, IEEE
/// Trans. ASSP 27, 1979: a histogram and a pointer that follows it).
fn sliding_median(row: &[u16], half: usize, out: &mut [u8]) {
    let count = row.len();
    let mut window = Window::default();
    for k in 0..=2 * half {
        window.add(row[(k + count - half) % count]);
    }
    for (k, out) in out.iter_mut().enumerate() {
        *out = window.median();
        window.remove(row[(k + count - half) % count]);
        window.add(row[(k + half + 1) % count]);
    }
}

struct Window {
    counts: [u16; 256],
    total: u16,
    below: u16,
    level: usize,
}

impl Default for Window {
    fn default() -> Self {
        Self {
            counts: [0; 256],
            total: 0,
            below: 0,
            level: 0,
        }
    }
}

impl Window {
    fn add(&mut self, value: u16) {
        if let Some(count) = self.counts.get_mut(usize::from(value)) {
            *count += 1;
            self.total += 1;
            self.below += u16::from(usize::from(value) < self.level);
        }
    }

    fn remove(&mut self, value: u16) {
        if let Some(count) = self.counts.get_mut(usize::from(value)) {
            *count -= 1;
            self.total -= 1;
            self.below -= u16::from(usize::from(value) < self.level);
        }
    }

    fn median(&mut self) -> u8 {
        let half = self.total / 2;
        while self.below > half {
            self.level -= 1;
            self.below -= self.counts[self.level];
        }
        while self.level < 255 && self.below + self.counts[self.level] <= half {
            self.below += self.counts[self.level];
            self.level += 1;
        }
        self.level as u8
    }
}

/// Radius in px and angle in bins, 0..[`ANGLES`].
fn polar_of(dx: f32, dy: f32) -> (f32, usize) {
    let radius = (dx * dx + dy * dy).sqrt();
    let turns = fast_turns(dx, dy);
    (radius, (turns * ANGLES as f32 + 0.5) as usize % ANGLES)
}

/// Angle of `(dx, dy)` in turns, 0..1, to a thousandth of a turn: a quarter of a bin would do, and
/// the library's arc tangent would be a third of the whole cost.
fn fast_turns(dx: f32, dy: f32) -> f32 {
    let (ax, ay) = (dx.abs(), dy.abs());
    let ratio = ax.min(ay) / ax.max(ay).max(1e-6);
    // Odd polynomial for atan on 0..1, Abramowitz and Stegun 4.4.49 in turns.
    let square = ratio * ratio;
    let atan = ratio
        * (0.999_866
            + square
                * (-0.330_299_5
                    + square * (0.180_141 + square * (-0.085_133 + square * 0.020_835_1))));
    let eighth = atan / std::f32::consts::TAU;
    let quarter = if ay > ax { 0.25 - eighth } else { eighth };
    let half = if dx < 0.0 { 0.5 - quarter } else { quarter };
    if dy < 0.0 { 1.0 - half } else { half }
}

fn level(backdrop: &[u8], radius: f32, bin: usize) -> i16 {
    let ring = radius as usize;
    let fraction = ((radius - ring as f32) * 16.0) as i16;
    let at = |ring: usize| {
        backdrop
            .get(ring * ANGLES + bin)
            .map_or(0, |&v| i16::from(v))
    };
    let (low, high) = (at(ring), at(ring + 1));
    low + (high - low) * fraction / 16
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_running_median_equals_the_sorted_one() {
        let row: Vec<u16> = (0..ANGLES as u64)
            .map(|k| (k.wrapping_mul(2_654_435_761) >> 7) as u16 % 257)
            .collect();
        let mut fast = vec![0; ANGLES];
        sliding_median(&row, 40, &mut fast);
        for k in [0, 1, 300, 719] {
            let mut around: Vec<u16> = (0..81)
                .map(|j| row[(k + j + ANGLES - 40) % ANGLES])
                .filter(|&v| v < OUTSIDE)
                .collect();
            around.sort_unstable();
            assert_eq!(u16::from(fast[k]), around[around.len() / 2], "at {k}");
        }
    }

    #[test]
    fn the_quick_angle_is_the_angle() {
        for k in 0..3600 {
            let angle = std::f64::consts::TAU * f64::from(k) / 3600.0;
            let turns = f64::from(fast_turns(angle.cos() as f32, angle.sin() as f32));
            let miss = (turns - f64::from(k) / 3600.0).abs();
            assert!(miss.min(1.0 - miss) < 1e-4, "at {k}: {miss}");
        }
    }

    #[test]
    fn rings_vanish_and_a_hole_stays() {
        let width = 200;
        let grey: Vec<u8> = (0..width * width)
            .map(|i| {
                let (x, y) = ((i % width) as f32, (i / width) as f32);
                let hole = (x - 150.0).hypot(y - 120.0) < 4.0;
                let ring = (x - 90.0).hypot(y - 100.0) as usize / 30;
                if hole {
                    10
                } else {
                    [220, 130, 60, 200, 90][ring % 5]
                }
            })
            .collect();
        let relief = without_rings(&grey, width, (90.0, 100.0));
        assert!(relief[120 * width + 150] < -40);
        let print = relief.iter().filter(|v| v.abs() < 15).count();
        assert!(print as f64 > 0.93 * relief.len() as f64);
    }
}
