//! The picture of a shot face: ground, impacts, groups, the split, and the place the probe group is
//! expected at after the swap. Scene units are millimetres on the face.

use super::ground::{FaceGround, ground, place};
use super::mark::{LegendEntry, arrow, beside, legend, legend_height, mark, role_of};
use super::{Anchor, Fill, LabelText, Role, Scene, SceneItem, ScenePoint, Shape, Stroke, Word};
use crate::frame::{ArrowKind, Cov2, PointMm};
use crate::record::LengthUnit;

/// One impact.
#[derive(Debug, Clone, PartialEq)]
pub struct MarkView {
    /// Which arrow.
    pub kind: ArrowKind,
    /// Where, mm.
    pub at: PointMm,
    /// The number on its shaft, drawn beside it.
    pub number: Option<i64>,
    /// Whether it is left out of computations; drawn faint.
    pub excluded: bool,
}

/// A group: its centre and the scatter of one arrow.
#[derive(Debug, Clone, PartialEq)]
pub struct GroupView {
    /// Which arrows.
    pub kind: ArrowKind,
    /// Its centre, mm.
    pub centre: PointMm,
    /// Covariance of one arrow, mm^2; drawn as the ellipse that holds two arrows of three.
    pub cov: Cov2,
}

/// Where a probe group's centre is expected.
#[derive(Debug, Clone, PartialEq)]
pub struct PlaceView {
    /// Which arrows.
    pub kind: ArrowKind,
    /// Expected centre, mm.
    pub centre: PointMm,
    /// Its covariance, mm^2; drawn as its 80 % ellipse.
    pub cov: Cov2,
}

impl PlaceView {
    /// Where a probe is expected sideways of `reference`: as wide as the 80 % interval, which need not
    /// be a normal's, at the height `y_mm`.
    pub fn sideways(
        kind: ArrowKind,
        reference: PointMm,
        y_mm: f64,
        low80_high80_mm: (f64, f64),
    ) -> Self {
        let (low_mm, high_mm) = low80_high80_mm;
        let variance = |half_mm: f64| (half_mm / EIGHTY).powi(2);
        Self {
            kind,
            centre: PointMm::new(reference.x_mm + f64::midpoint(low_mm, high_mm), y_mm),
            cov: Cov2 {
                xx_mm2: variance((high_mm - low_mm) / 2.0),
                xy_mm2: 0.0,
                yy_mm2: variance(BAND_HALF_MM),
            },
        }
    }
}

/// Everything the face picture shows.
#[derive(Debug, Clone, PartialEq)]
pub struct FaceView {
    /// What was shot at.
    pub ground: FaceGround,
    /// The impacts.
    pub marks: Vec<MarkView>,
    /// The groups; the reference group is the fletched one.
    pub groups: Vec<GroupView>,
    /// The expected place, where there is a prediction.
    pub expected: Option<PlaceView>,
    /// The user's tolerance around the reference centre, mm.
    pub tolerance_mm: Option<f64>,
    /// What the scale bar is written in.
    pub lengths: LengthUnit,
}

/// Two arrows of three lie inside this many standard deviations of a round bivariate normal:
/// `sqrt(-2 ln(1/3))`.
pub(super) const TWO_OF_THREE: f64 = 1.482_303_807_367_511_3;
/// 80 % of a bivariate normal: `sqrt(-2 ln 0.2)`.
const EIGHTY: f64 = 1.794_122_577_994_101_4;
/// Half-height of the band that marks where a probe is expected sideways, mm: height is not foretold.
const BAND_HALF_MM: f64 = 18.0;
/// A face picture never shows less than this to every side, mm: closer, arrow holes turn into moons.
const LEAST_HALF_MM: f64 = 60.0;
/// Radius of a mark, mm: about a shaft's.
const MARK_MM: f64 = 3.2;

/// The face with everything on it, square and scaled to what there is to see, its legend below.
pub fn face_scene(view: &FaceView) -> Scene {
    let mut scene = unlabelled_face(view);
    let unit = scene.view_width / 100.0;
    split_arrows(&mut scene, view, unit);
    marks(&mut scene, view, unit);
    scale_bar(&mut scene, view, unit);
    foot(&mut scene, legend_entries(view));
    scene
}

/// Ground, tolerance, groups and expected place on a square view.
pub(super) fn unlabelled_face(view: &FaceView) -> Scene {
    let (middle, half) = frame_of(view);
    let unit = half / 50.0;
    let mut scene = Scene {
        view_x: middle.x - half,
        view_y: middle.y - half,
        view_width: 2.0 * half,
        view_height: 2.0 * half,
        items: Vec::new(),
    };
    ground(&mut scene, &view.ground, unit);
    tolerance(&mut scene, view, unit);
    for group in &view.groups {
        let shape = ellipse(group.centre, group.cov, TWO_OF_THREE);
        scene.dash(shape, role_of(group.kind), 0.6 * unit);
    }
    expected(&mut scene, view, unit);
    scene
}

