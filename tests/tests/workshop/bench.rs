//! A workshop with an invented kit and bow in a folder of its own.

use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicU32, Ordering};

use shimwright::frame::{ArrowKind, PointMm, Side};
use shimwright::record::{BowDetails, Surface, TrialDraft, TrialImpact, TrialTear};
use shimwright::spacer::{Fitting, KitDraft, PairDraft, Seat};
use shimwright::swap::{Found, StepKind, SwapEvent};
use shimwright::verdict::RestRoom;
use shimwright::workshop::{SwapPage, Workshop};

/// A folder that goes when the test ends.
pub(crate) struct Folder(PathBuf);

impl Folder {
    pub(crate) fn new() -> Self {
        static NUMBER: AtomicU32 = AtomicU32::new(0);
        let number = NUMBER.fetch_add(1, Ordering::Relaxed);
        let name = format!("shimwright-test-{}-{number}", std::process::id());
        let path = std::env::temp_dir().join(name);
        std::fs::create_dir_all(&path).unwrap();
        Self(path)
    }

    pub(crate) fn path(&self) -> &Path {
        &self.0
    }

    pub(crate) fn file(&self) -> PathBuf {
        self.0.join("bench.workshop")
    }
}

impl Drop for Folder {
    fn drop(&mut self) {
        let _ = std::fs::remove_dir_all(&self.0);
    }
}

pub(crate) fn kit() -> KitDraft {
    KitDraft {
        name: "Bench 4.4".into(),
        total_mm: 4.4,
        tolerance_mm: 0.05,
        pairs: vec![
            PairDraft::new("A", 1.3, 3.1),
            PairDraft::new("B", 1.6, 2.8),
            PairDraft::new("C", 1.9, 2.5),
        ],
    }
}

pub(crate) fn alike(pair: &str, thick: Side) -> Fitting {
    Fitting::alike(Seat::new(pair, thick))
}

/// A workshop with one kit and one bow fitted with pair C, thick left, its checks passed.
pub(crate) fn workshop(folder: &Folder) -> (Workshop, i64) {
    let mut workshop = Workshop::open(&folder.file()).unwrap();
    let kit_id = workshop.save_kit(None, &kit(), &[]).unwrap().id;
    let details = BowDetails {
        kit_id: Some(kit_id),
        owner: "rack 7".into(),
        // Its rest stands where it must: the spacers are what is left to move.
        rest_room: Some(RestRoom {
            left: 0.0,
            right: 0.0,
        }),
        ..BowDetails::named("Heron", 838.0)
    };
    let fitting = alike("C", Side::Left);
    let bow = workshop.add_bow(&details, Some(&fitting), 1_000).unwrap();
    workshop.pass_open_checks(bow.id, 1_001).unwrap();
    (workshop, bow.id)
}

/// Fletched arrows around the middle, bare shafts `split_mm` to the right of them.
pub(crate) fn face(split_mm: f64) -> TrialDraft {
    let spots = [(-9.0, 6.0), (7.0, 9.0), (4.0, -11.0), (-3.0, -5.0)];
    let shot = |kind, shift: f64| {
        let at = move |(x, y): (f64, f64)| PointMm::new(x + shift, y);
        spots.map(|spot| TrialImpact::typed(kind, at(spot), 1.5))
    };
    TrialDraft {
        surface: Surface::Face,
        distance_m: 18.288,
        shooter: String::new(),
        arrow_setup_id: None,
        impacts: [
            shot(ArrowKind::Fletched, 0.0),
            shot(ArrowKind::Bare, split_mm),
        ]
        .concat(),
        tears: Vec::new(),
        photo: None,
        plane: None,
        note: "calm".into(),
    }
}

pub(crate) fn paper() -> TrialDraft {
    TrialDraft {
        surface: Surface::Paper,
        distance_m: 1.8,
        impacts: Vec::new(),
        tears: vec![TrialTear {
            kind: ArrowKind::Fletched,
            tear: PointMm::new(-12.0, 3.0),
            sd_mm: 0.8,
            px: None,
            excluded: None,
        }],
        ..face(0.0)
    }
}

/// Confirms steps, answering "as recorded", until the wanted one is due.
pub(crate) fn walk_to(workshop: &mut Workshop, bow_id: i64, kind: StepKind) -> SwapPage {
    for _ in 0..60 {
        let page = workshop.swap_page(bow_id).unwrap();
        if page.current.as_ref().unwrap().kind == kind {
            return page;
        }
        step_on(workshop, bow_id, &page);
    }
    panic!("no {kind:?} in the guide");
}

pub(crate) fn step_on(workshop: &mut Workshop, bow_id: i64, page: &SwapPage) -> SwapPage {
    let asks = page.current.as_ref().unwrap().kind.wants_answer();
    if asks {
        workshop.swap_found(bow_id, &Found::AsRecorded, 5_000)
    } else {
        workshop.swap_done(bow_id, 5_000)
    }
    .unwrap()
}

/// Confirms every step to the end.
pub(crate) fn finish(workshop: &mut Workshop, bow_id: i64) -> SwapPage {
    for _ in 0..60 {
        let page = workshop.swap_page(bow_id).unwrap();
        let after = step_on(workshop, bow_id, &page);
        if matches!(after.event, SwapEvent::Finished { .. }) {
            return after;
        }
    }
    panic!("the guide has no end");
}
