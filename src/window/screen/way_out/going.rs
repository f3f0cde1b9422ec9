//! What goes out, and where to.

use crate::paper::{Document, Watch};
use crate::studio::{Language, SheetId};
use std::path::PathBuf;
use std::sync::Arc;

/// Where a PDF goes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Target {
    /// Into a file.
    File(PathBuf),
    /// Into the system's viewer.
    Viewer,
    /// To a printer: its name, or empty for the system's own choice.
    Printer(String),
}

/// A paper whose pages stand ready.
#[derive(Debug, Clone)]
pub struct Going {
    /// Its pages.
    pub document: Arc<Document>,
    /// The title viewers show.
    pub title: String,
    /// The studio's name.
    pub author: String,
    /// The language of its text.
    pub language: Language,
    /// What it is, in the middle of a sentence: `12 tags on 1 page`.
    pub summary: String,
    /// The name of its file where nobody chose one, with `.pdf`.
    pub file_name: String,
    /// The sheet of the book it is printed on; none for plain paper.
    pub sheet: Option<SheetId>,
}

/// Pages that were laid out on the way.
#[derive(Debug, Clone)]
pub struct Laid {
    /// The pages.
    pub document: Arc<Document>,
    /// What it is, as [`Going::summary`].
    pub summary: String,
    /// What else is to be told: a warning of the layout. May be empty.
    pub remark: String,
}

impl Laid {
    /// Pages with their number and the first warning told: `the count sheet, 2 pages`.
    pub fn of(what: &str, document: Document) -> Self {
        let summary = match document.pages.len() {
            1 => format!("{what}, 1 page,"),
            pages => format!("{what}, {pages} pages,"),
        };
        let remark = match document.warnings.as_slice() {
            [] => String::new(),
            [one] => format!(". {one}"),
            [first, more @ ..] => format!(". {first}, and {} more like it", more.len()),
        };
        Self { document: Arc::new(document), summary, remark }
    }
}

/// Lays pages out on the thread that makes the PDF.
type Lay = Box<dyn FnOnce(&mut dyn Watch) -> Result<Laid, String> + Send>;

/// A paper that goes out; its pages may be laid out only then.
pub struct Leaving {
    pub(super) lay: Lay,
    pub(super) title: String,
    pub(super) author: String,
    pub(super) language: Language,
    pub(super) file_name: String,
    pub(super) sheet: Option<SheetId>,
    pub(super) stops: Vec<String>,
}

impl Leaving {
    /// A paper on plain paper, in the studio's own language, whose pages are laid out on the thread that makes the PDF.
    pub fn laid_by(
        lay: impl FnOnce(&mut dyn Watch) -> Result<Laid, String> + Send + 'static,
        title: impl Into<String>,
        author: impl Into<String>,
        file_name: impl Into<String>,
    ) -> Self {
        Self {
            lay: Box::new(lay),
            title: title.into(),
            author: author.into(),
            language: Language::English,
            file_name: file_name.into(),
            sheet: None,
            stops: Vec::new(),
        }
    }

    /// With what speaks against printing it, each a sentence: it is asked about before the PDF is made.
    #[must_use]
    pub fn minding(mut self, stops: Vec<String>) -> Self {
        self.stops = stops;
        self
    }
}

impl From<Going> for Leaving {
    fn from(going: Going) -> Self {
        let Going { document, title, author, language, summary, file_name, sheet } = going;
        let lay = Box::new(move |_: &mut dyn Watch| Ok(Laid { document, summary, remark: String::new() }));
        Self { lay, title, author, language, file_name, sheet, stops: Vec::new() }
    }
}
