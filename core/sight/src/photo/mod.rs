//! JPEG bytes to upright pixels.
//!
//! Everything is checked before it is decoded: [`header`] reads the size, [`decode`] makes one
//! luma plane (sheets, paper) or RGB (faces), and [`Photo`] shows the stored pixels upright
//! through [`View`] without moving one. [`half`](Photo::half) is the preview that seeds, finders
//! and the straight-on picture work on.

mod camera;
mod decode;
mod error;
mod exif;
mod exposure;
mod fault;
pub mod header;
mod image;
mod orientation;
mod preview;
mod quality;
mod view;

pub use camera::{CameraKey, FILM_DIAGONAL_MM, focal_px};
pub use decode::{Photo, Planes, decode};
pub use error::PhotoError;
pub use exif::ExifFacts;
pub use fault::QualityFault;
pub use image::{Grey, Rgb};
pub use orientation::Orientation;
pub use preview::{half, shrink};
pub use quality::Quality;
pub use view::View;
