//! Benchmarks on a generated ten-year book: `cargo bench --bench studio` runs all of them, `-- NAME…` those whose name
//! contains one of the names.
//!
//! The book is made anew in a temporary folder, which takes some minutes: every movement out is an action of its own, as
//! it is when a person enters it. With `ENAMELWRIGHT_BENCH_BOOK=FOLDER` it is made in that folder once and used
//! again; the benchmarks work on a copy beside it. `ENAMELWRIGHT_BENCH_SMALL=1` makes a small book instead, to try the
//! benchmarks themselves: its figures say nothing.

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::print_stdout,
    clippy::print_stderr,
    reason = "a benchmark may stop where something is amiss, and its table is for people"
)]
#![allow(clippy::cast_precision_loss, reason = "times and sizes are shown with three figures; nothing here is money")]

mod apart;
mod backup;
mod batches;
mod durable;
mod edit;
mod generator;
mod goods;
mod kiln_day;
mod measures;
mod opening;
mod papers;
mod prices;
mod processor;
mod routes;
mod scroll;
mod shelf;
mod studio;
mod window;

use measures::{Case, Report};
use std::cell::LazyCell;
use std::process::ExitCode;
use studio::Studio;

/// What a module measures, and how.
type Group = (&'static [&'static Case], fn(&Report, &LazyCell<Studio>));

/// In the order they run: those that write into the working copy come last.
static GROUPS: [Group; 9] = [
    (kiln_day::CASES, kiln_day::run),
    (opening::CASES, opening::run),
    (prices::CASES, prices::run),
    (shelf::CASES, shelf::run),
    (backup::CASES, backup::run),
    (papers::CASES, papers::run),
    (scroll::CASES, scroll::run),
    (edit::CASES, edit::run),
    (durable::CASES, durable::run),
];

fn main() -> ExitCode {
    let mut arguments: Vec<String> = std::env::args().skip(1).collect();
    if arguments.first().is_some_and(|first| first == apart::FLAG) {
        apart::answer(&arguments[1..]);
        return ExitCode::SUCCESS;
    }
    // Cargo says `--bench` to every benchmark.
    arguments.retain(|argument| !argument.starts_with("--"));
    let report = Report::new(arguments);
    let wanted: Vec<&Group> = GROUPS.iter().filter(|(cases, _)| report.wants_any(cases)).collect();
    if wanted.is_empty() {
        eprintln!("no benchmark has a name like that; there are:");
        for case in GROUPS.iter().flat_map(|(cases, _)| cases.iter()) {
            eprintln!("  {}", case.name);
        }
        return ExitCode::from(2);
    }
    let studio: LazyCell<Studio> = LazyCell::new(Studio::prepare);
    measures::head();
    for (_, run) in wanted {
        run(&report, &studio);
    }
    ExitCode::SUCCESS
}
