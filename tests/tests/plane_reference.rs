//! The plane against worked examples and published sizes.
//!
//! The homography and ellipse figures were computed independently in NumPy (double precision) from
//! the formulas named beside each check.

use proptest::prelude::*;
use shimwright::frame::{PointMm, PointPx};
use shimwright::photo::{ExifFacts, Grey, Photo};
use shimwright::plane::{
    Homography, Lens, MARK_MM, Pair, Paper, Plane, Sheet, SheetFit, Source, Window, rectify,
};

fn within(actual: f64, expected: f64, tolerance: f64) {
    assert!(
        (actual - expected).abs() <= tolerance,
        "{actual} is not {expected} within {tolerance}"
    );
}

fn pairs(mm: [(f64, f64); 4], px: [(f64, f64); 4]) -> [Pair; 4] {
    std::array::from_fn(|i| {
        let m = PointMm::new(mm[i].0, mm[i].1);
        (m, PointPx::new(px[i].0, px[i].1))
    })
}

const QUAD: [(f64, f64); 4] = [(120., 95.), (905., 140.), (860., 1190.), (60., 1105.)];

/// Four corners of a Letter sheet; Hartley and Zisserman, Multiple View Geometry, 2nd ed.,
/// Algorithm 4.2, which is exact for four points.
#[test]
fn homography_of_a_letter_sheet() {
    let letter = [(0., 0.), (215.9, 0.), (215.9, 279.4), (0., 279.4)];
    let h = Homography::fit(&pairs(letter, QUAD)).unwrap();
    let inverse = h.inverse_matrix() / h.inverse_matrix().m33;
    let expected = [
        [
            2.867_136_169_551_97e-1,
            1.703_249_209_634_84e-2,
            -3.602_372_077_837_67e1,
        ],
        [
            -1.626_794_019_498_74e-2,
            2.837_851_789_570_01e-1,
            -2.500_743_917_24e1,
        ],
        [4.714_334_584_102_75e-5, 2.399_711_116_125_33e-5, 1.0],
    ];
    for (i, row) in expected.iter().enumerate() {
        for (j, value) in row.iter().enumerate() {
            within(inverse[(i, j)], *value, 1e-9 * value.abs().max(1e-2));
        }
    }
    let seen = h.to_mm(PointPx::new(500., 600.)).unwrap();
    within(seen.x_mm, 113.252_396_302_5, 1e-8);
    within(seen.y_mm, 132.113_361_731_6, 1e-8);
    let middle = h.to_mm(PointPx::new(486.25, 632.5)).unwrap();
    within(middle.x_mm, 109.973_651_897_4, 1e-8);
    within(middle.y_mm, 141.196_581_434_7, 1e-8);
}

/// Heckbert, Fundamentals of Texture Mapping and Image Warping (1989), closed form of the unit
/// square to a quadrilateral; its centre is where the diagonals meet.
#[test]
fn unit_square_to_quadrilateral() {
    let h = Homography::fit(&pairs([(0., 0.), (1., 0.), (1., 1.), (0., 1.)], QUAD)).unwrap();
    within(h.matrix().m31, -0.036_411_578_230_083_25, 1e-12);
    within(h.matrix().m32, -0.020_798_151_275_442_184, 1e-12);
    let centre = h.to_px(PointMm::new(0.5, 0.5));
    within(centre.x_px, 479.104_536_789_9, 1e-8);
    within(centre.y_px, 626.377_659_168_9, 1e-8);
}

/// A ring of 200 mm seen from 1.2 m at 25 degrees with f = 1500 px: the middle of its ellipse lies
/// 14 mm beside its own middle. The conic of a circle is mapped by H^-T C H^-1 (Hartley and
/// Zisserman, Result 2.13), the centre of a conic is its pole of the line at infinity.
#[test]
fn the_middle_of_an_ellipse_is_not_the_middle_of_the_ring() {
    let (sin, cos) = 25f64.to_radians().sin_cos();
    let (f, z) = (1500.0, 1200.0);
    let see = |x: f64, y: f64| {
        let depth = z + x * sin;
        PointPx::new(f * x * cos / depth, f * y / depth)
    };
    let corners = [(-300., 300.), (300., 300.), (300., -300.), (-300., -300.)];
    let seen = corners.map(|(x, y)| {
        let p = see(x, y);
        (p.x_px, p.y_px)
    });
    let h = Homography::fit(&pairs(corners, seen)).unwrap();
    let mut circle = *h.matrix();
    circle.fill(0.0);
    (circle.m11, circle.m22, circle.m33) = (1.0, 1.0, -200.0 * 200.0);
    let conic = h.inverse_matrix().transpose() * circle * h.inverse_matrix();
    let det = conic.m11 * conic.m22 - conic.m12 * conic.m12;
    let x = (conic.m12 * conic.m23 - conic.m22 * conic.m13) / det;
    within(x.abs(), 16.038_832_421_5, 1e-7);
    let on_plane = h.to_mm(PointPx::new(x, 0.0)).unwrap();
    within(on_plane.x_mm.abs(), 14.087_275_391_4, 1e-7);
}

