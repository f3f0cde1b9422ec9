//! The studio book from the outside: what it keeps, what it refuses, what it survives.

#![allow(clippy::expect_used, clippy::indexing_slicing, clippy::panic, clippy::unwrap_used)]

mod rig;

use chrono::NaiveDateTime;
use enamelwright::actions::{
    self, Action, ActionKey, Added, Counted, Delivered, Order, Outcome, Reading, Receipt, Refusal, Taking,
    WashBackCost, check, perform, redo, snapshot, undo,
};
use enamelwright::book::{self, Access, Book, BookError};
use enamelwright::costing::landed::SpreadBy;
use enamelwright::exchange::movement_file::{ImportItem, ImportMovement, ImportPlan, ImportShape};
use enamelwright::measure::{Currency, Decimal, Money, Quantity, Unit};
use enamelwright::studio::{
    Attachment, ChannelId, Cut, CutItem, CutLine, CutPart, Design, DesignCode, DesignId, Follows, Item, ItemDetails,
    ItemId, Jar, LabelSheet, LotId, MaterialId, Metal, MovementKind, OrderId, OrderLine, PriceLine, PurchaseOrder,
    Step, StepKind, Thickness, ValuationMethod,
};
use proptest::prelude::*;
use rig::{Rig, day, decimal, dump, fire, item, money, quantity, receipt};
use rusqlite::Connection;
use rusqlite::types::Value;
use std::collections::BTreeMap;
use std::fs;
use std::ops::{Deref, DerefMut};
use std::path::{Path, PathBuf};
use tempfile::TempDir;

type TestResult = Result<(), Box<dyn std::error::Error>>;

fn noon(text: &str) -> NaiveDateTime {
    day(text).and_hms_opt(12, 0, 0).unwrap()
}

fn grams(text: &str) -> Quantity {
    quantity(text)
}

/// A book on the days before it is worked at the bench.
struct Bench {
    rig: Rig,
}

impl Deref for Bench {
    type Target = Rig;

    fn deref(&self) -> &Rig {
        &self.rig
    }
}

impl DerefMut for Bench {
    fn deref_mut(&mut self) -> &mut Rig {
        &mut self.rig
    }
}

impl Bench {
    fn new() -> Self {
        Self { rig: Rig::new("2026-03-14 12:00:00") }
    }

    // Here too, so that what is done may be asked of the bench itself.
    fn perform(&mut self, action: Action) -> Result<Outcome, Refusal> {
        self.rig.perform(action)
    }

    /// Closes the book and opens it again.
    fn reopen(self) -> Self {
        Self { rig: self.rig.reopen() }
    }

    fn enamel(&mut self, name: &str) -> ItemId {
        self.save_item(enamel(name))
    }

    fn receive(&mut self, item: ItemId, date: &str, quantity: &str, cost: &str) {
        self.perform(Action::Receive(vec![receipt(item, date, quantity, cost)])).unwrap();
    }

    fn issue(&mut self, item: ItemId, date: &str, quantity: &str) -> Result<Outcome, Refusal> {
        self.perform(Action::Issue(taking(item, date, quantity)))
    }

    fn save_design(&mut self, code: &str, follows: Follows) -> DesignId {
        self.rig.save_design(design(code), follows)
    }
}

fn enamel(name: &str) -> Item {
    Item { shelf: "A3".to_owned(), reorder_level: Some(grams("50")), ..item(name, Unit::Gram) }
}

fn taking(item: ItemId, date: &str, quantity: &str) -> Taking {
    Taking { item, date: day(date), quantity: grams(quantity), typed: format!("{quantity} g"), note: String::new() }
}

fn design(code: &str) -> Design {
    let prepare = rig::step(StepKind::Prepare.name(), StepKind::Prepare);
    let steps = [prepare, fire("fire", "780", 6, "6")];
    rig::design(code, steps.map(|step| Step { minutes_per_piece: decimal("2.5"), ..step }).to_vec())
}

fn follows(item: ItemId) -> Follows {
    Follows { labour: true, materials: BTreeMap::from([(MaterialId("green".to_owned()), item)]), ..Follows::default() }
}

fn ticket(design: DesignId, code: &str, ticket: &str) -> PriceLine {
    PriceLine {
        design,
        code: DesignCode::new(code).unwrap(),
        name: format!("Design {code}"),
        channel: ChannelId("fair".to_owned()),
        channel_name: "Craft fair".to_owned(),
        ticket: decimal(ticket),
        full_cost: money("12.345678"),
        common: false,
    }
}

#[test]
fn a_new_book_has_settings_rates_channels_and_sheets() -> TestResult {
    let bench = Bench::new();
    let seen = snapshot(&bench.book)?;
    assert_eq!(seen.settings.currency.code(), "USD");
    assert_eq!(seen.settings.valuation, ValuationMethod::Fifo);
    assert_eq!(seen.rates.channels.len(), 3);
    assert!(seen.sheets.len() >= 3);
    assert!(seen.stock.is_empty() && seen.designs.is_empty() && seen.history.is_empty());
    assert_eq!((seen.undo, seen.redo, seen.read_only), (None, None, false));
    bench.assert_sound();
    assert!(matches!(Book::create(&bench.path()), Err(BookError::Exists(_))));
    let kept: Vec<String> = fs::read_dir(bench.folder.path())?
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .filter(|name| name.contains(".new"))
        .collect();
    assert!(kept.is_empty(), "{kept:?}");
    Ok(())
}

#[test]
fn the_defaults_are_accepted_by_the_actions_that_would_save_them() -> TestResult {
    let mut bench = Bench::new();
    let seen = snapshot(&bench.book)?;
    bench.perform(Action::SaveRates((*seen.rates).clone()))?;
    bench.perform(Action::SaveSettings((*seen.settings).clone()))?;
    for (id, sheet) in seen.sheets.iter() {
        bench.perform(Action::SaveSheet { id: Some(*id), sheet: sheet.clone() })?;
    }
    bench.assert_sound();
    Ok(())
}

#[test]
fn stock_is_received_issued_counted_returned_and_valued() -> TestResult {
    let mut bench = Bench::new();
    let green = bench.enamel("Fen green");
    bench.receive(green, "2026-01-10", "100", "10.00");
    bench.receive(green, "2026-02-10", "100", "12.00");
    let out = bench.issue(green, "2026-03-01", "150")?;
    assert_eq!(out.name, "Issue 150 g of Fen green");
    // FIFO: 100 g at 0.10 and 50 g at 0.12.
    assert_eq!(out.moved_value, Some(money("16")));
    let seen = snapshot(&bench.book)?;
    let row = seen.item(green).unwrap();
    assert_eq!(row.item.reference, "CO-001");
    assert_eq!((row.on_hand, row.value), (grams("50"), money("6")));
    assert_eq!(row.book_price, Some(decimal("0.12")));
    assert_eq!(row.replacement_price, Some(decimal("0.12")));
    assert_eq!(row.last_moved, Some(day("2026-03-01")));
    assert!(row.is_low());

    bench.perform(Action::Count(taking(green, "2026-03-02", "48")))?;
    bench.perform(Action::Return { taking: taking(green, "2026-03-03", "8"), lot: None })?;
    bench.perform(Action::WriteOff(taking(green, "2026-03-04", "40")))?;
    let seen = snapshot(&bench.book)?;
    assert_eq!(seen.item(green).unwrap().on_hand, Quantity::ZERO);
    assert_eq!(seen.item(green).unwrap().value, Money::ZERO);
    let past = actions::stock_values(&bench.book, day("2026-02-28"))?;
    assert_eq!(past.fifo.total, money("22"));
    assert_eq!(past.average.total, money("22"));
    // By the average, 150 g leave at 0.11.
    let later = actions::stock_value(&bench.book, day("2026-03-01"), ValuationMethod::Average)?;
    assert_eq!(later.lines, vec![(green, grams("50"), money("5.5"))]);
    assert_eq!(actions::movements(&bench.book, green)?.len(), 6);
    assert_eq!(actions::ledger(&bench.book, green)?.lines.len(), 6);
    bench.assert_sound();
    Ok(())
}

#[test]
fn more_than_is_there_is_refused_with_what_is_there() {
    let mut bench = Bench::new();
    let green = bench.enamel("Fen green");
    bench.receive(green, "2026-01-10", "100", "10.00");
    let before = dump(&bench.path());
    let said = bench.issue(green, "2026-02-01", "100.5").unwrap_err();
    assert_eq!(
        said.to_string(),
        "Fen green: only 100 g on hand on 2026-02-01, 100.5 g asked for; receive or count it first"
    );
    assert_eq!(dump(&bench.path()), before);
}

#[test]
fn an_issue_dated_back_may_not_leave_a_later_day_short() {
    let mut bench = Bench::new();
    let green = bench.enamel("Fen green");
    bench.receive(green, "2026-01-10", "100", "10.00");
    bench.issue(green, "2026-03-01", "80").unwrap();
    match bench.issue(green, "2026-02-01", "30").unwrap_err() {
        Refusal::NotEnough { date, on_hand, asked, .. } => {
            assert_eq!((date, on_hand, asked), (day("2026-03-01"), grams("70"), grams("80")));
        }
        other => panic!("{other}"),
    }
    bench.issue(green, "2026-02-01", "20").unwrap();
    bench.assert_sound();
}

