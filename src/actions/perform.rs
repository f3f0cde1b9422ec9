//! Carrying out actions, taking them back, doing them again.

use super::import as file;
use super::{
    Action, Added, Order, Outcome, Refusal, batches, bench_time, cuts, demo, designs, items, jars, kilns, loads, lots,
    not_ahead, orders, papers, period, prices, setup, stock, tiles,
};
use crate::book::history::{self, Deed, Entry, Record};
use crate::book::{Book, Change};
use crate::exchange::movement_file::ImportPlan;
use crate::measure::Money;
use crate::studio::{
    BatchId, DesignId, ItemId, JarId, KilnId, LoadId, NumberedId, OrderId, PaperDesignId, PictureId, PriceListId,
    PrinterId, SheetId, TileId,
};

/// What an action's function hands back.
pub(super) struct Done {
    pub(super) name: String,
    pub(super) added: Option<Added>,
    pub(super) moved_value: Option<Money>,
}

impl Done {
    /// Done, with nothing to open and nothing moved.
    pub(super) const fn named(name: String) -> Self {
        Self { name, added: None, moved_value: None }
    }

    /// Done, and this is new.
    pub(super) const fn adding(name: String, added: Added) -> Self {
        Self { name, added: Some(added), moved_value: None }
    }
}

/// Carries out one action in one transaction. On an error nothing was changed. An order whose key was carried out
/// before changes nothing and answers what it answered then.
pub fn perform(book: &mut Book, action: Action, order: Order) -> Result<Outcome, Refusal> {
    perform_with(book, order, |change, row| carry_out(change, action, order, row))
}

