//! A file that is open: its columns picked, looked at, brought in.

use super::{Change, ColumnChoice, Message, Open, Pick, SheetChoice};
use crate::book::BookError;
use crate::exchange::movement_file::{Fault, ImportShape, RowProblem, Shelf};
use crate::exchange::table::columns::DecimalMark;
use crate::exchange::table::{Field, Heading, ImportKind, Mapping, Shape, Workbook, column_letters};
use crate::measure::NumberStyle;
use crate::window::Shared;
use crate::window::desk::{Request, Watch};
use crate::window::screen::carrying::looked::{self, Looked, Question, Told};
use crate::window::screen::{Action, Notice};
use crate::window::widget::Entry;
use crate::window::work::apart;
use chrono::NaiveDate;
use iced::Task;
use iced::widget::combo_box;
use std::collections::{BTreeSet, VecDeque};
use std::sync::Arc;

impl Open {
    /// The first sheet with headings that are known, or else with anything; none where nothing stands in the file.
    pub(super) fn new(name: String, workbook: Arc<Workbook>, today: NaiveDate, numbers: NumberStyle) -> Option<Self> {
        let filled = |place: usize| workbook.sheets.get(place).is_some_and(|sheet| !sheet.rows.is_empty());
        let places = 0..workbook.sheets.len();
        let known =
            places.clone().find(|place| workbook.sheets.get(*place).is_some_and(|s| Heading::find(s).is_some()));
        let place = known.or_else(|| places.clone().find(|place| filled(*place)))?;
        let choices: Vec<SheetChoice> = workbook
            .sheets
            .iter()
            .enumerate()
            .map(|(place, sheet)| SheetChoice { place, name: sheet.name.clone() })
            .collect();
        let sheet = choices.get(place)?.clone();
        let heading = heading_of(&workbook, place);
        let kind = heading.likely();
        let mut open = Self {
            name,
            sheets: combo_box::State::new(choices),
            sheet,
            heading_row: Entry::new(heading.row.to_string()),
            heading_problem: None,
            mapping: guess(kind, &heading, numbers),
            heading,
            workbook,
            remembered: false,
            picks: Vec::new(),
            day: Entry::new(today.to_string()),
            day_problem: None,
            run: 0,
            looked: None,
            asked: VecDeque::new(),
            settled: false,
            told: Vec::new(),
            trouble: None,
            bringing: None,
            stale: false,
        };
        open.offer();
        Some(open)
    }

    /// Remarks on how the file was read.
    pub(in crate::window::screen::carrying) fn read_remarks(&self) -> &[String] {
        &self.workbook.remarks
    }

    pub(in crate::window::screen::carrying) fn has_sheets(&self) -> bool {
        self.workbook.sheets.len() > 1
    }

    /// The day has to be chosen: the file has no column of days.
    pub(in crate::window::screen::carrying) fn wants_day(&self) -> bool {
        self.mapping.kind != ImportKind::Items && self.mapping.column(Field::Date).is_none()
    }

    /// All is known, nothing is wrong, and there is something to bring in.
    pub(in crate::window::screen::carrying) fn is_ready(&self) -> bool {
        let plan = self.looked.as_ref().map(|looked| &looked.planned.plan);
        self.settled
            && self.bringing.is_none()
            && self.told.is_empty()
            && plan.is_some_and(|plan| !plan.movements.is_empty() || !plan.new_items.is_empty())
    }

    pub(super) fn fingerprint(&self) -> String {
        Shape::of(&self.heading).fingerprint()
    }

    /// Which columns were picked for such a file before? The answer looks at it.
    pub(super) fn ask_shape(&self) -> Action<Message> {
        Action::Ask(Request::ImportShape(self.fingerprint()))
    }

    pub(super) fn remember(&mut self, body: Option<String>) {
        let kept = body.and_then(|body| serde_json::from_str::<Mapping>(&body).ok());
        self.remembered = false;
        if let Some(mapping) = kept.filter(|mapping| mapping.fits(&self.heading)) {
            self.mapping = mapping;
            self.remembered = true;
            self.offer();
        }
    }