#[test]
fn every_refusal_names_the_field_and_changes_nothing() {
    let mut bench = Bench::new();
    let green = bench.enamel("Fen green");
    bench.receive(green, "2026-01-10", "100", "10.00");
    let design_row = bench.save_design("LEAF", follows(green));
    let before = dump(&bench.path());
    let item = |change: &dyn Fn(&mut Item)| {
        let mut item = enamel("Other");
        change(&mut item);
        Action::SaveItem { id: None, item }
    };
    let sheet = |change: &dyn Fn(&mut LabelSheet)| {
        let mut sheet = enamelwright::studio::defaults::label_sheets().remove(0);
        "New".clone_into(&mut sheet.name);
        change(&mut sheet);
        Action::SaveSheet { id: None, sheet }
    };
    let rates = |change: &dyn Fn(&mut enamelwright::studio::StudioRates)| {
        let mut rates = enamelwright::studio::defaults::studio_rates();
        change(&mut rates);
        Action::SaveRates(rates)
    };
    let correction = |lot: i64, date: &str, cost: &str| Action::CorrectLot {
        lot: LotId(lot),
        date: day(date),
        cost: money(cost),
        note: String::new(),
    };
    let import = |change: &dyn Fn(&mut ImportPlan)| {
        let mut plan = plan(green);
        change(&mut plan);
        Action::Import(plan)
    };
    let mut euro = design("EURO");
    euro.currency = Currency::from_code("EUR").unwrap();
    let mut foreign = enamelwright::studio::defaults::settings();
    foreign.currency = Currency::from_code("EUR").unwrap();
    let refused: Vec<(&str, Action)> = vec![
        ("Name: nothing", item(&|item| item.name.clear())),
        ("Name: ", item(&|item| item.name = "x".repeat(201))),
        ("Name: ", item(&|item| item.name.push('\u{0}'))),
        ("Reference: co-001 is taken", item(&|item| "co-001".clone_into(&mut item.reference))),
        ("Reorder level: -1", item(&|item| item.reorder_level = Some(grams("-1")))),
        (
            "Gauge: 41",
            item(&|item| {
                item.details = ItemDetails::Wire { metal: Metal::Copper, thickness: Thickness::Gauge(41) };
            }),
        ),
        (
            "Unit: mm",
            Action::SaveItem { id: Some(green), item: Item { unit: Unit::Millimetre, ..enamel("Fen green") } },
        ),
        ("there is no item", Action::SaveItem { id: Some(ItemId(99)), item: enamel("Ghost") }),
        ("Lots: 0", Action::Receive(Vec::new())),
        ("Quantity: 0", Action::Receive(vec![receipt(green, "2026-01-10", "0", "1")])),
        ("Quantity: -3", Action::Receive(vec![receipt(green, "2026-01-10", "-3", "1")])),
        ("Quantity: 1000000001", Action::Receive(vec![receipt(green, "2026-01-10", "1000000001", "1")])),
        ("Cost: -1", Action::Receive(vec![receipt(green, "2026-01-10", "3", "-1")])),
        ("Cost: 2000000000000", Action::Receive(vec![receipt(green, "2026-01-10", "3", "2000000000000")])),
        ("Cost: 2000 for 0.000000001 g", Action::Receive(vec![receipt(green, "2026-01-10", "0.000000001", "2000")])),
        ("Date: 1899-12-31", Action::Receive(vec![receipt(green, "1899-12-31", "3", "1")])),
        ("there is no item", Action::Receive(vec![receipt(ItemId(99), "2026-01-10", "3", "1")])),
        ("Quantity: -1", Action::Count(taking(green, "2026-01-11", "-1"))),
        (
            "Lot: 77",
            Action::Return { taking: taking(green, "2026-01-11", "1"), lot: Some(enamelwright::studio::LotId(77)) },
        ),
        (
            "Code: LEAF is taken",
            Action::SaveDesign { id: None, design: design("LEAF"), follows: Follows::default(), notes: String::new() },
        ),
        (
            "Currency: EUR",
            Action::SaveDesign { id: None, design: euro, follows: Follows::default(), notes: String::new() },
        ),
        (
            "there is no item",
            Action::SaveDesign { id: None, design: design("MOSS"), follows: follows(ItemId(99)), notes: String::new() },
        ),
        (
            "design, name: ",
            Action::SaveDesign {
                id: None,
                design: Design { name: String::new(), ..design("MOSS") },
                follows: Follows::default(),
                notes: String::new(),
            },
        ),
        (
            "step 1, good: ",
            Action::SaveDesign {
                id: None,
                design: {
                    let mut odd = design("MOSS");
                    odd.steps[0].good = decimal("1.5");
                    odd
                },
                follows: Follows::default(),
                notes: String::new(),
            },
        ),
        ("there is no design", Action::RetireDesign { id: DesignId(99), retired: true }),
        ("Photo: ", Action::SetPhoto { id: design_row, png: Some(b"GIF89a".to_vec()) }),
        ("Currency: EUR", Action::SaveSettings(foreign)),
        ("Normal bench hours of a year: 0", rates(&|rates| rates.normal_hours_per_year = Decimal::ZERO)),
        ("Hot hours of a set of elements: 0", rates(&|rates| rates.elements_hours = Decimal::ZERO)),
        ("Channel id: fair is taken", rates(&|rates| rates.channels.push(rates.channels[0].clone()))),
        ("Craft fair, commission: ", rates(&|rates| rates.channels[0].commission = decimal("1.2"))),
        ("Columns: 4", sheet(&|sheet| sheet.columns = 4)),
        ("Rows: 0", sheet(&|sheet| sheet.rows = 0)),
        ("Pitch across: 59", sheet(&|sheet| sheet.pitch_x_mm = decimal("59"))),
        ("Label width: -1", sheet(&|sheet| sheet.label_width_mm = decimal("-1"))),
        ("Prices: 0", Action::AcceptPrices { date: day("2026-03-14"), name: "Fair".to_owned(), tickets: Vec::new() }),
        (
            "Ticket of LEAF, Craft fair: -1",
            Action::AcceptPrices {
                date: day("2026-03-14"),
                name: "Fair".to_owned(),
                tickets: vec![ticket(design_row, "LEAF", "-1")],
            },
        ),
        (
            "there is no design",
            Action::AcceptPrices {
                date: day("2026-03-14"),
                name: "Fair".to_owned(),
                tickets: vec![ticket(DesignId(99), "MOSS", "20")],
            },
        ),
        ("the book is not empty", Action::LoadDemo),
        ("Quantity: 0", Action::WashBack { taking: taking(green, "2026-01-11", "0"), cost: WashBackCost::Nothing }),
        (
            "Cost: -1",
            Action::WashBack { taking: taking(green, "2026-01-11", "1"), cost: WashBackCost::Stated(money("-1")) },
        ),
        (
            "Reclaimed from: Fen green",
            Action::WashBack { taking: taking(green, "2026-01-09", "1"), cost: WashBackCost::FromItem(green) },
        ),
        ("there is no lot 99", correction(99, "2026-01-11", "1")),
        ("Date: 2026-01-09 was given; the day the lot came in", correction(1, "2026-01-09", "1")),
        ("Cost: -1", correction(1, "2026-01-11", "-1")),
        ("Cost: 10 was given; another cost", correction(1, "2026-01-11", "10")),
        ("no period is closed", Action::ClosePeriod(None)),
        ("Date: 1800-01-01", Action::ClosePeriod(Some(day("1800-01-01")))),
        ("File: nothing", Action::Import(ImportPlan { name: String::new(), ..plan(green) })),
        (
            "shelf.csv has nothing",
            Action::Import(ImportPlan { new_items: Vec::new(), movements: Vec::new(), ..plan(green) }),
        ),
        ("there is no item", Action::Import(plan(ItemId(99)))),
        ("Row 4, quantity: -1", import(&|plan| plan.movements[2].quantity = grams("-1"))),
        ("Row 2, cost: nothing", import(&|plan| plan.movements[0].cost = None)),
        ("Row 3, cost: 1", import(&|plan| plan.movements[1].cost = Some(money("1")))),
        ("Pumice: only 499 g on hand on 2026-02-10", import(&|plan| plan.movements[0].quantity = grams("499"))),
        ("Reference: CO-001 is taken", import(&|plan| "CO-001".clone_into(&mut plan.new_items[0].reference))),
        ("Lead time: 3651 days", item(&|item| item.buying.lead_days = Some(3651))),
        ("Smallest order: 0 packs", item(&|item| item.buying.minimum_order_packs = Some(0))),
    ];
    for (start, action) in refused {
        let shown = format!("{action:?}");
        let said = bench.perform(action).unwrap_err().to_string();
        assert!(said.starts_with(start), "{said} (expected {start}) for {shown}");
        assert_eq!(dump(&bench.path()), before, "{said}");
    }
    bench.assert_sound();
}

#[test]
fn text_in_any_script_comes_back_as_it_was() -> TestResult {
    let mut bench = Bench::new();
    let names = ["七宝 ruri", "Émail «vert» d'eau; DROP TABLE item;--", "Шатёр \"лак\"", "🜂🜄 flux", "e\u{301}mail"];
    for name in names {
        let id = bench.enamel(name);
        assert_eq!(snapshot(&bench.book)?.item(id).unwrap().item.name, name);
    }
    while bench.undo().is_ok() {}
    while bench.redo().is_ok() {}
    let found: Vec<String> = snapshot(&bench.book)?.stock.iter().map(|row| row.item.name.clone()).collect();
    let mut wanted: Vec<String> = names.iter().map(|name| (*name).to_owned()).collect();
    wanted.sort();
    assert_eq!(found, wanted);
    Ok(())
}

