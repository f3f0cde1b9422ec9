//! Text that begins like a formula.
//!
//! A spreadsheet computes a text that begins with `=`, `+`, `-`, `@`, a tab or a carriage return when it opens a CSV file.
//! Such a text is written with an apostrophe before it, and so is one that already has apostrophes before such a sign:
//! then exactly one is taken off when it is read, and every text comes back as it was.

/// True for a text that begins like a formula, apostrophes before it not counted.
fn begins_like_one(text: &str) -> bool {
    text.trim_start_matches('\'').starts_with(['=', '+', '-', '@', '\t', '\r'])
}

/// The text as it is written.
pub(in crate::exchange::table) fn neutral(text: &str) -> String {
    if begins_like_one(text) { format!("'{text}") } else { text.to_owned() }
}

/// The text as it was before [`neutral`].
pub(in crate::exchange::table) fn restored(text: String) -> String {
    match text.strip_prefix('\'') {
        Some(rest) if begins_like_one(rest) => rest.to_owned(),
        _ => text,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn texts_that_would_be_computed_are_not_and_come_back() {
        // The signs are those of the OWASP page on CSV injection (from memory).
        for text in ["=1+1", "+49 30", "-5", "@x", "\tx", "\rx", "'=1", "''-"] {
            let written = neutral(text);
            assert!(written.starts_with('\''), "{text:?}");
            assert_eq!(restored(written), text);
        }
        for text in ["", "'", "'tis", "a=b", " =1", "5", "''"] {
            assert_eq!(neutral(text), text);
            assert_eq!(restored(text.to_owned()), text);
        }
    }
}
