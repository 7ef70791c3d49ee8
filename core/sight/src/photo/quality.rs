//! Whether a photograph is fit to be measured at all.

use super::{Grey, Photo, PhotoError, QualityFault};

/// Result of the gate: what to warn about. What makes measuring pointless is an error instead.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Quality {
    /// Things that widen the uncertainty or may spoil a snap.
    pub warnings: Vec<QualityFault>,
}

/// Below these the picture holds no edge that could be measured. Chosen by hand; not tuned.
const DARK_REFUSE: u8 = 24;
/// Range of brightness (1st to 99th percentile) below which it holds none either. Chosen by hand; not
/// tuned.
const CONTRAST_REFUSE: u8 = 16;
/// Dim but usable. Chosen by hand; not tuned.
const DARK_WARN: u8 = 70;
/// Share of pure white from which edges and holes may be eaten. Chosen by hand; not tuned.
const BLOWN_WARN: f64 = 0.25;
/// Share of pure white from which nothing is left to measure. Chosen by hand; not tuned.
const BLOWN_REFUSE: f64 = 0.85;
/// Width of the sharpest edges from which a picture is called blurred, full-size px. Chosen by hand;
/// not tuned.
const EDGE_WARN_PX: f64 = 8.0;
/// Width of the sharpest edges from which it is refused, full-size px. Chosen by hand; not tuned.
const EDGE_REFUSE_PX: f64 = 24.0;
/// Level from which a pixel is pure white: compression takes one or two from 255. Chosen by hand; not tuned.
const BLOWN_LEVEL: usize = 253;
/// Strong edges below which nothing is said of their width. Chosen by hand; not tuned.
const FEWEST_EDGES: usize = 20;
/// Shares of the pixels below which brightness is taken to be darkest and brightest: one in a hundred may be
/// glare or dust.
const EXTREMES: (f64, f64) = (0.01, 0.99);

impl Photo {
    /// Looks at brightness, clipping and sharpness of the half-size picture `half`.
    ///
    /// # Errors
    /// [`PhotoError::Unusable`] where no reference could be found or trusted.
    pub fn quality(half: &Grey) -> Result<Quality, PhotoError> {
        let histogram = histogram(half);
        let (low, high) = (
            percentile(&histogram, EXTREMES.0),
            percentile(&histogram, EXTREMES.1),
        );
        let blown = share_from(&histogram, BLOWN_LEVEL);
        let faults = [
            judged(
                f64::from(high),
                f64::from(DARK_REFUSE),
                f64::from(DARK_WARN),
                true,
            )
            .map(|bad| (bad, QualityFault::Dark { highlights: high })),
            (high.saturating_sub(low) < CONTRAST_REFUSE).then_some((
                true,
                QualityFault::Flat {
                    contrast: high.saturating_sub(low),
                },
            )),
            judged(blown, BLOWN_REFUSE, BLOWN_WARN, false)
                .map(|bad| (bad, QualityFault::BlownOut { share: blown })),
            sharpest_edge_px(half).and_then(|edge_width_px| {
                judged(edge_width_px, EDGE_REFUSE_PX, EDGE_WARN_PX, false)
                    .map(|bad| (bad, QualityFault::Blurred { edge_width_px }))
            }),
        ];
        let mut quality = Quality::default();
        for (unusable, fault) in faults.into_iter().flatten() {
            if unusable {
                return Err(PhotoError::Unusable(fault));
            }
            quality.warnings.push(fault);
        }
        Ok(quality)
    }
}

/// `Some(true)` beyond the refusal limit, `Some(false)` beyond the warning limit.
fn judged(value: f64, refuse: f64, warn: f64, low_is_bad: bool) -> Option<bool> {
    let beyond = |limit: f64| {
        if low_is_bad {
            value < limit
        } else {
            value > limit
        }
    };
    if beyond(refuse) {
        Some(true)
    } else if beyond(warn) {
        Some(false)
    } else {
        None
    }
}

fn histogram(grey: &Grey) -> [u32; 256] {
    let mut bins = [0u32; 256];
    // Every fifth pixel is plenty, and five has no common factor with usual row lengths.
    for v in grey.data.iter().step_by(5) {
        bins[usize::from(*v)] += 1;
    }
    bins
}

