//! The reference sheet as a PDF at its true size.
//!
//! Format: ISO 32000-1:2008 (PDF 1.7), the smallest subset that prints: one page, filled
//! rectangles, lines, and text in a standard font. Lengths in PDF are points of 1/72 in.

use std::fmt::Write;

use super::marks::{MARK_MM, Marks};
use crate::frame::PointMm;

/// The paper to print on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Paper {
    /// ISO 216 A4, 210 x 297 mm.
    A4,
    /// ANSI/ASME Y14.1 A (Letter), 8.5 x 11 in.
    Letter,
}

impl Paper {
    /// Width and height, mm.
    pub fn size_mm(self) -> (f64, f64) {
        match self {
            Self::A4 => (210.0, 297.0),
            Self::Letter => (215.9, 279.4),
        }
    }

    /// The marks printed on it.
    pub fn marks(self) -> Marks {
        match self {
            Self::A4 => Marks::A4,
            Self::Letter => Marks::LETTER,
        }
    }
}

/// Length of the check ruler, mm.
const RULER_MM: f64 = 100.0;
/// Where the ruler stands below the middle of the sheet, mm.
const RULER_Y_MM: f64 = -70.0;

/// The reference sheet: eight square marks, a cross to aim at, and a ruler to check the print with.
pub fn reference_sheet_pdf(paper: Paper) -> Vec<u8> {
    let mut page = Page {
        paper,
        content: String::new(),
    };
    let marks = paper.marks();
    for middle in marks.middles_mm() {
        page.square(middle, MARK_MM);
    }
    page.cross();
    page.ruler();
    page.words(&marks);
    page.into_pdf()
}

struct Page {
    paper: Paper,
    content: String,
}

fn points(mm: f64) -> f64 {
    mm * 72.0 / 25.4
}

impl Page {
    /// From the middle of the sheet, y up, to PDF points from the lower left corner.
    fn place(&self, m: PointMm) -> (f64, f64) {
        let (w, h) = self.paper.size_mm();
        (points(m.x_mm + w / 2.0), points(m.y_mm + h / 2.0))
    }

    fn put(&mut self, line: std::fmt::Arguments<'_>) {
        // Writing to a string cannot fail.
        let _ = writeln!(self.content, "{line}");
    }

    fn square(&mut self, middle: PointMm, side_mm: f64) {
        let half = PointMm::new(side_mm / 2.0, side_mm / 2.0);
        let (x, y) = self.place(middle - half);
        let side = points(side_mm);
        self.put(format_args!("{x:.4} {y:.4} {side:.4} {side:.4} re f"));
    }

    fn line(&mut self, from: PointMm, to: PointMm, width_mm: f64) {
        let (a, b) = (self.place(from), self.place(to));
        let width = points(width_mm);
        self.put(format_args!(
            "{width:.4} w {:.4} {:.4} m {:.4} {:.4} l S",
            a.0, a.1, b.0, b.1
        ));
    }

    fn cross(&mut self) {
        for (x, y) in [(1.0, 0.0), (0.0, 1.0)] {
            let arm = |r: f64| PointMm::new(x * r, y * r);
            self.line(arm(-12.0), arm(-3.0), 0.5);
            self.line(arm(3.0), arm(12.0), 0.5);
        }
    }

    fn ruler(&mut self) {
        let at = |x: f64, up: f64| PointMm::new(x - RULER_MM / 2.0, RULER_Y_MM + up);
        self.line(at(0.0, 0.0), at(RULER_MM, 0.0), 0.2);
        for k in 0..=100 {
            let x = f64::from(k);
            let height = match k {
                _ if k % 10 == 0 => 5.0,
                _ if k % 5 == 0 => 3.5,
                _ => 2.0,
            };
            self.line(at(x, 0.0), at(x, height), 0.12);
        }
        for k in [0.0, 50.0, 100.0] {
            self.text(at(k, 7.0), 3.2, &format!("{k:.0}"));
        }
    }

