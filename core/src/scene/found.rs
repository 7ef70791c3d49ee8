//! What the reader found, laid over the photograph it was found on, so that a person can see
//! whether to believe it. Scene units are pixels of the upright photograph.

use super::mark::{arrow, mark, role_of};
use super::{Anchor, LabelText, Role, Scene, ScenePoint, Shape, Word};
use crate::frame::PointPx;
use crate::measure::{Measured, MeasuredImpact, MeasuredTear, Trace, TraceKind};

/// The part of the photograph that is shown.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PhotoWindow {
    /// Left edge, px.
    pub left_px: f64,
    /// Top edge, px.
    pub top_px: f64,
    /// Width, px, above 0.
    pub width_px: f64,
    /// Height, px, above 0.
    pub height_px: f64,
}

impl PhotoWindow {
    /// The whole photograph.
    pub fn whole(width_px: f64, height_px: f64) -> Self {
        Self {
            left_px: 0.0,
            top_px: 0.0,
            width_px,
            height_px,
        }
    }

    /// The part around the impacts and tears with as much air again to every side, in the shape of
    /// the photograph and never outside it; the whole photograph where nothing was measured.
    pub fn around(measured: &Measured, width_px: f64, height_px: f64) -> Self {
        let impacts = measured.impacts.iter().map(|impact| impact.px);
        let tears = measured
            .tears
            .iter()
            .flat_map(|tear| [tear.point_px, tear.nock_px]);
        let spots: Vec<PointPx> = impacts.chain(tears).collect();
        let fold = |pick: fn(&PointPx) -> f64| {
            spots
                .iter()
                .map(pick)
                .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), value| {
                    (low.min(value), high.max(value))
                })
        };
        let ((x0, x1), (y0, y1)) = (fold(|p| p.x_px), fold(|p| p.y_px));
        if spots.is_empty() {
            return Self::whole(width_px, height_px);
        }
        let share = ((x1 - x0) / width_px).max((y1 - y0) / height_px);
        let share = (2.0 * share).clamp(0.15, 1.0);
        let (width, height) = (share * width_px, share * height_px);
        Self {
            left_px: (f64::midpoint(x0, x1) - width / 2.0).clamp(0.0, width_px - width),
            top_px: (f64::midpoint(y0, y1) - height / 2.0).clamp(0.0, height_px - height),
            width_px: width,
            height_px: height,
        }
    }
}

/// The photograph's window with every edge, ring, hole, slit and tear that was found in it.
pub fn found_scene(window: &PhotoWindow, measured: &Measured) -> Scene {
    let mut scene = Scene {
        view_x: window.left_px,
        view_y: window.top_px,
        view_width: window.width_px,
        view_height: window.height_px,
        items: Vec::new(),
    };
    let unit = window.width_px / 100.0;
    photograph(&mut scene, window);
    for trace in &measured.found {
        draw_trace(&mut scene, trace, unit);
    }
    for proposal in &measured.proposals {
        if !is_tapped(measured, proposal.px, 1.4 * unit) {
            let ring = Shape::circle(at(proposal.px), 1.4 * unit);
            scene.dash(ring, Role::WantsYou, 0.25 * unit);
        }
    }
    for (index, impact) in measured.impacts.iter().enumerate() {
        let away = away_from_kind(measured, impact);
        draw_impact(&mut scene, impact, (index as i64 + 1, away), unit);
    }
    for tear in &measured.tears {
        draw_tear(&mut scene, tear, unit);
    }
    scene
}

/// Whether a person has already marked the hole that is proposed.
fn is_tapped(measured: &Measured, proposed: PointPx, within_px: f64) -> bool {
    let mut impacts = measured.impacts.iter();
    impacts.any(|impact| impact.px.distance_px(proposed) < within_px)
}

/// Unit direction from the middle of an impact's kind through the impact: where its mark has room.
fn away_from_kind(measured: &Measured, impact: &MeasuredImpact) -> (f64, f64) {
    let alike = measured
        .impacts
        .iter()
        .filter(|other| other.kind == impact.kind);
    let (count, x, y) = alike.fold((0.0, 0.0, 0.0), |(count, x, y), other| {
        (count + 1.0, x + other.px.x_px, y + other.px.y_px)
    });
    let (dx, dy) = (impact.px.x_px - x / count, impact.px.y_px - y / count);
    let length = dx.hypot(dy);
    if length < 1.0 {
        (0.0, -1.0)
    } else {
        (dx / length, dy / length)
    }
}

