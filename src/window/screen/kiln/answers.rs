//! What the room does about the book's answers.

use super::{Message, Page, State, Waiting, log};
use crate::actions::{Added, KilnDayAccount, Outcome, Refusal};
use crate::window::screen::{Action, Notice};
use crate::window::widget::Entry;
use crate::window::{Answer, Request, Shared};

impl State {
    /// The book answered.
    pub(super) fn told(&mut self, answer: Answer, shared: &Shared) -> Action<Message> {
        match answer {
            Answer::KilnDays(kiln, Ok(days)) => {
                let fires = |date| shared.snapshot.firing.iter().any(|load| load.load.closed_at.date() == date);
                let here = |of: &&KilnDayAccount| of.kiln == kiln && (of.date == shared.today || fires(of.date));
                self.account = days.iter().rfind(here).cloned();
                self.word(shared);
                Action::None
            }
            Answer::Loads(Ok(loads)) => {
                self.loads = Some(loads);
                self.word(shared);
                Action::None
            }
            Answer::LoadAccount(id, Ok(found)) if self.page == Page::Load(id) => {
                let Some(account) = found else {
                    self.page = Page::Log;
                    return self.ask(shared);
                };
                let page = log::page(&account, &shared.preferences);
                let photo = self.photo.begin(page.has_photo);
                self.load = Some(page);
                if photo { Action::Ask(Request::LoadPhoto(id)) } else { Action::None }
            }
            Answer::LoadPhoto(id, found) if self.page == Page::Load(id) => {
                self.photo.told(found);
                Action::None
            }
            Answer::KilnDays(_, Err(error)) | Answer::Loads(Err(error)) | Answer::LoadAccount(_, Err(error)) => {
                Action::Notify(Notice::Trouble(error.to_string()))
            }
            Answer::Performed(outcome) => self.performed(outcome, shared),
            _ => Action::None,
        }
    }

    fn performed(&mut self, outcome: Result<Outcome, Refusal>, shared: &Shared) -> Action<Message> {
        match (std::mem::replace(&mut self.waiting, Waiting::Nothing), outcome) {
            (Waiting::Close, Ok(outcome)) => {
                self.loading.closed();
                self.loading.refresh(shared);
                if let Some(Added::Load(id)) = outcome.added {
                    self.chosen = Some(id);
                } else {
                    self.chosen = shared.snapshot.firing.last().map(|load| load.id);
                }
                self.read = Entry::default();
                self.look_at_the_clock(shared);
                self.turn_to(Page::Firing, shared)
            }
            (Waiting::Close, Err(refusal)) => {
                self.loading.refusal = Some(refusal.to_string());
                Action::None
            }
            (Waiting::Open, Ok(_)) => {
                self.results = None;
                self.read = Entry::default();
                self.ask(shared)
            }
            (Waiting::Open, Err(refusal)) => {
                if let Some(results) = &mut self.results {
                    results.refusal = Some(refusal.to_string());
                }
                self.opened = None;
                Action::None
            }
            (Waiting::Log, Ok(_)) => {
                self.logging = None;
                self.turn_to(Page::Log, shared)
            }
            (Waiting::Log, Err(refusal)) => {
                if let Some(form) = &mut self.logging {
                    form.refusal = Some(refusal.to_string());
                }
                Action::None
            }
            (Waiting::Nothing, _) => Action::None,
        }
    }
}
