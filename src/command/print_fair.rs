//! `print price-list`.

use super::designs::{chosen, costed};
use super::failure::Failure;
use super::print::{band, write_in};
use super::print_statement::size;
use super::session::Session;
use super::statement_arguments::FairPrices;
use super::words::counted;
use crate::actions;
use crate::book::{Book, Snapshot};
use crate::costing::accept;
use crate::costing::price_sheet::Tickets;
use crate::exchange::fonts_found;
use crate::paper::fair_list;
use crate::paper::fair_model::{self, FairAsked, Shown};
use crate::paper::picture::Image;
use crate::paper::{Speech, ticket};
use crate::studio::{BookDesign, ChannelId};
use std::sync::Arc;

pub(super) fn print(session: &mut Session<'_>, task: &FairPrices) -> Result<(), Failure> {
    let (book, snapshot) = session.read()?;
    let settings = &snapshot.settings;
    let channel = task.channel.clone().map(ChannelId);
    let language = task.language.unwrap_or(settings.paper_language);
    let speech = Speech::new(language, &snapshot.own_words);
    let mut shown = Vec::new();
    for of in chosen(&snapshot, &task.design)? {
        let ticket = ticket_of(&snapshot, of, channel.as_ref());
        let photo = if ticket.is_some() && !task.without_photos {
            photo(session, &book, of, fair_list::PHOTO_MM)?
        } else {
            None
        };
        shown.push(Shown { design: &of.design, ticket, colour: band(&snapshot, of), photo });
    }
    let asked = FairAsked {
        settings,
        fair: task.fair.as_deref().unwrap_or(&settings.fair_name),
        date: task.date.unwrap_or_else(|| session.today()),
        tax_name: task.tax_name.as_deref().unwrap_or_default(),
        speech,
        size: size(task.letter),
    };
    let (list, without) = fair_model::fair_list(&asked, shown);
    for code in without {
        session.remark(&format!("{code} has no ticket; it is not on the list"));
    }
    let mut shaper = fonts_found::shaper(&[language])?;
    let document = fair_list::layout(&list, &mut shaper)?;
    let what = counted(list.pieces.len(), "piece", "pieces");
    write_in(session, &snapshot, &document, (language, &list.title), &task.way, &what)
}

/// Its ticket; a design that cannot be costed today is listed where she accepted a ticket for it.
fn ticket_of(snapshot: &Snapshot, of: &BookDesign, channel: Option<&ChannelId>) -> Option<ticket::Ticket> {
    let ready = costed(snapshot, of)
        .map(|(design, costing)| accept::lines(of.id, &design, &costing, Tickets::Common))
        .unwrap_or_default();
    let accepted = |id: &ChannelId| snapshot.accepted(of.id, id).map(|(_, line)| line.ticket);
    ticket::chosen(&of.design, &ready, channel, accepted)
}

/// A design's photo for a place of so many mm; one that cannot be read is told and left out.
pub(super) fn photo(
    session: &mut Session<'_>,
    book: &Book,
    of: &BookDesign,
    place_mm: [f64; 2],
) -> Result<Option<Arc<Image>>, Failure> {
    if !of.has_photo {
        return Ok(None);
    }
    let Some(png) = actions::photo(book, of.id)? else { return Ok(None) };
    match Image::photo(&png, place_mm) {
        Ok(image) => Ok(Some(Arc::new(image))),
        Err(problem) => {
            session.remark(&format!("{}: {problem}", of.design.code));
            Ok(None)
        }
    }
}
