//! The room of designs: what happens in it, and what it wants done.

use super::asking::{self, Waiting};
use super::change::Change;
use super::dialog::{Dialog, DialogField, Question};
use super::draft::Draft;
use super::field::Field;
use super::files;
use super::hand::Hand;
use super::list::DesignList;
use super::page::{NOTES_LIMIT, Page, Photo};
use super::stairs::StairKind;
use super::{dialog_view, list_view, page_view};
use crate::actions;
use crate::studio::{Design, DesignId};
use crate::window::desk::{Answer, Request};
use crate::window::draw::strip::StripEvent;
use crate::window::screen::{Action, Destination, Room};
use crate::window::widget::listing::{self, Reaction};
use crate::window::{Command, Shared};
use iced::Element;
use iced::widget::text_editor;
use std::collections::{BTreeMap, VecDeque};
use std::path::PathBuf;
use std::time::Duration;

/// Saved this long after the last key.
const PAUSE: Duration = Duration::from_millis(1500);

/// What the room keeps.
#[derive(Debug)]
pub struct State {
    pub(super) list: DesignList,
    pub(super) page: Option<Page>,
    pub(super) dialog: Option<Dialog>,
    /// Drafts left with a text that cannot be taken.
    parked: BTreeMap<DesignId, Draft>,
    pub(super) waiting: VecDeque<Waiting>,
}

/// What happens in it.
#[derive(Debug, Clone)]
pub enum Message {
    /// The search field.
    Search(String),
    /// The list.
    List(listing::Event),
    /// Those set aside are shown, or not.
    ShowRetired(bool),
    /// A question is asked.
    AskNew,
    /// A copy of the page's design, or of the selected one.
    AskDuplicate,
    /// A file to read.
    AskImport,
    /// A file to write.
    AskExport,
    /// A photo to read.
    AskPhoto,
    /// The photo is taken away.
    RemovePhoto,
    /// Set aside, or taken up again.
    Retire(bool),
    /// A field of the dialog.
    DialogTyped(DialogField, String),
    /// The system's dialog is asked for.
    Browse,
    /// What it answered.
    Browsed(Option<PathBuf>),
    /// The dialog is accepted.
    DialogAccept,
    /// The dialog is put away.
    DialogCancel,
    /// A design file was read.
    Imported(Result<Box<Design>, String>),
    /// A design file was written.
    Exported(Result<PathBuf, String>),
    /// A photo was read.
    PhotoRead(DesignId, Result<Vec<u8>, String>),
    /// A design is opened.
    OpenDesign(DesignId),
    /// Back to the list.
    Close,
    /// A field was typed in.
    Typed(Field, String),
    /// Enter in a field.
    Submit,
    /// The pause after typing is over.
    Paused,
    /// A choice or a row.
    Change(Change),
    /// The strip.
    Strip(StripEvent),
    /// Something is taken in hand, or put away.
    TakeInHand(Hand),
    /// A line of the staircase opens or closes.
    Stair(StairKind),
    /// A tag opens or closes.
    Tag(usize),
    /// Firings as a table, or as a curve.
    Table(bool),
    /// A material opens or closes.
    OpenMaterial(super::RowKey),
    /// A material is being linked to stock, or not.
    Linking(Option<super::RowKey>),
    /// A channel opens or closes.
    OpenChannel(super::RowKey),
    /// Notes.
    Notes(text_editor::Action),
    /// Tickets are accepted.
    AcceptTickets,
    /// To the tags and care cards of this design.
    Papers,
    /// To a batch to be begun from the design on the page.
    StartBatch,
    /// Another page.
    Go(Destination),
}

impl Message {
    /// Messages that leave a typed field as it is.
    const fn keeps_typing(&self) -> bool {
        matches!(self, Self::Typed(..) | Self::Notes(_) | Self::Paused | Self::List(_) | Self::Search(_))
    }
}

impl Room for State {
    type Message = Message;

    fn new(shared: &Shared) -> Self {
        Self {
            list: DesignList::new(&shared.snapshot),
            page: None,
            dialog: None,
            parked: BTreeMap::new(),
            waiting: VecDeque::new(),
        }
    }

    fn update(&mut self, message: Message, shared: &Shared) -> Action<Message> {
        if message.keeps_typing() {
            return self.happened(message, shared);
        }
        // Whatever comes after typing means that the field was left.
        let first = self.happened(message, shared);
        let saved = self.save(shared);
        join(first, saved)
    }

    fn view<'a>(&'a self, shared: &'a Shared) -> Element<'a, Message> {
        match &self.page {
            Some(page) => page_view::view(page, shared),
            None => list_view::view(&self.list, shared),
        }
    }

    fn modal<'a>(&'a self, shared: &'a Shared) -> Option<Element<'a, Message>> {
        let _ = shared;
        self.dialog.as_ref().map(dialog_view::view)
    }

