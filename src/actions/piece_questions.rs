//! From a lot forward to pieces, and from a piece back to lots, loads and minutes.

use super::account_questions::cost_of_piece;
use super::bench_answer::{LoadOfPiece, LotInPiece, MinutesOfPiece, PieceOfLot, PieceStory};
use super::bench_questions::{Batches, step_name};
use crate::book::{Book, BookError, Reader, batch, bench_entry, item, kiln, load, movement};
use crate::costing::trace::{Source, Trace, trace};
use crate::measure::quantity::QUANTITY_PLACES;
use crate::measure::{Decimal, TooLarge, exact};
use crate::studio::{BatchId, BenchDeed, BenchEntry, Item, ItemId, LotId, Movement, MovementId, Piece, PieceId};
use std::collections::BTreeMap;

/// Places of the minutes of a piece.
const MINUTE_PLACES: u32 = 6;

/// The pieces that hold something of a lot, in the order of their rows.
pub fn pieces_of_lot(book: &Book, lot: LotId) -> Result<Vec<PieceOfLot>, BookError> {
    read_pieces_of_lot(book.reader(), lot).map_err(|fault| fault.of_book(book.path()))
}

fn read_pieces_of_lot(reader: Reader<'_>, lot: LotId) -> Result<Vec<PieceOfLot>, BookError> {
    let Some(came) = movement::find(reader, MovementId(lot.0))?.filter(|came| came.kind.is_lot()) else {
        return Ok(Vec::new());
    };
    let traced = traced(&movement::bare_of_item(reader, came.item)?)?;
    let mut books = Batches::new(reader);
    let mut held: BTreeMap<PieceId, (Vec<MovementId>, Decimal)> = BTreeMap::new();
    for taken in traced.taken_from(Source::Lot(lot)) {
        let Some(entry) = bench_entry::of_movement(reader, taken.movement)? else { continue };
        let BenchDeed::Took { pieces, .. } = &entry.deed else { continue };
        let share = share(taken.quantity.amount(), pieces.len(), QUANTITY_PLACES)?;
        for piece in pieces {
            let (issues, quantity) = held.entry(*piece).or_default();
            issues.push(taken.movement);
            *quantity = exact::add(*quantity, share).map_err(too_large)?;
        }
    }
    let mut found = Vec::with_capacity(held.len());
    for (id, (issues, quantity)) in held {
        let Some(piece) = books.pieces(&[id])?.pop() else { continue };
        let Some(record) = books.find(piece.batch)? else { continue };
        found.push(PieceOfLot {
            batch_number: record.batch.number,
            batch_name: record.batch.name.clone(),
            design: record.batch.design,
            code: record.batch.plan.code.to_string(),
            piece,
            issues,
            quantity,
        });
    }
    Ok(found)
}

/// A piece from its beginning; none where there is no such piece.
pub fn piece_story(book: &Book, id: PieceId) -> Result<Option<PieceStory>, BookError> {
    read_story(book.reader(), id).map_err(|fault| fault.of_book(book.path()))
}

/// The piece of that number.
pub fn piece_with_number(book: &Book, number: &str) -> Result<Option<PieceId>, BookError> {
    batch::piece_with_number(book.reader(), number).map_err(|fault| fault.of_book(book.path()))
}

/// A piece from its beginning, in the middle of an action too.
pub(super) fn read_story(reader: Reader<'_>, id: PieceId) -> Result<Option<PieceStory>, BookError> {
    let Some(piece) = batch::piece(reader, id)? else { return Ok(None) };
    let Some(head) = batch::head(reader, piece.batch)? else { return Ok(None) };
    let mut books = Batches::new(reader);
    let way = way_of(&mut books, &piece)?;
    let mut story = PieceStory {
        loads: loads_of(reader, id)?,
        batch: head,
        batches: Vec::with_capacity(way.len()),
        lots: Vec::new(),
        minutes: Vec::new(),
        all_minutes: Decimal::ZERO,
        cost: None,
        parts: Vec::new(),
        piece,
    };
    let mut shelf = Shelf { reader, known: BTreeMap::new() };
    let mut minutes: BTreeMap<usize, (String, Decimal)> = BTreeMap::new();
    for batch in way {
        let Some(record) = books.find(batch)? else { continue };
        story.batches.push((batch, record.batch.number));
        for entry in &record.entries {
            match &entry.deed {
                BenchDeed::Took { pieces, material, step, movement, .. } if pieces.contains(&id) => {
                    if let Some(item) = record.batch.stock.get(material) {
                        let use_of = UseOf { entry, step: *step, material, pieces: pieces.len() };
                        story.lots.extend(shelf.lots(*item, *movement, &use_of)?);
                    }
                }
                BenchDeed::Worked { pieces, step, minutes: worked, .. } if pieces.contains(&id) => {
                    let known =
                        minutes.entry(*step).or_insert_with(|| (step_name(&record.batch, *step), Decimal::ZERO));
                    known.1 = exact::add(known.1, share(*worked, pieces.len(), MINUTE_PLACES)?).map_err(too_large)?;
                }
                _ => {}
            }
        }
    }
    story.all_minutes = exact::sum(minutes.values().map(|(_, minutes)| *minutes)).map_err(too_large)?;
    story.minutes =
        minutes.into_iter().map(|(step, (step_name, minutes))| MinutesOfPiece { step, step_name, minutes }).collect();
    if story.piece.number.is_some()
        && let Some((cost, parts)) = cost_of_piece(reader, story.piece.batch, id)?
    {
        story.cost = Some(cost);
        story.parts = parts;
    }
    Ok(Some(story))
}

