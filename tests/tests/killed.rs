//! A process that is killed while it writes loses nothing it had acknowledged and leaves nothing torn.

use std::process::Command;

/// `tests/kill` does it as often as it is told.
#[test]
fn fifty_killed_writers_lose_nothing() {
    let crash = env!("CARGO_BIN_EXE_crash");
    let told = Command::new(crash).args(["kill", "50"]).output().unwrap();
    let told = String::from_utf8_lossy(&told.stdout);
    assert_eq!(told.trim(), "kill 50 lost 0 torn 0");
}
