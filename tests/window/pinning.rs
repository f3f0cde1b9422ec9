//! Paper designs without a display: what a person copies, moves, types and prints, and what the book keeps.
//!
//! Places expected here are worked out by hand from the ready-made tag “Quiet tag”: 50 × 28 mm, its name 10 mm from the
//! left and 3.6 mm from the top.

use chrono::{NaiveDate, NaiveDateTime};
use enamelwright::actions::{self, ActionKey, Order, perform};
use enamelwright::book::Book;
use enamelwright::exchange::{design_file, paper_file};
use enamelwright::measure::{Decimal, Preferences};
use enamelwright::paper::fonts;
use enamelwright::studio::{Fold, Follows, Language, PaperDesign, PaperKind, Pinned, SymbolKind, SymbolOf, Turn, What};
use enamelwright::window::machine::Machine;
use enamelwright::window::screen::pinning::{Asked, Field, Folding, Hold, Message, State};
use enamelwright::window::screen::{Action, Destination, Notice, Room, way_out};
use enamelwright::window::theme::{self, DARK, LIGHT};
use enamelwright::window::{Answer, Command, Request, Shared};
use hayro_syntax::Pdf;
use iced::futures::{StreamExt, executor::block_on};
use iced::keyboard::key::Named;
use iced::keyboard::{Key, Modifiers};
use iced::{Element, Event, Point, Settings, Size, Task, mouse};
use iced_test::Simulator;
use iced_test::core::renderer::Headless;
use iced_test::core::widget::{Id, operation};
use iced_test::runtime::user_interface::{Cache, UserInterface};
use iced_test::runtime::{self, task};
use iced_test::selector::id;
use std::path::PathBuf;
use std::sync::Arc;

const LANTERN: &str = include_str!("../data/lantern-drop.toml");

fn now() -> NaiveDateTime {
    NaiveDate::from_ymd_opt(2026, 10, 14).unwrap().and_hms_opt(9, 30, 0).unwrap()
}

fn mm(text: &str) -> Decimal {
    text.parse().unwrap()
}

/// The room on a real book with one design.
struct Bench {
    folder: tempfile::TempDir,
    book: Book,
    shared: Shared,
    room: State,
    notices: Vec<Notice>,
    opened: Vec<Destination>,
}

impl Bench {
    fn new() -> Self {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("studio.studiobook");
        let mut book = Book::create(&path).unwrap();
        let design = design_file::read(LANTERN).unwrap();
        let save = actions::Action::SaveDesign { id: None, design, follows: Follows::default(), notes: String::new() };
        let _ = perform(&mut book, save, Order { key: ActionKey::fresh(), at: now() }).unwrap();
        let snapshot = Arc::new(actions::snapshot(&book).unwrap());
        let shared = Shared {
            preferences: Preferences::from(&*snapshot.settings),
            snapshot,
            path,
            today: now().date(),
            clock: crate::fixed_clock(),
            machine: Machine::default(),
            palette: &LIGHT,
            size: Size::new(1280.0, 800.0),
        };
        let room = State::new(&shared);
        let mut bench = Self { folder, book, shared, room, notices: Vec::new(), opened: Vec::new() };
        bench.open(&Destination::PaperDesigns);
        bench
    }

    /// With the first ready-made tag on the table.
    fn begun() -> Self {
        let mut bench = Self::new();
        bench.send(Message::Begin(0));
        bench
    }

    fn open(&mut self, destination: &Destination) {
        let action = self.room.open(destination, &self.shared);
        self.carry_out(action);
    }

    fn send(&mut self, message: Message) {
        let action = self.room.update(message, &self.shared);
        self.carry_out(action);
    }

    fn command(&mut self, command: Command) {
        let action = self.room.command(command, &self.shared);
        self.carry_out(action);
    }

    fn run(&mut self, work: Task<Message>) {
        let Some(mut stream) = task::into_stream(work) else { return };
        while let Some(action) = block_on(stream.next()) {
            if let runtime::Action::Output(message) = action {
                self.send(message);
            }
        }
    }

    /// The book was changed.
    fn follow(&mut self) {
        self.shared.snapshot = Arc::new(actions::snapshot(&self.book).unwrap());
        self.room.refresh(&self.shared);
        let action = self.room.refreshed(&self.shared);
        self.carry_out(action);
    }

    fn answered(&mut self, answer: Answer) {
        let action = self.room.answered(answer, &self.shared);
        self.carry_out(action);
    }

