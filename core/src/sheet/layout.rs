//! From a worded sheet to pages.

use super::SheetError;
use super::letters::Letters;
use super::page::{Drawing, Look, Page};
use super::section::{Worded, WordedSection};
use super::wrap::wrapped;
use crate::plane::Paper;
use crate::scene::{Anchor, Role, Scene};

/// What the sheet is laid out for.
pub(super) enum Paged {
    /// Pages of a paper.
    On(Paper),
    /// One page as wide as A4 and as long as it needs.
    Endless,
}

const MARGIN_MM: f64 = 16.0;
const GAP_MM: f64 = 6.0;
/// What the footer takes above the margin.
const FOOTER_MM: f64 = 7.0;
/// The tallest a drawing gets.
const PICTURE_MM: f64 = 78.0;

const KICKER: Look = Look::new(3.6, false, Role::Muted);
const NAME: Look = Look::new(8.4, true, Role::Ink);
const HEADING: Look = Look::new(4.8, true, Role::Spacer);
const WARNING: Look = Look::new(4.8, true, Role::WantsYou);
const FACT: Look = Look::new(3.5, false, Role::Muted);
const VALUE: Look = Look::new(3.5, false, Role::Ink);
const SMALL: Look = Look::new(3.0, false, Role::Muted);

/// The pages of a sheet.
pub(super) fn laid_out(sheet: &Worded, paged: &Paged) -> Result<Vec<Page>, SheetError> {
    let letters = Letters::new()?;
    let mut flow = Flow::begin(&letters, paged);
    flow.head(sheet);
    for section in &sheet.sections {
        flow.section(section);
    }
    Ok(flow.end(&sheet.name))
}

/// Where the next line goes.
struct Flow<'a> {
    letters: &'a Letters,
    size_mm: (f64, f64),
    endless: bool,
    done: Vec<Page>,
    page: Page,
    y_mm: f64,
}

/// A column: its left edge and its width, mm.
#[derive(Clone, Copy)]
struct Column {
    left: f64,
    width: f64,
}

impl<'a> Flow<'a> {
    fn begin(letters: &'a Letters, paged: &Paged) -> Self {
        let (size_mm, endless) = match paged {
            Paged::On(paper) => (paper.size_mm(), false),
            Paged::Endless => (Paper::A4.size_mm(), true),
        };
        Self {
            letters,
            size_mm,
            endless,
            done: Vec::new(),
            page: Page::new(size_mm.0, size_mm.1),
            y_mm: MARGIN_MM,
        }
    }

    fn whole(&self) -> Column {
        Column {
            left: MARGIN_MM,
            width: self.size_mm.0 - 2.0 * MARGIN_MM,
        }
    }

    /// Turns the page where less than this is left, unless it is empty.
    fn room(&mut self, height_mm: f64) {
        let bottom = self.size_mm.1 - MARGIN_MM - FOOTER_MM;
        if !self.endless && self.y_mm + height_mm > bottom && self.y_mm > MARGIN_MM {
            let next = Page::new(self.size_mm.0, self.size_mm.1);
            self.done.push(std::mem::replace(&mut self.page, next));
            self.y_mm = MARGIN_MM;
        }
    }

    fn head(&mut self, sheet: &Worded) {
        let column = self.whole();
        let right = column.left + column.width;
        let top = self.y_mm;
        self.page
            .write((column.left, top), &sheet.title, KICKER, Anchor::Start);
        self.page
            .write((right, top), &sheet.as_of, KICKER, Anchor::End);
        self.y_mm += KICKER.leading_mm() + 1.0;
        self.lines(column, &sheet.name, NAME);
        if !sheet.owner.is_empty() {
            self.lines(column, &sheet.owner, KICKER);
        }
        let rule = (column.left, self.y_mm + 1.5);
        self.page.bar(rule, (column.width, 0.5), Role::Spacer);
        self.y_mm += 3.5;
    }

    /// Text in a column, as many lines as it takes.
    fn lines(&mut self, column: Column, text: &str, look: Look) {
        for line in wrapped(self.letters, text, look, column.width) {
            self.room(look.leading_mm());
            let at = (column.left, self.y_mm);
            self.page.write(at, &line, look, Anchor::Start);
            self.y_mm += look.leading_mm();
        }
    }

    fn section(&mut self, section: &WordedSection) {
        let look = if section.warns { WARNING } else { HEADING };
        let pictures_mm = match section.pictures.len() {
            0 => 2.0 * VALUE.leading_mm(),
            _ => PICTURE_MM,
        };
        self.y_mm += 3.0;
        self.room(look.leading_mm() + pictures_mm);
        self.lines(self.whole(), &section.heading, look);
        self.y_mm += 1.0;
        match section.pictures.as_slice() {
            [(scene, caption)] if !section.facts.is_empty() => {
                self.beside(section, scene, caption);
            }
            pictures => {
                self.row(pictures);
                self.facts(self.whole(), &section.facts);
            }
        }
        for note in &section.notes {
            self.note(note, section.warns);
        }
    }

