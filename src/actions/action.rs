//! The things a person does, as data.

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
