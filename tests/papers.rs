//! Tags and care cards, read back from their PDFs with a reader that shares no code with the writer.
//!
//! Published figures are in `tests/data/paper_reference.csv`, each with its source.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::print_stdout,
    reason = "the helpers of a test may stop it; the printed figures are for people"
)]
#![allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    clippy::cast_precision_loss,
    clippy::float_cmp,
    reason = "dots and modules are small whole numbers"
)]

mod pdf_reader;

use enamelwright::measure::Decimal;
use enamelwright::paper::cards::{self, CardJob, CardStyle, CareModel, PaperSize};
use enamelwright::paper::page::{Document, Item, MM_PER_POINT, Page, Rect};
use enamelwright::paper::pdf::{self, Properties};
use enamelwright::paper::preview::Outliner;
use enamelwright::paper::symbol::{Symbology, symbol};
use enamelwright::paper::tags::{self, TagJob, TagModel};
use enamelwright::paper::words::{CareFacts, CareText};
use enamelwright::paper::{MODULE_GOOD_MM, MODULE_LEAST_MM, PaperProblem, Shaper, Speech, WarningKind, sheets};
use enamelwright::studio::{LabelSheet, Language, Metal};
use hayro_syntax::Pdf;
use hayro_syntax::object::Dict;
use pdf_reader::read;
use proptest::prelude::*;
use std::collections::BTreeMap;

// ---------------------------------------------------------------------------------------------- what is printed

fn tag(name: &str, code: &str, ticket: &str) -> TagModel {
    TagModel {
        name: name.to_owned(),
        code: code.to_owned(),
        ticket: Some(ticket.to_owned()),
        materials_line: "glass enamel on copper, 45 cm chain".to_owned(),
        note_line: None,
        lead_bearing: false,
    }
}

fn sheet(width: i64, height: i64, columns: u32, rows: u32) -> LabelSheet {
    let mm = |tenths: i64| Decimal::new(tenths, 1);
    LabelSheet {
        name: "test".to_owned(),
        page_width_mm: mm(2100),
        page_height_mm: mm(2970),
        left_mm: mm(50),
        top_mm: mm(50),
        label_width_mm: mm(width),
        label_height_mm: mm(height),
        pitch_x_mm: mm(width + 10),
        pitch_y_mm: mm(height + 5),
        columns,
        rows,
        folded: false,
        hole: false,
        cut_lines: false,
        shape: enamelwright::studio::LabelShape::default(),
        crop_marks: false,
    }
}

fn job(sheet: LabelSheet, tags: Vec<(TagModel, u32)>, symbology: Symbology) -> TagJob {
    TagJob { sheet, tags, start: 1, symbology }
}

fn properties() -> Properties {
    Properties {
        title: "Tags for the Harbour Fair".to_owned(),
        author: "Tidewrack Enamels".to_owned(),
        created: chrono::NaiveDate::from_ymd_opt(2026, 3, 14).unwrap().and_hms_opt(9, 26, 53).unwrap(),
        language: "en".to_owned(),
    }
}

fn facts(metal: Metal, lead_bearing: bool) -> CareFacts {
    CareFacts { metal, firings: 5, worn: true, lead_bearing, for_children: false }
}

fn care_text(facts: &CareFacts) -> CareText {
    Speech::plain(Language::English).care_text(facts)
}

fn care(name: &str, metal: Metal, lead_bearing: bool, band: [u8; 3]) -> CareModel {
    CareModel {
        name: name.to_owned(),
        code: "LN-DROP".to_owned(),
        materials_line: "glass enamel on copper, 45 cm chain".to_owned(),
        texts: vec![care_text(&facts(metal, lead_bearing))],
        studio_name: "Tidewrack Enamels".to_owned(),
        studio_place: "Skerry Bay".to_owned(),
        words: "Thank you for choosing it. If it ever chips, bring it back and we will look at it together.".to_owned(),
        band,
    }
}

fn runs(page: &Page) -> Vec<(String, [f64; 2], f64)> {
    page.items
        .iter()
        .filter_map(|item| match item {
            Item::Text(run) => Some((run.text(), [run.x_mm, run.y_mm], run.width_mm)),
            _ => None,
        })
        .collect()
}