/// A file of an item of the book and a new one.
fn plan(known: ItemId) -> ImportPlan {
    let line = |row: usize, item: ImportItem, kind: MovementKind, quantity: &str, cost: Option<&str>| ImportMovement {
        row,
        item,
        date: day("2026-02-10"),
        kind,
        quantity: grams(quantity),
        cost: cost.map(money),
        typed: format!("{quantity} g"),
        note: String::new(),
        lot_number: String::new(),
        supplier: None,
    };
    ImportPlan {
        name: "shelf.csv".to_owned(),
        new_items: vec![Item { reference: "PUMICE".to_owned(), ..enamel("Pumice") }],
        movements: vec![
            line(2, ImportItem::New(0), MovementKind::Receipt, "500", Some("4")),
            line(3, ImportItem::New(0), MovementKind::Issue, "500", None),
            line(4, ImportItem::Known(known), MovementKind::WashBack, "1", Some("0")),
        ],
        shape: Some(ImportShape { fingerprint: "date|item".to_owned(), body: "{}".to_owned() }),
    }
}

/// Euros at a rate of 1.1, freight spread by value.
fn order_of(items: [ItemId; 2]) -> PurchaseOrder {
    let line = |item, packs: &str, pack: &str, price: &str| OrderLine {
        id: None,
        item,
        packs: grams(packs),
        pack: grams(pack),
        pack_words: format!("{pack} g jar"),
        price: money(price),
        weight_g: None,
    };
    PurchaseOrder {
        supplier: "Tidewater supply".to_owned(),
        reference: "T-77".to_owned(),
        date: day("2026-02-11"),
        currency: Currency::from_code("EUR").unwrap(),
        rate: decimal("1.1"),
        freight: money("7"),
        duty: money("0"),
        discount: money("1"),
        spread: SpreadBy::Value,
        note: String::new(),
        closed: false,
        lines: vec![line(items[0], "3", "100", "30"), line(items[1], "1", "453.59237", "20")],
    }
}

fn delivered(line: &OrderLine, packs: &str) -> Delivered {
    Delivered { line: line.id.unwrap(), packs: grams(packs), lot_number: "77".to_owned(), note: String::new() }
}

/// Two blanks and an off-cut from 60 g of a sheet.
fn cut_of(sheet: ItemId, blank: ItemId) -> Cut {
    let line = |part, item, quantity: &str, share: &str| CutLine {
        part,
        item,
        quantity: grams(quantity),
        share: decimal(share),
    };
    Cut {
        sheet,
        quantity: grams("60"),
        typed: "60 g".to_owned(),
        date: day("2026-02-14"),
        lines: vec![
            line(CutPart::Blank, CutItem::Known(blank), "12", "70.69"),
            line(CutPart::OffCut, CutItem::New(Box::new(enamel("Off-cut"))), "10", "10"),
        ],
        scrap_g: grams("3"),
        scrap_share: decimal("5"),
        bench_minutes: decimal("30"),
        bench_in_cost: true,
        note: String::new(),
    }
}

fn jars_orders_and_cuts(bench: &mut Bench, green: ItemId, flux: ItemId) {
    let jar = |item, label: &str, tare: &str| Jar { item, label: label.to_owned(), tare: grams(tare), retired: false };
    let new = bench.perform(Action::SaveJar { id: None, jar: jar(flux, "A3-01", "80") }).unwrap();
    let Some(Added::Jar(id)) = new.added else { panic!("{new:?}") };
    bench.perform(Action::SaveJar { id: Some(id), jar: jar(flux, "A3-07", "82") }).unwrap();
    let readings = vec![Reading { jar: id, gross: grams("134") }];
    let weigh_in = Action::WeighIn { date: day("2026-02-10"), readings, cause: String::new() };
    bench.perform(weigh_in).unwrap();
    let counted = |item, quantity: &str| Counted {
        item,
        quantity: grams(quantity),
        typed: quantity.to_owned(),
        note: "Year end".to_owned(),
    };
    let counts = vec![counted(green, "90"), counted(flux, "50")];
    bench.perform(Action::CountMany { date: day("2026-02-10"), counts }).unwrap();
    let placed = bench.perform(Action::SaveOrder { id: None, order: order_of([green, flux]) }).unwrap();
    let Some(Added::Order(order)) = placed.added else { panic!("{placed:?}") };
    let file = Attachment {
        name: "invoice.pdf".to_owned(),
        media_type: "application/pdf".to_owned(),
        bytes: b"%PDF \x00 it's".to_vec(),
    };
    bench.perform(Action::Attach { order, file: file.clone() }).unwrap();
    bench.perform(Action::Attach { order, file }).unwrap();
    let lines = actions::order(&bench.book, order).unwrap().unwrap().order.lines;
    let part = vec![delivered(&lines[0], "1"), delivered(&lines[1], "1")];
    bench.perform(Action::ReceiveOrder { order, date: day("2026-02-12"), lines: part }).unwrap();
    let mut dearer = actions::order(&bench.book, order).unwrap().unwrap().order;
    dearer.freight = money("9");
    bench.perform(Action::SaveOrder { id: Some(order), order: dearer }).unwrap();
    let rest = vec![delivered(&lines[0], "2")];
    bench.perform(Action::ReceiveOrder { order, date: day("2026-02-13"), lines: rest }).unwrap();
    let kept = actions::order(&bench.book, order).unwrap().unwrap().attachments[0].id;
    bench.perform(Action::Detach(kept)).unwrap();
    bench.perform(Action::Cut(cut_of(green, flux))).unwrap();
}

/// One of everything a person can do, in an order that works.
fn one_of_everything(bench: &mut Bench) {
    let green = bench.enamel("Fen green");
    let flux = bench.enamel("Flux");
    bench.receive(green, "2026-01-10", "100", "10.01");
    bench
        .perform(Action::Receive(vec![
            receipt(green, "2026-01-12", "28.349523125", "7"),
            receipt(flux, "2026-01-12", "50", "0"),
        ]))
        .unwrap();
    bench.issue(green, "2026-02-01", "33.333").unwrap();
    bench.perform(Action::WriteOff(taking(green, "2026-02-02", "1"))).unwrap();
    bench.perform(Action::Return { taking: taking(green, "2026-02-03", "2"), lot: None }).unwrap();
    bench.perform(Action::Count(taking(flux, "2026-02-04", "49"))).unwrap();
    bench
        .perform(Action::WashBack { taking: taking(flux, "2026-02-05", "3"), cost: WashBackCost::FromItem(green) })
        .unwrap();
    let lot = LotId(actions::movements(&bench.book, green).unwrap()[0].id.0);
    bench
        .perform(Action::CorrectLot { lot, date: day("2026-02-06"), cost: money("11"), note: "Invoice".to_owned() })
        .unwrap();
    bench.perform(Action::Import(plan(flux))).unwrap();
    jars_orders_and_cuts(bench, green, flux);
    bench.perform(Action::ClosePeriod(Some(day("2025-12-31")))).unwrap();
    let leaf = bench.save_design("LEAF", follows(green));
    bench.perform(Action::SetPhoto { id: leaf, png: Some(b"\x89PNG\r\n\x1a\n and \x00 more".to_vec()) }).unwrap();
    bench
        .perform(Action::DuplicateDesign {
            id: leaf,
            code: DesignCode::new("LEAF-2").unwrap(),
            name: "Leaf two".to_owned(),
        })
        .unwrap();
    bench.perform(Action::SetPhoto { id: leaf, png: Some(b"\x89PNG\r\n\x1a\nother".to_vec()) }).unwrap();
    bench
        .perform(Action::SaveDesign {
            id: Some(leaf),
            design: design("FROND"),
            follows: follows(flux),
            notes: "It's \"finer\"\nso".to_owned(),
        })
        .unwrap();
    bench.perform(Action::RetireDesign { id: leaf, retired: true }).unwrap();
    bench.perform(Action::SetPhoto { id: leaf, png: None }).unwrap();
    let mut item = enamel("fen GREEN");
    "co-001".clone_into(&mut item.reference);
    item.retired = true;
    bench.perform(Action::SaveItem { id: Some(green), item }).unwrap();
    let mut settings = enamelwright::studio::defaults::settings();
    settings.valuation = ValuationMethod::Average;
    bench.perform(Action::ClosePeriod(None)).unwrap();
    bench.perform(Action::SaveSettings(settings)).unwrap();
    let mut rates = enamelwright::studio::defaults::studio_rates();
    rates.channels.pop();
    bench.perform(Action::SaveRates(rates)).unwrap();
    let mut sheet = enamelwright::studio::defaults::label_sheets().remove(0);
    "Mine".clone_into(&mut sheet.name);
    bench.perform(Action::SaveSheet { id: None, sheet }).unwrap();
    bench
        .perform(Action::AcceptPrices {
            date: day("2026-03-01"),
            name: "Harbour Fair".to_owned(),
            tickets: vec![ticket(leaf, "FROND", "24")],
        })
        .unwrap();
}

