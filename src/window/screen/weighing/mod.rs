//! Jars on the scale: a jar and what it weighs, one after another by keyboard alone, until all of it is accepted in one
//! action; and the jars with their tares.

mod find;
mod jars;
mod jars_view;
mod scale;
mod view;
mod words;

use super::{Action, Destination, Room};
use crate::actions::{Outcome, Refusal};
use crate::book::{Snapshot, StockRow};
use crate::studio::{BookJar, ItemId, JarId, Settings};
use crate::window::widget::listing::{Event, Reaction};
use crate::window::widget::{Listing, modal, reveal};
use crate::window::{Answer, Command, Shared};
use iced::Element;
use jars::{Form, JarRow};
use scale::Scale;
use std::sync::Arc;

pub use jars::{Change, Field};

/// What the focus is sent to.
const JAR: &str = "weighing-jar";
const GROSS: &str = "weighing-gross";
const DATE: &str = "weighing-date";
const CAUSE: &str = "weighing-cause";

/// What the room keeps.
#[derive(Debug)]
pub struct State {
    page: Page,
    scale: Scale,
    rows: Vec<JarRow>,
    list: Listing,
    form: Option<Form>,
    waiting: Waiting,
    /// The parts of the book the rows were worded from.
    seen: Option<Seen>,
}

/// Parts of a book.
type Seen = (Arc<Vec<StockRow>>, Arc<Vec<BookJar>>, Arc<Settings>);

/// The page below the form.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Page {
    /// The scale.
    Scale,
    /// The list of jars.
    Jars,
}

/// What the book has still to answer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Waiting {
    Nothing,
    Form,
    WeighIn,
}

/// What happens in the room.
#[derive(Debug, Clone)]
pub enum Message {
    /// Typed into the field of the jar.
    Jar(String),
    /// Enter in it.
    JarEntered,
    /// Another jar than the best one is meant.
    Choose(JarId),
    /// Typed into the field of the weight.
    Gross(String),
    /// What is typed shall be put on the list.
    Take,
    /// In the list of readings.
    List(Event),
    /// The selected reading shall be taken off the list.
    TakeBack,
    /// In the list of what items come to.
    Items(Event),
    /// Typed into the field of the day.
    Date(String),
    /// Typed into the field of the cause.
    Cause(String),
    /// What is on the list shall be accepted.
    Accept,
    /// Another page.
    Page(Page),
    /// In the list of jars.
    Jars(Event),
    /// The form of a new jar.
    New,
    /// The form of the selected jar.
    Edit,
    /// In the form of a jar.
    Form(Change),
    /// The jar shall be as the form says.
    Save,
    /// Leave the form.
    Close,
    /// Back to the stock.
    Stock,
}

impl State {
    fn ask(&mut self, of: Option<ItemId>, shared: &Shared) -> Action<Message> {
        self.scale.question(of, &shared.snapshot).map_or(Action::None, Action::Ask)
    }

    fn take(&mut self, shared: &Shared) -> Action<Message> {
        match self.scale.take(&shared.snapshot, &shared.preferences) {
            Some(item) => Action::Many(vec![self.ask(Some(item), shared), Action::Run(reveal::focus(JAR))]),
            None if self.scale.jar_problem.is_some() => Action::Run(reveal::focus(JAR)),
            None => Action::Run(reveal::focus(GROSS)),
        }
    }

    /// Takes a reading off the list; where it shall be weighed again, it goes back into the fields.
    fn take_back(&mut self, row: usize, again: bool, shared: &Shared) -> Action<Message> {
        let (snapshot, preferences) = (&shared.snapshot, &shared.preferences);
        let Some((read, item)) = self.scale.take_back(row, snapshot, preferences) else { return Action::None };
        let asked = self.ask(Some(item), shared);
        if !again {
            return asked;
        }
        self.scale.choose(read.jar, snapshot, preferences);
        self.scale.gross.type_in(read.typed);
        self.scale.look_ahead(snapshot, preferences);
        Action::Many(vec![asked, Action::Run(reveal::focus(GROSS))])
    }

    fn accept(&mut self, shared: &Shared) -> Action<Message> {
        if self.waiting != Waiting::Nothing || shared.read_only() {
            return Action::None;
        }
        if !self.scale.ready {
            // Nothing is accepted before its difference was seen.
            return self.ask(None, shared);
        }
        if self.scale.asks_cause && self.scale.cause.is_empty() {
            self.scale.cause_problem = Some(
                "nothing is typed: a large difference has a cause, e.g. spilled, lent out, not written down".to_owned(),
            );
            return Action::Run(reveal::focus(CAUSE));
        }
        match self.scale.action() {
            Some(action) => {
                self.waiting = Waiting::WeighIn;
                Action::Do(action)
            }
            None => Action::Run(reveal::focus(DATE)),
        }
    }

