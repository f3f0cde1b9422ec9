//! Cuts in the book.

use super::BookError;
use super::change::{Change, Reader};
use super::number::{money_from_row, money_to_row, quantity_from_row, quantity_to_row};
use crate::measure::{Decimal, Money, Quantity, TooLarge};
use crate::studio::{BookCut, CutPart, ItemId, MovementId};
use rusqlite::named_params;

/// A cut before it has a row.
pub(crate) struct NewCut {
    /// The movement that issued the sheet.
    pub(crate) issue: MovementId,
    /// Minutes at the bench.
    pub(crate) bench_minutes: Decimal,
    /// What they are worth.
    pub(crate) bench: Money,
    /// Scrap, g.
    pub(crate) scrap_g: Quantity,
    /// Its share.
    pub(crate) scrap_share: Decimal,
}

/// Adds a cut with its lines.
pub(crate) fn insert(
    change: &Change<'_>,
    new: &NewCut,
    lines: &[(MovementId, CutPart, Decimal)],
) -> Result<(), BookError> {
    change
        .connection()
        .prepare(
            "INSERT INTO cut (movement_id, bench_minutes_e9, bench_value_e6, scrap_e9, scrap_share_e9)
             VALUES (:movement, :minutes, :bench, :scrap, :share)",
        )?
        .execute(named_params! {
            ":movement": new.issue.0,
            ":minutes": number_to_row(new.bench_minutes)?,
            ":bench": money_to_row(new.bench)?,
            ":scrap": quantity_to_row(new.scrap_g)?,
            ":share": number_to_row(new.scrap_share)?,
        })?;
    let cut = change.connection().last_insert_rowid();
    let mut insert = change
        .connection()
        .prepare("INSERT INTO cut_line (cut_id, movement_id, part, share_e9) VALUES (?1, ?2, ?3, ?4)")?;
    for (movement, part, share) in lines {
        insert.execute((cut, movement.0, part.name(), number_to_row(*share)?))?;
    }
    Ok(())
}

fn number_to_row(number: Decimal) -> Result<i64, BookError> {
    let number = Quantity::new(number).ok_or_else(|| BookError::TooLarge(TooLarge.to_string()))?;
    quantity_to_row(number)
}

/// The cuts of a sheet, oldest first.
pub(crate) fn of_sheet(reader: Reader<'_>, sheet: ItemId) -> Result<Vec<BookCut>, BookError> {
    let connection = reader.connection();
    let mut query = connection.prepare(
        "SELECT cut.id, cut.movement_id, cut.bench_value_e6, cut.scrap_share_e9 FROM cut
         JOIN movement ON movement.id = cut.movement_id WHERE movement.item_id = ?1 ORDER BY cut.id",
    )?;
    let mut lines =
        connection.prepare("SELECT movement_id, part, share_e9 FROM cut_line WHERE cut_id = ?1 ORDER BY cut_id, id")?;
    let mut rows = query.query([sheet.0])?;
    let mut cuts = Vec::new();
    while let Some(row) = rows.next()? {
        let id: i64 = row.get(0)?;
        let mut cut = BookCut {
            issue: MovementId(row.get(1)?),
            bench: money_from_row(row.get(2)?),
            scrap_share: quantity_from_row(row.get(3)?).amount(),
            lines: Vec::new(),
        };
        let mut rows = lines.query([id])?;
        while let Some(row) = rows.next()? {
            let part: String = row.get(1)?;
            let part = CutPart::from_name(&part).ok_or_else(|| BookError::Odd(format!("a cut into {part:?}")))?;
            cut.lines.push((MovementId(row.get(0)?), part, quantity_from_row(row.get(2)?).amount()));
        }
        cuts.push(cut);
    }
    Ok(cuts)
}

/// Every item that was cut.
pub(crate) fn sheets(reader: Reader<'_>) -> Result<Vec<ItemId>, BookError> {
    let mut query = reader.connection().prepare(
        "SELECT DISTINCT movement.item_id FROM cut JOIN movement ON movement.id = cut.movement_id
         ORDER BY movement.item_id",
    )?;
    let rows = query.query_map([], |row| row.get(0).map(ItemId))?;
    Ok(rows.collect::<Result<_, _>>()?)
}

/// The lot came with a cut.
pub(crate) fn made(reader: Reader<'_>, lot: MovementId) -> Result<bool, BookError> {
    let mut query = reader.connection().prepare("SELECT EXISTS (SELECT 1 FROM cut_line WHERE movement_id = ?1)")?;
    Ok(query.query_row([lot.0], |row| row.get(0))?)
}

/// Cuts whose movements are not an issue and receipts of the same day, a sentence each.
pub(crate) fn problems(reader: Reader<'_>) -> Result<Vec<String>, BookError> {
    let mut query = reader.connection().prepare(
        "SELECT cut.id FROM cut LEFT JOIN movement sheet ON sheet.id = cut.movement_id
         WHERE sheet.kind IS NOT 'issue' OR NOT EXISTS (SELECT 1 FROM cut_line WHERE cut_line.cut_id = cut.id)
            OR EXISTS (SELECT 1 FROM cut_line LEFT JOIN movement made ON made.id = cut_line.movement_id
                       WHERE cut_line.cut_id = cut.id
                         AND (made.kind IS NOT 'receipt' OR made.date IS NOT sheet.date OR made.id < sheet.id))
         ORDER BY cut.id",
    )?;
    let rows = query.query_map([], |row| row.get::<_, i64>(0))?;
    let mut problems = Vec::new();
    for id in rows {
        problems.push(format!("cut {} is not one sheet issued and what it made received", id?));
    }
    Ok(problems)
}
