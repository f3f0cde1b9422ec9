//! Sheet cut into blanks and off-cuts; what they cost follows the sheet.

use super::limits::{self, Range, refuse};
use super::perform::Done;
use super::stock::{accept_cost, book, found, refusal, too_large};
use super::{Refusal, items};
use crate::book::cut::{self as cuts, NewCut};
use crate::book::movement::{self, NewMovement};
use crate::book::{Change, Reader, correction, document};
use crate::costing::cut::{CutCosts, astray, bench_worth, cut_costs};
use crate::costing::stock::{self as valuation, Ledger};
use crate::measure::{Decimal, Money};
use crate::studio::{BookCut, Cut, CutItem, CutPart, ItemId, LotId, Movement, MovementId, MovementKind};

/// Most lines of one cut.
const MOST_LINES: usize = 1_000;

/// Cuts sheet: issues it, receives what it makes with its share of the value.
pub(super) fn cut(change: &Change<'_>, cut: &Cut, action: i64) -> Result<Done, Refusal> {
    accept(cut)?;
    let rates = document::rates(change.reader())?;
    let (sheet, issue) = book(
        change,
        &NewMovement {
            item: cut.sheet,
            date: cut.date,
            kind: MovementKind::Issue,
            quantity: cut.quantity,
            cost: None,
            lot: None,
            lot_number: "",
            supplier: "",
            note: &cut.note,
            typed: &cut.typed,
        },
    )?;
    let method = document::settings(change.reader())?.valuation;
    let movements = movement::bare_of_item(change.reader(), cut.sheet)?;
    let ledger = valuation::ledger(&movements, method).map_err(|error| refusal(&sheet, error))?;
    let metal = issued(&ledger, issue)?;
    let bench = if cut.bench_in_cost {
        bench_worth(cut.bench_minutes, rates.labour_per_hour).map_err(too_large)?
    } else {
        Money::ZERO
    };
    let shares: Vec<(CutPart, Decimal)> = cut.lines.iter().map(|line| (line.part, line.share)).collect();
    let costs = cut_costs(metal, bench, &shares, cut.scrap_share).map_err(too_large)?;
    let mut made = Vec::with_capacity(cut.lines.len());
    for (line, cost) in cut.lines.iter().zip(&costs.lines) {
        let item = match &line.item {
            CutItem::Known(id) => *id,
            CutItem::New(new) => items::add(change, (**new).clone(), action)?,
        };
        let note = format!("Cut from {}", sheet.name);
        let (_, row) = book(
            change,
            &NewMovement {
                item,
                date: cut.date,
                kind: MovementKind::Receipt,
                quantity: line.quantity,
                cost: Some(*cost),
                lot: None,
                lot_number: "",
                supplier: "",
                note: &note,
                typed: &line.quantity.to_string(),
            },
        )?;
        made.push((row, line.part, line.share));
    }
    let new =
        NewCut { issue, bench_minutes: cut.bench_minutes, bench, scrap_g: cut.scrap_g, scrap_share: cut.scrap_share };
    cuts::insert(change, &new, &made)?;
    Ok(Done {
        name: format!("Cut {} {} of {}", cut.quantity, sheet.unit, sheet.name),
        added: None,
        moved_value: Some(metal),
    })
}

fn accept(cut: &Cut) -> Result<(), Refusal> {
    if cut.lines.is_empty() || cut.lines.len() > MOST_LINES {
        return Err(refuse("Pieces", cut.lines.len(), format!("1 to {MOST_LINES} kinds of pieces are accepted")));
    }
    for line in &cut.lines {
        limits::number("Share of the sheet", line.share, Range::AboveZero)?;
    }
    limits::quantity("Scrap", cut.scrap_g, Range::ZeroOrMore)?;
    limits::number("Scrap's share of the sheet", cut.scrap_share, Range::ZeroOrMore)?;
    limits::number("Minutes at the bench", cut.bench_minutes, Range::ZeroOrMore)
}

/// What an issue took out.
fn issued(ledger: &Ledger, issue: MovementId) -> Result<Money, Refusal> {
    let line = ledger.lines.iter().find(|line| line.movement == issue);
    let value = line.map_or(Money::ZERO, |line| line.value_change);
    Ok(Money::ZERO.minus(value).map_err(too_large)?)
}

/// What a cut's parts should cost by the sheet's ledger, and the lots they came with.
fn expected(reader: Reader<'_>, cut: &BookCut, ledger: &Ledger) -> Result<(CutCosts, Vec<Movement>), Refusal> {
    let shares: Vec<(CutPart, Decimal)> = cut.lines.iter().map(|(_, part, share)| (*part, *share)).collect();
    let metal = issued(ledger, cut.issue)?;
    let costs = cut_costs(metal, cut.bench, &shares, cut.scrap_share).map_err(too_large)?;
    let mut lots = Vec::with_capacity(cut.lines.len());
    for (lot, ..) in &cut.lines {
        lots.push(movement::find(reader, *lot)?.ok_or_else(|| Refusal::Missing(format!("lot {} of a cut", lot.0)))?);
    }
    Ok((costs, lots))
}

/// Lets what was cut from a sheet follow what the sheet costs now: lots that would cost something else are corrected.
pub(super) fn follow(change: &Change<'_>, sheet: ItemId, ledger: &Ledger) -> Result<(), Refusal> {
    for cut in cuts::of_sheet(change.reader(), sheet)? {
        let (costs, lots) = expected(change.reader(), &cut, ledger)?;
        for (lot, cost) in astray(&costs, &lots) {
            accept_cost(&found(change, lot.item)?, cost, lot.quantity)?;
            let note = "Follows the sheet it was cut from";
            correction::insert(change, lot.item, LotId(lot.id.0), lot.date, cost, note)?;
        }
    }
    Ok(())
}

/// Cuts whose parts are not worth what went in, a sentence each.
pub(super) fn problems(reader: Reader<'_>) -> Result<Vec<String>, Refusal> {
    let method = document::settings(reader)?.valuation;
    let mut problems = Vec::new();
    for sheet in cuts::sheets(reader)? {
        let movements = movement::bare_of_item(reader, sheet)?;
        // Movements that cannot be valued are told of with their item.
        let Ok(ledger) = valuation::ledger(&movements, method) else { continue };
        for cut in cuts::of_sheet(reader, sheet)? {
            let (costs, lots) = expected(reader, &cut, &ledger)?;
            for (lot, cost) in astray(&costs, &lots) {
                let now = lot.cost.unwrap_or_default();
                problems.push(format!("lot {}, cut from sheet, costs {now}; the sheet makes it {cost}", lot.id.0));
            }
        }
    }
    Ok(problems)
}