#[test]
fn undoing_all_and_doing_all_again_is_identity_to_the_last_row() -> TestResult {
    let mut bench = Bench::new();
    let empty = dump(&bench.path());
    one_of_everything(&mut bench);
    bench.assert_sound();
    let full = dump(&bench.path());
    let seen = snapshot(&bench.book)?;
    let mut names = Vec::new();
    while let Ok(outcome) = bench.undo() {
        names.push(outcome.name);
        bench.assert_sound();
    }
    assert_eq!(names.len(), seen.history.len());
    assert_eq!(names, seen.history.iter().map(|entry| entry.name.clone()).collect::<Vec<_>>());
    assert_eq!(dump(&bench.path()), empty);
    let undone = snapshot(&bench.book)?;
    assert!(undone.history.iter().all(|entry| entry.undone));
    assert_eq!(undone.redo, names.last().cloned());
    assert_eq!(undone.undo, None);
    while bench.redo().is_ok() {}
    assert_eq!(dump(&bench.path()), full);
    let again = snapshot(&bench.book)?;
    assert_eq!(again.stock, seen.stock);
    assert_eq!(again.designs, seen.designs);
    assert_eq!(again.price_lists, seen.price_lists);
    bench.assert_sound();
    Ok(())
}

#[test]
fn undo_reaches_across_a_restart() {
    let mut bench = Bench::new();
    one_of_everything(&mut bench);
    let full = dump(&bench.path());
    bench.undo().unwrap();
    bench.undo().unwrap();
    let mut bench = bench.reopen();
    let seen = snapshot(&bench.book).unwrap();
    assert_eq!(seen.redo.as_deref(), Some("Add sheet Mine"));
    bench.redo().unwrap();
    bench.redo().unwrap();
    assert_eq!(dump(&bench.path()), full);
    assert!(bench.redo().unwrap_err().to_string().contains("nothing to do again"));
}

#[test]
fn a_new_action_drops_what_could_be_done_again_and_ids_never_come_back() {
    let mut bench = Bench::new();
    let first = bench.enamel("First");
    bench.undo().unwrap();
    let second = bench.enamel("Second");
    assert!(second.0 > first.0);
    assert!(bench.redo().is_err());
    let history = snapshot(&bench.book).unwrap().history;
    assert_eq!(
        history.iter().map(|entry| (entry.name.as_str(), entry.undone)).collect::<Vec<_>>(),
        [("Add Second", false), ("Add First", true)]
    );
    bench.assert_sound();
}

#[test]
fn an_order_given_twice_is_carried_out_once() {
    let mut bench = Bench::new();
    let green = bench.enamel("Fen green");
    let order = bench.order();
    let action = Action::Receive(vec![receipt(green, "2026-01-10", "100", "10.00")]);
    let first = perform(&mut bench.book, action.clone(), order).unwrap();
    let full = dump(&bench.path());
    assert_eq!(perform(&mut bench.book, action, order).unwrap(), first);
    assert_eq!(dump(&bench.path()), full);
    let taking_back = bench.order();
    assert_eq!(undo(&mut bench.book, taking_back).unwrap().name, first.name);
    assert_eq!(undo(&mut bench.book, taking_back).unwrap().name, first.name);
    assert_eq!(snapshot(&bench.book).unwrap().stock.len(), 1, "the item is still there");
    let again = bench.order();
    redo(&mut bench.book, again).unwrap();
    redo(&mut bench.book, again).unwrap();
    assert_eq!(dump(&bench.path()), full);
}

#[test]
fn movements_are_never_changed_or_deleted() {
    let mut bench = Bench::new();
    let green = bench.enamel("Fen green");
    bench.receive(green, "2026-01-10", "100", "10.00");
    let connection = Connection::open(bench.path()).unwrap();
    for sql in ["UPDATE movement SET quantity_e9 = 1", "DELETE FROM movement"] {
        let said = connection.execute(sql, []).unwrap_err().to_string();
        assert!(said.contains("a movement is never"), "{said}");
    }
}

#[test]
fn parts_that_did_not_change_are_shared_between_snapshots() {
    let mut bench = Bench::new();
    let green = bench.enamel("Fen green");
    bench.save_design("LEAF", follows(green));
    let before = snapshot(&bench.book).unwrap();
    bench.receive(green, "2026-01-10", "100", "10.00");
    let after = snapshot(&bench.book).unwrap();
    assert!(std::sync::Arc::ptr_eq(&before.designs, &after.designs));
    assert!(std::sync::Arc::ptr_eq(&before.rates, &after.rates));
    assert!(!std::sync::Arc::ptr_eq(&before.stock, &after.stock));
    let fresh = Book::open(&bench.path(), Access::Read, day("2026-03-14")).unwrap();
    let fresh = snapshot(&fresh).unwrap();
    assert_eq!(*fresh.stock, *after.stock);
    assert_eq!(*fresh.designs, *after.designs);
}

#[test]
fn one_window_writes_and_others_may_look() {
    let mut bench = Bench::new();
    let green = bench.enamel("Fen green");
    assert!(matches!(Book::open(&bench.path(), Access::Write, day("2026-03-14")), Err(BookError::InUse(_))));
    let mut reader = Book::open(&bench.path(), Access::Read, day("2026-03-14")).unwrap();
    assert!(snapshot(&reader).unwrap().read_only);
    bench.receive(green, "2026-01-10", "100", "10.00");
    assert_eq!(snapshot(&reader).unwrap().item(green).unwrap().on_hand, grams("100"));
    let order = bench.order();
    assert!(matches!(
        perform(&mut reader, Action::SaveItem { id: None, item: enamel("No") }, order),
        Err(Refusal::Book(BookError::ReadOnly(_)))
    ));
}

#[test]
fn the_demo_studio_fills_an_empty_book_and_can_be_undone() {
    let mut bench = Bench::new();
    let empty = dump(&bench.path());
    let outcome = bench.perform(Action::LoadDemo).unwrap();
    assert_eq!(outcome.name, "Fill the book with the demo studio");
    let seen = snapshot(&bench.book).unwrap();
    assert!(seen.stock.len() >= 55 && seen.designs.len() >= 12 && seen.rates.channels.len() >= 3);
    bench.assert_sound();
    let full = dump(&bench.path());
    bench.undo().unwrap();
    assert_eq!(dump(&bench.path()), empty);
    bench.redo().unwrap();
    assert_eq!(dump(&bench.path()), full);
    assert!(bench.perform(Action::LoadDemo).is_err());
}

/// A file the program must refuse and leave as it is.
fn assert_refused(path: &Path, wanted: impl Fn(&BookError) -> bool) {
    let before = fs::read(path).unwrap();
    for access in [Access::Write, Access::Read] {
        let fault = Book::open(path, access, day("2026-03-14")).unwrap_err();
        assert!(wanted(&fault), "{access:?}: {fault}");
        assert!(fs::read(path).unwrap() == before, "{access:?}: the file changed");
    }
}

fn closed_book() -> (TempDir, PathBuf) {
    let mut bench = Bench::new();
    one_of_everything(&mut bench);
    let path = bench.path();
    let Rig { folder, book, .. } = bench.rig;
    drop(book);
    (folder, path)
}

#[test]
fn what_is_no_book_is_refused_and_left_alone() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("x.studiobook");
    assert!(matches!(Book::open(&path, Access::Write, day("2026-03-14")), Err(BookError::Missing(_))));
    assert!(matches!(Book::open(folder.path(), Access::Write, day("2026-03-14")), Err(BookError::NotABook(_))));
    for bytes in
        [Vec::new(), b"SQLite format 3\0".to_vec(), vec![7; 5000], "# a shopping list\n".repeat(50).into_bytes()]
    {
        fs::write(&path, bytes).unwrap();
        assert_refused(&path, |fault| matches!(fault, BookError::NotABook(_)));
    }
    fs::remove_file(&path).unwrap();
    let other = Connection::open(&path).unwrap();
    other.execute_batch("CREATE TABLE note (text TEXT); PRAGMA application_id = 12345").unwrap();
    drop(other);
    assert_refused(&path, |fault| matches!(fault, BookError::NotABook(_)));
}

#[test]
fn a_newer_book_is_refused_and_left_alone() {
    let (_folder, path) = closed_book();
    let connection = Connection::open(&path).unwrap();
    connection.pragma_update(None, "user_version", book::KNOWN_VERSION + 1).unwrap();
    drop(connection);
    assert_refused(
        &path,
        |fault| matches!(fault, BookError::Newer { found, known, .. } if *found == known + 1 && *known == book::KNOWN_VERSION),
    );
}

#[test]
fn a_damaged_book_is_refused_and_left_alone() {
    let (_folder, path) = closed_book();
    let whole = fs::read(&path).unwrap();
    let rows = dump(&path);
    let (mut found, pages) = (0, whole.len() / 4096 - 1);
    fs::write(&path, &whole[..whole.len() / 2]).unwrap();
    assert_refused(&path, |fault| matches!(fault, BookError::Damaged { .. }));
    // Page after page is overwritten; each must be found, or be a free page that holds no row.
    for page in 1..=pages {
        let mut bytes = whole.clone();
        for byte in &mut bytes[page * 4096..page * 4096 + 200] {
            *byte ^= 0xA5;
        }
        fs::write(&path, &bytes).unwrap();
        if Book::open(&path, Access::Read, day("2026-03-14")).is_ok() {
            assert_eq!(dump(&path), rows, "page {page}");
        } else {
            assert_refused(&path, |fault| matches!(fault, BookError::Damaged { .. }));
            found += 1;
        }
    }
    assert!(found * 10 >= pages * 9, "{found} of {pages}");
}

