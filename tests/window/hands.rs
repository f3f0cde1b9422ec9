//! A window on a book made beforehand, and the hands that type and press in it: for the rooms under the stock.

use chrono::{NaiveDate, NaiveDateTime};
use enamelwright::actions::{self, ActionKey, Added, Order, Receipt, perform};
use enamelwright::book::{Book, Snapshot};
use enamelwright::measure::{Decimal, Money, Quantity, Unit};
use enamelwright::paper::fonts;
use enamelwright::studio::{Buying, Item, ItemDetails, ItemId};
use enamelwright::window::app::{App, Message, Places};
use enamelwright::window::clock::Clock;
use enamelwright::window::shortcut::{Command, RoomName};
use enamelwright::window::theme;
use iced::futures::{StreamExt, executor::block_on};
use iced::keyboard::key::Named;
use iced::{Settings, Size, Task};
use iced_test::Simulator;
use iced_test::runtime::{Action, task};
use iced_test::selector::{Candidate, id};
use std::path::PathBuf;

pub(super) fn now() -> NaiveDateTime {
    NaiveDate::from_ymd_opt(2026, 10, 14).unwrap().and_hms_opt(9, 30, 0).unwrap()
}

pub(super) fn decimal(text: &str) -> Decimal {
    text.parse().unwrap()
}

pub(super) fn quantity(text: &str) -> Quantity {
    Quantity::new(decimal(text)).unwrap()
}

/// A book being filled before the window opens.
pub(super) struct Filling {
    folder: tempfile::TempDir,
    book: Book,
}

impl Filling {
    pub(super) fn new() -> Self {
        let folder = tempfile::tempdir().unwrap();
        let book = Book::create(&folder.path().join("studio.studiobook")).unwrap();
        Self { folder, book }
    }

    pub(super) fn perform(&mut self, action: actions::Action) -> Option<Added> {
        perform(&mut self.book, action, Order { key: ActionKey::fresh(), at: now() }).unwrap().added
    }

    /// An item kept in g on a shelf, with a lot of it received the year before.
    pub(super) fn enamel(&mut self, name: &str, shelf: &str, lead_bearing: bool, lot: Option<(&str, &str)>) -> ItemId {
        let item = Item {
            reference: name.to_uppercase().replace(' ', "-"),
            name: name.to_owned(),
            unit: Unit::Gram,
            details: ItemDetails::Consumable,
            maker: String::new(),
            maker_number: String::new(),
            supplier: String::new(),
            shelf: shelf.to_owned(),
            note: String::new(),
            reorder_level: None,
            lead_bearing,
            retired: false,
            buying: Buying::default(),
        };
        let Some(Added::Item(id)) = self.perform(actions::Action::SaveItem { id: None, item }) else {
            panic!("no item was added")
        };
        if let Some((grams, cost)) = lot {
            self.perform(actions::Action::Receive(vec![Receipt {
                item: id,
                date: NaiveDate::from_ymd_opt(2025, 10, 14).unwrap(),
                quantity: quantity(grams),
                typed: format!("{grams} g"),
                cost: Money::new(decimal(cost)).unwrap(),
                lot_number: String::new(),
                supplier: String::new(),
                note: String::new(),
            }]));
        }
        id
    }

    /// The book as it is.
    pub(super) fn snapshot(&self) -> Snapshot {
        actions::snapshot(&self.book).unwrap()
    }

    /// A window on that room of the book.
    pub(super) fn opened_at(self, room: RoomName) -> Window {
        self.opened_by(room, Clock::of(now))
    }

    /// A window on that room of the book, with a clock of one's own.
    pub(super) fn opened_by(self, room: RoomName, clock: Clock) -> Window {
        let path = self.folder.path().join("studio.studiobook");
        drop(self.book);
        let places = Places {
            settings_file: Some(self.folder.path().join("window.toml")),
            default_book: None,
            book: Some(path),
        };
        let (app, task) = App::new(places, clock);
        let mut window = Window { app, folder: self.folder };
        window.run(task);
        window.command(Command::Go(room));
        assert_eq!(window.app.room(), Some(room), "{:?}", window.app.notices());
        window
    }
}

/// The window.
pub(super) struct Window {
    pub(super) app: App,
    folder: tempfile::TempDir,
}

impl Window {
    pub(super) fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    fn run(&mut self, task: Task<Message>) {
        let Some(mut stream) = task::into_stream(task) else { return };
        while let Some(action) = block_on(stream.next()) {
            if let Action::Output(message) = action {
                self.send(message);
            }
        }
    }

    pub(super) fn send(&mut self, message: Message) {
        let task = self.app.update(message);
        self.run(task);
    }

    pub(super) fn command(&mut self, command: Command) {
        self.send(Message::Command(command));
    }

