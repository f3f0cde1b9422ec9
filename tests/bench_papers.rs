//! Bench sheets and kiln log pages, read back from their PDFs with a reader that shares no code with the writer.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    clippy::cast_precision_loss,
    reason = "the helpers of a test may stop it; a picture's dots are small whole numbers"
)]

mod pdf_reader;

use chrono::{NaiveDate, NaiveDateTime};
use enamelwright::exchange::design_file;
use enamelwright::measure::{Currency, Decimal, Preferences};
use enamelwright::paper::batch_words::{batch_of_symbol, batch_symbol};
use enamelwright::paper::bench_sheet_model::{SheetAsked, bench_sheet};
use enamelwright::paper::cards::PaperSize;
use enamelwright::paper::kiln_page_model::{LoggedDay, LoggedLoad, LoggedPiece, PageAsked, kiln_page};
use enamelwright::paper::page::{Colour, Document, Item, MM_PER_POINT, Paint, Rect, Segment};
use enamelwright::paper::pdf::{self, Properties};
use enamelwright::paper::{BenchSheet, PaperProblem, Shaper, bench_sheet as sheets, kiln_page as pages};
use enamelwright::studio::{
    Batch, BatchId, BatchRecord, BatchState, BenchDeed, BenchEntry, DesignId, EntryId, FiringResult, HeatSource, Kiln,
    KilnDay, KilnId, Load, LossCause, LossKind, Piece, PieceId, TemperatureUnit,
};
use pdf_reader::{ReadPage, read};
use std::collections::BTreeMap;

/// The invented example design that ships with the specification of design files.
const LANTERN_DROP: &str = include_str!("data/lantern-drop.toml");

fn number(text: &str) -> Decimal {
    text.parse().unwrap()
}

fn day() -> NaiveDate {
    NaiveDate::from_ymd_opt(2026, 10, 14).unwrap()
}

fn time(hour: u32, minute: u32, second: u32) -> NaiveDateTime {
    day().and_hms_opt(hour, minute, second).unwrap()
}

fn preferences() -> Preferences {
    Preferences::metric(Currency::USD)
}

fn record(pieces: u32) -> BatchRecord {
    let mut plan = design_file::read(LANTERN_DROP).unwrap();
    plan.pieces = pieces;
    let rows: Vec<Piece> = (1..=pieces)
        .map(|place| Piece {
            id: PieceId(i64::from(place) + 40),
            batch: BatchId(3),
            place,
            number: None,
            finished: None,
            second: false,
            note: String::new(),
        })
        .collect();
    let begun = BenchDeed::Started { pieces: rows.iter().map(|piece| piece.id).collect() };
    BatchRecord {
        id: BatchId(3),
        batch: Batch {
            number: 14,
            design: DesignId(1),
            name: "Lantern drops for the Harbour Fair".to_owned(),
            started: day(),
            plan,
            stock: BTreeMap::new(),
            note: String::new(),
            state: BatchState::Open,
        },
        pieces: rows,
        entries: vec![BenchEntry { id: EntryId(1), batch: BatchId(3), date: day(), deed: begun }],
    }
}

fn sheet_of(record: &BatchRecord, paper: PaperSize, preferences: &Preferences) -> BenchSheet {
    let asked = SheetAsked {
        pieces: &record.pieces,
        kiln: Some(("the small kiln", number("950"))),
        paper,
        studio: "Tidewrack Enamels",
    };
    bench_sheet(record, &asked, preferences).unwrap()
}

fn bytes(document: &Document, title: &str) -> Vec<u8> {
    let properties = Properties {
        title: title.to_owned(),
        author: "Tidewrack Enamels".to_owned(),
        created: time(9, 26, 53),
        language: "en".to_owned(),
    };
    let bytes = pdf::write(document, &properties).unwrap();
    // To be looked at: ENAMELWRIGHT_PICTURES=DIR cargo test --test bench_papers.
    if let Some(folder) = std::env::var_os("ENAMELWRIGHT_PICTURES") {
        std::fs::write(std::path::Path::new(&folder).join(format!("{title}.pdf")), &bytes).unwrap();
    }
    bytes
}

