//! The built-in family of type: Source Sans 3 (SIL Open Font License 1.1, see `assets/fonts/LICENSE.md`).
//!
//! Japanese is set in M PLUS 1p (the same licence, `assets/fonts/japanese/LICENSE.txt`), which is too large to be built
//! in: it is handed over once, when a paper first needs it.
//!
//! The window and the papers use the same bytes, so a line of text is as wide on the screen as on paper.

use super::warning::PaperProblem;
use std::sync::OnceLock;

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

/// The family name of the Japanese type, as the font files give it.
pub(super) const JAPANESE_FAMILY: &str = "M PLUS 1p";

/// The files of the Japanese type: weight 400 and weight 700.
pub const JAPANESE_FILES: [&str; 2] = ["MPLUS1p-Regular.ttf", "MPLUS1p-Bold.ttf"];

/// Once handed over, the type stays as long as the program runs, as if it were built in.
static JAPANESE: OnceLock<[Vec<u8>; 2]> = OnceLock::new();

/// Proof that the Japanese type is at hand.
#[derive(Debug, Clone, Copy)]
pub struct Japanese(());

impl Japanese {
    /// Takes the bytes of both files, named in [`JAPANESE_FILES`]. What was handed over first stays.
    ///
    /// # Errors
    /// When a file is not a TrueType font with Japanese letters.
    pub fn hand_over(regular: Vec<u8>, bold: Vec<u8>) -> Result<Self, PaperProblem> {
        for (bytes, file) in [&regular, &bold].into_iter().zip(JAPANESE_FILES) {
            let known = ttf_parser::Face::parse(bytes, 0).is_ok_and(|face| {
                face.tables().glyf.is_some() && ['あ', 'ア', '七', '。'].iter().all(|c| face.glyph_index(*c).is_some())
            });
            if !known {
                return Err(PaperProblem::NotJapaneseType(file.to_owned()));
            }
        }
        let _ = JAPANESE.set([regular, bold]);
        Ok(Self(()))
    }

    /// The type, where it was handed over before.
    pub fn at_hand() -> Option<Self> {
        JAPANESE.get().map(|_| Self(()))
    }
}

/// The bytes of the Japanese type in a weight; none before it was handed over.
pub(super) fn japanese(bold: bool) -> &'static [u8] {
    let [regular, heavy] = JAPANESE.get().map_or([&[][..], &[][..]], |[one, other]| [one, other]);
    if bold { heavy } else { regular }
}
