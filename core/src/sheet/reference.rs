//! The reference sheet: eight square marks, a cross to aim at, and a ruler to check the print with.

use super::SheetError;
use super::page::{Look, Page};
use super::pdf::{self, Head};
use crate::frame::PointMm;
use crate::plane::{MARK_MM, Marks, Paper};
use crate::scene::{Anchor, Role};

/// Length of the check ruler, mm.
const RULER_MM: u32 = 100;
/// Where the ruler stands below the middle of the sheet, mm.
const RULER_Y_MM: f64 = -70.0;
const TITLE: &str = "Reference sheet";

/// The reference sheet to print at its true size, as PDF 1.7 with its font embedded. The same paper
/// makes the same bytes.
///
/// # Errors
/// [`SheetError::Draw`] where the library that writes the file refuses.
pub fn reference_sheet_pdf(paper: Paper) -> Result<Vec<u8>, SheetError> {
    let head = Head {
        title: TITLE.into(),
        language: "en".into(),
        to_measure: true,
    };
    pdf::write(&[drawn(paper)], &head)
}

fn drawn(paper: Paper) -> Page {
    let (width_mm, height_mm) = paper.size_mm();
    let mut sheet = Sheet(Page::new(width_mm, height_mm));
    let marks = paper.marks();
    for middle in marks.middles_mm() {
        sheet.bar(middle, (MARK_MM, MARK_MM));
    }
    sheet.cross();
    sheet.ruler();
    sheet.words(&marks);
    sheet.0
}

/// A page that is drawn on from its middle, mm, y up.
struct Sheet(Page);

impl Sheet {
    /// On the page, from its top left corner, y down.
    fn place(&self, at: PointMm) -> (f64, f64) {
        let middle = (self.0.width_mm / 2.0, self.0.height_mm / 2.0);
        (middle.0 + at.x_mm, middle.1 - at.y_mm)
    }

    /// Fills a rectangle around its middle.
    fn bar(&mut self, middle: PointMm, (width, height): (f64, f64)) {
        let corner = middle + PointMm::new(-width / 2.0, height / 2.0);
        let corner = self.place(corner);
        self.0.bar(corner, (width, height), Role::Ink);
    }

    /// Writes a line around the middle of its baseline.
    fn text(&mut self, middle: PointMm, size_mm: f64, words: &str) {
        let look = Look::new(size_mm, false, Role::Ink);
        let at = self.place(middle);
        self.0.set(at, words, look, Anchor::Middle);
    }

    fn cross(&mut self) {
        let (long, wide) = (9.0, 0.5);
        for out in [-7.5, 7.5] {
            self.bar(PointMm::new(out, 0.0), (long, wide));
            self.bar(PointMm::new(0.0, out), (wide, long));
        }
    }

    fn ruler(&mut self) {
        let length_mm = f64::from(RULER_MM);
        let at = |mm: u32, up: f64| PointMm::new(f64::from(mm) - length_mm / 2.0, RULER_Y_MM + up);
        self.bar(PointMm::new(0.0, RULER_Y_MM), (length_mm, 0.2));
        for mm in 0..=RULER_MM {
            let height = match mm {
                _ if mm % 10 == 0 => 5.0,
                _ if mm % 5 == 0 => 3.5,
                _ => 2.0,
            };
            self.bar(at(mm, height / 2.0), (0.12, height));
        }
        for mm in [0, RULER_MM / 2, RULER_MM] {
            self.text(at(mm, 7.0), 3.2, &mm.to_string());
        }
    }