fn texts(page: &ReadPage) -> Vec<&str> {
    page.texts.iter().map(|(text, _)| text.as_str()).collect()
}

fn all_text(pages: &[ReadPage]) -> String {
    pages.iter().flat_map(texts).collect::<Vec<_>>().join("\n").replace('\u{a0}', " ")
}

/// Everything of the layout and every text of the PDF lies within the margins; texts of one page do not overlap.
#[track_caller]
fn within(document: &Document, pages: &[ReadPage], margins: Rect) {
    for page in &document.pages {
        let mut texts: Vec<Rect> = Vec::new();
        for item in &page.items {
            match item {
                Item::Text(run) => {
                    // Source Sans 3: capitals 0.660, descenders 0.205 of the size.
                    let em = run.size_pt * MM_PER_POINT;
                    let ink = Rect {
                        x_mm: run.x_mm,
                        y_mm: run.y_mm - 0.66 * em,
                        width_mm: run.width_mm,
                        height_mm: 0.86 * em,
                    };
                    assert!(margins.holds(&ink), "{} at {ink:?} is not within {margins:?}", run.text());
                    let overlaps = |other: &&Rect| {
                        ink.x_mm < other.right_mm()
                            && other.x_mm < ink.right_mm()
                            && ink.y_mm < other.bottom_mm()
                            && other.y_mm < ink.bottom_mm()
                    };
                    assert_eq!(texts.iter().find(overlaps), None, "{} at {ink:?} overlaps", run.text());
                    texts.push(ink);
                }
                Item::Shape(shape) => {
                    for segment in &shape.path {
                        let (Segment::Move([x, y]) | Segment::Line([x, y])) = *segment else { continue };
                        let ink = Rect { x_mm: x, y_mm: y, width_mm: 0.0, height_mm: 0.0 };
                        assert!(margins.holds(&ink), "a shape at {ink:?} is not within {margins:?}");
                    }
                }
                Item::Symbol(symbol) => assert!(margins.holds(&symbol.rect()), "{:?}", symbol.rect()),
                Item::Picture(picture) => assert!(margins.holds(&picture.rect), "{:?}", picture.rect),
            }
        }
    }
    for (page, laid) in pages.iter().zip(&document.pages) {
        for ((text, at), end) in page.texts.iter().zip(&page.ends) {
            let [x, y] = [at[0] * MM_PER_POINT, laid.height_mm - at[1] * MM_PER_POINT];
            let right = end * MM_PER_POINT;
            assert!(x > margins.x_mm - 0.02 && right < margins.right_mm() + 0.02, "{text}: {x} to {right}");
            assert!(y > margins.y_mm && y < margins.bottom_mm() + 0.02, "{text}: {y}");
        }
    }
}

/// Outlined squares of the size of a box to tick.
fn ticks(document: &Document) -> usize {
    let items = document.pages.iter().flat_map(|page| &page.items);
    items
        .filter(|item| {
            matches!(item, Item::Shape(shape) if matches!(shape.paint, Paint::Line { .. })
                && matches!(shape.path[..], [Segment::Move([x, y]), _, Segment::Line([right, bottom]), ..]
                    if (right - x - (bottom - y)).abs() < 0.001 && (4.0..8.0).contains(&(right - x))))
        })
        .count()
}

// ---------------------------------------------------------------------------------------------- bench sheet

