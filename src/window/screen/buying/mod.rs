//! What runs out when, from how much on to buy it again and why; and the shopping list.

mod figures;
mod out;
mod rows;
mod shopping;
mod shopping_view;
mod state;
mod view;

use super::{Action, Destination, Notice, Room, way_out};
use crate::costing::buying_words::Part;
use crate::costing::planning::ItemPlan;
use crate::paper::PaperSize;
use crate::studio::ItemId;
use crate::window::widget::listing::{Event, Order, Reaction};
use crate::window::widget::{Entry, Listing};
use crate::window::{Answer, Command, Shared};
use figures::{Field, Figures};
use iced::{Element, Task};
use out::Kind;
use rows::{Filter, Row};
use shopping::Shopping;
use std::path::PathBuf;

/// What the room keeps. The planning figures live as long as the book is open in this window.
#[derive(Debug)]
pub struct State {
    /// Every item planned; none before the book has answered.
    plans: Option<Vec<ItemPlan>>,
    trouble: Option<String>,
    worded: Vec<Row>,
    shown: Vec<Row>,
    filter: Filter,
    list: Listing,
    summary: String,
    /// The item in hand.
    chosen: Option<ItemId>,
    /// Why it is bought, or not.
    parts: Vec<Part>,
    figures: Figures,
    planned_with: String,
    /// The planning figures are open.
    changing: bool,
    page: Page,
    shopping: Shopping,
    kind: Kind,
    paper: PaperSize,
    /// The way out of the list on paper.
    out: way_out::State,
    /// Where the table is saved.
    path: Entry,
    path_problem: Option<String>,
    /// The file that would be replaced, when that is asked.
    replacing: Option<PathBuf>,
    /// A file is being written.
    saving: bool,
}

/// A page of the room.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Page {
    /// What runs out when.
    RunningOut,
    /// What to buy.
    Shopping,
}

/// What happens in the room.
#[derive(Debug, Clone)]
pub enum Message {
    /// Back to Stock.
    ToStock,
    /// Another page.
    Page(Page),
    /// Typed into the filter.
    Find(String),
    /// Only what is to be bought, or all: turned round.
    BuyOnly,
    /// In the list.
    List(Event),
    /// The item in hand in Stock.
    OpenItem,
    /// The planning figures are opened or closed.
    Figures,
    /// A planning figure was typed in.
    Figure(Field, String),
    /// Plan with what is typed.
    Plan,
    /// A line of the shopping list is taken out, or back in.
    Tick(ItemId),
    /// Saved as a PDF or a CSV file.
    Kind(Kind),
    /// The page of the PDF.
    Paper(PaperSize),
    /// On the way out of the list on paper.
    Out(way_out::Message),
    /// Typed into the path of the table.
    Path(String),
    /// Ask the system for a path.
    Browse,
    /// What the system answered.
    Picked(Option<PathBuf>),
    /// Save the list.
    Save,
    /// Replace the file that is there.
    Replace,
    /// Leave the question.
    Close,
    /// The file was written, or not.
    Saved(Result<String, String>),
}

impl Room for State {
    type Message = Message;

    fn new(shared: &Shared) -> Self {
        let mut list = Listing::new("buying");
        list.sort_by(1, Order::Rising);
        let figures = Figures::usual(&shared.preferences);
        Self {
            plans: None,
            trouble: None,
            worded: Vec::new(),
            shown: Vec::new(),
            filter: Filter::default(),
            list,
            summary: String::new(),
            chosen: None,
            parts: Vec::new(),
            planned_with: figures.sentence(&shared.preferences),
            figures,
            changing: false,
            page: Page::RunningOut,
            shopping: Shopping::default(),
            kind: Kind::Pdf,
            paper: PaperSize::A4,
            out: way_out::State::new(),
            path: Entry::new(shared.path.with_file_name(Kind::Csv.file_name()).display().to_string()),
            path_problem: None,
            replacing: None,
            saving: false,
        }
    }