    fn carry_out(&mut self, action: Action<Message>) {
        match action {
            Action::Run(work) => self.run(work),
            Action::Do(action) => {
                let order = Order { key: ActionKey::fresh(), at: now() };
                let done = perform(&mut self.book, action, order);
                if let Err(refusal) = &done {
                    self.notices.push(Notice::Trouble(refusal.to_string()));
                }
                self.follow();
                self.answered(Answer::Performed(done));
            }
            Action::Ask(Request::Picture(id)) => {
                let png = actions::picture(&self.book, id);
                self.answered(Answer::Picture(id, png));
            }
            Action::Ask(Request::Photo(id)) => {
                let png = actions::photo(&self.book, id);
                self.answered(Answer::Photo(id, png));
            }
            Action::Ask(Request::PaperStore) => {
                let store = actions::paper_store(&self.book);
                self.answered(Answer::PaperStore(store));
            }
            Action::Notify(notice) => self.notices.push(notice),
            Action::Open(destination) => self.opened.push(destination),
            Action::Many(actions) => actions.into_iter().for_each(|action| self.carry_out(action)),
            _ => {}
        }
    }

    fn view(&self) -> Element<'_, Message> {
        match self.room.modal(&self.shared) {
            Some(over) => iced::widget::container(over).into(),
            None => self.room.view(&self.shared),
        }
    }

    /// Looked at whole, as if it had been scrolled to each of its parts.
    fn look(&self) -> Simulator<'_, Message> {
        self.look_at(2_000.0)
    }

    fn look_at(&self, height: f32) -> Simulator<'_, Message> {
        let settings = Settings {
            fonts: fonts::ALL.into_iter().map(Into::into).collect(),
            default_font: theme::REGULAR,
            ..Settings::default()
        };
        let size = Size::new(self.shared.size.width - 152.0, height);
        Simulator::with_size(settings, size, self.view())
    }

    fn sees(&self, words: &str) -> bool {
        self.look().find(words).is_ok()
    }

    fn by(&mut self, doing: impl FnOnce(&mut Simulator<'_, Message>)) {
        let messages: Vec<Message> = {
            let mut page = self.look();
            doing(&mut page);
            page.into_messages().collect()
        };
        for message in messages {
            self.send(message);
        }
    }

    fn click(&mut self, words: &str) {
        self.by(|page| {
            let _ = page.click(words).unwrap_or_else(|error| panic!("{words:?}: {error:?}"));
        });
    }

    /// Clicks a pinned thing, then presses a key.
    fn key_on(&mut self, thing: usize, key: Named, modifiers: Modifiers) {
        self.by(|page| {
            let _ = page.click(id(format!("pin-{thing}"))).unwrap();
            let _ = page.simulate([pressed(key, modifiers)]);
        });
    }

    /// Drags from a point of a pinned thing (0 to 1 across and down) by so many pixels, with Alt held: it stands where the
    /// hand lets it go.
    fn drag(&mut self, thing: usize, [across, down]: [f32; 2], [right, below]: [f32; 2]) {
        self.drag_with(thing, [across, down], [right, below], Modifiers::ALT);
    }

    fn drag_with(&mut self, thing: usize, [across, down]: [f32; 2], [right, below]: [f32; 2], modifiers: Modifiers) {
        self.by(|page| {
            let _ = page.simulate([Event::Keyboard(iced::keyboard::Event::ModifiersChanged(modifiers))]);
            let place = page.find(id(format!("pin-{thing}"))).unwrap().bounds();
            let from = Point::new(place.x + place.width * across, place.y + place.height * down);
            let to = Point::new(from.x + right, from.y + below);
            page.point_at(from);
            let _ = page.simulate([
                Event::Mouse(mouse::Event::CursorMoved { position: from }),
                Event::Mouse(mouse::Event::ButtonPressed(mouse::Button::Left)),
            ]);
            page.point_at(to);
            let _ = page.simulate([
                Event::Mouse(mouse::Event::CursorMoved { position: to }),
                Event::Mouse(mouse::Event::ButtonReleased(mouse::Button::Left)),
            ]);
        });
    }

    /// Pixels to a millimetre, from a place of known width.
    fn scale(&self, thing: usize, width_mm: f32) -> f32 {
        self.look().find(id(format!("pin-{thing}"))).unwrap().bounds().width / width_mm
    }

    fn paper(&self) -> &PaperDesign {
        self.room.paper().unwrap()
    }

    fn thing(&self, place: usize) -> &Pinned {
        &self.paper().pinned[place]
    }

    fn place_of(&self, what: &What) -> usize {
        self.paper().pinned.iter().position(|pinned| pinned.what == *what).unwrap()
    }

    fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }
}

fn pressed(key: Named, modifiers: Modifiers) -> Event {
    Event::Keyboard(iced::keyboard::Event::KeyPressed {
        key: Key::Named(key),
        modified_key: Key::Named(key),
        physical_key: iced::keyboard::key::Physical::Unidentified(iced::keyboard::key::NativeCode::Unidentified),
        location: iced::keyboard::Location::Standard,
        modifiers,
        text: None,
        repeat: false,
    })
}

