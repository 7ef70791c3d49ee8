//! One virtual bow: its hidden truth, and arrows shot from it.

use rand::RngExt;
use rand::SeedableRng;
use rand::rngs::StdRng;
use rand_distr::{ChiSquared, Distribution, StandardNormal, StudentT};
use shimwright::evidence::priors;
use shimwright::flight::TransferTable;
use shimwright::frame::ArrowKind;
use shimwright::group::Impact;

use super::TWENTY_YD_M;

/// Fletched scatter in the priors' own world, mm at 20 yd (0.60 in).
const FLETCHED_SD_MM: f64 = 15.24;
/// Its degrees of freedom.
const SCATTER_DOF: f64 = 4.0;

/// A kind of world that bows are drawn from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum World {
    /// The fault is that of the bow as it came in, wherever its cams stood: the shop's world.
    CameIn,
    /// The same with arrows that scatter twice as far as the prior says.
    CameInWide,
    /// The same with bows of families, three of each known.
    CameInFamily,
    /// Everything as the priors say, but the fault is drawn with the cams in the middle.
    Priors,
    /// The response three times as strong.
    StrongerResponse,
    /// 15 % of the bows answer the other way round.
    WrongWay,
    /// Arrows scatter with heavy tails (Student's t, 3 degrees of freedom).
    HeavyTails,
    /// Every twelfth arrow is a flier.
    Fliers,
    /// The fault grows or shrinks with distance beyond what flight explains.
    FaultWithDistance,
    /// The rest creeps after the second trial, unnoticed.
    RestMoved,
}

impl World {
    /// Every world, the priors' own first.
    pub const ALL: [Self; 10] = [
        Self::CameIn,
        Self::CameInWide,
        Self::CameInFamily,
        Self::Priors,
        Self::StrongerResponse,
        Self::WrongWay,
        Self::HeavyTails,
        Self::Fliers,
        Self::FaultWithDistance,
        Self::RestMoved,
    ];

    /// Whether the fault is that of the bow as it came in.
    pub fn came_in(self) -> bool {
        matches!(self, Self::CameIn | Self::CameInWide | Self::CameInFamily)
    }

    /// Its name in the table.
    pub fn name(self) -> &'static str {
        match self {
            Self::CameIn => "as it came in",
            Self::CameInWide => "scatter x2",
            Self::CameInFamily => "families",
            Self::Priors => "cams in the middle",
            Self::StrongerResponse => "response x3",
            Self::WrongWay => "15 % wrong way",
            Self::HeavyTails => "heavy tails",
            Self::Fliers => "fliers",
            Self::FaultWithDistance => "fault with distance",
            Self::RestMoved => "rest moved",
        }
    }
}

/// A bow with its hidden truth and its own dice.
pub struct Bow<'a> {
    world: World,
    table: &'a TransferTable,
    dice: StdRng,
    fault_mm: f64,
    /// Split per mm of offset; positive as most of the trade teaches.
    pub response: f64,
    angle_extra_mm: f64,
    broadhead_extra_mm: f64,
    upright_fault_mm: f64,
    law_error: f64,
    creep_mm: f64,
    fault_per_doubling: f64,
    fletched: (f64, f64),
    bare: (f64, f64),
    trials: u32,
    /// Where the sight pointed at the face shot last.
    aim: (f64, f64),
    /// The offset its fault is stated at, mm.
    origin_mm: f64,
    rest_response: f64,
    /// Where the rest stands, mm from where it stood.
    pub rest_mm: f64,
}

/// What the bows of one family share.
#[derive(Debug, Clone, Copy)]
pub struct Family {
    log_median: f64,
    right_way: f64,
}

impl Family {
    /// The family of a seed, drawn as the model believes.
    pub fn of(seed: u64) -> Self {
        let mut dice = StdRng::seed_from_u64(seed ^ 0xfa31);
        let log_median = priors::RESPONSE_MEDIAN.ln() + priors::FAMILY_LOG_SD * normal(&mut dice);
        // The largest of nine uniform numbers is Beta(9, 1).
        let right_way = (0..9).map(|_| dice.random::<f64>()).fold(0.0, f64::max);
        Self {
            log_median,
            right_way,
        }
    }
}

