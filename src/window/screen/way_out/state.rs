//! What the way out keeps, and what it does.

use super::going::{Going, Leaving, Target};
use super::making::{Event, Made, Making, Order};
use super::printer_list::PrinterList;
use crate::exchange::print_queue::can_print;
use crate::measure::{Preferences, parse};
use crate::paper::{Finish, PageRange};
use crate::studio::Printer;
use crate::window::Shared;
use crate::window::screen::{Action, Notice};
use crate::window::widget::path_field::{Wanted, ask, typed_path};
use crate::window::widget::{Entry, modal};
use std::path::PathBuf;

/// Most copies that are asked of a printer at once.
pub(super) const MOST_COPIES: u32 = 999;

/// What happens on the way out.
#[derive(Debug, Clone)]
pub enum Message {
    /// Typed into the path of the file.
    Path(String),
    /// A place for the file is asked for in the system's dialog.
    Browse,
    /// It was chosen there, or not.
    Picked(Option<PathBuf>),
    /// Save the PDF at the typed path.
    Save,
    /// Open it in the system's viewer.
    View,
    /// The list of printers was opened: the system is asked for them.
    AskPrinters,
    /// What the system answered; nothing where it could not be asked.
    Printers(Option<Vec<String>>),
    /// A printer was chosen.
    Printer(String),
    /// The pages are put right for the printer, or not.
    PutRight,
    /// Typed into the copies.
    Copies(String),
    /// Typed into the pages.
    Pages(String),
    /// Send it to the printer.
    Print,
    /// Yes to the question before the PDF is made.
    Yes,
    /// No.
    No,
    /// Word of the PDF being made.
    Heard(Event),
    /// Break it off.
    Cancel,
}

/// What came of a message.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Then {
    /// Nothing the room need know.
    Nothing,
    /// The PDF is saved, opened or handed to the printer; see [`State::sent`].
    Sent(Target),
}

/// What went out last.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Sent {
    /// Which pages; none for all.
    pub pages: Option<PageRange>,
    /// Copies of each; 1 where it was no printer it went to.
    pub copies: u32,
}

/// The question before a PDF is made.
#[derive(Debug, Clone)]
pub(super) struct Question {
    target: Target,
    /// What speaks against printing it.
    pub(super) stops: Vec<String>,
    /// A file that would be replaced.
    pub(super) replaces: Option<PathBuf>,
}

/// What the way out keeps.
#[derive(Debug)]
pub struct State {
    pub(super) path: Entry,
    /// The path that was proposed.
    proposed: String,
    file_name: String,
    pub(super) path_problem: Option<String>,
    pub(super) printers: PrinterList,
    pub(super) put_right: bool,
    pub(super) copies: Entry,
    pub(super) pages: Entry,
    pub(super) can_print: bool,
    pub(super) question: Option<Question>,
    pub(super) making: Option<Making>,
    number: u64,
    sent: Sent,
}

impl Default for State {
    /// One that is worth nothing but to stand in for another while that is at work.
    fn default() -> Self {
        Self {
            path: Entry::default(),
            proposed: String::new(),
            file_name: String::new(),
            path_problem: None,
            printers: PrinterList::new(),
            put_right: true,
            copies: Entry::new("1"),
            pages: Entry::default(),
            can_print: false,
            question: None,
            making: None,
            number: 0,
            sent: Sent::default(),
        }
    }
}

impl State {
    /// Nothing typed, no printer named.
    pub fn new() -> Self {
        Self { can_print: can_print(), ..Self::default() }
    }

    /// Proposes a file of that name beside the book, unless a path was typed; and takes the printers of the book.
    pub fn propose(&mut self, shared: &Shared, file_name: &str) {
        self.printers.follow(&shared.snapshot);
        let typed = !self.path.is_empty() && self.path.text() != self.proposed;
        file_name.clone_into(&mut self.file_name);
        self.proposed = shared.path.with_file_name(file_name).display().to_string();
        if !typed {
            self.path.set(self.proposed.clone());
            self.path_problem = None;
        }
    }

