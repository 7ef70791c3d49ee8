use crate::plane::up::PICTURE_UP_SD_RAD;
use nalgebra::Matrix3;

use super::*;
use crate::photo::{ExifFacts, Grey, Rgb};
use crate::plane::Lens;
use crate::plane::picture::Camera;

fn camera() -> Camera {
    Camera {
        width: 1000,
        height: 900,
        turns: [16.0, -11.0, 2.0],
        aside_px: (-25.0, 15.0),
        ..Camera::level(500.0)
    }
}

/// Gold, red, blue, black and white with thin dark lines inside the zones and a few dark holes.
fn shade(face: &Face, m: PointMm, channel: usize) -> f64 {
    const COLOURS: [[f64; 3]; 5] = [
        [240.0, 205.0, 50.0],
        [215.0, 60.0, 55.0],
        [70.0, 150.0, 220.0],
        [40.0, 38.0, 38.0],
        [228.0, 228.0, 225.0],
    ];
    let r = m.norm_mm();
    for hole in [(12.0, 20.0), (-31.0, 5.0), (60.0, -41.0), (40.3, 2.0)] {
        if (m - PointMm::new(hole.0, hole.1)).norm_mm() < 2.6 {
            return 25.0;
        }
    }
    let line = |at: f64| (r - at).abs() < 0.25;
    if line(20.0) || line(60.0) || line(10.0) {
        return 60.0;
    }
    let zone = face.radii_mm.iter().filter(|radius| r >= **radius).count();
    COLOURS[zone.min(4)][channel]
}

fn draw(camera: &Camera, face: &Face) -> Photo {
    coloured(camera, |m, c| shade(face, m, c))
}

/// What is seen of each place in each channel.
fn coloured(camera: &Camera, seen: impl Fn(PointMm, usize) -> f64) -> Photo {
    let planes = [0, 1, 2].map(|c| camera.draw(3.0, |m| seen(m, c)));
    let data = (0..planes[0].data.len())
        .flat_map(|i| planes.iter().map(move |p| p.data[i]))
        .collect();
    let rgb = Rgb {
        width: camera.width,
        height: camera.height,
        data,
    };
    Photo::from_rgb(rgb, ExifFacts::default())
}

/// How many times too large a face was found.
fn size(plane: &Plane, camera: &Camera) -> f64 {
    let (left, right) = (PointMm::new(-1.0, 0.0), PointMm::new(1.0, 0.0));
    let true_px_per_mm = camera.see(left).distance_px(camera.see(right)) / 2.0;
    plane.px_per_mm(PointMm::default()) / true_px_per_mm
}

fn up(camera: &Camera) -> Up {
    Up::Upwards {
        below: camera.see(PointMm::new(0.0, -150.0)),
        above: camera.see(PointMm::new(0.0, 150.0)),
    }
}

fn rms_mm(plane: &Plane, camera: &Camera, reach_mm: f64) -> f64 {
    let steps = [-1.0, -0.5, 0.0, 0.5, 1.0];
    let grid = steps.iter().flat_map(|x| steps.iter().map(move |y| (x, y)));
    let errors: Vec<f64> = grid
        .map(|(x, y)| PointMm::new(x * reach_mm, y * reach_mm))
        .map(|m| (plane.to_mm(camera.see(m)).unwrap() - m).norm_mm().powi(2))
        .collect();
    (errors.iter().sum::<f64>() / errors.len() as f64).sqrt()
}

#[test]
fn a_tilted_face_comes_out_to_a_tenth() {
    let face = Face::published("target-40").unwrap();
    let photo = draw(&camera(), &face);
    let tap = camera().see(PointMm::new(9.0, -7.0));
    let with = RingsFit {
        remembered_k1: Some(0.0),
        up: up(&camera()),
    };
    let plane = face.fit(&photo, tap, &with).unwrap();
    assert!(
        rms_mm(&plane, &camera(), 150.0) < 0.12,
        "{} {plane:?}",
        rms_mm(&plane, &camera(), 150.0)
    );
    assert!(plane.warnings.is_empty(), "{:?}", plane.warnings);
    let ReferenceKind::Rings { edge_mm, .. } = plane.reference else {
        panic!("{:?}", plane.reference);
    };
    assert!(
        (edge_mm - 200.0).abs() < 1e-9,
        "white zones count, though no border shows"
    );
    let middle = plane.to_mm(camera().see(PointMm::default())).unwrap();
    assert!(middle.norm_mm() < 0.05, "{middle:?}");
    let side = plane
        .read(camera().see(PointMm::new(150.0, 0.0)), 0.0)
        .unwrap();
    assert!(
        side.fit.sd_x_mm() < 0.2 && side.scale.sd_x_mm() > 0.5,
        "{side:?}"
    );
    // The angle of up is uncertain, and is told apart from the fit.
    let turned_mm = 150.0 * plane.up_sd_rad;
    assert!(
        side.fit.sd_y_mm() < 0.2 && (side.turn.sd_y_mm() - turned_mm).abs() < 0.01,
        "{side:?}"
    );
    let strain = plane.strain(100.0);
    assert!(plane.up_sd_rad > 0.01, "{plane:?}");
    let close = (strain.turn_rad / plane.up_sd_rad - 1.0).abs() < 0.05;
    assert!(close && strain.x < 0.01, "{strain:?}");
}

