//! What is ordered and what came of it: the list of orders, an order with its lines and files, the form of an order
//! with what every line costs landed, and what came in a delivery.

mod detail;
mod files;
mod form;
mod form_view;
mod landed;
mod order_view;
mod read;
mod receiving;
mod receiving_view;
mod rows;
mod state;
mod view;
mod words;

use super::{Action, Destination, Room};
use crate::book::StockRow;
use crate::studio::{Attachment, AttachmentId, BookOrder, ItemId, OrderId};
use crate::window::desk::Request;
use crate::window::widget::listing::{Event, Order, Reaction};
use crate::window::widget::{Listing, reveal};
use crate::window::{Answer, Command, Shared};
use detail::Detail;
use files::{Files, Saving};
use form::Form;
use iced::Element;
use receiving::Receiving;
use rows::{ItemOption, Row};
use std::path::PathBuf;
use std::sync::Arc;

/// What the room keeps.
#[derive(Debug)]
pub struct State {
    /// The orders of the book, newest first; none before the book has told them.
    orders: Option<Vec<BookOrder>>,
    rows: Vec<Row>,
    list: Listing,
    summary: String,
    page: Page,
    /// The order in hand.
    chosen: Option<OrderId>,
    detail: Option<Detail>,
    form: Option<Form>,
    receiving: Option<Receiving>,
    files: Files,
    saving: Option<Saving>,
    /// Stock to pick from, and the stock it was worded from.
    options: Vec<ItemOption>,
    seen: Option<Arc<Vec<StockRow>>>,
    /// What was sent to the book and not answered yet.
    waiting: Waiting,
}

/// The page under the forms.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Page {
    /// Every order.
    List,
    /// The order in hand.
    Order,
}

/// What the book has still to answer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Waiting {
    Nothing,
    Form,
    Delivery,
    File,
}

/// What happens in the room.
#[derive(Debug, Clone)]
pub enum Message {
    /// In the list.
    List(Event),
    /// Another page.
    Page(Page),
    /// To the stock.
    Stock,
    /// The form of a new order.
    New,
    /// The form of the order in hand.
    Edit,
    /// In the form of an order.
    Form(form::Change),
    /// What another line shall be of was typed.
    Find(String),
    /// An item was picked: a line of it.
    Add(ItemId),
    /// The first item that is like what was typed; where nothing was, the order shall be saved.
    AddFirst,
    /// The order shall be as the form says.
    Save,
    /// The form of what came of the order in hand.
    Receive,
    /// In that form.
    Receiving(receiving::Change),
    /// It shall be taken in.
    TakeIn,
    /// Leave what is open.
    Close,
    /// The path of a file to keep with the order was typed.
    FilePath(String),
    /// Ask the system for a file.
    BrowseFile,
    /// The system's answer.
    PickedFile(Option<PathBuf>),
    /// Read the file and keep it with the order in hand.
    Attach,
    /// The file was read for that order, or not.
    Read(OrderId, Result<Attachment, String>),
    /// Take a file away from its order.
    Detach(AttachmentId),
    /// A copy of a file is wanted.
    SaveOut(AttachmentId),
    /// Where the copy goes was typed.
    SavePath(String),
    /// Ask the system where it goes.
    BrowseSave,
    /// The system's answer.
    PickedSave(Option<PathBuf>),
    /// Write the copy.
    Write,
    /// It was written, or not.
    Written(Result<String, String>),
}

impl Room for State {
    type Message = Message;

    fn new(shared: &Shared) -> Self {
        let mut list = Listing::new("orders");
        // The latest order stands on top.
        list.sort_by(rows::DATE, Order::Falling);
        let mut state = Self {
            orders: None,
            rows: Vec::new(),
            list,
            summary: String::new(),
            page: Page::List,
            chosen: None,
            detail: None,
            form: None,
            receiving: None,
            files: Files::default(),
            saving: None,
            options: Vec::new(),
            seen: None,
            waiting: Waiting::Nothing,
        };
        state.refresh(shared);
        state
    }

