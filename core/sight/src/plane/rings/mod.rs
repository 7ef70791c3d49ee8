//! Ring faces: how large and where, every ring followed, and one fit of all.

pub(super) mod blob;
pub(super) mod check;
pub(super) mod faces;
pub(super) mod first_look;
pub(super) mod fit;
pub(super) mod grow;
pub(super) mod lean;
pub(super) mod paper;
pub(super) mod refine;
pub(super) mod scale;
pub(super) mod solve;
pub(super) mod trace;
