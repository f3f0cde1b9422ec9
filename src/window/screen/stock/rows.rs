//! The rows of the list of stock: worded, filtered and sorted, so that the view only lays them out.

use super::words;
use crate::book::StockRow;
use crate::measure::{Decimal, Money, Preferences, Unit, display};
use crate::studio::{ItemDetails, ItemId, ItemKind, Settings};
use crate::window::theme;
use crate::window::widget::listing::Order;
use iced::Color;
use std::cmp::Ordering;

/// What is asked of the list.
#[derive(Debug, Clone, Default)]
pub(super) struct Filter {
    /// Words that must all be found.
    pub(super) text: String,
    /// One kind, or all.
    pub(super) kind: Option<ItemKind>,
    /// Only what is low.
    pub(super) low: bool,
    /// Also what is set aside.
    pub(super) aside: bool,
}

/// One item.
#[derive(Debug, Clone)]
pub(super) struct Row {
    pub(super) id: ItemId,
    pub(super) swatch: Option<Color>,
    pub(super) reference: String,
    pub(super) name: String,
    pub(super) kind: &'static str,
    pub(super) on_hand: String,
    pub(super) value: String,
    pub(super) price: String,
    pub(super) level: String,
    pub(super) low: bool,
    pub(super) lead: bool,
    pub(super) aside: bool,
    keys: Keys,
}

/// What a row is filtered and sorted by.
#[derive(Debug, Clone)]
struct Keys {
    kind: ItemKind,
    unit: Unit,
    name: String,
    found_by: String,
    on_hand: Decimal,
    value: Decimal,
    price: Option<Decimal>,
    level: Option<Decimal>,
}

/// Words every item of the book.
pub(super) fn word_all(stock: &[StockRow], settings: &Settings, preferences: &Preferences) -> Vec<Row> {
    stock.iter().map(|row| word(row, settings, preferences)).collect()
}

fn word(row: &StockRow, settings: &Settings, preferences: &Preferences) -> Row {
    let item = &row.item;
    let price =
        if settings.price_on_book_cost { row.book_price.or(row.replacement_price) } else { row.replacement_price };
    let quantity = |amount| display::quantity(amount, item.unit, preferences);
    let swatch = match item.details {
        ItemDetails::Enamel { swatch, .. } => Some(theme::swatch(swatch)),
        _ => None,
    };
    let found_by = [
        item.name.as_str(),
        item.reference.as_str(),
        item.details.kind().name(),
        item.maker.as_str(),
        item.maker_number.as_str(),
        item.supplier.as_str(),
        item.shelf.as_str(),
        if item.lead_bearing { "lead" } else { "" },
    ]
    .join("\n")
    .to_lowercase();
    Row {
        id: row.id,
        swatch,
        reference: item.reference.clone(),
        name: item.name.clone(),
        kind: item.details.kind().name(),
        on_hand: quantity(row.on_hand.amount()),
        value: display::money(row.value.amount(), preferences),
        price: price.map(|price| display::unit_price(price, item.unit, preferences)).unwrap_or_default(),
        level: item.reorder_level.map(|level| quantity(level.amount())).unwrap_or_default(),
        low: row.is_low(),
        lead: item.lead_bearing,
        aside: item.retired,
        keys: Keys {
            kind: item.details.kind(),
            unit: item.unit,
            name: item.name.to_lowercase(),
            found_by,
            on_hand: row.on_hand.amount(),
            value: row.value.amount(),
            price,
            level: item.reorder_level.map(crate::measure::Quantity::amount),
        },
    }
}

/// The rows that pass the filter, in the order asked for. Columns are those of the view: name, reference, on hand,
/// look, kind, value, price, reorder level.
pub(super) fn select(rows: &[Row], filter: &Filter, sort: (usize, Order)) -> Vec<Row> {
    let wanted = filter.text.to_lowercase();
    let wanted: Vec<&str> = wanted.split_whitespace().collect();
    let mut shown: Vec<&Row> = rows
        .iter()
        .filter(|row| {
            (filter.aside || !row.aside)
                && (!filter.low || row.low)
                && filter.kind.is_none_or(|kind| kind == row.keys.kind)
                && wanted.iter().all(|word| row.keys.found_by.contains(word))
        })
        .collect();
    let (column, order) = sort;
    shown.sort_by(|a, b| {
        let (left, right) = match order {
            Order::Rising => (*a, *b),
            Order::Falling => (*b, *a),
        };
        compare(column, left, right).then_with(|| a.keys.name.cmp(&b.keys.name)).then_with(|| a.id.cmp(&b.id))
    });
    shown.into_iter().cloned().collect()
}

