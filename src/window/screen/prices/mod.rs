//! Prices: all designs and channels on one sheet, “suppose” beside today's, tickets accepted into a dated list.

mod rows;
mod suppose;
mod view;

use super::{Action, Destination, Notice, Room};
use crate::actions;
use crate::costing::price_sheet::{PriceRow, Tickets};
use crate::measure::Preferences;
use crate::studio::{ChannelId, DesignId, PriceLine};
use crate::window::widget::listing::{Event, Reaction};
use crate::window::widget::{Entry, Listing, modal};
use crate::window::{Answer, Command, Shared};
use iced::{Element, Task};
use rows::{Filter, Group, Row, Show};
use std::sync::Arc;
use suppose::{Field, Form};

/// What the room keeps.
#[derive(Debug)]
pub struct State {
    today: Vec<PriceRow>,
    supposed: Vec<PriceRow>,
    worded: Vec<Row>,
    shown: Vec<Row>,
    trouble: Option<String>,
    tickets: Tickets,
    filter: Filter,
    form: Form,
    supposing: bool,
    list: Listing,
    accepting: Option<Acceptance>,
    summary: String,
    seen: Option<Seen>,
}

/// The parts of the book the sheet was computed from; the same parts need no new sums.
#[derive(Debug, Clone)]
struct Seen {
    designs: Arc<Vec<crate::studio::BookDesign>>,
    stock: Arc<Vec<crate::book::StockRow>>,
    rates: Arc<crate::studio::StudioRates>,
    settings: Arc<crate::studio::Settings>,
}

/// The sheet in front of the page that accepts tickets.
#[derive(Debug)]
struct Acceptance {
    name: Entry,
    date: Entry,
    lines: Vec<PriceLine>,
    stops: usize,
    under_cost: usize,
    compared: Vec<(String, String)>,
    problem: Option<String>,
}

/// What happens in it.
#[derive(Debug, Clone)]
pub enum Message {
    /// Typed into the filter.
    Filtered(String),
    /// A channel, or all.
    Channel(Option<ChannelId>),
    /// Which rows are shown.
    Show(ShowRows),
    /// Grouped by design or by channel.
    ByChannel(bool),
    /// One ticket everywhere, or each channel its own.
    Tickets(Tickets),
    /// “Suppose” is opened or closed.
    Suppose,
    /// Typed into a field of “suppose”.
    Supposed(SupposeField, String),
    /// Another number of firings more.
    MoreFirings(u32),
    /// Nothing is supposed any longer.
    Clear,
    /// Something happened in the list.
    List(Event),
    /// The list of designs is opened.
    OpenDesigns,
    /// The design of the selected row is opened.
    OpenDesign,
    /// Tags of the selected row's design.
    OpenPapers,
    /// The sheet that accepts tickets is opened.
    Accept,
    /// Typed into its name.
    ListName(String),
    /// Typed into its date.
    ListDate(String),
    /// The tickets are accepted.
    AcceptNow,
    /// The sheet is closed.
    Close,
}

/// Which rows are shown, as the buttons name them.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ShowRows {
    /// All.
    All,
    /// Under cost.
    UnderCost,
    /// Changed since accepted.
    Changed,
}

/// A field of “suppose”, by its place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct SupposeField(usize);

impl State {
    fn preferences(shared: &Shared) -> Preferences {
        Preferences::from(shared.settings())
    }

    fn cost(&mut self, shared: &Shared) {
        let nothing = crate::costing::suppose::Supposition::default();
        match rows::cost_all(&shared.snapshot, &nothing) {
            Ok(today) => {
                self.today = today;
                self.trouble = None;
            }
            Err(error) => self.trouble = Some(error.to_string()),
        }
        self.suppose(shared);
    }

    fn suppose(&mut self, shared: &Shared) {
        let supposition = self.form.supposition(&Self::preferences(shared));
        self.supposed = if self.supposing && !supposition.is_nothing() {
            rows::cost_all(&shared.snapshot, &supposition).unwrap_or_default()
        } else {
            Vec::new()
        };
        self.word(shared);
    }

