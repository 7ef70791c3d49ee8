//! The drawing of an axle: limb tips, spacers, cam and centre line, as the archer sees it from
//! behind the bow. Spacer thicknesses and the cam's offset are to one scale; limb tips and cam are
//! not (a real cam is several times wider than its spacers).
//!
//! ```text
//!                  middle of the limb-tip gap
//!            +----+         :/-\         +----+
//!            |limb|[ left  ]|cam|[right ]|limb|
//!            +----+         :\-/         +----+
//! ```

use super::{Anchor, LabelText, Role, Scene, ScenePoint, Shape, Word};
use crate::spacer::{Fitting, Kit, KitError, Seat};

/// What one axle's drawing needs: the spacers as they sit.
#[derive(Debug, Clone, PartialEq)]
pub struct AxleView {
    /// Thickness of the spacer at the archer's left of the cam, mm, above 0.
    pub left_mm: f64,
    /// Thickness of the spacer at the archer's right of the cam, mm, above 0.
    pub right_mm: f64,
    /// Name of the pair, drawn where there is room for it.
    pub pair: String,
}

/// Both axles of a bow.
#[derive(Debug, Clone, PartialEq)]
pub struct BowView {
    /// The top axle.
    pub top: AxleView,
    /// The bottom axle.
    pub bottom: AxleView,
}

impl BowView {
    /// A fitting as it looks with the pieces of its kit.
    ///
    /// # Errors
    /// [`KitError::UnknownPair`] when the fitting names a pair the kit does not have.
    pub fn of(kit: &Kit, fitting: &Fitting) -> Result<Self, KitError> {
        Ok(Self {
            top: AxleView::of(kit, &fitting.top)?,
            bottom: AxleView::of(kit, &fitting.bottom)?,
        })
    }
}

impl AxleView {
    /// A seat as it looks with the pieces of its kit.
    ///
    /// # Errors
    /// [`KitError::UnknownPair`] when the seat names a pair the kit does not have.
    pub fn of(kit: &Kit, seat: &Seat) -> Result<Self, KitError> {
        let (left_mm, right_mm) = kit.left_right_mm(seat)?;
        Ok(Self {
            left_mm,
            right_mm,
            pair: seat.pair.clone(),
        })
    }

    fn total_mm(&self) -> f64 {
        self.left_mm + self.right_mm
    }

    /// Cam centre from the middle of the limb-tip gap, mm, positive to the archer's right.
    pub(super) fn offset_mm(&self) -> f64 {
        (self.left_mm - self.right_mm) / 2.0
    }
}

/// The unit of an axle drawing is one hundredth of the kit's total thickness: a spacer of 44 units
/// is 44 % of the total, whatever the kit.
const TOTAL: f64 = 100.0;
const LIMB_WIDTH: f64 = 50.0;
const LIMB_HEIGHT: f64 = 96.0;
const SPACER_HEIGHT: f64 = 60.0;
const HUB_WIDTH: f64 = 46.0;
const HUB_HEIGHT: f64 = 40.0;
const CAM_WIDTH: f64 = 34.0;
pub(super) const CAM_HEIGHT: f64 = 150.0;
const AXLE_HEIGHT: f64 = 7.0;
const AXLE_OVERHANG: f64 = 12.0;
/// From the middle of the gap to a limb tip.
const GAP_HALF: f64 = f64::midpoint(TOTAL, HUB_WIDTH);
/// From the middle of the gap to the end of the axle.
pub(super) const REACH: f64 = GAP_HALF + LIMB_WIDTH + AXLE_OVERHANG;
pub(super) const TEXT: f64 = 19.0;
/// From the middle of an axle down to what is written under its spacers.
const LABEL_Y: f64 = LIMB_HEIGHT / 2.0 + TEXT + 2.0;

