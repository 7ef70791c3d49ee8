//! Rows about the plane: millimetres over the whole reference.

use shimwright::frame::{PointMm, PointPx};
use shimwright::measure::{MeasureError, PhotoSession, Reference, Up};
use shimwright::plane::{Plane, PlaneWarning};

use super::Plan;
use super::figures::{Bar, Row, Spread};
use crate::render::{Camera, Seeded, Tone, seeded};
use crate::shots::{self, FaceShot, Shot, normal, tap};

/// Taps on corners and middles are this far off on each axis, px.
const TAP_SD_PX: f64 = 12.0;

/// Names of photographs that several rows look at.
pub(super) const SHEET: &str = "sheet";
pub(super) const FACE: &str = "face";

/// Errors of a plane over a grid of a rectangle or disc.
#[derive(Default)]
struct Errors {
    all: Spread,
    centre: Spread,
    refused: Vec<String>,
    photos: usize,
}

impl Errors {
    fn grid(&mut self, camera: &Camera, plane: &Plane, half: (f64, f64)) {
        for i in -5..=5 {
            for j in -5..=5 {
                let at = PointMm::new(half.0 * f64::from(i) / 5.0, half.1 * f64::from(j) / 5.0);
                self.all.push(error_at(camera, plane, at));
            }
        }
        self.centre
            .push(error_at(camera, plane, PointMm::default()));
    }

    fn disc(&mut self, camera: &Camera, plane: &Plane, radius: f64) {
        for ring in 1..=5 {
            for step in 0..12 {
                let (r, a) = (
                    radius * f64::from(ring) / 5.0,
                    f64::from(step) * std::f64::consts::TAU / 12.0,
                );
                self.all.push(error_at(
                    camera,
                    plane,
                    PointMm::new(r * a.cos(), r * a.sin()),
                ));
            }
        }
    }

    fn fit(
        &mut self,
        seed: u64,
        jpeg: &[u8],
        reference: &Reference,
        k1: Option<f64>,
    ) -> Option<Plane> {
        self.photos += 1;
        match fit(jpeg, reference, k1) {
            Ok(plane) => Some(plane),
            Err(error) => {
                self.refused.push(format!("seed {seed} refused: {error}"));
                None
            }
        }
    }

    fn row(self, item: &'static str, rms: Bar, p95: Bar) -> Row {
        let mut row = Row::new(item, self.photos)
            .with(
                "refused, photographs",
                self.refused.len() as f64,
                Bar::AtMost(0.0),
            )
            .with("rms, mm", self.all.rms(), rms)
            .with("95 % within, mm", self.all.p95(), p95)
            .with("largest, mm", self.all.max(), Bar::None);
        row.notes = self.refused;
        row
    }
}

/// Decodes and fits.
pub(super) fn fit(
    jpeg: &[u8],
    reference: &Reference,
    k1: Option<f64>,
) -> Result<Plane, MeasureError> {
    let mut session = PhotoSession::open(jpeg)?;
    session.fit(reference, k1, None)?;
    session.plane().cloned().ok_or(MeasureError::NoReference)
}

fn error_at(camera: &Camera, plane: &Plane, at: PointMm) -> f64 {
    plane
        .to_mm(camera.to_px(at))
        .map_or(f64::NAN, |read| (read - at).norm_mm())
}

/// A sheet reference with taps that miss the corners.
pub(super) fn sheet_reference(
    shot: &Shot,
    (width_mm, height_mm): (f64, f64),
    rng: &mut Seeded,
) -> Reference {
    let corners = shot.truth().corners_px.map(|c| tap(rng, c, TAP_SD_PX));
    Reference::Sheet {
        width_mm,
        height_mm,
        corners_px: Some(corners.to_vec()),
    }
}

/// A 40 cm target face with a tap near its middle; "up" from two good taps.
pub(super) fn face_reference(shot: &Shot, rng: &mut Seeded) -> Reference {
    let at = |x: f64, y: f64| shot.camera.to_px(PointMm::new(x, y));
    Reference::Rings {
        face: "target-40".into(),
        radii_mm: None,
        centre_px: tap(rng, at(0.0, 0.0), TAP_SD_PX),
        up: Up::Taps {
            below_px: at(0.0, -190.0),
            above_px: at(0.0, 190.0),
        },
    }
}

fn sheet_errors(plan: &Plan, kind: &'static str, tone: Tone) -> Errors {
    let mut errors = Errors::default();
    let seeds = if tone == Tone::AfterBlur {
        plan.seeds()
    } else {
        plan.few()
    };
    for seed in seeds {
        let mut shot = shots::sheet(seed, plan.size, 210.0, 297.0);
        shot.optics.tone = tone;
        let reference = sheet_reference(&shot, (210.0, 297.0), &mut seeded(seed ^ 0x7A9));
        if let Some(plane) = errors.fit(seed, &plan.jpeg(kind, &shot), &reference, None) {
            errors.grid(&shot.camera, &plane, (105.0, 148.5));
        }
    }
    errors
}

/// A4 sheets, corner taps 12 px off.
pub fn sheets(plan: &Plan) -> Row {
    sheet_errors(plan, SHEET, Tone::AfterBlur).row(
        "A4 sheet, corner taps 12 px off",
        Bar::AtMost(0.03),
        Bar::AtMost(0.06),
    )
}

/// The same where the blur acts on finished tones, as smoothing in the phone does.
pub fn sheets_in_tones(plan: &Plan) -> Row {
    sheet_errors(plan, "sheet in tones", Tone::BeforeBlur).row(
        "the same, blurred after the tone curve",
        Bar::None,
        Bar::None,
    )
}