fn compare(column: usize, a: &Row, b: &Row) -> Ordering {
    let (x, y) = (&a.keys, &b.keys);
    match column {
        1 => a.reference.cmp(&b.reference),
        2 => x.unit.cmp(&y.unit).then_with(|| x.on_hand.cmp(&y.on_hand)),
        // What is low first, then what bears lead.
        3 => (!a.low, !a.lead, a.aside).cmp(&(!b.low, !b.lead, b.aside)),
        4 => a.kind.cmp(b.kind),
        5 => x.value.cmp(&y.value),
        6 => x.price.cmp(&y.price),
        7 => x.level.cmp(&y.level),
        _ => x.name.cmp(&y.name),
    }
}

/// How many items there are, what they are worth and how many are low, as a sentence.
pub(super) fn summary(stock: &[StockRow], settings: &Settings, preferences: &Preferences) -> String {
    let kept = stock.iter().filter(|row| !row.item.retired).count();
    let aside = stock.len() - kept;
    let low = stock.iter().filter(|row| row.is_low()).count();
    let worth = stock.iter().try_fold(Money::ZERO, |sum, row| sum.plus(row.value));
    let worth = match worth {
        Ok(worth) => format!("worth {}", display::money(worth.amount(), preferences)),
        Err(error) => format!("their worth cannot be shown: {error}"),
    };
    let items = if kept == 1 { "1 item".to_owned() } else { format!("{kept} items") };
    let low = match low {
        0 => "none is low".to_owned(),
        1 => "1 is low".to_owned(),
        low => format!("{low} are low"),
    };
    let aside = if aside == 0 { String::new() } else { format!(" and {aside} set aside") };
    format!("{items}{aside}, {worth} by {}; {low}", words::method(settings.valuation))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::{Currency, Quantity};
    use crate::studio::{EnamelKind, Item, defaults};

    fn row(id: i64, name: &str, on_hand: i64, level: Option<i64>) -> StockRow {
        StockRow {
            id: ItemId(id),
            item: Item {
                reference: format!("EN-{id:03}"),
                name: name.to_owned(),
                unit: Unit::Gram,
                details: ItemDetails::Enamel {
                    enamel: EnamelKind::Opaque,
                    swatch: [1, 2, 3],
                    mesh: String::new(),
                    fusing: None,
                    firing_c: None,
                },
                maker: String::new(),
                maker_number: String::new(),
                supplier: String::new(),
                shelf: String::new(),
                note: String::new(),
                reorder_level: level.and_then(|level| Quantity::new(Decimal::from(level))),
                lead_bearing: id == 2,
                retired: id == 3,
                buying: crate::studio::Buying::default(),
            },
            on_hand: Quantity::new(Decimal::from(on_hand)).unwrap_or_default(),
            value: Money::rounded(Decimal::from(on_hand)),
            book_price: None,
            replacement_price: None,
            last_moved: None,
        }
    }

    fn names(filter: &Filter, sort: (usize, Order)) -> Vec<String> {
        let stock = [row(1, "Fen green", 5, Some(10)), row(2, "amber", 50, Some(10)), row(3, "Old rose", 1, Some(2))];
        let rows = word_all(&stock, &defaults::settings(), &Preferences::metric(Currency::USD));
        select(&rows, filter, sort).into_iter().map(|row| row.name).collect()
    }

    #[test]
    fn the_list_is_narrowed_by_words_by_low_and_by_what_is_set_aside() {
        let by_name = (0, Order::Rising);
        assert_eq!(names(&Filter::default(), by_name), ["amber", "Fen green"]);
        let words = Filter { text: "GREEN en-0".to_owned(), ..Filter::default() };
        assert_eq!(names(&words, by_name), ["Fen green"]);
        let lead = Filter { text: "lead".to_owned(), ..Filter::default() };
        assert_eq!(names(&lead, by_name), ["amber"]);
        assert_eq!(names(&Filter { low: true, ..Filter::default() }, by_name), ["Fen green"]);
        assert_eq!(names(&Filter { aside: true, ..Filter::default() }, by_name), ["amber", "Fen green", "Old rose"]);
        assert!(names(&Filter { kind: Some(ItemKind::Wire), ..Filter::default() }, by_name).is_empty());
    }

    #[test]
    fn a_heading_sorts_both_ways() {
        assert_eq!(names(&Filter::default(), (2, Order::Rising)), ["Fen green", "amber"]);
        assert_eq!(names(&Filter::default(), (2, Order::Falling)), ["amber", "Fen green"]);
        assert_eq!(names(&Filter::default(), (3, Order::Rising)), ["Fen green", "amber"]);
    }
}
