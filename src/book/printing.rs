//! Printers, begun sheets and printed tags in the book.

use super::BookError;
use super::change::{Change, Reader};
use super::number::{date_from_row, date_to_row, money_from_row, money_to_row};
use crate::studio::{ChannelId, DesignId, PieceId, PrintedTag, Printer, PrinterId, SheetId};
use rusqlite::{OptionalExtension, named_params};
use std::collections::BTreeMap;

/// Every printer, by name.
pub(crate) fn printers(reader: Reader<'_>) -> Result<Vec<(PrinterId, Printer)>, BookError> {
    let mut query = reader.connection().prepare("SELECT id, body FROM printer ORDER BY name, id")?;
    let mut rows = query.query([])?;
    let mut printers = Vec::new();
    while let Some(row) = rows.next()? {
        let body: String = row.get(1)?;
        printers.push((PrinterId(row.get(0)?), serde_json::from_str(&body)?));
    }
    Ok(printers)
}

/// The printer of that name.
pub(crate) fn printer_with_name(reader: Reader<'_>, name: &str) -> Result<Option<PrinterId>, BookError> {
    let mut query = reader.connection().prepare("SELECT id FROM printer WHERE name = ?1")?;
    Ok(query.query_row([name], |row| row.get(0).map(PrinterId)).optional()?)
}

/// Adds a printer, or writes it over the one of that row.
pub(crate) fn save_printer(
    change: &Change<'_>,
    id: Option<PrinterId>,
    printer: &Printer,
) -> Result<PrinterId, BookError> {
    let body = serde_json::to_string(printer)?;
    match id {
        Some(id) => {
            change.connection().prepare("UPDATE printer SET name = ?2, body = ?3 WHERE id = ?1")?.execute((
                id.0,
                &printer.name,
                body,
            ))?;
            Ok(id)
        }
        None => {
            change
                .connection()
                .prepare("INSERT INTO printer (name, body) VALUES (?1, ?2)")?
                .execute((&printer.name, body))?;
            Ok(PrinterId(change.connection().last_insert_rowid()))
        }
    }
}

/// Takes a printer out, with what was measured of it.
pub(crate) fn delete_printer(change: &Change<'_>, id: PrinterId) -> Result<(), BookError> {
    change.connection().prepare("DELETE FROM printer WHERE id = ?1")?.execute([id.0])?;
    Ok(())
}

/// The next free label of each sheet that was begun.
pub(crate) fn begun_sheets(reader: Reader<'_>) -> Result<BTreeMap<SheetId, u32>, BookError> {
    let mut query = reader.connection().prepare("SELECT sheet_id, next_label FROM sheet_use ORDER BY sheet_id")?;
    let rows = query.query_map([], |row| Ok((SheetId(row.get(0)?), row.get(1)?)))?;
    Ok(rows.collect::<Result<_, _>>()?)
}

/// Says which label of a sheet is free next, from 1; 1 is a fresh sheet.
pub(crate) fn begin_sheet(change: &Change<'_>, sheet: SheetId, next_label: u32) -> Result<(), BookError> {
    change
        .connection()
        .prepare(
            "INSERT INTO sheet_use (sheet_id, next_label) VALUES (?1, ?2)
             ON CONFLICT (sheet_id) DO UPDATE SET next_label = excluded.next_label",
        )?
        .execute((sheet.0, next_label))?;
    Ok(())
}

/// Keeps that tags were printed.
pub(crate) fn insert_tag(change: &Change<'_>, tag: &PrintedTag) -> Result<(), BookError> {
    change
        .connection()
        .prepare(
            "INSERT INTO printed_tag (design_id, channel, piece_id, ticket_e6, date, copies)
             VALUES (:design, :channel, :piece, :ticket, :date, :copies)",
        )?
        .execute(named_params! {
            ":design": tag.design.0,
            ":channel": tag.channel.0,
            ":piece": tag.piece.map(|piece| piece.0),
            ":ticket": money_to_row(tag.ticket)?,
            ":date": date_to_row(tag.date),
            ":copies": tag.copies,
        })?;
    Ok(())
}

/// The tags printed last of each design, channel and piece, by design.
pub(crate) fn latest_tags(reader: Reader<'_>) -> Result<Vec<PrintedTag>, BookError> {
    let mut query = reader.connection().prepare(
        "SELECT design_id, channel, piece_id, ticket_e6, date, copies FROM printed_tag
         WHERE id IN (SELECT max(id) FROM printed_tag GROUP BY design_id, channel, piece_id)
         ORDER BY design_id, channel, id",
    )?;
    let mut rows = query.query([])?;
    let mut tags = Vec::new();
    while let Some(row) = rows.next()? {
        let date: String = row.get(4)?;
        tags.push(PrintedTag {
            design: DesignId(row.get(0)?),
            channel: ChannelId(row.get(1)?),
            piece: row.get::<_, Option<i64>>(2)?.map(PieceId),
            ticket: money_from_row(row.get(3)?),
            date: date_from_row(&date)?,
            copies: row.get(5)?,
        });
    }
    Ok(tags)
}
