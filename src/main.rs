//! Starts the window, or carries out a command-line task.

use std::io;
use std::process::ExitCode;

fn main() -> ExitCode {
    #[allow(
        clippy::disallowed_methods,
        reason = "the one clock of the command line: everything below is given the day"
    )]
    let now = chrono::Local::now().naive_local();
    enamelwright::command::run(
        std::env::args_os(),
        now,
        enamelwright::window::run,
        &mut io::BufWriter::new(io::stdout()),
        &mut io::stderr(),
    )
}
