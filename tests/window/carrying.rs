//! Files in and lists out without a display: a file is looked at before it changes anything, comes in whole, and is
//! taken back by one undo; what goes out comes in again.
//!
//! The ounce is the avoirdupois ounce of exactly 28.349523125 g (NIST SP 811, appendix B; value from memory of that
//! publication).

use chrono::{NaiveDate, NaiveDateTime};
use enamelwright::book::StockRow;
use enamelwright::measure::Decimal;
use enamelwright::paper::fonts;
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
use std::path::{Path, PathBuf};

fn now() -> NaiveDateTime {
    NaiveDate::from_ymd_opt(2026, 10, 14).unwrap().and_hms_opt(9, 30, 0).unwrap()
}

/// A window on the room and the folder it lives in.
struct Window {
    app: App,
    folder: tempfile::TempDir,
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
        let mut window = Self { app, folder };
        window.run(task);
        window.press(words);
        window.command(Command::Go(RoomName::Carrying));
        assert_eq!(window.app.room(), Some(RoomName::Carrying), "{:?}", window.app.notices());
        window
    }

    fn empty() -> Self {
        Self::opened_by("Start an empty book")
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
        let scale = self.app.scale();
        let size = Size::new(1280.0 / scale, 4800.0);
        Simulator::with_size(settings, size, self.app.view())
    }

    fn sees(&self, words: &str) -> bool {
        self.look().find(words).is_ok()
    }

    fn reads(&self, words: &str) -> bool {
        self.look()
            .find(|candidate: Candidate<'_>| match candidate {
                Candidate::Text { content, .. } if content.replace('\u{a0}', " ").contains(words) => Some(()),
                _ => None,
            })
            .is_ok()
    }

    fn by(&mut self, doing: impl FnOnce(&mut Simulator<'_, Message>)) -> Vec<Message> {
        let mut ui = self.look();
        doing(&mut ui);
        ui.into_messages().collect()
    }

    fn pressing(&mut self, words: &str) -> Vec<Message> {
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
        })
    }

    /// Clicks the last thing on the page that says so.
    fn press(&mut self, words: &str) {
        for message in self.pressing(words) {
            self.send(message);
        }
    }

    /// Puts a text in a field in the place of what it holds.
    fn fill(&mut self, field: &'static str, text: &str) {
        for _ in 0..300 {
            let messages = self.by(|ui| {
                let _ = ui.click(id(field)).unwrap();
                let _ = ui.tap_key(Named::End);
                let _ = ui.tap_key(Named::Backspace);
            });
            if messages.is_empty() {
                break;
            }
            for message in messages {
                self.send(message);
            }
        }
        for letter in text.chars() {
            let messages = self.by(|ui| {
                let _ = ui.click(id(field)).unwrap();
                let _ = ui.tap_key(Named::End);
                let _ = ui.typewrite(&letter.to_string());
            });
            for message in messages {
                self.send(message);
            }
        }
    }

    fn file(&self, name: &str, text: impl AsRef<[u8]>) -> PathBuf {
        let path = self.folder.path().join(name);
        std::fs::write(&path, text).unwrap();
        path
    }

    /// Types a path and reads the file.
    fn read(&mut self, path: &Path) {
        self.fill("carrying-file", path.to_str().unwrap());
        self.press("Read the file");
    }

    fn stock(&self) -> &[StockRow] {
        &self.app.shared().unwrap().snapshot.stock
    }

    fn on_hand(&self, reference: &str) -> Decimal {
        self.stock().iter().find(|row| row.item.reference == reference).unwrap().on_hand.amount()
    }
}

fn decimal(text: &str) -> Decimal {
    text.parse().unwrap()
}

const SHELF: &str = "date,item,movement,quantity,unit,cost,note\n\
2026-01-05,EN-1,receipt,2,oz,18.40,first jar\n\
2026-01-06,EN-1,issue,10,g,,\n\
2026-01-06,Pumice,receipt,500,g,4,\n";

#[test]
fn a_file_is_looked_at_comes_in_whole_and_is_taken_back() {
    let mut window = Window::empty();
    assert!(window.sees("‹ Stock"));
    let path = window.file("shelf.csv", SHELF);
    window.read(&path);
    assert!(window.reads("3 movements of 2 items would come in; 2 of them are new and are made."));
    assert!(window.sees("New items") && window.sees("Pumice") && window.sees("first jar"));
    assert!(window.stock().is_empty(), "looking changes nothing");
    window.press("Bring it in");
    assert!(window.reads("Bring in 2 items and 3 movements from shelf.csv"), "{:?}", window.app.notices());
    assert_eq!(window.on_hand("EN-1"), decimal("46.69904625"));
    window.command(Command::Undo);
    assert!(window.stock().is_empty());
}

#[test]
fn every_problem_stands_there_and_the_button_is_shut() {
    let mut window = Window::empty();
    let path = window.file(
        "odd.csv",
        "date,item,movement,quantity,unit,cost\n5/1/2026,Pumice,receipt,500,g,4\n2026-01-06,Pumice,borrow,1,g,\n",
    );
    window.read(&path);
    assert!(window.reads("2 problems stand in the way"));
    assert!(window.reads("column A (date)") && window.reads("column C (movement)"));
    window.press("Bring it in");
    window.command(Command::Accept);
    assert!(window.stock().is_empty());
    // The order of days is told: one problem less.
    window.press("14/03/2026");
    assert!(window.reads("1 problem stands in the way"));
}

#[test]
fn what_would_be_short_is_told_before_anything_comes_in() {
    let mut window = Window::empty();
    let path = window.file(
        "short.csv",
        "date,item,movement,quantity,unit,cost\n2026-01-05,Pumice,receipt,500,g,4\n2026-01-06,Pumice,issue,501,g,\n",
    );
    window.read(&path);
    assert!(window.reads("1 problem stands in the way"));
    assert!(window.reads("only 500 on hand on 2026-01-06, 501 asked for"));
}

