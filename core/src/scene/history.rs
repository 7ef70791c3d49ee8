//! The history of a bow's split: every trial with its interval, the swaps between them, and the
//! tolerance band. Right is up.

use super::mark::{mark, role_of};
use super::{Anchor, LabelText, Role, Scene, ScenePoint, Shape, Word};
use crate::frame::ArrowKind;
use crate::record::LengthUnit;
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
    /// What the axis is written in.
    pub lengths: LengthUnit,
    /// How many times their usual size letters are to have, 1 to 2; the chart makes room for them.
    pub letters: f64,
}

const WIDTH: f64 = 200.0;
/// Between the labels above and below.
const PLOT: f64 = 91.0;
const RIGHT: f64 = 6.0;
const MARK: f64 = 3.2;
const TEXT: f64 = 6.2;
/// Room for labels, in heights of their letters: left of the plot, above it and below it.
const LEFT: f64 = 22.0 / TEXT;
const TOP: f64 = 21.0 / TEXT;
const BOTTOM: f64 = 14.0 / TEXT;
/// What a day's and a fitting's label take at most, in heights of their letters.
const DAY: f64 = 3.4;
const FITTED: f64 = 48.0 / TEXT;

/// Trials evenly spaced in their order (days apart and minutes apart are read alike), swaps
/// between them, the latest at the right.
pub fn history_scene(view: &HistoryView) -> Scene {
    let mut points: Vec<&HistoryPoint> = view.points.iter().collect();
    points.sort_by_key(|point| point.at_ms);
    let times = distinct_times(&points);
    let chart = Chart::of(view, times);
    let mut scene = Scene::sized(WIDTH, chart.bottom() + BOTTOM * chart.text);
    chart.ground(&mut scene, view.tolerance_mm);
    chart.days(&mut scene);
    chart.fittings(&mut scene, &view.fittings);
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
    /// Height of its letters.
    text: f64,
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
        let round_mm @ [.., coarsest_mm] = view.lengths.round_mm();
        let few = |step: &f64| (high - low) / step <= 6.0;
        let step_mm = round_mm.into_iter().find(few);
        let step_mm = step_mm.unwrap_or(2.0 * coarsest_mm);
        Self {
            times,
            low_mm: (low / step_mm).floor() * step_mm,
            high_mm: (high / step_mm).ceil() * step_mm,
            step_mm,
            text: TEXT * view.letters.clamp(1.0, 2.0),
        }
    }

    fn left(&self) -> f64 {
        LEFT * self.text
    }

    fn top(&self) -> f64 {
        TOP * self.text
    }

    fn bottom(&self) -> f64 {
        self.top() + PLOT
    }

    fn y(&self, value_mm: f64) -> f64 {
        let share = (self.high_mm - value_mm) / (self.high_mm - self.low_mm);
        self.top() + share * PLOT
    }

    /// Trials stand in the middle of equal columns.
    fn column(&self, index: f64) -> f64 {
        let pitch = (WIDTH - self.left() - RIGHT) / self.times.len().max(1) as f64;
        self.left() + pitch * (index + 0.5)
    }

    fn x(&self, at_ms: i64) -> f64 {
        self.column(self.times.partition_point(|time| *time < at_ms) as f64)
    }

    fn ground(&self, scene: &mut Scene, tolerance_mm: f64) {
        let (top, bottom) = (self.y(tolerance_mm), self.y(-tolerance_mm));
        let band = Shape::Rect {
            corner: ScenePoint::new(self.left(), top),
            width: WIDTH - self.left() - RIGHT,
            height: bottom - top,
            round: 0.0,
        };
        scene.tint(band, Role::Tolerance, 0.14);
        let steps = ((self.high_mm - self.low_mm) / self.step_mm).round() as i32;
        for step in 0..=steps {
            self.grid_line(scene, self.low_mm + f64::from(step) * self.step_mm);
        }
        let at = ScenePoint::new(2.0, 1.29 * self.text);
        let text = LabelText::Fixed {
            word: Word::SplitAxis,
        };
        scene.label(at, text, Role::Muted, self.text, Anchor::Start);
    }

    /// The day below every trial that has room for it, the newest always; in their order: the first label
    /// of a day names the day, those that follow it may tell the time alone.
    fn days(&self, scene: &mut Scene) {
        let half = DAY * self.text / 2.0;
        let mut free = f64::INFINITY;
        let mut with_room = Vec::new();
        for (index, at_ms) in self.times.iter().enumerate().rev() {
            let x = self.column(index as f64);
            if x + half <= free {
                free = x - half;
                with_room.push((x, *at_ms));
            }
        }
        for (x, at_ms) in with_room.into_iter().rev() {
            let at = ScenePoint::new(x, self.bottom() + 1.69 * self.text);
            let text = LabelText::Day { at_ms };
            scene.label(at, text, Role::Muted, self.text, Anchor::Middle);
        }
    }

    fn grid_line(&self, scene: &mut Scene, value_mm: f64) {
        let y = self.y(value_mm);
        let ends = [self.left(), WIDTH - RIGHT].map(|x| ScenePoint::new(x, y));
        let line = Shape::line(ends[0], ends[1]);
        let (role, width) = if value_mm == 0.0 {
            (Role::Muted, 0.6)
        } else {
            (Role::Line, 0.4)
        };
        scene.stroke(line, role, width);
        let at = ScenePoint::new(self.left() - 3.0, y + 0.34 * self.text);
        let text = LabelText::AxisValue { value_mm };
        scene.label(at, text, Role::Muted, self.text, Anchor::End);
    }

    /// A dashed brass line between the trials before and after each swap, the expected interval at
    /// the trial that followed, and what was fitted above the line, where the next one leaves room.
    fn fittings(&self, scene: &mut Scene, fittings: &[HistoryFitting]) {
        let mut free = f64::INFINITY;
        let mut newest: Vec<&HistoryFitting> = fittings.iter().collect();
        newest.sort_by_key(|fitting| std::cmp::Reverse(fitting.at_ms));
        for fitting in newest {
            let x = self.x(fitting.at_ms) - self.column(0.5) + self.column(0.0);
            let x = x.clamp(self.left(), WIDTH - RIGHT);
            let ends = [self.top(), self.bottom()].map(|y| ScenePoint::new(x, y));
            scene.dash(Shape::line(ends[0], ends[1]), Role::Spacer, 0.7);
            let room = FITTED * self.text;
            let (anchor, from) = match x {
                left if left < self.left() + room / 2.0 => (Anchor::Start, x),
                right if right > WIDTH - RIGHT - room / 2.0 => (Anchor::End, x - room),
                _ => (Anchor::Middle, x - room / 2.0),
            };
            if from + room <= free {
                free = from;
                let text = LabelText::Fitted {
                    fitting: fitting.fitting.clone(),
                };
                let at = ScenePoint::new(x, self.top() - 0.32 * self.text);
                scene.label(at, text, Role::Spacer, self.text, anchor);
            }
            if let Some(expected) = &fitting.expected {
                self.expected(scene, fitting.at_ms, expected);
            }
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
#[path = "history_tests.rs"]
mod tests;
