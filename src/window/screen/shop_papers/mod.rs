//! Papers that go out of the house under a number: order forms, invoices, consignment notes, certificates; and price
//! lists. What a paper said is kept; it is laid out anew when it goes out again.

mod easel;
mod fair;
mod fair_view;
mod form;
mod form_view;
mod list_view;
mod offers;
mod photos;
mod read;
mod room;
mod rows;
mod sheet_view;
mod showing;

pub use fair::{Change as FairChange, Field as FairField};
pub use form::{Change, Field, Part};
pub use offers::Offered;
pub use photos::For;

use super::way_out;
use super::{Action, Destination, Room};
use crate::paper::{Document, PaperSize};
use crate::studio::{BookNumberedPaper, ChannelId, DesignId, FinishedPiece, Language, NumberedId};
use crate::window::widget::listing::{Event, Order};
use crate::window::widget::{Entry, Listing, reveal};
use crate::window::{Answer, Command, Shared};
use easel::Easel;
use fair::Fair;
use form::Form;
use iced::Element;
use iced::widget::combo_box;
use offers::Offer;
use photos::Photos;
use rows::Row;
use std::sync::Arc;

/// What the room keeps.
#[derive(Debug)]
pub struct State {
    /// Papers that went out, newest first; none before the book has told them.
    issued: Option<Vec<BookNumberedPaper>>,
    /// The same, worded; and what of it is in sight.
    all: Vec<Row>,
    wanted: Entry,
    rows: Vec<Row>,
    list: Listing,
    summary: String,
    page: Page,
    /// The paper in hand.
    chosen: Option<NumberedId>,
    /// The paper that is being written.
    form: Option<Form>,
    fair: Option<Fair>,
    /// Finished pieces lines are picked from, and everything lines are picked from in words.
    pieces: Vec<FinishedPiece>,
    offers: Vec<Offer>,
    channels: Vec<(Option<ChannelId>, String)>,
    languages: combo_box::State<String>,
    /// Whom papers were for, the latest first; and those of them that are like what is typed.
    recipients: Vec<String>,
    earlier: Vec<String>,
    /// `invoice 3`: what the form will be; and what it comes to.
    will_be: String,
    sums: String,
    size: PaperSize,
    easel: Easel,
    certificate_photos: Photos,
    list_photos: Photos,
    out: way_out::State,
    /// A paper was sent to the book and not answered yet.
    waiting: bool,
}

/// What is in sight.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Page {
    /// Every paper, with the one in hand beside it where there is room.
    List,
    /// The paper in hand.
    Paper,
    /// The paper that is being written.
    Form,
    /// The price list of a fair.
    Fair,
}

/// What happens in the room.
#[derive(Debug, Clone)]
pub enum Message {
    /// In the list.
    List(Event),
    /// What is searched was typed.
    Find(String),
    /// Enter in the search: the first that is like it.
    OpenFirst,
    /// Another page.
    Page(Page),
    /// To the tags and cards.
    Papers,
    /// A paper is begun, or gone on with.
    New,
    /// What was begun is let go, and another begun.
    Afresh,
    /// In the form of a paper.
    Form(Change),
    /// A line of something that was found.
    Add(Offered),
    /// Enter where a line is picked: the first that was found.
    AddFirst,
    /// The paper shall be written under its number.
    Write,
    /// In the form of the price list.
    Fair(FairChange),
    /// In its list of designs.
    FairList(Event),
    /// Another page of the paper.
    Turn(usize),
    /// Another size of paper.
    Size(PaperSize),
    /// Long pages were laid out, of that run: title, language, pages.
    Laid(u64, String, Language, Result<Arc<Document>, String>),
    /// A photo was read.
    Photo(For, DesignId, Result<Option<Arc<crate::paper::picture::Image>>, String>),
    /// The paper goes out.
    Out(way_out::Message),
}

impl Room for State {
    type Message = Message;

    fn new(shared: &Shared) -> Self {
        let mut list = Listing::new("shop-papers");
        list.sort_by(rows::DATE, Order::Falling);
        let names = Language::ALL.iter().map(|language| language.name().to_owned()).collect();
        let mut state = Self {
            issued: None,
            all: Vec::new(),
            wanted: Entry::default(),
            rows: Vec::new(),
            list,
            summary: String::new(),
            page: Page::List,
            chosen: None,
            form: None,
            fair: None,
            pieces: Vec::new(),
            offers: Vec::new(),
            channels: Vec::new(),
            languages: combo_box::State::new(names),
            recipients: Vec::new(),
            earlier: Vec::new(),
            will_be: String::new(),
            sums: String::new(),
            size: PaperSize::A4,
            easel: Easel::new(),
            certificate_photos: Photos::new(For::Certificate),
            list_photos: Photos::new(For::List),
            out: way_out::State::new(),
            waiting: false,
        };
        state.refresh(shared);
        state
    }

