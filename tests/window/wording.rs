//! The wording of papers without a display: phrases found, words of hers typed, kept, refused and taken away, with the
//! sample beside them.

use chrono::{NaiveDate, NaiveDateTime};
use enamelwright::actions::{self, ActionKey, Order, perform};
use enamelwright::book::Book;
use enamelwright::measure::Preferences;
use enamelwright::paper::fonts;
use enamelwright::studio::Language;
use enamelwright::window::machine::Machine;
use enamelwright::window::screen::wording::{Message, State, WORDS};
use enamelwright::window::screen::{Action, Destination, Notice, Room};
use enamelwright::window::theme::{self, DARK, LIGHT};
use enamelwright::window::widget::listing::Event as Listed;
use enamelwright::window::{Answer, Command, Shared};
use iced::keyboard::key::Named;
use iced::widget::text_editor::{Action as Edit, Edit as Change, Motion};
use iced::{Settings, Size};
use iced_test::Simulator;
use iced_test::selector::{Candidate, id};
use std::path::PathBuf;
use std::sync::Arc;

fn now() -> NaiveDateTime {
    NaiveDate::from_ymd_opt(2026, 10, 14).unwrap().and_hms_opt(9, 30, 0).unwrap()
}

struct Bench {
    _folder: tempfile::TempDir,
    book: Book,
    shared: Shared,
    room: State,
    notices: Vec<Notice>,
    opened: Vec<Destination>,
}

impl Bench {
    /// On a new book, in German.
    fn new() -> Self {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("studio.studiobook");
        let book = Book::create(&path).unwrap();
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
        let mut bench = Self { _folder: folder, book, shared, room, notices: Vec::new(), opened: Vec::new() };
        bench.send(Message::Language("German · Deutsch".to_owned()));
        bench
    }

    fn send(&mut self, message: Message) {
        let action = self.room.update(message, &self.shared);
        self.carry_out(action);
    }

    fn command(&mut self, command: Command) {
        let action = self.room.command(command, &self.shared);
        self.carry_out(action);
    }

    fn follow(&mut self) {
        self.shared.snapshot = Arc::new(actions::snapshot(&self.book).unwrap());
        self.room.refresh(&self.shared);
    }

    fn carry_out(&mut self, action: Action<Message>) {
        match action {
            Action::Do(action) => {
                let done = perform(&mut self.book, action, Order { key: ActionKey::fresh(), at: now() });
                if let Err(refusal) = &done {
                    self.notices.push(Notice::Trouble(refusal.to_string()));
                }
                self.follow();
                let action = self.room.answered(Answer::Performed(done), &self.shared);
                self.carry_out(action);
            }
            Action::Open(destination) => self.opened.push(destination),
            Action::Notify(notice) => self.notices.push(notice),
            Action::Many(actions) => actions.into_iter().for_each(|action| self.carry_out(action)),
            _ => {}
        }
    }

    fn look(&self, height: f32) -> Simulator<'_, Message> {
        let settings = Settings {
            fonts: fonts::ALL.into_iter().map(Into::into).collect(),
            default_font: theme::REGULAR,
            ..Settings::default()
        };
        Simulator::with_size(settings, Size::new(self.shared.size.width - 152.0, height), self.room.view(&self.shared))
    }

    fn reads(&self, words: &str) -> bool {
        self.look(1_400.0)
            .find(|candidate: Candidate<'_>| match candidate {
                Candidate::Text { content, .. } if content.contains(words) => Some(()),
                _ => None,
            })
            .is_ok()
    }

    /// Puts a text into the field of her words, in the place of what it held.
    fn type_words(&mut self, words: &str) {
        self.send(Message::Edit(Edit::SelectAll));
        self.send(Message::Edit(Edit::Edit(Change::Paste(Arc::new(words.to_owned())))));
    }

    /// Looks a phrase up and takes it in hand.
    fn take(&mut self, find: &str) {
        self.send(Message::Find(find.to_owned()));
        self.send(Message::List(Listed::Pressed(1)));
    }

    fn kept(&self, phrase: &str) -> Option<String> {
        self.shared.snapshot.own_words.get(&(Language::German, phrase.to_owned())).cloned()
    }
}

#[test]
fn a_phrase_is_found_as_one_types_and_its_words_are_replaced_and_taken_back() {
    let mut bench = Bench::new();
    assert!(bench.reads("none replaced"));
    bench.take("looking after");
    assert!(bench.reads("So bleibt Ihr Stück schön") && bench.reads("in English: Looking after your piece"));
    assert!(bench.reads("the program’s holds"));
    bench.type_words("Gute Pflege");
    assert!(bench.reads("changed, not kept yet"));
    assert_eq!(bench.kept("care-title"), None);
    bench.command(Command::Accept);
    assert_eq!(bench.kept("care-title").as_deref(), Some("Gute Pflege"), "{:?}", bench.notices);
    assert!(bench.reads("yours holds") && bench.reads("1 replaced in German"));
    // One action, so that the book's undo takes it back.
    let _ = actions::undo(&mut bench.book, Order { key: ActionKey::fresh(), at: now() }).unwrap();
    bench.follow();
    assert!(bench.reads("the program’s holds"));
    let _ = actions::redo(&mut bench.book, Order { key: ActionKey::fresh(), at: now() }).unwrap();
    bench.follow();
    bench.send(Message::TakeAway);
    assert_eq!(bench.kept("care-title"), None);
}

