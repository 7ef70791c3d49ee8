//! Shimwright without a phone: the whole job on photographs, and the parts of it for scripts.

mod archive;
mod case;
mod help;
mod palette;
mod picture;
mod story;
mod svg;
mod words;

use help::HELP;
use shimwright::backup::BackupUse;
use shimwright::plane::Paper;
use shimwright::sheet::reference_sheet_pdf;
use std::path::Path;
use std::process::ExitCode;

fn main() -> ExitCode {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    let done = match words.as_slice() {
        ["run"] => run("demo/out"),
        // A flag is no folder to write pictures into.
        ["run", folder] if !folder.starts_with('-') => run(folder),
        ["measure", "--help" | "-h"] => Ok(help::MEASURE.to_owned()),
        ["verdict", "--help" | "-h"] => Ok(help::VERDICT.to_owned()),
        ["measure", path] => case::measure(path),
        ["verdict", path] => case::verdict(path),
        ["backup", workshop, zip] => archive::backup(workshop, zip),
        ["restore", zip, workshop] => archive::take(zip, workshop, BackupUse::Restore),
        ["merge", zip, workshop] => archive::take(zip, workshop, BackupUse::Merge),
        ["salvage", damaged, file] => archive::salvage(damaged, file),
        ["csv", workshop, bow] => archive::csv(workshop, bow, false),
        ["csv", workshop, bow, "--trials"] => archive::csv(workshop, bow, true),
        ["sheet", workshop, bow, "--out", folder] => {
            archive::tune_sheet(workshop, bow, folder, Paper::A4)
        }
        ["sheet", workshop, bow, "--out", folder, "--letter"] => {
            archive::tune_sheet(workshop, bow, folder, Paper::Letter)
        }
        ["sheet", paper, file] => sheet(paper, file),
        [] | ["help" | "--help" | "-h"] | ["run", "--help" | "-h"] => Ok(HELP.to_owned()),
        _ => Err(format!(
            "{} is not a command; use one of these\n\n{HELP}",
            words.join(" ")
        )),
    };
    match done {
        Ok(text) => {
            print!("{text}");
            ExitCode::SUCCESS
        }
        Err(why) => {
            eprintln!("error: {why}");
            ExitCode::FAILURE
        }
    }
}

fn run(folder: &str) -> Result<String, String> {
    story::run(Path::new(folder), &mut std::io::stdout()).map(|()| String::new())
}

fn sheet(paper: &str, file: &str) -> Result<String, String> {
    let paper = match paper {
        "a4" => Paper::A4,
        "letter" => Paper::Letter,
        other => {
            return Err(format!(
                "{other} is no paper of the reference sheet; write a4 or letter"
            ));
        }
    };
    let marks = paper.marks();
    let pdf = reference_sheet_pdf(paper).map_err(|e| e.to_string())?;
    std::fs::write(file, pdf)
        .map_err(|e| format!("{file} cannot be written ({e}); choose another place"))?;
    Ok(format!(
        "{file}: print it at 100 %, then check its ruler. Outer edges of the marks: {:.0} x {:.0} mm.\n",
        marks.width_mm, marks.height_mm
    ))
}
