//! What the screens show.

use shimwright::record::{
    Bow, FittingRecord, Hand, KitRecord, SetupCheck, SetupState, Shelf, SwapProgress,
};
use shimwright::spacer::{Arrangement, Stock};
use shimwright::swap::{Step, SwapEvent};
use shimwright::verdict::CheckItem;
use shimwright::workshop::{BowPage, KitOnShelf, RackRow, SwapPage, Waits};

#[uniffi::remote(Enum)]
pub enum Waits {
    SwapHalfDone {
        confirmed: u32,
        steps: u32,
    },
    FailedCheck {
        item: CheckItem,
    },
    Kit,
    Fitting,
    Trial,
    Verdict,
    Arrows {
        bare: u32,
        fletched: u32,
        broadhead: u32,
        paper: u32,
    },
    Swap,
    Adjustment,
    Nothing,
}

#[uniffi::remote(Record)]
pub struct RackRow {
    pub bow_id: i64,
    pub name: String,
    pub owner: String,
    pub hand: Hand,
    pub fitted: Option<FittingRecord>,
    pub waits: Waits,
    pub used_ms: i64,
    pub archived_ms: Option<i64>,
}

#[uniffi::remote(Record)]
pub struct BowPage {
    pub bow: Bow,
    pub kit: Option<KitRecord>,
    pub stock: Option<Stock>,
    pub fitted: Option<FittingRecord>,
    pub arrangement: Option<Arrangement>,
    pub setup: SetupState,
    pub checks: Vec<SetupCheck>,
    pub swap: Option<SwapProgress>,
    pub waits: Waits,
}

#[uniffi::remote(Record)]
pub struct KitOnShelf {
    pub record: KitRecord,
    pub shelf: Shelf,
}

#[uniffi::remote(Record)]
pub struct SwapPage {
    pub progress: SwapProgress,
    pub steps: Vec<Step>,
    pub current: Option<Step>,
    pub event: SwapEvent,
    pub fitted: FittingRecord,
}