    fn begin(&mut self, of: Option<JarId>, shared: &Shared) -> Action<Message> {
        if shared.read_only() {
            return Action::None;
        }
        let jar = of.and_then(|id| scale::jar_of(&shared.snapshot, id));
        let form = Form::new(jar, &shared.snapshot, &shared.preferences);
        let first = if form.fixed { Field::Label } else { Field::Item };
        self.form = Some(form);
        self.waiting = Waiting::Nothing;
        Action::Run(modal::enter().chain(reveal::focus(first.id())))
    }

    fn save(&mut self, shared: &Shared) -> Action<Message> {
        let Some(form) = &mut self.form else { return Action::None };
        if self.waiting != Waiting::Nothing || shared.read_only() {
            return Action::None;
        }
        form.tried = true;
        if let Some(field) = form.first_problem(&shared.preferences) {
            return Action::Run(reveal::focus(field.id()));
        }
        let Some(action) = form.action(&shared.preferences) else { return Action::None };
        self.waiting = Waiting::Form;
        Action::Do(action)
    }

    fn performed(&mut self, outcome: Result<Outcome, Refusal>, shared: &Shared) -> Action<Message> {
        match (std::mem::replace(&mut self.waiting, Waiting::Nothing), outcome) {
            (Waiting::WeighIn, Ok(_)) => {
                self.scale.accepted(&shared.snapshot, &shared.preferences);
                Action::Run(reveal::focus(JAR))
            }
            (Waiting::WeighIn, Err(refusal)) => {
                self.scale.refusal = Some(refusal.to_string());
                Action::None
            }
            (Waiting::Form, Ok(_)) => {
                if let Some(form) = self.form.as_mut().filter(|form| form.id.is_none()) {
                    form.next(&shared.snapshot);
                    return Action::Run(reveal::focus(Field::Item.id()));
                }
                self.close()
            }
            (Waiting::Form, Err(refusal)) => {
                if let Some(form) = &mut self.form {
                    form.refusal = Some(refusal.to_string());
                }
                Action::None
            }
            (Waiting::Nothing, _) => Action::None,
        }
    }

    fn close(&mut self) -> Action<Message> {
        self.form = None;
        self.waiting = Waiting::Nothing;
        self.focus()
    }

    /// The focus to where work goes on.
    fn focus(&self) -> Action<Message> {
        Action::Run(match self.page {
            Page::Scale => reveal::focus(JAR),
            Page::Jars => self.list.focus(),
        })
    }

    fn word_jars(&mut self, snapshot: &Snapshot, shared: &Shared) {
        let chosen = self.chosen();
        self.rows = jars::word_all(snapshot, self.list.sort(), &shared.preferences);
        let place = chosen.and_then(|id| self.rows.iter().position(|row| row.id == id));
        self.list.select(place.or((!self.rows.is_empty()).then_some(0)));
    }

    fn chosen(&self) -> Option<JarId> {
        self.list.selected().and_then(|place| self.rows.get(place)).map(|row| row.id)
    }

    fn in_form(&mut self, change: Change, shared: &Shared) -> Action<Message> {
        self.waiting = Waiting::Nothing;
        let Some(form) = &mut self.form else { return Action::None };
        let saves = matches!(change, Change::Enter(Field::Tare));
        match form.change(change, &shared.snapshot) {
            Some(field) => Action::Run(reveal::focus(field.id())),
            None if saves => self.save(shared),
            None => Action::None,
        }
    }
}

impl Room for State {
    type Message = Message;

    fn new(shared: &Shared) -> Self {
        let mut state = Self {
            page: Page::Scale,
            scale: Scale::new(shared.today),
            rows: Vec::new(),
            list: Listing::new("jars"),
            form: None,
            waiting: Waiting::Nothing,
            seen: None,
        };
        state.refresh(shared);
        state
    }

