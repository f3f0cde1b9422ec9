//! What the room does about what happens in it.

use super::asking::{self, Asking, Next};
use super::message::{Asked, Hold, Message};
use super::state::{NONE, State, Waiting};
use super::{designer_view, pins, print_view, shelf_view};
use crate::actions::{self, Added};
use crate::studio::{Language, SymbolOf, What};
use crate::window::screen::{Action, Destination, Notice, Room, way_out};
use crate::window::widget::reveal;
use crate::window::{Answer, Command, Shared};
use iced::Element;

fn named(language: &str) -> Option<Language> {
    Language::ALL.into_iter().find(|known| known.name() == language)
}

impl State {
    /// What happens on the paper.
    fn on_paper(&mut self, message: Message, shared: &Shared) -> Action<Message> {
        let own = self.subjects.get(self.shown).map_or([0; 3], |subject| subject.facts.colour);
        let pinned = match &message {
            Message::Add(name) => self.offered(name),
            _ => None,
        };
        let Some(draft) = &mut self.draft else { return Action::None };
        if shared.read_only() && !matches!(message, Message::Select(_) | Message::Details(_)) {
            return Action::None;
        }
        let changed = match message {
            Message::Select(thing) => {
                if draft.selected != thing {
                    draft.select(thing);
                }
                return Action::None;
            }
            Message::Details(thing) => {
                draft.select(Some(thing));
                let field = match draft.thing().map(|thing| &thing.what) {
                    Some(What::Words(_)) => super::Field::Words,
                    Some(What::Symbol { of: SymbolOf::Text(_), .. }) => super::Field::Holds,
                    _ => super::Field::Left,
                };
                return Action::Run(reveal::focus(field.id()));
            }
            Message::Dropped => {
                draft.drop_held();
                false
            }
            Message::Dragged { thing, grip, right, down } => draft.drag(thing, grip, right, down),
            Message::Nudged { thing, grip, right, down } => draft.nudge(thing, grip, right, down),
            Message::Remove(thing) => draft.remove(thing),
            Message::Lift(thing, to_front) => {
                let lifted = draft.lift(thing, to_front);
                let focus = draft.selected.filter(|_| lifted).map(|thing| reveal::focus(pins::id_of(thing)));
                let laid = self.relay(shared);
                return match focus {
                    Some(focus) => Action::Many(vec![laid, Action::Run(focus)]),
                    None => laid,
                };
            }
            Message::Turn(thing) => draft.turn(thing),
            Message::Align(edge) => draft.align(edge),
            Message::Add(_) => {
                let Some(what) = pinned else { return Action::None };
                let focus = match &what {
                    What::Words(_) => Some(super::Field::Words),
                    _ => None,
                };
                let _ = draft.pin(what);
                let laid = self.relay(shared);
                return match focus {
                    Some(field) => Action::Many(vec![laid, Action::Run(reveal::focus(field.id()))]),
                    None => laid,
                };
            }
            Message::Typed(field, text) => draft.type_in(field, text),
            Message::Weight(weight) => draft.weight(weight),
            Message::Across(across) => draft.across(across),
            Message::Down(down) => draft.down(down),
            Message::Ink(choice) => draft.ink(choice, own),
            Message::Symbol(kind) => draft.symbol(kind),
            Message::Holds(hold) => {
                let done = draft.holds(hold);
                if hold == Hold::Text {
                    let laid = self.relay(shared);
                    return Action::Many(vec![laid, Action::Run(reveal::focus(super::Field::Holds.id()))]);
                }
                done
            }
            Message::Fold(folding) => draft.fold(folding),
            Message::AddHole => draft.add_hole(),
            Message::RemoveHole(hole) => draft.remove_hole(hole),
            Message::First(name) => named(&name).is_some_and(|language| draft.first_language(language)),
            Message::Second(name) => draft.second_language(named(&name).filter(|_| name != NONE)),
            _ => false,
        };
        if changed { self.relay(shared) } else { Action::None }
    }

    fn save(&mut self, shared: &Shared) -> Action<Message> {
        let Some(draft) = &self.draft else { return Action::None };
        if shared.read_only() || !draft.is_changed() {
            return Action::None;
        }
        if draft.fields.are_wrong() {
            let reason = "A field cannot be read yet; what is accepted stands under it.";
            return Action::Notify(Notice::Trouble(reason.to_owned()));
        }
        self.waiting.push_back(Waiting::Save);
        Action::Do(actions::Action::SavePaperDesign {
            id: draft.id,
            design: draft.paper.clone(),
            retired: draft.retired,
        })
    }