#[test]
fn a_book_locked_by_another_program_is_refused() {
    let (_folder, path) = closed_book();
    let other = Connection::open(&path).unwrap();
    other.execute_batch("BEGIN IMMEDIATE").unwrap();
    assert!(matches!(Book::open(&path, Access::Write, day("2026-03-14")), Err(BookError::Locked(_))));
    other.execute_batch("ROLLBACK").unwrap();
    drop(other);
    assert!(Book::open(&path, Access::Write, day("2026-03-14")).is_ok());
}

#[test]
fn a_read_only_book_can_be_looked_at() {
    let (folder, path) = closed_book();
    let before = fs::read(&path).unwrap();
    let mut permissions = fs::metadata(&path).unwrap().permissions();
    permissions.set_readonly(true);
    fs::set_permissions(&path, permissions).unwrap();
    assert!(matches!(Book::open(&path, Access::Write, day("2026-03-14")), Err(BookError::ReadOnly(_))));
    let book = Book::open(&path, Access::Read, day("2026-03-14")).unwrap();
    assert_eq!(snapshot(&book).unwrap().stock.len(), 4);
    drop(book);
    assert!(fs::read(&path).unwrap() == before);
    drop(folder);
}

#[test]
#[cfg(unix)]
fn a_book_in_a_read_only_folder_can_be_looked_at() {
    use std::os::unix::fs::PermissionsExt;
    let (folder, path) = closed_book();
    fs::set_permissions(folder.path(), fs::Permissions::from_mode(0o555)).unwrap();
    let write = Book::open(&path, Access::Write, day("2026-03-14"));
    let read = Book::open(&path, Access::Read, day("2026-03-14")).map(|book| snapshot(&book).unwrap().stock.len());
    fs::set_permissions(folder.path(), fs::Permissions::from_mode(0o755)).unwrap();
    assert!(matches!(write, Err(BookError::ReadOnly(_))));
    assert_eq!(read.unwrap(), 4);
}

#[test]
fn on_a_full_disk_the_action_fails_whole_and_the_book_goes_on() {
    let mut bench = Bench::new();
    let green = bench.enamel("Fen green");
    bench.receive(green, "2026-01-10", "100", "10.00");
    let leaf = bench.save_design("LEAF", Follows::default());
    let before = dump(&bench.path());
    bench.book.limit_size(1).unwrap();
    let mut photo = b"\x89PNG\r\n\x1a\n".to_vec();
    photo.resize(300_000, 7);
    let order = bench.order();
    let action = Action::SetPhoto { id: leaf, png: Some(photo) };
    let fault = perform(&mut bench.book, action.clone(), order).unwrap_err();
    assert!(matches!(fault, Refusal::Book(BookError::DiskFull)), "{fault}");
    assert_eq!(dump(&bench.path()), before);
    bench.assert_sound();
    // Room again: the same order is carried out.
    bench.book.limit_size(u64::from(u32::MAX)).unwrap();
    perform(&mut bench.book, action, order).unwrap();
    let bench = bench.reopen();
    assert!(actions::photo(&bench.book, leaf).unwrap().unwrap().len() == 300_000);
    bench.assert_sound();
}

#[test]
fn a_backup_is_made_once_a_day_and_can_be_put_back() -> TestResult {
    let (_folder, path) = closed_book();
    for (date, made) in [("2026-03-14", 1), ("2026-03-14", 1), ("2026-03-15", 2)] {
        let book = Book::open(&path, Access::Write, day(date))?;
        assert_eq!(book.backup_fault(), None);
        assert_eq!(book::backup::list(&path)?.len(), made);
    }
    let newest = book::backup::list(&path)?.remove(0);
    assert_eq!(newest.at, day("2026-03-15").and_hms_opt(0, 0, 0).unwrap());
    assert!(newest.path.ends_with("bench backups/bench 2026-03-15.studiobook"), "{}", newest.path.display());

    let mut book = Book::open(&path, Access::Write, day("2026-03-15"))?;
    let order = Order { key: ActionKey(1 << 80), at: noon("2026-03-15") };
    perform(&mut book, Action::SaveItem { id: None, item: enamel("Later") }, order)?;
    assert!(matches!(book::backup::restore(&path, &newest.path, noon("2026-03-15")), Err(BookError::InUse(_))));
    let by_hand = book.backup(None, noon("2026-03-15"))?;
    assert!(by_hand.exists());
    let elsewhere = path.with_file_name("copy.studiobook");
    assert_eq!(book.backup(Some(&elsewhere), noon("2026-03-15"))?, elsewhere);
    assert!(matches!(book.backup(Some(&elsewhere), noon("2026-03-15")), Err(BookError::Exists(_))));
    drop(book);
    let with_later = dump(&path);
    let kept = book::backup::restore(&path, &newest.path, noon("2026-03-15"))?.unwrap();
    assert_eq!(dump(&kept), with_later);
    assert_eq!(dump(&elsewhere), with_later);
    let book = Book::open(&path, Access::Write, day("2026-03-15"))?;
    assert_eq!(snapshot(&book)?.stock.len(), 4);
    assert!(check(&book)?.problems.is_empty());
    drop(book);
    book::backup::restore(&path, &kept, noon("2026-03-16"))?;
    assert_eq!(dump(&path), with_later);
    let left: Vec<PathBuf> = fs::read_dir(path.parent().unwrap())?
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.to_string_lossy().ends_with(".part"))
        .collect();
    assert!(left.is_empty(), "{left:?}");
    Ok(())
}

#[test]
fn a_damaged_backup_is_not_put_back_and_a_damaged_book_is_kept_when_one_is() -> TestResult {
    let (_folder, path) = closed_book();
    drop(Book::open(&path, Access::Write, day("2026-03-14"))?);
    let good = book::backup::list(&path)?.remove(0).path;
    let bad = path.with_file_name("bad.studiobook");
    let mut bytes = fs::read(&good)?;
    for byte in &mut bytes[4096..4400] {
        *byte ^= 0x5A;
    }
    fs::write(&bad, &bytes)?;
    let before = fs::read(&path)?;
    assert!(matches!(book::backup::restore(&path, &bad, noon("2026-03-15")), Err(BookError::Damaged { .. })));
    assert!(fs::read(&path)? == before);
    fs::write(&path, &bytes)?;
    let kept = book::backup::restore(&path, &good, noon("2026-03-15"))?.unwrap();
    assert!(fs::read(kept)? == bytes);
    let book = Book::open(&path, Access::Write, day("2026-03-15"))?;
    assert!(check(&book)?.problems.is_empty());
    Ok(())
}

#[test]
fn a_check_finds_what_another_program_spoiled() {
    for (sql, found) in [
        ("UPDATE item_state SET on_hand_e9 = on_hand_e9 + 1 WHERE item_id = 1", "not what its movements come to"),
        ("UPDATE design SET name = 'Else' WHERE id = 1", "name it differently"),
        ("DELETE FROM design_material WHERE design_id = 1", "links to stock"),
        ("UPDATE item SET kind = 'sheet' WHERE id = 1", "filed under sheet"),
        ("UPDATE recording SET action_id = 1", "in the middle of an action"),
        ("UPDATE inverse SET statement = 'DROP TABLE item' WHERE id = (SELECT max(id) FROM inverse)", "undo log"),
        ("UPDATE sheet SET body = '{}' WHERE id = 1", "sheet"),
        ("DELETE FROM price_line", "is empty"),
    ] {
        let (_folder, path) = closed_book();
        let connection = Connection::open(&path).unwrap();
        connection.execute(sql, []).unwrap();
        drop(connection);
        let book = Book::open(&path, Access::Read, day("2026-03-14")).unwrap();
        let problems = check(&book).unwrap().problems;
        assert!(problems.iter().any(|problem| problem.contains(found)), "{sql}: {problems:?}");
    }
}

#[test]
fn a_strange_statement_in_the_undo_log_is_not_run() {
    let (_folder, path) = closed_book();
    let connection = Connection::open(&path).unwrap();
    connection
        .execute("UPDATE inverse SET statement = 'DROP TABLE item' WHERE id = (SELECT max(id) FROM inverse)", [])
        .unwrap();
    drop(connection);
    let before = dump(&path);
    let mut book = Book::open(&path, Access::Write, day("2026-03-14")).unwrap();
    let order = Order { key: ActionKey(1 << 90), at: noon("2026-03-14") };
    assert!(matches!(undo(&mut book, order), Err(Refusal::Book(BookError::Odd(_)))));
    drop(book);
    assert_eq!(dump(&path), before);
}