    fn update(&mut self, message: Message, shared: &Shared) -> Action<Message> {
        let (snapshot, preferences) = (&shared.snapshot, &shared.preferences);
        match message {
            Message::Jar(text) => {
                self.scale.jar.type_in(text);
                self.scale.jar_problem = None;
                self.scale.mean(snapshot, preferences);
                Action::None
            }
            Message::JarEntered => {
                let field = if self.scale.settle_jar(snapshot, preferences) { GROSS } else { JAR };
                Action::Run(reveal::focus(field))
            }
            Message::Choose(id) => {
                self.scale.choose(id, snapshot, preferences);
                Action::Run(reveal::focus(GROSS))
            }
            Message::Gross(text) => {
                self.scale.gross.type_in(text);
                self.scale.gross_problem = None;
                self.scale.look_ahead(snapshot, preferences);
                Action::None
            }
            Message::Take => self.take(shared),
            Message::List(event) => {
                let (reaction, task) = self.scale.list.update(event, self.scale.rows.len());
                let follow = match reaction {
                    Reaction::Opened(row) => self.take_back(row, true, shared),
                    _ => Action::None,
                };
                Action::Many(vec![Action::Run(task), follow])
            }
            Message::TakeBack => match self.scale.list.selected() {
                Some(row) => self.take_back(row, false, shared),
                None => Action::None,
            },
            Message::Items(event) => Action::Run(self.scale.item_list.update(event, self.scale.items.len()).1),
            Message::Date(text) => {
                self.scale.date.type_in(text);
                self.scale.forget(snapshot, preferences);
                self.ask(None, shared)
            }
            Message::Cause(text) => {
                self.scale.cause.type_in(text);
                self.scale.cause_problem = None;
                Action::None
            }
            Message::Accept => self.accept(shared),
            Message::Page(page) => {
                self.page = page;
                self.focus()
            }
            Message::Jars(event) => {
                let (reaction, task) = self.list.update(event, self.rows.len());
                let follow = match reaction {
                    Reaction::Sort => {
                        self.word_jars(snapshot, shared);
                        Action::None
                    }
                    Reaction::Opened(_) => self.begin(self.chosen(), shared),
                    _ => Action::None,
                };
                Action::Many(vec![Action::Run(task), follow])
            }
            Message::New => self.begin(None, shared),
            Message::Edit => match self.chosen() {
                Some(id) => self.begin(Some(id), shared),
                None => Action::None,
            },
            Message::Form(change) => self.in_form(change, shared),
            Message::Save => self.save(shared),
            Message::Close => self.close(),
            Message::Stock => Action::Open(Destination::Stock),
        }
    }

    fn view<'a>(&'a self, shared: &'a Shared) -> Element<'a, Message> {
        match self.page {
            Page::Scale => view::page(self, shared),
            Page::Jars => jars_view::page(self, shared),
        }
    }

    fn modal<'a>(&'a self, shared: &'a Shared) -> Option<Element<'a, Message>> {
        self.form.as_ref().map(|form| jars_view::sheet(form, shared))
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
        self.word_jars(now, shared);
        self.scale.follow(now, &shared.preferences);
        if let Some(form) = &mut self.form {
            form.follow(now);
        }
    }

    fn refreshed(&mut self, shared: &Shared) -> Action<Message> {
        if self.scale.ready { Action::None } else { self.ask(None, shared) }
    }

    fn answered(&mut self, answer: Answer, shared: &Shared) -> Action<Message> {
        match answer {
            Answer::WeighIn(Ok(found)) => {
                self.scale.answered(found, &shared.snapshot, &shared.preferences);
                Action::None
            }
            Answer::WeighIn(Err(refusal)) => {
                self.scale.refusal = Some(refusal.to_string());
                Action::None
            }
            Answer::Performed(outcome) => self.performed(outcome, shared),
            _ => Action::None,
        }
    }

    fn open(&mut self, _destination: &Destination, shared: &Shared) -> Action<Message> {
        if self.form.is_some() {
            return Action::None;
        }
        self.page = Page::Scale;
        if self.scale.reads.is_empty() && !self.scale.date.is_changed() {
            self.scale.date.set(shared.today.to_string());
        }
        Action::Many(vec![self.refreshed(shared), Action::Run(reveal::focus(JAR))])
    }

    fn command(&mut self, command: Command, shared: &Shared) -> Action<Message> {
        match command {
            Command::New if self.form.is_none() => self.begin(None, shared),
            Command::Accept if self.form.is_some() => self.save(shared),
            Command::Accept if self.page == Page::Scale => self.accept(shared),
            Command::Back if self.form.is_some() => self.close(),
            Command::Back if self.page == Page::Jars => self.update(Message::Page(Page::Scale), shared),
            Command::Back if !(self.scale.jar.is_empty() && self.scale.gross.is_empty()) => {
                self.scale.clear();
                self.scale.mean(&shared.snapshot, &shared.preferences);
                Action::Run(reveal::focus(JAR))
            }
            Command::Back => Action::Open(Destination::Stock),
            _ => Action::None,
        }
    }

    fn revert(&mut self, shared: &Shared) -> bool {
        if let Some(form) = &mut self.form {
            return form.revert(&shared.snapshot);
        }
        self.page == Page::Scale && self.scale.revert(&shared.snapshot, &shared.preferences)
    }
}