/// Rectangles in points as a bitmap at a printer's resolution: a dot is dark when its centre is.
fn bitmap(rectangles: &[[f64; 4]], dpi: f64, margin: usize) -> (usize, usize, Vec<bool>) {
    let left = rectangles.iter().map(|r| r[0]).fold(f64::MAX, f64::min);
    let bottom = rectangles.iter().map(|r| r[1]).fold(f64::MAX, f64::min);
    let right = rectangles.iter().map(|r| r[0] + r[2]).fold(f64::MIN, f64::max);
    let top = rectangles.iter().map(|r| r[1] + r[3]).fold(f64::MIN, f64::max);
    let dots = |points: f64| ((points * dpi / 72.0).round() as usize) + 2 * margin;
    let (width, height) = (dots(right - left), dots(top - bottom));
    let mut dark = vec![false; width * height];
    for row in 0..height {
        for column in 0..width {
            let x = left + (column as f64 + 0.5 - margin as f64) * 72.0 / dpi;
            let y = top - (row as f64 + 0.5 - margin as f64) * 72.0 / dpi;
            dark[row * width + column] =
                rectangles.iter().any(|r| x >= r[0] && x < r[0] + r[2] && y >= r[1] && y < r[1] + r[3]);
        }
    }
    (width, height, dark)
}

/// Bar and space widths of Code 128, values 0 to 105 and stop (ISO/IEC 15417, table 1; from memory).
const CODE_128: &str = "212222 222122 222221 121223 121322 131222 122213 122312 132212 221213 221312 231212 112232 \
    122132 122231 113222 123122 123221 223211 221132 221231 213212 223112 312131 311222 321122 321221 312212 322112 \
    322211 212123 212321 232121 111323 131123 131321 112313 132113 132311 211313 231113 231311 112133 112331 132131 \
    113123 113321 133121 313121 211331 231131 213113 213311 213131 311123 311321 331121 312113 312311 332111 314111 \
    221411 431111 111224 111422 121124 121421 141122 141221 112214 112412 122114 122411 142112 142211 241211 221114 \
    413111 241112 134111 111242 121142 121241 114212 124112 124211 411212 421112 421211 212141 214121 412121 111143 \
    111341 131141 114113 114311 411113 411311 113141 114131 311141 411131 211412 211214 211232 2331112";

/// The values of a row of modules, start to stop.
fn code_128_values(modules: &[bool]) -> Vec<usize> {
    let widths: Vec<usize> = modules.chunk_by(|a, b| a == b).map(<[bool]>::len).collect();
    let patterns: Vec<&str> = CODE_128.split_whitespace().collect();
    let (body, stop) = widths.split_at(widths.len() - 7);
    assert_eq!(stop, [2, 3, 3, 1, 1, 1, 2], "the stop pattern");
    body.chunks(6)
        .map(|part| {
            let pattern: String = part.iter().map(ToString::to_string).collect();
            patterns.iter().position(|known| *known == pattern).expect("a pattern of the standard")
        })
        .collect()
}

/// The text of a symbol in code set B or C, its check value proved.
fn code_128_text(values: &[usize]) -> String {
    let (check, data) = values.split_last().unwrap();
    let sum: usize = data[0] + data[1..].iter().enumerate().map(|(at, value)| (at + 1) * value).sum::<usize>();
    assert_eq!(sum % 103, *check, "the check value");
    match data[0] {
        104 => data[1..].iter().map(|value| char::from(u8::try_from(value + 32).unwrap())).collect(),
        105 => data[1..].iter().map(|value| format!("{value:02}")).collect(),
        other => panic!("start {other}"),
    }
}

fn reference(id: &str) -> (serde_json::Value, serde_json::Value) {
    let text = include_str!("data/paper_reference.csv");
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    for row in reader.records() {
        let row = row.unwrap();
        if row.get(0) == Some(id) {
            let json = |at: usize| serde_json::from_str(row.get(at).unwrap()).unwrap();
            return (json(2), json(3));
        }
    }
    panic!("no row {id}");
}

// ---------------------------------------------------------------------------------------------- PDF

