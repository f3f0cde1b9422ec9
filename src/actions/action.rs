//! The things a person does, as data.

use crate::exchange::movement_file::ImportPlan;
use crate::measure::{Money, Quantity};
use crate::studio::{
    Attachment, AttachmentId, Cut, Design, DesignCode, DesignId, Follows, Item, ItemId, Jar, JarId, LabelSheet, LotId,
    OrderId, OrderLineId, PriceLine, PurchaseOrder, Settings, SheetId, StudioRates,
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
    /// Counts many items at once.
    CountMany {
        /// The day.
        date: NaiveDate,
        /// What was counted, each item once.
        counts: Vec<Counted>,
    },
    /// Adds a jar, or changes one.
    SaveJar {
        /// None adds.
        id: Option<JarId>,
        /// The jar as it shall be.
        jar: Jar,
    },
    /// Weighs jars: one count an item, of the newest net weight of all its jars.
    WeighIn {
        /// The day.
        date: NaiveDate,
        /// What the scale showed, each jar once.
        readings: Vec<Reading>,
        /// Why, where a difference is large; may be empty where none is.
        cause: String,
    },
    /// Adds an order, or changes one. What came with it costs what it says then.
    SaveOrder {
        /// None adds.
        id: Option<OrderId>,
        /// The order as it shall be.
        order: PurchaseOrder,
    },
    /// Receives an order, or part of it, at its landed cost.
    ReceiveOrder {
        /// The order.
        order: OrderId,
        /// The day.
        date: NaiveDate,
        /// What came.
        lines: Vec<Delivered>,
    },
    /// Keeps a file of up to 5 MB with an order: the invoice, a photo.
    Attach {
        /// The order.
        order: OrderId,
        /// The file.
        file: Attachment,
    },
    /// Takes a file away from its order.
    Detach(AttachmentId),
    /// Cuts sheet into blanks and off-cuts, which share its value.
    Cut(Cut),
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

/// What was counted of an item.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Counted {
    /// The item.
    pub item: ItemId,
    /// What is there, in its unit, 0 or more.
    pub quantity: Quantity,
    /// As typed.
    pub typed: String,
    /// Why it differs, or anything else.
    pub note: String,
}

/// What the scale showed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Reading {
    /// The jar.
    pub jar: JarId,
    /// Jar and all, g, its tare or more.
    pub gross: Quantity,
}

/// What came of a line of an order.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Delivered {
    /// The line.
    pub line: OrderLineId,
    /// Packs, above 0, at most what is still to come.
    pub packs: Quantity,
    /// The maker's lot number.
    pub lot_number: String,
    /// Anything else.
    pub note: String,
}

/// What reclaimed enamel is taken in at.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WashBackCost {
    /// Nothing.
    Nothing,
    /// A whole cost, 0 or more.
    Stated(Money),
    /// What that quantity of the item it was reclaimed from costs: at the price of a unit on hand just before it, or, where
    /// none is left, of a unit when it was issued last. It follows when that turns out to have been another.
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
