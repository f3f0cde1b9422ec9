//! Sheets of labels of every outline, the calibration page and the printer's correction, read back from their PDFs with
//! a reader that shares no code with the writer.
//!
//! Published figures are in `tests/data/paper_reference.csv` or beside the check, each with its source.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "the helpers of a test may stop it"
)]
#![allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    clippy::cast_precision_loss,
    clippy::float_cmp,
    reason = "dots and labels are small whole numbers"
)]

mod ink_reader;

use enamelwright::exchange::design_file;
use enamelwright::measure::{Currency, Decimal, Money, Preferences};
use enamelwright::paper::calibration::{
    self, Calibration, Measured, OffsetAndScale, correction_from, correction_from_offset_and_scale, meant,
};
use enamelwright::paper::cards::{self, CardJob, CardStyle, CareModel, PaperSize};
use enamelwright::paper::page::{DOT_MM, Document, Item, Rect, Segment};
use enamelwright::paper::pdf::{self, Finish, Properties};
use enamelwright::paper::pinned::ready;
use enamelwright::paper::pinned::{Pictures, Spoken, StudioWords, facts_of_design};
use enamelwright::paper::placed::{self, Job};
use enamelwright::paper::preview::Outliner;
use enamelwright::paper::symbol::Symbology;
use enamelwright::paper::tags::{self, TagJob, TagModel};
use enamelwright::paper::{PaperProblem, Shaper, Unwatched, sheets};
use enamelwright::studio::{Correction, LabelShape, LabelSheet, LengthUnit, PaperDesign, PaperKind, SheetId};
use ink_reader::ink;
use proptest::prelude::*;
use std::ops::ControlFlow;
use std::sync::Arc;

// ---------------------------------------------------------------------------------------------- what is printed

fn number(text: &str) -> Decimal {
    text.parse().unwrap()
}

fn float(value: Decimal) -> f64 {
    value.to_string().parse().unwrap()
}

fn decimal(value: f64, places: usize) -> Decimal {
    format!("{value:.places$}").parse().unwrap()
}

fn tag(name: &str, code: &str) -> TagModel {
    TagModel {
        name: name.to_owned(),
        code: code.to_owned(),
        ticket: Some("$46.00".to_owned()),
        materials_line: "glass enamel on copper, 45 cm chain".to_owned(),
        note_line: Some("Harbour Fair".to_owned()),
        lead_bearing: false,
    }
}

/// Labels of so many tenths of a millimetre on an A4 page, a millimetre apart.
fn sheet(width: i64, height: i64, columns: u32, rows: u32, shape: LabelShape) -> LabelSheet {
    let tenths = |value: i64| Decimal::new(value, 1);
    LabelSheet {
        name: "test".to_owned(),
        page_width_mm: tenths(2100),
        page_height_mm: tenths(2970),
        left_mm: tenths(100),
        top_mm: tenths(120),
        label_width_mm: tenths(width),
        label_height_mm: tenths(height),
        pitch_x_mm: tenths(width + 10),
        pitch_y_mm: tenths(height + 10),
        columns,
        rows,
        folded: false,
        hole: false,
        cut_lines: false,
        shape,
        crop_marks: false,
    }
}

fn barbell(length: &str, height: &str) -> LabelShape {
    LabelShape::Barbell { neck_length_mm: number(length), neck_height_mm: number(height) }
}

fn job(sheet: LabelSheet, tags: Vec<(TagModel, u32)>, symbology: Symbology) -> TagJob {
    TagJob { sheet, tags, start: 1, symbology }
}

fn laid(job: &TagJob) -> Document {
    tags::layout(job, &mut Shaper::new()).unwrap()
}

fn properties() -> Properties {
    Properties {
        title: "Tags for the Harbour Fair".to_owned(),
        author: "Tidewrack Enamels".to_owned(),
        created: chrono::NaiveDate::from_ymd_opt(2026, 3, 14).unwrap().and_hms_opt(9, 26, 53).unwrap(),
        language: "en".to_owned(),
    }
}

fn written(document: &Document, finish: &Finish, name: &str) -> Vec<u8> {
    let bytes = pdf::write_for(document, &properties(), finish, &mut Unwatched).unwrap();
    // To be looked at: ENAMELWRIGHT_PICTURES=DIR cargo test --test sheet_papers.
    if let Some(folder) = std::env::var_os("ENAMELWRIGHT_PICTURES") {
        std::fs::write(std::path::Path::new(&folder).join(format!("{name}.pdf")), &bytes).unwrap();
    }
    bytes
}

fn correction(right: &str, down: &str, wide: &str, high: &str) -> Correction {
    Correction { sheet: None, right_mm: number(right), down_mm: number(down), wide: number(wide), high: number(high) }
}

fn design() -> Arc<enamelwright::studio::Design> {
    Arc::new(design_file::read(include_str!("data/lantern-drop.toml")).unwrap())
}

fn own_paper(design_of_paper: PaperDesign, sheet: LabelSheet, copies: u32) -> Job {
    let studio = Arc::new(StudioWords {
        name: "Tidewrack Enamels".to_owned(),
        place: "Skerry Bay".to_owned(),
        story: String::new(),
        care_words: String::new(),
        length: LengthUnit::Millimetre,
    });
    let ticket = Money::new(Decimal::from(46));
    let facts = enamelwright::paper::pinned::Facts { ticket, ..facts_of_design(&design(), [62, 91, 132], &studio) };
    Job { design: design_of_paper, papers: vec![(facts, copies)], sheet: Some(sheet), start: 1, dots_per_inch: None }
}

