//! The root of the window: opens a book, shows its rooms, carries out what they want.

mod shown;

use super::clock::Clock;
use super::desk::{Answer, Desk, Opened, Reply, Request, Start};
use super::find::{self, Find};
use super::machine::{self, Machine};
use super::rooms::{RoomMessage, Studio, Wish};
use super::screen::{Action, BookWish, Destination, Notice, trouble, welcome};
use super::shared::Shared;
use super::shortcut::{Command, RoomName};
use super::theme::{self, Palette};
use super::toast::{self, Toasts};
use super::widget::{modal, reveal};
use crate::actions::{Outcome, Refusal};
use crate::book::{Access, BookError};
use crate::measure::Preferences;
use iced::{Color, Size, Task, Theme};
use std::path::PathBuf;

/// Where the window finds what does not belong to a book.
#[derive(Debug, Clone)]
pub struct Places {
    /// The machine's settings file.
    pub settings_file: Option<PathBuf>,
    /// Where the book lies when nobody says otherwise.
    pub default_book: Option<PathBuf>,
    /// The book asked for on the command line.
    pub book: Option<PathBuf>,
}

/// What the window shows.
enum Stage {
    /// A book is being opened.
    Opening(PathBuf),
    /// No book yet.
    Welcome(welcome::State),
    /// A book that cannot be opened.
    Trouble(trouble::State),
    /// A book.
    Studio(Box<Studio>),
}

/// What happens in the window.
#[derive(Debug, Clone)]
pub enum Message {
    /// In one of the rooms.
    Room(RoomMessage),
    /// On the first page.
    Welcome(welcome::Message),
    /// On the page of a book that cannot be opened.
    Trouble(trouble::Message),
    /// A book was opened, or not; its path.
    Opened(PathBuf, Result<Opened, BookError>),
    /// A backup was put in the place of the book, or not; the book's path.
    Restored(PathBuf, Result<(), BookError>),
    /// The book answered a request of that room, or of the root itself.
    Replied(Option<RoomName>, Box<Result<Reply, BookError>>),
    /// A key was pressed that means something anywhere.
    Command(Command),
    /// A bead was pressed.
    Go(RoomName),
    /// In a toast.
    Toast(toast::Message),
    /// In the find box.
    Find(find::Message),
    /// Open the find box.
    OpenFind,
    /// Open the table of keys.
    OpenHelp,
    /// The window has another size; pixels as the window counts them.
    Resized(Size),
    /// The system has another look.
    System(iced::theme::Mode),
}

/// The window.
pub struct App {
    clock: Clock,
    machine: Machine,
    places: Places,
    system: iced::theme::Mode,
    window: Size,
    stage: Stage,
    toasts: Toasts,
    find: Option<Find>,
    help: bool,
    /// How many messages there have been; wraps round.
    turn: u32,
}

impl App {
    /// The window as it starts: opens the book asked for, the one opened last, or the one at the default place; with
    /// none of them, the first page.
    pub fn new(places: Places, clock: Clock) -> (Self, Task<Message>) {
        let machine = places.settings_file.as_deref().map(Machine::read).unwrap_or_default();
        let there = |path: &PathBuf| path.exists();
        let book = places
            .book
            .clone()
            .or_else(|| machine.last_book.clone().filter(there))
            .or_else(|| places.default_book.clone().filter(there));
        let mut app = Self {
            clock,
            machine,
            stage: Stage::Welcome(welcome::State::new(places.default_book.as_deref())),
            places,
            system: iced::theme::Mode::None,
            window: Size::new(1280.0, 800.0),
            toasts: Toasts::default(),
            find: None,
            help: false,
            turn: 0,
        };
        let opening = match book {
            Some(path) => app.open(path, Start::Open(Access::Write)),
            None => Task::none(),
        };
        (app, Task::batch([iced::system::theme().map(Message::System), opening]))
    }

    /// The window's title.
    pub fn title(&self) -> String {
        match &self.stage {
            Stage::Studio(studio) => {
                let name = studio.shared.settings().studio_name.trim();
                let name = if name.is_empty() { book_name(&studio.shared.path) } else { name.to_owned() };
                format!("{} · {name} · Enamelwright", studio.room.words())
            }
            _ => "Enamelwright".to_owned(),
        }
    }