#[test]
fn a_corrected_price_flows_to_what_was_issued() -> TestResult {
    let mut bench = Bench::new();
    let green = bench.enamel("Fen green");
    bench.receive(green, "2026-01-10", "100", "10.00");
    bench.issue(green, "2026-02-01", "60")?;
    let lot = LotId(actions::movements(&bench.book, green)?[0].id.0);
    let effect = actions::correction_effect(&bench.book, lot, money("15"))?.unwrap();
    assert_eq!((effect.issued.before, effect.issued.after), (money("6"), money("9")));
    assert_eq!(effect.lines.len(), 1);
    let correct = |date: &str, cost: &str| Action::CorrectLot {
        lot,
        date: day(date),
        cost: money(cost),
        note: "The invoice came".to_owned(),
    };
    let done = bench.perform(correct("2026-03-01", "15"))?;
    assert_eq!(done.name, format!("Correct lot {} of Fen green from 10 to 15", lot.0));
    let row = snapshot(&bench.book)?.item(green).cloned().unwrap();
    assert_eq!((row.value, row.replacement_price), (money("6"), Some(decimal("0.15"))));
    // On a past day, too: the lot never cost anything else.
    assert_eq!(actions::stock_value(&bench.book, day("2026-01-31"), ValuationMethod::Fifo)?.total, money("15"));
    bench.perform(correct("2026-03-02", "12"))?;
    let told: Vec<(Money, Money)> =
        actions::corrections(&bench.book, green)?.iter().map(|one| (one.before, one.cost)).collect();
    assert_eq!(told, [(money("10"), money("15")), (money("15"), money("12"))]);
    assert_eq!(actions::lot(&bench.book, lot)?.unwrap().cost, Some(money("12")));
    assert_eq!(actions::movements(&bench.book, green)?[0].cost, Some(money("12")));
    bench.assert_sound();
    bench.undo()?;
    assert_eq!(snapshot(&bench.book)?.item(green).unwrap().value, money("6"));
    let connection = Connection::open(bench.path())?;
    for sql in ["UPDATE lot_correction SET cost_e6 = 1", "DELETE FROM lot_correction"] {
        let said = connection.execute(sql, []).unwrap_err().to_string();
        assert!(said.contains("a correction is never"), "{said}");
    }
    Ok(())
}

#[test]
fn what_is_reclaimed_at_an_items_cost_follows_it() -> TestResult {
    let mut bench = Bench::new();
    let (green, flux, counter) = (bench.enamel("Fen green"), bench.enamel("Flux"), bench.enamel("Counter"));
    bench.receive(green, "2026-01-10", "100", "10.00");
    bench.issue(green, "2026-02-01", "60")?;
    bench.receive(flux, "2026-01-10", "100", "20.00");
    let reclaim = |into: ItemId, date: &str, from: ItemId| Action::WashBack {
        taking: taking(into, date, "10"),
        cost: WashBackCost::FromItem(from),
    };
    // 10 g at 0.10 and at 0.20 into the counter jar, 10 g of it at 0.15 back into the flux, 10 g of the green into itself.
    bench.perform(reclaim(counter, "2026-02-02", green))?;
    bench.perform(reclaim(counter, "2026-02-02", flux))?;
    bench.perform(reclaim(flux, "2026-02-03", counter))?;
    bench.perform(reclaim(green, "2026-02-03", green))?;
    let values = |bench: &Bench| {
        let seen = snapshot(&bench.book).unwrap();
        [green, flux, counter].map(|item| seen.item(item).unwrap().value)
    };
    assert_eq!(values(&bench), [money("5"), money("21.5"), money("3")]);
    assert_eq!(actions::movements(&bench.book, counter)?[0].note, "Reclaimed from Fen green");
    bench.assert_sound();
    let first = |item: ItemId, bench: &Bench| LotId(actions::movements(&bench.book, item).unwrap()[0].id.0);
    let correct = |lot: LotId, cost: &str| Action::CorrectLot {
        lot,
        date: day("2026-03-01"),
        cost: money(cost),
        note: String::new(),
    };
    // The green cost twice as much after all: 0.20 a gram; the counter jar 4.00 for 20 g, the flux 20.00 and 2.00.
    let lot = first(green, &bench);
    bench.perform(correct(lot, "20"))?;
    assert_eq!(values(&bench), [money("10"), money("22"), money("4")]);
    let told = actions::corrections(&bench.book, counter)?;
    assert_eq!(told.iter().map(|one| (one.before, one.cost)).collect::<Vec<_>>(), [(money("1"), money("2"))]);
    bench.assert_sound();
    let corrected = dump(&bench.path());
    bench.undo()?;
    assert_eq!(values(&bench), [money("5"), money("21.5"), money("3")]);
    bench.redo()?;
    assert_eq!(dump(&bench.path()), corrected);
    let said = bench.perform(correct(first(counter, &bench), "1")).unwrap_err().to_string();
    assert!(said.contains("was reclaimed from Fen green, and its cost follows it"), "{said}");
    bench.receive(green, "2026-02-02", "40", "20.00");
    // 40 g at 0.20 and, entered after the wash-back, 40 g at 0.50: the wash-back of that day came before it, the one of the
    // next day is at 28.00 / 80 g.
    assert_eq!(values(&bench), [money("31.5"), money("22"), money("4")]);
    bench.receive(green, "2026-02-01", "40", "20.00");
    // Now 28.00 / 80 g was the price before the counter jar was filled: 3.50 and 2.00 in it, 5.50 / 20 g · 10 g in the flux,
    // and 48.00 / 120 g · 10 g in the green itself.
    assert_eq!(values(&bench), [money("52"), money("22.75"), money("5.5")]);
    bench.assert_sound();
    Ok(())
}

#[test]
fn a_closed_period_refuses_what_would_change_it_and_says_so() -> TestResult {
    let mut bench = Bench::new();
    let green = bench.enamel("Fen green");
    bench.receive(green, "2025-12-20", "100", "10.00");
    bench.receive(green, "2026-01-02", "100", "12.00");
    assert_eq!(bench.perform(Action::ClosePeriod(Some(day("2025-12-31"))))?.name, "Close the period up to 2025-12-31");
    assert_eq!(snapshot(&bench.book)?.settings.closed_until, Some(day("2025-12-31")));
    let lots: Vec<LotId> = actions::movements(&bench.book, green)?.iter().map(|one| LotId(one.id.0)).collect();
    let correct = |lot: usize| Action::CorrectLot {
        lot: lots[lot],
        date: day("2026-02-01"),
        cost: money("11"),
        note: String::new(),
    };
    let before = dump(&bench.path());
    let closed = "Date: 2025-12-31 was given; the period up to 2025-12-31 is closed, a day after it is accepted";
    let mut late = enamelwright::studio::defaults::settings();
    late.valuation = ValuationMethod::Average;
    late.closed_until = Some(day("2025-12-31"));
    let mut file = plan(green);
    file.movements[0].date = day("2025-12-31");
    for (start, action) in [
        (closed, Action::Receive(vec![receipt(green, "2025-12-31", "1", "1")])),
        (closed, Action::Issue(taking(green, "2025-12-31", "1"))),
        (closed, Action::WriteOff(taking(green, "2025-12-31", "1"))),
        (closed, Action::Return { taking: taking(green, "2025-12-31", "1"), lot: None }),
        (closed, Action::Count(taking(green, "2025-12-31", "1"))),
        (closed, Action::WashBack { taking: taking(green, "2025-12-31", "1"), cost: WashBackCost::Nothing }),
        (closed, Action::Import(file)),
        ("lot 1 of Fen green came in on 2025-12-20, and the period", correct(0)),
        ("How stock is valued: average was given; fifo", Action::SaveSettings(late)),
        ("the period up to 2025-12-31 is closed already", Action::ClosePeriod(Some(day("2025-12-31")))),
    ] {
        let said = bench.perform(action).unwrap_err().to_string();
        assert!(said.starts_with(start), "{said} (expected {start})");
        assert_eq!(dump(&bench.path()), before);
    }
    bench.issue(green, "2026-01-01", "1")?;
    bench.perform(correct(1))?;
    // Settings are not the way to open it, nor to value it otherwise.
    for until in [None, Some(day("2025-06-30")), Some(day("2026-06-30"))] {
        let mut settings = enamelwright::studio::defaults::settings();
        settings.closed_until = until;
        bench.perform(Action::SaveSettings(settings.clone()))?;
        assert_eq!(snapshot(&bench.book)?.settings.closed_until, Some(day("2025-12-31")));
        settings.valuation = ValuationMethod::Average;
        let said = bench.perform(Action::SaveSettings(settings)).unwrap_err().to_string();
        assert!(said.starts_with("How stock is valued: average was given; fifo"), "{said}");
    }
    bench.perform(Action::ClosePeriod(None))?;
    bench.perform(correct(0))?;
    bench.assert_sound();
    Ok(())
}

