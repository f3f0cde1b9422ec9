//! The rates page without a display: what a person types and presses, what it shows, and what the book keeps.
//!
//! Rates expected here are worked out beside each test by the written costing method (sections 4 and 7); the figures
//! of the studio are those a new book starts with.

use chrono::{NaiveDate, NaiveDateTime};
use enamelwright::actions::{self, ActionKey, Order, perform};
use enamelwright::book::{Access, Book};
use enamelwright::exchange::design_file;
use enamelwright::measure::{Decimal, Money, Preferences, TemperatureUnit};
use enamelwright::paper::fonts;
use enamelwright::studio::{ChannelId, Follows, Settings as BookSettings, StudioRates, Target};
use enamelwright::window::desk::Answer;
use enamelwright::window::machine::Machine;
use enamelwright::window::screen::rates::{
    BandPart, ChannelPart, Field, Figure, Message, State, StudioPart, TargetKind, Towards,
};
use enamelwright::window::screen::{Action, Notice, Room};
use enamelwright::window::theme::{self, LIGHT};
use enamelwright::window::{Command, Shared};
use iced::keyboard::key::Named;
use iced::widget::container;
use iced::{Element, Settings, Size};
use iced_test::Simulator;
use iced_test::selector::id;
use std::sync::Arc;

const LANTERN: &str = include_str!("../data/lantern-drop.toml");

fn now() -> NaiveDateTime {
    NaiveDate::from_ymd_opt(2026, 10, 14).unwrap().and_hms_opt(9, 30, 0).unwrap()
}

/// The room on a real book with the example design in it, which follows the studio in everything.
struct Studio {
    folder: tempfile::TempDir,
    book: Option<Book>,
    shared: Shared,
    room: State,
    notices: Vec<Notice>,
}

impl Studio {
    fn new() -> Self {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("studio.studiobook");
        let mut book = Book::create(&path).unwrap();
        let design = design_file::read(LANTERN).unwrap();
        let follows = Follows {
            labour: true,
            overhead: true,
            kiln: true,
            channels: design.channels.iter().map(|channel| channel.id.clone()).collect(),
            ..Follows::default()
        };
        let save = actions::Action::SaveDesign { id: None, design, follows, notes: String::new() };
        let _ = perform(&mut book, save, Order { key: ActionKey::fresh(), at: now() }).unwrap();
        Self::on(folder, book)
    }

    fn on(folder: tempfile::TempDir, book: Book) -> Self {
        let snapshot = Arc::new(actions::snapshot(&book).unwrap());
        let shared = Shared {
            preferences: Preferences::from(&*snapshot.settings),
            snapshot,
            path: folder.path().join("studio.studiobook"),
            today: now().date(),
            clock: crate::fixed_clock(),
            machine: Machine::default(),
            palette: &LIGHT,
            size: Size::new(1280.0, 800.0),
        };
        let room = State::new(&shared);
        Self { folder, book: Some(book), shared, room, notices: Vec::new() }
    }

    /// The same book, opened to look at only.
    fn read_only(mut self) -> Self {
        drop(self.book.take());
        let book = Book::open(&self.shared.path, Access::Read, now().date()).unwrap();
        Self::on(self.folder, book)
    }

    fn renew(&mut self) {
        self.shared.snapshot = Arc::new(actions::snapshot(self.book.as_ref().unwrap()).unwrap());
        self.shared.preferences = Preferences::from(&*self.shared.snapshot.settings);
        self.room.refresh(&self.shared);
    }

    fn perform(&mut self, action: actions::Action) {
        let order = Order { key: ActionKey::fresh(), at: now() };
        let outcome = perform(self.book.as_mut().unwrap(), action, order);
        if outcome.is_ok() {
            self.renew();
        }
        let next = self.room.answered(Answer::Performed(outcome), &self.shared);
        self.carry_out(next);
    }

    fn undo(&mut self) {
        let order = Order { key: ActionKey::fresh(), at: now() };
        let _ = actions::undo(self.book.as_mut().unwrap(), order).unwrap();
        self.renew();
    }

    fn carry_out(&mut self, action: Action<Message>) {
        match action {
            Action::Do(action) => self.perform(action),
            Action::Notify(notice) => self.notices.push(notice),
            Action::Many(actions) => {
                for action in actions {
                    self.carry_out(action);
                }
            }
            _ => {}
        }
    }

    fn send(&mut self, message: Message) {
        let action = self.room.update(message, &self.shared);
        self.carry_out(action);
    }

    fn command(&mut self, command: Command) {
        let action = self.room.command(command, &self.shared);
        self.carry_out(action);
    }