    fn palette(&self) -> &'static Palette {
        self.machine.look.palette(self.system)
    }

    /// The window's theme.
    pub fn theme(&self) -> Theme {
        theme::theme(self.palette())
    }

    /// Ground and ink. The ground differs by less than a pixel can show after every message: the software renderer then
    /// paints the window once instead of walking hundreds of small rectangles, which is faster and leaves no trace of
    /// what stood at another place before.
    pub fn style(&self, theme: &Theme) -> iced::theme::Style {
        let colors = theme::palette(theme);
        let nudge = if self.turn.is_multiple_of(2) { 0.0 } else { 1e-6 };
        iced::theme::Style {
            background_color: Color { r: colors.ground.r - nudge, ..colors.ground },
            text_color: colors.ink,
        }
    }

    /// Text size, 1.0 to 2.0.
    pub fn scale(&self) -> f32 {
        self.machine.scale()
    }

    /// The words on screen in toasts, oldest first.
    pub fn notices(&self) -> Vec<String> {
        self.toasts.words().map(str::to_owned).collect()
    }

    /// What all rooms see, once a book is open.
    pub fn shared(&self) -> Option<&Shared> {
        match &self.stage {
            Stage::Studio(studio) => Some(&studio.shared),
            _ => None,
        }
    }

    /// The room on screen, once a book is open.
    pub fn room(&self) -> Option<RoomName> {
        match &self.stage {
            Stage::Studio(studio) => Some(studio.room),
            _ => None,
        }
    }

    /// Something happened.
    pub fn update(&mut self, message: Message) -> Task<Message> {
        self.turn = self.turn.wrapping_add(1);
        match message {
            Message::Room(message) => match &mut self.stage {
                Stage::Studio(studio) => {
                    let (room, wish) = studio.update(message);
                    self.carry_out(room, wish)
                }
                _ => Task::none(),
            },
            Message::Welcome(message) => match &mut self.stage {
                Stage::Welcome(page) => match page.update(message) {
                    welcome::Action::None => Task::none(),
                    welcome::Action::Run(task) => task.map(Message::Welcome),
                    welcome::Action::Wish(wish) => self.book(wish),
                },
                _ => Task::none(),
            },
            Message::Trouble(message) => match &mut self.stage {
                Stage::Trouble(page) => match page.update(message) {
                    trouble::Action::None => Task::none(),
                    trouble::Action::Run(task) => task.map(Message::Trouble),
                    trouble::Action::Wish(wish) => self.book(wish),
                },
                _ => Task::none(),
            },
            Message::Opened(path, opened) => self.opened(path, opened),
            Message::Restored(path, done) => match done {
                Ok(()) => {
                    self.toasts.show(Notice::Done("The backup was restored".to_owned()), toast::Undo::None);
                    self.open(path, Start::Open(Access::Write))
                }
                Err(error) => {
                    self.stage = Stage::Trouble(trouble::State::new(path, error));
                    Task::none()
                }
            },
            Message::Replied(room, reply) => self.replied(room, *reply),
            Message::Command(command) => self.command(command),
            Message::Go(room) => self.go(&room.destination()),
            Message::Toast(message) => {
                if self.toasts.update(message) {
                    self.ask(None, Request::Undo)
                } else {
                    Task::none()
                }
            }
            Message::Find(message) => self.found(message),
            Message::OpenFind => self.command(Command::Find),
            Message::OpenHelp => self.command(Command::Help),
            Message::Resized(size) => {
                // The event counts in pixels at the present text size; kept are pixels at 100 %.
                self.window = Size::new(size.width * self.scale(), size.height * self.scale());
                self.measure();
                Task::none()
            }
            Message::System(mode) => {
                self.system = mode;
                self.measure();
                Task::none()
            }
        }
    }

    /// The window's size in pixels at the present text size.
    fn page_size(&self) -> Size {
        Size::new(self.window.width / self.scale(), self.window.height / self.scale())
    }

    /// Tells the rooms about look and size.
    fn measure(&mut self) {
        let palette = self.palette();
        let size = self.page_size();
        if let Stage::Studio(studio) = &mut self.stage {
            studio.shared.machine = self.machine.clone();
            studio.shared.palette = palette;
            studio.shared.size = size;
        }
    }

    // --- Books --------------------------------------------------------------------------------------------------

    fn open(&mut self, path: PathBuf, start: Start) -> Task<Message> {
        self.find = None;
        self.help = false;
        // Leaves the book that is open, so that opening it again is not refused.
        self.stage = Stage::Opening(path.clone());
        let opening = Desk::start(&path, start, self.clock.now());
        Task::perform(opening, move |opened| Message::Opened(path.clone(), opened))
    }

    fn opened(&mut self, path: PathBuf, opened: Result<Opened, BookError>) -> Task<Message> {
        match opened {
            Ok(Opened { desk, snapshot, path }) => {
                self.machine.last_book = Some(path.clone());
                let shared = Shared {
                    preferences: Preferences::from(&*snapshot.settings),
                    snapshot,
                    path,
                    today: self.clock.today(),
                    clock: self.clock,
                    machine: self.machine.clone(),
                    palette: self.palette(),
                    size: self.page_size(),
                };
                self.stage = Stage::Studio(Box::new(Studio::new(desk, shared)));
                self.remember();
                self.go(&Destination::Bench)
            }
            Err(error) => {
                self.stage = Stage::Trouble(trouble::State::new(path, error));
                Task::none()
            }
        }
    }

    fn book(&mut self, wish: BookWish) -> Task<Message> {
        match wish {
            BookWish::Open(path, access) => self.open(path, Start::Open(access)),
            BookWish::Create(path, actions) => self.open(path, Start::Create(actions)),
            BookWish::Restore { backup, book } => {
                self.stage = Stage::Opening(book.clone());
                let restoring = super::desk::restore(&backup, &book, self.clock.now());
                Task::perform(restoring, move |done| Message::Restored(book.clone(), done))
            }
            BookWish::Close => {
                self.stage = Stage::Welcome(welcome::State::new(self.places.default_book.as_deref()));
                Task::none()
            }
        }
    }

    /// Writes the machine's settings; says so when that is not possible, once it matters.
    fn remember(&mut self) {
        if let Some(file) = &self.places.settings_file
            && let Err(error) = self.machine.write(file)
        {
            let words = format!("look and text size could not be kept in {}: {error}", file.display());
            self.toasts.show(Notice::Trouble(words), toast::Undo::None);
        }
    }

    // --- What rooms want ----------------------------------------------------------------------------------------

    fn carry_out(&mut self, room: RoomName, wish: Wish) -> Task<Message> {
        match wish {
            Action::None => Task::none(),
            Action::Run(task) => task,
            Action::Do(action) => self.ask(Some(room), Request::Perform(action)),
            Action::Ask(request) => self.ask(Some(room), request),
            Action::Notify(notice) => {
                self.toasts.show(notice, toast::Undo::None);
                Task::none()
            }
            Action::Open(destination) => self.go(&destination),
            Action::Prefer(machine) => {
                self.machine = Machine { last_book: self.machine.last_book.clone(), ..machine };
                self.measure();
                self.remember();
                Task::none()
            }
            Action::Book(wish) => self.book(wish),
            Action::Many(wishes) => Task::batch(wishes.into_iter().map(|wish| self.carry_out(room, wish))),
        }
    }

    fn ask(&mut self, room: Option<RoomName>, request: Request) -> Task<Message> {
        let now = self.clock.now();
        let Stage::Studio(studio) = &mut self.stage else { return Task::none() };
        let answer = studio.desk.ask(request, now);
        Task::perform(answer, move |reply| Message::Replied(room, Box::new(reply)))
    }

    fn replied(&mut self, room: Option<RoomName>, reply: Result<Reply, BookError>) -> Task<Message> {
        let today = self.clock.today();
        let Stage::Studio(studio) = &mut self.stage else { return Task::none() };
        let Reply { answer, snapshot } = match reply {
            Ok(reply) => reply,
            Err(error) => {
                self.toasts.show(Notice::Trouble(error.to_string()), toast::Undo::None);
                return Task::none();
            }
        };
        let mut follow = None;
        if let Some(snapshot) = snapshot {
            studio.shared.preferences = Preferences::from(&*snapshot.settings);
            studio.shared.snapshot = snapshot;
            studio.shared.today = today;
            studio.refresh();
            follow = Some((studio.room, studio.refreshed()));
        }
        if let Some((notice, undo)) = notice_of(&answer) {
            self.toasts.show(notice, undo);
        }
        let wish = room.map(|room| (room, studio.answered(room, answer)));
        Task::batch(follow.into_iter().chain(wish).map(|(room, wish)| self.carry_out(room, wish)))
    }

    fn go(&mut self, destination: &Destination) -> Task<Message> {
        self.find = None;
        self.help = false;
        let Stage::Studio(studio) = &mut self.stage else { return Task::none() };
        let wish = studio.open(destination);
        let room = studio.room;
        self.carry_out(room, wish)
    }

    // --- Keys ---------------------------------------------------------------------------------------------------

    fn command(&mut self, command: Command) -> Task<Message> {
        match command {
            Command::Next => reveal::step(reveal::Towards::Next, self.within()),
            Command::Previous => reveal::step(reveal::Towards::Previous, self.within()),
            Command::Larger | Command::Smaller => {
                let step = if command == Command::Larger { 10 } else { -10 };
                let percent = self.machine.text_percent.saturating_add_signed(step);
                self.machine = self.machine.clone().with_text_percent(percent);
                self.measure();
                self.remember();
                Task::none()
            }
            Command::Quit => iced::exit(),
            Command::Help => {
                self.find = None;
                self.help = !self.help;
                if self.help { modal::enter() } else { Task::none() }
            }
            Command::Back if self.help || self.find.is_some() => {
                self.help = false;
                self.find = None;
                Task::none()
            }
            _ if self.help || (self.find.is_some() && command != Command::Find) => Task::none(),
            Command::Find => {
                let Stage::Studio(studio) = &self.stage else { return Task::none() };
                self.find = Some(Find::open(&studio.shared.snapshot));
                modal::enter().chain(reveal::focus(find::FIELD))
            }
            Command::Go(room) => self.go(&room.destination()),
            Command::Undo => {
                let Stage::Studio(studio) = &mut self.stage else { return Task::none() };
                if studio.revert() { Task::none() } else { self.ask(None, Request::Undo) }
            }
            Command::Redo => {
                if let Stage::Studio(studio) = &mut self.stage
                    && studio.again()
                {
                    return Task::none();
                }
                self.ask(None, Request::Redo)
            }
            Command::New | Command::Accept | Command::Back => {
                let Stage::Studio(studio) = &mut self.stage else { return Task::none() };
                let wish = studio.command(command);
                let room = studio.room;
                self.carry_out(room, wish)
            }
        }
    }

    fn within(&self) -> reveal::Within {
        let room = matches!(&self.stage, Stage::Studio(studio) if studio.modal().is_some());
        if self.help || self.find.is_some() || room { reveal::Within::Modal } else { reveal::Within::Window }
    }

    fn found(&mut self, message: find::Message) -> Task<Message> {
        let (Some(find), Stage::Studio(studio)) = (&mut self.find, &self.stage) else { return Task::none() };
        match find.update(message, &studio.shared.snapshot) {
            Some(destination) => self.go(&destination),
            None => Task::none(),
        }
    }
}

