//! The seam to flight: how a launch fault shows at a distance.

/// How one mm of launch fault (stated as a bare shaft's split at 18.288 m) shows, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Gain {
    /// For a fault that is all yaw rate.
    pub rate: f64,
    /// For a fault that is all yaw angle.
    pub angle: f64,
    /// Relative standard deviation of both.
    pub sd_rel: f64,
}

/// One distance only: the identity, until flight fills it.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct TransferTable {}

impl TransferTable {
    /// The identity at one distance.
    pub fn identity() -> Self {
        Self {}
    }

    pub(crate) fn gain(&self, probe: super::Probe, _distance_m: f64) -> Gain {
        use super::Probe::{Bare, Broadhead, Paper};
        match probe {
            Bare => Gain {
                rate: 1.0,
                angle: 1.0,
                sd_rel: 0.0,
            },
            Broadhead => Gain {
                rate: 0.6,
                angle: 0.8,
                sd_rel: 0.3,
            },
            Paper => Gain {
                rate: -0.15,
                angle: -1.0,
                sd_rel: 0.3,
            },
        }
    }

    pub(crate) fn expected_y_mm(&self, _probe: super::Probe, _distance_m: f64) -> f64 {
        0.0
    }
}
