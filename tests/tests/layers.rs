//! The dependency line of the core, read off its sources: a module may use what stands before it,
//! never what stands behind it, and of
//! the files of a folder none uses one that uses it. And the core is pure: no clock, no chance, no
//! files, and SQL in one place.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

/// Each line is a layer; a module uses its own layer's own files and any layer before.
const LAYERS: &[&[&str]] = &[
    &["frame", "units"],
    &["stats", "distance"],
    &["range"],
    &["photo", "spacer"],
    &["plane"],
    &["impact"],
    &["tear"],
    &["measure", "group"],
    &["scatter"],
    &["flier", "split", "walkback"],
    &["flight"],
    &["evidence"],
    &["verdict", "swap"],
    &["record"],
    &["scene"],
    &["sheet", "album"],
    &["store"],
    &["backup"],
    &["workshop"],
];

/// What would make a pure function depend on more than its arguments, and where it is allowed.
const IMPURE: &[(&str, &[&str])] = &[
    ("SystemTime", &[]),
    ("Instant::now", &[]),
    ("rand::", &[]),
    ("std::fs", &["store", "backup", "workshop"]),
    ("std::net", &[]),
    ("std::process", &[]),
    ("rusqlite", &["store"]),
    ("println!", &[]),
];

/// Where the sources are: of what computes, and of the rest.
fn roots() -> [PathBuf; 3] {
    ["../core/sight/src", "../core/reckon/src", "../core/src"]
        .map(|root| Path::new(env!("CARGO_MANIFEST_DIR")).join(root))
}

fn sources(dir: &Path, found: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(dir).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            sources(&path, found);
        } else if path.extension().is_some_and(|ending| ending == "rs") {
            found.push(path);
        }
    }
}

/// Module name and code, without comments and without the tests at the file's end.
fn modules() -> Vec<(String, PathBuf, String)> {
    let all = roots().into_iter().flat_map(|root| modules_of(&root));
    all.filter(|(module, ..)| module != "lib").collect()
}

fn modules_of(root: &Path) -> Vec<(String, PathBuf, String)> {
    let mut paths = Vec::new();
    sources(root, &mut paths);
    assert!(paths.len() > 30, "only {} sources found", paths.len());
    let named = |path: PathBuf| {
        let inside = path.strip_prefix(root).unwrap();
        let first = inside.iter().next().unwrap().to_string_lossy();
        let module = first.trim_end_matches(".rs").to_owned();
        let text = fs::read_to_string(&path).unwrap();
        let code = text
            .split("#[cfg(test)]\nmod tests")
            .next()
            .unwrap_or_default();
        let lines = code
            .lines()
            .filter(|line| !line.trim_start().starts_with("//"));
        (module, path.clone(), lines.collect::<Vec<_>>().join("\n"))
    };
    paths.into_iter().map(named).collect()
}

fn layer(module: &str) -> usize {
    let found = LAYERS.iter().position(|layer| layer.contains(&module));
    found.unwrap_or_else(|| panic!("module {module} has no layer: add it to LAYERS"))
}

/// Every module behind `crate::` in a file.
fn used(code: &str) -> BTreeSet<String> {
    let mut names = named_after(code, "crate::");
    names.retain(|name| LAYERS.iter().any(|layer| layer.contains(&name.as_str())));
    names
}

/// The first names behind every `root` of a file: of `root::x::Y` and `root::{x, z::Y}` x and z.
fn named_after(code: &str, root: &str) -> BTreeSet<String> {
    let word = |text: &str| {
        text.chars()
            .take_while(|c| c.is_alphanumeric() || *c == '_')
            .collect::<String>()
    };
    let mut names = BTreeSet::new();
    for after in code.split(root).skip(1) {
        match after.strip_prefix('{') {
            None => drop(names.insert(word(after))),
            Some(list) => {
                let mut depth = 0;
                let outer = list.chars().take_while(|c| {
                    depth += i32::from(*c == '{') - i32::from(*c == '}');
                    depth >= 0
                });
                let flat: String = outer.collect();
                names.extend(flat.split(',').map(|part| word(part.trim())));
            }
        }
    }
    names
}

/// Where the names that a folder's `mod.rs` hands on come from: name to file.
fn handed_on(code: &str) -> BTreeMap<String, String> {
    let mut from = BTreeMap::new();
    for statement in code.split(';') {
        let Some((head, path)) = statement.split_once("use ") else {
            continue;
        };
        let Some((file, names)) = path.split_once("::").filter(|_| head.contains("pub")) else {
            continue;
        };
        for name in names.split(|c: char| !c.is_alphanumeric() && c != '_') {
            from.insert(name.to_owned(), file.trim().to_owned());
        }
    }
    from
}

/// A file of a folder, or a folder in it.
#[derive(Default)]
struct Part {
    /// Its code, where it is a file.
    own: String,
    /// The code of all files beneath it, where it is a folder.
    beneath: String,
}

