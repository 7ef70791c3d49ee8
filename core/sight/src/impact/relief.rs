//! A straight-on patch of the plane: brightness on a square grid in millimetres.

use crate::frame::PointMm;
use crate::stats::median;

/// Brightness over a rectangle of the plane, sampled every `step_mm`, in grey levels.
///
/// Signed, because stages subtract a background from it. Column 0 is the left edge, row 0 the TOP
/// edge (the plane's y is up, the rows run down).
#[derive(Debug, Clone, PartialEq)]
pub struct Relief {
    width: usize,
    height: usize,
    step_mm: f64,
    top_left: PointMm,
    values: Vec<i16>,
}

impl Relief {
    /// Samples a square of `2 * half_mm` around `centre`, one value every `step_mm`.
    pub fn sample(
        centre: PointMm,
        half_mm: f64,
        step_mm: f64,
        brightness: impl Fn(PointMm) -> f32,
    ) -> Self {
        let reach = (half_mm / step_mm).ceil().clamp(1.0, 2000.0);
        let side = 2 * reach as usize + 1;
        let offset = reach * step_mm;
        let top_left = PointMm::new(centre.x_mm - offset, centre.y_mm + offset);
        let mut values = Vec::with_capacity(side * side);
        for row in 0..side {
            let y_mm = top_left.y_mm - row as f64 * step_mm;
            values.extend((0..side).map(|column| {
                let x_mm = top_left.x_mm + column as f64 * step_mm;
                brightness(PointMm::new(x_mm, y_mm)).round() as i16
            }));
        }
        Self {
            width: side,
            height: side,
            step_mm,
            top_left,
            values,
        }
    }

    /// Wraps rows of values; `None` unless there are exactly `width * height` of them and the step
    /// is a positive number. `top_left` is the place of the first value.
    pub fn from_values(
        width: usize,
        height: usize,
        step_mm: f64,
        top_left: PointMm,
        values: Vec<i16>,
    ) -> Option<Self> {
        let fits = width.checked_mul(height) == Some(values.len()) && !values.is_empty();
        (fits && step_mm.is_finite() && step_mm > 0.0).then_some(Self {
            width,
            height,
            step_mm,
            top_left,
            values,
        })
    }

    /// Columns.
    pub fn width(&self) -> usize {
        self.width
    }

    /// Rows.
    pub fn height(&self) -> usize {
        self.height
    }

    /// Distance between neighbouring samples, mm.
    pub fn step_mm(&self) -> f64 {
        self.step_mm
    }

    /// All values, row by row from the top.
    pub fn values(&self) -> &[i16] {
        &self.values
    }

    /// All values, to subtract a background from.
    pub(crate) fn values_mut(&mut self) -> &mut [i16] {
        &mut self.values
    }

    /// The place on the plane of a (fractional) column and row.
    pub fn place(&self, column: f64, row: f64) -> PointMm {
        PointMm::new(
            self.top_left.x_mm + column * self.step_mm,
            self.top_left.y_mm - row * self.step_mm,
        )
    }

    /// The (fractional) column and row of a place on the plane.
    pub fn grid(&self, at: PointMm) -> (f64, f64) {
        (
            (at.x_mm - self.top_left.x_mm) / self.step_mm,
            (self.top_left.y_mm - at.y_mm) / self.step_mm,
        )
    }

    /// Brightness between samples (bilinear); the nearest edge value outside the patch.
    pub fn at(&self, column: f32, row: f32) -> f32 {
        let column = column.clamp(0.0, (self.width - 1) as f32);
        let row = row.clamp(0.0, (self.height - 1) as f32);
        let (left, top) = (column as usize, row as usize);
        let (fx, fy) = (column - left as f32, row - top as f32);
        let right = (left + 1).min(self.width - 1);
        let bottom = (top + 1).min(self.height - 1);
        let value = |x: usize, y: usize| {
            self.values
                .get(y * self.width + x)
                .map_or(0.0, |&v| f32::from(v))
        };
        let above = value(left, top) * (1.0 - fx) + value(right, top) * fx;
        let below = value(left, bottom) * (1.0 - fx) + value(right, bottom) * fx;
        above * (1.0 - fy) + below * fy
    }
}

/// The usual one of some brightnesses: their median; 0 of nothing.
pub(super) fn level(values: Vec<f32>) -> f32 {
    median(values.into_iter().map(f64::from).collect()).map_or(0.0, |middle| middle as f32)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_place_and_its_grid_position_are_inverse_and_y_is_up() {
        let patch = Relief::sample(PointMm::new(10.0, -5.0), 3.0, 0.25, |p| {
            (10.0 * p.x_mm + 5.0 * p.y_mm) as f32
        });
        let at = PointMm::new(11.25, -6.5);
        let (column, row) = patch.grid(at);
        assert_eq!(patch.place(column, row), at);
        assert!((patch.at(column as f32, row as f32) - 80.0).abs() < 0.51);
        assert!(patch.grid(PointMm::new(10.0, -4.0)).1 < patch.grid(at).1);
    }

    #[test]
    fn a_wrong_count_of_values_is_refused() {
        let corner = PointMm::default();
        assert!(Relief::from_values(3, 2, 0.5, corner, vec![0; 5]).is_none());
        assert!(Relief::from_values(3, 2, f64::NAN, corner, vec![0; 6]).is_none());
        assert!(Relief::from_values(3, 2, 0.5, corner, vec![0; 6]).is_some());
    }
}
