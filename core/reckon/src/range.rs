//! The ranges of what is recorded and judged, once for both: whatever can be recorded can be judged.
//!
//! Wide enough for every real bow, narrow enough to catch a slipped decimal point or a wrong unit.
//! Common practice, no source, where a constant names none.

use crate::distance::{LONGEST_M, SHORTEST_M};

/// Smallest and largest value that is taken.
pub type Range = (f64, f64);

/// Distance to a face, m: nearer than two metres a split says nothing.
pub const FACE_DISTANCE_M: Range = (2.0, LONGEST_M);
/// Distance to the paper, m: farther away the tear has died out.
pub const PAPER_DISTANCE_M: Range = (SHORTEST_M, 8.0);
/// Distance between the axles, mm.
pub const AXLE_TO_AXLE_MM: Range = (400.0, 1500.0);
/// Share of the top cam in the nock plane's offset.
pub const TOP_WEIGHT: Range = (0.0, 1.0);
/// Place of the rest or the nocking point relative to where a bow's record starts, mm.
pub const REST_AND_NOCK_MM: Range = (-60.0, 60.0);
/// How far the rest may still go to one side, mm.
pub const REST_ROOM_MM: Range = (0.0, 20.0);
/// How far a remembered swap moved the split, mm.
pub const REMEMBERED_MOVE_MM: Range = (-1000.0, 1000.0);
/// Place of an impact from the middle of the face, to each side, mm: no face is larger.
pub const IMPACT_MM: Range = (-3000.0, 3000.0);
/// Standard deviation of a measured place, mm.
pub const PLACE_SD_MM: Range = (0.0, 100.0);
/// Tear from the point's hole to the nock's, mm: longer paper is torn apart.
pub const TEAR_MM: Range = (-200.0, 200.0);
/// How far from the reference group still counts as together, and the doubt of a remembered move, mm.
pub const TOLERANCE_MM: Range = (1.0, 300.0);
/// Largest difference of the two cam offsets that is accepted, mm: more than any axle has room for.
pub const TILT_LIMIT_MM: Range = (0.0, 15.0);
