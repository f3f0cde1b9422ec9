//! `print own`: papers of her own design and ready-made ones, of designs, finished pieces, jars and items.

use super::arguments::Format;
use super::designs::costed;
use super::failure::Failure;
use super::print::{note, sheet, stops_of, write_on};
use super::print_own_arguments::Own;
use super::session::Session;
use super::table::{Align, Table};
use super::words::{counted, plain};
use crate::actions::{self, design_making, paper_store, paper_subjects};
use crate::book::{Book, Snapshot};
use crate::costing::accept;
use crate::costing::price_sheet::Tickets;
use crate::exchange::fonts_found;
use crate::measure::{Preferences, edit};
use crate::paper::Speech;
use crate::paper::picture::Image;
use crate::paper::pinned::subjects::{DesignMaking, Subject};
use crate::paper::pinned::{Facts, Pictures, Speaks, Spoken, ready};
use crate::paper::placed::{self, Job};
use crate::studio::{ChannelId, DesignId, PaperDesign, PaperKind, PictureId, PrintedTag, What};
use serde_json::json;
use std::collections::BTreeMap;
use std::collections::btree_map::Entry;
use std::sync::Arc;

/// JSON of `--list`: `papers`: list of `name`, `kind`, `width_mm`, `height_mm`, `own`, `retired`.
pub(super) fn own(session: &mut Session<'_>, task: &Own) -> Result<(), Failure> {
    let (book, snapshot) = session.read()?;
    let Some(name) = task.paper.as_deref().filter(|_| !task.list) else {
        return list(session, &snapshot, task.form.format);
    };
    let mut paper = find(&snapshot, name)?;
    if let Some(asked) = &task.language {
        paper.languages.clone_from(&asked.0);
    }
    let channel = task.channel.clone().map(ChannelId);
    let (subjects, stops) = chosen(session, &book, &snapshot, &paper, task, channel.as_ref())?;
    if !stops.is_empty() && !task.all && !task.with_stops {
        let mut stops = stops;
        stops.push("nothing was printed; --with-stops prints such designs all the same".to_owned());
        return Err(Failure::No(stops));
    }
    for stop in &stops {
        session.remark(stop);
    }
    let found = match &task.sheet {
        Some(name) => Some(sheet(&snapshot, Some(name))?),
        None => None,
    };
    let sheet_row = found.as_ref().and_then(|(row, _)| *row);
    let labels = found.as_ref().map_or(1, |(_, sheet)| sheet.columns.saturating_mul(sheet.rows).max(1));
    let begun = sheet_row.and_then(|row| snapshot.begun_sheets.get(&row)).copied().unwrap_or(1);
    let pictures = pictures(&book, &paper)?;
    let papers = with_photos(&book, &paper, &subjects, task.copies)?;
    drop(book);
    let printer = task.way.finish(&snapshot, sheet_row)?;
    let job = Job {
        papers,
        sheet: found.map(|(_, sheet)| sheet),
        start: task.start.unwrap_or(if begun > labels { 1 } else { begun }),
        dots_per_inch: printer.dots_per_inch,
        design: paper,
    };
    let mut shaper = fonts_found::shaper(&job.design.languages)?;
    let preferences = Preferences::from(&*snapshot.settings);
    let spoken: Vec<Spoken<'_>> = job
        .design
        .languages
        .iter()
        .map(|language| Spoken::new(Speech::new(*language, &snapshot.own_words), preferences))
        .collect();
    let speeches: Vec<&dyn Speaks> = spoken.iter().map(|language| language as &dyn Speaks).collect();
    let document = placed::layout(&job, &pictures, &speeches, &mut shaper)?;
    let count = subjects.len().saturating_mul(usize::try_from(task.copies).unwrap_or(usize::MAX));
    let one = job.design.kind.words().to_lowercase();
    let what = counted(count, &one, &format!("{one}s"));
    let language = job.design.languages.first().copied().unwrap_or_default();
    write_on(session, &snapshot, &document, (language, &job.design.name), (&task.way, sheet_row), &what)?;
    if !task.trial {
        let tags =
            if job.design.kind == PaperKind::Tag { printed(session, &subjects, task.copies) } else { Vec::new() };
        note(session, &task.way, &document, tags, sheet_row.map(|row| (row, labels)))?;
    }
    Ok(())
}

