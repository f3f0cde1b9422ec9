//! The paper that `print order-form`, `invoice`, `consignment` and `certificate` ask for, from arguments and book.

use super::designs::find;
use super::failure::Failure;
use super::statement_arguments::{AskedLine, Statement};
use super::typed;
use crate::book::Snapshot;
use crate::measure::{Decimal, Money, Preferences};
use crate::paper::{Speech, ticket, words};
use crate::studio::{BookDesign, Channel, ChannelId, Language, NumberedKind, NumberedPaper, PaperLine};
use std::path::Path;

/// Most bytes of a text file with an address or with terms.
const MOST_TEXT_BYTES: u64 = 100_000;

/// The paper as it is asked for. A price not told is the ticket in force; tax and commission not told are those of the
/// channel, where one is named.
pub(super) fn paper(
    snapshot: &Snapshot,
    kind: NumberedKind,
    task: &Statement,
    language: Language,
) -> Result<NumberedPaper, Failure> {
    let preferences = Preferences::from(&*snapshot.settings);
    if task.commission.is_some() && kind != NumberedKind::Consignment {
        return Err(Failure::invalid("--commission: it is accepted for `print consignment`"));
    }
    let channel = task.channel.clone().map(ChannelId);
    let terms = channel.as_ref().map(|id| terms_of(snapshot, id, &task.lines)).transpose()?;
    let tax = match &task.tax {
        Some(text) => typed::share("Tax", text, &preferences)?,
        None => terms.as_ref().map_or(Decimal::ZERO, |channel| channel.tax),
    };
    let tax_in_price = match &task.tax {
        Some(_) => task.tax_in_price,
        None => terms.as_ref().is_some_and(|channel| channel.tax_in_price),
    };
    let commission = match &task.commission {
        Some(text) => Some(typed::share("Commission", text, &preferences)?),
        None => terms.filter(|_| kind == NumberedKind::Consignment).map(|channel| channel.commission),
    };
    let freight = task.freight.as_ref().map(|text| typed::money("Freight", text, &preferences)).transpose()?;
    let speech = Speech::new(language, &snapshot.own_words);
    let lines = task
        .lines
        .iter()
        .map(|asked| line(snapshot, kind, asked, channel.as_ref(), &preferences, speech))
        .collect::<Result<Vec<_>, Failure>>()?;
    let from = [snapshot.settings.studio_name.trim(), snapshot.settings.studio_place.trim()];
    Ok(NumberedPaper {
        language,
        from: from.into_iter().filter(|text| !text.is_empty()).collect::<Vec<_>>().join("\n"),
        recipient: text("--to", &task.to)?,
        lines,
        commission,
        tax,
        tax_name: task.tax_name.trim().to_owned(),
        tax_in_price,
        freight: freight.unwrap_or(Money::ZERO),
        days: task.days,
        terms: text("--terms", &task.terms)?,
    })
}

/// The studio's channel of that id, else the one of the designs.
fn terms_of(snapshot: &Snapshot, id: &ChannelId, lines: &[AskedLine]) -> Result<Channel, Failure> {
    let studios = snapshot.rates.channels.iter().find(|channel| channel.id == *id);
    let of_design = |line: &AskedLine| {
        let book = snapshot.designs.iter().find(|book| book.design.code == line.code)?;
        book.design.channels.iter().find(|channel| channel.id == *id)
    };
    studios
        .or_else(|| lines.iter().find_map(of_design))
        .cloned()
        .ok_or_else(|| Failure::no(format!("there is no channel {id}; `prices` shows the channels")))
}

fn line(
    snapshot: &Snapshot,
    kind: NumberedKind,
    asked: &AskedLine,
    channel: Option<&ChannelId>,
    preferences: &Preferences,
    speech: Speech<'_>,
) -> Result<PaperLine, Failure> {
    let book = find(snapshot, &asked.code)?;
    let price = match &asked.price {
        Some(text) => typed::money(&format!("Price of {}", asked.code), text, preferences)?,
        None if kind == NumberedKind::Certificate => Money::ZERO,
        None => in_force(snapshot, book, channel, preferences)?,
    };
    Ok(PaperLine {
        design: Some(book.id),
        piece: None,
        code: book.design.code.as_str().to_owned(),
        words: book.design.name.clone(),
        note: speech.materials_line(&book.design, snapshot.settings.length),
        bears_lead: words::bears_lead(&book.design),
        quantity: asked.quantity,
        price,
    })
}

/// The ticket in force, in the book's currency.
fn in_force(
    snapshot: &Snapshot,
    book: &BookDesign,
    channel: Option<&ChannelId>,
    preferences: &Preferences,
) -> Result<Money, Failure> {
    let code = &book.design.code;
    let accepted = |id: &ChannelId| snapshot.accepted(book.id, id).map(|(_, line)| line.ticket);
    let Some(found) = ticket::chosen(&book.design, &[], channel, accepted) else {
        let place = channel.map(|id| format!(" on {id}")).unwrap_or_default();
        return Err(Failure::no(format!(
            "{code} has no ticket in force{place}; accept one with `prices --accept`, or say its price: {code}:1@48"
        )));
    };
    if book.design.currency != preferences.currency {
        return Err(Failure::no(format!(
            "the ticket of {code} is in {}; say its price in {}: {code}:1@48",
            book.design.currency, preferences.currency
        )));
    }
    Money::new(found.amount).ok_or_else(|| Failure::no(format!("the ticket of {code} is {}, too large", found.amount)))
}

/// A text, or the text of a file; `;` parts the lines of a text.
fn text(field: &str, given: &str) -> Result<String, Failure> {
    let path = Path::new(given);
    if given.is_empty() || given.contains(['\n', ';']) || !path.is_file() {
        let lines: Vec<&str> = given.split([';', '\n']).map(str::trim).collect();
        return Ok(lines.join("\n").trim().to_owned());
    }
    let refuse = |reason: &str| Failure::invalid(format!("{field}: {given}: {reason}"));
    let size = path.metadata().map_err(|error| refuse(&error.to_string()))?.len();
    if size > MOST_TEXT_BYTES {
        return Err(refuse("the file is larger than 100 kB; a short text is accepted"));
    }
    let bytes = std::fs::read(path).map_err(|error| refuse(&error.to_string()))?;
    let text = String::from_utf8(bytes).map_err(|_| refuse("the file is no text in UTF-8"))?;
    Ok(text.trim_start_matches('\u{feff}').replace("\r\n", "\n").trim().to_owned())
}
