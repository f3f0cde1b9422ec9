//! What the room does with what it keeps: taking an item in hand, filling in forms, hearing the book's answers.

use super::correcting::{self, Correcting};
use super::detail::Detail;
use super::form::{self, Form};
use super::moving::{self, Moving};
use super::rows::{self, Filter};
use super::{Message, Page, State, Waiting, jars, read, traced, words, worth};
use crate::actions::{self, Added, Outcome, Refusal};
use crate::book::StockRow;
use crate::studio::{ItemId, LotId, Movement, MovementId, MovementKind};
use crate::window::Shared;
use crate::window::desk::Request;
use crate::window::screen::Action;
use crate::window::widget::{modal, reveal};

impl State {
    /// The item in hand, as it is now.
    pub(super) fn item<'a>(&self, shared: &'a Shared) -> Option<&'a StockRow> {
        self.chosen.and_then(|id| shared.snapshot.item(id))
    }

    /// Filters and sorts anew; the item in hand stays in hand while it is shown.
    pub(super) fn choose(&mut self, shared: &Shared) -> Action<Message> {
        self.shown = rows::select(&self.worded, &self.filter, self.list.sort());
        let place = self.chosen.and_then(|id| self.shown.iter().position(|row| row.id == id));
        if self.page == Page::List {
            let place = place.or((!self.shown.is_empty()).then_some(0));
            self.list.select(place);
            self.chosen = place.and_then(|place| self.shown.get(place)).map(|row| row.id);
        } else {
            self.list.select(place);
        }
        self.describe(shared);
        self.look_up(shared)
    }

    /// Words the item in hand.
    pub(super) fn describe(&mut self, shared: &Shared) {
        let row = self.item(shared);
        self.sentence = row.map(|row| words::sentence(row, &shared.preferences)).unwrap_or_default();
        self.facts = row.map(|row| words::facts(&row.item)).unwrap_or_default();
        self.jars = self.chosen.map(|id| jars::word(id, &shared.snapshot, &shared.preferences)).unwrap_or_default();
        if row.is_none() {
            self.detail = None;
            self.moving = None;
            self.correcting = None;
        }
        if self.detail.as_ref().is_none_or(|detail| Some(detail.item) != self.chosen) {
            self.traced = None;
        }
    }

    /// Asks for the movements of the item in hand and its corrections, unless they are there; and for what the open form
    /// needs to know.
    pub(super) fn look_up(&self, shared: &Shared) -> Action<Message> {
        let mut asked = Vec::new();
        if let Some(id) = self.chosen
            && !self.detail.as_ref().is_some_and(|detail| detail.is_of(id, &shared.snapshot))
        {
            asked.push(Action::Ask(Request::Movements(id)));
            asked.push(Action::Ask(Request::Corrections(id)));
        }
        if let Some(from) = self.moving.as_ref().and_then(Moving::asks_for) {
            asked.push(Action::Ask(Request::Movements(from)));
        }
        Action::Many(asked)
    }

    /// Hears an item's movements.
    pub(super) fn moved(&mut self, id: ItemId, movements: Vec<Movement>, shared: &Shared) {
        if let Some(moving) = &mut self.moving {
            moving.learn(id, &movements);
        }
        if self.chosen == Some(id) {
            let order = self.ledger.sort().1;
            self.detail = Some(Detail::new(id, movements, order, &shared.snapshot, &shared.preferences));
            self.trace(self.traced.as_ref().map(|traced| traced.id), shared);
        }
        self.look_ahead(shared);
    }

    /// Follows a movement of the item in hand, or none; its line is marked.
    pub(super) fn trace(&mut self, id: Option<MovementId>, shared: &Shared) {
        let unit = self.item(shared).map(|row| row.item.unit);
        let detail = self.detail.as_ref().filter(|detail| Some(detail.item) == self.chosen);
        self.traced = match (id, unit, detail) {
            (Some(id), Some(unit), Some(detail)) => traced::follow(detail, id, unit, &shared.preferences),
            _ => None,
        };
        let place = self.traced.as_ref().zip(detail);
        let place = place.and_then(|(traced, detail)| detail.rows.iter().position(|row| row.id == traced.id));
        self.ledger.select(place);
    }

    /// Opens the form that corrects a lot's price.
    pub(super) fn begin_correcting(&mut self, lot: LotId, shared: &Shared) -> Action<Message> {
        let Some(unit) = self.item(shared).filter(|_| !shared.read_only()).map(|row| row.item.unit) else {
            return Action::None;
        };
        let receipt = self.detail.as_ref().and_then(|detail| detail.movement(MovementId(lot.0)));
        let Some((receipt, _)) = receipt else { return Action::None };
        self.correcting = Some(Correcting::new(receipt, unit, shared.today, &shared.preferences));
        self.waiting = Waiting::Nothing;
        Action::Run(modal::enter().chain(reveal::focus(correcting::Field::Cost.id())))
    }

    /// Asks what the typed cost would move, unless that is known.
    pub(super) fn ask_effect(&mut self, shared: &Shared) -> Action<Message> {
        match self.correcting.as_mut().and_then(|correcting| correcting.ask(&shared.preferences)) {
            Some((lot, cost)) => Action::Ask(Request::CorrectionEffect(lot, cost)),
            None => Action::None,
        }
    }

    /// Corrects the lot, once what that moves is on screen.
    pub(super) fn correct(&mut self, shared: &Shared) -> Action<Message> {
        if self.waiting == Waiting::Correction || shared.read_only() {
            return Action::None;
        }
        let Some(correcting) = &mut self.correcting else { return Action::None };
        correcting.tried = true;
        if let Some(field) = correcting.first_problem(&shared.preferences) {
            return Action::Run(reveal::focus(field.id()));
        }
        match correcting.action(&shared.preferences) {
            Some(action) => {
                self.waiting = Waiting::Correction;
                Action::Do(action)
            }
            None => self.ask_effect(shared),
        }
    }

    /// Takes an item in hand.
    pub(super) fn take(&mut self, id: ItemId, shared: &Shared) -> Action<Message> {
        self.chosen = Some(id);
        let hidden = !self.shown.iter().any(|row| row.id == id);
        if hidden && self.page == Page::List {
            // The filter would hide what was asked for.
            let aside = shared.snapshot.item(id).is_some_and(|row| row.item.retired);
            self.filter = Filter { aside, ..Filter::default() };
        }
        let asked = self.choose(shared);
        Action::Many(vec![asked, Action::Run(self.list.show())])
    }

    pub(super) fn begin(&mut self, form: Form) -> Action<Message> {
        self.form = Some(form);
        self.waiting = Waiting::Nothing;
        Action::Run(reveal::focus(form::Field::Name.id()))
    }

    pub(super) fn save(&mut self, shared: &Shared) -> Action<Message> {
        let Some(form) = &mut self.form else { return Action::None };
        if self.waiting == Waiting::Form || shared.read_only() {
            return Action::None;
        }
        form.tried = true;
        if let Some(field) = read::first_problem(form, &shared.preferences) {
            return Action::Run(reveal::focus(field.id()));
        }
        let Some(item) = read::item(form, &shared.preferences) else { return Action::None };
        self.waiting = Waiting::Form;
        self.latest_kind = form.kind;
        Action::Do(actions::Action::SaveItem { id: form.id, item })
    }

    pub(super) fn begin_moving(&mut self, kind: MovementKind, shared: &Shared) -> Action<Message> {
        let Some(row) = self.item(shared).filter(|_| !shared.read_only()) else { return Action::None };
        self.moving = Some(Moving::new(row, kind, shared.today, &shared.snapshot));
        self.waiting = Waiting::Nothing;
        Action::Run(modal::enter().chain(reveal::focus(moving::Field::Quantity.id())))
    }

    pub(super) fn book(&mut self, shared: &Shared) -> Action<Message> {
        if self.waiting == Waiting::Movement || shared.read_only() {
            return Action::None;
        }
        let Some(moving) = &mut self.moving else { return Action::None };
        let Some(row) = shared.snapshot.item(moving.item) else { return Action::None };
        moving.tried = true;
        if let Some(field) = moving.first_problem(row, &shared.preferences) {
            return Action::Run(reveal::focus(field.id()));
        }
        let Some(action) = moving.action(row, &shared.preferences) else { return Action::None };
        self.waiting = Waiting::Movement;
        Action::Do(action)
    }

    /// Words anew what the movement being written down would come to.
    pub(super) fn look_ahead(&mut self, shared: &Shared) {
        let Some(moving) = &mut self.moving else { return };
        let Some(row) = shared.snapshot.item(moving.item) else { return };
        let Some(detail) = self.detail.as_ref().filter(|detail| detail.is_of(moving.item, &shared.snapshot)) else {
            moving.preview = None;
            return;
        };
        moving.look_ahead(row, &detail.movements, shared.settings().valuation, &shared.preferences);
    }

    /// A form is open.
    pub(super) const fn is_filling_in(&self) -> bool {
        self.form.is_some() || self.moving.is_some() || self.correcting.is_some()
    }

    pub(super) fn close(&mut self) {
        if self.correcting.take().is_none() && self.moving.take().is_none() {
            self.form = None;
        }
        self.waiting = Waiting::Nothing;
    }

    pub(super) fn performed(&mut self, outcome: Result<Outcome, Refusal>, shared: &Shared) -> Action<Message> {
        match (std::mem::replace(&mut self.waiting, Waiting::Nothing), outcome) {
            (Waiting::Form, Ok(outcome)) => {
                let saved = match (outcome.added, self.form.take().and_then(|form| form.id)) {
                    (Some(Added::Item(id)), _) | (_, Some(id)) => id,
                    _ => return Action::None,
                };
                Action::Many(vec![self.take(saved, shared), Action::Run(self.list.focus())])
            }
            (Waiting::Form, Err(refusal)) => {
                if let Some(form) = &mut self.form {
                    form.refusal = Some(refusal.to_string());
                }
                Action::None
            }
            (Waiting::Movement, Ok(_)) => {
                self.moving = None;
                Action::None
            }
            (Waiting::Movement, Err(refusal)) => {
                if let Some(moving) = &mut self.moving {
                    moving.refusal = Some(refusal.to_string());
                }
                Action::None
            }
            (Waiting::Correction, Ok(_)) => {
                self.correcting = None;
                Action::None
            }
            (Waiting::Correction, Err(refusal)) => {
                if let Some(correcting) = &mut self.correcting {
                    correcting.refusal = Some(refusal.to_string());
                }
                Action::None
            }
            (Waiting::Nothing, _) => Action::None,
        }
    }

    pub(super) fn in_worth(&mut self, change: worth::Change) -> Action<Message> {
        match change {
            worth::Change::Date(text) => {
                self.worth.date.type_in(text);
                Action::None
            }
            worth::Change::Method(method) => {
                self.worth.method = method;
                self.value()
            }
            worth::Change::Ask => self.value(),
            worth::Change::List(event) => {
                let total = self.worth.answer.as_ref().map_or(0, |(_, rows)| rows.len());
                Action::Run(self.worth.list.update(event, total).1)
            }
        }
    }

    pub(super) fn value(&mut self) -> Action<Message> {
        match self.worth.ask() {
            Some((on, method)) => Action::Ask(Request::StockValue { on, method }),
            None => Action::None,
        }
    }

    pub(super) fn go(&mut self, page: Page, shared: &Shared) -> Action<Message> {
        self.page = page;
        match page {
            Page::Worth => Action::Many(vec![self.value(), Action::Run(reveal::focus("stock-worth-date"))]),
            Page::List => {
                let asked = self.choose(shared);
                Action::Many(vec![asked, Action::Run(self.list.show())])
            }
            Page::Item => self.look_up(shared),
        }
    }
}
