//! What a tune sheet asks the shell to word.

use shimwright::flight::ArrowSetup;
use shimwright::frame::Probe;
use shimwright::plane::Paper;
use shimwright::record::{FittingReason, Hand};
use shimwright::scene::LabelText;
use shimwright::sheet::{SheetHeading, SheetName, SheetSide, SheetText, SheetTime};
use shimwright::spacer::Fitting;
use shimwright::split::Reality;
use shimwright::swap::Caution;
use shimwright::verdict::Call;

#[uniffi::remote(Enum)]
pub enum Paper {
    A4,
    Letter,
}

#[uniffi::remote(Enum)]
pub enum SheetHeading {
    Fitted,
    Bow,
    Arrows,
    Shot,
    Cautions,
}

#[uniffi::remote(Enum)]
pub enum SheetName {
    Fitted,
    Since,
    Why,
    RestAndNock,
    Verdict,
    Hand,
    AxleToAxle,
    BraceHeight,
    DrawWeight,
    DrawLength,
    Cams,
    Kit,
    Notes,
}

#[uniffi::remote(Enum)]
pub enum SheetTime {
    Before,
    Now,
}

#[uniffi::remote(Record)]
pub struct SheetSide {
    pub value_mm: f64,
    pub low95_mm: f64,
    pub high95_mm: f64,
    pub reality: Reality,
}

#[uniffi::remote(Enum)]
pub enum SheetText {
    Language,
    Title,
    AsOf {
        at_ms: i64,
    },
    Own {
        text: String,
    },
    Label {
        label: LabelText,
    },
    Heading {
        of: SheetHeading,
    },
    Name {
        of: SheetName,
    },
    Day {
        at_ms: i64,
    },
    BowLength {
        length_mm: f64,
    },
    DrawForce {
        force_n: f64,
    },
    Hand {
        hand: Hand,
    },
    Kit {
        name: String,
        total_mm: f64,
    },
    Fitted {
        fitting: Fitting,
    },
    Contested,
    NothingFitted,
    Why {
        reason: FittingReason,
    },
    RestAndNock {
        rest_mm: f64,
        nock_mm: f64,
    },
    Verdict {
        call: Call,
    },
    Arrow {
        setup: ArrowSetup,
    },
    Shot {
        time: SheetTime,
        probe: Probe,
        distance_m: f64,
        at_ms: i64,
    },
    Split {
        probe: Probe,
        x: SheetSide,
        y: SheetSide,
        arrows: u32,
    },
    NothingShotSince,
    IntervalNote,
    Caution {
        caution: Caution,
    },
}
