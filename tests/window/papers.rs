//! The papers without a display: what a person chooses, what page comes of it, and the PDF that is made.

use chrono::{NaiveDate, NaiveDateTime};
use enamelwright::actions::{self, ActionKey, Order, perform};
use enamelwright::book::Book;
use enamelwright::exchange::design_file;
use enamelwright::measure::{Decimal, Preferences};
use enamelwright::paper::{CardStyle, Symbology, fonts};
use enamelwright::studio::{Design, DesignCode, DesignId, Follows};
use enamelwright::window::machine::Machine;
use enamelwright::window::screen::papers::{Feature, Measure, Message, State, What};
use enamelwright::window::screen::{Action, Destination, Notice, Room, way_out};
use enamelwright::window::theme::{self, LIGHT};
use enamelwright::window::widget::listing::Event;
use enamelwright::window::{Answer, Shared};
use hayro_syntax::Pdf;
use iced::futures::{StreamExt, executor::block_on};
use iced::widget::container;
use iced::{Element, Settings, Size, Task};
use iced_test::Simulator;
use iced_test::runtime::{self, task};
use std::path::PathBuf;
use std::sync::Arc;

const LANTERN: &str = include_str!("../data/lantern-drop.toml");

fn now() -> NaiveDateTime {
    NaiveDate::from_ymd_opt(2026, 10, 14).unwrap().and_hms_opt(9, 30, 0).unwrap()
}

fn lantern() -> Design {
    design_file::read(LANTERN).unwrap()
}

/// The room on a real book.
struct Papers {
    folder: tempfile::TempDir,
    book: Book,
    shared: Shared,
    room: State,
    notices: Vec<Notice>,
}

impl Papers {
    fn of(designs: Vec<Design>) -> Self {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("studio.studiobook");
        let mut book = Book::create(&path).unwrap();
        for design in designs {
            let save =
                actions::Action::SaveDesign { id: None, design, follows: Follows::default(), notes: String::new() };
            let _ = perform(&mut book, save, Order { key: ActionKey::fresh(), at: now() }).unwrap();
        }
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
        let mut papers = Self { folder, book, shared, room, notices: Vec::new() };
        papers.open(&Destination::Papers);
        papers
    }

    /// The example design, and one like it.
    fn of_two() -> Self {
        let other = Design { code: DesignCode::new("LN-TWO").unwrap(), name: "Second drop".to_owned(), ..lantern() };
        Self::of(vec![lantern(), other])
    }

    fn id(&self, place: usize) -> DesignId {
        self.shared.snapshot.designs[place].id
    }

    fn open(&mut self, destination: &Destination) {
        let action = self.room.open(destination, &self.shared);
        self.carry_out(action);
    }

    fn send(&mut self, message: Message) {
        let action = self.room.update(message, &self.shared);
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

    fn carry_out(&mut self, action: Action<Message>) {
        match action {
            Action::Run(work) => self.run(work),
            Action::Do(action) => {
                let order = Order { key: ActionKey::fresh(), at: now() };
                let done = perform(&mut self.book, action, order);
                self.shared.snapshot = Arc::new(actions::snapshot(&self.book).unwrap());
                self.room.refresh(&self.shared);
                let action = self.room.answered(Answer::Performed(done), &self.shared);
                self.carry_out(action);
            }
            Action::Notify(notice) => self.notices.push(notice),
            Action::Many(actions) => actions.into_iter().for_each(|action| self.carry_out(action)),
            _ => {}
        }
    }

    fn view(&self) -> Element<'_, Message> {
        match self.room.modal(&self.shared) {
            Some(over) => container(over).into(),
            None => self.room.view(&self.shared),
        }
    }

    fn look(&self) -> Simulator<'_, Message> {
        let settings = Settings {
            fonts: fonts::ALL.into_iter().map(Into::into).collect(),
            default_font: theme::REGULAR,
            ..Settings::default()
        };
        Simulator::with_size(settings, Size::new(1180.0, 2400.0), self.view())
    }

    fn sees(&self, words: &str) -> bool {
        self.look().find(words).is_ok()
    }

    fn click(&mut self, words: &str) {
        let messages: Vec<Message> = {
            let mut ui = self.look();
            let _ = ui.click(words).unwrap_or_else(|_| panic!("nothing says {words:?}"));
            ui.into_messages().collect()
        };
        for message in messages {
            self.send(message);
        }
    }

    fn save_to(&mut self, name: &str) -> PathBuf {
        let path = self.folder.path().join(name);
        self.send(Message::Out(way_out::Message::Path(path.display().to_string())));
        self.click("Save as PDF");
        path
    }
}

