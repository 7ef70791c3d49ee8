//! Photographs by seed, spread as hand-held phones spread them.
//!
//! Tilt 3 to 35 degrees, lens term k1 with sd 0.012, blur 0.8 to 1.5 px, motion to 2.2 px, noise,
//! a shadow, JPEG quality 85 to 95, focal length as the EXIF says within 2 %. Seeds below
//! [`FIRST_REPORTING_SEED`] are for tuning, those from there on for reporting.

mod face;
mod paper;
mod sheet;

pub use face::{FaceShot, face, single_ring, torn_face, zone_numbers};
pub use paper::{hole_pairs, paper_holes, tears};
pub use sheet::{bowed, card, marks, sheet};

use rand::RngExt;
use rand_distr::{Distribution, Normal};
use shimwright::frame::{PointMm, PointPx};

use crate::render::{Camera, Coding, Exif, Optics, Photo, Pose, Scene, Seeded, Truth};

/// The first seed that nothing was tuned with.
pub const FIRST_REPORTING_SEED: u64 = 5000;

/// How large the pictures are.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Size {
    /// 4032 x 3024 px: 12 MP.
    Full,
    /// 2016 x 1512 px: 3 MP, for quick tests; the same blur in px costs twice the mm.
    Quarter,
}

impl Size {
    fn px(self, upright: bool) -> (usize, usize) {
        let (long, short) = if self == Self::Full {
            (4032, 3024)
        } else {
            (2016, 1512)
        };
        if upright {
            (short, long)
        } else {
            (long, short)
        }
    }
}

/// One photograph to be taken.
pub struct Shot {
    /// What stands there.
    pub scene: Scene,
    /// From where it is seen.
    pub camera: Camera,
    /// Through what.
    pub optics: Optics,
    /// JPEG quality.
    pub quality: u8,
    /// What the camera says.
    pub exif: Exif,
    /// Whether the phone's tone curve and sharpening go over it.
    pub finished: bool,
    /// Of noise.
    pub seed: u64,
}

impl Shot {
    /// The file a phone would deliver.
    ///
    /// # Panics
    /// Never: the picture is smaller than a JPEG may be.
    pub fn jpeg(&self) -> Vec<u8> {
        let mut photo = Photo::take(&self.scene, &self.camera, &self.optics, self.seed);
        if self.finished {
            photo = photo.phone_finish();
        }
        match photo.jpeg(self.quality, Coding::Phone, &self.exif) {
            Ok(bytes) => bytes,
            Err(error) => unreachable!("{error}"),
        }
    }

    /// The truth.
    pub fn truth(&self) -> Truth {
        Truth::of(&self.scene, &self.camera)
    }
}

/// A sample of a normal distribution.
pub fn normal(rng: &mut Seeded, sd: f64) -> f64 {
    Normal::new(0.0, sd).map_or(0.0, |n| n.sample(rng))
}

/// A tap meant for `at`, off by a normal error of `sd` px on each axis.
pub fn tap(rng: &mut Seeded, at: PointPx, sd_px: f64) -> PointPx {
    PointPx::new(at.x_px + normal(rng, sd_px), at.y_px + normal(rng, sd_px))
}

/// Everything about a hand-held phone but what it looks at.
struct Phone {
    size: (usize, usize),
    nominal_f35_mm: f64,
    lens: Lens,
    pose: Pose,
    fill: f64,
}

struct Lens {
    f35_mm: f64,
    k1: f64,
}

impl Phone {
    fn random(rng: &mut Seeded, size: Size, upright: bool, fill: (f64, f64)) -> Self {
        let nominal_f35_mm = [24.0, 26.0, 28.0][rng.random_range(0..3_usize)];
        let lens = Lens {
            f35_mm: nominal_f35_mm * (1.0 + rng.random_range(-0.02..0.02)),
            k1: normal(rng, 0.012).clamp(-0.036, 0.036),
        };
        let pose = Pose {
            distance_mm: 500.0,
            tilt_rad: rng.random_range(3.0..35.0_f64).to_radians(),
            tilt_axis_rad: rng.random_range(0.0..std::f64::consts::TAU),
            roll_rad: rng.random_range(-6.0..6.0_f64).to_radians(),
            look_at: PointMm::default(),
        };
        Self {
            size: size.px(upright),
            nominal_f35_mm,
            lens,
            pose,
            fill: rng.random_range(fill.0..fill.1),
        }
    }

    /// Steps back or forward until a `width` x `height` mm rectangle fills the chosen part.
    fn frame(&self, width_mm: f64, height_mm: f64) -> Camera {
        let mut pose = self.pose;
        let at = |pose: &Pose| {
            Camera::new(
                self.size.0,
                self.size.1,
                self.lens.f35_mm,
                self.lens.k1,
                pose,
            )
        };
        for _ in 0..8 {
            pose.distance_mm *= reach(&at(&pose), width_mm / 2.0, height_mm / 2.0) / self.fill;
            pose.distance_mm = pose
                .distance_mm
                .clamp(0.6 * width_mm.max(height_mm), 5000.0);
        }
        at(&pose)
    }

    fn shot(&self, scene: Scene, camera: Camera, rng: &mut Seeded, seed: u64) -> Shot {
        Shot {
            scene,
            camera,
            optics: Optics::random(rng),
            quality: rng.random_range(85..=95),
            exif: Exif::upright(self.nominal_f35_mm),
            finished: false,
            seed,
        }
    }
}

/// How far the corners reach from the middle of the picture, 1 being its border.
fn reach(camera: &Camera, x: f64, y: f64) -> f64 {
    let [cx, cy] = camera.middle_px();
    [(-x, -y), (x, -y), (x, y), (-x, y)]
        .into_iter()
        .fold(0.0, |far: f64, (x, y)| {
            let p = camera.to_px(PointMm::new(x, y));
            far.max((p.x_px - cx).abs() / cx)
                .max((p.y_px - cy).abs() / cy)
        })
}
