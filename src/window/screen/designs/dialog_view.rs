//! How the room's questions are laid out.

use super::dialog::{Dialog, DialogField, Question};
use super::files::Existing;
use super::room::Message;
use crate::window::theme::{size, space, stop};
use crate::window::widget::{self, modal, path_field, prose};
use iced::Element;
use iced::widget::{column, text};

/// The open question.
pub fn view(dialog: &Dialog) -> Element<'_, Message> {
    let (title, word, advice) = match &dialog.question {
        Question::New => ("A new design", "Begin", "It begins with a sensible route; everything in it can be changed."),
        Question::Duplicate(_) => ("A copy", "Copy", "The copy is a design of its own."),
        Question::Import => ("Read a design file", "Read", "A TOML file of the kind “Write to a file” makes."),
        Question::Imported(_) => ("Its code is taken", "Take it in", "Two designs of a book have different codes."),
        Question::Export => {
            ("Write to a design file", "Write", "With the prices, rates and terms it is costed at today.")
        }
        Question::Photo(_) => {
            ("Photo or sketch", "Take it in", "A JPEG or PNG file; it is scaled down and kept in the book.")
        }
    };
    let word = if dialog.existing == Existing::Replace && dialog.problem.is_some() { "Write over it" } else { word };
    let fields: Element<'_, Message> = if dialog.asks_name() {
        column![
            Element::from(
                widget::field("Name", dialog.name.as_str())
                    .id("dialog-name")
                    .placeholder("Lantern drop")
                    .error(dialog.name_problem.as_deref())
                    .on_input(|text| Message::DialogTyped(DialogField::Name, text))
                    .on_submit(Message::DialogAccept)
            ),
            Element::from(
                widget::field("Code", dialog.code.as_str())
                    .id("dialog-code")
                    .hint("1 to 8 of A–Z, 0–9 and -; printed on tags")
                    .error(dialog.code_problem.as_deref())
                    .on_input(|text| Message::DialogTyped(DialogField::Code, text))
                    .on_submit(Message::DialogAccept)
            ),
        ]
        .spacing(space::TWO)
        .into()
    } else {
        path_field(
            "File",
            dialog.path.as_str(),
            None,
            |text| Message::DialogTyped(DialogField::Path, text),
            Some(Message::DialogAccept),
            Some(Message::Browse),
        )
    };
    let problem = dialog.problem.as_ref().map(|problem| text(problem.as_str()).size(size::SMALL).style(stop));
    let body = column![prose::quiet(advice), fields, problem].spacing(space::TWO);
    let accept = (!dialog.busy).then_some(Message::DialogAccept);
    modal::sheet(
        title,
        body,
        [
            widget::quiet_button("Cancel").on_press(Message::DialogCancel).into(),
            widget::primary(word).id("dialog-accept").on_press_maybe(accept).into(),
        ],
    )
}
