//! What a sheet is made of, before anybody has worded it.

use super::SheetText;
use crate::scene::Scene;

/// A fact: its name and what it is.
#[derive(Debug, Clone, PartialEq)]
pub struct SheetFact {
    /// The name.
    pub name: SheetText,
    /// What it is.
    pub value: SheetText,
}

/// A drawing with what stands under it.
#[derive(Debug, Clone, PartialEq)]
pub struct SheetPicture {
    /// The drawing. Photographs cannot be laid under it.
    pub scene: Scene,
    /// What stands under it.
    pub caption: SheetText,
}

/// A part of the sheet under one heading.
#[derive(Debug, Clone, PartialEq)]
pub struct SheetSection {
    /// Its heading.
    pub heading: SheetText,
    /// Its drawings: one stands beside the facts, two stand side by side above them.
    pub pictures: Vec<SheetPicture>,
    /// Its facts.
    pub facts: Vec<SheetFact>,
    /// Sentences below them.
    pub notes: Vec<SheetText>,
    /// Whether it must catch the eye.
    pub warns: bool,
}
