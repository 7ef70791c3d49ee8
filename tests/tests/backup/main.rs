//! Backup, restore and merge: nothing is lost, nothing is half done, and the zip is one that other
//! programs read.

// Helpers of tests: a failed unwrap is the failed test.
#![allow(clippy::unwrap_used, clippy::panic)]

#[path = "../workshop/bench.rs"]
#[allow(dead_code)]
mod bench;

mod bounds;
mod frozen;
mod hostile;
mod job;
mod laws;
mod outside;
mod photos;
mod salvage;
mod schema;
mod shelf;