#[test]
fn an_order_is_received_in_parts_that_add_up_to_its_invoice() -> TestResult {
    let mut bench = Bench::new();
    let (green, flux) = (bench.enamel("Fen green"), bench.enamel("Flux"));
    let placed = bench.perform(Action::SaveOrder { id: None, order: order_of([green, flux]) })?;
    assert_eq!(placed.name, "Order Tidewater supply T-77");
    let Some(Added::Order(id)) = placed.added else { panic!("{placed:?}") };
    assert_eq!(snapshot(&bench.book)?.open_orders.len(), 1);
    let order = actions::order(&bench.book, id)?.unwrap().order;
    // (30 + 20 + 7 - 1) EUR at 1.1 is 61.60; charges of 6 are spread 3.6 and 2.4, so 33.6 and 22.4 EUR.
    assert_eq!(actions::landed(&bench.book, &order)?, [money("36.96"), money("24.64")]);
    let receive = |line: usize, packs: &str| Action::ReceiveOrder {
        order: id,
        date: day("2026-02-12"),
        lines: vec![delivered(&order.lines[line], packs)],
    };
    assert_eq!(bench.perform(receive(0, "1"))?.name, "Receive part of order Tidewater supply T-77");
    assert_eq!(snapshot(&bench.book)?.item(green).unwrap().value, money("12.32"));
    for (start, action) in [
        ("Packs: 3 was given; 3 came, but only 2", receive(0, "3")),
        ("Line 1, packs: 0", receive(0, "0")),
        ("Lines: 0", Action::ReceiveOrder { order: id, date: day("2026-02-12"), lines: Vec::new() }),
        (
            "Date: 2026-02-10 was given; the day of the order",
            Action::ReceiveOrder { order: id, date: day("2026-02-10"), lines: vec![delivered(&order.lines[0], "1")] },
        ),
        ("there is no order", Action::ReceiveOrder { order: OrderId(9), date: day("2026-02-12"), lines: Vec::new() }),
        ("Line 1, item and pack", change_order(id, &order, &|order| order.lines[0].pack = grams("50"))),
        ("Line 1, packs: 0.5", change_order(id, &order, &|order| order.lines[0].packs = grams("0.5"))),
        ("Lines: a line taken away", change_order(id, &order, &|order| drop(order.lines.remove(0)))),
        ("Lines: 0", change_order(id, &order, &|order| order.lines.clear())),
        ("Exchange rate: 0", change_order(id, &order, &|order| order.rate = Decimal::ZERO)),
        ("Freight: -1", change_order(id, &order, &|order| order.freight = money("-1"))),
        (
            "Order: Tidewater supply T-77 was given; the discount",
            change_order(id, &order, &|order| order.discount = money("99")),
        ),
        ("Line 2, price: -1", change_order(id, &order, &|order| order.lines[1].price = money("-1"))),
        (
            "File: 5242881 bytes",
            Action::Attach {
                order: id,
                file: Attachment {
                    name: "photo".to_owned(),
                    media_type: "image/jpeg".to_owned(),
                    bytes: vec![0; 5 * 1024 * 1024 + 1],
                },
            },
        ),
    ] {
        let said = bench.perform(action).unwrap_err().to_string();
        assert!(said.starts_with(start), "{said} (expected {start})");
    }
    bench.issue(green, "2026-02-12", "50")?;
    // The invoice says twice the freight: (30 + 20 + 14 - 1) · 1.1 = 69.30, the first line 41.58, a third of it 13.86.
    bench.perform(change_order(id, &order, &|order| order.freight = money("14")))?;
    assert_eq!(snapshot(&bench.book)?.item(green).unwrap().value, money("6.93"));
    bench.perform(receive(0, "2"))?;
    assert_eq!(bench.perform(receive(1, "1"))?.name, "Receive order Tidewater supply T-77");
    assert_eq!(snapshot(&bench.book)?.open_orders.len(), 0);
    let whole = actions::order(&bench.book, id)?.unwrap();
    let all = whole.deliveries.iter().flatten().try_fold(Money::ZERO, |all, one| all.plus(one.cost))?;
    assert_eq!(all, money("69.3"));
    assert_eq!(actions::orders(&bench.book)?.len(), 1);
    bench.assert_sound();
    Ok(())
}

fn change_order(id: OrderId, order: &PurchaseOrder, change: &dyn Fn(&mut PurchaseOrder)) -> Action {
    let mut order = order.clone();
    change(&mut order);
    Action::SaveOrder { id: Some(id), order }
}

#[test]
fn what_is_cut_shares_the_sheets_value_and_follows_it() -> TestResult {
    let mut bench = Bench::new();
    let (sheet, blank) = (bench.enamel("Sheet"), bench.enamel("Blank"));
    bench.receive(sheet, "2026-02-01", "100", "30");
    let done = bench.perform(Action::Cut(cut_of(sheet, blank)))?;
    assert_eq!((done.name.as_str(), done.moved_value), ("Cut 60 g of Sheet", Some(money("18"))));
    let value =
        |bench: &Bench| -> Vec<Money> { snapshot(&bench.book).unwrap().stock.iter().map(|row| row.value).collect() };
    // Half an hour at 22.00. By name: blank, off-cut, sheet; 18 shared 70.69 : 10 : 5 with the scrap.
    assert_eq!(value(&bench), [money("25.849107"), money("2.100595"), money("12")]);
    bench.assert_sound();
    let lots: Vec<LotId> =
        [sheet, blank].iter().map(|item| LotId(actions::movements(&bench.book, *item).unwrap()[0].id.0)).collect();
    let correct = |lot: LotId, cost: &str| Action::CorrectLot {
        lot,
        date: day("2026-03-01"),
        cost: money(cost),
        note: String::new(),
    };
    let said = bench.perform(correct(lots[1], "1")).unwrap_err().to_string();
    assert!(said.contains("its cost follows the sheet"), "{said}");
    bench.perform(correct(lots[0], "60"))?;
    // The metal is worth twice as much, the bench time what it was.
    assert_eq!(value(&bench), [money("40.698215"), money("4.20119"), money("24")]);
    bench.assert_sound();
    let corrected = dump(&bench.path());
    bench.undo()?;
    assert_eq!(value(&bench), [money("25.849107"), money("2.100595"), money("12")]);
    bench.redo()?;
    assert_eq!(dump(&bench.path()), corrected);
    for (start, action) in [
        ("Sheet: only 40 g on hand", Action::Cut(cut_of(sheet, blank))),
        ("Pieces: 0", Action::Cut(Cut { lines: Vec::new(), ..cut_of(sheet, blank) })),
        ("Minutes at the bench: -1", Action::Cut(Cut { bench_minutes: decimal("-1"), ..cut_of(sheet, blank) })),
        ("Scrap: -1", Action::Cut(Cut { scrap_g: grams("-1"), ..cut_of(sheet, blank) })),
    ] {
        let said = bench.perform(action).unwrap_err().to_string();
        assert!(said.starts_with(start), "{said} (expected {start})");
    }
    Ok(())
}

#[test]
fn a_file_is_brought_in_whole_or_not_at_all_and_can_be_stopped() -> TestResult {
    let mut bench = Bench::new();
    let green = bench.enamel("Fen green");
    let before = dump(&bench.path());
    let order = bench.order();
    let mut told = Vec::new();
    let stopped = actions::import(&mut bench.book, &plan(green), order, &mut |done, all| {
        told.push((done, all));
        done < all
    });
    assert!(matches!(stopped, Err(Refusal::Stopped)));
    assert_eq!(told, [(0, 3), (3, 3)]);
    assert_eq!(dump(&bench.path()), before);
    let done = actions::import(&mut bench.book, &plan(green), order, &mut |_, _| true)?;
    assert_eq!(done.name, "Bring in 1 item and 3 movements from shelf.csv");
    assert_eq!(actions::import_shape(&bench.book, "date|item")?.as_deref(), Some("{}"));
    bench.assert_sound();
    bench.undo()?;
    assert_eq!(dump(&bench.path()), before);
    Ok(())
}

