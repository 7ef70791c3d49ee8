//! From the scene to pixels: blur, motion, noise, exposure and tone.

use rand::RngExt;
use rand_distr::{Distribution, StandardNormal};

use super::blur::Blur;
use super::camera::{Camera, Ray};
use super::light::Field;
use super::noise::{Seeded, seeded};
use super::paint::{Rgb, Spot};
use super::scene::{Indexed, Scene};
use super::shaft::Stripe;

/// Where in the chain the lens blurs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Tone {
    /// The lens blurs light, then the tone curve is applied: as a real camera does.
    AfterBlur,
    /// The blur acts on the finished tones: what a phone's own smoothing and sharpening do, and
    /// the usual simplification.
    BeforeBlur,
}

/// What happens to the light on its way to a pixel.
#[derive(Debug, Clone)]
pub struct Optics {
    /// Standard deviation of the lens blur, px.
    pub blur_px: f64,
    /// Movement during the exposure, px right and down.
    pub motion_px: [f64; 2],
    /// Standard deviation of the noise in the dark, DN of 255.
    pub noise_dn: f32,
    /// Order of blur and tone curve.
    pub tone: Tone,
}

impl Optics {
    /// A steady, sharp picture without noise.
    pub fn clean() -> Self {
        Self {
            blur_px: 0.8,
            motion_px: [0.0, 0.0],
            noise_dn: 0.0,
            tone: Tone::BeforeBlur,
        }
    }

    /// As hand-held phones are: blur 0.8 to 1.5 px, motion to 2.2 px, noise 0.8 to 2.5 DN.
    pub fn random(rng: &mut Seeded) -> Self {
        let (length, angle) = (
            rng.random_range(0.0..2.2_f64),
            rng.random_range(0.0..std::f64::consts::TAU),
        );
        Self {
            blur_px: rng.random_range(0.8..1.5),
            motion_px: [length * angle.cos(), length * angle.sin()],
            noise_dn: rng.random_range(0.8..2.5),
            tone: Tone::AfterBlur,
        }
    }
}

/// An upright picture, three bytes a pixel.
#[derive(Clone)]
pub struct Photo {
    /// px.
    pub width: usize,
    /// px.
    pub height: usize,
    /// Red, green, blue, row by row from the top.
    pub rgb: Vec<u8>,
}

impl Photo {
    /// Takes the picture; equal seeds give equal pictures.
    pub fn take(scene: &Scene, camera: &Camera, optics: &Optics, seed: u64) -> Self {
        let mut blur = Blur::new(optics, camera.width);
        let rows = Rows::new(scene, camera, optics, blur.margin());
        let mut finish = Finish::new(optics, seed);
        let mut rgb = Vec::with_capacity(camera.width * camera.height * 3);
        for _ in 0..camera.height {
            finish.row(&blur.row(|y, row| rows.render(y, row)), &mut rgb);
        }
        Self {
            width: camera.width,
            height: camera.height,
            rgb,
        }
    }
}

/// Renders rows of the unblurred picture, with a margin on both sides.
struct Rows<'a> {
    light: Field,
    camera: &'a Camera,
    ray: Ray<'a>,
    indexed: Indexed<'a>,
    stripes: Vec<Stripe>,
    tone: Tone,
    reach: usize,
    curve: Curve,
}

/// The scale changes slowly over the picture: it is looked up every so many pixels.
const SCALE_STEP_PX: usize = 64;

impl<'a> Rows<'a> {
    fn new(scene: &'a Scene, camera: &'a Camera, optics: &Optics, reach: usize) -> Self {
        Self {
            light: scene.light.prepared(),
            camera,
            ray: Ray::new(camera),
            indexed: scene.indexed(),
            stripes: scene.shafts.iter().map(|s| s.seen(camera)).collect(),
            tone: optics.tone,
            reach,
            curve: Curve::new(),
        }
    }

    fn render(&self, y: isize, row: &mut [f32]) {
        let y = y as f64;
        let mut scale = 1.0;
        let per = 1.0 / self.camera.half_diagonal_px();
        let [cx, cy] = self.camera.middle_px();
        for (i, out) in row.chunks_exact_mut(3).enumerate() {
            let x = i as f64 - self.reach as f64;
            if i % SCALE_STEP_PX == 0 {
                scale = self.camera.px_per_mm(x, y) as f32;
            }
            let [mx, my] = self.ray.meet(x, y);
            let mut colour = self.indexed.colour(Spot {
                x: mx as f32,
                y: my as f32,
                scale,
            });
            if !self.stripes.is_empty() {
                let u = self.camera.undistort(x, y).map(|v| v as f32);
                self.stripes.iter().for_each(|s| s.paint(u, &mut colour));
            }
            let light = self
                .light
                .at(((x - cx) * per) as f32, ((y - cy) * per) as f32);
            self.write(colour, light, out);
        }
    }

    fn write(&self, colour: Rgb, light: f32, out: &mut [f32]) {
        for (o, c) in out.iter_mut().zip(colour) {
            *o = match self.tone {
                Tone::AfterBlur => c * light,
                Tone::BeforeBlur => self.curve.dn(c * light),
            };
        }
    }
}

/// The sRGB curve from linear light to DN, tabulated.
struct Curve {
    dn: Vec<f32>,
}

impl Curve {
    const STEPS: usize = 8192;

    fn new() -> Self {
        let dn = (0..=Self::STEPS + 1)
            .map(|i| {
                let v = (i as f32 / Self::STEPS as f32).min(1.0);
                255.0
                    * if v <= 0.003_130_8 {
                        12.92 * v
                    } else {
                        1.055 * v.powf(1.0 / 2.4) - 0.055
                    }
            })
            .collect();
        Self { dn }
    }

    fn dn(&self, light: f32) -> f32 {
        let at = light.clamp(0.0, 1.0) * Self::STEPS as f32;
        let i = at as usize;
        self.dn[i] + (at - i as f32) * (self.dn[i + 1] - self.dn[i])
    }
}

/// Noise and rounding to bytes.
struct Finish {
    curve: Option<Curve>,
    rng: Seeded,
    normals: Vec<f32>,
    noise_dn: f32,
}

impl Finish {
    const NORMALS: usize = 1 << 16;

    fn new(optics: &Optics, seed: u64) -> Self {
        let mut rng = seeded(seed);
        let normals = (0..Self::NORMALS)
            .map(|_| StandardNormal.sample(&mut rng))
            .collect();
        let curve = (optics.tone == Tone::AfterBlur).then(Curve::new);
        Self {
            curve,
            rng,
            normals,
            noise_dn: optics.noise_dn,
        }
    }

    /// One row: the noise table is entered at a new place each time.
    fn row(&mut self, sums: &[f32], rgb: &mut Vec<u8>) {
        let mut at = self.rng.random_range(0..Self::NORMALS);
        let stride = self.rng.random_range(0..64_usize) * 2 + 1;
        for v in sums {
            let dn = self.curve.as_ref().map_or(*v, |c| c.dn(*v));
            // Photon noise after the tone curve is nearly even; a little more in the dark.
            let sd = self.noise_dn * (1.25 - dn * (0.5 / 255.0));
            rgb.push((dn + sd * self.normals[at] + 0.5).clamp(0.0, 255.0) as u8);
            at = (at + stride) & (Self::NORMALS - 1);
        }
    }
}