fn at(point: PointPx) -> ScenePoint {
    ScenePoint::new(point.x_px, point.y_px)
}

fn photograph(scene: &mut Scene, window: &PhotoWindow) {
    let shape = Shape::Photograph {
        corner: ScenePoint::new(window.left_px, window.top_px),
        width: window.width_px,
        height: window.height_px,
    };
    // Neither fill nor stroke: the pen brings the pixels.
    scene.items.push(super::SceneItem {
        shape,
        fill: None,
        stroke: None,
    });
}

fn draw_trace(scene: &mut Scene, trace: &Trace, unit: f64) {
    let points: Vec<ScenePoint> = trace.px.iter().map(|px| at(*px)).collect();
    let line = Shape::Polyline { points };
    match trace.kind {
        TraceKind::Edge => {
            scene.stroke(line, Role::Found, 0.4 * unit);
            for end in [trace.px.first(), trace.px.last()].into_iter().flatten() {
                scene.stroke(Shape::circle(at(*end), unit), Role::Found, 0.3 * unit);
            }
        }
        TraceKind::Ring => {
            scene.stroke(line.clone(), Role::Card, 0.45 * unit);
            scene.stroke(line, Role::Found, 0.25 * unit);
        }
        TraceKind::EdgeLeftOut => {
            scene.stroke(line.clone(), Role::Card, 0.5 * unit);
            scene.dash(line, Role::Found, 0.3 * unit);
        }
        TraceKind::Length => scene.dash(line, Role::Found, 0.4 * unit),
        TraceKind::Hole | TraceKind::Slit => {
            scene.stroke(line.clone(), Role::Card, 0.4 * unit);
            scene.stroke(line, Role::Found, 0.22 * unit);
        }
        TraceKind::Standing => {
            scene.stroke(line.clone(), Role::Card, 0.5 * unit);
            scene.dash(line, Role::WantsYou, 0.3 * unit);
        }
        // Broken: no rim was seen there.
        TraceKind::Wound => {
            scene.stroke(line.clone(), Role::Card, 0.4 * unit);
            scene.dash(line, Role::Found, 0.22 * unit);
        }
        // Drawn as an arrow with its tear.
        TraceKind::Tear => {}
    }
}

/// The kind's mark beside the hole, never on it: the hole itself is what is to be seen.
fn draw_impact(
    scene: &mut Scene,
    impact: &MeasuredImpact,
    (number, away): (i64, (f64, f64)),
    unit: f64,
) {
    let centre = at(impact.px);
    let role = if impact.snapped {
        Role::Found
    } else {
        Role::WantsYou
    };
    for (dx, dy) in [(0.8, 0.0), (0.0, 0.8)] {
        let line = Shape::line(
            centre.moved(-dx * unit, -dy * unit),
            centre.moved(dx * unit, dy * unit),
        );
        scene.stroke(line.clone(), Role::Card, 0.4 * unit);
        scene.stroke(line, role, 0.2 * unit);
    }
    if !impact.snapped {
        scene.dash(
            Shape::circle(centre, 1.8 * unit),
            Role::WantsYou,
            0.3 * unit,
        );
        let text = LabelText::Fixed {
            word: Word::NotSnapped,
        };
        haloed(
            scene,
            centre.moved(2.4 * unit, 0.7 * unit),
            text,
            Role::WantsYou,
            unit,
        );
    }
    let flag = centre.moved(3.4 * unit * away.0, 3.4 * unit * away.1);
    mark(scene, impact.kind, flag, 0.85 * unit, false);
    let number = LabelText::Number { number };
    // On the far side of the mark, so that it never lies on the hole.
    let side = if away.0 < 0.0 { -1.0 } else { 1.0 };
    let beside = flag.moved(side * 1.3 * unit, 0.75 * unit);
    haloed(scene, beside, number, role_of(impact.kind), unit);
    if side < 0.0 {
        anchor_last(scene, Anchor::End);
    }
}

fn haloed(scene: &mut Scene, at: ScenePoint, text: LabelText, role: Role, unit: f64) {
    scene.label(at, text, role, 2.1 * unit, Anchor::Start);
    if let Some(item) = scene.items.last_mut() {
        item.stroke = Some(super::Stroke {
            role: Role::Card,
            width: 0.5 * unit,
            dashed: false,
        });
    }
}

