//! What crosses the parts of Shimwright: reference tables, renderer, virtual bows, comparisons.

pub mod bow;
pub mod cases;
pub mod real;
pub mod render;
pub mod shots;
pub mod table;
pub mod virtual_bows;
