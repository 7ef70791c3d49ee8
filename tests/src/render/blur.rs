//! Lens blur and motion, row by row, so that no more than a few rows are held.

use std::collections::VecDeque;

use super::optics::Optics;

/// A Gaussian along one axis.
struct Gauss {
    reach: usize,
    weights: Vec<f32>,
}

impl Gauss {
    fn new(sd_px: f64) -> Self {
        let reach = (sd_px * 3.0).ceil().max(1.0) as usize;
        let weight = |i: usize| (-((i as f64 - reach as f64) / sd_px).powi(2) / 2.0).exp();
        let sum: f64 = (0..=2 * reach).map(weight).sum();
        Self {
            reach,
            weights: (0..=2 * reach).map(|i| (weight(i) / sum) as f32).collect(),
        }
    }
}

/// A straight movement as weights on whole-pixel shifts.
struct Motion {
    reach: usize,
    taps: Vec<(usize, usize, f32)>,
}

impl Motion {
    /// Positions along the movement that stand for the whole of it.
    const STEPS: usize = 9;

    fn new([mx, my]: [f64; 2]) -> Self {
        let reach = (mx.abs().max(my.abs()) / 2.0).ceil() as usize;
        let side = 2 * reach + 1;
        let mut weights = vec![0.0_f64; (side + 1) * (side + 1)];
        for step in 0..Self::STEPS {
            let t = (step as f64 + 0.5) / Self::STEPS as f64 - 0.5;
            let (x, y) = (t * mx + reach as f64, t * my + reach as f64);
            let (ix, iy) = (x as usize, y as usize);
            let (fx, fy) = (x.fract(), y.fract());
            for (dx, dy, w) in [
                (0, 0, (1.0 - fx) * (1.0 - fy)),
                (1, 0, fx * (1.0 - fy)),
                (0, 1, (1.0 - fx) * fy),
                (1, 1, fx * fy),
            ] {
                weights[(iy + dy) * (side + 1) + ix + dx] += w / Self::STEPS as f64;
            }
        }
        let taps = weights.iter().enumerate().filter(|(_, w)| **w > 1e-6);
        Self {
            reach,
            taps: taps
                .map(|(i, w)| (i / (side + 1), i % (side + 1), *w as f32))
                .collect(),
        }
    }
}

/// Turns sharp rows, asked for from the top, into blurred ones.
pub(super) struct Blur {
    gauss: Gauss,
    motion: Motion,
    width: usize,
    sharp: VecDeque<Vec<f32>>,
    soft: VecDeque<Vec<f32>>,
    next: isize,
}

impl Blur {
    /// For pictures of `width` px.
    pub(super) fn new(optics: &Optics, width: usize) -> Self {
        let (gauss, motion) = (Gauss::new(optics.blur_px), Motion::new(optics.motion_px));
        let next = -(motion.reach as isize) - gauss.reach as isize;
        Self {
            gauss,
            motion,
            width,
            sharp: VecDeque::new(),
            soft: VecDeque::new(),
            next,
        }
    }

    /// Pixels a sharp row must have on either side of the picture.
    pub(super) fn margin(&self) -> usize {
        self.gauss.reach + self.motion.reach
    }

    /// The next blurred row; `render` draws the sharp row of a given y, margins included.
    pub(super) fn row(&mut self, mut render: impl FnMut(isize, &mut [f32])) -> Vec<f32> {
        while self.soft.len() < 2 * self.motion.reach + 2 {
            while self.sharp.len() < self.gauss.weights.len() {
                let mut row = vec![0.0; (self.width + 2 * self.margin()) * 3];
                render(self.next, &mut row);
                self.next += 1;
                self.sharp.push_back(self.across(&row));
            }
            self.soft.push_back(self.down());
            self.sharp.pop_front();
        }
        let mut out = vec![0.0; self.width * 3];
        for (dy, dx, w) in &self.motion.taps {
            add(&mut out, &self.soft[*dy][dx * 3..], *w);
        }
        self.soft.pop_front();
        out
    }

    fn across(&self, row: &[f32]) -> Vec<f32> {
        // One pixel more than needed: the motion reads up to one beyond its reach.
        let mut out = vec![0.0; row.len() - 6 * self.gauss.reach];
        for (i, w) in self.gauss.weights.iter().enumerate() {
            add(&mut out, &row[i * 3..], *w);
        }
        out.extend([0.0; 3]);
        out
    }

    fn down(&self) -> Vec<f32> {
        let mut out = vec![0.0; (self.width + 2 * self.motion.reach + 1) * 3];
        for (row, w) in self.sharp.iter().zip(&self.gauss.weights) {
            add(&mut out, row, *w);
        }
        out
    }
}

fn add(to: &mut [f32], from: &[f32], weight: f32) {
    to.iter_mut().zip(from).for_each(|(t, f)| *t += weight * f);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::render::Tone;

    #[test]
    fn blur_and_motion_keep_the_mean_and_the_middle_of_a_dot() {
        let optics = Optics {
            blur_px: 1.2,
            motion_px: [2.0, -1.1],
            noise_dn: 0.0,
            tone: Tone::AfterBlur,
        };
        let mut blur = Blur::new(&optics, 41);
        let margin = blur.margin();
        let (mut sum, mut x_sum, mut y_sum) = (0.0_f32, 0.0_f32, 0.0_f32);
        for y in 0..41_u8 {
            let row = blur.row(|at, row| {
                if at == 20 {
                    row[(20 + margin) * 3] = 1.0;
                }
            });
            for (x, v) in row.iter().step_by(3).enumerate() {
                sum += v;
                x_sum += v * x as f32;
                y_sum += v * f32::from(y);
            }
        }
        assert!(
            (sum - 1.0).abs() < 1e-4 && (x_sum - 20.0).abs() < 2e-3 && (y_sum - 20.0).abs() < 2e-3,
            "{sum} {x_sum} {y_sum}"
        );
    }
}
