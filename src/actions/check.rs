//! Checking a whole book: that it is sound, and that nothing was made or lost in it.

use super::Refusal;
use super::stock::state_of;
use crate::book::item_state::{self, ItemState};
use crate::book::{Book, BookError, document, item, movement};
use crate::costing::stock::{self as valuation, Ledger};
use crate::measure::{Decimal, TooLarge, exact};
use crate::studio::{ItemId, Movement, ValuationMethod};
use std::collections::BTreeMap;

/// What a check of a whole book found.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct CheckReport {
    /// What was checked, a sentence each.
    pub checked: Vec<String>,
    /// What is wrong, a sentence each; empty when the book is sound.
    pub problems: Vec<String>,
}

/// Checks integrity and every conservation law over a whole book.
pub fn check(book: &Book) -> Result<CheckReport, BookError> {
    examine(book).map_err(|fault| fault.of_book(book.path()))
}

fn examine(book: &Book) -> Result<CheckReport, BookError> {
    let mut report = CheckReport::default();
    report.problems.extend(book.problems()?);
    report.checked.push("every page, index and reference of the book".to_owned());
    report.checked.push("the history, and what it takes to undo it".to_owned());
    report.checked.push("every item, design, price list, sheet, the settings and the rates".to_owned());

    let reader = book.reader();
    let method = document::settings(reader)?.valuation;
    let names: BTreeMap<ItemId, String> = item::names(reader)?.into_iter().collect();
    let mut kept = item_state::all(reader)?;
    let (mut items, mut lines) = (0_usize, 0_usize);
    movement::for_each_item(reader, None, |id, movements| -> Result<(), BookError> {
        items += 1;
        lines += movements.len();
        let name = names.get(&id).map_or("an item that is not there", String::as_str);
        for way in [ValuationMethod::Fifo, ValuationMethod::Average] {
            match valuation::ledger(movements, way) {
                Ok(ledger) => {
                    for problem in broken_laws(movements, &ledger)? {
                        report.problems.push(format!("{name}, {}: {problem}", way.name()));
                    }
                    if way == method && kept.remove(&id).as_ref() != Some(&state_of(movements, &ledger)) {
                        report
                            .problems
                            .push(format!("{name}: what its list entry says is not what its movements come to"));
                    }
                }
                Err(error) => report.problems.push(format!("{name}, {}: {error}", way.name())),
            }
        }
        Ok(())
    })?;
    report.checked.push(format!(
        "{lines} movements of {items} items by both methods: received = on hand + issued + written off + returned, \
         no day below zero, lots add up, lists agree"
    ));
    for (id, name) in &names {
        let unmoved = kept.remove(id);
        let never_moved = !movement::any_of_item(reader, *id)?;
        if never_moved && unmoved != Some(ItemState::default()) {
            report.problems.push(format!("{name}: has no movements, but its list entry says otherwise"));
        }
    }
    report.problems.extend(of_refusal(super::orders::problems(reader))?);
    report.checked.push("every order: its lines add up to its invoice, what came costs its part of it".to_owned());
    report.problems.extend(of_refusal(super::cuts::problems(reader))?);
    report.checked.push("every cut: what it made is worth the sheet and the bench time".to_owned());
    report.problems.extend(of_refusal(super::lots::problems(reader))?);
    report.checked.push("reclaimed enamel taken in at an item's cost costs that".to_owned());
    let (batches, problems) = match super::batches::problems(reader) {
        Ok(found) => found,
        Err(Refusal::Book(fault)) => return Err(fault),
        Err(refusal) => (0, vec![refusal.to_string()]),
    };
    report.problems.extend(problems);
    report.checked.push(format!(
        "{batches} batches: pieces in = good + lost + given + waiting at every step, in the order it happened; what was \
         issued to them is among the movements; finished pieces are numbered once"
    ));
    report.checked.push("every correction is one of a lot, every weighing one of a jar".to_owned());
    report.problems.extend(super::kiln_check::problems(reader)?);
    report.checked.push(
        "every load: its pieces are those their batches say were fired in it, and no two are in one kiln together"
            .to_owned(),
    );
    report.checked.push("every kiln has at most one day of a date".to_owned());
    if !kept.is_empty() {
        report.problems.push(format!("{} list entries belong to no item", kept.len()));
    }
    Ok(report)
}

/// A check that could not be carried out is a problem like any other, save for a fault of the book itself.
fn of_refusal(found: Result<Vec<String>, Refusal>) -> Result<Vec<String>, BookError> {
    match found {
        Ok(problems) => Ok(problems),
        Err(Refusal::Book(fault)) => Err(fault),
        Err(refusal) => Ok(vec![refusal.to_string()]),
    }
}

/// The laws every item's ledger keeps, to the last stored digit.
fn broken_laws(movements: &[Movement], ledger: &Ledger) -> Result<Vec<String>, BookError> {
    laws(movements, ledger).map_err(|error| BookError::TooLarge(error.to_string()))
}

fn laws(movements: &[Movement], ledger: &Ledger) -> Result<Vec<String>, TooLarge> {
    let mut broken = Vec::new();
    let out = ledger.value.plus(ledger.issued)?.plus(ledger.written_off)?.plus(ledger.returned)?;
    if ledger.received != out {
        broken.push(format!("{} was received, {out} is on hand or left", ledger.received));
    }
    if ledger.lines.len() != movements.len() {
        broken.push(format!("{} movements, {} of them valued", movements.len(), ledger.lines.len()));
    }
    let (mut quantity, mut value) = (Decimal::ZERO, Decimal::ZERO);
    for line in &ledger.lines {
        quantity = exact::add(quantity, line.change.amount())?;
        value = exact::add(value, line.value_change.amount())?;
        if quantity != line.on_hand.amount() || value != line.value.amount() {
            broken.push(format!("movement {} does not add up", line.movement.0));
        }
        if line.on_hand.is_negative() || line.value.amount() < Decimal::ZERO {
            broken.push(format!("movement {} goes below zero", line.movement.0));
        }
    }
    if quantity != ledger.on_hand.amount() || value != ledger.value.amount() {
        broken.push("its movements do not add up to what is on hand".to_owned());
    }
    let lots = exact::sum(ledger.layers.iter().map(|layer| layer.quantity.amount()))?;
    if lots != ledger.on_hand.amount() {
        broken.push(format!("its lots hold {lots}, {} is on hand", ledger.on_hand));
    }
    Ok(broken)
}
