//! Where a paper goes: a file, a printer, or both; the same for every task that prints.

use super::failure::Failure;
use super::session::Session;
use super::words::counted;
use crate::book::Snapshot;
use crate::exchange::file_out;
use crate::exchange::print_queue::{self, PrintOrder, PrintProblem};
use crate::paper::{Document, Finish, PageRange, Properties, Watch, pdf};
use crate::studio::{Printer, SheetId};
use clap::Args;
use std::ops::ControlFlow;
use std::path::PathBuf;

/// How far a paper is written is told from so many pages on.
const LONG: u64 = 50;
/// How far it is laid out is told from so many labels or cards on.
const LONG_LAYOUT: u64 = 1_000;

/// Where a paper goes.
#[derive(Debug, Clone, Args)]
pub struct PrintWay {
    /// The PDF to write
    #[arg(long, value_name = "FILE", required_unless_present = "send")]
    pub out: Option<PathBuf>,
    /// The printer it is for: pages for one of the book are put right as it was measured, symbols of tags get whole dots of it
    #[arg(long, value_name = "NAME")]
    pub printer: Option<String>,
    /// Hand it to the printer; without --printer the system chooses which
    #[arg(long)]
    pub send: bool,
    /// How often each page is printed
    #[arg(long, value_name = "N", default_value_t = 1, requires = "send", value_parser = clap::value_parser!(u32).range(1..=999))]
    pub prints: u32,
    /// Only these pages, such as 2-5,7, or 3- for the third and all that follow
    #[arg(long, value_name = "PAGES", value_parser = pages)]
    pub pages: Option<PageRange>,
}

fn pages(text: &str) -> Result<PageRange, String> {
    PageRange::parse(text).map_err(|problem| problem.to_string())
}

/// The printer of a way, found.
#[derive(Debug, Clone, Copy)]
pub(super) struct Found<'a> {
    /// As the book has it; none for one only the system knows, and for none.
    pub(super) printer: Option<&'a Printer>,
    /// The name it is handed over to; empty for the system's own choice.
    name: &'a str,
}

/// A paper that went its way.
#[derive(Debug)]
pub(super) struct Gone {
    /// Pages that went.
    pub(super) pages: usize,
    /// What the printing system answered, where it was sent.
    pub(super) sent: Option<String>,
    /// Why the printer did not take what lies in a file all the same.
    pub(super) refused: Option<PrintProblem>,
}

impl PrintWay {
    /// The printer that is asked for: one of the book, or for what is sent also one that only the system knows.
    pub(super) fn found<'a>(&'a self, snapshot: &'a Snapshot) -> Result<Found<'a>, Failure> {
        if self.send && !print_queue::can_print() {
            return Err(no_system());
        }
        let Some(name) = self.printer.as_deref() else { return Ok(Found { printer: None, name: "" }) };
        if let Some((_, printer)) = snapshot.printers.iter().find(|(_, printer)| printer.name == name) {
            return Ok(Found { printer: Some(printer), name: &printer.name });
        }
        let mut known: Vec<String> = snapshot.printers.iter().map(|(_, printer)| printer.name.clone()).collect();
        if self.send {
            let system = print_queue::printers().map_err(|problem| Failure::no(problem.to_string()))?;
            if system.iter().any(|other| other == name) {
                return Ok(Found { printer: None, name });
            }
            known.extend(system);
        }
        known.dedup();
        let known = if known.is_empty() { "none".to_owned() } else { known.join(", ") };
        let advice = "`printer set` writes one down";
        Err(Failure::no(format!("there is no printer {name}; there are {known}; {advice}")))
    }

    /// What the printer needs of a PDF on that sheet; none for plain paper.
    pub(super) fn finish(&self, snapshot: &Snapshot, sheet: Option<SheetId>) -> Result<Finish, Failure> {
        Ok(self.found(snapshot)?.printer.map_or_else(Finish::default, |printer| Finish {
            correction: printer.correction_for(sheet),
            dots_per_inch: Some(printer.dots_per_inch),
        }))
    }

