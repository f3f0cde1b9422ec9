//! How writing a list out looks.

use super::Message;
use super::parts::beside;
use super::writing::{Change, Writing};
use crate::actions::lists::ListOut;
use crate::exchange::table::write::Form;
use crate::studio::ValuationMethod;
use crate::window::theme::space;
use crate::window::widget::{self, Mark, choice, field, modal, panel, primary, quiet_button};
use iced::widget::{column, row};
use iced::{Alignment, Element};
use std::path::Path;

/// What a list holds, in a sentence.
const fn holds(list: ListOut) -> &'static str {
    match list {
        ListOut::Items => "Items as they are described; comes in again by “Bring in”.",
        ListOut::Stock => "What is on hand now and what it is worth.",
        ListOut::Movements => "Every movement of every item; comes in again by “Bring in”.",
        ListOut::Lots => "Every lot with its cost, and what is left of it.",
        ListOut::Value => "What was on hand at the end of a day and what it was worth, for your accountant.",
        ListOut::Designs => "Every design in a line. A design as a whole goes out as a design file, in Designs.",
        ListOut::Prices => "What every design costs and is sold at on each channel, as it is priced now.",
        ListOut::Accepted => "Every ticket of every price list that was accepted.",
        ListOut::Book => "All of these lists but the value on a day: everything, for another program or another year.",
    }
}

/// What a form is, in a sentence.
const fn form_words(form: Form, folder: bool) -> &'static str {
    match (form, folder) {
        (Form::Csv, true) => {
            "A folder with a file a list; or one file, where the path ends in .csv. Text that begins like a formula gets an \
             apostrophe."
        }
        (Form::Csv, false) => "Text with commas, UTF-8. Text that begins like a formula gets an apostrophe.",
        (Form::Xlsx, _) => "A workbook: numbers are numbers, days are days, and text is never a formula.",
        (Form::Json, _) => "For programs: every amount is the exact decimal, as text.",
    }
}

pub(super) fn body(writing: &Writing) -> Element<'_, Message> {
    let lists = choice("List", ListOut::ALL.map(|list| (list, list.name())), Some(&writing.list), |list| {
        Message::Out(Change::List(list))
    });
    let value = (writing.list == ListOut::Value).then(|| {
        let methods = [(ValuationMethod::Fifo, "first in, first out"), (ValuationMethod::Average, "moving average")];
        beside([
            field("At the end of", writing.day.text())
                .id("carrying-value-day")
                .hint("year-month-day")
                .error(writing.day_problem.as_deref())
                .width(200)
                .on_input(|text| Message::Out(Change::Day(text)))
                .on_submit(Message::Out(Change::Write))
                .into(),
            choice("By", methods, Some(&writing.method), |method| Message::Out(Change::Method(method))),
        ])
    });
    let forms = [(Form::Csv, "CSV"), (Form::Xlsx, "XLSX"), (Form::Json, "JSON")];
    let forms = choice("Form", forms, Some(&writing.form), |form| Message::Out(Change::Form(form)));
    let path = row![
        Element::from(
            field(if writing.is_folder() { "Folder" } else { "File" }, writing.path.text())
                .id("carrying-out")
                .error(writing.path_problem.as_deref())
                .on_input(|text| Message::Out(Change::Path(text)))
                .on_submit(Message::Out(Change::Write))
        ),
        quiet_button("Choose…").on_press(Message::Out(Change::Browse)),
    ]
    .spacing(space::ONE)
    .align_y(Alignment::End);
    let ready = (!writing.is_under_way()).then_some(Message::Out(Change::Write));
    panel(
        "Write out",
        if writing.is_under_way() { "being written …" } else { "" },
        column![
            column![lists, widget::small(holds(writing.list))].spacing(space::HALF),
            value,
            column![forms, widget::small(form_words(writing.form, writing.is_folder()))].spacing(space::HALF),
            path,
            primary("Write it out").on_press_maybe(ready),
        ]
        .spacing(space::TWO),
    )
}

/// The question before something that is there is replaced.
pub(super) fn asking(path: &Path) -> Element<'_, Message> {
    let (title, words) = if path.is_dir() {
        ("Write into this folder?", format!("Lists of the same name in {} would be replaced.", path.display()))
    } else {
        ("Replace the file?", format!("{} is there already and would be replaced.", path.display()))
    };
    modal::sheet(
        title,
        widget::caution_line(Mark::Caution, words, None),
        [
            quiet_button("Not now").on_press(Message::Out(Change::Close)).into(),
            widget::danger("Replace it").on_press(Message::Out(Change::Confirmed)).into(),
        ],
    )
}
