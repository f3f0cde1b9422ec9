//! Papers on their way out, and what is kept in mind of them.

use super::laying::What;
use super::message::Message;
use super::printed::{self, Noted, OnItsWay};
use super::state::State;
use crate::window::Shared;
use crate::window::screen::Action;
use crate::window::screen::way_out::{self, Going, Leaving};
use std::sync::Arc;

impl State {
    /// What goes out.
    fn leaving(&self, shared: &Shared) -> Result<Leaving, String> {
        let Some(laid) = self.laid.as_ref().filter(|_| self.laying.is_none()) else {
            return Err(self.problem.clone().unwrap_or_else(|| "the pages are not laid out yet".to_owned()));
        };
        let going = Going {
            document: Arc::clone(&laid.document),
            title: self.choices.what.title().to_owned(),
            author: shared.settings().studio_name.clone(),
            language: self.writes,
            summary: laid.summary(self.choices.what),
            file_name: self.choices.what.file_name().to_owned(),
            sheet: self.book_sheet(),
        };
        let printed = self.pieces.iter().filter(|piece| self.chosen.printed(piece.id) > 0);
        let stops = printed.flat_map(|piece| piece.stops.iter().cloned()).collect();
        Ok(Leaving::from(going).minding(stops))
    }

    /// Something happened on the way out.
    pub(super) fn on_way_out(&mut self, message: way_out::Message, shared: &Shared) -> Action<Message> {
        let worked = self.out.is_at_work();
        // What goes out is asked of all else that the room keeps.
        let mut out = std::mem::take(&mut self.out);
        let (action, then) = out.update_leaving(message, &|| self.leaving(shared), shared);
        self.out = out;
        let action = action.map(Message::Out);
        if self.out.is_at_work() && !worked {
            self.on_its_way = self.leaves(shared);
        }
        let dots = self.out.printer().map(|printer| printer.dots_per_inch);
        if std::mem::replace(&mut self.choices.dots_per_inch, dots) != dots {
            return Action::Many(vec![action, self.lay(shared)]);
        }
        match then {
            way_out::Then::Nothing => action,
            way_out::Then::Sent(_) => match self.noted().filter(|_| self.note && !shared.read_only()) {
                None => action,
                Some((tags, sheet)) => {
                    let note = crate::actions::Action::NotePrinted { tags, sheet };
                    Action::Many(vec![action, Action::Do(note)])
                }
            },
        }
    }

    /// What is kept of the run that leaves now.
    fn leaves(&self, shared: &Shared) -> Option<OnItsWay> {
        let laid = self.laid.as_ref().filter(|_| self.choices.what == What::Tags)?;
        let wanted = self.pieces.iter().filter(|piece| self.chosen.printed(piece.id) > 0);
        let channel = self.choices.channel.as_ref();
        Some(OnItsWay {
            document: Arc::clone(&laid.document),
            tags: wanted.map(|piece| printed::tag(piece, &shared.snapshot, channel, shared.today)).collect(),
            sheet: self.book_sheet().zip(self.labels_on_sheet()),
        })
    }

    fn noted(&mut self) -> Option<Noted> {
        let sent = self.out.sent();
        self.on_its_way.take()?.noted(sent.pages.as_ref(), sent.copies)
    }
}