#[test]
fn a_bench_sheet_says_the_route_the_ceiling_and_the_cautions() {
    for (paper, name) in [(PaperSize::A4, "bench sheet A4"), (PaperSize::LETTER, "bench sheet Letter")] {
        let record = record(12);
        let sheet = sheet_of(&record, paper, &preferences());
        let document = sheets::layout(&sheet, &mut Shaper::new()).unwrap();
        assert_eq!(document.warnings, []);
        let pages = read(&bytes(&document, name));
        within(&document, &pages, sheets::margins(paper));
        let text = all_text(&pages);
        for wanted in [
            "Batch 14",
            "Tidewrack Enamels",
            "Lantern drops for the Harbour Fair",
            "Lantern drop (LN-DROP)",
            "begun 2026-10-14",
            "12",
            // Costing method, section 9: 745 °C less the margin of 38.
            "707 °C",
            "707 °C: solder flows at 745 °C, less 38 °C of margin",
            "950 °C: the hottest the small kiln holds",
            "CAUTION",
            "Counter enamel",
            "725 °C",
            "3:15 min",
            "5 a load, 3 loads",
            "The maker’s safety data sheet and local rules come first.",
            "enamelwright:batch/14",
        ] {
            assert!(text.lines().any(|line| line == wanted), "{wanted} in {text}");
        }
        // Every step, in the order of the route.
        let names: Vec<&str> = record.batch.plan.steps.iter().map(|step| step.name.as_str()).collect();
        let printed: Vec<&str> = text.lines().filter(|line| names.contains(line)).collect();
        assert_eq!(printed, names);
        for word in ["Heat:", "Dust and fumes:", "Acid:"] {
            assert!(text.lines().any(|line| line.starts_with(word)), "{word} in {text}");
        }
        // A box a piece and step.
        assert_eq!(ticks(&document), 12 * names.len());
        let count = pages.len();
        for (place, page) in pages.iter().enumerate() {
            assert!(texts(page).contains(&format!("Page {} of {count}", place + 1).as_str()));
            if place > 0 {
                let head = "Batch 14 · Lantern drops for the Harbour Fair · begun 2026-10-14";
                assert!(texts(page).contains(&head), "{:?}", texts(page));
            }
        }
    }
}

#[test]
fn grams_are_those_of_the_pieces_with_and_without_what_goes_back() {
    // Costing method, section 3, by hand for a blank of 10 cm² a side: 66 mg/cm² on 10 cm² is 0.66 g; a third of it more
    // misses (0.3), of which 0.7 comes back: 0.66 × 1.09 = 0.7194 g used, 0.66 × 1.3 = 0.858 g sifted; twelve pieces.
    let mut record = record(12);
    record.batch.plan.blank.outline = enamelwright::studio::Outline::Rectangle {
        length_mm: number("40"),
        width_mm: number("25"),
        corner_mm: Decimal::ZERO,
    };
    record.batch.plan.blank.dome_height_mm = Decimal::ZERO;
    record.batch.plan.materials[3].lead_bearing = true;
    let sheet = sheet_of(&record, PaperSize::A4, &preferences());
    let line = &sheet.steps[4].lines[0];
    assert_eq!(
        line.text.replace('\u{a0}', " "),
        "Dusk blue, opaque · front, 66 mg/cm² · 8.63 g used, 10.3 g with what goes back"
    );
    assert!(line.lead && !sheet.steps[1].lines[0].lead);
    let document = sheets::layout(&sheet, &mut Shaper::new()).unwrap();
    let text = all_text(&read(&bytes(&document, "bench sheet with lead")));
    assert_eq!(text.lines().filter(|line| *line == "LEAD").count(), 1, "{text}");
    assert!(text.contains("Lead: gloves") && text.contains("Bears lead, from step 5 on"), "{text}");
}

#[test]
fn heats_stand_in_her_units() {
    let mut fahrenheit = preferences();
    fahrenheit.temperature = TemperatureUnit::Fahrenheit;
    let sheet = sheet_of(&record(6), PaperSize::LETTER, &fahrenheit);
    let document = sheets::layout(&sheet, &mut Shaper::new()).unwrap();
    let text = all_text(&read(&bytes(&document, "bench sheet Fahrenheit")));
    // °F = °C · 9/5 + 32: 725 °C is 1337 °F; 745 is 1373, less 38 · 9/5 = 68.4.
    for wanted in ["1337 °F", "1305 °F: solder flows at 1373 °F, less 68 °F of margin", "°F"] {
        assert!(text.lines().any(|line| line == wanted), "{wanted} in {text}");
    }
    assert!(!text.contains("°C"), "{text}");
}