#[test]
fn the_shelf_offers_three_moods_of_every_kind_and_a_copy_is_begun() {
    let mut bench = Bench::new();
    assert!(bench.sees("Paper designs"));
    assert!(bench.sees("Quiet tag") && bench.sees("Kiln tag") && bench.sees("Garden tag"));
    for kind in PaperKind::ALL {
        bench.send(Message::Kind(kind));
        assert!(bench.look().find("Begin with this").is_ok(), "{kind:?}");
    }
    bench.send(Message::Kind(PaperKind::Tag));
    bench.click("Begin with this");
    assert!(bench.sees("Price tag · not saved yet"));
    assert_eq!(bench.paper().name, "Quiet tag");
}

#[test]
fn arrows_move_a_thing_by_tenths_and_by_millimetres() {
    let mut bench = Bench::begun();
    let name = bench.place_of(&What::Name);
    assert_eq!((bench.thing(name).x_mm, bench.thing(name).y_mm), (mm("10"), mm("3.6")));
    bench.key_on(name, Named::ArrowRight, Modifiers::empty());
    assert_eq!(bench.thing(name).x_mm, mm("10.1"));
    bench.key_on(name, Named::ArrowDown, Modifiers::SHIFT);
    assert_eq!(bench.thing(name).y_mm, mm("4.6"));
    let width = bench.thing(name).width_mm;
    bench.key_on(name, Named::ArrowLeft, Modifiers::CTRL);
    assert_eq!(bench.thing(name).width_mm, width - mm("0.1"));
    // The field beside the paper follows.
    assert!(bench.sees("10.1"));
}

#[test]
fn a_thing_is_dragged_and_sized_with_the_pointer() {
    let mut bench = Bench::begun();
    let name = bench.place_of(&What::Name);
    let scale = bench.scale(name, 24.0);
    // 2.5 mm to the right, 1 mm up.
    bench.drag(name, [0.5, 0.5], [2.5 * scale, -scale]);
    assert_eq!((bench.thing(name).x_mm, bench.thing(name).y_mm), (mm("12.5"), mm("2.6")));
    // By the corner at the right and bottom, 3 mm wider and 1 mm higher.
    bench.drag(name, [1.0, 1.0], [3.0 * scale, scale]);
    assert_eq!((bench.thing(name).width_mm, bench.thing(name).height_mm), (mm("27"), mm("6.4")));
    // Each drag is a step of its own.
    assert!(bench.room.revert(&bench.shared));
    assert_eq!((bench.thing(name).x_mm, bench.thing(name).width_mm), (mm("12.5"), mm("24")));
    assert!(bench.room.revert(&bench.shared));
    assert_eq!(bench.thing(name).x_mm, mm("10"));
    assert!(!bench.room.revert(&bench.shared), "then the root may undo the last action");
}

/// 10.3 mm from the left is 0.3 mm from the other texts' edge, and the pointer keeps to it within 6 pixels (0.6 mm at 10
/// pixels to the millimetre).
#[test]
fn a_dragged_thing_keeps_to_lines_that_are_shown_until_it_is_let_go() {
    let mut bench = Bench::begun();
    let name = bench.place_of(&What::Name);
    let scale = bench.scale(name, 24.0);
    bench.drag(name, [0.5, 0.5], [3.7 * scale, 0.0]);
    assert_eq!(bench.thing(name).x_mm, mm("13.7"));
    bench.drag_with(name, [0.5, 0.5], [-3.4 * scale, 0.0], Modifiers::empty());
    assert_eq!(bench.thing(name).x_mm, mm("10"), "to the left edge of the ticket");
    // One step, like any other drag; what was taken back is done again.
    assert!(bench.room.revert(&bench.shared));
    assert_eq!(bench.thing(name).x_mm, mm("13.7"));
    assert!(bench.room.again(&bench.shared));
    assert_eq!(bench.thing(name).x_mm, mm("10"));
    assert!(!bench.room.again(&bench.shared), "then the root may redo the action undone last");
}

#[test]
fn what_was_taken_back_is_done_again_until_something_else_is_done() {
    let mut bench = Bench::begun();
    let name = bench.place_of(&What::Name);
    bench.send(Message::Turn(name));
    bench.click("Take back");
    assert_eq!(bench.thing(name).turn, Turn::None);
    bench.click("Again");
    assert_eq!(bench.thing(name).turn, Turn::Quarter);
    bench.send(Message::TakeBack);
    bench.send(Message::Remove(name));
    bench.send(Message::Again);
    assert!(bench.paper().pinned.iter().all(|thing| thing.what != What::Name), "the other way is gone");
    // Typing after it is a step of its own.
    bench.send(Message::TakeBack);
    bench.send(Message::Select(Some(name)));
    bench.send(Message::Typed(Field::Left, "12".to_owned()));
    bench.send(Message::TakeBack);
    bench.send(Message::Again);
    bench.send(Message::Typed(Field::Left, "13".to_owned()));
    bench.send(Message::TakeBack);
    assert_eq!(bench.thing(name).x_mm, mm("12"));
}

