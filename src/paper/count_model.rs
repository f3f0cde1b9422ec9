//! What a count sheet says: the items of a book, shelf by shelf in the order they are walked along.

use super::cards::PaperSize;
use super::count_sheet::{CountLine, CountSheet, CountShelf};
use crate::measure::{Preferences, Quantity, display};
use crate::studio::{Item, ItemId};
use std::cmp::Ordering;
use std::iter::Peekable;
use std::str::Chars;

/// What stands over items that name no shelf.
pub const NO_SHELF: &str = "No shelf named";

/// An item with what the book says is there.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OnShelf<'a> {
    /// Its row.
    pub id: ItemId,
    /// The item.
    pub item: &'a Item,
    /// What is there, in its unit.
    pub on_hand: Quantity,
}

/// What is asked of a count sheet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Asked<'a> {
    /// One shelf, or none for all of them; [`NO_SHELF`] is the one of items that name none.
    pub shelf: Option<&'a str>,
    /// Also what the book says is there; else the count is blind.
    pub with_stock: bool,
    /// The page.
    pub paper: PaperSize,
}

/// The items by shelf: shelves by name, `A2` before `A10`, and last what names none; on a shelf in the order given. What is
/// set aside is counted only while there is some of it. A shelf's name counts however its letters are written.
pub fn by_shelf<'a>(items: impl IntoIterator<Item = OnShelf<'a>>) -> Vec<(String, Vec<OnShelf<'a>>)> {
    let mut shelves: Vec<(String, Vec<OnShelf<'a>>)> = Vec::new();
    for one in items.into_iter().filter(|one| !one.item.retired || !one.on_hand.is_zero()) {
        let name = match one.item.shelf.trim() {
            "" => NO_SHELF,
            named => named,
        };
        match shelves.iter_mut().find(|(known, _)| same(known, name)) {
            Some((_, there)) => there.push(one),
            None => shelves.push((name.to_owned(), vec![one])),
        }
    }
    shelves.sort_by(|(a, _), (b, _)| (a == NO_SHELF).cmp(&(b == NO_SHELF)).then_with(|| walked(a, b)));
    shelves
}

/// Two names of one shelf.
pub fn same(one: &str, other: &str) -> bool {
    one.trim().to_lowercase() == other.trim().to_lowercase()
}

/// The sheet of these items, empty where nothing is as asked.
pub fn count_sheet<'a>(
    items: impl IntoIterator<Item = OnShelf<'a>>,
    asked: &Asked<'_>,
    studio: &str,
    date: &str,
    preferences: &Preferences,
) -> CountSheet {
    let line = |one: &OnShelf<'_>| CountLine {
        reference: one.item.reference.clone(),
        name: one.item.name.clone(),
        unit: display::unit_label(one.item.unit, preferences).to_owned(),
        lead_bearing: one.item.lead_bearing,
        on_hand: asked.with_stock.then(|| display::quantity(one.on_hand.amount(), one.item.unit, preferences)),
    };
    let shelves = by_shelf(items)
        .into_iter()
        .filter(|(name, _)| asked.shelf.is_none_or(|wanted| same(wanted, name)))
        .map(|(name, there)| CountShelf { name, lines: there.iter().map(line).collect() })
        .collect();
    CountSheet { studio: studio.to_owned(), date: date.to_owned(), shelves, paper: asked.paper }
}

/// Names as one walks along them: numbers in them by their size, letters however they are written.
fn walked(one: &str, other: &str) -> Ordering {
    let (small_one, small_other) = (one.to_lowercase(), other.to_lowercase());
    let (mut left, mut right) = (small_one.chars().peekable(), small_other.chars().peekable());
    loop {
        let order = match (left.peek(), right.peek()) {
            (None, None) => return one.cmp(other),
            (None, Some(_)) => return Ordering::Less,
            (Some(_), None) => return Ordering::Greater,
            (Some(here), Some(there)) if here.is_ascii_digit() && there.is_ascii_digit() => {
                let (here, there) = (digits(&mut left), digits(&mut right));
                here.len().cmp(&there.len()).then_with(|| here.cmp(&there))
            }
            (Some(_), Some(_)) => left.next().cmp(&right.next()),
        };
        if order != Ordering::Equal {
            return order;
        }
    }
}

/// The digits that stand next, without zeros before them.
fn digits(text: &mut Peekable<Chars<'_>>) -> String {
    let mut found = String::new();
    while let Some(digit) = text.next_if(char::is_ascii_digit) {
        if !(found.is_empty() && digit == '0') {
            found.push(digit);
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::{Currency, Unit};
    use crate::studio::{Buying, ItemDetails};

    fn item(name: &str, shelf: &str, retired: bool) -> Item {
        Item {
            reference: name.to_uppercase(),
            name: name.to_owned(),
            unit: Unit::Gram,
            details: ItemDetails::Consumable,
            maker: String::new(),
            maker_number: String::new(),
            supplier: String::new(),
            shelf: shelf.to_owned(),
            note: String::new(),
            reorder_level: None,
            lead_bearing: name == "ruby",
            retired,
            buying: Buying::default(),
        }
    }

    #[test]
    fn shelves_are_walked_by_the_size_of_their_numbers() {
        let items = [
            item("oat", "A10", false),
            item("kelp", "", false),
            item("ruby", "a2 ", false),
            item("tar", "A2", false),
            item("gone", "A2", true),
            item("rest", "B1", true),
        ];
        let rows = items.iter().enumerate().map(|(row, item)| OnShelf {
            id: ItemId(i64::try_from(row).unwrap()),
            item,
            on_hand: if item.name == "rest" { Quantity::new(5.into()).unwrap() } else { Quantity::ZERO },
        });
        let rows: Vec<OnShelf<'_>> = rows.collect();
        let shelves = by_shelf(rows.iter().copied());
        let names: Vec<(&str, usize)> = shelves.iter().map(|(name, there)| (name.as_str(), there.len())).collect();
        assert_eq!(names, [("a2", 2), ("A10", 1), ("B1", 1), (NO_SHELF, 1)]);

        let preferences = Preferences::metric(Currency::from_code("EUR").unwrap());
        let asked = Asked { shelf: Some("A2"), with_stock: true, paper: PaperSize::LETTER };
        let sheet = count_sheet(rows.iter().copied(), &asked, "Tidewrack Enamels", "2026-03-14", &preferences);
        assert_eq!(sheet.shelves.len(), 1);
        let lines: Vec<(&str, bool, Option<&str>)> = sheet
            .shelves
            .iter()
            .flat_map(|shelf| &shelf.lines)
            .map(|line| (line.name.as_str(), line.lead_bearing, line.on_hand.as_deref()))
            .collect();
        assert_eq!(lines, [("ruby", true, Some("0\u{a0}g")), ("tar", false, Some("0\u{a0}g"))]);
    }
}
