//! Cheap detectors of a reference that is not what it was taken for.

use nalgebra::{Matrix3, Vector3};

use crate::photo::FILM_DIAGONAL_MM;
use crate::plane::edges::proportions::Shape;
use crate::plane::edges::solve::{Solved, alike};
use crate::plane::edges::trace::Side;
use crate::plane::{Homography, Lens, PlaneError, PlaneWarning, Sheet, SheetFit};

/// Bow and roughness of an edge that are worth a word, mm: of a card, which cannot bend, and of paper.
/// Chosen by hand, looking at the photographs of `tests/real-table`.
const CARD: Flat = Flat {
    sag_mm: 0.15,
    rough_mm: 0.04,
};
/// The same of paper. Chosen by hand, looking at the photographs of `tests/real-table`.
const PAPER: Flat = Flat {
    sag_mm: 0.30,
    rough_mm: 0.03,
};
/// ... and px: below this no edge can be told from a straight one. Chosen by hand; `tests/photo-table`
/// measures what passes.
const SAG_WARN_PX: f64 = 0.5;
/// Least roughness, px, that is worth a word. Chosen by hand; `tests/photo-table` measures what passes.
const ROUGH_WARN_PX: f64 = 0.25;
/// So many standard deviations of a bow are put down to chance. Five in a hundred straight edges seem
/// to bow by more.
const SAG_SDS: f64 = 2.0;
/// Taps a third of a pixel off and a focal length 3 % off give up to 0.017; A4 for Letter 0.079.
const SHAPE_REFUSE: f64 = 0.05;
/// A sheet farther out of square than this, degrees, is worth a word: two standard deviations.
const SQUARE_WARN_DEGREES: f64 = 3.0;
/// From where on the rim of a card stands out from its face by more than 1 mm (0.76 mm times the
/// tangent), and that of what waves by 1 mm by nearly 2 mm, degrees: which line is the face has to be
/// looked at.
const OBLIQUE_DEGREES: (f64, f64) = (53.0, 60.0);
/// ... and from where on it is refused: of a card nobody tells face from rim by hand either (corners
/// read at 63 degrees lay on the one here and on the other there, 1.3 mm apart), and of paper the far
/// edge is seen at a third of its scale.
const MOST_TILT_DEGREES: (f64, f64) = (60.0, 70.0);
/// Height of a wave in paper, mm. Chosen by hand; not tuned.
const WAVE_MM: f64 = 1.0;
/// The line taken for an edge is the other one by this share of what lies between, one standard
/// deviation. Chosen by hand; not tuned.
const RIM_SHARE: f64 = 0.5;
/// A coefficient this far from the remembered one is worth a word: more than half again what a sheet
/// leaves open (.003). Chosen by hand; not tuned.
const LENS_WARN: f64 = 0.005;
/// Focal lengths (35 mm film) tried where the photograph tells none: from a phone's widest camera to
/// its longest, or a picture cut out of another.
const FOCALS_35MM: [f64; 16] = [
    13.0, 15.0, 18.0, 20.0, 22.0, 24.0, 26.0, 28.0, 32.0, 36.0, 42.0, 50.0, 60.0, 72.0, 86.0, 105.0,
];
/// Where the photograph tells no focal length, a sheet so many standard deviations from what usual cameras see
/// is refused, if a sheet of another listed size is nearer by the second. Right sheets on real photographs are
/// up to 1.9 off, and another then nearer by up to 1.5.
const UNLIKELY_SHAPE: (f64, f64) = (2.5, 1.5);
/// Those of most photographs, by which a doubt about the shape is judged. Chosen by hand; not tuned.
const USUAL_35MM: std::ops::RangeInclusive<f64> = 20.0..=60.0;
/// The usual one.
const MOST_USUAL_35MM: f64 = 27.0;
/// How far others are from it (standard deviation of the logarithm). Chosen by hand; not tuned.
const FOCAL_LOG_SD: f64 = 0.6;

/// The focal length that most photographs with this diagonal have, px.
pub(crate) fn usual_focal_px(diagonal_px: f64) -> f64 {
    MOST_USUAL_35MM / FILM_DIAGONAL_MM * diagonal_px
}

/// Bow of one side: the quadratic part of its residuals, px at the middle; and how far waves and
/// noise along the side may have made it up (one standard deviation).
fn sag_px(residuals: &[(f64, f64)]) -> (f64, f64) {
    // Least squares of r = a + b t + q 4 t (1 - t).
    let row = |t: f64| Vector3::new(1.0, t, 4.0 * t * (1.0 - t));
    let mut normal = Matrix3::zeros();
    let mut right = Vector3::zeros();
    for (t, r) in residuals {
        normal += row(*t) * row(*t).transpose();
        right += row(*t) * *r;
    }
    let Some(root) = normal.cholesky() else {
        return (0.0, 0.0);
    };
    let fitted = root.solve(&right);
    let left: Vec<f64> = residuals
        .iter()
        .map(|(t, r)| r - row(*t).dot(&fitted))
        .collect();
    let mean_square = left.iter().map(|r| r * r).sum::<f64>() / left.len().max(1) as f64;
    let variance = mean_square * alike(&left) * root.inverse().m33;
    (fitted.z, variance.sqrt())
}

