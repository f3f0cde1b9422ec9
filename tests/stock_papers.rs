//! Count sheets and shopping lists, read back from their PDFs with a reader that shares no code with the writer.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::float_cmp,
    reason = "the helpers of a test may stop it; pages have the very sizes that were asked for"
)]

mod pdf_reader;

use enamelwright::paper::cards::PaperSize;
use enamelwright::paper::count_sheet::{self, CountLine, CountSheet, CountShelf};
use enamelwright::paper::page::{Document, Item, MM_PER_POINT, Paint, Rect, Segment};
use enamelwright::paper::pdf::{self, Properties};
use enamelwright::paper::shopping::{self, ShoppingLine, ShoppingList, ShoppingSupplier};
use enamelwright::paper::warning::Part;
use enamelwright::paper::{PaperProblem, Shaper, WarningKind};
use pdf_reader::{ReadPage, read};
use proptest::prelude::*;

fn properties(title: &str) -> Properties {
    Properties {
        title: title.to_owned(),
        author: "Tidewrack Enamels".to_owned(),
        created: chrono::NaiveDate::from_ymd_opt(2026, 3, 14).unwrap().and_hms_opt(9, 26, 53).unwrap(),
        language: "en".to_owned(),
    }
}

fn bytes(document: &Document, title: &str) -> Vec<u8> {
    let bytes = pdf::write(document, &properties(title)).unwrap();
    // To be looked at: ENAMELWRIGHT_PICTURES=DIR cargo test --test stock_papers.
    if let Some(folder) = std::env::var_os("ENAMELWRIGHT_PICTURES") {
        std::fs::write(std::path::Path::new(&folder).join(format!("{title}.pdf")), &bytes).unwrap();
    }
    bytes
}

fn all_text(pages: &[ReadPage]) -> String {
    pages.iter().flat_map(|page| &page.texts).map(|(text, _)| text.as_str()).collect::<Vec<_>>().join("\n")
}

/// Every item of the layout and every text of the PDF lies within the margins; texts of one page do not overlap.
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
                    let half = if let Paint::Line { width_mm, .. } = shape.paint { width_mm / 2.0 } else { 0.0 };
                    for segment in &shape.path {
                        let (Segment::Move([x, y]) | Segment::Line([x, y])) = *segment else { continue };
                        let ink = Rect { x_mm: x, y_mm: y - half, width_mm: 0.0, height_mm: 2.0 * half };
                        assert!(margins.holds(&ink), "a shape at {ink:?} is not within {margins:?}");
                    }
                }
                Item::Symbol(symbol) => panic!("{symbol:?}"),
                Item::Picture(picture) => panic!("{:?}", picture.rect),
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

// ---------------------------------------------------------------------------------------------- count sheets

fn line(reference: &str, name: &str, unit: &str, lead_bearing: bool) -> CountLine {
    CountLine {
        reference: reference.to_owned(),
        name: name.to_owned(),
        unit: unit.to_owned(),
        lead_bearing,
        on_hand: None,
    }
}

fn sheet(shelves: Vec<CountShelf>, paper: PaperSize) -> CountSheet {
    CountSheet { studio: "Tidewrack Enamels".to_owned(), date: "14 March 2026".to_owned(), shelves, paper }
}

fn walk() -> Vec<CountShelf> {
    vec![
        CountShelf {
            name: "Window wall, top".to_owned(),
            lines: vec![
                line("EN-041", "Fen green, transparent", "g", false),
                line("EN-007", "Old ruby, transparent", "g", true),
                line(
                    "EN-112",
                    "Slate, counter enamel from the wash-back of all the blue and grey jars of the year before",
                    "g",
                    false,
                ),
            ],
        },
        CountShelf {
            name: "Drawer 3".to_owned(),
            lines: vec![
                line("CU-SHEET-18", "Copper sheet, 18 gauge, 6 × 12 in", "sheet", false),
                line("CU-DROP", "Copper drop, 38 × 24 mm", "each", false),
            ],
        },
        CountShelf { name: "Empty shelf".to_owned(), lines: Vec::new() },
    ]
}

