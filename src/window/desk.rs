//! The thread that owns the book. Named requests reach it in the order of the clicks; each answer carries the new
//! [`Snapshot`] when the book has changed. No closure over a connection leaves or enters it.

mod line;

pub use line::{Desk, Start, restore};

use crate::actions::{
    self, ActionKey, BenchUse, CheckReport, Counted, KilnDayAccount, LoadAccount, NeededItem, Order, Outcome,
    PaperStore, PieceOfLot, PieceStory, PlanQuestion, Reading, Refusal, StockValue,
};
use crate::book::backup::{self, BackupFile};
use crate::book::{Book, BookError, Snapshot};
use crate::costing::batch::BatchAccount;
use crate::costing::correction::CorrectionEffect;
use crate::costing::counting::CountedItem;
use crate::costing::learning::{Learned, LossRow};
use crate::costing::planning::{ItemPlan, PlanningRates};
use crate::costing::weigh::WeighedItem;
use crate::exchange::movement_file::{ImportPlan, Planned, RowProblem, Shelf};
use crate::kiln::fit::MeterReading;
use crate::kiln::hours::HotHours;
use crate::measure::Money;
use crate::studio::{
    Attachment, AttachmentId, BatchHead, BatchId, BatchRecord, BatchState, BookLoad, BookNumberedPaper, BookOrder,
    DesignId, FinishedPiece, ItemId, KilnId, LoadId, LotCorrection, LotId, Movement, PictureId, PieceId, TileId,
    ValuationMethod,
};
use chrono::{NaiveDate, NaiveDateTime};
use std::path::PathBuf;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};

/// What is asked of the book.
#[derive(Debug, Clone)]
#[allow(clippy::large_enum_variant)] // one at a time, moved once
pub enum Request {
    /// Carry out an action.
    Perform(actions::Action),
    /// Take back the latest action.
    Undo,
    /// Do the latest undone action again.
    Redo,
    /// An item's movements.
    Movements(ItemId),
    /// A design's photo.
    Photo(DesignId),
    /// A stored picture.
    Picture(PictureId),
    /// Finished pieces and lots, as papers name them.
    PaperStore,
    /// What the stock was worth on a day.
    StockValue {
        /// The day.
        on: NaiveDate,
        /// By which method.
        method: ValuationMethod,
    },
    /// Check the whole book.
    Check,
    /// Make a backup now, in the book's own folder of backups.
    Backup,
    /// The backups there are.
    Backups,
    /// Every order, newest first.
    Orders,
    /// Every paper that went out under a number, newest first.
    NumberedPapers,
    /// A file kept with an order.
    Attachment(AttachmentId),
    /// What jars weigh would come to.
    WeighIn {
        /// The day.
        date: NaiveDate,
        /// Jar and gross weight.
        readings: Vec<Reading>,
    },
    /// What counts would come to.
    CountPreview {
        /// The day.
        date: NaiveDate,
        /// What was counted.
        counts: Vec<Counted>,
    },
    /// What another cost of a lot would move.
    CorrectionEffect(LotId, Money),
    /// An item's corrections of lots.
    Corrections(ItemId),
    /// Every item planned: its use, when it runs out, what to buy.
    Plans {
        /// The day planned from.
        today: NaiveDate,
        /// What is planned with.
        rates: Box<PlanningRates>,
    },
    /// What reading a file of movements needs to know of the book.
    Shelf,
    /// Which columns were picked for files of that shape.
    ImportShape(String),
    /// What a file as read would leave short.
    ImportProblems(Box<Planned>),
    /// Bring a file in; progress is told and stopping asked for through the watch.
    Import(Box<ImportPlan>, Arc<Watch>),
    /// Every movement of every item, for lists that are written out.
    AllMovements,
    /// Every batch as a line of a list; of one state where one is given.
    BatchHeads(Option<BatchState>),
    /// One batch with all that happened to it.
    Batch(BatchId),
    /// The batch of that number.
    BatchWithNumber(u32),
    /// What a batch of so many pieces of a design would take from stock.
    BatchNeed(DesignId, u32),
    /// What a batch cost.
    BatchAccount(BatchId),
    /// What a design's last batches say about its figures.
    Learned(DesignId),
    /// Pieces finished from one day to another.
    FinishedPieces {
        /// The first day.
        from: NaiveDate,
        /// The last day.
        to: NaiveDate,
    },
    /// A piece from its beginning.
    PieceStory(PieceId),
    /// The piece of that number.
    PieceWithNumber(String),
    /// The pieces that hold something of a lot.
    PiecesOfLot(LotId),
    /// What was taken of an item to batches, and what came back.
    BenchUses(ItemId),
    /// Everything lost from one day to another.
    Losses {
        /// The first day.
        from: NaiveDate,
        /// The last day.
        to: NaiveDate,
    },
    /// Loads of all kilns closed from one date to another.
    Loads {
        /// The first date.
        from: NaiveDate,
        /// The last date.
        to: NaiveDate,
    },
    /// One load.
    Load(LoadId),
    /// A load with its pieces and what it cost.
    LoadAccount(LoadId),
    /// A kiln's days from one date to another.
    KilnDays {
        /// The kiln.
        kiln: KilnId,
        /// The first date.
        from: NaiveDate,
        /// The last date.
        to: NaiveDate,
    },
    /// What the meter told of a kiln.
    MeterReadings(KilnId),
    /// What the planner is asked for a day of a kiln.
    PlanAsk {
        /// The kiln.
        kiln: KilnId,
        /// When the day begins.
        at: NaiveDateTime,
    },
    /// How long a kiln's elements and thermocouple were hot.
    HotHours {
        /// The kiln.
        kiln: KilnId,
        /// Up to this day.
        today: NaiveDate,
    },
    /// A load's photo.
    LoadPhoto(LoadId),
    /// A test tile's photo.
    TilePhoto(TileId),
}

