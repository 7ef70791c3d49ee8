//! Summaries of samples.

use statrs::function::gamma::ln_gamma;

/// Count, mean and sample variance (divisor `n - 1`, zero for a single value).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Summary {
    /// How many values.
    pub n: usize,
    /// Their mean.
    pub mean: f64,
    /// Their variance, divisor `n - 1`.
    pub variance: f64,
}

impl Summary {
    /// Summary of `values`, in two passes with the second pass's residual folded back in (Chan,
    /// Golub and `LeVeque` 1983, the corrected two-pass algorithm), or `None` when there are none.
    pub fn of(values: &[f64]) -> Option<Self> {
        let mean = mean(values)?;
        let n = values.len();
        let residual: f64 = values.iter().map(|v| v - mean).sum();
        let squares: f64 = values.iter().map(|v| (v - mean).powi(2)).sum();
        let variance = if n < 2 {
            0.0
        } else {
            (squares - residual * residual / n as f64) / (n - 1) as f64
        };
        Some(Self { n, mean, variance })
    }

    /// Sample standard deviation.
    pub fn sd(&self) -> f64 {
        self.variance.max(0.0).sqrt()
    }
}

/// The mean, shifted by the first value so that large offsets cost no digits; `None` of nothing.
pub fn mean(values: &[f64]) -> Option<f64> {
    let first = *values.first()?;
    let n = values.len() as f64;
    let once = first + values.iter().map(|v| v - first).sum::<f64>() / n;
    Some(once + values.iter().map(|v| v - once).sum::<f64>() / n)
}

/// Sample covariance of two equally long samples, divisor `n - 1`; zero below two pairs.
pub fn covariance(a: &[f64], b: &[f64]) -> f64 {
    let (Some(mean_a), Some(mean_b)) = (mean(a), mean(b)) else {
        return 0.0;
    };
    let n = a.len().min(b.len());
    if n < 2 {
        return 0.0;
    }
    let sum: f64 = a
        .iter()
        .zip(b)
        .map(|(x, y)| (x - mean_a) * (y - mean_b))
        .sum();
    sum / (n - 1) as f64
}

/// Lag-1 autocorrelation as the NIST `StRD` defines it; zero for a constant sample.
pub fn autocorrelation(values: &[f64]) -> f64 {
    let Some(mean) = mean(values) else { return 0.0 };
    let below: f64 = values.iter().map(|v| (v - mean).powi(2)).sum();
    let above: f64 = values
        .windows(2)
        .map(|pair| pair.iter().map(|v| v - mean).product::<f64>())
        .sum();
    if below > 0.0 { above / below } else { 0.0 }
}

/// Expected sample standard deviation of `n` normal values over the true one:
/// `sqrt(2/(n-1)) Γ(n/2)/Γ((n-1)/2)`. Zero below two values.
pub fn c4(n: usize) -> f64 {
    if n < 2 {
        return 0.0;
    }
    let n = n as f64;
    (2.0 / (n - 1.0)).sqrt() * (ln_gamma(n / 2.0) - ln_gamma((n - 1.0) / 2.0)).exp()
}