fn english() -> Spoken<'static> {
    Spoken::new(
        enamelwright::paper::Speech::plain(enamelwright::studio::Language::English),
        Preferences::metric(Currency::USD),
    )
}

/// The outline of a label from its description alone: whether a point, from the label's top left corner, may have ink.
fn may_have_ink(shape: LabelShape, [width, height]: [f64; 2], [x, y]: [f64; 2]) -> bool {
    const SLACK: f64 = 0.002;
    let inside = x >= -SLACK && x <= width + SLACK && y >= -SLACK && y <= height + SLACK;
    inside
        && match shape {
            LabelShape::Rectangle => true,
            LabelShape::Rounded(radius) => {
                let radius = float(radius);
                let nearest = |at: f64, most: f64| at.clamp(radius.min(most / 2.0), (most - radius).max(most / 2.0));
                (x - nearest(x, width)).hypot(y - nearest(y, height)) <= radius + SLACK
            }
            LabelShape::Round => ((x / width - 0.5) * 2.0).hypot((y / height - 0.5) * 2.0) <= 1.0 + SLACK / 3.0,
            LabelShape::Barbell { neck_length_mm, .. } => {
                (x - width / 2.0).abs() >= float(neck_length_mm) / 2.0 - SLACK
            }
        }
}

/// Points all along a path.
fn along(path: &[Segment]) -> Vec<[f64; 2]> {
    let mut points: Vec<[f64; 2]> = Vec::new();
    for segment in path {
        match *segment {
            Segment::Move(end) | Segment::Line(end) => points.push(end),
            Segment::Cubic(first, second, end) => {
                let start = *points.last().unwrap();
                points.extend((1..=4).map(|step| {
                    let t = f64::from(step) / 4.0;
                    let part = |at: usize| {
                        (1.0 - t).powi(3) * start[at]
                            + 3.0 * (1.0 - t).powi(2) * t * first[at]
                            + 3.0 * (1.0 - t) * t * t * second[at]
                            + t.powi(3) * end[at]
                    };
                    [part(0), part(1)]
                }));
            }
            Segment::Close => {}
        }
    }
    points
}

/// Every mark of every place inside the outline of its label.
#[track_caller]
fn check_inside(document: &Document, sheet: &LabelSheet) {
    let grid = sheets::grid(sheet).unwrap();
    let mut outliner = Outliner::new();
    for page in &document.pages {
        for place in &page.places {
            let label = grid.rect(place.number - 1);
            for item in &page.items[place.items.clone()] {
                for [x, y] in along(&outliner.mark(item).path) {
                    let at = [x - label.x_mm, y - label.y_mm];
                    let size = [label.width_mm, label.height_mm];
                    assert!(
                        may_have_ink(sheet.shape, size, at),
                        "{item:?} at {at:?} leaves {:?} {size:?}",
                        sheet.shape
                    );
                }
            }
        }
    }
}

// ---------------------------------------------------------------------------------------------- pages

#[test]
fn pages_and_cards_have_the_sizes_of_the_standards() {
    // ISO 216: A4 210 × 297, A6 105 × 148. ISO/IEC 7810, ID-1: 85.60 × 53.98, corners of 2.88 to 3.48. Letter 8.5 × 11
    // in and 4 × 6 in at 25.4 mm exactly. All but Letter and A4 (tests/data/paper_reference.csv) from memory.
    let sizes = [("A4", ["210", "297"]), ("Letter", ["215.9", "279.4"]), ("A6", ["105", "148"])];
    let sizes = [sizes.as_slice(), &[("4 × 6 in", ["101.6", "152.4"])]].concat();
    for sheet in sheets::usual_sheets() {
        let (_, size) = sizes.iter().find(|(name, _)| sheet.name.ends_with(name)).unwrap();
        assert_eq!([sheet.page_width_mm, sheet.page_height_mm], size.map(number), "{}", sheet.name);
        if sheet.name.starts_with("Cards of bank card size") {
            assert_eq!([sheet.label_width_mm, sheet.label_height_mm], ["85.60", "53.98"].map(number));
            let LabelShape::Rounded(corner) = sheet.shape else { panic!("{:?}", sheet.shape) };
            assert!((number("2.88")..=number("3.48")).contains(&corner));
        }
        let grid = sheets::grid(&sheet).unwrap();
        let document = laid(&job(sheet.clone(), vec![(tag("Lantern drop", "LN-DROP"), grid.labels())], Symbology::Qr));
        assert_eq!(document.pages.len(), 1);
        check_no_overlap(&document);
        let pages = ink(&written(&document, &Finish::default(), &sheet.name));
        let points = size.map(|side| float(number(side)) / 25.4 * 72.0);
        for found in pages[0].boxes {
            assert_eq!(found[..2], [0.0, 0.0]);
            assert!((found[2] - points[0]).abs() < 0.001 && (found[3] - points[1]).abs() < 0.001, "{found:?}");
        }
    }
    for (size, [width, height]) in [(PaperSize::A6, [105.0, 148.0]), (PaperSize::FOUR_BY_SIX, [4.0 * 25.4, 6.0 * 25.4])]
    {
        assert!((size.width_mm - width).abs() < 1e-9 && (size.height_mm - height).abs() < 1e-9, "{size:?}");
    }
}

