//! Items, what they are worth, their lots and their movements.

use crate::book::StockRow;
use crate::costing::stock::Ledger;
use crate::exchange::table::columns::{Field, ImportKind};
use crate::exchange::table::made::{Column, ColumnKind, Table, Value};
use crate::measure::{Currency, Decimal, Money, Preferences, Quantity, edit};
use crate::studio::{Item, ItemDetails, LotId, Metal, Movement, MovementKind, Thickness, outline_words};
use chrono::NaiveDate;
use std::collections::BTreeMap;

/// An item with its movements, in order of date then id.
#[derive(Debug, Clone, Copy)]
pub struct ItemMovements<'a> {
    /// The item.
    pub item: &'a Item,
    /// Its movements.
    pub movements: &'a [Movement],
}

/// An item with its movements and their ledger.
#[derive(Debug, Clone, Copy)]
pub struct ItemLots<'a> {
    /// The item.
    pub item: &'a Item,
    /// Its movements.
    pub movements: &'a [Movement],
    /// What they come to.
    pub ledger: &'a Ledger,
}

const fn kind_of(field: Field) -> ColumnKind {
    match field {
        Field::Date => ColumnKind::Date,
        Field::Lead | Field::Retired => ColumnKind::Flag,
        Field::Outer
        | Field::Wall
        | Field::Dome
        | Field::SolderFlow
        | Field::FiresFrom
        | Field::FiresTo
        | Field::ReorderLevel
        | Field::PackQuantity
        | Field::LeastPacks
        | Field::LeadDays
        | Field::Quantity => ColumnKind::Number,
        _ => ColumnKind::Text,
    }
}

/// Items as they are described, in the order given: every column they are read by.
pub fn items<'a>(items: impl IntoIterator<Item = &'a Item>) -> Table {
    let fields = ImportKind::Items.fields();
    let row = |item: &'a Item| fields.iter().map(|field| value(item, *field)).collect();
    Table {
        name: "Items".to_owned(),
        columns: fields.iter().map(|field| Column::new(field.heading(), kind_of(*field))).collect(),
        rows: items.into_iter().map(row).collect(),
    }
}

fn value(item: &Item, field: Field) -> Value {
    match field {
        Field::Reference => Value::text(&item.reference),
        Field::Name => Value::text(&item.name),
        Field::Kind => Value::text(item.details.kind().name()),
        Field::Unit => Value::text(item.unit.name()),
        Field::Maker => Value::text(&item.maker),
        Field::MakerNumber => Value::text(&item.maker_number),
        Field::Supplier => Value::text(&item.supplier),
        Field::Shelf => Value::text(&item.shelf),
        Field::ReorderLevel => Value::maybe(item.reorder_level, |level| Value::Number(level.amount())),
        Field::Pack => Value::maybe(item.buying.pack.as_ref(), |pack| Value::text(&pack.words)),
        Field::PackQuantity => Value::maybe(item.buying.pack.as_ref(), |pack| quantity(pack.quantity)),
        Field::LeastPacks => Value::maybe(item.buying.minimum_order_packs, |packs| Value::Number(packs.into())),
        Field::LeadDays => Value::maybe(item.buying.lead_days, |days| Value::Number(days.into())),
        Field::Lead => Value::Flag(item.lead_bearing),
        Field::Retired => Value::Flag(item.retired),
        Field::Note => Value::text(&item.note),
        _ => detail(&item.details, field),
    }
}

fn thickness_text(thickness: Thickness) -> Value {
    Value::text(edit::edit_thickness(thickness.into(), &Preferences::metric(Currency::USD)))
}

fn metal_text(metal: Metal) -> Value {
    Value::text(metal.words())
}

