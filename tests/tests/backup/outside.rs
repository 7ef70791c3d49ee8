//! The zip as other programs read it: Info-ZIP's `unzip` and Python's `zipfile`.

use std::process::{Command, Output};

use crate::backup::shelf::{backup, stocked};
use crate::workshop::bench::Folder;

fn run(program: &str, arguments: &[&str]) -> Output {
    let output = Command::new(program).args(arguments).output().unwrap();
    assert!(output.status.success(), "{program}: {output:?}");
    output
}

#[test]
fn unzip_finds_no_fault() {
    let folder = Folder::new();
    let (mut workshop, _) = stocked(&folder);
    let zip = backup(&mut workshop, &folder, "backup.zip");
    let told = run("unzip", &["-t", zip.to_str().unwrap()]);
    assert!(String::from_utf8_lossy(&told.stdout).contains("No errors detected"));
}

#[test]
fn python_reads_every_part_and_finds_the_manifest_true() {
    let folder = Folder::new();
    let (mut workshop, _) = stocked(&folder);
    let zip = backup(&mut workshop, &folder, "backup.zip");
    let script = r#"
import hashlib, json, sys, zipfile
zip = zipfile.ZipFile(sys.argv[1])
assert zip.testzip() is None
manifest = json.loads(zip.read("manifest.json"))
names = {part["name"] for part in manifest["parts"]}
assert names | {"manifest.json"} == set(zip.namelist()), names
for part in manifest["parts"]:
    content = zip.read(part["name"])
    assert len(content) == part["bytes"] and hashlib.sha256(content).hexdigest() == part["sha256"], part
rows = json.loads(zip.read("workshop.json"))
assert len(rows["trial"]) == 2 and rows["bow"][0]["name"] == "Heron"
for photo in names - {"workshop.json"}:
    assert hashlib.sha256(zip.read(photo)).hexdigest() in photo
print(len(names))
"#;
    let told = run("python3", &["-c", script, zip.to_str().unwrap()]);
    assert_eq!(String::from_utf8_lossy(&told.stdout).trim(), "3");
}

#[test]
fn a_backup_that_another_program_packed_again_is_taken() {
    let (folder, new) = (Folder::new(), Folder::new());
    let (mut workshop, _) = stocked(&folder);
    let zip = backup(&mut workshop, &folder, "backup.zip");
    let again = folder.path().join("again.zip");
    let script = r#"
import sys, zipfile
old, new = zipfile.ZipFile(sys.argv[1]), zipfile.ZipFile(sys.argv[2], "w", zipfile.ZIP_DEFLATED)
new.mkdir("photos")
for name in reversed(old.namelist()):
    new.writestr(name, old.read(name))
new.close()
"#;
    run(
        "python3",
        &["-c", script, zip.to_str().unwrap(), again.to_str().unwrap()],
    );
    let mut fresh = shimwright::workshop::Workshop::open(&new.file()).unwrap();
    let used_as = shimwright::backup::BackupUse::Restore;
    let taken = crate::backup::shelf::take(&mut fresh, &new, &again, used_as).unwrap();
    assert_eq!(taken.photos_added, 2);
}
