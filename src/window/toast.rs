//! Short words in a corner: what was done, with a way to undo it; what was refused, until it is closed.

use super::screen::Notice;
use super::theme::{self, size, space};
use super::widget::Press;
use iced::widget::{Column, container, row, text};
use iced::{Alignment, Element, Length};

/// Seconds a word about something done stays.
const SECONDS: u8 = 8;
/// Most at once; older ones make room.
const MOST: usize = 4;

/// What can happen to a toast.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Message {
    /// Close it.
    Close(u64),
    /// Undo what it tells of, and close it.
    Undo(u64),
    /// A second has gone by.
    Second,
}

#[derive(Debug, Clone, PartialEq, Eq)]
struct Toast {
    id: u64,
    words: String,
    trouble: bool,
    undo: bool,
    seconds: u8,
}

/// The toasts on screen, oldest first.
#[derive(Debug, Clone, Default)]
pub struct Toasts {
    next: u64,
    shown: Vec<Toast>,
}

impl Toasts {
    /// Shows a word. `undo` offers to undo what it tells of.
    pub fn show(&mut self, notice: Notice, undo: Undo) {
        let (words, trouble) = match notice {
            Notice::Done(words) => (words, false),
            Notice::Trouble(words) => (words, true),
        };
        // Only the latest action can be undone from its toast.
        for toast in &mut self.shown {
            toast.undo = false;
        }
        self.shown.push(Toast { id: self.next, words, trouble, undo: undo == Undo::Offered, seconds: SECONDS });
        self.next += 1;
        if self.shown.len() > MOST {
            let _ = self.shown.remove(0);
        }
    }

    /// The words on screen, oldest first.
    pub fn words(&self) -> impl Iterator<Item = &str> {
        self.shown.iter().map(|toast| toast.words.as_str())
    }

    /// Something that goes away by itself is on screen: seconds are to be counted.
    pub fn is_counting(&self) -> bool {
        self.shown.iter().any(|toast| !toast.trouble)
    }

    /// Takes note of a message; true when the person wants the last action undone.
    pub fn update(&mut self, message: Message) -> bool {
        match message {
            Message::Close(id) => self.shown.retain(|toast| toast.id != id),
            Message::Undo(id) => {
                self.shown.retain(|toast| toast.id != id);
                return true;
            }
            Message::Second => {
                for toast in self.shown.iter_mut().filter(|toast| !toast.trouble) {
                    toast.seconds = toast.seconds.saturating_sub(1);
                }
                self.shown.retain(|toast| toast.seconds > 0);
            }
        }
        false
    }

    /// All of them, for the corner of the window.
    pub fn view(&self) -> Element<'_, Message> {
        Column::with_children(self.shown.iter().map(|toast| {
            let mark = toast.trouble.then(|| super::widget::mark(super::widget::Mark::Stop));
            let undo = toast.undo.then(|| in_toast("Undo", Message::Undo(toast.id)));
            container(
                row![
                    mark,
                    text(toast.words.as_str()).size(size::BODY).width(Length::Shrink),
                    undo,
                    in_toast("Close", Message::Close(toast.id))
                ]
                .spacing(space::ONE)
                .align_y(Alignment::Center),
            )
            .padding([space::HALF, space::TWO])
            .max_width(560)
            .style(theme::toast)
            .into()
        }))
        .spacing(space::ONE)
        .align_x(Alignment::End)
        .into()
    }
}

/// Whether a toast offers to undo.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Undo {
    /// It does.
    Offered,
    /// There is nothing to undo.
    None,
}

fn in_toast(words: &'static str, message: Message) -> Element<'static, Message> {
    Press::new(text(words).size(size::BODY).font(theme::STRONG))
        .height(theme::TARGET)
        .style(theme::toast_button)
        .on_press(message)
        .into()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_was_done_goes_away_and_trouble_stays() {
        let mut toasts = Toasts::default();
        toasts.show(Notice::Done("Receive 3 lots".to_owned()), Undo::Offered);
        toasts.show(Notice::Trouble("the disk is full".to_owned()), Undo::None);
        assert!(toasts.is_counting());
        for _ in 0..SECONDS {
            assert!(!toasts.update(Message::Second));
        }
        assert_eq!(toasts.words().collect::<Vec<_>>(), ["the disk is full"]);
        assert!(!toasts.is_counting());
        assert!(!toasts.update(Message::Close(1)));
        assert_eq!(toasts.words().count(), 0);
    }

    #[test]
    fn only_the_latest_offers_to_undo_and_they_do_not_pile_up() {
        let mut toasts = Toasts::default();
        for number in 0..9 {
            toasts.show(Notice::Done(format!("action {number}")), Undo::Offered);
        }
        assert_eq!(toasts.words().next(), Some("action 5"));
        assert_eq!(toasts.shown.iter().filter(|toast| toast.undo).count(), 1);
        assert!(toasts.update(Message::Undo(8)));
        assert_eq!(toasts.words().count(), MOST - 1);
    }
}
