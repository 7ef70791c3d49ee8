//! Takes a backup into a workshop and says what that cost: `take_backup ZIP WORKSHOP` prints the
//! seconds it had the processor (Linux: `schedstat`; else by the clock on the wall), the most memory
//! it held at any time (`VmHWM`), MiB, and what came of it.

use std::path::Path;
use std::time::Instant;

use shimwright::backup::{BackupUse, PhotoFolder};
use shimwright::workshop::{Answer, Workshop};

fn main() {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let [zip, workshop] = words.as_slice() else {
        eprintln!("take_backup ZIP WORKSHOP");
        std::process::exit(2);
    };
    let begun = Instant::now();
    let outcome = match take(Path::new(zip), Path::new(workshop)) {
        Ok(bows) => format!("taken: {bows} bows"),
        Err(error) => format!("refused: {error}"),
    };
    let seconds = on_processor_s().unwrap_or(begun.elapsed().as_secs_f64());
    println!("{seconds:.2} {:.1} {outcome}", peak_mib());
}

fn take(zip: &Path, file: &Path) -> Answer<usize> {
    let mut workshop = Workshop::open(file)?;
    let photos = PhotoFolder::new(&file.with_file_name("photos"));
    let taking = workshop.begin_taking(zip, BackupUse::Restore, &photos)?;
    workshop.finish_taking(taking)?;
    Ok(workshop.rack("")?.len())
}

/// How long this process's one thread ran: other work on the machine does not count.
fn on_processor_s() -> Option<f64> {
    let told = std::fs::read_to_string("/proc/self/schedstat").ok()?;
    let ns: f64 = told.split_whitespace().next()?.parse().ok()?;
    Some(ns / 1e9)
}

/// The peak of this process's resident memory; NaN where the system does not tell.
fn peak_mib() -> f64 {
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:"));
    let kib = line.and_then(|rest| rest.split_whitespace().next()?.parse::<f64>().ok());
    kib.map_or(f64::NAN, |kib| kib / 1024.0)
}