#[test]
fn columns_are_picked_once_and_remembered_for_files_like_it() {
    let mut window = Window::empty();
    let text = "Thing,Heap,Weight\nPumice,7,500 g\n";
    let path = window.file("count.csv", text);
    window.read(&path);
    window.press("counts");
    assert!(window.reads("no column is picked for item"));
    for (place, words) in [(0, "thing"), (1, "weight")] {
        // The picks of items and of quantities are the second and the third of a count: date, item, quantity.
        let mut boxes = Vec::new();
        let _ = window.look().find(|candidate: Candidate<'_>| {
            if let Candidate::Text { content, visible_bounds: Some(bounds), .. } = candidate
                && (content == "item, needed" || content == "quantity, needed")
            {
                boxes.push(bounds);
            }
            None::<()>
        });
        let label = boxes[place];
        let messages = window.by(|ui| {
            ui.point_at(iced::Point::new(label.x + 20.0, label.y + label.height + 22.0));
            let _ = ui.simulate(iced_test::simulator::click());
            let _ = ui.typewrite(words);
            let _ = ui.tap_key(Named::Enter);
        });
        for message in messages {
            window.send(message);
        }
    }
    assert!(window.reads("1 count of 1 item would come in"));
    assert!(window.sees("2026-10-14"), "a file without days is of today");
    window.press("Bring it in");
    assert_eq!(window.on_hand("Pumice"), decimal("500"));
    let again = window.file("later.csv", "thing,heap,weight\nPumice,8,450 g\n");
    window.read(&again);
    assert!(window.reads("as you picked them for a file like this before"));
    assert!(window.reads("1 count of 1 item would come in"));
    window.press("Bring it in");
    assert_eq!(window.on_hand("Pumice"), decimal("450"));
}

#[test]
fn a_file_that_is_stopped_leaves_nothing_behind() {
    let mut window = Window::empty();
    let mut text = "date,item,movement,quantity,unit,cost\n".to_owned();
    for row in 0..6000 {
        text.push_str(&format!("2026-01-05,EN-{},receipt,{},g,1.25\n", row % 40, row + 1));
    }
    let path = window.file("long.csv", text);
    window.read(&path);
    assert!(window.reads("6000 movements of 40 items would come in"));
    let tasks: Vec<Task<Message>> =
        window.pressing("Bring it in").into_iter().map(|message| window.app.update(message)).collect();
    assert!(window.sees("Stop"));
    window.press("Stop");
    for task in tasks {
        window.run(task);
    }
    assert!(window.stock().is_empty());
    assert!(window.reads("Stopped: nothing was brought in."));
    window.press("Bring it in");
    assert_eq!(window.stock().len(), 40);
}

#[test]
fn a_file_that_cannot_be_read_says_why_at_its_field() {
    let mut window = Window::empty();
    window.press("Read the file");
    assert!(window.reads("type the path of a CSV, XLSX or ODS file"));
    let nowhere = window.folder.path().join("nowhere.csv");
    window.read(&nowhere);
    assert!(window.reads("there is no file"));
    let path = window.file("old.xls", [0xd0, 0xcf, 0x11, 0xe0, 0, 0]);
    window.read(&path);
    assert!(window.reads("of an older kind or locked"));
}

#[test]
fn lists_of_the_demo_studio_go_out_and_its_items_come_in_again() {
    let mut window = Window::opened_by("Open the demo studio");
    let count = window.stock().len();
    window.press("Write out");
    window.press("items");
    let path = window.folder.path().join("items.xlsx");
    window.press("Write it out");
    assert!(path.is_file(), "{:?}", window.app.notices());
    // It is there already: it is asked about first.
    window.press("Write it out");
    assert!(window.sees("Replace the file?"));
    window.command(Command::Back);
    assert!(!window.sees("Replace the file?"));
    for (list, name) in
        [("movements", "movements.json"), ("value on a day", "value.json"), ("the whole book", "book.json")]
    {
        window.press(list);
        window.press("JSON");
        window.press("Write it out");
        let bytes = std::fs::read(window.folder.path().join(name)).unwrap_or_else(|error| panic!("{name}: {error}"));
        let value: serde_json::Value = serde_json::from_slice(&bytes).unwrap();
        assert_eq!(value["format"], "enamelwright-tables");
    }
    window.press("CSV");
    window.press("Write it out");
    assert!(window.folder.path().join("book/Movements.csv").is_file(), "{:?}", window.app.notices());
    // Into the same book: every item is known. Into an empty one: every item is new.
    window.press("Bring in");
    window.read(&path);
    assert!(window.reads("No new item is in it.") && window.reads("is in the book already; the row is left out"));
    let mut other = Window::empty();
    other.read(&path);
    assert!(other.reads(&format!("{count} new items would be added to the stock.")));
    other.press("Bring it in");
    assert_eq!(other.stock().len(), count, "{:?}", other.app.notices());
    let described = |window: &Window| {
        let mut items: Vec<_> = window.stock().iter().map(|row| row.item.clone()).collect();
        items.sort_by(|a, b| a.reference.cmp(&b.reference));
        items
    };
    assert_eq!(described(&window), described(&other));
}

#[test]
fn at_200_per_cent_the_page_is_whole() {
    let mut window = Window::empty();
    let path = window.file("shelf.csv", SHELF);
    window.read(&path);
    for _ in 0..12 {
        window.command(Command::Larger);
    }
    assert!(window.sees("Bring it in") && window.sees("Columns") && window.sees("Rows"));
}
