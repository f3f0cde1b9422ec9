//! The stock room without a display: an item added by typing, lots received, issued and counted, the list narrowed.
//!
//! The ounce is the avoirdupois ounce of exactly 28.349523125 g (NIST SP 811, appendix B; value from memory of that
//! publication).

use chrono::{NaiveDate, NaiveDateTime};
use enamelwright::book::StockRow;
use enamelwright::measure::{Decimal, Unit};
use enamelwright::paper::fonts;
use enamelwright::studio::{ItemDetails, ItemKind};
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

fn now() -> NaiveDateTime {
    NaiveDate::from_ymd_opt(2026, 10, 14).unwrap().and_hms_opt(9, 30, 0).unwrap()
}

/// A window on the stock room and the folder it lives in.
struct Window {
    app: App,
    _folder: tempfile::TempDir,
}

impl Window {
    fn opened_by(words: &str) -> Self {
        let folder = tempfile::tempdir().unwrap();
        let places = Places {
            settings_file: Some(folder.path().join("window.toml")),
            default_book: Some(folder.path().join("studio.studiobook")),
            book: None,
        };
        let (app, task) = App::new(places, Clock::of(now));
        let mut window = Self { app, _folder: folder };
        window.run(task);
        window.press(words);
        window.command(Command::Go(RoomName::Stock));
        assert_eq!(window.app.room(), Some(RoomName::Stock), "{:?}", window.app.notices());
        window
    }

    fn empty() -> Self {
        Self::opened_by("Start an empty book")
    }

    fn demo() -> Self {
        Self::opened_by("Open the demo studio")
    }

