//! `print order-form`, `invoice`, `consignment` and `certificate`; `print again` and `print papers`.

use super::arguments::Format;
use super::failure::Failure;
use super::print_fair::photo;
use super::print_statement_lines::paper;
use super::print_way::{Gone, PrintWay};
use super::session::{Session, refuse_missing_folder};
use super::statement_arguments::{Again, Statement};
use super::table::{Align, Table};
use super::words::money;
use crate::actions::{self, Action, Added};
use crate::book::{Book, Snapshot};
use crate::costing::paper_sums::{PaperSums, paper_sums};
use crate::exchange::fonts_found;
use crate::measure::{Preferences, TooLarge};
use crate::paper::picture::Image;
use crate::paper::{PaperSize, Properties, Speech, statement, statement_lines, statement_model};
use crate::studio::{NumberedKind, NumberedPaper};
use chrono::{NaiveDate, NaiveTime};
use serde_json::json;
use std::sync::Arc;

/// A paper to be written to a file.
struct Sheet<'a> {
    kind: NumberedKind,
    number: Option<u32>,
    date: NaiveDate,
    paper: &'a NumberedPaper,
    size: PaperSize,
    photo: Option<Arc<Image>>,
}

/// JSON: `kind`, `number` (`null` for a preview), `date`, `currency`, `goods`, `freight`, `net`, `tax`, `to_pay`,
/// `commission`, `to_maker`, `pages`, `out` (`null` where it was only sent), `sent`: what the printing system answered,
/// `law`: what is to be asked of a professional.
pub(super) fn print(session: &mut Session<'_>, kind: NumberedKind, task: &Statement) -> Result<(), Failure> {
    let size = size(task.letter);
    let date = task.date.unwrap_or_else(|| session.today());
    if let Some(out) = &task.way.out {
        refuse_missing_folder(out)?;
    }
    let (snapshot, number, paper, gone) = if task.preview {
        let (book, snapshot) = session.read()?;
        let paper = paper(&book, &snapshot, kind, task)?;
        let photo = photo_of(session, &book, &snapshot, (kind, &paper), task.without_photos)?;
        let sheet = Sheet { kind, number: None, date, paper: &paper, size, photo };
        let gone = write(session, &snapshot, &sheet, &task.way)?;
        (snapshot, None, paper, gone)
    } else {
        let mut book = session.open_to_write()?;
        let snapshot = actions::snapshot(&book)?;
        let paper = paper(&book, &snapshot, kind, task)?;
        let photo = photo_of(session, &book, &snapshot, (kind, &paper), task.without_photos)?;
        let mut sheet = Sheet { kind, number: None, date, paper: &paper, size, photo };
        // What cannot be laid out, or has no printer to go to, takes no number.
        let (_, document) = laid_out(&snapshot, &sheet)?;
        task.way.found(&snapshot)?;
        if let Some(pages) = &task.way.pages {
            pages.of(&document)?;
        }
        let outcome = session.perform(&mut book, Action::IssuePaper { kind, date, paper: paper.clone() })?;
        let issued = actions::numbered_papers(&book)?;
        let number = issued
            .iter()
            .find(|issued| outcome.added == Some(Added::NumberedPaper(issued.id)))
            .map(|issued| issued.number);
        sheet.number = number;
        match write(session, &snapshot, &sheet, &task.way) {
            Ok(gone) => (snapshot, number, paper, gone),
            Err(failure) => {
                // A number nobody holds a paper of would be a gap.
                actions::undo(&mut book, session.order())?;
                return Err(failure);
            }
        }
    };
    let sums = paper_sums(&paper, snapshot.settings.currency)?;
    if task.form.format == Format::Json {
        session.json(&json!({
            "kind": kind.name(),
            "number": number,
            "date": date.to_string(),
            "currency": snapshot.settings.currency.code(),
            "goods": sums.goods.to_string(),
            "freight": sums.freight.to_string(),
            "net": sums.net.to_string(),
            "tax": sums.tax.to_string(),
            "to_pay": sums.whole.to_string(),
            "commission": sums.commission.to_string(),
            "to_maker": sums.to_maker.to_string(),
            "pages": gone.pages,
            "out": task.way.out.as_ref().map(|out| out.display().to_string()),
            "sent": gone.sent,
            "law": statement_model::LAW,
        }))?;
        return gone.taken();
    }
    let title = statement_model::title(kind, number, Speech::plain(crate::studio::Language::English));
    task.way.say(session, &gone, &title)?;
    if let Some(told) = comes_to(kind, &sums, &Preferences::from(&*snapshot.settings)) {
        session.say(&told)?;
    }
    if kind != NumberedKind::Certificate {
        session.remark(statement_model::LAW);
    }
    Ok(())
}

fn comes_to(kind: NumberedKind, sums: &PaperSums, preferences: &Preferences) -> Option<String> {
    let what = if kind == NumberedKind::Consignment { "To the maker once all is sold" } else { "To pay" };
    statement_lines::comes_to(kind, sums).map(|amount| format!("{what}: {}", money(amount, preferences)))
}

