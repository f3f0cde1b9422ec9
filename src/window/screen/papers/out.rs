//! The PDF out: into a file, into the system's viewer, to a printer. All of it on a thread of its own.

use super::laying::What;
use crate::exchange::file_out;
use crate::paper::{Document, Properties, pdf};
use crate::studio::Language;
use crate::window::clock::Clock;
use crate::window::machine;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
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
    match &out.target {
        Target::File(path) => {
            file_out::write(path, &bytes).map_err(|error| error.to_string())?;
            Ok(format!("Saved {} to {}", out.summary, path.display()))
        }
        Target::Viewer => {
            let path = kept(out.what, &bytes)?;
            open::that_detached(&path)
                .map_err(|error| format!("{} could not be opened in a viewer: {error}", path.display()))?;
            Ok(format!("Opened {}: print it at 100 %", path.display()))
        }
        Target::Printer(printer) => {
            let path = kept(out.what, &bytes)?;
            let media = out.document.pages.first().map(|page| media(page.width_mm, page.height_mm));
            print(&path, printer, &media.unwrap_or_else(|| "A4".to_owned()))
                .map(|told| format!("Sent {} to the printer{told}", out.summary))
        }
    }
}

/// Writes the PDF into the platform's folder for the program's data, where it stays.
fn kept(what: What, bytes: &[u8]) -> Result<PathBuf, String> {
    let folder = machine::papers_folder()
        .ok_or_else(|| "this machine has no home folder to put the PDF in: save it instead".to_owned())?;
    std::fs::create_dir_all(&folder).map_err(|error| format!("{} cannot be made: {error}", folder.display()))?;
    let path = folder.join(what.file_name());
    file_out::write(&path, bytes).map_err(|error| error.to_string())?;
    Ok(path)
}

/// The name of a paper size for the printing system: A4 and Letter by name, upright or across, others by measure.
fn media(width_mm: f64, height_mm: f64) -> String {
    let (short, long) = (width_mm.min(height_mm), width_mm.max(height_mm));
    let is = |width: f64, height: f64| (short - width).abs() < 0.5 && (long - height).abs() < 0.5;
    if is(210.0, 297.0) {
        "A4".to_owned()
    } else if is(215.9, 279.4) {
        "Letter".to_owned()
    } else {
        let hundredths = |value: f64| (value * 100.0).round() / 100.0;
        format!("Custom.{}x{}mm", hundredths(width_mm), hundredths(height_mm))
    }
}

/// Hands a PDF to `lp` in its own size: without both options some print queues shrink the page.
fn print(path: &Path, printer: &str, media: &str) -> Result<String, String> {
    let mut command = Command::new("lp");
    if !printer.is_empty() {
        let _ = command.arg("-d").arg(printer);
    }
    let _ = command.arg("-o").arg(format!("media={media}")).arg("-o").arg("print-scaling=none").arg("--").arg(path);
    let told = command
        .stdin(Stdio::null())
        .output()
        .map_err(|error| format!("the printing command lp could not be run: {error}; open the PDF in the viewer"))?;
    let first = |bytes: &[u8]| String::from_utf8_lossy(bytes).lines().next().unwrap_or_default().trim().to_owned();
    if told.status.success() {
        let answer = first(&told.stdout);
        Ok(if answer.is_empty() { String::new() } else { format!(": {answer}") })
    } else {
        let reason = first(&told.stderr);
        let reason = if reason.is_empty() { "it gave no reason".to_owned() } else { reason };
        Err(format!("the printer did not take it: {reason}; open the PDF in the viewer instead"))
    }
}

/// This machine has a command that prints PDFs.
pub(super) fn can_print() -> bool {
    if cfg!(windows) {
        return false;
    }
    std::env::var_os("PATH").is_some_and(|path| std::env::split_paths(&path).any(|folder| folder.join("lp").is_file()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn paper_sizes_have_the_printing_systems_names() {
        // ISO 216 A4 and 8.5 × 11 in; the custom form is that of the Common UNIX Printing System's `lp` manual.
        assert_eq!(media(210.0, 297.0), "A4");
        assert_eq!(media(297.0, 210.0), "A4");
        assert_eq!(media(215.9, 279.4), "Letter");
        assert_eq!(media(62.0, 100.5), "Custom.62x100.5mm");
    }
}
