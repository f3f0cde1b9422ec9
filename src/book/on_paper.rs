//! What papers are made of and a snapshot does not hold: finished pieces of every batch, and the lots that came last.

use super::BookError;
use super::batch::finished_with_plans;
use super::change::Reader;
use crate::paper::pinned::subjects::Finished;
use crate::studio::ItemId;
use std::collections::BTreeMap;

/// Numbered pieces of every batch, newest first, with the plans of their batches.
pub(crate) fn finished(reader: Reader<'_>) -> Result<Finished, BookError> {
    let (pieces, plans) = finished_with_plans(reader)?;
    Ok(Finished { pieces, plans })
}

/// The number of the lot of each item that came last, where it has one.
pub(crate) fn latest_lots(reader: Reader<'_>) -> Result<BTreeMap<ItemId, String>, BookError> {
    let sql = "SELECT item_id, lot_number FROM movement WHERE lot_number <> '' ORDER BY date, id";
    let mut query = reader.connection().prepare(sql)?;
    let rows = query.query_map([], |row| Ok((ItemId(row.get(0)?), row.get(1)?)))?;
    // Those that came later take the place of earlier ones.
    Ok(rows.collect::<Result<_, _>>()?)
}
