//! What the reader of paper tears makes of places where nobody shot through paper.

use shimwright::frame::PointPx;
use shimwright::measure::{PhotoSession, Reference, TearTap};

use super::Truth;
use crate::table::{Bar, Row, share};

/// Shaft asked for, mm.
const SHAFT_MM: f64 = 6.0;
/// The whole picture is tried as well, on a grid of so many places.
const ACROSS: usize = 6;
const DOWN: usize = 5;

/// Places tried in one photograph, and those that were read as a tear.
#[derive(Debug, Clone, Default)]
pub(super) struct Tried {
    places: usize,
    read: Vec<PointPx>,
}

impl Tried {
    /// Taps every hole and doubtful place read by hand, and a grid: print, paper, table and all.
    pub(super) fn on(jpeg: &[u8], reference: &Reference, truth: &Truth) -> Self {
        let Ok(mut session) = PhotoSession::open(jpeg) else {
            return Self::default();
        };
        if session.fit(reference, None, None).is_err() {
            return Self::default();
        }
        let size = (session.photo().width(), session.photo().height());
        let mut tried = Self::default();
        for px in places(truth, size) {
            let tap = TearTap {
                px,
                shaft_mm: SHAFT_MM,
                nock_px: None,
                sd_px: None,
            };
            let Ok((tear, _)) = session.tear(&tap) else {
                continue;
            };
            tried.places += 1;
            tried.read.extend(tear.accepted.then_some(px));
        }
        tried
    }
}

fn places(truth: &Truth, (width, height): (usize, usize)) -> Vec<PointPx> {
    let holes = truth.holes.iter().map(|[x, y]| PointPx::new(*x, *y));
    let doubtful = truth.unsure.iter();
    let doubtful = doubtful.filter_map(|u| Some(PointPx::new(*u.first()?, *u.get(1)?)));
    let at = |k: usize, of: usize, size: usize| (k as f64 + 0.5) / of as f64 * size as f64;
    let grid = (0..ACROSS).flat_map(|i| (0..DOWN).map(move |j| (i, j)));
    let grid = grid.map(|(i, j)| PointPx::new(at(i, ACROSS, width), at(j, DOWN, height)));
    holes.chain(doubtful).chain(grid).collect()
}

/// The row of all photographs.
pub(super) fn row<'a>(tried: impl Iterator<Item = (&'a str, &'a Tried)>) -> Row {
    let (mut places, mut photos, mut notes) = (0, 0, Vec::new());
    for (name, tried) in tried {
        photos += usize::from(tried.places > 0);
        places += tried.places;
        let told = |p: &PointPx| format!("{name}: a tear at ({:.0}, {:.0}) px", p.x_px, p.y_px);
        notes.extend(tried.read.iter().map(told));
    }
    let mut row = Row::new("Tears where nobody shot paper", photos)
        .with("places tapped", places as f64, Bar::None)
        .with("read as a tear", notes.len() as f64, Bar::AtMost(0.0))
        .with("share", share(notes.len(), places), Bar::None);
    row.notes = notes;
    row
}
