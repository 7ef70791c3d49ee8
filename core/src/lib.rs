//! Shimwright's core: from a photograph of a face or a paper tear to a verdict on the bow's axle
//! spacers, a guided swap and a record.
//!
//! The modules stand in the order the data flows through them; each uses only what stands before
//! it. [`workshop::Workshop`] is the one facade that the phone and the command line call.
//!
//! | the job | modules | start from |
//! |---|---|---|
//! | directions, units, ranges | [`frame`], [`units`], [`distance`], [`range`] | [`frame::PointMm`] |
//! | decode a photograph, find its plane, read holes and tears | [`photo`], [`plane`], [`impact`], [`tear`], [`measure`] | [`measure::PhotoSession`] |
//! | which pairs fit which way round | [`spacer`] | [`spacer::Kit`] |
//! | groups, arrows that stray, the split and whether it is real | [`stats`], [`group`], [`scatter`], [`flier`], [`split`], [`walkback`] | [`split::Split`] |
//! | what an offset does downrange | [`flight`] | [`flight::TransferTable`] |
//! | what all trials say together, and what to do next | [`evidence`], [`verdict`] | [`verdict::decide`] |
//! | the swap on the press | [`swap`] | [`swap::Swap`] |
//! | what is kept, drawn, printed, handed on | [`record`], [`scene`], `sheet`, `album`, `store`, `backup` | [`record::Trial`] |
//! | all of it for one workshop | `workshop` | [`workshop::Workshop`] |
//!
//! The whole job once, on a photograph that is drawn here:
//!
//! ```
//! # #[cfg(feature = "store")]
//! # fn main() -> Result<(), Box<dyn std::error::Error>> {
//! use shimwright::frame::{ArrowKind, PointMm, Side};
//! use shimwright::measure::{Tap, two_groups};
//! use shimwright::record::{BowDetails, Surface, TrialDraft, TrialImpact};
//! use shimwright::spacer::{Fitting, KitDraft, PairDraft, Seat};
//! use shimwright::verdict::Call;
//! use shimwright::workshop::Workshop;
//!
//! # let folder = std::env::temp_dir().join(format!("shimwright-doc-{}", std::process::id()));
//! # std::fs::create_dir_all(&folder)?;
//! # let photograph = draw();
//! let mut workshop = Workshop::open(&folder.join("shop.workshop"))?;
//!
//! // A kit of matched pairs, a bow, and what must be right first.
//! let kit = KitDraft {
//!     name: "Bench".into(),
//!     total_mm: 4.4,
//!     tolerance_mm: 0.05,
//!     pairs: vec![PairDraft::new("A", 1.4, 3.0), PairDraft::new("B", 1.8, 2.6)],
//! };
//! let kit_id = workshop.save_kit(None, &kit, &[])?.id;
//! let details = BowDetails { kit_id: Some(kit_id), ..BowDetails::named("Heron", 838.0) };
//! let fitted = Fitting::alike(Seat::new("B", Side::Left));
//! let bow = workshop.add_bow(&details, Some(&fitted), 1_000)?.id;
//! workshop.pass_open_checks(bow, 1_001)?;
//!
//! // The photograph: its sheet and its holes are found; a person says which group is bare.
//! let (mut session, lens_k1) = workshop.begin_photo(&photograph)?;
//! let found = session.look(None, lens_k1).ok_or("no sheet in view")?;
//! assert!(found.sure);
//! let holes: Vec<_> = session.propose()?.holes;
//! let places: Vec<_> = holes.iter().map(|hole| PointMm::new(hole.x_mm, hole.y_mm)).collect();
//! let bare = two_groups(&places, 3).ok_or("not six holes")?;
//! let bare_is_right = bare[0] == (places[0].x_mm > 0.0);
//! let mut impacts = Vec::new();
//! for (hole, bare) in holes.iter().zip(bare) {
//!     let kind = if bare == bare_is_right { ArrowKind::Bare } else { ArrowKind::Fletched };
//!     let tap = Tap { kind, px: hole.px, sd_px: None, shaft_mm: Some(6.0) };
//!     let (read, _outline) = session.snap(&tap)?;
//!     let at = PointMm::new(read.x_mm, read.y_mm);
//!     impacts.push(TrialImpact::typed(kind, at, read.sd_mm));
//! }
//! let shot = TrialDraft {
//!     surface: Surface::Face,
//!     distance_m: 18.0,
//!     shooter: String::new(),
//!     arrow_setup_id: None,
//!     impacts,
//!     tears: Vec::new(),
//!     photo: None,
//!     plane: None,
//!     note: String::new(),
//! };
//! workshop.save_trial(bow, &shot, 2_000)?;
//!
//! // What to do next, and why.
//! let given = workshop.give_verdict(bow, 2_001)?;
//! let split = &given.verdict.splits[0];
//! assert!((split.x_mm - 90.0).abs() < 1.0, "the bare shafts land 90 mm right");
//! assert!(matches!(given.verdict.call, Call::Trim { .. }), "{:?}", given.verdict.call);
//! # std::fs::remove_dir_all(folder)?;
//! # Ok(())
//! # }
//! # #[cfg(not(feature = "store"))]
//! # fn main() {}
//! # /// An A4 sheet on a dark wall, lit from one side, at four pixels a millimetre, six holes of 6 mm in it.
//! # #[cfg(feature = "store")]
//! # fn draw() -> Vec<u8> {
//! #     const SIZE: (usize, usize) = (1240, 1588);
//! #     let wall = |i: usize| 40 + 40 * (i % SIZE.0) / SIZE.0 + 20 * (i / SIZE.0) / SIZE.1;
//! #     let mut grey: Vec<u8> = (0..SIZE.0 * SIZE.1).map(|i| wall(i) as u8).collect();
//! #     let holes = [(-50, 4), (-42, -6), (-40, 9), (38, 5), (49, -7), (51, 10)];
//! #     for (index, pixel) in grey.iter_mut().enumerate() {
//! #         let (x, y) = ((index % SIZE.0) as f64 - 620.0, 794.0 - (index / SIZE.0) as f64);
//! #         if x.abs() <= 420.0 && y.abs() <= 594.0 {
//! #             let near = holes.iter().map(|h| (x - 4.0 * h.0 as f64).hypot(y - 4.0 * h.1 as f64));
//! #             let edge_px = near.fold(f64::INFINITY, f64::min) - 12.0;
//! #             *pixel = (15.0 + 220.0 * (0.5 + 0.5 * edge_px).clamp(0.0, 1.0)) as u8;
//! #         }
//! #     }
//! #     let mut file = Vec::new();
//! #     let encoder = jpeg_encoder::Encoder::new(&mut file, 92);
//! #     encoder.encode(&grey, SIZE.0 as u16, SIZE.1 as u16, jpeg_encoder::ColorType::Luma).unwrap();
//! #     file
//! # }
//! ```

#[doc(inline)]
pub use shimwright_reckon::{
    distance, evidence, flier, flight, frame, group, impact, measure, photo, plane, range, scatter,
    spacer, split, stats, tear, units, verdict, walkback,
};

pub mod swap;
pub mod record;
pub mod scene;
#[cfg(feature = "store")]
pub mod album;
#[cfg(feature = "sheet")]
pub mod sheet;
#[cfg(feature = "store")]
pub mod store;
#[cfg(feature = "store")]
pub mod backup;
#[cfg(feature = "store")]
pub mod workshop;
