//! A book to act on, and the things most tests of actions put into it. Each test program adds what is its own.

#![allow(dead_code, reason = "not every test program needs every part")]

use chrono::{NaiveDate, NaiveDateTime};
use enamelwright::actions::{
    Action, ActionKey, Added, Order, Outcome, Receipt, Refusal, check, perform, redo, snapshot, undo,
};
use enamelwright::book::{Access, Book};
use enamelwright::measure::{Currency, Decimal, Money, Quantity, Unit};
use enamelwright::studio::{
    Blank, Buying, Design, DesignCode, DesignId, ElectricKiln, Firing, Follows, HeatSource, Item, ItemDetails, ItemId,
    Kiln, KilnId, KilnRates, Material, MaterialId, MaterialKind, Metal, Outline, Rates, ShareLoadBy, Step, StepKind,
    Thickness,
};
use rusqlite::Connection;
use rusqlite::types::Value;
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::str::FromStr;
use tempfile::TempDir;

/// `2026-03-14`.
pub(crate) fn day(text: &str) -> NaiveDate {
    NaiveDate::parse_from_str(text, "%Y-%m-%d").unwrap()
}

/// `2026-03-14 10:02:30`.
pub(crate) fn time(text: &str) -> NaiveDateTime {
    NaiveDateTime::parse_from_str(text, "%Y-%m-%d %H:%M:%S").unwrap()
}

pub(crate) fn decimal(text: &str) -> Decimal {
    Decimal::from_str(text).unwrap()
}

pub(crate) fn quantity(text: &str) -> Quantity {
    Quantity::new(decimal(text)).unwrap()
}

pub(crate) fn money(text: &str) -> Money {
    Money::new(decimal(text)).unwrap()
}

pub(crate) fn material(id: &str) -> MaterialId {
    MaterialId(id.to_owned())
}

/// A new book in a folder of its own, with orders whose keys count up.
pub(crate) struct Rig {
    pub(crate) folder: TempDir,
    pub(crate) book: Book,
    /// When the next orders are given.
    pub(crate) at: NaiveDateTime,
    orders: u128,
}

impl Rig {
    /// A book on which everything is done at one time.
    pub(crate) fn new(at: &str) -> Self {
        let folder = tempfile::tempdir().unwrap();
        let book = Book::create(&folder.path().join("bench.studiobook")).unwrap();
        Self { folder, book, at: time(at), orders: 0 }
    }

    pub(crate) fn path(&self) -> PathBuf {
        self.folder.path().join("bench.studiobook")
    }

    pub(crate) fn order(&mut self) -> Order {
        self.orders += 1;
        Order { key: ActionKey(self.orders), at: self.at }
    }

    pub(crate) fn perform(&mut self, action: Action) -> Result<Outcome, Refusal> {
        let order = self.order();
        perform(&mut self.book, action, order)
    }

    /// What the action added.
    pub(crate) fn added(&mut self, action: Action) -> Added {
        self.perform(action).unwrap().added.unwrap()
    }

    /// What the action is called in the history.
    pub(crate) fn name(&mut self, action: Action) -> String {
        self.perform(action).unwrap().name
    }

    /// Why the action was refused.
    pub(crate) fn refused(&mut self, action: Action) -> String {
        self.perform(action).unwrap_err().to_string()
    }

    pub(crate) fn undo(&mut self) -> Result<Outcome, Refusal> {
        let order = self.order();
        undo(&mut self.book, order)
    }

    pub(crate) fn redo(&mut self) -> Result<Outcome, Refusal> {
        let order = self.order();
        redo(&mut self.book, order)
    }

    pub(crate) fn save_item(&mut self, item: Item) -> ItemId {
        match self.added(Action::SaveItem { id: None, item }) {
            Added::Item(id) => id,
            other => panic!("{other:?}"),
        }
    }

    pub(crate) fn save_design(&mut self, design: Design, follows: Follows) -> DesignId {
        match self.added(Action::SaveDesign { id: None, design, follows, notes: String::new() }) {
            Added::Design(id) => id,
            other => panic!("{other:?}"),
        }
    }

    pub(crate) fn save_kiln(&mut self, kiln: Kiln) -> KilnId {
        match self.added(Action::SaveKiln { id: None, kiln }) {
            Added::Kiln(id) => id,
            other => panic!("{other:?}"),
        }
    }

    /// The check of the book finds nothing, in all that it looks at.
    pub(crate) fn assert_sound(&self) {
        let report = check(&self.book).unwrap();
        assert_eq!(report.problems, Vec::<String>::new());
        assert!(report.checked.len() >= 4);
        snapshot(&self.book).unwrap();
    }

    /// Closes the book and opens it again.
    pub(crate) fn reopen(self) -> Self {
        let path = self.path();
        let Self { folder, book, at, orders } = self;
        drop(book);
        let book = Book::open(&path, Access::Write, at.date()).unwrap();
        Self { folder, book, at, orders }
    }
}