fn check_no_overlap(document: &Document) {
    for page in &document.pages {
        for (at, place) in page.places.iter().enumerate() {
            assert!(place.rect.x_mm >= 0.0 && place.rect.right_mm() <= page.width_mm + 0.001);
            assert!(place.rect.y_mm >= 0.0 && place.rect.bottom_mm() <= page.height_mm + 0.001);
            for other in &page.places[at + 1..] {
                let apart = other.rect.x_mm >= place.rect.right_mm() - 0.001
                    || other.rect.y_mm >= place.rect.bottom_mm() - 0.001
                    || place.rect.x_mm >= other.rect.right_mm() - 0.001;
                assert!(apart, "{place:?} {other:?}");
            }
        }
    }
}

// ---------------------------------------------------------------------------------------------- outlines

#[test]
fn outlines_in_the_pdf_are_those_of_the_sheet() {
    let shapes = [
        (LabelShape::Rectangle, 4),
        (LabelShape::Rounded(number("3")), 8),
        (LabelShape::Round, 4),
        (barbell("20", "4"), 12),
    ];
    for (shape, corners) in shapes {
        let mut sheet = sheet(800, 200, 2, 3, shape);
        sheet.cut_lines = true;
        let name = format!("outline {corners} {shape:?}").replace(['{', '}', ':'], "");
        let document = laid(&job(sheet, vec![(tag("Lantern drop", "LN-DROP"), 6)], Symbology::Qr));
        let page = &ink(&written(&document, &Finish::default(), &name))[0];
        for slot in 0..6 {
            let (left, top) = (10.0 + f64::from(slot % 2) * 81.0, 12.0 + f64::from(slot / 2) * 21.0);
            // The line is a tenth of a millimetre wide and drawn just inside.
            let outline = page.lines.iter().find(|line| {
                let most = |at: usize| line.iter().map(|point| point[at]).fold(f64::MIN, f64::max);
                let least = |at: usize| line.iter().map(|point| point[at]).fold(f64::MAX, f64::min);
                (least(0) - left).abs() < 0.1
                    && (most(0) - left - 80.0).abs() < 0.1
                    && (least(1) - top).abs() < 0.1
                    && (most(1) - top - 20.0).abs() < 0.1
            });
            let outline = outline.unwrap_or_else(|| panic!("{name}: no outline at {left} {top}"));
            let mut points: Vec<[i64; 2]> =
                outline.iter().map(|point| point.map(|side| (side * 10.0).round() as i64)).collect();
            points.sort_unstable();
            points.dedup();
            assert_eq!(points.len(), corners, "{name}: {points:?}");
            if corners == 12 {
                // The neck: 20 mm long, 4 mm high, in the middle.
                for corner in [[30.0, 8.0], [50.0, 8.0], [30.0, 12.0], [50.0, 12.0]] {
                    let [x, y] = [corner[0] + left, corner[1] + top];
                    assert!(outline.iter().any(|at| (at[0] - x).abs() < 0.1 && (at[1] - y).abs() < 0.1), "{name}");
                }
                // Folded in the middle of the neck.
                let fold = page.lines.iter().any(|line| {
                    line.len() == 2
                        && line.iter().all(|at| (at[0] - left - 40.0).abs() < 0.1)
                        && line.iter().all(|at| at[1] > top + 7.9 && at[1] < top + 12.1)
                });
                assert!(fold, "{name}");
            }
        }
    }
}

#[test]
fn a_barbell_says_on_one_flag_what_it_is_and_bears_its_symbol_on_the_other() {
    let sheet = sheet(820, 140, 1, 1, barbell("22", "4"));
    let document = laid(&job(sheet, vec![(tag("Lantern drop", "LN-DROP"), 1)], Symbology::Qr));
    let page = &document.pages[0];
    // Flags of 30 mm; the front is at the right, as on the folded tags.
    let (back, front) = (10.0..=40.0, 62.0..=92.0);
    let mut said = Vec::new();
    for item in &page.items {
        match item {
            Item::Text(run) if run.text() == "LN-DROP" => assert!(back.contains(&run.x_mm)),
            Item::Text(run) => {
                assert!(front.contains(&run.x_mm) && front.contains(&(run.x_mm + run.width_mm)), "{}", run.text());
                assert_eq!(run.turn, enamelwright::studio::Turn::None);
                said.push(run.text());
            }
            Item::Symbol(symbol) => assert!(back.contains(&symbol.x_mm) && back.contains(&symbol.rect().right_mm())),
            other => panic!("{other:?}"),
        }
    }
    assert!(said.contains(&"Lantern drop".to_owned()) && said.contains(&"$46.00".to_owned()), "{said:?}");
}

fn shapes() -> impl Strategy<Value = LabelShape> {
    prop_oneof![
        1 => (1_i64..60).prop_map(|tenths| LabelShape::Rounded(Decimal::new(tenths, 1))),
        2 => Just(LabelShape::Round),
        1 => (1_i64..300, 1_i64..60).prop_map(|(length, height)| LabelShape::Barbell {
            neck_length_mm: Decimal::new(length, 1),
            neck_height_mm: Decimal::new(height, 1),
        }),
    ]
}

