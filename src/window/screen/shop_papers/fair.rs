//! The price list of a fair: which designs, at which tickets, in which words.

use super::photos::Photos;
use super::read::{Reading, day};
use crate::book::{Snapshot, StockRow};
use crate::costing::price_sheet::Tickets;
use crate::costing::{self, accept};
use crate::measure::{Preferences, display};
use crate::paper::fair_list::FairList;
use crate::paper::fair_model::{self, FairAsked, Shown};
use crate::paper::ticket::{self, Ticket};
use crate::paper::{PaperSize, Speech, cards};
use crate::studio::{
    BookDesign, ChannelId, DesignId, ItemDetails, Language, PriceLine, PriceList, Settings, StudioRates,
};
use crate::window::Shared;
use crate::window::widget::{Entry, Listing};
use chrono::NaiveDate;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// A field of the form.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Field {
    /// The fair's name.
    Fair,
    /// The day the prices hold from.
    Date,
    /// What the tax in the prices is called.
    Tax,
    /// What designs are searched by.
    Find,
}

/// What happens in the form.
#[derive(Debug, Clone)]
pub enum Change {
    /// A field was typed in.
    Typed(Field, String),
    /// Another channel's tickets; none takes those of the retail channels.
    Channel(Option<ChannelId>),
    /// Another language, by its name.
    Language(String),
    /// Photos are shown, or outlines instead: turned round.
    Photos,
    /// All designs in sight are on it.
    All,
    /// None of those in sight.
    Nothing,
}

/// A row of the list of designs.
#[derive(Debug, Clone)]
pub(super) struct Row {
    pub(super) id: DesignId,
    pub(super) tick: &'static str,
    pub(super) name: String,
    pub(super) code: String,
    pub(super) ticket: String,
    /// `photo`, or nothing.
    pub(super) photo: &'static str,
}

/// The parts of the book tickets follow from.
#[derive(Debug)]
struct Seen {
    designs: Arc<Vec<BookDesign>>,
    stock: Arc<Vec<StockRow>>,
    rates: Arc<StudioRates>,
    settings: Arc<Settings>,
    lists: Arc<Vec<PriceList>>,
}

impl Seen {
    fn of(snapshot: &Snapshot) -> Self {
        Self {
            designs: Arc::clone(&snapshot.designs),
            stock: Arc::clone(&snapshot.stock),
            rates: Arc::clone(&snapshot.rates),
            settings: Arc::clone(&snapshot.settings),
            lists: Arc::clone(&snapshot.price_lists),
        }
    }

    fn is(&self, snapshot: &Snapshot) -> bool {
        Arc::ptr_eq(&self.designs, &snapshot.designs)
            && Arc::ptr_eq(&self.stock, &snapshot.stock)
            && Arc::ptr_eq(&self.rates, &snapshot.rates)
            && Arc::ptr_eq(&self.settings, &snapshot.settings)
            && Arc::ptr_eq(&self.lists, &snapshot.price_lists)
    }
}

/// The price list as it is being put together.
#[derive(Debug)]
pub(super) struct Fair {
    pub(super) fair: Entry,
    pub(super) date: Entry,
    pub(super) tax: Entry,
    pub(super) wanted: Entry,
    pub(super) channel: Option<ChannelId>,
    pub(super) language: Language,
    pub(super) with_photos: bool,
    pub(super) list: Listing,
    pub(super) rows: Vec<Row>,
    /// Those that are left off.
    left_off: BTreeSet<DesignId>,
    /// Today's tickets of designs without an accepted one, worked out when they are first needed.
    ready: BTreeMap<DesignId, Vec<PriceLine>>,
    seen: Option<Seen>,
    /// Codes of those on it that have no ticket.
    pub(super) without: Vec<String>,
    /// `10 pieces`.
    pub(super) count: usize,
}

impl Fair {
    pub(super) fn new(shared: &Shared) -> Self {
        let settings = shared.settings();
        let mut fair = Self {
            fair: Entry::new(settings.fair_name.clone()),
            date: Entry::new(settings.fair_date.unwrap_or(shared.today).to_string()),
            tax: Entry::default(),
            wanted: Entry::default(),
            channel: None,
            language: settings.paper_language,
            with_photos: true,
            list: Listing::new("fair-designs"),
            rows: Vec::new(),
            left_off: BTreeSet::new(),
            ready: BTreeMap::new(),
            seen: None,
            without: Vec::new(),
            count: 0,
        };
        fair.word(shared);
        fair
    }

    /// The designs it can list, by code.
    fn designs(snapshot: &Snapshot) -> impl Iterator<Item = &BookDesign> {
        snapshot.designs.iter().filter(|book| !book.retired)
    }

    fn ticket(&mut self, book: &BookDesign, snapshot: &Snapshot) -> Option<Ticket> {
        let accepted = |id: &ChannelId| snapshot.accepted(book.id, id).map(|(_, line)| line.ticket);
        let channel = self.channel.as_ref();
        if let Some(found) = ticket::chosen(&book.design, &[], channel, accepted) {
            return Some(found);
        }
        let ready = self.ready.entry(book.id).or_insert_with(|| {
            let design = snapshot.resolved(book).ok();
            let costed = design.and_then(|design| costing::costing(&design).ok().map(|costing| (design, costing)));
            costed
                .map(|(design, costing)| accept::lines(book.id, &design, &costing, Tickets::Common))
                .unwrap_or_default()
        });
        ticket::chosen(&book.design, ready, channel, accepted)
    }

