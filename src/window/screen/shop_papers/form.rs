//! The form of a paper that is being written: what is typed and chosen in it. `read` makes a paper of it.

use super::offers::{self, Offer};
use crate::measure::{Decimal, Preferences, edit};
use crate::paper::statement_lines::SalesTerms;
use crate::studio::{ChannelId, DesignId, FinishedPiece, Language, NumberedKind, PieceId};
use crate::window::widget::Entry;
use chrono::NaiveDate;
use iced::widget::text_editor;
use std::collections::BTreeMap;

/// The name of the field another line is picked in.
pub(super) const FIND: &str = "shop-add";

/// A field of a line.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Part {
    /// What it is.
    Words,
    /// How many.
    Quantity,
    /// The price of one.
    Price,
}

/// A field of the form.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Field {
    /// Whom it is for.
    Recipient,
    /// The day.
    Date,
    /// Where another line is picked.
    Add,
    /// Of the line with that key.
    Line(u32, Part),
    /// Tax, a share.
    Tax,
    /// What the tax is called.
    TaxName,
    /// Freight and packing.
    Freight,
    /// A gallery's commission.
    Commission,
    /// Days until it is paid, delivered, or comes back.
    Days,
    /// Terms and anything else.
    Terms,
}

impl Field {
    /// The name the focus is sent to.
    pub(super) fn id(self) -> String {
        match self {
            Self::Add => FIND.to_owned(),
            Self::Line(key, part) => format!("shop-{part:?}-{key}").to_lowercase(),
            own => format!("shop-{own:?}").to_lowercase(),
        }
    }
}

/// What happens in the form.
#[derive(Debug, Clone)]
pub enum Change {
    /// Another kind of paper.
    Kind(NumberedKind),
    /// Another language, by its name.
    Language(String),
    /// Another channel's tickets and terms; none takes the retail ticket.
    Channel(Option<ChannelId>),
    /// A field was typed in.
    Typed(Field, String),
    /// In the field of the recipient.
    Recipient(text_editor::Action),
    /// In the field of the terms.
    Terms(text_editor::Action),
    /// An earlier recipient is taken.
    Take(String),
    /// The tax is in the prices, or not: turned round.
    TaxInPrice,
    /// What another line shall be of was typed.
    Find(String),
    /// A line in her own words.
    Own,
    /// A line is taken away.
    Remove(u32),
}

/// What a line is of.
#[derive(Debug, Clone)]
pub(super) enum Of {
    Design(DesignId),
    /// A finished piece, and how often it was fired once the book told.
    Piece(Box<FinishedPiece>, Option<usize>),
    Own,
}

/// A line of the form; what is typed of it lies with the other fields.
#[derive(Debug, Clone)]
pub(super) struct Line {
    /// Names its fields; from 1, never used again.
    pub(super) key: u32,
    pub(super) of: Of,
}

/// A text of several lines.
#[derive(Debug)]
pub(super) struct Text {
    pub(super) content: text_editor::Content,
    settled: String,
}

impl Text {
    fn new(text: &str) -> Self {
        Self { content: text_editor::Content::with_text(text), settled: text.to_owned() }
    }

    pub(super) fn text(&self) -> String {
        self.content.text().trim().to_owned()
    }

    fn revert(&mut self) -> bool {
        let changed = self.text() != self.settled.trim();
        if changed {
            self.content = text_editor::Content::with_text(&self.settled);
        }
        changed
    }
}

/// The form as it stands.
#[derive(Debug)]
pub(super) struct Form {
    pub(super) kind: NumberedKind,
    pub(super) language: Language,
    pub(super) channel: Option<ChannelId>,
    pub(super) recipient: Text,
    pub(super) terms: Text,
    entries: BTreeMap<Field, Entry>,
    pub(super) lines: Vec<Line>,
    /// What is like the text another line is picked by.
    pub(super) found: Vec<Offer>,
    next_key: u32,
    pub(super) tax_in_price: bool,
    /// It was submitted once: what is missing is told from now on.
    pub(super) tried: bool,
    /// Why it was refused, and at which field where that is known.
    pub(super) refusal: Option<(Option<Field>, String)>,
}

impl Form {
    /// A paper of that day.
    pub(super) fn new(today: NaiveDate, language: Language) -> Self {
        Self {
            kind: NumberedKind::Invoice,
            language,
            channel: None,
            recipient: Text::new(""),
            terms: Text::new(""),
            entries: std::iter::once((Field::Date, Entry::new(today.to_string()))).collect(),
            lines: Vec::new(),
            found: Vec::new(),
            next_key: 1,
            tax_in_price: false,
            tried: false,
            refusal: None,
        }
    }