#[test]
fn a_stop_is_white_on_black_and_a_caution_framed() {
    let mut record = record(6);
    // A firing at the flow point of the solder is a stop (costing method, section 9).
    record.batch.plan.blank.solder_flow_c = Some(number("725"));
    let sheet = sheet_of(&record, PaperSize::A4, &preferences());
    assert!(sheet.cautions[0].stop && sheet.cautions[0].what.contains("step 3"), "{:?}", sheet.cautions);
    let document = sheets::layout(&sheet, &mut Shaper::new()).unwrap();
    let runs = document.pages[0].items.iter().filter_map(|item| match item {
        Item::Text(run) => Some(run),
        _ => None,
    });
    let stop = runs.clone().find(|run| run.text() == "STOP").unwrap();
    assert_eq!(stop.colour, Colour([255, 255, 255]));
    let black = document.pages[0].items.iter().any(|item| {
        matches!(item, Item::Shape(shape) if shape.paint == Paint::Fill(Colour::BLACK)
            && matches!(shape.path[..], [Segment::Move([x, y]), _, Segment::Line([right, bottom]), ..]
                if x < stop.x_mm && right > stop.x_mm + stop.width_mm && y < stop.y_mm && bottom > stop.y_mm))
    });
    assert!(black, "STOP stands on black");
    assert!(runs.clone().filter(|run| run.text() == "CAUTION").all(|run| run.colour == Colour::BLACK));
    bytes(&document, "bench sheet with a stop");
}

#[test]
fn forty_pieces_run_over_pages_and_no_step_is_torn() {
    let mut record = record(200);
    record.batch.note = "For the gallery by the lock; two with a blue bail.".to_owned();
    let sheet = sheet_of(&record, PaperSize::A4, &preferences());
    let document = sheets::layout(&sheet, &mut Shaper::new()).unwrap();
    assert_eq!(document.warnings, []);
    let pages = read(&bytes(&document, "bench sheet of 200"));
    within(&document, &pages, sheets::margins(PaperSize::A4));
    assert_eq!(ticks(&document), 200 * record.batch.plan.steps.len());
    assert!(all_text(&pages).contains("For the gallery by the lock; two with a blue bail."));
    // Each step's name and its last box stand on one page.
    let names: Vec<&str> = record.batch.plan.steps.iter().map(|step| step.name.as_str()).collect();
    for (place, page) in pages.iter().enumerate() {
        let heads = texts(page).iter().filter(|text| names.contains(text)).count();
        // The first page says how many pieces there are, too.
        let last = texts(page).iter().filter(|text| **text == "200").count();
        assert_eq!(last, heads + usize::from(place == 0));
    }
}