#[test]
fn a_thing_is_doubled_and_brought_all_the_way_by_keys() {
    let mut bench = Bench::begun();
    let (name, count) = (bench.place_of(&What::Name), bench.paper().pinned.len());
    let key = |letter: &str| {
        let key = Key::Character(letter.into());
        Event::Keyboard(iced::keyboard::Event::KeyPressed {
            key: key.clone(),
            modified_key: key,
            physical_key: iced::keyboard::key::Physical::Unidentified(iced::keyboard::key::NativeCode::Unidentified),
            location: iced::keyboard::Location::Standard,
            modifiers: Modifiers::COMMAND,
            text: None,
            repeat: false,
        })
    };
    bench.by(|page| {
        let _ = page.click(id(format!("pin-{name}"))).unwrap();
        let _ = page.simulate([key("d")]);
    });
    assert_eq!((bench.paper().pinned.len(), bench.room.selected()), (count + 1, Some(name + 1)));
    let copy = bench.thing(name + 1);
    assert_eq!((copy.what.clone(), copy.x_mm, copy.y_mm), (What::Name, mm("12"), mm("5.6")));
    bench.key_on(name, Named::PageUp, Modifiers::COMMAND);
    assert_eq!(bench.room.selected(), Some(count));
    bench.key_on(count, Named::PageDown, Modifiers::COMMAND);
    assert_eq!((bench.room.selected(), bench.thing(0).what.clone()), (Some(0), What::Name));
}

#[test]
fn what_did_not_fit_is_listed_under_the_paper() {
    let mut bench = Bench::begun();
    assert!(!reads(&bench, "to look at"));
    let name = bench.place_of(&What::Name);
    bench.send(Message::Select(Some(name)));
    bench.send(Message::Typed(Field::Width, "3".to_owned()));
    assert!(reads(&bench, "1 thing to look at") && reads(&bench, "for the name"));
    bench.send(Message::Select(None));
    bench.click("Name");
    assert_eq!(bench.room.selected(), Some(name));
}

/// The tickets were typed into the price list here: 41 on the first channel, 42 on the second …
#[test]
fn the_ticket_shown_is_that_of_the_channel_chosen() {
    let mut bench = Bench::new();
    let book = bench.shared.snapshot.designs[0].clone();
    let resolved = bench.shared.snapshot.resolved(&book).unwrap();
    let costing = enamelwright::costing::costing(&resolved).unwrap();
    let own = enamelwright::costing::price_sheet::Tickets::Own;
    let mut tickets = enamelwright::costing::accept::lines(book.id, &resolved, &costing, own);
    for (line, ticket) in tickets.iter_mut().zip(41_i64..) {
        line.ticket = Decimal::from(ticket);
    }
    assert!(tickets.len() > 1);
    let accept =
        actions::Action::AcceptPrices { date: now().date(), name: "Harbour Fair".to_owned(), tickets: tickets.clone() };
    let _ = perform(&mut bench.book, accept, Order { key: ActionKey::fresh(), at: now() }).unwrap();
    bench.follow();
    bench.send(Message::Begin(0));
    for line in &tickets {
        let channel = book.design.channels.iter().find(|channel| channel.id == line.channel).unwrap();
        // A channel of the studio goes by the studio's name for it.
        let of_studio = bench.shared.snapshot.rates.channels.iter().find(|known| known.id == channel.id);
        let name = of_studio.map_or(&channel.name, |known| &known.name).clone();
        bench.send(Message::Channel(name));
        bench.send(Message::Print);
        let path = bench.path(&format!("{}.pdf", channel.id));
        bench.send(Message::Out(way_out::Message::Path(path.display().to_string())));
        bench.send(Message::Out(way_out::Message::Save));
        let pages = crate::pdf_reader::read(&std::fs::read(&path).unwrap());
        let said: Vec<&str> = pages[0].texts.iter().map(|(text, _)| text.as_str()).collect();
        assert!(said.iter().any(|text| text.contains(&format!("{}.00", line.ticket))), "{}: {said:?}", channel.name);
        bench.send(Message::ToPaper);
    }
}

#[test]
fn a_phrase_is_pinned_and_said_in_the_language_of_the_paper() {
    let mut bench = Bench::new();
    bench.send(Message::Kind(PaperKind::Certificate));
    bench.send(Message::Begin(0));
    let phrase = What::Phrase("thanks".to_owned());
    assert!(bench.paper().pinned.iter().all(|thing| thing.what != phrase));
    bench.send(Message::Add("Phrase: Thank you".to_owned()));
    assert_eq!(bench.paper().pinned.last().unwrap().what, phrase);
    bench.send(Message::First("German".to_owned()));
    bench.command(Command::Accept);
    assert_eq!(bench.shared.snapshot.paper_designs.len(), 1, "{:?}", bench.notices);
    bench.send(Message::Print);
    let path = bench.path("urkunde.pdf");
    bench.send(Message::Out(way_out::Message::Path(path.display().to_string())));
    bench.send(Message::Out(way_out::Message::Save));
    let pages = crate::pdf_reader::read(&std::fs::read(&path).unwrap());
    let said: Vec<&str> = pages[0].texts.iter().map(|(text, _)| text.as_str()).collect();
    for words in ["Vielen Dank", "Unterschrift"] {
        assert!(said.iter().any(|text| text.contains(words)), "{words}: {said:?}");
    }
}

