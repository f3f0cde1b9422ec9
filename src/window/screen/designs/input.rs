//! The fields of a page, as elements.

use super::field::Field;
use super::page::Page;
use super::room::Message;
use crate::window::theme::space;
use crate::window::widget;
use iced::Element;
use iced::widget::{Row, row};

/// A field of what is in hand with its label and unit.
pub fn typed<'a>(page: &'a Page, field: Field, label: &'a str, hint: &'a str) -> widget::Field<'a, Message> {
    let (text, problem) = match page.form.get(&field) {
        Some(shown) => (shown.text.as_str(), shown.problem.as_deref()),
        None => ("", None),
    };
    let element = widget::field(label, text)
        .id(field.id())
        .error(problem)
        .on_input(move |text| Message::Typed(field, text))
        .on_submit(Message::Submit);
    if hint.is_empty() { element } else { element.hint(hint) }
}

/// A field of figures.
pub fn figure<'a>(page: &'a Page, field: Field, label: &'a str, hint: &'a str) -> Element<'a, Message> {
    typed(page, field, label, hint).figures().into()
}

/// Fields beside each other; two beside each other where it is narrow.
pub fn beside<'a>(fields: Vec<Element<'a, Message>>, narrow: bool) -> Element<'a, Message> {
    if !narrow {
        return Row::with_children(fields).spacing(space::TWO).align_y(iced::Alignment::Start).into();
    }
    let mut rows = iced::widget::Column::new().spacing(space::ONE);
    let mut fields = fields.into_iter();
    while let Some(first) = fields.next() {
        rows = rows.push(row![first, fields.next()].spacing(space::TWO));
    }
    rows.into()
}
