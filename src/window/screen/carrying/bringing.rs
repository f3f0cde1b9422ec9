//! A file into the book: chosen, read, looked at, brought in.

mod open;

use super::Message;
use super::looked::{self, Looked, Told};
use crate::actions::{Outcome, Refusal};
use crate::exchange::table::columns::DecimalMark;
use crate::exchange::table::{DayOrder, Field, Heading, ImportKind, Mapping, Workbook};
use crate::measure::NumberStyle;
use crate::window::desk::Watch;
use crate::window::screen::Action;
use crate::window::widget::listing::Event;
use crate::window::widget::path_field::{Wanted, ask, typed_path};
use crate::window::widget::{Entry, Listing};
use crate::window::work::apart;
use crate::window::{Answer, Shared};
use iced::widget::{combo_box, operation};
use std::collections::VecDeque;
use std::fmt;
use std::path::PathBuf;
use std::sync::Arc;

/// The field a path is typed in.
pub(super) const PATH: &str = "carrying-file";

/// What happens while a file is brought in.
#[derive(Debug, Clone)]
pub enum Change {
    /// The path was typed.
    Path(String),
    /// The system is asked for a file.
    Browse,
    /// It gave one, or none.
    Picked(Option<PathBuf>),
    /// The file is read.
    Read,
    /// It was, or not; the number of the reading.
    Opened(u64, Result<Arc<Workbook>, String>),
    /// What is under way is stopped.
    Stop,
    /// Another sheet.
    Sheet(SheetChoice),
    /// Its rows are something else.
    Kind(ImportKind),
    /// The row of the headings was typed.
    HeadingRow(String),
    /// Numbers are written in another way.
    Numbers(DecimalMark),
    /// Days are written in another way.
    Days(Option<DayOrder>),
    /// The day of a file without days was typed.
    Day(String),
    /// The column of a field.
    Column(Field, ColumnChoice),
    /// The sheet was looked at; the number of the look.
    Looked(u64, Result<Arc<Looked>, String>),
    /// In the list of problems.
    Problems(Event),
    /// In the list of what should be known.
    Remarks(Event),
    /// In the list of new items.
    NewItems(Event),
    /// In the first rows.
    Rows(Event),
    /// All of it comes in.
    Bring,
    /// The file is put away.
    Close,
}

/// A sheet of a workbook as it is offered.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SheetChoice {
    place: usize,
    name: String,
}

impl fmt::Display for SheetChoice {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.name)
    }
}

/// A column as it is offered; none for “not in the file”.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ColumnChoice {
    column: Option<u32>,
    words: String,
}

impl fmt::Display for ColumnChoice {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.words)
    }
}

/// The pick of one field.
#[derive(Debug)]
pub(super) struct Pick {
    pub(super) field: Field,
    pub(super) label: String,
    pub(super) options: combo_box::State<ColumnChoice>,
    pub(super) chosen: ColumnChoice,
}

/// Where the file is.
#[derive(Debug)]
pub(super) enum Stage {
    /// None is chosen yet.
    Asking,
    /// It is being read.
    Reading(Arc<Watch>),
    /// It is open.
    Open(Box<Open>),
}

/// A file that was read.
#[derive(Debug)]
pub(super) struct Open {
    pub(super) name: String,
    workbook: Arc<Workbook>,
    pub(super) sheets: combo_box::State<SheetChoice>,
    pub(super) sheet: SheetChoice,
    pub(super) heading: Heading,
    pub(super) heading_row: Entry,
    pub(super) heading_problem: Option<String>,
    pub(super) mapping: Mapping,
    /// The columns are those picked for a file like it before.
    pub(super) remembered: bool,
    pub(super) picks: Vec<Pick>,
    pub(super) day: Entry,
    pub(super) day_problem: Option<String>,
    /// The number of the latest look.
    run: u64,
    pub(super) looked: Option<Arc<Looked>>,
    /// Looks whose shortages the book was asked for, in order.
    asked: VecDeque<u64>,
    /// All there is to know of this look is known.
    pub(super) settled: bool,
    /// Problems of the file, then what would be short.
    pub(super) told: Vec<Told>,
    pub(super) trouble: Option<String>,
    pub(super) bringing: Option<Arc<Watch>>,
    stale: bool,
}

