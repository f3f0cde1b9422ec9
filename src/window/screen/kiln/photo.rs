//! A photo kept with a load or a test tile: read from a file, shown, taken away.

use crate::book::BookError;
use crate::window::screen::designs::files;
use crate::window::theme::{self, size, space};
use crate::window::widget::path_field::{Wanted, ask, typed_path};
use crate::window::widget::{self, Entry, link, path_field};
use iced::widget::image::Handle;
use iced::widget::{column, image, text};
use iced::{Element, Task};
use std::path::PathBuf;

/// What is on the page of it.
#[derive(Debug, Clone, Default)]
enum Shown {
    /// There is none.
    #[default]
    None,
    /// The book was asked for it.
    Coming,
    /// It is here.
    Here(Handle),
    /// It cannot be shown.
    Broken(String),
}

/// The photo of what is in hand, and the path of another.
#[derive(Debug, Clone, Default)]
pub(in crate::window::screen) struct Photo {
    shown: Shown,
    path: Entry,
    problem: Option<String>,
    busy: bool,
}

/// What happens to it.
#[derive(Debug, Clone)]
pub enum Change {
    /// The path of a file was typed.
    Path(String),
    /// Ask the system for a file.
    Browse,
    /// The system's answer.
    Picked(Option<PathBuf>),
    /// Read the file at the path.
    Take,
    /// It was read, or not.
    Read(Result<Vec<u8>, String>),
    /// Take the photo away.
    Remove,
}

/// What shall be done about it.
pub(in crate::window::screen) enum Wish {
    /// Nothing.
    None,
    /// Work whose outcome comes back.
    Run(Task<Change>),
    /// Keep this photo, or none.
    Keep(Option<Vec<u8>>),
}

impl Photo {
    /// Something else is in hand; true when its photo is to be asked for.
    pub(in crate::window::screen) fn begin(&mut self, has_photo: bool) -> bool {
        *self = Self { shown: if has_photo { Shown::Coming } else { Shown::None }, ..Self::default() };
        has_photo
    }

    /// The book gave it.
    pub(in crate::window::screen) fn told(&mut self, found: Result<Option<Vec<u8>>, BookError>) {
        self.shown = match found {
            Ok(Some(png)) => files::shown(&png).map_or_else(Shown::Broken, Shown::Here),
            Ok(None) => Shown::None,
            Err(error) => Shown::Broken(error.to_string()),
        };
    }

    /// Something happened to it.
    pub(in crate::window::screen) fn update(&mut self, change: Change) -> Wish {
        match change {
            Change::Path(text) => {
                self.path.type_in(text);
                self.problem = None;
                Wish::None
            }
            Change::Browse => Wish::Run(
                ask(Wanted::Open, "Choose a photo", "", "Picture", &["jpg", "jpeg", "png"]).map(Change::Picked),
            ),
            Change::Picked(Some(path)) => {
                self.path.type_in(path.display().to_string());
                self.take()
            }
            Change::Picked(None) => Wish::None,
            Change::Take => self.take(),
            Change::Read(Ok(png)) => {
                self.busy = false;
                self.path = Entry::default();
                Wish::Keep(Some(png))
            }
            Change::Read(Err(why)) => {
                self.busy = false;
                self.problem = Some(why);
                Wish::None
            }
            Change::Remove => Wish::Keep(None),
        }
    }

    fn take(&mut self) -> Wish {
        if self.busy {
            return Wish::None;
        }
        match typed_path(self.path.text()) {
            Some(path) => {
                self.busy = true;
                Wish::Run(files::photo(path).map(Change::Read))
            }
            None => {
                self.problem = Some("nothing is typed: write the path of a JPEG or PNG file".to_owned());
                Wish::None
            }
        }
    }

    /// Gives the field of the path its former text back.
    pub(in crate::window::screen) fn revert(&mut self) -> bool {
        self.path.revert()
    }

    /// How it looks; `can` where it may be changed.
    pub(in crate::window::screen) fn view<'a, Message: Clone + 'a>(
        &'a self,
        can: bool,
        on: impl Fn(Change) -> Message + Copy + 'a,
    ) -> Element<'a, Message> {
        let picture: Element<'a, Message> = match &self.shown {
            Shown::Here(handle) => image(handle.clone()).height(220).into(),
            Shown::Coming => widget::quiet("Reading the photo …").into(),
            Shown::None => widget::quiet("No photo yet.").into(),
            Shown::Broken(problem) => text(problem.as_str()).size(size::BODY).style(theme::stop).into(),
        };
        let remove = (can && !matches!(self.shown, Shown::None))
            .then(|| link("Take the photo away").on_press(on(Change::Remove)));
        let add = can.then(|| {
            path_field(
                "A photo of it",
                self.path.text(),
                self.problem.clone(),
                move |text| on(Change::Path(text)),
                Some(on(Change::Take)),
                Some(on(Change::Browse)),
            )
        });
        column![picture, remove, add].spacing(space::ONE).into()
    }
}
