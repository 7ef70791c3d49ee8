//! Ids that no other phone gives, and the logical time.

use std::sync::Arc;
use std::sync::atomic::{AtomicI64, AtomicU64, Ordering};

use rusqlite::functions::{Context, FunctionFlags};
use rusqlite::types::ValueRef;
use rusqlite::{Connection, Transaction};
use sha2::{Digest, Sha256};

use super::StoreError;

/// Bytes of a stable id: as many as make two alike ones unthinkable.
const UID_BYTES: usize = 16;
/// The last time a clock is believed, epoch ms (the year 3554): half of what a file may hold (the
/// year 5138), so that the logical clock never runs out.
const LAST_MS: i64 = 99_999_999_999_999 / 2;

/// What the shell draws from the system's random source once per opening. Without it ids repeat in
/// two files that are written at the same millisecond: good enough for tests and demonstrations.
pub type Entropy = [u8; 16];

/// The latest time that this opening of the file was told, epoch ms: it dates the writes that carry
/// no time of their own.
#[derive(Debug, Clone, Default)]
pub(super) struct Told(Arc<AtomicI64>);

impl Told {
    /// Tells it a time; answers the latest.
    pub(super) fn tell(&self, now_ms: i64) -> i64 {
        let now_ms = now_ms.min(LAST_MS);
        self.0.fetch_max(now_ms, Ordering::Relaxed).max(now_ms)
    }
}

/// Gives the connection `new_uid()`, for new rows, `uid_of(...)`, for rows older than uids, and
/// `told(now)`, the latest time that is known once `now` is (or, with NULL, without it).
pub(super) fn register(
    connection: &Connection,
    entropy: Entropy,
    told: &Told,
) -> Result<(), StoreError> {
    let told = told.clone();
    connection.create_scalar_function("told", 1, FunctionFlags::SQLITE_DIRECTONLY, move |now| {
        let now: Option<i64> = now.get(0)?;
        Ok(told.tell(now.unwrap_or(0)))
    })?;
    let given = AtomicU64::new(0);
    connection.create_scalar_function(
        "new_uid",
        1,
        FunctionFlags::SQLITE_DIRECTONLY,
        move |now| {
            let number = given.fetch_add(1, Ordering::Relaxed);
            let tick: i64 = now.get(0)?;
            let mut hash = Sha256::new();
            hash.update(entropy);
            hash.update(tick.to_le_bytes());
            hash.update(number.to_le_bytes());
            Ok(shortened(hash))
        },
    )?;
    let flags = FunctionFlags::SQLITE_DIRECTONLY | FunctionFlags::SQLITE_DETERMINISTIC;
    connection.create_scalar_function("uid_of", -1, flags, |values| Ok(uid_of(values)))?;
    Ok(())
}

/// What ids come of after a file took another's place: none that were given before come again.
pub(super) fn after(entropy: Entropy) -> Entropy {
    let mut next = Entropy::default();
    next.iter_mut()
        .zip(Sha256::digest(entropy))
        .for_each(|(into, byte)| *into = byte);
    next
}

fn uid_of(values: &Context) -> Vec<u8> {
    let mut hash = Sha256::new();
    for index in 0..values.len() {
        match values.get_raw(index) {
            ValueRef::Null => hash.update([0]),
            ValueRef::Integer(number) => hash.update(number.to_le_bytes()),
            ValueRef::Real(number) => hash.update(number.to_le_bytes()),
            ValueRef::Text(bytes) | ValueRef::Blob(bytes) => {
                hash.update((bytes.len() as u64).to_le_bytes());
                hash.update(bytes);
            }
        }
    }
    shortened(hash)
}

fn shortened(hash: Sha256) -> Vec<u8> {
    hash.finalize().iter().copied().take(UID_BYTES).collect()
}

/// The logical time of a write: the clock on the wall as far as it was told, and later than every
/// write known to the file.
pub(super) fn tick(tx: &Transaction, now_ms: Option<i64>) -> Result<i64, StoreError> {
    let mut clock =
        tx.prepare_cached("UPDATE clock SET tick = max(tick + 1, told(?1)) RETURNING tick")?;
    Ok(clock.query_row([now_ms], |row| row.get(0))?)
}