#[test]
fn a_count_sheet_says_everything_and_no_figure_unless_asked() {
    let count = sheet(walk(), PaperSize::A4);
    let document = count_sheet::layout(&count, &mut Shaper::new()).unwrap();
    assert_eq!(document.warnings, []);
    let pages = read(&bytes(&document, "count sheet"));
    assert_eq!(pages.len(), 1);
    let text = all_text(&pages);
    for wanted in [
        "Count sheet",
        "Tidewrack Enamels",
        "14 March 2026",
        "Window wall, top",
        "Drawer 3",
        "EN-041",
        "EN-007",
        "CU-SHEET-18",
        "Fen green, transparent",
        "Copper sheet, 18 gauge, 6 × 12 in",
        "LEAD",
        "sheet",
        "each",
        "Counted by",
        "Counted",
        "Page 1 of 1",
    ] {
        assert!(text.lines().any(|line| line == wanted), "{wanted} in {text}");
    }
    // The long name stands on two lines, whole.
    assert!(text.contains("Slate, counter enamel") && text.contains("year before"), "{text}");
    assert_eq!(text.lines().filter(|line| *line == "LEAD").count(), 1);
    assert!(!text.contains("In the book") && !text.contains("Empty shelf"), "{text}");
    within(&document, &pages, count_sheet::margins(count.paper));
    // A box for every line, 34 by 7 mm, with nothing in it.
    let boxes: Vec<Rect> = boxes(&document, 30.0);
    assert_eq!(boxes.len(), 5);
    for run in
        document.pages[0].items.iter().filter_map(|item| if let Item::Text(run) = item { Some(run) } else { None })
    {
        let inside = |place: &Rect| {
            run.x_mm + run.width_mm > place.x_mm
                && run.x_mm < place.right_mm()
                && run.y_mm > place.y_mm
                && run.y_mm < place.bottom_mm()
        };
        assert!(!boxes.iter().any(inside), "{} stands in a box", run.text());
    }

    let mut asked = count;
    for shelf in &mut asked.shelves {
        for line in &mut shelf.lines {
            line.on_hand = Some("1 234.5 g".to_owned());
        }
    }
    let document = count_sheet::layout(&asked, &mut Shaper::new()).unwrap();
    let pages = read(&bytes(&document, "count sheet with stock"));
    let text = all_text(&pages);
    assert!(text.contains("In the book"), "{text}");
    assert_eq!(text.lines().filter(|line| *line == "1 234.5 g").count(), 5, "{text}");
    within(&document, &pages, count_sheet::margins(asked.paper));
}

/// Outlined rectangles at least this wide.
fn boxes(document: &Document, least_width: f64) -> Vec<Rect> {
    let mut found = Vec::new();
    for item in document.pages.iter().flat_map(|page| &page.items) {
        if let Item::Shape(shape) = item
            && let [Segment::Move([x, y]), _, Segment::Line([right, bottom]), ..] = shape.path[..]
            && right - x >= least_width
        {
            found.push(Rect { x_mm: x, y_mm: y, width_mm: right - x, height_mm: bottom - y });
        }
    }
    found
}

