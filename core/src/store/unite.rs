//! Two workshop files made into one.
//!
//! Rows with the same id are one row. Facts unite; of what can change the later change stands. The
//! rows are numbered anew in the order of their births, so that "the newest" means the same in the
//! united file as in each of its halves, and so that the result does not depend on which file is
//! merged into which.

use std::collections::HashMap;
use std::path::Path;

use rusqlite::Transaction;
use rusqlite::functions::FunctionFlags;
use serde_json::Value;

use super::ladder::APPLICATION_ID;
use super::{Entropy, SCHEMA_VERSION, StoreError, identity, ladder, place};
use numbers::{SIDES, number};

mod numbers;

/// Epochs of both files, and everything that is not copied row by row.
const EPOCHS: &str = include_str!("unite/epochs.sql");
const REST: &str = include_str!("unite/rest.sql");

/// The tables whose rows have an id, each with the columns that refer to another table.
const TABLES: [(&str, &[(&str, &str)]); 8] = [
    ("kit", &[]),
    ("bow", &[("kit_id", "kit")]),
    ("arrow_setup", &[("bow_id", "bow")]),
    (
        "fitting",
        &[
            ("bow_id", "bow"),
            ("kit_id", "kit"),
            ("verdict_id", "verdict"),
            ("corrects_id", "fitting"),
        ],
    ),
    (
        "trial",
        &[
            ("bow_id", "bow"),
            ("fitting_id", "fitting"),
            ("arrow_setup_id", "arrow_setup"),
        ],
    ),
    (
        "verdict",
        &[
            ("bow_id", "bow"),
            ("fitting_id", "fitting"),
            ("last_trial_id", "trial"),
        ],
    ),
    ("setup_check", &[("bow_id", "bow")]),
    (
        "setup_change",
        &[("bow_id", "bow"), ("corrects_id", "setup_change")],
    ),
];

/// Writes the union of two files of this program's schema version into a new file.
///
/// # Errors
/// Where one of them cannot be read or the new one cannot be written.
pub(crate) fn unite(mine: &Path, theirs: &Path, fresh: &Path) -> Result<(), StoreError> {
    let mut connection = place::fresh(fresh)?;
    identity::register(&connection, Entropy::default(), &identity::Told::default())?;
    for (path, name) in [mine, theirs].into_iter().zip(SIDES) {
        connection.execute("ATTACH ?1 AS ?2", (path.to_string_lossy(), name))?;
    }
    let tx = connection.transaction()?;
    ladder::climb(&tx, 0, SCHEMA_VERSION)?;
    tx.pragma_update(None, "application_id", APPLICATION_ID)?;
    ladder::filled(&tx, || {
        for (table, _) in TABLES {
            number(&tx, table, &listing(table))?;
        }
        tx.execute_batch(EPOCHS)?;
        renumber_verdicts(&tx)?;
        for (table, refers) in TABLES {
            for side in SIDES {
                tx.execute_batch(&copying(&tx, table, refers, side)?)?;
            }
        }
        Ok(tx.execute_batch(REST)?)
    })?;
    tx.commit()?;
    Ok(())
}

/// The statement that lists the rows of both sides: side, id, uid, birth, last write and its mark,
/// and bow. Its parts are names out of the list above.
fn listing(table: &str) -> String {
    let written = match table {
        "kit" | "bow" | "arrow_setup" | "trial" => "tick, mark",
        // Facts are written once.
        _ => "born, NULL",
    };
    let bow = match table {
        "kit" | "bow" => "NULL",
        _ => "bow_id",
    };
    let side = |number, name| {
        let parts = [
            "SELECT ",
            number,
            ", id, uid, born, ",
            written,
            ", ",
            bow,
            " FROM ",
            name,
            ".",
            table,
        ];
        parts.concat()
    };
    [side("0", "a"), side("1", "b")].join(" UNION ALL ")
}