#[test]
fn the_first_look_shows_a_tag_of_each_design_with_its_ticket_of_today() {
    let papers = Papers::of_two();
    assert!(papers.sees("2 tags on 1 page"));
    assert!(papers.sees("page 1 of 1"));
    assert!(papers.sees("not yet: today's"));
    assert!(papers.sees("Lantern drop"));
}

#[test]
fn papers_of_a_design_tick_it_alone() {
    let mut papers = Papers::of_two();
    let second = papers.id(1);
    papers.open(&Destination::PapersOf(vec![second]));
    assert!(papers.sees("1 tag on 1 page"));
    papers.click("All");
    assert!(papers.sees("2 tags on 1 page"));
    papers.click("None");
    assert!(papers.sees("there is nothing to print; choose at least one design and one copy"));
    papers.send(Message::List(Event::Pressed(0)));
    assert!(papers.sees("1 tag on 1 page"));
}

#[test]
fn copies_fill_pages_that_can_be_turned() {
    let mut papers = Papers::of_two();
    // ISO 216 A4 with 4 × 10 strung tags: 41 copies and one tag of the other design take two pages.
    papers.send(Message::Sheet("Strung tags, A4".to_owned()));
    papers.send(Message::Copies("41".to_owned()));
    assert!(papers.sees("42 tags on 2 pages"));
    assert!(papers.sees("page 1 of 2"));
    papers.click("›");
    assert!(papers.sees("page 2 of 2"));
    papers.click("‹");
    papers.send(Message::Copies("many".to_owned()));
    assert!(papers.sees("page 1 of 2"), "what cannot be read changes nothing");
}

#[test]
fn a_long_run_is_laid_out_apart() {
    let mut papers = Papers::of_two();
    papers.send(Message::Sheet("Strung tags, A4".to_owned()));
    papers.send(Message::Copies("999".to_owned()));
    assert!(papers.sees("1000 tags on 25 pages"));
}

#[test]
fn start_at_label_moves_the_tags_on_the_sheet() {
    let mut papers = Papers::of_two();
    papers.send(Message::Sheet("Strung tags, A4".to_owned()));
    papers.send(Message::Start("40".to_owned()));
    assert!(papers.sees("2 tags on 2 pages"), "one on the last label, one on the next page");
    papers.send(Message::StartAt(39));
    assert!(papers.sees("2 tags on 1 page"));
    papers.send(Message::Start("41".to_owned()));
    assert!(!papers.sees("2 tags on 1 page"));
    papers.send(Message::Start("1".to_owned()));
    assert!(papers.sees("2 tags on 1 page"));
}

#[test]
fn pressing_a_place_on_the_page_starts_there() {
    let mut papers = Papers::of_two();
    papers.send(Message::Sheet("Strung tags, A4".to_owned()));
    let (width, height) = (1180.0_f32, 2400.0_f32);
    // Somewhere on the right half of the window lies the page; the first press that meets a label is taken.
    let mut started = None;
    let mut y = 150.0;
    while started.is_none() && y < height {
        let mut ui = papers.look();
        ui.point_at(iced::Point::new(width * 0.8, y));
        let _ = ui.simulate(iced_test::simulator::click());
        started = ui.into_messages().find_map(|message| match message {
            Message::StartAt(label) => Some(label),
            _ => None,
        });
        y += 30.0;
    }
    let label = started.expect("a label is met");
    assert!((1..=40).contains(&label));
}

#[test]
fn saving_to_a_typed_path_makes_a_pdf_that_an_independent_reader_reads() {
    let mut papers = Papers::of_two();
    papers.send(Message::Symbol(Symbology::None));
    let path = papers.save_to("tags");
    let path = path.with_extension("pdf");
    assert!(
        matches!(papers.notices.last(), Some(Notice::Done(words)) if words.contains("2 tags on 1 page")),
        "{:?}",
        papers.notices
    );
    let bytes = std::fs::read(&path).unwrap();
    assert!(bytes.starts_with(b"%PDF"));
    assert_eq!(Pdf::new(bytes).unwrap().pages().len(), 1);
}