    fn shelf(&mut self, message: Message, shared: &Shared) -> Action<Message> {
        match message {
            Message::Kind(kind) => {
                self.enter_kind(kind, shared);
                self.stock_shelf(shared);
                self.wants_of_shelf()
            }
            Message::Begin(place) if !shared.read_only() => self.go_to(Next::Begin(place), shared),
            Message::Open(id) => {
                if self.draft.as_ref().is_some_and(|draft| draft.id == Some(id)) {
                    return self.go_on(shared);
                }
                self.go_to(Next::Open(id), shared)
            }
            Message::Copy(id) if !shared.read_only() => self.go_to(Next::Copy(id), shared),
            Message::SetAside(id) if !shared.read_only() => {
                let Some(book) = shared.snapshot.paper_designs.iter().find(|book| book.id == id) else {
                    return Action::None;
                };
                self.waiting.push_back(Waiting::Other);
                Action::Do(actions::Action::SavePaperDesign {
                    id: Some(id),
                    design: book.design.clone(),
                    retired: !book.retired,
                })
            }
            Message::GoOn => self.go_on(shared),
            Message::ToShelf => {
                let back = self.back_to_shelf(shared);
                Action::Many(vec![back, self.wants_of_shelf()])
            }
            Message::LetGo => {
                let Some(Asking::Leaving(next)) = self.asking.take() else { return Action::None };
                self.draft = None;
                self.go_on_to(next, shared)
            }
            Message::ToPapers => Action::Open(Destination::Papers),
            Message::RemovePicture(id) if !shared.read_only() => {
                self.waiting.push_back(Waiting::Other);
                Action::Do(actions::Action::RemovePicture(id))
            }
            _ => Action::None,
        }
    }

    fn go_on(&mut self, shared: &Shared) -> Action<Message> {
        self.asking = None;
        match self.draft.take() {
            Some(draft) => self.lay_open(draft, shared),
            None => Action::None,
        }
    }

    /// Asks for the pictures of the papers on the shelf.
    fn wants_of_shelf(&mut self) -> Action<Message> {
        let papers: Vec<_> = self.cards.iter().map(|card| card.paper.clone()).collect();
        Action::Many(papers.iter().map(|paper| self.wants(paper)).collect())
    }

    fn step(&mut self, forward: bool, shared: &Shared) -> Action<Message> {
        let count = self.subjects.len().max(1);
        let by = if forward { 1 } else { count - 1 };
        self.shown = (self.shown + by) % count;
        self.relay(shared)
    }

    fn close(&mut self) {
        if !matches!(self.asking, Some(Asking::Bringing(..))) {
            self.asking = None;
        }
        if let Some(printing) = &mut self.printing {
            let _ = printing.out.close();
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
            Message::Step(forward) => self.step(forward, shared),
            Message::Show(words) => {
                if let Some(place) = self.subjects.iter().position(|subject| subject.words == words) {
                    self.shown = place;
                }
                self.relay(shared)
            }
            Message::Save => self.save(shared),
            Message::Ask(Asked::BringIn) if !shared.read_only() => self.go_to(Next::Bring, shared),
            Message::Ask(asked) if !shared.read_only() || asked == Asked::WriteOut => self.ask_file(asked, shared),
            Message::FilePath(text) => {
                self.file_path(text);
                Action::None
            }
            Message::PictureName(text) => {
                if let Some(Asking::File { name, problem, replaces, .. }) = &mut self.asking {
                    name.type_in(text);
                    *problem = None;
                    *replaces = false;
                }
                Action::None
            }
            Message::FileBrowse => self.browse_file(),
            Message::FilePicked(Some(path)) => {
                self.file_path(path.display().to_string());
                Action::None
            }
            Message::FileAccept => self.file_accepted(shared),
            Message::PictureRead(read) => self.picture_read(read),
            Message::PaperRead(read) => self.paper_read(read, shared),
            Message::PaperWritten(written) => self.paper_written(written),
            Message::Close => {
                self.close();
                Action::None
            }
            Message::Print => self.open_print(shared),
            Message::ToPaper => {
                self.printing = None;
                self.relay(shared)
            }
            message @ (Message::Kind(_)
            | Message::Begin(_)
            | Message::Open(_)
            | Message::Copy(_)
            | Message::SetAside(_)
            | Message::GoOn
            | Message::ToShelf
            | Message::LetGo
            | Message::ToPapers
            | Message::RemovePicture(_)) => self.shelf(message, shared),
            message if self.printing.is_some() => self.on_print(message, shared),
            message => self.on_paper(message, shared),
        }
    }

