//! How the way out looks.

use super::state::{Message, State};
use crate::window::Shared;
use crate::window::theme::{Chosen, space};
use crate::window::widget::choice::{pick_from, tick};
use crate::window::widget::{self, Mark, field, modal, panel, path_field, primary, quiet_button};
use iced::widget::{Column, column, container, progress_bar, row};
use iced::{Alignment, Element, Length};

/// Stops named one by one; beyond them their number.
const MOST_STOPS: usize = 12;

impl State {
    /// The panel: file, viewer, printer, and how far a PDF is that is being made. Without pages that are `ready` nothing
    /// can be asked for.
    pub fn view<'a>(&'a self, ready: bool, shared: &'a Shared) -> Element<'a, Message> {
        let ready = |message| (ready && !self.is_at_work()).then_some(message);
        let path = path_field(
            "File",
            self.path.text(),
            self.path_problem.clone(),
            Message::Path,
            Some(Message::Save),
            Some(Message::Browse),
        );
        let buttons = row![
            primary("Save as PDF").on_press_maybe(ready(Message::Save)),
            quiet_button("Open in the viewer").on_press_maybe(ready(Message::View)),
        ]
        .spacing(space::ONE);
        let print = self.can_print.then(|| quiet_button("Send to printer").on_press_maybe(ready(Message::Print)));
        let work = self.making.as_ref().map(|making| {
            let (share, words) = making.words();
            let cancel = quiet_button("Cancel").on_press_maybe((!making.stopping).then_some(Message::Cancel));
            column![
                row![container(widget::body(words)).width(Length::Fill), cancel]
                    .spacing(space::ONE)
                    .align_y(Alignment::Center),
                progress_bar(0.0..=1.0, share).girth(8),
            ]
            .spacing(space::HALF)
        });
        let hint = "Print at 100 % (actual size), without fitting to the page: labels and symbols are measured.";
        panel(
            "PDF",
            "",
            column![path, buttons.wrap(), self.printer_view(shared), print, work, widget::small(hint)]
                .spacing(space::ONE + space::HALF),
        )
    }

    /// The printer, where there is one to choose or a command that prints: what is known of it, copies and pages.
    fn printer_view<'a>(&'a self, shared: &'a Shared) -> Option<Element<'a, Message>> {
        if !self.can_print && !self.printers.has_some() {
            return None;
        }
        let list = pick_from(
            "Printer",
            &self.printers.names,
            "a printer",
            Some(&self.printers.chosen),
            Message::Printer,
            Some(Message::AskPrinters),
        );
        let known = self.printers.words(&shared.snapshot).map(widget::small);
        let measured = self.printer().is_some_and(|printer| !printer.corrections.is_empty());
        let put_right = measured.then(|| {
            let words = "Put the pages right for it, as it was measured";
            tick(words, Chosen::from(self.put_right), Some(Message::PutRight))
        });
        let range = self.can_print.then(|| {
            let copies = field("Copies", self.copies.text())
                .id("way-out-copies")
                .error(self.typed_copies(&shared.preferences).err())
                .figures()
                .width(110)
                .on_input(Message::Copies);
            let pages = field("Pages", self.pages.text())
                .hint("e.g. 2-5,7")
                .placeholder("all")
                .id("way-out-pages")
                .error(self.typed_pages().err())
                .on_input(Message::Pages);
            row![Element::from(copies), Element::from(pages)].spacing(space::ONE)
        });
        Some(column![list, known, put_right, range].spacing(space::ONE).into())
    }

    /// The question before a PDF is made.
    pub fn modal<'a>(&'a self, _shared: &'a Shared) -> Option<Element<'a, Message>> {
        let asked = self.question.as_ref()?;
        let mut lines: Vec<Element<'_, Message>> = Vec::new();
        if !asked.stops.is_empty() {
            lines.push(
                widget::body(
                    "There is a stop on the route of these designs. A piece made that way may come apart or be unsafe: \
                     look at the design first.",
                )
                .into(),
            );
            let named = asked.stops.iter().take(MOST_STOPS);
            lines.extend(named.map(|stop| widget::caution_line(Mark::Stop, stop.as_str(), None)));
            let more = asked.stops.len().saturating_sub(MOST_STOPS);
            if more > 0 {
                lines.push(widget::small(format!("and {more} more")).into());
            }
        }
        if let Some(path) = &asked.replaces {
            let words = format!("{} is there already and would be replaced.", path.display());
            lines.push(widget::caution_line(Mark::Caution, words, None));
        }
        let (title, yes) = if asked.stops.is_empty() {
            ("Replace the file?", "Replace it")
        } else {
            ("Print these all the same?", "Make the PDF all the same")
        };
        Some(modal::sheet(
            title,
            Column::with_children(lines).spacing(space::ONE).padding(iced::padding::right(space::TWO)),
            [quiet_button("Not now").on_press(Message::No).into(), widget::danger(yes).on_press(Message::Yes).into()],
        ))
    }
}
