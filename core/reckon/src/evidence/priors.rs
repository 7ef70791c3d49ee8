//! What is believed before a bow has been shot. Every figure is a prior: shown as such, and
//! replaced by what the bow shows. Splits are those of a bare shaft at 18.288 m (20 yd).
//! Where no practice and no table is named, a figure was chosen by hand and not tuned.

/// The bow's own sideways fault, standard deviation, mm.
pub const FAULT_SD_MM: f64 = 60.0;
/// Response, median of its size, mm of split per mm of nock-plane shift. Common practice, no
/// source: 0.3 to 1.0 in of split per 0.010 in of shift.
pub const RESPONSE_MEDIAN: f64 = 50.0;
/// Response, standard deviation of the logarithm of its size.
pub const RESPONSE_LOG_SD: f64 = 0.8;
/// Share of bows whose response lies far from the usual, and the standard deviation of its
/// logarithm there. The trade's spread is hearsay: without this tail a bow that answers three times
/// as strongly as usual is met by intervals that are too sure of themselves (`tests/virtual-bows`).
pub const RESPONSE_TAIL_SHARE: f64 = 0.15;
/// See [`RESPONSE_TAIL_SHARE`].
pub const RESPONSE_TAIL_LOG_SD: f64 = 1.6;
/// Chance that the bow answers as most of the trade teaches.
pub const RESPONSE_RIGHT_WAY: f64 = 0.9;
/// Response to moving the rest sideways, standard deviation around zero, mm per mm: its direction
/// is disputed in the trade.
pub const REST_SD: f64 = 60.0;
/// What another probe adds on top of a bare shaft, standard deviation, mm of bare-shaft split.
pub const PROBE_EXTRA_SD_MM: f64 = 20.0;
/// The same where a probe is known to be at odds with the bare shafts: it then says nothing of the bow.
pub const ASIDE_SD_MM: f64 = 400.0;
/// Standard deviation of the part by which a bow's angle share differs from that, mm of split.
pub const ANGLE_EXTRA_SD_MM: f64 = 15.0;
/// What a shooter's own grip adds, standard deviation, mm of bare-shaft split.
pub const SHOOTER_SD_MM: f64 = 20.0;
/// Family of bows: standard deviation of one bow's log response around its family's.
pub const FAMILY_WITHIN_LOG_SD: f64 = 0.45;
/// Standard deviation of a family's log response around the usual: with the spread inside a family
/// it makes the [`RESPONSE_LOG_SD`] of a bow whose family is unknown.
pub const FAMILY_LOG_SD: f64 = 0.66;
/// Share of bows of a family that answer as most of the trade teaches: Beta(9, 1).
pub const FAMILY_RIGHT_WAY: (f64, f64) = (9.0, 1.0);
/// Relative model error per doubling of distance between trials.
pub const MODEL_ERROR_PER_DOUBLING: f64 = 0.25;
/// Chance that who remembers a swap has mixed up its sides: of the cams, of the thick spacer, or of the arrows. One memory
/// must not outweigh what the trade teaches and five other bows of the family.
pub const SIDES_MIXED_UP: f64 = 0.2;
/// By how much the variance of evidence from an earlier epoch is multiplied.
pub const OLD_EPOCH_INFLATION: f64 = 2.0;
/// Split per mm of nocking-point height, mean, mm per mm: a higher nocking point lets a bare shaft
/// land lower. Common practice, no source: 1/16 in moves a bare shaft an inch or two.
pub const NOCK_HEIGHT_MEAN: f64 = -25.0;
/// Its standard deviation, mm per mm.
pub const NOCK_HEIGHT_SD: f64 = 25.0;
