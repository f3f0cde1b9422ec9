//! What the faces ask of a book about batches. Nothing here changes it.

use super::Refusal;
use super::batches::plan_of;
use super::bench_answer::{BenchUse, NeededItem};
use super::stock::too_large;
use crate::book::{Book, BookError, Reader, batch, bench_entry, design, item, item_state, load};
use crate::costing::batch::{need, reserved};
use crate::costing::learning::{self, Learned, LossRow, RECENT_BATCHES, loss_rows};
use crate::measure::{Money, Quantity};
use crate::studio::{
    Batch, BatchHead, BatchId, BatchRecord, BatchState, BenchDeed, BenchEntry, DesignId, FinishedPiece, ItemId,
    MovementKind, Piece, PieceId,
};
use chrono::NaiveDate;
use std::collections::{BTreeMap, BTreeSet};

/// Every batch as a line of a list, newest first; of one state where one is given.
pub fn batch_heads(book: &Book, state: Option<BatchState>) -> Result<Vec<BatchHead>, BookError> {
    batch::heads(book.reader(), state).map_err(|fault| fault.of_book(book.path()))
}

/// One batch with its pieces and all that happened to it; none where there is no such batch.
pub fn batch(book: &Book, id: BatchId) -> Result<Option<BatchRecord>, BookError> {
    batch::find(book.reader(), id).map_err(|fault| fault.of_book(book.path()))
}

/// The batch of that number.
pub fn batch_with_number(book: &Book, number: u32) -> Result<Option<BatchId>, BookError> {
    batch::with_number(book.reader(), number).map_err(|fault| fault.of_book(book.path()))
}

/// Pieces finished from one day to another, both included, newest first, each with the ticket in force: that of the first
/// channel of its design that has one, or else of any.
pub fn finished_pieces(book: &Book, from: NaiveDate, to: NaiveDate) -> Result<Vec<FinishedPiece>, BookError> {
    let seen = super::snapshot(book)?;
    let found = batch::finished_pieces(book.reader(), from, to).map_err(|fault| fault.of_book(book.path()))?;
    let mut tickets = BTreeMap::new();
    let listed = found.into_iter().map(|(piece, head)| {
        let ticket = *tickets.entry(head.design).or_insert_with(|| {
            let channels = seen.design(head.design).map_or(&[][..], |held| held.design.channels.as_slice());
            let accepted = channels.iter().find_map(|channel| seen.accepted(head.design, &channel.id));
            let any =
                || seen.price_lists.iter().find_map(|list| list.lines.iter().find(|line| line.design == head.design));
            let ticket = accepted.map(|(_, line)| line).or_else(any).map(|line| line.ticket);
            ticket.and_then(Money::new)
        });
        FinishedPiece {
            piece,
            batch_number: head.number,
            design: head.design,
            code: head.code,
            name: head.name,
            ticket,
        }
    });
    Ok(listed.collect())
}

/// What was taken of an item to batches, and what came back from them, in the order of entry.
pub fn bench_uses(book: &Book, item: ItemId) -> Result<Vec<BenchUse>, BookError> {
    let read = || {
        let mut books = Batches::new(book.reader());
        let entries = bench_entry::of_item(book.reader(), item)?;
        let mut uses = Vec::with_capacity(entries.len());
        for entry in &entries {
            uses.extend(bench_use(&mut books, entry)?);
        }
        Ok(uses)
    };
    read().map_err(|fault: BookError| fault.of_book(book.path()))
}

/// What an entry moved of the stock; none where it moved nothing.
fn bench_use(books: &mut Batches<'_>, entry: &BenchEntry) -> Result<Option<BenchUse>, BookError> {
    let (step, pieces, material, movement, quantity, kind) = match &entry.deed {
        BenchDeed::Took { step, pieces, material, movement, quantity, .. } => {
            (*step, pieces, material, *movement, *quantity, MovementKind::Issue)
        }
        BenchDeed::WashedBack { step, pieces, material, movement, quantity } => {
            (*step, pieces, material, *movement, *quantity, MovementKind::WashBack)
        }
        _ => return Ok(None),
    };
    let pieces = books.pieces(pieces)?;
    let Some(record) = books.find(entry.batch)? else { return Ok(None) };
    Ok(Some(BenchUse {
        movement,
        kind,
        date: entry.date,
        quantity,
        batch: entry.batch,
        batch_number: record.batch.number,
        batch_name: record.batch.name.clone(),
        code: record.batch.plan.code.to_string(),
        step,
        step_name: step_name(&record.batch, step),
        material: material.clone(),
        pieces,
    }))
}

/// What a batch of so many pieces of a design would take from stock as planned, by the items' names, with what is on hand
/// and what open batches have reserved; refused where the design cannot be begun.
pub fn batch_need(book: &Book, design: DesignId, pieces: u32) -> Result<Vec<NeededItem>, Refusal> {
    read_need(book.reader(), design, pieces).map_err(|refusal| match refusal {
        Refusal::Book(fault) => Refusal::Book(fault.of_book(book.path())),
        other => other,
    })
}

