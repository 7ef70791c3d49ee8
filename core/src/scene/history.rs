//! The history of a bow's split: every trial with its interval, the swaps between them, and the
//! tolerance band. Right is up.

use super::mark::{mark, role_of};
use super::{Anchor, LabelText, Role, Scene, ScenePoint, Shape, Word};
use crate::frame::ArrowKind;
use crate::spacer::Fitting;

/// One split as shot.
#[derive(Debug, Clone, PartialEq)]
pub struct HistoryPoint {
    /// When, epoch ms.
    pub at_ms: i64,
    /// The probe.
    pub kind: ArrowKind,
    /// Sideways split at the chart's distance, mm, positive right.
    pub x_mm: f64,
    /// Lower end of its interval, mm.
    pub low_mm: f64,
    /// Upper end of its interval, mm.
    pub high_mm: f64,
}

/// A swap between trials.
#[derive(Debug, Clone, PartialEq)]
pub struct HistoryFitting {
    /// When, epoch ms.
    pub at_ms: i64,
    /// What was fitted.
    pub fitting: Fitting,
    /// The split that was expected after it, mm, and the ends of its interval; none where nothing
    /// was predicted.
    pub expected: Option<HistoryPoint>,
}

/// Everything the chart shows, in any order.
#[derive(Debug, Clone, PartialEq)]
pub struct HistoryView {
    /// The trials.
    pub points: Vec<HistoryPoint>,
    /// The swaps.
    pub fittings: Vec<HistoryFitting>,
    /// The user's tolerance at the chart's distance, mm.
    pub tolerance_mm: f64,
}

const WIDTH: f64 = 200.0;
const HEIGHT: f64 = 126.0;
const LEFT: f64 = 22.0;
const RIGHT: f64 = 6.0;
const TOP: f64 = 21.0;
const BOTTOM: f64 = 14.0;
const TEXT: f64 = 6.2;
const MARK: f64 = 3.2;
/// Half of what a fitting's label takes at most.
const LABEL_ROOM: f64 = 24.0;

/// Trials evenly spaced in their order (days apart and minutes apart are read alike), swaps
/// between them, the latest at the right.
pub fn history_scene(view: &HistoryView) -> Scene {
    let mut points: Vec<&HistoryPoint> = view.points.iter().collect();
    points.sort_by_key(|point| point.at_ms);
    let times = distinct_times(&points);
    let chart = Chart::of(view, times);
    let mut scene = Scene::sized(WIDTH, HEIGHT);
    chart.ground(&mut scene, view.tolerance_mm);
    for fitting in &view.fittings {
        chart.fitting(&mut scene, fitting);
    }
    for kind in [ArrowKind::Bare, ArrowKind::Broadhead, ArrowKind::Fletched] {
        let of_kind: Vec<&HistoryPoint> = points
            .iter()
            .copied()
            .filter(|point| point.kind == kind)
            .collect();
        chart.series(&mut scene, kind, &of_kind);
    }
    scene
}

fn distinct_times(sorted: &[&HistoryPoint]) -> Vec<i64> {
    let mut times: Vec<i64> = sorted.iter().map(|point| point.at_ms).collect();
    times.dedup();
    times
}

/// Where times and millimetres lie on the picture.
struct Chart {
    times: Vec<i64>,
    low_mm: f64,
    high_mm: f64,
    step_mm: f64,
}

impl Chart {
    fn of(view: &HistoryView, times: Vec<i64>) -> Self {
        let expected = view
            .fittings
            .iter()
            .filter_map(|fitting| fitting.expected.as_ref());
        let every = view.points.iter().chain(expected);
        let (low, high) = every.fold(
            (-1.5 * view.tolerance_mm, 1.5 * view.tolerance_mm),
            |(low, high), point| (low.min(point.low_mm), high.max(point.high_mm)),
        );
        let step_mm = [5.0, 10.0, 20.0, 25.0, 50.0, 100.0, 200.0, 500.0]
            .into_iter()
            .find(|step| (high - low) / step <= 6.0)
            .unwrap_or(1000.0);
        Self {
            times,
            low_mm: (low / step_mm).floor() * step_mm,
            high_mm: (high / step_mm).ceil() * step_mm,
            step_mm,
        }
    }

    fn y(&self, value_mm: f64) -> f64 {
        let share = (self.high_mm - value_mm) / (self.high_mm - self.low_mm);
        TOP + share * (HEIGHT - TOP - BOTTOM)
    }

    /// Trials stand in the middle of equal columns.
    fn column(&self, index: f64) -> f64 {
        let pitch = (WIDTH - LEFT - RIGHT) / self.times.len().max(1) as f64;
        LEFT + pitch * (index + 0.5)
    }

    fn x(&self, at_ms: i64) -> f64 {
        self.column(self.times.partition_point(|time| *time < at_ms) as f64)
    }

