//! The three arrows that one set-up makes: fletched, bare, broadhead; and how well each of their
//! figures is known.

use super::air::Air;
use super::arrow::{ArrowError, ArrowSetup, Broadhead, Vanes};
use super::body::BodyData;
use super::fins::FinRing;
use super::mass::{MassLine, Parts};
use crate::frame::ArrowKind;

/// Drag coefficients on the frontal area of a bare, fletched and broadhead arrow. Measured arrows
/// lie between 1.5 and 2.6 (Miyazaki et al., Sports Eng 16 (2013) 43; Ortiz et al., Proceedings
/// 49 (2020) 56); the differences between kinds are common practice, no source.
const DRAG: [f64; 3] = [2.0, 2.2, 2.6];
/// Doubt of a drag coefficient, one standard deviation: about a third of the spread measured.
pub(crate) const DRAG_DOUBT: f64 = 0.3;
/// Shaft diameter when unknown, mm.
const DIAMETER_MM: f64 = 6.0;
/// Speed when unknown, m/s (280 ft/s).
pub(crate) const SPEED_MPS: f64 = 85.344;
/// Outer chord of a vane in lengths.
const VANE_TIP: f64 = 0.3;
/// Sweep of a vane in lengths, when unknown.
const VANE_SWEEP: f64 = 0.6;
/// The blades' rear edge lies this far beyond the shaft's end, m.
const BLADES_AHEAD_M: f64 = 0.005;
/// How far a nose reaches beyond the shaft, m.
const NOSE_M: f64 = 0.022_86;

/// The three arrows of a set-up.
#[derive(Debug, Clone, PartialEq)]
pub struct Kinds {
    /// With vanes and field point.
    pub fletched: BodyData,
    /// Without vanes.
    pub bare: BodyData,
    /// With vanes and broadhead.
    pub broadhead: BodyData,
    /// Speed of the fletched arrow at the string, m/s.
    pub speed_mps: f64,
}

impl Kinds {
    /// The arrows of `setup` in `air`.
    ///
    /// # Errors
    /// [`ArrowError`] for an arrow that cannot be.
    pub fn of(setup: &ArrowSetup, air: Air) -> Result<Self, ArrowError> {
        setup.check()?;
        let parts = Parts::of(setup)?;
        let body = |line: MassLine, drag: f64, rings: &[(FinRing, f64)]| {
            let mut data = BodyData {
                mass_kg: line.mass_kg,
                inertia_kgm2: line.inertia_kgm2,
                length_m: setup.shaft_length_mm / 1e3,
                diameter_m: setup.diameter_mm.unwrap_or(DIAMETER_MM) / 1e3,
                balance_m: line.balance_m,
                nose_m: NOSE_M,
                drag_coefficient: drag,
                density_kg_m3: air.density_kg_m3,
                ..BodyData::default()
            };
            data.fins = rings
                .iter()
                .map(|(ring, from_m)| data.ring(ring, *from_m))
                .collect();
            data
        };
        let vanes = vane_ring(&setup.vanes.unwrap_or_default());
        let blades = blade_ring(&setup.broadhead.unwrap_or_default(), setup);
        Ok(Self {
            fletched: body(parts.fletched(), DRAG[1], &[vanes]),
            bare: body(parts.bare(), DRAG[0], &[]),
            broadhead: body(parts.broadhead(), DRAG[2], &[vanes, blades]),
            speed_mps: setup.speed_mps.unwrap_or(SPEED_MPS),
        })
    }

    /// The arrow of one kind.
    pub fn kind(&self, kind: ArrowKind) -> &BodyData {
        match kind {
            ArrowKind::Fletched => &self.fletched,
            ArrowKind::Bare => &self.bare,
            ArrowKind::Broadhead => &self.broadhead,
        }
    }

    pub(crate) fn each(&mut self, mut change: impl FnMut(&mut BodyData)) {
        change(&mut self.fletched);
        change(&mut self.bare);
        change(&mut self.broadhead);
    }
}

