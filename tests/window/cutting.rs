//! Blanks from a sheet without a display: what a person types and presses, what is laid out, and what the book keeps.
//!
//! Areas, masses and costs expected here are worked out by hand beside each check: copper weighs 8.96 mg/mm³.

use chrono::{NaiveDate, NaiveDateTime};
use enamelwright::actions::{self, ActionKey, Order, Receipt, perform};
use enamelwright::book::{Book, StockRow};
use enamelwright::measure::{Decimal, Money, Preferences, Quantity, Unit};
use enamelwright::paper::fonts;
use enamelwright::studio::{Buying, Item, ItemDetails, ItemId, Metal, Outline, Thickness, outline_words};
use enamelwright::window::machine::Machine;
use enamelwright::window::screen::cutting::{
    Field, From, Ground, Message, OffCutAs, SawingChange, SawingField, Side, Source, State, StencilChange, StencilField,
};
use enamelwright::window::screen::{Action, Destination, Notice, Room};
use enamelwright::window::theme::{self, DARK, LIGHT};
use enamelwright::window::{Answer, Command, Request, Shared};
use iced::futures::{StreamExt, executor::block_on};
use iced::keyboard::key::Named;
use iced::widget::container;
use iced::{Element, Settings, Size, Task};
use iced_test::Simulator;
use iced_test::runtime::{self, task};
use iced_test::selector::id;
use std::sync::Arc;

fn now() -> NaiveDateTime {
    NaiveDate::from_ymd_opt(2026, 10, 14).unwrap().and_hms_opt(9, 30, 0).unwrap()
}

fn decimal(text: &str) -> Decimal {
    text.parse().unwrap()
}

fn item(reference: &str, name: &str, details: ItemDetails) -> Item {
    Item {
        reference: reference.to_owned(),
        name: name.to_owned(),
        unit: Unit::Each,
        details,
        maker: String::new(),
        maker_number: String::new(),
        supplier: String::new(),
        shelf: String::new(),
        note: String::new(),
        reorder_level: None,
        lead_bearing: false,
        retired: false,
        buying: Buying::default(),
    }
}

/// The room on a real book: three sheets of copper, 96 × 25 × 1 mm, for 9.00, and a disc among the blanks.
struct Bench {
    folder: tempfile::TempDir,
    book: Book,
    shared: Shared,
    room: State,
    notices: Vec<Notice>,
    opened: Vec<Destination>,
    /// Work begun and not yet heard.
    waiting: Vec<Task<Message>>,
    /// Work is left waiting.
    hold: bool,
}

impl Bench {
    fn new() -> Self {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("studio.studiobook");
        let mut book = Book::create(&path).unwrap();
        let mut done = |action| {
            let order = Order { key: ActionKey::fresh(), at: now() };
            perform(&mut book, action, order).unwrap()
        };
        let thickness = Thickness::ThicknessMm(Decimal::ONE);
        let size_mm = Some([decimal("96"), decimal("25")]);
        let sheet = ItemDetails::Sheet { metal: Metal::Copper, thickness, size_mm };
        let _ = done(actions::Action::SaveItem { id: None, item: item("SH-01", "Copper sheet", sheet) });
        let disc = ItemDetails::Blank {
            metal: Metal::Copper,
            thickness: Thickness::Gauge(20),
            outline: Outline::Disc { diameter_mm: decimal("12") },
            dome_height_mm: Decimal::ZERO,
            holes_mm: Vec::new(),
            solder_flow_c: None,
        };
        let _ = done(actions::Action::SaveItem { id: None, item: item("BL-01", "Small disc", disc) });
        let _ = done(actions::Action::Receive(vec![Receipt {
            item: ItemId(1),
            date: now().date(),
            quantity: Quantity::new(decimal("3")).unwrap(),
            typed: "3".to_owned(),
            cost: Money::new(decimal("9")).unwrap(),
            lot_number: String::new(),
            supplier: String::new(),
            note: String::new(),
        }]));
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
        let (notices, opened, waiting) = (Vec::new(), Vec::new(), Vec::new());
        Self { folder, book, shared, room, notices, opened, waiting, hold: false }
    }

