//! What the room does with what it keeps.

use super::form::{Field, Form, hex};
use super::{Message, SHOWN, State, cards, focus};
use crate::actions::{self, Added};
use crate::costing::tile_of_load::tile_of_load;
use crate::studio::TileId;
use crate::window::screen::kiln::photo::Wish;
use crate::window::screen::stock::read::swatch;
use crate::window::screen::{Action, Destination, Notice};
use crate::window::widget::reveal;
use crate::window::{Answer, Request, Shared};

/// Something happened.
pub(super) fn update(state: &mut State, message: Message, shared: &Shared) -> Action<Message> {
    match message {
        Message::Find(text) => {
            state.search.words = text;
            state.search_anew(shared)
        }
        Message::Near(text) => {
            state.search.near = swatch(&text);
            state.near.type_in(text);
            state.search_anew(shared)
        }
        Message::NearIs(colour) => {
            state.near.set(colour.map(hex).unwrap_or_default());
            state.search.near = colour;
            state.search_anew(shared)
        }
        Message::Aside => {
            state.search.aside = !state.search.aside;
            state.search_anew(shared)
        }
        Message::More => {
            state.shown = state.shown.saturating_add(SHOWN);
            state.word(shared);
            Action::None
        }
        Message::Choose(id) => {
            state.chosen = (state.chosen != Some(id)).then_some(id);
            state.word(shared);
            state.ask_photo(shared)
        }
        Message::Step(place) => match state.cards.get(place) {
            Some(card) => Action::Run(reveal::focus(card_id(card.id))),
            None => Action::None,
        },
        Message::Kiln => Action::Open(Destination::Kiln),
        Message::Load(load) => Action::Open(Destination::Load(load)),
        Message::Photo(change) => state.in_photo(change, shared),
        Message::Close => {
            if state.form.take().is_none() {
                state.chosen = None;
                state.word(shared);
            }
            state.waiting = false;
            Action::None
        }
        own if !shared.read_only() => state.write(own, shared),
        _ => Action::None,
    }
}

/// The name of a card, to send the focus to.
pub(super) fn card_id(id: TileId) -> String {
    format!("tile-card-{}", id.0)
}

impl State {
    /// Words what is found, and the tile in hand.
    pub(super) fn word(&mut self, shared: &Shared) {
        let (snapshot, preferences) = (&shared.snapshot, &shared.preferences);
        (self.cards, self.found) = cards::found(&self.search, self.shown, snapshot, preferences);
        let all = snapshot.tiles.len();
        self.summary = match (self.found, all) {
            (_, 0) => String::new(),
            (found, all) if found == all => format!("{all} in the notebook"),
            (found, all) => format!("{found} of {all} in the notebook"),
        };
        let tile = self.chosen.and_then(|id| snapshot.tiles.iter().find(|tile| tile.id == id));
        self.detail = tile.map(|tile| cards::detail(tile, snapshot, preferences));
        if self.detail.is_none() {
            self.chosen = None;
        }
    }

    fn search_anew(&mut self, shared: &Shared) -> Action<Message> {
        self.shown = SHOWN;
        self.word(shared);
        Action::None
    }

    /// Asks for the photo of the tile in hand.
    pub(super) fn ask_photo(&mut self, _shared: &Shared) -> Action<Message> {
        let Some(id) = self.chosen else { return Action::None };
        let has_photo = self.detail.as_ref().is_some_and(|detail| detail.card.has_photo);
        if self.photo.begin(has_photo) { Action::Ask(Request::TilePhoto(id)) } else { Action::None }
    }

    fn in_photo(&mut self, change: super::photo::Change, shared: &Shared) -> Action<Message> {
        match (self.photo.update(change), self.chosen) {
            (Wish::Run(task), _) => Action::Run(task.map(Message::Photo)),
            (Wish::Keep(png), Some(tile)) if !shared.read_only() => {
                Action::Do(actions::Action::SetTilePhoto { tile, png })
            }
            _ => Action::None,
        }
    }

