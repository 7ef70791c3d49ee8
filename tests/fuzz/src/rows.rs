//! Any bytes as the rows of a backup.
#![no_main]

mod targets;

use libfuzzer_sys::fuzz_target;

fuzz_target!(|bytes: &[u8]| targets::rows(bytes));