    /// Presses a key that the page as a whole hears.
    pub(super) fn tap(&mut self, key: impl Into<iced::keyboard::Key>) {
        let key = key.into();
        self.by(|ui| {
            let _ = ui.tap_key(key);
        });
    }

    /// Writes a picture of the page into the folder named by `ENAMELWRIGHT_PICTURES`.
    pub(super) fn picture(&self, name: &str) {
        let folder = PathBuf::from(std::env::var("ENAMELWRIGHT_PICTURES").expect("a folder"));
        self.draw(&folder, name, 800.0);
    }

    fn look(&self) -> Simulator<'_, Message> {
        let settings = Settings {
            fonts: fonts::ALL.into_iter().map(Into::into).collect(),
            default_font: theme::REGULAR,
            ..Settings::default()
        };
        // At 100 % the page is looked at whole, as if it had been scrolled to each of its parts.
        let scale = self.app.scale();
        let size = Size::new(1280.0 / scale, if scale > 1.0 { 800.0 / scale } else { 2400.0 });
        Simulator::with_size(settings, size, self.app.view())
    }

    pub(super) fn sees(&self, words: &str) -> bool {
        self.look().find(words).is_ok()
    }

    /// True when a text on the page contains the words.
    pub(super) fn reads(&self, words: &str) -> bool {
        self.look()
            .find(|candidate: Candidate<'_>| match candidate {
                Candidate::Text { content, .. } if content.replace('\u{a0}', " ").contains(words) => Some(()),
                _ => None,
            })
            .is_ok()
    }

    fn by(&mut self, doing: impl FnOnce(&mut Simulator<'_, Message>)) {
        let messages: Vec<Message> = {
            let mut ui = self.look();
            doing(&mut ui);
            ui.into_messages().collect()
        };
        for message in messages {
            self.send(message);
        }
    }

    /// Clicks the last thing on the page that says so.
    pub(super) fn press(&mut self, words: &str) {
        let mut all = Vec::new();
        let _ = self.look().find(|candidate: Candidate<'_>| {
            if let Candidate::Text { content, visible_bounds: Some(bounds), .. } = candidate
                && content == words
            {
                all.push(bounds);
            }
            None::<()>
        });
        let bounds = *all.last().unwrap_or_else(|| panic!("nothing on the page says {words:?}"));
        self.by(|ui| {
            ui.point_at(bounds.center());
            let _ = ui.simulate(iced_test::simulator::click());
        });
    }

    /// Types at the end of a field, letter by letter.
    pub(super) fn type_at(&mut self, field: &str, text: &str) {
        for letter in text.chars() {
            self.by(|ui| {
                let _ = ui.click(id(field.to_owned())).unwrap_or_else(|error| panic!("{field}: {error:?}"));
                let _ = ui.tap_key(Named::End);
                let _ = ui.typewrite(&letter.to_string());
            });
        }
    }

    /// Takes the last letter of a field away.
    pub(super) fn erase(&mut self, field: &str) {
        self.by(|ui| {
            let _ = ui.click(id(field.to_owned())).unwrap_or_else(|error| panic!("{field}: {error:?}"));
            let _ = ui.tap_key(Named::End);
            let _ = ui.tap_key(Named::Backspace);
        });
    }

    pub(super) fn enter(&mut self, field: &str) {
        self.by(|ui| {
            let _ = ui.click(id(field.to_owned())).unwrap_or_else(|error| panic!("{field}: {error:?}"));
            let _ = ui.tap_key(Named::Enter);
        });
    }

    pub(super) fn snapshot(&self) -> &Snapshot {
        &self.app.shared().unwrap().snapshot
    }

    pub(super) fn on_hand(&self, item: ItemId) -> Decimal {
        self.snapshot().item(item).unwrap().on_hand.amount()
    }
}

impl Window {
    /// Writes a picture of the page as it is into a folder, to be looked at.
    pub(super) fn draw(&self, folder: &std::path::Path, name: &str, height: f32) {
        let settings = Settings {
            fonts: fonts::ALL.into_iter().map(Into::into).collect(),
            default_font: theme::REGULAR,
            ..Settings::default()
        };
        let scale = self.app.scale();
        let mut page = Simulator::with_size(settings, Size::new(1280.0 / scale, height / scale), self.app.view());
        let snapshot = page.snapshot(&theme::theme(self.app.shared().unwrap().palette)).unwrap();
        assert!(snapshot.matches_image(folder.join(name)).unwrap());
    }

    /// The machine is set to dark, or to light.
    pub(super) fn dark(&mut self, dark: bool) {
        self.send(Message::System(if dark { iced::theme::Mode::Dark } else { iced::theme::Mode::Light }));
    }
}
