//! The window without a display: the real root, its widgets laid out and drawn by the real renderer into memory.

use crate::measures::{Lap, Stopwatch};
use crate::studio;
use enamelwright::paper::fonts;
use enamelwright::window::app::{App, Message, Places};
use enamelwright::window::clock::Clock;
use enamelwright::window::shortcut::RoomName;
use enamelwright::window::theme;
use iced::futures::{StreamExt, executor::block_on};
use iced::{Element, Event, Renderer, Settings, Size, Task, Theme, mouse};
use iced_test::Simulator;
use iced_test::core::renderer::{Headless, Style};
use iced_test::core::widget::{Id, operation};
use iced_test::core::{clipboard, window};
use iced_test::renderer::graphics::text::font_system;
use iced_test::runtime::user_interface::{Cache, UserInterface};
use iced_test::runtime::{Action, task};
use iced_test::selector::Candidate;
use std::borrow::Cow;
use std::hint::black_box;
use std::path::Path;
use std::sync::Once;
use std::time::Instant;

/// The window of the targets.
const WIDTH: u32 = 1280;
const HEIGHT: u32 = 800;
/// A view may ask to be laid out again, as a list does when it learns its height; more often than this it is not asked.
const MOST_PASSES: usize = 3;

type Page<'a> = UserInterface<'a, Message, Theme, Renderer>;

/// A window and what it keeps between frames.
pub(crate) struct Window {
    app: App,
    cache: Cache,
    renderer: Renderer,
    /// Where the pointer is.
    pub(crate) cursor: mouse::Cursor,
}

/// What one turn of the window's loop took.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Turn {
    /// From the event through the root's update and view to the layout.
    pub(crate) laid_out: Lap,
    /// From the widgets to what is to be painted.
    pub(crate) drawn: Lap,
    /// Painting the whole window. The picture is handed over as bytes, which a window on a display does not do.
    pub(crate) painted: Lap,
    /// Messages the root got.
    pub(crate) messages: usize,
}

/// One part of what a turn took.
pub(crate) type Part = fn(&Turn) -> Lap;

impl Turn {
    /// All of it.
    pub(crate) fn whole(self) -> Lap {
        self.laid_out.and(self.drawn).and(self.painted)
    }
}

impl Window {
    /// Opens a window on a book.
    pub(crate) fn open(book: &Path) -> Self {
        static FONTS: Once = Once::new();
        FONTS.call_once(|| {
            let mut system = font_system().write().expect("the fonts");
            for face in fonts::ALL {
                system.load_font(Cow::Borrowed(face));
            }
        });
        let settings = Settings::default();
        let making = <Renderer as Headless>::new(theme::REGULAR, settings.default_text_size, None);
        let renderer = block_on(making).expect("a renderer without a display");
        let places = Places {
            settings_file: Some(book.with_file_name("window.toml")),
            default_book: None,
            book: Some(book.to_owned()),
        };
        let (app, opening) = App::new(places, Clock::of(studio::now));
        let mut window = Self { app, cache: Cache::new(), renderer, cursor: mouse::Cursor::Unavailable };
        window.run(opening);
        assert!(window.app.room().is_some(), "the book did not open in the window");
        window
    }

    /// The room on screen.
    pub(crate) fn room(&self) -> Option<RoomName> {
        self.app.room()
    }

    /// Hands the root a message and carries out what follows from it; operations on widgets are left out.
    pub(crate) fn send(&mut self, message: Message) {
        let task = self.app.update(message);
        self.run(task);
    }

    fn run(&mut self, task: Task<Message>) {
        let Some(mut stream) = task::into_stream(task) else { return };
        while let Some(action) = block_on(stream.next()) {
            if let Action::Output(message) = action {
                self.send(message);
            }
        }
    }

    /// Events and all that follows from them, up to the picture. Work that the root sends elsewhere, such as saving
    /// after a pause, is left out.
    pub(crate) fn turn(&mut self, events: &[Event]) -> Turn {
        // Before the events the page is there already.
        let mut page = build(&self.app, std::mem::take(&mut self.cache), &mut self.renderer);
        let mut inbox = Vec::new();
        let mut messages = 0;

        let watch = Stopwatch::start();
        let _ = page.update(events, self.cursor, &mut self.renderer, &mut clipboard::Null, &mut inbox);
        for _ in 0..MOST_PASSES {
            if !inbox.is_empty() {
                messages += inbox.len();
                let cache = page.into_cache();
                for message in inbox.drain(..) {
                    drop(self.app.update(message));
                }
                page = build(&self.app, cache, &mut self.renderer);
            }
            let redraw = Event::Window(window::Event::RedrawRequested(Instant::now()));
            let (state, _) = page.update(&[redraw], self.cursor, &mut self.renderer, &mut clipboard::Null, &mut inbox);
            if inbox.is_empty() && !state.has_layout_changed() {
                break;
            }
        }
        let laid_out = watch.lap();

        let watch = Stopwatch::start();
        let theme = self.app.theme();
        let style = self.app.style(&theme);
        page.draw(&mut self.renderer, &theme, &Style { text_color: style.text_color }, self.cursor);
        let drawn = watch.lap();

        let watch = Stopwatch::start();
        let picture = self.renderer.screenshot(Size::new(WIDTH, HEIGHT), 1.0, style.background_color);
        let painted = watch.lap();
        drop(black_box(picture));
        self.cache = page.into_cache();
        Turn { laid_out, drawn, painted, messages }
    }

    /// Puts the keyboard into the field of that id, its cursor at the end, whether the field is in sight or not.
    pub(crate) fn focus(&mut self, id: &str) {
        let mut page = build(&self.app, std::mem::take(&mut self.cache), &mut self.renderer);
        let mut focusing = operation::focusable::focus::<()>(Id::from(id.to_owned()));
        page.operate(&self.renderer, &mut focusing);
        self.cache = page.into_cache();
    }

    /// Presses what says so, on a page as high as it takes to see all of it.
    pub(crate) fn press(&mut self, words: &str) {
        let messages: Vec<Message> = {
            let mut page = self.whole_page();
            let _ = page.click(words).unwrap_or_else(|error| panic!("{words}: {error:?}"));
            page.into_messages().collect()
        };
        for message in messages {
            self.send(message);
        }
    }

    /// How many texts the page is built of at the window's own size.
    pub(crate) fn texts(&self) -> usize {
        let mut count = 0;
        let mut page = Simulator::with_size(looks(), size(), self.app.view());
        let _ = page.find(|candidate: Candidate<'_>| {
            if matches!(candidate, Candidate::Text { .. }) {
                count += 1;
            }
            None::<()>
        });
        count
    }

    fn whole_page(&self) -> Simulator<'_, Message> {
        Simulator::with_size(looks(), Size::new(size().width, 4_800.0), self.app.view())
    }
}

/// The page as it is now, laid out.
fn build<'a>(app: &'a App, cache: Cache, renderer: &mut Renderer) -> Page<'a> {
    let view: Element<'a, Message> = app.view();
    UserInterface::build(view, size(), cache, renderer)
}

fn size() -> Size {
    Size::new(WIDTH as f32, HEIGHT as f32)
}

fn looks() -> Settings {
    Settings { default_font: theme::REGULAR, ..Settings::default() }
}
