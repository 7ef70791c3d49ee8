//! Backups that are none, or mean harm: each is refused in words and changes nothing.

use std::path::{Path, PathBuf};
use std::process::Command;

use shimwright::backup::{BackupError, BackupUse};
use shimwright::store::StoreError;
use shimwright::workshop::{Workshop, WorkshopError};

use crate::backup::shelf::{backup, rows, stocked, take};
use crate::workshop::bench::Folder;

/// A backup after `change` was done to its parts by Python: `parts` is a list of (name, bytes).
fn changed(folder: &Folder, zip: &Path, change: &str) -> PathBuf {
    let bad = folder.path().join("bad.zip");
    let script = format!(
        r#"
import hashlib, json, struct, sys, warnings, zipfile
warnings.simplefilter("ignore")
old = zipfile.ZipFile(sys.argv[1])
parts = [(name, old.read(name)) for name in old.namelist()]
def get(name): return dict(parts)[name]
def put(name, content): parts[:] = [(n, content if n == name else c) for n, c in parts]
def true():
    manifest = json.loads(get("manifest.json"))
    for part in manifest["parts"]:
        content = get(part["name"])
        part["bytes"], part["sha256"] = len(content), hashlib.sha256(content).hexdigest()
    put("manifest.json", json.dumps(manifest).encode())
{change}
new = zipfile.ZipFile(sys.argv[2], "w", zipfile.ZIP_DEFLATED)
for name, content in parts: new.writestr(name, content)
new.close()
"#
    );
    let told = Command::new("python3")
        .args(["-c", &script])
        .args([zip, &bad])
        .output()
        .unwrap();
    assert!(
        told.status.success(),
        "{}",
        String::from_utf8_lossy(&told.stderr)
    );
    bad
}

fn refused(change: &str) -> BackupError {
    let folder = Folder::new();
    let (mut workshop, _) = stocked(&folder);
    let zip = backup(&mut workshop, &folder, "backup.zip");
    let before = rows(&mut workshop, &folder);
    let bad = changed(&folder, &zip, change);
    let mut errors = Vec::new();
    for used_as in [BackupUse::Restore, BackupUse::Merge] {
        match take(&mut workshop, &folder, &bad, used_as) {
            Err(WorkshopError::Backup(error)) => errors.push(error),
            other => panic!("{change}: {other:?}"),
        }
        assert_eq!(rows(&mut workshop, &folder), before, "{change}");
    }
    let outside = folder.path().parent().unwrap().join("evil");
    assert!(!outside.exists());
    errors.pop().unwrap()
}

#[test]
fn names_that_lead_elsewhere_or_stand_twice() {
    for change in [
        r#"parts.append(("../evil", b"x"))"#,
        r#"parts.append(("/tmp/evil", b"x"))"#,
        r#"parts.append(("photos/../../evil.jpg", b"x"))"#,
        r#"parts.append(("photos/" + "a" * 64 + ".jpg/../../../evil", b"x"))"#,
        r#"parts.append(("workshop.json", b"{}"))"#,
        r#"parts.append(("run.sh", b"x"))"#,
    ] {
        assert!(
            matches!(refused(change), BackupError::NotABackup { .. }),
            "{change}"
        );
    }
}

#[test]
fn parts_that_are_not_what_the_manifest_says() {
    let flipped = r#"name = parts[1][0]; put(name, b"another picture"); "#;
    assert!(matches!(refused(flipped), BackupError::Damaged { .. }));
    let consistent = r#"name = parts[1][0]; put(name, b"another picture"); true()"#;
    assert!(
        matches!(refused(consistent), BackupError::Damaged { .. }),
        "its name is its content"
    );
    let rows = r#"put("workshop.json", get("workshop.json").replace(b"Heron", b"Eagle"))"#;
    assert!(matches!(refused(rows), BackupError::Damaged { .. }));
    let gone = "del parts[0]";
    assert!(matches!(refused(gone), BackupError::Damaged { .. }));
}

