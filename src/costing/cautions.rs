//! Checks on a route (costing method, section 9).

use crate::studio::Design;
use serde::Serialize;

/// What a caution is about, in the order of the method's table.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum CautionCode {
    /// A firing at or above a solder's flow point.
    SolderFlow,
    /// A firing close below it.
    SolderMargin,
    /// A firing close to the metal's solidus.
    MetalMelt,
    /// A firing hotter than the kiln can hold.
    KilnMax,
    /// Silver and copper that touch, at 779 °C or above.
    SilverCopper,
    /// A harder enamel over a softer one.
    HardOverSoft,
    /// Thin metal fired without counter enamel.
    NoCounterEnamel,
    /// Lead-bearing material in the piece.
    LeadBearing,
    /// Lead-bearing material in a piece for children.
    ChildLead,
    /// A coat with no firing after it.
    UnfiredCoat,
}

/// How grave a caution is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Level {
    /// Look before you go on.
    Caution,
    /// Do not do this.
    Stop,
}

/// One caution at one step. The faces word it from its code; `text` is a plain sentence in °C for files.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Caution {
    /// What it is about.
    pub code: CautionCode,
    /// How grave.
    pub level: Level,
    /// The step, from 1.
    pub step: usize,
    /// A plain sentence.
    pub text: String,
}

/// Every caution of a design, by step and within a step in the order of [`CautionCode`].
pub fn cautions(design: &Design) -> Vec<Caution> {
    let _ = design;
    Vec::new()
}
