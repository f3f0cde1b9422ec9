//! A paper of every kind, with every field filled in: by the usual words of an invented studio, or by whatever a test says.

#![allow(dead_code, reason = "not every test asks for every paper")]

use enamelwright::exchange::design_file;
use enamelwright::measure::{Currency, Decimal, Money, Preferences, Quantity, Unit};
use enamelwright::paper::bench_cautions::BoxedCaution;
use enamelwright::paper::bench_sheet_model::{BenchSheet, Blank, Ceiling, Heat, SheetLine, SheetStep};
use enamelwright::paper::cards::{self, CardJob, CardStyle, CareModel, PaperSize};
use enamelwright::paper::count_sheet::{self, CountLine, CountSheet, CountShelf};
use enamelwright::paper::fair_list::{self, FairList, FairPiece};
use enamelwright::paper::kiln_page_model::{Curve, KilnPage, PageDay, PageLoad};
use enamelwright::paper::page::{Document, Paint, Rect, Segment};
use enamelwright::paper::pdf::Properties;
use enamelwright::paper::picture::Image;
use enamelwright::paper::pinned::{Facts, Pictures, Spoken, StudioWords, facts_of_item, facts_of_piece};
use enamelwright::paper::placed::{self, Job};
use enamelwright::paper::preview::Mark;
use enamelwright::paper::shopping::{self, ShoppingLine, ShoppingList, ShoppingSupplier};
use enamelwright::paper::statement::{self, OnePiece, Statement, StatementLine, SumLine, Table};
use enamelwright::paper::tags::{self, TagJob, TagModel};
use enamelwright::paper::words::{CareFacts, CareText};
use enamelwright::paper::{Japanese, PaperProblem, Shaper, Speech, Symbology, bench_sheet, kiln_page};
use enamelwright::studio::{
    BatchId, Buying, EnamelKind, Fusing, Item as StockItem, ItemDetails, ItemId, Jar, LabelShape, LabelSheet, Language,
    LengthUnit, Metal, PaperDesign, PaperKind, PictureId, Piece, PieceId, Thickness,
};
use std::cell::RefCell;
use std::path::Path;
use std::sync::Arc;

/// What stands in a field, given its name and its usual words.
pub(crate) type Say<'a> = &'a dyn Fn(&str, &str) -> String;

/// The usual words.
pub(crate) fn usual(_field: &str, text: &str) -> String {
    text.to_owned()
}

/// A shaper that has the Japanese type.
pub(crate) fn shaper() -> Shaper {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("assets/fonts/japanese");
    let [regular, bold] =
        ["MPLUS1p-Regular.ttf", "MPLUS1p-Bold.ttf"].map(|file| std::fs::read(folder.join(file)).unwrap());
    Shaper::with_japanese(Japanese::hand_over(regular, bold).unwrap())
}

/// Work with such a shaper; one for all papers of a thread.
fn shaped<T>(work: impl FnOnce(&mut Shaper) -> T) -> T {
    thread_local! {
        static SHAPER: RefCell<Shaper> = RefCell::new(shaper());
    }
    SHAPER.with_borrow_mut(work)
}

pub(crate) fn properties() -> Properties {
    Properties {
        title: "Papers for the Harbour Fair".to_owned(),
        author: "Tidewrack Enamels".to_owned(),
        created: chrono::NaiveDate::from_ymd_opt(2026, 3, 14).unwrap().and_hms_opt(9, 26, 53).unwrap(),
        language: "en".to_owned(),
    }
}

fn tenths(value: i64) -> Decimal {
    Decimal::new(value, 1)
}

