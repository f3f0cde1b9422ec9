//! The rules of a movement file, which are this project's own.

use super::*;
use crate::studio::ValuationMethod;
use std::collections::BTreeMap;

fn shelf() -> Shelf {
    Shelf {
        items: vec![
            (ItemId(1), "EN-1".to_owned(), "Fen green".to_owned(), Unit::Gram),
            (ItemId(2), "WI-1".to_owned(), "Cloison wire".to_owned(), Unit::Millimetre),
        ],
        currency: Currency::USD,
        numbers: NumberStyle::Point,
        closed_until: None,
    }
}

fn sheet(rows: &[[&str; 7]]) -> MovementSheet {
    let rows = (2..).zip(rows).map(|(row, texts)| MovementRow { row, texts: texts.map(str::to_owned) }).collect();
    MovementSheet { labels: Default::default(), rows }
}

fn sentences(problems: &[RowProblem]) -> Vec<String> {
    problems.iter().map(ToString::to_string).collect()
}

#[test]
fn lines_are_read_in_order_and_converted_exactly() {
    let planned = read(
        &sheet(&[
            ["2026-01-05", "en-1", "receipt", "1", "lb", "18.40", "first jar"],
            ["2026-01-05", "Fen green", "issue", "2", "oz", "", ""],
            ["", "", "", "", "", "", " "],
            ["2026-01-06", "WI-1", "Wash back", "1", "ft", "", ""],
            ["2026-01-06", "Pumice", "count", "0", "kg", "0", ""],
            ["2026-01-06", "PUMICE", "receipt", "1.5", "", "3", ""],
        ]),
        "shelf.csv",
        &shelf(),
    );
    assert_eq!(planned.problems, Vec::new());
    let quantities: Vec<String> = planned.plan.movements.iter().map(|line| line.quantity.to_string()).collect();
    // The pound and the inch of 1959: 453.59237 g and 25.4 mm.
    assert_eq!(quantities, ["453.59237", "56.69904625", "304.8", "0", "1.5"]);
    let rows: Vec<usize> = planned.plan.movements.iter().map(|line| line.row).collect();
    assert_eq!(rows, [2, 3, 5, 6, 7]);
    assert_eq!(planned.plan.movements[0].typed, "1 lb");
    assert_eq!(planned.plan.movements[2].cost, Some(Money::ZERO));
    assert_eq!(planned.plan.new_items.len(), 1);
    assert_eq!((planned.plan.new_items[0].name.as_str(), planned.plan.new_items[0].unit), ("Pumice", Unit::Gram));
    assert_eq!(planned.plan.movements[4].item, ImportItem::New(0));
}

#[test]
fn every_problem_is_told_with_its_row_and_column() {
    let mut book = shelf();
    book.closed_until = NaiveDate::from_ymd_opt(2025, 12, 31);
    let planned = read(
        &sheet(&[
            ["5 Jan 2026", "EN-1", "recieve", "-1", "g", "1", ""],
            ["2026-01-05", "", "receipt", "1", "g", "1", ""],
            ["2026-01-05", "EN-1", "receipt", "1", "ml", "", ""],
            ["2026-01-05", "EN-1", "issue", "0", "g", "2", ""],
            ["2026-01-05", "New", "count", "1", "jars", "", ""],
            ["2025-12-31", "EN-1", "count", "1", "g", "", ""],
            ["2026-01-05", "EN-1", "receipt", "1,234", "g", "12 EUR", ""],
        ]),
        "shelf.csv",
        &book,
    );
    assert_eq!(
        sentences(&planned.problems),
        [
            "row 2, date: \"5 Jan 2026\" was given; a day written year-month-day is accepted, e.g. 2026-03-14",
            "row 2, movement: \"recieve\" was given; receipt, issue, return, count, write-off or wash-back is accepted",
            "row 2, quantity: \"-1 g\" is below zero: write a mass such as 12.5 g, 2 oz or 1/4 lb",
            "row 3, item: nothing is written; the item's reference is accepted, e.g. EN-041",
            "row 4, unit: \"ml\" was given; a unit that measures the same as g, which the item is kept in, is accepted",
            "row 4, cost: nothing is written; the landed cost of the whole lot is accepted, 0 if it was free",
            "row 5, quantity: \"0\" is nothing; a number above 0 is accepted",
            "row 5, cost: \"2\" was given; nothing is accepted: the cost of an issue comes from the lots",
            "row 6, unit: \"jars\" is not a unit known here; g, kg, oz, lb, mm, cm, m, in, ft, ml, l or each are accepted",
            "row 7, date: the period up to 2025-12-31 is closed; a day after it is accepted, 2025-12-31 was given",
            "row 8, quantity: \"1,234 g\" can mean 1234 or 1.234: write it in one of these two ways",
            "row 8, cost: \"12 EUR\" is not in USD, the currency of this book: write an amount such as 12.50",
        ]
    );
    assert_eq!(planned.problems[9].fault, Fault::Book);
    assert!(planned.problems.iter().filter(|problem| problem.fault == Fault::Book).count() == 1);
}

#[test]
fn a_number_finer_than_the_book_keeps_is_rounded_to_its_grain() {
    let line = ["2026-01-05", "EN-1", "receipt", "0.30000000000000004", "g", "2.7980979324375", ""];
    let planned = read(&sheet(&[line]), "shelf.csv", &shelf());
    assert_eq!(planned.problems, Vec::new());
    assert_eq!(planned.plan.movements[0].quantity.to_string(), "0.3");
    assert_eq!(planned.plan.movements[0].cost.map(|cost| cost.to_string()).as_deref(), Some("2.798098"));
}

#[test]
fn what_would_be_short_is_told_for_every_line() {
    let lines = [
        ["2026-01-05", "EN-1", "receipt", "10", "g", "10", ""],
        ["2026-01-06", "EN-1", "issue", "11", "g", "", ""],
        ["2026-01-07", "EN-1", "issue", "10", "g", "", ""],
        ["2026-01-08", "EN-1", "return", "1", "g", "", ""],
    ];
    let planned = read(&sheet(&lines), "shelf.csv", &shelf());
    let short = shortages(&planned, &BTreeMap::new(), ValuationMethod::Fifo);
    assert_eq!(
        sentences(&short),
        [
            "row 3, quantity: only 10 on hand on 2026-01-06, 11 asked for",
            "row 5, quantity: only 0 on hand on 2026-01-08, 1 asked for",
        ]
    );
}