    /// The picks of the fields, after what they offer or what is chosen has changed.
    fn offer(&mut self) {
        let word = |(column, text): (u32, &String)| ColumnChoice {
            column: Some(column),
            words: format!("{} · {}", column_letters(column), if text.is_empty() { "no heading" } else { text }),
        };
        let none = ColumnChoice { column: None, words: "not in the file".to_owned() };
        let choices: Vec<ColumnChoice> =
            std::iter::once(none.clone()).chain((1..).zip(&self.heading.texts).map(word)).collect();
        let needed = self.mapping.kind.needed();
        self.picks = self
            .mapping
            .kind
            .fields()
            .iter()
            .map(|field| {
                let column = self.mapping.column(*field).map(|mapped| mapped.column);
                let chosen = choices.iter().find(|choice| choice.column == column).unwrap_or(&none).clone();
                let label = field.heading();
                Pick {
                    field: *field,
                    label: if needed.contains(field) { format!("{label}, needed") } else { label.to_owned() },
                    options: combo_box::State::new(choices.clone()),
                    chosen,
                }
            })
            .collect();
    }

    pub(super) fn update(&mut self, change: Change, numbers: NumberStyle) -> Action<Message> {
        match change {
            Change::Sheet(sheet) => {
                self.heading = heading_of(&self.workbook, sheet.place);
                self.heading_row.set(self.heading.row.to_string());
                self.heading_problem = None;
                self.sheet = sheet;
                return self.guess_anew(self.heading.likely(), numbers);
            }
            Change::Kind(kind) => {
                let (numbers, days) = (self.mapping.numbers, self.mapping.days);
                self.mapping = Mapping { numbers, days, ..Mapping::guess(kind, &self.heading) };
                self.remembered = false;
                self.offer();
            }
            Change::HeadingRow(text) => {
                self.heading_row.type_in(text);
                let row = self.heading_row.trimmed().parse::<u32>().ok().filter(|row| *row > 0);
                let (Some(row), Some(sheet)) = (row, self.workbook.sheets.get(self.sheet.place)) else {
                    self.heading_problem =
                        Some(format!("{:?} is no row; a whole number from 1 is accepted", self.heading_row.trimmed()));
                    return Action::None;
                };
                self.heading_problem = None;
                self.heading = Heading::at(sheet, row);
                return self.guess_anew(self.mapping.kind, numbers);
            }
            Change::Numbers(mark) => self.mapping.numbers = mark,
            Change::Days(days) => self.mapping.days = days,
            Change::Day(text) => self.day.type_in(text),
            Change::Column(field, choice) => {
                self.mapping.pick(field, choice.column, &self.heading);
                self.offer();
            }
            Change::Looked(run, looked) => return self.answered_look(run, looked),
            _ => return Action::None,
        }
        self.trouble = None;
        self.look()
    }

    /// Other headings: the columns are guessed, or those picked for such a file before.
    fn guess_anew(&mut self, kind: ImportKind, numbers: NumberStyle) -> Action<Message> {
        self.mapping = guess(kind, &self.heading, numbers);
        self.remembered = false;
        self.trouble = None;
        self.offer();
        self.unsettle();
        self.ask_shape()
    }

    fn unsettle(&mut self) {
        self.run += 1;
        self.settled = false;
    }

    /// Asks what the book knows; the answer looks at the sheet.
    pub(super) fn look(&mut self) -> Action<Message> {
        self.stale = false;
        self.unsettle();
        let day = self.day.trimmed().parse::<NaiveDate>();
        self.day_problem = (self.wants_day() && day.is_err()).then(|| {
            format!("{:?} cannot be read: write the day as year-month-day, e.g. 2026-03-14", self.day.trimmed())
        });
        Action::Ask(Request::Shelf)
    }

