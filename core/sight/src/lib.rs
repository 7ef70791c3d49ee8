//! What a photograph waits for: from a picture and a few taps to millimetres with their uncertainty.
//!
//! The modules stand in the order the data flows through them; each uses only what stands before it.

pub mod frame;
pub mod stats;
pub mod photo;
pub mod plane;
pub mod impact;
pub mod tear;
pub mod measure;
