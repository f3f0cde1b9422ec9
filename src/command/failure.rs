//! Why a command-line task was not done, and the exit status that says so.

use crate::actions::Refusal;
use crate::book::BookError;
use crate::costing::CostError;
use crate::exchange::file_out::FileProblem;
use crate::measure::TooLarge;
use crate::paper::{PagesProblem, PaperProblem};
use std::path::Path;
use std::process::ExitCode;

/// Why a task was not done. Each text is one line on standard error.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Failure {
    /// The program said no: not enough stock, no such design, a firing count that is not allowed, a file that cannot
    /// be written. Exit status 1.
    No(Vec<String>),
    /// Wrong arguments, or a file that cannot be read or is not valid. Exit status 2.
    Invalid(Vec<String>),
    /// Whoever read standard output has closed it (`… | head`). Nothing is said; exit status 0.
    OutputClosed,
}

impl Failure {
    /// The program says no.
    pub fn no(text: impl Into<String>) -> Self {
        Self::No(vec![text.into()])
    }

    /// An argument or a file that is not valid.
    pub fn invalid(text: impl Into<String>) -> Self {
        Self::Invalid(vec![text.into()])
    }

    /// The lines for standard error.
    pub fn lines(&self) -> &[String] {
        match self {
            Self::No(lines) | Self::Invalid(lines) => lines,
            Self::OutputClosed => &[],
        }
    }

    /// The exit status.
    pub fn exit_code(&self) -> ExitCode {
        match self {
            Self::No(_) => ExitCode::from(1),
            Self::Invalid(_) => ExitCode::from(2),
            Self::OutputClosed => ExitCode::SUCCESS,
        }
    }

    /// A design file that was read but cannot be costed: the file is at fault, except for a firing count, which is a
    /// question the program answers with no.
    pub fn of_design_file(file: &Path, error: &CostError) -> Self {
        match error {
            CostError::TooFewFirings { .. } => Self::no(error.to_string()),
            _ => Self::invalid(format!("{}: {error}", file.display())),
        }
    }
}

/// A book that is missing, damaged, newer or no book is a file that cannot be read; one that is in use, read-only or
/// on a full disk is fine, and the answer is no.
impl From<BookError> for Failure {
    fn from(error: BookError) -> Self {
        match error {
            BookError::Missing(_)
            | BookError::NotABook(_)
            | BookError::Damaged { .. }
            | BookError::Newer { .. }
            | BookError::System { .. }
            | BookError::TooLarge(_)
            | BookError::Odd(_)
            | BookError::Sqlite(_) => Self::invalid(error.to_string()),
            BookError::Exists(_)
            | BookError::InUse(_)
            | BookError::Locked(_)
            | BookError::ReadOnly(_)
            | BookError::DiskFull
            | BookError::Stopped => Self::no(error.to_string()),
        }
    }
}

/// A field that cannot be accepted came in as an argument; every other refusal is the program's no.
impl From<Refusal> for Failure {
    fn from(refusal: Refusal) -> Self {
        match refusal {
            Refusal::Book(error) => Self::from(error),
            Refusal::Field { .. } | Refusal::Problems(_) => Self::invalid(refusal.to_string()),
            Refusal::NotEnough { .. }
            | Refusal::Closed { .. }
            | Refusal::Stopped
            | Refusal::Missing(_)
            | Refusal::Taken { .. }
            | Refusal::No(_) => Self::no(refusal.to_string()),
        }
    }
}

/// A label that is not on the sheet and too many of them are wrong arguments; the rest is the program's no.
impl From<PaperProblem> for Failure {
    fn from(problem: PaperProblem) -> Self {
        match problem {
            PaperProblem::Start { .. } | PaperProblem::TooMany { .. } => Self::invalid(problem.to_string()),
            _ => Self::no(problem.to_string()),
        }
    }
}

/// Pages a paper does not have are a wrong argument.
impl From<PagesProblem> for Failure {
    fn from(problem: PagesProblem) -> Self {
        Self::invalid(problem.to_string())
    }
}

impl From<TooLarge> for Failure {
    fn from(error: TooLarge) -> Self {
        Self::no(error.to_string())
    }
}

/// A file that cannot be written is the program's no.
impl From<FileProblem> for Failure {
    fn from(problem: FileProblem) -> Self {
        Self::no(problem.to_string())
    }
}

/// Writing to standard output failed.
impl From<std::io::Error> for Failure {
    fn from(error: std::io::Error) -> Self {
        if error.kind() == std::io::ErrorKind::BrokenPipe {
            Self::OutputClosed
        } else {
            Self::no(format!("standard output: {error}"))
        }
    }
}