    fn ground(&self, scene: &mut Scene, tolerance_mm: f64) {
        let (top, bottom) = (self.y(tolerance_mm), self.y(-tolerance_mm));
        let band = Shape::Rect {
            corner: ScenePoint::new(LEFT, top),
            width: WIDTH - LEFT - RIGHT,
            height: bottom - top,
            round: 0.0,
        };
        scene.tint(band, Role::Tolerance, 0.14);
        let steps = ((self.high_mm - self.low_mm) / self.step_mm).round() as i32;
        for step in 0..=steps {
            self.grid_line(scene, self.low_mm + f64::from(step) * self.step_mm);
        }
        let at = ScenePoint::new(LEFT, 8.0);
        let text = LabelText::Fixed {
            word: Word::SplitAxis,
        };
        scene.label(
            at.moved(-LEFT + 2.0, 0.0),
            text,
            Role::Muted,
            TEXT,
            Anchor::Start,
        );
        for (index, at_ms) in self.times.iter().enumerate() {
            let at = ScenePoint::new(self.column(index as f64), HEIGHT - 3.5);
            let text = LabelText::Day { at_ms: *at_ms };
            scene.label(at, text, Role::Muted, TEXT, Anchor::Middle);
        }
    }

    fn grid_line(&self, scene: &mut Scene, value_mm: f64) {
        let y = self.y(value_mm);
        let line = Shape::line(ScenePoint::new(LEFT, y), ScenePoint::new(WIDTH - RIGHT, y));
        let (role, width) = if value_mm == 0.0 {
            (Role::Muted, 0.6)
        } else {
            (Role::Line, 0.4)
        };
        scene.stroke(line, role, width);
        let at = ScenePoint::new(LEFT - 3.0, y + 0.34 * TEXT);
        let text = LabelText::AxisValue { value_mm };
        scene.label(at, text, Role::Muted, TEXT, Anchor::End);
    }

    /// A dashed brass line between the trials before and after, with what was fitted above it, and
    /// the expected interval at the trial that followed.
    fn fitting(&self, scene: &mut Scene, fitting: &HistoryFitting) {
        let x = self.x(fitting.at_ms) - self.column(0.5) + self.column(0.0);
        let x = x.clamp(LEFT, WIDTH - RIGHT);
        let line = Shape::line(ScenePoint::new(x, TOP), ScenePoint::new(x, HEIGHT - BOTTOM));
        scene.dash(line, Role::Spacer, 0.7);
        let text = LabelText::Fitted {
            fitting: fitting.fitting.clone(),
        };
        let anchor = match x {
            left if left < LEFT + LABEL_ROOM => Anchor::Start,
            right if right > WIDTH - RIGHT - LABEL_ROOM => Anchor::End,
            _ => Anchor::Middle,
        };
        let at = ScenePoint::new(x, TOP - 2.0);
        scene.label(at, text, Role::Spacer, TEXT, anchor);
        if let Some(expected) = &fitting.expected {
            self.expected(scene, fitting.at_ms, expected);
        }
    }

    fn expected(&self, scene: &mut Scene, at_ms: i64, expected: &HistoryPoint) {
        let x = self.x(at_ms);
        let (top, bottom) = (self.y(expected.high_mm), self.y(expected.low_mm));
        let band = Shape::Rect {
            corner: ScenePoint::new(x - 7.0, top),
            width: 14.0,
            height: bottom - top,
            round: 2.0,
        };
        scene.tint(band.clone(), Role::Expected, 0.14);
        scene.stroke(band, Role::Expected, 0.5);
        let y = self.y(expected.x_mm);
        let line = Shape::line(ScenePoint::new(x - 7.0, y), ScenePoint::new(x + 7.0, y));
        scene.stroke(line, Role::Expected, 0.8);
    }

    fn series(&self, scene: &mut Scene, kind: ArrowKind, points: &[&HistoryPoint]) {
        let role = role_of(kind);
        let at = |point: &HistoryPoint| ScenePoint::new(self.x(point.at_ms), self.y(point.x_mm));
        if points.len() > 1 {
            let line = Shape::Polyline {
                points: points.iter().map(|point| at(point)).collect(),
            };
            scene.stroke(line, role, 0.9);
        }
        for point in points {
            let x = self.x(point.at_ms);
            let whisker = Shape::line(
                ScenePoint::new(x, self.y(point.high_mm)),
                ScenePoint::new(x, self.y(point.low_mm)),
            );
            scene.stroke(whisker, role, 1.6);
            mark(scene, kind, at(point), MARK, false);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::frame::Side;
    use crate::spacer::Seat;

    fn point(at_ms: i64, x_mm: f64) -> HistoryPoint {
        HistoryPoint {
            at_ms,
            kind: ArrowKind::Bare,
            x_mm,
            low_mm: x_mm - 20.0,
            high_mm: x_mm + 20.0,
        }
    }

    #[test]
    fn right_is_up_and_a_swap_lies_between_its_trials() {
        let view = HistoryView {
            points: vec![point(3_000, 5.0), point(1_000, 60.0)],
            fittings: vec![HistoryFitting {
                at_ms: 2_000,
                fitting: Fitting::alike(Seat::new("C", Side::Right)),
                expected: None,
            }],
            tolerance_mm: 25.0,
        };
        let chart = Chart::of(&view, vec![1_000, 3_000]);
        assert!(chart.y(60.0) < chart.y(5.0));
        let swap = chart.x(2_000) - chart.column(0.5) + chart.column(0.0);
        assert!(chart.x(1_000) < swap && swap < chart.x(3_000));
    }

    #[test]
    fn an_empty_history_is_a_chart_without_points() {
        let view = HistoryView {
            points: vec![],
            fittings: vec![],
            tolerance_mm: 25.0,
        };
        assert!(
            history_scene(&view)
                .items
                .iter()
                .all(|item| !matches!(item.shape, Shape::Polyline { .. }))
        );
    }
}
