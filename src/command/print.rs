//! `print …`: tags and care cards here, the other papers in files of their own.

use super::cost::caution_line;
use super::designs::{chosen, costed, preferences_of};
use super::failure::Failure;
use super::print_arguments::{Cards, Paper, PrintTask, Symbol, Tags};
use super::print_way::{PrintWay, Telling};
use super::session::Session;
use super::words::counted;
use super::{print_bench, print_count, print_fair, print_outdated, print_own, print_statement, printer};
use crate::book::Snapshot;
use crate::costing::price_sheet::Tickets;
use crate::costing::{Costing, Level, accept};
use crate::exchange::fonts_found;
use crate::measure::Money;
use crate::paper::page_range::{labels_of, next_label};
use crate::paper::printed::Outdated;
use crate::paper::{
    CardJob, CardStyle, Document, PaperSize, Properties, Speech, Symbology, TagJob, cards, care_model, sheets,
    tag_model, tags, ticket,
};
use crate::studio::{
    BookDesign, ChannelId, Design, ItemDetails, LabelSheet, Language, NumberedKind, PrintedTag, SheetId,
};

pub(super) fn print(session: &mut Session<'_>, task: PrintTask) -> Result<(), Failure> {
    match task {
        PrintTask::Tags(task) => print_tags(session, task),
        PrintTask::Cards(task) => print_cards(session, &task),
        PrintTask::CountSheet(task) => print_count::print(session, &task),
        PrintTask::BenchSheet(task) => print_bench::sheet(session, &task),
        PrintTask::KilnLog(task) => print_bench::kiln_log(session, &task),
        PrintTask::PriceList(task) => print_fair::print(session, &task),
        PrintTask::OrderForm(task) => print_statement::print(session, NumberedKind::Order, &task),
        PrintTask::Invoice(task) => print_statement::print(session, NumberedKind::Invoice, &task),
        PrintTask::Consignment(task) => print_statement::print(session, NumberedKind::Consignment, &task),
        PrintTask::Certificate(task) => print_statement::print(session, NumberedKind::Certificate, &task),
        PrintTask::Own(task) => print_own::own(session, &task),
        PrintTask::Again(task) => print_statement::again(session, &task),
        PrintTask::Calibration(task) => printer::calibration(session, &task),
        PrintTask::Papers(form) => print_statement::papers(session, form.format),
    }
}

