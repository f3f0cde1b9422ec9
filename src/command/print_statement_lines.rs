//! The paper that `print order-form`, `invoice`, `consignment` and `certificate` ask for, from arguments and book.

use super::designs::find;
use super::failure::Failure;
use super::statement_arguments::{AskedLine, AskedPiece, Statement};
use super::typed;
use crate::actions;
use crate::book::{Book, Snapshot};
use crate::measure::{Money, Preferences};
use crate::paper::Speech;
use crate::paper::statement_lines::{self, NoPrice, PieceFacts};
use crate::studio::{BookDesign, Channel, ChannelId, NumberedKind, NumberedPaper, PaperLine};
use std::path::Path;

/// Most bytes of a text file with an address or with terms.
const MOST_TEXT_BYTES: u64 = 100_000;

/// The paper as it is asked for. A price not told is the ticket in force; tax and commission not told are those of the
/// channel, where one is named.
pub(super) fn paper(
    book: &Book,
    snapshot: &Snapshot,
    kind: NumberedKind,
    task: &Statement,
) -> Result<NumberedPaper, Failure> {
    let preferences = Preferences::from(&*snapshot.settings);
    let language = task.language.unwrap_or(snapshot.settings.paper_language);
    if task.commission.is_some() && kind != NumberedKind::Consignment {
        return Err(Failure::invalid("--commission: it is accepted for `print consignment`"));
    }
    let channel = task.channel.clone().map(ChannelId);
    let of_channel = channel.as_ref().map(|id| channel_of(snapshot, id)).transpose()?;
    let terms = statement_lines::sales_terms(kind, of_channel);
    let (tax, tax_in_price) = match &task.tax {
        Some(text) => (typed::share("Tax", text, &preferences)?, task.tax_in_price),
        None => (terms.tax, terms.tax_in_price),
    };
    let commission = match &task.commission {
        Some(text) => Some(typed::share("Commission", text, &preferences)?),
        None => terms.commission,
    };
    let freight = task.freight.as_ref().map(|text| typed::money("Freight", text, &preferences)).transpose()?;
    let speech = Speech::new(language, &snapshot.own_words);
    let maker = Maker { snapshot, kind, channel: channel.as_ref(), preferences, speech };
    let designs = task.lines.iter().map(|asked| maker.of_design(asked));
    let pieces = task.pieces.iter().map(|asked| maker.of_piece(book, asked));
    Ok(NumberedPaper {
        language,
        from: statement_lines::from(&snapshot.settings),
        recipient: text("--to", &task.to)?,
        lines: designs.chain(pieces).collect::<Result<_, Failure>>()?,
        commission,
        tax,
        tax_name: task.tax_name.trim().to_owned(),
        tax_in_price,
        freight: freight.unwrap_or(Money::ZERO),
        days: task.days,
        terms: text("--terms", &task.terms)?,
    })
}

/// The channel of that id.
fn channel_of<'a>(snapshot: &'a Snapshot, id: &ChannelId) -> Result<&'a Channel, Failure> {
    let all = statement_lines::channels(&snapshot.rates, snapshot.designs.iter().map(|book| &book.design));
    let found = all.into_iter().find(|channel| channel.id == *id);
    found.ok_or_else(|| Failure::no(format!("there is no channel {id}; `prices` shows the channels")))
}

/// What the lines of a paper are made with.
struct Maker<'a> {
    snapshot: &'a Snapshot,
    kind: NumberedKind,
    channel: Option<&'a ChannelId>,
    preferences: Preferences,
    speech: Speech<'a>,
}

impl Maker<'_> {
    fn of_design(&self, asked: &AskedLine) -> Result<PaperLine, Failure> {
        let book = find(self.snapshot, &asked.code)?;
        let price = self.price(&asked.code.to_string(), asked.price.as_deref(), Some(book))?;
        Ok(statement_lines::line_of_design(book, asked.quantity, price, self.snapshot.settings.length, self.speech))
    }

    fn of_piece(&self, book: &Book, asked: &AskedPiece) -> Result<PaperLine, Failure> {
        let number = asked.number.as_str();
        let missing = || Failure::no(format!("there is no finished piece {number}; `piece list` shows them"));
        let id = actions::piece_with_number(book, number)?.ok_or_else(missing)?;
        let story = actions::piece_story(book, id)?.ok_or_else(missing)?;
        let design = self.snapshot.design(story.batch.design);
        let price = self.price(number, asked.price.as_deref(), design)?;
        let facts = PieceFacts {
            piece: &story.piece,
            name: &story.batch.name,
            batch: story.batch.number,
            firings: Some(story.fired()),
            design,
        };
        Ok(statement_lines::line_of_piece(&facts, self.kind, price, self.snapshot.settings.length, self.speech))
    }

    /// The price that was asked for, else the ticket in force.
    fn price(&self, of: &str, asked: Option<&str>, design: Option<&BookDesign>) -> Result<Money, Failure> {
        if let Some(text) = asked {
            return typed::money(&format!("Price of {of}"), text, &self.preferences);
        }
        if self.kind == NumberedKind::Certificate {
            return Ok(Money::ZERO);
        }
        let Some(book) = design else {
            return Err(Failure::no(format!("the design of {of} is not in the book; say its price: {of}@48")));
        };
        let accepted = |id: &ChannelId| self.snapshot.accepted(book.id, id).map(|(_, line)| line.ticket);
        let way_out =
            match statement_lines::price_in_force(&book.design, self.channel, self.preferences.currency, accepted) {
                Ok(price) => return Ok(price),
                Err(problem @ NoPrice::NoTicket { .. }) => {
                    format!("{problem}; accept one with `prices --accept`, or say its price: {of}@48")
                }
                Err(problem) => format!("{problem}: {of}@48"),
            };
        Err(Failure::no(way_out))
    }
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