#[test]
fn text_and_places_in_the_pdf_are_those_of_the_layout() {
    let tags = vec![
        (tag("Lantern drop", "LN-DROP", "$46.00"), 2),
        (tag("Fjäril à l’été, Łódź", "FJ-1", "38,50 €"), 1),
        (tag("Office ﬁfth", "AV-2", "£120"), 1),
    ];
    let mut shaper = Shaper::new();
    let document = tags::layout(&job(sheet(450, 270, 4, 10), tags, Symbology::Qr), &mut shaper).unwrap();
    let read = read(&pdf::write(&document, &properties()).unwrap());
    assert_eq!(read.len(), document.pages.len());
    for (page, laid) in read.iter().zip(&document.pages) {
        let wanted = runs(laid);
        assert_eq!(page.texts.len(), wanted.len());
        for (((text, at), end), (want, place, width)) in page.texts.iter().zip(&page.ends).zip(&wanted) {
            assert_eq!(text, want);
            let x = at[0] * MM_PER_POINT;
            let y = laid.height_mm - at[1] * MM_PER_POINT;
            assert!((x - place[0]).abs() < 0.01 && (y - place[1]).abs() < 0.01, "{text}: {x} {y}, {place:?}");
            // The pen ends where the layout says, kerning included.
            assert!((end * MM_PER_POINT - place[0] - width).abs() < 0.02, "{text} ends at {end} pt");
        }
    }
    let all: Vec<&str> = read[0].texts.iter().map(|(text, _)| text.as_str()).collect();
    for wanted in ["Lantern drop", "$46.00", "38,50 €", "£120", "LN-DROP"] {
        assert!(all.contains(&wanted), "{wanted} in {all:?}");
    }
    let whole = all.join(" ");
    assert!(whole.contains("Fjäril") && whole.contains("Łódź"), "{whole}");
}

#[test]
fn pages_have_the_sizes_of_the_standards() {
    // ISO 216 and ANSI letter; a point is 1/72 inch (ISO 32000-1, 8.3.2.3).
    for (paper, row) in [(PaperSize::A4, "F-PAPER-A4"), (PaperSize::LETTER, "F-PAPER-US-1")] {
        let (_, size) = reference(row);
        assert!((paper.width_mm - size["width"].as_f64().unwrap()).abs() < 1e-9);
        assert!((paper.height_mm - size["height"].as_f64().unwrap()).abs() < 1e-9);
        let cards = vec![(care("Lantern drop", Metal::Copper, false, [62, 91, 132]), 1)];
        let job = CardJob { cards, style: CardStyle::Flat, paper };
        let document = cards::layout(&job, &mut Shaper::new()).unwrap();
        let read = read(&pdf::write(&document, &properties()).unwrap());
        for (side, mm) in read[0].size_pt.iter().zip([paper.width_mm, paper.height_mm]) {
            assert!((side - mm / 25.4 * 72.0).abs() < 0.001, "{side}");
        }
    }
    let (_, points) = reference("F-PT-01");
    assert!((210.0 / MM_PER_POINT - points.as_f64().unwrap()).abs() < 1e-9);
}

#[test]
fn the_same_job_gives_the_same_bytes() {
    let make = || {
        let tags = (0..30).map(|n| (tag(&format!("Piece {n}"), &format!("P-{n}"), "12.00"), 1)).collect();
        let document = tags::layout(&job(sheet(450, 270, 4, 10), tags, Symbology::Qr), &mut Shaper::new()).unwrap();
        pdf::write(&document, &properties()).unwrap()
    };
    assert!(make() == make());
}