    fn view<'a>(&'a self, shared: &'a Shared) -> Element<'a, Message> {
        match (&self.draft, &self.printing) {
            (Some(draft), Some(printing)) if self.on_paper => print_view::page(self, draft, printing, shared),
            (Some(draft), None) if self.on_paper => designer_view::page(self, draft, shared),
            _ => shelf_view::page(self, shared),
        }
    }

    fn modal<'a>(&'a self, shared: &'a Shared) -> Option<Element<'a, Message>> {
        match (&self.asking, &self.printing) {
            (Some(asked), _) => Some(asking::view(asked)),
            (None, Some(printing)) => printing.out.modal(shared).map(|over| over.map(Message::Out)),
            (None, None) => None,
        }
    }

    fn refresh(&mut self, shared: &Shared) {
        // Before anyone has looked into the room there is nothing to keep up to date.
        if self.seen.as_ref().is_some_and(|seen| !seen.is(&shared.snapshot)) {
            self.follow(shared);
        }
    }

    fn refreshed(&mut self, shared: &Shared) -> Action<Message> {
        if self.printing.is_some() {
            return self.lay_run(shared);
        }
        if self.on_paper { self.relay(shared) } else { self.wants_of_shelf() }
    }

    fn answered(&mut self, answer: Answer, shared: &Shared) -> Action<Message> {
        match answer {
            Answer::Picture(id, Ok(Some(png))) => {
                let _ = self.tools.gallery.picture_came(id, png);
            }
            Answer::Picture(id, _) => {
                let _ = self.tools.gallery.picture_came(id, Vec::new());
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
        match (self.printing.is_some(), self.on_paper) {
            (true, _) => self.lay_run(shared),
            (false, true) => self.relay(shared),
            (false, false) => {
                self.stock_shelf(shared);
                Action::None
            }
        }
    }

    fn open(&mut self, destination: &Destination, shared: &Shared) -> Action<Message> {
        if self.seen.is_none() {
            self.follow(shared);
        }
        match destination {
            Destination::PaperDesign(id) => self.shelf(Message::Open(*id), shared),
            _ if self.on_paper => Action::None,
            _ => {
                self.stock_shelf(shared);
                self.wants_of_shelf()
            }
        }
    }

    fn command(&mut self, command: Command, shared: &Shared) -> Action<Message> {
        let over = self.asking.is_some() || self.printing.as_ref().is_some_and(|printing| printing.out.is_asking());
        match command {
            Command::Accept if matches!(self.asking, Some(Asking::File { .. })) => self.file_accepted(shared),
            Command::Accept if over => Action::None,
            Command::Accept if self.printing.is_some() => self.on_way_out(way_out::Message::Save, shared),
            Command::Accept if self.on_paper => self.save(shared),
            Command::New if self.on_paper && self.printing.is_none() && !over => {
                let words = crate::paper::arrange::name(&What::Words(String::new()));
                self.update(Message::Add(words.to_owned()), shared)
            }
            Command::Back if over => {
                self.close();
                Action::None
            }
            Command::Back if self.printing.is_some() => self.update(Message::ToPaper, shared),
            Command::Back if self.on_paper => match &mut self.draft {
                Some(draft) if draft.selected.is_some() => {
                    draft.select(None);
                    Action::None
                }
                _ => self.update(Message::ToShelf, shared),
            },
            Command::Back => Action::Open(Destination::Papers),
            _ => Action::None,
        }
    }

    fn revert(&mut self, shared: &Shared) -> bool {
        if let Some(Asking::File { path, name, .. }) = &mut self.asking {
            return path.revert() | name.revert();
        }
        if let Some(printing) = &mut self.printing {
            let reverted = printing.out.revert();
            let laid = printing.copies.revert() | printing.start.revert();
            if laid {
                // Pictures that may be lacking were asked for when they were first needed; a long run cannot be set
                // going here and waits until it is asked for.
                let _ = self.lay_run(shared);
                if let Some(printing) = &mut self.printing {
                    printing.stop_laying();
                }
            }
            return reverted | laid;
        }
        if !self.on_paper {
            return false;
        }
        let reverted = self.draft.as_mut().is_some_and(super::draft::Draft::revert);
        if reverted {
            let _ = self.relay(shared);
        }
        reverted
    }
}