fn read_need(reader: Reader<'_>, design: DesignId, pieces: u32) -> Result<Vec<NeededItem>, Refusal> {
    let (_, plan, stock) = plan_of(reader, design, pieces)?;
    let needed = need(&plan, &stock, pieces).map_err(|error| Refusal::No(format!("design {}: {error}", plan.code)))?;
    let reserved = reserved_of(&batch::open(reader)?)?;
    let states = item_state::all(reader)?;
    let mut items = Vec::with_capacity(needed.len());
    for (id, needed) in needed {
        let Some(held) = item::find(reader, id)? else { continue };
        let on_hand = states.get(&id).map(|state| state.on_hand).unwrap_or_default();
        let reserved = reserved.get(&id).copied().unwrap_or_default();
        let free = on_hand.minus(reserved).map_err(too_large)?.max(Quantity::ZERO);
        let short = needed.minus(free).map_err(too_large)?.max(Quantity::ZERO);
        items.push(NeededItem { item: id, name: held.name, unit: held.unit, needed, on_hand, reserved, short });
    }
    items.sort_by(|one, other| one.name.cmp(&other.name).then(one.item.cmp(&other.item)));
    Ok(items)
}

/// What the pieces of open batches still need of each item.
pub(super) fn reserved_of(open: &[BatchRecord]) -> Result<BTreeMap<ItemId, Quantity>, BookError> {
    reserved(open).map_err(|error| BookError::Odd(format!("a batch whose plan cannot be costed: {error}")))
}

/// Everything lost from one day to another, both included, oldest first; a batch given up has a row a step.
pub fn losses(book: &Book, from: NaiveDate, to: NaiveDate) -> Result<Vec<LossRow>, BookError> {
    read_losses(book.reader(), from, to).map_err(|fault| fault.of_book(book.path()))
}

fn read_losses(reader: Reader<'_>, from: NaiveDate, to: NaiveDate) -> Result<Vec<LossRow>, BookError> {
    let (mut batches, mut kilns) = (BTreeSet::new(), BTreeMap::new());
    for entry in bench_entry::losses(reader, from, to)? {
        batches.insert(entry.batch);
        if let BenchDeed::Lost { load: Some(id), .. } = entry.deed
            && !kilns.contains_key(&id)
            && let Some(found) = load::find(reader, id)?
        {
            kilns.insert(id, found.load.kiln);
        }
    }
    let mut rows = Vec::new();
    for id in batches {
        if let Some(record) = batch::find(reader, id)? {
            rows.extend(loss_rows(&record, &kilns, (from, to)));
        }
    }
    rows.sort_by(|one, other| one.date.cmp(&other.date).then(one.batch.cmp(&other.batch)));
    Ok(rows)
}

/// What a design's last batches say about its figures, with what is proposed; none where there is no such design.
pub fn learned(book: &Book, id: DesignId) -> Result<Option<Learned>, BookError> {
    let read = || {
        let Some(found) = design::find(book.reader(), id)? else { return Ok(None) };
        let batches = batch::of_design(book.reader(), id, RECENT_BATCHES)?;
        learning::learned(id, &found.design, &batches)
            .map(Some)
            .map_err(|error| BookError::Odd(format!("a batch whose plan cannot be costed: {error}")))
    };
    read().map_err(|fault: BookError| fault.of_book(book.path()))
}

/// The name of a step of a batch's route; past the last, pieces wait to be finished.
pub(super) fn step_name(batch: &Batch, step: usize) -> String {
    batch.plan.steps.get(step).map_or_else(|| "Waiting to be finished".to_owned(), |step| step.name.clone())
}

/// Batches and pieces read once each.
pub(super) struct Batches<'book> {
    reader: Reader<'book>,
    records: BTreeMap<BatchId, Option<BatchRecord>>,
    pieces: BTreeMap<PieceId, Piece>,
}

impl<'book> Batches<'book> {
    pub(super) const fn new(reader: Reader<'book>) -> Self {
        Self { reader, records: BTreeMap::new(), pieces: BTreeMap::new() }
    }

    /// A batch with all that happened to it.
    pub(super) fn find(&mut self, id: BatchId) -> Result<Option<&BatchRecord>, BookError> {
        if !self.records.contains_key(&id) {
            let found = batch::find(self.reader, id)?;
            for piece in found.iter().flat_map(|record| &record.pieces) {
                self.pieces.insert(piece.id, piece.clone());
            }
            self.records.insert(id, found);
        }
        Ok(self.records.get(&id).and_then(Option::as_ref))
    }

    /// Pieces as they are now, in whatever batch they are in; what is not there is left out.
    pub(super) fn pieces(&mut self, ids: &[PieceId]) -> Result<Vec<Piece>, BookError> {
        let mut found = Vec::with_capacity(ids.len());
        for id in ids {
            if !self.pieces.contains_key(id)
                && let Some(piece) = batch::piece(self.reader, *id)?
            {
                self.pieces.insert(*id, piece);
            }
            found.extend(self.pieces.get(id).cloned());
        }
        Ok(found)
    }
}