/// How far a long piece of work is, and whether it shall stop; shared between the window and the thread that works.
#[derive(Debug, Default)]
pub struct Watch {
    done: AtomicUsize,
    all: AtomicUsize,
    stop: AtomicBool,
}

impl Watch {
    /// How much is done, of how much; 0 of 0 before it begins.
    pub fn progress(&self) -> (usize, usize) {
        (self.done.load(Ordering::Relaxed), self.all.load(Ordering::Relaxed))
    }

    /// Asks for the work to stop; what it did so far is taken back.
    pub fn stop(&self) {
        self.stop.store(true, Ordering::Relaxed);
    }

    /// Tells how far the work is; false means that it shall stop.
    pub fn tell(&self, done: usize, all: usize) -> bool {
        self.done.store(done, Ordering::Relaxed);
        self.all.store(all, Ordering::Relaxed);
        !self.stop.load(Ordering::Relaxed)
    }
}

/// What the book says to a [`Request`]; the same names.
#[derive(Debug, Clone)]
#[allow(clippy::large_enum_variant)] // one at a time, moved once
pub enum Answer {
    /// An action was carried out, or refused.
    Performed(Result<Outcome, Refusal>),
    /// The latest action was taken back.
    Undone(Result<Outcome, Refusal>),
    /// The latest undone action was done again.
    Redone(Result<Outcome, Refusal>),
    /// An item's movements, by date then id.
    Movements(ItemId, Result<Vec<Movement>, BookError>),
    /// A design's photo, PNG bytes.
    Photo(DesignId, Result<Option<Vec<u8>>, BookError>),
    /// A stored picture, PNG bytes.
    Picture(PictureId, Result<Option<Vec<u8>>, BookError>),
    /// Finished pieces and lots, as papers name them.
    PaperStore(Result<PaperStore, BookError>),
    /// What the stock was worth.
    StockValue(Result<StockValue, BookError>),
    /// What the check found.
    Checked(Result<CheckReport, BookError>),
    /// Where the new backup lies.
    BackedUp(Result<PathBuf, BookError>),
    /// The backups, newest first.
    Backups(Result<Vec<BackupFile>, BookError>),
    /// Every order, newest first.
    Orders(Result<Vec<BookOrder>, BookError>),
    /// Every paper that went out under a number, newest first.
    NumberedPapers(Result<Vec<BookNumberedPaper>, BookError>),
    /// A file kept with an order.
    Attachment(AttachmentId, Result<Option<Attachment>, BookError>),
    /// What jars weigh would come to, item by item.
    WeighIn(Result<Vec<WeighedItem>, Refusal>),
    /// What counts would come to on that day, in the order asked.
    CountPreview(NaiveDate, Result<Vec<CountedItem>, Refusal>),
    /// What another cost of a lot would move; none where there is no such lot.
    CorrectionEffect(LotId, Result<Option<CorrectionEffect>, BookError>),
    /// An item's corrections of lots, oldest first.
    Corrections(ItemId, Result<Vec<LotCorrection>, BookError>),
    /// Every item planned, by name.
    Plans(Result<Vec<ItemPlan>, BookError>),
    /// What reading a file of movements needs to know of the book.
    Shelf(Result<Shelf, BookError>),
    /// Which columns were picked for files of that shape.
    ImportShape(String, Result<Option<String>, BookError>),
    /// What a file as read would leave short, by row.
    ImportProblems(Result<Vec<RowProblem>, BookError>),
    /// Every movement of every item, in the order of the items' names.
    AllMovements(Result<Vec<(ItemId, Vec<Movement>)>, BookError>),
    /// Batches as lines of a list, newest first.
    BatchHeads(Result<Vec<BatchHead>, BookError>),
    /// One batch; none where there is no such batch.
    Batch(BatchId, Result<Option<Box<BatchRecord>>, BookError>),
    /// The batch of that number.
    BatchWithNumber(u32, Result<Option<BatchId>, BookError>),
    /// What a batch of so many pieces of a design would take from stock, by the items' names.
    BatchNeed(DesignId, u32, Result<Vec<NeededItem>, Refusal>),
    /// What a batch cost; none where there is no such batch.
    BatchAccount(BatchId, Result<Option<Box<BatchAccount>>, BookError>),
    /// What a design's last batches say about its figures; none where there is no such design.
    Learned(DesignId, Result<Option<Learned>, BookError>),
    /// Finished pieces, newest first.
    FinishedPieces(Result<Vec<FinishedPiece>, BookError>),
    /// A piece from its beginning; none where there is no such piece.
    PieceStory(PieceId, Result<Option<Box<PieceStory>>, BookError>),
    /// The piece of that number.
    PieceWithNumber(String, Result<Option<PieceId>, BookError>),
    /// The pieces that hold something of a lot, in the order of their rows.
    PiecesOfLot(LotId, Result<Vec<PieceOfLot>, BookError>),
    /// What was taken of an item to batches and what came back, in the order of entry.
    BenchUses(ItemId, Result<Vec<BenchUse>, BookError>),
    /// Everything lost, oldest first.
    Losses(Result<Vec<LossRow>, BookError>),
    /// Loads of all kilns, in order of time.
    Loads(Result<Vec<BookLoad>, BookError>),
    /// One load; none where there is no such load.
    Load(LoadId, Result<Option<BookLoad>, BookError>),
    /// A load with its pieces and what it cost; none where there is no such load.
    LoadAccount(LoadId, Result<Option<LoadAccount>, BookError>),
    /// A kiln's days, oldest first.
    KilnDays(KilnId, Result<Vec<KilnDayAccount>, BookError>),
    /// What the meter told of a kiln on each day it was read, oldest first.
    MeterReadings(KilnId, Result<Vec<MeterReading>, BookError>),
    /// What the planner is asked for a day of a kiln; none for a torch, and where its figures give no model.
    PlanAsk(KilnId, Result<Option<Box<PlanQuestion>>, BookError>),
    /// How long a kiln's elements and thermocouple were hot; none for a torch.
    HotHours(KilnId, Result<Option<HotHours>, BookError>),
    /// A load's photo, PNG bytes.
    LoadPhoto(LoadId, Result<Option<Vec<u8>>, BookError>),
    /// A test tile's photo, PNG bytes.
    TilePhoto(TileId, Result<Option<Vec<u8>>, BookError>),
}

