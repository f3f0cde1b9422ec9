//! Orders in the book, with what has come of them and the files kept with them.

use super::BookError;
use super::change::{Change, Reader};
use super::number::{date_from_row, date_to_row, money_from_row, money_to_row, quantity_from_row, quantity_to_row};
use crate::measure::{Currency, Quantity, TooLarge};
use crate::studio::{
    Attachment, AttachmentHead, AttachmentId, BookOrder, Delivery, ItemId, MovementId, OrderId, OrderLine, OrderLineId,
    PurchaseOrder, SpreadBy,
};
use rusqlite::{OptionalExtension, Row, named_params};

const COLUMNS: &str = "id, supplier, reference, date, currency, rate_e9, freight_e6, duty_e6, discount_e6, spread, \
                       note, closed";

/// Which orders to read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Which {
    /// Every one.
    All,
    /// Those of which more is expected.
    Open,
}

fn from_row(row: &Row<'_>) -> Result<BookOrder, BookError> {
    let id: i64 = row.get(0)?;
    let odd = |what: &str, text: &str| BookError::Odd(format!("order {id}: {what} {text:?}"));
    let (date, currency, spread): (String, String, String) = (row.get(3)?, row.get(4)?, row.get(9)?);
    Ok(BookOrder {
        id: OrderId(id),
        order: PurchaseOrder {
            supplier: row.get(1)?,
            reference: row.get(2)?,
            date: date_from_row(&date)?,
            currency: Currency::from_code(&currency).map_err(|_| odd("the currency", &currency))?,
            rate: quantity_from_row(row.get(5)?).amount(),
            freight: money_from_row(row.get(6)?),
            duty: money_from_row(row.get(7)?),
            discount: money_from_row(row.get(8)?),
            spread: SpreadBy::from_name(&spread).ok_or_else(|| odd("spread by", &spread))?,
            note: row.get(10)?,
            closed: row.get(11)?,
            lines: Vec::new(),
        },
        deliveries: Vec::new(),
        attachments: Vec::new(),
    })
}

/// Reads lines, deliveries and files of orders whose heads were read.
fn fill(reader: Reader<'_>, orders: &mut [BookOrder]) -> Result<(), BookError> {
    let connection = reader.connection();
    let mut lines = connection.prepare(
        "SELECT id, item_id, packs_e9, pack_e9, pack_words, price_e6, weight_e9 FROM purchase_line
         WHERE order_id = ?1 ORDER BY place, id",
    )?;
    let mut deliveries = connection.prepare(
        "SELECT d.movement_id, m.date, d.packs_e9, coalesce(
             (SELECT c.cost_e6 FROM lot_correction c WHERE c.lot_id = m.id ORDER BY c.id DESC LIMIT 1), m.cost_e6)
         FROM delivery_line d JOIN movement m ON m.id = d.movement_id WHERE d.line_id = ?1 ORDER BY d.id",
    )?;
    let mut attachments = connection
        .prepare("SELECT id, name, media_type, length(bytes) FROM attachment WHERE order_id = ?1 ORDER BY id")?;
    for found in orders {
        let mut rows = lines.query([found.id.0])?;
        while let Some(row) = rows.next()? {
            let id: i64 = row.get(0)?;
            found.order.lines.push(OrderLine {
                id: Some(OrderLineId(id)),
                item: ItemId(row.get(1)?),
                packs: quantity_from_row(row.get(2)?),
                pack: quantity_from_row(row.get(3)?),
                pack_words: row.get(4)?,
                price: money_from_row(row.get(5)?),
                weight_g: row.get::<_, Option<i64>>(6)?.map(quantity_from_row),
            });
            let mut came = Vec::new();
            let mut rows = deliveries.query([id])?;
            while let Some(row) = rows.next()? {
                let date: String = row.get(1)?;
                came.push(Delivery {
                    movement: MovementId(row.get(0)?),
                    date: date_from_row(&date)?,
                    packs: quantity_from_row(row.get(2)?),
                    cost: row.get::<_, Option<i64>>(3)?.map(money_from_row).unwrap_or_default(),
                });
            }
            found.deliveries.push(came);
        }
        let heads = attachments.query_map([found.id.0], |row| {
            Ok(AttachmentHead {
                id: AttachmentId(row.get(0)?),
                name: row.get(1)?,
                media_type: row.get(2)?,
                size: row.get::<_, i64>(3)?.unsigned_abs(),
            })
        })?;
        found.attachments = heads.collect::<Result<_, _>>()?;
    }
    Ok(())
}