#[test]
fn three_hundred_lines_run_over_pages_and_keep_their_headings() {
    let shelves: Vec<CountShelf> = (1..=34)
        .map(|shelf| CountShelf {
            name: format!("Shelf {shelf}"),
            lines: (0..(shelf % 19) + 1)
                .map(|number| {
                    line(
                        &format!("R-{shelf}-{number}"),
                        &format!("Jar {number} of shelf {shelf}"),
                        "g",
                        number % 5 == 0,
                    )
                })
                .collect(),
        })
        .collect();
    let lines: usize = shelves.iter().map(|shelf| shelf.lines.len()).sum();
    assert!(lines >= 300, "{lines}");
    for paper in [PaperSize::A4, PaperSize::LETTER] {
        let document = count_sheet::layout(&sheet(shelves.clone(), paper), &mut Shaper::new()).unwrap();
        assert_eq!(document.warnings, []);
        let pages = read(&bytes(&document, "long count sheet"));
        assert!(pages.len() > 8, "{}", pages.len());
        within(&document, &pages, count_sheet::margins(paper));
        let text = all_text(&pages);
        let printed: Vec<&str> = text.lines().filter(|line| line.starts_with("R-")).collect();
        let wanted: Vec<String> =
            shelves.iter().flat_map(|shelf| &shelf.lines).map(|line| line.reference.clone()).collect();
        assert_eq!(printed, wanted);
        let count = pages.len();
        for (number, page) in pages.iter().enumerate() {
            let texts: Vec<&str> = page.texts.iter().map(|(text, _)| text.as_str()).collect();
            assert!(texts.contains(&format!("Page {} of {count}", number + 1).as_str()));
            if number > 0 {
                assert!(texts.contains(&"Count sheet · Tidewrack Enamels · 14 March 2026"));
            }
            // Whatever is counted stands below the heading of its own shelf, on its own page.
            let mut shelf = String::new();
            for text in &texts {
                if let Some(name) = text.strip_prefix("Shelf ") {
                    shelf = name.trim_end_matches(", continued").to_owned();
                }
                if let Some(rest) = text.strip_prefix("R-") {
                    assert_eq!(rest.split('-').next(), Some(shelf.as_str()), "page {number}: {text}");
                }
            }
            // No heading at the foot without a line.
            let last_heading = texts.iter().rposition(|text| text.starts_with("Shelf ")).unwrap();
            assert!(texts[last_heading..].iter().any(|text| text.starts_with("R-")), "page {number}");
        }
    }
}

#[test]
fn long_names_are_wrapped_or_shortened_and_missing_glyphs_are_told() {
    let lines = vec![
        line("EN-1", &"A name that goes on and on ".repeat(20), "g", true),
        line("A-REFERENCE-MUCH-LONGER-THAN-ITS-COLUMN-IS-WIDE", "Drop", "a very long unit", false),
        line("EN-3", "Sky 空 blue", "g", false),
    ];
    let count = sheet(vec![CountShelf { name: "Shelf ".repeat(60), lines }], PaperSize::LETTER);
    let document = count_sheet::layout(&count, &mut Shaper::new()).unwrap();
    let pages = read(&bytes(&document, "hard count sheet"));
    within(&document, &pages, count_sheet::margins(count.paper));
    let told = |code: &str, kind: &WarningKind| {
        document.warnings.iter().any(|warning| warning.code == code && warning.kind == *kind)
    };
    assert!(told("EN-1", &WarningKind::Cut(Part::Name)), "{:?}", document.warnings);
    assert!(told("EN-3", &WarningKind::MissingGlyphs("空".to_owned())), "{:?}", document.warnings);
    assert!(all_text(&pages).contains("Sky blue"));
}

#[test]
fn an_empty_sheet_and_an_endless_one_are_refused() {
    let empty = sheet(vec![CountShelf { name: "Shelf".to_owned(), lines: Vec::new() }], PaperSize::A4);
    assert_eq!(count_sheet::layout(&empty, &mut Shaper::new()), Err(PaperProblem::NothingListed));
    let many = vec![line("R", "Jar", "g", false); count_sheet::MOST_LINES + 1];
    let endless = sheet(vec![CountShelf { name: "Shelf".to_owned(), lines: many }], PaperSize::A4);
    assert!(matches!(count_sheet::layout(&endless, &mut Shaper::new()), Err(PaperProblem::TooManyLines { .. })));
}

// ---------------------------------------------------------------------------------------------- shopping lists