#[test]
fn field_faces_and_own_rings_work_too() {
    let field = Face::published("field-20").unwrap();
    let near = Camera {
        distance_mm: 300.0,
        ..camera()
    };
    let painted = |m: PointMm, c: usize| {
        let r = m.norm_mm();
        let line = field.radii_mm[1..4].iter().any(|at| (r - at).abs() < 0.5);
        let colours: [f64; 3] = if r < 20.0 {
            [235.0, 200.0, 60.0]
        } else {
            [35.0; 3]
        };
        if line || r > 100.0 { 225.0 } else { colours[c] }
    };
    let planes = [0, 1, 2].map(|c| near.draw(3.0, |m| painted(m, c)));
    let data = (0..planes[0].data.len())
        .flat_map(|i| planes.iter().map(move |p| p.data[i]))
        .collect();
    let photo = Photo::from_rgb(
        Rgb {
            width: near.width,
            height: near.height,
            data,
        },
        ExifFacts::default(),
    );
    let with = RingsFit {
        remembered_k1: Some(0.0),
        up: up(&near),
    };
    let plane = field
        .fit(&photo, near.see(PointMm::new(5.0, 3.0)), &with)
        .unwrap();
    assert!(
        rms_mm(&plane, &near, 70.0) < 0.2,
        "{} {plane:?}",
        rms_mm(&plane, &near, 70.0)
    );

    let own = Face::own(&[30.0, 75.0, 120.0], 0.3).unwrap();
    let grey = camera().draw(3.0, |m| {
        if (m.norm_mm() < 30.0) || (75.0..120.0).contains(&m.norm_mm()) {
            50.0
        } else {
            210.0
        }
    });
    let photo = Photo::from_grey(grey, ExifFacts::default());
    let with = RingsFit {
        remembered_k1: None,
        up: up(&camera()),
    };
    let plane = own
        .fit(&photo, camera().see(PointMm::new(5.0, 3.0)), &with)
        .unwrap();
    assert!(
        rms_mm(&plane, &camera(), 110.0) < 0.2,
        "{}",
        rms_mm(&plane, &camera(), 110.0)
    );
    assert!(plane.warnings.contains(&PlaneWarning::LensUnknown));
}

#[test]
fn up_can_come_from_gravity_a_level_line_or_the_picture() {
    let face = Face::published("target-40").unwrap();
    let rolled = Camera {
        turns: [0.0, 0.0, 20.0],
        ..camera()
    };
    let photo = draw(&rolled, &face);
    let tap = rolled.see(PointMm::default());
    let angle = |up: Up| {
        let with = RingsFit {
            remembered_k1: Some(0.0),
            up,
        };
        let plane = face.fit(&photo, tap, &with).unwrap();
        let m = plane.to_mm(rolled.see(PointMm::new(0.0, 100.0))).unwrap();
        m.x_mm.atan2(m.y_mm).to_degrees()
    };
    let level = Up::Level {
        left: rolled.see(PointMm::new(-180.0, -190.0)),
        right: rolled.see(PointMm::new(180.0, -190.0)),
    };
    assert!(angle(level).abs() < 0.1);
    let above = rolled.see(PointMm::new(0.0, 50.0));
    let roll_rad = (above.x_px - tap.x_px).atan2(tap.y_px - above.y_px);
    assert!(angle(Up::Gravity { roll_rad }).abs() < 0.1);
    assert!((angle(Up::Picture).abs() - 20.0).abs() < 0.1);
}