    fn word(&mut self, shared: &Shared) {
        let preferences = Self::preferences(shared);
        self.worded = rows::word_all(&self.today, &self.supposed, self.tickets, &shared.snapshot, &preferences);
        let under = self.worded.iter().filter(|row| row.under_cost).count();
        let basis =
            if shared.settings().price_on_book_cost { "what the stock on hand cost" } else { "the latest purchases" };
        let under = match under {
            0 => "every ticket covers full cost".to_owned(),
            1 => "1 ticket is under full cost".to_owned(),
            under => format!("{under} tickets are under full cost"),
        };
        self.summary = format!("{} designs, costed on {basis}; {under}", self.today.len());
        self.choose();
    }

    fn choose(&mut self) {
        let kept = self.selected().map(|row| (row.design, row.channel.clone()));
        self.shown = rows::select(&self.worded, &self.filter, self.list.sort(), self.is_supposing());
        let place = kept.and_then(|(design, channel)| {
            self.shown.iter().position(|row| row.design == design && row.channel == channel)
        });
        self.list.select(place.or((!self.shown.is_empty()).then_some(0)));
    }

    fn is_supposing(&self) -> bool {
        !self.supposed.is_empty()
    }

    fn selected(&self) -> Option<&Row> {
        self.list.selected().and_then(|index| self.shown.get(index))
    }

    fn selected_design(&self) -> Option<DesignId> {
        self.selected().map(|row| row.design)
    }

    fn begin_accepting(&mut self, shared: &Shared) -> Action<Message> {
        let lines: Vec<PriceLine> = self.today.iter().flat_map(|row| row.lines(self.tickets)).collect();
        if lines.is_empty() {
            return Action::Notify(Notice::Trouble(
                "there is no ticket to accept: no design has a price yet".to_owned(),
            ));
        }
        let settings = shared.settings();
        let name = if settings.fair_name.is_empty() { "Price list".to_owned() } else { settings.fair_name.clone() };
        let preferences = Self::preferences(shared);
        let compared = lines
            .iter()
            .filter_map(|line| {
                let (list, before) = shared.snapshot.accepted(line.design, &line.channel)?;
                (before.ticket != line.ticket).then(|| {
                    let money = |amount| crate::measure::display::money(amount, &preferences);
                    (
                        format!("{}, {}: {} since {}", line.name, line.channel_name, money(before.ticket), list.date),
                        money(line.ticket),
                    )
                })
            })
            .collect();
        self.accepting = Some(Acceptance {
            name: Entry::new(name),
            date: Entry::new(shared.today.to_string()),
            stops: self.worded.iter().filter(|row| row.word.starts_with("stop")).count(),
            under_cost: self.worded.iter().filter(|row| row.under_cost && row.channel.is_some()).count(),
            lines,
            compared,
            problem: None,
        });
        Action::Run(modal::enter())
    }

    fn accept(&mut self) -> Action<Message> {
        let Some(acceptance) = &mut self.accepting else { return Action::None };
        let Ok(date) = acceptance.date.trimmed().parse() else {
            acceptance.problem = Some(format!(
                "{:?} cannot be read: write the day as year-month-day, e.g. 2026-03-14",
                acceptance.date.trimmed()
            ));
            return Action::None;
        };
        acceptance.problem = None;
        Action::Do(actions::Action::AcceptPrices {
            date,
            name: acceptance.name.trimmed().to_owned(),
            tickets: acceptance.lines.clone(),
        })
    }
}

impl Room for State {
    type Message = Message;

    fn new(shared: &Shared) -> Self {
        let mut state = Self {
            today: Vec::new(),
            supposed: Vec::new(),
            worded: Vec::new(),
            shown: Vec::new(),
            trouble: None,
            tickets: Tickets::Common,
            filter: Filter::default(),
            form: Form::default(),
            supposing: false,
            list: Listing::new("prices"),
            accepting: None,
            summary: String::new(),
            seen: None,
        };
        state.refresh(shared);
        state
    }