/// A file into the book.
#[derive(Debug)]
pub(super) struct Bringing {
    pub(super) path: Entry,
    pub(super) path_problem: Option<String>,
    pub(super) stage: Stage,
    /// What the last file came to.
    pub(super) done: Option<String>,
    /// The number of the latest reading.
    reading: u64,
    numbers: NumberStyle,
    pub(super) problems: Listing,
    pub(super) remarks: Listing,
    pub(super) new_items: Listing,
    pub(super) rows: Listing,
}

impl Bringing {
    pub(super) fn new(shared: &Shared) -> Self {
        Self {
            path: Entry::default(),
            path_problem: None,
            stage: Stage::Asking,
            done: None,
            reading: 0,
            numbers: shared.preferences.numbers,
            problems: Listing::new("carrying-problems"),
            remarks: Listing::new("carrying-remarks"),
            new_items: Listing::new("carrying-new"),
            rows: Listing::new("carrying-rows"),
        }
    }

    /// Something is read or brought in right now.
    pub(super) fn is_busy(&self) -> bool {
        match &self.stage {
            Stage::Asking => false,
            Stage::Reading(_) => true,
            Stage::Open(open) => open.bringing.is_some(),
        }
    }

    pub(super) fn focus(&self) -> Action<Message> {
        match self.stage {
            Stage::Asking => Action::Run(operation::focus(PATH)),
            _ => Action::None,
        }
    }

    pub(super) fn accept(&mut self, shared: &Shared) -> Action<Message> {
        match self.stage {
            Stage::Asking => self.read(),
            Stage::Reading(_) => Action::None,
            Stage::Open(_) => self.bring(shared),
        }
    }

    pub(super) fn revert(&mut self) -> bool {
        match &mut self.stage {
            Stage::Open(open) => open.day.revert() | open.heading_row.revert(),
            _ => self.path.revert(),
        }
    }

    /// The book is another: what was looked at has to be looked at again.
    pub(super) fn book_changed(&mut self) {
        if let Stage::Open(open) = &mut self.stage {
            open.stale = true;
        }
    }

    /// Looks again where the book has changed since.
    pub(super) fn look_again(&mut self) -> Action<Message> {
        match &mut self.stage {
            Stage::Open(open) if open.stale && open.bringing.is_none() => open.look(),
            _ => Action::None,
        }
    }

    pub(super) fn update(&mut self, change: Change, shared: &Shared) -> Action<Message> {
        match change {
            Change::Path(text) => {
                self.path.type_in(text);
                self.path_problem = None;
            }
            Change::Browse => {
                let extensions = &["csv", "xlsx", "ods", "txt", "tsv"];
                let picked = ask(Wanted::Open, "Bring in a file", "", "Spreadsheets", extensions);
                return Action::Run(picked.map(|path| Message::In(Change::Picked(path))));
            }
            Change::Picked(None) => {}
            Change::Picked(Some(path)) => {
                self.path.set(path.display().to_string());
                return self.read();
            }
            Change::Read => return self.read(),
            Change::Opened(reading, opened) => return self.opened(reading, opened, shared),
            Change::Stop => match &self.stage {
                Stage::Reading(watch) => {
                    watch.stop();
                    self.reading += 1;
                    self.stage = Stage::Asking;
                }
                Stage::Open(open) => {
                    if let Some(watch) = &open.bringing {
                        watch.stop();
                    }
                }
                Stage::Asking => {}
            },
            Change::Problems(event) => {
                let rows = self.open_file().map_or(0, |open| open.told.len());
                return Action::Run(self.problems.update(event, rows).1);
            }
            Change::Remarks(event) => {
                let rows = self.seen().map_or(0, |looked| looked.remarks.len());
                return Action::Run(self.remarks.update(event, rows).1);
            }
            Change::NewItems(event) => {
                let rows = self.seen().map_or(0, |looked| looked.new_items.len());
                return Action::Run(self.new_items.update(event, rows).1);
            }
            Change::Rows(event) => {
                let rows = self.seen().map_or(0, |looked| looked.shown.len());
                return Action::Run(self.rows.update(event, rows).1);
            }
            Change::Bring => return self.bring(shared),
            Change::Close => {
                self.stage = Stage::Asking;
                return Action::Run(operation::focus(PATH));
            }
            other => {
                if let Stage::Open(open) = &mut self.stage
                    && open.bringing.is_none()
                {
                    return open.update(other, self.numbers);
                }
            }
        }
        Action::None
    }

