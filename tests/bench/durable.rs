//! One movement: on the disk, and every figure that hangs on it right, against the time the disk takes to flush.

use crate::measures::{Case, Lap, Report, Stopwatch, median_wall, timed};
use crate::studio::{Studio, perform, today};
use enamelwright::actions::{self, Action, Receipt, Taking};
use enamelwright::book::{Book, Snapshot};
use enamelwright::costing::costing;
use enamelwright::measure::{Decimal, Money, Quantity};
use enamelwright::studio::ItemId;
use std::cell::LazyCell;
use std::fs::File;
use std::io::Write;
use std::path::Path;

const FLUSH: Case = Case { name: "movement-fdatasync", target: "(4 KiB appended and flushed)", runs: 31 };
const RECEIVE: Case = Case { name: "movement-receive", target: "<= 4 x one fdatasync, wall", runs: 31 };
const ISSUE: Case = Case { name: "movement-issue", target: "<= 4 x one fdatasync, wall", runs: 31 };
const COUNT: Case = Case { name: "movement-count", target: "<= 4 x one fdatasync, wall", runs: 31 };
/// What the action alone takes of it.
const ALONE: Case = Case { name: "movement-issue-alone", target: "", runs: 31 };

pub(crate) const CASES: &[&Case] = &[&FLUSH, &RECEIVE, &ISSUE, &COUNT, &ALONE];

pub(crate) fn run(report: &Report, studio: &LazyCell<Studio>) {
    if !report.wants_any(CASES) {
        return;
    }
    let mut disk = Disk::beside(studio.folder());
    let _ = disk.flush();
    let flushes: Vec<Lap> = (0..FLUSH.runs).map(|_| disk.flush()).collect();
    if report.wants(&FLUSH) {
        report.times(&FLUSH, &flushes, "");
    }
    let mut book = studio.open();
    let snapshot = actions::snapshot(&book).expect("a snapshot");
    let item = *snapshot.designs.iter().flat_map(|design| design.follows.materials.values()).next().expect("an item");
    // Enough of it for all that follows.
    let _ = perform(&mut book, receipt(item, 10_000));
    let mut left = 1_000_u32;
    for case in [&RECEIVE, &ISSUE, &COUNT, &ALONE] {
        if !report.wants(case) {
            continue;
        }
        // Flushes between the runs, so that both meet the disk in the same state.
        let mut flushes = Vec::with_capacity(case.runs);
        let (laps, designs) = timed(
            case,
            || flushes.push(disk.flush()),
            |()| {
                let action = if case.name == RECEIVE.name {
                    receipt(item, 3)
                } else if case.name == COUNT.name {
                    // Less each time, never nothing.
                    left -= 1;
                    Action::Count(taking(item, left))
                } else {
                    Action::Issue(taking(item, 1))
                };
                let _ = perform(&mut book, action);
                if case.name == ALONE.name { 0 } else { figures(&book, item) }
            },
        );
        let times = median_wall(&laps).as_secs_f64() / median_wall(&flushes).as_secs_f64().max(1e-9);
        let note = format!("{times:.1} x one fdatasync; snapshot and {designs} designs recosted");
        report.times(case, &laps, &note);
    }
}

/// Every figure that hangs on an item: what the faces show, and cost and prices of the designs that use it. Says how
/// many those are.
fn figures(book: &Book, item: ItemId) -> usize {
    let snapshot: Snapshot = actions::snapshot(book).expect("a snapshot");
    let designs = actions::item_designs(book, item).expect("its designs");
    for id in &designs {
        let resolved = snapshot.resolved(snapshot.design(*id).expect("the design")).expect("its figures");
        let _ = std::hint::black_box(costing(&resolved).expect("a cost"));
    }
    designs.len()
}

fn receipt(item: ItemId, quantity: u32) -> Action {
    Action::Receive(vec![Receipt {
        item,
        date: today(),
        quantity: whole(quantity),
        typed: quantity.to_string(),
        cost: Money::new(Decimal::from(quantity)).expect("whole money"),
        lot_number: String::new(),
        supplier: String::new(),
        note: String::new(),
    }])
}

fn taking(item: ItemId, quantity: u32) -> Taking {
    Taking { item, date: today(), quantity: whole(quantity), typed: quantity.to_string(), note: String::new() }
}

fn whole(quantity: u32) -> Quantity {
    Quantity::new(Decimal::from(quantity)).expect("a whole quantity")
}

/// A file on the disk of the book, to which pages are appended.
struct Disk {
    file: File,
}

impl Disk {
    fn beside(folder: &Path) -> Self {
        Self { file: File::create(folder.join("flushed")).expect("a file") }
    }

    /// Appends a page and waits until it is on the disk.
    fn flush(&mut self) -> Lap {
        let watch = Stopwatch::start();
        self.file.write_all(&[0x5a; 4096]).expect("a page is written");
        self.file.sync_data().expect("the page is flushed");
        watch.lap()
    }
}
