//! Setup: studio and words for papers, units and currency, how stock is valued, the fair, the look of this machine,
//! the book with its backups and its history. What is chosen holds at once and can be undone; what is typed holds
//! when it is accepted.

mod view;

use super::trouble::backup_words;
use super::welcome::with_ending;
use super::{Action, BookWish, Notice, Room};
use crate::actions;
use crate::book::{Access, BackupFile};
use crate::measure::{Currency, LengthUnit, MassUnit, TemperatureUnit, ThicknessUnit};
use crate::studio::{Language, Settings, ValuationMethod};
use crate::window::desk::{Answer, Request};
use crate::window::machine::{Look, Machine};
use crate::window::widget::Entry;
use crate::window::widget::path_field::{Wanted, ask, typed_path};
use crate::window::{Command, Shared};
use chrono::NaiveDate;
use iced::Element;
use std::path::PathBuf;

/// A field that is typed in and then accepted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Name {
    /// The studio's name.
    Studio,
    /// Its place.
    Place,
    /// Her words for care cards.
    Care,
    /// The maker's story.
    Story,
    /// The currency.
    Currency,
    /// The fair's name.
    Fair,
    /// The fair's first day.
    FairDate,
    /// The last day of the closed period.
    Closed,
}

/// Something that is chosen and holds at once.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Choice {
    /// The language of papers.
    Language(Language),
    /// °C or °F.
    Temperature(TemperatureUnit),
    /// mm or in.
    Length(LengthUnit),
    /// g or oz.
    Mass(MassUnit),
    /// Gauge or mm.
    Thickness(ThicknessUnit),
    /// Point or comma.
    DecimalComma(bool),
    /// First in first out, or average.
    Valuation(ValuationMethod),
    /// What the stock cost, or the latest purchase.
    BookCost(bool),
}

/// What happens in the room.
#[derive(Debug, Clone)]
pub enum Message {
    /// A field was typed in.
    Typed(Name, String),
    /// What was typed shall hold.
    Accept,
    /// The period up to the day that was typed shall be closed.
    ClosePeriod,
    /// No period shall be closed.
    OpenPeriod,
    /// Something was chosen.
    Chosen(Choice),
    /// A look was chosen.
    Look(Look),
    /// A text size was chosen, per cent.
    Text(u16),
    /// The path of another book was typed.
    Other(String),
    /// Another book was asked for in the system's dialog.
    Browse,
    /// It was chosen there, or not.
    Picked(Option<PathBuf>),
    /// Open the other book.
    OpenOther,
    /// Make a new book at that path, with the settings of this one.
    NewAt,
    /// Go to the first page.
    FirstPage,
    /// Make a backup now.
    Backup,
    /// Restore that backup: ask first.
    Restore(PathBuf),
    /// Do restore it.
    RestoreNow,
    /// Do not.
    Keep,
    /// Check the whole book.
    Check,
    /// Undo the last action.
    Undo,
    /// Do it again.
    Redo,
}

/// A backup of the list, in words.
#[derive(Debug, Clone)]
pub(super) struct BackupLine {
    path: PathBuf,
    words: String,
}

/// What the room keeps.
#[derive(Debug)]
pub struct State {
    studio: Entry,
    place: Entry,
    care: Entry,
    story: Entry,
    currency: Entry,
    fair: Entry,
    fair_date: Entry,
    closed: Entry,
    /// Closing was asked for: what is missing is told.
    closing: bool,
    other: Entry,
    other_error: Option<String>,
    backups: Vec<BackupLine>,
    restoring: Option<BackupLine>,
    checked: Option<actions::CheckReport>,
    history: Vec<(String, String)>,
}

impl State {
    fn entry(&mut self, name: Name) -> &mut Entry {
        match name {
            Name::Studio => &mut self.studio,
            Name::Place => &mut self.place,
            Name::Care => &mut self.care,
            Name::Story => &mut self.story,
            Name::Currency => &mut self.currency,
            Name::Fair => &mut self.fair,
            Name::FairDate => &mut self.fair_date,
            Name::Closed => &mut self.closed,
        }
    }

    fn is_changed(&self) -> bool {
        [&self.studio, &self.place, &self.care, &self.story, &self.currency, &self.fair, &self.fair_date]
            .into_iter()
            .any(Entry::is_changed)
    }

    fn typed_currency(&self) -> Result<Currency, String> {
        Currency::from_code(&self.currency.trimmed().to_uppercase()).map_err(|error| error.to_string())
    }