impl<'a> Bow<'a> {
    /// The bow of a world and a seed; every strategy meets the same truth.
    pub fn new(world: World, seed: u64, table: &'a TransferTable) -> Self {
        let mut dice = StdRng::seed_from_u64(seed);
        let wrong = if world == World::WrongWay {
            0.15
        } else {
            1.0 - priors::RESPONSE_RIGHT_WAY
        };
        let sign = if dice.random::<f64>() < wrong {
            -1.0
        } else {
            1.0
        };
        let size = priors::RESPONSE_MEDIAN * (priors::RESPONSE_LOG_SD * normal(&mut dice)).exp();
        let stronger = if world == World::StrongerResponse {
            3.0
        } else {
            1.0
        };
        let usual_mm = if world == World::CameInWide {
            2.0 * FLETCHED_SD_MM
        } else {
            FLETCHED_SD_MM
        };
        let fletched = (scatter(&mut dice, usual_mm), scatter(&mut dice, usual_mm));
        let bare = (
            scatter(&mut dice, 1.5 * fletched.0),
            scatter(&mut dice, 1.5 * fletched.1),
        );
        Self {
            world,
            table,
            fault_mm: priors::FAULT_SD_MM * normal(&mut dice),
            response: sign * size * stronger,
            angle_extra_mm: priors::ANGLE_EXTRA_SD_MM * normal(&mut dice),
            broadhead_extra_mm: priors::PROBE_EXTRA_SD_MM * normal(&mut dice),
            upright_fault_mm: 8.0 * normal(&mut dice),
            law_error: normal(&mut dice),
            creep_mm: 20.0 * normal(&mut dice),
            fault_per_doubling: 25.0 * normal(&mut dice),
            fletched,
            bare,
            trials: 0,
            aim: (0.0, 0.0),
            origin_mm: 0.0,
            rest_response: priors::REST_SD * normal(&mut dice),
            rest_mm: 0.0,
            dice,
        }
    }

    /// The same bow as one of a family: its response is drawn around the family's.
    #[must_use]
    pub fn of_family(mut self, family: Family) -> Self {
        let size = family.log_median + priors::FAMILY_WITHIN_LOG_SD * normal(&mut self.dice);
        let right = self.dice.random::<f64>() < family.right_way;
        self.response = if right { size.exp() } else { -size.exp() };
        self
    }

    /// The same bow, its fault stated with the cams where they stood when it came in.
    #[must_use]
    pub fn came_in_at(mut self, offset_mm: f64) -> Self {
        self.origin_mm = offset_mm;
        self
    }

    /// The bow with dice of its own for one strategy, so that no strategy profits from another's.
    #[must_use]
    pub fn reseeded(mut self, salt: u64) -> Self {
        self.dice = StdRng::seed_from_u64(self.dice.random::<u64>() ^ salt);
        self
    }

    /// Moves the nocking point up.
    pub fn raise_nock(&mut self, up_mm: f64) {
        self.upright_fault_mm -= 20.0 * up_mm;
    }

    /// Arrows of the right spine: bare shafts scatter as they usually do.
    pub fn change_arrows(&mut self) {
        self.bare = (1.5 * self.fletched.0, 1.5 * self.fletched.1);
    }

    /// A number below `count`, from this bow's dice.
    pub fn pick(&mut self, count: usize) -> usize {
        self.dice.random_range(0..count)
    }

