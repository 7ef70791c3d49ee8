//! The light palette, which is that of paper: which colour each role of a scene is drawn in.

use shimwright::scene::Role;
use shimwright::sheet::ink;

/// The colour of a role on light ground, `#rrggbb`.
pub(crate) fn colour(role: Role) -> String {
    let ink = ink(role);
    format!("#{:02x}{:02x}{:02x}", ink.red, ink.green, ink.blue)
}