/// Orders, newest first.
pub(crate) fn list(reader: Reader<'_>, which: Which) -> Result<Vec<BookOrder>, BookError> {
    let filter = if which == Which::Open { "WHERE closed = 0" } else { "" };
    let mut query = reader
        .connection()
        .prepare(&format!("SELECT {COLUMNS} FROM purchase_order {filter} ORDER BY date DESC, id DESC"))?;
    let mut rows = query.query([])?;
    let mut orders = Vec::new();
    while let Some(row) = rows.next()? {
        orders.push(from_row(row)?);
    }
    fill(reader, &mut orders)?;
    Ok(orders)
}

/// One order.
pub(crate) fn find(reader: Reader<'_>, id: OrderId) -> Result<Option<BookOrder>, BookError> {
    let mut query = reader.connection().prepare(&format!("SELECT {COLUMNS} FROM purchase_order WHERE id = ?1"))?;
    let mut rows = query.query([id.0])?;
    let Some(mut found) = rows.next()?.map(from_row).transpose()? else { return Ok(None) };
    fill(reader, std::slice::from_mut(&mut found))?;
    Ok(Some(found))
}

/// Adds an order, or writes it over the one of that row; lines without a row are added, those no longer named are taken
/// away.
pub(crate) fn save(
    change: &Change<'_>,
    id: Option<OrderId>,
    order: &PurchaseOrder,
    action: i64,
) -> Result<OrderId, BookError> {
    let connection = change.connection();
    let sql = match id {
        None => {
            "INSERT INTO purchase_order (id, supplier, reference, date, currency, rate_e9, freight_e6, duty_e6,
                                         discount_e6, spread, note, closed, revision)
             VALUES (:id, :supplier, :reference, :date, :currency, :rate, :freight, :duty, :discount, :spread, :note,
                     :closed, :revision)"
        }
        Some(_) => {
            "UPDATE purchase_order SET supplier = :supplier, reference = :reference, date = :date,
                    currency = :currency, rate_e9 = :rate, freight_e6 = :freight, duty_e6 = :duty,
                    discount_e6 = :discount, spread = :spread, note = :note, closed = :closed, revision = :revision
             WHERE id = :id"
        }
    };
    let rate = Quantity::new(order.rate).ok_or_else(|| BookError::TooLarge(TooLarge.to_string()))?;
    connection.prepare(sql)?.execute(named_params! {
        ":id": id.map(|id| id.0),
        ":supplier": order.supplier,
        ":reference": order.reference,
        ":date": date_to_row(order.date),
        ":currency": order.currency.code(),
        ":rate": quantity_to_row(rate)?,
        ":freight": money_to_row(order.freight)?,
        ":duty": money_to_row(order.duty)?,
        ":discount": money_to_row(order.discount)?,
        ":spread": order.spread.name(),
        ":note": order.note,
        ":closed": order.closed,
        ":revision": action,
    })?;
    let row = id.unwrap_or_else(|| OrderId(connection.last_insert_rowid()));
    let kept: Vec<i64> = order.lines.iter().filter_map(|line| line.id.map(|id| id.0)).collect();
    let mut query = connection.prepare("SELECT id FROM purchase_line WHERE order_id = ?1 ORDER BY id")?;
    let there: Vec<i64> = query.query_map([row.0], |row| row.get(0))?.collect::<Result<_, _>>()?;
    for gone in there.into_iter().filter(|line| !kept.contains(line)) {
        connection.prepare("DELETE FROM purchase_line WHERE id = ?1")?.execute([gone])?;
    }
    for (place, line) in (0_i64..).zip(&order.lines) {
        write_line(change, row, place, line)?;
    }
    Ok(row)
}

