//! What stock is worth, against published ledgers (tests/data, each row with its source) and by properties.
#![allow(clippy::unwrap_used, clippy::indexing_slicing, clippy::panic, missing_docs)]

use crate::support::{rows_of, text};
use chrono::NaiveDate;
use enamelwright::costing::correction::{Shift, correction_effect};
use enamelwright::costing::share::split;
use enamelwright::costing::stock::{StockError, book_unit_price, closing, ledger, replacement_unit_price};
use enamelwright::measure::{Decimal, Money, Quantity, exact};
use enamelwright::studio::{ItemId, LotId, Movement, MovementId, MovementKind, ValuationMethod};
use proptest::prelude::*;
use serde_json::Value;
use std::collections::BTreeMap;

fn decimal(text: &str) -> Decimal {
    text.parse().unwrap()
}

fn movement(id: i64, kind: MovementKind, quantity: &str, cost: Option<&str>) -> Movement {
    Movement {
        id: MovementId(id),
        item: ItemId(1),
        date: NaiveDate::from_ymd_opt(2026, 1, 5).unwrap(),
        kind,
        quantity: Quantity::new(decimal(quantity)).unwrap(),
        cost: cost.map(|cost| Money::rounded(decimal(cost))),
        lot: None,
        lot_number: String::new(),
        supplier: String::new(),
        note: String::new(),
        typed: String::new(),
    }
}

fn receipt(id: i64, quantity: &str, cost: &str) -> Movement {
    movement(id, MovementKind::Receipt, quantity, Some(cost))
}

fn near(one: Decimal, other: Decimal, grains: i64) -> bool {
    (one - other).abs() <= Decimal::new(grains, 6)
}

/// Published figures are unrounded; each issue of ours is rounded to a millionth, so an issue is compared to within one
/// grain and a sum to within one grain an issue (costing method, section 5).
#[test]
fn published_ledgers_agree_line_by_line() {
    for row in rows_of("c_cost_accounting.csv", "C-LED-", 30) {
        let method = if row.id.ends_with("-FIFO") { ValuationMethod::Fifo } else { ValuationMethod::Average };
        let mut movements = Vec::new();
        for (place, line) in row.inputs["ledger"].as_array().unwrap().iter().enumerate() {
            let (id, quantity) = (i64::try_from(place).unwrap() + 1, text(&line["quantity"]));
            movements.push(match text(&line["kind"]).as_str() {
                "sell" => movement(id, MovementKind::Issue, &quantity, None),
                _ => {
                    let cost = decimal(&quantity) * decimal(&text(&line["unit_cost"]));
                    receipt(id, &quantity, &cost.to_string())
                }
            });
        }
        let answer = row.answer();
        let book = ledger(&movements, method).unwrap();
        let issues: Vec<Decimal> = book
            .lines
            .iter()
            .zip(&movements)
            .filter(|(_, movement)| movement.kind == MovementKind::Issue)
            .map(|(line, _)| -line.value_change.amount())
            .collect();
        let published: Vec<Decimal> =
            answer["cost_of_each_sale"].as_array().unwrap().iter().map(|cost| decimal(&text(cost))).collect();
        assert_eq!(issues.len(), published.len(), "{}", row.id);
        for (issue, cost) in issues.iter().zip(&published) {
            assert!(near(*issue, *cost, 1), "{}: {issue} and {cost}", row.id);
        }
        let grains = i64::try_from(issues.len()).unwrap() + 1;
        assert_eq!(book.on_hand.amount(), decimal(&text(&answer["ending_quantity"])).normalize(), "{}", row.id);
        assert!(near(book.value.amount(), decimal(&text(&answer["ending_value"])), grains), "{}", row.id);
        assert!(near(book.issued.amount(), decimal(&text(&answer["cogs"])), grains), "{}", row.id);
        if let Some(lots) = answer.get("lots_left").and_then(Value::as_array) {
            assert_eq!(lots.len(), book.layers.len(), "{}", row.id);
            for (lot, layer) in lots.iter().zip(&book.layers) {
                let (quantity, unit) = (decimal(&text(&lot[0])), decimal(&text(&lot[1])));
                assert_eq!(layer.quantity.amount(), quantity.normalize(), "{}", row.id);
                assert!(near(layer.value.amount(), quantity * unit, grains), "{}", row.id);
            }
        }
    }
}

