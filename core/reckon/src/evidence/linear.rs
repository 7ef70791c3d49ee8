//! Small dense symmetric systems: as many unknowns as a bow has (about ten), solved exactly.

/// A symmetric positive definite matrix, factored as L L'.
#[derive(Debug, Clone)]
pub(crate) struct Factored {
    size: usize,
    lower: Vec<f64>,
}

impl Factored {
    /// Factors `matrix` (row by row, `size` x `size`); prior precisions on its diagonal keep it
    /// positive definite whatever the evidence.
    pub(crate) fn new(size: usize, matrix: &[f64]) -> Self {
        let mut lower = matrix.to_vec();
        for j in 0..size {
            let pivot = lower[j * size + j]
                - dot(
                    &lower[j * size..j * size + j],
                    &lower[j * size..j * size + j],
                );
            let pivot = pivot.max(f64::MIN_POSITIVE).sqrt();
            lower[j * size + j] = pivot;
            for i in j + 1..size {
                let sum = dot(
                    &lower[i * size..i * size + j],
                    &lower[j * size..j * size + j],
                );
                lower[i * size + j] = (lower[i * size + j] - sum) / pivot;
            }
        }
        Self { size, lower }
    }

    /// Solves L z = v.
    pub(crate) fn half_solve(&self, v: &[f64]) -> Vec<f64> {
        let mut z = v.to_vec();
        for i in 0..self.size {
            let row = &self.lower[i * self.size..i * self.size + i];
            z[i] = (z[i] - dot(row, &z[..i])) / self.lower[i * self.size + i];
        }
        z
    }
}

/// Sum of products.
pub(crate) fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(x, y)| x * y).sum()
}
