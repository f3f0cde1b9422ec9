//! What the room does with what it keeps.

use super::form::{Field, Form};
use super::measuring::{self, Paper};
use super::printing::System;
use super::{Message, PutRight, Row, State, Waiting};
use crate::actions::{self, Added, Outcome, Refusal};
use crate::book::Snapshot;
use crate::measure::Preferences;
use crate::paper::put_right;
use crate::studio::{Printer, PrinterId};
use crate::window::Shared;
use crate::window::screen::{Action, Destination};
use crate::window::widget::{modal, reveal};
use iced::widget::combo_box;

/// Something happened.
pub(super) fn update(state: &mut State, message: Message, shared: &Shared) -> Action<Message> {
    match message {
        Message::Back => Action::Open(Destination::Papers),
        Message::Choose(id) => {
            state.take(Some(id), shared);
            Action::None
        }
        Message::AskSystem => state.ask_system(),
        Message::System(told) => {
            state.system.heard(told);
            Action::None
        }
        Message::Paper(paper) => {
            state.paper = paper;
            state.measuring.read(&state.paper, &shared.preferences);
            state.propose(shared);
            Action::None
        }
        Message::By(by) => {
            state.measuring.by = by;
            state.measuring.read(&state.paper, &shared.preferences);
            Action::None
        }
        Message::Measured(field, text) => {
            state.measuring.type_in(field, text);
            state.measuring.read(&state.paper, &shared.preferences);
            Action::None
        }
        Message::Again => {
            state.measuring.clear();
            let [first, ..] = measuring::Field::of(state.measuring.by);
            Action::Run(reveal::focus(first.id()))
        }
        Message::Way(message) => state.way_out(message, shared),
        Message::Close => {
            state.form = None;
            state.waiting = Waiting::Nothing;
            Action::None
        }
        own if !shared.read_only() => state.write(own, shared),
        _ => Action::None,
    }
}

impl State {
    /// Words the printers and what is put right on what they print.
    pub(super) fn word(&mut self, shared: &Shared) {
        let snapshot = &shared.snapshot;
        let row = |(id, printer): &(PrinterId, Printer)| row(*id, printer, snapshot, &shared.preferences);
        self.rows = snapshot.printers.iter().map(row).collect();
        let papers = Paper::all(snapshot);
        if !papers.contains(&self.paper) {
            let same = papers.iter().find(|paper| paper.sheet.is_some() && paper.sheet == self.paper.sheet);
            self.paper = same.cloned().unwrap_or_else(|| Paper::usual(&shared.preferences));
        }
        self.papers = combo_box::State::new(papers);
        self.measuring.read(&self.paper, &shared.preferences);
        let held = self.chosen.filter(|id| self.rows.iter().any(|row| row.id == *id));
        if held.is_none() || held != self.chosen {
            self.take(self.rows.first().map(|row| row.id), shared);
        } else {
            self.propose(shared);
        }
    }

    /// Takes a printer in hand: its page is printed on it, with nothing put right.
    fn take(&mut self, id: Option<PrinterId>, shared: &Shared) {
        if self.chosen != id {
            self.measuring.clear();
        }
        self.chosen = id;
        self.propose(shared);
        if let Some(printer) = self.printer(shared) {
            self.way.measure(&printer.name);
        }
    }

    fn propose(&mut self, shared: &Shared) {
        self.way.propose(shared, measuring::FILE_NAME);
    }

