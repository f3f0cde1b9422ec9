//! Papers of her own: every pinned thing read back from its PDF, symbols decoded, hostile texts fitted.
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

use enamelwright::exchange::{design_file, paper_file};
use enamelwright::measure::{Currency, Decimal, Money, Preferences, Quantity, Unit};
use enamelwright::paper::page::{Document, Item, MM_PER_POINT, Paint, Rect, Segment};
use enamelwright::paper::pdf::{self, Properties};
use enamelwright::paper::picture::Image;
use enamelwright::paper::pinned::ready::{self, Mood};
use enamelwright::paper::pinned::{
    Facts, ItemFacts, Panel, Pictures, Speaks, Spoken, StudioWords, facts_of_design, facts_of_item, facts_of_piece,
    lay_out,
};
use enamelwright::paper::placed::{self, Job};
use enamelwright::paper::preview::Outliner;
use enamelwright::paper::symbol::{Symbology, symbol};
use enamelwright::paper::trade_number::{check_digit, is_ean13};
use enamelwright::paper::{PaperProblem, Shaper, Speech, SymbolProblem, SymbolWarning, WarningKind, choose, sheets};
use enamelwright::studio::{
    Across, BatchId, Design, Down, EnamelKind, Fold, Fusing, Hole, Ink, Item as StockItem, ItemDetails, ItemId, Jar,
    Language, LengthUnit, Metal, Outline, PaperDesign, PaperKind, PictureId, Piece, PieceId, Pinned, SymbolKind,
    SymbolOf, TextSet, Thickness, Turn, Weight, What,
};
use pdf_reader::{ReadPage, read};
use proptest::prelude::*;
use std::sync::Arc;

// ---------------------------------------------------------------------------------------------- what is printed

fn tenths(value: i64) -> Decimal {
    Decimal::new(value, 1)
}

fn english() -> Spoken<'static> {
    spoken(Language::English)
}

fn spoken(language: Language) -> Spoken<'static> {
    Spoken::new(Speech::plain(language), Preferences::metric(Currency::from_code("EUR").unwrap()))
}

fn studio() -> Arc<StudioWords> {
    Arc::new(StudioWords {
        name: "Tidewrack Enamels".to_owned(),
        place: "Skerry Bay".to_owned(),
        story: "I fire small kilns by the sea. Every colour on this piece was sifted, fired and looked at before the \
                next one followed."
            .to_owned(),
        care_words: "If it ever chips, bring it back and we will look at it together.".to_owned(),
        length: LengthUnit::Millimetre,
    })
}

fn lantern() -> Arc<Design> {
    Arc::new(design_file::read(include_str!("data/lantern-drop.toml")).unwrap())
}

/// A photo of nothing: a drop of colour on a pale ground.
fn photo(width: u32, height: u32) -> image::RgbaImage {
    image::RgbaImage::from_fn(width, height, |x, y| {
        let (dx, dy) = (f64::from(x) / f64::from(width) - 0.5, f64::from(y) / f64::from(height) - 0.5);
        let away = dx.hypot(dy);
        if away < 0.3 {
            image::Rgba([40, (90.0 + away * 300.0) as u8, 140, 255])
        } else {
            image::Rgba([236, 232, (224.0 - dy * 20.0) as u8, 255])
        }
    })
}

fn piece_facts() -> Facts {
    let piece = Piece {
        id: PieceId(1),
        batch: BatchId(1),
        place: 1,
        number: Some("LN-DROP-0017".to_owned()),
        finished: chrono::NaiveDate::from_ymd_opt(2026, 3, 14),
        second: false,
        note: String::new(),
    };
    Facts {
        ticket: Some(Money::new(Decimal::new(4600, 2)).unwrap()),
        trade_number: Some("2000000001234".to_owned()),
        photo: Some(Arc::new(Image::pixels(photo(900, 720)))),
        ..facts_of_piece(&piece, &lantern(), [62, 91, 132], &studio())
    }
}

fn stock(name: &str, details: ItemDetails) -> StockItem {
    StockItem {
        reference: "EN-014".to_owned(),
        name: name.to_owned(),
        unit: Unit::Gram,
        details,
        maker: String::new(),
        maker_number: String::new(),
        supplier: String::new(),
        shelf: "drawer 7".to_owned(),
        note: String::new(),
        reorder_level: None,
        lead_bearing: true,
        retired: false,
        buying: enamelwright::studio::Buying::default(),
    }
}

fn jar_facts() -> Facts {
    let details = ItemDetails::Enamel {
        enamel: EnamelKind::Transparent,
        swatch: [24, 92, 110],
        mesh: "80/325".to_owned(),
        fusing: Some(Fusing::Medium),
        firing_c: Some([Decimal::from(780), Decimal::from(830)]),
    };
    let jar = Jar {
        item: ItemId(1),
        label: "A3-07".to_owned(),
        tare: Quantity::new(Decimal::new(1425, 1)).unwrap(),
        retired: false,
    };
    facts_of_item(&stock("Harbour green", details), Some(&jar), Some("26-031".to_owned()), &studio())
}

fn drawer_facts() -> Facts {
    let details = ItemDetails::Blank {
        metal: Metal::Copper,
        thickness: Thickness::Gauge(20),
        outline: Outline::Drop { height_mm: Decimal::from(38), width_mm: Decimal::from(24) },
        dome_height_mm: Decimal::ZERO,
        holes_mm: Vec::new(),
        solder_flow_c: None,
    };
    facts_of_item(&stock("Copper drops", details), None, None, &studio())
}

fn facts_for(kind: PaperKind) -> Facts {
    match kind {
        PaperKind::Jar => jar_facts(),
        PaperKind::Drawer => drawer_facts(),
        _ => piece_facts(),
    }
}

fn properties() -> Properties {
    Properties {
        title: "Papers for the Harbour Fair".to_owned(),
        author: "Tidewrack Enamels".to_owned(),
        created: chrono::NaiveDate::from_ymd_opt(2026, 3, 14).unwrap().and_hms_opt(9, 26, 53).unwrap(),
        language: "en".to_owned(),
    }
}

fn job(design: PaperDesign, facts: Facts) -> Job {
    Job { design, papers: vec![(facts, 1)], sheet: None, start: 1, dots_per_inch: None }
}

fn laid(job: &Job) -> Document {
    let english = english();
    placed::layout(job, &pictures(), &[&english], &mut Shaper::new()).unwrap()
}

fn pictures() -> Pictures {
    Pictures::from([(PictureId(1), Arc::new(Image::pixels(photo(200, 100))))])
}

fn panel(design: &PaperDesign, facts: &Facts) -> Panel {
    let english = english();
    lay_out(&mut Shaper::new(), design, facts, &pictures(), &[&english], None)
}

fn empty(width: i64, height: i64) -> PaperDesign {
    PaperDesign {
        name: "test".to_owned(),
        kind: PaperKind::Tag,
        width_mm: tenths(width),
        height_mm: tenths(height),
        fold: None,
        holes: Vec::new(),
        corner_mm: Decimal::ZERO,
        languages: vec![Language::English],
        pinned: Vec::new(),
    }
}