    fn refresh(&mut self, shared: &Shared) {
        self.list.refresh(&shared.snapshot);
        self.parked.retain(|id, _| shared.snapshot.design(*id).is_some());
        if let Some(page) = &mut self.page {
            let gone = page.id().is_some_and(|id| shared.snapshot.design(id).is_none());
            if gone {
                self.page = None;
            } else {
                page.refresh(shared);
            }
        }
    }

    fn answered(&mut self, answer: Answer, shared: &Shared) -> Action<Message> {
        asking::answered(self, answer, shared)
    }

    fn open(&mut self, destination: &Destination, shared: &Shared) -> Action<Message> {
        match destination {
            Destination::Design(id) => self.open_design(*id, shared),
            Destination::Designs => {
                let saved = self.save(shared);
                self.close();
                join(saved, Action::Run(self.list.listing.focus()))
            }
            _ => Action::None,
        }
    }

    fn command(&mut self, command: Command, shared: &Shared) -> Action<Message> {
        match command {
            Command::New => self.update(Message::AskNew, shared),
            Command::Accept if self.dialog.is_some() => self.update(Message::DialogAccept, shared),
            Command::Accept => self.update(Message::Submit, shared),
            Command::Back if self.dialog.is_some() => self.update(Message::DialogCancel, shared),
            Command::Back => match self.page.as_mut() {
                Some(page) if page.open.adding => {
                    page.open.adding = false;
                    Action::None
                }
                Some(page) if page.open.hand.is_some() => {
                    page.open.hand = None;
                    page.opened(shared);
                    self.save(shared)
                }
                Some(_) => self.update(Message::Close, shared),
                None => Action::None,
            },
            _ => Action::None,
        }
    }

    fn revert(&mut self, shared: &Shared) -> bool {
        self.page.as_mut().is_some_and(|page| page.revert(shared))
    }
}

/// Both actions, in order.
pub(super) fn join(first: Action<Message>, second: Action<Message>) -> Action<Message> {
    match (first, second) {
        (first, Action::None) => first,
        (Action::None, second) => second,
        (first, second) => Action::Many(vec![first, second]),
    }
}

impl State {
    /// Saves the page's draft when there is something to save.
    pub(super) fn save(&mut self, shared: &Shared) -> Action<Message> {
        match self.page.as_mut().and_then(|page| page.save(shared)) {
            Some(action) => {
                self.waiting.push_back(Waiting::Save);
                Action::Ask(Request::Perform(action))
            }
            None => Action::None,
        }
    }

    fn close(&mut self) {
        if let Some(page) = self.page.take()
            && let Some(id) = page.id()
            && page.draft.has_problem()
        {
            let _ = self.parked.insert(id, page.draft);
        }
    }

    pub(super) fn open_design(&mut self, id: DesignId, shared: &Shared) -> Action<Message> {
        if self.page.as_ref().and_then(Page::id) == Some(id) {
            return Action::None;
        }
        let saved = self.save(shared);
        self.close();
        let Some(book) = shared.snapshot.design(id) else { return saved };
        let mut draft = match self.parked.remove(&id) {
            Some(draft) => draft,
            None => Draft::of(book),
        };
        let _ = draft.refresh(book);
        let mut page = Page::new(draft, shared);
        let mut actions = saved;
        if book.has_photo {
            page.photo = Photo::Coming;
            actions = join(actions, Action::Ask(Request::Photo(id)));
        }
        self.page = Some(page);
        actions
    }

    fn happened(&mut self, message: Message, shared: &Shared) -> Action<Message> {
        match message {
            Message::Search(text) => {
                self.list.search = text;
                self.list.arrange();
            }
            Message::ShowRetired(show) => {
                self.list.retired = show;
                self.list.arrange();
            }
            Message::List(event) => return self.list_event(event, shared),
            Message::OpenDesign(id) => return self.open_design(id, shared),
            Message::Close => {
                let saved = self.save(shared);
                self.close();
                return saved;
            }
            Message::Typed(field, text) => return self.typed(field, text, shared),
            Message::Notes(action) => return self.notes(action),
            Message::Paused => {
                let Some(page) = &mut self.page else { return Action::None };
                page.pausing = false;
                if std::mem::take(&mut page.typed) {
                    return self.schedule();
                }
                return self.save(shared);
            }
            Message::Submit => {
                if let Some(page) = &mut self.page {
                    page.draft.rejected = None;
                }
                let saved = self.save(shared);
                if let Some(page) = &mut self.page {
                    page.draft.settle();
                    page.opened(shared);
                }
                return saved;
            }
            Message::AcceptTickets => {
                let Some(page) = &self.page else { return Action::None };
                let tickets = accepted_lines(page);
                if tickets.is_empty() || page.is_stale() {
                    return Action::None;
                }
                let name = page.draft.content.design.name.clone();
                let saved = self.save(shared);
                self.waiting.push_back(Waiting::Other);
                let accept = actions::Action::AcceptPrices { date: shared.today, name, tickets };
                return join(saved, Action::Do(accept));
            }
            Message::Papers => {
                let Some(id) = self.page.as_ref().and_then(Page::id) else { return Action::None };
                return Action::Open(Destination::PapersOf(vec![id]));
            }
            Message::StartBatch => {
                let Some(id) = self.page.as_ref().and_then(Page::id) else { return Action::None };
                return join(self.save(shared), Action::Open(Destination::NewBatch(id)));
            }
            Message::Go(destination) => return Action::Open(destination),
            Message::Change(change) => {
                if let Some(page) = &mut self.page {
                    page.change(change, shared);
                }
            }
            Message::Strip(event) => {
                if let Some(page) = &mut self.page {
                    let _ = page.strip(event, shared);
                }
            }
            Message::TakeInHand(_)
            | Message::Stair(_)
            | Message::Tag(_)
            | Message::Table(_)
            | Message::OpenMaterial(_)
            | Message::Linking(_)
            | Message::OpenChannel(_) => self.opened(&message, shared),
            other => return asking::happened(self, other, shared),
        }
        Action::None
    }

