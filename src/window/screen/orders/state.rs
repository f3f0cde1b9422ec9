//! What the room does with what it keeps: taking an order in hand, filling in forms, hearing the book's answers.

use super::detail::Detail;
use super::files::{self, Files, Saving};
use super::form::{self, Form, Part};
use super::receiving::{self, Receiving};
use super::{Message, Page, State, Waiting, landed, read, rows};
use crate::actions::{self, Added, Outcome, Refusal};
use crate::book::BookError;
use crate::costing::landed::{LandedOrder, LandedProblem, landed_costs};
use crate::measure::Money;
use crate::studio::{Attachment, AttachmentId, BookOrder, ItemId, OrderId};
use crate::window::Shared;
use crate::window::desk::Request;
use crate::window::screen::{Action, Notice};
use crate::window::widget::path_field::{Wanted, ask, typed_path};
use crate::window::widget::{Entry, modal, reveal};

impl State {
    /// The order in hand, as the book told it.
    fn order(&self) -> Option<&BookOrder> {
        let id = self.chosen?;
        self.orders.as_ref()?.iter().find(|order| order.id == id)
    }

    /// Words the list and the order in hand anew.
    pub(super) fn word(&mut self, shared: &Shared) {
        let orders = self.orders.as_deref().unwrap_or_default();
        self.rows = rows::word_all(orders, &shared.snapshot, &shared.preferences, self.list.sort());
        self.summary = rows::summary(&self.rows);
        let place = self.chosen.and_then(|id| self.rows.iter().position(|row| row.id == id));
        let place = match self.page {
            Page::List => place.or((!self.rows.is_empty()).then_some(0)),
            Page::Order => place,
        };
        self.list.select(place);
        if self.page == Page::List {
            self.chosen = place.and_then(|place| self.rows.get(place)).map(|row| row.id);
        }
        self.detail = self.order().map(|order| Detail::new(order, &shared.snapshot, &shared.preferences));
        if self.detail.is_none() {
            self.page = Page::List;
            self.receiving = None;
            self.saving = None;
        }
    }

    /// The book has told its orders.
    pub(super) fn told(&mut self, found: Result<Vec<BookOrder>, BookError>, shared: &Shared) -> Action<Message> {
        match found {
            Ok(orders) => {
                self.orders = Some(orders);
                self.word(shared);
                Action::None
            }
            Err(error) => Action::Notify(Notice::Trouble(error.to_string())),
        }
    }

    /// Opens an order.
    pub(super) fn take(&mut self, id: OrderId, shared: &Shared) -> Action<Message> {
        if self.chosen != Some(id) || self.page != Page::Order {
            self.files = Files::default();
        }
        self.chosen = Some(id);
        self.page = Page::Order;
        self.word(shared);
        Action::None
    }

    pub(super) fn begin(&mut self, form: Form) -> Action<Message> {
        self.form = Some(form);
        self.waiting = Waiting::Nothing;
        Action::Run(reveal::focus(form::Field::Supplier.id()))
    }

    /// The form of the order in hand.
    pub(super) fn edit(&mut self, shared: &Shared) -> Action<Message> {
        let Some(order) = self.order().filter(|_| !shared.read_only()) else { return Action::None };
        let preferences = &shared.preferences;
        let costs = landed_costs(&LandedOrder::of(&order.order, preferences.currency)).unwrap_or_default();
        let mut was: Vec<Money> = costs.iter().map(|line| line.total).collect();
        was.resize(order.order.lines.len(), Money::ZERO);
        let mut form = Form::of(order, &was, |item| shared.snapshot.item(item), preferences);
        landed::look_ahead(&mut form, preferences);
        self.begin(form)
    }

    /// A line of an item; the focus goes to how many packs.
    pub(super) fn add(&mut self, item: ItemId, shared: &Shared) -> Action<Message> {
        let (Some(form), Some(row)) = (&mut self.form, shared.snapshot.item(item)) else { return Action::None };
        let key = form.add(row);
        landed::look_ahead(form, &shared.preferences);
        Action::Run(reveal::focus(form::Field::Line(key, Part::Packs).id()))
    }