#[test]
fn the_file_says_what_it_is_and_asks_not_to_be_scaled() {
    let document = tags::layout(
        &job(sheet(450, 270, 4, 10), vec![(tag("Lantern drop", "LN-DROP", "46"), 1)], Symbology::Qr),
        &mut Shaper::new(),
    )
    .unwrap();
    let bytes = pdf::write(&document, &properties()).unwrap();
    assert!(bytes.starts_with(b"%PDF-1.7"));
    let file = Pdf::new(bytes).unwrap();
    let catalog = file.xref().root_id();
    let catalog = file.xref().get::<Dict<'_>>(catalog).unwrap();
    let preferences = catalog.get::<Dict<'_>>("ViewerPreferences").unwrap();
    let scaling = preferences.get::<hayro_syntax::object::Name<'_>>("PrintScaling").unwrap();
    assert_eq!(scaling.as_str(), "None");
    assert_eq!(catalog.get::<hayro_syntax::object::String<'_>>("Lang").unwrap().as_bytes(), b"en");
    let title = file.metadata().title.clone().unwrap();
    let units: Vec<u16> = title[2..].chunks(2).map(|pair| u16::from_be_bytes([pair[0], pair[1]])).collect();
    assert_eq!(String::from_utf16(&units).unwrap(), "Tags for the Harbour Fair");
}

#[test]
fn a_thousand_tags_stay_below_a_megabyte() {
    let tags = (0..1000).map(|n| (tag(&format!("Harbour piece {n}"), &format!("HP-{n}"), &format!("${n}.00")), 1));
    let started = std::time::Instant::now();
    let document =
        tags::layout(&job(sheet(450, 270, 4, 10), tags.collect(), Symbology::Qr), &mut Shaper::new()).unwrap();
    let laid = started.elapsed();
    let bytes = pdf::write(&document, &properties()).unwrap();
    println!("layout {laid:?}, with PDF {:?}, {} bytes", started.elapsed(), bytes.len());
    assert!(bytes.len() <= 1_000_000, "{} bytes", bytes.len());
    assert_eq!(document.pages.len(), 25);
}

// ---------------------------------------------------------------------------------------------- symbols

#[test]
fn qr_symbols_in_the_pdf_decode_at_printer_resolutions() {
    for code in ["LN-DROP", "RG-00421", "A", "12345678"] {
        let document = tags::layout(
            &job(sheet(450, 270, 4, 10), vec![(tag("Lantern drop", code, "46"), 1)], Symbology::Qr),
            &mut Shaper::new(),
        )
        .unwrap();
        let page = &read(&pdf::write(&document, &properties()).unwrap())[0];
        for dpi in [203.0, 300.0, 600.0] {
            let (width, height, dark) = bitmap(&page.rectangles, dpi, 20);
            let mut image =
                rqrr::PreparedImage::prepare_from_greyscale(
                    width,
                    height,
                    |x, y| if dark[y * width + x] { 0 } else { 255 },
                );
            let grids = image.detect_grids();
            assert_eq!(grids.len(), 1, "{code} at {dpi} dpi");
            assert_eq!(grids[0].decode().unwrap().1, code);
        }
        // The code stands beside it in letters too.
        assert!(page.texts.iter().any(|(text, _)| text == code));
    }
}

#[test]
fn code_128_in_the_pdf_decodes() {
    for code in ["LN-DROP", "RG042", "004217"] {
        let document = tags::layout(
            &job(sheet(600, 270, 3, 10), vec![(tag("Lantern drop", code, "46"), 1)], Symbology::Code128),
            &mut Shaper::new(),
        )
        .unwrap();
        let page = &read(&pdf::write(&document, &properties()).unwrap())[0];
        let (width, height, dark) = bitmap(&page.rectangles, 300.0, 0);
        let row = &dark[height / 2 * width..(height / 2 + 1) * width];
        // Dots to modules: the symbol stands on whole dots.
        let art = symbol(Symbology::Code128, code).unwrap();
        let dots = width / usize::try_from(art.columns).unwrap();
        assert_eq!(width, dots * usize::try_from(art.columns).unwrap());
        let modules: Vec<bool> = row.iter().step_by(dots).copied().collect();
        assert_eq!(code_128_text(&code_128_values(&modules)), code);
    }
}

fn modules_of(text: &str) -> Vec<bool> {
    let art = symbol(Symbology::Code128, text).unwrap();
    let mut modules = vec![false; usize::try_from(art.columns).unwrap()];
    for dark in &art.dark {
        for column in dark.column..dark.column + dark.columns {
            modules[usize::try_from(column).unwrap()] = true;
        }
    }
    modules
}

#[test]
fn code_128_check_values_and_widths_are_the_published_ones() {
    for id in ["F-C128-4", "F-C128X-1", "F-C128X-2", "F-C128X-4", "F-C128X-5"] {
        let (inputs, check) = reference(id);
        let text = inputs["text"].as_str().unwrap();
        let values = code_128_values(&modules_of(text));
        assert_eq!(*values.last().unwrap(), usize::try_from(check.as_u64().unwrap()).unwrap(), "{id}");
        assert_eq!(code_128_text(&values), text);
    }
    let (inputs, width) = reference("F-C128W-1");
    let text = "A".repeat(usize::try_from(inputs["symbols"].as_u64().unwrap()).unwrap());
    assert_eq!(u64::from(symbol(Symbology::Code128, &text).unwrap().columns), width["modules"].as_u64().unwrap());
}

#[test]
fn symbol_sizes_and_quiet_zones_are_those_of_the_standards() {
    let (_, size) = reference("F-QRSIZE-1");
    let qr = symbol(Symbology::Qr, "EW-2026-0041").unwrap();
    assert_eq!(u64::from(qr.columns), size["modules"].as_u64().unwrap());
    // Version 1 at level M holds 20 alphanumeric characters, so the 8 of a code always fit.
    let (_, most) = reference("F-QR-01M");
    let longest = "A".repeat(usize::try_from(most["alphanumeric"].as_u64().unwrap()).unwrap());
    assert_eq!(symbol(Symbology::Qr, &longest).unwrap().columns, 21);
    assert_eq!(symbol(Symbology::Qr, &format!("{longest}A")).unwrap().columns, 25);
    let [qr_quiet, _] = Symbology::Qr.quiet_modules();
    assert_eq!(u64::from(qr_quiet), reference("F-QZ-5").1.as_u64().unwrap());
    let [bar_quiet, _] = Symbology::Code128.quiet_modules();
    assert_eq!(u64::from(bar_quiet), reference("F-QZ-4").1["left"].as_u64().unwrap());
    // Four dots at 300 dpi.
    let (_, dots) = reference("F-DOTS-2");
    assert!((MODULE_GOOD_MM - dots["x_snapped_mm"].as_f64().unwrap()).abs() < 1e-6);
    // 5 to 8 characters of a code in a square of 12 or 14 modules (ISO/IEC 16022, table 7; from memory).
    assert_eq!(symbol(Symbology::DataMatrix, "RG042").unwrap().columns, 12);
    assert_eq!(symbol(Symbology::DataMatrix, "RG-00421").unwrap().columns, 14);
}

#[test]
fn a_label_too_small_for_a_symbol_says_so_and_still_shows_the_code() {
    let small = job(sheet(140, 80, 8, 10), vec![(tag("Drop", "LN-DROP", "46"), 1)], Symbology::Qr);
    let document = tags::layout(&small, &mut Shaper::new()).unwrap();
    assert!(document.warnings.iter().any(|warning| warning.kind == WarningKind::SymbolLeftOut));
    assert!(runs(&document.pages[0]).iter().any(|(text, _, _)| text == "LN-DROP"));
    assert!(!document.pages[0].items.iter().any(|item| matches!(item, Item::Symbol(_))));
}

// ---------------------------------------------------------------------------------------------- sheets

#[test]
fn labels_begin_where_asked_and_run_over_pages() {
    let mut asked = job(sheet(450, 270, 4, 10), vec![(tag("A", "A", "1"), 3), (tag("B", "B", "2"), 40)], Symbology::Qr);
    asked.start = 38;
    let document = tags::layout(&asked, &mut Shaper::new()).unwrap();
    let numbers: Vec<Vec<(u32, usize)>> = document
        .pages
        .iter()
        .map(|page| page.places.iter().map(|place| (place.number, place.entry)).collect())
        .collect();
    assert_eq!(numbers[0], [(38, 0), (39, 0), (40, 0)]);
    assert_eq!(numbers[1], (1..=40).map(|number| (number, 1)).collect::<Vec<_>>());
    assert_eq!(document.pages.len(), 2);
    asked.start = 41;
    assert_eq!(tags::layout(&asked, &mut Shaper::new()), Err(PaperProblem::Start { start: 41, labels: 40 }));
    asked.tags = vec![(tag("A", "A", "1"), 0)];
    assert_eq!(tags::layout(&asked, &mut Shaper::new()), Err(PaperProblem::Nothing));
}

#[test]
fn a_sheet_whose_labels_leave_the_page_is_refused_by_name() {
    let problem = sheets::grid(&sheet(450, 270, 5, 10)).unwrap_err().to_string();
    assert!(problem.contains("test") && problem.contains("columns") && problem.contains("234"), "{problem}");
    let mut overlapping = sheet(450, 270, 4, 10);
    overlapping.pitch_y_mm = Decimal::new(260, 1);
    let problem = sheets::grid(&overlapping).unwrap_err().to_string();
    assert!(problem.contains("row pitch"), "{problem}");
    for usual in sheets::usual_sheets() {
        sheets::grid(&usual).unwrap();
    }
}

// ---------------------------------------------------------------------------------------------- fit

/// Every mark of every place inside its place.
fn check_inside(document: &Document) {
    let mut outliner = Outliner::new();
    for page in &document.pages {
        let whole = Rect { x_mm: 0.0, y_mm: 0.0, width_mm: page.width_mm, height_mm: page.height_mm };
        for place in &page.places {
            assert!(whole.holds(&place.rect));
            for item in &page.items[place.items.clone()] {
                if let Some(bounds) = outliner.mark(item).bounds() {
                    assert!(place.rect.holds(&bounds), "{item:?} leaves {:?}", place.rect);
                }
                if let Item::Symbol(symbol) = item {
                    assert!(symbol.module_mm >= MODULE_LEAST_MM - 1e-9);
                    let [quiet_x, quiet_y] = symbol
                        .art
                        .symbology
                        .quiet_modules()
                        .map(|modules| f64::from(modules) * symbol.module_mm - 0.05);
                    let rect = symbol.rect();
                    let zone = Rect {
                        x_mm: rect.x_mm - quiet_x,
                        y_mm: rect.y_mm - quiet_y,
                        width_mm: rect.width_mm + 2.0 * quiet_x,
                        height_mm: rect.height_mm + 2.0 * quiet_y,
                    };
                    assert!(place.rect.holds(&zone), "quiet zone of {symbol:?} in {:?}", place.rect);
                    for other in &page.items[place.items.clone()] {
                        let Item::Text(run) = other else { continue };
                        let Some(ink) = outliner.mark(&Item::Text(run.clone())).bounds() else { continue };
                        let apart = ink.right_mm() <= zone.x_mm
                            || ink.x_mm >= zone.right_mm()
                            || ink.bottom_mm() <= zone.y_mm
                            || ink.y_mm >= zone.bottom_mm();
                        assert!(apart, "{} {ink:?} stands in the quiet zone {zone:?}", run.text());
                    }
                }
            }
        }
    }
}

fn hostile() -> impl Strategy<Value = String> {
    prop_oneof![
        4 => "[A-Za-z ,.’éÅß€£-]{0,40}",
        1 => "\\PC{0,60}",
        1 => Just("x".repeat(5_000)),
        1 => Just("Wörter und noch mehr Wörter ".repeat(200)),
        1 => Just(format!("Z{}", "\u{301}".repeat(300))),
        1 => Just("שלום עולם مرحبا 你好 🧿👩‍🎨\u{202e}abc\u{0}\u{7}\n\r\u{2029}\u{85}".to_owned()),
        1 => any::<String>(),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 40, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn nothing_leaves_its_label(
        name in hostile(), materials in hostile(), note in proptest::option::of(hostile()), ticket in hostile(),
        code in prop_oneof![3 => "[A-Z0-9-]{1,8}".boxed(), 1 => hostile().boxed()],
        width in 100_i64..900, height in 60_i64..600,
        folded in any::<bool>(), hole in any::<bool>(), cut_lines in any::<bool>(), kind in 0_usize..4,
    ) {
        let width = if folded { width + 200 } else { width };
        let mut sheet = sheet(width, height, 1, 1);
        (sheet.folded, sheet.hole, sheet.cut_lines) = (folded, hole, cut_lines);
        let model = TagModel {
            name, code, ticket: Some(ticket), materials_line: materials, note_line: note, lead_bearing: false,
        };
        let document = tags::layout(&job(sheet, vec![(model, 1)], Symbology::ALL[kind]), &mut Shaper::new()).unwrap();
        check_inside(&document);
    }

    #[test]
    fn nothing_leaves_its_card(name in hostile(), words in hostile(), studio in hostile(), folded in any::<bool>(), lead in any::<bool>()) {
        let style = if folded { CardStyle::Folded } else { CardStyle::Flat };
        let model = CareModel { name, words, studio_place: studio.clone(), studio_name: studio, ..care("", Metal::Copper, lead, [1, 2, 3]) };
        let job = CardJob { cards: vec![(model, 1)], style, paper: PaperSize::A4 };
        let document = cards::layout(&job, &mut Shaper::new()).unwrap();
        check_inside(&document);
        // The cautions are never shortened.
        let said: String = runs(&document.pages[0]).iter().map(|(text, _, _)| format!("{text} ")).collect();
        let said = said.split_whitespace().collect::<Vec<_>>().join(" ");
        for caution in &job.cards[0].0.texts[0].cautions {
            prop_assert!(said.contains(caution), "{said}");
        }
    }
}

#[test]
fn hostile_texts_can_be_written_and_read_back() {
    let names = [
        "x".repeat(5_000),
        format!("Z{}", "\u{301}".repeat(300)),
        "שלום مرحبا 你好 🧿\u{202e}abc\u{0}\n\u{2029}\u{85}".to_owned(),
        String::new(),
    ];
    let tags = names.iter().map(|name| (tag(name, "H-1", name), 1)).collect();
    let document = tags::layout(&job(sheet(450, 270, 4, 10), tags, Symbology::Qr), &mut Shaper::new()).unwrap();
    check_inside(&document);
    let read = read(&pdf::write(&document, &properties()).unwrap());
    assert!(read[0].texts.iter().any(|(text, _)| text == "abc"), "{:?}", read[0].texts);
}

#[test]
fn the_ticket_is_the_largest_thing_on_a_tag() {
    for (width, height) in [(450, 270), (250, 150), (635, 381), (220, 100), (220, 400)] {
        let document = tags::layout(
            &job(sheet(width, height, 1, 1), vec![(tag("Lantern drop", "LN-DROP", "$46.00"), 1)], Symbology::Qr),
            &mut Shaper::new(),
        )
        .unwrap();
        let sizes: BTreeMap<String, f64> = document.pages[0]
            .items
            .iter()
            .filter_map(|item| if let Item::Text(run) = item { Some((run.text(), run.size_pt)) } else { None })
            .collect();
        let ticket = sizes["$46.00"];
        assert!(sizes.iter().all(|(text, size)| text == "$46.00" || *size < ticket), "{width}×{height}: {sizes:?}");
    }
}

#[test]
fn characters_without_a_glyph_are_named_and_left_out() {
    let document = tags::layout(
        &job(sheet(450, 270, 4, 10), vec![(tag("Sea 海 drop 🧿", "LN-DROP", "46"), 1)], Symbology::Qr),
        &mut Shaper::new(),
    )
    .unwrap();
    assert!(document.warnings.iter().any(|warning| warning.kind == WarningKind::MissingGlyphs("海🧿".to_owned())));
    let read = read(&pdf::write(&document, &properties()).unwrap());
    assert!(read[0].texts.iter().any(|(text, _)| text == "Sea drop"), "{:?}", read[0].texts);
}

#[test]
fn decomposed_accents_are_the_same_as_composed_ones() {
    // Unicode standard annex 15: é and e + combining acute are canonically equivalent.
    let text = |name: &str| {
        let laid = tags::layout(
            &job(sheet(450, 270, 4, 10), vec![(tag(name, "C", "1"), 1)], Symbology::None),
            &mut Shaper::new(),
        )
        .unwrap();
        assert!(laid.warnings.is_empty(), "{:?}", laid.warnings);
        runs(&laid.pages[0]).iter().map(|(_, _, width)| *width).fold(0.0, f64::max)
    };
    assert!((text("Cafe\u{301} e\u{301}te\u{301} long") - text("Café été long")).abs() < 1e-6);
}

// ---------------------------------------------------------------------------------------------- cards

#[test]
fn a_card_says_what_the_piece_is_and_what_it_must_be_kept_from() {
    // Common practice of the trade, no source.
    let text = care_text(&facts(Metal::Copper, true));
    let all = [text.care.join(" "), text.cautions.join(" ")].join(" ");
    for wanted in
        ["glass", "copper", "five times", "knocks", "acids", "ultrasonic", "lead", "Not for children", "local rules"]
    {
        assert!(all.contains(wanted), "{wanted}: {all}");
    }
    let children = CareFacts { for_children: true, lead_bearing: false, ..facts(Metal::Copper, false) };
    assert!(care_text(&children).cautions.is_empty());
    let lead = CareFacts { lead_bearing: true, ..children };
    assert!(care_text(&lead).cautions.join(" ").contains("Not for children"));
}

#[test]
fn cards_share_pages_inside_what_printers_reach() {
    for (style, paper, per_page) in [
        (CardStyle::Flat, PaperSize::A4, 10),
        (CardStyle::Flat, PaperSize::LETTER, 8),
        (CardStyle::Folded, PaperSize::A4, 4),
        (CardStyle::Folded, PaperSize::LETTER, 4),
    ] {
        let cards = vec![(care("Lantern drop", Metal::Copper, true, [62, 91, 132]), per_page + 1)];
        let document = cards::layout(&CardJob { cards, style, paper }, &mut Shaper::new()).unwrap();
        assert_eq!(document.pages.len(), 2, "{style:?}");
        assert_eq!(document.pages[0].places.len(), usize::try_from(per_page).unwrap());
        assert!(document.warnings.is_empty(), "{:?}", document.warnings);
        check_inside(&document);
        let mut outliner = Outliner::new();
        let page = &document.pages[0];
        let reach = Rect { x_mm: 2.0, y_mm: 2.0, width_mm: page.width_mm - 4.0, height_mm: page.height_mm - 4.0 };
        for mark in outliner.marks(page) {
            assert!(mark.bounds().is_none_or(|bounds| reach.holds(&bounds)));
        }
    }
}

/// Writes papers to look at; run with `--ignored`.
#[test]
#[ignore = "writes files to look at"]
fn write_papers_to_look_at() {
    let folder = std::path::Path::new(env!("CARGO_TARGET_TMPDIR"));
    let mut shaper = Shaper::new();
    let some = || {
        let mut tags = vec![
            (tag("Lantern drop", "LN-DROP", "$46"), 2),
            (tag("Fjäril à l’été", "FJ-1", "38,50 €"), 2),
            (tag("Brooch of the long northern harbour at dusk", "BR-DUSK", "£1,240.00"), 2),
            (
                TagModel {
                    note_line: Some("Harbour Fair 2026".to_owned()),
                    ..tag("Tide studs", "TD-STUD", "CHF 28.00")
                },
                2,
            ),
            (
                TagModel {
                    materials_line: "glass enamel on fine silver, 45 cm sterling silver chain".to_owned(),
                    ..tag("Kelp", "KELP", "$118")
                },
                2,
            ),
        ];
        tags[0].0.lead_bearing = true;
        tags
    };
    let mut sheets: Vec<(String, LabelSheet)> =
        sheets::usual_sheets().into_iter().enumerate().map(|(n, sheet)| (format!("usual-{n}"), sheet)).collect();
    for (name, width, height, folded, hole) in [
        ("tiny", 220, 100, false, false),
        ("tiny-hole", 220, 100, false, true),
        ("small", 250, 150, false, true),
        ("address", 635, 381, false, false),
        ("narrow", 220, 400, false, true),
        ("folded-tiny", 440, 100, true, false),
        ("folded-large", 900, 300, true, true),
    ] {
        let mut sheet = sheet(width, height, (2000 / (width + 10)) as u32, 5);
        (sheet.folded, sheet.hole, sheet.cut_lines) = (folded, hole, true);
        sheets.push((name.to_owned(), sheet));
    }
    for (name, sheet) in sheets {
        for symbology in [Symbology::Qr, Symbology::Code128] {
            let document = tags::layout(&job(sheet.clone(), some(), symbology), &mut shaper).unwrap();
            for warning in &document.warnings {
                println!("{name} {}: {warning}", symbology.name());
            }
            let path = folder.join(format!("{name}-{}.pdf", symbology.name()));
            std::fs::write(path, pdf::write(&document, &properties()).unwrap()).unwrap();
        }
    }
    for style in CardStyle::ALL {
        let cards = vec![
            (care("Lantern drop", Metal::Copper, true, [62, 91, 132]), 3),
            (care("Kelp pendant", Metal::FineSilver, false, [43, 110, 92]), 3),
        ];
        let document = cards::layout(&CardJob { cards, style, paper: PaperSize::A4 }, &mut shaper).unwrap();
        std::fs::write(
            folder.join(format!("card-{}.pdf", style.name())),
            pdf::write(&document, &properties()).unwrap(),
        )
        .unwrap();
    }
}
