//! The tune sheet: what stands on it, and that it can be drawn whatever a bow is called.

use shimwright::frame::{Probe, Side};
use shimwright::plane::Paper;
use shimwright::record::{ChangeKind, SetupChange};
use shimwright::scene::{Scene, Shape};
use shimwright::sheet::{SheetError, SheetText, SheetTime, TuneSheet};
use shimwright::workshop::Workshop;

use crate::workshop::bench::{Folder, alike, face, paper, workshop};

/// Words that say what was asked.
fn told(sheet: &TuneSheet) -> Vec<String> {
    let word = |text: &SheetText| match text {
        SheetText::Language => "de".to_owned(),
        SheetText::Own { text } => text.clone(),
        other => format!("{other:?} – geprüft, größer, ½ Maß"),
    };
    sheet.asks().iter().map(word).collect()
}

/// The same bow with another pair since, shot on both.
fn swapped(folder: &Folder) -> (Workshop, i64) {
    let (mut workshop, bow) = workshop(folder);
    workshop.save_trial(bow, &face(80.0), 2_000).unwrap();
    workshop.save_trial(bow, &face(60.0), 3_000).unwrap();
    workshop
        .record_fitting(bow, &alike("A", Side::Right), 4_000)
        .unwrap();
    (workshop, bow)
}

fn shots(sheet: &TuneSheet) -> Vec<(SheetTime, i64)> {
    let sections = sheet.sections.iter();
    let names = sections.flat_map(|section| section.facts.iter().map(|fact| &fact.name));
    let shots = names.filter_map(|name| match name {
        SheetText::Shot {
            time,
            at_ms,
            probe: Probe::Bare,
            ..
        } => Some((*time, *at_ms)),
        _ => None,
    });
    shots.collect()
}

#[test]
fn before_is_the_last_shot_on_other_spacers_and_now_the_last_on_these() {
    let folder = Folder::new();
    let (mut workshop, bow) = swapped(&folder);
    let sheet = workshop.tune_sheet(bow, 4_500).unwrap();
    assert_eq!(shots(&sheet), [(SheetTime::Before, 3_000)]);
    assert!(sheet.asks().contains(&SheetText::NothingShotSince));

    workshop.save_trial(bow, &face(10.0), 5_000).unwrap();
    workshop.save_trial(bow, &face(12.0), 6_000).unwrap();
    let sheet = workshop.tune_sheet(bow, 7_000).unwrap();
    let both = [(SheetTime::Before, 3_000), (SheetTime::Now, 6_000)];
    assert_eq!(shots(&sheet), both);
    assert!(!sheet.asks().contains(&SheetText::NothingShotSince));
    let pictures: Vec<usize> = sheet
        .sections
        .iter()
        .map(|section| section.pictures.len())
        .collect();
    assert_eq!(
        &pictures[..2],
        [1, 2],
        "what is fitted, then before and now"
    );
}

#[test]
fn with_one_fitting_before_is_what_was_shot_with_the_rest_elsewhere() {
    let folder = Folder::new();
    let (mut workshop, bow) = workshop(&folder);
    workshop.save_trial(bow, &face(80.0), 2_000).unwrap();
    let moved = SetupChange {
        kind: ChangeKind::RestMoved,
        value_mm: Some(1.5),
        note: String::new(),
        at_ms: 3_000,
    };
    workshop.record_change(bow, &moved).unwrap();
    workshop.save_trial(bow, &face(50.0), 4_000).unwrap();
    let sheet = workshop.tune_sheet(bow, 5_000).unwrap();
    let both = [(SheetTime::Before, 2_000), (SheetTime::Now, 4_000)];
    assert_eq!(shots(&sheet), both);
}