/// The batches a piece was in, in order; the one it is in is last.
fn way_of(books: &mut Batches<'_>, piece: &Piece) -> Result<Vec<BatchId>, BookError> {
    let mut way = vec![piece.batch];
    let mut at = piece.batch;
    // What came before the latest entry that was followed, so that the way back ends.
    let mut before = i64::MAX;
    while let Some(record) = books.find(at)? {
        let came = record.entries.iter().rev().find_map(|entry| match &entry.deed {
            BenchDeed::Got { from, pieces, .. } if entry.id.0 < before && pieces.contains(&piece.id) => {
                Some((entry.id.0, *from))
            }
            _ => None,
        });
        let Some((entry, from)) = came else { break };
        before = entry;
        at = from;
        way.push(from);
    }
    way.reverse();
    let mut seen = Vec::with_capacity(way.len());
    for batch in way.into_iter().rev() {
        if !seen.contains(&batch) {
            seen.push(batch);
        }
    }
    seen.reverse();
    Ok(seen)
}

fn loads_of(reader: Reader<'_>, piece: PieceId) -> Result<Vec<LoadOfPiece>, BookError> {
    let mut found = Vec::new();
    for held in load::of_piece(reader, piece)? {
        let Some(charged) = held.load.charge.iter().find(|charged| charged.piece == piece) else { continue };
        let (step, result) = (charged.step, charged.result.clone());
        let kiln_name = kiln::find(reader, held.load.kiln)?.map(|kiln| kiln.name).unwrap_or_default();
        found.push(LoadOfPiece { load: held, kiln_name, step, result });
    }
    Ok(found)
}

/// What stock was used for.
struct UseOf<'a> {
    entry: &'a BenchEntry,
    step: usize,
    material: &'a crate::studio::MaterialId,
    pieces: usize,
}

/// Items with their movements and trace, read once each.
struct Shelf<'book> {
    reader: Reader<'book>,
    known: BTreeMap<ItemId, Option<(Item, Vec<Movement>, Trace)>>,
}

impl Shelf<'_> {
    /// The lots an issue took from, each with a piece's share.
    fn lots(&mut self, id: ItemId, issue: MovementId, of: &UseOf<'_>) -> Result<Vec<LotInPiece>, BookError> {
        if !self.known.contains_key(&id) {
            let held = match item::find(self.reader, id)? {
                None => None,
                Some(held) => {
                    let movements = movement::of_item(self.reader, id)?;
                    let traced = traced(&movements)?;
                    Some((held, movements, traced))
                }
            };
            self.known.insert(id, held);
        }
        let Some(Some((held, movements, traced))) = self.known.get(&id) else { return Ok(Vec::new()) };
        let mut lots = Vec::new();
        for taken in traced.taken_by(issue) {
            let came = movements.iter().find(|movement| movement.id == taken.source.movement());
            lots.push(LotInPiece {
                item: id,
                name: held.name.clone(),
                unit: held.unit,
                material: of.material.clone(),
                step: of.step,
                issue,
                date: of.entry.date,
                lot: taken.source.lot(),
                lot_number: came.map(|came| came.lot_number.clone()).unwrap_or_default(),
                supplier: came.map(|came| came.supplier.clone()).unwrap_or_default(),
                quantity: share(taken.quantity.amount(), of.pieces, QUANTITY_PLACES)?,
            });
        }
        Ok(lots)
    }
}

fn traced(movements: &[Movement]) -> Result<Trace, BookError> {
    trace(movements).map_err(|error| BookError::Odd(format!("movements that cannot be: {error}")))
}

/// An equal share of an amount, half-even.
fn share(amount: Decimal, pieces: usize, places: u32) -> Result<Decimal, BookError> {
    let pieces = Decimal::from(pieces.max(1));
    Ok(exact::round(exact::div(amount, pieces).map_err(too_large)?, places).normalize())
}

fn too_large(error: TooLarge) -> BookError {
    BookError::TooLarge(error.to_string())
}