    /// Writes the PDF of a paper and sends it its way; says on standard error what could not be printed as asked, and how
    /// far long work is. A file is written whole or not at all.
    ///
    /// # Errors
    /// When nothing went anywhere.
    pub(super) fn take(
        &self,
        session: &mut Session<'_>,
        snapshot: &Snapshot,
        document: &Document,
        properties: &Properties,
        finish: &Finish,
    ) -> Result<Gone, Failure> {
        let found = self.found(snapshot)?;
        let cut = self.pages.as_ref().map(|pages| pages.of(document)).transpose()?;
        let document = cut.as_ref().unwrap_or(document);
        let bytes = pdf::write_for(document, properties, finish, &mut Telling::of_pages(session))?;
        if let Some(out) = &self.out {
            file_out::write(out, &bytes)?;
        }
        for warning in &document.warnings {
            session.remark(&warning.to_string());
        }
        let mut gone = Gone { pages: document.pages.len(), sent: None, refused: None };
        if self.send {
            let order = PrintOrder {
                printer: found.name.to_owned(),
                copies: self.prints,
                size_mm: document.pages.first().map(|page| [page.width_mm, page.height_mm]),
            };
            match print_queue::print_bytes(&bytes, &properties.title, &order) {
                Ok(answer) => gone.sent = Some(answer),
                Err(problem) if self.out.is_some() => gone.refused = Some(problem),
                Err(problem) => return Err(Failure::no(problem.to_string())),
            }
        }
        Ok(gone)
    }

    /// Says where the paper went; `what` is it in words.
    ///
    /// # Errors
    /// When the printer did not take it, though it lies in a file.
    pub(super) fn say(&self, session: &mut Session<'_>, gone: &Gone, what: &str) -> Result<(), Failure> {
        let pages = counted(gone.pages, "page", "pages");
        let what = if self.pages.is_some() { format!("{pages} of {what}") } else { format!("{what} on {pages}") };
        if let Some(out) = &self.out {
            session.say(&format!("Wrote {what} to {}", out.display()))?;
        }
        if let Some(answer) = &gone.sent {
            let printer = self.printer.as_deref().unwrap_or("the printer the system chose");
            let copies = if self.prints > 1 { format!(", {} times", self.prints) } else { String::new() };
            let answer = if answer.is_empty() { String::new() } else { format!(": {answer}") };
            session.say(&format!("Sent {what}{copies} to {printer}{answer}"))?;
        }
        gone.taken()
    }
}

impl Gone {
    /// # Errors
    /// When the printer did not take it, though it lies in a file.
    pub(super) fn taken(&self) -> Result<(), Failure> {
        self.refused.as_ref().map_or(Ok(()), |problem| Err(Failure::no(problem.to_string())))
    }
}

fn no_system() -> Failure {
    Failure::no("this computer has no printing command lp; write the PDF with --out instead")
}

/// Tells on standard error how far long work is, about ten times.
pub(super) struct Telling<'s, 'a> {
    session: &'s mut Session<'a>,
    /// What is counted, in words.
    what: &'static str,
    /// Work of so many and more is long.
    long: u64,
    tenths: u64,
}

impl<'s, 'a> Telling<'s, 'a> {
    /// Of labels or cards that are laid out.
    pub(super) fn of_layout(session: &'s mut Session<'a>, what: &'static str) -> Self {
        Self { session, what, long: LONG_LAYOUT, tenths: 0 }
    }

    /// Of pages that are written.
    fn of_pages(session: &'s mut Session<'a>) -> Self {
        Self { session, what: "pages written", long: LONG, tenths: 0 }
    }
}

impl Watch for Telling<'_, '_> {
    fn come(&mut self, done: u64, of: u64) -> ControlFlow<()> {
        let tenths = done.saturating_mul(10) / of.max(1);
        if of >= self.long && tenths > self.tenths {
            self.tenths = tenths;
            self.session.remark(&format!("{done} of {of} {}", self.what));
        }
        ControlFlow::Continue(())
    }
}
