//! A sheet, a card or printed marks fitted where they were tapped, and held against all they may be taken for.

pub(super) mod beyond;
pub(super) mod choose;
pub(super) mod fit;
pub(super) mod framed;
pub(super) mod gates;
pub(super) mod left_out;
pub(super) mod listed;
pub(super) mod marks;
pub(super) mod print_inside;
pub(super) mod printed;
pub(super) mod rim;
pub(super) mod round;