    /// Something was typed or chosen in it.
    pub(super) fn is_begun(&self) -> bool {
        !self.lines.is_empty() || !self.recipient.text().is_empty() || !self.terms.text().is_empty()
    }

    fn add(&mut self, of: Of, words: &str) -> u32 {
        let key = self.next_key;
        self.next_key = self.next_key.saturating_add(1);
        self.refusal = None;
        self.set(Field::Add, "");
        self.found.clear();
        self.set(Field::Line(key, Part::Words), words);
        self.set(Field::Line(key, Part::Quantity), "1");
        self.lines.push(Line { key, of });
        key
    }

    /// A line of a design; its key.
    pub(super) fn add_design(&mut self, id: DesignId, name: &str) -> u32 {
        self.add(Of::Design(id), name)
    }

    /// A line of a piece; its key, or none where it has a line already.
    pub(super) fn add_piece(&mut self, of: &FinishedPiece) -> Option<u32> {
        let there =
            self.lines.iter().any(|line| matches!(&line.of, Of::Piece(held, _) if held.piece.id == of.piece.id));
        (!there).then(|| self.add(Of::Piece(Box::new(of.clone()), None), &of.name))
    }

    /// A line in her own words; its key.
    pub(super) fn add_own(&mut self) -> u32 {
        let words = self.trimmed(Field::Add).to_owned();
        self.add(Of::Own, &words)
    }

    /// The book told how often a piece was fired.
    pub(super) fn fired(&mut self, piece: PieceId, times: usize) {
        for line in &mut self.lines {
            if let Of::Piece(held, fired) = &mut line.of
                && held.piece.id == piece
            {
                *fired = Some(times);
            }
        }
    }

    /// What another line shall be of was typed.
    pub(super) fn find(&mut self, text: String, all: &[Offer]) {
        self.found = offers::found(all, &text, self.kind);
        self.entries.entry(Field::Add).or_default().type_in(text);
    }

    /// What the channel says of tax and commission is filled in.
    pub(super) fn take_terms(&mut self, terms: &SalesTerms, preferences: &Preferences) {
        let share = |share: Decimal| if share.is_zero() { String::new() } else { edit::edit_share(share, preferences) };
        self.set(Field::Tax, share(terms.tax));
        self.tax_in_price = terms.tax_in_price;
        self.set(Field::Commission, share(terms.commission.unwrap_or_default()));
    }

    /// Takes note of a change that needs nothing but the form.
    pub(super) fn change(&mut self, change: Change) {
        self.refusal = None;
        match change {
            Change::Kind(kind) => self.kind = kind,
            Change::Language(name) => {
                let named = Language::ALL.into_iter().find(|language| language.name() == name);
                self.language = named.unwrap_or(self.language);
            }
            Change::Typed(field, text) => self.entries.entry(field).or_default().type_in(text),
            Change::Recipient(action) => self.recipient.content.perform(action),
            Change::Terms(action) => self.terms.content.perform(action),
            Change::Take(recipient) => self.recipient.content = text_editor::Content::with_text(&recipient),
            Change::TaxInPrice => self.tax_in_price = !self.tax_in_price,
            Change::Remove(key) => self.lines.retain(|line| line.key != key),
            Change::Channel(_) | Change::Find(_) | Change::Own => {}
        }
    }

    fn set(&mut self, field: Field, text: impl Into<String>) {
        self.entries.entry(field).or_default().set(text);
    }

    /// What a field holds, as typed.
    pub(super) fn text(&self, field: Field) -> &str {
        self.entries.get(&field).map_or("", Entry::text)
    }

    /// The same without blanks at its ends.
    pub(super) fn trimmed(&self, field: Field) -> &str {
        self.text(field).trim()
    }

    /// Gives every field its former text back; true when that changed something.
    pub(super) fn revert(&mut self) -> bool {
        let reverted = self.entries.values_mut().fold(false, |reverted, entry| entry.revert() | reverted);
        self.recipient.revert() | self.terms.revert() | reverted
    }

    /// Every field there is, in reading order.
    pub(super) fn fields(&self) -> impl Iterator<Item = Field> + '_ {
        let parts = [Part::Words, Part::Quantity, Part::Price];
        let lines = self.lines.iter().flat_map(move |line| parts.map(|part| Field::Line(line.key, part)));
        [Field::Recipient, Field::Date].into_iter().chain(lines).chain([
            Field::Add,
            Field::Tax,
            Field::TaxName,
            Field::Freight,
            Field::Commission,
            Field::Days,
            Field::Terms,
        ])
    }

    /// The line with that key.
    pub(super) fn line(&self, key: u32) -> Option<&Line> {
        self.lines.iter().find(|line| line.key == key)
    }
}
