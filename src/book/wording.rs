//! Her own wording, papers that went out under a number, and trade numbers, in the book.

use super::BookError;
use super::change::{Change, Reader};
use super::number::{date_from_row, date_to_row};
use crate::studio::{BookNumberedPaper, DesignId, ItemId, Language, NumberedId, NumberedKind, NumberedPaper};
use chrono::NaiveDate;
use std::collections::BTreeMap;

/// Her own words, by language and phrase.
pub(crate) type OwnWords = BTreeMap<(Language, String), String>;

/// Every phrase she put into words of her own.
pub(crate) fn own_words(reader: Reader<'_>) -> Result<OwnWords, BookError> {
    let mut query =
        reader.connection().prepare("SELECT language, phrase, words FROM own_words ORDER BY language, phrase")?;
    let mut rows = query.query([])?;
    let mut own = OwnWords::new();
    while let Some(row) = rows.next()? {
        let tag: String = row.get(0)?;
        let language =
            Language::from_tag(&tag).ok_or_else(|| BookError::Odd(format!("words in the language {tag:?}")))?;
        own.insert((language, row.get(1)?), row.get(2)?);
    }
    Ok(own)
}

/// Puts her own words in place of a phrase, or takes them away.
pub(crate) fn set_words(
    change: &Change<'_>,
    language: Language,
    phrase: &str,
    words: Option<&str>,
) -> Result<(), BookError> {
    let connection = change.connection();
    match words {
        Some(words) => connection
            .prepare(
                "INSERT INTO own_words (language, phrase, words) VALUES (?1, ?2, ?3)
                 ON CONFLICT (language, phrase) DO UPDATE SET words = excluded.words",
            )?
            .execute((language.tag(), phrase, words))?,
        None => connection
            .prepare("DELETE FROM own_words WHERE language = ?1 AND phrase = ?2")?
            .execute((language.tag(), phrase))?,
    };
    Ok(())
}

/// Every numbered paper, newest first.
pub(crate) fn numbered(reader: Reader<'_>) -> Result<Vec<BookNumberedPaper>, BookError> {
    let mut query =
        reader.connection().prepare("SELECT id, kind, number, date, body FROM numbered_paper ORDER BY id DESC")?;
    let mut rows = query.query([])?;
    let mut papers = Vec::new();
    while let Some(row) = rows.next()? {
        let (kind, date, body): (String, String, String) = (row.get(1)?, row.get(3)?, row.get(4)?);
        papers.push(BookNumberedPaper {
            id: NumberedId(row.get(0)?),
            kind: NumberedKind::from_name(&kind).ok_or_else(|| BookError::Odd(format!("a paper that is {kind:?}")))?,
            number: row.get(2)?,
            date: date_from_row(&date)?,
            paper: serde_json::from_str(&body)?,
        });
    }
    Ok(papers)
}

/// Keeps a paper that goes out, under the next number of its kind.
pub(crate) fn insert_numbered(
    change: &Change<'_>,
    kind: NumberedKind,
    date: NaiveDate,
    paper: &NumberedPaper,
) -> Result<(NumberedId, u32), BookError> {
    let connection = change.connection();
    let number: u32 = connection
        .prepare("SELECT coalesce(max(number), 0) + 1 FROM numbered_paper WHERE kind = ?1")?
        .query_row([kind.name()], |row| row.get(0))?;
    connection.prepare("INSERT INTO numbered_paper (kind, number, date, body) VALUES (?1, ?2, ?3, ?4)")?.execute((
        kind.name(),
        number,
        date_to_row(date),
        serde_json::to_string(paper)?,
    ))?;
    Ok((NumberedId(connection.last_insert_rowid()), number))
}

/// What carries a trade number.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Numbered {
    /// A design.
    Design(DesignId),
    /// An item of stock.
    Item(ItemId),
}

/// The EAN-13 of each design and item that has one.
pub(crate) fn trade_numbers(reader: Reader<'_>) -> Result<BTreeMap<Numbered, String>, BookError> {
    let mut query = reader.connection().prepare("SELECT design_id, item_id, number FROM trade_number ORDER BY id")?;
    let mut rows = query.query([])?;
    let mut numbers = BTreeMap::new();
    while let Some(row) = rows.next()? {
        let (design, item): (Option<i64>, Option<i64>) = (row.get(0)?, row.get(1)?);
        let of = design.map(|id| Numbered::Design(DesignId(id))).or(item.map(|id| Numbered::Item(ItemId(id))));
        if let Some(of) = of {
            numbers.insert(of, row.get(2)?);
        }
    }
    Ok(numbers)
}

/// Gives a design or item its EAN-13, or takes it away.
pub(crate) fn set_trade_number(change: &Change<'_>, of: Numbered, number: Option<&str>) -> Result<(), BookError> {
    let (design, item) = match of {
        Numbered::Design(id) => (Some(id.0), None),
        Numbered::Item(id) => (None, Some(id.0)),
    };
    let connection = change.connection();
    connection.prepare("DELETE FROM trade_number WHERE design_id IS ?1 AND item_id IS ?2")?.execute((design, item))?;
    if let Some(number) = number {
        connection
            .prepare("INSERT INTO trade_number (design_id, item_id, number) VALUES (?1, ?2, ?3)")?
            .execute((design, item, number))?;
    }
    Ok(())
}