#[test]
fn freight_spreads_over_the_lines_of_an_order() {
    // Of the six C-LAND rows; C-LAND-1, -3 and -4 are landed costs, checked below.
    for row in rows_of("c_cost_accounting.csv", "C-LAND-LR-", 3) {
        let weights: Vec<Decimal> =
            row.inputs["line_values"].as_array().unwrap().iter().map(|value| decimal(&text(value))).collect();
        let parts = split(decimal(&row.input("freight_minor_units")), &weights, 0).unwrap();
        let expected: Vec<Decimal> = row.answer().as_array().unwrap().iter().map(|part| decimal(&text(part))).collect();
        assert_eq!(parts, expected, "{}", row.id);
    }
}

#[test]
fn landed_cost_gives_the_published_unit_cost() {
    // C-LAND-4 is about paying an invoice, not about stock.
    let rows = rows_of("c_cost_accounting.csv", "C-LAND-", 6);
    let find = |id: &str| rows.iter().find(|row| row.id == id).unwrap();
    let freight = find("C-LAND-1");
    let units = decimal(&freight.input("units"));
    let cost = units * (decimal(&freight.input("price")) + decimal(&freight.input("freight_per_unit")));
    let lot = [receipt(1, &units.to_string(), &cost.to_string())];
    let answer = freight.answer();
    assert_eq!(ledger(&lot, ValuationMethod::Fifo).unwrap().value.amount(), decimal(&text(&answer["stock"])));
    assert_eq!(replacement_unit_price(&lot), Some(decimal(&text(&answer["unit_cost"]))));
    let discount = find("C-LAND-3");
    let units = decimal(&discount.input("units"));
    let cost = units * decimal(&discount.input("price")) * (Decimal::ONE - decimal(&discount.input("discount")));
    let lot = [receipt(1, &units.to_string(), &cost.to_string())];
    let book = ledger(&lot, ValuationMethod::Average).unwrap();
    assert_eq!(book.value.amount(), decimal(&text(&discount.answer()["stock"])));
    assert_eq!(book_unit_price(&book), Some(decimal(&text(&discount.answer()["unit_cost"]))));
}

#[test]
fn what_rounding_leaves_stays_until_the_last_issue_takes_it() {
    let list: Vec<Movement> = std::iter::once(receipt(1, "3", "1"))
        .chain((2..5).map(|id| movement(id, MovementKind::Issue, "1", None)))
        .collect();
    for method in [ValuationMethod::Fifo, ValuationMethod::Average] {
        let book = ledger(&list, method).unwrap();
        let costs: Vec<String> = book.lines[1..].iter().map(|line| line.value_change.to_string()).collect();
        // 1/3, then half of 0.666667 to even, then all that is left.
        assert_eq!(costs, ["-0.333333", "-0.333334", "-0.333333"]);
        assert!(book.value.is_zero() && book.on_hand.is_zero());
    }
}

#[test]
fn counts_bring_in_a_surplus_at_the_current_unit_cost_and_write_a_shortage_off() {
    let list = [
        receipt(1, "10", "10"),
        receipt(2, "10", "30"),
        movement(3, MovementKind::Count, "22", None),
        movement(4, MovementKind::Count, "21", None),
        movement(5, MovementKind::Count, "21", None),
    ];
    let fifo = ledger(&list, ValuationMethod::Fifo).unwrap();
    assert_eq!((fifo.received.to_string(), fifo.written_off.to_string()), ("46".into(), "1".into()));
    let average = ledger(&list, ValuationMethod::Average).unwrap();
    assert_eq!((average.received.to_string(), average.written_off.to_string()), ("44".into(), "2".into()));
    let found = [movement(1, MovementKind::Count, "5", None)];
    assert!(ledger(&found, ValuationMethod::Fifo).unwrap().value.is_zero());
}