/// One axle without text, its middle at the origin: 270 units wide, 164 high.
pub(super) fn bare_axle(axle: &AxleView) -> Scene {
    let mut scene = Scene::centred(REACH, CAM_HEIGHT / 2.0 + 7.0);
    let scale = TOTAL / axle.total_mm();
    let (left, right) = (axle.left_mm * scale, axle.right_mm * scale);
    let cam_x = axle.offset_mm() * scale;
    scene.fill(
        Shape::centred_rect(ScenePoint::default(), 2.0 * REACH, AXLE_HEIGHT, 3.0),
        Role::Muted,
    );
    for side in [-1.0, 1.0] {
        let centre = ScenePoint::new(side * (GAP_HALF + LIMB_WIDTH / 2.0), 0.0);
        scene.fill(
            Shape::centred_rect(centre, LIMB_WIDTH, LIMB_HEIGHT, 6.0),
            Role::LimbTip,
        );
    }
    for (x, width) in [
        (-GAP_HALF + left / 2.0, left),
        (GAP_HALF - right / 2.0, right),
    ] {
        scene.body(
            Shape::centred_rect(ScenePoint::new(x, 0.0), width, SPACER_HEIGHT, 3.0),
            Role::Spacer,
            Role::Card,
            1.2,
        );
    }
    draw_cam(&mut scene, cam_x);
    scene
}

/// The hub, the cam seen on its rim, its string track, and the dashed middle it is judged by.
fn draw_cam(scene: &mut Scene, cam_x: f64) {
    let centre = ScenePoint::new(cam_x, 0.0);
    let hub = Shape::centred_rect(centre, HUB_WIDTH, HUB_HEIGHT, 5.0);
    scene.body(hub, Role::Cam, Role::Ink, 2.2);
    let rim = Shape::centred_rect(centre, CAM_WIDTH, CAM_HEIGHT, 13.0);
    scene.body(rim, Role::Cam, Role::Ink, 2.8);
    let track = CAM_HEIGHT / 2.0 - 14.0;
    scene.stroke(
        Shape::line(
            ScenePoint::new(cam_x, -track),
            ScenePoint::new(cam_x, track),
        ),
        Role::Ink,
        2.2,
    );
    let middle = CAM_HEIGHT / 2.0 + 7.0;
    scene.dash(
        Shape::line(ScenePoint::new(0.0, -middle), ScenePoint::new(0.0, middle)),
        Role::Muted,
        1.8,
    );
}

/// The two thicknesses, each under its spacer.
pub(super) fn thickness_labels(axle: &AxleView) -> Scene {
    let text = |thickness_mm| LabelText::Thickness { thickness_mm };
    piece_labels(axle, LABEL_Y, [text(axle.left_mm), text(axle.right_mm)])
}

/// A text for the left and one for the right piece, each under its spacer.
fn piece_labels(axle: &AxleView, y: f64, [left, right]: [LabelText; 2]) -> Scene {
    let mut scene = Scene::default();
    let scale = TOTAL / axle.total_mm();
    for (side, thickness_mm, text) in [(-1.0, axle.left_mm, left), (1.0, axle.right_mm, right)] {
        // Centred under its spacer, but clear of the cam when the spacer is thin.
        let clear = side * cam_centre(axle) + CAM_WIDTH / 2.0 + TEXT * 2.5;
        let x = (GAP_HALF - thickness_mm * scale / 2.0).max(clear);
        let at = ScenePoint::new(side * x, y);
        scene.label(at, text, Role::Ink, TEXT, Anchor::Middle);
    }
    scene
}

fn cam_centre(axle: &AxleView) -> f64 {
    axle.offset_mm() * TOTAL / axle.total_mm()
}

/// One axle, large: spacers with their thicknesses, and which side is which.
pub fn axle_scene(axle: &AxleView) -> Scene {
    let mut scene = Scene::centred(REACH + 4.0, CAM_HEIGHT / 2.0 + 12.0);
    scene.place(bare_axle(axle), 0.0, 0.0);
    scene.place(thickness_labels(axle), 0.0, 0.0);
    scene.place(side_labels(), 0.0, 0.0);
    scene
}

/// One axle for the hands that set it: also which piece is the thin and which the thick one, and
/// from where the drawing looks.
pub fn seat_scene(axle: &AxleView) -> Scene {
    let mut scene = axle_scene(axle);
    let words = if axle.left_mm > axle.right_mm {
        [Word::Thick, Word::Thin]
    } else {
        [Word::Thin, Word::Thick]
    };
    let texts = words.map(|word| LabelText::Fixed { word });
    scene.place(piece_labels(axle, LABEL_Y + 1.2 * TEXT, texts), 0.0, 0.0);
    let below = CAM_HEIGHT / 2.0 + 12.0 + 1.7 * TEXT;
    scene.place(string_side(), 0.0, below);
    scene.view_height += 2.2 * TEXT;
    scene
}

