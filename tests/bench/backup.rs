//! A verified backup.

use crate::measures::{Case, Report, median_wall, timed};
use crate::studio::{self, Studio};
use std::cell::LazyCell;

const VERIFIED: Case = Case { name: "backup-verified", target: "<= 100 ms per 10 MB", runs: 5 };

pub(crate) const CASES: &[&Case] = &[&VERIFIED];

pub(crate) fn run(report: &Report, studio: &LazyCell<Studio>) {
    if !report.wants(&VERIFIED) {
        return;
    }
    let book = studio.open();
    let copy = studio.folder().join("copy.studiobook");
    // The first time there is none to take away.
    let forget = || drop(std::fs::remove_file(&copy));
    let (laps, _) = timed(&VERIFIED, forget, |()| book.backup(Some(&copy), studio::now()).expect("a backup"));
    let bytes = std::fs::metadata(&copy).expect("the backup is there").len();
    let per_ten = median_wall(&laps).as_secs_f64() * 1e3 * 1e7 / bytes as f64;
    report.times(&VERIFIED, &laps, &format!("{:.1} MB, {per_ten:.0} ms per 10 MB by the clock", bytes as f64 / 1e6));
    std::fs::remove_file(&copy).expect("the backup is taken away");
}
