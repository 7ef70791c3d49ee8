//! Any small picture, any corners, any taps: an error or numbers, never a panic.
#![no_main]

use libfuzzer_sys::fuzz_target;
use shimwright::frame::{ArrowKind, PointPx};
use shimwright::measure::{PhotoSession, Reference, Tap, TearTap, Up};
use shimwright::photo::{ExifFacts, Grey, Photo};

const SIDE: usize = 96;

/// Numbers drawn from the front of the input.
struct Numbers<'a>(&'a [u8]);

impl Numbers<'_> {
    fn next(&mut self) -> f64 {
        let Some((head, rest)) = self.0.split_first_chunk::<2>() else { return 0.0 };
        self.0 = rest;
        match i16::from_le_bytes(*head) {
            i16::MIN => f64::NAN,
            i16::MAX => f64::INFINITY,
            v => f64::from(v) / 128.0,
        }
    }

    fn point(&mut self) -> PointPx {
        PointPx::new(self.next(), self.next())
    }
}

fn reference(n: &mut Numbers<'_>) -> Reference {
    let corners = [n.point(), n.point(), n.point(), n.point()].to_vec();
    match n.next() as i64 & 3 {
        0 => Reference::Sheet { width_mm: n.next(), height_mm: n.next(), corners_px: Some(corners) },
        1 => Reference::Sheet { width_mm: 40.0, height_mm: 50.0, corners_px: None },
        2 => Reference::Points { a_px: n.point(), b_px: n.point(), distance_mm: n.next() },
        _ => Reference::Rings {
            face: String::new(),
            radii_mm: Some(vec![n.next(), n.next(), n.next()]),
            centre_px: n.point(),
            up: Up::Picture,
        },
    }
}

fuzz_target!(|bytes: &[u8]| {
    let mut n = Numbers(bytes);
    let asked = reference(&mut n);
    let k1 = Some(n.next());
    let (hole, tear, shaft_mm) = (n.point(), n.point(), n.next());
    let mut grey = Grey::filled(SIDE, SIDE, 90);
    for (pixel, byte) in grey.data.iter_mut().zip(n.0.iter().cycle()) {
        *pixel = *byte;
    }
    let mut session = PhotoSession::of(Photo::from_grey(grey, ExifFacts::default()));
    if session.fit(&asked, k1, None).is_err() {
        return;
    }
    let _ = session.snap(&Tap { kind: ArrowKind::Bare, px: hole, sd_px: None, shaft_mm: Some(shaft_mm) });
    let _ = session.tear(&TearTap { px: tear, shaft_mm, nock_px: None, sd_px: None });
    let _ = session.propose();
});