#[test]
fn one_ring_or_none_is_refused() {
    let face = Face::published("target-40").unwrap();
    let middle = camera().see(PointMm::default());
    let one = camera().draw(2.0, |m| if m.norm_mm() < 40.0 { 60.0 } else { 200.0 });
    let own = Face::own(&[40.0, 80.0, 120.0], 0.3).unwrap();
    let photo = Photo::from_grey(one, ExifFacts::default());
    assert_eq!(
        own.fit(&photo, middle, &RingsFit::default()),
        Err(PlaneError::SingleRing)
    );
    let blank = Photo::from_rgb(
        Rgb {
            width: 300,
            height: 300,
            data: vec![90; 270_000],
        },
        ExifFacts::default(),
    );
    let none = face.fit(&blank, PointPx::new(150.0, 150.0), &RingsFit::default());
    assert_eq!(none, Err(PlaneError::RingsNotFound));
    let plain = Photo::from_grey(Grey::filled(300, 300, 90), ExifFacts::default());
    let none = own.fit(&plain, PointPx::new(150.0, 150.0), &RingsFit::default());
    assert_eq!(none, Err(PlaneError::RingsNotFound));
}

#[test]
fn a_face_that_fits_in_two_sizes_is_refused() {
    let face = Face::published("target-40").unwrap();
    let photo = draw(&camera(), &face);
    let tap = camera().see(PointMm::new(3.0, 4.0));
    // Doubled they lie on the rings of 40, 80 and 160 mm.
    let own = Face::own(&[20.0, 40.0, 80.0, 160.0], 0.3).unwrap();
    let refused = own.fit(&photo, tap, &RingsFit::default());
    assert_eq!(refused, Err(PlaneError::RingsAmbiguous));
    // With the thin lines between them only one size is left.
    let own = Face::own(&[10.0, 20.0, 40.0, 60.0, 80.0, 120.0, 160.0], 0.3).unwrap();
    let found = own.fit(&photo, tap, &RingsFit::default()).unwrap();
    let size = size(&found, &camera());
    assert!((size - 1.0).abs() < 0.03, "{size}");
    // Two rings of one's own could be any two.
    let two = Face::own(&[40.0, 80.0], 0.3).unwrap();
    let refused = two.fit(&photo, tap, &RingsFit::default());
    let few = matches!(refused, Err(PlaneError::TooFewRings { need: 3, .. }));
    assert!(few, "{refused:?}");
    // Rings that are not there: the face is not stretched over what is.
    let other = Face::own(&[25.0, 50.0, 70.0, 95.0, 140.0, 170.0], 0.3).unwrap();
    let refused = other.fit(&photo, tap, &RingsFit::default());
    assert!(refused.is_err(), "{refused:?}");
}

/// A face on square paper before a darker wall, through a lens that bends.
fn on_paper(camera: &Camera, face: &Face, half_mm: f64) -> Photo {
    let seen = |m: PointMm, c: usize| {
        if m.x_mm.abs().max(m.y_mm.abs()) > half_mm {
            110.0
        } else {
            shade(face, m, c)
        }
    };
    coloured(camera, seen)
}

#[test]
fn the_papers_edges_tell_the_lens() {
    let face = Face::published("target-40").unwrap();
    let bent = Camera {
        distance_mm: 700.0,
        k1: -0.03,
        ..camera()
    };
    let with = RingsFit {
        remembered_k1: None,
        up: up(&bent),
    };
    let tap = bent.see(PointMm::new(9.0, -7.0));
    let plane = face
        .fit(&on_paper(&bent, &face, 206.0), tap, &with)
        .unwrap();
    assert!((plane.lens.k1 + 0.03).abs() < 0.003, "{}", plane.lens.k1);
    assert!(plane.warnings.is_empty(), "{:?}", plane.warnings);

    // Without edges nothing is known of the lens, and both the warning and the figures say so.
    let blind = face.fit(&draw(&bent, &face), tap, &with).unwrap();
    assert!(blind.warnings.contains(&PlaneWarning::LensUnknown));
    let sd = |plane: &Plane| {
        let reading = plane.read(bent.see(PointMm::new(150.0, 150.0)), 0.0);
        reading.unwrap().fit.sd_x_mm()
    };
    assert!(sd(&blind) > sd(&plane) && rms_mm(&blind, &bent, 150.0) < 2.0 * sd(&blind));
}