    fn update(&mut self, message: Message, shared: &Shared) -> Action<Message> {
        match message {
            Message::List(event) => {
                let (reaction, task) = self.list.update(event, self.rows.len());
                let follow = match reaction {
                    Reaction::Sort => {
                        self.word(shared);
                        Action::None
                    }
                    Reaction::Selected(place) => {
                        self.chosen = self.rows.get(place).map(|row| row.id);
                        Action::None
                    }
                    Reaction::Opened(place) => match self.rows.get(place).map(|row| row.id) {
                        Some(id) => self.take(id, shared),
                        None => Action::None,
                    },
                    Reaction::None => Action::None,
                };
                Action::Many(vec![Action::Run(task), follow])
            }
            Message::Page(page) => {
                self.page = page;
                self.word(shared);
                Action::Run(self.list.focus())
            }
            Message::Stock => Action::Open(Destination::Stock),
            Message::New if shared.read_only() => Action::None,
            Message::New => self.begin(Form::new(shared.today, shared.preferences.currency)),
            Message::Edit => self.edit(shared),
            Message::Form(change) => {
                self.waiting = Waiting::Nothing;
                if let Some(form) = &mut self.form {
                    form.change(change);
                    landed::look_ahead(form, &shared.preferences);
                }
                Action::None
            }
            Message::Find(text) => {
                if let Some(form) = &mut self.form {
                    form.refusal = None;
                    form.find(text, &self.options);
                }
                Action::None
            }
            Message::Add(item) => self.add(item, shared),
            Message::AddFirst => self.add_first(shared),
            Message::Save => self.save(shared),
            Message::Receive => self.begin_receiving(shared),
            Message::Receiving(change) => {
                self.waiting = Waiting::Nothing;
                if let Some(receiving) = &mut self.receiving {
                    receiving.change(change);
                }
                Action::None
            }
            Message::TakeIn => self.take_in(shared),
            Message::Close => {
                self.close();
                Action::Run(self.list.focus())
            }
            Message::FilePath(_)
            | Message::BrowseFile
            | Message::PickedFile(_)
            | Message::Attach
            | Message::Read(..)
            | Message::Detach(_)
            | Message::SaveOut(_)
            | Message::SavePath(_)
            | Message::BrowseSave
            | Message::PickedSave(_)
            | Message::Write
            | Message::Written(_) => self.in_files(message, shared),
        }
    }

    fn view<'a>(&'a self, shared: &'a Shared) -> Element<'a, Message> {
        match (&self.form, self.page, &self.detail) {
            (Some(form), ..) => form_view::page(form, shared),
            (None, Page::Order, Some(detail)) => order_view::page(self, detail, shared),
            (None, ..) => view::page(self, shared),
        }
    }

    fn modal<'a>(&'a self, shared: &'a Shared) -> Option<Element<'a, Message>> {
        match (&self.receiving, &self.saving) {
            (Some(receiving), _) => Some(receiving_view::sheet(receiving, shared)),
            (None, Some(saving)) => Some(order_view::saving(saving)),
            (None, None) => None,
        }
    }

    fn refresh(&mut self, shared: &Shared) {
        let now = &shared.snapshot.stock;
        if !self.seen.as_ref().is_some_and(|seen| Arc::ptr_eq(seen, now)) {
            self.seen = Some(Arc::clone(now));
            self.options = rows::options(now);
        }
        self.word(shared);
    }

    fn refreshed(&mut self, _shared: &Shared) -> Action<Message> {
        Action::Ask(Request::Orders)
    }

    fn answered(&mut self, answer: Answer, shared: &Shared) -> Action<Message> {
        match answer {
            Answer::Orders(found) => self.told(found, shared),
            Answer::Attachment(id, found) => self.write_out(id, found),
            Answer::Performed(outcome) => self.performed(outcome, shared),
            _ => Action::None,
        }
    }

    fn open(&mut self, _destination: &Destination, _shared: &Shared) -> Action<Message> {
        // What is half-typed is not lost by a look elsewhere: an open form stays.
        Action::Ask(Request::Orders)
    }

    fn command(&mut self, command: Command, shared: &Shared) -> Action<Message> {
        let over = self.receiving.is_some() || self.saving.is_some();
        match command {
            Command::New if self.form.is_none() && !over => self.update(Message::New, shared),
            Command::New if self.form.is_some() => Action::Run(reveal::focus(form::FIND)),
            Command::Accept if self.receiving.is_some() => self.take_in(shared),
            Command::Accept if self.saving.is_some() => self.update(Message::Write, shared),
            Command::Accept if self.form.is_some() => self.save(shared),
            Command::Back if over || self.form.is_some() => self.update(Message::Close, shared),
            Command::Back if self.page == Page::Order => self.update(Message::Page(Page::List), shared),
            Command::Back => Action::Open(Destination::Stock),
            _ => Action::None,
        }
    }

    fn revert(&mut self, shared: &Shared) -> bool {
        if let Some(receiving) = &mut self.receiving {
            return receiving.revert();
        }
        if let Some(form) = &mut self.form {
            let reverted = form.revert();
            landed::look_ahead(form, &shared.preferences);
            return reverted;
        }
        self.files.path.revert()
    }
}