#[test]
fn figures_are_those_of_the_history() {
    let folder = Folder::new();
    let (mut workshop, bow) = swapped(&folder);
    workshop.save_trial(bow, &paper(), 5_000).unwrap();
    let history = workshop.history(bow).unwrap();
    let newest = history.splits.last().unwrap();
    let sheet = workshop.tune_sheet(bow, 6_000).unwrap();
    let bare = sheet.asks().into_iter().find_map(|text| match text {
        SheetText::Split {
            probe: Probe::Bare,
            x,
            arrows,
            ..
        } => Some((x, arrows)),
        _ => None,
    });
    let (x, arrows) = bare.unwrap();
    let figures = [x.value_mm, x.low95_mm, x.high95_mm].map(f64::to_bits);
    let told = [newest.x.value_mm, newest.x.low95_mm, newest.x.high95_mm].map(f64::to_bits);
    assert_eq!((figures, arrows), (told, newest.probe_arrows));
    let tear = |text: &SheetText| {
        matches!(
            text,
            SheetText::Split {
                probe: Probe::Paper,
                ..
            }
        )
    };
    assert!(sheet.asks().iter().any(tear));
}

#[test]
fn the_same_sheet_makes_the_same_bytes_and_both_papers_their_own() {
    let folder = Folder::new();
    let (workshop, bow) = swapped(&folder);
    let sheet = workshop.tune_sheet(bow, 7_000).unwrap();
    let words = told(&sheet);
    let [a4, again, letter] =
        [Paper::A4, Paper::A4, Paper::Letter].map(|paper| sheet.pdf(&words, paper).unwrap());
    assert!(a4.starts_with(b"%PDF-1.7"));
    assert_eq!(a4, again);
    assert_ne!(a4, letter);
    let wide = sheet.png(&words, 1000).unwrap();
    let picture = png::Decoder::new(std::io::Cursor::new(wide))
        .read_info()
        .unwrap();
    assert_eq!(picture.info().width, 1000);
}

#[test]
fn words_that_were_not_asked_for_and_pictures_of_no_size_are_refused() {
    let folder = Folder::new();
    let (workshop, bow) = workshop(&folder);
    let sheet = workshop.tune_sheet(bow, 2_000).unwrap();
    let mut words = told(&sheet);
    for width_px in [0, 399, 2_401, u32::MAX] {
        let refused = sheet.png(&words, width_px);
        assert!(
            matches!(refused, Err(SheetError::Width { .. })),
            "{width_px}"
        );
    }
    words.pop();
    let asked = words.len() + 1;
    let refused = sheet.pdf(&words, Paper::A4);
    let given = words.len();
    assert_eq!(refused, Err(SheetError::Words { asked, given }));
    assert!(matches!(
        sheet.png(&words, 800),
        Err(SheetError::Words { .. })
    ));
}

#[test]
fn any_text_is_drawn_and_runs_onto_further_pages() {
    let folder = Folder::new();
    let (workshop, bow) = swapped(&folder);
    let mut sheet = workshop.tune_sheet(bow, 7_000).unwrap();
    let odd = [
        "",
        " ",
        "\u{0}\u{7f}\t\r\n",
        "弓 🏹 قوس",
        "A\u{301}",
        "(\\)%<<>>",
        "\u{200b}\u{feff}",
    ];
    for text in odd {
        text.clone_into(&mut sheet.name);
        let words: Vec<String> = sheet.asks().iter().map(|_| text.to_owned()).collect();
        assert!(sheet.pdf(&words, Paper::Letter).is_ok(), "{text:?}");
        assert!(sheet.png(&words, 400).is_ok(), "{text:?}");
    }
    sheet.name = "W".repeat(200);
    let words: Vec<String> = sheet.asks().iter().map(|_| "Wort ".repeat(400)).collect();
    assert!(sheet.pdf(&words, Paper::A4).is_ok());
    assert_eq!(sheet.png(&words, 2_400), Err(SheetError::Long));
}

#[test]
fn every_label_of_every_drawing_is_asked_for_in_order() {
    let folder = Folder::new();
    let (workshop, bow) = swapped(&folder);
    let sheet = workshop.tune_sheet(bow, 7_000).unwrap();
    let labels = |scene: &Scene| {
        let is_label =
            |item: &&shimwright::scene::SceneItem| matches!(item.shape, Shape::Label { .. });
        scene.items.iter().filter(is_label).count()
    };
    let pictures = sheet.sections.iter().flat_map(|section| &section.pictures);
    let drawn: usize = pictures.map(|picture| labels(&picture.scene)).sum();
    let asks = sheet.asks();
    let asked = asks
        .iter()
        .filter(|text| matches!(text, SheetText::Label { .. }));
    assert!(drawn > 0);
    assert_eq!(asked.count(), drawn);
}
