//! Tears drawn on plain paper with known ends.

use super::*;

const SHAFT_MM: f64 = 7.0;

struct Drawn {
    point: PointMm,
    nock: PointMm,
    vanes: &'static [f64],
}

impl Drawn {
    /// 200 for paper, 30 where it is torn.
    fn brightness(&self, at: PointMm) -> f32 {
        let body = Slit {
            from: self.point,
            to: self.nock,
        };
        let on_vane = self.vanes.iter().any(|degrees| {
            let (sin, cos) = degrees.to_radians().sin_cos();
            let to = self.nock + PointMm::new(13.0 * cos, 13.0 * sin);
            Slit {
                from: self.nock,
                to,
            }
            .distance_mm(at)
                < 0.4
        });
        if body.distance_mm(at) < SHAFT_MM / 2.0 || on_vane {
            30.0
        } else {
            200.0
        }
    }

    fn read(&self, tap: PointMm) -> Result<Tear, TearRefusal> {
        read_tear(tap, SHAFT_MM, &|at| self.brightness(at))
    }
}

fn three_vanes(point: PointMm, nock: PointMm) -> Drawn {
    let vanes = &[80.0, 200.0, 320.0];
    Drawn { point, nock, vanes }
}

#[test]
fn tears_of_all_directions_read_back() {
    for (x, y) in [
        (-18.0, 6.0),
        (9.0, 12.0),
        (0.0, 0.0),
        (25.0, -4.0),
        (3.0, -14.0),
    ] {
        let nock = PointMm::new(x, y);
        let tear = three_vanes(PointMm::default(), nock).read(PointMm::new(x / 2.0, y / 2.0));
        let tear = tear.unwrap_or_else(|e| panic!("{x} {y}: {e}"));
        assert!(
            (tear.vector - nock).norm_mm() < 0.4,
            "{x} {y}: {:?}",
            tear.vector
        );
        assert!(tear.slits.len() >= 2);
    }
}

#[test]
fn mirrored_paper_gives_the_mirrored_tear() {
    let drawn = three_vanes(PointMm::new(1.0, 2.0), PointMm::new(-12.0, 7.0));
    let tear = drawn.read(drawn.point).unwrap();
    let mirrored = read_tear(drawn.point.mirrored(), SHAFT_MM, &|at: PointMm| {
        drawn.brightness(at.mirrored())
    });
    assert!((mirrored.unwrap().vector.mirrored() - tear.vector).norm_mm() < 0.1);
}

#[test]
fn light_behind_the_paper_reads_the_same() {
    let drawn = three_vanes(PointMm::default(), PointMm::new(-12.0, 7.0));
    let tear = read_tear(drawn.point, SHAFT_MM, &|at| 255.0 - drawn.brightness(at)).unwrap();
    assert!((tear.vector - drawn.nock).norm_mm() < 0.4);
}

#[test]
fn every_refusal_says_what_is_missing() {
    let bare = Drawn {
        vanes: &[],
        ..three_vanes(PointMm::default(), PointMm::new(9.0, 0.0))
    };
    assert_eq!(bare.read(PointMm::default()), Err(TearRefusal::TooFewSlits));
    assert_eq!(
        bare.read(PointMm::new(30.0, 30.0)),
        Err(TearRefusal::NothingTorn)
    );
    let blank = read_tear(PointMm::default(), SHAFT_MM, &|_| 180.0);
    assert_eq!(blank, Err(TearRefusal::NothingTorn));
    let gash = |p: PointMm| if p.y_mm.abs() < 3.0 { 20.0 } else { 200.0 };
    assert_eq!(
        read_tear(PointMm::default(), SHAFT_MM, &gash),
        Err(TearRefusal::TooLarge)
    );
    let shaft = read_tear(PointMm::default(), f64::NAN, &|_| 180.0);
    assert_eq!(shaft, Err(TearRefusal::BadShaft));
}

/// A ring printed through a bullet hole: thin and dark too, but no vane is that long.
#[test]
fn a_long_printed_line_is_no_slit() {
    let hole = PointMm::new(2.0, 1.0);
    let ring_mm = 60.0;
    let middle = hole + PointMm::new(ring_mm, 0.0);
    let printed = |at: PointMm| {
        let on_ring = ((at - middle).norm_mm() - ring_mm).abs() < 0.5;
        let open = (at - hole).norm_mm() < SHAFT_MM / 2.0;
        match (open, on_ring) {
            (true, _) => 30.0,
            (_, true) => 130.0,
            _ => 200.0,
        }
    };
    let read = read_tear(hole, SHAFT_MM, &printed);
    assert_eq!(read.unwrap_err(), TearRefusal::TooFewSlits);
}