fn hostile() -> impl Strategy<Value = String> {
    prop_oneof![
        4 => "[A-Za-z ,.’éÅß€£-]{0,40}",
        1 => Just("Wörter und noch mehr Wörter ".repeat(180)),
        1 => Just(format!("Z{}", "\u{301}".repeat(300))),
        1 => Just("Ǻẫ\u{301}\u{302}fjgÅ ".repeat(9)),
        1 => Just("שלום مرحبا 你好 🧿\u{202e}abc\u{0}\n\u{2029}".to_owned()),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 40, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn nothing_leaves_the_outline_of_its_label(
        shape in shapes(), width in 450_i64..900, height in 120_i64..600, folded in any::<bool>(), hole in any::<bool>(),
        cut_lines in any::<bool>(), name in hostile(), ticket in hostile(), code in "[A-Z0-9-]{1,8}", kind in 0_usize..4,
    ) {
        let mut sheet = sheet(width, height, 1, 1, shape);
        sheet.hole = hole && !matches!(shape, LabelShape::Barbell { .. });
        sheet.folded = folded && shape != LabelShape::Round;
        sheet.cut_lines = cut_lines;
        let mut model = tag(&name, &code);
        model.ticket = Some(ticket);
        let laid = laid(&job(sheet.clone(), vec![(model, 1)], Symbology::ALL[kind]));
        if cut_lines {
            // Outline, fold and hole are cut along; a fold crosses the neck.
            let drawn = laid.pages[0].items.iter().filter(|item| matches!(item, Item::Shape(_))).count();
            prop_assert!(drawn >= 1);
            let mut inked = laid.clone();
            inked.pages[0].items.retain(|item| !matches!(item, Item::Shape(_)));
            inked.pages[0].places[0].items = 0..inked.pages[0].items.len();
            check_inside(&inked, &sheet);
        } else {
            check_inside(&laid, &sheet);
        }
    }

    #[test]
    fn crop_marks_never_touch_a_label(
        width in 200_i64..600, height in 100_i64..500, columns in 1_u32..4, rows in 1_u32..6,
        left in 0_i64..120, top in 0_i64..200, gap in 0_i64..40,
    ) {
        let mut sheet = sheet(width, height, columns, rows, LabelShape::Rectangle);
        let tenths = |value: i64| Decimal::new(value, 1);
        (sheet.left_mm, sheet.top_mm) = (tenths(left), tenths(top));
        (sheet.pitch_x_mm, sheet.pitch_y_mm) = (tenths(width + gap), tenths(height + gap));
        sheet.crop_marks = true;
        let Ok(grid) = sheets::grid(&sheet) else { return Ok(()) };
        let document = laid(&job(sheet, vec![(tag("A", "A"), 1)], Symbology::None));
        let page = &document.pages[0];
        let marks = &page.items[..page.places[0].items.start];
        let edges = |slot: u32, across: bool| {
            let rect = grid.rect(slot);
            if across { [rect.x_mm, rect.right_mm()] } else { [rect.y_mm, rect.bottom_mm()] }
        };
        for mark in marks {
            let Item::Shape(shape) = mark else { panic!("{mark:?}") };
            let points = along(&shape.path);
            let (from, to) = (points[0], points[1]);
            for slot in 0..grid.labels() {
                let label = grid.rect(slot);
                // More than a millimetre away from every label.
                let near = Rect {
                    x_mm: label.x_mm - 1.0, y_mm: label.y_mm - 1.0,
                    width_mm: label.width_mm + 2.0, height_mm: label.height_mm + 2.0,
                };
                let misses = from[0].max(to[0]) < near.x_mm || from[0].min(to[0]) > near.right_mm()
                    || from[1].max(to[1]) < near.y_mm || from[1].min(to[1]) > near.bottom_mm();
                prop_assert!(misses, "{from:?} {to:?} {label:?}");
            }
            let upright = from[0] == to[0];
            let line = if upright { from[0] } else { from[1] };
            prop_assert!((0..grid.labels()).any(|slot| edges(slot, upright).iter().any(|edge| (edge - line).abs() < 1e-9)));
            for [x, y] in points {
                prop_assert!((1.0 - 1e-9..=209.0 + 1e-9).contains(&x) && (1.0 - 1e-9..=296.0 + 1e-9).contains(&y));
            }
        }
        // A margin of 3 mm has room for a mark.
        if left >= 40 && top >= 40 {
            prop_assert!(marks.len() as u32 >= columns + rows);
        }
    }
}

#[test]
fn measures_that_do_not_work_are_refused_by_name() {
    let refused = |change: &dyn Fn(&mut LabelSheet), field: &str, value: &str, accepted: &str| {
        let mut sheet = sheet(400, 200, 2, 2, LabelShape::Rectangle);
        change(&mut sheet);
        let problem = sheets::grid(&sheet).unwrap_err();
        let PaperProblem::Sheet { field: told, .. } = &problem else { panic!("{problem}") };
        let words = problem.to_string();
        assert!(*told == field && words.contains(value) && words.contains(accepted), "{words}");
    };
    let shaped = |shape: LabelShape| move |sheet: &mut LabelSheet| sheet.shape = shape;
    refused(&shaped(LabelShape::Rounded(number("10.5"))), "corner radius", "10.5 mm", "at most 10 mm");
    refused(&shaped(LabelShape::Rounded(Decimal::ZERO)), "corner radius", "0 mm", "above 0");
    refused(&shaped(barbell("28.1", "4")), "neck length", "28.1 mm", "at most 28 mm");
    refused(&shaped(barbell("-1", "4")), "neck length", "-1 mm", "above 0");
    refused(&shaped(barbell("10", "20.1")), "neck height", "20.1 mm", "20 mm");
    let narrow = |sheet: &mut LabelSheet| {
        (sheet.shape, sheet.label_width_mm) = (barbell("1", "1"), number("12"));
    };
    refused(&narrow, "label width", "12 mm", "more than 12 mm");
    let holed = |sheet: &mut LabelSheet| (sheet.shape, sheet.hole) = (barbell("10", "4"), true);
    refused(&holed, "hole", "a hole", "neck");
    let folded = |sheet: &mut LabelSheet| (sheet.shape, sheet.folded) = (LabelShape::Round, true);
    refused(&folded, "fold", "fold", "round");
    for shape in [LabelShape::Rounded(number("10")), LabelShape::Round, barbell("28", "20")] {
        sheets::grid(&sheet(400, 200, 2, 2, shape)).unwrap();
    }
}

#[test]
fn papers_of_her_own_keep_inside_the_outline_or_are_refused() {
    let tag = ready::of(PaperKind::Tag).remove(0).design;
    let tenths = |length: Decimal| (length * Decimal::from(10)).to_string().parse::<f64>().unwrap().round() as i64;
    let (width, height) = (tenths(tag.width_mm), tenths(tag.height_mm));
    let lay = |sheet: &LabelSheet| {
        placed::layout(&own_paper(tag.clone(), sheet.clone(), 2), &Pictures::new(), &[&english()], &mut Shaper::new())
    };
    // Rounded labels of its size, and round ones that hold all of it.
    for sheet in [
        sheet(width, height, 1, 2, LabelShape::Rounded(number("2"))),
        sheet(width * 3 / 2, height * 3 / 2, 1, 2, LabelShape::Round),
    ] {
        check_inside(&lay(&sheet).unwrap(), &sheet);
    }
    for shape in [LabelShape::Round, barbell("20", "4")] {
        let problem = lay(&sheet(width, height, 1, 2, shape)).unwrap_err();
        assert!(matches!(&problem, PaperProblem::Sheet { field: "shape", .. }), "{problem}");
        assert!(problem.to_string().contains(&tag.name), "{problem}");
    }
}

// ---------------------------------------------------------------------------------------------- correction

/// What stands where without a correction, and what with one.
fn corrected(finish: &Finish) -> [ink_reader::Ink; 2] {
    let mut sheet = sheet(550, 300, 3, 8, LabelShape::Rounded(number("4")));
    (sheet.hole, sheet.cut_lines) = (true, true);
    let document = laid(&job(sheet, vec![(tag("Lantern drop", "LN-DROP"), 24)], Symbology::Qr));
    [Finish::default(), finish.clone()].map(|finish| ink(&written(&document, &finish, "corrected")).remove(0))
}

#[test]
fn a_correction_brings_every_point_to_its_place_in_the_pdf() {
    let put_right = correction("-1.25", "2.4", "1.0123", "0.991");
    let [plain, moved] = corrected(&Finish { correction: Some(put_right), dots_per_inch: None });
    let there = |[x, y]: [f64; 2]| [x * 1.0123 - 1.25, y * 0.991 + 2.4];
    let mut looked_at = 0;
    let mut check = |plain: [f64; 2], moved: [f64; 2]| {
        let [x, y] = there(plain);
        assert!((x - moved[0]).abs() < 0.01 && (y - moved[1]).abs() < 0.01, "{plain:?} to {moved:?}, not {x} {y}");
        looked_at += 1;
    };
    assert_eq!(plain.texts.len(), moved.texts.len());
    assert_eq!(plain.lines.len(), moved.lines.len());
    for (plain, moved) in plain.texts.iter().zip(&moved.texts) {
        check(*plain, *moved);
    }
    for (plain, moved) in plain.lines.iter().flatten().zip(moved.lines.iter().flatten()) {
        check(*plain, *moved);
    }
    // Without dots a symbol goes with the page.
    assert_eq!(plain.modules.len(), moved.modules.len());
    for (plain, moved) in plain.modules.iter().zip(&moved.modules) {
        check([plain[0], plain[1]], [moved[0], moved[1]]);
        assert!((plain[2] * 1.0123 - moved[2]).abs() < 0.001 && (plain[3] * 0.991 - moved[3]).abs() < 0.001);
    }
    assert!(looked_at > 1_000, "{looked_at}");
    // The boxes of the page stay.
    assert_eq!(plain.boxes, moved.boxes);
}

#[test]
fn modules_of_a_symbol_stay_whole_dots_and_move_by_whole_dots() {
    for dots_per_inch in [300, 600] {
        let dot = 25.4 / f64::from(dots_per_inch);
        let put_right = correction("0.7", "-1.1", "1.02", "0.98");
        let [plain, moved] = corrected(&Finish { correction: Some(put_right), dots_per_inch: Some(dots_per_inch) });
        assert_eq!(plain.modules.len(), moved.modules.len());
        for (plain, moved) in plain.modules.iter().zip(&moved.modules) {
            assert!((plain[2] - moved[2]).abs() < 0.001 && (plain[3] - moved[3]).abs() < 0.001, "{plain:?} {moved:?}");
            for (at, [scale, way]) in [[1.02, 0.7], [0.98, -1.1]].into_iter().enumerate() {
                let dots = (moved[at] - plain[at]) / dot;
                // Points have three decimals: 0.0004 mm, a hundredth of a dot.
                assert!((dots - dots.round()).abs() < 0.03, "{dots} dots");
                // Near where it belongs: half a dot, and half the symbol (21 modules of 6 dots) times 2 %.
                assert!((plain[at] * scale + way - moved[at]).abs() < dot / 2.0 + 0.108 + 0.001);
            }
        }
        // The rest goes with the page.
        for (plain, moved) in plain.texts.iter().zip(&moved.texts) {
            assert!((plain[0] * 1.02 + 0.7 - moved[0]).abs() < 0.01 && (plain[1] * 0.98 - 1.1 - moved[1]).abs() < 0.01);
        }
    }
}

#[test]
fn a_correction_of_nothing_changes_nothing() {
    let document =
        laid(&job(sheet(550, 300, 3, 8, LabelShape::Round), vec![(tag("Lantern drop", "LN-DROP"), 30)], Symbology::Qr));
    let nothing = Finish { correction: Some(correction("0", "0", "1", "1.000")), dots_per_inch: Some(300) };
    let bytes = pdf::write(&document, &properties()).unwrap();
    assert!(bytes == written(&document, &nothing, "nothing"));
    let something = Finish { correction: Some(correction("0", "0", "1", "1.0001")), dots_per_inch: None };
    let other = written(&document, &something, "something");
    assert!(bytes != other && other == written(&document, &something, "something"));
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, ..ProptestConfig::default() })]

    /// A printer prints a length `long` times as long and shifts it; what was measured to a ten-thousandth puts it right.
    #[test]
    fn a_simulated_printer_is_put_right(
        long in proptest::array::uniform2(0.975_f64..1.025), shift in proptest::array::uniform2(-6.5_f64..6.5),
        size in prop_oneof![Just(PaperSize::A4), Just(PaperSize::LETTER), Just(PaperSize::A6), Just(PaperSize::FOUR_BY_SIX)],
    ) {
        let meant = meant(size);
        let printed = |axis: usize, at: f64| at * long[axis] + shift[axis];
        let measured = Measured {
            cross_mm: [0, 1].map(|axis| decimal(printed(axis, float(meant.cross_mm[axis])), 4)),
            rulers_mm: [0, 1].map(|axis| decimal(long[axis] * float(meant.rulers_mm[axis]), 4)),
        };
        let sheet = Some(SheetId(3));
        let found = correction_from(sheet, size, &measured).unwrap();
        prop_assert_eq!(found.sheet, sheet);
        let other = OffsetAndScale {
            offset_mm: [0, 1].map(|axis| decimal(shift[axis], 4)),
            scale: [0, 1].map(|axis| decimal(long[axis], 7)),
        };
        let by_offset = correction_from_offset_and_scale(sheet, &other).unwrap();
        for correction in [found, by_offset] {
            for step in 0..=20 {
                let share = f64::from(step) / 20.0;
                let (x, y) = (size.width_mm * share, size.height_mm * share);
                let come_x = printed(0, x * float(correction.wide) + float(correction.right_mm));
                let come_y = printed(1, y * float(correction.high) + float(correction.down_mm));
                prop_assert!((come_x - x).abs() < 0.01 && (come_y - y).abs() < 0.01, "{} {} {} {}", x, come_x, y, come_y);
            }
        }
    }
}

