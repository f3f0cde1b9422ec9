//! The system's printing commands: which printers there are, and a PDF handed to one of them in its own size.
//!
//! `lpstat -e` and `lp` are those of the Common UNIX Printing System. Without them a PDF is saved or opened in a viewer.

use std::ffi::OsStr;
use std::path::Path;
use std::process::{Command, Stdio};

/// What is handed to a printer.
#[derive(Debug, Clone, PartialEq)]
pub struct PrintOrder {
    /// The printer's name; empty for the system's own choice.
    pub printer: String,
    /// How often each page, from 1.
    pub copies: u32,
    /// Width and height of the pages, mm; none for A4.
    pub size_mm: Option<[f64; 2]>,
}

/// Why it was not printed, a sentence.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum PrintProblem {
    /// There is no printing command.
    #[error("the printing command {command} could not be run: {reason}; save the PDF or open it in a viewer instead")]
    NoCommand {
        /// The command.
        command: &'static str,
        /// Why.
        reason: String,
    },
    /// It said no.
    #[error("the printer did not take it: {0}; save the PDF or open it in a viewer instead")]
    Refused(String),
}

/// The names of the printers this machine has, in the system's order; empty where it has none.
///
/// # Errors
/// When the printing system cannot be asked.
pub fn printers() -> Result<Vec<String>, PrintProblem> {
    let told = run("lpstat", [OsStr::new("-e")])?;
    Ok(names(&told))
}

/// Hands a PDF to a printer in its own size: without both options some print queues shrink the page. What the printing
/// system answered.
///
/// # Errors
/// When there is no printing system, or it refuses.
pub fn print(path: &Path, order: &PrintOrder) -> Result<String, PrintProblem> {
    let media = order.size_mm.map_or_else(|| "A4".to_owned(), |[width, height]| media(width, height));
    let copies = order.copies.to_string();
    let media = format!("media={media}");
    let mut words: Vec<&OsStr> = Vec::new();
    if !order.printer.is_empty() {
        words.extend([OsStr::new("-d"), OsStr::new(&order.printer)]);
    }
    words.extend(["-n", &copies, "-o", &media, "-o", "print-scaling=none", "--"].map(OsStr::new));
    words.push(path.as_os_str());
    run("lp", words)
}

/// This machine has a command that prints PDFs.
pub fn can_print() -> bool {
    if cfg!(windows) {
        return false;
    }
    std::env::var_os("PATH").is_some_and(|path| std::env::split_paths(&path).any(|folder| folder.join("lp").is_file()))
}

fn run<'a>(command: &'static str, words: impl IntoIterator<Item = &'a OsStr>) -> Result<String, PrintProblem> {
    let told = Command::new(command)
        .args(words)
        .stdin(Stdio::null())
        .output()
        .map_err(|error| PrintProblem::NoCommand { command, reason: error.to_string() })?;
    let text = |bytes: &[u8]| String::from_utf8_lossy(bytes).trim().to_owned();
    if told.status.success() {
        return Ok(text(&told.stdout));
    }
    let reason = text(&told.stderr);
    let reason = reason.lines().next().unwrap_or("it gave no reason");
    Err(PrintProblem::Refused(reason.to_owned()))
}

fn names(told: &str) -> Vec<String> {
    told.lines().map(str::trim).filter(|line| !line.is_empty()).map(str::to_owned).collect()
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

    #[test]
    fn printers_are_told_one_a_line() {
        // The form of `lpstat -e`, Common UNIX Printing System manual: a name on each line.
        assert_eq!(names("Office_Laser\ntags\n\n"), ["Office_Laser", "tags"]);
        assert!(names("").is_empty());
    }
}
