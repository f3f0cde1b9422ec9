//! Printers: their dots, and what is put right on what they print, measured on the calibration page in three steps.

mod form;
mod measuring;
mod printing;
mod state;
mod steps_view;
mod view;

use super::{Action, Destination, Room, way_out};
use crate::studio::{PrinterId, SheetId};
use crate::window::{Answer, Command, Shared};
use form::Form;
use iced::Element;
use iced::widget::combo_box;
use measuring::{Measuring, Paper};
use printing::System;

/// What the room keeps.
#[derive(Debug)]
pub struct State {
    rows: Vec<Row>,
    system: System,
    chosen: Option<PrinterId>,
    /// The papers that can be measured on, and the one that is.
    papers: combo_box::State<Paper>,
    paper: Paper,
    measuring: Measuring,
    way: way_out::State,
    form: Option<Form>,
    waiting: Waiting,
}

/// A printer of the book, worded.
#[derive(Debug)]
struct Row {
    id: PrinterId,
    name: String,
    about: String,
    /// What is put right, paper by paper.
    put_right: Vec<PutRight>,
}

/// What is put right on one paper, worded.
#[derive(Debug)]
struct PutRight {
    sheet: Option<SheetId>,
    paper: String,
    words: String,
}

/// What the book has still to answer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Waiting {
    Nothing,
    /// The form's printer.
    Printer,
    /// What was measured.
    Measured,
}

/// What happens in the room.
#[derive(Debug, Clone)]
pub enum Message {
    /// To the papers.
    Back,
    /// A printer is taken in hand.
    Choose(PrinterId),
    /// The system is asked for its printers.
    AskSystem,
    /// What it answered, or why it did not.
    System(Result<Vec<String>, String>),
    /// The form of a new printer, with its name where the system knows it.
    New(Option<String>),
    /// The form of the printer in hand.
    Edit,
    /// The printer in hand is taken out.
    Remove,
    /// Typed in the form.
    Typed(form::Field, String),
    /// Save the form.
    Save,
    /// Leave the form.
    Close,
    /// The paper it is measured on.
    Paper(Paper),
    /// How what is put right is found.
    By(measuring::By),
    /// Typed what was measured.
    Measured(measuring::Field, String),
    /// Keep what was measured.
    Keep,
    /// Measure anew.
    Again,
    /// What was measured on a paper is forgotten; none for plain paper.
    Forget(Option<SheetId>),
    /// On the calibration page's way out.
    Way(way_out::Message),
}

impl Room for State {
    type Message = Message;

    fn new(shared: &Shared) -> Self {
        let mut state = Self {
            rows: Vec::new(),
            system: System::NotAsked,
            chosen: None,
            papers: combo_box::State::new(Vec::new()),
            paper: Paper::usual(&shared.preferences),
            measuring: Measuring::default(),
            way: way_out::State::new(),
            form: None,
            waiting: Waiting::Nothing,
        };
        state.refresh(shared);
        state
    }

    fn update(&mut self, message: Message, shared: &Shared) -> Action<Message> {
        state::update(self, message, shared)
    }

    fn view<'a>(&'a self, shared: &'a Shared) -> Element<'a, Message> {
        view::page(self, shared)
    }

    fn modal<'a>(&'a self, shared: &'a Shared) -> Option<Element<'a, Message>> {
        match &self.form {
            Some(form) => Some(view::form(form, shared)),
            None => self.way.modal(shared).map(|question| question.map(Message::Way)),
        }
    }

    fn refresh(&mut self, shared: &Shared) {
        self.word(shared);
    }

    fn answered(&mut self, answer: Answer, shared: &Shared) -> Action<Message> {
        match answer {
            Answer::Performed(outcome) => self.performed(outcome, shared),
            _ => Action::None,
        }
    }

    fn open(&mut self, _destination: &Destination, _shared: &Shared) -> Action<Message> {
        self.ask_system()
    }

    fn command(&mut self, command: Command, shared: &Shared) -> Action<Message> {
        match command {
            Command::New if self.form.is_none() => self.update(Message::New(None), shared),
            Command::Accept if self.form.is_some() => self.update(Message::Save, shared),
            Command::Accept => self.update(Message::Keep, shared),
            Command::Back if self.form.is_some() => self.update(Message::Close, shared),
            Command::Back if self.way.close() => Action::None,
            Command::Back => Action::Open(Destination::Papers),
            _ => Action::None,
        }
    }

    fn revert(&mut self, _shared: &Shared) -> bool {
        match &mut self.form {
            Some(form) => form.fields.revert(),
            None => self.measuring.fields.revert() || self.way.revert(),
        }
    }
}
