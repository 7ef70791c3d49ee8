//! Any bytes as a photograph to be shared.
#![no_main]

mod targets;

use libfuzzer_sys::fuzz_target;

fuzz_target!(|bytes: &[u8]| targets::shared(bytes));