#[test]
fn an_item_of_stock_is_shown_on_its_labels() {
    let mut bench = Bench::new();
    let item = |name: &str, details| enamelwright::studio::Item {
        reference: name.to_uppercase(),
        name: name.to_owned(),
        unit: enamelwright::measure::Unit::Gram,
        details,
        maker: String::new(),
        maker_number: String::new(),
        supplier: String::new(),
        shelf: "B2".to_owned(),
        note: String::new(),
        reorder_level: None,
        lead_bearing: false,
        retired: false,
        buying: enamelwright::studio::Buying::default(),
    };
    let enamel = enamelwright::studio::ItemDetails::Enamel {
        enamel: enamelwright::studio::EnamelKind::Opaque,
        swatch: [200, 40, 40],
        mesh: String::new(),
        fusing: None,
        firing_c: None,
    };
    for made in [
        item("Amber", enamel.clone()),
        item("Poppy", enamel),
        item("Borax", enamelwright::studio::ItemDetails::Consumable),
    ] {
        let save = actions::Action::SaveItem { id: None, item: made };
        let _ = perform(&mut bench.book, save, Order { key: ActionKey::fresh(), at: now() }).unwrap();
    }
    bench.follow();
    let row = |name: &str| bench.shared.snapshot.stock.iter().find(|row| row.item.name == name).unwrap().id;
    let (poppy, borax) = (row("Poppy"), row("Borax"));
    bench.open(&Destination::LabelOf(poppy));
    assert!(bench.sees("Quiet jar label"));
    bench.send(Message::Begin(0));
    assert!(reads(&bench, "Jar label"));
    bench.command(Command::Accept);
    bench.open(&Destination::LabelOf(borax));
    assert!(bench.sees("Quiet drawer label"));
}

#[test]
fn the_tab_key_walks_through_the_pinned_things() {
    let mut bench = Bench::begun();
    // The focus is given as the root gives it at a Tab; the next frame selects what has it, and arrows move it.
    let messages = {
        let mut renderer =
            block_on(<iced::Renderer as Headless>::new(theme::REGULAR, iced::Pixels(15.0), None)).unwrap();
        let mut page = UserInterface::build(bench.view(), Size::new(1128.0, 800.0), Cache::default(), &mut renderer);
        let mut messages = Vec::new();
        let mut give = operation::focusable::focus::<()>(Id::from("pin-1"));
        page.operate(&renderer, &mut give);
        let mut next = operation::focusable::focus_next::<()>();
        page.operate(&renderer, &mut operation::black_box(&mut next));
        // Counting what can have the focus comes first; the step follows from it.
        if let operation::Outcome::Chain(mut step) = operation::Operation::<()>::finish(&next) {
            page.operate(&renderer, &mut operation::black_box(step.as_mut()));
        }
        for event in [
            Event::Window(iced::window::Event::RedrawRequested(std::time::Instant::now())),
            pressed(Named::ArrowRight, Modifiers::SHIFT),
        ] {
            let _ = page.update(
                &[event],
                mouse::Cursor::Unavailable,
                &mut renderer,
                &mut iced_test::core::clipboard::Null,
                &mut messages,
            );
        }
        messages
    };
    for message in messages {
        bench.send(message);
    }
    let moved = &bench.paper().pinned[2];
    assert_eq!((moved.what.clone(), moved.x_mm), (What::Materials, mm("11")));
    assert_eq!(bench.room.selected(), Some(2));
}

#[test]
fn a_size_is_typed_and_what_cannot_be_read_is_told() {
    let mut bench = Bench::begun();
    let ticket = bench.place_of(&What::Ticket);
    bench.send(Message::Select(Some(ticket)));
    bench.send(Message::Typed(Field::Most, "30".to_owned()));
    assert_eq!(bench.thing(ticket).set.most_pt, mm("30"));
    bench.send(Message::Typed(Field::Most, "3".to_owned()));
    assert!(bench.sees("3 pt was typed; 4 to 400 pt is accepted"));
    assert_eq!(bench.thing(ticket).set.most_pt, mm("30"));
    bench.command(Command::Accept);
    assert!(matches!(bench.notices.last(), Some(Notice::Trouble(_))));
    assert!(bench.room.revert(&bench.shared));
    bench.send(Message::Typed(Field::Width, "0.5 in".to_owned()));
    // The inch is exactly 25.4 mm (international yard and pound agreement, 1959).
    assert_eq!(bench.thing(ticket).width_mm, mm("12.7"));
}

