//! What the shopping list says: a computed list, worded for paper.

use super::cards::PaperSize;
use super::shopping::{ShoppingLine, ShoppingList, ShoppingSupplier};
use crate::costing::buying_words::{brief, loose};
use crate::costing::shopping as computed;
use crate::measure::{Money, Preferences, display};
use crate::studio::Settings;
use chrono::NaiveDate;

/// Heading of what has no supplier.
pub const NO_SUPPLIER: &str = "No supplier written down";

/// The list of that day as it is printed, in the book's units.
pub fn shopping_model(
    list: &computed::ShoppingList,
    settings: &Settings,
    day: NaiveDate,
    paper: PaperSize,
) -> ShoppingList {
    let preferences = Preferences::from(settings);
    let suppliers = list.suppliers.iter().map(|supplier| ShoppingSupplier {
        name: if supplier.supplier.is_empty() { NO_SUPPLIER.to_owned() } else { supplier.supplier.clone() },
        lines: supplier.lines.iter().map(|line| printed(line, &preferences)).collect(),
        sum: sum(supplier.cost, supplier.lines.len(), supplier.without_price, &preferences),
    });
    let lines = list.suppliers.iter().map(|supplier| supplier.lines.len()).sum();
    ShoppingList {
        studio: settings.studio_name.clone(),
        date: day.to_string(),
        suppliers: suppliers.collect(),
        total: sum(list.cost, lines, list.without_price, &preferences),
        paper,
    }
}

/// What lines cost together, with how many of them have no price; none where none has.
pub fn sum(cost: Money, lines: usize, without_price: usize, preferences: &Preferences) -> Option<String> {
    let amount = display::money(cost.amount(), preferences);
    match without_price {
        0 => Some(amount),
        without if without == lines => None,
        without => Some(format!("{amount} + {without} without a price")),
    }
}

fn printed(line: &computed::ShoppingLine, preferences: &Preferences) -> ShoppingLine {
    let price = line.pack_price.map(|price| match line.pack_words {
        Some(_) => display::money(price, preferences),
        None => display::unit_price(price, line.unit, preferences),
    });
    let (packs, pack) = match &line.pack_words {
        Some(words) => (line.packs.to_string(), words.clone()),
        None => (display::quantity(line.quantity.amount(), line.unit, preferences), loose(line.unit).to_owned()),
    };
    let number = line.maker_number.trim();
    ShoppingLine {
        reference: if number.is_empty() {
            line.reference.clone()
        } else {
            format!("{} · maker's number {number}", line.reference)
        },
        name: line.name.clone(),
        lead_bearing: line.lead_bearing,
        packs,
        pack,
        price,
        sum: line.cost.map(|cost| display::money(cost.amount(), preferences)),
        reason: brief(line, preferences),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::costing::shopping::{BuyAt, Want, shopping_list};
    use crate::measure::{Currency, Quantity, Unit};
    use crate::studio::{ItemId, Pack, defaults};

    fn want(reference: &str, supplier: &str, pack: bool, price: Option<&str>) -> Want {
        let quantity = |text: &str| Quantity::new(text.parse().unwrap()).unwrap();
        Want {
            item: ItemId(1),
            reference: reference.to_owned(),
            name: "Fen green".to_owned(),
            supplier: supplier.to_owned(),
            maker_number: "117".to_owned(),
            unit: Unit::Gram,
            lead_bearing: true,
            on_hand: quantity("50"),
            on_order: Quantity::ZERO,
            planned: Quantity::ZERO,
            buy_at: Some(BuyAt::Level(quantity("150"))),
            pack: pack.then(|| Pack { words: "100 g jar".to_owned(), quantity: quantity("100") }),
            economic_packs: None,
            least_packs: 0,
            unit_price: price.map(|price| price.parse().unwrap()),
            reason: Vec::new(),
        }
    }

    #[test]
    fn a_computed_list_is_worded_for_paper() {
        let wants = [
            want("EN-1", "Ferry Lane Supply", true, Some("0.0845")),
            want("EN-2", "Ferry Lane Supply", false, None),
            want("EN-3", "", false, None),
        ];
        let list = shopping_list(&wants, Currency::USD).unwrap();
        let mut settings = defaults::settings();
        settings.currency = Currency::USD;
        let model = shopping_model(&list, &settings, "2026-03-01".parse().unwrap(), PaperSize::A4);
        let [ferry, none] = model.suppliers.as_slice() else { panic!("two suppliers") };
        // 2 · 100 · 0.0845 = 16.90.
        assert_eq!(ferry.sum.as_deref(), Some("$16.90 + 1 without a price"));
        assert_eq!((none.name.as_str(), none.sum.as_deref()), (NO_SUPPLIER, None));
        let line = &ferry.lines[0];
        assert_eq!((line.packs.as_str(), line.pack.as_str()), ("2", "100 g jar"));
        assert_eq!((line.price.as_deref(), line.sum.as_deref()), (Some("$8.45"), Some("$16.90")));
        assert_eq!(line.reference, "EN-1 · maker's number 117");
        assert!(line.lead_bearing && line.reason.contains("as set"));
        assert_eq!(ferry.lines[1].pack, "loose");
    }
}
