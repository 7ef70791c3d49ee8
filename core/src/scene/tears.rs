//! Paper tears beside each other, at one scale: the point's hole, the slits the vanes cut, and the way
//! the nock end went. Scene units are millimetres on the paper.

use super::mark::arrow;
use super::{Anchor, LabelText, Role, Scene, ScenePoint, Shape};
use crate::frame::PointMm;

/// One tear.
#[derive(Debug, Clone, PartialEq)]
pub struct TearView {
    /// Where the nock end passed minus where the point passed, mm.
    pub tear: PointMm,
    /// Half-width of the stated interval on either axis, mm.
    pub plus_minus_mm: f64,
    /// Diameter of the shaft, mm.
    pub shaft_mm: f64,
}

/// Room around the largest tear for vanes and text, mm.
const MARGIN_MM: f64 = 13.0;
/// How far a vane's edge stands from the shaft's axis, mm, in the drawing.
const VANE_MM: f64 = 11.0;

/// Tears side by side: with more in a row, a phone shows what stands below each too small to be read outdoors.
const ABREAST: usize = 2;

/// Any number of tears, in rows.
pub fn tears_scene(tears: &[TearView]) -> Scene {
    let half = tears
        .iter()
        .map(|view| view.tear.norm_mm())
        .fold(8.0, f64::max)
        + MARGIN_MM;
    let pitch = 2.0 * half + 4.0;
    let text = half * 0.16;
    let row_height = 2.0 * half + 4.2 * text;
    let columns = tears.len().clamp(1, ABREAST);
    let rows = tears.len().div_ceil(columns).max(1);
    let mut scene = Scene::sized(pitch * columns as f64, row_height * rows as f64);
    for (index, view) in tears.iter().enumerate() {
        let top = row_height * (index / columns) as f64;
        let x = pitch * ((index % columns) as f64 + 0.5);
        let point = ScenePoint::new(x, top + half + text * 0.5);
        one_tear(&mut scene, view, point, half);
        let foot = ScenePoint::new(x, top + 2.0 * half + text * 1.9);
        said_below(&mut scene, view, foot, text);
    }
    scene
}

/// Sideways and up or down below each other: beside each other they run into the next tear's.
fn said_below(scene: &mut Scene, view: &TearView, at: ScenePoint, text: f64) {
    let plus_minus_mm = view.plus_minus_mm;
    let sideways = LabelText::Sideways {
        x_mm: view.tear.x_mm,
        plus_minus_mm,
    };
    let height = LabelText::Height {
        y_mm: view.tear.y_mm,
        plus_minus_mm,
    };
    scene.label(at, sideways, Role::Ink, text, Anchor::Middle);
    let below = at.moved(0.0, 1.25 * text);
    scene.label(below, height, Role::Ink, text, Anchor::Middle);
}

fn one_tear(scene: &mut Scene, view: &TearView, point: ScenePoint, half: f64) {
    let sheet = Shape::centred_rect(point, 2.0 * half, 2.0 * half, 2.0);
    scene.body(sheet, Role::Paper, Role::Line, 0.4);
    let nock = point.moved(view.tear.x_mm, -view.tear.y_mm);
    for vane in 0..3 {
        let angle_rad = std::f64::consts::TAU * f64::from(vane) / 3.0 - std::f64::consts::FRAC_PI_2;
        let tip = nock.moved(VANE_MM * angle_rad.cos(), VANE_MM * angle_rad.sin());
        scene.stroke(Shape::line(nock, tip), Role::Hole, 1.1);
    }
    scene.stroke(Shape::line(point, nock), Role::Hole, view.shaft_mm);
    scene.fill(Shape::circle(point, view.shaft_mm / 2.0 + 0.6), Role::Hole);
    scene.fill(Shape::circle(nock, view.shaft_mm / 2.0), Role::Hole);
    arrow(scene, point, nock, 1.1, Role::Spacer);
    scene.body(Shape::circle(point, 1.4), Role::Card, Role::Spacer, 0.5);
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn three_tears_stand_in_two_rows_inside_the_picture() {
        let view = TearView {
            tear: PointMm::new(-20.0, 5.0),
            plus_minus_mm: 1.0,
            shaft_mm: 6.0,
        };
        let scene = tears_scene(&[view.clone(), view.clone(), view]);
        let places: Vec<(f64, f64)> = scene
            .items
            .iter()
            .filter_map(|item| match item.shape {
                Shape::Label { at, .. } => Some((at.x, at.y)),
                _ => None,
            })
            .collect();
        let [first, _, second, _, third, last] = places[..] else {
            panic!("two labels below each: {places:?}");
        };
        let same = |a: f64, b: f64| (a - b).abs() < 1e-9;
        assert!(first.0 < second.0 && same(first.1, second.1));
        assert!(same(third.0, first.0) && third.1 > first.1);
        assert!(last.1 < scene.view_height && second.0 < scene.view_width);
    }

    #[test]
    fn nock_left_is_drawn_to_the_left() {
        let view = TearView {
            tear: PointMm::new(-20.0, 5.0),
            plus_minus_mm: 1.0,
            shaft_mm: 6.0,
        };
        let tip = tears_scene(&[view])
            .items
            .into_iter()
            .find_map(|item| match item.shape {
                Shape::Line { from, to } if item.stroke.is_some_and(|s| s.role == Role::Spacer) => {
                    Some((to.x - from.x, to.y - from.y))
                }
                _ => None,
            });
        let (dx, dy) = tip.unwrap();
        assert!(dx < 0.0 && dy < 0.0, "left and up the page: {dx} {dy}");
    }
}
