//! The papers without a display: what a person chooses, what page comes of it, and the PDF that is made.

use chrono::{NaiveDate, NaiveDateTime};
use enamelwright::actions::{self, ActionKey, Order, perform};
use enamelwright::book::Book;
use enamelwright::exchange::design_file;
use enamelwright::measure::{Decimal, Money, Preferences};
use enamelwright::paper::{CardStyle, Symbology, fonts};
use enamelwright::studio::{
    Correction, Design, DesignCode, DesignId, Follows, LabelShape, PriceLine, Printer, SheetId,
};
use enamelwright::window::machine::Machine;
use enamelwright::window::screen::papers::{Feature, Measure, Message, Outline, State, What};
use enamelwright::window::screen::way_out::{self, Laid, Leaving, Then};
use enamelwright::window::screen::{Action, Destination, Notice, Room};
use enamelwright::window::theme::{self, LIGHT};
use enamelwright::window::widget::listing::Event;
use enamelwright::window::{Answer, Shared};
use hayro_syntax::Pdf;
use iced::futures::{StreamExt, executor::block_on};
use iced::widget::container;
use iced::{Element, Settings, Size, Task};
use iced_test::Simulator;
use iced_test::runtime::{self, task};
use iced_test::selector::Candidate;
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
    opened: Vec<Destination>,
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
        let mut papers = Self { folder, book, shared, room, notices: Vec::new(), opened: Vec::new() };
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
                let refreshed = self.room.refreshed(&self.shared);
                self.carry_out(refreshed);
                let action = self.room.answered(Answer::Performed(done), &self.shared);
                self.carry_out(action);
            }
            Action::Notify(notice) => self.notices.push(notice),
            Action::Open(destination) => self.opened.push(destination),
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

    /// A text of the page contains the words.
    fn reads(&self, words: &str) -> bool {
        self.look()
            .find(|candidate: Candidate<'_>| match candidate {
                Candidate::Text { content, .. } if content.replace('\u{a0}', " ").contains(words) => Some(()),
                _ => None,
            })
            .is_ok()
    }

    /// Accepts a ticket for a design on its first retail channel.
    fn accept(&mut self, place: usize, ticket: i64, day: u32) {
        let book = self.shared.snapshot.designs[place].clone();
        let channel = book.design.channels.iter().find(|channel| channel.retail).unwrap();
        let line = PriceLine {
            design: book.id,
            code: book.design.code.clone(),
            name: book.design.name.clone(),
            channel: channel.id.clone(),
            channel_name: channel.name.clone(),
            ticket: Decimal::from(ticket),
            full_cost: Money::new(Decimal::ONE).unwrap(),
            common: true,
        };
        self.carry_out(Action::Do(actions::Action::AcceptPrices {
            date: NaiveDate::from_ymd_opt(2026, 10, day).unwrap(),
            name: format!("List of the {day}."),
            tickets: vec![line],
        }));
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

#[test]
fn labels_are_round_rounded_or_barbells_and_say_what_does_not_go_together() {
    let mut papers = Papers::of_two();
    papers.click("New sheet");
    papers.send(Message::SheetName("Necks".to_owned()));
    papers.click("Barbell");
    assert!(!papers.sees("folded at the middle") && !papers.sees("hole at the left, or beside the fold"));
    papers.send(Message::SheetMeasure(Measure::NeckHeight, "90".to_owned()));
    papers.send(Message::KeepSheet);
    assert!(!papers.shared.snapshot.sheets.iter().any(|(_, sheet)| sheet.name == "Necks"), "higher than the label");
    papers.send(Message::SheetMeasure(Measure::NeckHeight, "3.5".to_owned()));
    papers.send(Message::SheetMeasure(Measure::NeckLength, "14".to_owned()));
    papers.click("crop marks at the page's edges");
    papers.click("Keep the sheet");
    let kept = |papers: &Papers, name: &str| {
        papers.shared.snapshot.sheets.iter().find(|(_, sheet)| sheet.name == name).unwrap().1.clone()
    };
    let sheet = kept(&papers, "Necks");
    let neck = LabelShape::Barbell { neck_length_mm: Decimal::from(14), neck_height_mm: Decimal::new(35, 1) };
    assert_eq!((sheet.shape, sheet.crop_marks, sheet.folded, sheet.hole), (neck, true, false, false));
    // It is changed into another outline and back.
    papers.click("Change");
    papers.send(Message::SheetOutline(Outline::Rounded));
    papers.send(Message::SheetMeasure(Measure::Corner, "2.5".to_owned()));
    papers.click("Keep the sheet");
    assert_eq!(kept(&papers, "Necks").shape, LabelShape::Rounded(Decimal::new(25, 1)));
    papers.click("Change");
    papers.click("Round");
    assert!(papers.sees("hole at the left, or beside the fold"));
    papers.click("Keep the sheet");
    assert_eq!(kept(&papers, "Necks").shape, LabelShape::Round);
}

#[test]
fn a_sheet_of_the_book_goes_on_at_its_next_free_label() {
    let mut papers = Papers::of_two();
    let (id, sheet) = papers.shared.snapshot.sheets[0].clone();
    papers.send(Message::Sheet(sheet.name.clone()));
    papers.send(Message::StartAt(5));
    let _ = papers.save_to("tags.pdf");
    // Two tags on the labels 5 and 6.
    assert_eq!(papers.shared.snapshot.begun_sheets.get(&id), Some(&7));
    assert!(papers.reads("Its labels 1 to 6 are used up."));
    assert!(papers.sees("7"), "it begins there now");
    let printed = &papers.shared.snapshot.printed_tags;
    assert_eq!(printed.len(), 2);
    assert!(printed.iter().all(|tag| tag.copies == 1 && tag.date == now().date()));
    // Another sheet begins at its own label, and the first one again where it was left.
    papers.send(Message::Sheet("Strung tags, A4".to_owned()));
    assert!(papers.reads("Keep a copy of the sheet"));
    papers.send(Message::Sheet(sheet.name));
    assert!(papers.reads("Its labels 1 to 6 are used up."));
    papers.click("A fresh sheet");
    assert_eq!(papers.shared.snapshot.begun_sheets.get(&id).copied().unwrap_or(1), 1);
    assert!(!papers.reads("are used up"));
}

#[test]
fn nothing_is_kept_in_mind_where_that_is_switched_off() {
    let mut papers = Papers::of_two();
    papers.click("Keep in mind what was printed, and the next free label");
    let _ = papers.save_to("tags.pdf");
    assert!(papers.shared.snapshot.printed_tags.is_empty() && papers.shared.snapshot.begun_sheets.is_empty());
}

#[test]
fn only_the_tags_that_are_out_of_date_are_printed_again() {
    let mut papers = Papers::of_two();
    assert!(!papers.reads("out of date"), "without a ticket in force no tag is out of date");
    papers.accept(0, 30, 1);
    papers.accept(1, 40, 2);
    papers.click("Only the 2 tags that are out of date");
    assert!(papers.sees("never printed"));
    let _ = papers.save_to("first.pdf");
    assert!(papers.reads("No tag is out of date."));
    papers.click("Only the 0 tags that are out of date");
    assert!(!papers.reads("out of date"));
    papers.accept(1, 44, 10);
    papers.click("Only the 1 tag that is out of date");
    assert!(papers.sees("1 tag on 1 page") && papers.reads("its tag shows $40.00"));
    let _ = papers.save_to("second.pdf");
    // The latest tag of each is known.
    let mut latest: Vec<(DesignId, Decimal)> =
        papers.shared.snapshot.printed_tags.iter().map(|tag| (tag.design, tag.ticket.amount())).collect();
    latest.sort_by_key(|(design, _)| *design);
    assert_eq!(latest, [(papers.id(0), Decimal::from(30)), (papers.id(1), Decimal::from(44))]);
}

#[test]
fn a_long_run_can_be_broken_off_while_it_is_laid_out() {
    let mut papers = Papers::of_two();
    papers.send(Message::Sheet("Strung tags, A4".to_owned()));
    let work = papers.room.update(Message::Copies("1900".to_owned()), &papers.shared);
    assert!(papers.reads("laying out … "));
    papers.click("Cancel");
    assert!(papers.sees("The pages are not laid out."));
    // What the thread still says is of no account.
    papers.carry_out(work);
    assert!(papers.sees("The pages are not laid out."));
    papers.click("Show the pages");
    assert!(papers.sees("1901 tags on 48 pages"));
}

#[test]
fn a_pdf_that_is_broken_off_leaves_no_file() {
    let papers = Papers::of_two();
    let path = papers.folder.path().join("slow.pdf");
    let mut out = way_out::State::new();
    let (go_on, waits) = std::sync::mpsc::channel::<()>();
    let waits = std::sync::Mutex::new(Some(waits));
    let leaving = || {
        let waits = waits.lock().unwrap().take().ok_or("asked twice")?;
        let lay = move |_: &mut dyn enamelwright::paper::Watch| {
            let _ = waits.recv();
            let page = enamelwright::paper::page::Page { width_mm: 50.0, height_mm: 30.0, ..Default::default() };
            let document = enamelwright::paper::Document { pages: vec![page], warnings: Vec::new() };
            Ok(Laid::of("a blank page", document))
        };
        Ok(Leaving::laid_by(lay, "Blank", "Studio", "blank.pdf"))
    };
    let nothing = || Err("nothing leaves now".to_owned());
    let send = |out: &mut way_out::State, message| out.update_leaving(message, &leaving, &papers.shared);
    let _ = send(&mut out, way_out::Message::Path(path.display().to_string()));
    let (action, _) = send(&mut out, way_out::Message::Save);
    assert!(out.is_at_work());
    let _ = send(&mut out, way_out::Message::Cancel);
    go_on.send(()).unwrap();
    let Action::Run(work) = action else { panic!("it is not made") };
    let mut stream = task::into_stream(work).unwrap();
    let mut told = None;
    while let Some(action) = block_on(stream.next()) {
        if let runtime::Action::Output(message) = action {
            let (action, then) = out.update_leaving(message, &nothing, &papers.shared);
            assert_eq!(then, Then::Nothing);
            if let Action::Notify(notice) = action {
                told = Some(notice);
            }
        }
    }
    assert!(matches!(told, Some(Notice::Done(words)) if words.contains("nothing was written")));
    assert!(!out.is_at_work() && !path.exists());
    let left: Vec<_> =
        std::fs::read_dir(papers.folder.path()).unwrap().map(|entry| entry.unwrap().file_name()).collect();
    assert!(!left.iter().any(|name| name.to_string_lossy().ends_with(".part")), "{left:?}");
}

#[test]
fn what_is_typed_for_the_printer_is_read_before_anything_is_sent() {
    let mut papers = Papers::of_two();
    for (message, told) in [
        (way_out::Message::Pages("5-2".to_owned()), "such as 2-5,7"),
        (way_out::Message::Pages("2".to_owned()), "this paper has one page"),
        (way_out::Message::Copies("1000".to_owned()), "from 1 to 999"),
    ] {
        papers.send(Message::Out(message));
        papers.send(Message::Out(way_out::Message::Print));
        assert!(
            matches!(papers.notices.last(), Some(Notice::Trouble(words)) if words.contains(told)),
            "{:?}",
            papers.notices
        );
    }
    assert!(papers.shared.snapshot.printed_tags.is_empty());
}

#[test]
fn the_printer_of_the_book_says_what_is_known_of_it() {
    let mut papers = Papers::of_two();
    let correction = |sheet: Option<SheetId>| Correction {
        sheet,
        right_mm: Decimal::new(4, 1),
        down_mm: Decimal::ZERO,
        wide: Decimal::ONE,
        high: Decimal::ONE,
    };
    let printer = Printer { name: "bench printer".to_owned(), dots_per_inch: 600, corrections: vec![correction(None)] };
    papers.carry_out(Action::Do(actions::Action::SavePrinter { id: None, printer }));
    papers.send(Message::Out(way_out::Message::Printer("bench printer".to_owned())));
    assert!(papers.reads("600 dots per inch; measured for plain paper"));
    assert!(papers.sees("Put the pages right for it, as it was measured"));
    let put_right = std::fs::read(papers.save_to("right.pdf")).unwrap();
    papers.click("Put the pages right for it, as it was measured");
    papers.send(Message::FreshSheet);
    let as_laid_out = std::fs::read(papers.save_to("plain.pdf")).unwrap();
    // How far the pages are moved is tested with the PDFs themselves; the text is the same on both.
    assert_ne!(put_right, as_laid_out);
    let words = |pdf: &[u8]| -> Vec<String> {
        crate::pdf_reader::read(pdf)[0].texts.iter().map(|(words, _)| words.clone()).collect()
    };
    assert_eq!(words(&put_right), words(&as_laid_out));
}

#[test]
fn the_rooms_under_papers_are_entered_from_it() {
    let mut papers = Papers::of_two();
    for (words, page) in [
        ("Paper designs", Destination::PaperDesigns),
        ("Shop papers", Destination::ShopPapers),
        ("Wording", Destination::Wording),
        ("Printers", Destination::Printers),
    ] {
        papers.click(words);
        assert_eq!(papers.opened.last(), Some(&page));
    }
}

#[test]
fn at_200_per_cent_the_buttons_of_the_sheet_form_stay_in_sight() {
    let mut papers = Papers::of_two();
    papers.click("New sheet");
    // Half of 1280 × 800, less the veil around the form.
    papers.shared.size = Size::new(640.0, 400.0);
    let settings = Settings {
        fonts: fonts::ALL.into_iter().map(Into::into).collect(),
        default_font: theme::REGULAR,
        ..Settings::default()
    };
    let mut ui = Simulator::with_size(settings, Size::new(592.0, 352.0), papers.view());
    let seen = |candidate: Candidate<'_>| match candidate {
        Candidate::Text { content: "Keep the sheet", visible_bounds: Some(bounds), .. } => Some(bounds),
        _ => None,
    };
    let bounds = ui.find(seen).unwrap();
    assert!(bounds.height > 10.0 && bounds.y + bounds.height <= 352.0, "{bounds:?}");
}