    fn write(&mut self, message: Message, shared: &Shared) -> Action<Message> {
        let snapshot = &shared.snapshot;
        match message {
            Message::New => return self.begin(Form::new(shared.today, &shared.preferences)),
            Message::Edit | Message::SetAside => {
                let tile = self.chosen.and_then(|id| snapshot.tiles.iter().find(|tile| tile.id == id));
                let Some(tile) = tile else { return Action::None };
                if matches!(message, Message::Edit) {
                    return self.begin(Form::of(Some(tile.id), &tile.tile, &shared.preferences));
                }
                let mut changed = tile.tile.clone();
                changed.retired = !changed.retired;
                return Action::Do(actions::Action::SaveTile { id: Some(tile.id), tile: changed });
            }
            Message::Save => return self.save(shared),
            _ => {}
        }
        let Some(form) = &mut self.form else { return Action::None };
        form.refusal = None;
        match message {
            Message::Typed(field, text) => form.fields.type_in(field, text),
            Message::Metal(metal) => form.metal = metal,
            Message::Verdict(verdict) => form.verdict = verdict,
            Message::Layer(enamel) => form.layers.push(enamel.id),
            Message::Unlayer(place) if place < form.layers.len() => {
                let _ = form.layers.remove(place);
            }
            Message::ColourOfTop => {
                let top = form.layers.last().and_then(|item| cards::swatch(*item, snapshot));
                if let Some(colour) = top {
                    form.fields.type_in(Field::Colour, hex(colour));
                }
            }
            _ => {}
        }
        Action::None
    }

    fn begin(&mut self, form: Form) -> Action<Message> {
        self.form = Some(form);
        self.waiting = false;
        focus(Field::Heat)
    }

    fn save(&mut self, shared: &Shared) -> Action<Message> {
        let Some(form) = self.form.as_mut().filter(|_| !self.waiting) else { return Action::None };
        form.tried = true;
        if let Some(field) = form.first_problem(&shared.preferences) {
            return focus(field);
        }
        match form.tile(&shared.preferences) {
            Some(tile) => {
                self.waiting = true;
                Action::Do(actions::Action::SaveTile { id: form.id, tile })
            }
            None => {
                form.refusal = Some("No layer is named: choose at least one enamel, from the metal up.".to_owned());
                Action::None
            }
        }
    }

    /// The book answered.
    pub(super) fn told(&mut self, answer: Answer, shared: &Shared) -> Action<Message> {
        match answer {
            Answer::TilePhoto(id, found) if self.chosen == Some(id) => {
                self.photo.told(found);
                Action::None
            }
            Answer::Load(id, found) if self.of_load == Some(id) => {
                self.of_load = None;
                match found {
                    Ok(Some(load)) => {
                        let batch = load.load.charge.first().and_then(|first| shared.snapshot.batch(first.batch));
                        let tile = tile_of_load(&load, batch);
                        self.begin(Form::of(None, &tile, &shared.preferences))
                    }
                    Ok(None) => Action::Notify(Notice::Trouble("There is no such load any more.".to_owned())),
                    Err(error) => Action::Notify(Notice::Trouble(error.to_string())),
                }
            }
            Answer::Performed(outcome) if self.waiting => {
                self.waiting = false;
                match outcome {
                    Ok(outcome) => {
                        let before = self.form.take().and_then(|form| form.id);
                        self.chosen = match outcome.added {
                            Some(Added::Tile(id)) => Some(id),
                            _ => before,
                        };
                        self.word(shared);
                        self.ask_photo(shared)
                    }
                    Err(refusal) => {
                        if let Some(form) = &mut self.form {
                            form.refusal = Some(refusal.to_string());
                        }
                        Action::None
                    }
                }
            }
            Answer::Performed(Ok(_)) => self.ask_photo(shared),
            _ => Action::None,
        }
    }
}