    fn opened(&mut self, message: &Message, shared: &Shared) {
        let Some(page) = &mut self.page else { return };
        let open = &mut page.open;
        match message {
            Message::TakeInHand(hand) => {
                flip(&mut open.hand, *hand);
                open.adding = false;
                if open.channel.is_none() {
                    open.channel = page.draft.channel_keys.first().copied();
                }
            }
            Message::Stair(kind) => flip(&mut open.stair, *kind),
            Message::Tag(index) => flip(&mut open.tag, *index),
            Message::Table(table) => open.table = *table,
            Message::OpenMaterial(key) => flip(&mut open.material, *key),
            Message::Linking(key) => open.linking = *key,
            Message::OpenChannel(key) => open.channel = Some(*key),
            _ => {}
        }
        page.opened(shared);
    }

    fn list_event(&mut self, event: listing::Event, shared: &Shared) -> Action<Message> {
        let (reaction, task) = self.list.listing.update(event, self.list.rows.len());
        match reaction {
            Reaction::Opened(place) => match self.list.rows.get(place).map(|row| row.id) {
                Some(id) => self.open_design(id, shared),
                None => Action::None,
            },
            Reaction::Sort => {
                self.list.arrange();
                Action::None
            }
            Reaction::Selected(_) | Reaction::None => Action::Run(task),
        }
    }

    fn typed(&mut self, field: Field, text: String, shared: &Shared) -> Action<Message> {
        let Some(page) = &mut self.page else { return Action::None };
        // Another field: the one before was left.
        let left = page.last.is_some_and(|last| last != field);
        let saved = if left { self.save(shared) } else { Action::None };
        let Some(page) = &mut self.page else { return saved };
        page.type_in(field, text, shared);
        join(saved, self.schedule())
    }

    fn notes(&mut self, action: text_editor::Action) -> Action<Message> {
        let Some(page) = &mut self.page else { return Action::None };
        let edits = action.is_edit();
        page.notes.perform(action);
        if !edits {
            return Action::None;
        }
        let text = page.notes.text();
        if text.len() > NOTES_LIMIT {
            page.refused = Some(format!("notes hold {NOTES_LIMIT} letters: what is beyond them is not kept"));
            return Action::None;
        }
        page.refused = None;
        page.draft.content.notes = text;
        page.typed = true;
        self.schedule()
    }

    /// Saves after a pause, once.
    fn schedule(&mut self) -> Action<Message> {
        let Some(page) = &mut self.page else { return Action::None };
        if page.pausing {
            return Action::None;
        }
        page.pausing = true;
        page.typed = false;
        Action::Run(files::pause(PAUSE).map(|()| Message::Paused))
    }

    /// Opens a dialog and sends the keyboard there.
    pub(super) fn ask(&mut self, dialog: Dialog) -> Action<Message> {
        self.dialog = Some(dialog);
        Action::Run(crate::window::widget::modal::enter())
    }

    /// The design a button is about: the page's, else the selected one.
    pub(super) fn subject(&self) -> Option<DesignId> {
        match &self.page {
            Some(page) => page.id(),
            None => self.list.selected(),
        }
    }

    /// The question of the open dialog.
    pub(super) fn question(&self) -> Option<&Question> {
        self.dialog.as_ref().map(|dialog| &dialog.question)
    }
}

/// Opens what is closed, closes what is open.
fn flip<T: PartialEq>(held: &mut Option<T>, wanted: T) {
    *held = if held.as_ref() == Some(&wanted) { None } else { Some(wanted) };
}

/// What accepting the tickets on screen writes down.
fn accepted_lines(page: &Page) -> Vec<crate::studio::PriceLine> {
    let common = page.figures.as_ref().and_then(|figures| figures.common.as_ref());
    common.map(|common| common.lines.clone()).unwrap_or_default()
}
