//! Everything on the plane, and which colour a spot of it has.

use rand::RngExt;

use super::light::Light;
use super::noise::{Seeded, value_noise};
use super::paint::{Paint, Rgb, Spot, blend, dn, shade};
use super::paper::Sheet;
use super::shaft::Shaft;
use super::{Digit, Dot, Hole, Paster, Staple, Tear, Wound};

/// What hangs behind the sheet.
#[derive(Debug, Clone)]
pub struct Wall {
    /// Mean colour.
    pub tint: Rgb,
    /// Relative strength of the texture, 0 to 1.
    pub rough: f32,
    /// How much longer than wide the texture's features are.
    pub stretch: f32,
    offset: f32,
    kind: Kind,
}

#[derive(Debug, Clone, Copy)]
enum Kind {
    Grain,
    Layers,
    Soft,
}

impl Wall {
    /// A butt of foam layers.
    pub fn butt() -> Self {
        Self {
            tint: dn(112, 96, 74),
            rough: 0.45,
            stretch: 5.0,
            offset: 0.0,
            kind: Kind::Layers,
        }
    }

    /// Greenery out of focus, as behind a paper frame outdoors.
    pub fn yard() -> Self {
        Self {
            tint: dn(74, 84, 58),
            rough: 0.7,
            stretch: 1.0,
            offset: 9.0,
            kind: Kind::Soft,
        }
    }

    /// A wall or butt by chance: dark to middling, of any grain.
    pub fn random(rng: &mut Seeded) -> Self {
        let grey = rng.random_range(30..120_u8);
        let warm = rng.random_range(0..20_u8);
        Self {
            tint: dn(grey + warm, grey + warm / 2, grey),
            rough: rng.random_range(0.1..0.5),
            stretch: rng.random_range(1.0..9.0),
            offset: rng.random_range(0.0..200.0),
            kind: Kind::Grain,
        }
    }

    /// Something almost as light as the paper.
    pub fn light() -> Self {
        Self {
            tint: dn(196, 192, 186),
            rough: 0.08,
            stretch: 1.0,
            offset: 0.0,
            kind: Kind::Grain,
        }
    }

    fn colour(&self, spot: Spot) -> Rgb {
        let relief = match self.kind {
            Kind::Grain => self.grain(spot),
            Kind::Layers => 0.5 * self.grain(spot) + layers(spot),
            Kind::Soft => soft(spot),
        };
        shade(self.tint, (1.0 + self.rough * relief).max(0.05))
    }

    fn grain(&self, spot: Spot) -> f32 {
        let (x, y) = (spot.x / self.stretch + self.offset, spot.y);
        let coarse = value_noise(x * 0.11, y * 0.11);
        let grain = value_noise(x * 0.7, y * 0.45 + 31.0);
        let fine = value_noise(x * 2.3, y * 1.1 + 77.0);
        0.5 * coarse + 0.6 * grain + 0.4 * fine
    }
}

/// Sheets of foam laid on each other: each of its own tone, dark seams between.
fn layers(spot: Spot) -> f32 {
    const LAYER_MM: f32 = 11.0;
    let wobble = 0.8 * value_noise(spot.x * 0.02, spot.y * 0.05);
    let at = (spot.y + wobble) / LAYER_MM;
    let tone = value_noise(at.floor() * 3.7, spot.x * 0.004 + at.floor());
    let seam = (at.fract().abs() * LAYER_MM).min((1.0 - at.fract().abs()) * LAYER_MM);
    0.45 * tone - 1.1 * spot.cover_soft(seam - 0.5, 0.9)
}

/// Large blobs without any edge.
fn soft(spot: Spot) -> f32 {
    let (x, y) = (spot.x + 400.0, spot.y + 900.0);
    value_noise(x * 0.019 + y * 0.011, y * 0.017 - x * 0.009)
        + 0.7 * value_noise(x * 0.013 - y * 0.021, y * 0.012 + x * 0.019)
        + 0.3 * value_noise(x * 0.06 + y * 0.035, y * 0.05 - x * 0.03)
}

/// A sheet on a wall with what was shot and stuck into it.
pub struct Scene {
    /// The reference.
    pub sheet: Sheet,
    /// Behind it.
    pub wall: Wall,
    /// Over it.
    pub light: Light,
    /// Holes, in the order they were made.
    pub holes: Vec<Hole>,
    /// Torn holes of arrows.
    pub wounds: Vec<Wound>,
    /// Paper tears.
    pub tears: Vec<Tear>,
    /// Gummed squares, under the holes.
    pub pasters: Vec<Paster>,
    /// Staples.
    pub staples: Vec<Staple>,
    /// Pen dots.
    pub dots: Vec<Dot>,
    /// Printed digits, under everything.
    pub digits: Vec<Digit>,
    /// Shafts left standing.
    pub shafts: Vec<Shaft>,
}