    fn words(&mut self, marks: &Marks) {
        let outer = format!(
            "Outer edges of the marks: {:.0} x {:.0} mm",
            marks.width_mm, marks.height_mm
        );
        let lines = [
            (4.6, "Reference sheet"),
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
        for (i, (size_mm, words)) in lines.into_iter().enumerate() {
            let y = RULER_Y_MM + 36.0 - 5.5 * i as f64;
            self.text(PointMm::new(0.0, y), size_mm, words);
        }
    }

    /// Text centred on a place; the letters of the standard sans font are about half as wide as high.
    fn text(&mut self, middle: PointMm, size_mm: f64, words: &str) {
        let half = 0.25 * size_mm * words.chars().count() as f64;
        let (x, y) = self.place(PointMm::new(middle.x_mm - half, middle.y_mm));
        let size = points(size_mm);
        let escaped = words
            .replace('\\', "\\\\")
            .replace('(', "\\(")
            .replace(')', "\\)");
        self.put(format_args!(
            "BT /F1 {size:.2} Tf {x:.3} {y:.3} Td ({escaped}) Tj ET"
        ));
    }

    fn into_pdf(self) -> Vec<u8> {
        let (w, h) = self.paper.size_mm();
        let (w, h) = (points(w), points(h));
        let objects = [
            "<< /Type /Catalog /Pages 2 0 R /ViewerPreferences << /PrintScaling /None >> >>"
                .to_owned(),
            "<< /Type /Pages /Kids [3 0 R] /Count 1 >>".to_owned(),
            format!(
                "<< /Type /Page /Parent 2 0 R /MediaBox [0 0 {w:.4} {h:.4}] /Contents 4 0 R /Resources << /Font << /F1 5 0 R >> >> >>"
            ),
            format!(
                "<< /Length {} >>\nstream\n{}endstream",
                self.content.len(),
                self.content
            ),
            "<< /Type /Font /Subtype /Type1 /BaseFont /Helvetica >>".to_owned(),
        ];
        let mut pdf = String::from("%PDF-1.7\n");
        let mut offsets = Vec::new();
        for (i, object) in objects.iter().enumerate() {
            offsets.push(pdf.len());
            let _ = write!(pdf, "{} 0 obj\n{object}\nendobj\n", i + 1);
        }
        let table = pdf.len();
        let _ = write!(pdf, "xref\n0 {}\n0000000000 65535 f \n", offsets.len() + 1);
        for offset in &offsets {
            let _ = writeln!(pdf, "{offset:010} 00000 n ");
        }
        let _ = write!(
            pdf,
            "trailer\n<< /Size {} /Root 1 0 R >>\nstartxref\n{table}\n%%EOF\n",
            offsets.len() + 1
        );
        pdf.into_bytes()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_cross_reference_table_points_at_the_objects() {
        for paper in [Paper::A4, Paper::Letter] {
            let pdf = String::from_utf8(reference_sheet_pdf(paper)).unwrap();
            let table: usize = pdf
                .rsplit("startxref\n")
                .next()
                .unwrap()
                .lines()
                .next()
                .unwrap()
                .parse()
                .unwrap();
            assert!(pdf[table..].starts_with("xref\n0 6\n"));
            for (i, entry) in pdf[table..].lines().skip(3).take(5).enumerate() {
                let offset: usize = entry[..10].parse().unwrap();
                assert!(pdf[offset..].starts_with(&format!("{} 0 obj", i + 1)));
                assert_eq!(entry.len(), 19, "20 bytes with the line end");
            }
            let stated: usize = pdf
                .split("/Length ")
                .nth(1)
                .unwrap()
                .split(' ')
                .next()
                .unwrap()
                .parse()
                .unwrap();
            let stream = pdf
                .split("stream\n")
                .nth(1)
                .unwrap()
                .strip_suffix("end")
                .unwrap();
            assert_eq!(stream.len(), stated);
        }
    }

    #[test]
    fn marks_are_printed_at_their_true_size_and_place() {
        let pdf = String::from_utf8(reference_sheet_pdf(Paper::A4)).unwrap();
        let squares: Vec<Vec<f64>> = pdf
            .lines()
            .filter(|l| l.ends_with(" re f"))
            .map(|l| l.split(' ').take(4).map(|v| v.parse().unwrap()).collect())
            .collect();
        assert_eq!(squares.len(), 8);
        let mm = |v: f64| v * 25.4 / 72.0;
        let left = squares.iter().map(|s| mm(s[0])).fold(f64::MAX, f64::min);
        let right = squares.iter().map(|s| mm(s[0] + s[2])).fold(0.0, f64::max);
        assert!(
            (left - 15.0).abs() < 1e-3 && (right - 195.0).abs() < 1e-3,
            "{left} {right}"
        );
    }
}
