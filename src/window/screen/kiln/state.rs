//! What the room does with what it keeps.

use super::loading::Field;
use super::log;
use super::photo::Wish;
use super::results::{self, Results};
use super::timer::Timer;
use super::{LOG_DAYS, Message, Moment, Page, State, Waiting, day, fields, sound, words};
use crate::actions::{self, DoorOpened};
use crate::costing::firing_clock::FiringClock;
use crate::studio::{BookLoad, HeatSource, KilnDay, KilnId, LoadId};
use crate::window::screen::{Action, Destination};
use crate::window::widget::listing::Reaction;
use crate::window::widget::{Entry, modal, reveal};
use crate::window::{Request, Shared};
use chrono::{Days, NaiveDateTime, Timelike};

/// Seconds more at a press.
const MORE: u32 = 15;

/// Something happened.
pub(super) fn update(state: &mut State, message: Message, shared: &Shared) -> Action<Message> {
    match message {
        Message::Waiting => state.turn_to(Page::Waiting, shared),
        Message::Log => state.turn_to(Page::Log, shared),
        Message::Show(load) => {
            state.chosen = Some(load);
            state.turn_to(Page::Firing, shared)
        }
        Message::Enter(room) => Action::Open(room.destination()),
        Message::Kilns => Action::Open(Destination::Kilns),
        Message::Batch(batch) => Action::Open(Destination::Batch(batch)),
        Message::Piece(piece) => Action::Open(Destination::Piece(piece)),
        Message::TileOf(load) => Action::Open(Destination::TileOf(load)),
        Message::PickOffer(place) => {
            state.loading.pick_offer(place, shared);
            Action::None
        }
        Message::PickPiece(piece) => {
            state.loading.pick_piece(piece, shared);
            Action::None
        }
        Message::Kiln(kiln) => {
            state.loading.choose_kiln(kiln, shared);
            state.ask(shared)
        }
        Message::Typed(field, text) => {
            state.loading.type_in(field, text, shared);
            Action::None
        }
        Message::Tick => state.tick(shared),
        Message::Mute => {
            state.bell.muted = !state.bell.muted;
            Action::None
        }
        Message::Read(text) => {
            state.read.type_in(text);
            Action::None
        }
        Message::ReadDone => {
            state.read.settle();
            // The focus leaves the field, so that Space opens the door again.
            Action::Run(iced::advanced::widget::operate(iced::advanced::widget::operation::focusable::unfocus()))
        }
        Message::Close => state.close(shared),
        Message::List(event) => state.in_list(event, shared),
        Message::Earlier => {
            state.back = state.back.saturating_add(LOG_DAYS);
            state.ask(shared)
        }
        Message::Photo(change) => match (state.photo.update(change), state.page) {
            (Wish::Run(task), _) => Action::Run(task.map(Message::Photo)),
            (Wish::Keep(png), Page::Load(load)) if !shared.read_only() => {
                Action::Do(actions::Action::SetLoadPhoto { load, png })
            }
            _ => Action::None,
        },
        own if !shared.read_only() => state.write(own, shared),
        _ => Action::None,
    }
}

impl State {
    /// The timer that is looked at.
    pub(super) fn timer(&self) -> Option<&Timer> {
        let chosen = self.chosen.and_then(|id| self.timers.iter().find(|timer| timer.id == id));
        chosen.or_else(|| self.timers.first())
    }

