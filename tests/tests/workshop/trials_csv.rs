//! Trials as a table.

use shimwright::record::Exclusion;

use crate::workshop::bench::{Folder, face, paper, workshop};

#[test]
fn every_trial_is_a_line_with_its_split_and_a_struck_one_without() {
    let folder = Folder::new();
    let (mut workshop, bow) = workshop(&folder);
    let shot = workshop.save_trial(bow, &face(80.0), 2_000).unwrap();
    let struck = workshop.save_trial(bow, &face(60.0), 3_000).unwrap();
    workshop.save_trial(bow, &paper(), 4_000).unwrap();
    let badly = Some(Exclusion::BadShot);
    workshop.exclude_impact(shot.id, 0, badly).unwrap();
    workshop.strike_trial(struck.id, true, 5_000).unwrap();

    let table = workshop.trials_csv(bow).unwrap();
    let lines: Vec<Vec<&str>> = table
        .split_terminator("\r\n")
        .map(|line| line.split(',').collect())
        .collect();
    let cell = |line: usize, name: &str| {
        let column = lines[0].iter().position(|head| *head == name).unwrap();
        lines[line][column]
    };
    assert_eq!(lines.len(), 4);
    assert!(lines.iter().all(|line| line.len() == lines[0].len()));
    let counts = ["fletched", "bare", "broadheads", "tears"].map(|name| cell(1, name));
    assert_eq!(counts, ["3", "4", "0", "0"]);
    let split = workshop.history(bow).unwrap().splits[0].x;
    assert_eq!(cell(1, "bare right (mm)"), format!("{:.3}", split.value_mm));
    assert_eq!(
        cell(1, "bare right low 95 (mm)"),
        format!("{:.3}", split.low95_mm)
    );
    assert_eq!(cell(2, "struck"), "1970-01-01T00:00:05Z");
    assert_eq!(cell(2, "bare right (mm)"), "");
    assert_eq!(
        (cell(3, "surface"), cell(3, "nock right (mm)")),
        ("paper", "-12.000")
    );
}
