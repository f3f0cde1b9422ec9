//! Beginning a batch.

use super::pieces_words;
use crate::actions::bench_action::NewBatch;
use crate::actions::limits::{self, refuse};
use crate::actions::perform::Done;
use crate::actions::stock::too_large;
use crate::actions::{Added, Refusal, designs};
use crate::book::{Change, Reader, batch, bench_entry, design, document, item_state};
use crate::costing::piece::piece_cost;
use crate::costing::resolve::resolve;
use crate::studio::{Batch, BatchState, BenchDeed, BookDesign, Design, DesignId, ItemId, MaterialId};
use std::collections::BTreeMap;

/// Most pieces of a batch.
pub(super) const MOST_PIECES: u32 = 1_000;

/// Begins a batch: its pieces wait for the first step. Too little stock does not hinder it.
pub(in crate::actions) fn start(change: &Change<'_>, new: &NewBatch) -> Result<Done, Refusal> {
    limits::date("Date", new.date)?;
    limits::text("Note", &new.note)?;
    let given = limits::optional_name("Name", &new.name)?;
    let (found, plan, stock) = plan_of(change.reader(), new.design, new.pieces)?;
    if found.retired {
        return Err(Refusal::No(format!("design {} is set aside; take it up again first", plan.code)));
    }
    let number = batch::next_number(change.reader())?;
    let begun = Batch {
        number,
        design: new.design,
        name: if given.is_empty() { plan.name.clone() } else { given },
        started: new.date,
        plan,
        stock,
        note: new.note.trim().to_owned(),
        state: BatchState::Open,
    };
    let row = batch::insert(change, &begun)?;
    let pieces =
        (1..=new.pieces).map(|place| batch::insert_piece(change, row, place)).collect::<Result<Vec<_>, _>>()?;
    bench_entry::insert(change, row, new.date, &BenchDeed::Started { pieces })?;
    Ok(Done::adding(format!("Start batch {number}: {} {}", new.pieces, begun.name), Added::Batch(row)))
}

/// The design as it is costed today with so many pieces, and the items its materials are taken from.
pub(in crate::actions) fn plan_of(
    reader: Reader<'_>,
    id: DesignId,
    pieces: u32,
) -> Result<(BookDesign, Design, BTreeMap<MaterialId, ItemId>), Refusal> {
    if !(1..=MOST_PIECES).contains(&pieces) {
        return Err(refuse("Pieces", pieces, "1 to 1,000 pieces are accepted"));
    }
    let found = design::find(reader, id)?.ok_or_else(|| designs::missing(id))?;
    let on_book_cost = document::settings(reader)?.price_on_book_cost;
    let states = item_state::all(reader)?;
    let unit_price = |item: ItemId| {
        let state = states.get(&item)?;
        if on_book_cost { state.book_price.or(state.replacement_price) } else { state.replacement_price }
    };
    let mut plan = resolve(&found, &document::rates(reader)?, unit_price).map_err(too_large)?;
    plan.pieces = pieces;
    if let Err(error) = piece_cost(&plan) {
        return Err(refuse(
            "Design",
            format!("{}, {}", plan.code, pieces_words(pieces as usize)),
            format!("a design that can be costed is accepted: {error}"),
        ));
    }
    let stock = found.follows.materials.clone();
    Ok((found, plan, stock))
}
