//! What the room does with what it keeps.

use super::search::{Event, Search};
use super::{Message, State, Towards, worded};
use crate::kiln::plan::{self, Breach, KilnPlan, Place, PlanProblem};
use crate::measure::{Decimal, exact};
use crate::studio::HeatSource;
use crate::window::screen::kiln::fields;
use crate::window::screen::kiln::proposed::{self, Proposed};
use crate::window::screen::{Action, Destination, Notice};
use crate::window::widget::reveal;
use crate::window::{Answer, Request, Shared};
use std::sync::Arc;

/// Something happened.
pub(super) fn update(state: &mut State, message: Message, shared: &Shared) -> Action<Message> {
    match message {
        Message::Kiln => Action::Open(Destination::Kiln),
        Message::Kilns => Action::Open(Destination::Kilns),
        Message::Choose(kiln) => {
            state.kiln = Some(kiln);
            state.ask(shared)
        }
        Message::Begins(text) => {
            state.begins.type_in(text);
            Action::None
        }
        Message::Plan => state.ask(shared),
        Message::Stop => {
            state.search = None;
            Action::None
        }
        Message::Searched(event) => {
            state.searched(event, shared);
            Action::None
        }
        Message::Take(place) => {
            if place < state.loads() {
                if state.chosen != place {
                    state.piece = None;
                }
                state.chosen = place;
                Action::Run(reveal::focus(row_id(place)))
            } else {
                Action::None
            }
        }
        Message::Move(towards) => state.move_load(towards, shared),
        Message::TakePiece(fired) => {
            state.piece = (state.piece != Some(fired)).then_some(fired);
            state.breaches.clear();
            Action::None
        }
        Message::Put(place) => state.put_piece(place, shared),
        Message::AsFound => {
            state.plan.clone_from(&state.found);
            state.piece = None;
            state.breaches.clear();
            state.chosen = 0;
            state.word(shared);
            Action::None
        }
        Message::Begin => state.begin(shared),
    }
}

/// The name of a row, to send the focus to.
pub(super) fn row_id(place: usize) -> String {
    format!("plan-load-{place}")
}

impl State {
    /// The kilns that can be planned: a torch has no day.
    pub(super) fn know_kilns(&mut self, shared: &Shared) {
        let kilns = shared.snapshot.kilns.iter().filter(|kiln| !kiln.kiln.retired);
        self.kilns = kilns
            .filter(|kiln| matches!(kiln.kiln.heat, HeatSource::Electric(_)))
            .map(|kiln| (kiln.id, kiln.kiln.name.clone()))
            .collect();
        if !self.kiln.is_some_and(|id| self.kilns.iter().any(|(kiln, _)| *kiln == id)) {
            self.kiln = self.kilns.first().map(|(id, _)| *id);
        }
        if self.begins.is_empty() {
            self.begins.set(shared.clock.now().format("%H:%M").to_string());
        }
    }

    pub(super) fn loads(&self) -> usize {
        self.plan.as_ref().map_or(0, |plan| plan.loads.len())
    }

    /// What is wrong with the time typed.
    pub(super) fn problem(&self) -> Option<String> {
        fields::time(self.begins.text()).err()
    }

    /// Asks the book what is to be planned; the search begins when it has told.
    fn ask(&mut self, shared: &Shared) -> Action<Message> {
        self.search = None;
        self.stale = false;
        let (Some(kiln), Ok(time)) = (self.kiln, fields::time(self.begins.text())) else { return Action::None };
        Action::Ask(Request::PlanAsk { kiln, at: shared.today.and_time(time) })
    }

    /// The book answered.
    pub(super) fn told(&mut self, answer: Answer, shared: &Shared) -> Action<Message> {
        let Answer::PlanAsk(kiln, found) = answer else { return Action::None };
        if self.kiln != Some(kiln) {
            return Action::None;
        }
        self.found = None;
        self.plan = None;
        self.piece = None;
        self.breaches.clear();
        self.refused = None;
        self.question = match found {
            Ok(found) => found,
            Err(error) => return Action::Notify(Notice::Trouble(error.to_string())),
        };
        let ask = match &self.question {
            None => {
                let why = "This kiln's figures give no heat model: look at its three measurements in Kilns.";
                self.refused = Some(why.to_owned());
                None
            }
            Some(question) if question.ask.pieces.is_empty() => None,
            Some(question) => Some(question.ask.clone()),
        };
        self.word(shared);
        let Some(ask) = ask else { return Action::None };
        self.searches = self.searches.wrapping_add(1);
        let (search, task) = Search::begin(self.searches, ask);
        self.search = Some(search);
        Action::Run(task)
    }