fn draw_tear(scene: &mut Scene, tear: &MeasuredTear, unit: f64) {
    let (point, nock) = (at(tear.point_px), at(tear.nock_px));
    if !tear.accepted {
        scene.dash(Shape::circle(point, 2.0 * unit), Role::WantsYou, 0.3 * unit);
        return;
    }
    scene.stroke(Shape::line(point, nock), Role::Card, 0.6 * unit);
    arrow(scene, point, nock, 0.3 * unit, Role::Found);
    scene.body(
        Shape::circle(point, 0.5 * unit),
        Role::Card,
        Role::Found,
        0.2 * unit,
    );
    let text = LabelText::Offset {
        x_mm: tear.x_mm,
        y_mm: tear.y_mm,
        plus_minus_mm: 2.0 * tear.sd_mm,
    };
    let below = ScenePoint::new(
        f64::midpoint(point.x, nock.x),
        point.y.max(nock.y) + 5.2 * unit,
    );
    haloed(scene, below, text, Role::Ink, unit);
    anchor_last(scene, Anchor::Middle);
}

fn anchor_last(scene: &mut Scene, to: Anchor) {
    if let Some(Shape::Label { anchor, .. }) = scene.items.last_mut().map(|item| &mut item.shape) {
        *anchor = to;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::frame::{ArrowKind, Cov2};
    use crate::impact::NotSnapped;
    use crate::measure::{PlaneFacts, Proposal, ReadAs};

    fn impact(x_px: f64, snapped: bool) -> MeasuredImpact {
        MeasuredImpact {
            kind: ArrowKind::Bare,
            px: PointPx::new(x_px, 500.0),
            x_mm: 0.0,
            y_mm: 0.0,
            sd_mm: 0.1,
            reading: Cov2::default(),
            common: Cov2::default(),
            snapped,
            read_as: if snapped {
                ReadAs::Crisp
            } else {
                ReadAs::AsTapped
            },
            reason: (!snapped).then_some(NotSnapped::NothingRound),
            radius_mm: None,
            tone: None,
        }
    }

    fn measured(impacts: Vec<MeasuredImpact>, proposed_x_px: &[f64]) -> Measured {
        let proposal = |x_px: &f64| Proposal {
            x_mm: 0.0,
            y_mm: 0.0,
            score: 0.9,
            px: PointPx::new(*x_px, 500.0),
        };
        Measured {
            plane: PlaneFacts {
                residual_px: 0.0,
                residual_mm: 0.0,
                k1: 0.0,
                k1_learned: false,
                px_per_mm: 10.0,
                scale_sd_x: 0.0,
                scale_sd_y: 0.0,
                turn_sd_rad: 0.0,
                warnings: Vec::new(),
            },
            impacts,
            proposals: proposed_x_px.iter().map(proposal).collect(),
            tears: Vec::new(),
            found: Vec::new(),
            camera: None,
        }
    }

    fn circles_asking(scene: &Scene) -> usize {
        let asks = |item: &&super::super::SceneItem| {
            matches!(item.shape, Shape::Circle { .. })
                && item
                    .stroke
                    .is_some_and(|stroke| stroke.role == Role::WantsYou)
        };
        scene.items.iter().filter(asks).count()
    }

    #[test]
    fn a_tap_without_a_hole_asks_and_a_snapped_one_does_not() {
        let window = PhotoWindow::whole(4000.0, 3000.0);
        let sure = found_scene(&window, &measured(vec![impact(900.0, true)], &[]));
        let unsure = found_scene(&window, &measured(vec![impact(900.0, false)], &[]));
        assert_eq!((circles_asking(&sure), circles_asking(&unsure)), (0, 1));
    }

    #[test]
    fn a_proposal_is_shown_only_where_nobody_has_tapped() {
        let window = PhotoWindow::whole(4000.0, 3000.0);
        let seen = measured(vec![impact(900.0, true)], &[905.0, 2000.0]);
        assert_eq!(circles_asking(&found_scene(&window, &seen)), 1);
    }

    #[test]
    fn a_close_up_stays_on_the_photograph_and_holds_every_impact() {
        let seen = measured(vec![impact(20.0, true), impact(300.0, true)], &[]);
        let window = PhotoWindow::around(&seen, 4000.0, 3000.0);
        assert!(window.left_px >= 0.0 && window.top_px >= 0.0);
        assert!(window.left_px <= 20.0 && window.left_px + window.width_px >= 300.0);
        assert!((window.width_px / window.height_px - 4.0 / 3.0).abs() < 1e-9);
    }
}
