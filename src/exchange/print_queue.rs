//! The system's printing commands: which printers there are, and a PDF handed to one of them in its own size.
//!
//! `lpstat -e` and `lp` are those of the Common UNIX Printing System. Without them a PDF is saved or opened in a viewer.

use std::io::Write;
use std::path::Path;
use std::process::{Command, Output, Stdio};

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
    /// The printing system does not say which printers there are.
    #[error("the printing system could not be asked for its printers: {0}")]
    Silent(String),
}

/// The names of the printers this machine has, in the system's order; empty where it has none.
///
/// # Errors
/// When the printing system cannot be asked.
pub fn printers() -> Result<Vec<String>, PrintProblem> {
    let told = Command::new("lpstat").arg("-e").stdin(Stdio::null()).output();
    match answer(told.map_err(missing("lpstat"))?) {
        Ok(told) => Ok(names(&told)),
        // No printer at all is an error to some versions.
        Err(reason) if reason.contains("No destinations") => Ok(Vec::new()),
        Err(reason) => Err(PrintProblem::Silent(reason)),
    }
}

/// Hands a PDF to a printer in its own size: without both options some print queues shrink the page. What the printing
/// system answered.
///
/// # Errors
/// When there is no printing system, or it refuses.
pub fn print(path: &Path, order: &PrintOrder) -> Result<String, PrintProblem> {
    let told = Command::new("lp").args(words(order)).arg("--").arg(path).stdin(Stdio::null()).output();
    answer(told.map_err(missing("lp"))?).map_err(PrintProblem::Refused)
}

/// As [`print()`], for a PDF that lies in no file; `title` is what the queue calls it.
///
/// # Errors
/// When there is no printing system, or it refuses.
pub fn print_bytes(pdf: &[u8], title: &str, order: &PrintOrder) -> Result<String, PrintProblem> {
    let mut lp = Command::new("lp")
        .args(words(order))
        .args(["-t", title])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .map_err(missing("lp"))?;
    // What it says is a line or two, and comes once it has read all; dropping the pipe is the end of the file.
    let handed = lp.stdin.take().map_or(Ok(()), |mut pipe| pipe.write_all(pdf));
    let told = lp.wait_with_output().map_err(missing("lp"))?;
    let said = answer(told).map_err(PrintProblem::Refused)?;
    match handed {
        Ok(()) => Ok(said),
        Err(error) => Err(PrintProblem::Refused(error.to_string())),
    }
}

/// This machine has a command that prints PDFs.
pub fn can_print() -> bool {
    if cfg!(windows) {
        return false;
    }
    std::env::var_os("PATH").is_some_and(|path| std::env::split_paths(&path).any(|folder| folder.join("lp").is_file()))
}

/// The words of `lp` for an order.
fn words(order: &PrintOrder) -> Vec<String> {
    let media = order.size_mm.map_or_else(|| "A4".to_owned(), |[width, height]| media(width, height));
    let printer = [("-d", &order.printer)].into_iter().filter(|(_, name)| !name.is_empty());
    let mut words: Vec<String> = printer.flat_map(|(word, name)| [word.to_owned(), name.clone()]).collect();
    words.extend(["-n".to_owned(), order.copies.to_string()]);
    words.extend(["-o", &format!("media={media}"), "-o", "print-scaling=none"].map(str::to_owned));
    words
}

fn missing(command: &'static str) -> impl Fn(std::io::Error) -> PrintProblem {
    move |error| PrintProblem::NoCommand { command, reason: error.to_string() }
}

/// What a command said, or the first line of why it did not do it.
fn answer(told: Output) -> Result<String, String> {
    let text = |bytes: &[u8]| String::from_utf8_lossy(bytes).trim().to_owned();
    if told.status.success() {
        return Ok(text(&told.stdout));
    }
    let reason = text(&told.stderr);
    Err(reason.lines().next().unwrap_or("it gave no reason").to_owned())
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
    fn a_page_is_handed_over_in_its_own_size() {
        // `-d`, `-n`, `-o media=`, `-o print-scaling=none`: the `lp` manual and PWG 5100.13, “print-scaling”.
        let order = PrintOrder { printer: "tags".to_owned(), copies: 3, size_mm: Some([210.0, 297.0]) };
        assert_eq!(words(&order), ["-d", "tags", "-n", "3", "-o", "media=A4", "-o", "print-scaling=none"]);
        let order = PrintOrder { printer: String::new(), copies: 1, size_mm: None };
        assert_eq!(words(&order), ["-n", "1", "-o", "media=A4", "-o", "print-scaling=none"]);
    }

    #[test]
    fn printers_are_told_one_a_line() {
        // The form of `lpstat -e`, Common UNIX Printing System manual: a name on each line.
        assert_eq!(names("Office_Laser\ntags\n\n"), ["Office_Laser", "tags"]);
        assert!(names("").is_empty());
    }
}
