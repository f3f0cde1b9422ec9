//! Published figures of codes and papers against what is drawn: check digits, symbol sizes, quiet zones, whole dots, page
//! sizes. Each row of `tests/data/paper_reference.csv` has its source; the rows not looked at here are looked at in
//! `papers` and `pinned_papers`.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "the helpers of a test may stop it"
)]

mod pdf_reader;

use enamelwright::measure::{Currency, Decimal, Preferences};
use enamelwright::paper::pdf::{self, Properties};
use enamelwright::paper::pinned::{Facts, Pictures, Spoken, StudioWords, facts_of_design};
use enamelwright::paper::placed::{self, Job};
use enamelwright::paper::trade_number::check_digit;
use enamelwright::paper::{Shaper, Symbology, choose, symbol::symbol};
use enamelwright::studio::{Language, LengthUnit, PaperDesign, PaperKind, SymbolKind};
use serde_json::Value;
use std::sync::Arc;

fn reference(id: &str) -> (Value, Value) {
    let mut reader = csv::Reader::from_reader(include_str!("data/paper_reference.csv").as_bytes());
    for row in reader.records() {
        let row = row.unwrap();
        if row.get(0) == Some(id) {
            let json = |at: usize| serde_json::from_str(row.get(at).unwrap()).unwrap();
            return (json(2), json(3));
        }
    }
    panic!("no row {id}");
}

fn whole(value: &Value) -> usize {
    usize::try_from(value.as_u64().unwrap()).unwrap()
}

#[test]
fn check_digits_are_the_published_ones() {
    // A shorter number stands behind noughts: they add nothing to the sum.
    for id in ["F-GS1-1", "F-GS1-2", "F-GS1-4", "F-GS1-6"] {
        let (inputs, digit) = reference(id);
        let twelve = format!("{:0>12}", inputs["digits"].as_str().unwrap());
        assert_eq!(check_digit(&twelve).map(u64::from), digit.as_u64(), "{id}");
    }
}

#[test]
fn a_qr_symbol_is_of_the_least_version_its_text_fits() {
    for id in ["F-QR-01M", "F-QR-03M", "F-QR-04M", "F-QR-06M", "F-QR-07M", "F-QR-09M", "F-QR-10M"] {
        let (inputs, most) = reference(id);
        let columns = 17 + 4 * whole(&inputs["version"]);
        for (mode, letter) in [("numeric", "7"), ("alphanumeric", "Q"), ("byte", "q")] {
            let most = whole(&most[mode]);
            let wide =
                |count: usize| usize::try_from(symbol(Symbology::Qr, &letter.repeat(count)).unwrap().columns).unwrap();
            assert_eq!((wide(most), wide(most + 1)), (columns, columns + 4), "{id} {mode}");
        }
    }
    for id in ["F-QRV-1", "F-QRV-2"] {
        let (inputs, version) = reference(id);
        let art = symbol(Symbology::Qr, inputs["text"].as_str().unwrap()).unwrap();
        assert_eq!(usize::try_from(art.columns).unwrap(), 17 + 4 * whole(&version["version"]), "{id}");
    }
    for id in ["F-QRSIZE-1", "F-QRSIZE-2", "F-QRSIZE-4", "F-QRSIZE-5"] {
        let (inputs, size) = reference(id);
        // So many capital letters as fill the version.
        let letters = [20, 38, 61, 90, 122][whole(&inputs["version"]) - 1];
        let art = symbol(Symbology::Qr, &"A".repeat(letters)).unwrap();
        let quiet = art.quiet_zone();
        let across = art.columns + quiet.left + quiet.right;
        assert_eq!(u64::from(art.columns), size["modules"].as_u64().unwrap(), "{id}");
        assert_eq!(u64::from(across), size["with_quiet_zone"].as_u64().unwrap(), "{id}");
        let mm = f64::from(across) * inputs["x_mm"].as_f64().unwrap();
        assert!((mm - size["mm"].as_f64().unwrap()).abs() < 1e-9, "{id}: {mm}");
    }
}

#[test]
fn bars_are_whole_dots_of_the_printer() {
    for id in ["F-DOTS-1", "F-DOTS-2", "F-DOTS-4", "F-DOTS-5"] {
        let (inputs, dots) = reference(id);
        let snapped = dots["x_snapped_mm"].as_f64().unwrap();
        let dpi = u32::try_from(inputs["dpi"].as_u64().unwrap()).unwrap();
        // A place with room for just that module and no more.
        let choice = choose(SymbolKind::Code128, "RG042", [snapped * 110.0 + 0.01, 20.0], Some(dpi)).unwrap();
        assert!((choice.module_mm - snapped).abs() < 1e-6, "{id}: {} mm", choice.module_mm);
        let count = choice.module_mm / 25.4 * f64::from(dpi);
        assert!((count - dots["whole_dots"].as_f64().unwrap()).abs() < 1e-6, "{id}: {count}");
    }
}

#[test]
fn pages_have_the_published_sizes_to_a_thousandth_of_a_millimetre() {
    let studio = Arc::new(StudioWords {
        name: "Tidewrack Enamels".to_owned(),
        place: String::new(),
        story: String::new(),
        care_words: String::new(),
        length: LengthUnit::Millimetre,
    });
    let lantern = enamelwright::exchange::design_file::read(include_str!("data/lantern-drop.toml")).unwrap();
    let facts: Facts = facts_of_design(&Arc::new(lantern), [62, 91, 132], &studio);
    let english = Spoken::new(
        enamelwright::paper::Speech::plain(enamelwright::studio::Language::English),
        Preferences::metric(Currency::from_code("EUR").unwrap()),
    );
    let properties = Properties {
        title: "Sizes".to_owned(),
        author: "Tidewrack Enamels".to_owned(),
        created: chrono::NaiveDate::from_ymd_opt(2026, 3, 14).unwrap().and_hms_opt(0, 0, 0).unwrap(),
        language: "en".to_owned(),
    };
    let rows = ["A4", "A5", "A6", "A8", "US-1", "US-2", "US-4"].map(|size| format!("F-PAPER-{size}"));
    for id in rows.into_iter().chain(["F-CARD-1".to_owned()]) {
        let (_, size) = reference(&id);
        let [width, height] = ["width", "height"].map(|side| size[side].to_string());
        let design = PaperDesign {
            name: id.clone(),
            kind: PaperKind::Sign,
            width_mm: width.parse::<Decimal>().unwrap(),
            height_mm: height.parse::<Decimal>().unwrap(),
            fold: None,
            holes: Vec::new(),
            corner_mm: Decimal::ZERO,
            languages: vec![Language::English],
            pinned: Vec::new(),
        };
        let job = Job { design, papers: vec![(facts.clone(), 1)], sheet: None, start: 1, dots_per_inch: None };
        let document = placed::layout(&job, &Pictures::new(), &[&english], &mut Shaper::new()).unwrap();
        let bytes = pdf::write(&document, &properties).unwrap();
        let page = &pdf_reader::read(&bytes)[0];
        for (points, mm) in page.size_pt.iter().zip([width, height]) {
            // A point is 1/72 inch (ISO 32000-1, 8.3.2.3), an inch 25.4 mm.
            let mm: f64 = mm.parse().unwrap();
            assert!((points / 72.0 * 25.4 - mm).abs() < 0.001, "{id}: {points} points, {mm} mm");
        }
        // The other boxes are the same: nothing is cropped, nothing bleeds (ISO 32000-1, 14.11.2).
        let text = String::from_utf8_lossy(&bytes);
        assert!(!text.contains("/ArtBox"), "{id}");
    }
}