/// Labels on a page hardly larger than them.
pub(crate) fn sheet([width, height]: [i64; 2], [columns, rows]: [u32; 2], folded: bool) -> LabelSheet {
    LabelSheet {
        name: "test".to_owned(),
        page_width_mm: tenths(width * i64::from(columns) + 100),
        page_height_mm: tenths(height * i64::from(rows) + 100),
        left_mm: tenths(47),
        top_mm: tenths(53),
        label_width_mm: tenths(width),
        label_height_mm: tenths(height),
        pitch_x_mm: tenths(width),
        pitch_y_mm: tenths(height),
        columns,
        rows,
        folded,
        hole: true,
        cut_lines: true,
        shape: LabelShape::default(),
        crop_marks: false,
    }
}

/// One tag twice on a sheet.
pub(crate) fn tags(say: Say<'_>, sheet: LabelSheet, symbology: Symbology) -> Result<Document, PaperProblem> {
    let tag = TagModel {
        name: say("name", "Lantern drop"),
        code: say("code", "LN-DROP"),
        ticket: Some(say("ticket", "€46.00")),
        materials_line: say("materials", "glass enamel on copper, 45 cm chain"),
        note_line: Some(say("note", "Harbour Fair")),
        lead_bearing: true,
    };
    let job = TagJob { sheet, tags: vec![(tag, 2)], start: 1, symbology };
    shaped(|shaper| tags::layout(&job, shaper))
}

pub(crate) fn cards(say: Say<'_>, style: CardStyle, languages: &[Language]) -> Result<Document, PaperProblem> {
    let facts = CareFacts { metal: Metal::Copper, firings: 5, worn: true, lead_bearing: true, for_children: false };
    let texts: Vec<CareText> = languages.iter().map(|language| Speech::plain(*language).care_text(&facts)).collect();
    let card = CareModel {
        name: say("name", "Lantern drop"),
        code: say("code", "LN-DROP"),
        materials_line: say("materials", "glass enamel on copper, 45 cm chain"),
        texts,
        studio_name: say("studio", "Tidewrack Enamels"),
        studio_place: say("place", "Skerry Bay"),
        words: say("words", "Thank you for choosing it."),
        band: [62, 91, 132],
    };
    let job = CardJob { cards: vec![(card, 2)], style, paper: PaperSize::A4 };
    shaped(|shaper| cards::layout(&job, shaper))
}

/// A photo of nothing: a drop of colour on a pale ground.
pub(crate) fn photo(width: u32, height: u32) -> Arc<Image> {
    Arc::new(Image::pixels(image::RgbaImage::from_fn(width, height, |x, y| {
        let (dx, dy) = (f64::from(x) / f64::from(width) - 0.5, f64::from(y) / f64::from(height) - 0.4);
        let away = dx.hypot(dy);
        if away < 0.3 {
            image::Rgba([40, (90.0 + away * 300.0) as u8, 140, 255])
        } else {
            image::Rgba([236, 232, (214.0 - dy * 20.0) as u8, 255])
        }
    })))
}