fn print_tags(session: &mut Session<'_>, task: Tags) -> Result<(), Failure> {
    let (book, snapshot) = session.read()?;
    drop(book);
    let chosen = chosen(&snapshot, &task.design)?;
    let channel = task.channel.clone().map(ChannelId);
    if let Some(channel) = &channel
        && !chosen.iter().any(|book| book.design.channels.iter().any(|own| own.id == *channel))
    {
        return Err(Failure::no(format!("there is no channel {channel} in these designs")));
    }
    let outdated = print_outdated::of(&snapshot, &chosen, channel.as_ref());
    if task.which_outdated {
        return print_outdated::list(session, &snapshot, &outdated, task.form.format);
    }
    // Each tag with the channel whose ticket it shows.
    let wanted: Vec<(&BookDesign, Option<ChannelId>)> = if task.outdated {
        let of = |tag: &Outdated| snapshot.design(tag.design).map(|book| (book, Some(tag.channel.clone())));
        outdated.iter().filter_map(of).collect()
    } else {
        chosen.into_iter().map(|book| (book, channel.clone())).collect()
    };
    if wanted.is_empty() && task.outdated {
        return session.say("No tag is out of date; nothing was printed");
    }
    let (sheet_row, sheet) = sheet(&snapshot, task.sheet.as_deref())?;
    let language = task.language.unwrap_or(snapshot.settings.paper_language);
    let speech = Speech::new(language, &snapshot.own_words);
    let mut shaper = fonts_found::shaper(&[language])?;
    let mut tags_to_print = Vec::new();
    let mut stops = Vec::new();
    let mut printed = Vec::new();
    // The order in which they stand on the sheets is that of the tags below.
    for (entry, (book, channel)) in wanted.into_iter().enumerate() {
        let (design, costing) = match costed(&snapshot, book) {
            Ok((design, costing)) => (design, Some(costing)),
            Err(failure) => {
                for line in failure.lines() {
                    session.remark(&format!("{line}; its tag has no ticket but an accepted one"));
                }
                (book.design.clone(), None)
            }
        };
        if let Some(costing) = &costing {
            stops.extend(stops_of(&design, costing));
        }
        let ticket = ticket_of(&snapshot, book, &design, costing.as_ref(), channel.as_ref());
        let preferences = preferences_of(&snapshot, &design);
        let words = ticket.as_ref().map(|ticket| ticket::words(ticket.amount, &preferences, speech));
        tags_to_print.push((tag_model(&design, words, snapshot.settings.length, speech), task.copies));
        let tag = |ticket: ticket::Ticket| PrintedTag {
            design: book.id,
            channel: ticket.channel,
            piece: None,
            ticket: Money::rounded(ticket.amount),
            date: session.today(),
            copies: task.copies,
        };
        printed.extend(ticket.map(|ticket| (entry, tag(ticket))));
    }
    // A design named by its maker is asked about; one tag for each design of the book is a whole, and is only remarked.
    if !stops.is_empty() && !task.design.is_empty() && !task.with_stops {
        stops.push("nothing was printed; --with-stops prints such designs all the same".to_owned());
        return Err(Failure::No(stops));
    }
    for stop in &stops {
        session.remark(stop);
    }
    let begun = sheet_row.and_then(|row| snapshot.begun_sheets.get(&row)).copied().unwrap_or(1);
    let labels_on_sheet = sheet.columns.saturating_mul(sheet.rows).max(1);
    let start = task.start.unwrap_or(if begun > labels_on_sheet { 1 } else { begun });
    let job = TagJob { sheet, tags: tags_to_print, start, symbology: symbology(task.symbol) };
    let count = labels(job.tags.iter().map(|(_, copies)| *copies));
    let dots = task.way.finish(&snapshot, sheet_row)?.dots_per_inch;
    let mut telling = Telling::of_layout(session, "tags laid out");
    let document = tags::layout_for(&job, dots, &mut shaper, &mut telling)?;
    let title = speech.phrase("paper-tags");
    let what = counted(count, "tag", "tags");
    write_on(session, &snapshot, &document, (language, &title), (&task.way, sheet_row), &what)?;
    if !task.trial {
        note(session, &task.way, &document, printed, sheet_row.map(|row| (row, labels_on_sheet)))?;
    }
    Ok(())
}

/// Keeps in the book what was printed: of pages left out nothing was.
pub(super) fn note(
    session: &mut Session<'_>,
    way: &PrintWay,
    document: &Document,
    tags: Vec<(usize, PrintedTag)>,
    sheet: Option<(SheetId, u32)>,
) -> Result<(), Failure> {
    let cut = way.pages.as_ref().map(|pages| pages.of(document)).transpose()?;
    let labels = labels_of(cut.as_ref().unwrap_or(document));
    let printed = tags.into_iter().filter_map(|(entry, tag)| {
        let copies = labels.get(&entry)?.saturating_mul(way.prints);
        Some(PrintedTag { copies, ..tag })
    });
    let next = match sheet {
        Some((row, labels_on_sheet)) => {
            next_label(document, way.pages.as_ref(), labels_on_sheet)?.map(|next| (row, next))
        }
        None => None,
    };
    print_outdated::note(session, printed.collect(), next);
    Ok(())
}

fn print_cards(session: &mut Session<'_>, task: &Cards) -> Result<(), Failure> {
    let (_, snapshot) = session.read()?;
    let languages = match &task.language {
        Some(asked) => asked.0.clone(),
        None => vec![snapshot.settings.paper_language],
    };
    let speeches: Vec<Speech<'_>> =
        languages.iter().map(|language| Speech::new(*language, &snapshot.own_words)).collect();
    let mut shaper = fonts_found::shaper(&languages)?;
    let cards = chosen(&snapshot, &task.design)?
        .into_iter()
        .map(|book| (care_model(&book.design, &snapshot.settings, band(&snapshot, book), &speeches), task.copies))
        .collect();
    let job = CardJob {
        cards,
        style: if task.flat { CardStyle::Flat } else { CardStyle::Folded },
        paper: match task.paper {
            Paper::A4 => PaperSize::A4,
            Paper::Letter => PaperSize::LETTER,
        },
    };
    let count = labels(job.cards.iter().map(|(_, copies)| *copies));
    let document = cards::layout(&job, &mut shaper)?;
    let first = speeches.first().copied().unwrap_or_else(|| Speech::plain(Language::English));
    let title = first.phrase("paper-care-cards");
    let what = counted(count, "care card", "care cards");
    write_in(session, &snapshot, &document, (first.language(), &title), &task.way, &what)
}