    /// A line of the first item that is like what was typed; with nothing typed, the order is saved.
    pub(super) fn add_first(&mut self, shared: &Shared) -> Action<Message> {
        let Some(form) = &self.form else { return Action::None };
        match form.found.first().map(|option| option.id) {
            Some(item) => self.add(item, shared),
            None if form.wanted.trim().is_empty() => self.save(shared),
            None => Action::None,
        }
    }

    pub(super) fn save(&mut self, shared: &Shared) -> Action<Message> {
        let Some(form) = &mut self.form else { return Action::None };
        if self.waiting == Waiting::Form || shared.read_only() {
            return Action::None;
        }
        form.tried = true;
        if let Some(field) = read::first_problem(form, &shared.preferences) {
            return Action::Run(reveal::focus(field.id()));
        }
        if form.lines.is_empty() {
            form.refusal = Some(LandedProblem::NoLines.to_string());
            return Action::None;
        }
        let Some(order) = read::order(form, &shared.preferences) else { return Action::None };
        self.waiting = Waiting::Form;
        Action::Do(actions::Action::SaveOrder { id: form.id, order })
    }

    pub(super) fn begin_receiving(&mut self, shared: &Shared) -> Action<Message> {
        let Some(order) = self.order().filter(|_| !shared.read_only()) else { return Action::None };
        let receiving = Receiving::new(order, &shared.snapshot, shared.today, &shared.preferences);
        if receiving.lines.is_empty() {
            return Action::None;
        }
        self.receiving = Some(receiving);
        self.waiting = Waiting::Nothing;
        Action::Run(modal::enter().chain(reveal::focus(receiving::Field::Packs(1).id())))
    }

    pub(super) fn take_in(&mut self, shared: &Shared) -> Action<Message> {
        if self.waiting == Waiting::Delivery || shared.read_only() {
            return Action::None;
        }
        let Some(receiving) = &mut self.receiving else { return Action::None };
        receiving.tried = true;
        if let Some(field) = receiving.first_problem(&shared.preferences) {
            return Action::Run(reveal::focus(field.id()));
        }
        match receiving.action(&shared.preferences) {
            Ok(action) => {
                self.waiting = Waiting::Delivery;
                Action::Do(action)
            }
            Err(why) => {
                receiving.refusal = Some(why);
                Action::None
            }
        }
    }

    pub(super) fn close(&mut self) {
        if self.receiving.take().is_none() && self.saving.take().is_none() {
            self.form = None;
        }
        self.waiting = Waiting::Nothing;
    }

    pub(super) fn performed(&mut self, outcome: Result<Outcome, Refusal>, shared: &Shared) -> Action<Message> {
        match (std::mem::replace(&mut self.waiting, Waiting::Nothing), outcome) {
            (Waiting::Form, Ok(outcome)) => {
                let saved = match (outcome.added, self.form.take().and_then(|form| form.id)) {
                    (Some(Added::Order(id)), _) | (_, Some(id)) => id,
                    _ => return Action::None,
                };
                // The book tells the order as it is now; until then the page shows nothing old.
                self.chosen = Some(saved);
                self.page = Page::Order;
                self.files = Files::default();
                if self.order().is_some() {
                    self.word(shared);
                }
                // Asked for again when the rooms were refreshed.
                Action::None
            }
            (Waiting::Form, Err(refusal)) => {
                if let Some(form) = &mut self.form {
                    form.refusal = Some(refusal.to_string());
                }
                Action::None
            }
            (Waiting::Delivery, Ok(_)) => {
                self.receiving = None;
                Action::None
            }
            (Waiting::Delivery, Err(refusal)) => {
                if let Some(receiving) = &mut self.receiving {
                    receiving.refusal = Some(refusal.to_string());
                }
                Action::None
            }
            (Waiting::File, Ok(_)) => {
                self.files = Files::default();
                Action::None
            }
            (Waiting::File, Err(refusal)) => {
                self.files.problem = Some(refusal.to_string());
                Action::None
            }
            (Waiting::Nothing, _) => Action::None,
        }
    }

