//! What else lies on a sheet: pasters, staples, pen dots, printed digits.

use shimwright::frame::PointMm;

use super::noise::value_noise;
use super::paint::{Paint, Rgb, Spot, blend, dn, shade, to_segment};

/// A square of gummed paper over an old hole.
#[derive(Debug, Clone)]
pub struct Paster {
    /// Middle.
    pub at: PointMm,
    /// Side, mm.
    pub side_mm: f32,
    /// Turned by, rad.
    pub angle_rad: f32,
    /// Colour.
    pub tint: Rgb,
}

impl Paint for Paster {
    fn bounds(&self) -> (f32, f32, f32) {
        (
            self.at.x_mm as f32,
            self.at.y_mm as f32,
            self.side_mm * 0.75 + 1.5,
        )
    }

    fn paint(&self, spot: Spot, colour: &mut Rgb) {
        let (x, y) = (spot.x - self.at.x_mm as f32, spot.y - self.at.y_mm as f32);
        let (s, c) = self.angle_rad.sin_cos();
        let square =
            |x: f32, y: f32| (c * x + s * y).abs().max((c * y - s * x).abs()) - self.side_mm / 2.0;
        let shadow = spot.cover_soft(square(x - 0.3, y + 0.4), 0.8);
        *colour = shade(*colour, 1.0 - 0.25 * shadow);
        let fibre = 1.0 + 0.02 * value_noise(spot.x * 1.1 + 50.0, spot.y * 1.1);
        blend(colour, shade(self.tint, fibre), spot.cover(square(x, y)));
    }
}

/// A wire staple.
#[derive(Debug, Clone)]
pub struct Staple {
    /// Middle.
    pub at: PointMm,
    /// Direction of the wire, rad.
    pub angle_rad: f32,
}

impl Staple {
    const LENGTH_MM: f32 = 11.0;
    const WIRE_MM: f32 = 0.7;
}

impl Paint for Staple {
    fn bounds(&self) -> (f32, f32, f32) {
        (self.at.x_mm as f32, self.at.y_mm as f32, 8.0)
    }

    fn paint(&self, spot: Spot, colour: &mut Rgb) {
        let (x, y) = (spot.x - self.at.x_mm as f32, spot.y - self.at.y_mm as f32);
        let half = [
            self.angle_rad.cos() * Self::LENGTH_MM / 2.0,
            self.angle_rad.sin() * Self::LENGTH_MM / 2.0,
        ];
        let ends = ([-half[0], -half[1]], half);
        let (shadow, _) = to_segment(x - 0.35, y + 0.45, ends.0, ends.1);
        *colour = shade(
            *colour,
            1.0 - 0.4 * spot.cover_soft(shadow - Self::WIRE_MM / 2.0, 0.6),
        );
        let (wire, _) = to_segment(x, y, ends.0, ends.1);
        let shine = 0.55 + 0.6 * (1.0 - wire / Self::WIRE_MM * 2.0).max(0.0);
        blend(
            colour,
            shade(dn(168, 170, 174), shine),
            spot.cover(wire - Self::WIRE_MM / 2.0),
        );
    }
}

/// A dot of a pen.
#[derive(Debug, Clone)]
pub struct Dot {
    /// Middle.
    pub at: PointMm,
    /// Radius, mm.
    pub radius_mm: f32,
    /// Ink.
    pub ink: Rgb,
}

impl Paint for Dot {
    fn bounds(&self) -> (f32, f32, f32) {
        (
            self.at.x_mm as f32,
            self.at.y_mm as f32,
            self.radius_mm + 1.5,
        )
    }

    fn paint(&self, spot: Spot, colour: &mut Rgb) {
        let r = (spot.x - self.at.x_mm as f32).hypot(spot.y - self.at.y_mm as f32);
        let wobble = 0.2 * value_noise(spot.x * 1.5, spot.y * 1.5);
        blend(
            colour,
            self.ink,
            0.92 * spot.cover(r - self.radius_mm + wobble),
        );
    }
}

/// A printed digit, drawn in seven strokes.
#[derive(Debug, Clone)]
pub struct Digit {
    /// Middle.
    pub at: PointMm,
    /// Height, mm.
    pub height_mm: f32,
    /// 0 to 9.
    pub value: u8,
    /// Ink.
    pub ink: Rgb,
}

/// Which of the strokes (top, upper left, upper right, middle, lower left, lower right, bottom)
/// each digit has.
const STROKES: [u8; 10] = [
    0b111_0111, 0b001_0010, 0b101_1101, 0b101_1011, 0b011_1010, 0b110_1011, 0b110_1111, 0b101_0010,
    0b111_1111, 0b111_1011,
];

/// Ends of the strokes in units of half the height, from the top stroke on.
const ENDS: [([f32; 2], [f32; 2]); 7] = [
    ([-0.5, 1.0], [0.5, 1.0]),
    ([-0.5, 1.0], [-0.5, 0.0]),
    ([0.5, 1.0], [0.5, 0.0]),
    ([-0.5, 0.0], [0.5, 0.0]),
    ([-0.5, 0.0], [-0.5, -1.0]),
    ([0.5, 0.0], [0.5, -1.0]),
    ([-0.5, -1.0], [0.5, -1.0]),
];

impl Paint for Digit {
    fn bounds(&self) -> (f32, f32, f32) {
        (self.at.x_mm as f32, self.at.y_mm as f32, self.height_mm)
    }

    fn paint(&self, spot: Spot, colour: &mut Rgb) {
        let half = self.height_mm / 2.0;
        let (x, y) = (spot.x - self.at.x_mm as f32, spot.y - self.at.y_mm as f32);
        let strokes = STROKES[usize::from(self.value) % 10];
        let near = ENDS
            .iter()
            .enumerate()
            .filter(|(i, _)| strokes >> (6 - i) & 1 == 1)
            .fold(1e3, |near: f32, (_, (a, b))| {
                near.min(to_segment(x / half, y / half, *a, *b).0 * half)
            });
        blend(colour, self.ink, spot.cover(near - self.height_mm * 0.07));
    }
}