#[test]
fn a_return_goes_at_its_lots_cost_and_only_while_the_lot_holds_it() {
    let mut back = movement(3, MovementKind::Return, "4", None);
    let list = |back: &Movement| [receipt(1, "10", "10"), receipt(2, "10", "30"), back.clone()];
    for method in [ValuationMethod::Fifo, ValuationMethod::Average] {
        assert_eq!(ledger(&list(&back), method).unwrap().returned.to_string(), "12");
        back.lot = Some(LotId(1));
        assert_eq!(ledger(&list(&back), method).unwrap().returned.to_string(), "4");
        back.quantity = Quantity::new(decimal("11")).unwrap();
        let left = Quantity::new(decimal("10")).unwrap();
        assert_eq!(ledger(&list(&back), method), Err(StockError::LotTooSmall { left, movement: MovementId(3) }));
        back = movement(3, MovementKind::Return, "4", None);
    }
}

/// The rules of the issue that asked for wash-backs, worked by hand.
#[test]
fn a_wash_back_is_a_lot_of_its_own_that_goes_back_to_no_supplier() {
    let wash_back = |id: i64, quantity: &str, cost: &str| movement(id, MovementKind::WashBack, quantity, Some(cost));
    let list = [
        receipt(1, "10", "10"),
        wash_back(2, "5", "0"),
        movement(3, MovementKind::Issue, "12", None),
        wash_back(4, "1", "0.4"),
        // 4 on hand; the latest lot is worth 0.4 a unit.
        movement(5, MovementKind::Count, "6", None),
    ];
    let fifo = ledger(&list, ValuationMethod::Fifo).unwrap();
    let changes: Vec<String> = fifo.lines.iter().map(|line| line.value_change.to_string()).collect();
    assert_eq!(changes, ["10", "0", "-10", "0.4", "0.8"]);
    let average = ledger(&list, ValuationMethod::Average).unwrap();
    // 10 for 15: 12 leave at 8, 2.4 for 4 are left, and 2 more of them are worth 1.2.
    let changes: Vec<String> = average.lines.iter().map(|line| line.value_change.to_string()).collect();
    assert_eq!(changes, ["10", "0", "-8", "0.4", "1.2"]);
    // What was bought last, not what was washed back.
    assert_eq!(replacement_unit_price(&list), Some(decimal("1")));
    assert_eq!(replacement_unit_price(&[wash_back(1, "4", "1")]), Some(decimal("0.25")));
    let mut back = movement(6, MovementKind::Return, "1", None);
    back.lot = Some(LotId(4));
    for lot in [back.lot, None] {
        back.lot = lot;
        let all: Vec<Movement> = list.iter().cloned().chain([back.clone()]).collect();
        assert!(matches!(ledger(&all, ValuationMethod::Fifo), Err(StockError::LotTooSmall { .. })));
    }
}

/// FIFO by hand: of 10 at 1 and 10 at 3, 15 leave; the first lot cost 2 after all.
#[test]
fn a_corrected_price_flows_to_what_was_issued_from_the_lot() {
    let list = [
        receipt(1, "10", "10"),
        receipt(2, "10", "30"),
        movement(3, MovementKind::Issue, "4", None),
        movement(4, MovementKind::WriteOff, "7", None),
    ];
    let effect =
        correction_effect(&list, LotId(1), Money::rounded(decimal("20")), ValuationMethod::Fifo).unwrap().unwrap();
    let pair = |shift: Shift| (shift.before.to_string(), shift.after.to_string());
    let both = |one: &str, other: &str| (one.to_owned(), other.to_owned());
    assert_eq!(pair(effect.cost), both("10", "20"));
    assert_eq!(pair(effect.issued), both("4", "8"));
    assert_eq!(pair(effect.written_off), both("9", "15"));
    assert_eq!(pair(effect.value), both("27", "27"));
    assert_eq!(effect.lines.iter().map(|line| line.movement.0).collect::<Vec<_>>(), [3, 4]);
    assert_eq!(effect.replacement_price, [Some(decimal("3")); 2]);
    // By the average what is left moves too: 50 for 20, 9 left.
    let effect =
        correction_effect(&list, LotId(1), Money::rounded(decimal("20")), ValuationMethod::Average).unwrap().unwrap();
    assert_eq!(pair(effect.value), both("18", "22.5"));
    assert_eq!(correction_effect(&list, LotId(3), Money::ZERO, ValuationMethod::Fifo), Ok(None));
}