/// From where a drawing looks, centred.
pub(super) fn string_side() -> Scene {
    let mut scene = Scene::default();
    let word = Word::StringSide;
    let text = LabelText::Fixed { word };
    scene.label(
        ScenePoint::default(),
        text,
        Role::Muted,
        TEXT,
        Anchor::Middle,
    );
    scene
}

/// Left and right over the two ends of an axle.
pub(super) fn side_labels() -> Scene {
    let mut scene = Scene::default();
    let y = -LIMB_HEIGHT / 2.0 - 7.0;
    for (x, word, anchor) in [
        (-REACH, Word::Left, Anchor::Start),
        (REACH, Word::Right, Anchor::End),
    ] {
        let text = LabelText::Fixed { word };
        scene.label(ScenePoint::new(x, y), text, Role::Muted, TEXT, anchor);
    }
    scene
}

#[cfg(test)]
mod tests {
    use super::*;

    fn axle(left_mm: f64, right_mm: f64) -> AxleView {
        AxleView {
            left_mm,
            right_mm,
            pair: "C".into(),
        }
    }

    fn spans(scene: &Scene, wanted: Role) -> Vec<(f64, f64)> {
        scene
            .items
            .iter()
            .filter(|item| item.fill.is_some_and(|fill| fill.role == wanted))
            .filter_map(|item| match item.shape {
                Shape::Rect { corner, width, .. } => Some((corner.x, corner.x + width)),
                _ => None,
            })
            .collect()
    }

    #[test]
    fn thicknesses_are_to_scale_and_everything_touches() {
        let scene = bare_axle(&axle(2.5, 1.9));
        let spacers = spans(&scene, Role::Spacer);
        let limbs = spans(&scene, Role::LimbTip);
        let hub = spans(&scene, Role::Cam)[0];
        let width = |span: (f64, f64)| span.1 - span.0;
        assert!((width(spacers[0]) / width(spacers[1]) - 2.5 / 1.9).abs() < 1e-12);
        let touches = [
            (limbs[0].1, spacers[0].0),
            (spacers[0].1, hub.0),
            (hub.1, spacers[1].0),
            (spacers[1].1, limbs[1].0),
        ];
        for (a, b) in touches {
            assert!((a - b).abs() < 1e-9, "{a} and {b} should meet");
        }
    }

    #[test]
    fn a_thicker_left_spacer_moves_the_cam_right_to_scale() {
        let scene = bare_axle(&axle(2.5, 1.9));
        let cam = spans(&scene, Role::Cam)[1];
        let spacer = spans(&scene, Role::Spacer)[0];
        let per_mm = (spacer.1 - spacer.0) / 2.5;
        assert!((f64::midpoint(cam.0, cam.1) - 0.30 * per_mm).abs() < 1e-9);
    }

    #[test]
    fn thin_and_thick_are_named_under_their_own_spacers() {
        for (left_mm, right_mm) in [(2.5, 1.9), (1.9, 2.5)] {
            let scene = seat_scene(&axle(left_mm, right_mm));
            let x_of = |wanted| {
                let found = scene.items.iter().find_map(|item| match &item.shape {
                    Shape::Label { at, text, .. } => {
                        (*text == LabelText::Fixed { word: wanted }).then_some(at.x)
                    }
                    _ => None,
                });
                found.unwrap()
            };
            assert_eq!(x_of(Word::Thick) < x_of(Word::Thin), left_mm > right_mm);
            assert!(x_of(Word::Left) < 0.0 && x_of(Word::Right) > 0.0);
            assert!(x_of(Word::StringSide).abs() < 1e-12);
        }
    }

    #[test]
    fn turning_the_pair_round_mirrors_the_drawing() {
        let as_is = spans(&bare_axle(&axle(1.3, 3.1)), Role::Spacer);
        let turned = spans(&bare_axle(&axle(3.1, 1.3)), Role::Spacer);
        assert!((as_is[0].0 + turned[1].1).abs() < 1e-9);
        assert!((as_is[1].0 + turned[0].1).abs() < 1e-9);
    }
}