fn pin(what: What, [x, y, width, height]: [i64; 4], sizes: [i64; 2], lines: u32) -> Pinned {
    Pinned {
        what,
        x_mm: tenths(x),
        y_mm: tenths(y),
        width_mm: tenths(width),
        height_mm: tenths(height),
        turn: Turn::None,
        set: TextSet {
            weight: Weight::Regular,
            most_pt: tenths(sizes[1]),
            least_pt: tenths(sizes[0]),
            lines,
            across: Across::Left,
            down: Down::Top,
            ink: Ink::Black,
        },
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

// ---------------------------------------------------------------------------------------------- checks

fn apart(rect: &Rect, hole: &Hole) -> f64 {
    let number = |value: Decimal| value.to_string().parse::<f64>().unwrap();
    let (x, y) = (number(hole.x_mm), number(hole.y_mm));
    let away = |at: f64, from: f64, to: f64| (from - at).max(at - to).max(0.0);
    away(x, rect.x_mm, rect.right_mm()).hypot(away(y, rect.y_mm, rect.bottom_mm())) - number(hole.diameter_mm) / 2.0
}

/// The number of times a filled path goes around a point, curves taken as straight.
fn winding(path: &[Segment], [x, y]: [f64; 2]) -> i32 {
    let mut count = 0;
    let (mut at, mut start) = ([0.0, 0.0], [0.0, 0.0]);
    for segment in path {
        let to = match *segment {
            Segment::Move(point) => {
                at = point;
                start = point;
                continue;
            }
            Segment::Line(point) | Segment::Cubic(_, _, point) => point,
            Segment::Close => start,
        };
        if (at[1] <= y) != (to[1] <= y) {
            let cross = at[0] + (y - at[1]) / (to[1] - at[1]) * (to[0] - at[0]);
            if cross > x {
                count += if to[1] > at[1] { 1 } else { -1 };
            }
        }
        at = to;
    }
    count
}

/// Every pinned thing inside its place and the paper's outline, and a millimetre from every hole.
fn check_inside(design: &PaperDesign, panel: &Panel) {
    let number = |value: Decimal| value.to_string().parse::<f64>().unwrap();
    let (width, height) = (number(design.width_mm), number(design.height_mm));
    let corner = number(design.corner_mm);
    let on_paper = |[x, y]: [f64; 2]| {
        let beyond = |at: f64, most: f64| (corner - at).max(at - (most - corner)).max(0.0);
        let inside = x > -0.01 && y > -0.01 && x < width + 0.01 && y < height + 0.01;
        inside && beyond(x, width).hypot(beyond(y, height)) < corner + 0.01
    };
    let mut outliner = Outliner::new();
    assert_eq!(panel.things.len(), design.pinned.len());
    for (pinned, range) in design.pinned.iter().zip(&panel.things) {
        let place = Rect {
            x_mm: number(pinned.x_mm) - 0.01,
            y_mm: number(pinned.y_mm) - 0.01,
            width_mm: number(pinned.width_mm) + 0.02,
            height_mm: number(pinned.height_mm) + 0.02,
        };
        for item in &panel.items[range.clone()] {
            let mark = outliner.mark(item);
            // The true box of ink: control points of letters lie outside of it at times, so flatten the curves.
            let Some(bounds) = ink(&mark.path) else { continue };
            assert!(place.holds(&bounds), "{:?}: {bounds:?} leaves {place:?}", pinned.what);
            let fills = matches!(pinned.what, What::Band | What::Rule | What::Swatch);
            if fills {
                for hole in &design.holes {
                    let (x, y, r) = (number(hole.x_mm), number(hole.y_mm), number(hole.diameter_mm) / 2.0 + 0.9);
                    for step in 0..24 {
                        let angle = f64::from(step) * std::f64::consts::TAU / 24.0;
                        let near = [x + 0.7 * r * angle.cos(), y + 0.7 * r * angle.sin()];
                        if matches!(mark.paint, Paint::Fill(_)) {
                            assert_eq!(winding(&mark.path, near), 0, "{:?} covers a hole", pinned.what);
                        }
                    }
                }
            } else {
                let (right, bottom) = (bounds.right_mm(), bounds.bottom_mm());
                for point in [[bounds.x_mm, bounds.y_mm], [right, bounds.y_mm], [bounds.x_mm, bottom], [right, bottom]]
                {
                    assert!(on_paper(point), "{:?}: {point:?} is not on the paper", pinned.what);
                }
                for hole in &design.holes {
                    let apart = apart(&bounds, hole);
                    assert!(apart > 0.99, "{:?} is {apart} mm from a hole", pinned.what);
                }
            }
            for segment in &mark.path {
                if let Segment::Move(point) | Segment::Line(point) | Segment::Cubic(_, _, point) = segment {
                    assert!(on_paper(*point), "{:?}: {point:?} is not on the paper", pinned.what);
                }
            }
            if let Item::Symbol(symbol) = item {
                let quiet = symbol.art.quiet_zone();
                let upright = matches!(symbol.art.turn, Turn::None | Turn::Half);
                let module = if upright { symbol.module_mm } else { symbol.row_mm };
                let rect = symbol.rect();
                let zone = Rect {
                    x_mm: rect.x_mm - f64::from(quiet.left) * module,
                    y_mm: rect.y_mm - f64::from(quiet.above) * module,
                    width_mm: rect.width_mm + f64::from(quiet.left + quiet.right) * module,
                    height_mm: rect.height_mm + f64::from(quiet.above + quiet.below) * module,
                };
                assert!(place.holds(&zone), "the quiet zone {zone:?} leaves {place:?}");
            }
        }
    }
}

/// The box around a path, curves looked at in sixteen places each.
fn ink(path: &[Segment]) -> Option<Rect> {
    let mut points: Vec<[f64; 2]> = Vec::new();
    let mut at = [0.0, 0.0];
    for segment in path {
        match *segment {
            Segment::Move(point) | Segment::Line(point) => {
                points.push(point);
                at = point;
            }
            Segment::Cubic(one, two, end) => {
                for step in 1..=16 {
                    let t = f64::from(step) / 16.0;
                    let s = 1.0 - t;
                    let mix = |axis: usize| {
                        s * s * s * at[axis]
                            + 3.0 * s * s * t * one[axis]
                            + 3.0 * s * t * t * two[axis]
                            + t * t * t * end[axis]
                    };
                    points.push([mix(0), mix(1)]);
                }
                at = end;
            }
            Segment::Close => {}
        }
    }
    let fold = |axis: usize, pick: fn(f64, f64) -> f64, start: f64| points.iter().map(|p| p[axis]).fold(start, pick);
    let (left, right) = (fold(0, f64::min, f64::MAX), fold(0, f64::max, f64::MIN));
    let (top, bottom) = (fold(1, f64::min, f64::MAX), fold(1, f64::max, f64::MIN));
    (!points.is_empty()).then_some(Rect { x_mm: left, y_mm: top, width_mm: right - left, height_mm: bottom - top })
}

/// Reads the PDF of a document back and compares every item with the layout.
fn check_read_back(document: &Document) -> Vec<ReadPage> {
    let pages = read(&pdf::write(document, &properties()).unwrap());
    assert_eq!(pages.len(), document.pages.len());
    for (page, laid) in pages.iter().zip(&document.pages) {
        let from_points = |[x, y]: [f64; 2]| [x * MM_PER_POINT, laid.height_mm - y * MM_PER_POINT];
        for (side, mm) in page.size_pt.iter().zip([laid.width_mm, laid.height_mm]) {
            assert!((side * MM_PER_POINT - mm).abs() < 0.001);
        }
        let runs: Vec<_> =
            laid.items.iter().filter_map(|item| if let Item::Text(run) = item { Some(run) } else { None }).collect();
        assert_eq!(page.texts.len(), runs.len());
        for (((text, at), way), run) in page.texts.iter().zip(&page.ways).zip(runs) {
            assert_eq!(*text, run.text());
            let [first_x, first_y] = run.at(run.glyphs[0].x_mm, run.glyphs[0].rise_mm);
            let [x, y] = from_points(*at);
            assert!((x - first_x).abs() < 0.1 && (y - first_y).abs() < 0.1, "{text}: {x} {y}, {first_x} {first_y}");
            let right = match run.turn {
                Turn::None => [1.0, 0.0],
                Turn::Quarter => [0.0, -1.0],
                Turn::Half => [-1.0, 0.0],
                Turn::ThreeQuarters => [0.0, 1.0],
            };
            assert_eq!(*way, right, "{text}");
        }
        let placed: Vec<_> = laid
            .items
            .iter()
            .filter_map(|item| if let Item::Picture(picture) = item { Some(picture) } else { None })
            .collect();
        assert_eq!(page.pictures.len(), placed.len());
        for (picture, placed) in page.pictures.iter().zip(placed) {
            let matrix = picture.matrix;
            let foot = [matrix[4], matrix[5]];
            let top = [matrix[2] + foot[0], matrix[3] + foot[1]];
            let read = [top, [matrix[0] + top[0], matrix[1] + top[1]], foot].map(from_points);
            for (one, other) in read.iter().zip(placed.corners()) {
                assert!((one[0] - other[0]).abs() < 0.1 && (one[1] - other[1]).abs() < 0.1, "{one:?} {other:?}");
            }
        }
        let mut rectangles = page.rectangles.iter();
        for item in &laid.items {
            let Item::Symbol(symbol) = item else { continue };
            for dark in &symbol.art.dark {
                let [x, y, width, height] = *rectangles.next().unwrap();
                let [left, bottom] = from_points([x, y]);
                let wanted = [
                    symbol.x_mm + f64::from(dark.column) * symbol.module_mm,
                    symbol.y_mm + f64::from(dark.row + dark.rows) * symbol.row_mm,
                    f64::from(dark.columns) * symbol.module_mm,
                    f64::from(dark.rows) * symbol.row_mm,
                ];
                let found = [left, bottom, width * MM_PER_POINT, height * MM_PER_POINT];
                for (one, other) in found.iter().zip(wanted) {
                    assert!((one - other).abs() < 0.02, "{found:?} {wanted:?}");
                }
            }
        }
        assert!(rectangles.next().is_none());
    }
    pages
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

fn qr_text(page: &ReadPage, dpi: f64) -> String {
    let (width, height, dark) = bitmap(&page.rectangles, dpi, 20);
    let mut image =
        rqrr::PreparedImage::prepare_from_greyscale(width, height, |x, y| if dark[y * width + x] { 0 } else { 255 });
    let grids = image.detect_grids();
    assert_eq!(grids.len(), 1, "one symbol at {dpi} dpi");
    grids[0].decode().unwrap().1
}

// ---------------------------------------------------------------------------------------------- ready-made papers

#[test]
fn every_ready_made_paper_says_all_it_has_in_its_place() {
    for ready in ready::all() {
        let facts = facts_for(ready.design.kind);
        let panel = panel(&ready.design, &facts);
        let silent = panel.warnings.iter().all(|kind| matches!(kind, WarningKind::SymbolDoubtful(_)));
        assert!(silent, "{}: {:?}", ready.design.name, panel.warnings);
        check_inside(&ready.design, &panel);
        let symbols = ready.design.pinned.iter().any(|pinned| matches!(pinned.what, What::Symbol { .. }));
        for dpi in [203_u32, 300, 600] {
            let job = Job { dots_per_inch: Some(dpi), ..job(ready.design.clone(), facts.clone()) };
            let pages = check_read_back(&laid(&job));
            if symbols {
                let text = qr_text(&pages[0], f64::from(dpi));
                assert!(text == facts.code || Some(&text) == facts.piece_number.as_ref(), "{text}");
            }
        }
    }
}

#[test]
fn every_use_has_a_paper_in_every_mood_and_names_are_their_own() {
    let all = ready::all();
    for kind in PaperKind::ALL {
        for mood in Mood::ALL {
            assert!(ready::of(kind).iter().any(|ready| ready.mood == mood && ready.design.kind == kind));
        }
    }
    let mut names: Vec<&str> = all.iter().map(|ready| ready.design.name.as_str()).collect();
    names.sort_unstable();
    names.dedup();
    assert_eq!(names.len(), all.len());
    // ISO 216: A5 is 148 × 210 mm, A6 105 × 148 mm.
    for (what, size) in [("certificate A5", [148, 210]), ("certificate A6", [148, 105])] {
        for ready in all.iter().filter(|ready| ready.design.name.ends_with(what)) {
            assert_eq!([ready.design.width_mm, ready.design.height_mm], size.map(Decimal::from));
        }
    }
}

#[test]
fn the_ticket_is_the_largest_type_on_every_ready_made_tag() {
    for ready in ready::of(PaperKind::Tag) {
        let panel = panel(&ready.design, &piece_facts());
        let mut sizes = Vec::new();
        for (pinned, range) in ready.design.pinned.iter().zip(&panel.things) {
            for item in &panel.items[range.clone()] {
                if let Item::Text(run) = item {
                    sizes.push((pinned.what == What::Ticket, run.size_pt));
                }
            }
        }
        let ticket = sizes.iter().find(|(ticket, _)| *ticket).unwrap().1;
        assert!(sizes.iter().all(|(is, size)| *is || *size < ticket), "{}: {sizes:?}", ready.design.name);
        let bands = ready.design.pinned.iter().filter(|pinned| pinned.what == What::Band).count();
        assert_eq!(bands, 1, "one band of the piece's colour");
    }
}

// ---------------------------------------------------------------------------------------------- text

#[test]
fn a_text_is_as_large_as_its_place_allows_then_wrapped_then_cut() {
    let size_of = |text: &str, height: i64, lines: u32| {
        let mut design = empty(500, 300);
        design.pinned.push(pin(What::Words(text.to_owned()), [20, 20, 300, height], [60, 120], lines));
        let panel = panel(&design, &piece_facts());
        check_inside(&design, &panel);
        let runs: Vec<(String, f64)> = panel
            .items
            .iter()
            .filter_map(|item| if let Item::Text(run) = item { Some((run.text(), run.size_pt)) } else { None })
            .collect();
        (runs, panel.warnings)
    };
    let (runs, warnings) = size_of("Drop", 60, 1);
    assert_eq!((runs[0].1, runs.len(), warnings.len()), (12.0, 1, 0));
    // A line of 30 mm: smaller, whole tenths of a point, and as large as fits.
    let (runs, _) = size_of("Lantern drop, deep green", 60, 1);
    assert!(runs.len() == 1 && runs[0].1 < 12.0 && runs[0].1 > 6.0);
    assert!((runs[0].1 * 10.0 - (runs[0].1 * 10.0).round()).abs() < 1e-9);
    let mut shaper = Shaper::new();
    let english = english();
    let mut larger = empty(500, 300);
    let more = (runs[0].1 * 10.0).round() as i64 + 1;
    larger.pinned.push(pin(What::Words("Lantern drop, deep green".to_owned()), [20, 20, 300, 60], [more, more], 1));
    let cut = lay_out(&mut shaper, &larger, &piece_facts(), &pictures(), &[&english], None);
    assert!(matches!(cut.warnings.as_slice(), [WarningKind::Cut(_)]), "{:?}", cut.warnings);
    // Two lines are larger than one.
    let (two, _) = size_of("Lantern drop, deep green", 120, 2);
    assert!(two.len() == 2 && two[0].1 > runs[0].1);
    assert_eq!(two.iter().map(|(text, _)| text.as_str()).collect::<Vec<_>>().join(" "), "Lantern drop, deep green");
    // What does not fit at the least size ends in an ellipsis, and she is told.
    let (runs, warnings) = size_of(&"Wörter und noch mehr Wörter ".repeat(10), 60, 2);
    assert_eq!(runs.len(), 2);
    assert!(runs[1].0.ends_with('…') && runs[0].1 == 6.0);
    assert!(matches!(warnings.as_slice(), [WarningKind::Cut(_)]));
}

#[test]
fn facts_a_paper_does_not_have_are_named_and_leave_their_place_empty() {
    let mut design = empty(500, 300);
    design.pinned.push(pin(What::FiringRange, [20, 20, 300, 60], [60, 120], 1));
    design.pinned.push(pin(
        What::Symbol { kind: SymbolKind::Ean13, of: SymbolOf::Number },
        [20, 90, 400, 200],
        [60, 60],
        1,
    ));
    let facts = Facts { trade_number: None, ..piece_facts() };
    let panel = panel(&design, &facts);
    assert!(panel.items.is_empty());
    let said: Vec<String> = panel
        .warnings
        .iter()
        .map(|kind| enamelwright::paper::Warning { code: "X".to_owned(), kind: kind.clone() }.to_string())
        .collect();
    assert_eq!(
        said,
        [
            "X: the firing range is not known; its place stays empty",
            "X: the symbol is not known; its place stays empty"
        ]
    );
    // A lead mark stands only where there is lead; its absence is no news.
    let mut design = empty(500, 300);
    design.pinned.push(pin(What::LeadMark, [20, 20, 300, 60], [60, 120], 1));
    let mut clean = jar_facts();
    assert_eq!(self::panel(&design, &clean).items.len(), 1);
    clean.item = Some(ItemFacts { lead: false, ..clean.item.unwrap() });
    let panel = self::panel(&design, &clean);
    assert!(panel.items.is_empty() && panel.warnings.is_empty());
}

#[test]
fn the_facts_of_an_item_are_said_in_her_units() {
    let mut fahrenheit = Preferences::metric(Currency::from_code("EUR").unwrap());
    fahrenheit.temperature = enamelwright::measure::TemperatureUnit::Fahrenheit;
    let speech = Spoken::new(Speech::plain(Language::English), fahrenheit);
    // 780 °C = 1436 °F, 830 °C = 1526 °F (9/5 and 32).
    assert_eq!(speech.firing_range([Decimal::from(780), Decimal::from(830)]), "1436–1526\u{a0}°F");
    assert_eq!(english().firing_range([Decimal::from(780), Decimal::from(830)]), "780–830\u{a0}°C");
    assert_eq!(english().size(&Outline::Disc { diameter_mm: Decimal::from(30) }), "Ø\u{a0}30\u{a0}mm");
    assert_eq!(english().date(chrono::NaiveDate::from_ymd_opt(2026, 3, 4).unwrap()), "4 March 2026");
    assert_eq!(english().money(Decimal::new(4600, 2)), "€46.00");
    assert_eq!(facts_of_design(&lantern(), [1, 2, 3], &studio()).code, "LN-DROP");
}

#[test]
fn turned_things_read_the_way_they_are_turned_and_stay_inside() {
    for turn in [Turn::None, Turn::Quarter, Turn::Half, Turn::ThreeQuarters] {
        let mut design = empty(600, 600);
        let mut things = vec![
            pin(What::Name, [40, 40, 200, 230], [60, 160], 3),
            pin(What::Photo, [280, 40, 280, 200], [60, 60], 1),
            pin(What::Symbol { kind: SymbolKind::Qr, of: SymbolOf::Code }, [40, 300, 200, 200], [60, 60], 1),
        ];
        for thing in &mut things {
            thing.turn = turn;
        }
        design.pinned = things;
        let panel = panel(&design, &piece_facts());
        assert!(panel.warnings.is_empty(), "{:?}", panel.warnings);
        check_inside(&design, &panel);
        let pages = check_read_back(&laid(&job(design, piece_facts())));
        assert_eq!(qr_text(&pages[0], 300.0), "LN-DROP");
    }
}

// ---------------------------------------------------------------------------------------------- pictures

#[test]
fn pictures_are_carried_as_they_are_once_and_no_finer_than_300_dpi() {
    let mut jpeg = Vec::new();
    let rgb = image::DynamicImage::ImageRgba8(photo(240, 160)).into_rgb8();
    image::codecs::jpeg::JpegEncoder::new_with_quality(&mut jpeg, 80).encode_image(&rgb).unwrap();
    let small = Arc::new(Image::read(&jpeg).unwrap());
    let mut design = empty(1000, 600);
    // 24 × 16 mm at 240 × 160 pixels is 254 dpi.
    design.pinned.push(pin(What::Photo, [50, 50, 240, 160], [60, 60], 1));
    design.pinned.push(pin(What::Photo, [350, 50, 240, 160], [60, 60], 1));
    let facts = Facts { photo: Some(Arc::clone(&small)), ..piece_facts() };
    let page = check_read_back(&laid(&job(design.clone(), facts.clone()))).remove(0);
    assert_eq!(page.pictures.len(), 2);
    assert_eq!(page.pictures[0].name, page.pictures[1].name);
    assert_eq!(page.pictures[0].stored, jpeg, "byte for byte");
    // In 12 mm the same photo has 508 dpi: 142 pixels are enough (12 / 25.4 × 300).
    let mut tiny = empty(1000, 600);
    tiny.pinned.push(pin(What::Photo, [50, 50, 120, 80], [60, 60], 1));
    let page = check_read_back(&laid(&job(tiny.clone(), facts))).remove(0);
    assert_eq!(page.pictures[0].size, [142, 95]);
    assert!(page.pictures[0].stored.len() < jpeg.len());
    // See-through pixels keep their mask; a whole picture has none.
    let mut ghost = photo(100, 60);
    ghost.get_pixel_mut(3, 3).0[3] = 0;
    let facts = Facts { photo: Some(Arc::new(Image::pixels(ghost))), ..piece_facts() };
    let page = check_read_back(&laid(&job(design.clone(), facts))).remove(0);
    assert!(page.pictures[0].masked);
    let facts = Facts { photo: Some(Arc::new(Image::pixels(photo(100, 60)))), ..piece_facts() };
    let document = laid(&job(design, facts));
    let page = check_read_back(&document).remove(0);
    assert!(!page.pictures[0].masked);
    assert_eq!(pdf::write(&document, &properties()).unwrap(), pdf::write(&document, &properties()).unwrap());
    assert!(Image::read(b"GIF89a").is_err() && Image::read(&jpeg[..200]).is_err() && Image::read(b"").is_err());
}

#[test]
fn a_picture_is_fitted_without_distortion() {
    let mut design = empty(600, 600);
    design.pinned.push(pin(What::Picture(PictureId(1)), [50, 50, 300, 300], [60, 60], 1));
    design.pinned.push(pin(What::Picture(PictureId(2)), [50, 360, 100, 100], [60, 60], 1));
    let panel = panel(&design, &piece_facts());
    let Item::Picture(placed) = &panel.items[0] else { panic!("a picture") };
    assert!((placed.rect.width_mm - 30.0).abs() < 1e-9 && (placed.rect.height_mm - 15.0).abs() < 1e-9);
    assert!(matches!(panel.warnings.as_slice(), [WarningKind::Unknown(_)]));
}

// ---------------------------------------------------------------------------------------------- symbols

/// Left-hand digits of odd parity in bars and spaces (ISO/IEC 15420, table 1; from memory): the other sets follow.
const SET_A: [&str; 10] =
    ["0001101", "0011001", "0010011", "0111101", "0100011", "0110001", "0101111", "0111011", "0110111", "0001011"];
/// Which set each left-hand digit is from says the first digit (ISO/IEC 15420, table 2; from memory).
const FIRST: [&str; 10] =
    ["AAAAAA", "AABABB", "AABBAB", "AABBBA", "ABAABB", "ABBAAB", "ABBBAA", "ABABAB", "ABABBA", "ABBABA"];

/// The number in a row of 95 modules.
fn ean13_text(modules: &[bool]) -> String {
    let row: String = modules.iter().map(|dark| if *dark { '1' } else { '0' }).collect();
    assert_eq!(row.len(), 95);
    assert_eq!((&row[..3], &row[45..50], &row[92..]), ("101", "01010", "101"));
    let mirror = |text: &str| text.chars().map(|c| if c == '1' { '0' } else { '1' }).collect::<String>();
    let (mut sets, mut digits) = (String::new(), String::new());
    for at in 0..6 {
        let code = &row[3 + at * 7..10 + at * 7];
        let backwards: String = mirror(code).chars().rev().collect();
        let (set, digit) = match SET_A.iter().position(|known| *known == code) {
            Some(digit) => ('A', digit),
            None => ('B', SET_A.iter().position(|known| *known == backwards).expect("a digit of set B")),
        };
        sets.push(set);
        digits.push_str(&digit.to_string());
    }
    for at in 0..6 {
        let code = mirror(&row[50 + at * 7..57 + at * 7]);
        digits.push_str(&SET_A.iter().position(|known| *known == code).expect("a digit of set C").to_string());
    }
    let first = FIRST.iter().position(|known| *known == sets).expect("a first digit");
    format!("{first}{digits}")
}

#[test]
fn ean_13_has_the_published_check_digits_widths_and_quiet_zones() {
    for id in ["F-GS1X-1", "F-GS1X-2", "F-GS1X-4", "F-GS1X-5", "F-GS1X-7", "F-GS1X-8"] {
        let (inputs, check) = reference(id);
        let twelve = inputs["digits"].as_str().unwrap();
        let digit = check.as_u64().unwrap();
        assert_eq!(check_digit(twelve).map(u64::from), Some(digit), "{id}");
        let number = format!("{twelve}{digit}");
        assert!(is_ean13(&number));
        let art = symbol(Symbology::Ean13, &number).unwrap();
        let mut modules = vec![false; 95];
        for dark in &art.dark {
            for column in dark.column..dark.column + dark.columns {
                modules[column as usize] = true;
            }
        }
        assert_eq!(ean13_text(&modules), number);
    }
    assert!(symbol(Symbology::Ean13, "2000000001235").is_none());
    let art = symbol(Symbology::Ean13, "2000000001234").unwrap();
    let quiet = art.quiet_zone();
    let (_, zones) = reference("F-QZ-1");
    assert_eq!([quiet.left, quiet.right].map(u64::from), ["left", "right"].map(|side| zones[side].as_u64().unwrap()));
    let (inputs, width) = reference("F-EAN-W1");
    let whole = f64::from(art.columns + quiet.left + quiet.right) * inputs["x_mm"].as_f64().unwrap();
    assert!((whole - width.as_f64().unwrap()).abs() < 0.005);
    let (inputs, sides) = reference("F-EAN-Q1");
    let left = f64::from(quiet.left) * inputs["x_mm"].as_f64().unwrap();
    assert!((left - sides["left"].as_f64().unwrap()).abs() < 0.005);
    // Bars are as high as GS1 asks for at full size, guard bars five modules more.
    let (_, heights) = reference("F-SIZE-2");
    let bars = f64::from(art.rows) * 5.0 * 0.33;
    assert!(bars >= heights[1].as_f64().unwrap() && bars < heights[1].as_f64().unwrap() + 5.0 * 0.33);
    assert!(art.dark.iter().filter(|dark| dark.rows == art.rows).count() == 6, "six guard bars reach down");
    assert!(art.dark.iter().all(|dark| dark.rows == art.rows || dark.rows == art.rows - 1));
}

#[test]
fn an_ean_13_reads_back_from_its_pdf_with_its_digits() {
    for (turn, place) in [(Turn::None, [20, 20, 440, 300]), (Turn::Quarter, [20, 20, 300, 440])] {
        for dpi in [None, Some(203), Some(600)] {
            let mut design = empty(500, 500);
            let what = What::Symbol { kind: SymbolKind::Ean13, of: SymbolOf::Number };
            design.pinned.push(Pinned { turn, ..pin(what, place, [60, 60], 1) });
            let mut job = job(design.clone(), piece_facts());
            job.dots_per_inch = dpi;
            let document = laid(&job);
            let page = check_read_back(&document).remove(0);
            check_inside(&design, &panel(&design, &piece_facts()));
            let texts: Vec<&str> = page.texts.iter().map(|(text, _)| text.as_str()).collect();
            assert_eq!(texts, ["2", "000000", "001234"]);
            let (width, height, dark) = bitmap(&page.rectangles, f64::from(dpi.unwrap_or(300)), 0);
            let (row, long) = if turn == Turn::None {
                (dark[height / 2 * width..(height / 2 + 1) * width].to_vec(), width)
            } else {
                ((0..height).map(|y| dark[y * width + width / 2]).collect(), height)
            };
            let dots = long / 95;
            assert_eq!(long, dots * 95, "whole dots");
            let modules: Vec<bool> = row.iter().step_by(dots).copied().collect();
            assert_eq!(ean13_text(&modules), "2000000001234");
        }
    }
}

#[test]
fn a_symbol_is_as_large_as_its_place_in_whole_dots_and_says_why() {
    for dpi in [203_u32, 300, 600] {
        let dot = 25.4 / f64::from(dpi);
        for (kind, text, room) in [
            (SymbolKind::Qr, "LN-DROP", [12.0, 12.0]),
            (SymbolKind::Qr, "LN-DROP", [60.0, 45.0]),
            (SymbolKind::DataMatrix, "LN-DROP", [8.0, 8.0]),
            (SymbolKind::Code128, "LN-DROP", [45.0, 12.0]),
            (SymbolKind::Ean13, "2000000001234", [45.0, 30.0]),
        ] {
            let choice = choose(kind, text, room, Some(dpi)).unwrap();
            let dots = choice.module_mm / dot;
            assert!((dots - dots.round()).abs() < 1e-9 && dots >= 1.0, "{kind:?} {dots}");
            let quiet = choice.art.quiet_zone();
            let width = f64::from(choice.art.columns + quiet.left + quiet.right) * choice.module_mm;
            assert!(width <= room[0] + 0.001, "{kind:?} {width}");
            assert!(f64::from(choice.art.rows) * choice.row_mm <= room[1] + 0.001);
            assert!(
                choice.why.contains(&format!("{:.3} mm", choice.module_mm)) && choice.why.contains("dots per inch")
            );
            // Own trials of printed symbols: nothing below a quarter of a millimetre is read surely.
            assert!(choice.module_mm > 0.2495, "{kind:?} {}", choice.module_mm);
        }
    }
    // GS1's limits of the module (0.264 to 0.66 mm).
    let (_, limits) = reference("F-SIZE-1");
    let [least, most] = [0, 2].map(|at| limits[at].as_f64().unwrap());
    let choice = choose(SymbolKind::Ean13, "2000000001234", [400.0, 300.0], None).unwrap();
    assert!(choice.module_mm <= most + 1e-9 && choice.module_mm > most - 0.09);
    let small = choose(SymbolKind::Ean13, "2000000001234", [34.0, 30.0], Some(600)).unwrap();
    assert!(small.module_mm >= least - 1e-9);
    assert!(matches!(small.warning, Some(SymbolWarning::Small { .. })));
    let low = choose(SymbolKind::Ean13, "2000000001234", [42.0, 14.0], None).unwrap();
    assert!(matches!(low.warning, Some(SymbolWarning::Low { .. })), "{low:?}");
}

#[test]
fn a_symbol_that_cannot_scan_is_refused_in_words() {
    let problem = choose(SymbolKind::Ean13, "2000000001234", [22.0, 10.0], None).unwrap_err();
    assert_eq!(
        problem.to_string(),
        "a EAN-13 of this text that scans needs 38.3 by 8.1 mm with its quiet zone; its place has 22.0 by 10.0 mm"
            .replace("a EAN", "an EAN")
    );
    assert!(matches!(choose(SymbolKind::Qr, "X", [6.0, 6.0], None), Err(SymbolProblem::Room { .. })));
    assert!(matches!(choose(SymbolKind::Qr, "", [60.0, 60.0], None), Err(SymbolProblem::Nothing)));
    assert!(matches!(choose(SymbolKind::Code128, "Fjäril", [90.0, 60.0], None), Err(SymbolProblem::Text { .. })));
    assert!(matches!(choose(SymbolKind::Ean13, "123", [90.0, 60.0], None), Err(SymbolProblem::Text { .. })));
    assert!(matches!(choose(SymbolKind::Qr, &"x".repeat(5_000), [90.0, 90.0], None), Err(SymbolProblem::Text { .. })));
    // On an unknown printer a QR code of less than four dots may not be read.
    let choice = choose(SymbolKind::Qr, "LN-DROP", [8.0, 8.0], None).unwrap();
    assert!(matches!(choice.warning, Some(SymbolWarning::Small { .. })));
    assert!(choose(SymbolKind::Qr, "LN-DROP", [8.0, 8.0], Some(203)).unwrap().warning.is_none());
}

// ---------------------------------------------------------------------------------------------- sheets

#[test]
fn a_caution_is_printed_whole_or_the_paper_is_refused() {
    let design = ready::of(PaperKind::Jar).into_iter().find(|ready| ready.mood == Mood::Kiln).unwrap().design;
    let job = job(design.clone(), jar_facts());
    let (german, greek) = (spoken(Language::German), spoken(Language::Greek));
    let one = placed::layout(&job, &pictures(), &[&german], &mut Shaper::new()).unwrap();
    assert!(one.pages[0].items.iter().any(|item| matches!(item, Item::Text(run) if run.text() == "enthält Blei")));
    let both = placed::layout(&job, &pictures(), &[&german, &greek], &mut Shaper::new());
    let Err(PaperProblem::CautionCut { paper, part, .. }) = both else { panic!("{both:?}") };
    assert_eq!((paper, part), (design.name, enamelwright::paper::Part::LeadMark));
}

#[test]
fn papers_stand_in_the_middle_of_their_labels_from_where_she_says() {
    let sheet = sheets::usual_sheets().remove(0);
    let mut design = ready::of(PaperKind::Tag).remove(0).design;
    design.width_mm = tenths(440);
    let job = Job { papers: vec![(piece_facts(), 3), (piece_facts(), 40)], ..job(design.clone(), piece_facts()) };
    let job = Job { sheet: Some(sheet.clone()), start: 39, ..job };
    // 28 mm do not go into 27 mm.
    let english = english();
    let too_large = placed::layout(&job, &pictures(), &[&english], &mut Shaper::new()).unwrap_err();
    assert!(matches!(too_large, PaperProblem::PaperTooLarge { .. }), "{too_large}");
    let mut job = job;
    job.design.height_mm = tenths(260);
    let document = laid(&job);
    let numbers: Vec<Vec<(u32, usize)>> = document
        .pages
        .iter()
        .map(|page| page.places.iter().map(|place| (place.number, place.entry)).collect())
        .collect();
    assert_eq!(numbers[0], [(39, 0), (40, 0)]);
    assert_eq!(numbers[1].len(), 40);
    assert_eq!(numbers[1][0], (1, 0));
    assert_eq!(numbers[2], [(1, 1)]);
    let first = document.pages[1].places[0].rect;
    assert!((first.x_mm - 15.0 - 0.5).abs() < 1e-9 && (first.y_mm - 13.5 - 0.5).abs() < 1e-9, "{first:?}");
    check_read_back(&document);
    job.start = 41;
    let refused = placed::layout(&job, &pictures(), &[&english], &mut Shaper::new());
    assert_eq!(refused, Err(PaperProblem::Start { start: 41, labels: 40 }));
    job.papers.clear();
    assert_eq!(placed::layout(&job, &pictures(), &[&english], &mut Shaper::new()), Err(PaperProblem::Nothing));
}

// ---------------------------------------------------------------------------------------------- files

fn file_picture(name: &str) -> paper_file::FilePicture {
    let mut png = Vec::new();
    photo(20, 10).write_to(&mut std::io::Cursor::new(&mut png), image::ImageFormat::Png).unwrap();
    paper_file::FilePicture { name: name.to_owned(), png }
}

#[test]
fn a_paper_written_to_a_file_reads_back_equal() {
    for ready in ready::all() {
        let text = paper_file::write(&ready.design, &[]).unwrap();
        assert_eq!(paper_file::read(&text).unwrap().design, ready.design, "{text}");
    }
    let mut design = empty(123, 456);
    design.name = "Her \"own\" \\ paper\nof two lines".to_owned();
    design.languages = vec![Language::Japanese, Language::Greek];
    design.fold = Some(Fold::Across(Decimal::new(1234, 3)));
    design.pinned = vec![
        pin(What::Picture(PictureId(7)), [1, 2, 3, 4], [60, 60], 1),
        pin(What::Picture(PictureId(9)), [1, 2, 3, 4], [60, 60], 1),
        pin(What::Words("x\ty ✶".to_owned()), [-1, 2, 3, 4], [60, 60], 7),
        pin(What::Phrase("signature".to_owned()), [1, 2, 3, 4], [60, 60], 1),
        pin(
            What::Symbol { kind: SymbolKind::DataMatrix, of: SymbolOf::Text("A=1".to_owned()) },
            [1, 2, 3, 4],
            [60, 60],
            1,
        ),
    ];
    design.pinned[2].set.ink = Ink::Own([1, 171, 255]);
    design.pinned[2].turn = Turn::ThreeQuarters;
    let pictures = [(PictureId(9), file_picture("logo")), (PictureId(7), file_picture("logo"))];
    let file = paper_file::read(&paper_file::write(&design, &pictures).unwrap()).unwrap();
    assert_eq!(file.pictures.len(), 2);
    assert_eq!(file.pictures[0].png, pictures[0].1.png);
    assert_eq!(file.in_book(&[PictureId(7), PictureId(9)]), design);
    let missing = paper_file::write(&design, &pictures[..1]).unwrap_err();
    assert_eq!(
        missing.to_string(),
        "the stored picture with row 7 is pinned to the paper but not there; take it off or store it again"
    );
}

#[test]
fn what_is_wrong_in_a_paper_file_is_said_with_its_line() {
    let text = "format = \"enamelwright-paper/1\"\nname = \"A\"\nkind = \"poster\"\nwidth_mm = 40\nheight_mm = \"4e1\"\n\
                languages = [\"en\"]\nsize = 3\n\n[[pinned]]\nwhat = \"picture\"\npicture = \"logo\"\nx_mm = 0\ny_mm = 0\n\
                width_mm = 10\nmost_pt = 8\nleast_pt = 5\nink = \"#12345\"\n\n[[picture]]\nname = \"sketch\"\npng = \"AAAA\"\n";
    let problems: Vec<String> = paper_file::read(text).unwrap_err().iter().map(ToString::to_string).collect();
    let wanted = [
        "line 3: kind: is \"poster\"",
        "line 5: height_mm: \"4e1\" is no plain number",
        "line 7: size: unknown key",
        "line 9: pinned 1, height_mm: is missing",
        "line 11: pinned 1, picture: is not in the file",
        "line 17: pinned 1, ink: is \"#12345\"",
        "line 21: picture 1, png: is not accepted",
    ];
    assert_eq!(problems.len(), wanted.len(), "{problems:#?}");
    for (problem, want) in problems.iter().zip(wanted) {
        assert!(problem.starts_with(want), "{problem}, wanted {want}");
    }
    let broken = paper_file::read("format = \n").unwrap_err();
    assert!(broken.len() == 1 && broken[0].line == 1);
}

// ---------------------------------------------------------------------------------------------- hostile

fn hostile() -> impl Strategy<Value = String> {
    prop_oneof![
        4 => "[A-Za-z ,.’éÅß€£-]{0,40}",
        2 => "[A-Za-z\n ]{0,200}",
        1 => "\\PC{0,60}",
        1 => Just("x".repeat(5_000)),
        1 => Just("Wörter und noch mehr Wörter ".repeat(200)),
        1 => Just(format!("Z{}", "\u{301}".repeat(300))),
        1 => Just("Ǻẫ\u{301}\u{302}fjgÅ ".repeat(9)),
        1 => Just("שלום עולם مرحبا 你好 🧿👩‍🎨\u{202e}abc\u{0}\u{7}\n\r\u{2029}\u{85}".to_owned()),
        1 => any::<String>(),
    ]
}

fn what() -> impl Strategy<Value = What> {
    prop_oneof![
        Just(What::Name),
        Just(What::Care),
        Just(What::Cautions),
        Just(What::Story),
        Just(What::Ticket),
        Just(What::Materials),
        Just(What::Photo),
        Just(What::Band),
        Just(What::Rule),
        Just(What::Swatch),
        Just(What::Phrase("made-by".to_owned())),
        Just(What::Picture(PictureId(1))),
        hostile().prop_map(What::Words),
        (0..4_usize, hostile()).prop_map(|(kind, text)| What::Symbol {
            kind: [SymbolKind::Qr, SymbolKind::DataMatrix, SymbolKind::Code128, SymbolKind::Ean13][kind],
            of: if text.len() % 2 == 0 { SymbolOf::Number } else { SymbolOf::Text(text) },
        }),
    ]
}

prop_compose! {
    fn pinned_anywhere()(
        what in what(), x in -50_i64..600, y in -50_i64..400, width in 1_i64..700, height in 1_i64..500,
        turn in 0..4_usize, weight in 0..3_usize, across in 0..3_usize, down in 0..3_usize,
        least in 40_i64..90, more in 0_i64..400, lines in 1_u32..9,
    ) -> Pinned {
        let mut pinned = pin(what, [x, y, width, height], [least, least + more], lines);
        pinned.turn = [Turn::None, Turn::Quarter, Turn::Half, Turn::ThreeQuarters][turn];
        pinned.set.weight = [Weight::Regular, Weight::Semibold, Weight::Bold][weight];
        pinned.set.across = [Across::Left, Across::Middle, Across::Right][across];
        pinned.set.down = [Down::Top, Down::Middle, Down::Bottom][down];
        pinned
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn nothing_leaves_its_place_the_paper_or_comes_near_a_hole(
        width in 80_i64..700, height in 60_i64..500, corner in 0_i64..50, holes in 0_i64..3,
        things in prop::collection::vec(pinned_anywhere(), 1..6),
        name in hostile(), story in hostile(), care_words in hostile(),
    ) {
        let mut design = empty(width, height);
        design.corner_mm = tenths(width.min(height) * corner / 100);
        design.holes = (0..holes)
            .map(|number| Hole {
                x_mm: tenths(width * (number + 1) / 4),
                y_mm: tenths(height / 3),
                diameter_mm: tenths(15 + 10 * number),
            })
            .collect();
        design.pinned = things;
        let words = StudioWords { story, care_words, ..(*studio()).clone() };
        let photo = Some(Arc::new(Image::pixels(photo(60, 48))));
        let facts = Facts { name, photo, studio: Arc::new(words), ..piece_facts() };
        let panel = panel(&design, &facts);
        check_inside(&design, &panel);
        match placed::layout(&job(design, facts), &pictures(), &[&english()], &mut Shaper::new()) {
            // What is printed is laid out the same way; where a caution was cut nothing is printed.
            Err(PaperProblem::CautionCut { part, .. }) => {
                assert!(panel.warnings.iter().any(|kind| matches!(kind, WarningKind::Cut(cut) | WarningKind::LeftOut(cut) if *cut == part)));
            }
            document => {
                check_read_back(&document.unwrap());
            }
        }
    }
}

// ---------------------------------------------------------------------------------------------- languages

/// The type of Japanese lies beside the sources.
fn shaper_of(language: Language) -> Shaper {
    if language != Language::Japanese {
        return Shaper::new();
    }
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("assets/fonts/japanese");
    let [regular, bold] =
        ["MPLUS1p-Regular.ttf", "MPLUS1p-Bold.ttf"].map(|file| std::fs::read(folder.join(file)).unwrap());
    Shaper::with_japanese(enamelwright::paper::Japanese::hand_over(regular, bold).unwrap())
}

/// Every text of a laid-out paper, line ends and spaces taken out.
fn said(panel: &Panel) -> String {
    let texts = panel.items.iter().filter_map(|item| if let Item::Text(run) = item { Some(run.text()) } else { None });
    texts.map(|text| text.replace(char::is_whitespace, "")).collect()
}

#[test]
fn no_ready_made_paper_has_words_of_one_language_pinned_to_it() {
    for ready in ready::all() {
        for pinned in &ready.design.pinned {
            let fixed = match &pinned.what {
                What::Words(words) => Some(words),
                What::Symbol { of: SymbolOf::Text(text), .. } => Some(text),
                _ => None,
            };
            assert_eq!(fixed, None, "{}", ready.design.name);
        }
    }
}

/// Without the facts, what is left of a ready-made paper are the program's words: none of them is English on a paper in
/// another language, and all of them fit.
#[test]
fn ready_made_papers_speak_every_language_whole() {
    let papers: Vec<(PaperDesign, Facts)> = ready::all()
        .into_iter()
        .map(|ready| (Facts { name: "17".to_owned(), ..facts_for(ready.design.kind) }, ready.design))
        .map(|(facts, design)| (design, facts))
        .collect();
    let mut lost = Vec::new();
    let mut in_english: Vec<String> = Vec::new();
    for language in Language::ALL {
        let spoken = spoken(language);
        let mut shaper = shaper_of(language);
        let phrase = |language, name: &str| Speech::plain(language).phrase(name).replace(char::is_whitespace, "");
        // The longest languages on every paper; the others on those of one mood.
        let long = [Language::English, Language::German, Language::Polish, Language::Greek, Language::Japanese];
        let all = long.contains(&language);
        for (number, (design, facts)) in
            papers.iter().enumerate().filter(|(_, (design, _))| all || design.name.starts_with("Quiet"))
        {
            let panel = lay_out(&mut shaper, design, facts, &pictures(), &[&spoken], None);
            let told = panel.warnings.iter().filter(|kind| !matches!(kind, WarningKind::Unknown(_)));
            lost.extend(told.map(|kind| format!("{}, {}: {kind:?}", design.name, language.name())));
            let said = said(&panel);
            if language == Language::English {
                in_english.push(said);
                continue;
            }
            for name in ["by-hand-one-at-a-time", "signature", "care-title", "contains-lead"] {
                if in_english[number].contains(&phrase(Language::English, name)) {
                    assert!(said.contains(&phrase(language, name)), "{}: {said}", design.name);
                }
            }
        }
    }
    assert!(lost.is_empty(), "{lost:#?}");
}

#[test]
fn a_phrase_is_said_in_both_languages_of_a_paper_with_its_facts() {
    let mut design = empty(900, 300);
    design.pinned = vec![
        pin(What::Phrase("piece-number".to_owned()), [20, 20, 860, 60], [60, 120], 1),
        pin(What::Phrase("made-by".to_owned()), [20, 90, 860, 60], [60, 120], 1),
        pin(What::Phrase("lead-at-work".to_owned()), [20, 160, 860, 60], [60, 120], 1),
        pin(What::Phrase("sign-from".to_owned()), [20, 230, 860, 60], [60, 120], 1),
    ];
    let (german, french) = (spoken(Language::German), spoken(Language::French));
    let facts = piece_facts();
    let laid = lay_out(&mut Shaper::new(), &design, &facts, &pictures(), &[&german, &french], None);
    let texts: Vec<String> = laid
        .things
        .iter()
        .map(|range| said(&Panel { items: laid.items[range.clone()].to_vec(), ..Panel::default() }))
        .collect();
    assert_eq!(texts[0], "StückNr.LN-DROP-0017·Piècen°LN-DROP-0017");
    assert!(texts[1].starts_with("GefertigtvonTidewrackEnamels·Faitpar"), "{}", texts[1]);
    // No lead, no caution about it.
    assert_eq!(texts[2], "");
    assert!(texts[3].starts_with("ab46,00€"), "{}", texts[3]);
    // A fact that is not there is told, not printed.
    let unknown = Facts { piece_number: None, ..facts };
    let laid = lay_out(&mut Shaper::new(), &design, &unknown, &pictures(), &[&german], None);
    assert!(laid.warnings.iter().any(|kind| matches!(kind, WarningKind::Unknown(_))), "{:?}", laid.warnings);
}

/// Writes papers to look at; run with `--ignored`.
#[test]
#[ignore = "writes files to look at"]
fn write_ready_made_papers_to_look_at() {
    let folder = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join("ready");
    std::fs::create_dir_all(&folder).unwrap();
    for ready in ready::all() {
        for language in [Language::English, Language::German, Language::Polish, Language::Greek, Language::Japanese] {
            let job = job(ready.design.clone(), facts_for(ready.design.kind));
            let spoken = spoken(language);
            let document = placed::layout(&job, &pictures(), &[&spoken], &mut shaper_of(language)).unwrap();
            for warning in &document.warnings {
                println!("{}, {}: {warning}", ready.design.name, language.name());
            }
            let name = ready.design.name.to_lowercase().replace(' ', "-");
            let file = format!("{}-{name}-{}.pdf", ready.design.kind.name(), language.tag());
            std::fs::write(folder.join(file), pdf::write(&document, &properties()).unwrap()).unwrap();
        }
    }
}
