//! Arrow set-ups of a bow.

use shimwright::flight::ArrowSetup;

use crate::workshop::bench::{Folder, face, workshop};

#[test]
fn arrows_put_away_stay_with_what_was_shot_with_them() {
    let folder = Folder::new();
    let (mut workshop, bow) = workshop(&folder);
    let arrows = workshop
        .save_arrow_setup(bow, None, "Field", &ArrowSetup::usual())
        .unwrap();
    let mut shot = face(60.0);
    shot.arrow_setup_id = Some(arrows.id);
    let trial = workshop.save_trial(bow, &shot, 2_000).unwrap();
    let before = workshop.give_verdict(bow, 3_000).unwrap();
    workshop
        .archive_arrow_setup(arrows.id, true, 4_000)
        .unwrap();
    let away = workshop.arrow_setups(bow).unwrap();
    assert_eq!(away[0].archived_ms, Some(4_000));
    assert_eq!(
        workshop.trial(trial.id).unwrap().shot.arrow_setup_id,
        Some(arrows.id)
    );
    let after = workshop.give_verdict(bow, 5_000).unwrap();
    assert_eq!(after.verdict, before.verdict);
    workshop
        .archive_arrow_setup(arrows.id, false, 6_000)
        .unwrap();
    assert_eq!(workshop.arrow_setups(bow).unwrap()[0].archived_ms, None);
    let missing = workshop.archive_arrow_setup(arrows.id + 1, true, 7_000);
    assert!(missing.is_err(), "{missing:?}");
}