#[test]
fn the_symbol_opens_the_batch() {
    let document = sheets::layout(&sheet_of(&record(4), PaperSize::A4, &preferences()), &mut Shaper::new()).unwrap();
    let page = &read(&bytes(&document, "bench sheet of 4"))[0];
    // Only the symbol is of small filled rectangles.
    let modules: Vec<[f64; 4]> = page.rectangles.iter().copied().filter(|[.., height]| *height < 40.0).collect();
    let dots = 300.0 / 72.0;
    let (left, bottom) = modules.iter().fold((f64::MAX, f64::MAX), |(x, y), m| (x.min(m[0]), y.min(m[1])));
    let (right, top) = modules.iter().fold((0.0_f64, 0.0_f64), |(x, y), m| (x.max(m[0] + m[2]), y.max(m[1] + m[3])));
    let quiet = 24;
    let size = [right - left, top - bottom].map(|side| (side * dots).round() as usize + 2 * quiet);
    let mut dark = vec![false; size[0] * size[1]];
    for [x, y, width, height] in modules {
        let from = [(x - left) * dots, (top - y - height) * dots].map(|at| at.round() as usize + quiet);
        let to = [(x - left + width) * dots, (top - y) * dots].map(|at| at.round() as usize + quiet);
        for row in from[1]..to[1] {
            dark[row * size[0] + from[0]..row * size[0] + to[0]].fill(true);
        }
    }
    let mut image =
        rqrr::PreparedImage::prepare_from_greyscale(
            size[0],
            size[1],
            |x, y| {
                if dark[y * size[0] + x] { 0 } else { 255 }
            },
        );
    let grids = image.detect_grids();
    assert_eq!(grids.len(), 1);
    let held = grids[0].decode().unwrap().1;
    assert_eq!(held, batch_symbol(14));
    assert_eq!(batch_of_symbol(&held), Some(14));
    // The quiet zone of four modules (ISO/IEC 18004) is free of type.
    let module = 6.0 * 25.4 / 300.0 / MM_PER_POINT;
    let zone = [left - 4.0 * module, bottom - 4.0 * module, right + 4.0 * module, top + 4.0 * module];
    for ((text, at), end) in page.texts.iter().zip(&page.ends) {
        let inside = *end > zone[0] && at[0] < zone[2] && at[1] > zone[1] && at[1] < zone[3];
        assert!(!inside, "{text} stands in the quiet zone");
    }
}

// ---------------------------------------------------------------------------------------------- kiln log

fn kiln() -> Kiln {
    Kiln { name: "Small kiln".to_owned(), heat: HeatSource::Torch, note: String::new(), retired: false }
}

fn load(from: NaiveDateTime, minutes: i64, words: &str) -> Load {
    Load {
        kiln: KilnId(1),
        closed_at: from,
        opened_at: Some(from + chrono::Duration::seconds(minutes * 60 + 15)),
        set_celsius: number("725"),
        read_celsius: Some(number("728")),
        asked_minutes: number("3.25"),
        attended_minutes: None,
        charge: Vec::new(),
        override_words: words.to_owned(),
        note: String::new(),
    }
}

fn piece(batch: u32, place: u32, result: FiringResult) -> LoggedPiece {
    LoggedPiece { batch, step: "Fire the base".to_owned(), piece: place.to_string(), result: Some(result) }
}