/// An answer with the book as it is after it, where it has changed.
#[derive(Debug, Clone)]
pub struct Reply {
    /// The answer.
    pub answer: Answer,
    /// The book after it; none when nothing changed.
    pub snapshot: Option<Arc<Snapshot>>,
}

/// A book just opened.
#[derive(Debug, Clone)]
pub struct Opened {
    /// The way to it.
    pub desk: Desk,
    /// The book as it is.
    pub snapshot: Arc<Snapshot>,
    /// Where it lies.
    pub path: PathBuf,
}

fn answer(book: &mut Book, request: Request, at: NaiveDateTime) -> Result<Reply, BookError> {
    let order = Order { key: ActionKey::fresh(), at };
    let answer = match request {
        Request::Perform(action) => Answer::Performed(actions::perform(book, action, order)),
        Request::Undo => Answer::Undone(actions::undo(book, order)),
        Request::Redo => Answer::Redone(actions::redo(book, order)),
        Request::Movements(item) => Answer::Movements(item, actions::movements(book, item)),
        Request::Photo(design) => Answer::Photo(design, actions::photo(book, design)),
        Request::Picture(picture) => Answer::Picture(picture, actions::picture(book, picture)),
        Request::PaperStore => Answer::PaperStore(actions::paper_store(book)),
        Request::StockValue { on, method } => Answer::StockValue(actions::stock_value(book, on, method)),
        Request::Check => Answer::Checked(actions::check(book)),
        Request::Backup => Answer::BackedUp(book.backup(None, at)),
        Request::Backups => Answer::Backups(backup::list(book.path())),
        Request::Orders => Answer::Orders(actions::orders(book)),
        Request::NumberedPapers => Answer::NumberedPapers(actions::numbered_papers(book)),
        Request::Attachment(id) => Answer::Attachment(id, actions::attachment(book, id)),
        Request::WeighIn { date, readings } => Answer::WeighIn(actions::weigh_in_preview(book, date, &readings)),
        Request::CountPreview { date, counts } => {
            Answer::CountPreview(date, actions::count_preview(book, date, &counts))
        }
        Request::CorrectionEffect(lot, cost) => {
            Answer::CorrectionEffect(lot, actions::correction_effect(book, lot, cost))
        }
        Request::Corrections(item) => Answer::Corrections(item, actions::corrections(book, item)),
        Request::Plans { today, rates } => Answer::Plans(actions::plans(book, today, &rates)),
        Request::Shelf => Answer::Shelf(actions::shelf(book)),
        Request::ImportShape(shape) => {
            let found = actions::import_shape(book, &shape);
            Answer::ImportShape(shape, found)
        }
        Request::ImportProblems(planned) => Answer::ImportProblems(actions::import_problems(book, &planned)),
        Request::Import(plan, watch) => {
            Answer::Performed(actions::import(book, &plan, order, &mut |done, all| watch.tell(done, all)))
        }
        Request::AllMovements => Answer::AllMovements(actions::all_movements(book)),
        Request::BatchHeads(state) => Answer::BatchHeads(actions::batch_heads(book, state)),
        Request::Batch(id) => Answer::Batch(id, actions::batch(book, id).map(|found| found.map(Box::new))),
        Request::BatchWithNumber(number) => Answer::BatchWithNumber(number, actions::batch_with_number(book, number)),
        Request::BatchNeed(design, pieces) => {
            Answer::BatchNeed(design, pieces, actions::batch_need(book, design, pieces))
        }
        Request::BatchAccount(id) => {
            Answer::BatchAccount(id, actions::batch_account(book, id).map(|found| found.map(Box::new)))
        }
        Request::Learned(design) => Answer::Learned(design, actions::learned(book, design)),
        Request::FinishedPieces { from, to } => Answer::FinishedPieces(actions::finished_pieces(book, from, to)),
        Request::PieceStory(id) => {
            Answer::PieceStory(id, actions::piece_story(book, id).map(|story| story.map(Box::new)))
        }
        Request::PieceWithNumber(number) => {
            let found = actions::piece_with_number(book, &number);
            Answer::PieceWithNumber(number, found)
        }
        Request::PiecesOfLot(lot) => Answer::PiecesOfLot(lot, actions::pieces_of_lot(book, lot)),
        Request::BenchUses(item) => Answer::BenchUses(item, actions::bench_uses(book, item)),
        Request::Losses { from, to } => Answer::Losses(actions::losses(book, from, to)),
        Request::Loads { from, to } => Answer::Loads(actions::loads(book, from, to)),
        Request::Load(id) => Answer::Load(id, actions::load(book, id)),
        Request::LoadAccount(id) => Answer::LoadAccount(id, actions::load_account(book, id)),
        Request::KilnDays { kiln, from, to } => Answer::KilnDays(kiln, actions::kiln_days(book, kiln, from, to)),
        Request::MeterReadings(kiln) => Answer::MeterReadings(kiln, actions::meter_readings(book, kiln)),
        Request::PlanAsk { kiln, at } => {
            Answer::PlanAsk(kiln, actions::plan_ask(book, kiln, at).map(|question| question.map(Box::new)))
        }
        Request::HotHours { kiln, today } => Answer::HotHours(kiln, actions::hot_hours(book, kiln, today)),
        Request::LoadPhoto(id) => Answer::LoadPhoto(id, actions::load_photo(book, id)),
        Request::TilePhoto(id) => Answer::TilePhoto(id, actions::tile_photo(book, id)),
    };
    let changed = matches!(&answer, Answer::Performed(Ok(_)) | Answer::Undone(Ok(_)) | Answer::Redone(Ok(_)));
    let snapshot = if changed { Some(Arc::new(actions::snapshot(book)?)) } else { None };
    Ok(Reply { answer, snapshot })
}