    fn look(&self) -> Simulator<'_, Message> {
        let settings = Settings {
            fonts: fonts::ALL.into_iter().map(Into::into).collect(),
            default_font: theme::REGULAR,
            ..Settings::default()
        };
        // The page is looked at whole, as if it had been scrolled to each of its parts.
        let size = Size::new(self.shared.size.width.min(1112.0), 4000.0);
        let view: Element<'_, Message> = container(self.room.view(&self.shared)).style(theme::ground).into();
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
        let words = words.to_owned();
        self.by(move |page| {
            let _ = page.click(words.as_str()).unwrap_or_else(|error| panic!("{words}: {error:?}"));
        });
    }

    fn shows(&self, words: &str) {
        assert!(self.look().find(words).is_ok(), "not on the page: {words}");
    }

    fn hides(&self, words: &str) {
        assert!(self.look().find(words).is_err(), "still on the page: {words}");
    }

    /// Clicks into a field, empties it and types.
    fn type_into(&mut self, field: Field, text: &str) {
        let (name, text) = (field.id(), text.to_owned());
        self.by(move |page| {
            let _ = page.click(id(name.clone())).unwrap_or_else(|error| panic!("{name}: {error:?}"));
            let _ = page.tap_key(Named::End);
            for _ in 0..40 {
                let _ = page.tap_key(Named::Backspace);
            }
            let _ = page.typewrite(&text);
        });
    }

    fn kept(&self) -> &StudioRates {
        &self.shared.snapshot.rates
    }
}

fn decimal(text: &str) -> Decimal {
    text.parse().unwrap()
}

#[test]
fn typing_an_overhead_amount_changes_the_rate_an_hour_in_the_same_frame() {
    let mut studio = Studio::new();
    // 2400 + 320 + 540 + 480 + 260 = 4000 over 1000 hours.
    studio.shows("$4.00/h");
    let rent = studio.room.overhead()[0];
    studio.type_into(Field::OverheadAmount(rent), "3600");
    // 1200 more: 5200 / 1000.
    studio.shows("$5.20/h");
    studio.shows("not kept yet");
    assert_eq!(studio.kept().overhead[0].per_year, Money::rounded(Decimal::from(2400)));
    studio.type_into(Field::Studio(StudioPart::NormalHours), "800");
    studio.shows("$6.50/h");
}

#[test]
fn a_text_that_cannot_be_read_says_so_and_keeps_the_rate() {
    let mut studio = Studio::new();
    let field = Field::Studio(StudioPart::NormalHours);
    studio.type_into(field, "none");
    studio.shows("\"none\" cannot be read: write a number such as 12.5");
    studio.shows("$4.00/h");
    studio.press("Keep");
    assert!(matches!(&studio.notices[..], [Notice::Trouble(words)] if words.contains("normal bench hours")));
    assert_eq!(studio.kept().normal_hours_per_year, Decimal::from(1000));
    studio.type_into(field, "0");
    studio.shows("\"0\" is out of range: write a number above 0");
    studio.shows("$4.00/h");
}

#[test]
fn an_opened_rate_lists_what_it_is_made_of() {
    let mut studio = Studio::new();
    studio.hides("A year’s overhead, in all");
    studio.press("How overhead an hour comes about");
    for words in ["Insurance", "$320.00", "A year’s overhead, in all", "$4000.00", "1000 h"] {
        studio.shows(words);
    }
    studio.press("How overhead an hour comes about");
    studio.hides("A year’s overhead, in all");

    // 180 / 1200 + 35 / 1000 = 0.15 + 0.035 = 0.185 a hot hour.
    studio.press("How wear comes about");
    studio.shows("A set of elements: $180.00 over 1200 hot hours");
    studio.shows("$0.15/h");
    studio.shows("$0.035/h");
    studio.shows("$0.185/h");

    // 0.4 kWh at 0.18 = 0.072; (2.5 + 4) / 60 · 0.185 = 0.0200416…
    studio.send(Message::Explain(Figure::Load));
    studio.shows("Wear: 2:30 in the heat and 4:00 of recovery, 6:30 in all");
    studio.shows("$0.072");
    studio.shows("$0.020042");
    studio.type_into(Field::Studio(StudioPart::ExampleMinutes), "5:00");
    studio.shows("Wear: 5:00 in the heat and 4:00 of recovery, 9:00 in all");
    assert!(!studio.room.is_unsaved(), "an example is not part of what is kept");
}