#[test]
fn versions_of_the_future_and_other_programs() {
    let newer =
        r#"put("manifest.json", get("manifest.json").replace(b'"version": 1', b'"version": 2'))"#;
    assert!(matches!(
        refused(newer),
        BackupError::Newer { found: 2, known: 1 }
    ));
    let foreign =
        r#"put("manifest.json", get("manifest.json").replace(b"shimwright-backup", b"album"))"#;
    assert!(matches!(refused(foreign), BackupError::NotABackup { .. }));
    let bare = r#"parts[:] = [p for p in parts if p[0] != "manifest.json"]"#;
    assert!(matches!(refused(bare), BackupError::NotABackup { .. }));
}

#[test]
fn rows_that_are_no_workshop() {
    let edit = |python: &str| {
        let change = format!(
            "rows = json.loads(get('workshop.json'))\n{python}\nput('workshop.json', json.dumps(rows).encode())\ntrue()"
        );
        let error = refused(&change);
        let of_rows = matches!(error, BackupError::Store(StoreError::Dump { .. }));
        assert!(of_rows, "{python}: {error:?}");
    };
    edit("rows['bow'][0]['name'] = 7");
    edit("rows['bow'][0]['sql'] = 'x'");
    edit("rows['bow'].append(rows['bow'][0])");
    edit("rows['trial'][0]['bow_id'] = 99");
    edit("rows['trial'][0]['id'] = 2**62");
    edit("rows['trial'][0]['tick'] = 2**60");
    edit("rows['trial'][0]['uid'] = None");
    edit("rows['clock'][0]['tick'] = 2**60");
    edit("rows['clock'] = []");
    edit("rows['sqlite_schema'] = []");
    edit("rows['trial'][0]['distance_m'] = [1]");
    edit("rows['trial'][0]['note'] = __import__('secrets').token_hex(5 << 20)");
}

#[test]
fn json_that_is_malformed_deep_or_huge() {
    for python in [
        "b'{'",
        "b'[' * 5_000_000",
        "b'{\"bow\":' + b'[' * 5_000_000",
        "b'{\"bow\":[], \"bow\":[]}'",
        "b'{\"clock\":[{\"id\":1,\"tick\":' + b'9' * 100_000 + b'}]}'",
        "get('workshop.json') + b'more'",
        "b''",
    ] {
        let error = refused(&format!("put('workshop.json', {python}); true()"));
        let told = matches!(
            error,
            BackupError::Store(_) | BackupError::NotABackup { .. }
        );
        assert!(told, "{python}: {error}");
    }
}

#[test]
fn bombs_are_refused_before_they_are_unpacked() {
    let error = refused("put('workshop.json', b' ' * 300_000_000); true()");
    assert!(matches!(error, BackupError::NotABackup { .. }), "{error}");
}

#[test]
fn what_is_no_zip_at_all() {
    let folder = Folder::new();
    let mut workshop = Workshop::open(&folder.file()).unwrap();
    let fake = folder.path().join("fake.zip");
    for bytes in [
        &b""[..],
        b"a letter to the club",
        &b"PK\x05\x06".repeat(5_000),
    ] {
        std::fs::write(&fake, bytes).unwrap();
        let refused = take(&mut workshop, &folder, &fake, BackupUse::Restore);
        let told = matches!(
            refused,
            Err(WorkshopError::Backup(BackupError::NotABackup { .. }))
        );
        assert!(told, "{refused:?}");
    }
    let lost = folder.path().join("lost.zip");
    assert!(take(&mut workshop, &folder, &lost, BackupUse::Restore).is_err());
}

#[test]
fn every_cut_of_a_backup_is_refused() {
    let folder = Folder::new();
    let (mut workshop, _) = stocked(&folder);
    let zip = backup(&mut workshop, &folder, "backup.zip");
    let whole = std::fs::read(&zip).unwrap();
    let cut = folder.path().join("cut.zip");
    for keep in [1, 100, whole.len() / 2, whole.len() - 60, whole.len() - 1] {
        std::fs::write(&cut, &whole[..keep]).unwrap();
        assert!(
            take(&mut workshop, &folder, &cut, BackupUse::Restore).is_err(),
            "{keep}"
        );
    }
    assert_eq!(workshop.rack("").unwrap().len(), 1);
}
