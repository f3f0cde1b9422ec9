//! A list of the book into a file.

use super::Message;
use crate::actions::StockValue;
use crate::actions::lists::{self, ListOut, ListSource};
use crate::book::Snapshot;
use crate::exchange::table::write::{Form, in_folder, write_out};
use crate::studio::{ItemId, Movement, ValuationMethod};
use crate::window::desk::Request;
use crate::window::screen::{Action, Notice};
use crate::window::widget::path_field::{Wanted, ask, typed_path};
use crate::window::widget::{Entry, modal};
use crate::window::work::apart;
use crate::window::{Answer, Shared};
use chrono::NaiveDate;
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// What happens while a list is written out.
#[derive(Debug, Clone)]
pub enum Change {
    /// Another list.
    List(ListOut),
    /// Another form.
    Form(Form),
    /// The day was typed.
    Day(String),
    /// By the other method.
    Method(ValuationMethod),
    /// The path was typed.
    Path(String),
    /// The system is asked for a place.
    Browse,
    /// It gave one, or none.
    Picked(Option<PathBuf>),
    /// Write it.
    Write,
    /// Write it, whatever is there already.
    Confirmed,
    /// Do not.
    Close,
    /// It was written, or not.
    Written(Result<String, String>),
}

/// A list on its way.
#[derive(Debug, Clone)]
struct Job {
    list: ListOut,
    form: Form,
    path: PathBuf,
    on: NaiveDate,
    method: ValuationMethod,
}

/// A list into a file.
#[derive(Debug)]
pub(super) struct Writing {
    pub(super) list: ListOut,
    pub(super) form: Form,
    pub(super) day: Entry,
    pub(super) day_problem: Option<String>,
    pub(super) method: ValuationMethod,
    pub(super) path: Entry,
    pub(super) path_problem: Option<String>,
    asking: Option<Job>,
    under_way: Option<Job>,
}

impl Writing {
    pub(super) fn new(shared: &Shared) -> Self {
        let mut writing = Self {
            list: ListOut::Stock,
            form: Form::Xlsx,
            day: Entry::new(shared.today.to_string()),
            day_problem: None,
            method: shared.settings().valuation,
            path: Entry::default(),
            path_problem: None,
            asking: None,
            under_way: None,
        };
        writing.propose(None, shared);
        writing
    }

    /// The path that is there already, while it is asked about.
    pub(super) fn asking(&self) -> Option<&Path> {
        self.asking.as_ref().map(|job| job.path.as_path())
    }

    pub(super) fn is_under_way(&self) -> bool {
        self.under_way.is_some()
    }

    pub(super) fn revert(&mut self) -> bool {
        self.path.revert() | self.day.revert()
    }

    pub(super) fn accept(&mut self, shared: &Shared) -> Action<Message> {
        if self.asking.is_some() { Action::None } else { self.write(shared) }
    }

    /// What a list is called in a file's name.
    fn file_name(list: ListOut, form: Form) -> String {
        let stem = match list {
            ListOut::Book => "book",
            ListOut::Value => "value",
            ListOut::Accepted => "accepted-prices",
            other => other.name(),
        };
        // The book as CSV is a folder.
        if list == ListOut::Book && form == Form::Csv { stem.to_owned() } else { format!("{stem}.{}", form.ending()) }
    }

    fn beside_book(list: ListOut, form: Form, shared: &Shared) -> String {
        shared.path.with_file_name(Self::file_name(list, form)).display().to_string()
    }

    /// Proposes a file beside the book, unless another path was typed.
    fn propose(&mut self, before: Option<(ListOut, Form)>, shared: &Shared) {
        let proposed = before.is_some_and(|(list, form)| self.path.text() == Self::beside_book(list, form, shared));
        if proposed || self.path.is_empty() {
            self.path.set(Self::beside_book(self.list, self.form, shared));
        } else if let Some(path) = typed_path(self.path.text())
            && before.is_some_and(|(_, form)| Form::of(&path) == Some(form))
        {
            // A path of hers keeps its place and its name; its ending follows the form.
            self.path.type_in(path.with_extension(self.form.ending()).display().to_string());
        }
    }