    /// An empty book with 2 oz of one enamel in it, for 12.50.
    fn with_two_ounces() -> Self {
        let mut window = Self::empty();
        window.add("Fen green");
        window.press("Receive");
        window.type_at("movement-quantity", "2 oz");
        window.type_at("movement-cost", "12.50");
        window.enter("movement-cost");
        window
    }

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
        let size = Size::new(1280.0 / scale, if scale > 1.0 { 800.0 / scale } else { 4800.0 });
        Simulator::with_size(settings, size, self.app.view())
    }

    fn sees(&self, words: &str) -> bool {
        self.look().find(words).is_ok()
    }

    /// True when a text on the page contains the words.
    fn reads(&self, words: &str) -> bool {
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
    fn press(&mut self, words: &str) {
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
    fn type_at(&mut self, field: &'static str, text: &str) {
        for letter in text.chars() {
            self.by(|ui| {
                let _ = ui.click(id(field)).unwrap_or_else(|error| panic!("{field}: {error:?}"));
                let _ = ui.tap_key(Named::End);
                let _ = ui.typewrite(&letter.to_string());
            });
        }
    }

    fn enter(&mut self, field: &'static str) {
        self.by(|ui| {
            let _ = ui.click(id(field)).unwrap_or_else(|error| panic!("{field}: {error:?}"));
            let _ = ui.tap_key(Named::Enter);
        });
    }

    fn add(&mut self, name: &str) {
        self.command(Command::New);
        self.type_at("stock-name", name);
        self.enter("stock-name");
    }

    fn stock(&self) -> &[StockRow] {
        &self.app.shared().unwrap().snapshot.stock
    }
}

fn decimal(text: &str) -> Decimal {
    text.parse().unwrap()
}

#[test]
fn an_item_is_added_by_a_key_its_name_and_enter() {
    let mut window = Window::empty();
    assert!(window.sees("Nothing on the shelf yet"));
    window.add("Fen green");
    let item = &window.stock()[0].item;
    assert_eq!((item.name.as_str(), item.unit, item.details.kind()), ("Fen green", Unit::Gram, ItemKind::Enamel));
    assert!(!item.reference.is_empty());
    assert!(window.sees("Fen green") && window.sees(&window.stock()[0].item.reference.clone()));
    assert!(window.reads("1 item, worth $0.00"));
}

#[test]
fn a_kind_brings_its_unit_and_what_is_missing_is_told_at_its_field() {
    let mut window = Window::empty();
    window.command(Command::New);
    window.type_at("stock-name", "Hard solder");
    window.press("solder");
    window.enter("stock-name");
    assert!(window.stock().is_empty());
    assert!(window.reads("nothing is typed: write a temperature"));
    window.type_at("stock-flow", "1425 F");
    window.enter("stock-flow");
    let item = &window.stock()[0].item;
    assert_eq!(item.unit, Unit::Gram);
    // (1425 − 32) · 5/9, by hand.
    assert_eq!(item.details, ItemDetails::Solder { flow_c: decimal("773.888888889") });
}

#[test]
fn what_bears_lead_says_so_with_its_caution() {
    let mut window = Window::empty();
    window.command(Command::New);
    window.type_at("stock-name", "Old rose");
    window.press("Bears lead");
    assert!(window.sees("This item bears lead"));
    window.enter("stock-name");
    assert!(window.stock()[0].item.lead_bearing);
    assert!(window.sees("lead"));
    assert!(window.reads("local rules on lead"));
}

#[test]
fn an_item_is_changed_in_the_same_form() {
    let mut window = Window::with_two_ounces();
    window.press("Change it");
    assert!(window.reads("its unit stays"));
    window.type_at("stock-reorder", "100 g");
    window.command(Command::Accept);
    assert_eq!(window.stock()[0].item.reorder_level.unwrap().amount(), decimal("100"));
    assert!(window.sees("low"));
    // A half-typed form is left without a change by Esc.
    window.press("Change it");
    window.type_at("stock-name", " II");
    window.command(Command::Back);
    assert_eq!(window.stock()[0].item.name, "Fen green");
}

#[test]
fn two_ounces_are_received_exactly_and_understood_while_they_are_typed() {
    let mut window = Window::empty();
    window.add("Fen green");
    window.press("Receive");
    window.type_at("movement-quantity", "2 oz");
    assert!(window.reads("= 56.7 g"));
    window.type_at("movement-cost", "12.50");
    assert!(window.reads("56.7 g on hand after it"));
    window.enter("movement-cost");
    let row = &window.stock()[0];
    assert_eq!(row.on_hand.amount(), decimal("56.69904625"));
    assert_eq!(row.value.amount(), decimal("12.5"));
    assert!(!window.sees("Write it down"));
    assert!(window.reads("+56.7 g") && window.sees("+$12.50") && window.reads("typed 2 oz"));
}

#[test]
fn issuing_too_much_is_refused_in_the_form_and_what_was_typed_stays() {
    let mut window = Window::with_two_ounces();
    window.press("Issue");
    window.type_at("movement-quantity", "3 oz");
    assert!(window.reads("Only 56.7 g on hand on 2026-10-14"));
    window.enter("movement-quantity");
    // 3 × 28.349523125 g.
    assert!(window.reads("only 56.69904625 g on hand on 2026-10-14, 85.048569375 g asked for"));
    assert!(window.sees("3 oz") && window.sees("Write it down"));
    assert_eq!(window.stock()[0].on_hand.amount(), decimal("56.69904625"));
    window.command(Command::Back);
    assert!(!window.sees("Write it down"));
}

#[test]
fn a_count_says_how_it_differs_before_it_is_accepted() {
    let mut window = Window::with_two_ounces();
    window.press("Count");
    window.type_at("movement-quantity", "50");
    // 12.50 · 6.69904625 / 56.69904625 = 1.4769, by hand.
    assert!(window.reads("The book says 56.7 g on that day: 6.7 g less were counted, $1.48 is written off"));
    assert_eq!(window.stock()[0].on_hand.amount(), decimal("56.69904625"));
    window.enter("movement-quantity");
    assert_eq!(window.stock()[0].on_hand.amount(), decimal("50"));
    assert!(window.reads("counted 50 g"));
}

#[test]
fn undo_takes_a_movement_out_of_the_list_on_screen() {
    let mut window = Window::with_two_ounces();
    assert!(window.sees("+$12.50"));
    window.command(Command::Undo);
    assert!(window.reads("Nothing has moved yet"));
    window.command(Command::Redo);
    assert!(window.sees("+$12.50"));
}

#[test]
fn a_word_in_the_search_field_narrows_the_list() {
    let mut window = Window::demo();
    let names = |kind: ItemKind| -> Vec<String> {
        let rows = window.stock().iter().filter(|row| !row.item.retired);
        rows.filter(|row| row.item.details.kind() == kind).map(|row| row.item.name.clone()).collect()
    };
    let (enamel, solder) = (names(ItemKind::Enamel)[0].clone(), names(ItemKind::Solder)[0].clone());
    assert!(window.sees(&enamel) && window.sees(&solder));
    window.type_at("stock-find", "solder");
    assert!(window.sees(&solder) && !window.sees(&enamel));
    window.type_at("stock-find", " nowhere");
    assert!(!window.sees(&solder));
    assert!(window.reads("No item is like that"));
}

#[test]
fn low_only_leaves_the_items_that_are_low() {
    let mut window = Window::demo();
    let name = |low: bool| {
        let found = window.stock().iter().find(|row| row.is_low() == low && !row.item.retired);
        found.expect("the demo studio has both").item.name.clone()
    };
    let (low, full) = (name(true), name(false));
    assert!(window.sees(&low) && window.sees(&full));
    window.press("low only");
    assert!(window.sees(&low) && !window.sees(&full));
    window.press("low only");
    assert!(window.sees(&full));
}

#[test]
fn the_value_on_a_day_is_told_with_its_lines() {
    let mut window = Window::with_two_ounces();
    window.press("Value on a day");
    assert!(window.reads("Worth $12.50 at the end of 2026-10-14 by first in, first out; 1 item on hand"));
    for _ in 0..2 {
        window.by(|ui| {
            let _ = ui.click(id("stock-worth-date")).unwrap();
            let _ = ui.tap_key(Named::End);
            let _ = ui.tap_key(Named::Backspace);
        });
    }
    window.type_at("stock-worth-date", "13");
    window.press("moving average");
    assert!(window.reads("Worth $0.00 at the end of 2026-10-13 by moving average; nothing was on hand"));
    window.type_at("stock-worth-date", "x");
    window.enter("stock-worth-date");
    assert!(window.reads("cannot be read: write the day as year-month-day"));
}

#[test]
fn at_200_per_cent_the_room_is_one_column() {
    let mut window = Window::with_two_ounces();
    for _ in 0..12 {
        window.command(Command::Larger);
    }
    assert!(window.sees("Add an item") && window.sees("Fen green") && window.sees("On hand"));
    assert!(!window.sees("Unit price"));
}