/// Middle and half side of a square that shows every mark, group and place with air around it.
fn frame_of(view: &FaceView) -> (ScenePoint, f64) {
    let spots = view.marks.iter().map(|mark| (mark.at, 4.0 * MARK_MM));
    let groups = view
        .groups
        .iter()
        .map(|group| (group.centre, reach(group.cov, TWO_OF_THREE)));
    let places = view
        .expected
        .iter()
        .map(|place| (place.centre, reach(place.cov, EIGHTY)));
    let around = reference(view).zip(view.tolerance_mm);
    let mut low = ScenePoint::new(f64::INFINITY, f64::INFINITY);
    let mut high = ScenePoint::new(f64::NEG_INFINITY, f64::NEG_INFINITY);
    for (point, reach) in spots.chain(groups).chain(places).chain(around) {
        let at = place(point);
        low = ScenePoint::new(low.x.min(at.x - reach), low.y.min(at.y - reach));
        high = ScenePoint::new(high.x.max(at.x + reach), high.y.max(at.y + reach));
    }
    if !(low.x.is_finite() && low.y.is_finite() && high.x.is_finite() && high.y.is_finite()) {
        return (ScenePoint::default(), LEAST_HALF_MM * 2.0);
    }
    let middle = ScenePoint::new(f64::midpoint(low.x, high.x), f64::midpoint(low.y, high.y));
    let half = (high.x - low.x).max(high.y - low.y) / 2.0 * 1.12;
    (middle, half.max(LEAST_HALF_MM))
}

fn reach(cov: Cov2, sds: f64) -> f64 {
    sds * cov.sd_x_mm().max(cov.sd_y_mm())
}

/// The centre that splits are measured from.
pub(super) fn reference(view: &FaceView) -> Option<PointMm> {
    view.groups
        .iter()
        .find(|group| group.kind == ArrowKind::Fletched)
        .map(|group| group.centre)
}

/// The ellipse of `sds` standard deviations (principal axes of a 2 x 2 covariance).
pub(super) fn ellipse(centre: PointMm, cov: Cov2, sds: f64) -> Shape {
    let mean = f64::midpoint(cov.xx_mm2, cov.yy_mm2);
    let half_difference = (cov.xx_mm2 - cov.yy_mm2) / 2.0;
    let root = half_difference.hypot(cov.xy_mm2);
    Shape::Ellipse {
        centre: place(centre),
        radius_x: sds * (mean + root).max(0.0).sqrt(),
        radius_y: sds * (mean - root).max(0.0).sqrt(),
        // Counter-clockwise with y up is clockwise negative with y down.
        turn_rad: -0.5 * cov.xy_mm2.atan2(half_difference),
    }
}

fn tolerance(scene: &mut Scene, view: &FaceView, unit: f64) {
    if let Some((centre, radius_mm)) = reference(view).zip(view.tolerance_mm) {
        scene.stroke(
            Shape::circle(place(centre), radius_mm),
            Role::Tolerance,
            0.4 * unit,
        );
    }
}

fn expected(scene: &mut Scene, view: &FaceView, unit: f64) {
    let Some(expected) = &view.expected else {
        return;
    };
    scene.items.push(SceneItem {
        shape: ellipse(expected.centre, expected.cov, EIGHTY),
        fill: Some(Fill {
            role: Role::Expected,
            opacity: 0.22,
        }),
        stroke: Some(Stroke {
            role: Role::Expected,
            width: 0.7 * unit,
            dashed: false,
        }),
    });
    let (at, arm) = (place(expected.centre), 1.6 * unit);
    for (dx, dy) in [(arm, 0.0), (0.0, arm)] {
        let line = Shape::line(at.moved(-dx, -dy), at.moved(dx, dy));
        scene.stroke(line, Role::Expected, 0.7 * unit);
    }
}

/// From the reference centre to the centre of every probe group.
fn split_arrows(scene: &mut Scene, view: &FaceView, unit: f64) {
    let Some(from) = reference(view) else { return };
    for group in &view.groups {
        if group.kind != ArrowKind::Fletched {
            let role = role_of(group.kind);
            arrow(scene, place(from), place(group.centre), 0.9 * unit, role);
        }
    }
}

pub(super) fn marks(scene: &mut Scene, view: &FaceView, unit: f64) {
    let radius = MARK_MM.max(1.9 * unit);
    let mut taken: Vec<_> = view.marks.iter().map(|spot| place(spot.at)).collect();
    for spot in &view.marks {
        mark(scene, spot.kind, place(spot.at), radius, spot.excluded);
    }
    // Numbers last, so that no mark covers them.
    for spot in &view.marks {
        let Some(number) = spot.number else { continue };
        let height = 3.6 * unit;
        let others: Vec<_> = taken
            .iter()
            .filter(|at| **at != place(spot.at))
            .copied()
            .collect();
        let middle = beside(place(spot.at), radius + 0.7 * height, &others);
        taken.push(middle);
        scene.label(
            middle.moved(0.0, 0.35 * height),
            LabelText::Number { number },
            role_of(spot.kind),
            height,
            Anchor::Middle,
        );
    }
}

