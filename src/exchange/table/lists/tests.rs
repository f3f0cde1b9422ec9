use super::*;
use crate::exchange::table::cell::Workbook;
use crate::exchange::table::columns::{Heading, ImportKind, Mapping};
use crate::exchange::table::made::{Table, Value};
use crate::exchange::table::{Flow, Found, Preview, preview, read, write};
use crate::measure::{Currency, Decimal, Money, Quantity, Unit};
use crate::studio::{
    EnamelKind, Fusing, Item, ItemDetails, ItemId, Metal, Movement, MovementId, MovementKind, Outline, Thickness,
};
use chrono::NaiveDate;

fn decimal(text: &str) -> Decimal {
    text.parse().unwrap()
}

fn item(reference: &str, unit: Unit, details: ItemDetails) -> Item {
    Item {
        reference: reference.to_owned(),
        name: format!("=name of {reference}"),
        unit,
        details,
        maker: "'Maker".to_owned(),
        maker_number: "007".to_owned(),
        supplier: "+49".to_owned(),
        shelf: "-A1".to_owned(),
        note: "two\nlines, \"quoted\"".to_owned(),
        reorder_level: Some(Quantity::new(decimal("12.000000001")).unwrap()),
        lead_bearing: true,
        retired: false,
        buying: crate::studio::Buying {
            lead_days: Some(14),
            pack: Some(crate::studio::Pack {
                words: "1,5 kg tub".to_owned(),
                quantity: Quantity::new(decimal("1500")).unwrap(),
            }),
            minimum_order_packs: Some(3),
        },
    }
}

fn all_kinds() -> Vec<Item> {
    let (metal, thickness) = (Metal::FineSilver, Thickness::Gauge(-1));
    let outline = Outline::Polygon {
        points_mm: vec![["0", "0"], ["30", "0"], ["15", "-26.5"]].into_iter().map(|pair| pair.map(decimal)).collect(),
    };
    vec![
        item(
            "SH-1",
            Unit::Each,
            ItemDetails::Sheet { metal, thickness, size_mm: Some([decimal("152.4"), decimal("304.8")]) },
        ),
        item("WI-1", Unit::Millimetre, ItemDetails::Wire { metal, thickness: Thickness::ThicknessMm(decimal("0.81")) }),
        item("TU-1", Unit::Millimetre, ItemDetails::Tube { metal, outer_mm: decimal("6"), wall_mm: decimal("0.5") }),
        item(
            "BL-1",
            Unit::Each,
            ItemDetails::Blank {
                metal: Metal::Sterling,
                thickness: Thickness::Gauge(20),
                outline,
                dome_height_mm: decimal("2.5"),
                holes_mm: vec![decimal("2"), decimal("1.25")],
                solder_flow_c: Some(decimal("745")),
            },
        ),
        item(
            "EN-1",
            Unit::Gram,
            ItemDetails::Enamel {
                enamel: EnamelKind::Opalescent,
                swatch: [0x3a, 0x7d, 0x04],
                mesh: "80/325".to_owned(),
                fusing: Some(Fusing::Hard),
                firing_c: Some([decimal("780"), decimal("820.5")]),
            },
        ),
        item("FI-1", Unit::Each, ItemDetails::Finding { metal: None }),
        item("SO-1", Unit::Gram, ItemDetails::Solder { flow_c: decimal("618") }),
        item("CO-1", Unit::Millilitre, ItemDetails::Consumable),
        item("PA-1", Unit::Each, ItemDetails::Packaging),
    ]
}

fn back(table: &Table, kind: ImportKind, workbook: bool) -> Preview {
    let (bytes, name) = if workbook {
        (write::xlsx(std::slice::from_ref(table)).unwrap(), "x.xlsx")
    } else {
        (write::csv(table).unwrap(), "x.csv")
    };
    let Workbook { sheets, remarks } = read(&bytes, name, &mut |_| Flow::Go).unwrap();
    assert_eq!(remarks, Vec::<String>::new());
    let heading = Heading::find(&sheets[0]).unwrap();
    assert_eq!((heading.row, heading.likely()), (1, kind));
    let mapping = Mapping::guess(kind, &heading);
    assert_eq!(mapping.columns.len(), table.columns.len(), "every column is known");
    preview(&sheets[0], &heading, &mapping, Currency::USD, None)
}

