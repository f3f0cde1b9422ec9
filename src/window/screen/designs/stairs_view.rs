//! The cost staircase.

use super::figures::Figures;
use super::page::Page;
use super::room::Message;
use super::stairs::StairKind;
use crate::window::Shared;
use crate::window::draw::bar::Bar;
use crate::window::theme::{self, Chosen, size, space};
use crate::window::widget::{self, Mark, Press, mark, prose};
use iced::widget::{Column, column, container, row, text};
use iced::{Alignment, Element, Length};

/// Height of a line of the staircase.
const LINE: f32 = 36.0;

/// The panel.
pub fn view<'a>(page: &'a Page, figures: &'a Figures, shared: &'a Shared) -> Element<'a, Message> {
    let count = figures.stairs.len();
    let lines = figures.stairs.iter().enumerate().map(|(index, stair)| {
        let open = page.open.stair == Some(stair.kind);
        let colors = shared.palette;
        let colour = if stair.kind == StairKind::Losses { colors.caution } else { colors.accent };
        let mut bar = Bar::new(stair.from, stair.to, colour).height(LINE);
        if index + 1 < count && !open {
            bar = bar.leading_down(colors.quiet);
        }
        let sign = if open { Mark::Open } else { Mark::Closed };
        let head = Press::new(
            row![
                mark(sign),
                prose::body(stair.name).width(112),
                bar,
                container(prose::amount(stair.amount.as_str())).width(84).align_x(Alignment::End)
            ]
            .spacing(space::ONE)
            .align_y(Alignment::Center),
        )
        .id(format!("stair-{index}"))
        .on_press(Message::Stair(stair.kind))
        .width(Length::Fill)
        .height(LINE)
        .padding([0.0, space::HALF])
        .style(theme::row(Chosen::No));
        let inner = open.then(|| opened(&stair.lines));
        column![head, inner].into()
    });
    let lines = Column::with_children(lines);
    let stale = page.is_stale().then(|| prose::small("older figures"));
    let aside = row![stale, text(figures.full.as_str()).size(24).font(theme::STRONG)]
        .spacing(space::ONE)
        .align_y(Alignment::Center);
    let foot = prose::small(figures.foot.as_str());
    widget::panel_with("What a good piece costs", "", aside, column![lines, foot].spacing(space::HALF))
}

/// The lines a figure is made of.
pub fn opened<'a>(lines: &'a [widget::Line]) -> Element<'a, Message> {
    let rows = lines.iter().map(|line| {
        row![
            text(line.what.as_str()).size(size::SMALL).width(Length::Fill),
            text(line.amount.as_str()).size(size::SMALL).wrapping(text::Wrapping::None)
        ]
        .spacing(space::TWO)
        .into()
    });
    let none = lines.is_empty().then(|| prose::small("nothing goes into it"));
    container(column![Column::with_children(rows).spacing(2), none])
        .padding(iced::padding::left(space::THREE + 2.0).right(space::HALF).bottom(space::ONE))
        .into()
}
