//! Spacers: kits of matched pairs, what sits on each axle, and every way to fit them.
//!
//! ```text
//!   limb tip | l |  cam  | r | limb tip        l + r = S, the kit's one constant total
//!                    c = (l - r) / 2           thicker LEFT spacer -> cam RIGHT (+)
//! ```

mod arrangement;
mod error;
mod fitting;
mod kit;
mod pair;
mod stock;

pub use arrangement::{Arrangement, ArrangementRule, AxleGeometry};
pub use error::KitError;
pub use fitting::{Axle, AxleChange, Fitting, Seat, SeatChange};
pub use kit::{Kit, KitDraft};
pub use pair::{PairDraft, SpacerPair};
pub use stock::{PairCount, Stock};
