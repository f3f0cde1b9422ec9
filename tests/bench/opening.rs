//! Opening the book: what is read, up to the first picture, and the memory it stays in.

use crate::apart::{self, Said};
use crate::measures::{Case, Report, timed};
use crate::studio::{self, Studio};
use enamelwright::actions;
use enamelwright::book::backup;
use std::cell::LazyCell;

/// In this process, again and again: pages of the file come from memory.
const SNAPSHOT: Case = Case { name: "open-snapshot", target: "", runs: 9 };
/// A whole process, with the start of the program.
const PROCESS: Case = Case { name: "open-process-snapshot", target: "", runs: 7 };
/// A whole process, to the first picture.
const FRAME: Case = Case { name: "open-first-frame", target: "<= 150 ms", runs: 7 };
/// When the day's backup is due the file is read page by page and copied.
const FIRST_OF_DAY: Case = Case { name: "open-first-of-the-day", target: "", runs: 5 };
const MEMORY: Case = Case { name: "memory-snapshot (MiB)", target: "", runs: 5 };
const MEMORY_FRAME: Case = Case { name: "memory-first-frame (MiB)", target: "<= 60 MiB", runs: 5 };

pub(crate) const CASES: &[&Case] = &[&SNAPSHOT, &PROCESS, &FRAME, &FIRST_OF_DAY, &MEMORY, &MEMORY_FRAME];

pub(crate) fn run(report: &Report, studio: &LazyCell<Studio>) {
    if report.wants(&SNAPSHOT) {
        let open = || {
            let book = studio.open();
            let snapshot = actions::snapshot(&book).expect("a snapshot");
            (book, snapshot)
        };
        let (laps, (_, snapshot)) = timed(&SNAPSHOT, || (), |()| open());
        let note = format!("{} designs, {} items", snapshot.designs.len(), snapshot.stock.len());
        report.times(&SNAPSHOT, &laps, &note);
    }
    for (time, memory, what, note) in [
        (&PROCESS, &MEMORY, apart::SNAPSHOT, "start of a process, to a snapshot"),
        (&FRAME, &MEMORY_FRAME, apart::FRAME, "start of a process, to the picture of the first page"),
    ] {
        if report.wants_any(&[time, memory]) {
            let said = ask(time.runs.max(memory.runs), what, studio);
            if report.wants(time) {
                let laps: Vec<_> = said.iter().map(|said| said.lap).collect();
                report.times(time, &laps, note);
            }
            if report.wants(memory) {
                let resident: Vec<_> = said.iter().map(|said| said.resident_kib).collect();
                report.sizes(memory, &resident, "resident");
            }
        }
    }
    if report.wants(&FIRST_OF_DAY) {
        let forget = || {
            let folder = backup::folder(&studio.book());
            std::fs::remove_dir_all(folder).expect("the backups are taken away");
        };
        let (laps, _) = timed(&FIRST_OF_DAY, forget, |()| studio::open(&studio.book()));
        report.times(&FIRST_OF_DAY, &laps, "with the check of every page and the day's backup");
    }
}

fn ask(runs: usize, what: &str, studio: &Studio) -> Vec<Said> {
    // The first brings the program and the book into memory.
    let _ = apart::ask(what, &studio.book());
    (0..runs).map(|_| apart::ask(what, &studio.book())).collect()
}
