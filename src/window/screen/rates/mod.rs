//! Rates: what the studio knows, turned into the rates designs use, and the channels it sells on. Figures change as they
//! are typed; the book changes when they are kept.

mod channel_view;
mod draft;
mod field;
mod moves;
mod studio_view;
mod view;
mod words;

pub use draft::Towards;
pub use field::{BandPart, ChannelPart, Field, RowKey, StudioPart, TargetKind};

use super::{Action, Notice, Room};
use crate::actions;
use crate::measure::Preferences;
use crate::studio::StudioRates;
use crate::window::widget::{Line, reveal};
use crate::window::{Command, Shared};
use draft::Draft;
use iced::Element;
use std::collections::BTreeSet;
use std::sync::Arc;
use words::{Followers, Words};

/// Most lines of overhead, and most channels, that a book takes.
const MOST_ROWS: usize = 200;

/// What the room keeps.
#[derive(Debug)]
pub struct State {
    draft: Draft,
    /// The draft's figures.
    rates: StudioRates,
    /// What the book said when the draft was last compared to it.
    base: Arc<StudioRates>,
    preferences: Preferences,
    followers: Followers,
    words: Words,
    /// Something differs from the book.
    unsaved: bool,
    open: BTreeSet<Figure>,
    channel: Option<RowKey>,
    moves: Option<Moves>,
    /// The fields typed in, the latest last.
    typed: Vec<Field>,
}

/// A rate that opens into its lines.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Figure {
    /// Overhead an hour.
    Overhead,
    /// Wear a hot hour.
    Wear,
    /// A load of the kiln.
    Load,
}

/// What the draft does to prices, once it was asked for.
#[derive(Debug, Clone)]
enum Moves {
    Lines(Vec<Line>),
    Trouble(String),
}

/// What happens in it.
#[derive(Debug, Clone)]
pub enum Message {
    /// Typed into a field.
    Typed(Field, String),
    /// A line of overhead more.
    AddOverhead,
    /// A line of overhead goes.
    RemoveOverhead(RowKey),
    /// A channel more.
    AddChannel,
    /// A channel goes.
    RemoveChannel(RowKey),
    /// A channel moves in the list.
    MoveChannel(RowKey, Towards),
    /// A channel is opened or closed.
    OpenChannel(RowKey),
    /// A channel takes part in the common ticket, or not.
    Retail(RowKey, bool),
    /// A channel's ticket includes the tax, or not.
    TaxInPrice(RowKey, bool),
    /// A channel has another kind of target.
    Target(RowKey, TargetKind),
    /// A band of price points more.
    AddBand(RowKey),
    /// A band goes: the channel, then the band.
    RemoveBand(RowKey, RowKey),
    /// A rate is opened or closed.
    Explain(Figure),
    /// What does it to prices?
    ShowMoves,
    /// The draft shall hold.
    Keep,
    /// The draft goes; the book's figures come back.
    GoBack,
}

impl State {
    /// True while something on the page differs from the book.
    pub fn is_unsaved(&self) -> bool {
        self.unsaved
    }

    /// The channels on the page, in order.
    pub fn channels(&self) -> Vec<RowKey> {
        self.draft.channels().iter().map(|row| row.key).collect()
    }

    /// The bands of a channel's price points, in order.
    pub fn bands(&self, channel: RowKey) -> Vec<RowKey> {
        let row = self.draft.channels().iter().find(|row| row.key == channel);
        row.map(|row| row.bands.clone()).unwrap_or_default()
    }

    /// The lines of overhead on the page, in order.
    pub fn overhead(&self) -> Vec<RowKey> {
        self.draft.overhead().to_vec()
    }

    /// The draft has changed: its figures and words anew.
    fn follow(&mut self) {
        self.rates = self.draft.rates();
        self.unsaved = self.rates != *self.base || self.draft.problems().next().is_some();
        self.moves = None;
        self.words = Words::of(&self.draft, &self.rates, &self.base, &self.followers, &self.preferences);
    }

    /// The draft as the book says it.
    fn begin_anew(&mut self) {
        self.draft = Draft::of(&self.base, &self.preferences);
        self.channel = None;
        self.typed.clear();
        self.follow();
    }

    fn keep(&self, shared: &Shared) -> Action<Message> {
        if shared.read_only() || !self.unsaved {
            return Action::None;
        }
        let mut problems = self.draft.problems();
        match problems.next() {
            None => Action::Do(actions::Action::SaveRates(self.rates.clone())),
            Some((field, problem)) => {
                let place = view::place(&self.draft, field);
                let more = match problems.count() {
                    0 => String::new(),
                    1 => "; 1 more field cannot be kept".to_owned(),
                    more => format!("; {more} more fields cannot be kept"),
                };
                let trouble = Action::Notify(Notice::Trouble(format!("Rates: {place}: {problem}{more}")));
                Action::Many(vec![trouble, Action::Run(reveal::focus(field.id()))])
            }
        }
    }

