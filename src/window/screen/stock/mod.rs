//! What is on the shelf: the list of items, the item in hand with its movements, the form of an item, the form of a
//! movement, and the value of the stock on a day.

mod correcting;
mod correcting_view;
mod detail;
mod form;
mod form_view;
mod item_view;
mod jars;
mod moving;
mod moving_view;
pub(super) mod read;
mod rows;
mod state;
mod traced;
mod view;
mod words;
mod worth;

use super::{Action, Destination, Notice, Room};
use crate::book::StockRow;
use crate::studio::{BookJar, ItemId, ItemKind, LotId, MovementId, MovementKind, Settings};
use crate::window::desk::{Answer, Request};
use crate::window::shortcut::RoomName;
use crate::window::widget::listing::{Event, Order, Reaction};
use crate::window::widget::{Line, Listing};
use crate::window::{Command, Shared};
use correcting::Correcting;
use detail::Detail;
use form::Form;
use iced::{Element, Task};
use moving::Moving;
use rows::{Filter, Row};
use std::sync::Arc;
use traced::Traced;
use worth::Worth;

/// Parts of the book that rows are worded from.
type Seen = (Arc<Vec<StockRow>>, Arc<Vec<BookJar>>, Arc<Settings>);

/// What the room keeps.
#[derive(Debug)]
pub struct State {
    worded: Vec<Row>,
    shown: Vec<Row>,
    filter: Filter,
    list: Listing,
    summary: String,
    /// The parts of the book the rows were worded from.
    seen: Option<Seen>,
    page: Page,
    /// The item in hand.
    chosen: Option<ItemId>,
    sentence: String,
    facts: Vec<Line>,
    detail: Option<Detail>,
    ledger: Listing,
    /// The movement that is followed.
    traced: Option<Traced>,
    /// The jars of the item in hand.
    jars: Vec<Line>,
    form: Option<Form>,
    moving: Option<Moving>,
    correcting: Option<Correcting>,
    worth: Worth,
    /// What was sent to the book and not answered yet.
    waiting: Waiting,
    /// The kind of the item added last: the next one is likely of the same.
    latest_kind: ItemKind,
}

/// The page under the forms.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Page {
    /// The list, with the item in hand below it.
    List,
    /// The item in hand alone.
    Item,
    /// The value on a day.
    Worth,
}

/// What the book has still to answer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Waiting {
    Nothing,
    Form,
    Movement,
    Correction,
}

/// What happens in the room.
#[derive(Debug, Clone)]
pub enum Message {
    /// Typed into the filter.
    Find(String),
    /// One kind, or all.
    Kind(Option<ItemKind>),
    /// Only what is low, or all: turned round.
    LowOnly,
    /// What is set aside too, or not: turned round.
    Aside,
    /// In the list.
    List(Event),
    /// In the list of movements.
    Ledger(Event),
    /// Another page.
    Page(Page),
    /// The form of a new item.
    New,
    /// The form of the item in hand.
    Edit,
    /// The labels of the item in hand.
    Label,
    /// In the form of an item.
    Form(form::Change),
    /// The item shall be as the form says.
    Save,
    /// The form of a movement of the item in hand.
    Move(MovementKind),
    /// In the form of a movement.
    Moving(moving::Change),
    /// The movement shall be written down.
    Book,
    /// A movement of the item in hand shall be followed, or none.
    Trace(Option<MovementId>),
    /// The form that corrects a lot's price.
    Correct(LotId),
    /// Typed into that form.
    Correcting(correcting::Field, String),
    /// The lot shall cost what the form says.
    CorrectIt,
    /// Leave the form that is open.
    Close,
    /// On the page of the value on a day.
    Worth(worth::Change),
    /// Another room of the stock.
    Enter(RoomName),
}

impl Room for State {
    type Message = Message;

    fn new(shared: &Shared) -> Self {
        let mut ledger = Listing::new("stock-ledger");
        // The latest movement stands on top.
        ledger.sort_by(0, Order::Falling);
        let mut state = Self {
            worded: Vec::new(),
            shown: Vec::new(),
            filter: Filter::default(),
            list: Listing::new("stock"),
            summary: String::new(),
            seen: None,
            page: Page::List,
            chosen: None,
            sentence: String::new(),
            facts: Vec::new(),
            detail: None,
            ledger,
            traced: None,
            jars: Vec::new(),
            form: None,
            moving: None,
            correcting: None,
            worth: Worth::new(shared.today, shared.settings().valuation),
            waiting: Waiting::Nothing,
            latest_kind: ItemKind::Enamel,
        };
        state.refresh(shared);
        state
    }

