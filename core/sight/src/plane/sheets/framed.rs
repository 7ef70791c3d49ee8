//! A frame printed on a sheet, two or more of whose sides were taken for the sheet's own. They are lines with the same
//! paper on both sides, and farther out, where the sheet ends, there is a step, however faint, along each of them.
//!
//! A pale sheet on a table of its own shade shows lines too, its shadow's, but nothing beyond them.

use crate::plane::channels::Channels;
use crate::plane::{Plane, Sheet};

use super::beyond::{PARTS, SAMPLES, STEP, dot, surely};
use crate::frame::{PointMm, PointPx};

/// Between samples across a side, mm.
const STEP_MM: f64 = 0.25;
/// What lies beside a line is looked at between these distances from it, mm.
const BESIDE_MM: (f64, f64) = (1.25, 2.0);
/// The same paper differs by less than so many levels there, and by less than this share of what the line differs from it.
/// Chosen by hand; not tuned.
const ONE_PAPER: (f64, f64) = (4.0, 0.25);
/// The sheet ends between these distances from a frame, mm.
const BEYOND_MM: (f64, f64) = (2.0, 24.0);
/// A step there of so many levels counts, if it is seen so many times as surely as one beyond a corner must be: at some
/// distance or other one is seen by chance. Chosen by hand; not tuned.
const LEAST_STEP: f64 = 1.2;
const TIMES_SURE: f64 = 2.0;
/// So many sides must be lines with a step beyond: one may lie beside something else. Of 140 rendered sheets, none was
/// refused for it that was fitted rightly.
const ENOUGH: usize = 2;
/// Lines looked at in each part of a side.
const LINES: usize = 8;
/// The part of a side that is looked at: beyond its ends a frame's line is none.
const ALONG: (f64, f64) = (0.08, 0.92);

/// Whether what was fitted is a frame printed on a larger sheet.
pub(crate) fn is_framed(channels: &Channels<'_>, sheet: &Sheet, plane: &Plane) -> bool {
    let corners = sheet.corners_mm();
    let sides = (0..4).map(|i| Side::of(plane, (corners[i], corners[(i + 1) % 4])));
    let mut sides: Vec<Side<'_>> = sides.collect();
    sides.retain(|side| side.is_line(channels));
    sides.len() >= ENOUGH
        && sides
            .iter()
            .filter(|side| side.has_step_beyond(channels))
            .count()
            >= ENOUGH
}

/// One side of the outline, mm.
struct Side<'a> {
    plane: &'a Plane,
    from: PointMm,
    to: PointMm,
    /// Away from the middle, of length 1.
    outwards: PointMm,
}

impl<'a> Side<'a> {
    fn of(plane: &'a Plane, (from, to): (PointMm, PointMm)) -> Self {
        let (along, length) = (to - from, (to - from).norm_mm());
        // Corners run clockwise with y up: outwards is to the left.
        let outwards = PointMm::new(-along.y_mm / length, along.x_mm / length);
        Self {
            plane,
            from,
            to,
            outwards,
        }
    }

    fn place(&self, line: usize, out_mm: f64) -> PointPx {
        let share = (line as f64 + 0.5) / (PARTS * LINES) as f64;
        let t = ALONG.0 + (ALONG.1 - ALONG.0) * share;
        let at = |from: f64, to: f64, out: f64| from + t * (to - from) + out_mm * out;
        self.plane.to_px(PointMm::new(
            at(self.from.x_mm, self.to.x_mm, self.outwards.x_mm),
            at(self.from.y_mm, self.to.y_mm, self.outwards.y_mm),
        ))
    }