#[test]
fn words_are_added_and_the_paper_is_saved_as_one_action() {
    let mut bench = Bench::begun();
    let before = bench.shared.snapshot.history.len();
    bench.command(Command::New);
    for text in ["F", "Fi", "Fired", "Fired in my kitchen"] {
        bench.send(Message::Typed(Field::Words, text.to_owned()));
    }
    let words = What::Words("Fired in my kitchen".to_owned());
    let place = bench.place_of(&words);
    assert_eq!(bench.room.selected(), Some(place));
    assert!(bench.sees("“Fired in my kitchen”"));
    bench.send(Message::Select(None));
    bench.send(Message::Typed(Field::Name, "My tag".to_owned()));
    bench.command(Command::Accept);
    assert!(bench.sees("Price tag · saved"), "{:?}", bench.notices);
    assert_eq!(bench.shared.snapshot.history.len(), before + 1);
    let kept = &bench.shared.snapshot.paper_designs[0];
    assert_eq!((kept.design.name.as_str(), &kept.design.pinned[place].what), ("My tag", &words));
    // The book's undo takes the paper out; here it stands as one that is not saved.
    let _ = actions::undo(&mut bench.book, Order { key: ActionKey::fresh(), at: now() }).unwrap();
    bench.follow();
    assert!(bench.shared.snapshot.paper_designs.is_empty());
    assert!(bench.sees("Price tag · not saved yet"));
}

#[test]
fn typing_is_one_step_to_take_back() {
    let mut bench = Bench::begun();
    let count = bench.paper().pinned.len();
    bench.command(Command::New);
    for text in ["a", "ab", "abc"] {
        bench.send(Message::Typed(Field::Words, text.to_owned()));
    }
    assert!(bench.room.revert(&bench.shared));
    assert_eq!(bench.thing(count).what, What::Words(String::new()));
    assert!(bench.room.revert(&bench.shared));
    assert_eq!(bench.paper().pinned.len(), count);
}

#[test]
fn things_are_turned_put_in_order_aligned_and_taken_off() {
    let mut bench = Bench::begun();
    let name = bench.place_of(&What::Name);
    bench.send(Message::Turn(name));
    let turned = bench.thing(name);
    assert_eq!((turned.turn, turned.width_mm, turned.height_mm), (Turn::Quarter, mm("5.4"), mm("24")));
    bench.send(Message::Lift(name, true));
    assert_eq!(bench.place_of(&What::Name), name + 1);
    bench.click("right");
    bench.send(Message::Align(enamelwright::paper::arrange::Edge::Right));
    assert_eq!(bench.thing(name + 1).x_mm, mm("44.6"));
    let count = bench.paper().pinned.len();
    bench.key_on(name + 1, Named::Delete, Modifiers::empty());
    assert_eq!(bench.paper().pinned.len(), count - 1);
}

#[test]
fn a_symbol_says_why_it_is_so_large_and_when_it_cannot_scan() {
    let mut bench = Bench::begun();
    let symbol = bench.paper().pinned.iter().position(|thing| matches!(thing.what, What::Symbol { .. })).unwrap();
    bench.send(Message::Select(Some(symbol)));
    assert!(reads(&bench, "the largest its place has room for"));
    bench.send(Message::Typed(Field::Width, "4".to_owned()));
    assert!(reads(&bench, "that scans needs"));
    bench.send(Message::Symbol(SymbolKind::Code128));
    bench.send(Message::Holds(Hold::Text));
    bench.send(Message::Typed(Field::Holds, "LN".to_owned()));
    let held = What::Symbol { kind: SymbolKind::Code128, of: SymbolOf::Text("LN".to_owned()) };
    assert_eq!(bench.thing(symbol).what, held);
}

fn reads(bench: &Bench, words: &str) -> bool {
    bench
        .look()
        .find(|candidate: iced_test::selector::Candidate<'_>| match candidate {
            iced_test::selector::Candidate::Text { content, .. } if content.contains(words) => Some(()),
            _ => None,
        })
        .is_ok()
}