/// ISO 216: A0 has one square metre and sides in the ratio of root two; each next size halves the
/// longer side, rounded down to whole millimetres.
#[test]
fn iso_216_sizes() {
    let (mut short, mut long) = (841_u32, 1189_u32);
    within(f64::from(short * long) / 1e6, 1.0, 1e-4);
    within(f64::from(long) / f64::from(short), 2f64.sqrt(), 1e-3);
    let mut series = Vec::new();
    for _ in 0..5 {
        series.push((f64::from(short), f64::from(long)));
        (short, long) = (long / 2, short);
    }
    assert_eq!(series[4], (Sheet::A4.width_mm, Sheet::A4.height_mm));
    assert_eq!(series[3], (Sheet::A3.width_mm, Sheet::A3.height_mm));
    assert_eq!(series[4], Paper::A4.size_mm());
}

/// ANSI/ASME Y14.1 size A: 8.5 x 11 in. ISO/IEC 7810 ID-1: 85.60 x 53.98 mm, which is
/// 3.370 x 2.125 in.
#[test]
fn ansi_and_card_sizes() {
    within(Sheet::LETTER.width_mm, 8.5 * 25.4, 1e-9);
    within(Sheet::LETTER.height_mm, 11.0 * 25.4, 1e-9);
    assert_eq!(
        Paper::Letter.size_mm(),
        (Sheet::LETTER.width_mm, Sheet::LETTER.height_mm)
    );
    within(Sheet::ID1.width_mm, 3.370 * 25.4, 0.005);
    within(Sheet::ID1.height_mm, 2.125 * 25.4, 0.006);
}

#[test]
fn the_printed_marks_stay_within_what_printers_can_reach() {
    for paper in [Paper::A4, Paper::Letter] {
        let (size, marks) = (paper.size_mm(), paper.marks());
        // Desktop printers leave up to about 6 mm blank (common practice, no source).
        assert!(size.0 - marks.width_mm >= 12.0 && size.1 - marks.height_mm >= 12.0);
        assert!(marks.width_mm > 4.0 * MARK_MM);
    }
}

/// How a square of 200 mm is looked at: the turns about two axes (rad) and the lens.
#[derive(Debug, Clone, Copy)]
struct Pose {
    yaw: f64,
    pitch: f64,
    k1: f64,
}

/// The plane from exact corners on an empty picture of `side` x `side` px.
fn plane(side: usize, pose: Pose) -> Plane {
    let lens = Lens::new(pose.k1, side, side);
    let ((sy, cy), (sp, cp)) = (pose.yaw.sin_cos(), pose.pitch.sin_cos());
    let f = side as f64;
    let see = |x: f64, y: f64| {
        let depth = 380.0 + x * sy + y * sp * cy;
        let (u, v) = (x * cy - y * sp * sy, -y * cp);
        let c = lens.centre();
        lens.distort(PointPx::new(c.x_px + f * u / depth, c.y_px + f * v / depth))
    };
    let taps = [(-1., 1.), (1., 1.), (1., -1.), (-1., -1.)].map(|(i, j)| see(100. * i, 100. * j));
    let with = SheetFit {
        remembered_k1: Some(pose.k1),
        focal_px: Some(f),
        accept_raw: true,
        ..SheetFit::default()
    };
    let sheet = Sheet::new(200.0, 200.0, 0.5).unwrap();
    let blank = Photo::from_grey(Grey::filled(side, side, 128), ExifFacts::default());
    sheet.fit(&blank, &taps, &with).unwrap()
}

prop_compose! {
    fn pose()(yaw in -0.5..0.5_f64, pitch in -0.5..0.5_f64, k1 in -0.05..0.05_f64) -> Pose {
        Pose { yaw, pitch, k1 }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn project_then_measure_is_identity(
        pose in pose(),
        x in -100.0..100.0_f64,
        y in -100.0..100.0_f64,
    ) {
        let plane = plane(800, pose);
        let m = PointMm::new(x, y);
        let back = plane.to_mm(plane.to_px(m)).unwrap();
        prop_assert!((back - m).norm_mm() < 1e-6, "{back:?} is not {m:?}");
    }

    #[test]
    fn project_then_rectify_is_identity(pose in pose()) {
        let plane = plane(500, pose);
        let tone = |m: PointMm| 128.0 + 70.0 * (m.x_mm / 15.0).sin() * (m.y_mm / 18.0).cos();
        let mut photo = Grey::filled(500, 500, 0);
        for (i, v) in photo.data.iter_mut().enumerate() {
            let p = PointPx::new((i % 500) as f64, (i / 500) as f64);
            *v = plane.to_mm(p).map_or(0.0, tone).round() as u8;
        }
        let window = Window::around(PointMm::default(), 160.0, 140.0, 0.8);
        let flat = rectify(&Source::full(photo.view()), &plane, &window);
        for (i, v) in flat.data.iter().enumerate() {
            let at = PointPx::new((i % window.width) as f64, (i / window.width) as f64);
            let expected = tone(window.to_mm(at));
            prop_assert!((f64::from(*v) - expected).abs() < 3.0, "{v} is not {expected}");
        }
    }
}