    pub(super) fn update(&mut self, change: Change, shared: &Shared) -> Action<Message> {
        match change {
            Change::List(list) => {
                let before = (self.list, self.form);
                self.list = list;
                self.propose(Some(before), shared);
            }
            Change::Form(form) => {
                let before = (self.list, self.form);
                self.form = form;
                self.propose(Some(before), shared);
            }
            Change::Day(text) => {
                self.day.type_in(text);
                self.day_problem = None;
            }
            Change::Method(method) => self.method = method,
            Change::Path(text) => {
                self.path.type_in(text);
                self.path_problem = None;
            }
            Change::Browse => {
                let extensions: &'static [&'static str] = match self.form {
                    Form::Csv => &["csv"],
                    Form::Xlsx => &["xlsx"],
                    Form::Json => &["json"],
                };
                let wanted = if self.is_folder() { Wanted::Folder } else { Wanted::Save };
                let name = Self::file_name(self.list, self.form);
                let extensions = if self.is_folder() { &[] } else { extensions };
                let picked = ask(wanted, "Write out", &name, "Lists", extensions);
                return Action::Run(picked.map(|path| Message::Out(Change::Picked(path))));
            }
            Change::Picked(Some(path)) => {
                self.path.set(path.display().to_string());
                self.path_problem = None;
                return self.write(shared);
            }
            Change::Picked(None) => {}
            Change::Write => return self.write(shared),
            Change::Confirmed => {
                if let Some(job) = self.asking.take() {
                    return self.begin(job, shared);
                }
            }
            Change::Close => self.asking = None,
            Change::Written(written) => {
                self.under_way = None;
                return Action::Notify(match written {
                    Ok(done) => {
                        self.path.settle();
                        Notice::Done(done)
                    }
                    Err(reason) => {
                        self.path_problem = Some(reason.clone());
                        Notice::Trouble(reason)
                    }
                });
            }
        }
        Action::None
    }

    /// The book as CSV goes into a folder.
    pub(super) fn is_folder(&self) -> bool {
        self.list == ListOut::Book && self.form == Form::Csv
    }

    fn write(&mut self, shared: &Shared) -> Action<Message> {
        if self.under_way.is_some() {
            return Action::None;
        }
        let Some(mut path) = typed_path(self.path.text()) else {
            self.path_problem = Some(format!("type a path, e.g. ~/{}", Self::file_name(self.list, self.form)));
            return Action::None;
        };
        let day = self.day.trimmed().parse::<NaiveDate>();
        if self.list == ListOut::Value && day.is_err() {
            self.day_problem = Some(format!(
                "{:?} cannot be read: write the day as year-month-day, e.g. 2026-03-14",
                self.day.trimmed()
            ));
            return Action::None;
        }
        if path.extension().is_none() && !self.is_folder() && !path.is_dir() {
            let _ = path.set_extension(self.form.ending());
        }
        let job = Job { list: self.list, form: self.form, on: day.unwrap_or(shared.today), method: self.method, path };
        let taken = if self.is_folder() && in_folder(self.form, &job.path) {
            // A folder that is empty has nothing to lose.
            std::fs::read_dir(&job.path).is_ok_and(|mut entries| entries.next().is_some())
        } else {
            job.path.is_file()
        };
        if taken {
            self.asking = Some(job);
            return Action::Run(modal::enter());
        }
        self.begin(job, shared)
    }

    fn begin(&mut self, job: Job, shared: &Shared) -> Action<Message> {
        let (list, on, method) = (job.list, job.on, job.method);
        self.under_way = Some(job.clone());
        if list == ListOut::Value {
            Action::Ask(Request::StockValue { on, method })
        } else if list.needs_movements() {
            Action::Ask(Request::AllMovements)
        } else {
            send(job, Arc::clone(&shared.snapshot), Vec::new(), None)
        }
    }

    pub(super) fn answered(&mut self, answer: Answer, shared: &Shared) -> Action<Message> {
        let Some(job) = self.under_way.clone() else { return Action::None };
        let snapshot = Arc::clone(&shared.snapshot);
        let (movements, value) = match answer {
            Answer::AllMovements(Ok(movements)) => (movements, None),
            Answer::StockValue(Ok(value)) => (Vec::new(), Some(value)),
            Answer::AllMovements(Err(error)) => {
                self.under_way = None;
                return Action::Notify(Notice::Trouble(error.to_string()));
            }
            // The root has told why.
            _ => {
                self.under_way = None;
                return Action::None;
            }
        };
        send(job, snapshot, movements, value)
    }
}

/// Makes the tables and writes them, on a thread of its own.
fn send(
    job: Job,
    snapshot: Arc<Snapshot>,
    movements: Vec<(ItemId, Vec<Movement>)>,
    value: Option<StockValue>,
) -> Action<Message> {
    let written = apart(move || {
        let value = value.as_ref().map(|value| (job.on, value));
        let source = ListSource { snapshot: &snapshot, movements: &movements, value };
        let tables = lists::tables(job.list, &source).map_err(|error| error.to_string())?;
        let files = write_out(&tables, job.form, &job.path).map_err(|problem| problem.to_string())?;
        let rows = tables.iter().fold(0_usize, |sum, table| sum.saturating_add(table.rows.len()));
        let rows = if rows == 1 { "1 row".to_owned() } else { format!("{rows} rows") };
        let many = if files.len() > 1 { format!(" in {} files", files.len()) } else { String::new() };
        Ok(format!("Wrote {}, {rows}{many}, to {}", job.list.name(), job.path.display()))
    });
    Action::Run(written.map(|written| Message::Out(Change::Written(written.and_then(|written| written)))))
}
