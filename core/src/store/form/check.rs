//! What a bow maker states, and what opened a check again.

use serde::{Deserialize, Serialize};

use super::{Form, form, form_enum};
use crate::record::{ChangeKind, Reopened};
use crate::verdict::{CheckItem, MakerRange};

form!(StoredRange of MakerRange { item: CheckItem, low: Option<f64>, high: Option<f64> });
form_enum!(StoredReopened of Reopened { Swap, Change { kind: ChangeKind } });