#[test]
fn what_no_printer_does_is_refused_with_what_is_accepted() {
    let measured = |cross: [&str; 2], rulers: [&str; 2]| {
        let measured = Measured { cross_mm: cross.map(number), rulers_mm: rulers.map(number) };
        correction_from(None, PaperSize::A4, &measured)
    };
    // An exact printer needs nothing.
    assert_eq!(measured(["10", "10.0"], ["150", "200"]), Ok(correction("0", "0", "1", "1")));
    // By hand: 150/149.4 = 1.004016; 10 − 1.004016 · 10.6 = −0.64257.
    let found = measured(["10.6", "9"], ["149.4", "200"]).unwrap();
    assert_eq!([found.wide, found.right_mm, found.down_mm], ["1.004016", "-0.643", "1"].map(number));
    for (cross, rulers, field, accepted) in [
        // 200 / 1.03 = 194.17…, 200 / 0.97 = 206.18….
        (["10", "10"], ["150", "194"], "upright ruler", "194.2 to 206.1 mm"),
        (["10", "10"], ["155", "200"], "level ruler", "145.7 to 154.6 mm"),
        (["10", "10"], ["0", "200"], "level ruler", "actual size"),
        (["18.1", "10"], ["150", "200"], "left edge to the cross", "2 to 18 mm"),
        (["10", "1.9"], ["150", "200"], "top edge to the cross", "2 to 18 mm"),
        // 10 − 1.02 · 18 is more than 8 mm to the left.
        (["18", "10"], ["147", "200"], "left edge to the cross", "2 to 18 mm"),
    ] {
        let problem = measured(cross, rulers).unwrap_err();
        assert_eq!(problem.field, field);
        assert!(problem.to_string().contains(accepted), "{problem}");
    }
    let plain = |offset: &str, scale: &str| {
        let found = OffsetAndScale { offset_mm: [number(offset), number("0")], scale: [number(scale), number("1")] };
        correction_from_offset_and_scale(None, &found)
    };
    assert_eq!(plain("-0.4", "1"), Ok(correction("0.4", "0", "1", "1")));
    assert_eq!(plain("0", "1.04").unwrap_err().field, "scale across");
    assert_eq!(plain("0", "0").unwrap_err().field, "scale across");
    assert_eq!(plain("8.1", "1").unwrap_err().field, "offset across");
}