    fn words(&mut self, marks: &Marks) {
        let outer = format!(
            "Outer edges of the marks: {:.0} x {:.0} mm",
            marks.width_mm, marks.height_mm
        );
        let lines = [
            (4.6, TITLE),
            (
                3.4,
                "Print at 100 % (no fit to page), then check with a steel rule:",
            ),
            (
                3.4,
                "the ruler below must be 100 mm long. If not, enter its length.",
            ),
            (3.4, outer.as_str()),
            (
                3.4,
                "Pin it flat beside the middle of the butt, in the plane of the arrows' holes.",
            ),
        ];
        for (line, (size_mm, words)) in (0_u8..).zip(lines) {
            let y_mm = RULER_Y_MM + 36.0 - 5.5 * f64::from(line);
            self.text(PointMm::new(0.0, y_mm), size_mm, words);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::{LabelText, Shape};

    const BOTH: [Paper; 2] = [Paper::A4, Paper::Letter];

    /// Every filled rectangle: left, top, right and bottom, mm from the page's top left corner.
    fn bars(paper: Paper) -> Vec<[f64; 4]> {
        let items = drawn(paper).own.items.into_iter();
        let edges = |shape| match shape {
            Shape::Rect {
                corner: at,
                width,
                height,
                ..
            } => Some([at.x, at.y, at.x + width, at.y + height]),
            _ => None,
        };
        items.filter_map(|item| edges(item.shape)).collect()
    }

    fn close(a: f64, b: f64) -> bool {
        (a - b).abs() < 1e-9
    }

    #[test]
    fn the_marks_outer_edges_stand_as_far_apart_as_the_fit_takes_them_to() {
        for paper in BOTH {
            let marks = paper.marks();
            let square =
                |bar: &[f64; 4]| close(bar[2] - bar[0], 20.0) && close(bar[3] - bar[1], 20.0);
            let found: Vec<_> = bars(paper).into_iter().filter(square).collect();
            assert_eq!(found.len(), 8);
            let least = |edge: usize| found.iter().map(|bar| bar[edge]).fold(f64::MAX, f64::min);
            let most = |edge: usize| found.iter().map(|bar| bar[edge]).fold(f64::MIN, f64::max);
            assert!(close(most(2) - least(0), marks.width_mm));
            assert!(close(most(3) - least(1), marks.height_mm));
            let (width, height) = paper.size_mm();
            assert!(close(most(2) + least(0), width) && close(most(3) + least(1), height));
        }
    }

    #[test]
    fn the_ruler_is_a_hundred_millimetres_with_a_tick_each() {
        for paper in BOTH {
            let bars = bars(paper);
            let ruler = bars.iter().find(|bar| close(bar[2] - bar[0], 100.0));
            let ruler = ruler.expect("a bar of 100 mm");
            let thin = |bar: &&[f64; 4]| close(bar[2] - bar[0], 0.12);
            let ticks = bars.iter().filter(thin);
            let ticks: Vec<_> = ticks.map(|bar| f64::midpoint(bar[0], bar[2])).collect();
            assert_eq!(ticks.len(), 101);
            for (mm, tick) in (0_u8..).zip(ticks) {
                assert!(close(tick, ruler[0] + f64::from(mm)), "{mm}: {tick}");
            }
        }
    }

    #[test]
    fn what_it_says_names_the_distance_between_its_own_marks() {
        let said = |paper| {
            let items = drawn(paper).own.items.into_iter();
            let texts = items.filter_map(|item| match item.shape {
                Shape::Label {
                    text: LabelText::Own { text },
                    ..
                } => Some(text),
                _ => None,
            });
            texts.collect::<Vec<_>>()
        };
        assert!(
            said(Paper::A4)
                .iter()
                .any(|line| line.ends_with("180 x 260 mm"))
        );
        assert!(
            said(Paper::Letter)
                .iter()
                .any(|line| line.ends_with("180 x 240 mm"))
        );
    }

    #[test]
    fn a_reader_is_told_not_to_fit_it_to_the_page() {
        for paper in BOTH {
            let pdf = reference_sheet_pdf(paper).unwrap();
            let told = b"/PrintScaling /None";
            assert!(pdf.windows(told.len()).any(|bytes| bytes == told));
        }
    }
}