/// The parts of one folder that each of them uses; `path` is the folder's module, `verdict::`.
fn beside(path: &str, parts: &BTreeMap<String, Part>) -> BTreeMap<String, BTreeSet<String>> {
    let handed_on = handed_on(parts.get("mod").map_or("", |part| part.own.as_str()));
    let root = format!("crate::{path}");
    let named = parts.iter().filter(|(name, _)| *name != "mod");
    let uses = |(name, part): (&String, &Part)| {
        let names = [
            named_after(&part.own, "super::"),
            named_after(&part.own, &root),
            named_after(&part.beneath, &root),
        ];
        let mut used: BTreeSet<String> = names
            .into_iter()
            .flatten()
            .filter_map(|one| {
                if parts.contains_key(&one) {
                    Some(one)
                } else {
                    handed_on.get(&one).cloned()
                }
            })
            .collect();
        used.remove(name);
        (name.clone(), used)
    };
    named.map(uses).collect()
}

/// The files that are left once every file that uses none of those left is taken away.
fn circle(mut uses: BTreeMap<String, BTreeSet<String>>) -> Vec<String> {
    loop {
        let left: BTreeSet<String> = uses.keys().cloned().collect();
        let before = uses.len();
        uses.retain(|_, used| used.iter().any(|name| left.contains(name)));
        if uses.len() == before {
            return left.into_iter().collect();
        }
    }
}

#[test]
fn no_module_uses_what_stands_behind_it() {
    let mut wrong = Vec::new();
    for (module, path, code) in modules() {
        for name in used(&code) {
            if name != module && layer(&name) >= layer(&module) {
                wrong.push(format!("{} uses {name}", path.display()));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn the_modules_are_listed_in_the_order_of_the_layers() {
    let mut known = 0;
    for root in roots() {
        let lib = fs::read_to_string(root.join("lib.rs")).unwrap();
        let listed = lib.lines().filter_map(|line| line.strip_prefix("pub mod "));
        let layers: Vec<_> = listed
            .map(|name| layer(name.trim_end_matches(';')))
            .collect();
        assert!(layers.is_sorted(), "{layers:?}");
        known += layers.len();
    }
    assert_eq!(known, LAYERS.concat().len());
}

/// Every folder of the sources with its parts.
fn folders() -> BTreeMap<PathBuf, BTreeMap<String, Part>> {
    let mut folders: BTreeMap<PathBuf, BTreeMap<String, Part>> = BTreeMap::new();
    for root in roots() {
        for (_, path, code) in modules_of(&root) {
            let mut below = path.as_path();
            for folder in path.ancestors().skip(1) {
                let name = below.file_stem().unwrap().to_string_lossy().into_owned();
                let part = folders.entry(folder.into()).or_default();
                let part = part.entry(name).or_default();
                let code_of = if below == path {
                    &mut part.own
                } else {
                    &mut part.beneath
                };
                code_of.push_str(&code);
                if folder == root {
                    break;
                }
                below = folder;
            }
        }
    }
    folders
}

/// The module of a folder of the sources, `verdict::`; nothing for a root.
fn module_path(folder: &Path) -> String {
    let all = roots();
    let inside = all.iter().find_map(|root| folder.strip_prefix(root).ok());
    let parts = inside.into_iter().flat_map(Path::iter);
    parts.fold(String::new(), |path, part| {
        path + &part.to_string_lossy() + "::"
    })
}

#[test]
fn no_file_or_folder_uses_one_that_uses_it() {
    for (folder, parts) in folders() {
        let circle = circle(beside(&module_path(&folder), &parts));
        assert!(circle.is_empty(), "{}: {circle:?}", folder.display());
    }
}

/// A part of a made-up folder.
fn part(name: &str, own: &str, beneath: &str) -> (String, Part) {
    let part = Part {
        own: own.to_owned(),
        beneath: beneath.to_owned(),
    };
    (name.to_owned(), part)
}

#[test]
fn a_circle_is_seen_through_what_mod_rs_hands_on() {
    let handed_on = "mod a;\npub use a::{First, Second};\npub(crate) use b::third;";
    let parts = [
        part("mod", handed_on, ""),
        part("a", "use super::third;", ""),
        part("b", "use super::{First, c};", ""),
        part("c", "fn f() {}", ""),
    ];
    assert_eq!(
        circle(beside("verdict::", &BTreeMap::from(parts))),
        ["a", "b"]
    );
}

/// What a file in a folder calls `super` is that folder, not the one around it.
#[test]
fn a_circle_is_seen_through_a_folder() {
    let found = |within: &str| {
        let parts = [part("a", "", within), part("b", "use super::a::x;", "")];
        circle(beside("verdict::", &BTreeMap::from(parts)))
    };
    assert_eq!(found("use crate::verdict::b::c;"), ["a", "b"]);
    assert!(found("use super::b;").is_empty());
}

#[test]
fn the_core_is_pure_and_sql_lives_in_one_place() {
    let mut wrong = Vec::new();
    for (module, path, code) in modules() {
        for (word, allowed) in IMPURE {
            if code.contains(word) && !allowed.contains(&module.as_str()) {
                wrong.push(format!("{} has {word}", path.display()));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn the_reader_of_uses_sees_nested_lists() {
    let code = "use crate::{frame::{PointMm, Side}, units};\nlet x = crate::plane::fit();";
    let expected = ["frame", "plane", "units"].map(String::from);
    assert_eq!(used(code), BTreeSet::from(expected));
}
