//! The things a person does, as data.

use crate::exchange::movement_file::ImportPlan;
use crate::measure::{Money, Quantity};
use crate::studio::{
    Design, DesignCode, DesignId, Follows, Item, ItemId, LabelSheet, LotId, PriceLine, Settings, SheetId, StudioRates,
};
use chrono::NaiveDate;

/// A thing a person does.
#[derive(Debug, Clone, PartialEq)]
pub enum Action {
    /// Adds an item of stock, or changes one.
    SaveItem {
        /// None adds.
        id: Option<ItemId>,
        /// The item as it shall be.
        item: Item,
    },
    /// Receives lots; one or several, in one action.
    Receive(Vec<Receipt>),
    /// Takes stock to the bench.
    Issue(Taking),
    /// Writes stock off.
    WriteOff(Taking),
    /// Sends stock back to its supplier, at its lot's cost.
    Return {
        /// What leaves.
        taking: Taking,
        /// The lot; none means the latest that can give it.
        lot: Option<LotId>,
    },
    /// Says what is there.
    Count(Taking),
    /// Takes reclaimed enamel in as a lot of its own.
    WashBack {
        /// What comes in; its item is what it comes into.
        taking: Taking,
        /// What it is taken in at.
        cost: WashBackCost,
    },
    /// Says what a lot cost after all; what was issued from it follows.
    CorrectLot {
        /// The lot.
        lot: LotId,
        /// The day of the correction, not before the lot's.
        date: NaiveDate,
        /// The whole landed cost of the lot, 0 or more.
        cost: Money,
        /// Why.
        note: String,
    },
    /// Closes the period up to a day, that day too: nothing dated in it may change stock. None opens all of it.
    ClosePeriod(Option<NaiveDate>),
    /// Brings a file of movements in: its new items and all its movements, or nothing.
    Import(ImportPlan),
    /// Adds a design, or changes one.
    SaveDesign {
        /// None adds.
        id: Option<DesignId>,
        /// The design as it shall be.
        design: Design,
        /// What it takes from the studio.
        follows: Follows,
        /// Notes.
        notes: String,
    },
    /// Copies a design under another code.
    DuplicateDesign {
        /// The one to copy.
        id: DesignId,
        /// The copy's code.
        code: DesignCode,
        /// The copy's name.
        name: String,
    },
    /// Sets a design aside, or takes it up again.
    RetireDesign {
        /// The design.
        id: DesignId,
        /// True sets it aside.
        retired: bool,
    },
    /// Gives a design a photo or sketch (PNG bytes, already scaled down), or takes it away.
    SetPhoto {
        /// The design.
        id: DesignId,
        /// None takes it away.
        png: Option<Vec<u8>>,
    },
    /// Changes the studio's rates and channels.
    SaveRates(StudioRates),
    /// Changes the book's settings.
    SaveSettings(Settings),
    /// Adds a label sheet, or changes one.
    SaveSheet {
        /// None adds.
        id: Option<SheetId>,
        /// The sheet as it shall be.
        sheet: LabelSheet,
    },
    /// Accepts tickets into a new dated price list.
    AcceptPrices {
        /// The day they hold from.
        date: NaiveDate,
        /// The list's name.
        name: String,
        /// The tickets.
        tickets: Vec<PriceLine>,
    },
    /// Fills an empty book with the demo studio.
    LoadDemo,
}

/// What reclaimed enamel is taken in at.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WashBackCost {
    /// Nothing.
    Nothing,
    /// A whole cost, 0 or more.
    Stated(Money),
    /// What that quantity of the item it was reclaimed from cost: at the price of a unit on hand at the end of the day,
    /// or, where none is left, of a unit when it was issued last.
    FromItem(ItemId),
}

/// A lot that comes in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Receipt {
    /// The item.
    pub item: ItemId,
    /// The day.
    pub date: NaiveDate,
    /// In the item's unit, above 0.
    pub quantity: Quantity,
    /// As typed.
    pub typed: String,
    /// Whole landed cost, 0 or more.
    pub cost: Money,
    /// The maker's lot number.
    pub lot_number: String,
    /// The supplier.
    pub supplier: String,
    /// Anything else.
    pub note: String,
}

/// Stock that leaves, or (for a count) that is there.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Taking {
    /// The item.
    pub item: ItemId,
    /// The day.
    pub date: NaiveDate,
    /// In the item's unit; above 0, for a count 0 or more.
    pub quantity: Quantity,
    /// As typed.
    pub typed: String,
    /// Why.
    pub note: String,
}
