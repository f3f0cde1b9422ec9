//! The printers that are offered: those of the book, those of this machine, and the system's choice.

use super::state::Message;
use crate::book::Snapshot;
use crate::exchange::print_queue;
use crate::studio::{Correction, Printer, PrinterId, SheetId};
use crate::window::work;
use iced::Task;
use iced::widget::combo_box;
use std::sync::Arc;

/// Whatever printer the system takes when none is named.
pub(super) const THE_SYSTEMS: &str = "the system's choice";

/// The printers that are offered, and the one chosen.
#[derive(Debug)]
pub(super) struct PrinterList {
    pub(super) names: combo_box::State<String>,
    pub(super) chosen: String,
    book: Arc<Vec<(PrinterId, Printer)>>,
    /// What the system answered; nothing before it was asked.
    machine: Option<Vec<String>>,
    asking: bool,
}

impl PrinterList {
    pub(super) fn new() -> Self {
        let mut list = Self {
            names: combo_box::State::new(Vec::new()),
            chosen: THE_SYSTEMS.to_owned(),
            book: Arc::default(),
            machine: None,
            asking: false,
        };
        list.gather();
        list
    }

    /// Takes the printers of the book.
    pub(super) fn follow(&mut self, snapshot: &Snapshot) {
        if !Arc::ptr_eq(&self.book, &snapshot.printers) {
            self.book = Arc::clone(&snapshot.printers);
            self.gather();
        }
    }

    /// Asks the system for its printers, on a thread; not while it is being asked already.
    pub(super) fn ask(&mut self) -> Task<Message> {
        if std::mem::replace(&mut self.asking, true) {
            return Task::none();
        }
        work::apart(|| print_queue::printers().ok()).map(|told| Message::Printers(told.ok().flatten()))
    }

    /// What the system answered; nothing where it could not be asked.
    pub(super) fn heard(&mut self, told: Option<Vec<String>>) {
        self.asking = false;
        if told.is_some() && told != self.machine {
            self.machine = told;
            self.gather();
        }
    }

    fn gather(&mut self) {
        let mut names = vec![THE_SYSTEMS.to_owned()];
        let book = self.book.iter().map(|(_, printer)| &printer.name);
        for name in book.chain(self.machine.iter().flatten()) {
            if !names.contains(name) {
                names.push(name.clone());
            }
        }
        if !names.contains(&self.chosen) {
            THE_SYSTEMS.clone_into(&mut self.chosen);
        }
        self.names = combo_box::State::new(names);
    }

    /// There is more than the system's choice.
    pub(super) fn has_some(&self) -> bool {
        self.names.options().len() > 1
    }

    /// The name for the system; empty for its own choice.
    pub(super) fn queue(&self) -> &str {
        if self.chosen == THE_SYSTEMS { "" } else { &self.chosen }
    }

    /// The printer chosen, where the book knows it.
    pub(super) fn printer(&self) -> Option<&Printer> {
        self.book.iter().map(|(_, printer)| printer).find(|printer| printer.name == self.chosen)
    }

    /// What puts the printer chosen right for a sheet; none for plain paper.
    pub(super) fn correction(&self, sheet: Option<SheetId>) -> Option<Correction> {
        self.printer()?.correction_for(sheet)
    }

    /// What is known of the printer chosen, a sentence; nothing of the system's choice.
    pub(super) fn words(&self, snapshot: &Snapshot) -> Option<String> {
        if self.queue().is_empty() {
            return None;
        }
        let Some(printer) = self.printer() else {
            return Some("Its dots and what it does to a sheet are not known: describe it in Printers.".to_owned());
        };
        let mut words = format!("{} dots per inch", printer.dots_per_inch);
        let sheet = |correction: &Correction| match correction.sheet {
            None => Some("plain paper"),
            Some(id) => snapshot.sheets.iter().find(|(row, _)| *row == id).map(|(_, sheet)| sheet.name.as_str()),
        };
        let measured: Vec<&str> = printer.corrections.iter().filter_map(sheet).collect();
        if measured.is_empty() {
            words.push_str("; not measured yet: print its calibration page in Printers");
        } else {
            words.push_str("; measured for ");
            words.push_str(&measured.join(" · "));
        }
        if self.machine.as_ref().is_some_and(|machine| !machine.contains(&printer.name)) {
            words.push_str("; this machine has no printer of that name");
        }
        words.push('.');
        Some(words)
    }
}