/// Every row a person's work is kept in, read with another connection: all tables but the log of undo itself.
pub(crate) fn dump(path: &Path) -> BTreeMap<String, Vec<Vec<Value>>> {
    let connection = Connection::open(path).unwrap();
    let mut query = connection
        .prepare(
            "SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite%'
             AND name NOT IN ('action', 'action_key', 'inverse', 'change_count')",
        )
        .unwrap();
    let tables: Vec<String> = query.query_map([], |row| row.get(0)).unwrap().map(Result::unwrap).collect();
    for known in ["settings", "batch", "piece", "bench_entry", "timer", "movement", "design", "lot_correction"] {
        assert!(tables.iter().any(|table| table == known), "{known}");
    }
    tables
        .into_iter()
        .map(|table| {
            let mut query = connection.prepare(&format!("SELECT * FROM {table} ORDER BY 1")).unwrap();
            let columns = query.column_count();
            let rows = query
                .query_map([], |row| (0..columns).map(|column| row.get(column)).collect::<Result<Vec<Value>, _>>())
                .unwrap();
            let rows = rows.map(Result::unwrap).collect();
            (table, rows)
        })
        .collect()
}

/// A consumable with no more than a name and a supplier.
pub(crate) fn item(name: &str, unit: Unit) -> Item {
    Item {
        reference: String::new(),
        name: name.to_owned(),
        unit,
        details: ItemDetails::Consumable,
        maker: String::new(),
        maker_number: String::new(),
        supplier: "Tidewater supply".to_owned(),
        shelf: String::new(),
        note: String::new(),
        reorder_level: None,
        lead_bearing: false,
        retired: false,
        buying: Buying::default(),
    }
}

pub(crate) fn receipt(item: ItemId, date: &str, amount: &str, cost: &str) -> Receipt {
    Receipt {
        item,
        date: day(date),
        quantity: quantity(amount),
        typed: format!("{amount} g"),
        cost: money(cost),
        lot_number: String::new(),
        supplier: String::new(),
        note: String::new(),
    }
}

pub(crate) fn kiln(name: &str, electric: ElectricKiln) -> Kiln {
    Kiln { name: name.to_owned(), heat: HeatSource::Electric(Box::new(electric)), note: String::new(), retired: false }
}

/// Room 20 °C, k = 0.5 · 2.8 / 780 kW/K: the model holds up to 1,580 °C, the maker says 1,000 °C.
pub(crate) fn electric() -> ElectricKiln {
    ElectricKiln {
        rated_kw: decimal("2.8"),
        warm_up_minutes: decimal("45"),
        working_celsius: decimal("800"),
        duty: decimal("0.5"),
        room_celsius: decimal("20"),
        rated_max_celsius: decimal("1000"),
        shelf_cm2: decimal("90"),
        furniture_g: decimal("350"),
        door_kwh: decimal("0.02"),
        share_by: ShareLoadBy::Area,
        fitted: None,
        elements_since: day("2026-01-01"),
        thermocouple_since: day("2026-01-01"),
    }
}

/// A step that takes no time and nothing from stock.
pub(crate) fn step(name: &str, kind: StepKind) -> Step {
    Step {
        kind,
        name: name.to_owned(),
        setup_minutes: Decimal::ZERO,
        minutes_per_piece: Decimal::ZERO,
        good: decimal("0.98"),
        uses: Vec::new(),
    }
}

/// A firing of 2.5 minutes.
pub(crate) fn fire(name: &str, celsius: &str, pieces_per_load: u32, attended: &str) -> Step {
    step(
        name,
        StepKind::Fire(Firing {
            celsius: decimal(celsius),
            minutes: decimal("2.5"),
            pieces_per_load,
            attended_minutes_per_load: decimal(attended),
        }),
    )
}

/// A material of a design that is neither lead-bearing nor has a fusing range.
pub(crate) fn held(id: &str, name: &str, kind: MaterialKind, unit: Unit, price: &str) -> Material {
    Material {
        id: material(id),
        name: name.to_owned(),
        kind,
        unit,
        price: decimal(price),
        fusing: None,
        lead_bearing: false,
        metal: None,
    }
}

/// Twelve discs of 30 mm in copper, 9 cm² of shelf each, in Fen green.
pub(crate) fn design(code: &str, steps: Vec<Step>) -> Design {
    Design {
        currency: Currency::USD,
        code: DesignCode::new(code).unwrap(),
        name: format!("Design {code}"),
        pieces: 12,
        for_children: false,
        rates: Rates {
            labour_per_hour: decimal("24.00"),
            overhead_per_hour: decimal("6.50"),
            scrap_value: Decimal::ZERO,
        },
        kiln: KilnRates {
            kwh_per_load: decimal("0.35"),
            price_per_kwh: decimal("0.19"),
            recovery_minutes: decimal("4"),
            wear_per_hour: decimal("0.45"),
            solder_margin_c: decimal("38"),
        },
        blank: Blank {
            metal: Metal::Copper,
            thickness: Thickness::Gauge(18),
            outline: Outline::Disc { diameter_mm: decimal("30") },
            dome_height_mm: Decimal::ZERO,
            holes_mm: Vec::new(),
            solder_flow_c: None,
            count: 1,
        },
        materials: vec![held("green", "Fen green", MaterialKind::Enamel, Unit::Gram, "0.112")],
        steps,
        channels: Vec::new(),
    }
}