fn percentile(histogram: &[u32; 256], share: f64) -> u8 {
    let total: u32 = histogram.iter().sum();
    let mut seen = 0;
    for (value, count) in histogram.iter().enumerate() {
        seen += count;
        if f64::from(seen) >= share * f64::from(total) {
            return value as u8;
        }
    }
    255
}

fn share_from(histogram: &[u32; 256], value: usize) -> f64 {
    let total: u32 = histogram.iter().sum();
    let above: u32 = histogram.iter().skip(value).sum();
    f64::from(above) / f64::from(total.max(1))
}

/// Width of the sharpest edges in full-size px: edge height over steepest slope, along rows and
/// columns, at the 10th percentile of all strong edges. `None` without enough strong edges.
fn sharpest_edge_px(half: &Grey) -> Option<f64> {
    let view = half.view();
    let mut widths = Vec::new();
    let step = (half.height / 60).max(1);
    for y in (0..half.height).step_by(step) {
        edge_widths(half.width, |x| view.at(x, y), &mut widths);
    }
    let step = (half.width / 60).max(1);
    for x in (0..half.width).step_by(step) {
        edge_widths(half.height, |y| view.at(x, y), &mut widths);
    }
    if widths.len() < FEWEST_EDGES {
        return None;
    }
    let tenth = widths.len() / 10;
    let (_, width, _) = widths.select_nth_unstable_by(tenth, f64::total_cmp);
    Some(2.0 * *width)
}

/// Appends height / steepest slope of every monotone run of at least 40 grey levels.
fn edge_widths(length: usize, at: impl Fn(usize) -> u8, widths: &mut Vec<f64>) {
    const STRONG: i32 = 40;
    let (mut start, mut steepest, mut rising) = (i32::from(at(0)), 0, true);
    for i in 1..length {
        let (previous, value) = (i32::from(at(i - 1)), i32::from(at(i)));
        let slope = value - previous;
        if slope != 0 && (slope > 0) != rising {
            let height = (previous - start).abs();
            if height >= STRONG && steepest > 0 {
                widths.push(f64::from(height) / f64::from(steepest));
            }
            (start, steepest, rising) = (previous, 0, slope > 0);
        }
        steepest = steepest.max(slope.abs());
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn bars(edge: usize, low: u8, high: u8) -> Grey {
        let mut grey = Grey::filled(400, 300, 0);
        for (i, v) in grey.data.iter_mut().enumerate() {
            let phase = (i % 400) % 100;
            let up = (phase as f64 / edge as f64).min(1.0);
            let down = ((phase as f64 - 50.0) / edge as f64).clamp(0.0, 1.0);
            *v = (f64::from(low) + f64::from(high - low) * (up - down)) as u8;
        }
        grey
    }

    #[test]
    fn a_sharp_bright_picture_passes() {
        assert_eq!(
            Photo::quality(&bars(2, 40, 220)).unwrap(),
            Quality::default()
        );
    }

    #[test]
    fn faults_are_named_and_the_worst_refused() {
        let refused = |g: &Grey| match Photo::quality(g) {
            Err(PhotoError::Unusable(f)) => f,
            other => panic!("{other:?}"),
        };
        assert!(matches!(
            refused(&bars(2, 0, 20)),
            QualityFault::Dark { .. }
        ));
        assert!(matches!(
            refused(&bars(2, 100, 108)),
            QualityFault::Flat { .. }
        ));
        assert!(matches!(
            refused(&bars(30, 40, 220)),
            QualityFault::Blurred { .. }
        ));
        let dim = Photo::quality(&bars(2, 0, 60)).unwrap();
        assert!(matches!(
            dim.warnings[..],
            [QualityFault::Dark {
                highlights: 55..=60
            }]
        ));
        let soft = Photo::quality(&bars(8, 40, 220)).unwrap();
        assert!(matches!(soft.warnings[..], [QualityFault::Blurred { .. }]));
        let blown = Photo::quality(&bars(2, 40, 255)).unwrap();
        assert!(matches!(
            blown.warnings[..],
            [QualityFault::BlownOut { .. }]
        ));
    }
}