#[test]
fn items_written_out_come_in_as_they_were() {
    let items = all_kinds();
    for workbook in [false, true] {
        let read = back(&super::items(&items), ImportKind::Items, workbook);
        assert_eq!(read.problems, [], "workbook: {workbook}");
        let Found::Items(found) = read.found else { panic!("not items") };
        let found: Vec<Item> = found.into_iter().map(|(_, item)| item).collect();
        assert_eq!(found, items, "workbook: {workbook}");
    }
}

fn movement(id: i64, day: u32, kind: MovementKind, quantity: &str, cost: Option<&str>) -> Movement {
    Movement {
        id: MovementId(id),
        item: ItemId(1),
        date: NaiveDate::from_ymd_opt(2026, 3, day).unwrap(),
        kind,
        quantity: Quantity::new(decimal(quantity)).unwrap(),
        cost: cost.map(|cost| Money::new(decimal(cost)).unwrap()),
        lot: None,
        lot_number: "L-7".to_owned(),
        supplier: "Fen Enamels".to_owned(),
        note: "=opened, then closed".to_owned(),
        typed: String::new(),
    }
}

fn some_movements() -> Vec<Movement> {
    vec![
        movement(1, 2, MovementKind::Receipt, "453.59237", Some("18.400001")),
        movement(2, 2, MovementKind::Issue, "0.000000001", None),
        movement(5, 9, MovementKind::Count, "0", None),
    ]
}

#[test]
fn movements_written_out_come_in_as_they_were() {
    let item = &all_kinds()[4];
    let movements = some_movements();
    let table = super::movements(&[ItemMovements { item, movements: &movements }], Currency::USD);
    for workbook in [false, true] {
        let read = back(&table, ImportKind::Movements, workbook);
        assert_eq!(read.problems, [], "workbook: {workbook}");
        let Found::Lines(lines) = read.found else { panic!("not lines") };
        for (line, movement) in lines.iter().zip(&movements) {
            assert_eq!((line.date, line.kind, &line.item), (movement.date, movement.kind, &item.reference));
            assert_eq!((decimal(&line.quantity), line.unit.as_str()), (movement.quantity.amount(), "g"));
            assert_eq!((line.cost, &line.note), (movement.cost, &movement.note));
            assert_eq!((&line.lot_number, &line.supplier), (&movement.lot_number, &movement.supplier));
        }
        assert_eq!(lines.len(), 3);
    }
}

#[test]
fn lots_tell_what_came_and_what_is_left() {
    use crate::costing::stock::ledger;
    use crate::studio::ValuationMethod;
    let item = &all_kinds()[4];
    let movements = vec![
        movement(1, 2, MovementKind::Receipt, "10", Some("20")),
        movement(2, 3, MovementKind::Receipt, "10", Some("30")),
        movement(3, 4, MovementKind::Issue, "15", None),
    ];
    let ledger = ledger(&movements, ValuationMethod::Fifo).unwrap();
    let table = lots(&[ItemLots { item, movements: &movements, ledger: &ledger }], Currency::USD);
    let left: Vec<&[Value]> = table.rows.iter().map(|row| &row[8..]).collect();
    let number = |text: &str| Value::Number(decimal(text));
    assert_eq!(left, [[number("0"), number("0")], [number("5"), number("15")]]);
}

#[test]
fn headings_of_a_table_differ() {
    let tables = [
        super::items(&[]),
        stock_value(&[], Currency::USD),
        value_on(&[], Money::ZERO, NaiveDate::MIN, Currency::USD),
        super::movements(&[], Currency::USD),
        lots(&[], Currency::USD),
        designs(&[]),
        prices(&[], crate::costing::price_sheet::Tickets::Own, Currency::USD),
        accepted(&[], Currency::USD),
    ];
    for table in tables {
        let mut headings: Vec<&str> = table.headings().collect();
        let count = headings.len();
        headings.sort_unstable();
        headings.dedup();
        assert_eq!(headings.len(), count, "{}", table.name);
    }
}