    /// The load of that timer.
    fn firing<'s>(&self, shared: &'s Shared) -> Option<&'s BookLoad> {
        let id = self.timer()?.id;
        shared.snapshot.firing.iter().find(|load| load.id == id)
    }

    /// What is wrong with the temperature read, if anything.
    pub(super) fn read_problem(&self, shared: &Shared) -> Option<String> {
        match self.read.trimmed() {
            "" => None,
            text => fields::temperature(text, &shared.preferences).err(),
        }
    }

    pub(super) fn turn_to(&mut self, page: Page, shared: &Shared) -> Action<Message> {
        self.page = page;
        self.logging = None;
        self.word(shared);
        let focus = if page == Page::Log { Action::Run(self.list.focus()) } else { Action::None };
        Action::Many(vec![self.ask(shared), focus])
    }

    /// Where the loads that fire stand now.
    pub(super) fn look_at_the_clock(&mut self, shared: &Shared) {
        let now = shared.clock.now();
        let (snapshot, p) = (&shared.snapshot, &shared.preferences);
        self.timers = snapshot.firing.iter().map(|load| Timer::of(load, now, snapshot, p)).collect();
        if !self.chosen.is_some_and(|id| self.timers.iter().any(|timer| timer.id == id)) {
            self.chosen = self.timers.first().map(|timer| timer.id);
            self.read = Entry::default();
        }
        self.beat = now.second().is_multiple_of(2);
        if self.timers.is_empty() && self.page == Page::Firing {
            self.page = Page::Waiting;
        }
        if self.results.as_ref().is_some_and(|results| self.timers.iter().all(|timer| timer.id != results.load)) {
            self.results = None;
        }
    }

    fn tick(&mut self, shared: &Shared) -> Action<Message> {
        let now = shared.clock.now();
        let before = self.timers.len();
        self.look_at_the_clock(shared);
        for timer in &self.timers {
            if timer.clock.is_over() && self.bell.rings(timer.id, now) {
                sound::ring();
                break;
            }
        }
        if now.second() == 0 || before != self.timers.len() {
            self.word_day(shared);
        }
        Action::None
    }

    /// Words what is shown anew.
    pub(super) fn word(&mut self, shared: &Shared) {
        self.word_day(shared);
        let offers = self.loading.offers.len();
        self.summary = if offers == 0 { String::new() } else { words::counted(offers, "load waits", "loads wait") };
        let place = self.day.as_ref().and_then(|day| {
            let timer = self.timer()?;
            day.loads.iter().position(|load| *load == timer.id)
        });
        self.firing_title = place.map_or_else(|| "In the heat".to_owned(), |place| format!("Load {}", place + 1));
        let loads = self.loads.as_deref().unwrap_or_default();
        self.rows = log::rows(loads, &shared.snapshot, &shared.preferences, self.list.sort());
        let count = words::counted(self.rows.len(), "load", "loads");
        self.log_summary = format!("{count} in the last {} days", self.back);
        if let Page::Load(id) = self.page {
            self.list.select(self.rows.iter().position(|row| row.id == id));
        } else if self.list.selected().is_none_or(|place| place >= self.rows.len()) {
            self.list.select((!self.rows.is_empty()).then_some(0));
        }
    }

    fn word_day(&mut self, shared: &Shared) {
        self.version = self.version.wrapping_add(1);
        let now = shared.clock.now();
        self.day = self.account.as_ref().and_then(|account| day(account, now, self.version, &shared.preferences));
    }

    /// The kiln whose day is shown.
    fn kiln_of_day(&self, shared: &Shared) -> Option<KilnId> {
        match self.page {
            Page::Firing => self.firing(shared).map(|load| load.load.kiln),
            _ => self.loading.kiln,
        }
    }

    /// Asks the book for what the page shows.
    pub(super) fn ask(&mut self, shared: &Shared) -> Action<Message> {
        let yesterday = shared.today.checked_sub_days(Days::new(1)).unwrap_or(shared.today);
        match self.page {
            Page::Waiting | Page::Firing => match self.kiln_of_day(shared) {
                Some(kiln) => Action::Ask(Request::KilnDays { kiln, from: yesterday, to: shared.today }),
                None => Action::None,
            },
            Page::Log => {
                let from = shared.today.checked_sub_days(Days::new(self.back)).unwrap_or(shared.today);
                Action::Ask(Request::Loads { from, to: shared.today })
            }
            Page::Load(id) => Action::Ask(Request::LoadAccount(id)),
        }
    }

    fn write(&mut self, message: Message, shared: &Shared) -> Action<Message> {
        match message {
            Message::CloseDoor => self.close_door(shared),
            Message::DoorOpened => self.door_opened(shared),
            Message::Longer => match self.firing(shared).map(|load| (load.id, FiringClock::longer(&load.load, MORE))) {
                Some((load, Ok(minutes))) => Action::Do(actions::Action::AskMinutes { load, minutes }),
                _ => Action::None,
            },
            Message::WentWrong => {
                let Some(load) = self.firing(shared) else { return Action::None };
                let at = self.opening_of(load.id, shared);
                self.results = Some(Results::new(load, at, self.read.trimmed(), &shared.snapshot));
                self.waiting = Waiting::Nothing;
                Action::Run(modal::enter())
            }
            Message::Results(change) => {
                if let Some(results) = &mut self.results {
                    results.change(change);
                }
                Action::None
            }
            Message::LogOne => {
                self.logging = Some(super::Logging::new(self.loading.kiln, shared));
                self.waiting = Waiting::Nothing;
                Action::Run(reveal::focus(super::logging::Field::Closed.id()))
            }
            Message::Logging(change) => {
                if let Some(form) = &mut self.logging {
                    form.change(change);
                }
                Action::None
            }
            Message::WriteDown => self.write_down(shared),
            Message::Mark(moment) => self.mark(moment, shared),
            _ => Action::None,
        }
    }

    /// The day in hand is not over.
    pub(super) fn is_on(&self) -> bool {
        let written = self.day.as_ref().and_then(|day| day.written.as_ref());
        written.is_some_and(|written| written.day.off_at.is_none())
    }

    /// A day can be written down of the kiln in hand: it is an electric one.
    pub(super) fn marks_on(&self, shared: &Shared) -> bool {
        let kiln = self.kiln_of_day(shared).and_then(|id| shared.snapshot.kiln(id));
        kiln.is_some_and(|kiln| matches!(kiln.kiln.heat, HeatSource::Electric(_)))
    }

    /// Writes a moment of the kiln day down.
    fn mark(&self, moment: Moment, shared: &Shared) -> Action<Message> {
        let now = shared.clock.now();
        let now = now.with_second(0).and_then(|now| now.with_nanosecond(0)).unwrap_or(now);
        let Some(kiln) = self.kiln_of_day(shared).and_then(|id| shared.snapshot.kiln(id)) else { return Action::None };
        let HeatSource::Electric(electric) = &kiln.kiln.heat else { return Action::None };
        let written = self.day.as_ref().and_then(|day| day.written.clone());
        let (id, mut day) = match written {
            Some(written) => (Some(written.id), written.day),
            None => {
                // A load of today came before: it was on by then.
                let first = self.account.as_ref().and_then(|account| account.loads.first());
                let on_at = first.map_or(now, |load| load.load.closed_at);
                let day = KilnDay {
                    kiln: kiln.id,
                    date: on_at.date(),
                    on_at,
                    hot_at: None,
                    off_at: None,
                    hold_celsius: electric.working_celsius,
                    meter_kwh: None,
                    note: String::new(),
                };
                (None, day)
            }
        };
        match moment {
            Moment::On => {}
            Moment::Hot => day.hot_at = Some(now),
            Moment::Off => day.off_at = Some(now),
        }
        Action::Do(actions::Action::SaveKilnDay { id, day })
    }

    fn close_door(&mut self, shared: &Shared) -> Action<Message> {
        if self.waiting != Waiting::Nothing || self.page != Page::Waiting {
            return Action::None;
        }
        match self.loading.close_door(shared.clock.now(), shared) {
            Ok(action) => {
                self.waiting = Waiting::Close;
                Action::Do(action)
            }
            Err(Field::Note) => Action::None,
            Err(field) => Action::Run(reveal::focus(field.id())),
        }
    }

    /// When the door of a load opened: now, or when it was opened before that was taken back.
    fn opening_of(&mut self, load: LoadId, shared: &Shared) -> NaiveDateTime {
        let now = shared.clock.now();
        let now = now.with_nanosecond(0).unwrap_or(now);
        let at = self.opened.filter(|(before, _)| *before == load).map_or(now, |(_, at)| at);
        self.opened = Some((load, at));
        at
    }

    fn door_opened(&mut self, shared: &Shared) -> Action<Message> {
        if self.waiting != Waiting::Nothing || self.results.is_some() {
            return Action::None;
        }
        let Some(load) = self.firing(shared).map(|load| load.id) else { return Action::None };
        if self.read_problem(shared).is_some() {
            return Action::Run(reveal::focus("load-read"));
        }
        let read = self.read.trimmed();
        let read_celsius = fields::temperature(read, &shared.preferences).ok().filter(|_| !read.is_empty());
        let at = self.opening_of(load, shared);
        self.waiting = Waiting::Open;
        Action::Do(actions::Action::OpenDoor(DoorOpened {
            load,
            at,
            read_celsius,
            attended_minutes: None,
            results: Vec::new(),
            note: String::new(),
        }))
    }

    fn write_down(&mut self, shared: &Shared) -> Action<Message> {
        if self.waiting != Waiting::Nothing {
            return Action::None;
        }
        if let Some(results) = &self.results {
            return match results.opened(&shared.preferences) {
                Ok(opened) => {
                    self.waiting = Waiting::Open;
                    Action::Do(actions::Action::OpenDoor(opened))
                }
                Err(field) => Action::Run(reveal::focus(results::Field::id(field))),
            };
        }
        let Some(form) = &mut self.logging else { return Action::None };
        form.tried = true;
        if let Some(field) = form.first_problem(&shared.preferences) {
            return Action::Run(reveal::focus(field.id()));
        }
        match form.action(shared) {
            Ok(action) => {
                self.waiting = Waiting::Log;
                Action::Do(action)
            }
            Err(why) => {
                form.refusal = Some(why);
                Action::None
            }
        }
    }

    fn close(&mut self, shared: &Shared) -> Action<Message> {
        self.waiting = Waiting::Nothing;
        if self.results.take().is_some() {
            // The door was not opened after all.
            self.opened = None;
            return Action::None;
        }
        if self.logging.take().is_some() {
            return Action::None;
        }
        match self.page {
            Page::Load(_) => self.turn_to(Page::Log, shared),
            Page::Log => self.turn_to(Page::Waiting, shared),
            Page::Waiting | Page::Firing => Action::None,
        }
    }

    fn in_list(&mut self, event: crate::window::widget::listing::Event, shared: &Shared) -> Action<Message> {
        let (reaction, task) = self.list.update(event, self.rows.len());
        let follow = match reaction {
            Reaction::Sort => {
                self.word(shared);
                Action::None
            }
            Reaction::Opened(place) => match self.rows.get(place).map(|row| row.id) {
                Some(id) => Action::Open(Destination::Load(id)),
                None => Action::None,
            },
            Reaction::Selected(_) | Reaction::None => Action::None,
        };
        Action::Many(vec![Action::Run(task), follow])
    }
}