pub(crate) fn facts(kind: PaperKind, say: Say<'_>) -> Facts {
    let studio = Arc::new(StudioWords {
        name: say("studio", "Tidewrack Enamels"),
        place: say("place", "Skerry Bay"),
        story: say("story", "I fire small kilns by the sea. Every colour was sifted, fired and looked at."),
        care_words: say("words", "If it ever chips, bring it back."),
        length: LengthUnit::Millimetre,
    });
    let item = |name: &str, details: ItemDetails| StockItem {
        reference: say("code", "EN-014"),
        name: say("name", name),
        unit: Unit::Gram,
        details,
        maker: String::new(),
        maker_number: String::new(),
        supplier: String::new(),
        shelf: say("shelf", "drawer 7"),
        note: String::new(),
        reorder_level: None,
        lead_bearing: true,
        retired: false,
        buying: Buying::default(),
    };
    let jar = Jar {
        item: ItemId(1),
        label: say("shelf", "A3-07"),
        tare: Quantity::new(Decimal::new(1425, 1)).unwrap(),
        retired: false,
    };
    match kind {
        PaperKind::Jar => {
            let details = ItemDetails::Enamel {
                enamel: EnamelKind::Transparent,
                swatch: [24, 92, 110],
                mesh: say("mesh", "80/325"),
                fusing: Some(Fusing::Medium),
                firing_c: Some([Decimal::from(780), Decimal::from(830)]),
            };
            facts_of_item(&item("Harbour green", details), Some(&jar), Some(say("lot", "26-031")), &studio)
        }
        PaperKind::Drawer => {
            let details = ItemDetails::Wire { metal: Metal::Copper, thickness: Thickness::Gauge(20) };
            facts_of_item(&item("Copper wire", details), None, None, &studio)
        }
        _ => {
            let mut design = design_file::read(include_str!("../data/lantern-drop.toml")).unwrap();
            design.name = say("name", "Lantern drop");
            let piece = Piece {
                id: PieceId(1),
                batch: BatchId(1),
                place: 1,
                number: Some(say("number", "LN-DROP-0017")),
                finished: chrono::NaiveDate::from_ymd_opt(2026, 3, 14),
                second: false,
                note: String::new(),
            };
            Facts {
                ticket: Some(Money::new(Decimal::new(4600, 2)).unwrap()),
                trade_number: Some("2000000001234".to_owned()),
                photo: Some(photo(300, 240)),
                ..facts_of_piece(&piece, &Arc::new(design), [62, 91, 132], &studio)
            }
        }
    }
}

/// A paper of pinned things, one a page.
pub(crate) fn pinned(design: &PaperDesign, say: Say<'_>) -> Result<Document, PaperProblem> {
    let plain = Speech::plain(Language::English);
    let english = Spoken::new(plain, Preferences::metric(Currency::from_code("EUR").unwrap()));
    let job = Job {
        design: design.clone(),
        papers: vec![(facts(design.kind, say), 1)],
        sheet: None,
        start: 1,
        dots_per_inch: None,
    };
    let pictures = Pictures::from([(PictureId(1), photo(200, 100))]);
    shaped(|shaper| placed::layout(&job, &pictures, &[&english], shaper))
}

pub(crate) fn statement(say: Say<'_>, paper: PaperSize) -> Result<Document, PaperProblem> {
    shaped(|shaper| statement::layout(&said(say, paper, None), shaper))
}

/// A paper of one piece, with its photo.
pub(crate) fn certificate(say: Say<'_>, paper: PaperSize) -> Result<Document, PaperProblem> {
    let piece = OnePiece {
        name: say("piece name", "Kelp brooch"),
        facts: ["Piece no. K-0007", "glass enamel on copper", "fired 5 times"]
            .map(|fact| say("piece fact", fact))
            .to_vec(),
        lead: say("piece lead", "contains lead"),
        photo: Some(photo(300, 200)),
    };
    shaped(|shaper| statement::layout(&said(say, paper, Some(piece)), shaper))
}

fn said(say: Say<'_>, paper: PaperSize, piece: Option<OnePiece>) -> Statement {
    let line = |number: usize| StatementLine {
        code: say("code", &format!("K-{number}")),
        words: say("name", &format!("Kelp brooch {number}")),
        note: say("materials", "glass enamel on copper, steel findings"),
        lead: if number.is_multiple_of(2) { say("lead", "contains lead") } else { String::new() },
        quantity: say("quantity", "2"),
        price: say("price", "$24.00"),
        sum: say("sum", "$48.00"),
        so_far: say("so far", &format!("${}.00", 48 * number)),
    };
    let sum = |label: &str, amount: &str, strong| SumLine {
        label: say("sum label", label),
        amount: say("amount", amount),
        strong,
    };
    Statement {
        language: Language::English,
        title: say("title", "Consignment no. 12"),
        studio: say("studio", "Tidewrack Enamels"),
        place: say("place", "4 Kelp Lane, Lower Orrin"),
        recipient_label: say("recipient label", "For"),
        recipient: ["Skerry Gallery", "12 Mole Street"].map(|line| say("recipient", line)).to_vec(),
        facts: vec![[say("fact label", "Date"), say("fact", "14 October 2026")]],
        opening: say("opening", "With thanks for your order."),
        piece,
        table: Table {
            code: say("code heading", "Code"),
            what: say("name heading", "Piece"),
            quantity: Some(say("quantity heading", "Quantity")),
            money: Some([say("price heading", "Retail price"), say("sum heading", "Amount")]),
            carried: [say("carried", "Carried forward"), say("brought", "Brought forward")],
            lines: (1..=3).map(line).collect(),
        },
        sums: vec![sum("Goods", "$144.00", false), sum("Left", "$86.40", true)],
        sentences: vec![say("sentence", "Prices include VAT")],
        parts: vec![[say("part heading", "Terms"), say("part", "The pieces stay the maker’s until they are sold.")]],
        signed_for: say("signed for", "Received complete and undamaged"),
        signatures: vec![[say("signature", "Maker"), say("signature line", "Place, date · Signature")]],
        page_of: say("page of", "Page {page} of {pages}"),
        paper,
    }
}