#[test]
fn the_paper_itself_has_size_fold_holes_and_languages() {
    let mut bench = Bench::begun();
    bench.send(Message::Typed(Field::PaperWidth, "60".to_owned()));
    bench.send(Message::Fold(Folding::Upright));
    assert_eq!(bench.paper().fold, Some(Fold::Upright(mm("30"))));
    bench.send(Message::AddHole);
    bench.send(Message::Typed(Field::HoleDiameter(1), "2".to_owned()));
    assert_eq!(bench.paper().holes[1].diameter_mm, mm("2"));
    bench.send(Message::RemoveHole(0));
    assert_eq!(bench.paper().holes.len(), 1);
    bench.send(Message::Second("French".to_owned()));
    bench.send(Message::First("French".to_owned()));
    assert_eq!(bench.paper().languages, [Language::French, Language::English]);
    bench.send(Message::Second("none".to_owned()));
    assert_eq!(bench.paper().languages, [Language::French]);
    bench.send(Message::First("Polish".to_owned()));
    assert_eq!(bench.paper().languages, [Language::Polish]);
    bench.send(Message::Typed(Field::Corner, "15".to_owned()));
    assert!(bench.sees("15 mm was typed; 0 to 14 mm is accepted"));
}

#[test]
fn an_unsaved_paper_is_asked_about_before_another_takes_its_place() {
    let mut bench = Bench::begun();
    bench.command(Command::Back);
    assert!(bench.sees("Go on with it"));
    bench.send(Message::Begin(1));
    assert!(bench.sees("Let the changes go?"));
    bench.click("Go on with it");
    assert_eq!(bench.paper().name, "Quiet tag");
    bench.command(Command::Back);
    bench.send(Message::Begin(1));
    bench.click("Let them go");
    assert_ne!(bench.paper().name, "Quiet tag");
}

#[test]
fn it_is_printed_one_a_page_to_a_pdf_that_an_independent_reader_reads() {
    let mut bench = Bench::begun();
    bench.command(Command::Accept);
    bench.click("Print…");
    assert!(bench.sees("1 price tag on 1 page"));
    bench.send(Message::Copies("3".to_owned()));
    assert!(bench.sees("3 price tags on 3 pages"));
    bench.click("›");
    assert!(bench.sees("page 2 of 3"));
    let path = bench.path("mine.pdf");
    bench.send(Message::Out(way_out::Message::Path(path.display().to_string())));
    bench.click("Save as PDF");
    assert!(
        matches!(bench.notices.last(), Some(Notice::Done(words)) if words.contains("3 price tags on 3 pages")),
        "{:?}",
        bench.notices
    );
    let pdf = Pdf::new(std::fs::read(&path).unwrap()).unwrap();
    assert_eq!(pdf.pages().len(), 3);
    let size = pdf.pages()[0].media_box();
    // A point is 1/72 in: 50 × 28 mm.
    assert!(
        (size.x1 - size.x0 - 50.0 / 25.4 * 72.0).abs() < 0.01 && (size.y1 - size.y0 - 28.0 / 25.4 * 72.0).abs() < 0.01
    );
    // The tags are kept in mind.
    let printed = &bench.shared.snapshot.printed_tags;
    assert_eq!((printed.len(), printed[0].copies), (1, 3));
    // A file that is there is asked about.
    bench.click("Save as PDF");
    assert!(bench.sees("Replace the file?"));
    bench.click("Not now");
}

#[test]
fn a_sheet_goes_on_at_its_next_free_label() {
    let mut bench = Bench::begun();
    bench.send(Message::Typed(Field::PaperWidth, "40".to_owned()));
    bench.send(Message::Typed(Field::PaperHeight, "20".to_owned()));
    bench.send(Message::Print);
    let (sheet_id, sheet) = bench
        .shared
        .snapshot
        .sheets
        .iter()
        .find(|(_, sheet)| {
            sheet.label_width_mm >= mm("40") && sheet.label_height_mm >= mm("20") && sheet.columns * sheet.rows >= 8
        })
        .cloned()
        .unwrap();
    bench.send(Message::Sheet(sheet.name.clone()));
    bench.send(Message::Start("3".to_owned()));
    bench.send(Message::Copies("4".to_owned()));
    assert!(bench.sees("4 price tags on 1 page"));
    bench.send(Message::Out(way_out::Message::Path(bench.path("sheet.pdf").display().to_string())));
    bench.click("Save as PDF");
    assert_eq!(bench.shared.snapshot.begun_sheets.get(&sheet_id), Some(&7));
    bench.send(Message::ToPaper);
    bench.send(Message::Print);
    bench.send(Message::Sheet(sheet.name));
    assert!(bench.room.begins_at(7));
}