/// Writes the book of version 1 as SQL, when asked to: `cargo test --test book -- --ignored writes_the_old_book`.
#[test]
#[ignore = "writes tests/data"]
fn writes_the_old_book_of_version_1() {
    let (_folder, path) = closed_book();
    let connection = Connection::open(&path).unwrap();
    let mut sql = format!(
        "-- A studio book of version 1 with one of everything a person can do, as it was written.\n\
         PRAGMA application_id = {};\nPRAGMA user_version = 1;\n",
        book::APPLICATION_ID
    );
    let mut query = connection
        .prepare(
            "SELECT type, name, sql FROM sqlite_schema WHERE sql IS NOT NULL AND name NOT LIKE 'sqlite_%'
             ORDER BY CASE type WHEN 'table' THEN 0 WHEN 'index' THEN 1 ELSE 2 END, rowid",
        )
        .unwrap();
    let parts: Vec<(String, String, String)> =
        query.query_map([], |row| Ok((row.get(0)?, row.get(1)?, row.get(2)?))).unwrap().map(Result::unwrap).collect();
    for (_, _, text) in parts.iter().filter(|part| part.0 == "table") {
        sql.push_str(&format!("{text};\n"));
    }
    let tables = parts.iter().filter(|part| part.0 == "table").map(|part| part.1.as_str());
    for table in tables.chain(["sqlite_sequence"]) {
        let mut columns =
            connection.prepare(&format!("SELECT name FROM pragma_table_info('{table}') ORDER BY cid")).unwrap();
        let columns: Vec<String> = columns.query_map([], |row| row.get(0)).unwrap().map(Result::unwrap).collect();
        let quoted: Vec<String> = columns.iter().map(|column| format!("quote({column})")).collect();
        let values = quoted.join(" || ', ' || ");
        let mut rows = connection.prepare(&format!("SELECT {values} FROM {table} ORDER BY 1")).unwrap();
        for row in rows.query_map([], |row| row.get::<_, String>(0)).unwrap() {
            sql.push_str(&format!("INSERT INTO {table} ({}) VALUES ({});\n", columns.join(", "), row.unwrap()));
        }
    }
    for (_, _, text) in parts.iter().filter(|part| part.0 != "table") {
        sql.push_str(&format!("{text};\n"));
    }
    fs::write(Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/book-version-1.sql"), sql).unwrap();
}

#[test]
fn a_book_written_by_version_1_opens_whole_and_can_be_undone() -> TestResult {
    let folder = tempfile::tempdir()?;
    let path = folder.path().join("old.studiobook");
    let connection = Connection::open(&path)?;
    connection.execute_batch(&format!("BEGIN; {} COMMIT;", include_str!("data/book-version-1.sql")))?;
    drop(connection);
    let mut book = Book::open(&path, Access::Write, day("2027-01-01"))?;
    let seen = snapshot(&book)?;
    assert_eq!((seen.stock.len(), seen.designs.len(), seen.price_lists.len()), (2, 2, 1));
    assert_eq!(check(&book)?.problems, Vec::<String>::new());
    // The old list of movements, row by row, is the new one; numbers go on where they were.
    let rows = |path: &Path| dump(path).remove("movement").unwrap();
    let old = folder.path().join("as-it-was.sqlite");
    Connection::open(&old)?.execute_batch(&format!("BEGIN; {} COMMIT;", include_str!("data/book-version-1.sql")))?;
    let old = Connection::open(&old)?;
    let mut query = old.prepare("SELECT * FROM movement ORDER BY id")?;
    let columns = query.column_count();
    let before = query
        .query_map([], |row| (0..columns).map(|column| row.get(column)).collect::<Result<Vec<Value>, _>>())?
        .collect::<Result<Vec<_>, _>>()?;
    assert_eq!(rows(&path), before);
    let highest: i64 =
        old.query_row("SELECT max(seq) FROM sqlite_sequence WHERE name = 'movement'", [], |row| row.get(0))?;
    let item = seen.stock[0].id;
    let order = |key: u128| Order { key: ActionKey((1 << 101) + key), at: noon("2027-01-01") };
    perform(
        &mut book,
        Action::WashBack { taking: taking(item, "2027-01-01", "1"), cost: WashBackCost::Nothing },
        order(1),
    )?;
    assert_eq!(actions::movements(&book, item)?.last().unwrap().id.0, highest + 1);
    assert_eq!(check(&book)?.problems, Vec::<String>::new());
    undo(&mut book, order(2))?;
    let mut undone = 0_u128;
    while undo(&mut book, Order { key: ActionKey((1 << 100) + undone), at: noon("2027-01-01") }).is_ok() {
        undone += 1;
    }
    assert_eq!(usize::try_from(undone)?, seen.history.len());
    assert!(snapshot(&book)?.stock.is_empty());
    Ok(())
}

/// What a random person does next.
#[derive(Debug, Clone)]
enum Deed {
    Item,
    Receive(u8, u16, u32, u32),
    Issue(u8, u16, u32),
    WriteOff(u8, u16, u32),
    Return(u8, u16, u32),
    Count(u8, u16, u32),
    WashBack(u8, u16, u32, u8),
    Correct(u8, u16, u32),
    Close(u16),
    Cut(u8, u16, u32, u8),
    Design(u8, u8),
    Method(u8),
    Undo,
    Redo,
}

fn deeds() -> impl Strategy<Value = Vec<Deed>> {
    let deed = prop_oneof![
        1 => Just(Deed::Item),
        5 => (any::<u8>(), 0..400_u16, 1..2_000_000_u32, 0..5_000_000_u32)
            .prop_map(|(item, day, quantity, cost)| Deed::Receive(item, day, quantity, cost)),
        5 => (any::<u8>(), 0..400_u16, 1..1_000_000_u32).prop_map(|(item, day, quantity)| Deed::Issue(item, day, quantity)),
        2 => (any::<u8>(), 0..400_u16, 1..500_000_u32).prop_map(|(item, day, quantity)| Deed::WriteOff(item, day, quantity)),
        2 => (any::<u8>(), 0..400_u16, 1..500_000_u32).prop_map(|(item, day, quantity)| Deed::Return(item, day, quantity)),
        2 => (any::<u8>(), 0..400_u16, 0..2_000_000_u32).prop_map(|(item, day, quantity)| Deed::Count(item, day, quantity)),
        2 => (any::<u8>(), 0..400_u16, 1..500_000_u32, any::<u8>())
            .prop_map(|(item, day, quantity, from)| Deed::WashBack(item, day, quantity, from)),
        3 => (any::<u8>(), 0..400_u16, 0..5_000_000_u32)
            .prop_map(|(lot, day, cost)| Deed::Correct(lot, day, cost)),
        1 => (0..450_u16).prop_map(Deed::Close),
        3 => (any::<u8>(), 0..400_u16, 1..500_000_u32, any::<u8>())
            .prop_map(|(sheet, day, quantity, blank)| Deed::Cut(sheet, day, quantity, blank)),
        1 => (any::<u8>(), any::<u8>()).prop_map(|(design, item)| Deed::Design(design, item)),
        1 => any::<u8>().prop_map(Deed::Method),
        2 => Just(Deed::Undo),
        1 => Just(Deed::Redo),
    ];
    prop::collection::vec(deed, 1..40)
}

fn action_of(deed: &Deed, items: &[ItemId]) -> Option<Action> {
    let pick = |number: u8| items.get(usize::from(number) % items.len().max(1)).copied();
    let taking = |item: u8, days: u16, thousandths: u32| {
        Some(Taking {
            item: pick(item)?,
            date: day("2025-01-01") + chrono::Days::new(u64::from(days)),
            quantity: Quantity::new(Decimal::new(i64::from(thousandths), 3)).unwrap(),
            typed: String::new(),
            note: String::new(),
        })
    };
    match *deed {
        Deed::Item => Some(Action::SaveItem { id: None, item: enamel("Random") }),
        Deed::Receive(item, days, quantity, cost) => {
            let Taking { item, date, quantity, typed, note } = taking(item, days, quantity)?;
            Some(Action::Receive(vec![Receipt {
                item,
                date,
                quantity,
                typed,
                cost: Money::new(Decimal::new(i64::from(cost), 4)).unwrap(),
                lot_number: String::new(),
                supplier: String::new(),
                note,
            }]))
        }
        Deed::Issue(item, days, quantity) => taking(item, days, quantity).map(Action::Issue),
        Deed::WriteOff(item, days, quantity) => taking(item, days, quantity).map(Action::WriteOff),
        Deed::Return(item, days, quantity) => {
            taking(item, days, quantity).map(|taking| Action::Return { taking, lot: None })
        }
        Deed::Count(item, days, quantity) => taking(item, days, quantity).map(Action::Count),
        Deed::WashBack(item, days, quantity, from) => Some(Action::WashBack {
            taking: taking(item, days, quantity)?,
            cost: if from % 3 == 0 { WashBackCost::Nothing } else { WashBackCost::FromItem(pick(from)?) },
        }),
        Deed::Correct(lot, days, cost) => Some(Action::CorrectLot {
            lot: LotId(i64::from(lot % 20) + 1),
            date: day("2026-01-01") + chrono::Days::new(u64::from(days)),
            cost: Money::new(Decimal::new(i64::from(cost), 4)).unwrap(),
            note: String::new(),
        }),
        Deed::Cut(sheet, days, quantity, blank) => {
            let Taking { item, date, quantity, typed, .. } = taking(sheet, days, quantity)?;
            let mut cut = Cut { sheet: item, date, quantity, typed, ..cut_of(item, pick(blank)?) };
            cut.lines.truncate(1 + usize::from(blank) % 2);
            if let Some(CutLine { item, .. }) = cut.lines.get_mut(1) {
                *item = CutItem::Known(pick(sheet.wrapping_add(1))?);
            }
            Some(Action::Cut(cut))
        }
        Deed::Close(days) => {
            let until = day("2025-01-01") + chrono::Days::new(u64::from(days));
            Some(Action::ClosePeriod((days < 200).then_some(until)))
        }
        Deed::Design(code, item) => Some(Action::SaveDesign {
            id: None,
            design: design(&format!("D{code}")),
            follows: follows(pick(item)?),
            notes: String::new(),
        }),
        Deed::Method(odd) => {
            let mut settings = enamelwright::studio::defaults::settings();
            settings.valuation = if odd % 2 == 0 { ValuationMethod::Fifo } else { ValuationMethod::Average };
            Some(Action::SaveSettings(settings))
        }
        Deed::Undo | Deed::Redo => None,
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, failure_persistence: None, ..ProptestConfig::default() })]

    /// Whatever is done in whatever order, back-dated or refused: lists agree with a full pass, nothing is made or
    /// lost, and undoing all then doing all again is identity.
    #[test]
    fn any_sequence_of_actions_keeps_every_law(deeds in deeds()) {
        let mut bench = Bench::new();
        let empty = dump(&bench.path());
        bench.enamel("First");
        for deed in &deeds {
            let items: Vec<ItemId> = snapshot(&bench.book).unwrap().stock.iter().map(|row| row.id).collect();
            let done = match deed {
                Deed::Undo => bench.undo().map(|_| ()),
                Deed::Redo => bench.redo().map(|_| ()),
                other => action_of(other, &items).map_or(Ok(()), |action| bench.perform(action).map(|_| ())),
            };
            if let Err(Refusal::Book(fault)) = done {
                prop_assert!(false, "{}", fault);
            }
        }
        prop_assert_eq!(check(&bench.book).unwrap().problems, Vec::<String>::new());
        while bench.redo().is_ok() {}
        let full = dump(&bench.path());
        let seen = snapshot(&bench.book).unwrap();
        while bench.undo().is_ok() {}
        prop_assert_eq!(dump(&bench.path()), empty);
        while bench.redo().is_ok() {}
        prop_assert_eq!(dump(&bench.path()), full);
        prop_assert_eq!(&*snapshot(&bench.book).unwrap().stock, &*seen.stock);
        prop_assert_eq!(check(&bench.book).unwrap().problems, Vec::<String>::new());
    }
}
