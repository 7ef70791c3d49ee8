//! Any bytes as a photograph file: an error or a picture, never a panic.
#![no_main]

use libfuzzer_sys::fuzz_target;
use shimwright::photo::{Planes, decode};

fuzz_target!(|bytes: &[u8]| {
    for planes in [Planes::Colour, Planes::Luma] {
        if let Ok(photo) = decode(bytes, planes) {
            let _ = photo.half();
        }
    }
});