#[test]
fn a_picture_is_stored_pinned_and_carried_with_the_paper_to_another_book() {
    let mut bench = Bench::begun();
    let logo = bench.path("leaf.png");
    image::RgbaImage::from_pixel(40, 20, image::Rgba([20, 90, 60, 255])).save(&logo).unwrap();
    bench.send(Message::Ask(Asked::Picture));
    bench.send(Message::FilePath(logo.display().to_string()));
    bench.send(Message::FileAccept);
    let (picture, name) = bench.shared.snapshot.pictures[0].clone();
    assert_eq!(name, "leaf");
    assert_eq!(bench.paper().pinned.last().unwrap().what, What::Picture(picture));
    let file = bench.path("tag.toml");
    bench.send(Message::Ask(Asked::WriteOut));
    bench.send(Message::FilePath(file.display().to_string()));
    bench.send(Message::FileAccept);
    assert!(matches!(bench.notices.last(), Some(Notice::Done(_))), "{:?}", bench.notices);
    let carried = paper_file::read(&std::fs::read_to_string(&file).unwrap()).unwrap();
    assert_eq!(carried.pictures.len(), 1);

    let mut other = Bench::new();
    other.send(Message::Ask(Asked::BringIn));
    other.send(Message::FilePath(file.display().to_string()));
    other.send(Message::FileAccept);
    assert_eq!(other.paper().pinned.len(), bench.paper().pinned.len());
    assert_eq!(other.shared.snapshot.pictures[0].1, "leaf");
    other.command(Command::Accept);
    assert_eq!(other.shared.snapshot.paper_designs.len(), 1, "{:?}", other.notices);
    // A file that is none is told with its reason.
    let wrong = other.path("wrong.toml");
    std::fs::write(&wrong, "shopping = [").unwrap();
    other.send(Message::Ask(Asked::BringIn));
    other.send(Message::FilePath(wrong.display().to_string()));
    other.send(Message::FileAccept);
    assert!(reads(&other, "line 1"));
}

#[test]
fn a_saved_paper_is_opened_copied_and_set_aside() {
    let mut bench = Bench::begun();
    bench.command(Command::Accept);
    let kept = bench.shared.snapshot.paper_designs[0].id;
    bench.command(Command::Back);
    assert!(bench.sees("Yours"));
    bench.open(&Destination::PaperDesign(kept));
    assert!(bench.sees("Price tag · saved"));
    bench.command(Command::Back);
    bench.send(Message::Copy(kept));
    assert_eq!(bench.paper().name, "Quiet tag 2");
    bench.command(Command::Accept);
    bench.command(Command::Back);
    bench.send(Message::SetAside(kept));
    assert!(bench.shared.snapshot.paper_designs.iter().any(|paper| paper.id == kept && paper.retired));
    bench.command(Command::Back);
    assert_eq!(bench.opened, [Destination::Papers]);
}

/// The pages in both looks and at 200 % text. With a folder in `PAGES` they are kept there as pictures to look at.
#[test]
fn the_pages_are_drawn_light_dark_and_narrow() {
    let keep = std::env::var_os("PAGES").map(PathBuf::from);
    for (look, size, name) in [
        (&LIGHT, Size::new(1280.0, 800.0), "light"),
        (&DARK, Size::new(1280.0, 800.0), "dark"),
        (&LIGHT, Size::new(640.0, 1600.0), "narrow"),
    ] {
        let mut bench = Bench::new();
        bench.shared.palette = look;
        bench.shared.size = size;
        let shown = |bench: &Bench, page: &str| {
            // Drawing takes long without a display's own means: three pages are enough where nobody looks at them.
            if keep.is_none() && (page != "symbol" || name == "light") {
                return;
            }
            let picture = bench.look_at(bench.shared.size.height).snapshot(&theme::theme(look)).unwrap();
            if let Some(folder) = &keep {
                assert!(picture.matches_image(folder.join(format!("{page}-{name}"))).unwrap());
            }
        };
        shown(&bench, "shelf");
        bench.send(Message::Begin(0));
        shown(&bench, "paper");
        let symbol = bench.paper().pinned.iter().position(|thing| matches!(thing.what, What::Symbol { .. })).unwrap();
        bench.send(Message::Select(Some(symbol)));
        shown(&bench, "symbol");
        let name = bench.place_of(&What::Name);
        bench.send(Message::Select(Some(name)));
        shown(&bench, "text");
        bench.send(Message::Print);
        let sheet = bench
            .shared
            .snapshot
            .sheets
            .iter()
            .find(|(_, sheet)| sheet.label_width_mm >= mm("50") && sheet.label_height_mm >= mm("28"));
        if let Some((_, sheet)) = sheet {
            let sheet = sheet.name.clone();
            bench.send(Message::Sheet(sheet));
        }
        bench.send(Message::Copies("5".to_owned()));
        shown(&bench, "print");
    }
}

#[test]
fn a_paper_speaks_the_language_it_is_written_in() {
    let mut bench = Bench::begun();
    bench.send(Message::First("German".to_owned()));
    bench.send(Message::Print);
    let path = bench.path("deutsch.pdf");
    bench.send(Message::Out(way_out::Message::Path(path.display().to_string())));
    bench.send(Message::Out(way_out::Message::Save));
    let pages = crate::pdf_reader::read(&std::fs::read(&path).unwrap());
    let said: String = pages[0].texts.iter().map(|(text, _)| format!("{text} ")).collect();
    // “auf Kupfer”: on copper, from any German dictionary.
    assert!(said.contains("Kupfer"), "{said}");
}
