//! The notebook of test tiles: enamels on a metal at a heat, what came of it, and her verdict; found by words and by the
//! colour they come nearest to.

mod card_view;
mod cards;
mod form;
mod form_view;
mod state;
mod view;

pub use cards::{BesideCoat, rows_for};

use super::kiln::photo::{self, Photo};
use super::{Action, Destination, Room};
use crate::costing::tile_search::TileSearch;
use crate::studio::{LoadId, Metal, TileId, Verdict};
use crate::window::theme::Options;
use crate::window::widget::{Entry, reveal};
use crate::window::{Answer, Command, Request, Shared};
use cards::{Card, Detail, Enamel};
use form::Form;
use iced::Element;

/// Tiles shown at first, and how many more at a time.
const SHOWN: usize = 60;

/// What the room keeps.
#[derive(Debug)]
pub struct State {
    /// What is found, in order, as far as it is shown.
    cards: Vec<Card>,
    found: usize,
    shown: usize,
    summary: String,
    search: TileSearch,
    near: Entry,
    chosen: Option<TileId>,
    detail: Option<Detail>,
    photo: Photo,
    form: Option<Form>,
    enamels: Options<Enamel>,
    /// The load a tile is made of, until the book has told it.
    of_load: Option<LoadId>,
    /// The form was sent to the book and not answered yet.
    waiting: bool,
}

/// What happens in the room.
#[derive(Debug, Clone)]
pub enum Message {
    /// Words to find were typed.
    Find(String),
    /// A colour to find was typed.
    Near(String),
    /// A colour to find was pressed; none lets it be.
    NearIs(Option<[u8; 3]>),
    /// Those set aside too, or not: turned round.
    Aside,
    /// More of what is found.
    More,
    /// A tile is taken in hand.
    Choose(TileId),
    /// An arrow moves the focus among the cards: from this place to that.
    Step(usize),
    /// To the kiln.
    Kiln,
    /// To the load a tile was fired in.
    Load(LoadId),
    /// The form of a new tile.
    New,
    /// The form of the tile in hand.
    Edit,
    /// The tile in hand is set aside, or taken back.
    SetAside,
    /// Typed in the form.
    Typed(form::Field, String),
    /// A metal.
    Metal(Metal),
    /// A verdict.
    Verdict(Verdict),
    /// A layer on top.
    Layer(Enamel),
    /// A layer goes, by its place.
    Unlayer(usize),
    /// The colour of the top layer's swatch.
    ColourOfTop,
    /// The tile shall be as the form says.
    Save,
    /// Leave the form, or what is in hand.
    Close,
    /// The photo.
    Photo(photo::Change),
}

impl Room for State {
    type Message = Message;

    fn new(shared: &Shared) -> Self {
        let mut state = Self {
            cards: Vec::new(),
            found: 0,
            shown: SHOWN,
            summary: String::new(),
            search: TileSearch::default(),
            near: Entry::default(),
            chosen: None,
            detail: None,
            photo: Photo::default(),
            form: None,
            enamels: Options::new(Vec::new()),
            of_load: None,
            waiting: false,
        };
        state.refresh(shared);
        state
    }

    fn update(&mut self, message: Message, shared: &Shared) -> Action<Message> {
        state::update(self, message, shared)
    }

    fn view<'a>(&'a self, shared: &'a Shared) -> Element<'a, Message> {
        match &self.form {
            Some(form) => form_view::page(self, form, shared),
            None => view::page(self, shared),
        }
    }

    fn refresh(&mut self, shared: &Shared) {
        self.enamels = Options::new(cards::enamels(&shared.snapshot));
        self.word(shared);
    }

    fn answered(&mut self, answer: Answer, shared: &Shared) -> Action<Message> {
        self.told(answer, shared)
    }

    fn open(&mut self, destination: &Destination, shared: &Shared) -> Action<Message> {
        match destination {
            Destination::TileOf(load) if !shared.read_only() => {
                self.of_load = Some(*load);
                Action::Ask(Request::Load(*load))
            }
            _ => self.ask_photo(shared),
        }
    }

    fn command(&mut self, command: Command, shared: &Shared) -> Action<Message> {
        match command {
            Command::New if self.form.is_none() => self.update(Message::New, shared),
            Command::Accept if self.form.is_some() => self.update(Message::Save, shared),
            Command::Back if self.form.is_some() || self.chosen.is_some() => self.update(Message::Close, shared),
            Command::Back => Action::Open(Destination::Kiln),
            _ => Action::None,
        }
    }

    fn revert(&mut self, shared: &Shared) -> bool {
        if let Some(form) = &mut self.form {
            return form.fields.revert();
        }
        let reverted = self.near.revert();
        if reverted {
            self.search.near = None;
            self.word(shared);
        }
        reverted || self.photo.revert()
    }
}

/// The focus goes to a field of the form.
fn focus(field: form::Field) -> Action<Message> {
    Action::Run(reveal::focus(field.id()))
}
