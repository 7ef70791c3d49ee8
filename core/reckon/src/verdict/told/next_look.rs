//! Where to look when spacers cannot do it.

use serde::{Deserialize, Serialize};

/// Where to look when spacers cannot do it, in the order the trade looks (common practice, no
/// source).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum NextLook {
    /// Broadheads that run true, and their vanes' clearance.
    Heads,
    /// Centre shot: where the rest holds the shaft, of a split far beyond what cams are out by.
    CentreShot,
    /// Cable or yoke twists, and cam lean with them.
    CableOrYoke,
    /// Cam timing.
    Timing,
    /// Spine and nock fit.
    Spine,
    /// Grip and anchor.
    Grip,
    /// A kit with other steps or a larger total.
    AnotherKit,
}

impl NextLook {
    /// Every look, in order.
    pub const ALL: [Self; 7] = [
        Self::Heads,
        Self::CentreShot,
        Self::CableOrYoke,
        Self::Timing,
        Self::Spine,
        Self::Grip,
        Self::AnotherKit,
    ];
}