// ---------------------------------------------------------------------------------------------- calibration page

#[test]
fn crosses_and_rulers_of_the_calibration_page_are_as_long_as_they_say() {
    // Small pages down to the least that has room.
    let sizes = [
        (PaperSize::A4, ["10", "10", "150", "200"]),
        (PaperSize::LETTER, ["10", "10", "150", "200"]),
        (PaperSize::A6, ["10", "10", "80", "110"]),
        (PaperSize::FOUR_BY_SIX, ["10", "10", "80", "110"]),
        (PaperSize { width_mm: 62.0, height_mm: 50.0 }, ["10", "10", "40", "20"]),
        (PaperSize { width_mm: 20.0, height_mm: 25.0 }, ["5", "6", "10", "5"]),
    ];
    for (size, [left, top, level, upright]) in sizes {
        let lengths = meant(size);
        assert_eq!(lengths.cross_mm, [left, top].map(number));
        assert_eq!(lengths.rulers_mm, [level, upright].map(number));
        let asked = Calibration { size, dots_per_inch: Some(600) };
        let document = calibration::layout(&asked, &mut Shaper::new()).unwrap();
        let name = format!("calibration {} by {}", size.width_mm, size.height_mm);
        let page = ink(&written(&document, &Finish::default(), &name)).remove(0);
        // Every arm of a cross lies in the middle of its place.
        let [left, top, level, upright] = [left, top, level, upright].map(|length| float(number(length)));
        for x in [left, size.width_mm - left] {
            for y in [top, size.height_mm - top] {
                for across in [true, false] {
                    let found = page.lines.iter().any(|line| {
                        line.len() == 2
                            && (line[0][0] + line[1][0] - 2.0 * x).abs() < 0.01
                            && (line[0][1] + line[1][1] - 2.0 * y).abs() < 0.01
                            && ((line[0][1] - line[1][1]).abs() < 0.01) == across
                    });
                    assert!(found, "{name}: no cross at {x} {y}");
                }
            }
        }
        // A ruler is one path of a line each millimetre and the line they stand on.
        for (length, axis) in [(level, 0), (upright, 1)] {
            let found = page.lines.iter().any(|line| {
                let wanted = 2 * (length as usize + 2);
                let spread = |axis: usize| {
                    let most = line.iter().map(|point| point[axis]).fold(f64::MIN, f64::max);
                    most - line.iter().map(|point| point[axis]).fold(f64::MAX, f64::min)
                };
                line.len() == wanted
                    && (spread(axis) - length).abs() < 0.01
                    && (1..=length as usize)
                        .all(|tick| (line[2 * tick][axis] - line[2 * (tick - 1)][axis] - 1.0).abs() < 0.002)
            });
            assert!(found, "{name}: no ruler of {length}");
        }
        check_on_page(&document);
        let words = document.pages[0].items.iter().filter(|item| matches!(item, Item::Text(_))).count();
        assert!(words > 20 || size.width_mm < 80.0, "{name}: {words}");
    }
    let small = Calibration { size: PaperSize { width_mm: 22.0, height_mm: 10.0 }, dots_per_inch: None };
    let problem = calibration::layout(&small, &mut Shaper::new()).unwrap_err();
    assert!(matches!(problem, PaperProblem::Sheet { field: "page height", .. }), "{problem}");
}