    fn open_file(&self) -> Option<&Open> {
        match &self.stage {
            Stage::Open(open) => Some(open),
            _ => None,
        }
    }

    fn seen(&self) -> Option<&Looked> {
        self.open_file()?.looked.as_deref()
    }

    fn read(&mut self) -> Action<Message> {
        let Some(path) = typed_path(self.path.text()) else {
            self.path_problem = Some("type the path of a CSV, XLSX or ODS file, e.g. ~/studio/shelf.csv".to_owned());
            return Action::None;
        };
        self.reading += 1;
        (self.path_problem, self.done) = (None, None);
        let (reading, watch) = (self.reading, Arc::new(Watch::default()));
        self.stage = Stage::Reading(Arc::clone(&watch));
        let read = apart(move || looked::open(&path, &watch).map(Arc::new));
        Action::Run(read.map(move |opened| Message::In(Change::Opened(reading, opened.and_then(|opened| opened)))))
    }

    fn opened(&mut self, reading: u64, opened: Result<Arc<Workbook>, String>, shared: &Shared) -> Action<Message> {
        if reading != self.reading || !matches!(self.stage, Stage::Reading(_)) {
            return Action::None;
        }
        self.stage = Stage::Asking;
        self.numbers = shared.preferences.numbers;
        let workbook = match opened {
            Ok(workbook) => workbook,
            Err(reason) => {
                self.path_problem = Some(reason);
                return Action::None;
            }
        };
        let name = typed_path(self.path.text())
            .and_then(|path| path.file_name().map(|name| name.to_string_lossy().into_owned()))
            .unwrap_or_else(|| "a file".to_owned());
        let Some(open) = Open::new(name, workbook, shared.today, self.numbers) else {
            self.path_problem = Some("nothing stands in the file; a sheet with a row of headings is read".to_owned());
            return Action::None;
        };
        self.path.settle();
        let ask = open.ask_shape();
        self.stage = Stage::Open(Box::new(open));
        ask
    }

    fn bring(&mut self, shared: &Shared) -> Action<Message> {
        match &mut self.stage {
            Stage::Open(open) if open.is_ready() && !shared.read_only() => open.bring(),
            _ => Action::None,
        }
    }

    pub(super) fn answered(&mut self, answer: Answer, shared: &Shared) -> Action<Message> {
        let Stage::Open(open) = &mut self.stage else { return Action::None };
        match answer {
            Answer::ImportShape(shape, found) if shape == open.fingerprint() => {
                open.remember(found.ok().flatten());
                open.look()
            }
            Answer::Shelf(found) => open.answered_shelf(found, shared),
            Answer::ImportProblems(found) => open.answered_problems(found),
            Answer::Performed(done) => self.performed(done),
            _ => Action::None,
        }
    }

    fn performed(&mut self, done: Result<Outcome, Refusal>) -> Action<Message> {
        let Stage::Open(open) = &mut self.stage else { return Action::None };
        if open.bringing.take().is_none() {
            return Action::None;
        }
        match done {
            Ok(outcome) => {
                self.done = Some(outcome.name);
                self.stage = Stage::Asking;
                Action::None
            }
            Err(Refusal::Stopped) => {
                open.trouble = Some("Stopped: nothing was brought in.".to_owned());
                open.look()
            }
            Err(refusal) => {
                open.trouble = Some(format!("Nothing was brought in: {refusal}"));
                open.look()
            }
        }
    }
}
