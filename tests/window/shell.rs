//! The window without a display: what a person clicks and types, and what comes of it in the book.

use chrono::{NaiveDate, NaiveDateTime};
use enamelwright::measure::TemperatureUnit;
use enamelwright::paper::fonts;
use enamelwright::window::app::{App, Message, Places};
use enamelwright::window::clock::Clock;
use enamelwright::window::shortcut::{Command, RoomName};
use enamelwright::window::{find, theme};
use iced::futures::{StreamExt, executor::block_on};
use iced::keyboard::key::Named;
use iced::{Settings, Size, Task};
use iced_test::Simulator;
use iced_test::runtime::{Action, task};
use iced_test::selector::id;
use std::path::{Path, PathBuf};

fn now() -> NaiveDateTime {
    NaiveDate::from_ymd_opt(2026, 10, 14).unwrap().and_hms_opt(9, 30, 0).unwrap()
}

fn places(folder: &Path) -> Places {
    Places {
        settings_file: Some(folder.join("window.toml")),
        default_book: Some(folder.join("studio.studiobook")),
        book: None,
    }
}

/// A window and the folder it lives in.
struct Window {
    app: App,
    folder: tempfile::TempDir,
}

impl Window {
    fn new() -> Self {
        let folder = tempfile::tempdir().unwrap();
        let places = places(folder.path());
        Self::at(folder, places)
    }

    fn at(folder: tempfile::TempDir, places: Places) -> Self {
        let (app, task) = App::new(places, Clock::of(now));
        let mut window = Self { app, folder };
        window.run(task);
        window
    }

    /// A window on a new empty book.
    fn with_book() -> Self {
        let mut window = Self::new();
        window.press("Start an empty book");
        assert_eq!(window.app.room(), Some(RoomName::Bench), "{:?}", window.app.notices());
        window
    }

    /// Carries out a task and all that follows from it. Operations on widgets are dropped: every look at the window is
    /// a fresh one.
    fn run(&mut self, task: Task<Message>) {
        let Some(mut stream) = task::into_stream(task) else { return };
        while let Some(action) = block_on(stream.next()) {
            if let Action::Output(message) = action {
                self.send(message);
            }
        }
    }

    fn send(&mut self, message: Message) {
        let task = self.app.update(message);
        self.run(task);
    }

    fn command(&mut self, command: Command) {
        self.send(Message::Command(command));
    }

    fn look(&self) -> Simulator<'_, Message> {
        let settings = Settings {
            fonts: fonts::ALL.into_iter().map(Into::into).collect(),
            default_font: theme::REGULAR,
            ..Settings::default()
        };
        // At 100 % the page is looked at whole, as if it had been scrolled to each of its parts.
        let scale = self.app.scale();
        let size = Size::new(1280.0 / scale, if scale > 1.0 { 800.0 / scale } else { 3200.0 });
        Simulator::with_size(settings, size, self.app.view())
    }

    fn sees(&self, words: &str) -> bool {
        self.look().find(words).is_ok()
    }

    /// Clicks the last thing on the page that says so (a button stands below its panel's heading).
    fn press(&mut self, words: &str) {
        let bounds = {
            let mut all = Vec::new();
            let mut ui = self.look();
            let _ = ui.find(|candidate: iced_test::selector::Candidate<'_>| {
                if let iced_test::selector::Candidate::Text { content, visible_bounds: Some(bounds), .. } = candidate
                    && content == words
                {
                    all.push(bounds);
                }
                None::<()>
            });
            *all.last().unwrap_or_else(|| panic!("nothing on the page says {words:?}"))
        };
        let messages: Vec<Message> = {
            let mut ui = self.look();
            ui.point_at(bounds.center());
            let _ = ui.simulate(iced_test::simulator::click());
            ui.into_messages().collect()
        };
        for message in messages {
            self.send(message);
        }
    }

    /// Types into the field that holds (or, while empty, proposes) a text, as if it were empty.
    fn type_into(&mut self, field: &str, text: &str) {
        let mut holds = field.to_owned();
        let mut typed = String::new();
        for letter in text.chars() {
            let messages: Vec<Message> = {
                let mut ui = self.look();
                // A fresh look puts the cursor where the click falls: at the end, right of what is there.
                let _ = ui.click(holds.as_str()).unwrap();
                let _ = ui.tap_key(Named::End);
                let _ = ui.typewrite(&letter.to_string());
                ui.into_messages().collect()
            };
            for message in messages {
                self.send(message);
            }
            typed.push(letter);
            holds.clone_from(&typed);
        }
    }

    fn settings(&self) -> enamelwright::studio::Settings {
        self.app.shared().unwrap().settings().clone()
    }

    fn book(&self) -> PathBuf {
        self.app.shared().unwrap().path.clone()
    }
}

