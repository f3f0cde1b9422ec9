//! What the faces ask of a book. Nothing here changes it.

use super::bench_questions::reserved_of;
use super::{Counted, Reading, Refusal};
use crate::book::{
    Book, BookError, Snapshot, correction, design, document, import_shape, item, movement, paper_design, purchase,
    wording,
};
use crate::costing::correction::{self as costs, CorrectionEffect};
use crate::costing::counting::CountedItem;
use crate::costing::planning::{ItemPlan, ItemSupply, PlanningRates, plan_item};
use crate::costing::stock::{self as valuation, Ledger, StockError};
use crate::costing::weigh::WeighedItem;
use crate::exchange::movement_file::{ImportItem, Planned, RowProblem, Shelf, shortages};
use crate::measure::quantity::QUANTITY_PLACES;
use crate::measure::{Money, NumberStyle, Quantity, TooLarge, exact};
use crate::studio::{
    Attachment, AttachmentId, BookNumberedPaper, BookOrder, DesignId, ItemId, LotCorrection, LotId, Movement,
    MovementId, OrderId, PictureId, PurchaseOrder, ValuationMethod,
};
use chrono::NaiveDate;
use std::collections::BTreeMap;

/// Reads everything the faces show at once. Parts that did not change since the last call on this book are shared with
/// the snapshot it gave.
pub fn snapshot(book: &Book) -> Result<Snapshot, BookError> {
    book.snapshot().map_err(|fault| fault.of_book(book.path()))
}

/// The value of an item and of the whole stock on a day: see [`crate::costing::stock`].
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct StockValue {
    /// One line an item with stock on that day, by name.
    pub lines: Vec<(ItemId, Quantity, Money)>,
    /// Their sum.
    pub total: Money,
}

/// The stock on a day by each method, from one reading of the movements.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct StockValues {
    /// First in, first out.
    pub fifo: StockValue,
    /// Moving weighted average.
    pub average: StockValue,
}

/// An item's movements in order of date then id.
pub fn movements(book: &Book, item: ItemId) -> Result<Vec<Movement>, BookError> {
    movement::of_item(book.reader(), item).map_err(|fault| fault.of_book(book.path()))
}

/// An item's movements valued by the book's method, with what is left of each lot.
pub fn ledger(book: &Book, item: ItemId) -> Result<Ledger, BookError> {
    let read = || {
        let method = document::settings(book.reader())?.valuation;
        let movements = movement::bare_of_item(book.reader(), item)?;
        valued(&movements, method)
    };
    read().map_err(|fault| fault.of_book(book.path()))
}

/// An item's corrections of lots, oldest first.
pub fn corrections(book: &Book, item: ItemId) -> Result<Vec<LotCorrection>, BookError> {
    correction::of_item(book.reader(), item).map_err(|fault| fault.of_book(book.path()))
}

/// The receipt or wash-back a lot came with, at its cost after all and without its texts; none where there is no such lot.
pub fn lot(book: &Book, lot: LotId) -> Result<Option<Movement>, BookError> {
    let found = movement::find(book.reader(), MovementId(lot.0)).map_err(|fault| fault.of_book(book.path()))?;
    Ok(found.filter(|movement| movement.kind.is_lot()))
}

/// What taking a lot's whole landed cost for `cost` would move, by the book's method; none where there is no such lot.
pub fn correction_effect(book: &Book, lot: LotId, cost: Money) -> Result<Option<CorrectionEffect>, BookError> {
    let read = || {
        let Some(receipt) = movement::find(book.reader(), MovementId(lot.0))? else { return Ok(None) };
        let method = document::settings(book.reader())?.valuation;
        let movements = movement::bare_of_item(book.reader(), receipt.item)?;
        costs::correction_effect(&movements, lot, cost, method).map_err(|error| odd(&error))
    };
    read().map_err(|fault| fault.of_book(book.path()))
}

/// What reading a file of movements needs to know of the book; decimals are taken for written with a point.
pub fn shelf(book: &Book) -> Result<Shelf, BookError> {
    let read = || {
        let settings = document::settings(book.reader())?;
        Ok(Shelf {
            items: item::shelf(book.reader())?,
            currency: settings.currency,
            numbers: NumberStyle::Point,
            closed_until: settings.closed_until,
        })
    };
    read().map_err(|fault: BookError| fault.of_book(book.path()))
}

