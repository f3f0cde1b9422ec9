//! What the room does with what it keeps.

use super::day_form::DayForm;
use super::form::{Field, Form};
use super::tariff::Tariff;
use super::{DAYS_BACK, Message, Part, State, Waiting, day_form, figures};
use crate::actions::{self, Added, Outcome, Refusal};
use crate::kiln::fit::fit;
use crate::studio::{BookKiln, ElectricKiln, HeatSource, Kiln, KilnId};
use crate::window::screen::kiln::day;
use crate::window::screen::{Action, Destination, Notice};
use crate::window::widget::{modal, reveal};
use crate::window::{Answer, Request, Shared};
use chrono::Days;

/// Something happened.
pub(super) fn update(state: &mut State, message: Message, shared: &Shared) -> Action<Message> {
    match message {
        Message::Back => Action::Open(Destination::Kiln),
        Message::Choose(id) => {
            state.chosen = Some(id);
            state.forget();
            state.word(shared);
            state.ask(shared)
        }
        Message::Draw(place) => {
            state.draw(place, shared);
            Action::None
        }
        Message::Earlier => {
            state.back = state.back.saturating_add(DAYS_BACK);
            state.ask(shared)
        }
        Message::Close => {
            state.waiting = Waiting::Nothing;
            if state.day_form.take().is_none() && state.form.take().is_none() {
                state.tariff = None;
            }
            Action::None
        }
        own if !shared.read_only() => state.write(own, shared),
        _ => Action::None,
    }
}

/// The figures of an electric kiln.
fn electric(kiln: &BookKiln) -> Option<&ElectricKiln> {
    match &kiln.kiln.heat {
        HeatSource::Electric(electric) => Some(electric),
        HeatSource::Torch => None,
    }
}

impl State {
    fn forget(&mut self) {
        self.days.clear();
        self.drawn = None;
        self.readings.clear();
        self.fit = None;
        self.hours = None;
        self.back = DAYS_BACK;
    }