#[test]
fn the_first_start_offers_an_empty_book_and_the_demo_studio() {
    let mut window = Window::new();
    assert!(window.sees("Open the demo studio"));
    window.type_into("printed on care cards; may be empty", "Wren");
    window.press("°F, inches, ounces");
    window.press("Start an empty book");
    assert_eq!(window.app.room(), Some(RoomName::Bench), "{:?}", window.app.notices());
    assert_eq!(window.settings().studio_name, "Wren");
    assert_eq!(window.settings().temperature, TemperatureUnit::Fahrenheit);
    assert!(window.app.title().contains("Wren"));
    assert!(window.sees("Wednesday 14 October 2026"));
}

#[test]
fn the_demo_studio_looks_lived_in_and_is_opened_again_next_time() {
    let mut window = Window::new();
    window.press("Open the demo studio");
    let shared = window.app.shared().expect("the demo opens");
    assert!(shared.snapshot.designs.len() >= 12);
    assert!(shared.snapshot.stock.len() >= 55);
    let Window { app, folder } = window;
    drop(app);
    let places = places(folder.path());
    let again = Window::at(folder, places);
    assert!(again.app.shared().unwrap().snapshot.designs.len() >= 12);
}

#[test]
fn every_room_is_reached_by_its_bead_and_by_its_key() {
    let mut window = Window::with_book();
    for room in RoomName::BEADS.into_iter().rev() {
        window.send(Message::Go(RoomName::Bench));
        window.press(room.words());
        assert_eq!(window.app.room(), Some(room));
    }
    for room in RoomName::UNDER_STOCK {
        window.send(Message::Go(RoomName::Stock));
        window.press(room.words());
        assert_eq!(window.app.room(), Some(room));
    }
    for room in RoomName::ALL {
        window.command(Command::Go(room));
        assert_eq!(window.app.room(), Some(room));
    }
}

#[test]
fn a_bead_that_has_the_focus_is_pressed_by_enter_and_by_space() {
    let window = Window::with_book();
    let mut ui = window.look();
    ui.click("Papers").unwrap();
    let _ = ui.tap_key(Named::Enter);
    let _ = ui.tap_key(Named::Space);
    let gone: Vec<_> = ui.into_messages().filter(|message| matches!(message, Message::Go(RoomName::Papers))).collect();
    assert_eq!(gone.len(), 3);
}

#[test]
fn units_chosen_in_setup_hold_at_once_and_can_be_undone_and_done_again() {
    let mut window = Window::with_book();
    window.command(Command::Go(RoomName::Setup));
    window.press("°F");
    assert_eq!(window.settings().temperature, TemperatureUnit::Fahrenheit);
    assert_eq!(window.app.notices().len(), 1);
    window.command(Command::Undo);
    assert_eq!(window.settings().temperature, TemperatureUnit::Celsius);
    assert!(window.app.notices().iter().any(|words| words.starts_with("Undone: ")));
    window.command(Command::Redo);
    assert_eq!(window.settings().temperature, TemperatureUnit::Fahrenheit);
}

