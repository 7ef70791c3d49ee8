//! Before and after on one picture: both faces laid over each other with their fletched groups on
//! the same spot, so that only the split differs.

use super::face::{
    FaceView, GroupView, MarkView, TWO_OF_THREE, ellipse, foot, legend_entries, marks, scale_bar,
    unlabelled_face,
};
use super::ground::{FaceGround, place};
use super::mark::arrow;
use super::{Anchor, LabelText, Role, Scene, ScenePoint, Word};
use crate::frame::{ArrowKind, Cov2, PointMm};
use crate::record::LengthUnit;

/// One trial of a comparison.
#[derive(Debug, Clone, PartialEq)]
pub struct ComparedShot {
    /// Its impacts.
    pub marks: Vec<MarkView>,
    /// Its groups, the fletched one among them.
    pub groups: Vec<GroupView>,
}

impl ComparedShot {
    /// The same trial with its fletched centre at the origin; as it is where there is none.
    fn recentred(&self) -> Self {
        let origin = self
            .groups
            .iter()
            .find(|group| group.kind == ArrowKind::Fletched)
            .map_or(PointMm::default(), |group| group.centre);
        let mut moved = self.clone();
        for spot in &mut moved.marks {
            spot.at = spot.at - origin;
        }
        for group in &mut moved.groups {
            group.centre = group.centre - origin;
        }
        moved
    }
}

/// The probes' places before (faint) and after (full) on one face, an arrow from one to the other.
pub fn compare_scene(
    before: &ComparedShot,
    after: &ComparedShot,
    tolerance_mm: Option<f64>,
    lengths: LengthUnit,
) -> Scene {
    let (before, after) = (before.recentred(), after.recentred());
    let old_probes = before
        .marks
        .iter()
        .filter(|spot| spot.kind != ArrowKind::Fletched)
        .map(|spot| MarkView {
            excluded: true,
            ..spot.clone()
        });
    let view = FaceView {
        ground: FaceGround::Blank,
        marks: old_probes.chain(after.marks.iter().cloned()).collect(),
        groups: after.groups.clone(),
        expected: None,
        tolerance_mm,
        lengths,
    };
    let mut scene = unlabelled_face(&view);
    let unit = scene.view_width / 100.0;
    marks(&mut scene, &view, unit);
    for old in &before.groups {
        let new = after.groups.iter().find(|group| group.kind == old.kind);
        if old.kind != ArrowKind::Fletched {
            probe_moved(&mut scene, old, new, unit);
        }
    }
    scale_bar(&mut scene, &view, unit);
    foot(&mut scene, legend_entries(&view));
    scene
}

fn probe_moved(scene: &mut Scene, old: &GroupView, new: Option<&GroupView>, unit: f64) {
    let from = place(old.centre);
    let above =
        |centre: ScenePoint, cov: Cov2| centre.moved(0.0, -1.5 * cov.sd_y_mm() - 3.0 * unit);
    let shape = ellipse(old.centre, old.cov, TWO_OF_THREE);
    scene.dash(shape, Role::Muted, 0.4 * unit);
    caption(scene, above(from, old.cov), Word::Before, 3.6 * unit);
    let Some(new) = new else { return };
    let to = place(new.centre);
    caption(scene, above(to, new.cov), Word::After, 3.6 * unit);
    arrow(scene, from, to, 0.9 * unit, Role::Ink);
}

fn caption(scene: &mut Scene, at: ScenePoint, word: Word, height: f64) {
    scene.label(
        at,
        LabelText::Fixed { word },
        Role::Muted,
        height,
        Anchor::Middle,
    );
}