/// A paper of hers of that name, in capitals or not; else the ready-made one.
fn find(snapshot: &Snapshot, name: &str) -> Result<PaperDesign, Failure> {
    let same = |other: &str| other.to_lowercase() == name.trim().to_lowercase();
    let hers = snapshot.paper_designs.iter().find(|book| same(&book.design.name)).map(|book| book.design.clone());
    let ready = || ready::all().into_iter().map(|ready| ready.design).find(|design| same(&design.name));
    hers.or_else(ready)
        .ok_or_else(|| Failure::no(format!("there is no paper {name}; `print own --list` shows their names")))
}

fn list(session: &mut Session<'_>, snapshot: &Snapshot, format: Format) -> Result<(), Failure> {
    let hers = snapshot.paper_designs.iter().map(|book| (book.design.clone(), true, book.retired));
    let ready = ready::all().into_iter().map(|ready| (ready.design, false, false));
    let papers: Vec<(PaperDesign, bool, bool)> = hers.chain(ready).collect();
    if format == Format::Json {
        let rows: Vec<_> = papers
            .iter()
            .map(|(paper, own, retired)| {
                json!({
                    "name": paper.name,
                    "kind": paper.kind.name(),
                    "width_mm": paper.width_mm.to_string(),
                    "height_mm": paper.height_mm.to_string(),
                    "own": own,
                    "retired": retired,
                })
            })
            .collect();
        return session.json(&json!({ "papers": rows }));
    }
    let preferences = Preferences::from(&*snapshot.settings);
    let mut table =
        Table::new(&[("Paper", Align::Left), ("Kind", Align::Left), ("Size, mm", Align::Right), ("", Align::Left)]);
    for (paper, own, retired) in &papers {
        let number = |mm| edit::edit_number(mm, &preferences);
        let size = format!("{} × {}", number(paper.width_mm), number(paper.height_mm));
        let whose = match (own, retired) {
            (true, true) => "yours, set aside",
            (true, false) => "yours",
            (false, _) => "ready-made",
        };
        table.row([paper.name.clone(), paper.kind.name().to_owned(), plain(&size), whose.to_owned()]);
    }
    session.write(table)
}

/// What the paper is made of, as it was asked for, and the stops among it.
fn chosen(
    session: &mut Session<'_>,
    book: &Book,
    snapshot: &Snapshot,
    paper: &PaperDesign,
    task: &Own,
    channel: Option<&ChannelId>,
) -> Result<(Vec<Subject>, Vec<String>), Failure> {
    let of_stock = matches!(paper.kind, PaperKind::Jar | PaperKind::Drawer);
    let kind = paper.kind.words().to_lowercase();
    let of_pieces_asked = !task.design.is_empty() || !task.piece.is_empty();
    let of_stock_asked = !task.item.is_empty() || !task.jar.is_empty();
    if of_stock && of_pieces_asked {
        return Err(Failure::invalid(format!("a {kind} is of an item: --item, --jar or --all is accepted")));
    }
    if !of_stock && of_stock_asked {
        return Err(Failure::invalid(format!(
            "a {kind} is of a design or piece: --design, --piece or --all is accepted"
        )));
    }
    let designs = if of_stock { Vec::new() } else { makings(session, snapshot, channel)? };
    let all = paper_subjects(snapshot, &paper_store(book)?, &designs, paper.kind, session.today());
    let mut wanted = Vec::new();
    let mut take = |what: &str, asked: &str, fits: &dyn Fn(&Subject) -> bool| {
        let found: Vec<Subject> = all.iter().filter(|subject| fits(subject)).cloned().collect();
        if found.is_empty() {
            return Err(Failure::no(format!("there is no {what} {asked} a {kind} can be made of")));
        }
        wanted.extend(found);
        Ok(())
    };
    let same = |one: &str, other: &str| one.eq_ignore_ascii_case(other.trim());
    for code in &task.design {
        take("design", code.as_str(), &|subject| subject.piece.is_none() && subject.facts.code == code.as_str())?;
    }
    for number in &task.piece {
        take("piece", number, &|subject| subject.facts.piece_number.as_deref().is_some_and(|own| same(own, number)))?;
    }
    for reference in &task.item {
        take("item", reference, &|subject| same(&subject.facts.code, reference))?;
    }
    for label in &task.jar {
        let stands = |subject: &Subject| subject.facts.item.as_ref().is_some_and(|item| same(&item.shelf, label));
        take("jar", label, &|subject| subject.jar.is_some() && stands(subject))?;
    }
    if task.all {
        // Of designs one each: their pieces are asked for by number.
        wanted.extend(all.iter().filter(|subject| subject.piece.is_none()).cloned());
    }
    if wanted.is_empty() {
        return Err(Failure::no(format!("there is nothing in the book a {kind} can be made of")));
    }
    let mut stops: Vec<String> = Vec::new();
    for stop in wanted.iter().flat_map(|subject| &subject.stops) {
        if !stops.contains(stop) {
            stops.push(stop.clone());
        }
    }
    Ok((wanted, stops))
}

