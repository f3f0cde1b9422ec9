//! A book that cannot be opened: why, in plain words, and the ways out. The book is left as it is.

use super::BookWish;
use crate::book::backup::{self, BackupFile};
use crate::book::{Access, BookError};
use crate::window::theme::{self, space};
use crate::window::widget::path_field::{Wanted, ask, typed_path};
use crate::window::widget::{self, Entry, path_field};
use iced::widget::{Column, column, container, row, scrollable};
use iced::{Alignment, Element, Length, Task};
use std::path::PathBuf;

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
    /// Try again.
    Again,
    /// Open it to look only.
    Look,
    /// Restore a backup in its place.
    Restore(PathBuf),
    /// The path of another book was typed.
    Other(String),
    /// Another book was asked for in the system's dialog.
    Browse,
    /// It was chosen there, or not.
    Chosen(Option<PathBuf>),
    /// Open the other book.
    OpenOther,
    /// Go to the first page.
    Home,
}

/// What the page keeps.
#[derive(Debug)]
pub struct State {
    path: PathBuf,
    error: BookError,
    backups: Vec<BackupFile>,
    other: Entry,
}

impl State {
    /// The page for a book and what is wrong with it.
    pub fn new(path: PathBuf, error: BookError) -> Self {
        let backups = backup::list(&path).unwrap_or_default();
        Self { path, error, backups, other: Entry::default() }
    }

    /// What is wrong, a sentence.
    pub fn sentence(&self) -> String {
        self.error.to_string()
    }

    /// Something happened.
    pub fn update(&mut self, message: Message) -> Action {
        match message {
            Message::Again => Action::Wish(BookWish::Open(self.path.clone(), Access::Write)),
            Message::Look => Action::Wish(BookWish::Open(self.path.clone(), Access::Read)),
            Message::Restore(backup) => Action::Wish(BookWish::Restore { backup, book: self.path.clone() }),
            Message::Other(text) => {
                self.other.type_in(text);
                Action::None
            }
            Message::Browse => {
                let dialog = ask(Wanted::Open, "A studio book", "", "Studio book", &["studiobook"]);
                Action::Run(dialog.map(Message::Chosen))
            }
            Message::Chosen(Some(path)) => Action::Wish(BookWish::Open(path, Access::Write)),
            Message::Chosen(None) => Action::None,
            Message::OpenOther => match typed_path(self.other.text()) {
                Some(path) => Action::Wish(BookWish::Open(path, Access::Write)),
                None => Action::None,
            },
            Message::Home => Action::Wish(BookWish::Close),
        }
    }

    /// Opening it to look only would work.
    fn can_look(&self) -> bool {
        matches!(self.error, BookError::InUse(_) | BookError::ReadOnly(_) | BookError::DiskFull)
    }

    /// How it looks.
    pub fn view(&self) -> Element<'_, Message> {
        let look = self.can_look().then(|| widget::primary("Open it to look only").on_press(Message::Look));
        let first = column![
            widget::caution_line(widget::Mark::Stop, self.sentence(), None),
            iced::widget::Row::new()
                .push(look)
                .push(widget::quiet_button("Try again").on_press(Message::Again))
                .push(widget::link("First page").on_press(Message::Home))
                .spacing(space::ONE)
                .wrap()
        ]
        .spacing(space::TWO);
        let body = column![
            column![widget::title("This book did not open"), widget::quiet(self.path.display().to_string())],
            container(first).padding(space::TWO).width(Length::Fill).style(theme::sheet_stop),
            (!self.backups.is_empty()).then(|| self.backups_panel()),
            widget::panel(
                "Open another book",
                "",
                column![
                    path_field(
                        "Its path",
                        self.other.text(),
                        None,
                        Message::Other,
                        Some(Message::OpenOther),
                        Some(Message::Browse),
                    ),
                    widget::quiet_button("Open").on_press(Message::OpenOther)
                ]
                .spacing(space::TWO)
            )
        ]
        .spacing(space::THREE)
        .max_width(800);
        scrollable(container(body).center_x(Length::Fill).padding(space::FOUR))
            .height(Length::Fill)
            .style(theme::scroll)
            .into()
    }

    fn backups_panel(&self) -> Element<'_, Message> {
        let rows = self.backups.iter().map(|backup| {
            row![
                widget::body(backup_words(backup)).width(Length::Fill),
                widget::quiet_button("Restore").on_press(Message::Restore(backup.path.clone()))
            ]
            .spacing(space::TWO)
            .align_y(Alignment::Center)
            .into()
        });
        widget::panel(
            "Restore a backup",
            "the book as it is now is kept beside the backups",
            Column::with_children(rows).spacing(space::HALF),
        )
    }
}

/// A backup in words: its day, its size, why it was made.
pub(in crate::window) fn backup_words(backup: &BackupFile) -> String {
    let midnight = backup.at.time() == chrono::NaiveTime::MIN;
    let when = backup.at.format(if midnight { "%-d %B %Y" } else { "%-d %B %Y, %H:%M" });
    let kilobytes = backup.bytes.div_ceil(1000);
    if backup.occasion.is_empty() {
        format!("{when} · {kilobytes} kB")
    } else {
        format!("{when} · {} · {kilobytes} kB", backup.occasion)
    }
}