    /// The printer in hand.
    pub(super) fn printer<'s>(&self, shared: &'s Shared) -> Option<&'s Printer> {
        let id = self.chosen?;
        shared.snapshot.printers.iter().find(|(row, _)| *row == id).map(|(_, printer)| printer)
    }

    /// Its row.
    pub(super) fn row(&self) -> Option<&Row> {
        self.rows.iter().find(|row| Some(row.id) == self.chosen)
    }

    /// Printers of the system that the book does not have.
    pub(super) fn strangers(&self) -> impl Iterator<Item = &String> {
        let known = if let System::Known(names) = &self.system { names.as_slice() } else { &[] };
        known.iter().filter(|name| !self.rows.iter().any(|row| row.name == **name))
    }

    /// The system knows a printer of that name; unknown while it has not answered.
    pub(super) fn is_here(&self, name: &str) -> Option<bool> {
        if let System::Known(names) = &self.system { Some(names.iter().any(|own| own == name)) } else { None }
    }

    pub(super) fn ask_system(&mut self) -> Action<Message> {
        self.system.ask().map_or(Action::None, |asked| Action::Run(asked.map(Message::System)))
    }

    fn way_out(&mut self, message: crate::window::screen::way_out::Message, shared: &Shared) -> Action<Message> {
        let dots = self.printer(shared).map(|printer| printer.dots_per_inch);
        let paper = &self.paper;
        let going = || measuring::going(paper, dots, shared);
        let (action, _) = self.way.update(message, &going, shared);
        action.map(Message::Way)
    }

    fn write(&mut self, message: Message, shared: &Shared) -> Action<Message> {
        match message {
            Message::New(name) => self.begin(Form::new(name)),
            Message::Edit => match (self.chosen, self.printer(shared)) {
                (Some(id), Some(printer)) => self.begin(Form::of(id, printer)),
                _ => Action::None,
            },
            Message::Remove => match self.chosen {
                Some(id) => Action::Do(actions::Action::RemovePrinter(id)),
                None => Action::None,
            },
            Message::Typed(field, text) => {
                if let Some(form) = &mut self.form {
                    form.refusal = None;
                    form.fields.type_in(field, text);
                }
                Action::None
            }
            Message::Save => self.save(shared),
            Message::Keep => self.keep(shared),
            Message::Forget(sheet) => match (self.chosen, self.printer(shared).cloned()) {
                (Some(id), Some(mut printer)) => {
                    printer.corrections.retain(|correction| correction.sheet != sheet);
                    Action::Do(actions::Action::SavePrinter { id: Some(id), printer })
                }
                _ => Action::None,
            },
            _ => Action::None,
        }
    }

    fn begin(&mut self, form: Form) -> Action<Message> {
        // A name that is known already leaves the dots to be typed.
        let first =
            if form.id.is_none() && !form.fields.trimmed(Field::Name).is_empty() { Field::Dots } else { Field::Name };
        self.form = Some(form);
        self.waiting = Waiting::Nothing;
        Action::Many(vec![Action::Run(modal::enter()), Action::Run(reveal::focus(first.id()))])
    }

    fn save(&mut self, shared: &Shared) -> Action<Message> {
        let Some(form) = &mut self.form else { return Action::None };
        if self.waiting != Waiting::Nothing {
            return Action::None;
        }
        match form.printer(&shared.preferences) {
            Err(field) => Action::Run(reveal::focus(field.id())),
            Ok(printer) => {
                self.waiting = Waiting::Printer;
                Action::Do(actions::Action::SavePrinter { id: form.id, printer })
            }
        }
    }

    /// Keeps what was measured of the printer in hand on the paper in hand.
    fn keep(&mut self, shared: &Shared) -> Action<Message> {
        let (Some(id), Some(mut printer)) = (self.chosen, self.printer(shared).cloned()) else { return Action::None };
        if self.waiting != Waiting::Nothing {
            return Action::None;
        }
        match self.measuring.correction() {
            Ok(correction) => {
                printer.correct(correction);
                self.waiting = Waiting::Measured;
                Action::Do(actions::Action::SavePrinter { id: Some(id), printer })
            }
            Err(field) => Action::Run(reveal::focus(field.id())),
        }
    }

    pub(super) fn performed(&mut self, outcome: Result<Outcome, Refusal>, shared: &Shared) -> Action<Message> {
        match (std::mem::replace(&mut self.waiting, Waiting::Nothing), outcome) {
            (Waiting::Printer, Ok(outcome)) => {
                self.form = None;
                if let Some(Added::Printer(id)) = outcome.added {
                    self.take(Some(id), shared);
                }
            }
            (Waiting::Printer, Err(refusal)) => {
                if let Some(form) = &mut self.form {
                    form.refusal = Some(refusal.to_string());
                }
            }
            (Waiting::Measured, Ok(_)) => self.measuring.clear(),
            (Waiting::Measured, Err(refusal)) => self.measuring.refuse(refusal.to_string()),
            (Waiting::Nothing, _) => {}
        }
        Action::None
    }
}

fn row(id: PrinterId, printer: &Printer, snapshot: &Snapshot, preferences: &Preferences) -> Row {
    let put_right: Vec<PutRight> = printer
        .corrections
        .iter()
        .map(|correction| PutRight {
            sheet: correction.sheet,
            paper: measuring::paper_name(snapshot, correction.sheet),
            words: put_right::words(correction, preferences),
        })
        .collect();
    let measured = match put_right.len() {
        0 => "not measured yet".to_owned(),
        1 => "measured on one paper".to_owned(),
        more => format!("measured on {more} papers"),
    };
    Row {
        id,
        name: printer.name.clone(),
        about: format!("{} dots per inch · {measured}", printer.dots_per_inch),
        put_right,
    }
}