fn buy(reference: &str, name: &str, packs: &str, pack: &str, price: &str, sum: &str, reason: &str) -> ShoppingLine {
    let amount = |text: &str| (!text.is_empty()).then(|| text.to_owned());
    ShoppingLine {
        reference: reference.to_owned(),
        name: name.to_owned(),
        lead_bearing: reference == "EN-007",
        packs: packs.to_owned(),
        pack: pack.to_owned(),
        price: amount(price),
        sum: amount(sum),
        reason: reason.to_owned(),
    }
}

fn list(paper: PaperSize) -> ShoppingList {
    ShoppingList {
        studio: "Tidewrack Enamels".to_owned(),
        date: "14 March 2026".to_owned(),
        suppliers: vec![
            ShoppingSupplier {
                name: "Skerry Glass".to_owned(),
                lines: vec![
                    buy(
                        "EN-041",
                        "Fen green, transparent",
                        "2",
                        "1 lb jar",
                        "$38.50",
                        "$77.00",
                        "112 g on hand, 96 g a week, 3 weeks to come: reorder at 288 g; the order quantity of least cost is 850 g, rounded up to 2 jars.",
                    ),
                    buy(
                        "EN-007",
                        "Old ruby, transparent",
                        "1",
                        "1/4 lb jar",
                        "$21.40",
                        "$21.40",
                        "9 g on hand, below the reorder level of 50 g.",
                    ),
                ],
                sum: Some("$98.40".to_owned()),
            },
            ShoppingSupplier {
                name: "Harbour Metals".to_owned(),
                lines: vec![
                    buy(
                        "CU-SHEET-18",
                        "Copper sheet, 18 gauge",
                        "3",
                        "sheet, 6 × 12 in",
                        "$19.75",
                        "$59.25",
                        "Planned: 40 Lantern drops on 28 March.",
                    ),
                    buy("WIRE-20", "Copper wire, 20 gauge", "1", "spool of 25 m", "", "", ""),
                ],
                sum: None,
            },
        ],
        total: None,
        paper,
    }
}

#[test]
fn a_shopping_list_says_what_to_buy_where_and_why() {
    for paper in [PaperSize::A4, PaperSize::LETTER] {
        let mut shopping = list(paper);
        // Without the wire, whose price is not known.
        shopping.suppliers[1].sum = Some("$59.25".to_owned());
        shopping.total = Some("$157.65".to_owned());
        let document = shopping::layout(&shopping, &mut Shaper::new()).unwrap();
        assert_eq!(document.warnings, []);
        assert_eq!((document.pages[0].width_mm, document.pages[0].height_mm), (paper.width_mm, paper.height_mm));
        let pages = read(&bytes(&document, "shopping list"));
        let text = all_text(&pages);
        for wanted in [
            "Shopping list",
            "Tidewrack Enamels",
            "14 March 2026",
            "Skerry Glass",
            "Harbour Metals",
            "EN-041",
            "Fen green, transparent",
            "2",
            "1 lb jar",
            "$38.50",
            "$77.00",
            "sheet, 6 × 12 in",
            "spool of 25 m",
            "LEAD",
            "Together",
            "$98.40",
            "All suppliers",
            "$157.65",
            "–",
            "Page 1 of 1",
            "Planned: 40 Lantern drops on 28 March.",
        ] {
            assert!(text.lines().any(|line| line == wanted), "{wanted} in {text}");
        }
        assert!(text.replace('\n', " ").contains("rounded up to 2 jars."), "{text}");
        within(&document, &pages, shopping::margins(paper));
        let ticks = boxes(&document, 3.5).into_iter().filter(|tick| (tick.width_mm - tick.height_mm).abs() < 1e-9);
        assert_eq!(ticks.count(), 4);
    }
}