    /// Mean levels of every channel in every part, between two distances from the side.
    fn levels(&self, channels: &Channels<'_>, (from_mm, to_mm): (f64, f64)) -> Vec<Vec<Vec<f64>>> {
        let count = ((to_mm - from_mm) / STEP_MM) as usize + 1;
        let of_view = |view: &crate::photo::View<'_>| {
            let mean = |part: usize, k: usize| {
                let out_mm = from_mm + STEP_MM * k as f64;
                let at = |i: usize| {
                    let p = self.place(part * LINES + i, out_mm);
                    view.sample(p.x_px, p.y_px).unwrap_or(0.0)
                };
                (0..LINES).map(at).sum::<f64>() / LINES as f64
            };
            let row = |part| (0..count).map(|k| mean(part, k)).collect();
            (0..PARTS).map(row).collect()
        };
        channels.iter().map(of_view).collect()
    }

    /// Whether it is a line with the same paper on both sides.
    fn is_line(&self, channels: &Channels<'_>) -> bool {
        let reach_mm = BESIDE_MM.1;
        let all = self.levels(channels, (-reach_mm, reach_mm));
        let beside = ((BESIDE_MM.1 - BESIDE_MM.0) / STEP_MM) as usize;
        let seen: Vec<(f64, f64)> = all
            .iter()
            .map(|parts| {
                let row = mean_row(parts);
                let (inner, outer) = (mean(&row[..=beside]), mean(&row[row.len() - 1 - beside..]));
                let off = row
                    .iter()
                    .map(|level| (level - f64::midpoint(inner, outer)).abs());
                ((inner - outer).abs(), off.fold(0.0, f64::max))
            })
            .collect();
        let most = |of: fn(&(f64, f64)) -> f64| seen.iter().map(of).fold(0.0, f64::max);
        let (differ, line) = (most(|s| s.0), most(|s| s.1));
        differ < ONE_PAPER.0.min(ONE_PAPER.1 * line)
    }

    /// Whether there is a step along it farther out.
    fn has_step_beyond(&self, channels: &Channels<'_>) -> bool {
        let all = self.levels(channels, BEYOND_MM);
        all.iter().any(|parts| {
            let places = parts
                .first()
                .map_or(0, |row| (row.len() + 1).saturating_sub(SAMPLES));
            (0..places).any(|k| {
                let step = |row: &Vec<f64>| dot(&STEP, &row[k..k + SAMPLES]) / dot(&STEP, &STEP);
                surely(&parts.iter().map(step).collect::<Vec<f64>>(), TIMES_SURE).abs()
                    >= LEAST_STEP
            })
        })
    }
}

fn mean_row(parts: &[Vec<f64>]) -> Vec<f64> {
    let count = parts.first().map_or(0, Vec::len);
    let at = |k: usize| parts.iter().map(|row| row[k]).sum::<f64>() / parts.len() as f64;
    (0..count).map(at).collect()
}

fn mean(levels: &[f64]) -> f64 {
    levels.iter().sum::<f64>() / levels.len() as f64
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::frame::PointPx;
    use crate::photo::{ExifFacts, Photo};
    use crate::plane::SheetFit;
    use crate::plane::picture::Camera;

    /// Whether an A4 sheet, so many levels lighter than its table, is taken for framed where a line runs so far inside
    /// of its edge and the corners are marked on that line.
    fn framed(inside_mm: f64, lighter: f64) -> bool {
        let camera = Camera {
            turns: [10.0, 12.0, -6.0],
            ..Camera::level(320.0)
        };
        let depth = |m: PointMm| (105.0 - m.x_mm.abs()).min(148.5 - m.y_mm.abs());
        let picture = camera.draw(3.0, |m| match depth(m) - inside_mm {
            d if (0.0..0.8).contains(&d) => 120.0,
            _ if depth(m) > 0.0 => 214.0,
            _ => 214.0 - lighter,
        });
        let photo = Photo::from_grey(picture, ExifFacts::default());
        let by = 2.0 * inside_mm;
        let frame = Sheet::new(210.0 - by, 297.0 - by, 0.5).unwrap();
        let corners: [PointPx; 4] = frame.corners_mm().map(|corner| camera.see(corner));
        let (plane, _) = frame
            .fit_outline(
                &photo,
                &corners,
                &SheetFit::default(),
                &crate::plane::edges::outline::Outline {
                    parts: &[(0.04, 0.5), (0.5, 0.96)],
                    dark_inside: false,
                },
            )
            .unwrap();
        is_framed(&Channels::of(&photo), &frame, &plane)
    }

    #[test]
    fn a_frame_on_a_pale_sheet_is_told_by_the_step_beyond() {
        assert!(framed(14.0, 6.0));
    }

    /// The shadow along a sheet's edge on a table of its own shade.
    #[test]
    fn lines_beyond_which_there_is_nothing_may_be_a_sheet_s() {
        assert!(!framed(0.0, 0.0));
    }

    #[test]
    fn a_sheet_that_stands_out_is_none() {
        assert!(!framed(0.0, 60.0));
    }
}
