//! Measures a folder of real photographs and prints what came out beside its bars; exits with 1 when
//! one is missed, and with 0 and a line that says so when there is no such folder.
//!
//! `real-table [FOLDER] [TEXT]`: only the cases whose name contains TEXT.

use std::path::Path;
use std::process::ExitCode;

use shimwright_tests::real::{measure_folder, rows};

fn main() -> ExitCode {
    let mut arguments = std::env::args().skip(1);
    let Some(folder) = arguments.next() else {
        println!("skipped: no folder of photographs given");
        return ExitCode::SUCCESS;
    };
    if !Path::new(&folder).join("truth.json").is_file() {
        println!("skipped: there are no photographs with a truth.json in {folder}");
        return ExitCode::SUCCESS;
    }
    let only = arguments.next().unwrap_or_default();
    match measure_folder(Path::new(&folder), &only) {
        Ok(outcomes) => {
            let rows = rows(&outcomes);
            for row in &rows {
                println!("{row}");
            }
            let missed = rows.iter().filter(|row| !row.kept()).count();
            println!("{missed} rows missed a bar");
            ExitCode::from(u8::from(missed > 0))
        }
        Err(why) => {
            eprintln!("{why}");
            ExitCode::FAILURE
        }
    }
}