    /// Asks the system for its printers, when a room is opened. Without it they are asked for when the list is opened.
    pub fn ask_printers(&mut self) -> Action<Message> {
        if self.can_print { Action::Run(self.printers.ask()) } else { Action::None }
    }

    /// For the page a printer is measured on: that printer, and nothing put right unless it is asked for.
    pub fn measure(&mut self, printer: &str) {
        printer.clone_into(&mut self.printers.chosen);
        self.put_right = false;
    }

    /// The printer that is chosen, where the book knows it: symbols are made of whole dots of it.
    pub fn printer(&self) -> Option<&Printer> {
        self.printers.printer()
    }

    /// What went out last.
    pub fn sent(&self) -> &Sent {
        &self.sent
    }

    /// A PDF is being made.
    pub fn is_at_work(&self) -> bool {
        self.making.is_some()
    }

    /// Breaks off the PDF being made.
    pub fn stop(&mut self) {
        if let Some(making) = &mut self.making {
            making.stop();
        }
    }

    /// A question lies over the page.
    pub fn is_asking(&self) -> bool {
        self.question.is_some()
    }

    /// Closes the question; true where there was one.
    pub fn close(&mut self) -> bool {
        self.question.take().is_some()
    }

    /// Gives the fields their former texts back; true when that changed something.
    pub fn revert(&mut self) -> bool {
        let reverted = self.path.revert() | self.copies.revert() | self.pages.revert();
        if reverted {
            self.path_problem = None;
        }
        reverted
    }

    pub(super) fn typed_copies(&self, preferences: &Preferences) -> Result<u32, String> {
        parse::parse_count(self.copies.text(), 1..=MOST_COPIES, preferences).map_err(|problem| problem.to_string())
    }

    /// The pages as typed; none for all.
    pub(super) fn typed_pages(&self) -> Result<Option<PageRange>, String> {
        if self.pages.is_empty() {
            return Ok(None);
        }
        PageRange::parse(self.pages.text()).map(Some).map_err(|problem| problem.to_string())
    }

    /// Something happened. `going` says what goes out, or why it cannot, and is asked when it goes.
    pub fn update(
        &mut self,
        message: Message,
        going: &dyn Fn() -> Result<Going, String>,
        shared: &Shared,
    ) -> (Action<Message>, Then) {
        self.update_leaving(message, &|| going().map(Leaving::from), shared)
    }

    /// As [`State::update`], for what is asked about first, or laid out only when it goes out. A room whose other fields
    /// say what leaves takes this state out of itself meanwhile, with [`std::mem::take`].
    pub fn update_leaving(
        &mut self,
        message: Message,
        leaving: &dyn Fn() -> Result<Leaving, String>,
        shared: &Shared,
    ) -> (Action<Message>, Then) {
        self.printers.follow(&shared.snapshot);
        let action = match message {
            Message::Path(text) => {
                self.path.type_in(text);
                self.path_problem = None;
                Action::None
            }
            Message::Browse => {
                Action::Run(ask(Wanted::Save, "Save as PDF", &self.file_name, "PDF", &["pdf"]).map(Message::Picked))
            }
            Message::Picked(None) => Action::None,
            Message::Picked(Some(path)) => {
                self.path.type_in(path.display().to_string());
                self.path_problem = None;
                // The dialog has asked about a file that is there already.
                self.ask(Target::File(path), None, leaving, shared)
            }
            Message::Save => self.save(leaving, shared),
            Message::View => self.ask(Target::Viewer, None, leaving, shared),
            Message::AskPrinters => return (self.ask_printers(), Then::Nothing),
            Message::Printers(told) => {
                self.printers.heard(told);
                Action::None
            }
            Message::Printer(name) => {
                self.printers.chosen = name;
                Action::None
            }
            Message::PutRight => {
                self.put_right = !self.put_right;
                Action::None
            }
            Message::Copies(text) => {
                self.copies.type_in(text);
                Action::None
            }
            Message::Pages(text) => {
                self.pages.type_in(text);
                Action::None
            }
            Message::Print => {
                let printer = self.printers.queue().to_owned();
                self.ask(Target::Printer(printer), None, leaving, shared)
            }
            Message::Yes => match self.question.take() {
                Some(question) => match leaving() {
                    Ok(leaving) => self.send(question.target, leaving, shared),
                    Err(reason) => Action::Notify(Notice::Trouble(reason)),
                },
                None => Action::None,
            },
            Message::No => {
                let _ = self.close();
                Action::None
            }
            Message::Heard(event) => return self.heard(event),
            Message::Cancel => {
                self.stop();
                Action::None
            }
        };
        (action, Then::Nothing)
    }