impl Scene {
    /// A sheet with nothing on it.
    pub fn new(sheet: Sheet, wall: Wall, light: Light) -> Self {
        Self {
            sheet,
            wall,
            light,
            holes: Vec::new(),
            wounds: Vec::new(),
            tears: Vec::new(),
            pasters: Vec::new(),
            staples: Vec::new(),
            dots: Vec::new(),
            digits: Vec::new(),
            shafts: Vec::new(),
        }
    }

    fn paints(&self) -> Vec<&dyn Paint> {
        fn all<T: Paint>(of: &[T]) -> impl Iterator<Item = &dyn Paint> {
            of.iter().map(|p| p as &dyn Paint)
        }
        all(&self.digits)
            .chain(all(&self.pasters))
            .chain(all(&self.dots))
            .chain(all(&self.holes))
            .chain(all(&self.wounds))
            .chain(all(&self.tears))
            .chain(all(&self.staples))
            .collect()
    }

    /// The scene prepared for many look-ups.
    pub(super) fn indexed(&self) -> Indexed<'_> {
        Indexed::new(self)
    }
}

/// A scene with its paints sorted into cells.
pub(super) struct Indexed<'a> {
    scene: &'a Scene,
    paints: Vec<&'a dyn Paint>,
    cells: Vec<Vec<u16>>,
    across: usize,
    up: usize,
    origin: [f32; 2],
}

const CELL_MM: f32 = 8.0;

impl<'a> Indexed<'a> {
    fn new(scene: &'a Scene) -> Self {
        let (w, h) = (scene.sheet.width_mm, scene.sheet.height_mm);
        let across = (w / CELL_MM) as usize + 3;
        let up = (h / CELL_MM) as usize + 3;
        let mut indexed = Self {
            scene,
            paints: scene.paints(),
            cells: vec![Vec::new(); across * up],
            across,
            up,
            origin: [-w / 2.0 - CELL_MM, -h / 2.0 - CELL_MM],
        };
        for i in 0..indexed.paints.len() {
            indexed.enter(i);
        }
        indexed
    }

    fn enter(&mut self, paint: usize) {
        let (x, y, r) = self.paints[paint].bounds();
        let cell = |v: f32, axis: usize, count: usize| {
            (((v - self.origin[axis]) / CELL_MM).max(0.0) as usize).min(count - 1)
        };
        let (x0, x1) = (cell(x - r, 0, self.across), cell(x + r, 0, self.across));
        let (y0, y1) = (cell(y - r, 1, self.up), cell(y + r, 1, self.up));
        for row in y0..=y1 {
            for column in x0..=x1 {
                self.cells[row * self.across + column].push(paint as u16);
            }
        }
    }

    fn cell(&self, spot: Spot) -> &[u16] {
        let (x, y) = (
            (spot.x - self.origin[0]) / CELL_MM,
            (spot.y - self.origin[1]) / CELL_MM,
        );
        if x < 0.0 || y < 0.0 || x >= self.across as f32 || y >= self.up as f32 {
            return &[];
        }
        &self.cells[y as usize * self.across + x as usize]
    }

    /// Colour of the plane at a spot, in even light.
    pub(super) fn colour(&self, spot: Spot) -> Rgb {
        let outline = self.scene.sheet.distance(spot);
        let on = spot.cover(outline);
        if on <= 0.0 {
            // A sheet stands a little off the wall and throws a thin shadow on it.
            let shadow = 0.35 * (1.0 - outline / 4.0).clamp(0.0, 1.0);
            return shade(self.scene.wall.colour(spot), 1.0 - shadow);
        }
        let mut colour = self.scene.sheet.colour(spot);
        let near = || self.cell(spot).iter().map(|i| self.paints[usize::from(*i)]);
        near().for_each(|paint| paint.paint(spot, &mut colour));
        near().for_each(|paint| paint.open(spot, &mut colour));
        if on < 1.0 {
            let wall = shade(self.scene.wall.colour(spot), 0.65);
            blend(&mut colour, wall, 1.0 - on);
        }
        colour
    }
}
