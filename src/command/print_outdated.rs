//! Tags that are out of date, and keeping what was printed.

use super::arguments::Format;
use super::failure::Failure;
use super::session::Session;
use super::table::{Align, Table};
use super::words::money;
use crate::actions::Action;
use crate::book::Snapshot;
use crate::measure::Preferences;
use crate::paper::printed::{Outdated, Why, outdated};
use crate::studio::{BookDesign, ChannelId, PrintedTag, SheetId};
use serde_json::json;

/// The tags of these designs that are out of date; with a channel, only those of that channel.
pub(super) fn of(snapshot: &Snapshot, designs: &[&BookDesign], channel: Option<&ChannelId>) -> Vec<Outdated> {
    let designs: Vec<BookDesign> = designs.iter().map(|design| (*design).clone()).collect();
    let found = outdated(
        &designs,
        |design, channel| snapshot.accepted(design, channel).map(|(_, line)| line),
        &snapshot.printed_tags,
    );
    found.into_iter().filter(|tag| channel.is_none_or(|wanted| *wanted == tag.channel)).collect()
}

/// JSON: `outdated`: list of `design`, `name`, `channel`, `ticket` in force, `printed`: the ticket of the tag printed last,
/// `null` where there was none.
pub(super) fn list(
    session: &mut Session<'_>,
    snapshot: &Snapshot,
    outdated: &[Outdated],
    format: Format,
) -> Result<(), Failure> {
    let found = outdated.iter().filter_map(|tag| snapshot.design(tag.design).map(|book| (tag, book)));
    if format == Format::Json {
        let rows: Vec<_> = found
            .map(|(tag, book)| {
                let printed = if let Why::Shows(ticket) = tag.why { Some(ticket.to_string()) } else { None };
                json!({
                    "design": book.design.code.as_str(),
                    "name": book.design.name,
                    "channel": tag.channel.0,
                    "ticket": tag.ticket.to_string(),
                    "printed": printed,
                })
            })
            .collect();
        return session.json(&json!({ "outdated": rows }));
    }
    if outdated.is_empty() {
        return session.say("No tag is out of date");
    }
    let mut table = Table::new(&[
        ("Design", Align::Left),
        ("Name", Align::Left),
        ("Channel", Align::Left),
        ("Ticket", Align::Right),
        ("Printed", Align::Right),
    ]);
    for (tag, book) in found {
        let preferences = Preferences { currency: book.design.currency, ..Preferences::from(&*snapshot.settings) };
        table.row([
            book.design.code.as_str().to_owned(),
            book.design.name.clone(),
            tag.channel.0.clone(),
            money(tag.ticket, &preferences),
            match tag.why {
                Why::Never => "never".to_owned(),
                Why::Shows(ticket) => money(ticket, &preferences),
            },
        ]);
    }
    session.write(table)
}

/// Keeps in the book what was printed. The tags are on paper whether that can be kept or not: a book in use or one that
/// may only be read is told, and is no failure.
pub(super) fn note(session: &mut Session<'_>, tags: Vec<PrintedTag>, sheet: Option<(SheetId, u32)>) {
    if tags.is_empty() && sheet.is_none() {
        return;
    }
    let kept =
        session.open_to_write().and_then(|mut book| session.perform(&mut book, Action::NotePrinted { tags, sheet }));
    if let Err(failure) = kept {
        for line in failure.lines() {
            session.remark(&format!("the book does not know that these tags were printed: {line}"));
        }
    }
}
