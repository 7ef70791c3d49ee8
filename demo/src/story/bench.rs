//! From a photograph and its taps to a trial, and the pictures that show what was read.

use super::teller::Teller;
use crate::{case, picture, words};
use shimwright::frame::{ArrowKind, PointMm};
use shimwright::measure::{Measured, MeasuredImpact, PhotoSession, Rectified, Reference};
use shimwright::record::{
    PhotoRef, PlaneRecord, ReferenceUsed, Surface, TrialDraft, TrialImpact, TrialTear,
};
use shimwright::scene::{FaceGround, FaceView, PhotoWindow, face_scene, found_scene};
use shimwright::workshop::Workshop;
use std::path::{Path, PathBuf};

/// Width of the pictures, px.
pub(super) const WIDTH_PX: f64 = 1000.0;

/// A photograph that was measured.
pub(super) struct Shot {
    pub(super) measured: Measured,
    pub(super) draft: TrialDraft,
    pub(super) session: PhotoSession,
}

impl Shot {
    /// Reads the case beside the photograph and measures it with what the workshop knows of its
    /// camera.
    pub(super) fn read(workshop: &Workshop, name: &str, distance_m: f64) -> Result<Self, String> {
        let folder = photos();
        let text = case::read(&folder.join(format!("{name}.case.json")))?;
        let (mut request, photo) = case::measure_case(&text)?;
        let bytes = std::fs::read(folder.join(&photo)).map_err(|e| {
            format!(
                "the photo {photo} cannot be read ({e}); check that the demonstration is complete"
            )
        })?;
        let (mut session, remembered_k1) = workshop.begin_photo(&bytes).map_err(case::told)?;
        request.lens_k1 = remembered_k1;
        let measured = shimwright::measure::measure(&bytes, &request).map_err(case::told)?;
        session
            .fit(&request.reference, request.lens_k1, None)
            .map_err(case::told)?;
        let size = (
            session.photo().width() as u32,
            session.photo().height() as u32,
        );
        let draft = draft(&measured, &request.reference, (photo, size), distance_m);
        Ok(Self {
            measured,
            draft,
            session,
        })
    }

    /// How far to trust the reading.
    pub(super) fn trust(&self, learned: bool) -> String {
        let plane = &self.measured.plane;
        let scale = 200.0 * plane.scale_sd_x.max(plane.scale_sd_y);
        let found = format!(
            "{}: found, its fit off by {:.2} px ({:.3} mm), its size trusted to ± {scale:.1} %.",
            self.reference(),
            plane.residual_px,
            plane.residual_mm
        );
        let lens = learned.then(|| format!("Lens learned (k1 {:.4}).", plane.k1));
        let cautions = plane
            .warnings
            .iter()
            .map(|warning| format!("Caution: {warning}."));
        let all: Vec<String> = std::iter::once(found).chain(lens).chain(cautions).collect();
        all.join(" ")
    }

    fn reference(&self) -> String {
        match self.draft.plane.as_ref().map(|plane| plane.reference) {
            Some(ReferenceUsed::Sheet {
                width_mm,
                height_mm,
            }) => format!("Sheet of {width_mm:.0} x {height_mm:.0} mm"),
            Some(ReferenceUsed::Points { distance_mm }) => {
                format!("Two points {distance_mm:.0} mm apart")
            }
            Some(ReferenceUsed::Rings) | None => "Rings of the face".into(),
        }
    }

    /// What was found, over the photograph: the whole of it, then close up.
    pub(super) fn show_found(&self, teller: &mut Teller, name: &str) -> Result<(), String> {
        let photo = self.session.photo();
        let (width, height) = (photo.width() as f64, photo.height() as f64);
        for (window, suffix) in [
            (PhotoWindow::whole(width, height), "found"),
            (
                PhotoWindow::around(&self.measured, width, height),
                "close-up",
            ),
        ] {
            let jpeg = picture::window(photo, &window, WIDTH_PX as usize)?;
            let scene = found_scene(&window, &self.measured);
            teller.picture(&format!("{name}-{suffix}"), &scene, WIDTH_PX, Some(&jpeg))?;
        }
        Ok(())
    }

    /// What the workshop shows of this face, over the face straight on.
    pub(super) fn show_face(
        &self,
        teller: &mut Teller,
        name: &str,
        view: FaceView,
    ) -> Result<(), String> {
        let straight = self.session.rectified(0.25).map_err(case::told)?;
        let jpeg = picture::straight(&straight)?;
        let ground = straight_ground(&straight);
        let scene = face_scene(&FaceView { ground, ..view });
        teller.picture(name, &scene, WIDTH_PX, Some(&jpeg))
    }

    /// "6 of 6 holes found, centres ± 0.2 mm".
    pub(super) fn snapped(&self) -> String {
        let impacts = &self.measured.impacts;
        let found = impacts.iter().filter(|impact| impact.snapped).count();
        let worst = impacts
            .iter()
            .map(|impact| impact.sd_mm)
            .fold(0.0, f64::max);
        format!(
            "{found} of {} holes found under the taps, centres ± {:.1} mm.",
            impacts.len(),
            (2.0 * worst).max(0.1)
        )
    }
}

/// Where the demonstration's photographs are.
pub(super) fn photos() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("photos")
}

fn draft(
    measured: &Measured,
    reference: &Reference,
    (file, (width_px, height_px)): (String, (u32, u32)),
    distance_m: f64,
) -> TrialDraft {
    let tears = measured.tears.iter().filter(|tear| tear.accepted);
    TrialDraft {
        surface: if measured.tears.is_empty() {
            Surface::Face
        } else {
            Surface::Paper
        },
        distance_m,
        shooter: String::new(),
        arrow_setup_id: None,
        impacts: measured.impacts.iter().map(trial_impact).collect(),
        tears: tears
            .map(|tear| TrialTear {
                kind: ArrowKind::Fletched,
                tear: PointMm::new(tear.x_mm, tear.y_mm),
                sd_mm: tear.sd_mm,
                px: None,
                excluded: None,
            })
            .collect(),
        photo: Some(PhotoRef {
            file,
            width_px,
            height_px,
        }),
        plane: Some(PlaneRecord::of(&measured.plane, reference)),
        note: String::new(),
    }
}

fn trial_impact(impact: &MeasuredImpact) -> TrialImpact {
    TrialImpact {
        kind: impact.kind,
        at: PointMm::new(impact.x_mm, impact.y_mm),
        sd_mm: impact.sd_mm,
        px: Some(impact.px),
        snapped: impact.snapped,
        arrow_number: None,
        excluded: None,
    }
}

fn straight_ground(picture: &Rectified) -> FaceGround {
    let half = picture.mm_per_px / 2.0;
    FaceGround::Picture {
        left_mm: picture.left_mm - half,
        top_mm: picture.top_mm + half,
        width_mm: picture.width as f64 * picture.mm_per_px,
        height_mm: picture.height as f64 * picture.mm_per_px,
    }
}

/// One line per tear.
pub(super) fn tear_lines(measured: &Measured) -> Vec<String> {
    let lines = measured
        .tears
        .iter()
        .zip(1..)
        .map(|(tear, number)| match tear.reason {
            Some(why) => format!("Tear {number} could not be read: {why}."),
            None => format!(
                "Tear {number}: nock end {} ± {:.1} mm.",
                words::offset(tear.x_mm, tear.y_mm),
                2.0 * tear.sd_mm
            ),
        });
    lines.collect()
}
