//! Any bytes as the EXIF block of a photograph.
#![no_main]

use libfuzzer_sys::fuzz_target;
use shimwright::photo::{CameraKey, ExifFacts};

fuzz_target!(|bytes: &[u8]| {
    let facts = ExifFacts::parse(bytes);
    let _ = CameraKey::of(&facts, 4032, 3024);
});