    /// Opens the channel that a field belongs to, so that the focus can go there.
    fn open_channel_of_problem(&mut self) {
        let problem = self.draft.problems().next().map(|(field, _)| field);
        if let Some(Field::Channel(key, _) | Field::Band(key, ..)) = problem {
            self.channel = Some(key);
        }
    }

    fn change_rows(&mut self, message: &Message) -> Action<Message> {
        let preferences = self.preferences;
        let mut focus = None;
        match *message {
            Message::AddOverhead if self.draft.overhead().len() < MOST_ROWS => {
                focus = Some(self.draft.add_overhead(&preferences));
            }
            Message::RemoveOverhead(key) => self.draft.remove_overhead(key),
            Message::AddChannel if self.draft.channels().len() < MOST_ROWS => {
                let key = self.draft.add_channel(&preferences);
                self.channel = Some(key);
                focus = Some(Field::Channel(key, ChannelPart::Name));
            }
            Message::RemoveChannel(key) => self.draft.remove_channel(key, &preferences),
            Message::MoveChannel(key, towards) => self.draft.move_channel(key, towards),
            Message::Retail(key, retail) => self.draft.set_retail(key, retail),
            Message::TaxInPrice(key, included) => self.draft.set_tax_in_price(key, included),
            Message::Target(key, target) => self.draft.set_target(key, target, &preferences),
            Message::AddBand(key) => self.draft.add_band(key, &preferences),
            Message::RemoveBand(key, band) => self.draft.remove_band(key, band, &preferences),
            _ => return Action::None,
        }
        self.follow();
        focus.map_or(Action::None, |field| Action::Run(reveal::focus(field.id())))
    }
}

impl Room for State {
    type Message = Message;

    fn new(shared: &Shared) -> Self {
        let base = Arc::clone(&shared.snapshot.rates);
        let preferences = Preferences::from(shared.settings());
        let mut state = Self {
            draft: Draft::of(&base, &preferences),
            rates: (*base).clone(),
            base,
            preferences,
            followers: Followers::of(&shared.snapshot),
            words: Words::default(),
            unsaved: false,
            open: BTreeSet::new(),
            channel: None,
            moves: None,
            typed: Vec::new(),
        };
        state.follow();
        state
    }

    fn update(&mut self, message: Message, shared: &Shared) -> Action<Message> {
        match message {
            Message::Typed(field, text) => {
                if shared.read_only() && !field.is_example() {
                    return Action::None;
                }
                let preferences = self.preferences;
                self.draft.type_in(field, text, &preferences);
                self.typed.retain(|other| *other != field);
                self.typed.push(field);
                self.follow();
            }
            Message::OpenChannel(key) => {
                self.channel = if self.channel == Some(key) { None } else { Some(key) };
            }
            Message::Explain(figure) => {
                let was_open = self.open.remove(&figure);
                if !was_open {
                    let _ = self.open.insert(figure);
                }
            }
            Message::ShowMoves => {
                let moved = moves::lines(&shared.snapshot, &self.rates, &self.followers, &self.preferences);
                self.moves = Some(moved.map_or_else(|error| Moves::Trouble(error.to_string()), Moves::Lines));
            }
            Message::Keep => {
                self.open_channel_of_problem();
                return self.keep(shared);
            }
            Message::GoBack => self.begin_anew(),
            rows if !shared.read_only() => return self.change_rows(&rows),
            _ => {}
        }
        Action::None
    }

    fn view<'a>(&'a self, shared: &'a Shared) -> Element<'a, Message> {
        view::page(self, shared)
    }

    fn refresh(&mut self, shared: &Shared) {
        let now = &shared.snapshot.rates;
        let preferences = Preferences::from(shared.settings());
        self.followers = Followers::of(&shared.snapshot);
        let typed_over = self.unsaved;
        self.base = Arc::clone(now);
        if preferences != self.preferences {
            self.preferences = preferences;
            self.draft.reword(&preferences);
        }
        self.follow();
        if !self.unsaved {
            self.draft.settle();
            self.typed.clear();
            self.follow();
        } else if !typed_over {
            // Nothing was half-typed: the book's figures were changed elsewhere, or taken back.
            self.begin_anew();
        }
    }

    fn command(&mut self, command: Command, shared: &Shared) -> Action<Message> {
        match command {
            Command::Accept => self.update(Message::Keep, shared),
            Command::New => self.update(Message::AddChannel, shared),
            Command::Back => {
                self.channel = None;
                Action::None
            }
            _ => Action::None,
        }
    }

    fn revert(&mut self, _shared: &Shared) -> bool {
        let preferences = self.preferences;
        while let Some(field) = self.typed.pop() {
            if self.draft.revert(field, &preferences) {
                self.follow();
                return true;
            }
        }
        false
    }
}