    /// With the sheet chosen and three squares of 20 mm wanted: half of the sheet.
    fn planned() -> Self {
        let mut bench = Self::new();
        let sheet = bench.room.sheets()[0].clone();
        bench.send(Message::Sheet(sheet));
        bench.send(Message::From(From::Words));
        bench.type_into(&Field::Words.id(), "rectangle 20 x 20");
        bench.by(|page| {
            let _ = page.click(id(Field::Words.id())).unwrap();
            let _ = page.tap_key(Named::Enter);
        });
        bench.type_into("cutting-quantity-0", "3");
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

    fn run(&mut self, work: Task<Message>) {
        let Some(mut stream) = task::into_stream(work) else { return };
        while let Some(action) = block_on(stream.next()) {
            if let runtime::Action::Output(message) = action {
                self.send(message);
            }
        }
    }

    fn renew(&mut self) {
        self.shared.snapshot = Arc::new(actions::snapshot(&self.book).unwrap());
        self.room.refresh(&self.shared);
    }

    fn carry_out(&mut self, action: Action<Message>) {
        match action {
            Action::Run(work) if self.hold => self.waiting.push(work),
            Action::Run(work) => self.run(work),
            Action::Do(action) => {
                let done = perform(&mut self.book, action, Order { key: ActionKey::fresh(), at: now() });
                self.renew();
                let action = self.room.answered(Answer::Performed(done), &self.shared);
                self.carry_out(action);
            }
            Action::Ask(Request::Movements(item)) => {
                let found = actions::movements(&self.book, item);
                let action = self.room.answered(Answer::Movements(item, found), &self.shared);
                self.carry_out(action);
            }
            Action::Notify(notice) => self.notices.push(notice),
            Action::Open(destination) => self.opened.push(destination),
            Action::Many(actions) => actions.into_iter().for_each(|action| self.carry_out(action)),
            _ => {}
        }
    }

    fn look(&self) -> Simulator<'_, Message> {
        let settings = Settings {
            fonts: fonts::ALL.into_iter().map(Into::into).collect(),
            default_font: theme::REGULAR,
            ..Settings::default()
        };
        let size = Size::new(self.shared.size.width.min(1112.0), 3000.0);
        let view = match self.room.modal(&self.shared) {
            Some(over) => over,
            None => self.room.view(&self.shared),
        };
        let view: Element<'_, Message> = container(view).style(theme::ground).into();
        Simulator::with_size(settings, size, view)
    }