    fn typed_fair_date(&self) -> Result<Option<NaiveDate>, String> {
        if self.fair_date.is_empty() {
            return Ok(None);
        }
        NaiveDate::parse_from_str(self.fair_date.trimmed(), "%Y-%m-%d")
            .map(Some)
            .map_err(|_| "a day as 2026-10-24, or nothing".to_owned())
    }

    fn typed_closed(&self) -> Result<NaiveDate, String> {
        let text = self.closed.trimmed();
        NaiveDate::parse_from_str(text, "%Y-%m-%d")
            .map_err(|_| format!("{text:?} cannot be read: write the day as year-month-day, e.g. 2025-12-31"))
    }

    /// What is wrong with the day of the closed period; that it is only missing is told once closing was asked for.
    fn closed_problem(&self) -> Option<String> {
        if self.closed.is_empty() && !self.closing { None } else { self.typed_closed().err() }
    }

    fn close_period(&mut self, shared: &Shared) -> Action<Message> {
        self.closing = true;
        match self.typed_closed() {
            Ok(until) if shared.settings().closed_until != Some(until) => {
                self.closing = false;
                Action::Do(actions::Action::ClosePeriod(Some(until)))
            }
            _ => Action::None,
        }
    }

    /// The settings with what was typed, where all of it can be accepted.
    fn typed(&self, shared: &Shared) -> Option<Settings> {
        Some(Settings {
            studio_name: self.studio.trimmed().to_owned(),
            studio_place: self.place.trimmed().to_owned(),
            care_words: self.care.trimmed().to_owned(),
            maker_story: self.story.trimmed().to_owned(),
            currency: self.typed_currency().ok()?,
            fair_name: self.fair.trimmed().to_owned(),
            fair_date: self.typed_fair_date().ok()?,
            ..shared.settings().clone()
        })
    }

    fn accept(&self, shared: &Shared) -> Action<Message> {
        match self.typed(shared) {
            Some(settings) if settings != *shared.settings() => Action::Do(actions::Action::SaveSettings(settings)),
            Some(_) => Action::None,
            None => {
                Action::Notify(Notice::Trouble("Setup: a field holds something that cannot be accepted".to_owned()))
            }
        }
    }

    fn choose(choice: Choice, shared: &Shared) -> Action<Message> {
        let mut settings = shared.settings().clone();
        match choice {
            Choice::Language(language) => settings.paper_language = language,
            Choice::Temperature(unit) => settings.temperature = unit,
            Choice::Length(unit) => settings.length = unit,
            Choice::Mass(unit) => settings.mass = unit,
            Choice::Thickness(unit) => settings.thickness = unit,
            Choice::DecimalComma(comma) => settings.decimal_comma = comma,
            Choice::Valuation(method) => settings.valuation = method,
            Choice::BookCost(book) => settings.price_on_book_cost = book,
        }
        if settings == *shared.settings() { Action::None } else { Action::Do(actions::Action::SaveSettings(settings)) }
    }

    /// The typed path of another book, or what to type.
    fn other_path(&mut self) -> Option<PathBuf> {
        let path = typed_path(self.other.text()).map(with_ending);
        if path.is_none() {
            self.other_error = Some("type the path of a .studiobook file".to_owned());
        }
        path
    }
}

impl Room for State {
    type Message = Message;

    fn new(shared: &Shared) -> Self {
        let mut state = Self {
            studio: Entry::default(),
            place: Entry::default(),
            care: Entry::default(),
            story: Entry::default(),
            currency: Entry::default(),
            fair: Entry::default(),
            fair_date: Entry::default(),
            closed: Entry::default(),
            closing: false,
            other: Entry::default(),
            other_error: None,
            backups: Vec::new(),
            restoring: None,
            checked: None,
            history: Vec::new(),
        };
        state.refresh(shared);
        state
    }