/// A camera that looks up and is rolled, a face that hangs upright far from the picture's middle: the
/// plumb line, as the sensor tells it in the camera's own axes, gives up exactly.
#[test]
fn gravity_gives_up_wherever_the_face_is_in_the_picture() {
    use nalgebra::{Rotation3, Vector3};
    let lens = Lens::new(0.0, 1000, 1300);
    let c = lens.centre();
    let k = Matrix3::new(1100.0, 0.0, c.x_px, 0.0, 1100.0, c.y_px, 0.0, 0.0, 1.0);
    let turn = Rotation3::from_euler_angles(0.25, 0.15, 0.2);
    let (x, y) = (turn * Vector3::x(), turn * -Vector3::y());
    let roll_rad = f64::atan2(y.x, -y.y);
    for (right_mm, down_mm) in [(0.0, 0.0), (180.0, 0.0), (-120.0, 230.0)] {
        let at = Vector3::new(right_mm, down_mm, 900.0);
        let h = Homography::from_matrix(k * Matrix3::from_columns(&[x, y, at])).unwrap();
        let (angle, sd) = up_angle(&h, &lens, Up::Gravity { roll_rad }).unwrap();
        assert!(angle.abs() < 1e-9, "{angle}");
        assert!(sd < PICTURE_UP_SD_RAD);
    }
}

/// Evenly spaced lines of which every second one was entered: at half the size each of them lies near a line as
/// well, with nothing in between.
#[test]
fn rings_between_which_others_were_left_out_are_not_taken_for_closer_ones() {
    let printed: Vec<f64> = std::iter::once(2.5)
        .chain((0..10).map(|k| 5.75 + 8.0 * f64::from(k)))
        .collect();
    let near = Camera {
        distance_mm: 190.0,
        ..camera()
    };
    let grey = near.draw(3.0, |m| {
        let on_line = printed.iter().any(|r| (m.norm_mm() - r).abs() < 0.25);
        if on_line { 60.0 } else { 210.0 }
    });
    let photo = Photo::from_grey(grey, ExifFacts::default());
    let tap = near.see(PointMm::new(1.0, -0.6));
    for first in [1, 2] {
        let entered: Vec<f64> = printed.iter().skip(first).step_by(2).copied().collect();
        let own = Face::own(&entered, 0.3).unwrap();
        match own.fit(&photo, tap, &RingsFit::default()) {
            Ok(plane) => {
                let size = size(&plane, &near);
                assert!((size - 1.0).abs() < 0.03, "{first}: {size}");
            }
            Err(refused) => assert_eq!(refused, PlaneError::RingsAmbiguous),
        }
    }
}

/// Of lines within the radii that were entered one edge is as clear as the other.
#[test]
fn narrow_rings_are_found_by_the_outer_edges_of_their_lines() {
    for (gap_mm, count) in [(5.0, 5), (6.5, 4), (8.0, 6)] {
        let radii_mm: Vec<f64> = (1..=count).map(|k| gap_mm * f64::from(k)).collect();
        let near = Camera {
            distance_mm: 3.6 * gap_mm * f64::from(count),
            ..camera()
        };
        let line = |m: PointMm| move |r: &f64| (0.0..0.5).contains(&(r - m.norm_mm()));
        let shade = |line: bool| if line { 60.0 } else { 210.0 };
        let grey = near.draw(3.0, |m| shade(radii_mm.iter().any(line(m))));
        let photo = Photo::from_grey(grey, ExifFacts::default());
        let tap = near.see(PointMm::new(0.6, -0.4));
        let own = Face::own(&radii_mm, 0.3).unwrap();
        let plane = own.fit(&photo, tap, &RingsFit::default()).unwrap();
        let size = size(&plane, &near);
        assert!((size - 1.0).abs() < 0.01, "{gap_mm}: {size}");
    }
}

/// Light on the middle that leaves no gold in it.
#[test]
fn a_face_with_a_bleached_middle_is_found_by_its_other_rings() {
    let face = Face::published("target-40").unwrap();
    let photo = coloured(&camera(), |m, c| {
        let glare = 0.95 * (-(m.norm_mm() / 55.0).powi(4)).exp();
        let plain = shade(&face, m, c);
        plain + glare * (250.0 - plain)
    });
    let tap = camera().see(PointMm::new(3.0, 4.0));
    let plane = face.fit(&photo, tap, &RingsFit::default()).unwrap();
    assert!((size(&plane, &camera()) - 1.0).abs() < 0.03);
}