    /// What happens with files.
    pub(super) fn in_files(&mut self, message: Message, shared: &Shared) -> Action<Message> {
        match message {
            Message::FilePath(text) => {
                self.files.path.type_in(text);
                self.files.problem = None;
                Action::None
            }
            Message::BrowseFile => {
                let asked = ask(Wanted::Open, "A file to keep with the order", "", "Invoices and photos", &[]);
                Action::Run(asked.map(Message::PickedFile))
            }
            Message::PickedFile(Some(path)) => {
                self.files.path.type_in(path.display().to_string());
                self.attach(shared)
            }
            Message::Attach => self.attach(shared),
            Message::Read(order, Ok(file)) => {
                self.waiting = Waiting::File;
                Action::Do(actions::Action::Attach { order, file })
            }
            Message::Read(_, Err(why)) => {
                self.waiting = Waiting::Nothing;
                self.files.problem = Some(why);
                Action::None
            }
            Message::Detach(id) if !shared.read_only() => Action::Do(actions::Action::Detach(id)),
            Message::SaveOut(id) => self.begin_saving(id),
            Message::Write => self.ask_for_copy(),
            Message::SavePath(text) => self.save_to(text, false),
            Message::PickedSave(Some(path)) => self.save_to(path.display().to_string(), true),
            Message::BrowseSave => {
                let name = self.saving.as_ref().map_or("", |saving| saving.name.as_str());
                Action::Run(ask(Wanted::Save, "Save a copy", name, "File", &[]).map(Message::PickedSave))
            }
            Message::Written(Ok(done)) => {
                self.saving = None;
                Action::Notify(Notice::Done(done))
            }
            Message::Written(Err(why)) => {
                match &mut self.saving {
                    Some(saving) => saving.problem = Some(why),
                    None => return Action::Notify(Notice::Trouble(why)),
                }
                Action::None
            }
            _ => Action::None,
        }
    }

    /// Reads the file at the path typed; it is kept once it is read.
    fn attach(&mut self, shared: &Shared) -> Action<Message> {
        if shared.read_only() || self.waiting == Waiting::File {
            return Action::None;
        }
        let Some(order) = self.chosen else { return Action::None };
        match typed_path(self.files.path.text()) {
            Some(path) => {
                self.waiting = Waiting::File;
                Action::Run(files::read(path).map(move |read| Message::Read(order, read)))
            }
            None => {
                self.files.problem = Some("nothing is typed: write the path of a file of up to 5 MB".to_owned());
                Action::None
            }
        }
    }

    fn begin_saving(&mut self, id: AttachmentId) -> Action<Message> {
        let file = self.detail.as_ref().and_then(|detail| detail.files.iter().find(|file| file.id == id));
        let Some(name) = file.map(|file| file.name.clone()) else { return Action::None };
        let path = Entry::new(format!("~/{name}"));
        self.saving = Some(Saving { id, name, path, replace: false, problem: None, asked: false });
        Action::Run(modal::enter())
    }

    fn save_to(&mut self, path: String, replace: bool) -> Action<Message> {
        if let Some(saving) = &mut self.saving {
            saving.path.type_in(path);
            saving.replace = replace;
            saving.problem = None;
        }
        Action::None
    }

    fn ask_for_copy(&mut self) -> Action<Message> {
        let Some(saving) = &mut self.saving else { return Action::None };
        if typed_path(saving.path.text()).is_none() {
            saving.problem = Some("nothing is typed: write where the copy goes".to_owned());
            return Action::None;
        }
        saving.asked = true;
        Action::Ask(Request::Attachment(saving.id))
    }

    /// The book gave the bytes of a kept file.
    pub(super) fn write_out(
        &mut self,
        id: AttachmentId,
        found: Result<Option<Attachment>, BookError>,
    ) -> Action<Message> {
        let Some(saving) = self.saving.as_mut().filter(|saving| saving.id == id && saving.asked) else {
            return Action::None;
        };
        saving.asked = false;
        match (found, typed_path(saving.path.text())) {
            (Ok(Some(file)), Some(path)) => Action::Run(files::write(path, saving.replace, file).map(Message::Written)),
            (Ok(_), _) => {
                saving.problem = Some("the file is no longer kept with the order".to_owned());
                Action::None
            }
            (Err(error), _) => {
                saving.problem = Some(error.to_string());
                Action::None
            }
        }
    }
}
