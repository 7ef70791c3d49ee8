//! Every test of the core from outside, in one program: one for each file would be linked as often as there are files.

// Helpers of tests: a failure ends the test.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod answers;
mod backup;
mod chessboard;
mod evidence_reference;
mod flight_reference;
mod flight_table;
mod fuzzed;
mod group_reference;
mod killed;
mod layers;
mod nist_reference;
mod photo;
mod photo_input;
mod plane_reference;
mod refusals;
mod situations;
mod spacer_practice;
mod split_calibration;
mod sql;
mod stats_reference;
mod units_reference;
mod verdict_cases;
mod verdict_laws;
mod verdict_mixed;
mod verdict_pieces;
mod verdict_rounds;
mod verdict_signs;
mod virtual_bows;
mod workshop;