    /// Words the rows anew; what the book no longer says is let go.
    pub(super) fn word(&mut self, shared: &Shared) {
        let snapshot = &shared.snapshot;
        if !self.seen.as_ref().is_some_and(|seen| seen.is(snapshot)) {
            self.ready.clear();
            self.seen = Some(Seen::of(snapshot));
        }
        let folded = self.wanted.text().to_lowercase();
        let typed: Vec<&str> = folded.split_whitespace().collect();
        let mut rows = Vec::new();
        for book in Self::designs(snapshot) {
            let design = &book.design;
            let all = format!("{} {}", design.name, design.code).to_lowercase();
            if !typed.iter().all(|word| all.contains(word)) {
                continue;
            }
            let preferences = Preferences { currency: design.currency, ..shared.preferences };
            let ticket = self.ticket(book, snapshot);
            rows.push(Row {
                id: book.id,
                tick: if self.left_off.contains(&book.id) { "" } else { "×" },
                name: design.name.clone(),
                code: design.code.as_str().to_owned(),
                ticket: ticket.map_or_else(|| "–".to_owned(), |ticket| display::money(ticket.amount, &preferences)),
                photo: if book.has_photo { "photo" } else { "" },
            });
        }
        self.rows = rows;
        let place = self.list.selected().filter(|place| *place < self.rows.len());
        self.list.select(place.or((!self.rows.is_empty()).then_some(0)));
    }

    /// A design is on it, or is left off: turned round.
    pub(super) fn toggle(&mut self, place: usize) {
        let Some(row) = self.rows.get_mut(place) else { return };
        let on = self.left_off.remove(&row.id) || !self.left_off.insert(row.id);
        row.tick = if on { "×" } else { "" };
    }

    /// Takes note of a change.
    pub(super) fn change(&mut self, change: Change, shared: &Shared) {
        match change {
            Change::Typed(Field::Fair, text) => self.fair.type_in(text),
            Change::Typed(Field::Date, text) => self.date.type_in(text),
            Change::Typed(Field::Tax, text) => self.tax.type_in(text),
            Change::Typed(Field::Find, text) => {
                self.wanted.type_in(text);
                self.word(shared);
            }
            Change::Channel(channel) => {
                self.channel = channel;
                self.word(shared);
            }
            Change::Language(name) => {
                let named = Language::ALL.into_iter().find(|language| language.name() == name);
                self.language = named.unwrap_or(self.language);
            }
            Change::Photos => self.with_photos = !self.with_photos,
            Change::All => {
                for row in &self.rows {
                    let _ = self.left_off.remove(&row.id);
                }
                self.word(shared);
            }
            Change::Nothing => {
                self.left_off.extend(self.rows.iter().map(|row| row.id));
                self.word(shared);
            }
        }
    }

    /// The day as typed.
    pub(super) fn day(&self) -> Reading<NaiveDate> {
        day(self.date.text())
    }

    /// The designs whose photos it shows.
    pub(super) fn pictured(&self, snapshot: &Snapshot) -> Vec<DesignId> {
        if !self.with_photos {
            return Vec::new();
        }
        let on = Self::designs(snapshot).filter(|book| book.has_photo && !self.left_off.contains(&book.id));
        on.map(|book| book.id).collect()
    }

    /// The list as it stands; why not where a field cannot be read or nothing is on it.
    pub(super) fn list(&mut self, photos: &Photos, size: PaperSize, shared: &Shared) -> Result<FairList, String> {
        let date = self.day().map_err(|problem| format!("Day: {problem}"))?;
        let snapshot = &shared.snapshot;
        let mut shown = Vec::new();
        for book in Self::designs(snapshot) {
            if self.left_off.contains(&book.id) {
                continue;
            }
            let ticket = self.ticket(book, snapshot);
            let photo = photos.get(book.id).filter(|_| self.with_photos).map(Arc::clone);
            shown.push(Shown { design: &book.design, ticket, colour: colour(snapshot, book), photo });
        }
        let asked = FairAsked {
            settings: shared.settings(),
            fair: self.fair.trimmed(),
            date,
            tax_name: self.tax.trimmed(),
            speech: Speech::new(self.language, &snapshot.own_words),
            size,
        };
        let (list, without) = fair_model::fair_list(&asked, shown);
        self.without = without;
        self.count = list.pieces.len();
        Ok(list)
    }

    /// Gives every field its former text back; true when that changed something.
    pub(super) fn revert(&mut self, shared: &Shared) -> bool {
        let reverted = self.fair.revert() | self.date.revert() | self.tax.revert() | self.wanted.revert();
        self.word(shared);
        reverted
    }
}

/// The colour of a design's outline, from the linked stock.
fn colour(snapshot: &Snapshot, book: &BookDesign) -> [u8; 3] {
    cards::band(&book.design, |material| {
        let item = book.follows.materials.get(material)?;
        match &snapshot.item(*item)?.item.details {
            ItemDetails::Enamel { enamel, swatch, .. } => Some((*enamel, *swatch)),
            _ => None,
        }
    })
}
