//! However hostile a backup is, it costs no more than 256 MiB of memory and ten seconds of the
//! processor, unoptimised as tests are built. Each is taken by a process of its own, which says what
//! it held at its peak and how long it ran.

use std::process::Command;

use crate::workshop::bench::Folder;

const MOST_MIB: f64 = 256.0;
const MOST_SECONDS: f64 = 10.0;

/// Makes a backup in Python (`rows`: bytes or a generator of bytes for `workshop.json`) and takes it.
fn cost(python: &str) -> (f64, f64, String) {
    let folder = Folder::new();
    let (zip, file) = (folder.path().join("bad.zip"), folder.file());
    let script = format!(
        r#"
import hashlib, json, sys, zipfile, zlib
def head(schema=6): return b'{{"schema": %d, "clock": [{{"id": 1, "tick": 9}}]' % schema
def write(rows, parts=(), packed=zipfile.ZIP_DEFLATED):
    with zipfile.ZipFile(sys.argv[1], "w", packed) as zip:
        hash, size = hashlib.sha256(), 0
        with zip.open("workshop.json", "w", force_zip64=True) as out:
            for piece in rows:
                out.write(piece); hash.update(piece); size += len(piece)
        entries = [{{"name": "workshop.json", "bytes": size, "sha256": hash.hexdigest()}}]
        for name, content in parts:
            zip.writestr(name, content)
            entries.append({{"name": name, "bytes": len(content), "sha256": hashlib.sha256(content).hexdigest()}})
        zip.writestr("manifest.json", json.dumps({{"format": "shimwright-backup", "version": 1,
            "schema": 6, "made_ms": 1, "parts": entries}}))
{python}
"#
    );
    let made = Command::new("python3")
        .args(["-c", &script])
        .arg(&zip)
        .output()
        .unwrap();
    assert!(
        made.status.success(),
        "{}",
        String::from_utf8_lossy(&made.stderr)
    );
    let taken = Command::new(env!("CARGO_BIN_EXE_take_backup"))
        .args([&zip, &file])
        .output()
        .unwrap();
    assert!(
        taken.status.success(),
        "{}",
        String::from_utf8_lossy(&taken.stderr)
    );
    let told = String::from_utf8_lossy(&taken.stdout).into_owned();
    let mut words = told.splitn(3, ' ');
    let mut figure = || words.next().unwrap().parse::<f64>().unwrap();
    let (seconds, mib) = (figure(), figure());
    eprintln!("{seconds:.2} s, {mib:.1} MiB: {python}");
    (seconds, mib, told)
}

fn bounded(python: &str) -> String {
    let (seconds, mib, told) = cost(python);
    assert!(mib < MOST_MIB, "{mib} MiB: {python}: {told}");
    assert!(seconds < MOST_SECONDS, "{seconds} s: {python}: {told}");
    told
}

/// A column of a row of `setup_change`, the smallest row there is.
const ROWS: &str = r#"
def row(i): return b'{"id":%d,"bow_id":1,"kind":"new_string","value_mm":null,"note":"","at_ms":1,"uid":"%032x","born":1}' % (i, i)
def rows(count):
    yield head() + b', "setup_change": ['
    for i in range(1, count + 1):
        yield (b',' if i > 1 else b'') + row(i)
    yield b']}'
"#;

#[test]
fn a_part_that_unpacks_to_a_thousand_times_its_size() {
    let told = bounded("write(b' ' * 1_000_000 for _ in range(900))");
    assert!(told.contains("refused"), "{told}");
}

#[test]
fn more_rows_than_any_shop_has() {
    let told = bounded(&[ROWS, "write(rows(600_000))"].concat());
    assert!(told.contains("refused"), "{told}");
}

#[test]
fn one_text_without_end() {
    for packed in ["DEFLATED", "STORED"] {
        let told = bounded(&format!(
            "import itertools\n\
             start = [head() + b', \"bow\": [{{\"name\": \"']\n\
             write(itertools.chain(start, (b'x' * 999_999 for _ in range(200))), packed=zipfile.ZIP_{packed})"
        ));
        assert!(told.contains("refused"), "{told}");
    }
}

#[test]
fn lists_within_lists_and_a_number_of_a_million_digits() {
    for rows in [
        "[b'{\"bow\":' + b'[' * 50_000_000]",
        "[b'{\"bow\":[{\"notes\":' + b'[' * 7_000_000]",
        "[head() + b', \"bow\": [{\"id\": ' + b'9' * 7_000_000 + b'}]}']",
        "[head() + b', \"camera\": [{\"k1\": 1e' + b'9' * 7_000_000 + b'}]}']",
    ] {
        let told = bounded(&format!("write({rows}, packed=zipfile.ZIP_STORED)"));
        assert!(told.contains("refused"), "{told}");
    }
}

#[test]
fn a_hundred_thousand_parts_and_a_picture_that_is_too_large() {
    let many = "write([head() + b'}'], ((f'photos/{i:064x}.jpg', b'x') for i in range(60_000)))";
    let told = bounded(many);
    assert!(told.contains("refused"), "{told}");
    let large = "write([head() + b'}'], [('photos/' + 'a' * 64 + '.jpg', b'x' * (65 << 20))], packed=zipfile.ZIP_STORED)";
    let told = bounded(large);
    assert!(told.contains("refused"), "{told}");
}
