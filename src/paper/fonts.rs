//! The one family of type: Source Sans 3 (SIL Open Font License 1.1, see `assets/fonts/LICENSE.md`).
//!
//! The window and the papers use the same bytes, so a line of text is as wide on the screen as on paper.

/// The family name all faces share, as the font files give it.
pub const FAMILY: &str = "Source Sans 3";

/// Upright, weight 400.
pub const REGULAR: &[u8] = include_bytes!("../../assets/fonts/SourceSans3-Regular.ttf");
/// Upright, weight 600.
pub const SEMIBOLD: &[u8] = include_bytes!("../../assets/fonts/SourceSans3-Semibold.ttf");
/// Upright, weight 700.
pub const BOLD: &[u8] = include_bytes!("../../assets/fonts/SourceSans3-Bold.ttf");
/// Italic, weight 400.
pub const ITALIC: &[u8] = include_bytes!("../../assets/fonts/SourceSans3-It.ttf");

/// Every face, to be handed to a program that loads fonts.
pub const ALL: [&[u8]; 4] = [REGULAR, SEMIBOLD, BOLD, ITALIC];
