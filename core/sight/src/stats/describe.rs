//! Summaries of samples.

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