/// What a toast says about an answer, if anything.
fn notice_of(answer: &Answer) -> Option<(Notice, toast::Undo)> {
    let told = |done: &Result<Outcome, Refusal>, before: &str, undo| match done {
        Ok(outcome) => (Notice::Done(format!("{before}{}", outcome.name)), undo),
        Err(refusal) => (Notice::Trouble(refusal.to_string()), toast::Undo::None),
    };
    match answer {
        Answer::Performed(done) => Some(told(done, "", toast::Undo::Offered)),
        Answer::Undone(done) => Some(told(done, "Undone: ", toast::Undo::None)),
        Answer::Redone(done) => Some(told(done, "Done again: ", toast::Undo::Offered)),
        Answer::Movements(_, Err(error)) | Answer::Photo(_, Err(error)) | Answer::Picture(_, Err(error)) => {
            Some((Notice::Trouble(error.to_string()), toast::Undo::None))
        }
        Answer::BackedUp(Ok(path)) => {
            Some((Notice::Done(format!("Backup made: {}", path.display())), toast::Undo::None))
        }
        Answer::StockValue(Err(error))
        | Answer::PaperStore(Err(error))
        | Answer::Checked(Err(error))
        | Answer::BackedUp(Err(error))
        | Answer::Backups(Err(error)) => Some((Notice::Trouble(error.to_string()), toast::Undo::None)),
        _ => None,
    }
}

/// What a book without a studio's name is called.
fn book_name(path: &std::path::Path) -> String {
    path.file_stem().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default()
}

/// Where the window finds things on this machine.
pub(super) fn places(book: Option<PathBuf>) -> Places {
    Places { settings_file: machine::settings_file(), default_book: machine::default_book(), book }
}