    fn update(&mut self, message: Message, shared: &Shared) -> Action<Message> {
        match message {
            Message::Find(text) => {
                self.filter.text = text;
                self.choose(shared)
            }
            Message::Kind(kind) => {
                self.filter.kind = kind;
                self.choose(shared)
            }
            Message::LowOnly => {
                self.filter.low = !self.filter.low;
                self.choose(shared)
            }
            Message::Aside => {
                self.filter.aside = !self.filter.aside;
                self.choose(shared)
            }
            Message::List(event) => {
                let (reaction, task) = self.list.update(event, self.shown.len());
                let follow = match reaction {
                    Reaction::Sort => self.choose(shared),
                    Reaction::Selected(place) => {
                        self.chosen = self.shown.get(place).map(|row| row.id);
                        self.describe(shared);
                        self.look_up(shared)
                    }
                    Reaction::Opened(_) => self.go(Page::Item, shared),
                    Reaction::None => Action::None,
                };
                Action::Many(vec![Action::Run(task), follow])
            }
            Message::Ledger(event) => {
                let total = self.detail.as_ref().map_or(0, |detail| detail.rows.len());
                let (reaction, task) = self.ledger.update(event, total);
                let row = |place: usize| self.detail.as_ref().and_then(|detail| detail.rows.get(place));
                let follow = match reaction {
                    Reaction::Selected(place) | Reaction::Opened(place) => {
                        self.trace(row(place).map(|row| row.id), shared);
                        let opened = matches!(reaction, Reaction::Opened(_)) && self.page == Page::List;
                        if opened { self.go(Page::Item, shared) } else { Action::None }
                    }
                    Reaction::Sort => {
                        if let Some(detail) = &mut self.detail {
                            detail.rows.reverse();
                        }
                        self.trace(self.traced.as_ref().map(|traced| traced.id), shared);
                        Action::None
                    }
                    Reaction::None => Action::None,
                };
                Action::Many(vec![Action::Run(task), follow])
            }
            Message::Page(page) => self.go(page, shared),
            Message::New if shared.read_only() => Action::None,
            Message::New => {
                let kind = self.filter.kind.unwrap_or(self.latest_kind);
                self.begin(Form::new(kind, &shared.preferences))
            }
            Message::Label => match self.chosen {
                Some(item) => Action::Open(Destination::LabelOf(item)),
                None => Action::None,
            },
            Message::Edit => match self.item(shared).filter(|_| !shared.read_only()) {
                Some(row) => self.begin(Form::of(row, &shared.preferences)),
                None => Action::None,
            },
            Message::Form(change) => {
                self.waiting = Waiting::Nothing;
                if let Some(form) = &mut self.form {
                    form.change(change);
                }
                Action::None
            }
            Message::Save => self.save(shared),
            Message::Move(kind) => self.begin_moving(kind, shared),
            Message::Moving(change) => {
                self.waiting = Waiting::Nothing;
                if let Some(moving) = &mut self.moving {
                    moving.change(change);
                }
                self.look_ahead(shared);
                match self.moving.as_ref().and_then(Moving::asks_for) {
                    Some(from) => Action::Ask(Request::Movements(from)),
                    None => Action::None,
                }
            }
            Message::Trace(id) => {
                self.trace(id, shared);
                Action::Run(self.ledger.show())
            }
            Message::Correct(lot) => self.begin_correcting(lot, shared),
            Message::Correcting(field, text) => {
                self.waiting = Waiting::Nothing;
                if let Some(correcting) = &mut self.correcting {
                    correcting.type_in(field, text);
                }
                self.ask_effect(shared)
            }
            Message::CorrectIt => self.correct(shared),
            Message::Book => self.book(shared),
            Message::Close => {
                self.close();
                Action::Run(self.list.focus())
            }
            Message::Worth(change) => self.in_worth(change),
            Message::Enter(room) => Action::Open(room.destination()),
        }
    }

    fn view<'a>(&'a self, shared: &'a Shared) -> Element<'a, Message> {
        match (&self.form, self.page) {
            (Some(form), _) => form_view::page(form, shared),
            (None, Page::List) => view::list_page(self, shared),
            (None, Page::Item) => item_view::page(self, shared),
            (None, Page::Worth) => view::worth_page(self, shared),
        }
    }

    fn modal<'a>(&'a self, shared: &'a Shared) -> Option<Element<'a, Message>> {
        if let Some(correcting) = &self.correcting {
            let row = shared.snapshot.item(correcting.item)?;
            return Some(correcting_view::sheet(correcting, row, shared));
        }
        let moving = self.moving.as_ref()?;
        let row = shared.snapshot.item(moving.item)?;
        let detail = self.detail.as_ref().filter(|detail| detail.item == moving.item);
        Some(moving_view::sheet(moving, row, detail, shared))
    }

