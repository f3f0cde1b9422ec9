//! See the crate's front page.