/// The face most rows look at.
pub(super) const SHOT_FACE: FaceShot = FaceShot {
    holes: 12,
    clutter: true,
    digits: false,
};

/// 40 cm faces, k1 known to 0.003.
pub fn faces_known_lens(plan: &Plan) -> Row {
    let mut errors = Errors::default();
    for seed in plan.seeds() {
        let shot = shots::face(seed, plan.size, SHOT_FACE);
        let mut rng = seeded(seed ^ 0x7A9);
        let reference = face_reference(&shot, &mut rng);
        let k1 = shot.camera.k1 + normal(&mut rng, 0.003);
        if let Some(plane) = errors.fit(seed, &plan.jpeg(FACE, &shot), &reference, Some(k1)) {
            errors.grid(&shot.camera, &plane, (200.0, 200.0));
        }
    }
    let centre = errors.centre.p95();
    errors
        .row(
            "ring face, k1 known to .003, 400 x 400 mm",
            Bar::AtMost(0.10),
            Bar::AtMost(0.25),
        )
        .with("centre, 95 % within, mm", centre, Bar::AtMost(0.03))
}

/// 40 cm faces, nothing known of the lens.
pub fn faces_unknown_lens(plan: &Plan) -> Row {
    let mut errors = Errors::default();
    for seed in plan.seeds() {
        let shot = shots::face(seed, plan.size, SHOT_FACE);
        let reference = face_reference(&shot, &mut seeded(seed ^ 0x7A9));
        if let Some(plane) = errors.fit(seed, &plan.jpeg(FACE, &shot), &reference, None) {
            errors.disc(&shot.camera, &plane, 200.0);
        }
    }
    errors.row(
        "ring face, k1 unknown, r <= 200 mm",
        Bar::AtMost(0.12),
        Bar::None,
    )
}

/// k1 learned from a sheet, used for a face of the same phone.
pub fn carried_lens(plan: &Plan) -> Row {
    let mut errors = Errors::default();
    let mut k1_error = Spread::default();
    for seed in plan.few() {
        let face = shots::face(seed, plan.size, SHOT_FACE);
        let mut sheet = shots::sheet(seed + 100, plan.size, 297.0, 210.0);
        sheet.camera.k1 = face.camera.k1;
        let mut rng = seeded(seed ^ 0x7A9);
        let reference = sheet_reference(&sheet, (297.0, 210.0), &mut rng);
        let Some(learned) = errors.fit(seed, &sheet.jpeg(), &reference, None) else {
            continue;
        };
        k1_error.push((learned.lens.k1 - sheet.camera.k1).abs());
        let reference = face_reference(&face, &mut rng);
        if let Some(plane) = errors.fit(
            seed,
            &plan.jpeg(FACE, &face),
            &reference,
            Some(learned.lens.k1),
        ) {
            errors.grid(&face.camera, &plane, (200.0, 200.0));
        }
    }
    errors
        .row(
            "ring face, k1 carried from a sheet photograph",
            Bar::AtMost(0.10),
            Bar::AtMost(0.25),
        )
        .with(
            "k1 from the sheet, rms error",
            k1_error.rms(),
            Bar::AtMost(0.003),
        )
}

/// ID-1 cards: the error 100 mm around the card's middle, to a face's bars.
pub fn id1_cards(plan: &Plan) -> Row {
    let mut errors = Errors::default();
    for seed in plan.few() {
        let shot = shots::card(seed, plan.size);
        let reference = sheet_reference(&shot, (85.60, 53.98), &mut seeded(seed ^ 0x7A9));
        if let Some(plane) = errors.fit(seed, &shot.jpeg(), &reference, Some(shot.camera.k1)) {
            errors.disc(&shot.camera, &plane, 100.0);
        }
    }
    errors.row(
        "ID-1 card, k1 known, within 100 mm of it",
        Bar::AtMost(0.10),
        Bar::AtMost(0.25),
    )
}

/// The printed reference sheet's square marks, to a sheet's bars.
pub fn printed_marks(plan: &Plan) -> Row {
    let mut errors = Errors::default();
    let (width, height) = (180.0, 260.0);
    for seed in plan.few() {
        let shot = shots::marks(seed, plan.size, (width as f32, height as f32), 20.0);
        let corner = |x: f64, y: f64| {
            shot.camera
                .to_px(PointMm::new(x * width / 2.0, y * height / 2.0))
        };
        let corners = [
            corner(-1.0, 1.0),
            corner(1.0, 1.0),
            corner(1.0, -1.0),
            corner(-1.0, -1.0),
        ];
        let mut rng = seeded(seed ^ 0x7A9);
        let corners_px: Vec<PointPx> = corners
            .into_iter()
            .map(|c| tap(&mut rng, c, TAP_SD_PX))
            .collect();
        let reference = Reference::Marks {
            width_mm: width,
            height_mm: height,
            corners_px: Some(corners_px),
        };
        if let Some(plane) = errors.fit(seed, &shot.jpeg(), &reference, None) {
            errors.grid(&shot.camera, &plane, (width / 2.0, height / 2.0));
        }
    }
    errors.row(
        "printed square marks, corner taps 12 px off",
        Bar::AtMost(0.03),
        Bar::AtMost(0.06),
    )
}

/// Whether the person is told that the sheet is not flat.
pub(super) fn says_not_flat(plane: &Plane) -> bool {
    plane
        .warnings
        .iter()
        .any(|w| matches!(w, PlaneWarning::NotFlat { .. }))
}