    fn save(&mut self, leaving: &dyn Fn() -> Result<Leaving, String>, shared: &Shared) -> Action<Message> {
        let Some(mut path) = typed_path(self.path.text()) else {
            self.path_problem = Some(format!("type a path, e.g. ~/{}", self.file_name));
            return Action::None;
        };
        if path.extension().is_none() && !path.is_dir() {
            let _ = path.set_extension("pdf");
        }
        let replaces = path.is_file().then(|| path.clone());
        self.ask(Target::File(path), replaces, leaving, shared)
    }

    /// Sets the making going, after a question where something speaks against it or a file would be replaced.
    fn ask(
        &mut self,
        target: Target,
        replaces: Option<PathBuf>,
        leaving: &dyn Fn() -> Result<Leaving, String>,
        shared: &Shared,
    ) -> Action<Message> {
        match leaving() {
            Err(reason) => Action::Notify(Notice::Trouble(reason)),
            Ok(leaving) if leaving.stops.is_empty() && replaces.is_none() => self.send(target, leaving, shared),
            Ok(Leaving { stops, .. }) => {
                self.question = Some(Question { target, stops, replaces });
                Action::Run(modal::enter())
            }
        }
    }

    fn send(&mut self, target: Target, leaving: Leaving, shared: &Shared) -> Action<Message> {
        if self.is_at_work() {
            return Action::Notify(Notice::Trouble("another PDF is still being made".to_owned()));
        }
        // Copies and pages are the printer's; a file has them all, once.
        let to_printer = matches!(target, Target::Printer(_));
        let (copies, range) = if to_printer {
            let copies = self.typed_copies(&shared.preferences).map_err(|problem| format!("Copies: {problem}"));
            match (copies, self.typed_pages()) {
                (Ok(copies), Ok(range)) => (copies, range),
                (Err(problem), _) | (_, Err(problem)) => return Action::Notify(Notice::Trouble(problem)),
            }
        } else {
            (1, None)
        };
        let finish = Finish {
            correction: self.printers.correction(leaving.sheet).filter(|_| self.put_right),
            dots_per_inch: self.printer().map(|printer| printer.dots_per_inch),
        };
        let range = range.map(|range| (range, self.pages.trimmed().to_owned()));
        let order = Order { target, finish, range, copies, now: shared.clock.now() };
        self.number += 1;
        let (making, task) = Making::begin(self.number, leaving, order);
        self.making = Some(making);
        Action::Run(task)
    }

    fn heard(&mut self, event: Event) -> (Action<Message>, Then) {
        let (Event::Come(number, ..) | Event::Made(number, _)) = event;
        let Some(making) = self.making.as_mut().filter(|making| making.number == number) else {
            return (Action::None, Then::Nothing);
        };
        match event {
            Event::Come(_, stage, done, of) => {
                making.come(stage, done, of);
                (Action::None, Then::Nothing)
            }
            Event::Made(_, made) => {
                let order = making.order.clone();
                self.making = None;
                match made {
                    Made::Out(words) => {
                        self.path.settle();
                        self.sent = Sent { pages: order.range.map(|(range, _)| range), copies: order.copies };
                        (Action::Notify(Notice::Done(words)), Then::Sent(order.target))
                    }
                    Made::Stopped => {
                        let words = "Broken off: nothing was written".to_owned();
                        (Action::Notify(Notice::Done(words)), Then::Nothing)
                    }
                    Made::Failed(reason) => (Action::Notify(Notice::Trouble(reason)), Then::Nothing),
                }
            }
        }
    }
}