/// What counts as flat.
struct Flat {
    sag_mm: f64,
    rough_mm: f64,
}

fn worst_sag_px(solved: &Solved, sides: &[Side]) -> f64 {
    let sags = sides.iter().map(|s| sag_px(&solved.residuals(s)));
    sags.map(|(sag, sd)| sag.abs() - SAG_SDS * sd)
        .fold(0.0, f64::max)
}

/// Whether every edge is straight and clear to a fraction of a pixel: enough to tell the lens by.
pub(crate) fn is_straight(solved: &Solved, sides: &[Side]) -> bool {
    worst_sag_px(solved, sides) <= SAG_WARN_PX && solved.rms_px <= ROUGH_WARN_PX
}

/// Warnings of the edge fit of `sheet`, seen at about `px_per_mm`.
pub(crate) fn edge_warnings(
    sheet: &Sheet,
    solved: &Solved,
    sides: &[Side],
    px_per_mm: f64,
) -> Vec<PlaneWarning> {
    let flat = if sheet.is_card() { CARD } else { PAPER };
    let sag_px = worst_sag_px(solved, sides);
    if sag_px > SAG_WARN_PX.max(flat.sag_mm * px_per_mm) {
        vec![PlaneWarning::NotFlat {
            sag_px,
            sag_mm: sag_px / px_per_mm,
        }]
    } else if solved.rms_px > ROUGH_WARN_PX.max(flat.rough_mm * px_per_mm) {
        let rms_px = solved.rms_px;
        vec![PlaneWarning::Rough { rms_px }]
    } else {
        Vec::new()
    }
}

/// A lens that is not what it was in earlier photographs.
pub(crate) fn lens_warning(fitted: &Lens, with: &SheetFit) -> Option<PlaneWarning> {
    let remembered_k1 = with.remembered_k1?;
    let fitted_k1 = fitted.k1;
    let differs = (fitted_k1 - remembered_k1).abs() > LENS_WARN;
    differs.then_some(PlaneWarning::LensDiffers {
        remembered_k1,
        fitted_k1,
    })
}

/// The focal lengths a sheet's proportions are judged with.
pub(crate) struct ShapeTest {
    diagonal_px: f64,
    known_px: Option<f64>,
}

/// A focal length and what the sheet looks like with it.
struct Judged {
    shape: Shape,
    usual: bool,
    /// Standard deviations from the sheet chosen and from a usual camera.
    misfit: f64,
}

impl ShapeTest {
    /// By the photograph's own focal length, or by those of usual cameras where it tells none.
    pub(crate) fn new(lens: &Lens, focal_px: Option<f64>) -> Self {
        Self {
            diagonal_px: 2.0 * lens.half_diagonal_px(),
            known_px: focal_px,
        }
    }

    /// How far the proportions are from the sheet's, standard deviations, with the focal length
    /// that suits them best.
    pub(crate) fn misfit(&self, h: &Homography, lens: &Lens) -> f64 {
        let all = self.judged(h, lens, 1.0).into_iter();
        all.map(|j| j.misfit).fold(f64::INFINITY, f64::min)
    }

    /// Every focal length, for a sheet that is `target` times as wide for its height.
    fn judged(&self, h: &Homography, lens: &Lens, target: f64) -> Vec<Judged> {
        let judge = |focal_px: f64, unusual: f64, usual: bool| {
            let shape = Shape::of(h, lens, focal_px);
            let [aspect, square] = shape.off(target);
            Judged {
                shape,
                usual,
                misfit: aspect.hypot(square).hypot(unusual),
            }
        };
        if let Some(focal_px) = self.known_px {
            return vec![judge(focal_px, 0.0, true)];
        }
        let guess = |f: &f64| {
            let unusual = (f / MOST_USUAL_35MM).ln() / FOCAL_LOG_SD;
            let focal_px = f / FILM_DIAGONAL_MM * self.diagonal_px;
            judge(focal_px, unusual, USUAL_35MM.contains(f))
        };
        FOCALS_35MM.iter().map(guess).collect()
    }

    fn best(&self, h: &Homography, lens: &Lens, target: f64) -> Option<Judged> {
        let all = self.judged(h, lens, target).into_iter();
        all.min_by(|a, b| a.misfit.total_cmp(&b.misfit))
    }
}