    fn kiln<'s>(&self, shared: &'s Shared) -> Option<&'s BookKiln> {
        shared.snapshot.kiln(self.chosen?)
    }

    /// Words the kilns and the one in hand.
    pub(super) fn word(&mut self, shared: &Shared) {
        let kilns = shared.snapshot.kilns.iter();
        self.kilns = kilns.map(|kiln| (kiln.id, kiln.kiln.name.clone(), kiln.kiln.retired)).collect();
        if !self.chosen.is_some_and(|id| self.kilns.iter().any(|(kiln, ..)| *kiln == id)) {
            self.chosen = self.kilns.iter().find(|(.., retired)| !retired).map(|(id, ..)| *id);
        }
        self.figures =
            self.kiln(shared).and_then(electric).map(|electric| figures::figures(electric, &shared.preferences));
    }

    /// Asks the book for what the page shows of the kiln in hand.
    pub(super) fn ask(&self, shared: &Shared) -> Action<Message> {
        let Some(kiln) = self.kiln(shared) else { return Action::None };
        if electric(kiln).is_none() {
            return Action::None;
        }
        let kiln = kiln.id;
        let from = shared.today.checked_sub_days(Days::new(self.back)).unwrap_or(shared.today);
        Action::Many(vec![
            Action::Ask(Request::KilnDays { kiln, from, to: shared.today }),
            Action::Ask(Request::MeterReadings(kiln)),
            Action::Ask(Request::HotHours { kiln, today: shared.today }),
        ])
    }

    fn draw(&mut self, place: usize, shared: &Shared) {
        self.version = self.version.wrapping_add(1);
        let found = self.days.get(place);
        self.drawn = found.and_then(|row| day(&row.account, shared.clock.now(), self.version, &shared.preferences));
    }

    fn write(&mut self, message: Message, shared: &Shared) -> Action<Message> {
        let p = &shared.preferences;
        match message {
            Message::New => self.begin(Form::new(shared.today, p)),
            Message::Edit => match self.kiln(shared) {
                Some(kiln) => self.begin(Form::of(kiln, shared.today, p)),
                None => Action::None,
            },
            Message::SetAside => self.change(shared, |kiln| kiln.retired = !kiln.retired),
            Message::Renewed(part) => self.change(shared, |kiln| {
                if let HeatSource::Electric(electric) = &mut kiln.heat {
                    match part {
                        Part::Elements => electric.elements_since = shared.today,
                        Part::Thermocouple => electric.thermocouple_since = shared.today,
                    }
                }
            }),
            Message::AcceptFit => match (&self.fit, self.chosen) {
                (Some(fit), Some(kiln)) => {
                    Action::Do(actions::Action::AcceptFit { kiln, fitted: Some(fit.accepted(shared.today)) })
                }
                _ => Action::None,
            },
            Message::DropFit => match self.chosen {
                Some(kiln) => Action::Do(actions::Action::AcceptFit { kiln, fitted: None }),
                None => Action::None,
            },
            Message::Day(id) => self.begin_day(id, shared),
            Message::Tariff => {
                self.tariff = Some(Tariff::of(&shared.snapshot.rates, p));
                self.waiting = Waiting::Nothing;
                Action::None
            }
            Message::TariffChange(change) => {
                if let Some(tariff) = &mut self.tariff {
                    tariff.change(change);
                }
                Action::None
            }
            Message::DayTyped(field, text) => {
                if let Some(form) = &mut self.day_form {
                    form.refusal = None;
                    form.fields.type_in(field, text);
                }
                Action::None
            }
            Message::Save => self.save(shared),
            in_form => {
                let Some(form) = &mut self.form else { return Action::None };
                form.refusal = None;
                match in_form {
                    Message::Typed(field, text) => form.fields.type_in(field, text),
                    Message::Heats(heats) => form.heats = heats,
                    Message::Share(share_by) => form.share_by = share_by,
                    _ => {}
                }
                Action::None
            }
        }
    }

    fn begin(&mut self, form: Form) -> Action<Message> {
        self.form = Some(form);
        self.waiting = Waiting::Nothing;
        Action::Run(reveal::focus(Field::Name.id()))
    }

    fn begin_day(&mut self, id: Option<crate::studio::KilnDayId>, shared: &Shared) -> Action<Message> {
        let p = &shared.preferences;
        let held = id.and_then(|id| self.days.iter().find(|row| row.id == Some(id)));
        let held = held.and_then(|row| row.account.written.as_ref());
        self.day_form = match (held, self.kiln(shared)) {
            (Some(day), _) => Some(DayForm::of(day, p)),
            (None, Some(kiln)) => electric(kiln).map(|figures| DayForm::new(kiln.id, figures, shared.today, p)),
            (None, None) => None,
        };
        self.waiting = Waiting::Nothing;
        Action::Run(modal::enter().chain(reveal::focus(day_form::Field::On.id())))
    }

    /// Another state of the kiln in hand.
    fn change(&self, shared: &Shared, change: impl FnOnce(&mut Kiln)) -> Action<Message> {
        let Some(book) = self.kiln(shared) else { return Action::None };
        let mut kiln = book.kiln.clone();
        change(&mut kiln);
        Action::Do(actions::Action::SaveKiln { id: Some(book.id), kiln })
    }

    fn save(&mut self, shared: &Shared) -> Action<Message> {
        let p = &shared.preferences;
        if self.waiting != Waiting::Nothing {
            return Action::None;
        }
        if let Some(form) = &mut self.day_form {
            form.tried = true;
            if let Some(field) = form.first_problem(p) {
                return Action::Run(reveal::focus(field.id()));
            }
            return match form.day(p) {
                Ok(day) => {
                    self.waiting = Waiting::Day;
                    Action::Do(actions::Action::SaveKilnDay { id: form.id, day })
                }
                Err(why) => {
                    form.refusal = Some(why);
                    Action::None
                }
            };
        }
        if let Some(form) = &mut self.form {
            form.tried = true;
            if let Some(field) = form.first_problem(p) {
                return Action::Run(reveal::focus(field.id()));
            }
            let Some(kiln) = form.kiln(p) else { return Action::None };
            self.waiting = Waiting::Kiln;
            return Action::Do(actions::Action::SaveKiln { id: form.id, kiln });
        }
        let Some(tariff) = &mut self.tariff else { return Action::None };
        tariff.tried = true;
        if let Some(field) = tariff.first_problem(p) {
            return Action::Run(reveal::focus(field.id()));
        }
        match tariff.rates(&shared.snapshot.rates, p) {
            Ok(rates) => {
                self.waiting = Waiting::Tariff;
                Action::Do(actions::Action::SaveRates(rates))
            }
            Err(why) => {
                tariff.refusal = Some(why);
                Action::None
            }
        }
    }

    /// The book answered.
    pub(super) fn told(&mut self, answer: Answer, shared: &Shared) -> Action<Message> {
        let here = |kiln: KilnId| self.chosen == Some(kiln);
        match answer {
            Answer::KilnDays(kiln, Ok(days)) if here(kiln) => {
                let drawn = self.drawn.as_ref().map(|day| day.date);
                self.days = figures::days(days, &shared.preferences);
                let place = self.days.iter().position(|row| Some(row.account.date) == drawn);
                self.draw(place.unwrap_or(0), shared);
                Action::None
            }
            Answer::MeterReadings(kiln, Ok(readings)) if here(kiln) => {
                self.fit = fit(&readings).ok().flatten();
                self.fit_words =
                    self.fit.as_ref().map(|fit| figures::residuals(fit, &shared.preferences)).unwrap_or_default();
                self.readings = readings;
                Action::None
            }
            Answer::HotHours(kiln, Ok(hours)) if here(kiln) => {
                self.hours = hours;
                Action::None
            }
            Answer::KilnDays(_, Err(error))
            | Answer::MeterReadings(_, Err(error))
            | Answer::HotHours(_, Err(error)) => Action::Notify(Notice::Trouble(error.to_string())),
            Answer::Performed(outcome) => self.performed(outcome, shared),
            _ => Action::None,
        }
    }

    fn performed(&mut self, outcome: Result<Outcome, Refusal>, shared: &Shared) -> Action<Message> {
        match (std::mem::replace(&mut self.waiting, Waiting::Nothing), outcome) {
            (Waiting::Kiln, Ok(outcome)) => {
                self.form = None;
                if let Some(Added::Kiln(id)) = outcome.added {
                    self.chosen = Some(id);
                    self.forget();
                }
                self.word(shared);
                self.ask(shared)
            }
            (Waiting::Day, Ok(_)) => {
                self.day_form = None;
                Action::None
            }
            (Waiting::Tariff, Ok(_)) => {
                self.tariff = None;
                Action::None
            }
            (waiting, Err(refusal)) => {
                let why = Some(refusal.to_string());
                match (waiting, &mut self.form, &mut self.day_form, &mut self.tariff) {
                    (Waiting::Kiln, Some(form), ..) => form.refusal = why,
                    (Waiting::Day, _, Some(form), _) => form.refusal = why,
                    (Waiting::Tariff, .., Some(tariff)) => tariff.refusal = why,
                    _ => {}
                }
                Action::None
            }
            (Waiting::Nothing, Ok(_)) => Action::None,
        }
    }
}
