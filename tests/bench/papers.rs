//! Tags and labels to PDF, no two of them the same.

use crate::apart;
use crate::measures::{Case, Report, timed};
use crate::studio::{self, Studio};
use enamelwright::paper::tags::{self, TagJob, TagModel};
use enamelwright::paper::{Document, Properties, Shaper, Symbology, pdf, sheets};
use std::cell::LazyCell;
use std::path::Path;

const TAGS: Case = Case { name: "tags-1000-pdf", target: "<= 0.8 s, <= 1 MB", runs: 5 };
const TAGS_LAYOUT: Case = Case { name: "tags-1000-layout", target: "", runs: 5 };
const LABELS: Case = Case { name: "labels-10000-pdf", target: "<= 8 s, <= 8 MB", runs: 5 };
const MEMORY: Case = Case { name: "memory-labels-10000 (MiB)", target: "<= 300 MiB", runs: 5 };

pub(crate) const CASES: &[&Case] = &[&TAGS, &TAGS_LAYOUT, &LABELS, &MEMORY];

/// As many labels as one job may have.
pub(crate) const MANY_LABELS: u32 = 10_000;

pub(crate) fn run(report: &Report, _: &LazyCell<Studio>) {
    for (case, count) in [(&TAGS, 1_000), (&LABELS, MANY_LABELS)] {
        if report.wants(case) {
            let (laps, bytes) = timed(case, || (), |()| write(count));
            report.times(case, &laps, &format!("{:.2} MB", bytes.len() as f64 / 1e6));
        }
    }
    if report.wants(&TAGS_LAYOUT) {
        let (laps, document) = timed(&TAGS_LAYOUT, || (), |()| lay_out(1_000));
        report.times(&TAGS_LAYOUT, &laps, &format!("{} pages", document.pages.len()));
    }
    if report.wants(&MEMORY) {
        // No book is opened for it.
        let most = |_| apart::ask(apart::LABELS, Path::new("-")).most_kib;
        let sizes: Vec<u64> = (0..MEMORY.runs).map(most).collect();
        report.sizes(&MEMORY, &sizes, "the most of a process that does nothing else");
    }
}

/// So many labels as PDF.
pub(crate) fn write(count: u32) -> Vec<u8> {
    let properties = Properties {
        title: "Tags for the Harbour Fair".to_owned(),
        author: "Tidewrack Enamels".to_owned(),
        created: studio::now(),
        language: "en".to_owned(),
    };
    pdf::write(&lay_out(count), &properties).expect("a PDF")
}

fn lay_out(count: u32) -> Document {
    let tags = (0..count).map(|number| (tag(number), 1)).collect();
    let sheet = sheets::usual_sheets().swap_remove(0);
    tags::layout(&TagJob { sheet, tags, start: 1, symbology: Symbology::Qr }, &mut Shaper::new()).expect("a layout")
}

fn tag(number: u32) -> TagModel {
    TagModel {
        name: format!("Lantern drop {number}"),
        code: format!("LD-{number:05}"),
        ticket: Some(format!("${}.00", 20 + number % 180)),
        materials_line: "glass enamel on copper, 45 cm chain".to_owned(),
        note_line: None,
        lead_bearing: false,
    }
}
