//! What the room does with what it keeps: asking for plans, wording them, saving the list.

use super::out::{self, Kind, Table};
use super::{Message, Page, State, rows};
use crate::costing::buying_words;
use crate::costing::planning::ItemPlan;
use crate::window::Shared;
use crate::window::desk::Request;
use crate::window::screen::{Action, Notice, way_out};
use crate::window::widget::path_field::{Wanted, ask, typed_path};
use crate::window::widget::{modal, reveal};
use crate::window::work;
use std::path::PathBuf;
use std::sync::Arc;

impl State {
    /// Asks the book to plan every item.
    pub(super) fn ask(&self, shared: &Shared) -> Action<Message> {
        let rates = self.figures.rates_in(shared.preferences.currency);
        Action::Ask(Request::Plans { today: shared.today, rates: Box::new(rates) })
    }

    /// Words everything anew.
    pub(super) fn word(&mut self, shared: &Shared) {
        self.planned_with = self.figures.sentence(&shared.preferences);
        let plans = self.plans.as_deref().unwrap_or_default();
        self.worded = rows::word_all(plans, &shared.snapshot, shared.today, &shared.preferences);
        self.summary = rows::summary(plans, shared.today);
        self.choose(shared);
        self.word_shopping(shared);
    }

    pub(super) fn word_shopping(&mut self, shared: &Shared) {
        let plans = self.plans.as_deref().unwrap_or_default();
        if let Err(error) = self.shopping.word(plans, &shared.preferences) {
            self.trouble = Some(format!("the shopping list: {error}"));
        }
    }

    /// Narrows and sorts anew; the item in hand stays in hand while it is shown.
    pub(super) fn choose(&mut self, shared: &Shared) {
        self.shown = rows::select(&self.worded, &self.filter, self.list.sort());
        let place = self.chosen.and_then(|id| self.shown.iter().position(|row| row.id == id));
        let place = place.or((!self.shown.is_empty()).then_some(0));
        self.list.select(place);
        self.chosen = place.and_then(|place| self.shown.get(place)).map(|row| row.id);
        self.describe(shared);
    }

    /// The plan of the item in hand.
    pub(super) fn plan_in_hand(&self) -> Option<&ItemPlan> {
        let id = self.chosen?;
        self.plans.as_ref()?.iter().find(|plan| plan.want.item == id)
    }

    /// Words the reason of the item in hand.
    pub(super) fn describe(&mut self, shared: &Shared) {
        let parts = self.plan_in_hand().map(|plan| buying_words::reason(plan, &shared.preferences));
        self.parts = parts.unwrap_or_default();
    }

    pub(super) fn go(&mut self, page: Page) -> Action<Message> {
        self.page = page;
        match page {
            Page::RunningOut => Action::Run(self.list.focus()),
            Page::Shopping => Action::None,
        }
    }

    pub(super) fn turn_figures(&mut self) -> Action<Message> {
        self.changing = !self.changing;
        if self.changing {
            Action::Run(reveal::focus(super::Field::Weeks.id()))
        } else {
            Action::Run(self.list.focus())
        }
    }

    /// Plans with the figures as typed.
    pub(super) fn plan(&mut self, shared: &Shared) -> Action<Message> {
        if !self.figures.accept(&shared.preferences) {
            let wrong = self.figures.first_problem(&shared.preferences);
            return wrong.map_or(Action::None, |field| Action::Run(reveal::focus(field.id())));
        }
        self.planned_with = self.figures.sentence(&shared.preferences);
        self.ask(shared)
    }

    /// Something happened on the way out of the list on paper.
    pub(super) fn on_way_out(&mut self, message: way_out::Message, shared: &Shared) -> Action<Message> {
        let (list, paper) = (&self.shopping.list, self.paper);
        let leaving = || {
            if list.suppliers.is_empty() {
                return Err("there is no line on the shopping list to save".to_owned());
            }
            Ok(out::leaving(list.clone(), Arc::clone(&shared.snapshot.settings), shared.today, paper))
        };
        let (action, _) = self.out.update_leaving(message, &leaving, shared);
        action.map(Message::Out)
    }

    pub(super) fn browse() -> Action<Message> {
        let name = Kind::Csv.file_name();
        Action::Run(ask(Wanted::Save, "Save the shopping list", name, "CSV", &["csv"]).map(Message::Picked))
    }

    pub(super) fn picked(&mut self, path: Option<PathBuf>, shared: &Shared) -> Action<Message> {
        let Some(path) = path else { return Action::None };
        self.path.set(path.display().to_string());
        self.path_problem = None;
        // The dialog has asked about a file that is there already.
        self.send(path, shared)
    }

    /// Something can be saved.
    pub(super) fn can_save(&self) -> bool {
        !self.saving && !self.shopping.list.suppliers.is_empty()
    }

    pub(super) fn save(&mut self, shared: &Shared) -> Action<Message> {
        if self.kind == Kind::Pdf {
            return self.on_way_out(way_out::Message::Save, shared);
        }
        if self.saving {
            return Action::None;
        }
        if !self.can_save() {
            return Action::Notify(Notice::Trouble("there is no line on the shopping list to save".to_owned()));
        }
        let Some(mut path) = typed_path(self.path.text()) else {
            self.path_problem = Some(format!("nothing is typed: write a path, e.g. ~/{}", Kind::Csv.file_name()));
            return Action::None;
        };
        if path.extension().is_none() && !path.is_dir() {
            let _ = path.set_extension("csv");
        }
        if path.is_file() {
            self.replacing = Some(path);
            return Action::Run(modal::enter());
        }
        self.send(path, shared)
    }

    /// Writes the table on a thread of its own.
    pub(super) fn send(&mut self, path: PathBuf, shared: &Shared) -> Action<Message> {
        if !self.can_save() {
            return Action::None;
        }
        let table = Table { list: self.shopping.list.clone(), settings: Arc::clone(&shared.snapshot.settings), path };
        self.saving = true;
        let work = work::apart(move || out::save(&table));
        Action::Run(work.map(|done| Message::Saved(done.and_then(|saved| saved))))
    }
}