/// A bar of a round length in the lower right corner.
pub(super) fn scale_bar(scene: &mut Scene, view: &FaceView, unit: f64) {
    let most_mm = 25.0 * unit;
    let [least_mm, longer @ ..] = view.lengths.round_mm();
    let length_mm = longer.into_iter().rfind(|length| *length <= most_mm);
    let length_mm = length_mm.unwrap_or(least_mm);
    let end = ScenePoint::new(
        scene.view_x + scene.view_width - 4.0 * unit,
        scene.view_y + scene.view_width - 4.0 * unit,
    );
    let start = end.moved(-length_mm, 0.0);
    scene.stroke(Shape::line(start, end), Role::Muted, 0.6 * unit);
    for tick in [start, end] {
        let line = Shape::line(tick.moved(0.0, -unit), tick.moved(0.0, unit));
        scene.stroke(line, Role::Muted, 0.6 * unit);
    }
    let text = LabelText::Length { length_mm };
    let at = start.moved(length_mm / 2.0, -2.0 * unit);
    scene.label(at, text, Role::Muted, 3.4 * unit, Anchor::Middle);
}

/// The legend on a strip of its own below the face, which makes the view taller.
pub(super) fn foot(scene: &mut Scene, entries: Vec<LegendEntry>) {
    let text = scene.view_width * 0.036;
    let strip = Shape::Rect {
        corner: ScenePoint::new(scene.view_x, scene.view_y + scene.view_height),
        width: scene.view_width,
        height: text * legend_height(entries.len()),
        round: 0.0,
    };
    let Shape::Rect { corner, height, .. } = strip else {
        return;
    };
    scene.view_height += height;
    scene.fill(strip, Role::Card);
    legend(scene, entries, corner, scene.view_width, text);
}

/// The kinds that are there, then the areas that are there.
pub(super) fn legend_entries(view: &FaceView) -> Vec<LegendEntry> {
    let kinds = [ArrowKind::Fletched, ArrowKind::Bare, ArrowKind::Broadhead];
    let shot = |kind: &ArrowKind| view.marks.iter().any(|mark| mark.kind == *kind);
    let mut entries: Vec<LegendEntry> = kinds
        .into_iter()
        .filter(shot)
        .map(LegendEntry::Kind)
        .collect();
    if view.expected.is_some() {
        entries.push(area(Role::Expected, Word::ExpectedAfter, true));
    }
    if view.tolerance_mm.is_some() && reference(view).is_some() {
        entries.push(area(Role::Tolerance, Word::Tolerance, false));
    }
    entries
}

fn area(role: Role, word: Word, filled: bool) -> LegendEntry {
    LegendEntry::Area(role, LabelText::Fixed { word }, filled)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_ellipse_turns_with_its_covariance() {
        // Standard deviations 3 along (1, 1) and 1 across it: xx = yy = 5, xy = 4.
        let cov = Cov2 {
            xx_mm2: 5.0,
            xy_mm2: 4.0,
            yy_mm2: 5.0,
        };
        let Shape::Ellipse {
            radius_x,
            radius_y,
            turn_rad,
            ..
        } = ellipse(PointMm::default(), cov, 1.0)
        else {
            panic!("an ellipse")
        };
        assert!((radius_x - 3.0).abs() < 1e-12 && (radius_y - 1.0).abs() < 1e-12);
        // Right and up on the face is right and up on the screen: 45 degrees counter-clockwise.
        assert!((turn_rad + std::f64::consts::FRAC_PI_4).abs() < 1e-12);
    }

    #[test]
    fn every_mark_lies_inside_the_view() {
        let spot = |kind, x, y| MarkView {
            kind,
            at: PointMm::new(x, y),
            number: None,
            excluded: false,
        };
        let view = FaceView {
            ground: FaceGround::Blank,
            marks: vec![
                spot(ArrowKind::Fletched, -10.0, 140.0),
                spot(ArrowKind::Bare, 260.0, 90.0),
            ],
            groups: vec![],
            expected: None,
            tolerance_mm: None,
            lengths: LengthUnit::Millimetre,
        };
        let scene = face_scene(&view);
        for spot in &view.marks {
            let at = place(spot.at);
            assert!(at.x > scene.view_x && at.x < scene.view_x + scene.view_width);
            assert!(at.y > scene.view_y && at.y < scene.view_y + scene.view_width);
        }
    }

    #[test]
    fn an_empty_face_still_has_a_view() {
        let view = FaceView {
            ground: FaceGround::Rings { radii_mm: vec![] },
            marks: vec![],
            groups: vec![],
            expected: None,
            tolerance_mm: None,
            lengths: LengthUnit::Millimetre,
        };
        let scene = face_scene(&view);
        assert!(scene.view_width > 0.0 && scene.view_height > scene.view_width);
    }
}