/// What a file as read would leave short in the book, by row.
pub fn import_problems(book: &Book, planned: &Planned) -> Result<Vec<RowProblem>, BookError> {
    let read = || {
        let mut existing: BTreeMap<ItemId, Vec<Movement>> = BTreeMap::new();
        for line in &planned.plan.movements {
            if let ImportItem::Known(id) = line.item
                && !existing.contains_key(&id)
            {
                existing.insert(id, movement::bare_of_item(book.reader(), id)?);
            }
        }
        let method = document::settings(book.reader())?.valuation;
        Ok(shortages(planned, &existing, method))
    };
    read().map_err(|fault: BookError| fault.of_book(book.path()))
}

/// Every paper that went out under a number, newest first.
pub fn numbered_papers(book: &Book) -> Result<Vec<BookNumberedPaper>, BookError> {
    wording::numbered(book.reader()).map_err(|fault| fault.of_book(book.path()))
}

/// Every order, newest first.
pub fn orders(book: &Book) -> Result<Vec<BookOrder>, BookError> {
    purchase::list(book.reader(), purchase::Which::All).map_err(|fault| fault.of_book(book.path()))
}

/// One order.
pub fn order(book: &Book, id: OrderId) -> Result<Option<BookOrder>, BookError> {
    purchase::find(book.reader(), id).map_err(|fault| fault.of_book(book.path()))
}

/// What each line of an order costs landed in the book's currency; refused as saving it would be.
pub fn landed(book: &Book, order: &PurchaseOrder) -> Result<Vec<Money>, Refusal> {
    let currency = document::settings(book.reader()).map_err(|fault| fault.of_book(book.path()))?.currency;
    super::orders::line_costs(order, currency)
}

/// A file kept with an order.
pub fn attachment(book: &Book, id: AttachmentId) -> Result<Option<Attachment>, BookError> {
    purchase::attachment(book.reader(), id).map_err(|fault| fault.of_book(book.path()))
}

/// What jars weigh would come to, item by item, before it is accepted.
pub fn weigh_in_preview(book: &Book, date: NaiveDate, readings: &[Reading]) -> Result<Vec<WeighedItem>, Refusal> {
    super::jars::weighed(book.reader(), date, readings)
}

/// What counts at the end of a day would change, in their order, before they are accepted.
pub fn count_preview(book: &Book, date: NaiveDate, counts: &[Counted]) -> Result<Vec<CountedItem>, Refusal> {
    super::counts::counted(book.reader(), date, counts)
}

/// Every item that is not set aside, planned from what it moved, what is on order and what open batches
/// still need; by name.
pub fn plans(book: &Book, today: NaiveDate, rates: &PlanningRates) -> Result<Vec<ItemPlan>, BookError> {
    let snapshot = snapshot(book)?;
    let read = || -> Result<Vec<ItemPlan>, BookError> {
        let mut moved: BTreeMap<ItemId, Vec<Movement>> = BTreeMap::new();
        movement::for_each_item(book.reader(), Some(today), |item, movements| -> Result<(), BookError> {
            moved.insert(item, movements.to_vec());
            Ok(())
        })?;
        let on_order = on_order(&snapshot.open_orders)?;
        let planned = reserved_of(&snapshot.batches)?;
        let mut plans = Vec::new();
        for row in snapshot.stock.iter().filter(|row| !row.item.retired) {
            let supply = ItemSupply {
                id: row.id,
                item: &row.item,
                on_hand: row.on_hand,
                on_order: on_order.get(&row.id).copied().unwrap_or_default(),
                planned: planned.get(&row.id).copied().unwrap_or_default(),
                pack: row.item.buying.pack.as_ref(),
                lead_days: row.item.buying.lead_days,
                least_packs: row.item.buying.minimum_order_packs.unwrap_or(0),
                unit_price: row.replacement_price,
            };
            let movements = moved.get(&row.id).map_or(&[][..], Vec::as_slice);
            plans.push(plan_item(&supply, movements, rates, today).map_err(|error| BookError::Odd(error.to_string()))?);
        }
        Ok(plans)
    };
    read().map_err(|fault| fault.of_book(book.path()))
}

