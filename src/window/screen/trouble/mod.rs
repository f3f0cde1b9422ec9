//! A book that cannot be opened: why, and the ways out.