/// Writes a paper that went out once more. What it says is kept: its lines, prices, names and day are those it was issued
/// with. How it looks is not: it is laid out anew, in the words of its language as they are now, and a certificate shows
/// the photo its design has now.
pub(super) fn again(session: &mut Session<'_>, task: &Again) -> Result<(), Failure> {
    let (book, snapshot) = session.read()?;
    let issued = actions::numbered_papers(&book)?;
    let found = issued.iter().find(|paper| paper.kind == task.kind && paper.number == task.number);
    let found = found.ok_or_else(|| {
        Failure::no(format!("there is no {} {}; `print papers` lists them", task.kind.name(), task.number))
    })?;
    let sheet = Sheet {
        kind: found.kind,
        number: Some(found.number),
        date: found.date,
        paper: &found.paper,
        size: size(task.letter),
        photo: photo_of(session, &book, &snapshot, (found.kind, &found.paper), task.without_photos)?,
    };
    let gone = write(session, &snapshot, &sheet, &task.way)?;
    let title = statement_model::title(found.kind, Some(found.number), Speech::plain(crate::studio::Language::English));
    task.way.say(session, &gone, &title)
}

/// JSON: `papers`: list of `kind`, `number`, `date`, `recipient`, `language`, `currency`, `goods`, `tax`, `to_pay`,
/// `to_maker`, newest first.
pub(super) fn papers(session: &mut Session<'_>, format: Format) -> Result<(), Failure> {
    let (book, snapshot) = session.read()?;
    let currency = snapshot.settings.currency;
    let issued = actions::numbered_papers(&book)?
        .into_iter()
        .map(|paper| paper_sums(&paper.paper, currency).map(|sums| (paper, sums)))
        .collect::<Result<Vec<_>, TooLarge>>()?;
    if format == Format::Json {
        let rows: Vec<_> = issued
            .iter()
            .map(|(issued, sums)| {
                json!({
                    "kind": issued.kind.name(),
                    "number": issued.number,
                    "date": issued.date.to_string(),
                    "recipient": issued.paper.recipient,
                    "language": issued.paper.language.tag(),
                    "currency": currency.code(),
                    "goods": sums.goods.to_string(),
                    "tax": sums.tax.to_string(),
                    "to_pay": sums.whole.to_string(),
                    "to_maker": sums.to_maker.to_string(),
                })
            })
            .collect();
        return session.json(&json!({ "papers": rows }));
    }
    if issued.is_empty() {
        return session.say("No paper went out under a number yet");
    }
    let preferences = Preferences::from(&*snapshot.settings);
    let mut table = Table::new(&[
        ("Kind", Align::Left),
        ("No.", Align::Right),
        ("Date", Align::Left),
        ("For", Align::Left),
        ("Comes to", Align::Right),
    ]);
    for (issued, sums) in &issued {
        let comes_to = statement_lines::comes_to(issued.kind, sums).map(|amount| money(amount, &preferences));
        table.row([
            issued.kind.name().to_owned(),
            issued.number.to_string(),
            issued.date.to_string(),
            issued.paper.recipient.lines().next().unwrap_or_default().to_owned(),
            comes_to.unwrap_or_default(),
        ]);
    }
    session.write(table)
}

/// The photo of the piece a certificate is of.
fn photo_of(
    session: &mut Session<'_>,
    book: &Book,
    snapshot: &Snapshot,
    (kind, paper): (NumberedKind, &NumberedPaper),
    without: bool,
) -> Result<Option<Arc<Image>>, Failure> {
    let design = statement_model::pictured(kind, paper).filter(|_| !without).and_then(|id| snapshot.design(id));
    design.map_or(Ok(None), |of| photo(session, book, of, statement::PHOTO_MM))
}

pub(super) const fn size(letter: bool) -> PaperSize {
    if letter { PaperSize::LETTER } else { PaperSize::A4 }
}

fn laid_out(snapshot: &Snapshot, sheet: &Sheet<'_>) -> Result<(String, crate::paper::Document), Failure> {
    let said = statement_model::statement(&statement_model::Asked {
        kind: sheet.kind,
        number: sheet.number,
        date: sheet.date,
        paper: sheet.paper,
        preferences: &Preferences::from(&*snapshot.settings),
        speech: Speech::new(sheet.paper.language, &snapshot.own_words),
        size: sheet.size,
        photo: sheet.photo.as_ref(),
    })?;
    let mut shaper = fonts_found::shaper(&[sheet.paper.language])?;
    let document = statement::layout(&said, &mut shaper)?;
    Ok((said.title, document))
}

/// Sends the paper its way. Its PDF is the same each time: its day is the paper's.
fn write(session: &mut Session<'_>, snapshot: &Snapshot, sheet: &Sheet<'_>, way: &PrintWay) -> Result<Gone, Failure> {
    let (title, document) = laid_out(snapshot, sheet)?;
    let properties = Properties {
        title,
        author: sheet.paper.from.lines().next().unwrap_or_default().to_owned(),
        created: sheet.date.and_time(NaiveTime::MIN),
        language: sheet.paper.language.tag().to_owned(),
    };
    way.take(session, snapshot, &document, &properties, &way.finish(snapshot, None)?)
}
