//! Backup, restore and merge: nothing is lost, nothing is half done, and the zip is one that other
//! programs read.

mod apart;
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
