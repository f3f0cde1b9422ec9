//! The paper file: one paper of hers in one TOML text, its stored pictures with it, to be carried to another book.

mod reader;
mod writer;

use crate::studio::{PaperDesign, PictureId, What};

pub use super::design_file::DesignFileProblem as PaperFileProblem;

/// The first line of a paper file: what it is, and the number of its form.
pub const FORMAT: &str = "enamelwright-paper/1";

/// Most bytes a paper file may have.
pub const MOST_BYTES: usize = 32 * 1024 * 1024;

/// Most bytes of one picture in it.
pub const MOST_PICTURE_BYTES: usize = 5_000_000;

/// A stored picture of a file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FilePicture {
    /// Its name, unique in the file.
    pub name: String,
    /// The PNG file.
    pub png: Vec<u8>,
}

/// A paper as it stands in a file. Its pictures are numbered by their place in [`PaperFile::pictures`], from 1.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PaperFile {
    /// The paper.
    pub design: PaperDesign,
    /// The pictures pinned to it.
    pub pictures: Vec<FilePicture>,
}

impl PaperFile {
    /// The paper with the rows its pictures got in a book, in the order of [`PaperFile::pictures`]. A picture without a
    /// row is taken off.
    pub fn in_book(mut self, rows: &[PictureId]) -> PaperDesign {
        self.design.pinned.retain_mut(|pinned| match &mut pinned.what {
            What::Picture(id) => {
                let at = usize::try_from(id.0).ok().and_then(|number| number.checked_sub(1));
                match at.and_then(|at| rows.get(at)) {
                    Some(row) => {
                        *id = *row;
                        true
                    }
                    None => false,
                }
            }
            _ => true,
        });
        self.design
    }
}

/// Why a paper cannot be written to a file.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum WriteProblem {
    /// A pinned picture is not among those given.
    #[error("the stored picture with row {0} is pinned to the paper but not there; take it off or store it again")]
    Missing(i64),
    /// A picture is too large to carry.
    #[error("the picture {name} has {bytes} bytes; at most {MOST_PICTURE_BYTES} are carried in a paper file")]
    TooLarge {
        /// Its name.
        name: String,
        /// Its size.
        bytes: usize,
    },
}

/// Reads a paper file; every problem is returned, in the order of lines, not just the first. Whether measures are in
/// range is looked at when the paper is saved.
///
/// # Errors
/// The problems: TOML that cannot be parsed (then only the first place), keys unknown or missing, values of another
/// kind, a picture that is no PNG.
pub fn read(text: &str) -> Result<PaperFile, Vec<PaperFileProblem>> {
    reader::read(text)
}

/// Writes a paper as a file. Reading it back gives an equal paper. `pictures` are the stored pictures of the book by
/// row, with name and PNG; only those pinned are carried.
///
/// # Errors
/// When a pinned picture is not there or too large.
pub fn write(design: &PaperDesign, pictures: &[(PictureId, FilePicture)]) -> Result<String, WriteProblem> {
    writer::write(design, pictures)
}

/// What can be pinned and needs no more than its name.
const PLAIN: [(&str, What); 26] = [
    ("name", What::Name),
    ("code", What::Code),
    ("piece-number", What::PieceNumber),
    ("ticket", What::Ticket),
    ("materials", What::Materials),
    ("care", What::Care),
    ("cautions", What::Cautions),
    ("story", What::Story),
    ("studio", What::Studio),
    ("place", What::Place),
    ("photo", What::Photo),
    ("rule", What::Rule),
    ("band", What::Band),
    ("swatch", What::Swatch),
    ("enamel-kind", What::EnamelKind),
    ("mesh", What::Mesh),
    ("fusing", What::Fusing),
    ("firing-range", What::FiringRange),
    ("lot", What::Lot),
    ("tare", What::Tare),
    ("lead-mark", What::LeadMark),
    ("gauge", What::Gauge),
    ("size", What::Size),
    ("shelf", What::Shelf),
    ("firings", What::Firings),
    ("date", What::Date),
];
