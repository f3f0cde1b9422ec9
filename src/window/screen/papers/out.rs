//! The PDF out: into a file, into the system's viewer, to a printer. All of it on a thread of its own.

use super::laying::What;
use crate::exchange::file_out;
use crate::exchange::print_queue::{self, PrintOrder};
use crate::paper::{Document, Properties, pdf};
use crate::studio::Language;
use crate::window::clock::Clock;
use crate::window::machine;
use std::path::PathBuf;
use std::sync::Arc;

/// Where the PDF goes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Target {
    /// Into a file.
    File(PathBuf),
    /// Into the system's viewer.
    Viewer,
    /// To a printer: its name, or empty for the system's own choice.
    Printer(String),
}

/// A PDF to be made.
#[derive(Debug, Clone)]
pub(super) struct Outgoing {
    pub(super) document: Arc<Document>,
    pub(super) what: What,
    pub(super) author: String,
    /// The language of its text.
    pub(super) language: Language,
    /// `12 tags on 1 page`.
    pub(super) summary: String,
    pub(super) target: Target,
}

/// Makes the PDF and sends it on its way; what was done, or why not, as a sentence.
pub(super) fn send(out: &Outgoing) -> Result<String, String> {
    let properties = Properties {
        title: out.what.title().to_owned(),
        author: out.author.clone(),
        created: Clock::system().now(),
        language: out.language.tag().to_owned(),
    };
    let bytes = pdf::write(&out.document, &properties).map_err(|error| error.to_string())?;
    let media = out.document.pages.first().map(|page| [page.width_mm, page.height_mm]);
    deliver(&bytes, media, out.what.file_name(), &out.summary, &out.target)
}

/// Brings a PDF where it shall go; what was done, or why not, as a sentence. `size_mm` is that of its pages.
pub(in crate::window::screen) fn deliver(
    bytes: &[u8],
    size_mm: Option<[f64; 2]>,
    file_name: &str,
    summary: &str,
    target: &Target,
) -> Result<String, String> {
    match target {
        Target::File(path) => {
            file_out::write(path, bytes).map_err(|error| error.to_string())?;
            Ok(format!("Saved {summary} to {}", path.display()))
        }
        Target::Viewer => {
            let path = kept(file_name, bytes)?;
            open::that_detached(&path)
                .map_err(|error| format!("{} could not be opened in a viewer: {error}", path.display()))?;
            Ok(format!("Opened {}: print it at 100 %", path.display()))
        }
        Target::Printer(printer) => {
            let path = kept(file_name, bytes)?;
            let order = PrintOrder { printer: printer.clone(), copies: 1, size_mm };
            let told = print_queue::print(&path, &order).map_err(|problem| problem.to_string())?;
            let told = told.lines().next().map_or_else(String::new, |line| format!(": {line}"));
            Ok(format!("Sent {summary} to the printer{told}"))
        }
    }
}

/// Writes the PDF into the platform's folder for the program's data, where it stays.
fn kept(file_name: &str, bytes: &[u8]) -> Result<PathBuf, String> {
    let folder = machine::papers_folder()
        .ok_or_else(|| "this machine has no home folder to put the PDF in: save it instead".to_owned())?;
    std::fs::create_dir_all(&folder).map_err(|error| format!("{} cannot be made: {error}", folder.display()))?;
    let path = folder.join(file_name);
    file_out::write(&path, bytes).map_err(|error| error.to_string())?;
    Ok(path)
}