#[test]
fn ctrl_z_reverts_the_field_being_typed_in_before_it_undoes_anything() {
    let mut window = Window::with_book();
    window.command(Command::Go(RoomName::Setup));
    window.press("°F");
    window.type_into("its name", "Quay");
    assert!(window.sees("Quay"));
    window.command(Command::Undo);
    assert!(!window.sees("Quay"));
    assert_eq!(window.settings().temperature, TemperatureUnit::Fahrenheit);
    window.type_into("its name", "Quay");
    window.command(Command::Accept);
    assert_eq!(window.settings().fair_name, "Quay");
    window.command(Command::Undo);
    assert_eq!(window.settings().fair_name, "");
}

#[test]
fn text_at_200_per_cent_keeps_every_bead_in_sight_and_is_remembered() {
    let mut window = Window::with_book();
    for _ in 0..12 {
        window.command(Command::Larger);
    }
    assert!((window.app.scale() - 2.0).abs() < 1e-6);
    for room in RoomName::BEADS {
        let target = window.look().find(room.words()).unwrap();
        let bounds = iced_test::selector::Bounded::visible_bounds(&target).unwrap();
        assert!(bounds.y + bounds.height <= 400.0, "{} at {bounds:?}", room.words());
    }
    assert!(window.sees("Find"));
    let Window { app, folder } = window;
    drop(app);
    let places = places(folder.path());
    assert!((Window::at(folder, places).app.scale() - 2.0).abs() < 1e-6);
}

#[test]
fn a_second_window_on_the_same_book_is_refused_and_may_look() {
    let first = Window::with_book();
    let folder = tempfile::tempdir().unwrap();
    let places = Places { book: Some(first.book()), ..places(folder.path()) };
    let mut second = Window::at(folder, places);
    assert!(second.sees("This book did not open"));
    second.press("Open it to look only");
    assert!(second.app.shared().unwrap().read_only());
    assert!(second.sees("This book is open to look at only: nothing can be changed in it."));
}

#[test]
fn a_file_that_is_no_book_is_refused_and_left_as_it_is() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("shopping.studiobook");
    std::fs::write(&file, "eggs, solder, cobalt").unwrap();
    let places = Places { book: Some(file.clone()), ..places(folder.path()) };
    let mut window = Window::at(folder, places);
    assert!(window.sees("This book did not open"));
    assert!(!window.sees("Open it to look only"));
    assert_eq!(std::fs::read(&file).unwrap(), b"eggs, solder, cobalt");
    window.press("First page");
    assert!(window.sees("Open the demo studio"));
}

#[test]
fn the_find_box_leads_to_a_page() {
    let mut window = Window::with_book();
    window.command(Command::Find);
    assert!(window.sees("Find"));
    window.type_into("a design, an item, a batch, a piece, a page", "rat");
    window.send(Message::Find(find::Message::Enter));
    assert_eq!(window.app.room(), Some(RoomName::Rates));
    assert!(window.look().find(id(find::FIELD)).is_err());
}

#[test]
fn the_table_of_keys_opens_and_closes() {
    let mut window = Window::with_book();
    window.command(Command::Help);
    assert!(window.sees("Ctrl+Shift+Z"));
    window.command(Command::Back);
    assert!(!window.sees("Ctrl+Shift+Z"));
}

#[test]
fn a_backup_is_made_listed_and_restored() {
    let mut window = Window::with_book();
    window.command(Command::Go(RoomName::Setup));
    window.press("Back up now");
    window.press("°F");
    window.press("Restore");
    assert!(window.sees("Restore this backup?"));
    window.press("Restore the backup");
    assert_eq!(window.settings().temperature, TemperatureUnit::Celsius, "{:?}", window.app.notices());
}

#[test]
fn a_new_window_opens_no_book_that_is_not_there() {
    let folder = tempfile::tempdir().unwrap();
    let missing = folder.path().join("gone.studiobook");
    let places = Places { book: Some(missing.clone()), ..places(folder.path()) };
    let window = Window::at(folder, places);
    assert!(window.sees("This book did not open"));
    assert!(!missing.exists());
}
