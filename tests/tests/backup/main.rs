//! Backup, restore and merge: nothing is lost, nothing is half done, and the zip is one that other
//! programs read.

// Helpers of tests: a failed unwrap is the failed test.
#![allow(clippy::unwrap_used, clippy::panic)]

#[path = "../workshop/bench.rs"]
#[allow(dead_code)]
mod bench;

mod hostile;
mod job;
mod laws;
mod outside;
mod salvage;
mod shelf;
