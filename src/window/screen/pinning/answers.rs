//! What the room does with the book's answers.

use super::asking::Asking;
use super::message::Message;
use super::state::{State, Waiting};
use crate::actions::Added;
use crate::window::screen::Action;
use crate::window::{Answer, Shared};

impl State {
    /// The book answered.
    pub(super) fn told(&mut self, answer: Answer, shared: &Shared) -> Action<Message> {
        match answer {
            Answer::Picture(id, Ok(Some(png))) => {
                let _ = self.tools.gallery.picture_came(id, png);
            }
            Answer::Picture(id, _) => {
                let _ = self.tools.gallery.picture_came(id, Vec::new());
            }
            Answer::PaperStore(Ok(store)) => {
                self.store_came(store, shared);
                if !self.on_paper {
                    self.stock_shelf(shared);
                }
                return self.lay_anew(shared);
            }
            Answer::Photo(id, png) => self.tools.gallery.photo_came(id, png.ok().flatten().as_deref()),
            Answer::Performed(done) => {
                let waiting = self.waiting.pop_front().unwrap_or(Waiting::Other);
                return match (waiting, done) {
                    (Waiting::Save, Ok(outcome)) => {
                        if let Some(draft) = &mut self.draft {
                            let id = match outcome.added {
                                Some(Added::PaperDesign(id)) => Some(id),
                                _ => draft.id,
                            };
                            if let Some(id) = id {
                                draft.saved(id);
                            }
                        }
                        self.relay(shared)
                    }
                    (Waiting::Pin, Ok(outcome)) => match outcome.added {
                        Some(Added::Picture(id)) => self.pin_picture(id, shared),
                        _ => Action::None,
                    },
                    (Waiting::Bring, Ok(outcome)) => {
                        if let (Some(Added::Picture(id)), Some(Asking::Bringing(_, rows))) =
                            (outcome.added, &mut self.asking)
                        {
                            rows.push(id);
                            return self.bring(shared);
                        }
                        self.asking = None;
                        Action::None
                    }
                    (Waiting::Bring, Err(_)) => {
                        self.asking = None;
                        Action::None
                    }
                    _ => Action::None,
                };
            }
            _ => return Action::None,
        }
        if !self.tools.gallery.is_complete() {
            return Action::None;
        }
        if !self.on_paper {
            self.stock_shelf(shared);
            return Action::None;
        }
        self.lay_anew(shared)
    }

    /// Lays out what is on screen as it is now.
    pub(super) fn lay_anew(&mut self, shared: &Shared) -> Action<Message> {
        match (self.printing.is_some(), self.on_paper) {
            (true, _) => self.lay_run(shared),
            (false, true) => self.relay(shared),
            (false, false) => self.wants_of_shelf(),
        }
    }
}