/// The ring of vanes and where its leading edge is, m from the nock throat.
fn vane_ring(vanes: &Vanes) -> (FinRing, f64) {
    let root_m = vanes.length_mm / 1e3;
    let ring = FinRing {
        count: vanes.count,
        root_m,
        tip_m: VANE_TIP * root_m,
        height_m: vanes.height_mm / 1e3,
        sweep_m: vanes.sweep_mm.map_or(VANE_SWEEP * root_m, |mm| mm / 1e3),
    };
    (ring, vanes.from_nock_mm / 1e3 + root_m)
}

/// The blades as triangles swept over their whole length.
fn blade_ring(head: &Broadhead, setup: &ArrowSetup) -> (FinRing, f64) {
    let root_m = head.blade_mm / 1e3;
    let diameter_mm = setup.diameter_mm.unwrap_or(DIAMETER_MM);
    let ring = FinRing {
        count: head.blades,
        root_m,
        tip_m: 0.0,
        height_m: (head.cut_mm - diameter_mm) / 2e3,
        sweep_m: root_m,
    };
    (ring, setup.shaft_length_mm / 1e3 + BLADES_AHEAD_M + root_m)
}

/// A figure changed by its doubt.
pub(crate) type Doubt = Box<dyn Fn(&mut Kinds)>;

/// How far the mass may be off, one standard deviation, as a share of it.
pub(crate) fn mass_doubt(setup: &ArrowSetup) -> f64 {
    if setup.total_mass_kg.is_some() {
        0.005
    } else {
        0.12
    }
}

/// How far the balance point may be off, one standard deviation, m.
pub(crate) fn balance_doubt_m(setup: &ArrowSetup) -> f64 {
    match (setup.balance_mm, setup.point_mass_kg) {
        (Some(_), _) => 0.001,
        (None, Some(_)) if setup.total_mass_kg.is_some() => 0.006,
        _ => 0.014,
    }
}

/// How far each figure may be off, one standard deviation, as a change to all three arrows.
///
/// The aerodynamic ones are judgement within the spread of published values; those of the arrow's
/// own figures depend on what was entered.
pub(crate) fn doubts(setup: &ArrowSetup) -> Vec<Doubt> {
    let mass = mass_doubt(setup);
    let balance_m = balance_doubt_m(setup);
    let inertia = if setup.balance_mm.is_some() && setup.total_mass_kg.is_some() {
        0.04
    } else {
        0.08
    };
    let vane = if setup.vanes.is_some() { 0.10 } else { 0.25 };
    let blade = if setup.broadhead.is_some() {
        0.20
    } else {
        0.40
    };
    let diameter_m = if setup.diameter_mm.is_some() {
        0.0
    } else {
        0.0007
    };
    let mut list: Vec<Doubt> = vec![
        on_all(|b| b.nose_slope -= 0.25),
        on_all(|b| b.cross_drag -= 0.15),
        on_all(|b| b.friction += 0.001),
        on_all(move |b| b.inertia_kgm2 *= 1.0 + inertia),
        on_all(move |b| b.balance_m += balance_m),
        on_all(move |b| {
            b.mass_kg *= 1.0 + mass;
            b.inertia_kgm2 *= 1.0 + mass;
        }),
        Box::new(move |kinds| {
            scale_fin(&mut kinds.fletched, 0, 1.0 + vane);
            scale_fin(&mut kinds.broadhead, 0, 1.0 + vane);
        }),
        Box::new(move |kinds| scale_fin(&mut kinds.broadhead, 1, 1.0 - blade)),
    ];
    if diameter_m > 0.0 {
        list.push(on_all(move |b| grow(b, diameter_m)));
    }
    list
}

fn on_all(change: impl Fn(&mut BodyData) + 'static) -> Doubt {
    Box::new(move |kinds| kinds.each(&change))
}

fn scale_fin(body: &mut BodyData, ring: usize, factor: f64) {
    if let Some(fin) = body.fins.get_mut(ring) {
        fin.0 *= factor;
    }
}

/// A thicker shaft under the same vanes: their slope is stated on the frontal area.
fn grow(body: &mut BodyData, by_m: f64) {
    let before = body.area_m2();
    body.diameter_m += by_m;
    let ratio = before / body.area_m2();
    for fin in &mut body.fins {
        fin.0 *= ratio;
    }
}
