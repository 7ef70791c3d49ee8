//! How sure a thing must be, how far apart rounds must lie and how many arrows show it: what several rules ask alike stands here
//! once. Chosen by hand where no source is named.

/// More likely than not: a bow that is more likely inside tolerance is not given up as one that spacers cannot cure, one that is
/// more likely out is not left alone, and a move is to be seen on the target.
pub(crate) const LIKELY: f64 = 0.5;
/// A bow this likely to be within tolerance of every probe is settled. `tests/virtual-bows` shows that it costs a round which
/// practice does not shoot.
pub(crate) const SETTLED: f64 = 0.8;
/// So sure must be what a bow has shown: which way a knob answers, a height outside tolerance, which then comes before anything
/// sideways, a split farther out than cams make. Wrong once in ten, if the posterior is right.
pub(crate) const SURELY: f64 = 0.9;
/// A chance that is reckoned with: of a bow to be inside, before it is pressed or given up on few arrows (three more cost ten
/// minutes, another press job forty); of a swap to halve the split, else nobody would see it on the target.
pub(crate) const MAY_BE: f64 = 0.1;

/// A press job must make the bow likelier inside by so much, where it costs more than it saves: else one 26 mm right is given up
/// that has a fitting for 9.
pub(crate) const WORTH_A_TRY: f64 = 0.2;
/// A move of the rest, which takes minutes, must make it likelier inside by so much; at half as much it was moved for ever.
pub(crate) const WORTH_A_TURN: f64 = 0.1;

/// So many standard deviations apart is as good as alike: one sound pair in twenty lies farther.
pub(crate) const ALIKE_SDS: f64 = 2.0;
/// So many are more than scatter: one sound pair in a hundred.
pub(crate) const APART_SDS: f64 = 2.6;
/// So many show that something has moved, whatever else was shot: one sound bow in a thousand.
pub(crate) const MOVED_SDS: f64 = 3.3;

/// Arrows of each kind (tears, for paper) below which nothing is moved. Common practice, no source.
pub(crate) const FEWEST: u32 = 3;
/// Arrows of each kind after which nothing is shot again only to be sure: twice the fewest.
pub(crate) const ENOUGH: u32 = 6;
/// Arrows of each kind after which a bow that is more likely in than out is not shot again only to be sure:
/// three times the fewest. At [`ENOUGH`] one bow in four was given up that was inside
/// (`tests/virtual-bows`, 2,000 bows; 12 would cost 3 minutes a bow more).
pub(crate) const PLENTY: u32 = 9;
/// The same where wide groups leave it open whether there is a split at all and nothing was tried, or whether the bow is in: six
/// times the fewest.
pub(crate) const MOST: u32 = 18;
/// Rounds of one thing after which somebody has looked at it between them.
pub(crate) const LOOKED_AT_ROUNDS: usize = 2;
