//! A workshop file with flipped bytes.
#![no_main]

mod targets;

use libfuzzer_sys::fuzz_target;

fuzz_target!(|bytes: &[u8]| targets::workshop_file(bytes));