#[test]
fn more_than_is_there_cannot_leave() {
    let list = [receipt(1, "10", "10"), movement(2, MovementKind::Issue, "10.5", None)];
    let sentence = ledger(&list, ValuationMethod::Fifo).unwrap_err().to_string();
    assert_eq!(sentence, "only 10 on hand on 2026-01-05, 10.5 asked for");
    let nothing = [movement(1, MovementKind::Issue, "0", None)];
    assert!(matches!(ledger(&nothing, ValuationMethod::Fifo), Err(StockError::NotPositive { .. })));
}

/// Any list of movements a person could enter, those that are refused left out.
pub(crate) fn history() -> impl Strategy<Value = Vec<Movement>> {
    let one = (0_u8..9, 1_i64..2_000_000, 0_u32..=9, 0_i64..100_000_000, 0_i64..20, any::<bool>());
    prop::collection::vec(one, 1..40).prop_map(|choices| {
        let mut list: Vec<Movement> = Vec::new();
        for (id, (choice, digits, places, cost, lot, all)) in (1_i64..).zip(choices) {
            let kind = match choice {
                0..=2 => MovementKind::Receipt,
                3 | 4 => MovementKind::Issue,
                5 => MovementKind::WriteOff,
                6 => MovementKind::Count,
                8 => MovementKind::WashBack,
                _ => MovementKind::Return,
            };
            let mut next = movement(id, kind, &Decimal::new(digits, places).to_string(), None);
            if kind.is_lot() {
                next.cost = Some(Money::rounded(Decimal::new(cost, 6)));
            } else if all && kind != MovementKind::Count {
                // Often all there is, so that lots and items run empty.
                next.quantity = closing(&list, ValuationMethod::Fifo).unwrap().on_hand;
            }
            if kind == MovementKind::Return && lot > 0 {
                next.lot = Some(LotId(lot));
            }
            list.push(next);
            if closing(&list, ValuationMethod::Fifo).is_err() {
                list.pop();
            }
        }
        list
    })
}

