//! No value is ever written into a statement: values are parameters. A statement may be put together of
//! constants and of names out of the schema, and the functions that do are counted here.

use std::fs;
use std::path::Path;

/// Functions that put a statement together from names of tables, columns and triggers, and why each
/// may: none of them sees a value.
const FROM_NAMES: &[(&str, &str)] = &[
    ("dump.rs", "tables"),    // a macro over literals
    ("ladder.rs", "dropped"), // a trigger's name, quoted
    ("load.rs", "of"),        // a table's name of the list, as many ? as columns
    ("unite.rs", "copying"),  // names of the schema
    ("unite.rs", "listing"),
    ("reading.rs", "rows_on_pages"),
    ("salvage.rs", "salvage_table"),
    ("salvage.rs", "counted"),
    ("salvage.rs", "drop_orphans"),
    ("known.rs", "read_index"),
    ("known.rs", "last_number"),
];
const VERBS: [&str; 7] = [
    "SELECT ", "INSERT ", "UPDATE ", "DELETE ", "DROP ", "CREATE ", "PRAGMA ",
];

/// The names in braces of a format string.
fn braces(line: &str) -> Vec<String> {
    let parts = line.split('{').skip(1);
    let names = parts.map(|part| part.split('}').next().unwrap_or_default().to_owned());
    names.collect()
}

fn is_constant(name: &str) -> bool {
    !name.is_empty() && name.chars().all(|c| c.is_ascii_uppercase() || c == '_')
}

#[test]
fn statements_are_made_of_constants_and_names_of_the_schema() {
    let store = Path::new(env!("CARGO_MANIFEST_DIR")).join("../core/src/store");
    let (mut statements, mut seen) = (0, Vec::new());
    for entry in fs::read_dir(store).unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_none_or(|ending| ending != "rs") {
            continue;
        }
        let file = path.file_name().unwrap().to_string_lossy().into_owned();
        let mut function = String::new();
        let text = fs::read_to_string(&path).unwrap();

        for line in text.lines() {
            if line.trim_start().starts_with("//") {
                continue;
            }
            if let Some(name) = line
                .split("fn ")
                .nth(1)
                .or(line.split("macro_rules! ").nth(1))
            {
                function = name.split(['(', '<', ' ']).next().unwrap().to_owned();
            }
            if !VERBS
                .iter()
                .any(|verb| line.contains(verb) && line.contains('"'))
            {
                continue;
            }
            statements += 1;
            let formatted = braces(line)
                .iter()
                .any(|name| !is_constant(name) && !name.trim().is_empty());
            let glued = line.trim_start().starts_with("[\"")
                || line.contains("= [\"")
                || line.contains("concat!")
                || line.trim() == "let parts = [";
            if formatted || glued {
                let known = FROM_NAMES.iter().any(|(f, n)| *f == file && *n == function);
                assert!(known, "{file}, fn {function}: {line}");
                seen.push((file.clone(), function.clone()));
            }
        }
    }
    assert!(statements > 60, "only {statements} statements found");
    assert!(seen.len() >= 5, "the search finds the known ones: {seen:?}");
}
