//! Flight: from an arrow set-up and a launch fault to splits and tears at a distance.
//!
//! The model is a rigid arrow in a plane: no flexing, no spin, no touch of the rest. What that
//! leaves out is the reader's to judge; what its own figures leave open is in every `sd`.

mod air;
mod arrow;
mod body;
mod build;
mod facts;
mod fins;
mod integrate;
mod kinds;
mod mass;
mod motion;
mod transfer;

pub use air::{
    Air, AirError, SEA_LEVEL_KG_M3, geopotential_m, moist_density_kg_m3, standard_pressure_pa,
};
pub use arrow::{ArrowError, ArrowFigure, ArrowSetup, Broadhead, Vanes};
pub use body::{Body, BodyData};
pub use facts::{ArrowFacts, Downrange, DownrangeError, downrange, facts, stiffness_nm2};
pub use fins::{FinRing, NOSE_SLOPE, OGIVE_CENTRE};
pub use kinds::Kinds;
pub use mass::foc_percent;
pub use motion::{Launch, MotionError, Passage, derivative, fly};
pub use transfer::{Expected, RATE_SHARE, Transfer, TransferTable};