/// Sends a paper in English on plain paper its way, and says what could not be printed as asked.
pub(super) fn write(
    session: &mut Session<'_>,
    snapshot: &Snapshot,
    document: &Document,
    title: &str,
    way: &PrintWay,
    what: &str,
) -> Result<(), Failure> {
    write_in(session, snapshot, document, (Language::English, title), way, what)
}

/// Sends a paper on plain paper its way, its title in the language of the paper.
pub(super) fn write_in(
    session: &mut Session<'_>,
    snapshot: &Snapshot,
    document: &Document,
    words: (Language, &str),
    way: &PrintWay,
    what: &str,
) -> Result<(), Failure> {
    write_on(session, snapshot, document, words, (way, None), what)
}

/// Sends a paper on that sheet (none: plain paper) its way, and says what could not be printed as asked.
pub(super) fn write_on(
    session: &mut Session<'_>,
    snapshot: &Snapshot,
    document: &Document,
    (language, title): (Language, &str),
    (way, sheet): (&PrintWay, Option<SheetId>),
    what: &str,
) -> Result<(), Failure> {
    let properties = Properties {
        title: title.to_owned(),
        author: snapshot.settings.studio_name.clone(),
        created: session.now(),
        language: language.tag().to_owned(),
    };
    let finish = way.finish(snapshot, sheet)?;
    let gone = way.take(session, snapshot, document, &properties, &finish)?;
    way.say(session, &gone, what)
}

/// The ticket a tag shows: see [`ticket::chosen`].
fn ticket_of(
    snapshot: &Snapshot,
    book: &BookDesign,
    design: &Design,
    costing: Option<&Costing>,
    channel: Option<&ChannelId>,
) -> Option<ticket::Ticket> {
    let ready = costing.map(|costing| accept::lines(book.id, design, costing, Tickets::Common)).unwrap_or_default();
    let accepted = |id: &ChannelId| snapshot.accepted(book.id, id).map(|(_, line)| line.ticket);
    ticket::chosen(design, &ready, channel, accepted)
}

pub(super) fn stops_of(design: &Design, costing: &Costing) -> Vec<String> {
    let stops = costing.cautions.iter().filter(|caution| caution.level == Level::Stop);
    stops.map(|caution| format!("{}: {}", design.code, caution_line(caution))).collect()
}

/// The sheet of that name, with its row where it is one of the book; without a name the book's first, else the first of
/// the usual ones.
pub(super) fn sheet(snapshot: &Snapshot, name: Option<&str>) -> Result<(Option<SheetId>, LabelSheet), Failure> {
    let own = snapshot.sheets.iter().map(|(row, sheet)| (Some(*row), sheet.clone()));
    let mut known = own.chain(sheets::usual_sheets().into_iter().map(|sheet| (None, sheet)));
    let Some(name) = name else {
        return known.next().ok_or_else(|| Failure::no("there is no sheet to print on"));
    };
    let mut names = Vec::new();
    for (row, sheet) in known {
        if sheet.name == name {
            return Ok((row, sheet));
        }
        names.push(sheet.name);
    }
    let names: Vec<String> = names.iter().map(|name| format!("\"{name}\"")).collect();
    Err(Failure::no(format!("there is no sheet \"{name}\"; there are {}", names.join(", "))))
}

pub(super) fn band(snapshot: &Snapshot, book: &BookDesign) -> [u8; 3] {
    cards::band(&book.design, |material| {
        let item = book.follows.materials.get(material)?;
        match &snapshot.item(*item)?.item.details {
            ItemDetails::Enamel { enamel, swatch, .. } => Some((*enamel, *swatch)),
            _ => None,
        }
    })
}

const fn symbology(symbol: Symbol) -> Symbology {
    match symbol {
        Symbol::Qr => Symbology::Qr,
        Symbol::DataMatrix => Symbology::DataMatrix,
        Symbol::Code128 => Symbology::Code128,
        Symbol::None => Symbology::None,
    }
}

fn labels(copies: impl Iterator<Item = u32>) -> usize {
    copies.filter_map(|copies| usize::try_from(copies).ok()).fold(0, usize::saturating_add)
}