    pub(super) fn answered_shelf(&mut self, found: Result<Shelf, BookError>, shared: &Shared) -> Action<Message> {
        let shelf = match found {
            Ok(shelf) => Arc::new(shelf),
            Err(error) => return Action::Notify(Notice::Trouble(error.to_string())),
        };
        let bears = shared.snapshot.stock.iter().filter(|row| row.item.lead_bearing);
        let lead: BTreeSet<String> =
            bears.flat_map(|row| [row.item.reference.to_lowercase(), row.item.name.to_lowercase()]).collect();
        self.run += 1;
        let run = self.run;
        let question = Question {
            workbook: Arc::clone(&self.workbook),
            sheet: self.sheet.place,
            heading: self.heading.clone(),
            mapping: self.mapping.clone(),
            day: if self.wants_day() { self.day.trimmed().parse().ok() } else { None },
            name: self.name.chars().take(200).collect(),
            shelf,
            lead: Arc::new(lead),
        };
        let looked: Task<Result<Looked, String>> = apart(move || looked::look(&question));
        Action::Run(looked.map(move |looked| Message::In(Change::Looked(run, looked.map(Arc::new)))))
    }

    fn answered_look(&mut self, run: u64, looked: Result<Arc<Looked>, String>) -> Action<Message> {
        if run != self.run {
            return Action::None;
        }
        let looked = match looked {
            Ok(looked) => looked,
            Err(reason) => {
                self.trouble = Some(reason);
                return Action::None;
            }
        };
        self.told.clone_from(&looked.problems);
        let whole = looked.planned.problems.iter().all(|problem| problem.fault == Fault::Book);
        let moves = !looked.planned.plan.movements.is_empty();
        let ask = (whole && moves).then(|| Box::new(looked.planned.clone()));
        self.looked = Some(looked);
        match ask {
            // What rows that cannot be read would leave short cannot be told yet.
            None => {
                self.settled = true;
                Action::None
            }
            Some(planned) => {
                self.asked.push_back(run);
                Action::Ask(Request::ImportProblems(planned))
            }
        }
    }

    pub(super) fn answered_problems(&mut self, found: Result<Vec<RowProblem>, BookError>) -> Action<Message> {
        if self.asked.pop_front() != Some(self.run) {
            return Action::None;
        }
        match found {
            Ok(short) => {
                self.told.extend(short.iter().map(Told::from));
                self.settled = true;
                Action::None
            }
            Err(error) => Action::Notify(Notice::Trouble(error.to_string())),
        }
    }

    pub(super) fn bring(&mut self) -> Action<Message> {
        let Some(looked) = &self.looked else { return Action::None };
        let mut plan = looked.planned.plan.clone();
        let fingerprint = self.fingerprint();
        plan.shape = serde_json::to_string(&self.mapping)
            .ok()
            .filter(|_| !fingerprint.is_empty())
            .map(|body| ImportShape { fingerprint, body });
        let watch = Arc::new(Watch::default());
        self.bringing = Some(Arc::clone(&watch));
        self.trouble = None;
        Action::Ask(Request::Import(Box::new(plan), watch))
    }
}

/// The headings of a sheet: those found, or else its first row with something in it.
fn heading_of(workbook: &Workbook, place: usize) -> Heading {
    let Some(sheet) = workbook.sheets.get(place) else { return Heading { row: 1, texts: Vec::new() } };
    Heading::find(sheet).unwrap_or_else(|| Heading::at(sheet, sheet.rows.first().map_or(1, |row| row.number)))
}

/// What the headings suggest, with numbers as the book writes them.
fn guess(kind: ImportKind, heading: &Heading, numbers: NumberStyle) -> Mapping {
    let numbers = if numbers == NumberStyle::Comma { DecimalMark::Comma } else { DecimalMark::Point };
    Mapping { numbers, ..Mapping::guess(kind, heading) }
}
