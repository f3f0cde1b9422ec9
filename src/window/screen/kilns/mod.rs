//! The kilns: what was measured of them and what follows from it, their days, the figures their meter tells, how worn they
//! are; what energy costs by time of day.

mod day_form;
mod figures;
mod form;
mod form_view;
mod state;
mod tariff;
mod tariff_view;
mod view;

use super::kiln::Day;
use super::{Action, Destination, Room};
use crate::kiln::fit::{HeatFit, MeterReading};
use crate::kiln::hours::HotHours;
use crate::studio::{KilnDayId, KilnId, ShareLoadBy};
use crate::window::{Answer, Command, Shared};
use day_form::DayForm;
use figures::{DayRow, Figures};
use form::Form;
use iced::Element;
use tariff::Tariff;

/// Days of the list of days at first, and how many more at a time.
const DAYS_BACK: u64 = 60;

/// What the room keeps.
#[derive(Debug)]
pub struct State {
    kilns: Vec<(KilnId, String, bool)>,
    chosen: Option<KilnId>,
    /// What follows from its measurements.
    figures: Option<Figures>,
    days: Vec<DayRow>,
    /// The day that is drawn.
    drawn: Option<Day>,
    back: u64,
    readings: Vec<MeterReading>,
    fit: Option<HeatFit>,
    fit_words: Vec<[String; 4]>,
    hours: Option<HotHours>,
    form: Option<Form>,
    day_form: Option<DayForm>,
    tariff: Option<Tariff>,
    waiting: Waiting,
    version: u64,
}

/// What the book has still to answer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Waiting {
    Nothing,
    Kiln,
    Day,
    Tariff,
}

/// What heats, as it is chosen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Heats {
    /// An electric kiln.
    Electric,
    /// A torch.
    Torch,
}

/// A part that wears.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Part {
    /// The elements.
    Elements,
    /// The thermocouple.
    Thermocouple,
}

/// What happens in the room.
#[derive(Debug, Clone)]
pub enum Message {
    /// To the kiln.
    Back,
    /// A kiln is taken in hand.
    Choose(KilnId),
    /// The form of a new kiln.
    New,
    /// The form of the kiln in hand.
    Edit,
    /// It is set aside, or taken back.
    SetAside,
    /// Typed in the form.
    Typed(form::Field, String),
    /// What heats.
    Heats(Heats),
    /// How a load's cost is shared.
    Share(ShareLoadBy),
    /// Save what is open.
    Save,
    /// Leave what is open.
    Close,
    /// The form of a day; none for a new one.
    Day(Option<KilnDayId>),
    /// Typed in it.
    DayTyped(day_form::Field, String),
    /// A day is drawn, by its place.
    Draw(usize),
    /// Days further back.
    Earlier,
    /// Use the fitted figures.
    AcceptFit,
    /// Use the three measurements again.
    DropFit,
    /// A part was renewed today.
    Renewed(Part),
    /// The tariff is opened.
    Tariff,
    /// In the tariff.
    TariffChange(tariff::Change),
}

impl Room for State {
    type Message = Message;

    fn new(shared: &Shared) -> Self {
        let mut state = Self {
            kilns: Vec::new(),
            chosen: None,
            figures: None,
            days: Vec::new(),
            drawn: None,
            back: DAYS_BACK,
            readings: Vec::new(),
            fit: None,
            fit_words: Vec::new(),
            hours: None,
            form: None,
            day_form: None,
            tariff: None,
            waiting: Waiting::Nothing,
            version: 0,
        };
        state.refresh(shared);
        state
    }

    fn update(&mut self, message: Message, shared: &Shared) -> Action<Message> {
        state::update(self, message, shared)
    }

    fn view<'a>(&'a self, shared: &'a Shared) -> Element<'a, Message> {
        match (&self.form, &self.tariff) {
            (Some(form), _) => form_view::page(form, shared),
            (None, Some(tariff)) => tariff_view::page(tariff, shared),
            (None, None) => view::page(self, shared),
        }
    }

    fn modal<'a>(&'a self, shared: &'a Shared) -> Option<Element<'a, Message>> {
        self.day_form.as_ref().map(|form| form_view::day(form, shared))
    }

    fn refresh(&mut self, shared: &Shared) {
        self.word(shared);
    }

    fn refreshed(&mut self, shared: &Shared) -> Action<Message> {
        self.ask(shared)
    }

    fn answered(&mut self, answer: Answer, shared: &Shared) -> Action<Message> {
        self.told(answer, shared)
    }

    fn open(&mut self, _destination: &Destination, shared: &Shared) -> Action<Message> {
        self.ask(shared)
    }

    fn command(&mut self, command: Command, shared: &Shared) -> Action<Message> {
        let open = self.form.is_some() || self.day_form.is_some() || self.tariff.is_some();
        match command {
            Command::New if !open => self.update(Message::New, shared),
            Command::Accept if open => self.update(Message::Save, shared),
            Command::Back if open => self.update(Message::Close, shared),
            Command::Back => Action::Open(Destination::Kiln),
            _ => Action::None,
        }
    }

    fn revert(&mut self, _shared: &Shared) -> bool {
        match (&mut self.day_form, &mut self.form, &mut self.tariff) {
            (Some(form), ..) => form.fields.revert(),
            (None, Some(form), _) => form.fields.revert(),
            (None, None, Some(tariff)) => tariff.fields.revert(),
            (None, None, None) => false,
        }
    }
}
