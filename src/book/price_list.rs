//! Accepted prices in the book.

use super::BookError;
use super::change::{Change, Reader};
use super::number::{date_from_row, date_to_row, money_from_row, money_to_row, price_from_row, price_to_row};
use crate::studio::{ChannelId, DesignCode, DesignId, PriceLine, PriceList, PriceListId};
use chrono::NaiveDate;
use rusqlite::named_params;

/// Adds a list with its lines.
pub(crate) fn insert(
    change: &Change<'_>,
    date: NaiveDate,
    name: &str,
    lines: &[PriceLine],
) -> Result<PriceListId, BookError> {
    let connection = change.connection();
    connection.prepare("INSERT INTO price_list (date, name) VALUES (?1, ?2)")?.execute((date_to_row(date), name))?;
    let list = connection.last_insert_rowid();
    let mut insert = connection.prepare(
        "INSERT INTO price_line (price_list_id, design_id, code, name, channel, channel_name, ticket_e6, full_cost_e6,
                                 common)
         VALUES (:list, :design, :code, :name, :channel, :channel_name, :ticket, :full_cost, :common)",
    )?;
    for line in lines {
        insert.execute(named_params! {
            ":list": list,
            ":design": line.design.0,
            ":code": line.code.as_str(),
            ":name": line.name,
            ":channel": line.channel.0,
            ":channel_name": line.channel_name,
            ":ticket": price_to_row(line.ticket)?,
            ":full_cost": money_to_row(line.full_cost)?,
            ":common": line.common,
        })?;
    }
    Ok(PriceListId(list))
}

/// Every list, newest first (by day, then by row), each with its lines by code, in the order they were accepted.
pub(in crate::book) fn all(reader: Reader<'_>) -> Result<Vec<PriceList>, BookError> {
    let connection = reader.connection();
    let mut lists = Vec::new();
    let mut query = connection.prepare("SELECT id, date, name FROM price_list ORDER BY date DESC, id DESC")?;
    let mut rows = query.query([])?;
    while let Some(row) = rows.next()? {
        let date: String = row.get(1)?;
        lists.push(PriceList {
            id: PriceListId(row.get(0)?),
            date: date_from_row(&date)?,
            name: row.get(2)?,
            lines: Vec::new(),
        });
    }
    let mut query = connection.prepare(
        "SELECT design_id, code, name, channel, channel_name, ticket_e6, full_cost_e6, common FROM price_line
         WHERE price_list_id = ?1 ORDER BY code, id",
    )?;
    for list in &mut lists {
        let mut rows = query.query([list.id.0])?;
        while let Some(row) = rows.next()? {
            let code: String = row.get(1)?;
            list.lines.push(PriceLine {
                design: DesignId(row.get(0)?),
                code: DesignCode::new(&code).map_err(|error| BookError::Odd(format!("code {code:?}: {error}")))?,
                name: row.get(2)?,
                channel: ChannelId(row.get(3)?),
                channel_name: row.get(4)?,
                ticket: price_from_row(row.get(5)?),
                full_cost: money_from_row(row.get(6)?),
                common: row.get(7)?,
            });
        }
    }
    Ok(lists)
}

/// The book has any accepted prices.
pub(crate) fn any(reader: Reader<'_>) -> Result<bool, BookError> {
    Ok(reader.connection().query_row("SELECT EXISTS (SELECT 1 FROM price_list)", [], |row| row.get(0))?)
}

/// What is wrong with the lists, a sentence each.
pub(crate) fn problems(reader: Reader<'_>) -> Result<Vec<String>, BookError> {
    let mut problems: Vec<String> = Vec::new();
    match all(reader) {
        Ok(lists) => problems.extend(
            lists.iter().filter(|list| list.lines.is_empty()).map(|list| format!("price list {} is empty", list.name)),
        ),
        Err(fault) => problems.push(fault.to_string()),
    }
    Ok(problems)
}
