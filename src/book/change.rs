//! A change of the book in the making, and reading at any time.

use super::BookError;
use crate::studio::ItemId;
use rusqlite::{Connection, Transaction, TransactionBehavior};

/// Reads from a book, inside a change or outside.
#[derive(Clone, Copy)]
pub(crate) struct Reader<'book> {
    connection: &'book Connection,
}

impl<'book> Reader<'book> {
    pub(in crate::book) const fn new(connection: &'book Connection) -> Self {
        Self { connection }
    }

    pub(in crate::book) const fn connection(self) -> &'book Connection {
        self.connection
    }
}

/// One transaction. Everything written through it is undone when it is dropped without [`Change::keep`].
pub(crate) struct Change<'book> {
    transaction: Transaction<'book>,
}

impl<'book> Change<'book> {
    pub(in crate::book) fn begin(connection: &'book mut Connection) -> Result<Self, BookError> {
        let transaction = connection.transaction_with_behavior(TransactionBehavior::Immediate)?;
        Ok(Self { transaction })
    }

    /// Reads what is there so far.
    pub(crate) fn reader(&self) -> Reader<'_> {
        Reader::new(&self.transaction)
    }

    pub(in crate::book) fn connection(&self) -> &Connection {
        &self.transaction
    }

    /// Makes it lasting: when this returns, it is on the disk.
    pub(crate) fn keep(self) -> Result<(), BookError> {
        Ok(self.transaction.commit()?)
    }

    /// Items whose movements changed and whose state must be computed again, by id. They are no longer marked then.
    pub(crate) fn take_touched_items(&self) -> Result<Vec<ItemId>, BookError> {
        let mut query = self.transaction.prepare("SELECT item_id FROM item_touched ORDER BY item_id")?;
        let items: Vec<ItemId> = query.query_map([], |row| row.get(0).map(ItemId))?.collect::<Result<_, _>>()?;
        if !items.is_empty() {
            self.transaction.prepare("DELETE FROM item_touched")?.execute([])?;
        }
        Ok(items)
    }

    /// Says that every item's state must be computed again.
    pub(crate) fn touch_all_items(&self) -> Result<(), BookError> {
        self.transaction.execute("INSERT OR IGNORE INTO item_touched (item_id) SELECT id FROM item", [])?;
        Ok(())
    }
}