pub(crate) fn price_list(say: Say<'_>, paper: PaperSize) -> Result<Document, PaperProblem> {
    let drop = vec![[0.0, 0.0], [24.0, 0.0], [18.0, 30.0], [6.0, 30.0]];
    let piece = |rings, photo| FairPiece {
        code: say("code", "LN-DROP"),
        name: say("name", "Lantern drop"),
        materials: say("materials", "glass enamel on copper"),
        lead: say("lead", "contains lead"),
        ticket: say("ticket", "€46.00"),
        colour: [62, 91, 132],
        rings,
        photo,
    };
    let list = FairList {
        language: Language::English,
        title: say("title", "Price list"),
        studio: say("studio", "Tidewrack Enamels"),
        place: say("place", "Skerry Bay"),
        beside: ["Harbour Fair", "14 March 2026"].map(|line| say("beside", line)).to_vec(),
        pieces: vec![piece(vec![drop], None), piece(Vec::new(), Some(photo(120, 160))), piece(Vec::new(), None)],
        sentences: vec![say("sentence", "Prices include VAT")],
        page_of: say("page of", "Page {page} of {pages}"),
        paper,
    };
    shaped(|shaper| fair_list::layout(&list, shaper))
}

pub(crate) fn bench(say: Say<'_>, paper: PaperSize) -> Result<Document, PaperProblem> {
    let step = |number: usize| SheetStep {
        number: number.to_string(),
        name: say("step", "Fire the base coat"),
        time: say("time", "12 min"),
        heat: Some(Heat {
            temperature: say("temperature", "790 °C"),
            minutes: say("minutes", "2:30"),
            load: say("load", "5 a load, 3 loads"),
        }),
        lines: vec![SheetLine { lead: true, text: say("line", "Harbour green, 0.42 g a piece") }],
        rows: vec![vec![
            Blank { label: "Fired at", unit: "°C", share: 1 },
            Blank { label: "In the heat", unit: "min", share: 1 },
        ]],
    };
    let sheet = BenchSheet {
        studio: say("studio", "Tidewrack Enamels"),
        batch: say("title", "Batch 14"),
        name: say("name", "Lantern drops for the Harbour Fair"),
        facts: vec![(say("fact label", "Design"), say("fact", "Lantern drop (LN-DROP)"))],
        date: say("date", "begun 2026-10-14"),
        note: say("note", "The blue first."),
        ceiling: Some(Ceiling {
            heat: say("heat", "707 °C"),
            bounds: vec![say("bound", "707 °C: solder flows at 745 °C")],
        }),
        cautions: vec![
            BoxedCaution { stop: true, what: say("caution", "Lead bearing enamel"), way: say("way", "Keep it apart.") },
            BoxedCaution { stop: false, what: say("caution", "Solder near"), way: say("way", "Stay below.") },
        ],
        usual: vec![say("usual", "Heat: gloves, dark eye shields.")],
        steps: (1..=3).map(step).collect(),
        ticks: (1..=12).map(|number: u32| say("tick", &number.to_string())).collect(),
        symbol: say("symbol", "EW BATCH 14"),
        paper,
    };
    shaped(|shaper| bench_sheet::layout(&sheet, shaper))
}

