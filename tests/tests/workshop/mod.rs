//! The workshop file and its facade: the whole job on the record, every refusal, every version.

mod arrows;
pub(crate) mod bench;
mod checks;
mod correct;
mod files;
mod freeze;
mod job;
mod judged;
mod ladder;
mod laws;
mod sheet;
mod trials_csv;
mod unread;
