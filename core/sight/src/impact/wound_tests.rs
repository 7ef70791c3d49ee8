//! Tests of what a wound is read as.

use super::super::colours::Colour;
use super::super::hole::Backdrop;
use super::super::relief::Relief;
use super::*;

const RED: Colour = [205.0, 60.0, 55.0];
const NEARLY_BLACK: Colour = [12.0, 10.0, 11.0];

struct Painted<F: Fn(PointMm) -> Colour>(F);

impl<F: Fn(PointMm) -> Colour> Surface for Painted<F> {
    fn brightness(&self, at: PointMm) -> f32 {
        (self.0)(at).into_iter().fold(0.0, f32::max)
    }

    fn colours(&self, centre: PointMm, half_mm: f64, step_mm: f64) -> Colours {
        Colours::new(
            [0, 1, 2]
                .map(|c: usize| Relief::sample(centre, half_mm, step_mm, |at| (self.0)(at)[c])),
        )
    }
}

fn read(paint: impl Fn(PointMm) -> Colour, shaft_mm: Option<f64>) -> Result<Wound, NotSnapped> {
    let options = SnapOptions {
        search_mm: 2.75,
        step_mm: 0.2,
        backdrop: Backdrop::Plain,
        tap_sd_mm: 0.6,
        shaft_mm,
    };
    Seen::around(PointMm::new(0.5, -0.4), &options, &Painted(paint)).wound(&options)
}

fn off_mm(wound: &Wound) -> f64 {
    wound.centre.norm_mm()
}

#[test]
fn an_open_hole_is_read_to_tenths_whatever_lies_behind_it() {
    for inside in [NEARLY_BLACK, [250.0, 252.0, 250.0], [40.0, 90.0, 200.0]] {
        let hole = |p: PointMm| if p.norm_mm() < 3.0 { inside } else { RED };
        let wound = read(hole, None).unwrap();
        assert!(off_mm(&wound) < 0.15, "{wound:?}");
        assert!(wound.sd_mm < 0.4, "{wound:?}");
    }
}

#[test]
fn flaps_belong_to_the_wound_and_do_not_pull_its_middle() {
    let torn = |p: PointMm| match (p.norm_mm() < 3.2, p.y_mm > 0.6) {
        (true, true) => [165.0, 70.0, 65.0],
        (true, false) => NEARLY_BLACK,
        _ => RED,
    };
    let wound = read(torn, None).unwrap();
    assert!(off_mm(&wound) < 0.6, "{wound:?}");
}

#[test]
fn a_crack_says_less_than_an_open_hole_and_owns_up_to_it() {
    let crack = |p: PointMm| match (p.norm_mm() < 3.0, p.x_mm.abs() < 0.4 && p.y_mm.abs() < 2.0) {
        (_, true) => NEARLY_BLACK,
        // Flaps, each turned to the light in its own way.
        (true, _) => [[196.0; 3], [236.0; 3], [180.0; 3], [150.0; 3]]
            [usize::from(p.x_mm > 0.0) + 2 * usize::from(p.y_mm > 0.0)],
        _ => [215.0; 3],
    };
    let open = |p: PointMm| if p.norm_mm() < 3.0 { NEARLY_BLACK } else { RED };
    let (crack, open) = (read(crack, None).unwrap(), read(open, None).unwrap());
    assert!(off_mm(&crack) < 0.6, "{crack:?}");
    assert!(crack.sd_mm > 1.2 * open.sd_mm, "{crack:?} {open:?}");
    assert!(crack.score < open.score - 5.0);
}

#[test]
fn two_holes_in_one_are_told_by_the_shaft() {
    let away = |p: PointMm, x_mm: f64| (p - PointMm::new(x_mm, 0.0)).norm_mm();
    let pair = |p: PointMm| {
        let near = away(p, 0.0).min(away(p, 3.2)) < 3.0;
        if near { NEARLY_BLACK } else { RED }
    };
    assert!(read(pair, None).unwrap().radius_mm > 3.6);
    let known = read(pair, Some(6.0)).unwrap();
    assert!(off_mm(&known) < 1.0, "{known:?}");
}

#[test]
fn clean_paper_and_a_printed_line_are_no_wound() {
    assert_eq!(read(|_| RED, None), Err(NotSnapped::NothingRound));
    let line = |p: PointMm| if p.y_mm.abs() < 0.3 { [40.0; 3] } else { RED };
    assert_eq!(read(line, None), Err(NotSnapped::NothingRound));
}