/// What is ordered and has not come, by item, in the item's unit.
fn on_order(orders: &[BookOrder]) -> Result<BTreeMap<ItemId, Quantity>, BookError> {
    let mut coming: BTreeMap<ItemId, Quantity> = BTreeMap::new();
    let too_large = |error: TooLarge| BookError::TooLarge(error.to_string());
    for order in orders {
        for (line, deliveries) in order.order.lines.iter().zip(&order.deliveries) {
            let came = deliveries.iter().try_fold(Quantity::ZERO, |came, delivery| came.plus(delivery.packs));
            let packs = line.packs.minus(came.map_err(too_large)?).map_err(too_large)?;
            if packs > Quantity::ZERO {
                let quantity = exact::mul(packs.amount(), line.pack.amount()).map_err(too_large)?;
                let quantity = Quantity::new(exact::round(quantity, QUANTITY_PLACES)).unwrap_or_default();
                let before = coming.get(&line.item).copied().unwrap_or_default();
                coming.insert(line.item, before.plus(quantity).map_err(too_large)?);
            }
        }
    }
    Ok(coming)
}

/// Every item's movements in order of date then id, by the items' names.
pub fn all_movements(book: &Book) -> Result<Vec<(ItemId, Vec<Movement>)>, BookError> {
    let read = || -> Result<_, BookError> {
        let names = item::names(book.reader())?;
        names.into_iter().map(|(id, _)| Ok((id, movement::of_item(book.reader(), id)?))).collect()
    };
    read().map_err(|fault: BookError| fault.of_book(book.path()))
}

/// Which columns were picked for files of that shape.
pub fn import_shape(book: &Book, fingerprint: &str) -> Result<Option<String>, BookError> {
    import_shape::find(book.reader(), fingerprint).map_err(|fault| fault.of_book(book.path()))
}

/// A design's photo, PNG bytes.
pub fn photo(book: &Book, id: DesignId) -> Result<Option<Vec<u8>>, BookError> {
    design::photo(book.reader(), id).map_err(|fault| fault.of_book(book.path()))
}

/// A stored picture, PNG bytes.
pub fn picture(book: &Book, id: PictureId) -> Result<Option<Vec<u8>>, BookError> {
    paper_design::picture(book.reader(), id).map_err(|fault| fault.of_book(book.path()))
}

/// The designs that take a material from an item, by code.
pub fn item_designs(book: &Book, item: ItemId) -> Result<Vec<DesignId>, BookError> {
    design::of_item(book.reader(), item).map_err(|fault| fault.of_book(book.path()))
}

/// What the stock was worth at the end of a day.
pub fn stock_value(book: &Book, on: NaiveDate, method: ValuationMethod) -> Result<StockValue, BookError> {
    let values = values_on(book, on, &[method]).map_err(|fault| fault.of_book(book.path()))?;
    Ok(values.into_iter().next().unwrap_or_default())
}

/// What the stock was worth at the end of a day by both methods.
pub fn stock_values(book: &Book, on: NaiveDate) -> Result<StockValues, BookError> {
    let values = values_on(book, on, &[ValuationMethod::Fifo, ValuationMethod::Average])
        .map_err(|fault| fault.of_book(book.path()))?;
    let mut values = values.into_iter();
    Ok(StockValues { fifo: values.next().unwrap_or_default(), average: values.next().unwrap_or_default() })
}

fn values_on(book: &Book, on: NaiveDate, methods: &[ValuationMethod]) -> Result<Vec<StockValue>, BookError> {
    let mut ends: Vec<BTreeMap<ItemId, (Quantity, Money)>> = vec![BTreeMap::new(); methods.len()];
    movement::for_each_item(book.reader(), Some(on), |item, movements| -> Result<(), BookError> {
        for (method, ends) in methods.iter().zip(&mut ends) {
            let end = valuation::closing(movements, *method).map_err(|error| odd(&error))?;
            if !end.on_hand.is_zero() || !end.value.is_zero() {
                ends.insert(item, (end.on_hand, end.value));
            }
        }
        Ok(())
    })?;
    let names = item::names(book.reader())?;
    ends.iter()
        .map(|ends| {
            let mut value = StockValue::default();
            for (id, _) in &names {
                if let Some((quantity, worth)) = ends.get(id) {
                    value.lines.push((*id, *quantity, *worth));
                    value.total = value.total.plus(*worth).map_err(|error| BookError::TooLarge(error.to_string()))?;
                }
            }
            Ok(value)
        })
        .collect()
}

fn valued(movements: &[Movement], method: ValuationMethod) -> Result<Ledger, BookError> {
    valuation::ledger(movements, method).map_err(|error| odd(&error))
}

fn odd(error: &StockError) -> BookError {
    BookError::Odd(format!("movements that cannot be: {error}"))
}