#[test]
fn amounts_are_never_shortened_and_sums_stay_with_their_lines() {
    let mut shopping = list(PaperSize::A4);
    shopping.suppliers[0].lines = (0..120)
        .map(|number| {
            buy(
                &format!("R-{number}"),
                &format!("Jar {number}"),
                "1 000 000",
                "1 lb jar",
                "123 456 789.00 XOF",
                "9 123 456 789 012.00 XOF",
                "Below its level.",
            )
        })
        .collect();
    let document = shopping::layout(&shopping, &mut Shaper::new()).unwrap();
    let pages = read(&bytes(&document, "long shopping list"));
    within(&document, &pages, shopping::margins(shopping.paper));
    let text = all_text(&pages);
    assert_eq!(text.lines().filter(|line| line.starts_with("R-")).count(), 120);
    assert_eq!(text.lines().filter(|line| *line == "9 123 456 789 012.00 XOF").count(), 120);
    assert!(pages.len() > 4);
    for page in &pages {
        let texts: Vec<&str> = page.texts.iter().map(|(text, _)| text.as_str()).collect();
        if let Some(sum) = texts.iter().position(|text| *text == "Together") {
            assert!(texts[..sum].iter().any(|text| text.starts_with("R-")));
        }
    }
    // A sum with no room at all is left out and told, never cut.
    shopping.suppliers[0].lines[0].sum = Some("9".repeat(80));
    let document = shopping::layout(&shopping, &mut Shaper::new()).unwrap();
    let kinds: Vec<_> = document.warnings.iter().map(|warning| (warning.code.as_str(), &warning.kind)).collect();
    assert_eq!(kinds, [("R-0", &WarningKind::LeftOut(Part::Amount))]);
}

#[test]
fn an_empty_list_is_refused() {
    let mut shopping = list(PaperSize::A4);
    shopping.suppliers.iter_mut().for_each(|supplier| supplier.lines.clear());
    assert_eq!(shopping::layout(&shopping, &mut Shaper::new()), Err(PaperProblem::NothingListed));
}

#[test]
fn the_same_list_gives_the_same_bytes() {
    let make = || {
        let document = shopping::layout(&list(PaperSize::A4), &mut Shaper::new()).unwrap();
        pdf::write(&document, &properties("Shopping list")).unwrap()
    };
    assert!(make() == make());
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn whatever_is_written_stays_within_the_margins(
        texts in proptest::collection::vec(any::<String>(), 6), lead in any::<bool>(), repeats in 1_usize..40,
    ) {
        let long = |text: &str| text.repeat(repeats);
        let counted = CountLine { on_hand: Some(texts[3].clone()), ..line(&texts[0], &long(&texts[1]), &texts[2], lead) };
        let count = CountSheet {
            studio: long(&texts[4]),
            date: texts[5].clone(),
            shelves: vec![CountShelf { name: long(&texts[0]), lines: vec![counted; 8] }],
            paper: PaperSize::LETTER,
        };
        let document = count_sheet::layout(&count, &mut Shaper::new()).unwrap();
        let margins = count_sheet::margins(count.paper);
        let bought = ShoppingLine { lead_bearing: lead, ..buy(&texts[0], &long(&texts[1]), &texts[2], &texts[3], &texts[4], &texts[5], &long(&texts[1])) };
        let shopping = ShoppingList {
            studio: long(&texts[4]),
            date: texts[5].clone(),
            suppliers: vec![ShoppingSupplier { name: long(&texts[0]), lines: vec![bought; 6], sum: Some(texts[2].clone()) }],
            total: Some(long(&texts[3])),
            paper: PaperSize::A4,
        };
        let list = shopping::layout(&shopping, &mut Shaper::new()).unwrap();
        for (document, margins) in [(document, margins), (list, shopping::margins(shopping.paper))] {
            for run in document.pages.iter().flat_map(|page| &page.items).filter_map(|item| if let Item::Text(run) = item { Some(run) } else { None }) {
                prop_assert!(run.x_mm >= margins.x_mm - 0.01 && run.x_mm + run.width_mm <= margins.right_mm() + 0.01, "{}", run.text());
                prop_assert!(run.y_mm >= margins.y_mm && run.y_mm <= margins.bottom_mm(), "{}", run.text());
            }
        }
    }
}
