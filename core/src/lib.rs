//! Shimwright's core: from a photograph of a face or a paper tear to a verdict on the bow's axle
//! spacers, a guided swap and a record.
//!
//! The modules stand in the order the data flows through them.

pub mod frame;
pub mod units;
pub mod distance;
pub mod range;
pub mod photo;
pub mod plane;
pub mod impact;
pub mod tear;
pub mod measure;
pub mod spacer;
pub mod stats;
pub mod group;
pub mod scatter;
pub mod flier;
pub mod split;
pub mod flight;
pub mod evidence;
pub mod verdict;
pub mod swap;
pub mod record;
pub mod scene;
#[cfg(feature = "store")]
pub mod album;
#[cfg(feature = "sheet")]
pub mod sheet;
#[cfg(feature = "store")]
pub mod store;
#[cfg(feature = "store")]
pub mod backup;
#[cfg(feature = "store")]
pub mod workshop;
pub mod walkback;
