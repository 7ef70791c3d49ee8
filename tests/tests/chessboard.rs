//! The plane and lens against real photographs and OpenCV (tests/data/chessboard/SOURCE.md).

use serde::Deserialize;
use shimwright::frame::{PointMm, PointPx};
use shimwright::plane::{Homography, Lens, Pair};

#[derive(Deserialize)]
struct Seen {
    photos: Vec<Board>,
    lens: LensGrid,
}

#[derive(Deserialize)]
struct Board {
    photo: String,
    size_px: [usize; 2],
    corners_px: Vec<[f64; 2]>,
    outermost_homography: [[f64; 3]; 3],
}

#[derive(Deserialize)]
struct LensGrid {
    k1: f64,
    size_px: [usize; 2],
    px: Vec<[f64; 2]>,
    undistorted_px: Vec<[f64; 2]>,
}

const COLUMNS: usize = 9;
const ROWS: usize = 6;
const SQUARE_MM: f64 = 25.0;

fn seen() -> Seen {
    serde_json::from_str(include_str!("../data/chessboard/corners.json")).unwrap()
}

fn px([x, y]: [f64; 2]) -> PointPx {
    PointPx::new(x, y)
}

fn mm(index: usize) -> PointMm {
    PointMm::new(
        (index % COLUMNS) as f64 * SQUARE_MM,
        (index / COLUMNS) as f64 * SQUARE_MM,
    )
}

impl Board {
    fn pairs(&self, lens: Lens, rim: bool) -> Vec<Pair> {
        let on_rim = |i: &usize| {
            let (x, y) = (i % COLUMNS, i / COLUMNS);
            x == 0 || y == 0 || x == COLUMNS - 1 || y == ROWS - 1
        };
        (0..COLUMNS * ROWS)
            .filter(|i| on_rim(i) == rim)
            .map(|i| (mm(i), lens.undistort(px(self.corners_px[i]))))
            .collect()
    }

    /// Error at the inner corners after a fit to the rim, percent of the board's diagonal; and
    /// what the rim itself leaves.
    fn errors(&self, k1: f64) -> (f64, f64) {
        let lens = Lens::new(k1, self.size_px[0], self.size_px[1]);
        let rim = self.pairs(lens, true);
        let h = Homography::fit(&rim).unwrap();
        let inner = self.pairs(lens, false);
        let sum: f64 = inner
            .iter()
            .map(|(m, p)| (h.to_mm(*p).unwrap() - *m).norm_mm().powi(2))
            .sum();
        let diagonal_mm = mm(COLUMNS * ROWS - 1).norm_mm();
        (
            100.0 * (sum / inner.len() as f64).sqrt() / diagonal_mm,
            h.rms_px(&rim),
        )
    }

    /// The k1 that leaves least at the rim.
    fn best_k1(&self) -> f64 {
        let steps = (-200..=200).map(|i| f64::from(i) * 0.001);
        steps
            .min_by(|a, b| self.errors(*a).1.total_cmp(&self.errors(*b).1))
            .unwrap()
    }
}

#[test]
fn the_rim_of_a_real_board_predicts_its_inside() {
    let boards = seen().photos;
    let (mut with, mut without) = (0.0, 0.0);
    for board in &boards {
        let k1 = board.best_k1();
        let (inner, plain) = (board.errors(k1).0, board.errors(0.0).0);
        println!(
            "{}: k1 {k1:+.3}, inner corners {inner:.3} % of the diagonal, {plain:.3} % without k1",
            board.photo
        );
        with += inner * inner / boards.len() as f64;
        without += plain * plain / boards.len() as f64;
    }
    let (with, without) = (with.sqrt(), without.sqrt());
    println!("all: {with:.3} % with k1, {without:.3} % without");
    assert!(with <= 0.15 && without >= 3.0 * with, "{with} {without}");
}

#[test]
fn the_homography_of_four_corners_is_opencvs() {
    for board in seen().photos {
        let corner = [0, COLUMNS - 1, COLUMNS * ROWS - 1, COLUMNS * (ROWS - 1)];
        let pairs: Vec<Pair> = corner
            .iter()
            .map(|i| (mm(*i), px(board.corners_px[*i])))
            .collect();
        let ours = Homography::fit(&pairs).unwrap();
        let theirs = projective(&board.outermost_homography);
        for i in 0..COLUMNS * ROWS {
            let (a, b) = (ours.to_px(mm(i)), theirs(mm(i)));
            assert!(a.distance_px(b) < 1e-6, "{}: {a:?} {b:?}", board.photo);
        }
    }
}

/// Applies a 3 x 3 matrix as a projective map.
fn projective(h: &[[f64; 3]; 3]) -> impl Fn(PointMm) -> PointPx {
    let h = *h;
    move |m| {
        let row = |r: usize| h[r][0] * m.x_mm + h[r][1] * m.y_mm + h[r][2];
        PointPx::new(row(0) / row(2), row(1) / row(2))
    }
}

#[test]
fn the_lens_is_opencvs_first_radial_term() {
    let grid = seen().lens;
    let lens = Lens::new(grid.k1, grid.size_px[0], grid.size_px[1]);
    assert!(!grid.px.is_empty() && grid.px.len() == grid.undistorted_px.len());
    for (p, u) in grid.px.iter().zip(&grid.undistorted_px) {
        assert!(lens.undistort(px(*p)).distance_px(px(*u)) < 1e-6);
        assert!(lens.distort(px(*u)).distance_px(px(*p)) < 1e-6);
    }
}
