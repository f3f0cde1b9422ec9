//! The first page.
