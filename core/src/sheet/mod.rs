//! What is printed: a bow's tune sheet to hand on, as PDF on A4 or Letter and as a picture; and the
//! reference sheet that is photographed beside the arrows.
//!
//! ```text
//! TuneSheet (facts and scenes) -> asks -> the shell's words -> pages (mm) -> PDF or PNG
//! ```
//!
//! A tune sheet holds no sentence: [`TuneSheet::asks`] lists what it wants to say, the shell words each
//! in its language and units, and the same list of words goes into [`TuneSheet::pdf`] and
//! [`TuneSheet::png`]. Both draw the same pages with the same letters, which are carried along and
//! embedded: Noto Sans, under the SIL Open Font License 1.1.

mod embed;
mod error;
mod fill;
mod ink;
mod layout;
mod letters;
mod outline;
mod page;
mod part;
mod pdf;
mod png;
mod png_file;
mod reference;
mod say;
mod section;
mod tune;
mod wrap;

pub use error::SheetError;
pub use ink::{Ink, ink};
pub use part::{SheetFact, SheetPicture, SheetSection};
pub use png::{NARROWEST_PX, WIDEST_PX};
pub use reference::reference_sheet_pdf;
pub use say::{SheetHeading, SheetName, SheetSide, SheetText, SheetTime};
pub use tune::TuneSheet;