    fn searched(&mut self, event: Event, shared: &Shared) {
        let number = match &event {
            Event::Progress(number, _) | Event::Done(number, _) => *number,
        };
        let Some(search) = self.search.as_mut().filter(|search| search.number == number) else { return };
        match event {
            Event::Progress(_, progress) => search.hear(progress),
            Event::Done(_, found) => {
                self.search = None;
                match found {
                    Ok(plan) => {
                        self.found = Some(Arc::clone(&plan));
                        self.plan = Some(plan);
                        self.chosen = 0;
                    }
                    Err(PlanProblem::Cancelled) => {}
                    Err(problem) => self.refused = Some(problem.to_string()),
                }
                self.word(shared);
            }
        }
    }

    /// Words the plan anew.
    pub(super) fn word(&mut self, shared: &Shared) {
        self.version = self.version.wrapping_add(1);
        self.shown = match (&self.plan, &self.found, &self.question) {
            (Some(plan), Some(found), Some(question)) => {
                Some(worded::shown(plan, found, question, &shared.snapshot, self.version, &shared.preferences))
            }
            _ => None,
        };
    }

    fn move_load(&mut self, towards: Towards, shared: &Shared) -> Action<Message> {
        let (Some(plan), Some(question)) = (&self.plan, &self.question) else { return Action::None };
        let to = match towards {
            Towards::Earlier => self.chosen.checked_sub(1),
            Towards::Later => Some(self.chosen + 1).filter(|to| *to < plan.loads.len()),
        };
        let Some(to) = to else { return Action::None };
        let moved = plan::moved(&question.ask, plan, self.chosen, to);
        self.changed(moved, shared, |_| to)
    }

    /// Puts the piece in hand into another load, and takes that load in hand with it.
    fn put_piece(&mut self, place: Place, shared: &Shared) -> Action<Message> {
        let (Some(plan), Some(question), Some(fired)) = (&self.plan, &self.question, self.piece) else {
            return Action::None;
        };
        let moved = plan::moved_piece(&question.ask, plan, fired, place);
        let chosen = self.chosen;
        self.changed(moved, shared, |plan| plan.load_of(fired).unwrap_or(chosen))
    }

    /// Shows a plan changed by hand with that load of it in hand, or what the change would break.
    fn changed(
        &mut self,
        moved: Result<KilnPlan, Vec<Breach>>,
        shared: &Shared,
        chosen: impl FnOnce(&KilnPlan) -> usize,
    ) -> Action<Message> {
        let Some(question) = &self.question else { return Action::None };
        match moved {
            Ok(moved) => {
                self.chosen = chosen(&moved);
                self.plan = Some(Arc::new(moved));
                self.breaches.clear();
                self.word(shared);
                Action::Run(reveal::focus(row_id(self.chosen)))
            }
            Err(breaches) => {
                let words = breaches.iter().map(|of| worded::breach(of, question, &shared.preferences));
                self.breaches = words.take(4).collect();
                Action::None
            }
        }
    }

    /// Hands the load in hand over to the kiln.
    fn begin(&mut self, shared: &Shared) -> Action<Message> {
        if shared.read_only() {
            return Action::None;
        }
        let (Some(plan), Some(question), Some(kiln)) = (&self.plan, &self.question, self.kiln) else {
            return Action::None;
        };
        let Some(load) = plan.loads.get(self.chosen) else { return Action::None };
        let pieces = load.pieces.iter().filter_map(|fired| question.pieces.get(&fired.piece));
        let minutes = exact::div(Decimal::from(load.seconds), Decimal::from(60)).unwrap_or_default();
        proposed::hand_over(Proposed {
            kiln,
            pieces: pieces.map(|piece| piece.piece).collect(),
            celsius: Decimal::from(load.celsius),
            minutes: exact::round(minutes, 6).normalize(),
        });
        Action::Open(Destination::Kiln)
    }
}
