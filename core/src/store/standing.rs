//! Where every bow stands in its job: a few grouped reads for the rack.

use std::collections::HashMap;

use rusqlite::{Connection, Row, params_from_iter};

use super::StoreError;
use super::form::{self, StoredMore, StoredRange};
use super::row::from_name;
use super::swaps::{swap, swaps};
use crate::record::{MoreArrows, Outcome, SwapProgress};
use crate::verdict::{CheckItem, CheckState, Checked, MakerRange};

/// Where a bow stands in its job.
#[derive(Debug, Clone, Default)]
pub(crate) struct Standing {
    /// Steps confirmed and steps in all of the swap under way.
    pub(crate) swap: Option<(u32, u32)>,
    /// The first failed check in trade order.
    pub(crate) failed_check: Option<CheckItem>,
    /// The newest trial that counts.
    pub(crate) last_trial: Option<LastTrial>,
    /// The newest verdict.
    pub(crate) verdict: Option<LastVerdict>,
}

/// The newest trial that counts, as far as the rack needs it.
#[derive(Debug, Clone, Copy)]
pub(crate) struct LastTrial {
    /// What it was shot on.
    pub(crate) fitting_id: i64,
    /// Whether the set-up was changed since.
    pub(crate) changed_since: bool,
}

/// The newest verdict, as far as the rack needs it.
#[derive(Debug, Clone)]
pub(crate) struct LastVerdict {
    /// Whether it was given on everything that is on record now.
    pub(crate) stands: bool,
    pub(crate) outcome: Outcome,
    pub(crate) more: Option<MoreArrows>,
}

/// Where every bow stands, by bow id; a bow that is not in it has nothing on record.
pub(crate) fn standings(connection: &Connection) -> Result<HashMap<i64, Standing>, StoreError> {
    gather(connection, swaps(connection)?, None)
}

/// Where one bow stands.
pub(crate) fn standing(connection: &Connection, bow_id: i64) -> Result<Standing, StoreError> {
    let under_way = swap(connection, bow_id)?.into_iter().collect();
    let mut all = gather(connection, under_way, Some(bow_id))?;
    Ok(all.remove(&bow_id).unwrap_or_default())
}

fn gather(
    connection: &Connection,
    under_way: Vec<SwapProgress>,
    bow: Option<i64>,
) -> Result<HashMap<i64, Standing>, StoreError> {
    let mut all: HashMap<i64, Standing> = HashMap::new();
    for progress in under_way {
        let steps = progress.swap.steps().len() as u32;
        all.entry(progress.bow_id).or_default().swap = Some((progress.swap.confirmed, steps));
    }
    failed_checks(connection, bow, &mut all)?;
    last_trials(connection, bow, &mut all)?;
    last_verdicts(connection, bow, &mut all)?;
    Ok(all)
}

type All = HashMap<i64, Standing>;

fn failed_checks(
    connection: &Connection,
    bow: Option<i64>,
    all: &mut All,
) -> Result<(), StoreError> {
    let newest = newest_of("setup_check", "bow_id, item", bow);
    let sql = format!(
        "SELECT c.bow_id, c.item, c.state, c.measured, b.maker FROM setup_check c \
         JOIN bow b ON b.id = c.bow_id WHERE (c.state = 'failed' OR c.measured IS NOT NULL) \
         AND c.id IN ({newest})"
    );
    let mut query = connection.prepare_cached(&sql)?;
    let columns = |row: &Row| {
        let text: (String, String, String) = (row.get(1)?, row.get(2)?, row.get(4)?);
        Ok((row.get::<_, i64>(0)?, text, row.get(3)?))
    };
    for row in query.query_map(params_from_iter(bow), columns)? {
        let (bow_id, (item, answer, maker), measured) = row?;
        // A check this program does not know is told by the bow's own page.
        let Ok(item) = from_name::<CheckItem>("setup_check", item) else {
            continue;
        };
        let answer: CheckState = from_name("setup_check", answer)?;
        let maker = form::read::<Vec<StoredRange>>("bow", &maker).unwrap_or_default();
        let range = MakerRange::of(&maker, item);
        if Checked::judged(answer, measured, &range).result == CheckState::Failed {
            let first = &mut all.entry(bow_id).or_default().failed_check;
            *first = Some(first.map_or(item, |known| known.min(item)));
        }
    }
    Ok(())
}

/// Whether the set-up of a trial's bow was changed after it: what only confirms the record is no change.
const CHANGED_SINCE: &str = "EXISTS (SELECT 1 FROM setup_change AS c WHERE c.bow_id = trial.bow_id \
     AND c.born > trial.born AND c.kind <> 'side_confirmed')";
/// One step into the index per bow: reading which trials are struck would touch every trial.
const LAST_TRIALS: &str = "SELECT \
     (SELECT id FROM trial AS t WHERE t.bow_id = bow.id AND t.struck_ms IS NULL ORDER BY t.id DESC LIMIT 1) \
     FROM bow";
const LAST_TRIAL: &str = "SELECT id FROM trial \
     WHERE bow_id = ?1 AND struck_ms IS NULL ORDER BY id DESC LIMIT 1";

fn last_trials(connection: &Connection, bow: Option<i64>, all: &mut All) -> Result<(), StoreError> {
    let newest = if bow.is_some() {
        LAST_TRIAL
    } else {
        LAST_TRIALS
    };
    let sql =
        format!("SELECT bow_id, fitting_id, {CHANGED_SINCE} FROM trial WHERE id IN ({newest})");
    let mut query = connection.prepare_cached(&sql)?;
    let columns = |row: &Row| {
        let last = LastTrial {
            fitting_id: row.get(1)?,
            changed_since: row.get(2)?,
        };
        Ok((row.get(0)?, last))
    };
    for row in query.query_map(params_from_iter(bow), columns)? {
        let (bow_id, last) = row?;
        all.entry(bow_id).or_default().last_trial = Some(last);
    }
    Ok(())
}

fn last_verdicts(
    connection: &Connection,
    bow: Option<i64>,
    all: &mut All,
) -> Result<(), StoreError> {
    let newest = newest_of("verdict", "bow_id", bow);
    let sql = format!(
        "SELECT bow_id, verdict.revision = bow.revision, outcome, more \
         FROM verdict JOIN bow ON bow.id = bow_id WHERE verdict.id IN ({newest})"
    );
    let mut query = connection.prepare_cached(&sql)?;
    let columns = |row: &Row| {
        let names: (String, Option<String>) = (row.get(2)?, row.get(3)?);
        Ok((row.get(0)?, row.get(1)?, names))
    };
    for row in query.query_map(params_from_iter(bow), columns)? {
        let (bow_id, stands, (outcome, more)) = row?;
        // An outcome this program does not know leaves the bow waiting for a verdict.
        let Ok(outcome) = from_name("verdict", outcome) else {
            continue;
        };
        let more = more.and_then(|text| form::read::<StoredMore>("verdict", &text).ok());
        all.entry(bow_id).or_default().verdict = Some(LastVerdict {
            stands,
            outcome,
            more,
        });
    }
    Ok(())
}

/// The newest row of every group, of one bow or of all.
fn newest_of(table: &str, group: &str, bow: Option<i64>) -> String {
    let of_bow = if bow.is_some() {
        "WHERE bow_id = ?1"
    } else {
        ""
    };
    format!("SELECT max(id) FROM {table} {of_bow} GROUP BY {group}")
}
