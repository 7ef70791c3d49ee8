//! Making a transfer table: flying the three arrows of a set-up, and flying them again with every
//! doubtful figure changed by its doubt.

use super::air::Air;
use super::arrow::{ArrowError, ArrowSetup};
use super::body::BodyData;
use super::kinds::{DRAG_DOUBT, Kinds, doubts};
use super::motion::{DOUBTFUL, Launch, MotionError, Passage, QUICK, fly_within};
use super::transfer::{Channel, Level, RATE_SHARE, TransferTable};
use crate::units::TWENTY_YARDS_M;
use std::sync::OnceLock;

/// Bare-shaft split at 20 yd that the table is made for, mm: a fault worth a press job.
const REFERENCE_SPLIT_MM: f64 = 50.0;
/// Yaw angle that the angle part is made for, rad (1 degree; more is seldom seen).
const REFERENCE_YAW_RAD: f64 = 0.017_453_292_519_943_295;
/// Faults this much smaller and larger bound the amplitudes that the table is used for.
const AMPLITUDES: [f64; 2] = [0.5, 1.6];
/// Mass that the bow's own moving parts count for at the string, kg, and its doubt (an efficiency
/// of 80 % with a 400 gr arrow; common practice, no source).
const BOW_KG: (f64, f64) = (6.5e-3, 3e-3);
/// What the rigid model leaves out (flexing, spin, the string's last push), relative to a perfect
/// bow's vertical difference: judgement.
const LEVEL_DOUBT: f64 = 0.25;

impl TransferTable {
    /// The table of `setup` in `air`.
    ///
    /// # Errors
    /// [`ArrowError`] for an arrow that cannot be, does not fly, or whose bare shaft shows nothing.
    pub fn of(setup: &ArrowSetup, air: Air) -> Result<Self, ArrowError> {
        build(setup, air, true)
    }

    /// The table for arrows that nobody entered: a usual 400 gr arrow, with every uncertainty wide.
    pub fn unrecorded() -> &'static Self {
        static TABLE: OnceLock<TransferTable> = OnceLock::new();
        TABLE.get_or_init(|| {
            let built = build(&ArrowSetup::default(), Air::default(), false);
            built.unwrap_or_else(|_| unreachable!("the usual arrow flies, as its test shows"))
        })
    }
}

/// Flights of the fletched, bare and broadhead arrow through every knot.
type Flights = [Vec<Passage>; 3];
/// Splits of bare and broadhead, tears of fletched, bare and broadhead, at every knot.
type Five = [Vec<f64>; 5];

fn build(setup: &ArrowSetup, air: Air, recorded: bool) -> Result<TransferTable, ArrowError> {
    let kinds = Kinds::of(setup, air)?;
    let knots = knots_m();
    let range = Range::over(&knots, &kinds)?;
    let centre = shares(&range.base)?;
    let level = five(&range.base.falls);
    let (mut spread, mut level_spread) = (zeros(&knots), zeros(&knots));
    for doubt in doubts(setup) {
        let mut changed = kinds.clone();
        doubt(&mut changed);
        let flown = range.again(&changed)?;
        add_squares(&mut spread, &centre.mixed, &shares(&flown)?.mixed, 1.0);
        add_squares(&mut level_spread, &level, &five(&flown.falls), 1.0);
    }
    let [small, large] = AMPLITUDES.map(|factor| range.amplitude(factor));
    add_squares(&mut spread, &small?.mixed, &large?.mixed, 0.5);
    for changed in drag_doubts(&kinds) {
        add_squares(
            &mut level_spread,
            &level,
            &five(&range.falls_again(&changed)?),
            1.0,
        );
    }
    let heavier_bow = five(&range.falls(&kinds, BOW_KG.0 + BOW_KG.1)?);
    add_squares(&mut level_spread, &level, &heavier_bow, 1.0);
    let levels = levels(level, &level_spread);
    let channels = channels(centre, &spread);
    Ok(TransferTable::new(knots, channels, levels, recorded))
}

/// Knots, m: fine where paper hangs, then a metre, then two; 20 yd is one of them.
fn knots_m() -> Vec<f64> {
    let steps =
        |from: f64, step: f64, count: u32| (0..count).map(move |i| from + step * f64::from(i));
    let mut knots: Vec<f64> = steps(0.5, 0.1, 5)
        .chain(steps(1.0, 0.2, 15))
        .chain(steps(4.0, 0.5, 8))
        .chain(steps(8.0, 1.0, 32))
        .chain(steps(40.0, 2.0, 31))
        .chain([TWENTY_YARDS_M])
        .collect();
    knots.sort_by(f64::total_cmp);
    knots
}

fn zeros(knots: &[f64]) -> Five {
    std::array::from_fn(|_| vec![0.0; knots.len()])
}

/// Adds `(factor (b - a))²` at every knot.
fn add_squares(squares: &mut Five, a: &Five, b: &Five, factor: f64) {
    for (sum, (a, b)) in squares.iter_mut().zip(a.iter().zip(b)) {
        for (sum, (a, b)) in sum.iter_mut().zip(a.iter().zip(b)) {
            *sum += (factor * (b - a)).powi(2);
        }
    }
}

