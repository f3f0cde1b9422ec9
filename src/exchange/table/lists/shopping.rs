//! What to buy, by supplier.

use crate::costing::buying_words::brief;
use crate::costing::shopping::{ShoppingLine, ShoppingList};
use crate::exchange::table::made::{Column, ColumnKind, Table, Value};
use crate::measure::{Decimal, Preferences};

/// A shopping list: a row a line, suppliers in their order. Packs of an item without a pack are its units; quantities
/// are in the item's own unit, prices and sums in the book's currency.
pub fn shopping(list: &ShoppingList, preferences: &Preferences) -> Table {
    let money = ColumnKind::Money { digits: preferences.currency.digits() };
    let columns = [
        ("Supplier", ColumnKind::Text),
        ("Reference", ColumnKind::Text),
        ("Name", ColumnKind::Text),
        ("Maker's number", ColumnKind::Text),
        ("Bears lead", ColumnKind::Flag),
        ("Packs", ColumnKind::Number),
        ("Pack", ColumnKind::Text),
        ("Quantity", ColumnKind::Number),
        ("Unit", ColumnKind::Text),
        ("Price of a pack", money),
        ("Sum", money),
        ("Why", ColumnKind::Text),
    ];
    let rows = list
        .suppliers
        .iter()
        .flat_map(|supplier| supplier.lines.iter().map(|line| row(&supplier.supplier, line, preferences)));
    Table {
        name: "Shopping list".to_owned(),
        columns: columns.into_iter().map(|(heading, kind)| Column::new(heading, kind)).collect(),
        rows: rows.collect(),
    }
}

fn row(supplier: &str, line: &ShoppingLine, preferences: &Preferences) -> Vec<Value> {
    vec![
        Value::text(supplier),
        Value::text(&line.reference),
        Value::text(&line.name),
        Value::text(&line.maker_number),
        Value::Flag(line.lead_bearing),
        Value::Number(Decimal::from(line.packs)),
        Value::maybe(line.pack_words.as_ref(), Value::text),
        Value::Number(line.quantity.amount()),
        Value::text(line.unit.name()),
        Value::maybe(line.pack_price, Value::Number),
        Value::maybe(line.cost, |cost| Value::Number(cost.amount())),
        Value::text(brief(line, preferences)),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::costing::shopping::{BuyAt, Want, shopping_list};
    use crate::exchange::table::write;
    use crate::measure::{Currency, Quantity, Unit};
    use crate::studio::{ItemId, Pack};

    #[test]
    fn a_list_is_a_row_a_line_and_its_texts_are_no_formulas() {
        let quantity = |text: &str| Quantity::new(text.parse().unwrap()).unwrap();
        let want = Want {
            item: ItemId(1),
            reference: "EN-1".to_owned(),
            name: "=Fen".to_owned(),
            supplier: "Ferry Lane Supply".to_owned(),
            maker_number: String::new(),
            unit: Unit::Gram,
            lead_bearing: false,
            on_hand: quantity("50"),
            on_order: Quantity::ZERO,
            planned: Quantity::ZERO,
            buy_at: Some(BuyAt::Level(quantity("150"))),
            pack: Some(Pack { words: "100 g jar".to_owned(), quantity: quantity("100") }),
            economic_packs: None,
            least_packs: 0,
            unit_price: Some("0.0845".parse().unwrap()),
            reason: Vec::new(),
        };
        let list = shopping_list(&[want], Currency::USD).unwrap();
        let bytes = write::csv(&shopping(&list, &Preferences::metric(Currency::USD))).unwrap();
        let text = String::from_utf8(bytes).unwrap().replace('\u{a0}', " ");
        let lines: Vec<&str> = text.lines().collect();
        assert!(lines[0].starts_with("Supplier,Reference,Name,Maker's number,Bears lead,Packs,Pack,Quantity,Unit,"));
        assert!(lines[1].starts_with("Ferry Lane Supply,EN-1,'=Fen,,no,2,100 g jar,200,g,8.45,16.90,"), "{text}");
    }
}
