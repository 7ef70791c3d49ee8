//! Colours in linear light, and how a shape covers a pixel.

/// Red, green and blue in linear light, 0 to 1.
pub type Rgb = [f32; 3];

/// The linear light of an 8-bit sRGB colour (IEC 61966-2-1).
pub fn dn(r: u8, g: u8, b: u8) -> Rgb {
    [r, g, b].map(|v| {
        let v = f32::from(v) / 255.0;
        if v <= 0.040_45 {
            v / 12.92
        } else {
            ((v + 0.055) / 1.055).powf(2.4)
        }
    })
}

/// Where on the plane a pixel looks.
#[derive(Debug, Clone, Copy)]
pub(super) struct Spot {
    /// mm to the right.
    pub(super) x: f32,
    /// mm up.
    pub(super) y: f32,
    /// Pixels per millimetre there.
    pub(super) scale: f32,
}

impl Spot {
    /// Share of the pixel inside a shape whose edge is `distance` mm away (negative inside).
    pub(super) fn cover(self, distance: f32) -> f32 {
        (0.5 - distance * self.scale).clamp(0.0, 1.0)
    }

    /// The same for an edge that is soft over `width` mm.
    pub(super) fn cover_soft(self, distance: f32, width: f32) -> f32 {
        (0.5 - distance / width.max(1.0 / self.scale)).clamp(0.0, 1.0)
    }
}

/// Something lying on the plane that changes the colour of the pixels it covers.
pub(super) trait Paint: Send + Sync {
    /// Middle and reach, mm: nothing is painted further away.
    fn bounds(&self) -> (f32, f32, f32);
    /// Paints over `colour`.
    fn paint(&self, spot: Spot, colour: &mut Rgb);
    /// Takes the plane away where it is open, after everything was painted: where paper was shot
    /// away, a later shot tears none.
    fn open(&self, _: Spot, _: &mut Rgb) {}
}

/// `colour` moved towards `over` by `share`.
pub(super) fn blend(colour: &mut Rgb, over: Rgb, share: f32) {
    for (c, o) in colour.iter_mut().zip(over) {
        *c += share * (o - *c);
    }
}

/// `colour` times `factor`.
pub(super) fn shade(colour: Rgb, factor: f32) -> Rgb {
    colour.map(|c| c * factor)
}

/// Distance from a point to the segment a-b, and how far along it (0 to 1).
pub(super) fn to_segment(x: f32, y: f32, a: [f32; 2], b: [f32; 2]) -> (f32, f32) {
    let (dx, dy) = (b[0] - a[0], b[1] - a[1]);
    let along = ((x - a[0]) * dx + (y - a[1]) * dy) / (dx * dx + dy * dy).max(1e-9);
    let t = along.clamp(0.0, 1.0);
    ((x - a[0] - t * dx).hypot(y - a[1] - t * dy), t)
}
