//! Walk-back: a slant, a bend, or neither.

use shimwright::frame::{ArrowKind, Side};
use shimwright::group::Group;
use shimwright::scatter::PooledScatter;
use shimwright::walkback::{self, WalkBackError, WalkBackMeaning};

use super::{shots, within};

fn walk(sideways: impl Fn(f64) -> f64) -> Vec<(Group, f64)> {
    [18.0, 27.0, 36.0, 45.0]
        .map(|d| {
            let x = sideways(d);
            let places = [
                (x - 4.0, 0.0),
                (x + 4.0, 3.0),
                (x, -3.0),
                (x + 1.0, 1.0),
                (x - 1.0, 0.0),
            ];
            let group =
                Group::of(ArrowKind::Fletched, &shots(ArrowKind::Fletched, &places)).unwrap();
            (group, d)
        })
        .to_vec()
}

#[test]
fn walk_back_tells_slant_from_bend() {
    let read = |groups: &[(Group, f64)]| {
        let scatter = PooledScatter::pooled(groups.iter().map(|(g, d)| (g, *d)));
        walkback::read(groups, &scatter)
    };
    let straight = read(&walk(|_| 0.0)).unwrap();
    assert_eq!(straight.meaning, WalkBackMeaning::OnTheLine);
    let slant = read(&walk(|d| 3.0 * (d - 18.0))).unwrap();
    assert_eq!(
        slant.meaning,
        WalkBackMeaning::Slant {
            far_side: Side::Right
        }
    );
    within(slant.slant_mm_per_m.value, 3.0, 1e-6);
    within(slant.beside_mm.value, -54.0, 1e-6);
    let left = read(&walk(|d| -3.0 * (d - 18.0))).unwrap();
    assert_eq!(
        left.meaning,
        WalkBackMeaning::Slant {
            far_side: Side::Left
        }
    );
    within(
        left.slant_mm_per_m.value,
        -slant.slant_mm_per_m.value,
        1e-12,
    );
    let bend = read(&walk(|d| 0.3 * (d - 18.0).powi(2))).unwrap();
    assert_eq!(
        bend.meaning,
        WalkBackMeaning::Bend {
            far_side: Side::Right
        }
    );
    within(bend.bend_mm_per_m2.unwrap().value, 0.3, 1e-6);
    let beside = read(&walk(|_| -25.0)).unwrap();
    assert_eq!(beside.meaning, WalkBackMeaning::Beside { side: Side::Left });
    assert_eq!(
        read(&walk(|_| 0.0)[..1]).unwrap_err(),
        WalkBackError::TooFewDistances
    );
    assert!(read(&walk(|d| d)[..2]).unwrap().bend_mm_per_m2.is_none());
    assert!(matches!(
        read(&[(walk(|d| d)[0].0, 400.0)]),
        Err(WalkBackError::Distance(_))
    ));
}
