//! Any text as a figure with its unit.
#![no_main]

mod targets;

use libfuzzer_sys::fuzz_target;

fuzz_target!(|bytes: &[u8]| targets::units(bytes));
