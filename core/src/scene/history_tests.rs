use super::*;
use crate::frame::Side;
use crate::scene::SceneItem;
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

fn fitted(at_ms: i64) -> HistoryFitting {
    HistoryFitting {
        at_ms,
        fitting: Fitting::alike(Seat::new("C", Side::Right)),
        expected: None,
    }
}

fn view(points: Vec<HistoryPoint>, fittings: Vec<HistoryFitting>) -> HistoryView {
    HistoryView {
        points,
        fittings,
        tolerance_mm: 25.0,
        lengths: LengthUnit::Millimetre,
        letters: 1.0,
    }
}

#[test]
fn the_axis_is_divided_by_round_figures_of_its_unit() {
    for (lengths, unit_mm) in [(LengthUnit::Millimetre, 1.0), (LengthUnit::Inch, 25.4)] {
        let points = vec![point(1_000, 60.0), point(2_000, -35.0)];
        let view = HistoryView {
            lengths,
            ..view(points, vec![])
        };
        let steps = Chart::of(&view, vec![1_000, 2_000]).step_mm / unit_mm;
        assert!((steps - steps.round()).abs() < 1e-9, "{steps} {lengths:?}");
    }
}

#[test]
fn right_is_up_and_a_swap_lies_between_its_trials() {
    let points = vec![point(3_000, 5.0), point(1_000, 60.0)];
    let view = view(points, vec![fitted(2_000)]);
    let chart = Chart::of(&view, vec![1_000, 3_000]);
    assert!(chart.y(60.0) < chart.y(5.0));
    let swap = chart.x(2_000) - chart.column(0.5) + chart.column(0.0);
    assert!(chart.x(1_000) < swap && swap < chart.x(3_000));
}

/// Where each label of a scene begins and ends at most, by the line it stands on.
fn labels(scene: &Scene) -> Vec<(f64, f64, f64)> {
    let items = scene.items.iter();
    let labels = items.filter_map(|item| match &item.shape {
        Shape::Label {
            at,
            text,
            height,
            anchor,
            ..
        } => {
            let room = match text {
                LabelText::Day { .. } => DAY * height,
                LabelText::Fitted { .. } => FITTED * height,
                _ => return None,
            };
            let share = match anchor {
                Anchor::Start => 0.0,
                Anchor::Middle => 0.5,
                Anchor::End => 1.0,
            };
            Some((at.y, at.x - share * room, at.x + (1.0 - share) * room))
        }
        _ => None,
    });
    labels.collect()
}

/// The days that are named, in the order of their labels.
fn days(scene: &Scene) -> Vec<i64> {
    let day = |shape: &Shape| match shape {
        Shape::Label {
            text: LabelText::Day { at_ms },
            ..
        } => Some(*at_ms),
        _ => None,
    };
    let items = scene.items.iter();
    items.filter_map(|item| day(&item.shape)).collect()
}

#[test]
fn letters_grow_as_asked_and_no_label_lies_on_another() {
    for (letters, trials) in [(1.0, 3), (1.0, 40), (1.5, 12), (2.0, 3), (2.0, 40)] {
        let points = (0..trials).map(|day| point(2_000 * day, 5.0));
        let fittings = (0..trials).step_by(2);
        let fittings = fittings.map(|day| fitted(2_000 * day + 1_000));
        let view = HistoryView {
            letters,
            ..view(points.collect(), fittings.collect())
        };
        let scene = history_scene(&view);
        let heights = scene.items.iter().filter_map(|item| match item.shape {
            Shape::Label { height, .. } => Some(height),
            _ => None,
        });
        assert!(
            heights
                .into_iter()
                .all(|height| (height - TEXT * letters).abs() < 1e-9)
        );
        let days = days(&scene);
        assert!(days.is_sorted(), "{letters} {trials}: {days:?}");
        assert_eq!(days.last(), Some(&(2_000 * (trials - 1))));
        let mut labels = labels(&scene);
        labels.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
        assert!(labels.len() >= 2, "{letters} {trials}");
        for pair in labels.windows(2) {
            let apart = pair[0].0 < pair[1].0 || pair[0].2 <= pair[1].1 + 1e-9;
            assert!(apart, "{letters} {trials}: {pair:?}");
        }
    }
}

#[test]
fn an_empty_history_is_a_chart_without_points() {
    let items = history_scene(&view(vec![], vec![])).items;
    let line = |item: &SceneItem| matches!(item.shape, Shape::Polyline { .. });
    assert!(!items.iter().any(line));
}
