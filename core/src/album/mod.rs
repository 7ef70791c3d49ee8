//! Photographs as files: small copies, straight-on crops, and copies that say nothing but the picture.
//!
//! Bytes in, bytes out; where the files lie is [`crate::backup::PhotoFolder`]'s business.

mod crop;
mod error;
mod shared;
mod thumbnail;

pub use crop::{Crop, cropped};
pub use error::AlbumError;
pub use shared::without_metadata;
pub use thumbnail::{encoded, thumbnail};