fn write_line(change: &Change<'_>, order: OrderId, place: i64, line: &OrderLine) -> Result<(), BookError> {
    let sql = match line.id {
        None => {
            "INSERT INTO purchase_line (id, order_id, place, item_id, packs_e9, pack_e9, pack_words, price_e6, weight_e9)
             VALUES (:id, :order, :place, :item, :packs, :pack, :words, :price, :weight)"
        }
        Some(_) => {
            "UPDATE purchase_line SET place = :place, item_id = :item, packs_e9 = :packs, pack_e9 = :pack,
                    pack_words = :words, price_e6 = :price, weight_e9 = :weight
             WHERE id = :id AND order_id = :order"
        }
    };
    change.connection().prepare(sql)?.execute(named_params! {
        ":id": line.id.map(|id| id.0),
        ":order": order.0,
        ":place": place,
        ":item": line.item.0,
        ":packs": quantity_to_row(line.packs)?,
        ":pack": quantity_to_row(line.pack)?,
        ":words": line.pack_words,
        ":price": money_to_row(line.price)?,
        ":weight": line.weight_g.map(quantity_to_row).transpose()?,
    })?;
    Ok(())
}

/// Says that nothing more is expected of an order.
pub(crate) fn close(change: &Change<'_>, id: OrderId, action: i64) -> Result<(), BookError> {
    change
        .connection()
        .prepare("UPDATE purchase_order SET closed = 1, revision = ?2 WHERE id = ?1")?
        .execute((id.0, action))?;
    Ok(())
}

/// Says which receipt brought how many packs of a line.
pub(crate) fn deliver(
    change: &Change<'_>,
    line: OrderLineId,
    movement: MovementId,
    packs: Quantity,
) -> Result<(), BookError> {
    change
        .connection()
        .prepare("INSERT INTO delivery_line (line_id, movement_id, packs_e9) VALUES (?1, ?2, ?3)")?
        .execute((line.0, movement.0, quantity_to_row(packs)?))?;
    Ok(())
}

/// Keeps a file with an order.
pub(crate) fn attach(change: &Change<'_>, order: OrderId, file: &Attachment) -> Result<AttachmentId, BookError> {
    change
        .connection()
        .prepare("INSERT INTO attachment (order_id, name, media_type, bytes) VALUES (?1, ?2, ?3, ?4)")?
        .execute((order.0, &file.name, &file.media_type, &file.bytes))?;
    Ok(AttachmentId(change.connection().last_insert_rowid()))
}

/// Takes a file away; its name, where there was one.
pub(crate) fn detach(change: &Change<'_>, id: AttachmentId) -> Result<Option<String>, BookError> {
    let mut query = change.connection().prepare("SELECT name FROM attachment WHERE id = ?1")?;
    let name = query.query_row([id.0], |row| row.get(0)).optional()?;
    change.connection().prepare("DELETE FROM attachment WHERE id = ?1")?.execute([id.0])?;
    Ok(name)
}

/// A file kept with an order.
pub(crate) fn attachment(reader: Reader<'_>, id: AttachmentId) -> Result<Option<Attachment>, BookError> {
    let mut query = reader.connection().prepare("SELECT name, media_type, bytes FROM attachment WHERE id = ?1")?;
    let found = query
        .query_row([id.0], |row| Ok(Attachment { name: row.get(0)?, media_type: row.get(1)?, bytes: row.get(2)? }));
    Ok(found.optional()?)
}

/// Deliveries that are not receipts of their line's item, a sentence each.
pub(crate) fn problems(reader: Reader<'_>) -> Result<Vec<String>, BookError> {
    let mut query = reader.connection().prepare(
        "SELECT d.id FROM delivery_line d LEFT JOIN purchase_line l ON l.id = d.line_id
         LEFT JOIN movement m ON m.id = d.movement_id
         WHERE l.id IS NULL OR m.kind IS NOT 'receipt' OR m.item_id IS NOT l.item_id ORDER BY d.id",
    )?;
    let rows = query.query_map([], |row| row.get::<_, i64>(0))?;
    let mut problems = Vec::new();
    for id in rows {
        problems.push(format!("delivery {} is not a receipt of what its line ordered", id?));
    }
    if let Err(fault) = list(reader, Which::All) {
        problems.push(fault.to_string());
    }
    Ok(problems)
}