pub(crate) fn kiln(say: Say<'_>, paper: PaperSize) -> Result<Document, PaperProblem> {
    let load = PageLoad {
        closed: say("closed", "10:02"),
        opened: say("opened", "10:05"),
        minutes: say("minutes", "3:15"),
        set: say("set", "725 °C"),
        read: say("read", "728 °C"),
        pieces: say("pieces", "Batch 4, Fire the base: 1–5"),
        results: say("results", "all good"),
        kwh: say("kwh", "0.32"),
        override_words: say("override", "mind the door"),
        note: say("note", "on a trivet of its own"),
    };
    let page = KilnPage {
        studio: say("studio", "Tidewrack Enamels"),
        period: say("date", "2026-10-14"),
        days: vec![PageDay {
            heading: say("heading", "Small kiln · 2026-10-14"),
            facts: say("fact", "on 09:05 · hot 09:50"),
            curve: Some(Curve {
                points: vec![[0.0, 0.02], [0.3, 0.9], [0.8, 0.9], [1.0, 0.4]],
                loads: vec![[0.4, 0.45], [0.5, 0.55]],
                hours: vec![(0.0, say("hour", "09:00")), (0.5, say("hour", "11:00"))],
                heats: vec![(0.0, say("degrees", "0 °C")), (0.9, say("degrees", "800 °C"))],
            }),
            loads: vec![load.clone(), load],
            total: say("total", "2 loads, 9 pieces"),
        }],
        blank_rows: 3,
        cautions: vec![say("caution", "The maker’s safety data sheet and local rules come first.")],
        degrees: "°C",
        paper,
    };
    shaped(|shaper| kiln_page::layout(&page, shaper))
}

pub(crate) fn count(say: Say<'_>, paper: PaperSize) -> Result<Document, PaperProblem> {
    let line = CountLine {
        reference: say("code", "EN-041"),
        name: say("name", "Fen green, transparent"),
        unit: say("unit", "g"),
        lead_bearing: true,
        on_hand: Some(say("on hand", "120 g")),
    };
    let sheet = CountSheet {
        studio: say("studio", "Tidewrack Enamels"),
        date: say("date", "14 March 2026"),
        shelves: vec![CountShelf { name: say("shelf", "Window wall, top"), lines: vec![line.clone(), line] }],
        paper,
    };
    shaped(|shaper| count_sheet::layout(&sheet, shaper))
}

pub(crate) fn shopping(say: Say<'_>, paper: PaperSize) -> Result<Document, PaperProblem> {
    let line = ShoppingLine {
        reference: say("code", "EN-041"),
        name: say("name", "Fen green, transparent"),
        lead_bearing: true,
        packs: say("packs", "3"),
        pack: say("pack", "1 lb jar"),
        price: Some(say("price", "$24.00")),
        sum: Some(say("sum", "$72.00")),
        reason: say("reason", "40 g are left, 90 g are planned"),
    };
    let list = ShoppingList {
        studio: say("studio", "Tidewrack Enamels"),
        date: say("date", "14 March 2026"),
        suppliers: vec![ShoppingSupplier {
            name: say("supplier", "Orrin Glassworks"),
            lines: vec![line.clone(), line],
            sum: Some(say("supplier sum", "$144.00")),
        }],
        total: Some(say("total", "$144.00")),
        paper,
    };
    shaped(|shaper| shopping::layout(&list, shaper))
}

