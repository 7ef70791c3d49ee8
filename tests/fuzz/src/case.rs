//! Any JSON as a case of the scripting commands.
#![no_main]

mod targets;

use libfuzzer_sys::fuzz_target;

fuzz_target!(|bytes: &[u8]| targets::case(bytes));