    /// The true sideways split of a kind at a distance and an offset, mm.
    pub fn split_mm(&self, kind: ArrowKind, distance_m: f64, offset_mm: f64) -> f64 {
        let Ok(transfer) = self.table.split(kind, distance_m) else {
            return f64::NAN;
        };
        let doublings = (distance_m / TWENTY_YD_M).log2();
        let extra = if kind == ArrowKind::Broadhead {
            self.broadhead_extra_mm
        } else {
            0.0
        };
        let crept = if self.world == World::RestMoved && self.trials > 2 {
            self.creep_mm
        } else {
            0.0
        };
        let drift = if self.world == World::FaultWithDistance {
            self.fault_per_doubling * doublings
        } else {
            0.0
        };
        let moved =
            self.response * (offset_mm - self.origin_mm) + self.rest_response * self.rest_mm;
        let fault = self.fault_mm + crept + drift + moved + extra;
        let seen =
            transfer.per_bare20 * fault + (transfer.angle - transfer.rate) * self.angle_extra_mm;
        seen * (1.0 + priors::MODEL_ERROR_PER_DOUBLING * doublings * self.law_error)
    }

    /// Shoots `count` fletched arrows and as many of `kind`.
    pub fn shoot(
        &mut self,
        kind: ArrowKind,
        count: u32,
        distance_m: f64,
        offset_mm: f64,
    ) -> Vec<Impact> {
        self.trials += 1;
        let x_mm = self.split_mm(kind, distance_m, offset_mm);
        let y_mm = self.lift_mm(kind, distance_m);
        let aim = (self.wander(), self.wander());
        self.aim = aim;
        let mut impacts = Vec::new();
        for _ in 0..count {
            impacts.push(self.arrow(ArrowKind::Fletched, aim, distance_m));
        }
        for _ in 0..count {
            impacts.push(self.arrow(kind, (aim.0 + x_mm, aim.1 + y_mm), distance_m));
        }
        impacts
    }

    /// One more arrow of a kind on the face shot last, aimed as it was.
    pub fn again(&mut self, kind: ArrowKind, distance_m: f64, offset_mm: f64) -> Impact {
        let (aim, lift) = (self.aim, self.lift_mm(kind, distance_m));
        let split = match kind {
            ArrowKind::Fletched => (0.0, 0.0),
            _ => (self.split_mm(kind, distance_m, offset_mm), lift),
        };
        self.arrow(kind, (aim.0 + split.0, aim.1 + split.1), distance_m)
    }

    /// The true vertical split of a kind at a distance, mm.
    fn lift_mm(&self, kind: ArrowKind, distance_m: f64) -> f64 {
        let lift = self
            .table
            .expected_vertical(kind, distance_m)
            .map_or(0.0, |lift| lift.value_mm);
        let gain = self
            .table
            .split(kind, distance_m)
            .map_or(0.0, |transfer| transfer.per_bare20);
        lift + gain * self.upright_fault_mm
    }

    /// Where the sight happens to point: splits must not depend on it.
    fn wander(&mut self) -> f64 {
        10.0 * normal(&mut self.dice)
    }

    fn arrow(&mut self, kind: ArrowKind, (x, y): (f64, f64), distance_m: f64) -> Impact {
        let sd = if kind == ArrowKind::Fletched {
            self.fletched
        } else {
            self.bare
        };
        let scale = distance_m / TWENTY_YD_M;
        let (dx, dy) = (self.deviation(), self.deviation());
        Impact::new(kind, x + sd.0 * scale * dx, y + sd.1 * scale * dy)
    }

    /// One arrow's deviation in standard deviations.
    fn deviation(&mut self) -> f64 {
        match self.world {
            // Scaled to unit variance: the tails, not the spread, are what is off.
            World::HeavyTails => student3(&mut self.dice) / 3.0_f64.sqrt(),
            World::Fliers if self.dice.random::<f64>() < 1.0 / 12.0 => 5.0 * normal(&mut self.dice),
            _ => normal(&mut self.dice),
        }
    }
}

fn normal(dice: &mut StdRng) -> f64 {
    StandardNormal.sample(dice)
}

fn student3(dice: &mut StdRng) -> f64 {
    StudentT::new(3.0).map_or(0.0, |t| t.sample(dice))
}

/// A scaled inverse chi-square draw, as a standard deviation.
fn scatter(dice: &mut StdRng, sd_mm: f64) -> f64 {
    let chi2 = ChiSquared::new(SCATTER_DOF).map_or(SCATTER_DOF, |chi2| chi2.sample(dice));
    sd_mm * (SCATTER_DOF / chi2).sqrt()
}