    fn refresh(&mut self, shared: &Shared) {
        let now = &shared.snapshot;
        let same = self.seen.as_ref().is_some_and(|(stock, jars, settings)| {
            Arc::ptr_eq(stock, &now.stock) && Arc::ptr_eq(jars, &now.jars) && Arc::ptr_eq(settings, &now.settings)
        });
        if same {
            return;
        }
        self.seen = Some((Arc::clone(&now.stock), Arc::clone(&now.jars), Arc::clone(&now.settings)));
        if let Some(moving) = &mut self.moving {
            moving.forget();
        }
        if let Some(correcting) = &mut self.correcting {
            correcting.forget();
        }
        self.worded = rows::word_all(&now.stock, &now.settings, &shared.preferences);
        self.summary = rows::summary(&now.stock, &now.settings, &shared.preferences);
        // What must be asked of the book for it is asked in `refreshed`, or when the room is opened.
        let _ = self.choose(shared);
    }

    fn refreshed(&mut self, shared: &Shared) -> Action<Message> {
        Action::Many(vec![self.look_up(shared), self.ask_effect(shared)])
    }

    fn answered(&mut self, answer: Answer, shared: &Shared) -> Action<Message> {
        match answer {
            Answer::Movements(id, Ok(movements)) => {
                self.moved(id, movements, shared);
                Action::None
            }
            Answer::Corrections(id, Ok(corrections)) => {
                let order = self.ledger.sort().1;
                if let Some(detail) = self.detail.as_mut().filter(|detail| detail.item == id) {
                    detail.correct(corrections, order, &shared.snapshot, &shared.preferences);
                    self.trace(self.traced.as_ref().map(|traced| traced.id), shared);
                }
                Action::None
            }
            Answer::CorrectionEffect(_, Ok(Some(effect))) => {
                if let Some(correcting) = &mut self.correcting {
                    correcting.answered(&effect, &shared.snapshot, &shared.preferences);
                }
                Action::None
            }
            Answer::StockValue(Ok(value)) => {
                self.worth.answered(&value, &shared.snapshot, &shared.preferences);
                Action::None
            }
            Answer::Performed(outcome) => self.performed(outcome, shared),
            _ => Action::None,
        }
    }

    fn open(&mut self, destination: &Destination, shared: &Shared) -> Action<Message> {
        if self.is_filling_in() {
            // What is half-typed is not lost by a look elsewhere.
            return match destination {
                Destination::Stock => self.refreshed(shared),
                _ => Action::Notify(Notice::Trouble(
                    "Stock: a form is open; accept it or leave it with Esc first".to_owned(),
                )),
            };
        }
        match destination {
            Destination::Item(id) if shared.snapshot.item(*id).is_some() => {
                self.page = Page::Item;
                self.take(*id, shared)
            }
            Destination::LowStock => {
                self.page = Page::List;
                self.filter = Filter { low: true, ..Filter::default() };
                Action::Many(vec![self.choose(shared), Action::Run(self.list.focus())])
            }
            _ => {
                self.page = Page::List;
                Action::Many(vec![self.choose(shared), Action::Run(self.list.focus())])
            }
        }
    }

    fn command(&mut self, command: Command, shared: &Shared) -> Action<Message> {
        match command {
            Command::New if !self.is_filling_in() => self.update(Message::New, shared),
            Command::Accept if self.correcting.is_some() => self.correct(shared),
            Command::Accept if self.moving.is_some() => self.book(shared),
            Command::Accept if self.form.is_some() => self.save(shared),
            Command::Accept if self.page == Page::Worth => self.value(),
            Command::Back if self.is_filling_in() => self.update(Message::Close, shared),
            Command::Back if self.page != Page::List => {
                let back = self.go(Page::List, shared);
                Action::Many(vec![back, Action::Run(self.list.focus())])
            }
            _ => Action::Run(Task::none()),
        }
    }

    fn revert(&mut self, shared: &Shared) -> bool {
        if let Some(correcting) = &mut self.correcting {
            return correcting.revert();
        }
        if let Some(moving) = &mut self.moving {
            let reverted = moving.revert();
            self.look_ahead(shared);
            return reverted;
        }
        match &mut self.form {
            Some(form) => form.revert(),
            None if self.page == Page::Worth => self.worth.date.revert(),
            None => false,
        }
    }
}
