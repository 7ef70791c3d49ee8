//! What sits on the axles.

use serde::{Deserialize, Serialize};

use super::{Form, form};
use crate::frame::Side;
use crate::spacer::{Fitting, Seat};

form!(StoredSeat of Seat { pair: String, thick: Side });
form!(StoredFitting of Fitting { top: StoredSeat, bottom: StoredSeat });