#[test]
fn a_file_that_is_there_is_asked_about() {
    let mut papers = Papers::of_two();
    let path = papers.folder.path().join("kept.pdf");
    std::fs::write(&path, "a letter").unwrap();
    let _ = papers.save_to("kept.pdf");
    assert!(papers.sees("Replace the file?"));
    papers.click("Not now");
    assert_eq!(std::fs::read(&path).unwrap(), b"a letter");
    let _ = papers.save_to("kept.pdf");
    papers.click("Replace it");
    assert!(std::fs::read(&path).unwrap().starts_with(b"%PDF"));
}

#[test]
fn a_path_that_cannot_be_written_is_told() {
    let mut papers = Papers::of_two();
    let _ = papers.save_to("nowhere/tags.pdf");
    assert!(matches!(papers.notices.last(), Some(Notice::Trouble(words)) if words.contains("there is no folder")));
    papers.send(Message::Out(way_out::Message::Path(String::new())));
    papers.click("Save as PDF");
    assert!(papers.sees("type a path, e.g. ~/tags.pdf"));
}

#[test]
fn a_design_with_a_stop_is_asked_about_before_a_pdf_is_made() {
    let mut melting = lantern();
    // A joint that flows far below any firing.
    melting.blank.solder_flow_c = Some(Decimal::from(600));
    let mut papers = Papers::of(vec![melting]);
    let path = papers.save_to("tags.pdf");
    assert!(papers.sees("Print these all the same?"));
    assert!(!path.exists());
    papers.click("Not now");
    assert!(!papers.sees("Print these all the same?"));
    assert!(!path.exists());
    papers.click("Save as PDF");
    papers.click("Make the PDF all the same");
    assert!(std::fs::read(&path).unwrap().starts_with(b"%PDF"));
}

#[test]
fn care_cards_are_flat_or_folded() {
    let mut papers = Papers::of_two();
    papers.click("Care cards");
    assert!(papers.sees("2 care cards on 1 page"));
    papers.send(Message::Copies("10".to_owned()));
    assert!(papers.sees("11 care cards on 2 pages"), "ten flat cards of 90 × 55 mm stand on A4 at most");
    papers.send(Message::Style(CardStyle::Folded));
    assert!(!papers.sees("11 care cards on 2 pages"));
    papers.send(Message::What(What::Tags));
    assert!(papers.sees("11 tags on 1 page"));
}

#[test]
fn a_sheet_of_ones_own_is_drawn_checked_and_kept() {
    let mut papers = Papers::of_two();
    let before = papers.shared.snapshot.sheets.len();
    papers.click("New sheet");
    papers.send(Message::SheetName("Cream card".to_owned()));
    papers.send(Message::SheetMeasure(Measure::Columns, "40".to_owned()));
    assert_eq!(papers.shared.snapshot.sheets.len(), before);
    papers.send(Message::KeepSheet);
    assert_eq!(papers.shared.snapshot.sheets.len(), before, "40 columns do not fit on the page");
    papers.send(Message::SheetMeasure(Measure::Columns, "2".to_owned()));
    papers.send(Message::SheetMeasure(Measure::Left, "0.5 in".to_owned()));
    papers.send(Message::SheetFeature(Feature::Hole));
    papers.click("Keep the sheet");
    let sheets = &papers.shared.snapshot.sheets;
    let (_, sheet) = sheets.iter().find(|(_, sheet)| sheet.name == "Cream card").unwrap();
    assert_eq!((sheets.len(), sheet.columns), (before + 1, 2));
    // The inch is exactly 25.4 mm (international yard and pound agreement, 1959).
    assert_eq!(sheet.left_mm, Decimal::new(127, 1));
    // It is chosen at once: 2 columns of 11 rows, as the sheet it was begun from, so 23 tags take two pages.
    papers.send(Message::Copies("22".to_owned()));
    assert!(papers.sees("23 tags on 2 pages"));
}
