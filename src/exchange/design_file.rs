//! The design file: one design in one TOML text.

pub(super) mod fields;
mod reader;
pub(super) mod writer;

use crate::studio::Design;

/// The first line of a design file: what it is, and the number of its form.
pub const FORMAT: &str = "enamelwright-design/1";

/// Most bytes a design file may have.
pub const MOST_BYTES: usize = 4 * 1024 * 1024;

/// One problem of a design file, with its place.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("line {line}: {key}: {reason}")]
pub struct DesignFileProblem {
    /// Line, from 1.
    pub line: usize,
    /// The key, e.g. `step 3, celsius`.
    pub key: String,
    /// What is wrong and what would be accepted.
    pub reason: String,
}

/// Reads a design file; every problem is returned, in the order of lines, not just the first.
///
/// # Errors
/// The problems: TOML that cannot be parsed (then only the first place), keys unknown or missing, values of another
/// kind or out of range.
pub fn read(text: &str) -> Result<Design, Vec<DesignFileProblem>> {
    reader::read(text)
}

/// Writes a design as a design file. Reading it back gives an equal design. Optional keys at their default are left
/// out.
pub fn write(design: &Design) -> String {
    writer::write(design)
}

#[cfg(test)]
mod tests;
