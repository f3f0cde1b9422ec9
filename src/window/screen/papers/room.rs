//! What the room does about what happens in it.

use super::message::Message;
use super::sheet_form::SheetForm;
use super::state::{MOST_COPIES, State};
use super::{sheet_view, view};
use crate::actions::{self, Added};
use crate::measure::parse;
use crate::window::screen::{Action, Destination, Room, way_out};
use crate::window::widget::listing::Event;
use crate::window::widget::modal;
use crate::window::{Answer, Command, Shared};
use iced::Element;

/// What the way out wants done, as this room's.
pub(super) fn lifted(action: Action<way_out::Message>) -> Action<Message> {
    action.map(Message::Out)
}

impl State {
    /// The list, the choices and the page after a change of what is printed.
    fn changed(&mut self, shared: &Shared) -> Action<Message> {
        self.word(shared);
        self.lay(shared)
    }

    fn listed(&mut self, event: Event, shared: &Shared) -> Action<Message> {
        let ticked = match event {
            Event::Pressed(place) => {
                self.list.select((place < self.rows.len()).then_some(place));
                self.select();
                true
            }
            Event::Enter => true,
            _ => false,
        };
        if ticked {
            let Some(id) = self.selected().map(|row| row.id) else { return Action::None };
            self.chosen.toggle(id);
            return self.changed(shared);
        }
        let (_, task) = self.list.update(event, self.rows.len());
        if matches!(event, Event::Key(_)) {
            self.select();
        }
        Action::Run(task)
    }

    fn copies_typed(&mut self, text: String, shared: &Shared) -> Action<Message> {
        self.copies.type_in(text);
        let typed = parse::parse_count(self.copies.text(), 0..=MOST_COPIES, &shared.preferences);
        let (Ok(copies), Some(id)) = (typed, self.selected().map(|row| row.id)) else { return Action::None };
        self.chosen.set_copies(id, copies);
        let _ = self.chosen.ticked.insert(id);
        self.changed(shared)
    }

    fn same_for_all(&mut self, shared: &Shared) -> Action<Message> {
        let typed = parse::parse_count(self.copies.text(), 0..=MOST_COPIES, &shared.preferences);
        let Ok(copies) = typed else { return Action::None };
        for piece in &self.pieces {
            self.chosen.set_copies(piece.id, copies);
        }
        self.changed(shared)
    }

    fn open_form(&mut self, form: SheetForm) -> Action<Message> {
        self.form = Some(form);
        Action::Run(modal::enter())
    }

    fn new_sheet(&mut self, shared: &Shared) -> Action<Message> {
        let Some((_, sheet)) = self.chosen_sheet() else { return Action::None };
        let mut form = SheetForm::new(None, sheet, &shared.preferences);
        form.name.set("");
        self.open_form(form)
    }

    fn edit_sheet(&mut self, shared: &Shared) -> Action<Message> {
        let Some((id, sheet)) = self.chosen_sheet() else { return Action::None };
        let form = SheetForm::new(*id, sheet, &shared.preferences);
        self.open_form(form)
    }

    fn keep_sheet(&mut self) -> Action<Message> {
        let Some(form) = &mut self.form else { return Action::None };
        match form.finished() {
            Some(sheet) => Action::Do(actions::Action::SaveSheet { id: form.id, sheet }),
            None => {
                if form.problem.is_none() {
                    let name = form.name.is_empty();
                    let reason = if name { "give the sheet a name" } else { "a field cannot be read yet" };
                    form.problem = Some(reason.to_owned());
                }
                Action::None
            }
        }
    }

    fn propose_path(&mut self, shared: &Shared) {
        self.out.propose(shared, self.choices.what.file_name());
    }

    /// A fresh sheet lies in the printer.
    fn fresh_sheet(&mut self, shared: &Shared) -> Action<Message> {
        match self.book_sheet().filter(|_| self.begun > 1 && !shared.read_only()) {
            Some(sheet) => Action::Do(actions::Action::BeginSheet { sheet, next_label: 1 }),
            None => {
                self.start.set("1");
                self.lay(shared)
            }
        }
    }
}

impl Room for State {
    type Message = Message;

    fn new(_shared: &Shared) -> Self {
        Self::empty()
    }

