//! A labelled field: the label above, a hint with the unit beside it, what is wrong below it.

use super::mark::{Mark, mark};
use super::prose;
use crate::window::theme::{self, size, space};
use iced::advanced::widget::Id;
use iced::alignment::Horizontal;
use iced::widget::{column, row, text, text_input};
use iced::{Alignment, Element, Length};

/// A field being described; turn it into an element with `.into()`.
pub struct Field<'a, Message> {
    label: &'a str,
    value: &'a str,
    placeholder: &'a str,
    hint: Option<String>,
    error: Option<String>,
    id: Option<Id>,
    width: Length,
    align: Horizontal,
    on_input: Option<Box<dyn Fn(String) -> Message + 'a>>,
    on_submit: Option<Message>,
}

/// A field with its label and the raw text it holds. Without [`Field::on_input`] it can only be read.
pub fn field<'a, Message: Clone + 'a>(label: &'a str, value: &'a str) -> Field<'a, Message> {
    Field {
        label,
        value,
        placeholder: "",
        hint: None,
        error: None,
        id: None,
        width: Length::Fill,
        align: Horizontal::Left,
        on_input: None,
        on_submit: None,
    }
}

impl<'a, Message: Clone + 'a> Field<'a, Message> {
    /// A name the focus can be sent to.
    #[must_use]
    pub fn id(mut self, id: impl Into<Id>) -> Self {
        self.id = Some(id.into());
        self
    }

    /// An example, shown while it is empty.
    #[must_use]
    pub fn placeholder(mut self, example: &'a str) -> Self {
        self.placeholder = example;
        self
    }

    /// The unit, or what was understood of what was typed (`56.699 g`), beside the label.
    #[must_use]
    pub fn hint(mut self, hint: impl Into<String>) -> Self {
        self.hint = Some(hint.into());
        self
    }

    /// What is wrong with it, a sentence; `None` when nothing is.
    #[must_use]
    pub fn error(mut self, error: Option<impl Into<String>>) -> Self {
        self.error = error.map(Into::into);
        self
    }

    /// Width of the field.
    #[must_use]
    pub fn width(mut self, width: impl Into<Length>) -> Self {
        self.width = width.into();
        self
    }

    /// Its text lies at the right, as figures do.
    #[must_use]
    pub fn figures(mut self) -> Self {
        self.align = Horizontal::Right;
        self
    }

    /// What typing means.
    #[must_use]
    pub fn on_input(mut self, message: impl Fn(String) -> Message + 'a) -> Self {
        self.on_input = Some(Box::new(message));
        self
    }

    /// What Enter means.
    #[must_use]
    pub fn on_submit(mut self, message: Message) -> Self {
        self.on_submit = Some(message);
        self
    }
}

/// A bare text field in the window's style, for places with no room for a label (cells of a sheet).
pub fn input<'a, Message: Clone + 'a>(placeholder: &'a str, value: &'a str) -> text_input::TextInput<'a, Message> {
    text_input(placeholder, value).size(size::BODY).padding([7.0, space::ONE]).style(theme::input)
}

impl<'a, Message: Clone + 'a> From<Field<'a, Message>> for Element<'a, Message> {
    fn from(field: Field<'a, Message>) -> Self {
        let wrong = field.error.is_some();
        let mut typed = input(field.placeholder, field.value)
            .align_x(field.align)
            .on_input_maybe(field.on_input)
            .on_submit_maybe(field.on_submit)
            .style(if wrong { theme::input_wrong } else { theme::input });
        if let Some(id) = field.id {
            typed = typed.id(id);
        }
        let label = (!field.label.is_empty() || field.hint.is_some()).then(|| {
            row![
                text(field.label).size(size::SMALL).font(theme::STRONG).width(Length::Fill),
                field.hint.map(prose::small)
            ]
            .spacing(space::ONE)
        });
        let error = field.error.map(|sentence| {
            row![mark(Mark::Stop), text(sentence).size(size::SMALL).style(theme::stop)]
                .spacing(space::HALF)
                .align_y(Alignment::Center)
        });
        column![label, typed, error].spacing(space::HALF).width(field.width).into()
    }
}