    fn update(&mut self, message: Message, shared: &Shared) -> Action<Message> {
        match message {
            Message::Typed(name, text) => self.entry(name).type_in(text),
            Message::Accept => return self.accept(shared),
            Message::ClosePeriod => return self.close_period(shared),
            Message::OpenPeriod => return Action::Do(actions::Action::ClosePeriod(None)),
            Message::Chosen(choice) => return Self::choose(choice, shared),
            Message::Look(look) => return Action::Prefer(Machine { look, ..shared.machine.clone() }),
            Message::Text(percent) => return Action::Prefer(shared.machine.clone().with_text_percent(percent)),
            Message::Other(text) => {
                self.other.type_in(text);
                self.other_error = None;
            }
            Message::Browse => {
                let dialog = ask(Wanted::Open, "A studio book", "", "Studio book", &["studiobook"]);
                return Action::Run(dialog.map(Message::Picked));
            }
            Message::Picked(Some(path)) => return Action::Book(BookWish::Open(path, Access::Write)),
            Message::Picked(None) => {}
            Message::OpenOther => {
                if let Some(path) = self.other_path() {
                    return Action::Book(BookWish::Open(path, Access::Write));
                }
            }
            Message::NewAt => {
                if let Some(path) = self.other_path() {
                    if path.exists() {
                        self.other_error = Some(format!("{} exists already; choose another name", path.display()));
                    } else {
                        let first = actions::Action::SaveSettings(shared.settings().clone());
                        return Action::Book(BookWish::Create(path, vec![first]));
                    }
                }
            }
            Message::FirstPage => return Action::Book(BookWish::Close),
            Message::Backup => return Action::Many(vec![Action::Ask(Request::Backup), Action::Ask(Request::Backups)]),
            Message::Restore(path) => {
                self.restoring = self.backups.iter().find(|line| line.path == path).cloned();
                return Action::Run(crate::window::widget::modal::enter());
            }
            Message::RestoreNow => {
                if let Some(line) = self.restoring.take() {
                    return Action::Book(BookWish::Restore { backup: line.path, book: shared.path.clone() });
                }
            }
            Message::Keep => self.restoring = None,
            Message::Check => return Action::Ask(Request::Check),
            Message::Undo => return Action::Ask(Request::Undo),
            Message::Redo => return Action::Ask(Request::Redo),
        }
        Action::None
    }

    fn view<'a>(&'a self, shared: &'a Shared) -> Element<'a, Message> {
        view::page(self, shared)
    }

    fn modal<'a>(&'a self, _shared: &'a Shared) -> Option<Element<'a, Message>> {
        self.restoring.as_ref().map(|line| view::restoring(&line.words))
    }

    fn refresh(&mut self, shared: &Shared) {
        let settings = shared.settings();
        let fresh = [
            (Name::Studio, settings.studio_name.clone()),
            (Name::Place, settings.studio_place.clone()),
            (Name::Care, settings.care_words.clone()),
            (Name::Story, settings.maker_story.clone()),
            (Name::Currency, settings.currency.code().to_owned()),
            (Name::Fair, settings.fair_name.clone()),
            (Name::FairDate, settings.fair_date.map(|date| date.to_string()).unwrap_or_default()),
            (Name::Closed, settings.closed_until.map(|date| date.to_string()).unwrap_or_default()),
        ];
        for (name, text) in fresh {
            let entry = self.entry(name);
            // What is half-typed stays, unless it is what has just been accepted.
            if !entry.is_changed() || entry.trimmed() == text {
                entry.set(text);
            }
        }
        self.history = shared
            .snapshot
            .history
            .iter()
            .map(|entry| {
                let name = if entry.undone { format!("{} (undone)", entry.name) } else { entry.name.clone() };
                (entry.at.clone(), name)
            })
            .collect();
    }

    fn answered(&mut self, answer: Answer, _shared: &Shared) -> Action<Message> {
        match answer {
            Answer::Backups(Ok(backups)) => {
                self.backups = backups
                    .iter()
                    .map(|backup: &BackupFile| BackupLine { path: backup.path.clone(), words: backup_words(backup) })
                    .collect();
            }
            Answer::Checked(Ok(report)) => self.checked = Some(report),
            _ => {}
        }
        Action::None
    }

    fn open(&mut self, _destination: &super::Destination, _shared: &Shared) -> Action<Message> {
        Action::Ask(Request::Backups)
    }

    fn command(&mut self, command: Command, shared: &Shared) -> Action<Message> {
        match command {
            Command::Accept if !shared.read_only() => self.accept(shared),
            Command::Back => {
                self.restoring = None;
                Action::None
            }
            _ => Action::None,
        }
    }

    #[allow(clippy::unnecessary_fold)] // `any` would stop at the first; every field goes back
    fn revert(&mut self, _shared: &Shared) -> bool {
        [Name::Studio, Name::Place, Name::Care, Name::Story, Name::Currency, Name::Fair, Name::FairDate, Name::Closed]
            .into_iter()
            .fold(false, |reverted, name| self.entry(name).revert() || reverted)
    }
}
