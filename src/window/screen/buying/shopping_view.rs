//! How the shopping list looks: lines by supplier with their ticks and sums, and how it is saved.

use super::out::Kind;
use super::shopping::{Group, Line};
use super::view::lead_chip;
use super::{Message, Page, State};
use crate::paper::PaperSize;
use crate::window::Shared;
use crate::window::theme::{self, Chosen, space};
use crate::window::widget::choice::tick;
use crate::window::widget::{self, Mark, choice, link, modal, panel, panel_with, path_field, primary, quiet_button};
use iced::widget::{Column, column, container, row, scrollable};
use iced::{Alignment, Element, Length};
use std::path::Path;

pub(super) fn page<'a>(state: &'a State, shared: &'a Shared) -> Element<'a, Message> {
    let back = link("‹ Running out").on_press(Message::Page(Page::RunningOut));
    let room = if shared.is_narrow() { space::TWO } else { space::THREE };
    let trouble = state.trouble.as_deref().map(|trouble| widget::caution_line(Mark::Stop, trouble, None));
    if state.shopping.groups.is_empty() {
        let (what, advice) = if state.plans.is_none() {
            ("The list is being worked out", "It is here in a moment.")
        } else {
            (
                "Nothing is to be bought",
                "No item is at or below its reorder level or its computed reorder point. Set a level in an item's form in \
                 Stock where too little is used to compute one.",
            )
        };
        let body = column![back, trouble, widget::empty(what, advice, None)].spacing(space::TWO);
        return container(body).padding(room).into();
    }
    let head = column![back, widget::title("Shopping list"), widget::small(state.shopping.summary.as_str())];
    let lead = state.shopping.lead.then(|| {
        widget::caution_line(
            Mark::Caution,
            "Lines marked lead bear lead",
            Some("Ask for them closed and labelled; mind their dust. Local rules on lead come first.".to_owned()),
        )
    });
    let groups = Column::with_children(state.shopping.groups.iter().map(|of| group(of, shared))).spacing(space::TWO);
    let groups = groups.width(Length::Fill);
    let body: Element<'_, Message> = if shared.is_narrow() {
        column![groups, save(state, shared)].spacing(space::TWO).into()
    } else {
        row![groups, container(save(state, shared)).width(360)].spacing(space::THREE).into()
    };
    let body = column![head, trouble, lead, body].spacing(space::TWO).padding(room);
    scrollable(body).height(Length::Fill).style(theme::scroll).into()
}

fn group<'a>(of: &'a Group, shared: &Shared) -> Element<'a, Message> {
    let lines = of.lines.iter().map(|of| line(of, shared.is_narrow()));
    panel_with(
        of.supplier.as_str(),
        "",
        widget::strong(of.sum.as_str()),
        Column::with_children(lines).spacing(space::ONE),
    )
}

fn line(of: &Line, narrow: bool) -> Element<'_, Message> {
    let title = row![
        container(tick(of.title.as_str(), Chosen::from(of.bought), Some(Message::Tick(of.id)))),
        of.lead.then(lead_chip)
    ]
    .spacing(space::ONE)
    .align_y(Alignment::Center);
    let order = row![widget::strong(of.order.as_str()), widget::small(of.holds.as_str())]
        .spacing(space::ONE)
        .align_y(Alignment::Center);
    let inset = iced::padding::left(28.0 + space::HALF);
    let amount = widget::amount(of.sum.as_str());
    let reason = container(widget::small(of.reason.as_str())).padding(inset);
    if narrow {
        let order = row![container(order.wrap()).width(Length::Fill), amount].align_y(Alignment::Center);
        return column![title, container(order).padding(inset), reason].spacing(2).into();
    }
    let figures = row![
        container(title).width(Length::FillPortion(3)).clip(true),
        container(order.wrap()).width(Length::FillPortion(2)),
        container(amount).align_right(100),
    ]
    .spacing(space::ONE)
    .align_y(Alignment::Center);
    column![figures, reason].into()
}

fn save<'a>(state: &'a State, shared: &'a Shared) -> Element<'a, Message> {
    let kind = choice("As", [(Kind::Pdf, "PDF to print"), (Kind::Csv, "CSV table")], Some(&state.kind), Message::Kind);
    let what = "Ticked lines are saved. Packs are rounded up; sums are at the latest price of each item, without freight \
                and duty still to come.";
    let subtitle = if state.saving { "being written …" } else { "" };
    if state.kind == Kind::Pdf {
        let paper =
            choice("Page", [(PaperSize::A4, "A4"), (PaperSize::LETTER, "Letter")], Some(&state.paper), Message::Paper);
        let kind = panel(
            "On paper or as a table",
            subtitle,
            column![kind, paper, widget::small(what)].spacing(space::ONE + space::HALF),
        );
        let out = state.out.view(state.can_save(), shared).map(Message::Out);
        return column![kind, out].spacing(space::TWO).into();
    }
    let path = path_field(
        "File",
        state.path.text(),
        state.path_problem.clone(),
        Message::Path,
        Some(Message::Save),
        Some(Message::Browse),
    );
    let save = primary("Save the list").on_press_maybe(state.can_save().then_some(Message::Save));
    panel(
        "On paper or as a table",
        subtitle,
        column![kind, path, save, widget::small(what)].spacing(space::ONE + space::HALF),
    )
}

/// The question before a file is replaced.
pub(super) fn replacing(path: &Path) -> Element<'_, Message> {
    let words = format!("{} is there already and would be replaced.", path.display());
    modal::sheet(
        "Replace the file?",
        widget::caution_line(Mark::Caution, words, None),
        [
            quiet_button("Not now").on_press(Message::Close).into(),
            widget::danger("Replace it").on_press(Message::Replace).into(),
        ],
    )
}