/// The margins of the papers that run over pages.
pub(crate) fn margins(name: &str, paper: PaperSize) -> Option<Rect> {
    match name {
        "statement" | "certificate of one piece" => Some(statement::margins(paper)),
        "price list" => Some(fair_list::margins(paper)),
        "bench sheet" => Some(bench_sheet::margins(paper)),
        "kiln page" => Some(kiln_page::margins(paper)),
        "count sheet" => Some(count_sheet::margins(paper)),
        "shopping list" => Some(shopping::margins(paper)),
        _ => None,
    }
}

/// How many papers [`one`] knows.
pub(crate) const KINDS: usize = 12 + 12;

/// A paper by its number: tags, cards, seven that run over pages, and a ready-made paper of each use.
pub(crate) fn one(number: usize, say: Say<'_>, paper: PaperSize) -> (String, Result<Document, PaperProblem>) {
    use enamelwright::paper::pinned::ready::{self, Mood};
    let named = |name: &str, document| (name.to_owned(), document);
    match number {
        0 => named("tags", tags(say, sheet([450, 270], [2, 2], false), Symbology::Qr)),
        1 => named("bar tags", tags(say, sheet([620, 300], [1, 2], false), Symbology::Code128)),
        2 => named("folded tags", tags(say, sheet([640, 220], [1, 2], true), Symbology::DataMatrix)),
        3 => named("flat cards", cards(say, CardStyle::Flat, &[Language::English])),
        4 => named("folded cards", cards(say, CardStyle::Folded, &[Language::German, Language::Greek])),
        5 => named("statement", statement(say, paper)),
        6 => named("price list", price_list(say, paper)),
        7 => named("bench sheet", bench(say, paper)),
        8 => named("kiln page", kiln(say, paper)),
        9 => named("count sheet", count(say, paper)),
        10 => named("shopping list", shopping(say, paper)),
        11 => named("certificate of one piece", certificate(say, paper)),
        _ => {
            // One mood of each use, the moods in turn.
            let mut designs = PaperKind::ALL.into_iter().enumerate().flat_map(|(at, kind)| {
                let mood = Mood::ALL[at % Mood::ALL.len()];
                ready::of(kind).into_iter().filter(move |ready| ready.mood == mood)
            });
            let design = designs.nth(number - 12).unwrap().design;
            named(&design.name, pinned(&design, say))
        }
    }
}

/// A paper of every kind.
pub(crate) fn every_kind(say: Say<'_>, paper: PaperSize) -> Vec<(String, Result<Document, PaperProblem>)> {
    (0..KINDS).map(|number| one(number, say, paper)).collect()
}

/// The box of a mark's ink, curves looked at in sixteen places each.
pub(crate) fn ink(mark: &Mark) -> Option<Rect> {
    let half = if let Paint::Line { width_mm, .. } = mark.paint { width_mm / 2.0 } else { 0.0 };
    let mut at = [0.0, 0.0];
    let mut sides: Option<[f64; 4]> = None;
    let mut add = |[x, y]: [f64; 2]| {
        let [left, top, right, bottom] = sides.unwrap_or([x, y, x, y]);
        sides = Some([left.min(x), top.min(y), right.max(x), bottom.max(y)]);
    };
    for segment in &mark.path {
        match *segment {
            Segment::Move(point) | Segment::Line(point) => {
                add(point);
                at = point;
            }
            Segment::Cubic(one, two, end) => {
                for step in 1..=16 {
                    let t = f64::from(step) / 16.0;
                    let s = 1.0 - t;
                    let [from, first, second, to] = [s * s * s, 3.0 * s * s * t, 3.0 * s * t * t, t * t * t];
                    add([0, 1].map(|axis| from * at[axis] + first * one[axis] + second * two[axis] + to * end[axis]));
                }
                at = end;
            }
            Segment::Close => {}
        }
    }
    sides.map(|[left, top, right, bottom]| Rect {
        x_mm: left - half,
        y_mm: top - half,
        width_mm: right - left + 2.0 * half,
        height_mm: bottom - top + 2.0 * half,
    })
}
