//! Drawings of both axles: a bow as it stands, and a swap from one fitting to another.

use super::axle::{
    AxleView, BowView, CAM_HEIGHT, REACH, TEXT, axle_scene, bare_axle, side_labels, string_side,
    thickness_labels,
};
use super::{Anchor, LabelText, Role, Scene, SceneItem, ScenePoint, Shape, Stroke, Word};

/// The arrow between two columns, and the room it stands in.
const ARROW: f64 = 44.0;
const ARROW_SPACE: f64 = 76.0;

/// From the top of a row of a swap down to its axle, and to the line under it.
const MIDDLE_LINE: f64 = TEXT * 1.6 + 8.0 + CAM_HEIGHT / 2.0;
const SHIFT_LINE: f64 = MIDDLE_LINE + CAM_HEIGHT / 2.0 + TEXT * 1.25;

/// Both axles of a bow, small and without text, for a list.
pub fn bow_tile_scene(bow: &BowView) -> Scene {
    let row = CAM_HEIGHT + 22.0;
    let mut scene = Scene::centred(REACH + 2.0, row);
    scene.place(bare_axle(&bow.top), 0.0, -row / 2.0);
    scene.place(bare_axle(&bow.bottom), 0.0, row / 2.0);
    scene
}

/// Both axles of a bow, large, each with its name and its thicknesses.
pub fn bow_scene(bow: &BowView) -> Scene {
    let row = CAM_HEIGHT + 2.0 * TEXT + 26.0;
    let mut scene = Scene::sized(2.0 * REACH + 8.0, 2.0 * row);
    for (index, (axle, word)) in named_axles(bow).into_iter().enumerate() {
        let top = row * index as f64;
        scene.place(axle_row_head(axle, word), 4.0, top);
        scene.place(
            axle_scene(axle),
            REACH + 4.0,
            top + 1.5 * TEXT + 12.0 + CAM_HEIGHT / 2.0,
        );
    }
    scene
}

fn named_axles(bow: &BowView) -> [(&AxleView, Word); 2] {
    [(&bow.top, Word::TopAxle), (&bow.bottom, Word::BottomAxle)]
}

/// The line above an axle: its name at the left, the pair it carries at the right.
fn axle_row_head(axle: &AxleView, word: Word) -> Scene {
    let mut scene = Scene::default();
    let baseline = TEXT * 1.1;
    bold(
        &mut scene,
        ScenePoint::new(0.0, baseline),
        LabelText::Fixed { word },
    );
    scene.label(
        ScenePoint::new(2.0 * REACH, baseline),
        LabelText::SpacerPair {
            name: axle.pair.clone(),
        },
        Role::Muted,
        TEXT,
        Anchor::End,
    );
    scene
}

fn bold(scene: &mut Scene, at: ScenePoint, text: LabelText) {
    scene.fill(
        Shape::Label {
            at,
            text,
            height: TEXT,
            anchor: Anchor::Start,
            bold: true,
        },
        Role::Ink,
    );
}

/// A swap: what is fitted now, an arrow, what to fit; a row for each axle, and under each row how
/// far its cam moves.
pub fn swap_scene(from: &BowView, to: &BowView) -> Scene {
    let column = 2.0 * REACH;
    let row = CAM_HEIGHT + 3.0 * TEXT + 34.0;
    let head = TEXT * 1.9;
    let width = 2.0 * column + ARROW_SPACE + 8.0;
    let mut scene = Scene::sized(width, head + 2.0 * row - 16.0);
    for (x, word) in [(4.0, Word::Now), (4.0 + column + ARROW_SPACE, Word::Fit)] {
        bold(
            &mut scene,
            ScenePoint::new(x, TEXT),
            LabelText::Fixed { word },
        );
    }
    let rows = named_axles(from).into_iter().zip(named_axles(to));
    for (index, ((old, word), (new, _))) in rows.enumerate() {
        let top = head + row * index as f64;
        let pair = swap_row(old, new, word, column + ARROW_SPACE);
        scene.place(pair, 4.0, top);
    }
    // Under the right column, on the line on which the left one says how far the last cam moves.
    let line = head + row + SHIFT_LINE;
    scene.place(string_side(), width - 4.0 - REACH, line);
    scene
}

/// One axle before and after, its columns `pitch` apart.
fn swap_row(old: &AxleView, new: &AxleView, word: Word, pitch: f64) -> Scene {
    let mut scene = Scene::default();
    let middle_y = MIDDLE_LINE;
    for (axle, x) in [(old, 0.0), (new, pitch)] {
        scene.place(axle_row_head(axle, word), x, 0.0);
        scene.place(bare_axle(axle), x + REACH, middle_y);
        scene.place(thickness_labels(axle), x + REACH, middle_y);
        scene.place(side_labels(), x + REACH, middle_y);
    }
    scene.place(
        rightward_arrow(ARROW),
        pitch - f64::midpoint(ARROW_SPACE, ARROW),
        middle_y,
    );
    let shift_mm = new.offset_mm() - old.offset_mm();
    scene.label(
        ScenePoint::new(0.0, SHIFT_LINE),
        cam_move(shift_mm),
        Role::Muted,
        TEXT,
        Anchor::Start,
    );
    scene
}

fn cam_move(shift_mm: f64) -> LabelText {
    // Below half a hundredth the drawing and the words would both read 0.00.
    if shift_mm.abs() < 0.005 {
        LabelText::Fixed {
            word: Word::CamStays,
        }
    } else {
        LabelText::CamMove { shift_mm }
    }
}

/// An arrow of the given length to the right, its middle height at y = 0.
fn rightward_arrow(length: f64) -> Scene {
    let mut scene = Scene::default();
    let point = |x: f64, y: f64| ScenePoint::new(x, y);
    scene.stroke(
        Shape::line(point(0.0, 0.0), point(length, 0.0)),
        Role::Muted,
        4.0,
    );
    scene.items.push(SceneItem {
        shape: Shape::Polyline {
            points: vec![
                point(length - 13.0, -13.0),
                point(length, 0.0),
                point(length - 13.0, 13.0),
            ],
        },
        fill: None,
        stroke: Some(Stroke {
            role: Role::Muted,
            width: 4.0,
            dashed: false,
        }),
    });
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

    #[test]
    fn a_swap_says_how_far_each_cam_moves() {
        let from = BowView {
            top: axle(2.5, 1.9),
            bottom: axle(2.5, 1.9),
        };
        let to = BowView {
            top: axle(1.9, 2.5),
            bottom: axle(2.5, 1.9),
        };
        let said: Vec<LabelText> = swap_scene(&from, &to)
            .items
            .into_iter()
            .filter_map(|item| match item.shape {
                Shape::Label { text, .. } => Some(text),
                _ => None,
            })
            .collect();
        assert!(said.iter().any(
            |text| matches!(text, LabelText::CamMove { shift_mm } if (shift_mm + 0.6).abs() < 1e-9)
        ));
        assert!(said.contains(&LabelText::Fixed {
            word: Word::CamStays
        }));
    }
}