/// Refuses a sheet seen so obliquely that its far edge is a guess; the angle where it is seen so that
/// its thickness matters, degrees.
pub(crate) fn check_tilt(
    sheet: &Sheet,
    h: &Homography,
    lens: &Lens,
    test: &ShapeTest,
) -> Result<Option<f64>, PlaneError> {
    let degrees = test.best(h, lens, 1.0).map_or(0.0, |j| j.shape.tilt);
    let of = |(card, paper): (f64, f64)| if sheet.is_card() { card } else { paper };
    if degrees > of(MOST_TILT_DEGREES) {
        return Err(PlaneError::TooOblique { degrees });
    }
    Ok((degrees > of(OBLIQUE_DEGREES)).then_some(degrees))
}

/// How far an edge seen so obliquely may be off because it has a height, one standard deviation, mm.
pub(crate) fn rim_sd_mm(sheet: &Sheet, degrees: f64) -> f64 {
    let height_mm = if sheet.is_card() {
        super::rim::CARD_MM
    } else {
        WAVE_MM
    };
    RIM_SHARE * height_mm * degrees.to_radians().tan()
}

/// How much wider for its height a sheet of another listed size is that is seen so by usual cameras, where the
/// one chosen is not, percent; none where the focal length is known, which tells by itself.
fn likelier(sheet: &Sheet, h: &Homography, lens: &Lens, test: &ShapeTest) -> Option<f64> {
    let chosen = test.misfit(h, lens);
    if test.known_px.is_some() || chosen < UNLIKELY_SHAPE.0 {
        return None;
    }
    let wider = |other: Sheet| {
        let target = other.width_mm / other.height_mm * sheet.height_mm / sheet.width_mm;
        (
            target,
            test.best(h, lens, target)
                .map_or(f64::INFINITY, |j| j.misfit),
        )
    };
    let nearest = sheet.rivals().map(wider).min_by(|a, b| a.1.total_cmp(&b.1));
    let (target, misfit) = nearest?;
    (misfit < chosen - UNLIKELY_SHAPE.1).then_some(100.0 * (target - 1.0))
}

/// Refuses a sheet whose proportions are not those chosen (`K^-1 h1` and `K^-1 h2` of a rectangle
/// are orthogonal and of equal length: Zhang, PAMI 22, 2000), warns where that cannot be told.
pub(crate) fn check_shape(
    sheet: &Sheet,
    h: &Homography,
    lens: &Lens,
    test: &ShapeTest,
) -> Result<Option<PlaneWarning>, PlaneError> {
    let off = |target: f64| {
        let best = test.best(h, lens, target);
        best.map_or(f64::INFINITY, |j| j.shape.aspect / target - 1.0)
    };
    if off(1.0).abs() > SHAPE_REFUSE {
        let turned = (sheet.height_mm / sheet.width_mm).powi(2);
        if off(turned).abs() < SHAPE_REFUSE {
            return Err(PlaneError::Turned);
        }
        return Err(PlaneError::WrongShape {
            percent_wide: 100.0 * off(1.0),
        });
    }
    if let Some(percent_wide) = likelier(sheet, h, lens, test) {
        return Err(PlaneError::WrongShape { percent_wide });
    }
    let judged = test.judged(h, lens, 1.0);
    let agrees = |j: &Judged| (j.shape.aspect - 1.0).abs() <= SHAPE_REFUSE;
    if !judged.iter().filter(|j| j.usual).all(agrees) {
        return Ok(Some(PlaneWarning::ShapeUnchecked));
    }
    let degrees = test
        .best(h, lens, 1.0)
        .map_or(0.0, |j| j.shape.angle - 90.0);
    Ok((degrees.abs() > SQUARE_WARN_DEGREES).then_some(PlaneWarning::NotSquare { degrees }))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plane::picture::Camera;

    /// Seen askew, with no focal length told, an A4 sheet comes within 5 % of Letter's proportions, but only for
    /// cameras that would see its corners out of square.
    #[test]
    fn no_usual_camera_sees_a4_as_letter() {
        let camera = Camera {
            turns: [35.0, 20.0, 0.0],
            ..Camera::level(420.0)
        };
        let corners = Sheet::A4.corners_mm().map(|c| camera.see(c));
        let test = ShapeTest::new(&camera.lens(), None);
        let checked = |sheet: Sheet| {
            let h = sheet.homography(&corners).unwrap();
            check_shape(&sheet, &h, &camera.lens(), &test)
        };
        assert!(matches!(
            checked(Sheet::A4),
            Ok(Some(PlaneWarning::ShapeUnchecked))
        ));
        let refused = checked(Sheet::LETTER);
        let Err(PlaneError::WrongShape { percent_wide }) = refused else {
            panic!("{refused:?}");
        };
        assert!((-9.0..-8.0).contains(&percent_wide), "{percent_wide}");
    }
}