/// What only one kind of item has.
fn detail(details: &ItemDetails, field: Field) -> Value {
    match (details, field) {
        (
            ItemDetails::Sheet { metal, .. }
            | ItemDetails::Wire { metal, .. }
            | ItemDetails::Tube { metal, .. }
            | ItemDetails::Blank { metal, .. }
            | ItemDetails::Finding { metal: Some(metal) },
            Field::Metal,
        ) => metal_text(*metal),
        (
            ItemDetails::Sheet { thickness, .. }
            | ItemDetails::Wire { thickness, .. }
            | ItemDetails::Blank { thickness, .. },
            Field::Thickness,
        ) => thickness_text(*thickness),
        (ItemDetails::Sheet { size_mm: Some([length, width]), .. }, Field::Size) => {
            Value::text(format!("{length} x {width}"))
        }
        (ItemDetails::Tube { outer_mm, .. }, Field::Outer) => Value::Number(*outer_mm),
        (ItemDetails::Tube { wall_mm, .. }, Field::Wall) => Value::Number(*wall_mm),
        (ItemDetails::Blank { outline, .. }, Field::Outline) => Value::text(outline_words::write(outline)),
        (ItemDetails::Blank { dome_height_mm, .. }, Field::Dome) => Value::Number(*dome_height_mm),
        (ItemDetails::Blank { holes_mm, .. }, Field::Holes) => {
            Value::text(holes_mm.iter().map(Decimal::to_string).collect::<Vec<_>>().join("; "))
        }
        (ItemDetails::Blank { solder_flow_c, .. }, Field::SolderFlow) => Value::maybe(*solder_flow_c, Value::Number),
        (ItemDetails::Solder { flow_c }, Field::SolderFlow) => Value::Number(*flow_c),
        (ItemDetails::Enamel { enamel, .. }, Field::Enamel) => Value::text(enamel.name()),
        (ItemDetails::Enamel { swatch: [red, green, blue], .. }, Field::Colour) => {
            Value::text(format!("#{red:02x}{green:02x}{blue:02x}"))
        }
        (ItemDetails::Enamel { mesh, .. }, Field::Mesh) => Value::text(mesh),
        (ItemDetails::Enamel { fusing, .. }, Field::Fusing) => {
            Value::maybe(*fusing, |fusing| Value::text(fusing.name()))
        }
        (ItemDetails::Enamel { firing_c, .. }, Field::FiresFrom) => {
            Value::maybe(*firing_c, |[low, _]| Value::Number(low))
        }
        (ItemDetails::Enamel { firing_c, .. }, Field::FiresTo) => {
            Value::maybe(*firing_c, |[_, high]| Value::Number(high))
        }
        _ => Value::Empty,
    }
}

fn column(heading: &'static str, kind: ColumnKind) -> Column {
    Column::new(heading, kind)
}

const fn money_kind(currency: Currency) -> ColumnKind {
    ColumnKind::Money { digits: currency.digits() }
}

fn money(amount: Money) -> Value {
    Value::Number(amount.amount())
}

fn quantity(quantity: Quantity) -> Value {
    Value::Number(quantity.amount())
}

/// What is on hand and what it is worth, in the order given; the last row has the sum.
pub fn stock_value(stock: &[StockRow], currency: Currency) -> Table {
    let cash = money_kind(currency);
    let total = stock.iter().try_fold(Money::ZERO, |sum, row| sum.plus(row.value)).ok();
    let mut rows: Vec<Vec<Value>> = stock
        .iter()
        .map(|row| {
            vec![
                Value::text(&row.item.reference),
                Value::text(&row.item.name),
                Value::text(row.item.details.kind().name()),
                quantity(row.on_hand),
                Value::text(row.item.unit.name()),
                money(row.value),
                Value::maybe(row.book_price, Value::Number),
                Value::maybe(row.replacement_price, Value::Number),
                Value::Flag(row.is_low()),
                Value::text(&row.item.shelf),
                Value::maybe(row.last_moved, Value::Date),
            ]
        })
        .collect();
    if let Some(total) = total.filter(|_| !stock.is_empty()) {
        let mut sum = vec![Value::Empty, Value::text("total")];
        sum.resize(5, Value::Empty);
        sum.push(money(total));
        rows.push(sum);
    }
    Table {
        name: "Stock value".to_owned(),
        columns: vec![
            column("reference", ColumnKind::Text),
            column("name", ColumnKind::Text),
            column("kind", ColumnKind::Text),
            column("on hand", ColumnKind::Number),
            column("unit", ColumnKind::Text),
            column("value", cash),
            column("price on hand", cash),
            column("latest price", cash),
            column("low", ColumnKind::Flag),
            column("shelf", ColumnKind::Text),
            column("last moved", ColumnKind::Date),
        ],
        rows,
    }
}