#[test]
fn what_is_filled_in_is_named_and_must_stay() {
    let mut bench = Bench::new();
    bench.take("fired-times");
    assert!(bench.reads("Must stay: {times} is how often it was fired."));
    bench.type_words("im Feuer gewesen");
    assert!(bench.reads("the words leave out {times} (how often it was fired)"));
    bench.command(Command::Accept);
    assert_eq!(bench.kept("fired-times"), None);
    bench.type_words("{times} im Feuer gewesen");
    bench.command(Command::Accept);
    assert_eq!(bench.kept("fired-times").as_deref(), Some("{times} im Feuer gewesen"));
}

#[test]
fn what_is_typed_is_let_go_by_undo_and_by_esc_and_kept_while_one_looks_elsewhere() {
    let mut bench = Bench::new();
    bench.take("care-title");
    bench.type_words("Pflege");
    bench.take("thanks");
    bench.take("care-title");
    assert!(bench.reads("changed, not kept yet"), "what is half-typed stays");
    assert!(bench.room.revert(&bench.shared));
    assert!(bench.reads("the program’s holds"));
    bench.type_words("Pflege");
    bench.command(Command::Back);
    assert!(bench.opened.is_empty() && bench.reads("the program’s holds"));
    assert!(bench.room.revert(&bench.shared), "then what is looked for");
    assert!(!bench.room.revert(&bench.shared), "then the root may undo the last action");
    bench.command(Command::Back);
    assert_eq!(bench.opened, [Destination::Papers]);
}

#[test]
fn cautions_say_that_the_law_has_a_word_in_them() {
    let mut bench = Bench::new();
    bench.take("caution-children");
    assert!(bench.reads("The law has a word in this") && bench.reads("Local rules decide"));
    bench.take("care-title");
    assert!(!bench.reads("Local rules decide"));
}

#[test]
fn arrows_walk_over_the_headings_of_groups() {
    let mut bench = Bench::new();
    bench.send(Message::List(Listed::Key(Named::Home)));
    // The first row is a heading: the phrase below it is taken, and going up stays there.
    assert!(bench.reads("in English: Looking after your piece"));
    bench.send(Message::List(Listed::Key(Named::ArrowUp)));
    assert!(bench.reads("in English: Looking after your piece"));
    bench.send(Message::Purpose("Metals".to_owned()));
    assert!(bench.reads("in English: copper"));
    bench.send(Message::List(Listed::Key(Named::End)));
    assert!(bench.reads("in English: steel"));
    bench.send(Message::Edit(Edit::Move(Motion::Left)));
    assert!(bench.reads("the program’s holds"));
}

#[test]
fn the_field_of_her_words_takes_letters_and_enter_keeps_them() {
    let mut bench = Bench::new();
    bench.take("thanks");
    let messages: Vec<Message> = {
        let mut page = bench.look(800.0);
        let _ = page.click(id(WORDS)).unwrap();
        let _ = page.typewrite("Danke");
        let _ = page.tap_key(Named::Enter);
        page.into_messages().collect()
    };
    for message in messages {
        bench.send(message);
    }
    assert_eq!(bench.kept("thanks").as_deref(), Some("Danke"), "{:?}", bench.notices);
}

#[test]
fn words_too_long_for_the_card_are_told_at_once() {
    let mut bench = Bench::new();
    bench.take("caution-lead");
    bench.type_words(&"Enthält Blei. ".repeat(60));
    assert!(bench.reads("no room") || bench.reads("too long") || bench.reads("No sample"), "told beside the sample");
}

#[test]
fn a_book_to_look_at_shows_words_and_changes_nothing() {
    let mut bench = Bench::new();
    let mut snapshot = (*bench.shared.snapshot).clone();
    snapshot.read_only = true;
    bench.shared.snapshot = Arc::new(snapshot);
    bench.take("thanks");
    bench.type_words("Danke");
    bench.command(Command::Accept);
    assert!(bench.kept("thanks").is_none() && bench.notices.is_empty());
    assert!(bench.reads("the program’s holds"));
}

/// The page in both looks, narrow, and in Japanese. With a folder in `PAGES` kept there as pictures to look at.
#[test]
fn the_page_is_drawn_light_dark_and_narrow() {
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
            // Drawing takes long without a display's own means: one page is enough where nobody looks at them.
            if keep.is_none() && (page != "caution" || name != "light") {
                return;
            }
            let picture = bench.look(bench.shared.size.height).snapshot(&theme::theme(look)).unwrap();
            if let Some(folder) = &keep {
                assert!(picture.matches_image(folder.join(format!("wording-{page}-{name}"))).unwrap());
            }
        };
        bench.take("care-title");
        bench.type_words("Gute Pflege");
        bench.command(Command::Accept);
        bench.send(Message::Find(String::new()));
        shown(&bench, "care");
        bench.take("caution-lead");
        bench.type_words("Enthält Blei {metal}");
        shown(&bench, "caution");
        bench.send(Message::Find(String::new()));
        bench.send(Message::Language("Greek · ελληνικά".to_owned()));
        shown(&bench, "greek");
        bench.take("enamel-opal");
        shown(&bench, "jar");
        bench.take("consignment-terms");
        shown(&bench, "slip");
    }
}
