//! The first page: no book yet. Two ways to begin, and a way to a book that is elsewhere.

use super::BookWish;
use crate::actions;
use crate::book::Access;
use crate::measure::{Currency, LengthUnit, MassUnit, TemperatureUnit, ThicknessUnit};
use crate::studio::{Language, Settings, ValuationMethod};
use crate::window::theme::{self, space};
use crate::window::widget::path_field::{Wanted, ask, typed_path};
use crate::window::widget::{self, Entry, choice, field, path_field};
use iced::widget::{column, container, row, scrollable};
use iced::{Element, Length, Task};
use std::path::{Path, PathBuf};

/// The units a new book starts with; each can be changed on its own in Setup.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Units {
    /// °C, mm, g.
    Metric,
    /// °F, in, oz.
    Inch,
}

/// Whether the window is narrow.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Narrow {
    /// It is.
    Yes,
    /// It is not.
    No,
}

/// What the page wants.
#[derive(Debug)]
pub enum Action {
    /// Nothing.
    None,
    /// Work whose outcome comes back as a message.
    Run(Task<Message>),
    /// A book.
    Wish(BookWish),
}

/// What happens on the page.
#[derive(Debug, Clone)]
pub enum Message {
    /// The studio's name was typed.
    Name(String),
    /// The currency was typed.
    Currency(String),
    /// Units were chosen.
    Units(Units),
    /// The place of the new book was typed.
    Place(String),
    /// Another place was asked for in the system's dialog.
    BrowsePlace,
    /// It was chosen there, or not.
    PlaceChosen(Option<PathBuf>),
    /// Start the empty book.
    Start,
    /// Open the demo studio.
    Demo,
    /// The path of another book was typed.
    Other(String),
    /// Another book was asked for in the system's dialog.
    BrowseOther,
    /// It was chosen there, or not.
    OtherChosen(Option<PathBuf>),
    /// Open the other book.
    OpenOther,
}

/// What the page keeps.
#[derive(Debug)]
pub struct State {
    name: Entry,
    currency: Entry,
    currency_error: Option<String>,
    units: Units,
    place: Entry,
    place_error: Option<String>,
    demo: Option<PathBuf>,
    other: Entry,
    other_error: Option<String>,
}

const ENDINGS: &[&str] = &["studiobook"];

impl State {
    /// The page; the new book is offered the default place.
    pub fn new(default_book: Option<&Path>) -> Self {
        let place = default_book.map(free_place).map(|path| path.display().to_string()).unwrap_or_default();
        Self {
            name: Entry::default(),
            currency: Entry::new("USD"),
            currency_error: None,
            units: Units::Metric,
            place: Entry::new(place),
            place_error: None,
            demo: default_book.map(|path| path.with_file_name("demo-studio.studiobook")),
            other: Entry::default(),
            other_error: None,
        }
    }

    /// Something happened.
    pub fn update(&mut self, message: Message) -> Action {
        match message {
            Message::Name(text) => self.name.type_in(text),
            Message::Currency(text) => {
                self.currency.type_in(text);
                self.currency_error = self.chosen_currency().err();
            }
            Message::Units(units) => self.units = units,
            Message::Place(text) => {
                self.place.type_in(text);
                self.place_error = None;
            }
            Message::BrowsePlace => {
                let dialog =
                    ask(Wanted::Save, "A place for the studio book", "studio.studiobook", "Studio book", ENDINGS);
                return Action::Run(dialog.map(Message::PlaceChosen));
            }
            Message::PlaceChosen(chosen) => {
                if let Some(path) = chosen {
                    self.place.set(path.display().to_string());
                    self.place_error = None;
                }
            }
            Message::Start => return self.start(),
            Message::Demo => return self.demo(),
            Message::Other(text) => {
                self.other.type_in(text);
                self.other_error = None;
            }
            Message::BrowseOther => {
                let dialog = ask(Wanted::Open, "A studio book", "", "Studio book", ENDINGS);
                return Action::Run(dialog.map(Message::OtherChosen));
            }
            Message::OtherChosen(chosen) => {
                if let Some(path) = chosen {
                    return Action::Wish(BookWish::Open(path, Access::Write));
                }
            }
            Message::OpenOther => {
                return match typed_path(self.other.text()) {
                    Some(path) => Action::Wish(BookWish::Open(path, Access::Write)),
                    None => {
                        self.other_error = Some("type the path of a .studiobook file".to_owned());
                        Action::None
                    }
                };
            }
        }
        Action::None
    }

    fn chosen_currency(&self) -> Result<Currency, String> {
        Currency::from_code(&self.currency.trimmed().to_uppercase()).map_err(|error| error.to_string())
    }

    fn start(&mut self) -> Action {
        let currency = match self.chosen_currency() {
            Ok(currency) => currency,
            Err(error) => {
                self.currency_error = Some(error);
                return Action::None;
            }
        };
        let Some(place) = typed_path(self.place.text()) else {
            self.place_error = Some("type where the book shall lie, e.g. ~/studio.studiobook".to_owned());
            return Action::None;
        };
        let place = with_ending(place);
        if place.exists() {
            self.place_error = Some(format!("{} exists already; choose another name, or open it", place.display()));
            return Action::None;
        }
        let settings = first_settings(self.name.trimmed(), currency, self.units);
        Action::Wish(BookWish::Create(place, vec![actions::Action::SaveSettings(settings)]))
    }

    fn demo(&mut self) -> Action {
        match &self.demo {
            Some(path) if path.exists() => Action::Wish(BookWish::Open(path.clone(), Access::Write)),
            Some(path) => Action::Wish(BookWish::Create(path.clone(), vec![actions::Action::LoadDemo])),
            None => {
                self.place_error = Some("this machine has no folder for data; type a place for the book".to_owned());
                Action::None
            }
        }
    }

