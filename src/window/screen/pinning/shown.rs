//! What papers are shown with: finished pieces and lots the book is asked for, the channel, an item asked for elsewhere.

use super::message::Message;
use super::state::State;
use crate::actions::PaperStore;
use crate::studio::{ItemDetails, ItemId, PaperKind};
use crate::window::screen::Action;
use crate::window::{Request, Shared};
use std::sync::Arc;

impl State {
    /// Asks for what the snapshot does not hold, where it may have changed.
    pub(super) fn ask_store(&mut self, shared: &Shared) -> Action<Message> {
        let (batches, stock) = (&shared.snapshot.batches, &shared.snapshot.stock);
        let same = self
            .asked_for
            .as_ref()
            .is_some_and(|(seen, shelf)| Arc::ptr_eq(seen, batches) && Arc::ptr_eq(shelf, stock));
        if same {
            return Action::None;
        }
        self.asked_for = Some((Arc::clone(batches), Arc::clone(stock)));
        Action::Ask(Request::PaperStore)
    }

    /// It came: pieces and lots are those of the book.
    pub(super) fn store_came(&mut self, store: PaperStore, shared: &Shared) {
        if self.store != store {
            self.store = store;
            self.take_subjects(shared);
            self.reword(shared);
        }
    }

    /// The words of the channel whose tickets are shown; none where papers of this kind have no ticket.
    pub(super) fn channel_words(&self) -> Option<&String> {
        self.channels.iter().find(|(id, _)| *id == self.channel).or(self.channels.first()).map(|(_, words)| words)
    }

    /// Shows the tickets of another channel.
    pub(super) fn choose_channel(&mut self, words: &str, shared: &Shared) {
        if let Some((id, _)) = self.channels.iter().find(|(_, known)| known == words) {
            self.channel.clone_from(id);
            self.take_subjects(shared);
            self.reword(shared);
        }
    }

    /// Shows the first of what is of an item, in the jars or drawers it stands in.
    pub(super) fn show_item(&mut self, item: ItemId, shared: &Shared) {
        let enamel =
            shared.snapshot.item(item).is_some_and(|row| matches!(row.item.details, ItemDetails::Enamel { .. }));
        self.enter_kind(if enamel { PaperKind::Jar } else { PaperKind::Drawer }, shared);
        if let Some(place) = self.subjects.iter().position(|subject| subject.item == Some(item)) {
            self.shown = place;
        }
    }

    fn reword(&mut self, shared: &Shared) {
        if let Some(printing) = &mut self.printing {
            printing.word(&self.subjects, &shared.preferences);
        }
    }
}
