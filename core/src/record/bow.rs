//! A bow as the workshop knows it.

use serde::{Deserialize, Serialize};

use super::{Field, FieldError, Hand, WorkshopSettings};
use crate::evidence::{Probe, RememberedSwap};
use crate::range;
use crate::spacer::AxleGeometry;
use crate::verdict::{MakerRange, RestRoom, Settings};

/// What a person enters about a bow.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BowDetails {
    /// What the bow is called in this workshop, 1 to 200 characters.
    pub name: String,
    /// Whose it is: a label, a locker number, initials; may be empty.
    pub owner: String,
    /// What bows it is one of: a free label, such as one model line of the shop; bows that share it
    /// teach each other how they respond. May be empty.
    pub family: String,
    /// Drawing hand.
    pub hand: Hand,
    /// Distance between the axles at rest, mm, 400 to 1500.
    pub axle_to_axle_mm: f64,
    /// String to the throat of the grip, mm, 90 to 350.
    pub brace_height_mm: Option<f64>,
    /// Peak draw force, N, 20 to 600.
    pub draw_weight_n: Option<f64>,
    /// Draw length, mm, 350 to 950.
    pub draw_length_mm: Option<f64>,
    /// Share of the top cam in the nock plane's sideways place, 0 to 1 (prior 0.5).
    pub top_weight: f64,
    /// Cam, module and peg settings in the technician's words.
    pub cam_note: String,
    /// The kit its spacers come from; none until one is chosen.
    pub kit_id: Option<i64>,
    /// What should come together with the field points, most important first; empty for the usual
    /// order of broadheads, bare shafts, paper.
    pub priority: Vec<Probe>,
    /// How far off still counts as together for this bow, mm; the workshop's where absent.
    pub tolerance_mm: Option<f64>,
    /// The distance that is meant at, m; the workshop's where absent.
    pub tolerance_distance_m: Option<f64>,
    /// How far the rest may go from where it stood when the bow came in; the usual where absent.
    pub rest_room: Option<RestRoom>,
    /// Swaps from before the record.
    pub remembered: Vec<RememberedSwap>,
    /// Anything else.
    pub notes: String,
}

impl BowDetails {
    /// A right-handed bow with nothing entered but its name and axle-to-axle distance.
    pub fn named(name: &str, axle_to_axle_mm: f64) -> Self {
        Self {
            name: name.to_owned(),
            owner: String::new(),
            family: String::new(),
            hand: Hand::Right,
            axle_to_axle_mm,
            brace_height_mm: None,
            draw_weight_n: None,
            draw_length_mm: None,
            top_weight: 0.5,
            cam_note: String::new(),
            kit_id: None,
            priority: Vec::new(),
            tolerance_mm: None,
            tolerance_distance_m: None,
            rest_room: None,
            remembered: Vec::new(),
            notes: String::new(),
        }
    }

    /// What the verdict needs of the axles.
    pub fn geometry(&self) -> AxleGeometry {
        AxleGeometry {
            axle_to_axle_mm: self.axle_to_axle_mm,
            top_weight: self.top_weight,
        }
    }

    /// What the verdict is asked to reach: this bow's own wishes over the workshop's.
    pub fn wishes(&self, workshop: &WorkshopSettings) -> Settings {
        let usual = workshop.wishes();
        let priority = match self.priority.as_slice() {
            [] => usual.priority.clone(),
            own => own.to_vec(),
        };
        Settings {
            tolerance_mm: self.tolerance_mm.unwrap_or(usual.tolerance_mm),
            tolerance_distance_m: self
                .tolerance_distance_m
                .unwrap_or(usual.tolerance_distance_m),
            priority,
            ..usual
        }
    }

    /// What is left of the rest's room once it stands `rest_mm` to the right of where it was.
    pub fn room_left(&self, rest_mm: f64) -> RestRoom {
        let room = self.rest_room.unwrap_or_default();
        let (none_mm, most_mm) = range::REST_ROOM_MM;
        RestRoom {
            left: (room.left + rest_mm).clamp(none_mm, most_mm),
            right: (room.right - rest_mm).clamp(none_mm, most_mm),
        }
    }

    /// Whether another bow is of the same family.
    pub fn is_kin_of(&self, other: &Self) -> bool {
        let label = |bow: &Self| bow.family.trim().to_lowercase();
        !label(self).is_empty() && label(self) == label(other)
    }

    /// Passes details that can be stored and computed with.
    ///
    /// # Errors
    /// The first field that is blank or out of range.
    pub fn check(&self) -> Result<(), FieldError> {
        Field::Name.check_text(&self.name)?;
        Field::AxleToAxle.check(self.axle_to_axle_mm)?;
        Field::BraceHeight.check_given(self.brace_height_mm)?;
        Field::DrawWeight.check_given(self.draw_weight_n)?;
        Field::DrawLength.check_given(self.draw_length_mm)?;
        Field::Tolerance.check_given(self.tolerance_mm)?;
        Field::ToleranceDistance.check_given(self.tolerance_distance_m)?;
        Field::Label.check_label(&self.family)?;
        Field::RestRoom.check_given(self.rest_room.map(|room| room.left))?;
        Field::RestRoom.check_given(self.rest_room.map(|room| room.right))?;
        self.remembered.iter().try_for_each(check_remembered)?;
        Field::TopWeight.check(self.top_weight)
    }
}

fn check_remembered(swap: &RememberedSwap) -> Result<(), FieldError> {
    Field::RememberedMove.check(swap.moved_mm)?;
    Field::RememberedDoubt.check(swap.sd_mm)?;
    Field::FaceDistance.check(swap.distance_m)
}

/// A stored bow.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Bow {
    /// Given by the store.
    pub id: i64,
    /// What was entered.
    pub details: BowDetails,
    /// When it was taken in, epoch ms.
    pub added_ms: i64,
    /// When it was last worked on, epoch ms.
    pub used_ms: i64,
    /// Since when it is off the rack, epoch ms; its spacers stay in it all the same.
    pub archived_ms: Option<i64>,
    /// What its maker states for the measured checks, one entry per check.
    #[serde(default)]
    pub maker: Vec<MakerRange>,
}