#[test]
fn what_is_kept_is_in_the_book_and_can_be_taken_back() {
    let mut studio = Studio::new();
    studio.type_into(Field::Studio(StudioPart::Wage), "26.50");
    studio.command(Command::Accept);
    assert_eq!(studio.kept().labour_per_hour.amount(), decimal("26.5"));
    studio.shows("as the book says");
    studio.undo();
    assert_eq!(studio.kept().labour_per_hour.amount(), decimal("22"));
    studio.shows("22.00");
    studio.shows("as the book says");
}

#[test]
fn the_page_goes_back_to_what_the_book_says() {
    let mut studio = Studio::new();
    let rent = studio.room.overhead()[0];
    studio.type_into(Field::OverheadAmount(rent), "much");
    studio.send(Message::RemoveOverhead(studio.room.overhead()[1]));
    assert!(studio.room.is_unsaved());
    studio.press("Go back to what the book says");
    assert!(!studio.room.is_unsaved());
    studio.shows("$4.00/h");
    assert_eq!(studio.room.overhead().len(), 5);
}

#[test]
fn what_is_half_typed_outlives_changes_of_the_book() {
    let mut studio = Studio::new();
    studio.type_into(Field::Studio(StudioPart::Wage), "27");
    let settings =
        BookSettings { temperature: TemperatureUnit::Fahrenheit, ..(*studio.shared.snapshot.settings).clone() };
    studio.perform(actions::Action::SaveSettings(settings));
    assert!(studio.room.is_unsaved());
    studio.shows("$27.00/h");
    // 38 °C of difference are 68.4 °F.
    studio.shows("68.4");
}

#[test]
fn ctrl_z_gives_the_field_typed_in_its_former_text_back() {
    let mut studio = Studio::new();
    studio.type_into(Field::Studio(StudioPart::Wage), "27");
    studio.type_into(Field::Studio(StudioPart::KwhPerLoad), "0.5");
    assert!(studio.room.revert(&studio.shared));
    studio.shows("$27.00/h");
    assert!(studio.room.revert(&studio.shared));
    assert!(!studio.room.is_unsaved());
    assert!(!studio.room.revert(&studio.shared));
}

#[test]
fn a_line_of_overhead_needs_a_name_before_it_is_kept() {
    let mut studio = Studio::new();
    studio.press("Add a line");
    let line = *studio.room.overhead().last().unwrap();
    studio.type_into(Field::OverheadAmount(line), "1000");
    studio.shows("$5.00/h");
    studio.command(Command::Accept);
    assert_eq!(studio.kept().overhead.len(), 5);
    studio.type_into(Field::OverheadName(line), "Van");
    studio.command(Command::Accept);
    assert_eq!(studio.kept().overhead[5].name, "Van");
}

#[test]
fn a_channel_is_added_and_kept_with_an_id_made_from_its_name() {
    let mut studio = Studio::new();
    studio.press("Add a channel");
    let key = *studio.room.channels().last().unwrap();
    studio.type_into(Field::Channel(key, ChannelPart::Name), "Own web page");
    studio.type_into(Field::Channel(key, ChannelPart::CardFee), "2.9 %");
    studio.type_into(Field::Channel(key, ChannelPart::CardFixed), "0.30");
    studio.type_into(Field::Channel(key, ChannelPart::Tax), "8.25 %");
    studio.press("The ticket includes the tax");
    studio.press("money an hour");
    studio.type_into(Field::Channel(key, ChannelPart::Target), "34");
    studio.shows("will be known as own-web-page; no design follows it");
    studio.shows("Tax rates and rules are local");
    studio.press("Keep");
    let channel = studio.kept().channels.last().unwrap().clone();
    assert_eq!(channel.id, ChannelId("own-web-page".to_owned()));
    assert_eq!(channel.name, "Own web page");
    assert_eq!(channel.card_fee, decimal("0.029"));
    assert_eq!(channel.card_fee_fixed, decimal("0.3"));
    assert_eq!(channel.tax, decimal("0.0825"));
    assert!(channel.tax_in_price && channel.retail);
    assert_eq!(channel.target, Target::Hourly(decimal("34")));
    // Once it is in the book its name may change and its id stays.
    studio.type_into(Field::Channel(key, ChannelPart::Name), "Web");
    studio.command(Command::Accept);
    assert_eq!(studio.kept().channels.last().unwrap().id, channel.id);
}

