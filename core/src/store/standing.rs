//! Where a bow stands in its job.

use std::collections::BTreeMap;

use rusqlite::{Connection, Row, params_from_iter};

use super::StoreError;
use super::form::{self, StoredMore, StoredRange};
use super::row::{from_name, known_name};
use super::swaps::swap;
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
    /// The newest verdict, where it was given on everything that is on record now.
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

/// A verdict, as far as the rack needs it.
#[derive(Debug, Clone, Copy)]
pub(crate) struct LastVerdict {
    pub(crate) outcome: Outcome,
    /// The arrows that are still wanted, where that is the outcome.
    pub(crate) more: MoreArrows,
}

/// Where one bow stands.
pub(crate) fn standing(connection: &Connection, bow_id: i64) -> Result<Standing, StoreError> {
    let sql = format!("SELECT {PROGRESS} FROM bow WHERE id = ?1");
    let mut query = connection.prepare_cached(&sql)?;
    let mut rows = query.query([bow_id])?;
    let evidence = rows
        .next()?
        .map_or_else(Standing::default, |row| on_evidence(row, 0));
    Ok(Standing {
        swap: swap(connection, bow_id)?.as_ref().map(steps),
        failed_check: failed_checks(connection, Some(bow_id))?.remove(&bow_id),
        ..evidence
    })
}

/// Steps confirmed and steps in all.
pub(super) fn steps(progress: &SwapProgress) -> (u32, u32) {
    (progress.swap.confirmed, progress.swap.steps().len() as u32)
}

/// The newest answer of every check that is failed or has a figure.
const CHECKS: &str = "SELECT c.bow_id, c.item, c.state, c.measured, (SELECT maker FROM bow WHERE id = c.bow_id) \
     FROM setup_check AS c INDEXED BY setup_check_to_judge WHERE (c.state = 'failed' OR c.measured IS NOT NULL) \
     AND NOT EXISTS (SELECT 1 FROM setup_check AS n \
     WHERE n.bow_id = c.bow_id AND n.item = c.item AND n.id > c.id)";

/// Of a row of `bow`: the fitting that the newest trial that counts was shot on, doubled, and one more where
/// the set-up was changed after it (what only confirms the record is no change, nor what was struck); the newest verdict's outcome
/// and the arrows it wants, where it stands. Each is one step into a list that holds all of it, which is why
/// two answers come in one.
pub(super) const PROGRESS: &str = "(SELECT 2 * t.fitting_id + EXISTS (SELECT 1 FROM setup_change AS c \
     INDEXED BY setup_change_by_birth \
     WHERE c.bow_id = bow.id AND c.kind <> 'side_confirmed' AND c.corrects_id IS NULL AND c.born > t.born \
     AND ifnull((SELECT s.struck FROM setup_change AS s INDEXED BY setup_change_by_correction \
     WHERE s.corrects_id = c.id ORDER BY s.id DESC LIMIT 1), 0) = 0) \
     FROM trial AS t INDEXED BY trial_by_standing \
     WHERE t.bow_id = bow.id AND t.struck_ms IS NULL ORDER BY t.id DESC LIMIT 1), \
     (SELECT CASE v.revision WHEN bow.revision THEN v.outcome || ' ' || ifnull(v.more, '') END \
     FROM verdict AS v INDEXED BY verdict_by_bow \
     WHERE v.bow_id = bow.id ORDER BY v.id DESC LIMIT 1)";
/// How many columns that is.
pub(super) const PROGRESS_COLUMNS: usize = 2;

/// The first failed check in trade order of every bow that has one, or of one bow.
pub(super) fn failed_checks(
    connection: &Connection,
    bow: Option<i64>,
) -> Result<BTreeMap<i64, CheckItem>, StoreError> {
    let of_one = if bow.is_some() {
        " AND c.bow_id = ?1"
    } else {
        ""
    };
    let mut query = connection.prepare_cached(&format!("{CHECKS}{of_one}"))?;
    let mut first: BTreeMap<i64, CheckItem> = BTreeMap::new();
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
            let known = first.entry(bow_id).or_insert(item);
            *known = item.min(*known);
        }
    }
    Ok(first)
}

/// What the evidence says, of the columns of [`PROGRESS`] from `first` on. What cannot be read leaves the bow
/// waiting for a trial or a verdict.
pub(super) fn on_evidence(row: &Row, first: usize) -> Standing {
    let trial: Option<i64> = row.get(first).unwrap_or_default();
    let verdict = row.get_ref(first + 1).ok();
    Standing {
        last_trial: trial.map(|packed| LastTrial {
            fitting_id: packed >> 1,
            changed_since: packed & 1 == 1,
        }),
        verdict: verdict.and_then(|text| last_verdict(text.as_str().ok()?)),
        ..Standing::default()
    }
}

fn last_verdict(text: &str) -> Option<LastVerdict> {
    let (outcome, more) = text.split_once(' ')?;
    let outcome = known_name(outcome).ok()?;
    let more = match outcome {
        Outcome::ShootMore => form::read::<StoredMore>("verdict", more).unwrap_or_default(),
        _ => MoreArrows::default(),
    };
    Some(LastVerdict { outcome, more })
}
