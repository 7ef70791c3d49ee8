//! Breaking text into lines.

use super::letters::Letters;
use super::page::Look;

/// The lines of a text in a column `width_mm` wide; a word that is wider is broken anywhere.
pub(super) fn wrapped(letters: &Letters, text: &str, look: Look, width_mm: f64) -> Vec<String> {
    let width_em = width_mm / look.size_mm;
    let fits = |line: &str| letters.width(line, look.bold) <= width_em;
    let mut lines = Vec::new();
    for paragraph in text.lines() {
        let mut line = String::new();
        for word in paragraph.split(ends_a_line).filter(|word| !word.is_empty()) {
            let longer = match line.as_str() {
                "" => word.to_owned(),
                line => [line, " ", word].concat(),
            };
            if fits(&longer) {
                line = longer;
                continue;
            }
            if !line.is_empty() {
                lines.push(std::mem::take(&mut line));
            }
            line = broken(word, &fits, &mut lines);
        }
        lines.push(line);
    }
    lines
}

/// Whether a line may end here: a space that holds a figure to its unit, or a sign to its word,
/// is no such place.
fn ends_a_line(letter: char) -> bool {
    letter.is_whitespace() && !matches!(letter, '\u{a0}' | '\u{202f}')
}

/// Puts the full lines of an overlong word down and hands back what is left of it.
fn broken(word: &str, fits: &impl Fn(&str) -> bool, lines: &mut Vec<String>) -> String {
    let mut line = String::new();
    for letter in word.chars() {
        line.push(letter);
        if !fits(&line) && line.chars().count() > 1 {
            line.pop();
            lines.push(std::mem::replace(&mut line, letter.to_string()));
        }
    }
    line
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::Role;

    #[test]
    fn lines_are_no_wider_than_their_column_and_lose_no_letter() {
        let letters = Letters::new().unwrap();
        let look = Look::new(4.0, false, Role::Ink);
        let text = "Kabelgabel straff,\nNockpunkt geprüft Donaudampfschifffahrtsgesellschaft 2,5";
        for width in [3.0, 12.0, 40.0, 400.0] {
            let lines = wrapped(&letters, text, look, width);
            for line in &lines {
                let wide = letters.width(line, false) * look.size_mm;
                assert!(wide <= width || line.chars().count() == 1, "{line}: {wide}");
            }
            let solid = |text: &str| text.split_whitespace().collect::<String>();
            assert_eq!(solid(&lines.concat()), solid(text));
        }
    }

    #[test]
    fn a_figure_stays_with_its_unit_and_a_sign_with_its_word() {
        let letters = Letters::new().unwrap();
        let look = Look::new(4.0, false, Role::Ink);
        let width = letters.width("61\u{a0}mm\u{a0}:", false) * look.size_mm + 0.1;
        let lines = wrapped(&letters, "à 61\u{a0}mm\u{a0}: réel", look, width);
        assert_eq!(lines, ["à", "61\u{a0}mm\u{a0}:", "réel"]);
    }

    #[test]
    fn a_line_is_as_wide_as_the_font_says() {
        // Noto Sans regular, 2048 units per em: "A" is 1309 wide, "m" 1915, as fontTools reads its
        // hmtx table.
        let letters = Letters::new().unwrap();
        assert!((letters.width("A", false) - 1309.0 / 2048.0).abs() < 1e-6);
        assert!((letters.width("Am", false) - 3224.0 / 2048.0).abs() < 1e-6);
    }
}