/// The launch fault that the table is made for.
#[derive(Debug, Clone, Copy)]
struct Fault {
    speed_mps: f64,
    rate_radps: f64,
}

impl Fault {
    /// The yaw rate that splits this set-up's bare shaft by [`REFERENCE_SPLIT_MM`] at 20 yd.
    fn reference(kinds: &Kinds) -> Result<Self, ArrowError> {
        let speed_mps = kinds.speed_mps;
        // The split depends on rate over speed; these bounds are for 85 m/s.
        let (low, high) = (0.02 * speed_mps / 85.0, 6.0 * speed_mps / 85.0);
        let split = |rate_radps: f64| {
            split_mm(
                kinds,
                Launch {
                    speed_mps,
                    yaw_rad: 0.0,
                    rate_radps,
                },
            )
        };
        let mut rate_radps = 0.7 * speed_mps / 85.0;
        for _ in 0..6 {
            let reached = split(rate_radps)?;
            if reached <= 0.0 {
                return Err(ArrowError::BareShowsNothing);
            }
            if (reached / REFERENCE_SPLIT_MM - 1.0).abs() < 0.02 {
                break;
            }
            // The split grows a little faster than the rate: a power a bit below one closes in.
            rate_radps *= (REFERENCE_SPLIT_MM / reached).powf(0.85);
            rate_radps = rate_radps.clamp(low, high);
        }
        Ok(Self {
            speed_mps,
            rate_radps,
        })
    }

    fn rate(self, factor: f64) -> Launch {
        Launch {
            speed_mps: self.speed_mps,
            yaw_rad: 0.0,
            rate_radps: factor * self.rate_radps,
        }
    }

    fn angle(self) -> Launch {
        Launch {
            speed_mps: self.speed_mps,
            yaw_rad: REFERENCE_YAW_RAD,
            rate_radps: 0.0,
        }
    }
}

/// Bare-shaft split at 20 yd, mm.
fn split_mm(kinds: &Kinds, launch: Launch) -> Result<f64, MotionError> {
    let point = |data: &BodyData| -> Result<f64, MotionError> {
        let passages = fly_within(&data.body(), launch, &[TWENTY_YARDS_M], QUICK)?;
        passages
            .first()
            .map(|p| p.point_mm)
            .ok_or(MotionError::DoesNotArrive)
    };
    Ok(point(&kinds.bare)? - point(&kinds.fletched)?)
}

fn in_order(kinds: &Kinds) -> [&BodyData; 3] {
    [&kinds.fletched, &kinds.bare, &kinds.broadhead]
}

/// Speed of an arrow whose bow gives the fletched one its speed, the same work being done on
/// arrow and bow.
fn speed_mps(kinds: &Kinds, data: &BodyData, bow_kg: f64) -> f64 {
    let ratio = (kinds.fletched.mass_kg + bow_kg) / (data.mass_kg + bow_kg);
    kinds.speed_mps * ratio.sqrt()
}

fn level_launch(speed_mps: f64) -> Launch {
    Launch {
        speed_mps,
        yaw_rad: 0.0,
        rate_radps: 0.0,
    }
}

/// The three arrows' flights of both parts of a fault, and level.
struct Flown {
    rate: Flights,
    angle: Flights,
    falls: Flights,
}

/// What the arrows of one set-up are flown over, and their flights as they are taken to be.
struct Range<'a> {
    knots: &'a [f64],
    fault: Fault,
    kinds: &'a Kinds,
    base: Flown,
}

/// Splits and tears per mm of fault.
struct Shares {
    rate: Five,
    angle: Five,
    mixed: Five,
}

fn shares(flown: &Flown) -> Result<Shares, ArrowError> {
    let (rate, angle) = (per_fault(&flown.rate)?, per_fault(&flown.angle)?);
    Ok(Shares {
        mixed: mixed(&rate, &angle),
        rate,
        angle,
    })
}

fn mixed(rate: &Five, angle: &Five) -> Five {
    let mut mixed = rate.clone();
    for (mixed, angle) in mixed.iter_mut().flatten().zip(angle.iter().flatten()) {
        *mixed = RATE_SHARE * *mixed + (1.0 - RATE_SHARE) * angle;
    }
    mixed
}

/// Splits and tears per mm of bare-shaft split at 20 yd.
fn per_fault(flights: &Flights) -> Result<Five, ArrowError> {
    let mut five = five(flights);
    let at_20 = flights[1]
        .iter()
        .position(|p| p.distance_m >= TWENTY_YARDS_M);
    let split = at_20.and_then(|i| five[0].get(i)).copied().unwrap_or(0.0);
    if split <= 0.0 {
        return Err(ArrowError::BareShowsNothing);
    }
    five.iter_mut().flatten().for_each(|v| *v /= split);
    Ok(five)
}