    /// One drawing on the right, the facts on the left.
    fn beside(&mut self, section: &WordedSection, scene: &Scene, caption: &str) {
        let whole = self.whole();
        let width = 0.44 * whole.width;
        let left = whole.left + whole.width - width;
        let page = self.done.len();
        let bottom = self.picture(Column { left, width }, scene, caption);
        let facts = Column {
            left: whole.left,
            width: whole.width - width - GAP_MM,
        };
        self.facts(facts, &section.facts);
        if self.done.len() == page {
            self.y_mm = self.y_mm.max(bottom);
        }
    }

    /// Drawings side by side.
    fn row(&mut self, pictures: &[(Scene, String)]) {
        let whole = self.whole();
        let count = pictures.len().max(1) as f64;
        let width = (whole.width - GAP_MM * (count - 1.0)) / count;
        let mut bottom = self.y_mm;
        for (index, (scene, caption)) in pictures.iter().enumerate() {
            let left = whole.left + index as f64 * (width + GAP_MM);
            bottom = bottom.max(self.picture(Column { left, width }, scene, caption));
        }
        self.y_mm = bottom;
    }

    /// A drawing at the present height with its caption; where it ends. Nothing moves on.
    fn picture(&mut self, column: Column, scene: &Scene, caption: &str) -> f64 {
        let drawing = Drawing::fitted(
            scene,
            (column.left, self.y_mm),
            (column.width, PICTURE_MM - 2.0 * SMALL.leading_mm()),
        );
        let mut y = self.y_mm + drawing.height_mm() + 1.0;
        self.page.drawings.push(drawing);
        for line in wrapped(self.letters, caption, SMALL, column.width) {
            let middle = column.left + column.width / 2.0;
            self.page.write((middle, y), &line, SMALL, Anchor::Middle);
            y += SMALL.leading_mm();
        }
        y + 2.5
    }

    /// Names on the left, what they are on the right.
    fn facts(&mut self, column: Column, facts: &[(String, String)]) {
        let names = 0.34 * column.width;
        let values = column.width - names - 3.0;
        for (name, value) in facts {
            let name = wrapped(self.letters, name, FACT, names);
            let value = wrapped(self.letters, value, VALUE, values);
            let count = name.len().max(value.len());
            self.room(count.min(3) as f64 * VALUE.leading_mm());
            for index in 0..count {
                self.room(VALUE.leading_mm());
                let cells = [(0.0, &name, FACT), (names + 3.0, &value, VALUE)];
                for (dx, lines, look) in cells {
                    if let Some(line) = lines.get(index) {
                        let at = (column.left + dx, self.y_mm);
                        self.page.write(at, line, look, Anchor::Start);
                    }
                }
                self.y_mm += VALUE.leading_mm();
            }
            self.y_mm += 0.7;
        }
    }

    /// A sentence across the page; a warning has a bar beside it.
    fn note(&mut self, text: &str, warns: bool) {
        let whole = self.whole();
        let (indent, look) = if warns { (4.0, VALUE) } else { (0.0, SMALL) };
        let column = Column {
            left: whole.left + indent,
            width: whole.width - indent,
        };
        for line in wrapped(self.letters, text, look, column.width) {
            self.room(look.leading_mm());
            if warns {
                let bar = (whole.left, self.y_mm - 0.2);
                self.page.bar(bar, (1.2, look.leading_mm()), Role::WantsYou);
            }
            self.page
                .write((column.left, self.y_mm), &line, look, Anchor::Start);
            self.y_mm += look.leading_mm();
        }
    }

    fn end(mut self, name: &str) -> Vec<Page> {
        if self.endless {
            self.page.height_mm = self.y_mm + MARGIN_MM;
            self.page.own.view_height = self.page.height_mm;
            return vec![self.page];
        }
        let whole = self.whole();
        self.done.push(self.page);
        let pages = self.done.len();
        let foot = self.size_mm.1 - MARGIN_MM - SMALL.size_mm;
        let name = wrapped(self.letters, name, SMALL, 0.8 * whole.width);
        for (index, page) in self.done.iter_mut().enumerate() {
            if let Some(name) = name.first() {
                page.write((whole.left, foot), name, SMALL, Anchor::Start);
            }
            let number = format!("{} / {pages}", index + 1);
            let right = whole.left + whole.width;
            page.write((right, foot), &number, SMALL, Anchor::End);
        }
        self.done
    }
}