/// The statement that copies the rows of one side that stand in the union. Its parts are names out
/// of the schema and of the list above, never anything that was typed.
fn copying(
    tx: &Transaction,
    table: &str,
    refers: &[(&str, &str)],
    side: &str,
) -> Result<String, StoreError> {
    let mut query = tx.prepare_cached("SELECT name FROM pragma_table_info(?1)")?;
    let names = query.query_map([table], |row| row.get(0))?;
    let columns: Vec<String> = names.collect::<rusqlite::Result<_>>()?;
    let values = columns.iter().map(|column| {
        let target = refers.iter().find(|(name, _)| name == column);
        match (table, column.as_str(), target) {
            (_, "id", _) => "m.new".to_owned(),
            (_, _, Some((_, target))) => {
                let parts = [
                    "(SELECT new FROM ",
                    target,
                    "_map WHERE side = m.side AND old = r.",
                    column,
                    ")",
                ];
                parts.concat()
            }
            ("trial", "epoch", _) => EPOCH.to_owned(),
            // Nothing is fresh before it is known what the union holds.
            ("bow", "revision", _) => "0".to_owned(),
            ("verdict", "revision", _) => "-1".to_owned(),
            ("verdict", "given", _) => "renumbered(r.given, m.side)".to_owned(),
            (_, plain, _) => ["r.", plain].concat(),
        }
    });
    let values: Vec<String> = values.collect();
    let parts = [
        "INSERT INTO main.",
        table,
        " (",
        &columns.join(", "),
        ") SELECT ",
        &values.join(", "),
        " FROM ",
        side,
        ".",
        table,
        " AS r CROSS JOIN ",
        table,
        "_map AS m ON m.side = '",
        side,
        "' AND m.old = r.id WHERE m.place = 1",
    ];
    Ok(parts.concat())
}

/// An epoch is the change it began with; its number is that change's place among the bow's.
const EPOCH: &str = "ifnull((SELECT new FROM epoch_map AS e WHERE e.side = m.side \
     AND e.bow_id = r.bow_id AND e.old = r.epoch), r.epoch)";

/// Gives the connection `renumbered(given, side)`: a verdict names trials by their numbers.
fn renumber_verdicts(tx: &Transaction) -> Result<(), StoreError> {
    // A half whose trials keep their numbers keeps its verdicts as they are.
    let mut query = tx.prepare("SELECT side, old, new FROM trial_map WHERE old <> new")?;
    let mut numbers: HashMap<String, HashMap<i64, i64>> = HashMap::new();
    let mut rows = query.query([])?;
    while let Some(row) = rows.next()? {
        let (side, old, new) = (row.get(0)?, row.get(1)?, row.get(2)?);
        numbers.entry(side).or_default().insert(old, new);
    }
    let flags = FunctionFlags::SQLITE_DIRECTONLY;
    tx.create_scalar_function("renumbered", 2, flags, move |values| {
        let (text, side): (String, String) = (values.get(0)?, values.get(1)?);
        let numbers = numbers.get(&side);
        let renumbered = numbers.and_then(|numbers| renumbered(&text, numbers));
        Ok(renumbered.unwrap_or(text))
    })?;
    Ok(())
}

/// The document with every trial under its new number; `None` where it stays as it is.
fn renumbered(text: &str, numbers: &HashMap<i64, i64>) -> Option<String> {
    let mut document: Value = serde_json::from_str(text).ok()?;
    let new = |old: i64| numbers.get(&old).copied();
    renumber(&mut document, &new).then(|| document.to_string())
}

fn renumber(value: &mut Value, new: &impl Fn(i64) -> Option<i64>) -> bool {
    match value {
        Value::Object(fields) => fields.iter_mut().fold(false, |changed, (name, value)| {
            let here = match (name.as_str(), value) {
                ("trial", number @ Value::Number(_)) => renumber_one(number, new),
                ("trial_ids", Value::Array(list)) => list
                    .iter_mut()
                    .fold(false, |changed, id| renumber_one(id, new) | changed),
                (_, value) => renumber(value, new),
            };
            here | changed
        }),
        Value::Array(list) => list
            .iter_mut()
            .fold(false, |changed, value| renumber(value, new) | changed),
        _ => false,
    }
}

fn renumber_one(value: &mut Value, new: &impl Fn(i64) -> Option<i64>) -> bool {
    let found = value.as_i64().and_then(|old| Some((old, new(old)?)));
    match found {
        Some((old, new)) if old != new => {
            *value = Value::from(new);
            true
        }
        _ => false,
    }
}