/// Everything on the page, and texts clear of one another.
#[track_caller]
fn check_on_page(document: &Document) {
    let mut outliner = Outliner::new();
    for page in &document.pages {
        let whole = Rect { x_mm: 0.0, y_mm: 0.0, width_mm: page.width_mm, height_mm: page.height_mm };
        let mut texts: Vec<Rect> = Vec::new();
        for item in &page.items {
            let Some(bounds) = outliner.mark(item).bounds() else { continue };
            assert!(whole.holds(&bounds), "{item:?} leaves the page");
            if let Item::Text(run) = item {
                let meets = texts.iter().any(|other| {
                    bounds.x_mm < other.right_mm()
                        && other.x_mm < bounds.right_mm()
                        && bounds.y_mm < other.bottom_mm()
                        && other.y_mm < bounds.bottom_mm()
                });
                assert!(!meets, "{} {bounds:?} overlaps", run.text());
                texts.push(bounds);
            }
        }
    }
}

#[test]
fn stripes_are_whole_dots_and_outlines_those_of_the_sheet() {
    for dots_per_inch in [203, 300, 600] {
        let dot = 25.4 / f64::from(dots_per_inch);
        let asked = Calibration { size: PaperSize::A4, dots_per_inch: Some(dots_per_inch) };
        let document = calibration::layout(&asked, &mut Shaper::new()).unwrap();
        let page = ink(&written(&document, &Finish::default(), "stripes")).remove(0);
        let mut widths: Vec<i64> = Vec::new();
        for corner in page.fills.iter().flatten() {
            for side in corner {
                // Points have three decimals: 0.0004 mm.
                let dots = side / dot;
                assert!((dots - dots.round()).abs() * dot < 0.001, "{dots} dots at {dots_per_inch}");
            }
        }
        for fill in &page.fills {
            widths.push(((fill[1][0] - fill[0][0]) / dot).round() as i64);
        }
        assert_eq!(widths, [1, 2, 3, 4]);
    }
    for sheet in sheets::usual_sheets() {
        let document = calibration::layout_for_sheet(&sheet, Some(300), &mut Shaper::new()).unwrap();
        check_on_page(&document);
        let grid = sheets::grid(&sheet).unwrap();
        let page = ink(&written(&document, &Finish::default(), &format!("calibration {}", sheet.name))).remove(0);
        for slot in 0..grid.labels() {
            let label = grid.rect(slot);
            let found = page.lines.iter().any(|line| {
                let most = |at: usize| line.iter().map(|point| point[at]).fold(f64::MIN, f64::max);
                let least = |at: usize| line.iter().map(|point| point[at]).fold(f64::MAX, f64::min);
                // The middle of a line of 0.2 mm that is drawn just inside.
                (least(0) - label.x_mm - 0.1).abs() < 0.01
                    && (least(1) - label.y_mm - 0.1).abs() < 0.01
                    && (most(0) - label.right_mm() + 0.1).abs() < 0.01
                    && (most(1) - label.bottom_mm() + 0.1).abs() < 0.01
            });
            assert!(found, "{}: label {}", sheet.name, slot + 1);
        }
    }
}