    fn update(&mut self, message: Message, shared: &Shared) -> Action<Message> {
        match message {
            Message::List(event) => self.listed(event, shared),
            Message::Find(text) => {
                self.wanted.type_in(text);
                self.word();
                self.show(shared)
            }
            Message::OpenFirst => self.open_row(0, shared),
            Message::Page(page) => self.go(page, shared),
            Message::Papers => Action::Open(Destination::Papers),
            Message::New => self.begin(shared),
            Message::Afresh => {
                self.form = None;
                self.begin(shared)
            }
            Message::Form(change) => self.changed(change, shared),
            Message::Add(what) => self.add(what, shared),
            Message::AddFirst => self.add_first(shared),
            Message::Write => self.write(shared),
            Message::Fair(change) => {
                if let Some(fair) = &mut self.fair {
                    fair.change(change, shared);
                }
                self.show(shared)
            }
            Message::FairList(event) => self.fair_listed(event, shared),
            Message::Turn(page) => {
                self.easel.turn(page);
                Action::None
            }
            Message::Size(size) => {
                self.size = size;
                self.show(shared)
            }
            Message::Laid(run, title, language, done) => {
                self.easel.came(run, title, language, done);
                Action::None
            }
            Message::Photo(of, id, done) => self.photo_read(of, id, done, shared),
            Message::Out(message) => self.send(message, shared),
        }
    }

    fn view<'a>(&'a self, shared: &'a Shared) -> Element<'a, Message> {
        match (self.page, &self.form, &self.fair) {
            (Page::Form, Some(form), _) => form_view::page(self, form, shared),
            (Page::Fair, _, Some(fair)) => fair_view::page(self, fair, shared),
            _ => list_view::page(self, shared),
        }
    }

    fn modal<'a>(&'a self, shared: &'a Shared) -> Option<Element<'a, Message>> {
        self.out.modal(shared).map(|over| over.map(Message::Out))
    }

    fn refresh(&mut self, shared: &Shared) {
        self.follow(shared);
    }

    fn refreshed(&mut self, shared: &Shared) -> Action<Message> {
        Action::Many(vec![self.ask(), self.show(shared)])
    }

    fn answered(&mut self, answer: Answer, shared: &Shared) -> Action<Message> {
        self.heard(answer, shared)
    }

    fn open(&mut self, _destination: &Destination, shared: &Shared) -> Action<Message> {
        let focus = if self.page == Page::List { Action::Run(reveal::focus(list_view::FIND)) } else { Action::None };
        let shown = self.show(shared);
        let printers = showing::lifted(self.out.ask_printers());
        Action::Many(vec![self.ask(), shown, printers, focus])
    }

    fn command(&mut self, command: Command, shared: &Shared) -> Action<Message> {
        match command {
            Command::New if self.page == Page::Form => Action::Run(reveal::focus(form::FIND)),
            Command::New => self.begin(shared),
            Command::Accept if self.page == Page::Form => self.write(shared),
            Command::Accept if matches!(self.page, Page::Paper | Page::Fair) && self.is_ready() => {
                self.send(way_out::Message::Save, shared)
            }
            Command::Back if self.out.close() => Action::None,
            Command::Back if self.page == Page::List => Action::Open(Destination::Papers),
            Command::Back => self.go(Page::List, shared),
            _ => Action::None,
        }
    }

    fn revert(&mut self, shared: &Shared) -> bool {
        let reverted = match (self.page, &mut self.form, &mut self.fair) {
            (Page::Form, Some(form), _) => form.revert(),
            (Page::Fair, _, Some(fair)) => fair.revert(shared) || self.out.revert(),
            _ => self.wanted.revert() || self.out.revert(),
        };
        if reverted {
            self.word();
            // Short pages are laid out here and now; long ones wait until they are asked for.
            if !matches!(self.show(shared), Action::None) {
                self.easel.wait();
            }
        }
        reverted
    }
}
