//! Cost and price of every design on every channel.

use crate::measures::{Case, Report, timed};
use crate::studio::Studio;
use enamelwright::actions;
use enamelwright::book::Snapshot;
use enamelwright::costing::costing;
use enamelwright::costing::price_sheet::PriceRow;
use enamelwright::studio::Design;
use std::cell::LazyCell;

/// As the room of prices does it: the studio's figures and stock's prices put in, then costed.
const ALL: Case = Case { name: "recost-all", target: "<= 20 ms", runs: 15 };
/// Costing alone.
const ALONE: Case = Case { name: "recost-all-costing-alone", target: "", runs: 15 };

pub(crate) const CASES: &[&Case] = &[&ALL, &ALONE];

pub(crate) fn run(report: &Report, studio: &LazyCell<Studio>) {
    if !report.wants_any(CASES) {
        return;
    }
    let book = studio.open();
    let snapshot = actions::snapshot(&book).expect("a snapshot");
    if report.wants(&ALL) {
        let (laps, rows) = timed(&ALL, || (), |()| recost(&snapshot));
        let channels: usize = rows.iter().map(|row| row.channels().count()).sum();
        report.times(&ALL, &laps, &format!("{} designs, {channels} prices", rows.len()));
    }
    if report.wants(&ALONE) {
        let designs: Vec<Design> = resolved(&snapshot).collect();
        let cost = |()| designs.iter().map(|design| costing(design).expect("a cost")).collect::<Vec<_>>();
        let (laps, _) = timed(&ALONE, || (), cost);
        report.times(&ALONE, &laps, "the studio's figures put in before");
    }
}

fn recost(snapshot: &Snapshot) -> Vec<PriceRow> {
    let rows: Vec<PriceRow> =
        snapshot.designs.iter().zip(resolved(snapshot)).map(|(book, design)| PriceRow::new(book.id, design)).collect();
    assert!(rows.iter().all(|row| row.answer.is_ok()), "a design cannot be costed");
    rows
}

fn resolved(snapshot: &Snapshot) -> impl Iterator<Item = Design> {
    snapshot.designs.iter().map(|design| snapshot.resolved(design).expect("figures that can be computed"))
}
