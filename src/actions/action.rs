//! The things a person does, as data.

use super::bench_action::{DoorOpened, MaterialTaken, NewBatch, PieceLost, StepDone, TimeSpent};
use crate::book::Numbered;
use crate::exchange::movement_file::ImportPlan;
use crate::measure::{Decimal, Money, Quantity};
use crate::studio::{
    Attachment, AttachmentId, BatchId, Cut, Design, DesignCode, DesignId, FittedHeat, Follows, Item, ItemId, Jar,
    JarId, Kiln, KilnDay, KilnDayId, KilnId, LabelSheet, Language, Load, LoadId, LotId, NumberedKind, NumberedPaper,
    OrderId, OrderLineId, PaperDesign, PaperDesignId, PictureId, PieceId, PriceLine, PrintedTag, Printer, PrinterId,
    Proposal, PurchaseOrder, Settings, SheetId, StudioRates, TestTile, TileId, TimedWork, TimerId,
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
    /// Begins a batch: its pieces wait for the first step.
    StartBatch(NewBatch),
    /// Does a step for some pieces: time, materials, losses, and on.
    DoStep(StepDone),
    /// Leaves a step out for some pieces that wait for it.
    SkipStep {
        /// The batch.
        batch: BatchId,
        /// The step they wait for, from 0.
        step: usize,
        /// The pieces.
        pieces: Vec<PieceId>,
        /// The day.
        date: NaiveDate,
        /// Why; may be empty.
        why: String,
    },
    /// Sends pieces back to an earlier step.
    SendBack {
        /// The batch.
        batch: BatchId,
        /// The step they go to, from 0; before the one they wait for.
        to: usize,
        /// The pieces.
        pieces: Vec<PieceId>,
        /// The day.
        date: NaiveDate,
        /// Why; may be empty.
        why: String,
    },
    /// Loses pieces that are at work.
    LosePieces {
        /// The batch.
        batch: BatchId,
        /// The pieces, each with its cause.
        lost: Vec<PieceLost>,
        /// The day.
        date: NaiveDate,
    },
    /// Takes materials for a step besides what doing it takes.
    TakeMaterials {
        /// The batch.
        batch: BatchId,
        /// The step, from 0.
        step: usize,
        /// The pieces it is for.
        pieces: Vec<PieceId>,
        /// The day.
        date: NaiveDate,
        /// What is taken.
        lines: Vec<MaterialTaken>,
    },
    /// Makes a batch of its own of some pieces at work.
    SplitBatch {
        /// The batch they are in.
        batch: BatchId,
        /// The pieces; not all that are at work.
        pieces: Vec<PieceId>,
        /// The day.
        date: NaiveDate,
        /// What the new batch is called; empty takes the batch's name.
        name: String,
    },
    /// Puts all pieces at work of one batch into another of the same route.
    MergeBatches {
        /// The batch that ends.
        from: BatchId,
        /// The batch they go to.
        into: BatchId,
        /// The day.
        date: NaiveDate,
    },
    /// Finishes pieces that passed every step: each gets a number.
    FinishPieces {
        /// The batch.
        batch: BatchId,
        /// The pieces.
        pieces: Vec<PieceId>,
        /// Which of them are seconds.
        seconds: Vec<PieceId>,
        /// The day.
        date: NaiveDate,
    },
    /// Says of a finished piece whether it is a second, with a note.
    MarkPiece {
        /// The piece.
        piece: PieceId,
        /// It is a second.
        second: bool,
        /// Anything else.
        note: String,
    },
    /// Gives a batch up; what it used is written off with its pieces.
    AbandonBatch {
        /// The batch.
        batch: BatchId,
        /// The day.
        date: NaiveDate,
        /// Why.
        why: String,
    },
    /// Writes hands-on minutes down, shared where one sitting served several batches.
    AddTime(TimeSpent),
    /// Starts a timer, at the moment of the order.
    StartTimer(Vec<TimedWork>),
    /// Stops a timer and writes its minutes down.
    StopTimer {
        /// The timer.
        timer: TimerId,
        /// Minutes to write instead of those it ran, where it ran on unattended.
        minutes: Option<Decimal>,
    },
    /// Takes a timer away without writing anything down.
    DropTimer(TimerId),
    /// Adds a kiln or torch, or changes one.
    SaveKiln {
        /// None adds.
        id: Option<KilnId>,
        /// The kiln as it shall be.
        kiln: Kiln,
    },
    /// Uses figures fitted to meter readings for a kiln, or those of its three measurements again.
    AcceptFit {
        /// The kiln; an electric one.
        kiln: KilnId,
        /// None goes back to the three measurements.
        fitted: Option<FittedHeat>,
    },
    /// Writes a day of a kiln down, or changes it.
    SaveKilnDay {
        /// None adds, or changes the kiln's day of that date.
        id: Option<KilnDayId>,
        /// The day.
        day: KilnDay,
    },
    /// Closes the door on a load: `opened_at` and every result are none.
    CloseDoor(Load),
    /// Changes the minutes asked for of a load that fires.
    AskMinutes {
        /// The load.
        load: LoadId,
        /// Minutes, above 0.
        minutes: Decimal,
    },
    /// Opens the door: the load is written with its times, pieces go on, stay, or are lost.
    OpenDoor(DoorOpened),
    /// Writes a load down that was fired already: `opened_at` and every result are given.
    LogLoad(Load),
    /// Gives a load a photo (PNG bytes, already scaled down), or takes it away.
    SetLoadPhoto {
        /// The load.
        load: LoadId,
        /// None takes it away.
        png: Option<Vec<u8>>,
    },
    /// Adds a test tile, or changes one.
    SaveTile {
        /// None adds.
        id: Option<TileId>,
        /// The tile as it shall be.
        tile: TestTile,
    },
    /// Gives a test tile a photo (PNG bytes, already scaled down), or takes it away.
    SetTilePhoto {
        /// The tile.
        tile: TileId,
        /// None takes it away.
        png: Option<Vec<u8>>,
    },
    /// Takes a figure that batches taught into its design.
    AcceptProposal(Proposal),
    /// Adds a paper of her own, or changes one.
    SavePaperDesign {
        /// None adds.
        id: Option<PaperDesignId>,
        /// The paper as it shall be.
        design: PaperDesign,
        /// Set aside.
        retired: bool,
    },
    /// Stores a picture (PNG bytes), in the place of the one of that name.
    SavePicture {
        /// Its name.
        name: String,
        /// The picture, at most 5 MB.
        png: Vec<u8>,
    },
    /// Takes a stored picture out that no paper has.
    RemovePicture(PictureId),
    /// Adds a printer, or changes one.
    SavePrinter {
        /// None adds.
        id: Option<PrinterId>,
        /// The printer as it shall be.
        printer: Printer,
    },
    /// Takes a printer out, with what was measured of it.
    RemovePrinter(PrinterId),
    /// Says which label of a sheet is free next.
    BeginSheet {
        /// The sheet.
        sheet: SheetId,
        /// From 1; 1 is a fresh sheet.
        next_label: u32,
    },
    /// Keeps which tags were printed, and how far that used a sheet.
    NotePrinted {
        /// The tags; may be none.
        tags: Vec<PrintedTag>,
        /// The sheet and its next free label, from 1.
        sheet: Option<(SheetId, u32)>,
    },
    /// Puts her own words in place of a phrase of a language, or takes them away.
    SaveWords {
        /// The language.
        language: Language,
        /// The phrase's name.
        phrase: String,
        /// None takes them away.
        words: Option<String>,
    },
    /// Sends a paper out under the next number of its kind.
    IssuePaper {
        /// What it is.
        kind: NumberedKind,
        /// The day.
        date: NaiveDate,
        /// The paper.
        paper: NumberedPaper,
    },
    /// Gives a design or item its EAN-13, or takes it away.
    SetTradeNumber {
        /// What carries it.
        of: Numbered,
        /// Thirteen digits with a right check digit; none takes it away.
        number: Option<String>,
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