    fn by(&mut self, doing: impl FnOnce(&mut Simulator<'_, Message>)) {
        let mut page = self.look();
        doing(&mut page);
        let messages: Vec<Message> = page.into_messages().collect();
        for message in messages {
            self.send(message);
        }
    }

    fn press(&mut self, words: &str) {
        self.by(|page| {
            let _ = page.click(words).unwrap_or_else(|error| panic!("{words}: {error:?}"));
        });
    }

    fn type_into(&mut self, name: &str, text: &str) {
        let name = name.to_owned();
        self.by(move |page| {
            let _ = page.click(id(name.clone())).unwrap_or_else(|error| panic!("{name}: {error:?}"));
            let _ = page.tap_key(Named::End);
            for _ in 0..40 {
                let _ = page.tap_key(Named::Backspace);
            }
            let _ = page.typewrite(text);
        });
    }

    #[track_caller]
    fn shows(&self, words: &str) {
        assert!(self.look().find(words).is_ok(), "not on the page: {words}");
    }

    #[track_caller]
    fn hides(&self, words: &str) {
        assert!(self.look().find(words).is_err(), "still on the page: {words}");
    }

    fn row(&self, name: &str) -> Option<&StockRow> {
        self.shared.snapshot.stock.iter().find(|row| row.item.name == name)
    }
}

#[test]
fn blanks_are_laid_out_with_what_they_cost() {
    let mut bench = Bench::planned();
    // 400 mm² × 1 mm × 8.96 mg/mm³ = 3.584 g.
    bench.shows("rectangle 20 20 · 4.00\u{a0}cm², 3.58\u{a0}g");
    bench.press("Lay out");
    assert!(!bench.room.is_searching());
    assert_eq!(bench.room.layout().unwrap().counts, [3]);
    // 3 × 400 of 2400 mm².
    bench.shows("3 blanks from one sheet, 50\u{a0}% of it used");
    // 21.504 g for 9.00 / 3.
    bench.shows("21.5\u{a0}g · $3.00");
    bench.shows("10.75\u{a0}g · $1.50");
    // Another plan makes this one old, and what is old cannot be cut.
    bench.type_into("cutting-quantity-0", "2");
    assert!(bench.room.layout().is_none());
    bench.shows("The plan has changed since: lay it out again.");
    bench.hides("Cut …");
}

#[test]
fn what_cannot_be_laid_out_is_told_beside_the_field() {
    let mut bench = Bench::new();
    bench.press("Lay out");
    bench.shows("Choose the sheet first");
    bench.send(Message::Source(Source::Typed));
    bench.press("Lay out");
    bench.shows("nothing is typed: write a length such as 45 mm, 1 3/4 in or 2 m");
    bench.type_into(&Field::Kerf.id(), "wide");
    bench.shows("\"wide\" cannot be read: write a length such as 45 mm, 1 3/4 in or 2 m");
    bench.send(Message::From(From::Words));
    bench.type_into(&Field::Words.id(), "square 20");
    bench.press("Add");
    bench.shows(&format!("\"square 20\" was given; {}", outline_words::ACCEPTED));
    // A blank whose metal in the book is another gauge than the sheet says so.
    let (sheet, blank) = (bench.room.sheets()[0].clone(), bench.room.blanks()[0].clone());
    bench.send(Message::Source(Source::Stock));
    bench.send(Message::Sheet(sheet));
    bench.send(Message::Blank(blank));
    bench.shows("Small disc");
    bench.shows("This blank is copper, 20\u{a0}ga in the book; the sheet is copper, 1\u{a0}mm.");
}

#[test]
fn a_search_is_stopped_and_what_an_old_plan_brings_is_dropped() {
    let mut bench = Bench::planned();
    bench.type_into("cutting-quantity-0", "");
    bench.hold = true;
    bench.press("Lay out");
    assert!(bench.room.is_searching());
    bench.press("Cancel");
    assert!(!bench.room.is_searching());
    bench.hold = false;
    for work in std::mem::take(&mut bench.waiting) {
        bench.run(work);
    }
    assert!(bench.room.layout().is_none());

    bench.type_into("cutting-quantity-0", "3");
    bench.hold = true;
    bench.press("Lay out");
    bench.type_into("cutting-quantity-0", "1");
    bench.hold = false;
    for work in std::mem::take(&mut bench.waiting) {
        bench.run(work);
    }
    assert!(bench.room.layout().is_none(), "of three, while one is wanted now");
    bench.press("Lay out");
    assert_eq!(bench.room.layout().unwrap().counts, [1]);
    bench.command(Command::Back);
    assert_eq!(bench.opened, [Destination::Stock]);
}

#[test]
fn a_cut_takes_the_sheet_and_brings_blanks_and_off_cuts() {
    let mut bench = Bench::planned();
    bench.press("Lay out");
    let off_cuts = bench.room.layout().unwrap().off_cuts.len();
    assert!(off_cuts > 0);
    bench.press("Cut …");
    bench.shows("What it will do");
    bench.shows("Cut sheet has sharp edges and the saw leaves fine dust");
    for place in 0..off_cuts {
        bench.send(Message::Sawing(SawingChange::OffCut(place, OffCutAs::Scrap)));
    }
    bench.type_into(&SawingField::BlankName(0).id(), "Copper square");
    // Two sheets make six; one went wrong.
    bench.type_into(&SawingField::Sheets.id(), "2");
    bench.shows("6");
    bench.type_into(&SawingField::Count(0).id(), "5");
    // 30 min at 22.00 are 11.00, on top of two sheets at 3.00: 17.00 over 5.
    bench.type_into(&SawingField::Minutes.id(), "30");
    bench.send(Message::Sawing(SawingChange::BenchInCost));
    bench.shows("Out: 2 sheets of Copper sheet; 1 left");
    bench.shows("In: 5 of Copper square, new at $3.40\u{a0}each");
    // 4800 − 2000 = 2800 mm² of 8.96 mg.
    bench.shows("Scrap and saw dust: 25.09\u{a0}g");
    bench.press("Write the cut down");
    assert_eq!(bench.row("Copper sheet").unwrap().on_hand.to_string(), "1");
    let square = bench.row("Copper square").unwrap();
    assert_eq!((square.on_hand.to_string(), square.value.to_string()), ("5".to_owned(), "17".to_owned()));
    bench.hides("What it will do");
    let order = Order { key: ActionKey::fresh(), at: now() };
    let _ = actions::undo(&mut bench.book, order).unwrap();
    bench.renew();
    assert_eq!(bench.row("Copper sheet").unwrap().on_hand.to_string(), "3");
    assert!(bench.row("Copper square").is_none());
}

#[test]
fn an_off_cut_becomes_an_item_and_what_is_refused_stays_typed() {
    let mut bench = Bench::planned();
    bench.press("Lay out");
    bench.command(Command::Accept);
    bench.type_into(&SawingField::Sheets.id(), "4");
    bench.shows("Copper sheet: only 3 on hand on 2026-10-14, 4 asked for");
    bench.type_into(&SawingField::Sheets.id(), "1");
    bench.type_into(&SawingField::Count(0).id(), "7");
    bench.look().find("Write the cut down").unwrap();
    bench.command(Command::Accept);
    assert_eq!(bench.row("Copper sheet").unwrap().on_hand.to_string(), "3");
    bench.type_into(&SawingField::Count(0).id(), "3");
    bench.type_into(&SawingField::OffCutName(0).id(), "Copper piece");
    bench.press("Write the cut down");
    let kept = bench.row("Copper piece").unwrap();
    assert_eq!(kept.on_hand.to_string(), "1");
    let ItemDetails::Sheet { metal: Metal::Copper, size_mm: Some(size), .. } = &kept.item.details else {
        panic!("{:?}", kept.item.details)
    };
    // What the sheet cost is in the blanks and the off-cut, by area.
    let [blanks, off_cut] = [Decimal::from(1200), size[0] * size[1]];
    let share = Decimal::from(3) * off_cut / (blanks + off_cut);
    assert!((kept.value.amount() - share).abs() < decimal("0.000002"), "{} {share}", kept.value);
}

const RING: &str = r#"<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 40 40">
    <path d="M0 0H40V40H0Z"/><path d="M10 10H30V30H10Z"/></svg>"#;

#[test]
fn a_drawing_without_a_size_asks_for_its_longer_side() {
    let mut bench = Bench::new();
    let file = bench.folder.path().join("ring.svg");
    std::fs::write(&file, RING).unwrap();
    bench.send(Message::From(From::Drawing));
    bench.send(Message::Typed(Field::Drawing, file.display().to_string()));
    bench.press("Add");
    bench.shows("Its longer side");
    bench.type_into(&Field::LongSide.id(), "20 mm");
    bench.press("Add");
    // 20 × 20 with a hole of 10 × 10.
    bench.shows("ring");
    bench.shows("drawn outline · 3.00\u{a0}cm²");
}

#[test]
fn the_open_share_of_a_stencil_is_measured_and_copied() {
    let mut bench = Bench::new();
    bench.send(Message::Side(Side::Stencil));
    let file = bench.folder.path().join("stencil.svg");
    std::fs::write(&file, RING.replace("viewBox", r#"width="40mm" height="40mm" viewBox"#)).unwrap();
    bench.send(Message::Stencil(StencilChange::Typed(StencilField::Path, file.display().to_string())));
    bench.press("Read the stencil");
    // 20 × 20 of 40 × 40.
    bench.shows("25\u{a0}%");
    bench.shows("1 opening, measured by its drawing");
    // On a blank of 50 × 40 in words: 400 of 2000 mm².
    bench.send(Message::Stencil(StencilChange::Ground(Ground::Words)));
    bench.send(Message::Stencil(StencilChange::Typed(StencilField::Words, "rectangle 50 x 40".to_owned())));
    bench.shows("20\u{a0}%");
    bench.press("Copy");
    assert!(matches!(&bench.notices[..], [Notice::Done(words)] if words.contains("20 %")));

    // A photo, three quarters dark: its light quarter is open.
    let photo = image::RgbImage::from_fn(80, 60, |x, _| image::Rgb([if x < 20 { 230 } else { 20 }; 3]));
    let file = bench.folder.path().join("stencil.png");
    photo.save(&file).unwrap();
    bench.send(Message::Stencil(StencilChange::Ground(Ground::Whole)));
    bench.send(Message::Stencil(StencilChange::Typed(StencilField::Path, file.display().to_string())));
    bench.press("Read the stencil");
    bench.shows("25\u{a0}%");
    bench.send(Message::Stencil(StencilChange::Open(true)));
    bench.shows("75\u{a0}%");
    // Nothing is darker than level 0 but what is black; all is open above it.
    bench.send(Message::Stencil(StencilChange::Open(false)));
    bench.send(Message::Stencil(StencilChange::Level(0)));
    bench.shows("100\u{a0}%");
    bench.type_into("stencil-level", "300");
    bench.shows("\"300\" is out of range: write a whole number from 0 to 255");
}

#[test]
fn both_halves_are_whole_in_a_narrow_window() {
    let mut bench = Bench::planned();
    bench.press("Lay out");
    bench.shared.size = Size::new(560.0, 400.0);
    for words in ["‹ Stock", "To be cut", "Cut …", "The saw"] {
        bench.shows(words);
    }
    bench.send(Message::Side(Side::Stencil));
    bench.shows("Read the stencil");
    bench.press("‹ Stock");
    assert_eq!(bench.opened, [Destination::Stock]);
}

/// Writes pictures of the page into a folder, to be looked at.
#[test]
#[ignore = "writes pictures to look at into the folder named by ENAMELWRIGHT_PICTURES"]
fn pictures_of_cutting() {
    let folder = std::path::PathBuf::from(std::env::var("ENAMELWRIGHT_PICTURES").expect("a folder"));
    let mut bench = Bench::planned();
    let draw = |bench: &Bench, name: &str| {
        let settings = Settings {
            fonts: fonts::ALL.into_iter().map(Into::into).collect(),
            default_font: theme::REGULAR,
            ..Settings::default()
        };
        let size = Size::new((bench.shared.size.width - 144.0).max(480.0), bench.shared.size.height);
        let view = match bench.room.modal(&bench.shared) {
            Some(over) => container(over).max_width(640).padding(24).style(theme::sheet).into(),
            None => bench.room.view(&bench.shared),
        };
        let view: Element<'_, Message> =
            container(view).width(iced::Fill).height(iced::Fill).style(theme::ground).into();
        let mut page = Simulator::with_size(settings, size, view);
        let snapshot = page.snapshot(&theme::theme(bench.shared.palette)).unwrap();
        assert!(snapshot.matches_image(folder.join(name)).unwrap());
    };
    let disc = bench.room.blanks()[0].clone();
    bench.send(Message::Blank(disc));
    bench.send(Message::Quantity(1, "2".to_owned()));
    bench.send(Message::Quantity(0, "2".to_owned()));
    bench.press("Lay out");
    draw(&bench, "cutting-light");
    bench.shared.palette = &DARK;
    draw(&bench, "cutting-dark");
    bench.shared.palette = &LIGHT;
    bench.send(Message::Cut);
    draw(&bench, "cutting-writing");
    bench.send(Message::Close);
    bench.shared.size = Size::new(640.0, 1600.0);
    draw(&bench, "cutting-narrow");
    bench.send(Message::Side(Side::Stencil));
    bench.shared.size = Size::new(1280.0, 800.0);
    let photo = image::RgbImage::from_fn(80, 60, |x, _| image::Rgb([if x < 20 { 230 } else { 20 }; 3]));
    let file = bench.folder.path().join("stencil.png");
    photo.save(&file).unwrap();
    bench.send(Message::Stencil(StencilChange::Typed(StencilField::Path, file.display().to_string())));
    bench.press("Read the stencil");
    draw(&bench, "cutting-stencil");
}