impl<'a> Range<'a> {
    fn over(knots: &'a [f64], kinds: &'a Kinds) -> Result<Self, ArrowError> {
        let nothing = || [const { Vec::new() }; 3];
        let base = Flown {
            rate: nothing(),
            angle: nothing(),
            falls: nothing(),
        };
        let fault = Fault::reference(kinds)?;
        let mut range = Self {
            knots,
            fault,
            kinds,
            base,
        };
        range.base = Flown {
            rate: range.fly(kinds, fault.rate(1.0))?,
            angle: range.fly(kinds, fault.angle())?,
            falls: range.falls(kinds, BOW_KG.0)?,
        };
        Ok(range)
    }

    /// The flights with a figure changed; an arrow that it leaves as it was is not flown again (no
    /// doubt is about the fletched arrow's mass alone, so its level speed is then the same too).
    fn again(&self, changed: &Kinds) -> Result<Flown, ArrowError> {
        let fly = |launch: Launch, base: &Flights| {
            self.each(changed, base, |data| {
                fly_within(&data.body(), launch, self.knots, DOUBTFUL)
            })
        };
        Ok(Flown {
            rate: fly(self.fault.rate(1.0), &self.base.rate)?,
            angle: fly(self.fault.angle(), &self.base.angle)?,
            falls: self.falls_again(changed)?,
        })
    }

    fn falls_again(&self, changed: &Kinds) -> Result<Flights, MotionError> {
        self.each(changed, &self.base.falls, |data| {
            let launch = level_launch(speed_mps(changed, data, BOW_KG.0));
            fly_within(&data.body().from_the_side(), launch, self.knots, DOUBTFUL)
        })
    }

    fn each(
        &self,
        changed: &Kinds,
        base: &Flights,
        fly: impl Fn(&BodyData) -> Result<Vec<Passage>, MotionError>,
    ) -> Result<Flights, MotionError> {
        let (before, now) = (in_order(self.kinds), in_order(changed));
        let one = |i: usize| {
            if before[i] == now[i] {
                Ok(base[i].clone())
            } else {
                fly(now[i])
            }
        };
        Ok([one(0)?, one(1)?, one(2)?])
    }

    /// A smaller or larger fault; its angle part is flown at its own size and stays.
    fn amplitude(&self, factor: f64) -> Result<Shares, ArrowError> {
        let rate = per_fault(&self.fly(self.kinds, self.fault.rate(factor))?)?;
        let angle = per_fault(&self.base.angle)?;
        Ok(Shares {
            mixed: mixed(&rate, &angle),
            rate,
            angle,
        })
    }

    fn fly(&self, kinds: &Kinds, launch: Launch) -> Result<Flights, MotionError> {
        let fly = |data: &BodyData| fly_within(&data.body(), launch, self.knots, QUICK);
        let [fletched, bare, broadhead] = in_order(kinds).map(fly);
        Ok([fletched?, bare?, broadhead?])
    }

    /// Level shots seen from the side.
    fn falls(&self, kinds: &Kinds, bow_kg: f64) -> Result<Flights, MotionError> {
        let fly = |data: &BodyData| {
            let launch = level_launch(speed_mps(kinds, data, bow_kg));
            fly_within(&data.body().from_the_side(), launch, self.knots, QUICK)
        };
        let [fletched, bare, broadhead] = in_order(kinds).map(fly);
        Ok([fletched?, bare?, broadhead?])
    }
}

fn five(flights: &Flights) -> Five {
    let [fletched, bare, broadhead] = flights;
    let split = |probe: &[Passage]| {
        probe
            .iter()
            .zip(fletched)
            .map(|(p, f)| p.point_mm - f.point_mm)
            .collect()
    };
    let tear = |flight: &[Passage]| flight.iter().map(|p| p.tear_mm).collect();
    [
        split(bare),
        split(broadhead),
        tear(fletched),
        tear(bare),
        tear(broadhead),
    ]
}

/// The set-up with the drag of each probe against the fletched arrow in doubt.
fn drag_doubts(kinds: &Kinds) -> [Kinds; 2] {
    let (mut bare, mut broadhead) = (kinds.clone(), kinds.clone());
    bare.bare.drag_coefficient += DRAG_DOUBT;
    broadhead.broadhead.drag_coefficient += DRAG_DOUBT;
    [bare, broadhead]
}

fn channels(centre: Shares, spread: &Five) -> ([Channel; 2], [Channel; 3]) {
    let mut all = centre.rate.into_iter().zip(centre.angle).zip(spread);
    let mut next = || {
        all.next()
            .map_or_else(Channel::default, |((rate, angle), squares)| Channel {
                rate,
                angle,
                sd: roots(squares),
            })
    };
    ([next(), next()], [next(), next(), next()])
}

fn levels(level: Five, spread: &Five) -> ([Level; 2], [Level; 3]) {
    let mut all = level.into_iter().zip(spread);
    let mut next = || {
        all.next()
            .map_or_else(Level::default, |(value_mm, squares)| Level {
                sd_mm: std::iter::zip(&value_mm, squares)
                    .map(|(value, square)| (LEVEL_DOUBT * value).hypot(square.sqrt()))
                    .collect(),
                value_mm,
            })
    };
    ([next(), next()], [next(), next(), next()])
}

fn roots(squares: &[f64]) -> Vec<f64> {
    squares.iter().map(|s| s.sqrt()).collect()
}