// ---------------------------------------------------------------------------------------------- long runs

#[test]
fn the_same_job_and_finish_give_the_same_bytes() {
    let make = |finish: &Finish| {
        let tags = (0..90).map(|n| (tag(&format!("Piece {n}"), &format!("P-{n}")), 1)).collect();
        let document = laid(&job(sheet(400, 250, 4, 9, LabelShape::Round), tags, Symbology::Qr));
        assert_eq!(document.pages.len(), 3);
        pdf::write_for(&document, &properties(), finish, &mut Unwatched).unwrap()
    };
    for finish in [
        Finish::default(),
        Finish { correction: Some(correction("0.1", "0.2", "1.001", "1")), dots_per_inch: Some(203) },
    ] {
        assert!(make(&finish) == make(&finish));
    }
}

/// Runs with a watch that breaks off at a count; what it was told.
fn told<T>(
    stop_at: Option<u64>,
    run: impl FnOnce(&mut dyn enamelwright::paper::Watch) -> Result<T, PaperProblem>,
) -> (Result<T, PaperProblem>, Vec<(u64, u64)>) {
    let mut told = Vec::new();
    let mut watch = |done: u64, of: u64| {
        told.push((done, of));
        if Some(done) == stop_at { ControlFlow::Break(()) } else { ControlFlow::Continue(()) }
    };
    let answer = run(&mut watch);
    (answer, told)
}

#[test]
fn long_runs_tell_how_far_they_have_come_and_leave_nothing_when_stopped() {
    let tags = job(sheet(400, 250, 4, 9, LabelShape::Round), vec![(tag("Lantern", "LN"), 100)], Symbology::Qr);
    let mut shaper = Shaper::new();
    let (whole, counts) = told(None, |watch| tags::layout_watched(&tags, &mut shaper, watch));
    assert_eq!(counts, (1..=100).map(|done| (done, 100)).collect::<Vec<_>>());
    let document = whole.unwrap();
    assert_eq!(document, tags::layout(&tags, &mut shaper).unwrap());
    let (stopped, counts) = told(Some(40), |watch| tags::layout_watched(&tags, &mut shaper, watch));
    assert_eq!((stopped, counts.len()), (Err(PaperProblem::Stopped), 40));

    let write = |watch: &mut dyn enamelwright::paper::Watch| {
        pdf::write_for(&document, &properties(), &Finish::default(), watch)
    };
    let (bytes, counts) = told(None, write);
    assert_eq!(counts, [(1, 3), (2, 3), (3, 3)]);
    assert!(bytes.unwrap() == pdf::write(&document, &properties()).unwrap());
    for at in 1..=3 {
        let (stopped, counts) = told(Some(at), write);
        assert_eq!((stopped, counts.len() as u64), (Err(PaperProblem::Stopped), at));
    }

    let own = own_paper(ready::of(PaperKind::Tag).remove(0).design, sheet(550, 320, 3, 8, LabelShape::Rectangle), 30);
    let (stopped, counts) =
        told(Some(25), |watch| placed::layout_watched(&own, &Pictures::new(), &[&english()], &mut shaper, watch));
    assert_eq!((stopped, counts.last()), (Err(PaperProblem::Stopped), Some(&(25, 30))));

    let model = CareModel {
        name: "Lantern drop".to_owned(),
        code: "LN-DROP".to_owned(),
        materials_line: String::new(),
        texts: Vec::new(),
        studio_name: "Tidewrack Enamels".to_owned(),
        studio_place: "Skerry Bay".to_owned(),
        words: String::new(),
        band: [1, 2, 3],
    };
    let cards = CardJob { cards: vec![(model, 12)], style: CardStyle::Flat, paper: PaperSize::A4 };
    let (stopped, counts) = told(Some(11), |watch| cards::layout_watched(&cards, &mut shaper, watch));
    assert_eq!((stopped, counts.last()), (Err(PaperProblem::Stopped), Some(&(11, 12))));
}

#[test]
fn symbols_begin_on_whole_dots_of_the_printer() {
    let paper = ready::of(PaperKind::Tag).remove(0).design;
    let sheet = sheet(600, 350, 3, 7, LabelShape::Rectangle);
    for (dots_per_inch, dot) in [(None, DOT_MM), (Some(203), 25.4 / 203.0), (Some(600), 25.4 / 600.0)] {
        let job = Job { dots_per_inch, ..own_paper(paper.clone(), sheet.clone(), 21) };
        let document = placed::layout(&job, &Pictures::new(), &[&english()], &mut Shaper::new()).unwrap();
        let mut symbols = 0;
        for item in &document.pages[0].items {
            let Item::Symbol(symbol) = item else { continue };
            for side in [symbol.x_mm, symbol.y_mm] {
                let dots = side / dot;
                assert!((dots - dots.round()).abs() < 1e-6, "{dots}");
            }
            symbols += 1;
        }
        assert_eq!(symbols, 21);
    }
}
