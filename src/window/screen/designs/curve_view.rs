//! If it is fired again: the curve or its table, and beside it the checks.

use super::change::Change;
use super::figures::Figures;
use super::page::Page;
use super::room::Message;
use crate::window::Shared;
use crate::window::draw::curve::Curve;
use crate::window::draw::strip::StripEvent;
use crate::window::theme::{self, Chosen, size, space};
use crate::window::widget::{self, Press, caution_line, prose};
use iced::widget::{Column, Row, canvas, column, container, row, text};
use iced::{Alignment, Element, Length};

/// The panel.
pub fn view<'a>(page: &'a Page, figures: &'a Figures, shared: &'a Shared) -> Element<'a, Message> {
    let (word, other) = if page.open.table { ("As a curve", false) } else { ("As a table", true) };
    let head = row![
        prose::strong("If it is fired again"),
        container(prose::small("adding nothing: another colour, another price")).width(Length::Fill),
        widget::link(word).id("refire-table").on_press(Message::Table(other)),
    ]
    .spacing(space::TWO)
    .align_y(Alignment::Center);
    let body = if page.open.table { table(figures) } else { curve(figures) };
    let left = column![head, body].spacing(space::HALF);
    let inside: Element<'a, Message> = if shared.is_narrow() {
        column![left, checks(figures)].spacing(space::TWO).into()
    } else {
        row![container(left).width(Length::FillPortion(26)), container(checks(figures)).width(Length::FillPortion(9))]
            .spacing(space::THREE)
            .into()
    };
    container(inside)
        .padding([space::ONE + space::HALF, space::TWO + 2.0])
        .width(Length::Fill)
        .style(theme::sheet)
        .into()
}

fn curve(figures: &Figures) -> Element<'_, Message> {
    let [ticket, cost] = &figures.curve_words;
    let curve = Curve::new(&figures.curve, figures.version, figures.firings, [ticket, cost], |count| {
        Message::Change(Change::Firings(count))
    });
    canvas(curve).width(Length::Fill).height(180).into()
}

fn table(figures: &Figures) -> Element<'_, Message> {
    let head = |words: String, portion: u16| {
        container(text(words).size(size::SMALL).font(theme::STRONG))
            .width(Length::FillPortion(portion))
            .align_x(Alignment::End)
    };
    let mut titles = Row::new().spacing(space::TWO);
    titles = titles.push(head("Firings".to_owned(), 2)).push(head("Full cost".to_owned(), 3));
    for name in &figures.refire_heads {
        titles = titles.push(head(name.clone(), 4));
    }
    titles = titles.push(head("Earned an hour".to_owned(), 3));
    let rows = figures.refires.iter().map(|found| {
        let now = found.count == figures.firings;
        let font = if now { theme::STRONG } else { theme::REGULAR };
        let figure = |words: String, portion: u16| {
            container(text(words).size(size::BODY).font(font).wrapping(text::Wrapping::None))
                .width(Length::FillPortion(portion))
                .align_x(Alignment::End)
        };
        let mut line = Row::new().spacing(space::TWO).align_y(Alignment::Center);
        line = line.push(figure(found.count.to_string(), 2)).push(figure(found.cost.clone(), 3));
        for ticket in &found.tickets {
            line = line.push(figure(ticket.clone(), 4));
        }
        line = line.push(figure(found.earned.clone(), 3));
        Press::new(line)
            .on_press(Message::Change(Change::Firings(found.count)))
            .width(Length::Fill)
            .height(28)
            .padding(0.0)
            .style(theme::row(Chosen::from(now)))
            .into()
    });
    column![titles, Column::with_children(rows)].spacing(space::HALF).into()
}

fn checks(figures: &Figures) -> Element<'_, Message> {
    let lines = figures.checks.iter().filter(|check| !check.what.is_empty()).map(|check| {
        let line = caution_line(check.mark, check.what.as_str(), Some(check.way_out.clone()));
        match check.step {
            Some(place) => Press::new(line)
                .on_press(Message::Strip(StripEvent::Choose(place)))
                .align(Alignment::Start)
                .width(Length::Fill)
                .padding([space::HALF, space::HALF])
                .style(theme::row(Chosen::No))
                .into(),
            None => container(line).padding([space::HALF, space::HALF]).into(),
        }
    });
    column![prose::strong("Checks"), Column::with_children(lines).spacing(space::HALF)].spacing(space::ONE).into()
}
