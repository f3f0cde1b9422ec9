//! Prices hang like tags; under them the one ticket everywhere.

use super::figures::Figures;
use super::page::Page;
use super::room::Message;
use super::stairs_view::opened;
use super::tags::TagView;
use crate::window::Shared;
use crate::window::draw::tag::Tag;
use crate::window::theme::{self, size, space};
use crate::window::widget::{self, Mark, Press, mark, prose};
use iced::widget::{Column, Row, canvas, column, row, space as gap, stack, text};
use iced::{Alignment, Element, Length};

/// Height of a tag among three, whose name may take two lines.
const HEIGHT: f32 = 190.0;
/// Height of a tag among two.
const LOW: f32 = 172.0;

/// Tags, the computation of the open one, the common ticket.
pub fn view<'a>(page: &'a Page, figures: &'a Figures, shared: &'a Shared) -> Element<'a, Message> {
    // Four hang two by two: none is left alone in a row of its own.
    let across = if shared.is_narrow() || figures.tags.len() == 4 { 2 } else { 3 };
    let height = if across == 2 { LOW } else { HEIGHT };
    let mut rows = Column::new().spacing(space::ONE);
    for (nth, chunk) in figures.tags.chunks(across).enumerate() {
        let mut line = Row::new().spacing(space::TWO);
        for (index, view) in chunk.iter().enumerate() {
            let place = nth * across + index;
            line = line.push(tag(view, place, height, page.open.tag == Some(place)));
        }
        if nth > 0 {
            line = line.extend((chunk.len()..across).map(|_| gap().width(Length::Fill).into()));
        }
        rows = rows.push(line);
    }
    let computation = page.open.tag.and_then(|place| figures.tags.get(place)).map(|view| {
        let aside = widget::link("Close").on_press_maybe(page.open.tag.map(Message::Tag));
        widget::panel_with(view.name.as_str(), "how its ticket comes about", aside, opened(&view.lines))
    });
    column![rows, computation, common(page, figures, shared)].spacing(space::TWO).into()
}

fn tag(view: &TagView, place: usize, height: f32, open: bool) -> Element<'_, Message> {
    let small = |words: &str| (!words.is_empty()).then(|| prose::small(words.to_owned()).align_x(Alignment::Center));
    let earns = (!view.earns.is_empty()).then(|| {
        text(view.earns.as_str()).size(size::SMALL).font(theme::STRONG).style(theme::accent).align_x(Alignment::Center)
    });
    let below = view.below.then(|| {
        row![mark(Mark::Caution), text("below full cost").size(size::SMALL).font(theme::STRONG).style(theme::caution)]
            .spacing(space::HALF)
            .align_y(Alignment::Center)
    });
    let problem = view
        .problem
        .as_ref()
        .map(|problem| text(problem.as_str()).size(size::SMALL).style(theme::stop).align_x(Alignment::Center));
    let content = column![
        gap().height(24),
        text(view.name.as_str()).size(size::BODY).font(theme::STRONG).align_x(Alignment::Center),
        text(view.ticket.as_str())
            .size(size::DISPLAY)
            .font(theme::STRONG)
            .line_height(1.15)
            .wrapping(text::Wrapping::None),
        small(&view.tax),
        small(&view.margin),
        earns,
        below,
        problem,
    ]
    .align_x(Alignment::Center)
    .width(Length::Fill)
    .spacing(2);
    let shape = if open { Tag::new().chosen() } else { Tag::new() };
    let press = Press::new(content)
        .id(format!("tag-{place}"))
        .on_press(Message::Tag(place))
        .width(Length::Fill)
        .height(height)
        .padding([0.0, space::ONE])
        .style(theme::bare);
    stack![canvas(shape).width(Length::Fill).height(height), press].width(Length::Fill).height(height).into()
}

fn common<'a>(page: &'a Page, figures: &'a Figures, shared: &'a Shared) -> Option<Element<'a, Message>> {
    let common = figures.common.as_ref()?;
    let can = !shared.read_only() && !page.is_stale() && !common.settled;
    let accept = widget::primary(common.accept.as_str())
        .id("accept-tickets")
        .on_press_maybe(can.then_some(Message::AcceptTickets));
    let details = (!common.details.is_empty()).then(|| prose::small(common.details.as_str()));
    let in_force = (!common.in_force.is_empty()).then(|| prose::small(common.in_force.as_str()));
    Some(widget::panel_with(
        "One ticket everywhere",
        "",
        text(common.ticket.as_str()).size(28).font(theme::STRONG),
        column![prose::quiet(common.sentence.as_str()), details, accept, in_force].spacing(space::ONE),
    ))
}
