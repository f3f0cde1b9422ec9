//! The words of papers in each language.

/// There is a phrase of that name.
pub fn is_phrase(name: &str) -> bool {
    !name.is_empty()
}
