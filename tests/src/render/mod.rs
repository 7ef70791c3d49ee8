//! A renderer of photographs with full ground truth: what the measuring is proved against.
//!
//! A [`Scene`] (a sheet or face with holes, tears and clutter, on a wall, under a light) is seen
//! by a [`Camera`] (pinhole, radial lens term, tilt) through [`Optics`] (blur, motion, noise,
//! exposure) and becomes a [`Photo`], which can be written as a JPEG with EXIF. The camera keeps
//! the truth: where every point of the plane lies in the picture.
//!
//! Everything random comes from a seed, so that a photograph can be made again bit by bit.

mod blur;
mod camera;
mod clutter;
mod face;
mod hole;
mod jpeg;
mod light;
mod noise;
mod optics;
mod paint;
mod paper;
mod phone;
mod scene;
mod shaft;
mod tear;
mod truth;
mod wound;

pub use camera::{Camera, Pose};
pub use clutter::{Digit, Dot, Paster, Staple};
pub use face::{RingFace, Zone};
pub use hole::{Hole, Inside};
pub use jpeg::{Coding, Exif};
pub use light::{Light, Shadow};
pub use noise::{Seeded, seeded};
pub use optics::{Optics, Photo, Tone};
pub use paint::{Rgb, dn};
pub use paper::{Print, Sheet};
pub use scene::{Scene, Wall};
pub use shaft::Shaft;
pub use tear::Tear;
pub use truth::{HoleTruth, TearTruth, Truth};
pub use wound::{Torn, Wound};
