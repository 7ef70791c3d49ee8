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
    progress(connection, bow, &mut all)?;
    Ok(all)
}

type All = HashMap<i64, Standing>;

/// What is asked of every bow, and the same of one, `?1`.
struct Asked {
    all: &'static str,
    one: &'static str,
}

macro_rules! asked {
    ($all:literal, $and:literal) => {
        Asked {
            all: $all,
            one: concat!($all, $and),
        }
    };
}

impl Asked {
    fn of(&self, bow: Option<i64>) -> &'static str {
        if bow.is_some() { self.one } else { self.all }
    }
}

/// The newest answer of every check that is failed or has a figure.
const CHECKS: Asked = asked!(
    "SELECT c.bow_id, c.item, c.state, c.measured, (SELECT maker FROM bow WHERE id = c.bow_id) \
     FROM setup_check AS c INDEXED BY setup_check_to_judge WHERE (c.state = 'failed' OR c.measured IS NOT NULL) \
     AND NOT EXISTS (SELECT 1 FROM setup_check AS n \
     WHERE n.bow_id = c.bow_id AND n.item = c.item AND n.id > c.id)",
    " AND c.bow_id = ?1"
);
/// The newest trial that counts, whether the set-up was changed after it (what only confirms the
/// record is no change), and the newest verdict. Each is one step into a list that holds all of it.
const PROGRESS: Asked = asked!(
    "SELECT bow.id, (SELECT t.fitting_id FROM trial AS t INDEXED BY trial_by_standing \
     WHERE t.bow_id = bow.id AND t.struck_ms IS NULL ORDER BY t.id DESC LIMIT 1), \
     (SELECT t.born FROM trial AS t INDEXED BY trial_by_standing \
     WHERE t.bow_id = bow.id AND t.struck_ms IS NULL ORDER BY t.id DESC LIMIT 1) < \
     (SELECT max(c.born) FROM setup_change AS c INDEXED BY setup_change_by_birth \
     WHERE c.bow_id = bow.id AND c.kind <> 'side_confirmed'), \
     v.revision = bow.revision, v.outcome, v.more FROM bow \
     LEFT JOIN verdict AS v INDEXED BY verdict_by_bow ON v.bow_id = bow.id \
     AND v.id = (SELECT max(id) FROM verdict WHERE bow_id = bow.id)",
    " WHERE bow.id = ?1"
);

fn failed_checks(
    connection: &Connection,
    bow: Option<i64>,
    all: &mut All,
) -> Result<(), StoreError> {
    let mut query = connection.prepare_cached(CHECKS.of(bow))?;
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

fn progress(connection: &Connection, bow: Option<i64>, all: &mut All) -> Result<(), StoreError> {
    let mut query = connection.prepare_cached(PROGRESS.of(bow))?;
    let mut rows = query.query(params_from_iter(bow))?;
    while let Some(row) = rows.next()? {
        let (last_trial, verdict) = (last_trial(row)?, last_verdict(row)?);
        if last_trial.is_some() || verdict.is_some() {
            let standing = all.entry(row.get(0)?).or_default();
            (standing.last_trial, standing.verdict) = (last_trial, verdict);
        }
    }
    Ok(())
}

fn last_trial(row: &Row) -> rusqlite::Result<Option<LastTrial>> {
    let (fitting_id, changed): (Option<i64>, Option<bool>) = (row.get(1)?, row.get(2)?);
    Ok(fitting_id.map(|fitting_id| LastTrial {
        fitting_id,
        changed_since: changed.unwrap_or(false),
    }))
}

fn last_verdict(row: &Row) -> rusqlite::Result<Option<LastVerdict>> {
    let Some(stands) = row.get(3)? else {
        return Ok(None);
    };
    let more: Option<String> = row.get(5)?;
    let more = more.and_then(|text| form::read::<StoredMore>("verdict", &text).ok());
    // An outcome this program does not know leaves the bow waiting for a verdict.
    let outcome = from_name("verdict", row.get(4)?).ok();
    Ok(outcome.map(|outcome| LastVerdict {
        stands,
        outcome,
        more,
    }))
}
