//! The command line: thin, the same functions as the window, text or JSON out.
//!
//! Exit status: 0 done; 1 the program said no (not enough stock, no such design, a firing count that is not allowed, a
//! book in use or read-only, a file that cannot be written); 2 wrong arguments, or a file that cannot be read or is not
//! valid. Errors go to standard error, one line a problem.
//!
//! Every JSON answer is one object; amounts, quantities and prices are strings of the exact decimal, money in the
//! book's currency, quantities in the item's own unit whatever units the book shows; days are `YYYY-MM-DD`; what does
//! not apply is `null`. The fields of each answer are named beside the function that writes it.

pub mod arguments;
pub mod batch_arguments;
pub mod buying;
pub mod cutting_arguments;
pub mod failure;
pub mod kiln_arguments;
mod kiln_change;
pub mod order_arguments;
pub mod outline_arguments;
pub mod print_arguments;
pub mod print_own_arguments;
pub mod print_way;
pub mod printer_arguments;
pub mod statement_arguments;
pub mod stock_arguments;
pub mod stock_lot_arguments;
pub mod table;
pub mod words_arguments;

mod batch_show;
mod batch_step;
mod batches;
mod bench;
mod books;
mod copies;
mod cost;
mod cutting;
mod designs;
mod ean;
mod export;
mod kiln_days;
mod kiln_log;
mod kiln_plan;
mod kilns;
mod learn;
mod orders;
mod outline;
mod pieces;
mod prices;
mod print;
mod print_bench;
mod print_count;
mod print_fair;
mod print_outdated;
mod print_own;
mod print_statement;
mod print_statement_lines;
mod printer;
mod session;
mod stock;
mod stock_add;
mod stock_import;
mod stock_jars;
mod stock_lots;
mod trace;
mod typed;
mod words;
mod words_own;

use arguments::{Arguments, Task};
use chrono::NaiveDateTime;
use clap::Parser;
use failure::Failure;
use session::Session;
use std::ffi::OsString;
use std::io::Write;
use std::path::PathBuf;
use std::process::ExitCode;

/// Reads the arguments and carries out the task; without one, `window` is called with the book to open. `now` is the
/// local date and time: the day of what is entered without a date, and the time of actions in the history.
pub fn run(
    arguments: impl IntoIterator<Item = OsString>,
    now: NaiveDateTime,
    window: impl FnOnce(Option<PathBuf>) -> Result<(), String>,
    out: &mut dyn Write,
    errors: &mut dyn Write,
) -> ExitCode {
    let arguments = match Arguments::try_parse_from(arguments) {
        Ok(arguments) => arguments,
        Err(error) => {
            let text = error.render().to_string();
            // Nothing can be said on a stream that is closed.
            let _ = if error.use_stderr() { errors.write_all(text.as_bytes()) } else { out.write_all(text.as_bytes()) };
            return u8::try_from(error.exit_code()).map_or(ExitCode::FAILURE, ExitCode::from);
        }
    };
    let task = match arguments.task {
        None | Some(Task::Window) => {
            return match window(arguments.book) {
                Ok(()) => ExitCode::SUCCESS,
                Err(reason) => {
                    let _ = writeln!(errors, "{reason}");
                    ExitCode::from(1)
                }
            };
        }
        Some(task) => task,
    };
    let mut session = Session::new(arguments.book, now, out, errors);
    let done = perform(task, &mut session).and_then(|()| session.finish());
    match done {
        Ok(()) => ExitCode::SUCCESS,
        Err(failure) => {
            for line in failure.lines() {
                let _ = writeln!(errors, "{}", table::one_line(line));
            }
            failure.exit_code()
        }
    }
}

fn perform(task: Task, session: &mut Session<'_>) -> Result<(), Failure> {
    match task {
        // Opened above: the window needs none of a session.
        Task::Window => Ok(()),
        Task::New(new) => books::new(session, new),
        Task::Demo(demo) => books::demo(session, demo),
        Task::Cost(cost) => cost::cost(session, &cost),
        Task::Design(task) => designs::design(session, task),
        Task::Stock(task) => stock::stock(session, task),
        Task::Batch(task) => batches::batch(session, task),
        Task::Piece(task) => pieces::piece(session, task),
        Task::Kiln(task) => kilns::kiln(session, task),
        Task::Learn(learn) => learn::learn(session, &learn),
        Task::Prices(prices) => prices::prices(session, prices),
        Task::Print(task) => print::print(session, task),
        Task::Printer(task) => printer::printer(session, task),
        Task::Ean(task) => ean::ean(session, task),
        Task::Words(task) => words_own::words(session, task),
        Task::Outline(outline) => outline::outline(session, &outline),
        Task::Stencil(stencil) => outline::stencil(session, &stencil),
        Task::Backup(backup) => copies::backup(session, &backup),
        Task::Restore(restore) => copies::restore(session, restore),
        Task::Check(form) => books::check(session, form.format),
        Task::Undo(form) => books::undo(session, form.format),
        Task::Redo(form) => books::redo(session, form.format),
        Task::History(form) => books::history(session, form.format),
    }
}

/// Where the book is when none is named: in the platform's data folder. None where the platform has none for this
/// person.
pub fn standard_book() -> Option<PathBuf> {
    directories::ProjectDirs::from("", "", "enamelwright").map(|folders| folders.data_dir().join("studio.studiobook"))
}