#[test]
fn a_kiln_log_page_says_every_load() {
    let kiln = kiln();
    let loads = [
        load(time(10, 2, 0), 3, ""),
        load(time(10, 12, 0), 2, "Joint sits on a trivet of its own, mind the door"),
        load(time(11, 30, 0), 2, ""),
    ];
    let day = KilnDay {
        kiln: KilnId(1),
        date: day(),
        on_at: time(9, 5, 0),
        hot_at: Some(time(9, 50, 0)),
        off_at: Some(time(12, 0, 0)),
        hold_celsius: number("740"),
        meter_kwh: Some(number("4.1")),
        note: String::new(),
    };
    let cracked = FiringResult::Lost { cause: LossCause::Cracked, kind: LossKind::Normal };
    let charges = [
        (1..=5).map(|place| piece(4, place, FiringResult::Good)).collect::<Vec<_>>(),
        vec![piece(4, 6, FiringResult::Good), piece(7, 1, FiringResult::Again), piece(7, 2, cracked)],
        vec![piece(9, 1, FiringResult::Good)],
    ];
    let logged = LoggedDay {
        kiln: &kiln,
        date: day.date,
        day: Some(&day),
        loads: loads
            .iter()
            .zip(charges)
            .map(|(load, charge)| LoggedLoad { load, kwh: Some(number("0.315")), charge })
            .collect(),
        kwh: Some(number("4.1")),
        curve: vec![(time(9, 5, 0), 20.0), (time(9, 50, 0), 740.0), (time(12, 0, 0), 740.0), (time(13, 0, 0), 420.0)],
    };
    for (paper, name) in [(PaperSize::A4, "kiln log A4"), (PaperSize::LETTER, "kiln log Letter")] {
        let asked = PageAsked { studio: "Tidewrack Enamels", period: (day.date, day.date), blank_rows: 4, paper };
        let page = kiln_page(std::slice::from_ref(&logged), &asked, &preferences());
        let document = pages::layout(&page, &mut Shaper::new()).unwrap();
        assert_eq!(document.warnings, []);
        let read = read(&bytes(&document, name));
        within(&document, &read, pages::margins(paper));
        let text = all_text(&read);
        for wanted in [
            "Kiln log",
            "Small kiln · 2026-10-14",
            "on 09:05 · hot 09:50 · off 12:00 · held 740 °C · meter 4.10 kWh",
            "10:02",
            "10:05",
            "3:15",
            "725 °C",
            "728 °C",
            "Batch 4, Fire the base: 1–5",
            "all good",
            "Fired past a stop: “Joint sits on a trivet of its own, mind the door”",
            // Half-away from zero at two places.
            "0.32",
            "3 loads, 9 pieces, 4.10 kWh for the day",
            "09:00",
            "800 °C",
            "Page 1 of 1",
        ] {
            assert!(text.lines().any(|line| line == wanted), "{wanted} in {text}");
        }
        assert!(text.contains("local rules come first"), "{text}");
        let flowing = text.replace('\n', " ");
        assert!(flowing.contains("1 good; again 7/1; lost 7/2 cracked"), "{text}");
    }
}

#[test]
fn rows_to_write_on_fill_a_page_and_a_page_of_nothing_is_refused() {
    let asked = PageAsked {
        studio: "Tidewrack Enamels",
        period: (day(), day()),
        blank_rows: pages::rows_of_a_page(),
        paper: PaperSize::LETTER,
    };
    let document = pages::layout(&kiln_page(&[], &asked, &preferences()), &mut Shaper::new()).unwrap();
    assert_eq!((document.pages.len(), document.warnings.len()), (1, 0));
    let read = read(&bytes(&document, "kiln log to write on"));
    within(&document, &read, pages::margins(PaperSize::LETTER));
    assert!(all_text(&read).contains("temperatures in °C"));
    let none = PageAsked { blank_rows: 0, ..asked };
    let refused = pages::layout(&kiln_page(&[], &none, &preferences()), &mut Shaper::new());
    assert_eq!(refused.unwrap_err(), PaperProblem::NothingListed);
}

#[test]
fn three_hundred_loads_keep_their_headings() {
    let kiln = kiln();
    let loads: Vec<Load> =
        (0..300).map(|place| load(time(8, 0, 0) + chrono::Duration::minutes(place), 2, "")).collect();
    let logged = LoggedDay {
        kiln: &kiln,
        date: day(),
        day: None,
        loads: loads
            .iter()
            .map(|load| LoggedLoad { load, kwh: None, charge: vec![piece(4, 1, FiringResult::Good)] })
            .collect(),
        kwh: None,
        curve: Vec::new(),
    };
    let asked = PageAsked { studio: "Tidewrack Enamels", period: (day(), day()), blank_rows: 0, paper: PaperSize::A4 };
    let page = kiln_page(&[logged], &asked, &preferences());
    let document = pages::layout(&page, &mut Shaper::new()).unwrap();
    let read = read(&bytes(&document, "kiln log of 300"));
    within(&document, &read, pages::margins(PaperSize::A4));
    assert_eq!(all_text(&read).lines().filter(|line| *line == "all good").count(), 300);
    for page in read.iter().skip(1) {
        assert!(texts(page).contains(&"Small kiln · 2026-10-14, continued"), "{:?}", texts(page));
    }
}
