//! What fuzzing has found and what it started from, replayed: `tests/data/fuzz/TARGET/*`. A target
//! passes where it neither panics nor leaves a workshop changed that refused something.

#[path = "../fuzz/src/targets.rs"]
mod targets;

fn replay(target: &str, run: fn(&[u8])) {
    let folder = format!("{}/data/fuzz/{target}", env!("CARGO_MANIFEST_DIR"));
    let mut replayed = 0;
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        eprintln!("{}", path.display());
        run(&std::fs::read(path).unwrap());
        replayed += 1;
    }
    assert!(replayed > 0, "nothing is kept for {target}");
}

// One test, because the targets share a folder in memory.
#[test]
fn everything_that_is_kept_is_taken_or_refused() {
    replay("backup", targets::backup);
    replay("rows", targets::rows);
    replay("workshop_file", targets::workshop_file);
    replay("case", targets::case);
    replay("units", targets::units);
    replay("shared", targets::shared);
    targets::tidy();
}