#[test]
fn price_points_are_shown_at_work_as_they_are_typed() {
    let mut studio = Studio::new();
    let fair = studio.room.channels()[0];
    studio.send(Message::OpenChannel(fair));
    // To 50 by 1: 46.30 is raised to 47.
    studio.shows("A price of $46.30 becomes a ticket of $47.00");
    let first = studio.room.bands(fair)[0];
    studio.type_into(Field::Band(fair, first, BandPart::Step), "5");
    studio.type_into(Field::Band(fair, first, BandPart::Less), "1");
    // 10 · 5 − 1 is the first multiple not below 46.30.
    studio.shows("A price of $46.30 becomes a ticket of $49.00");
    studio.type_into(Field::Channel(fair, ChannelPart::Example), "49.01");
    studio.shows("A price of $49.01 becomes a ticket of $54.00");
    studio.type_into(Field::Band(fair, first, BandPart::Less), "5");
    studio.shows("write less than the step, $5.00");
    studio.press("Add a band");
    assert_eq!(studio.room.bands(fair).len(), 4);
    studio.send(Message::RemoveBand(fair, first));
    studio.hides("write less than the step, $5.00");
}

#[test]
fn fees_and_a_margin_that_leave_nothing_are_told_at_once() {
    let mut studio = Studio::new();
    let gallery = studio.room.channels()[1];
    studio.send(Message::OpenChannel(gallery));
    studio.type_into(Field::Channel(gallery, ChannelPart::Target), "60 %");
    studio
        .shows("commission 40 % and a margin of 60 % take 100 % of the price before tax: no price reaches the target");
    studio.type_into(Field::Channel(gallery, ChannelPart::Target), "100 %");
    studio.shows("\"100 %\" is out of range: write a share below 100 %");
}

#[test]
fn channels_move_and_go_and_it_says_who_follows_them() {
    let mut studio = Studio::new();
    let keys = studio.room.channels();
    studio.send(Message::OpenChannel(keys[0]));
    studio.shows("known as fair; 1 design follows it");
    studio.send(Message::MoveChannel(keys[0], Towards::Down));
    studio.send(Message::RemoveChannel(keys[0]));
    studio.shows(
        "Craft fair leaves the studio with the next Keep: 1 design follows it and goes on with terms of its own.",
    );
    studio.send(Message::Target(keys[2], TargetKind::Margin));
    studio.send(Message::Retail(keys[2], true));
    studio.command(Command::Accept);
    let kept = studio.kept();
    let ids: Vec<&str> = kept.channels.iter().map(|channel| channel.id.0.as_str()).collect();
    assert_eq!(ids, ["gallery", "wholesale"]);
    assert_eq!(kept.channels[1].target, Target::Margin(decimal("0.35")));
    assert!(kept.channels[1].retail);
}

#[test]
fn it_tells_what_a_draft_does_to_prices() {
    let mut studio = Studio::new();
    studio.shows("1 design follows the studio’s wage");
    studio.type_into(Field::Studio(StudioPart::Wage), "32");
    studio.press("What it does to prices");
    studio.shows("Wage: 1 design follows it");
    studio.shows("Overhead: 1 design follows it");
    // Nothing of overhead and kiln was touched.
    studio.shows("full cost stays");
    studio.shows("All together: 1 design");
    // The next letter makes it out of date.
    studio.type_into(Field::Studio(StudioPart::Wage), "33");
    studio.hides("All together: 1 design");
}

#[test]
fn a_book_that_may_only_be_looked_at_takes_no_typing() {
    let mut studio = Studio::new().read_only();
    studio.type_into(Field::Studio(StudioPart::Wage), "99");
    studio.press("Add a line");
    studio.press("Add a channel");
    studio.send(Message::RemoveChannel(studio.room.channels()[0]));
    studio.command(Command::Accept);
    assert!(!studio.room.is_unsaved());
    studio.shows("22.00");
    assert_eq!(studio.room.channels().len(), 3);
    // Looking into a figure is not changing it.
    studio.press("How wear comes about");
    studio.shows("$0.035/h");
}

#[test]
fn on_a_narrow_page_all_of_it_lies_in_one_column() {
    let mut studio = Studio::new();
    studio.shared.size = Size::new(640.0, 400.0);
    let fair = studio.room.channels()[0];
    studio.send(Message::OpenChannel(fair));
    for words in ["A year’s overhead", "The wage", "The kiln", "Where you sell", "Before you keep it", "Price points"]
    {
        studio.shows(words);
    }
    for field in [Field::Studio(StudioPart::SolderMargin), Field::Channel(fair, ChannelPart::Selling)] {
        let found = studio.look().find(id(field.id())).unwrap();
        let bounds = iced_test::selector::Bounded::bounds(&found);
        assert!(bounds.width >= 100.0 && bounds.x + bounds.width <= 640.0, "{field:?}: {bounds:?}");
    }
}