/// What was on hand at the end of a day and what it was worth, in the order given; the last row has the sum.
pub fn value_on(lines: &[(&Item, Quantity, Money)], total: Money, on: NaiveDate, currency: Currency) -> Table {
    let mut rows: Vec<Vec<Value>> = lines
        .iter()
        .map(|(item, held, worth)| {
            vec![
                Value::Date(on),
                Value::text(&item.reference),
                Value::text(&item.name),
                Value::text(item.details.kind().name()),
                quantity(*held),
                Value::text(item.unit.name()),
                money(*worth),
                Value::Flag(item.lead_bearing),
            ]
        })
        .collect();
    rows.push(vec![
        Value::Date(on),
        Value::Empty,
        Value::text("total"),
        Value::Empty,
        Value::Empty,
        Value::Empty,
        money(total),
    ]);
    Table {
        name: format!("Value on {on}"),
        columns: vec![
            column("date", ColumnKind::Date),
            column("reference", ColumnKind::Text),
            column("name", ColumnKind::Text),
            column("kind", ColumnKind::Text),
            column("quantity", ColumnKind::Number),
            column("unit", ColumnKind::Text),
            column("value", money_kind(currency)),
            column("bears lead", ColumnKind::Flag),
        ],
        rows,
    }
}

/// Movements of many items in order of date then entry, as a movement file has them (`date,item,movement,quantity,unit,
/// cost,note`), with maker's lot and supplier behind.
pub fn movements(all: &[ItemMovements<'_>], currency: Currency) -> Table {
    let mut lines: Vec<(&Item, &Movement)> =
        all.iter().flat_map(|one| one.movements.iter().map(|movement| (one.item, movement))).collect();
    lines.sort_by_key(|(_, movement)| (movement.date, movement.id));
    let row = |(item, movement): (&Item, &Movement)| {
        vec![
            Value::Date(movement.date),
            Value::text(&item.reference),
            Value::text(movement.kind.name()),
            quantity(movement.quantity),
            Value::text(item.unit.name()),
            Value::maybe(movement.cost, money),
            Value::text(&movement.note),
            Value::text(&movement.lot_number),
            Value::text(&movement.supplier),
        ]
    };
    Table {
        name: "Movements".to_owned(),
        columns: vec![
            column(Field::Date.heading(), ColumnKind::Date),
            column(Field::Item.heading(), ColumnKind::Text),
            column(Field::Movement.heading(), ColumnKind::Text),
            column(Field::Quantity.heading(), ColumnKind::Number),
            column(Field::Unit.heading(), ColumnKind::Text),
            column(Field::Cost.heading(), money_kind(currency)),
            column(Field::Note.heading(), ColumnKind::Text),
            column(Field::Lot.heading(), ColumnKind::Text),
            column(Field::Supplier.heading(), ColumnKind::Text),
        ],
        rows: lines.into_iter().map(row).collect(),
    }
}

/// Lots with what came and what is left of each, by item, oldest first. Under the average method a lot has a quantity
/// left but no value of its own.
pub fn lots(all: &[ItemLots<'_>], currency: Currency) -> Table {
    let cash = money_kind(currency);
    let mut rows = Vec::new();
    for one in all {
        let left: BTreeMap<LotId, (Quantity, Money)> =
            one.ledger.layers.iter().filter_map(|layer| Some((layer.lot?, (layer.quantity, layer.value)))).collect();
        // What brings a cost of its own is a lot: receipts, and what is washed back.
        let is_lot = |movement: &&Movement| movement.cost.is_some() || movement.kind == MovementKind::Receipt;
        for movement in one.movements.iter().filter(is_lot) {
            let (quantity_left, value_left) = left.get(&LotId(movement.id.0)).copied().unwrap_or_default();
            rows.push(vec![
                Value::text(&one.item.reference),
                Value::text(&one.item.name),
                Value::Date(movement.date),
                Value::text(&movement.lot_number),
                Value::text(&movement.supplier),
                quantity(movement.quantity),
                Value::text(one.item.unit.name()),
                Value::maybe(movement.cost, money),
                quantity(quantity_left),
                money(value_left),
            ]);
        }
    }
    Table {
        name: "Lots".to_owned(),
        columns: vec![
            column("item", ColumnKind::Text),
            column("name", ColumnKind::Text),
            column("date", ColumnKind::Date),
            column("maker's lot", ColumnKind::Text),
            column("supplier", ColumnKind::Text),
            column("quantity", ColumnKind::Number),
            column("unit", ColumnKind::Text),
            column("cost", cash),
            column("left", ColumnKind::Number),
            column("value left", cash),
        ],
        rows,
    }
}