    fn update(&mut self, message: Message, shared: &Shared) -> Action<Message> {
        match message {
            Message::What(what) => {
                self.choices.what = what;
                self.turn(0);
                self.propose_path(shared);
                return self.lay(shared);
            }
            Message::Filtered(text) => {
                self.filter = text;
                self.word(shared);
            }
            Message::All => {
                self.chosen.ticked.extend(self.rows.iter().map(|row| row.id));
                return self.changed(shared);
            }
            Message::None => {
                self.chosen.ticked.clear();
                return self.changed(shared);
            }
            Message::List(event) => return self.listed(event, shared),
            Message::Copies(text) => return self.copies_typed(text, shared),
            Message::SameForAll => return self.same_for_all(shared),
            Message::OutOfDate => {
                self.turn_outdated();
                return self.changed(shared);
            }
            Message::Channel(channel) => {
                self.choose_channel(channel, shared);
                return self.changed(shared);
            }
            Message::Sheet(name) => {
                self.sheet = name;
                self.go_on_sheet(shared, true);
                return self.lay(shared);
            }
            Message::Symbol(symbology) => {
                self.choices.symbology = symbology;
                return self.lay(shared);
            }
            Message::Start(text) => {
                self.start.type_in(text);
                return self.lay(shared);
            }
            Message::StartAt(label) => {
                self.start.set(label.to_string());
                return self.lay(shared);
            }
            Message::FreshSheet => return self.fresh_sheet(shared),
            Message::Note => self.note = !self.note && !shared.read_only(),
            Message::Style(style) => {
                self.choices.style = style;
                return self.lay(shared);
            }
            Message::Paper(paper) => {
                self.choices.paper = paper;
                return self.lay(shared);
            }
            Message::Page(page) => self.turn(page),
            Message::Zoom(zoom) => self.zoom = zoom,
            Message::Laying(run, word) => return self.laying_told(run, word),
            Message::StopLaying => self.stop_laying(),
            Message::Renew => return self.lay(shared),
            Message::NewSheet => return self.new_sheet(shared),
            Message::EditSheet => return self.edit_sheet(shared),
            Message::SheetName(name) => {
                if let Some(form) = &mut self.form {
                    form.name.type_in(name);
                    form.read(&shared.preferences);
                }
            }
            Message::SheetMeasure(measure, text) => {
                if let Some(form) = &mut self.form {
                    form.type_in(measure, text, &shared.preferences);
                }
            }
            Message::SheetOutline(outline) => {
                if let Some(form) = &mut self.form {
                    form.outline(outline, &shared.preferences);
                }
            }
            Message::SheetFeature(feature) => {
                if let Some(form) = &mut self.form {
                    form.switch(feature, &shared.preferences);
                }
            }
            Message::KeepSheet => return self.keep_sheet(),
            Message::Close => self.form = None,
            Message::Out(message) => return self.on_way_out(message, shared),
            Message::OpenDesigns => return Action::Open(Destination::Designs),
            Message::Enter(room) => return Action::Open(room.destination()),
        }
        Action::None
    }

    fn view<'a>(&'a self, shared: &'a Shared) -> Element<'a, Message> {
        view::page(self, shared)
    }

    fn modal<'a>(&'a self, shared: &'a Shared) -> Option<Element<'a, Message>> {
        match &self.form {
            Some(form) => Some(sheet_view::form(form, shared)),
            None => self.out.modal(shared).map(|over| over.map(Message::Out)),
        }
    }

    fn refresh(&mut self, shared: &Shared) {
        // Before anyone has looked into the room there is nothing to keep up to date.
        if self.seen.as_ref().is_some_and(|seen| !seen.is(&shared.snapshot)) {
            self.follow(shared);
            self.renew(shared);
        }
    }

    fn refreshed(&mut self, shared: &Shared) -> Action<Message> {
        if self.waits.is_some() { self.lay(shared) } else { Action::None }
    }

    fn answered(&mut self, answer: Answer, shared: &Shared) -> Action<Message> {
        let Answer::Performed(done) = answer else { return Action::None };
        match done {
            Ok(outcome) => {
                if let Some(form) = self.form.take() {
                    if let Some(Added::Sheet(id)) = outcome.added {
                        let added = self.sheets.iter().find(|(row, _)| *row == Some(id));
                        if let Some((_, sheet)) = added {
                            self.sheet.clone_from(&sheet.name);
                        }
                    } else {
                        form.name.trimmed().clone_into(&mut self.sheet);
                    }
                    self.go_on_sheet(shared, true);
                }
                self.lay(shared)
            }
            Err(refusal) => {
                if let Some(form) = &mut self.form {
                    form.problem = Some(refusal.to_string());
                }
                Action::None
            }
        }
    }

    fn open(&mut self, destination: &Destination, shared: &Shared) -> Action<Message> {
        let first = self.seen.is_none();
        if first {
            self.follow(shared);
            self.propose_path(shared);
        }
        let wanted = match destination {
            Destination::PapersOf(ids) => Some(ids.clone()),
            // The first look shows a tag of each design.
            _ if first => Some(self.pieces.iter().map(|piece| piece.id).collect()),
            _ => None,
        };
        match wanted {
            Some(ids) => {
                self.filter.clear();
                let first = ids.first().copied();
                self.chosen.ticked = ids.into_iter().collect();
                self.word(shared);
                if let Some(place) = self.rows.iter().position(|row| Some(row.id) == first) {
                    self.list.select(Some(place));
                    self.select();
                }
                let shown = Action::Run(self.list.show());
                let printers = lifted(self.out.ask_printers());
                Action::Many(vec![shown, printers, self.lay(shared)])
            }
            None if self.waits.is_some() => self.lay(shared),
            None => lifted(self.out.ask_printers()),
        }
    }

    fn command(&mut self, command: Command, shared: &Shared) -> Action<Message> {
        match command {
            Command::Accept if self.form.is_some() && !shared.read_only() => self.keep_sheet(),
            Command::Accept if self.form.is_none() && !self.out.is_asking() => {
                self.on_way_out(way_out::Message::Save, shared)
            }
            Command::Back => {
                if self.form.take().is_none() {
                    let _ = self.out.close();
                }
                Action::None
            }
            _ => Action::None,
        }
    }

    fn revert(&mut self, shared: &Shared) -> bool {
        if let Some(form) = &mut self.form {
            return form.revert(&shared.preferences);
        }
        let mut reverted = self.out.revert();
        if self.copies.revert() {
            reverted = true;
            let typed = parse::parse_count(self.copies.text(), 0..=MOST_COPIES, &shared.preferences);
            if let (Ok(copies), Some(id)) = (typed, self.selected().map(|row| row.id)) {
                self.chosen.set_copies(id, copies);
            }
            self.word(shared);
            self.renew(shared);
        }
        if self.start.revert() {
            reverted = true;
            self.renew(shared);
        }
        reverted
    }
}
