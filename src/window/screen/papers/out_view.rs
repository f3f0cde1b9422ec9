//! How the PDF gets out: file, viewer, printer, and the question before it.

use super::message::Message;
use super::state::{Asking, State};
use crate::window::theme::space;
use crate::window::widget::{self, Mark, field, modal, panel, path_field, primary, quiet_button};
use iced::widget::{Column, column, row};
use iced::{Alignment, Element};

pub(super) fn out(state: &State) -> Element<'_, Message> {
    let ready = |message| state.is_ready().then_some(message);
    let path = path_field(
        "File",
        state.path.text(),
        state.path_problem.clone(),
        Message::Path,
        Some(Message::Save),
        Some(Message::Browse),
    );
    let buttons = row![
        primary("Save as PDF").on_press_maybe(ready(Message::Save)),
        quiet_button("Open in the viewer").on_press_maybe(ready(Message::View)),
    ]
    .spacing(space::ONE);
    let printer: Option<Element<'_, Message>> = state.can_print.then(|| {
        row![
            Element::from(
                field("Printer", state.printer.text()).placeholder("the system's usual one").on_input(Message::Printer)
            ),
            quiet_button("Send to printer").on_press_maybe(ready(Message::Print)),
        ]
        .spacing(space::ONE)
        .align_y(Alignment::End)
        .into()
    });
    let hint = "Print at 100 % (actual size), without fitting to the page: labels and symbols are measured.";
    panel(
        "PDF",
        if state.making { "being made …" } else { "" },
        column![path, buttons.wrap(), printer, widget::small(hint)].spacing(space::ONE + space::HALF),
    )
}

/// Stops named one by one; beyond them their number.
const MOST_STOPS: usize = 12;

/// The question before a PDF is made.
pub(super) fn asking(asking: &Asking) -> Element<'_, Message> {
    let mut lines: Vec<Element<'_, Message>> = Vec::new();
    if !asking.stops.is_empty() {
        lines.push(
            widget::body(
                "There is a stop on the route of these designs. A piece made that way may come apart or be unsafe: \
                 look at the design first.",
            )
            .into(),
        );
        let named = asking.stops.iter().take(MOST_STOPS);
        lines.extend(named.map(|stop| widget::caution_line(Mark::Stop, stop.as_str(), None)));
        let more = asking.stops.len().saturating_sub(MOST_STOPS);
        if more > 0 {
            lines.push(widget::small(format!("and {more} more")).into());
        }
    }
    if let Some(path) = &asking.replaces {
        let words = format!("{} is there already and would be replaced.", path.display());
        lines.push(widget::caution_line(Mark::Caution, words, None));
    }
    let (title, yes) = if asking.stops.is_empty() {
        ("Replace the file?", "Replace it")
    } else {
        ("Print these all the same?", "Make the PDF all the same")
    };
    modal::sheet(
        title,
        Column::with_children(lines).spacing(space::ONE).padding(iced::padding::right(space::TWO)),
        [
            quiet_button("Not now").on_press(Message::Close).into(),
            widget::danger(yes).on_press(Message::Confirmed(asking.target.clone())).into(),
        ],
    )
}
