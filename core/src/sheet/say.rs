//! What a sheet says, as a closed set that every shell words in its own language and units.

use crate::flight::ArrowSetup;
use crate::frame::Probe;
use crate::record::{FittingReason, Hand};
use crate::scene::LabelText;
use crate::spacer::Fitting;
use crate::split::Reality;
use crate::swap::Caution;
use crate::verdict::Call;

/// A heading of the sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum SheetHeading {
    /// What is in the bow.
    Fitted,
    /// The bow itself.
    Bow,
    /// Its arrows.
    Arrows,
    /// What was shot, before and after.
    Shot,
    /// What can hurt.
    Cautions,
}

/// The name of a fact of the sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum SheetName {
    /// What is fitted.
    Fitted,
    /// Since when.
    Since,
    /// Why it is fitted.
    Why,
    /// Where rest and nocking point stand.
    RestAndNock,
    /// What the newest verdict says, where it still stands.
    Verdict,
    /// Which hand draws the bow.
    Hand,
    /// Distance between the axles.
    AxleToAxle,
    /// Brace height.
    BraceHeight,
    /// Draw weight.
    DrawWeight,
    /// Draw length.
    DrawLength,
    /// Cam, module and peg settings.
    Cams,
    /// The kit.
    Kit,
    /// Notes.
    Notes,
}

/// When something was shot, seen from what is fitted and set now.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum SheetTime {
    /// Before the bow became what it is.
    Before,
    /// As it is.
    Now,
}

/// A sideways or an up-and-down figure with its 95 % interval.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SheetSide {
    /// The figure, mm; right and up are positive.
    pub value_mm: f64,
    /// Lower end of the 95 % interval, mm.
    pub low95_mm: f64,
    /// Upper end, mm.
    pub high95_mm: f64,
    /// Whether it is more than scatter.
    pub reality: Reality,
}

/// One text of the sheet.
#[derive(Debug, Clone, PartialEq)]
pub enum SheetText {
    /// The language the words are in, as an IETF BCP 47 tag such as "de".
    Language,
    /// What the sheet is: "Tune sheet".
    Title,
    /// As of when it holds.
    AsOf {
        /// Epoch ms.
        at_ms: i64,
    },
    /// The user's own words, shown as they are.
    Own {
        /// The text.
        text: String,
    },
    /// The text of a drawing's label.
    Label {
        /// Which one.
        label: LabelText,
    },
    /// A heading.
    Heading {
        /// Which one.
        of: SheetHeading,
    },
    /// The name of a fact.
    Name {
        /// Which one.
        of: SheetName,
    },
    /// A day.
    Day {
        /// Epoch ms.
        at_ms: i64,
    },
    /// A length of the bow, in the unit bows are measured in.
    BowLength {
        /// mm.
        length_mm: f64,
    },
    /// A draw force.
    DrawForce {
        /// N.
        force_n: f64,
    },
    /// A hand.
    Hand {
        /// Which one.
        hand: Hand,
    },
    /// A kit with what its pairs add up to.
    Kit {
        /// Its name.
        name: String,
        /// mm.
        total_mm: f64,
    },
    /// What is fitted, in full: pair and thick side of both axles.
    Fitted {
        /// The fitting.
        fitting: Fitting,
    },
    /// Two entries were recorded apart and differ: someone must look.
    Contested,
    /// Nobody has said what is fitted.
    NothingFitted,
    /// Why a fitting is in the record.
    Why {
        /// The reason.
        reason: FittingReason,
    },
    /// Where rest and nocking point stand from where their record starts.
    RestAndNock {
        /// mm, positive right.
        rest_mm: f64,
        /// mm, positive up.
        nock_mm: f64,
    },
    /// The verdict's first sentence.
    Verdict {
        /// What it asks for.
        call: Call,
    },
    /// An arrow in a line: lengths and masses that were entered.
    Arrow {
        /// The arrow.
        setup: ArrowSetup,
    },
    /// What was shot, when and from where.
    Shot {
        /// Before or now.
        time: SheetTime,
        /// Bare shafts, broadheads or paper.
        probe: Probe,
        /// m.
        distance_m: f64,
        /// Epoch ms.
        at_ms: i64,
    },
    /// A split on a face (probe from field points) or a tear (nock from point).
    Split {
        /// Bare shafts, broadheads or paper.
        probe: Probe,
        /// Sideways.
        x: SheetSide,
        /// Up and down.
        y: SheetSide,
        /// Probe arrows that count.
        arrows: u32,
    },
    /// Nothing that counts was shot on what is fitted and set now.
    NothingShotSince,
    /// What an interval means: it holds nineteen times in twenty.
    IntervalNote,
    /// A caution.
    Caution {
        /// Which one.
        caution: Caution,
    },
}
