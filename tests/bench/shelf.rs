//! What the stock was worth, and whether everything in the book adds up.

use crate::measures::{Case, Report, timed};
use crate::studio::Studio;
use chrono::NaiveDate;
use enamelwright::actions;
use enamelwright::studio::ValuationMethod;
use std::cell::LazyCell;

const BOTH: Case = Case { name: "value-past-day-both", target: "<= 60 ms", runs: 9 };
const ONE: Case = Case { name: "value-past-day-fifo", target: "", runs: 9 };
const CHECK: Case = Case { name: "check-whole-book", target: "<= 2 s", runs: 5 };

pub(crate) const CASES: &[&Case] = &[&BOTH, &ONE, &CHECK];

pub(crate) fn run(report: &Report, studio: &LazyCell<Studio>) {
    if !report.wants_any(CASES) {
        return;
    }
    let book = studio.open();
    // Half of the movements lie before it.
    let day = NaiveDate::from_ymd_opt(2021, 10, 31).expect("a day");
    if report.wants(&BOTH) {
        let (laps, values) = timed(&BOTH, || (), |()| actions::stock_values(&book, day).expect("values"));
        let note = format!("{} by layers, {} by average, on {day}", values.fifo.total, values.average.total);
        report.times(&BOTH, &laps, &note);
    }
    if report.wants(&ONE) {
        let value = |()| actions::stock_value(&book, day, ValuationMethod::Fifo).expect("a value");
        let (laps, value) = timed(&ONE, || (), value);
        report.times(&ONE, &laps, &format!("{} items with stock", value.lines.len()));
    }
    if report.wants(&CHECK) {
        let (laps, found) = timed(&CHECK, || (), |()| actions::check(&book).expect("a report"));
        assert!(found.problems.is_empty(), "the generated book is not sound: {:?}", found.problems);
        report.times(&CHECK, &laps, "no problems");
    }
}