fn perform_with(
    book: &mut Book,
    order: Order,
    work: impl FnOnce(&Change<'_>, i64) -> Result<Done, Refusal>,
) -> Result<Outcome, Refusal> {
    in_book(book, |change| {
        if let Some(record) = history::carried_out(change.reader(), order.key.0)? {
            return Ok((outcome(record), Keep::Nothing));
        }
        let row = history::begin(change, order.at)?;
        let done = work(change, row)?;
        stock::refresh(change)?;
        let record = Record { name: done.name, added: done.added.map(added_row), moved_value: done.moved_value };
        finish(change, row, order, Deed::Do, &record)?;
        Ok((outcome(record), Keep::All))
    })
}

/// Brings a file of movements in, as [`Action::Import`] does. `go_on` is told how many movements of how many are written;
/// when it answers false, all is left as it was and the refusal is [`Refusal::Stopped`].
pub fn import(
    book: &mut Book,
    plan: &ImportPlan,
    order: Order,
    go_on: &mut dyn FnMut(usize, usize) -> bool,
) -> Result<Outcome, Refusal> {
    perform_with(book, order, |change, row| file::import(change, plan, row, go_on))
}

fn carry_out(change: &Change<'_>, action: Action, order: Order, row: i64) -> Result<Done, Refusal> {
    not_ahead::accept(change.reader(), &action, order.at.date())?;
    match action {
        Action::SaveItem { id, item } => items::save(change, id, item, row),
        Action::Receive(receipts) => stock::receive(change, &receipts),
        Action::Issue(taking) => stock::issue(change, &taking),
        Action::WriteOff(taking) => stock::write_off(change, &taking),
        Action::Return { taking, lot } => stock::send_back(change, &taking, lot),
        Action::Count(taking) => stock::count(change, &taking),
        Action::WashBack { taking, cost } => lots::wash_back(change, &taking, cost),
        Action::CorrectLot { lot, date, cost, note } => lots::correct(change, lot, date, cost, &note),
        Action::CountMany { date, counts } => stock::count_many(change, date, &counts),
        Action::SaveJar { id, jar } => jars::save(change, id, &jar),
        Action::WeighIn { date, readings, cause } => jars::weigh_in(change, date, &readings, &cause),
        Action::SaveOrder { id, order: new } => orders::save(change, id, &new, order.at.date(), row),
        Action::ReceiveOrder { order, date, lines } => orders::receive(change, order, date, &lines, row),
        Action::Attach { order, file } => orders::attach(change, order, &file),
        Action::Detach(id) => orders::detach(change, id),
        Action::Cut(cut) => cuts::cut(change, &cut, row),
        Action::ClosePeriod(until) => period::close(change, until),
        Action::Import(plan) => file::import(change, &plan, row, &mut |_, _| true),
        Action::SaveDesign { id, design, follows, notes } => designs::save(change, id, &design, &follows, &notes, row),
        Action::DuplicateDesign { id, code, name } => designs::duplicate(change, id, code, name, row),
        Action::RetireDesign { id, retired } => designs::retire(change, id, retired, row),
        Action::SetPhoto { id, png } => designs::set_photo(change, id, png.as_deref(), row),
        Action::SaveRates(rates) => setup::save_rates(change, &rates, order.at.date()),
        Action::SaveSettings(settings) => setup::save_settings(change, &settings),
        Action::SaveSheet { id, sheet } => setup::save_sheet(change, id, sheet),
        Action::AcceptPrices { date, name, tickets } => prices::accept(change, date, &name, &tickets),
        Action::StartBatch(new) => batches::start(change, &new),
        Action::DoStep(done) => batches::do_step(change, &done),
        Action::SkipStep { batch, step, pieces, date, why } => batches::skip(change, batch, step, &pieces, date, &why),
        Action::SendBack { batch, to, pieces, date, why } => batches::send_back(change, batch, to, &pieces, date, &why),
        Action::LosePieces { batch, lost, date } => batches::lose(change, batch, &lost, date),
        Action::TakeMaterials { batch, step, pieces, date, lines } => {
            batches::take(change, batch, step, &pieces, date, &lines)
        }
        Action::SplitBatch { batch, pieces, date, name } => batches::split(change, batch, &pieces, date, &name),
        Action::MergeBatches { from, into, date } => batches::merge(change, from, into, date),
        Action::FinishPieces { batch, pieces, seconds, date } => {
            batches::finish(change, batch, &pieces, &seconds, date)
        }
        Action::MarkPiece { piece, second, note } => batches::mark(change, piece, second, &note),
        Action::AbandonBatch { batch, date, why } => batches::abandon(change, batch, date, &why),
        Action::AcceptProposal(proposal) => batches::accept(change, &proposal, row),
        Action::AddTime(spent) => bench_time::add(change, &spent),
        Action::StartTimer(work) => bench_time::start(change, &work, order.at),
        Action::StopTimer { timer, minutes } => bench_time::stop(change, timer, minutes, order.at),
        Action::DropTimer(timer) => bench_time::drop_timer(change, timer),
        Action::SaveKiln { id, kiln } => kilns::save(change, id, &kiln),
        Action::AcceptFit { kiln, fitted } => kilns::accept_fit(change, kiln, fitted),
        Action::SaveKilnDay { id, day } => kilns::save_day(change, id, &day),
        Action::CloseDoor(load) => loads::close_door(change, &load),
        Action::AskMinutes { load, minutes } => loads::ask_minutes(change, load, minutes),
        Action::OpenDoor(opened) => loads::open_door(change, &opened),
        Action::LogLoad(load) => loads::log(change, &load),
        Action::SetLoadPhoto { load, png } => loads::set_photo(change, load, png.as_deref()),
        Action::SaveTile { id, tile } => tiles::save(change, id, &tile),
        Action::SetTilePhoto { tile, png } => tiles::set_photo(change, tile, png.as_deref()),
        Action::SavePaperDesign { id, design, retired } => papers::save_design(change, id, design, retired),
        Action::SavePicture { name, png } => papers::save_picture(change, &name, &png),
        Action::RemovePicture(id) => papers::remove_picture(change, id),
        Action::SavePrinter { id, printer } => papers::save_printer(change, id, printer),
        Action::RemovePrinter(id) => papers::remove_printer(change, id),
        Action::BeginSheet { sheet, next_label } => papers::begin_sheet(change, sheet, next_label),
        Action::NotePrinted { tags, sheet } => papers::note_printed(change, &tags, sheet),
        Action::SaveWords { language, phrase, words } => {
            papers::save_words(change, language, &phrase, words.as_deref())
        }
        Action::IssuePaper { kind, date, paper } => papers::issue(change, kind, date, &paper),
        Action::SetTradeNumber { of, number } => papers::set_trade_number(change, of, number.as_deref()),
        Action::LoadDemo => demo::load(change, order.at.date(), row),
    }
}

/// Takes back the latest action that is not undone. The outcome's name is the action's.
pub fn undo(book: &mut Book, order: Order) -> Result<Outcome, Refusal> {
    step(book, order, Deed::Undo)
}

/// Does the latest undone action again. The outcome's name is the action's.
pub fn redo(book: &mut Book, order: Order) -> Result<Outcome, Refusal> {
    step(book, order, Deed::Redo)
}

fn step(book: &mut Book, order: Order, deed: Deed) -> Result<Outcome, Refusal> {
    in_book(book, |change| {
        if let Some(record) = history::carried_out(change.reader(), order.key.0)? {
            return Ok((outcome(record), Keep::Nothing));
        }
        let next = match deed {
            Deed::Redo => history::next_to_redo(change.reader())?,
            Deed::Undo | Deed::Do => history::next_to_undo(change.reader())?,
        };
        let Some((row, name)) = next else {
            let what = if deed == Deed::Redo { "there is nothing to do again" } else { "there is nothing to undo" };
            return Err(Refusal::No(what.to_owned()));
        };
        history::replay(change, row, deed)?;
        setup::value_again_after(change, row)?;
        stock::refresh(change)?;
        let record = Record { name, added: None, moved_value: None };
        finish(change, row, order, deed, &record)?;
        Ok((outcome(record), Keep::All))
    })
}

/// What of a change shall last.
enum Keep {
    All,
    Nothing,
}

/// Runs one change of the book; a refusal or fault leaves nothing of it.
fn in_book<T>(book: &mut Book, work: impl FnOnce(&Change<'_>) -> Result<(T, Keep), Refusal>) -> Result<T, Refusal> {
    let path = book.path().to_owned();
    let done = book.begin().map_err(Refusal::from).and_then(|change| {
        let (value, keep) = work(&change)?;
        if let Keep::All = keep {
            change.keep()?;
        }
        Ok(value)
    });
    done.map_err(|refusal| match refusal {
        Refusal::Book(fault) => Refusal::Book(fault.of_book(&path)),
        other => other,
    })
}

fn finish(change: &Change<'_>, row: i64, order: Order, deed: Deed, record: &Record) -> Result<(), Refusal> {
    Ok(history::end(change, row, &Entry { key: order.key.0, at: order.at, deed, record })?)
}

fn outcome(record: Record) -> Outcome {
    Outcome {
        name: record.name,
        added: record.added.and_then(|(noun, row)| added(&noun, row)),
        moved_value: record.moved_value,
    }
}

fn added_row(added: Added) -> (String, i64) {
    let (noun, row) = match added {
        Added::Item(ItemId(row)) => ("item", row),
        Added::Design(DesignId(row)) => ("design", row),
        Added::PriceList(PriceListId(row)) => ("price_list", row),
        Added::Sheet(SheetId(row)) => ("sheet", row),
        Added::Jar(JarId(row)) => ("jar", row),
        Added::Order(OrderId(row)) => ("purchase_order", row),
        Added::Batch(BatchId(row)) => ("batch", row),
        Added::Kiln(KilnId(row)) => ("kiln", row),
        Added::Load(LoadId(row)) => ("firing_load", row),
        Added::Tile(TileId(row)) => ("tile", row),
        Added::PaperDesign(PaperDesignId(row)) => ("paper_design", row),
        Added::Picture(PictureId(row)) => ("picture", row),
        Added::Printer(PrinterId(row)) => ("printer", row),
        Added::NumberedPaper(NumberedId(row)) => ("numbered_paper", row),
    };
    (noun.to_owned(), row)
}

fn added(noun: &str, row: i64) -> Option<Added> {
    match noun {
        "item" => Some(Added::Item(ItemId(row))),
        "design" => Some(Added::Design(DesignId(row))),
        "price_list" => Some(Added::PriceList(PriceListId(row))),
        "sheet" => Some(Added::Sheet(SheetId(row))),
        "jar" => Some(Added::Jar(JarId(row))),
        "purchase_order" => Some(Added::Order(OrderId(row))),
        "batch" => Some(Added::Batch(BatchId(row))),
        "kiln" => Some(Added::Kiln(KilnId(row))),
        "firing_load" => Some(Added::Load(LoadId(row))),
        "tile" => Some(Added::Tile(TileId(row))),
        "paper_design" => Some(Added::PaperDesign(PaperDesignId(row))),
        "picture" => Some(Added::Picture(PictureId(row))),
        "printer" => Some(Added::Printer(PrinterId(row))),
        "numbered_paper" => Some(Added::NumberedPaper(NumberedId(row))),
        _ => None,
    }
}
