//! The workshop file and its facade: the whole job on the record, every refusal, every version.

mod bench;
mod files;
mod freeze;
mod job;
mod ladder;
mod laws;
mod words;
