//! Backups from the command line: making one, restoring it, merging two workshops.

use std::io::{Read, Write};
use std::path::Path;
use std::time::{SystemTime, UNIX_EPOCH};

use shimwright::backup::{BackupPiece, BackupUse, PhotoFolder};
use shimwright::plane::Paper;
use shimwright::store::{SalvagedTable, Unread};
use shimwright::workshop::Workshop;

use crate::case::told;
use crate::words::fitted_short;

/// Writes a backup of `workshop` and of the folder `photos` beside it to the new file `zip`.
pub(crate) fn backup(workshop: &str, zip: &str) -> Result<String, String> {
    let mut open = existing(workshop)?;
    let giving = open
        .begin_backup(&photos(workshop), now_ms())
        .map_err(told)?;
    giving.write_to(Path::new(zip), show).map_err(told)?;
    eprintln!();
    Ok(format!("{zip}: a backup of {workshop}\n"))
}

/// Takes the backup `zip` into `workshop`, which need not exist.
pub(crate) fn take(zip: &str, workshop: &str, used_as: BackupUse) -> Result<String, String> {
    let mut open = opened(workshop)?;
    let taking = open.begin_taking(Path::new(zip), used_as, &photos(workshop));
    let taken = open.finish_taking(taking.map_err(told)?).map_err(told)?;
    let mut text = format!(
        "{workshop}: {} bows; {} photographs came with them, {} were not in the backup\n",
        open.rack("").map_err(told)?.len(),
        taken.photos_added,
        taken.photos_missing
    );
    let lines = [unread(&open)?, contested(&open)?].concat();
    for line in lines {
        text = text + &line + "\n";
    }
    Ok(text)
}

/// Makes the new workshop file `path` of what can be read of `damaged`.
pub(crate) fn salvage(damaged: &str, path: &str) -> Result<String, String> {
    let saved = shimwright::store::salvage(Path::new(damaged), Path::new(path)).map_err(told)?;
    let line = |one: SalvagedTable| {
        let least = if one.at_least { "at least " } else { "" };
        format!(
            "{}: {} saved, {least}{} missing\n",
            one.table, one.saved, one.missing
        )
    };
    Ok(saved.into_iter().map(line).collect())
}

/// The bow of that name as CSV: every arrow, or every trial.
pub(crate) fn csv(workshop: &str, bow: &str, trials: bool) -> Result<String, String> {
    let open = existing(workshop)?;
    let bow_id = bow_named(&open, bow)?;
    let table = if trials {
        open.trials_csv(bow_id)
    } else {
        open.arrows_csv(bow_id)
    };
    table.map_err(told)
}

/// The tune sheet of the bow of that name, as PDF and as PNG, in `folder`.
pub(crate) fn tune_sheet(
    workshop: &str,
    bow: &str,
    folder: &str,
    paper: Paper,
) -> Result<String, String> {
    const WIDTH_PX: u32 = 1240; // 150 dots an inch of A4
    let open = existing(workshop)?;
    let sheet = open.tune_sheet(bow_named(&open, bow)?, now_ms());
    let sheet = sheet.map_err(told)?;
    let words: Vec<String> = sheet.asks().iter().map(crate::words::sheet).collect();
    let folder = Path::new(folder);
    std::fs::create_dir_all(folder).map_err(told)?;
    let files = [
        ("tune-sheet.pdf", sheet.pdf(&words, paper)),
        ("tune-sheet.png", sheet.png(&words, WIDTH_PX)),
    ];
    let mut text = String::new();
    for (name, bytes) in files {
        let file = folder.join(name);
        std::fs::write(&file, bytes.map_err(told)?).map_err(|error| {
            format!(
                "{} cannot be written ({error}); choose another folder",
                file.display()
            )
        })?;
        text = text + &file.display().to_string() + "\n";
    }
    Ok(text)
}

fn bow_named(open: &Workshop, bow: &str) -> Result<i64, String> {
    let rows = open.rack(bow).map_err(told)?;
    let row = rows.iter().find(|row| row.name == bow);
    let row = row.ok_or_else(|| {
        format!(
            "there is no bow {bow} in {}; check how its name is written",
            open.path().display()
        )
    })?;
    Ok(row.bow_id)
}

fn existing(workshop: &str) -> Result<Workshop, String> {
    if Path::new(workshop).is_file() {
        opened(workshop)
    } else {
        Err(format!("there is no workshop {workshop}; check its path"))
    }
}

fn unread(open: &Workshop) -> Result<Vec<String>, String> {
    let rows = open.unread().map_err(told)?.into_iter();
    let line = |row: Unread| {
        format!(
            "{} {} cannot be read: {}",
            row.thing.word(),
            row.id,
            row.detail
        )
    };
    Ok(rows.map(line).collect())
}

fn contested(open: &Workshop) -> Result<Vec<String>, String> {
    let mut lines = Vec::new();
    for bow in open.contested_bows().map_err(told)? {
        let page = open.bow_page(bow.id).map_err(told)?;
        let name = bow.details.name;
        lines.push(format!(
            "{name}: recorded apart and not alike; look what is in the bow:"
        ));
        let entries = page.contested.iter();
        lines.extend(entries.map(|entry| ["  ", &fitted_short(&entry.fitting)].concat()));
    }
    Ok(lines)
}

fn opened(workshop: &str) -> Result<Workshop, String> {
    let mut entropy = [0; 16];
    let mut source = std::fs::File::open("/dev/urandom").map_err(told)?;
    source.read_exact(&mut entropy).map_err(told)?;
    Workshop::open_with(Path::new(workshop), entropy).map_err(told)
}

fn photos(workshop: &str) -> PhotoFolder {
    PhotoFolder::new(&Path::new(workshop).with_file_name("photos"))
}

fn show(piece: &BackupPiece) -> bool {
    let percent = 100 * piece.done_bytes / piece.total_bytes.max(1);
    // A terminal that cannot be written to is no reason to stop.
    let _ = write!(std::io::stderr(), "\r{percent} %");
    true
}

fn now_ms() -> i64 {
    let since = SystemTime::now().duration_since(UNIX_EPOCH);
    since.map_or(0, |since| since.as_millis() as i64)
}