    fn update(&mut self, message: Message, shared: &Shared) -> Action<Message> {
        match message {
            Message::ToStock => return Action::Open(Destination::Stock),
            Message::Page(page) => return self.go(page),
            Message::Find(text) => {
                self.filter.text = text;
                self.choose(shared);
            }
            Message::BuyOnly => {
                self.filter.buy = !self.filter.buy;
                self.choose(shared);
            }
            Message::List(event) => {
                let (reaction, task) = self.list.update(event, self.shown.len());
                match reaction {
                    Reaction::Sort => self.choose(shared),
                    Reaction::Selected(place) => {
                        self.chosen = self.shown.get(place).map(|row| row.id);
                        self.describe(shared);
                    }
                    Reaction::Opened(_) => return self.update(Message::OpenItem, shared),
                    Reaction::None => {}
                }
                return Action::Run(task);
            }
            Message::OpenItem => {
                if let Some(id) = self.chosen {
                    return Action::Open(Destination::Item(id));
                }
            }
            Message::Figures => return self.turn_figures(),
            Message::Figure(field, text) => self.figures.type_in(field, text),
            Message::Plan => return self.plan(shared),
            Message::Tick(id) => {
                self.shopping.tick(id);
                self.word_shopping(shared);
            }
            Message::Kind(kind) => self.kind = kind,
            Message::Paper(paper) => self.paper = paper,
            Message::Out(message) => return self.on_way_out(message, shared),
            Message::Path(path) => {
                self.path.type_in(path);
                self.path_problem = None;
            }
            Message::Browse => return Self::browse(),
            Message::Picked(path) => return self.picked(path, shared),
            Message::Save => return self.save(shared),
            Message::Replace => {
                if let Some(path) = self.replacing.take() {
                    return self.send(path, shared);
                }
            }
            Message::Close => self.replacing = None,
            Message::Saved(done) => {
                self.saving = false;
                return Action::Notify(done.map_or_else(Notice::Trouble, Notice::Done));
            }
        }
        Action::None
    }

    fn view<'a>(&'a self, shared: &'a Shared) -> Element<'a, Message> {
        match self.page {
            Page::RunningOut => view::page(self, shared),
            Page::Shopping => shopping_view::page(self, shared),
        }
    }

    fn modal<'a>(&'a self, shared: &'a Shared) -> Option<Element<'a, Message>> {
        let asked = self.replacing.as_deref().map(shopping_view::replacing);
        asked.or_else(|| self.out.modal(shared).map(|over| over.map(Message::Out)))
    }

    fn refresh(&mut self, shared: &Shared) {
        // Units and currency may be others; what the book now holds is asked in `refreshed`, or when the room is opened.
        self.word(shared);
    }

    fn refreshed(&mut self, shared: &Shared) -> Action<Message> {
        self.ask(shared)
    }

    fn answered(&mut self, answer: Answer, shared: &Shared) -> Action<Message> {
        if let Answer::Plans(plans) = answer {
            match plans {
                Ok(plans) => {
                    self.plans = Some(plans);
                    self.trouble = None;
                }
                Err(error) => self.trouble = Some(error.to_string()),
            }
            self.word(shared);
        }
        Action::None
    }

    fn open(&mut self, _destination: &Destination, shared: &Shared) -> Action<Message> {
        self.out.propose(shared, Kind::Pdf.file_name());
        let printers = self.out.ask_printers().map(Message::Out);
        Action::Many(vec![printers, self.ask(shared), Action::Run(self.list.focus())])
    }

    fn command(&mut self, command: Command, shared: &Shared) -> Action<Message> {
        match command {
            Command::Back if self.out.close() => Action::None,
            Command::Accept if self.out.is_asking() => self.on_way_out(way_out::Message::Yes, shared),
            Command::Accept if self.replacing.is_some() => self.update(Message::Replace, shared),
            Command::Accept if self.page == Page::Shopping => self.save(shared),
            Command::Accept if self.changing => self.plan(shared),
            Command::Accept => self.go(Page::Shopping),
            Command::Back if self.replacing.is_some() => self.update(Message::Close, shared),
            Command::Back if self.page == Page::Shopping => self.go(Page::RunningOut),
            Command::Back if self.changing => self.turn_figures(),
            Command::Back => Action::Open(Destination::Stock),
            _ => Action::Run(Task::none()),
        }
    }

    fn revert(&mut self, _shared: &Shared) -> bool {
        match self.page {
            Page::Shopping => self.path.revert() | self.out.revert(),
            Page::RunningOut => self.changing && self.figures.revert(),
        }
    }
}
