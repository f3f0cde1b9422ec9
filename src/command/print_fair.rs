//! `print price-list`.

use super::designs::{chosen, costed, preferences_of};
use super::failure::Failure;
use super::print::{band, write_in};
use super::print_statement::size;
use super::session::Session;
use super::statement_arguments::FairPrices;
use super::words::counted;
use crate::costing::accept;
use crate::costing::price_sheet::Tickets;
use crate::exchange::fonts_found;
use crate::paper::fair_list::{self, fair_piece};
use crate::paper::{FairList, Speech, ticket, words};
use crate::studio::ChannelId;

pub(super) fn print(session: &mut Session<'_>, task: &FairPrices) -> Result<(), Failure> {
    let (_, snapshot) = session.read()?;
    let settings = &snapshot.settings;
    let channel = task.channel.clone().map(ChannelId);
    let language = task.language.unwrap_or(settings.paper_language);
    let speech = Speech::new(language, &snapshot.own_words);
    let mut pieces = Vec::new();
    let mut lead = false;
    for book in chosen(&snapshot, &task.design)? {
        // A design that cannot be costed today is listed where she accepted a ticket for it.
        let ready = costed(&snapshot, book)
            .map(|(design, costing)| accept::lines(book.id, &design, &costing, Tickets::Common))
            .unwrap_or_default();
        let accepted = |id: &ChannelId| snapshot.accepted(book.id, id).map(|(_, line)| line.ticket);
        let design = &book.design;
        match ticket::chosen(design, &ready, channel.as_ref(), accepted) {
            None => session.remark(&format!("{} has no ticket; it is not on the list", design.code)),
            Some(found) => {
                let shown = ticket::words(found.amount, &preferences_of(&snapshot, design), speech);
                lead |= words::bears_lead(design);
                pieces.push(fair_piece(design, shown, band(&snapshot, book), settings.length, speech));
            }
        }
    }
    let fair = task.fair.clone().unwrap_or_else(|| settings.fair_name.clone());
    let date = task.date.unwrap_or_else(|| session.today());
    let mut sentences = Vec::new();
    if let Some(tax) = &task.tax_name {
        sentences.push(speech.with("prices-with-tax", &[("tax", tax)]));
    }
    if lead {
        sentences.push(speech.phrase("caution-lead").into_owned());
    }
    let title = speech.phrase("price-list").into_owned();
    let list = FairList {
        language,
        title: title.clone(),
        studio: settings.studio_name.clone(),
        place: settings.studio_place.clone(),
        beside: vec![fair, speech.with("valid-from", &[("date", &speech.date(date))])],
        pieces,
        sentences,
        page_of: speech.phrase("page-of").into_owned(),
        paper: size(task.letter),
    };
    let mut shaper = fonts_found::shaper(&[language])?;
    let document = fair_list::layout(&list, &mut shaper)?;
    let what = counted(list.pieces.len(), "piece", "pieces");
    write_in(session, &snapshot, &document, (language, &title), &task.way, &what)
}