proptest! {
    #[test]
    fn value_received_is_on_hand_issued_written_off_and_returned(list in history()) {
        for method in [ValuationMethod::Fifo, ValuationMethod::Average] {
            let book = ledger(&list, method).unwrap();
            let out = [book.value, book.issued, book.written_off, book.returned];
            prop_assert_eq!(exact::sum(out.map(Money::amount)), Ok(book.received.amount()));
            for line in &book.lines {
                prop_assert!(line.value >= Money::ZERO && !line.on_hand.is_negative());
                prop_assert!(!line.on_hand.is_zero() || line.value.is_zero(), "an empty item is worth nothing");
            }
            let changes = exact::sum(book.lines.iter().map(|line| line.value_change.amount()));
            prop_assert_eq!(changes, Ok(book.value.amount()));
            let left = exact::sum(book.layers.iter().map(|layer| layer.quantity.amount()));
            prop_assert_eq!(left, Ok(book.on_hand.amount()));
            if method == ValuationMethod::Fifo {
                let worth = exact::sum(book.layers.iter().map(|layer| layer.value.amount()));
                prop_assert_eq!(worth, Ok(book.value.amount()));
            }
            let end = closing(&list, method).unwrap();
            prop_assert_eq!((end.on_hand, end.value, end.issued), (book.on_hand, book.value, book.issued));
        }
    }

    /// Whatever a lot cost after all: no quantity moves, nothing is made or lost, and correcting it back is as it was.
    #[test]
    fn a_correction_moves_value_and_no_quantity(list in history(), which in 0_usize..40, millionths in 0_i64..100_000_000) {
        let lots: Vec<LotId> =
            list.iter().filter(|movement| movement.kind.is_lot()).map(|movement| LotId(movement.id.0)).collect();
        let Some(lot) = lots.get(which % lots.len().max(1)).copied() else { return Ok(()) };
        let cost = Money::rounded(Decimal::new(millionths, 6));
        for method in [ValuationMethod::Fifo, ValuationMethod::Average] {
            let effect = correction_effect(&list, lot, cost, method).unwrap().unwrap();
            let mut after = list.clone();
            after.iter_mut().find(|movement| movement.id.0 == lot.0).unwrap().cost = Some(cost);
            let (one, other) = (ledger(&list, method).unwrap(), ledger(&after, method).unwrap());
            prop_assert_eq!(effect.on_hand, one.on_hand);
            for (line, moved) in one.lines.iter().zip(&other.lines) {
                prop_assert_eq!(line.change, moved.change);
            }
            // Received and what became of it move alike. A surplus under FIFO takes the lot's price, so that received may
            // move by more than the lot.
            let out = |book: &enamelwright::costing::stock::Ledger| {
                exact::sum([book.value, book.issued, book.written_off, book.returned].map(Money::amount)).unwrap()
            };
            prop_assert_eq!(out(&other) - out(&one), other.received.amount() - one.received.amount());
            let back = correction_effect(&after, lot, effect.cost.before, method).unwrap().unwrap();
            prop_assert_eq!((back.value.after, back.issued.after), (one.value, one.issued));
            prop_assert_eq!(back.lines.len(), effect.lines.len());
        }
    }
}

/// A second opinion on 25 journals of 40 movements: what an independent accounting library says each issue costs. The
/// journals were drawn by a linear congruential generator (quantities of two and three decimals, unit costs of four) and
/// booked once by beancount 3.2.3, a ledger for plain-text accounting, with the booking method FIFO; its amounts are exact
/// decimals, ours are rounded to a millionth an issue.
#[test]
fn an_independent_ledger_says_what_each_issue_costs() {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/second_opinion_fifo.csv");
    let mut journals: BTreeMap<u32, Vec<(Movement, Option<Decimal>)>> = BTreeMap::new();
    for (id, record) in (1_i64..).zip(csv::Reader::from_path(path).unwrap().records()) {
        let record = record.unwrap();
        let kind = MovementKind::from_name(&record[2]).unwrap();
        let mut next = movement(id, kind, &record[3], (kind == MovementKind::Receipt).then(|| &record[4]));
        next.date = record[1].parse().unwrap();
        let issued = (kind == MovementKind::Issue).then(|| decimal(&record[5]));
        journals.entry(record[0].parse().unwrap()).or_default().push((next, issued));
    }
    assert_eq!(journals.len(), 25);
    for (journal, lines) in journals {
        let movements: Vec<Movement> = lines.iter().map(|(movement, _)| movement.clone()).collect();
        let ours = ledger(&movements, ValuationMethod::Fifo).unwrap();
        let (mut issues, mut theirs, mut total) = (0, Decimal::ZERO, Decimal::ZERO);
        for ((movement, issued), line) in lines.iter().zip(&ours.lines) {
            let Some(issued) = issued else { continue };
            issues += 1;
            theirs += *issued;
            total -= line.value_change.amount();
            // What rounding left in a lot goes with a later issue, so that the sums stay within a grain an issue.
            assert!(near(-line.value_change.amount(), *issued, issues), "journal {journal}, {}", movement.date);
            assert!(near(total, theirs, issues), "journal {journal}, up to {}", movement.date);
        }
        assert!(issues > 10, "journal {journal} has {issues} issues");
    }
}
