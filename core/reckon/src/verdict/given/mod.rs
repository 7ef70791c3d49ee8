//! What a verdict is asked of: the bow, what was shot, the settings, the set-up checks.

pub(crate) mod case;
pub(crate) mod check;
pub(crate) mod checked;