    fn update(&mut self, message: Message, shared: &Shared) -> Action<Message> {
        match message {
            Message::Filtered(text) => {
                self.filter.text = text;
                self.choose();
            }
            Message::Channel(channel) => {
                self.filter.channel = channel;
                self.choose();
            }
            Message::Show(show) => {
                self.filter.show = match show {
                    ShowRows::All => Show::All,
                    ShowRows::UnderCost => Show::UnderCost,
                    ShowRows::Changed => Show::Changed,
                };
                self.choose();
            }
            Message::ByChannel(by_channel) => {
                self.filter.group = if by_channel { Group::Channel } else { Group::Design };
                self.choose();
            }
            Message::Tickets(tickets) => {
                self.tickets = tickets;
                self.word(shared);
            }
            Message::Suppose => {
                self.supposing = !self.supposing;
                self.suppose(shared);
            }
            Message::Supposed(SupposeField(place), text) => {
                if let Some(field) = Field::ALL.get(place) {
                    self.form.entry_mut(*field).type_in(text);
                    self.suppose(shared);
                }
            }
            Message::MoreFirings(more) => {
                self.form.more_firings = more.min(suppose::MOST_MORE);
                self.suppose(shared);
            }
            Message::Clear => {
                self.form.clear();
                self.suppose(shared);
            }
            Message::List(event) => {
                let (reaction, task) = self.list.update(event, self.shown.len());
                match reaction {
                    Reaction::Sort => self.choose(),
                    Reaction::Opened(_) => return self.update(Message::OpenDesign, shared),
                    Reaction::None | Reaction::Selected(_) => {}
                }
                return Action::Run(task);
            }
            Message::OpenDesigns => return Action::Open(Destination::Designs),
            Message::OpenDesign => {
                if let Some(design) = self.selected_design() {
                    return Action::Open(Destination::Design(design));
                }
            }
            Message::OpenPapers => {
                if let Some(design) = self.selected_design() {
                    return Action::Open(Destination::PapersOf(vec![design]));
                }
            }
            Message::Accept => return self.begin_accepting(shared),
            Message::ListName(text) => {
                if let Some(acceptance) = &mut self.accepting {
                    acceptance.name.type_in(text);
                }
            }
            Message::ListDate(text) => {
                if let Some(acceptance) = &mut self.accepting {
                    acceptance.date.type_in(text);
                }
            }
            Message::AcceptNow => return self.accept(),
            Message::Close => self.accepting = None,
        }
        Action::None
    }

    fn view<'a>(&'a self, shared: &'a Shared) -> Element<'a, Message> {
        view::page(self, shared)
    }

    fn modal<'a>(&'a self, shared: &'a Shared) -> Option<Element<'a, Message>> {
        self.accepting.as_ref().map(|acceptance| view::accept(acceptance, shared))
    }

    fn refresh(&mut self, shared: &Shared) {
        let now = &shared.snapshot;
        let same = self.seen.as_ref().is_some_and(|seen| {
            Arc::ptr_eq(&seen.designs, &now.designs)
                && Arc::ptr_eq(&seen.stock, &now.stock)
                && Arc::ptr_eq(&seen.rates, &now.rates)
                && Arc::ptr_eq(&seen.settings, &now.settings)
        });
        if same {
            self.word(shared);
        } else {
            self.seen = Some(Seen {
                designs: Arc::clone(&now.designs),
                stock: Arc::clone(&now.stock),
                rates: Arc::clone(&now.rates),
                settings: Arc::clone(&now.settings),
            });
            self.cost(shared);
        }
    }

    fn answered(&mut self, answer: Answer, _shared: &Shared) -> Action<Message> {
        if let (Answer::Performed(outcome), Some(acceptance)) = (answer, &mut self.accepting) {
            match outcome {
                Ok(_) => self.accepting = None,
                Err(refusal) => acceptance.problem = Some(refusal.to_string()),
            }
        }
        Action::None
    }

    fn command(&mut self, command: Command, shared: &Shared) -> Action<Message> {
        match command {
            Command::Accept if self.accepting.is_some() => self.accept(),
            Command::Accept if !shared.read_only() => self.begin_accepting(shared),
            Command::Back if self.accepting.is_some() => {
                self.accepting = None;
                Action::None
            }
            Command::Back if self.supposing => self.update(Message::Suppose, shared),
            _ => Action::Run(Task::none()),
        }
    }

    fn revert(&mut self, shared: &Shared) -> bool {
        if let Some(acceptance) = &mut self.accepting {
            return acceptance.name.revert() | acceptance.date.revert();
        }
        let mut reverted = false;
        for field in Field::ALL {
            reverted |= self.form.entry_mut(field).revert();
        }
        if reverted {
            self.suppose(shared);
        }
        reverted
    }
}
