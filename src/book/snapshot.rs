//! All that the faces show at once: small enough to hold in memory, read in one go, shared by reference.

use super::wording::Numbered;
use crate::costing::rates;
use crate::measure::{Decimal, Money, Quantity};
use crate::studio::{
    BatchId, BatchRecord, BookDesign, BookJar, BookKiln, BookLoad, BookOrder, BookPaperDesign, BookTile, ChannelId,
    DesignId, Item, ItemId, KilnId, LabelSheet, Language, PictureId, PriceLine, PriceList, PrintedTag, Printer,
    PrinterId, Settings, SheetId, StudioRates, Timer, TimerId,
};
use chrono::NaiveDate;
use std::collections::{BTreeMap, HashMap};
use std::sync::Arc;

/// A book at one moment. Parts that an action does not touch are shared with the snapshot before it.
#[derive(Debug, Clone)]
pub struct Snapshot {
    /// Setup.
    pub settings: Arc<Settings>,
    /// The studio's figures and channels.
    pub rates: Arc<StudioRates>,
    /// Items with what is on hand, by name; retired ones included.
    pub stock: Arc<Vec<StockRow>>,
    /// Jars with what each weighed last, by label; those set aside included.
    pub jars: Arc<Vec<BookJar>>,
    /// Orders of which more is expected, newest first.
    pub open_orders: Arc<Vec<BookOrder>>,
    /// Designs, by code; retired ones included.
    pub designs: Arc<Vec<BookDesign>>,
    /// Price lists, newest first.
    pub price_lists: Arc<Vec<PriceList>>,
    /// Label sheets, by name.
    pub sheets: Arc<Vec<(SheetId, LabelSheet)>>,
    /// Kilns and torches, by name; those set aside included.
    pub kilns: Arc<Vec<BookKiln>>,
    /// Batches with pieces at work, oldest first, with all that happened to them.
    pub batches: Arc<Vec<BatchRecord>>,
    /// Loads the door is closed on, oldest first.
    pub firing: Arc<Vec<BookLoad>>,
    /// Timers that run, oldest first.
    pub timers: Arc<Vec<(TimerId, Timer)>>,
    /// Test tiles, newest first; those set aside included.
    pub tiles: Arc<Vec<BookTile>>,
    /// Papers of her own, by name; those set aside included.
    pub paper_designs: Arc<Vec<BookPaperDesign>>,
    /// Stored pictures, by name.
    pub pictures: Arc<Vec<(PictureId, String)>>,
    /// Printers, by name.
    pub printers: Arc<Vec<(PrinterId, Printer)>>,
    /// The next free label of each sheet that was begun, from 1.
    pub begun_sheets: Arc<BTreeMap<SheetId, u32>>,
    /// The tags printed last of each design, channel and piece.
    pub printed_tags: Arc<Vec<PrintedTag>>,
    /// Her own words in place of a phrase of a language.
    pub own_words: Arc<BTreeMap<(Language, String), String>>,
    /// The EAN-13 of each design and item that has one.
    pub trade_numbers: Arc<BTreeMap<Numbered, String>>,
    /// The latest actions, newest first, at most 100.
    pub history: Arc<Vec<HistoryEntry>>,
    /// What undo would take back.
    pub undo: Option<String>,
    /// What redo would do again.
    pub redo: Option<String>,
    /// The book may only be looked at.
    pub read_only: bool,
    /// Where each item stands in `stock`.
    pub(in crate::book) item_places: Arc<HashMap<ItemId, usize>>,
    /// The lines of each design in `price_lists`, newest list first.
    pub(in crate::book) line_places: Arc<LinePlaces>,
}

/// List and line, by design.
pub(in crate::book) type LinePlaces = BTreeMap<DesignId, Vec<(usize, usize)>>;

/// Where each item stands in a list of stock.
pub(in crate::book) fn item_places(stock: &[StockRow]) -> HashMap<ItemId, usize> {
    stock.iter().enumerate().map(|(place, row)| (row.id, place)).collect()
}

/// The lines of each design in the price lists.
pub(in crate::book) fn line_places(lists: &[PriceList]) -> LinePlaces {
    let mut places = LinePlaces::new();
    for (list, priced) in lists.iter().enumerate() {
        for (line, of) in priced.lines.iter().enumerate() {
            places.entry(of.design).or_default().push((list, line));
        }
    }
    places
}

/// An item with what its movements come to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StockRow {
    /// The item's row.
    pub id: ItemId,
    /// The item.
    pub item: Item,
    /// On hand.
    pub on_hand: Quantity,
    /// Its value by the book's method.
    pub value: Money,
    /// Price of a unit on hand, book cost.
    pub book_price: Option<Decimal>,
    /// Price of a unit at the latest receipt.
    pub replacement_price: Option<Decimal>,
    /// The day of the latest movement.
    pub last_moved: Option<NaiveDate>,
}

impl StockRow {
    /// At or below its reorder level.
    pub fn is_low(&self) -> bool {
        self.item.reorder_level.is_some_and(|level| self.on_hand <= level) && !self.item.retired
    }
}

/// One action of the history.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct HistoryEntry {
    /// Its row.
    pub id: i64,
    /// When, local date and time as text (`2026-03-14 10:20`).
    pub at: String,
    /// Its sentence, e.g. “Receive 3 lots”.
    pub name: String,
    /// Taken back.
    pub undone: bool,
}

impl Snapshot {
    /// The item of that row.
    pub fn item(&self, id: ItemId) -> Option<&StockRow> {
        self.item_places.get(&id).and_then(|place| self.stock.get(*place))
    }

    /// The design of that row.
    pub fn design(&self, id: DesignId) -> Option<&BookDesign> {
        self.designs.iter().find(|design| design.id == id)
    }

    /// The open batch of that row.
    pub fn batch(&self, id: BatchId) -> Option<&BatchRecord> {
        self.batches.iter().find(|batch| batch.id == id)
    }

    /// The kiln of that row.
    pub fn kiln(&self, id: KilnId) -> Option<&BookKiln> {
        self.kilns.iter().find(|kiln| kiln.id == id)
    }

    /// The ticket in force for a design and channel: the latest list's that names it.
    pub fn accepted(&self, design: DesignId, channel: &ChannelId) -> Option<(&PriceList, &PriceLine)> {
        self.line_places.get(&design)?.iter().find_map(|(list, line)| {
            let list = self.price_lists.get(*list)?;
            list.lines.get(*line).filter(|line| line.channel == *channel).map(|line| (list, line))
        })
    }

    /// The unit price an item is costed at, by the book's settings.
    pub fn unit_price(&self, id: ItemId) -> Option<Decimal> {
        let row = self.item(id)?;
        if self.settings.price_on_book_cost { row.book_price.or(row.replacement_price) } else { row.replacement_price }
    }

    /// The design as it is costed today.
    pub fn resolved(&self, design: &BookDesign) -> Result<crate::studio::Design, crate::measure::TooLarge> {
        crate::costing::resolve::resolve(design, &self.rates, |id| self.unit_price(id))
    }

    /// Overhead per hour from the studio's figures.
    pub fn overhead_per_hour(&self) -> Result<Decimal, crate::measure::TooLarge> {
        rates::overhead_per_hour(&self.rates)
    }
}