/// The designs in use with their tickets.
fn makings(
    session: &mut Session<'_>,
    snapshot: &Snapshot,
    channel: Option<&ChannelId>,
) -> Result<Vec<DesignMaking>, Failure> {
    let designs = snapshot.designs.iter().filter(|book| !book.retired);
    if let Some(channel) = channel
        && !designs.clone().any(|book| book.design.channels.iter().any(|own| own.id == *channel))
    {
        return Err(Failure::no(format!("there is no channel {channel} in these designs")));
    }
    let mut makings = Vec::new();
    for book in designs {
        let (ready, stops) = match costed(snapshot, book) {
            Ok((design, costing)) => {
                (accept::lines(book.id, &design, &costing, Tickets::Common), stops_of(&design, &costing))
            }
            Err(failure) => {
                for line in failure.lines() {
                    session.remark(&format!("{line}; its papers have no ticket but an accepted one"));
                }
                (Vec::new(), Vec::new())
            }
        };
        makings.push(design_making(snapshot, book, &ready, channel, stops));
    }
    Ok(makings)
}

/// The stored pictures that are pinned to a paper.
fn pictures(book: &Book, paper: &PaperDesign) -> Result<Pictures, Failure> {
    let pinned = paper.pinned.iter().filter_map(|thing| match thing.what {
        What::Picture(id) => Some(id),
        _ => None,
    });
    let mut found: BTreeMap<PictureId, Arc<Image>> = Pictures::new();
    for id in pinned {
        if let Some(png) = actions::picture(book, id)?
            && let Ok(image) = Image::read(&png)
        {
            let _ = found.insert(id, Arc::new(image));
        }
    }
    Ok(found)
}

/// What is printed with its copies; with photos where the paper has a place for them.
fn with_photos(
    book: &Book,
    paper: &PaperDesign,
    subjects: &[Subject],
    copies: u32,
) -> Result<Vec<(Facts, u32)>, Failure> {
    let shows = paper.pinned.iter().any(|thing| thing.what == What::Photo);
    let mut photos: BTreeMap<DesignId, Option<Arc<Image>>> = BTreeMap::new();
    let mut papers = Vec::with_capacity(subjects.len());
    for subject in subjects {
        let mut facts = subject.facts.clone();
        if let Some(design) = subject.design.filter(|_| shows) {
            if let Entry::Vacant(place) = photos.entry(design) {
                let png = actions::photo(book, design)?;
                let _ = place.insert(png.and_then(|png| Image::read(&png).ok()).map(Arc::new));
            }
            facts.photo = photos.get(&design).cloned().flatten();
        }
        papers.push((facts, copies));
    }
    Ok(papers)
}

/// What is kept of printed tags, each with its place in the job.
fn printed(session: &Session<'_>, subjects: &[Subject], copies: u32) -> Vec<(usize, PrintedTag)> {
    subjects
        .iter()
        .enumerate()
        .filter_map(|(entry, subject)| {
            let tag = PrintedTag {
                design: subject.design?,
                channel: subject.channel.clone()?,
                piece: subject.piece,
                ticket: subject.facts.ticket?,
                date: session.today(),
                copies,
            };
            Some((entry, tag))
        })
        .collect()
}