    /// How it looks; `narrow` puts the ways to begin under each other.
    pub fn view(&self, narrow: Narrow) -> Element<'_, Message> {
        let units = choice(
            "Units",
            [(Units::Metric, "°C, mm, grams"), (Units::Inch, "°F, inches, ounces")],
            Some(&self.units),
            Message::Units,
        );
        let currency = field("Currency", self.currency.text())
            .hint(self.chosen_currency().map_or("three letters, ISO 4217", Currency::name))
            .error(self.currency_error.clone())
            .on_input(Message::Currency)
            .on_submit(Message::Start);
        let empty = widget::panel(
            "Start an empty book",
            "",
            column![
                field("Your studio's name", self.name.text())
                    .placeholder("printed on care cards; may be empty")
                    .on_input(Message::Name)
                    .on_submit(Message::Start),
                currency,
                units,
                path_field(
                    "Where the book lies",
                    self.place.text(),
                    self.place_error.clone(),
                    Message::Place,
                    Some(Message::Start),
                    Some(Message::BrowsePlace),
                ),
                widget::primary("Start an empty book").on_press(Message::Start)
            ]
            .spacing(space::TWO),
        );
        let demo = widget::panel(
            "Open the demo studio",
            "",
            column![
                widget::body(
                    "An invented studio to look around in: enamels, blanks and lots on the shelf, designs with \
                     their routes, three channels and a fair. Change what you like; it is a book of its own."
                ),
                widget::primary("Open the demo studio").on_press(Message::Demo)
            ]
            .spacing(space::TWO),
        );
        let other = widget::panel(
            "Open another book",
            "",
            column![
                path_field(
                    "Its path",
                    self.other.text(),
                    self.other_error.clone(),
                    Message::Other,
                    Some(Message::OpenOther),
                    Some(Message::BrowseOther),
                ),
                widget::quiet_button("Open").on_press(Message::OpenOther)
            ]
            .spacing(space::TWO),
        );
        let heading = column![
            widget::display("Enamelwright"),
            widget::quiet("What a piece really costs, what to ask for it, and the tags and cards for Saturday's fair.")
        ];
        let ways: Element<'_, Message> = if narrow == Narrow::Yes {
            column![demo, empty, other].spacing(space::TWO).into()
        } else {
            row![empty, column![demo, other].spacing(space::THREE).width(Length::Fill)].spacing(space::THREE).into()
        };
        let body = column![heading, ways].spacing(space::THREE).max_width(1000);
        scrollable(container(body).center_x(Length::Fill).padding(space::FOUR))
            .height(Length::Fill)
            .style(theme::scroll)
            .into()
    }
}

/// The default place, or one beside it that is free.
fn free_place(default: &Path) -> PathBuf {
    let mut place = default.to_owned();
    let mut number = 2_u32;
    while place.exists() && number < 1000 {
        place = default.with_file_name(format!("studio-{number}.studiobook"));
        number += 1;
    }
    place
}

/// The path with the ending of a book, where it was typed without one.
pub(in crate::window) fn with_ending(path: PathBuf) -> PathBuf {
    if path.extension().is_some() { path } else { path.with_extension("studiobook") }
}

fn first_settings(name: &str, currency: Currency, units: Units) -> Settings {
    let metric = units == Units::Metric;
    Settings {
        studio_name: name.to_owned(),
        studio_place: String::new(),
        care_words: String::new(),
        maker_story: String::new(),
        paper_language: Language::English,
        currency,
        decimal_comma: false,
        temperature: if metric { TemperatureUnit::Celsius } else { TemperatureUnit::Fahrenheit },
        length: if metric { LengthUnit::Millimetre } else { LengthUnit::Inch },
        mass: if metric { MassUnit::Gram } else { MassUnit::Ounce },
        thickness: ThicknessUnit::Gauge,
        valuation: ValuationMethod::Fifo,
        price_on_book_cost: false,
        fair_name: String::new(),
        fair_date: None,
        closed_until: None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn starting_asks_for_a_currency_that_is_one() {
        let mut page = State::new(None);
        let _ = page.update(Message::Place("/nowhere/at-all".to_owned()));
        let _ = page.update(Message::Currency("gold".to_owned()));
        assert!(page.currency_error.as_deref().is_some_and(|error| error.contains("ISO 4217")));
        assert!(matches!(page.update(Message::Start), Action::None));
        let _ = page.update(Message::Currency(" eur".to_owned()));
        let _ = page.update(Message::Units(Units::Inch));
        match page.update(Message::Start) {
            Action::Wish(BookWish::Create(path, actions)) => {
                assert_eq!(path, PathBuf::from("/nowhere/at-all.studiobook"));
                assert!(matches!(
                    actions.as_slice(),
                    [actions::Action::SaveSettings(Settings { temperature: TemperatureUnit::Fahrenheit, .. })]
                ));
            }
            other => panic!("{other:?}"),
        }
    }

    #[test]
    fn a_place_that_is_taken_is_refused() {
        let folder = tempfile::tempdir().unwrap();
        let taken = folder.path().join("studio.studiobook");
        std::fs::write(&taken, "x").unwrap();
        let mut page = State::new(Some(&taken));
        assert!(page.place.text().ends_with("studio-2.studiobook"));
        let _ = page.update(Message::Place(taken.display().to_string()));
        assert!(matches!(page.update(Message::Start), Action::None));
        assert!(page.place_error.is_some());
    }
}
